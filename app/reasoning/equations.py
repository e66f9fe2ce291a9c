"""Rules of equality, and what the figure says of sums: each a test of the whole claim against the rows.

A test gives the numbers of the rows used, or None where the claim does not follow by the rule.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from contextlib import suppress
from fractions import Fraction
from itertools import permutations, product

from app.figure.model import Ray
from app.reasoning.budget import Spent, spend, spending
from app.reasoning.known import Known, form_of
from app.reasoning.linear import Flat
from app.reasoning.premises import same_parallel
from app.reasoning.terms import ANGLE, Expression, Fact, Statement
from app.reasoning.theorems import Theorem

__all__ = ["WHOLE", "within"]

MOST_SWAPS = 3
SWAPPING = 12  # steps that a look for one row in an equation takes, and again each replacement
SWAPS = 120_000  # what replacing may take in all for one row


def _reflexive(known: Known, claim: Statement, row: Theorem) -> set[int] | None:
    left, right = claim.sides
    return set() if claim.fact == ("equation", (), 0) and left.key() == right.key() else None


def _restated(known: Known, claim: Statement, row: Theorem) -> set[int] | None:
    """The same statement again, from either side."""
    for number, statement in known.rows.items():
        if statement.same_as(claim) and (not known.strict or form_of(statement) == form_of(claim)):
            return {number}
    return None


def _parts(known: Known, claim: Statement, row: Theorem) -> set[int] | None:
    """The whole is the sum of adjacent parts; three or more parts fill a straight angle, or the full turn."""
    terms = _all_angles(claim)
    if terms is None or len(terms) < 3 or len({known.frame.angles[a].at for a, _ in terms}) != 1:
        return None
    constant = claim.fact[2]
    for sign in (1, -1):
        parts = [a for a, k in terms if k == sign]
        whole = [a for a, k in terms if k == -sign]
        if constant == 0 and len(whole) == 1 and len(parts) == len(terms) - 1:
            angle = known.frame.angles[whole[0]]
            if _fill(known, parts, angle.start, angle.end):
                return set()
        if constant == -180 * sign and len(parts) == len(terms):
            rays = [known.frame.angles[a].start for a in parts]
            if any(_fill(known, parts, ray, ray.back()) for ray in rays):
                return set()
        if constant == -360 * sign and len(parts) == len(terms):
            ray = known.frame.angles[parts[0]].start
            if _fill(known, parts, ray, ray):
                return set()
    return None


def _fill(known: Known, parts: Sequence[str], start: Ray, end: Ray) -> bool:
    """Whether the parts, each once, lie side by side from one ray round to another."""
    angles = {known.frame.angles[a].start: known.frame.angles[a].end for a in parts}
    if len(angles) != len(parts):
        return False
    here = start
    for _ in parts:
        if here not in angles:
            return False
        here = angles[here]
    return here == end


def _all_angles(claim: Statement) -> tuple[tuple[str, int], ...] | None:
    if claim.fact[0] != "equation":
        return None
    terms: tuple[tuple[str, int], ...] = claim.fact[1]
    return terms if all(a.startswith(ANGLE) for a, _ in terms) else None


def _corners(known: Known, atoms: Sequence[str]) -> tuple[str, str, str] | None:
    """The meets of three angles, if they are the corners of a triangle of the figure."""
    meets = [known.frame.angles[a].at for a in atoms]
    if len(set(meets)) != 3:
        return None
    for i in range(3):
        p, q = (meets[j] for j in range(3) if j != i)
        if known.frame.by_meets(p, meets[i], q) is None:
            return None
    return meets[0], meets[1], meets[2]


def _triangle(known: Known, claim: Statement, row: Theorem) -> set[int] | None:
    terms = _all_angles(claim)
    if terms is None or len(terms) != 3 or {k for _, k in terms} != {1} or claim.fact[2] != -180:
        return None
    atoms = [a for a, _ in terms]
    corners = _corners(known, atoms)
    if corners is None:
        return None
    return set() if all(_inner(known, corners, a) == a for a in atoms) else None


def _inner(known: Known, corners: Sequence[str], a: str) -> str | None:
    at = known.frame.angles[a].at
    p, q = (c for c in corners if c != at)
    return known.frame.by_meets(p, at, q)


def _quadrilateral(known: Known, claim: Statement, row: Theorem) -> set[int] | None:
    """Four angles, each at its corner between the two sides, that fill 360 degrees however the sides turn: of a corner
    that points inward, the angle that can be named is not the quadrilateral's own.
    """
    terms = _all_angles(claim)
    if terms is None or len(terms) != 4 or {k for _, k in terms} != {1} or claim.fact[2] != -360:
        return None
    frame = known.frame
    at = {frame.angles[a].at: a for a, _ in terms}
    if len(at) != 4 or len({line for a in at.values() for line in frame.angles[a].lines()}) != 4:
        return None
    first, *others = at
    for second, third, fourth in permutations(others):
        ring = (first, second, third, fourth)
        if second < fourth and all(
            frame.by_meets(ring[i - 1], corner, ring[(i + 1) % 4]) == at[corner] for i, corner in enumerate(ring)
        ):
            turns: dict[int, int] = {}
            total = 0
            for a in at.values():
                to, start, constant = frame.form(a)
                turns[to], turns[start] = turns.get(to, 0) + 1, turns.get(start, 0) - 1
                total += constant
            return set() if total == 360 and not any(turns.values()) else None
    return None


def _exterior(known: Known, claim: Statement, row: Theorem) -> set[int] | None:
    terms = _all_angles(claim)
    if terms is None or len(terms) != 3 or claim.fact[2] != 0:
        return None
    positive = [a for a, k in terms if k == 1]
    negative = [a for a, k in terms if k == -1]
    outer, remote = (positive, negative) if len(positive) == 1 else (negative, positive)
    if len(outer) != 1 or len(remote) != 2:
        return None
    corners = _corners(known, (outer[0], *remote))
    if corners is None or any(_inner(known, corners, a) != a for a in remote):
        return None
    inner = _inner(known, corners, outer[0])
    return set() if inner is not None and known.frame.pair(inner, outer[0]).pair == "linear pair" else None


def _equations(known: Known) -> list[tuple[int, Statement]]:
    found = [(n, s) for n, s in known.rows.items() if s.fact[0] == "equation"]
    if known.strict:
        found = [(n, s) for n, s in found if s.kind != "congruent"]
    return found


def _chain(known: Known, claim: Statement, row: Theorem) -> set[int] | None:
    """a = b and b = c give a = c: the shortest chain of at least two rows from one side of the claim to the other."""
    if claim.kind == "parallel":
        for way in same_parallel(known, claim, row):
            rows = [known.has(fact) for fact in way]
            if all(r is not None for r in rows):
                return {n for r in rows if r is not None for n in r}
        return None
    if claim.fact[0] != "equation":
        return None
    form = form_of(claim) if known.strict else None
    steps: dict[object, list[tuple[object, int]]] = {}
    for number, statement in known.rows.items():
        if statement.fact[0] == "equation" and statement.fact != claim.fact and form in (None, form_of(statement)):
            left, right = (side.key() for side in statement.sides)
            steps.setdefault(left, []).append((right, number))
            steps.setdefault(right, []).append((left, number))
    start, goal = (side.key() for side in claim.sides)
    paths: list[tuple[object, tuple[int, ...]]] = [(start, ())]
    seen: set[object] = {start}
    for here, path in paths:
        for there, number in steps.get(here, ()):
            if there == goal and path:
                return {*path, number}
            if there not in seen and there != goal:
                seen.add(there)
                paths.append((there, (*path, number)))
    return None


def _replaced(known: Known, claim: Statement, row: Theorem) -> set[int] | None:
    """Replace equals by equals in a row, up to three times. Where the claim has a number in it or an unknown, the
    arithmetic that tidies it up is let pass.
    """
    if claim.fact[0] != "equation":
        return None
    rows = _equations(known)
    wanted = {tuple(side.key() for side in claim.sides), tuple(side.key() for side in claim.sides[::-1])}
    seen: set[object] = set()
    now: list[tuple[tuple[Expression, Expression], frozenset[int]]] = []
    for number, statement in rows:
        if statement.fact != claim.fact:
            now.append((statement.sides, frozenset((number,))))
    with suppress(Spent), spending(SWAPS):
        for _ in range(MOST_SWAPS):
            then = []
            for sides, used in now:
                for made, number in _swaps(sides, rows, used):
                    key = made[0].key(), made[1].key()
                    if key in wanted:
                        return {*used, number}
                    if key not in seen and len(seen) < 2000:
                        seen.add(key)
                        then.append((made, used | {number}))
            now = then
    if _plain_equality(claim):
        return None
    combined = _span(known, claim)
    return combined if combined is not None and len(combined) >= 2 else None


def _plain_equality(claim: Statement) -> bool:
    """Angles on both sides and no number: nothing there for arithmetic to tidy up."""
    return claim.fact[2] == 0 and not claim.unknowns


def _swaps(
    sides: tuple[Expression, Expression],
    rows: Sequence[tuple[int, Statement]],
    used: frozenset[int],
) -> Iterator[tuple[tuple[Expression, Expression], int]]:
    for number, statement in rows:
        if number in used:
            continue
        spend(SWAPPING)
        for old, new in (statement.sides, statement.sides[::-1]):
            for i in (0, 1):
                for factor in _occurrences(sides[i], old):
                    spend(SWAPPING)
                    step = new.plus(old, -1)
                    changed = sides[i].plus(step, factor)
                    yield ((changed, sides[1]) if i == 0 else (sides[0], changed)), number


def _occurrences(side: Expression, old: Expression) -> set[Fraction]:
    """How many times `old` can be taken out of a side: its whole share of some atom of old."""
    if not old.terms:
        return {Fraction(1)} if side.key() == old.key() else set()
    share = dict(side.terms)
    found = {share[a] / k for a, k in old.terms if a in share}
    # Every atom of `old` must be there in at least that share, or it isn't an occurrence.
    return {f for f in found if all(a in share and share[a] / k / f >= 1 for a, k in old.terms)}


def _added(known: Known, claim: Statement, row: Theorem) -> set[int] | None:
    """The sides of two rows added (for subtraction: subtracted), or one expression added to both sides of a row.

    Where the sums or the differences stand there as they come, only their own reason fits; a tidied sum fits either.
    That two things are equal because each equals a third is no sum, however it could be made one; and where the claim
    is such an equality, what is tidied is each side for itself.
    """
    if claim.fact[0] != "equation":
        return None
    wanted = 1 if row.id == "addition" else -1
    rows = _equations(known)
    mine = tuple(side.key() for side in claim.sides)
    for number, statement in rows:
        for left, right in (statement.sides, statement.sides[::-1]):
            more = claim.sides[0].plus(left, -1), claim.sides[1].plus(right, -1)
            signs = {k > 0 for _, k in more[0].terms} | ({more[0].constant > 0} if more[0].constant else set())
            if more[0].key() == more[1].key() and signs and (len(signs) > 1 or signs == {wanted > 0}):
                return {number}
    tidied: set[int] | None = None
    # A row that says what is claimed is no part of how it comes about.
    rows = [(number, one) for number, one in rows if one.fact != claim.fact]
    whole = claim.sides[0].plus(claim.sides[1], -1)
    tidy = {whole.key(), whole.times(-1).key()}
    for i, (number, one) in enumerate(rows):
        for other_number, other in rows[i + 1 :]:
            spend(80)
            for (a, b), (c, d) in product((one.sides, one.sides[::-1]), (other.sides, other.sides[::-1])):
                for sign, (p, q) in (
                    (1, (a.plus(c), b.plus(d))),
                    (-1, (a.plus(c, -1), b.plus(d, -1))),
                    (-1, (c.plus(a, -1), d.plus(b, -1))),
                ):
                    if (p.key(), q.key()) == mine:
                        return {number, other_number} if sign == wanted else None
                    met = whole.terms and p.plus(q, -1).key() in tidy
                    if met and _tidied_so(claim, (one, other), (p, q), sign, wanted):
                        tidied = {number, other_number}
    return tidied


def _tidied_so(
    claim: Statement, rows: Sequence[Statement], sides: tuple[Expression, Expression], sign: int, wanted: int
) -> bool:
    """Whether the claim may be the tidied sum (sign 1) or difference (-1) of the rows, whose two sides these are."""
    if not _one_equals_one(claim):
        return True
    if all(_one_equals_one(row) for row in rows):
        return False
    left, right = sides
    return sign == wanted and len(left.plus(right, -1).terms) == len(left.terms) + len(right.terms)


def _one_equals_one(statement: Statement) -> bool:
    """∠1 ≅ ∠2, m∠1 = m∠2: one angle on either side and nothing else."""
    terms = statement.fact[1]
    return (
        statement.fact[0] == "equation" and statement.fact[2] == 0 and not statement.unknowns
        and sorted(k for _, k in terms) == [-1, 1]
    )  # fmt: skip


def _algebra(known: Known, claim: Statement, row: Theorem) -> set[int] | None:
    """The claim is a combination of the rows' equations, measures and unknowns taken as mere quantities. A chain of
    equal angles is none: that is the Transitive Property's.
    """
    found = _span(known, claim) if claim.fact[0] == "equation" else None
    if found and len(found) > 1 and all(_one_equals_one(one) for one in (claim, *(known.rows[n] for n in found))):
        return None
    return found


def _span(known: Known, claim: Statement) -> set[int] | None:
    """The rows of a combination that gives the claim, none of them idle; None where there is none.

    One row is tried before several, and later rows before earlier ones: a student stands on what was just written.
    """
    rows = _equations(known)
    for number, statement in reversed(rows):
        if statement.fact == claim.fact or within([statement.fact], claim.fact):
            return {number}
    if not within([s.fact for _, s in rows], claim.fact):
        return None
    for number, _ in list(rows):
        fewer = [(n, s) for n, s in rows if n != number]
        if within([s.fact for _, s in fewer], claim.fact):
            rows = fewer
    return {n for n, _ in rows}


def within(facts: Sequence[Fact], claim: Fact) -> bool:
    atoms = dict.fromkeys(a for fact in (*facts, claim) for a, _ in fact[1])
    column = {a: i for i, a in enumerate(atoms)}

    def row(fact: Fact) -> list[int]:
        cells = [0] * (len(column) + 1)
        for a, k in fact[1]:
            cells[column[a]] = k
        cells[-1] = fact[2]
        return cells

    flat = Flat(len(column))
    for fact in facts:
        # A row is taken through all that stand before it.
        spend(2 + (len(flat.basis) * (len(column) + 12) >> 5))
        flat.add(row(fact))
    return not flat.empty and not any(flat.reduce(row(claim))[0])


WHOLE: dict[str, Callable[[Known, Statement, Theorem], set[int] | None]] = {
    "restated": _restated,
    "reflexive": _reflexive,
    "parts": _parts,
    "triangle": _triangle,
    "quadrilateral": _quadrilateral,
    "exterior": _exterior,
    "chain": _chain,
    "replaced": _replaced,
    "added": _added,
    "algebra": _algebra,
}
