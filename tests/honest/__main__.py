"""python -m tests.honest: random questions about what follows, and what each oracle says of the answers.

Ends with 1 where a verdict is wrong or a question costs more than a second. `--full` asks a million without concurrency and twenty thousand with it.
"""

from __future__ import annotations

import argparse
import json
import os
import sys
import time

from tests.honest.asking import VERDICTS, Tally, some_linear, some_triples
from tests.honest.many import many
from tests.honest.theorems import ask_named

SHOWN = 20
# No question may cost more, in seconds of CPU (contract).
LONGEST = 1.0


def show(title: str, tally: Tally, took: float) -> None:
    print(f"\n{title}: {tally.total:,} questions in {took:.0f} s, of which the program used {tally.spent:.0f} s")
    for verdict in VERDICTS:
        for (one, by), count in sorted(tally.counts.items()):
            if one == verdict:
                print(f"  {verdict:16} {by:45} {count:9,}  {100 * count / tally.total:6.2f} %")
    print(
        f"  undecided: {100 * tally.share('undecided'):.3f} %   wrong: {len(tally.wrong)}   slowest: {tally.slowest[0]:.2f} s CPU"
    )
    if tally.slowest[0] > LONGEST:
        print("  SLOW", json.dumps(tally.slowest[1], ensure_ascii=False))
    for note, count in sorted(tally.notes.items()):
        print(f"  · {note}: {count:,}")
    for wrong in tally.wrong[:SHOWN]:
        print(f"\n  WRONG {wrong.where}: {wrong.why}")
        print("   ", json.dumps(wrong.body, ensure_ascii=False))
        print("   ", json.dumps({k: v for k, v in wrong.answer.items() if k != "proof"}, ensure_ascii=False)[:1500])
    if len(tally.wrong) > SHOWN:
        print(f"\n  … and {len(tally.wrong) - SHOWN} more")


def main() -> int:
    parser = argparse.ArgumentParser(prog="python -m tests.honest", description=__doc__)
    parser.add_argument("--linear", type=int, default=3000, help="questions without concurrency")
    parser.add_argument("--triples", type=int, default=150, help="questions with three or more lines in a point")
    parser.add_argument("--seed", type=int, default=1)
    parser.add_argument("--full", action="store_true", help="1,000,000 and 20,000")
    parser.add_argument("--jobs", type=int, default=1, help="processes")
    parser.add_argument(
        "--open",
        action="store_true",
        help="print the questions that were left open, and what follows without rows or a second way",
    )
    parser.add_argument("--nice", action="store_true", help="run behind everything else")
    args = parser.parse_args()
    if args.nice:
        os.nice(15)
    linear, triples = (1_000_000, 20_000) if args.full else (args.linear, args.triples)
    tallies = []
    for title, ask, wanted in (
        ("Theorems with names", ask_named, 1),
        ("Without concurrency", some_linear, linear),
        ("With concurrency", some_triples, triples),
    ):
        if wanted:
            began = time.monotonic()
            tally = many(ask, args.seed, wanted, args.jobs if wanted > 1 else 1)
            show(title, tally, time.monotonic() - began)
            tallies.append(tally)
            if args.open:
                for where, body in tally.open:
                    print("  OPEN", where, json.dumps(body, ensure_ascii=False))
    return 1 if any(tally.wrong or tally.slowest[0] > LONGEST for tally in tallies) else 0


if __name__ == "__main__":
    sys.exit(main())
