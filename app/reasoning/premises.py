"""Ways: for a claim and a theorem, the lists of premises that would give it. No list: it gives nothing like this.

Letters: a, b, c, d are angle atoms; l, m, n, t lines.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from fractions import Fraction

from app.figure.model import Angle
from app.figure.pairs import relation_for
from app.reasoning.facts import congruent, not_parallel, parallel, perpendicular, sum_is, value_is
from app.reasoning.known import Known
from app.reasoning.terms import ANGLE, Expression, Fact, Statement, equation
from app.reasoning.theorems import Theorem

__all__ = ["WAYS", "Way", "pairs_on", "two_angles"]

Way = tuple[Fact, ...]


def two_angles(claim: Statement, total: int) -> tuple[str, str] | None:
    """The two angles of a ≅ b (total 0) or of a + b = total."""
    fact = claim.fact
    if fact[0] != "equation" or len(fact[1]) != 2:
        return None
    (a, k), (b, n) = fact[1]
    if not (a.startswith(ANGLE) and b.startswith(ANGLE)):
        return None
    wanted = (1, -1) if total == 0 else (1, 1)
    return (a, b) if (k, n) == wanted and fact[2] == -total else None


def speakable(known: Known) -> list[str]:
    """The angles a converse may speak of: the figure's, and those that the rows name besides."""
    spoken = dict.fromkeys(known.frame.named)
    for statement in known.rows.values():
        spoken.update(dict.fromkeys(statement.angles))
    return list(spoken)


def _vertical(known: Known, claim: Statement, row: Theorem) -> Iterator[Way]:
    if claim.kind == "vertical":
        yield (claim.fact,)
    two = two_angles(claim, 0)
    if two and known.frame.pair(*two).pair == "vertical":
        yield ()


def _linear(known: Known, claim: Statement, row: Theorem) -> Iterator[Way]:
    if claim.kind == "linear pair":
        yield (claim.fact,)
    two = two_angles(claim, 180)
    if two and known.frame.pair(*two).pair == "linear pair":
        yield ()


def _original(known: Known, claim: Statement, row: Theorem) -> Iterator[Way]:
    total = 0 if row.gives == "congruent" else 180
    two = two_angles(claim, total)
    if two:
        found = known.frame.pair(*two)
        if found.pair == row.pair and found.lines is not None and found.lines[0] != found.lines[1]:
            yield (parallel(*found.lines),)
    elif claim.kind == "not parallel":
        # Contrapositive: a pair that is not congruent (or supplementary) shows the lines not parallel.
        for a, b in pairs_on(known, claim.names, row.pair):
            yield from _unequal(known, a, b, total)


def _unequal(known: Known, a: str, b: str, total: int) -> Iterator[Way]:
    for first, one in known.values.get(a, ()):
        for second, other in known.values.get(b, ()):
            if first.terms or second.terms:
                continue
            off = first.constant - second.constant if total == 0 else first.constant + second.constant - total
            if off:
                yield known.rows[one].fact, known.rows[other].fact


def pairs_on(known: Known, lines: Sequence[str], pair: str | None) -> Iterator[tuple[str, str]]:
    """Angle pairs of that name whose other sides lie on the two lines, one on each."""
    wanted = set(lines)
    frame = known.frame
    mine = [a for a in speakable(known) if wanted & {frame.angles[a].start.line, frame.angles[a].end.line}]
    for i, a in enumerate(mine):
        for b in mine[i + 1 :]:
            found = frame.pair(a, b)
            if found.pair == pair and found.lines is not None and set(found.lines) == wanted:
                yield a, b


def _converse(known: Known, claim: Statement, row: Theorem) -> Iterator[Way]:
    if claim.kind != "parallel":
        return
    for a, b in pairs_on(known, claim.names, row.pair):
        yield (congruent(a, b) if relation_for(str(row.pair)) == "congruent" else sum_is(a, b, 180),)


def _meeting(known: Known, claim: Statement, row: Theorem) -> Iterator[Way]:
    """Parallel lines never meet: a crossing in the figure, or perpendicular lines, which cross, are not parallel."""
    if claim.kind == "not parallel":
        if known.frame.crossing(*claim.names):
            yield ()
        yield (perpendicular(*claim.names),)


def _same_parallel(known: Known, claim: Statement, row: Theorem) -> Iterator[Way]:
    yield from same_parallel(known, claim, row)
    if claim.kind == "not parallel":
        # Contrapositive: of two parallel lines, a line that is not parallel to one is not parallel to the other.
        for l, m in (claim.names, claim.names[::-1]):
            for n in known.frame.lines:
                if n not in (l, m):
                    yield parallel(l, n), not_parallel(n, m)


def same_parallel(known: Known, claim: Statement, row: Theorem) -> Iterator[Way]:
    if claim.kind == "parallel":
        l, m = claim.names
        for n in known.frame.lines:
            if n not in (l, m):
                yield parallel(l, n), parallel(n, m)


def _same_perpendicular(known: Known, claim: Statement, row: Theorem) -> Iterator[Way]:
    if claim.kind == "parallel":
        l, m = claim.names
        for t in known.frame.lines:
            if t not in (l, m):
                yield perpendicular(t, l), perpendicular(t, m)


def _perpendicular_transversal(known: Known, claim: Statement, row: Theorem) -> Iterator[Way]:
    if claim.kind == "perpendicular":
        for t, m in (claim.names, claim.names[::-1]):
            for l in known.frame.lines:
                if l not in (t, m):
                    yield parallel(l, m), perpendicular(t, l)


def _sum(known: Known, claim: Statement, row: Theorem) -> Iterator[Way]:
    two = two_angles(claim, 180 if row.gives == "supplementary" else 90)
    if two:
        yield (claim.fact,)


def _equal_measures(known: Known, claim: Statement, row: Theorem) -> Iterator[Way]:
    if two_angles(claim, 0):
        yield (claim.fact,)


def _right_angle(known: Known, claim: Statement, row: Theorem) -> Iterator[Way]:
    frame = known.frame
    if claim.kind == "perpendicular":
        l, m = claim.names
        yield (claim.fact,)
        for a in speakable(known):
            if {frame.angles[a].start.line, frame.angles[a].end.line} == {l, m}:
                yield (value_is(a, 90),)
    terms: Sequence[tuple[str, int]] = claim.fact[1] if claim.fact[0] == "equation" else ()
    if len(terms) == 1:
        a = terms[0][0]
        if a.startswith(ANGLE) and claim.fact == value_is(a, 90):
            yield (perpendicular(frame.angles[a].start.line, frame.angles[a].end.line),)
            yield (claim.fact,)


def _bisector(known: Known, claim: Statement, row: Theorem) -> Iterator[Way]:
    frame = known.frame
    if claim.kind == "bisects":
        parts = frame.bisecting(*claim.names)
        if parts is not None:
            yield (congruent(*parts),)
        return
    for fact in known.lines["bisects"]:
        parts = frame.bisecting(fact[1], fact[2])
        assert parts is not None
        halves = [equation(Expression.of({part: Fraction(2)}), Expression.of({fact[2]: Fraction(1)})) for part in parts]
        if claim.fact in (congruent(*parts), *halves):
            yield (fact,)
    two = two_angles(claim, 0)
    if two and frame.angles[two[0]].at == frame.angles[two[1]].at:
        one, other = frame.angles[two[0]], frame.angles[two[1]]
        middle = one.end if one.end == other.start else other.end if other.end == one.start else None
        if middle is not None:
            outer = (one.start, other.end) if one.end == other.start else (other.start, one.end)
            if frame.fig.measure_between(*outer) < 180:
                yield (("bisects", middle.line, frame.atom(Angle("", one.at, *outer))),)


def _supplements(known: Known, claim: Statement, row: Theorem) -> Iterator[Way]:
    two = two_angles(claim, 0)
    total = 180 if row.needs[0] == "supplementary" else 90
    if not two:
        return
    a, c = two
    for first in known.sums.get(a, ()):
        if first[2] != -total:
            continue
        b = next((x for x, _ in first[1] if x != a), a)
        yield first, sum_is(c, b, total)
        for second in known.sums.get(c, ()):
            if second[2] == -total:
                d = next((x for x, _ in second[1] if x != c), c)
                if d != b:
                    yield first, second, congruent(b, d)
    # A linear pair is supplementary by a row of its own: named here, so that a note can say that row is missing.
    for statement in known.rows.values():
        if total == 180 and statement.kind == "linear pair" and len({a, c} & set(statement.names)) == 1:
            one, b = statement.names if statement.names[0] in (a, c) else statement.names[::-1]
            if sum_is(one, b, 180) not in known.first:
                yield sum_is(a, b, 180), sum_is(c, b, 180)


def _right_angles(known: Known, claim: Statement, row: Theorem) -> Iterator[Way]:
    two = two_angles(claim, 0)
    if two:
        yield value_is(two[0], 90), value_is(two[1], 90)


WAYS: dict[str, Callable[[Known, Statement, Theorem], Iterator[Way]]] = {
    "vertical": _vertical,
    "linear": _linear,
    "original": _original,
    "converse": _converse,
    "same parallel": _same_parallel,
    "same perpendicular": _same_perpendicular,
    "perpendicular transversal": _perpendicular_transversal,
    "sum": _sum,
    "equal measures": _equal_measures,
    "right angle": _right_angle,
    "bisector": _bisector,
    "supplements": _supplements,
    "right angles": _right_angles,
    "meeting": _meeting,
}
