"""python -m tests.attack: the attacks, one after another, each on a fresh server with a class in it.

Prints what the class felt without and with each attack, what was lost or doubled, and what was refused and served. Ends with 1
where something was lost or doubled, where an attack got what it must not, or where the class felt more than it may:
99 of 100 replies within 150 ms, the Desk within 300 ms; on a machine where the class alone comes near these, within
twice what it felt alone. Where the attack is hundreds of small requests from this very machine (F9-06), the same number of
visits to the front page goes before it and after it, and what a class may feel is at most 1.25 times what it felt of these.
"""

from __future__ import annotations

import argparse
import sys
import tempfile
import time
from dataclasses import dataclass, field
from functools import partial
from pathlib import Path

from tests.attack.attacks import ATTACKS, HARMLESS, Scene
from tests.attack.clock import clock_ahead, clock_back
from tests.attack.lesson import Felt, Session, begin, lost_and_doubled, percentile
from tests.web.running import Running

REPLY, DESK = 150.0, 300.0
BESIDE = 1.25  # times what was felt of a load that harms nobody
CLOCK = "F9-05"


@dataclass
class Outcome:
    name: str
    held: list[tuple[bool, str]]
    notes: list[str] = field(default_factory=list)
    felt: Felt | None = None
    lost: set[str] = field(default_factory=set)
    doubled: set[str] = field(default_factory=set)

    @property
    def broken(self) -> list[str]:
        said = [what for held, what in self.held if not held]
        if self.lost or self.doubled:
            said.append(f"lost {sorted(self.lost)[:5]}, doubled {sorted(self.doubled)[:5]}")
        if self.felt is not None and self.felt.given_up:
            said.append(f"replies never acknowledged: {self.felt.given_up[:5]}")
        return said

    def slow(self) -> list[str]:
        """Where the class felt more than it may."""
        said = []
        if self.felt is None:
            return said
        for what, times, most in (("replies", self.felt.replies, REPLY), ("the Desk", self.felt.desk, DESK)):
            alone, visited, attacked = (
                percentile(times.get(phase, []), 0.99) for phase in ("calm", "visits", "attack")
            )
            limit = max(most, 2 * alone, BESIDE * visited)
            if attacked > limit:
                beside = f", beside visits {visited:.0f} ms" if visited else ""
                said.append(
                    f"{what}: p99 {attacked:.0f} ms under attack, at most {limit:.0f} ms (alone {alone:.0f} ms{beside})"
                )
        return said


def run(name: str, folder: Path, *, full: bool, calm: float, seed: int = 1) -> Outcome:
    """One attack on a server of its own."""
    if name == CLOCK:
        return Outcome(name, [*clock_back(folder / "back"), *clock_ahead(folder / "ahead")])
    running = Running(folder, "--proxies", "1")
    session = None
    try:
        lesson, teacher, code = begin(running)
        scene = Scene(running, lesson, teacher, code, full)
        session = Session(lesson, seed)
        # The server loads what is rarer a second after its start; a class comes in meanwhile.
        time.sleep(1.5)
        session.phase("calm")
        time.sleep(calm)

        def visits() -> None:
            """Before the attack and after it: where the machine has other work that comes and goes, both feel of it."""
            if full and name in HARMLESS:
                session.phase("visits")
                HARMLESS[name](scene)
                session.phase("between")
                time.sleep(1)

        visits()
        scene.over = partial(session.phase, "after")
        session.phase("attack")
        began = time.monotonic()
        ATTACKS[name][1](scene)
        time.sleep(max(0.0, calm - (time.monotonic() - began)))
        session.phase("after")
        visits()
        felt = session.end()
        lost, doubled = lost_and_doubled(felt, folder)
        return Outcome(name, scene.held, scene.notes, felt, lost, doubled)
    finally:
        if session is not None:
            session.stop()
        running.stop()


def show(outcome: Outcome, title: str) -> None:
    print(f"\n{outcome.name} · {title}")
    if outcome.felt is not None:
        for what, times in (("replies", outcome.felt.replies), ("Desk", outcome.felt.desk)):
            for phase in ("calm", "visits", "attack"):
                found = times.get(phase, [])
                if found:
                    print(
                        f"  {what:8} {phase:7} {len(found):5} · p50 {percentile(found, 0.5):6.0f} · p99 {percentile(found, 0.99):6.0f} · max {max(found):6.0f} ms"
                    )
        print(
            f"  sent again {outcome.felt.again} · lost {len(outcome.lost)} · doubled {len(outcome.doubled)} · Desk refused {len(outcome.felt.desk_failed)}"
        )
    for note in outcome.notes:
        print(f"  · {note}")
    for held, what in outcome.held:
        print(f"  {'holds ' if held else 'BROKEN'} {what}")
    for slow in outcome.slow():
        print(f"  SLOW   {slow}")


def main() -> int:
    parser = argparse.ArgumentParser(
        prog="python -m tests.attack", description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter
    )
    parser.add_argument("attacks", nargs="*", help=f"which: {', '.join([*ATTACKS, CLOCK])}; all if left out")
    parser.add_argument("--quick", action="store_true", help="smaller, as in the suite")
    parser.add_argument("--seed", type=int, default=1)
    args = parser.parse_args()
    titles = {name: title for name, (title, _) in ATTACKS.items()} | {CLOCK: "the clock"}
    failed = False
    for name in args.attacks or sorted(titles):
        with tempfile.TemporaryDirectory() as folder:
            outcome = run(name, Path(folder), full=not args.quick, calm=2.0 if args.quick else 5.0, seed=args.seed)
        show(outcome, titles[name])
        failed = failed or bool(outcome.broken or outcome.slow())
    return 1 if failed else 0


if __name__ == "__main__":
    sys.exit(main())
