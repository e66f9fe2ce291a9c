"""How fast the reasoner is, beside z3 on the same queries in the same run: `python -m tests.bench.bench_reasoning`.

z3 is given its easiest form of each question: the very rows that the elimination works on, with the multiples of
180 already settled, so that no case split is left to it; building its terms counts, importing it does not.
"""

from __future__ import annotations

import random
import statistics
import time
from collections.abc import Callable
from dataclasses import dataclass

import z3

from app.figure.model import Figure, figure_from_json
from app.reasoning.check import check
from app.reasoning.follows import follows
from app.reasoning.frame import frame_of
from app.reasoning.prover import prove
from app.reasoning.statements import Statement, read_statement
from app.reasoning.terms import show
from tests.reasoning.samples import figure, grid
from tests.reasoning.worlds import as_json, random_figure, random_statement, random_world, text

REACH = {
    "follows, statements read": 100e-6,
    "check, 12 rows": 5e-3,
    "prove, 24 angles": 50e-3,
}


@dataclass
class Query:
    fig: Figure
    given: list[Statement]
    claim: Statement
    verdict: str


def queries(count: int, lines: int = 6, givens: int = 10) -> list[Query]:
    """Figures of `lines` lines with at least ten angles; givens true in one hidden figure, so that they agree."""
    rng = random.Random(20)
    found: list[Query] = []
    while len(found) < count:
        raw = random_figure(rng, lines)
        if len(raw["lines"]) < lines or len(raw["angles"]) < 10:
            continue
        world = random_world(rng, raw)
        if world is None:
            continue
        values = {"x": 7, "y": 9}
        fig = figure_from_json(as_json(raw))
        given = [read_statement(text(random_statement(rng, raw, world, values)), fig) for _ in range(givens)]
        claim = read_statement(text(random_statement(rng, raw, world, values)), fig)
        found.append(Query(fig, given, claim, follows(fig, given, claim).verdict))
    return found


def timed(work: Callable[[], object], times: int = 30) -> float:
    """Seconds of processor time (others may be at work on the machine), the median of several runs."""
    taken = []
    for _ in range(times):
        start = time.process_time()
        work()
        taken.append(time.process_time() - start)
    return statistics.median(taken)


class Z3:
    """One query for z3, from the same rows."""

    def __init__(self, query: Query) -> None:
        frame = frame_of(query.fig)
        atoms = sorted({x for s in (*query.given, query.claim) for x in s.unknowns})
        column = {x: len(frame.lines) + i for i, x in enumerate(atoms)}
        width = len(frame.lines) + len(atoms)
        self.names = [*frame.lines, *atoms]
        self.bounds = [(frame.lines[j], frame.lines[i], c) for j, i, c in frame.bounds]

        def row(statement: Statement) -> tuple[list[int], bool]:
            fact = statement.fact
            step = 0
            if fact[0] in ("parallel", "not parallel", "perpendicular"):
                steps = frame.steps(fact[1], fact[2], 90 if fact[0] == "perpendicular" else 0)
                step = steps[0] if steps else 10**6
            return frame.row(fact, column, width, step), fact[0] == "not parallel"

        self.given = [row(s) for s in query.given]
        self.claim = row(query.claim)
        self.kept: z3.Solver | None = None

    def build(self) -> tuple[z3.Solver, z3.BoolRef]:
        v = [z3.Real(name) for name in self.names]
        place = {name: v[i] for i, name in enumerate(self.names)}
        solver = z3.SolverFor("QF_LRA")  # the quickest of z3's own for this
        for j, i, c in self.bounds:
            solver.add(place[j] - place[i] + c > 0)

        def formula(row: list[int], unequal: bool) -> z3.BoolRef:
            left = z3.Sum([k * x for k, x in zip(row, v, strict=False) if k]) + row[-1]
            return left != 0 if unequal else left == 0

        solver.add(*(formula(*one) for one in self.given))
        return solver, formula(*self.claim)

    def ask(self, solver: z3.Solver, claim: z3.BoolRef) -> None:
        """The same answer as ours: are the givens possible, does the claim follow, can it be."""
        if solver.check() != z3.sat:
            return
        solver.push()
        solver.add(z3.Not(claim))
        forced = solver.check() == z3.unsat
        solver.pop()
        if not forced:
            solver.push()
            solver.add(claim)
            solver.check()
            solver.pop()

    def fresh(self) -> None:
        self.ask(*self.build())

    def kept_open(self) -> Callable[[], None]:
        solver, claim = self.build()
        solver.check()
        return lambda: self.ask(solver, claim)


def report(name: str, seconds: float, note: str = "") -> None:
    reach = REACH.get(name)
    against = "" if reach is None else f"  (reach {reach * 1e6:.0f} µs: {'met' if seconds <= reach else 'MISSED'})"
    print(f"{name:44} {seconds * 1e6:10.1f} µs{against} {note}")


def bench_follows(count: int = 150) -> None:
    asked = queries(count)
    ours = [timed(lambda q=q: follows(q.fig, q.given, q.claim)) for q in asked]
    texts = []
    for q in asked:
        given, claim = [s.text for s in q.given], q.claim.text
        texts.append(timed(lambda q=q, g=given, c=claim: follows(q.fig, g, c), 5))
    fresh = [timed(Z3(q).fresh, 3) for q in asked]
    kept = [timed(Z3(q).kept_open(), 5) for q in asked]
    print(
        f"6 lines, 10 givens, {count} queries; verdicts: "
        + ", ".join(f"{v} {sum(q.verdict == v for q in asked)}" for v in sorted({q.verdict for q in asked}))
    )
    report("follows, statements read", statistics.median(ours))
    report("follows, from text (read before)", statistics.median(texts))
    report("follows, 99th of 100", sorted(ours)[int(count * 0.99)])
    forced = [t for q, t in zip(asked, ours, strict=True) if q.verdict == "follows"]
    report("follows, where it does follow", statistics.median(forced))
    report(
        "z3, fresh solver",
        statistics.median(fresh),
        f"{statistics.median(fresh) / statistics.median(ours):.0f} times ours",
    )
    report(
        "z3, kept solver, question only",
        statistics.median(kept),
        f"{statistics.median(kept) / statistics.median(ours):.1f} times ours",
    )
    first = figure_from_json(grid())
    report("a new figure made ready", timed(lambda: type(frame_of(first))(first), 20))


TWELVE = [
    ("∠1 ≅ ∠8", "given"),
    ("∠1 ≅ ∠4", "vertical-angles"),
    ("∠4 ≅ ∠8", "transitive"),
    ("∠5 ≅ ∠8", "vertical-angles"),
    ("∠1 ≅ ∠5", "transitive"),
    ("∠1 and ∠2 are supplementary", "linear-pair"),
    ("∠5 and ∠6 are supplementary", "linear-pair"),
    ("∠2 ≅ ∠6", "congruent-supplements"),
    ("∠2 ≅ ∠3", "vertical-angles"),
    ("∠3 ≅ ∠6", "transitive"),
    ("l ∥ m", "alternate-interior-angles-converse"),
    ("∠2 ≅ ∠7", "alternate-exterior-angles"),
]


def bench_check() -> None:
    fig = figure("eight")
    rows = [{"statement": s, "reason": r} for s, r in TWELVE]
    assert check(fig, ["∠1 ≅ ∠8"], "∠2 ≅ ∠7", rows).complete
    report("check, 12 rows", timed(lambda: check(fig, ["∠1 ≅ ∠8"], "∠2 ≅ ∠7", rows)))
    wrong = [*rows[:10], {"statement": "l ∥ m", "reason": "corresponding-angles"}, rows[11]]
    report("check, 12 rows, one wrong way round", timed(lambda: check(fig, ["∠1 ≅ ∠8"], "∠2 ≅ ∠7", wrong)))


GOALS = [
    (["∠1 ≅ ∠7"], "l ∥ m"),
    (["l ∥ m", "m ∥ n", "t ∥ s"], "∠1 ≅ ∠23"),
    (["l ∥ m", "t ∥ s", "∠1 ≅ ∠9"], "∠3 ≅ ∠21"),
    (["l ∥ m", "m ∥ n", "t ∥ s", "m∠1 = 70"], "m∠24 = 110"),
    (["∠2 ≅ ∠10", "∠10 ≅ ∠22", "l ∥ n"], "t ∥ s"),
    (["l ∥ m", "m ∥ n"], "∠1 ≅ ∠9"),
    (["∠1 and ∠6 are supplementary"], "l ∥ m"),
    (["t ⊥ l", "l ∥ m", "m ∥ n"], "t ⊥ n"),
]


def bench_prove() -> None:
    fig = figure_from_json(grid(3, 2))
    assert len(fig.angles) == 24
    taken = []
    for given, goal in GOALS:
        found = prove(fig, given, goal)
        assert found, (given, goal)
        taken.append((timed(lambda g=given, c=goal: prove(fig, g, c), 5), given, goal, len(found[0].rows)))
    report("prove, 24 angles", statistics.median(t for t, *_ in taken), f"median of {len(GOALS)} goals")
    slowest = max(taken)
    report("prove, 24 angles, the slowest", slowest[0], f"{slowest[1]} → {slowest[2]}, {slowest[3]} rows")
    assert all(show(one.statement) for one in prove(fig, *GOALS[0])[0].rows)


def main() -> None:
    bench_follows()
    bench_check()
    bench_prove()


if __name__ == "__main__":
    main()
