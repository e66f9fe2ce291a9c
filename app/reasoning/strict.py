"""Strict writing: = stands between measures, ≅ between angles, and each definition is a row of its own.

The search does not tell ∠1 ≅ ∠5 from m∠1 = m∠5. Where a class does, a found row may need others before it: the same
fact in its other form, a right angle for a perpendicular, two measures added up. They are tried, the strict judge picks
those that the row rests on, and the rest is left out.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import replace
from fractions import Fraction
from itertools import combinations

from app.reasoning.facts import perpendicular, value_is
from app.reasoning.frame import Frame
from app.reasoning.graph import Proof, Row
from app.reasoning.judge import Known, judge
from app.reasoning.known import form_of
from app.reasoning.notes import statement_of
from app.reasoning.premises import two_angles
from app.reasoning.terms import Expression, Statement

__all__ = ["CONGRUENT", "firm", "steps_to", "written_out"]

ROUNDS = 2
CONGRUENT = "definition-of-congruent"
SUMS = ("addition", "substitution")


def written_out(frame: Frame, proof: Proof, given: Sequence[Statement]) -> Proof:
    """The proof with the rows in between that a strict class wants; those no longer needed are left out."""
    given = [firm(one) for one in given]
    known = Known(frame, (), strict=True)
    rows: list[Row] = []
    place: dict[int, int] = {}
    for number, row in enumerate(proof.rows, 1):
        last = len(rows)
        moved: dict[int, int] = {}  # a step that stands already is not written again: the later ones move up
        for i, step in enumerate(steps_to(known, row, [place[n] for n in row.uses], given), 1):
            standing = next((n for n, one in known.rows.items() if _same(one, step.statement)), None)
            if standing is None:
                rows.append(replace(step, uses=_moved(step.uses, moved)))
                standing = len(rows)
                known.add(standing, step.statement)
            moved[last + i] = place[number] = standing
    return _needed(rows, place[len(proof.rows)])


def steps_to(known: Known, row: Row, cited: Sequence[int], given: Sequence[Statement]) -> list[Row]:
    """The row, and before it the rows that it needs between itself and the `cited` ones for the strict judge to take
    it, numbered on from the rows known. The row alone where it is taken as it stands, or not at all.
    """
    claim = firm(row.statement)
    pool = Known(known.frame, ((n, known.rows[n]) for n in cited), strict=True)
    made: dict[int, Row] = {}
    last = max(known.rows, default=0)
    for _ in range(ROUNDS + 1):
        for ending in _endings(claim, row.reason):
            steps = _judged(pool, made, ending, given, last)
            if steps is not None:
                return steps
        for statement, reason in list(_between(pool, claim)):
            found = judge(pool, statement, reason, given)
            if found.ok and not any(_same(one, statement) for one in pool.rows.values()):
                number = last + len(made) + 1
                made[number] = Row(statement, reason, found.used)
                pool.add(number, statement)
    return [replace(row, statement=claim, uses=tuple(cited))]


def firm(statement: Statement) -> Statement:
    """∠1 = ∠5 said as ∠1 ≅ ∠5."""
    return replace(statement, loose=False) if statement.loose else statement


def _endings(claim: Statement, reason: str) -> Iterator[list[tuple[Statement, str]]]:
    """The row by its reason; or by it in the other form, and then by the definition."""
    yield [(claim, reason)]
    two = two_angles(claim, 0)
    if two is not None:
        yield [(claim, CONGRUENT)]
        other = _equal(*two) if claim.kind == "congruent" else Statement("congruent", two)
        yield [(other, reason), (claim, CONGRUENT)]


def _judged(
    pool: Known,
    made: dict[int, Row],
    ending: Sequence[tuple[Statement, str]],
    given: Sequence[Statement],
    last: int,
) -> list[Row] | None:
    trial = Known(pool.frame, pool.rows.items(), strict=True)
    rows = dict(made)
    for statement, reason in ending:
        found = judge(trial, statement, reason, given)
        if not found.ok:
            return None
        number = last + len(rows) + 1
        rows[number] = Row(statement, reason, found.used)
        trial.add(number, statement)
    # Only what the end rests on, renumbered.
    wanted = _resting(rows, max(rows))
    place = {n: last + i for i, n in enumerate(sorted(wanted), 1)}
    return [replace(rows[n], uses=_moved(rows[n].uses, place)) for n in sorted(wanted)]


def _resting(rows: dict[int, Row], end: int) -> set[int]:
    wanted, waiting = {end}, [end]
    while waiting:
        for n in rows[waiting.pop()].uses:
            if n in rows and n not in wanted:
                wanted.add(n)
                waiting.append(n)
    return wanted


def _moved(uses: Sequence[int], place: dict[int, int]) -> tuple[int, ...]:
    return tuple(sorted(place.get(n, n) for n in uses))


def _needed(rows: Sequence[Row], goal: int) -> Proof:
    """The rows that the goal rests on, givens first."""
    numbered = dict(enumerate(rows, 1))
    wanted = sorted(_resting(numbered, goal), key=lambda n: (numbered[n].reason != "given", n))
    place = {n: i for i, n in enumerate(wanted, 1)}
    return Proof(tuple(replace(numbered[n], uses=_moved(numbered[n].uses, place)) for n in wanted))


def _between(pool: Known, claim: Statement) -> Iterator[tuple[Statement, str]]:
    """What definitions and plain sums make of the rows: proposals for the judge."""
    frame = pool.frame
    for statement in list(pool.rows.values()):
        two = two_angles(statement, 0)
        if two is not None:
            other = _equal(*statement.names) if statement.kind == "congruent" else Statement("congruent", two)
            yield other, CONGRUENT
        if statement.kind == "perpendicular":
            for a in dict.fromkeys((*claim.angles, *frame.named)):
                if {frame.angles[a].start.line, frame.angles[a].end.line} == set(statement.names):
                    yield statement_of(value_is(a, 90)), "definition-of-perpendicular"
        if statement.kind == "bisects":
            parts = frame.bisecting(*statement.names)
            if parts is not None:
                yield Statement("congruent", parts), "definition-of-bisector"
        if len(statement.angles) == 1 and statement.fact == value_is(statement.angles[0], 90):
            angle = frame.angles[statement.angles[0]]
            yield statement_of(perpendicular(angle.start.line, angle.end.line)), "definition-of-perpendicular"
    for (a, values), (b, others) in combinations(pool.values.items(), 2):
        for first, _ in values:
            for second, _ in others:
                if first.key() == second.key():
                    yield _equal(a, b), "substitution"
                total = first.plus(second)
                if not total.terms and total.constant in (180, 90):
                    for reason in SUMS:
                        yield _sum(a, b, total.constant), reason


def _equal(a: str, b: str) -> Statement:
    return Statement("equation", (), Expression(((a, Fraction(1)),)), Expression(((b, Fraction(1)),)))


def _sum(a: str, b: str, total: Fraction) -> Statement:
    return Statement("equation", (), Expression(((a, Fraction(1)), (b, Fraction(1)))), Expression((), total))


def _same(one: Statement, other: Statement) -> bool:
    """Whether a strict reader takes two statements for the same."""
    return one.same_as(other) and form_of(one) == form_of(other)
