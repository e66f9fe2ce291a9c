"""The one judge: does this statement follow, in one step, by this reason, from these rows?

It never searches for a proof, guesses or repairs. For a reason it lists the premises that would do (each list a
*way*), and looks whether some way's premises all stand in the rows. Everything else (search, hints, keys,
generators) only proposes rows; tests send all they propose through here.

Letters: a, b, c, d are angle atoms; l, m, n, t lines.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction

from app.figure.pairs import relation_for
from app.reasoning.frame import Frame
from app.reasoning.terms import ANGLE, Expression, Fact, Statement, equation
from app.reasoning.theorems import TABLE, Theorem

__all__ = ["Judged", "Known", "congruent", "judge", "parallel", "perpendicular", "sum_is", "value_is"]

Way = tuple[Fact, ...]
MOST_SWAPS = 3


def congruent(a: str, b: str) -> Fact:
    """The fact m a = m b."""
    if a < b:
        return "equation", ((a, 1), (b, -1)), 0
    return ("equation", (), 0) if a == b else ("equation", ((b, 1), (a, -1)), 0)


def sum_is(a: str, b: str, total: int) -> Fact:
    """The fact m a + m b = total."""
    if a != b:
        return "equation", ((a, 1), (b, 1)) if a < b else ((b, 1), (a, 1)), -total
    return equation(Expression.of({a: Fraction(1)}).plus(Expression.of({b: Fraction(1)})), Expression((), Fraction(total)))


def value_is(a: str, value: Fraction | int) -> Fact:
    """The fact m a = value."""
    if isinstance(value, int):
        return "equation", ((a, 1),), -value
    return equation(Expression.of({a: Fraction(1)}), Expression((), Fraction(value)))


def parallel(l: str, m: str) -> Fact:
    return "parallel", *sorted((l, m))


def perpendicular(t: str, l: str) -> Fact:
    return "perpendicular", *sorted((t, l))


@dataclass(frozen=True)
class Judged:
    """Whether the row follows; the rows used; and where it does not, the premises the nearest way lacks."""

    ok: bool
    used: tuple[int, ...] = ()
    missing: Way | None = None


class Known:
    """Rows that stand: number → statement, looked up by the facts they say.

    `strict` keeps = and ≅ apart and lets no definition be skipped.
    """

    def __init__(self, frame: Frame, rows: Iterable[tuple[int, Statement]] = (), strict: bool = False) -> None:
        self.frame = frame
        self.strict = strict
        self.rows: dict[int, Statement] = {}
        self.first: dict[Fact, list[int]] = {}
        self.values: dict[str, list[tuple[Expression, int]]] = {}
        self.lines: dict[str, list[Fact]] = {"parallel": [], "perpendicular": [], "bisects": []}
        self.sums: dict[str, list[Fact]] = {}
        for number, statement in rows:
            self.add(number, statement)

    def add(self, number: int, statement: Statement) -> None:
        fact = statement.fact
        self.rows[number] = statement
        self.first.setdefault(fact, []).append(number)
        kind = fact[0]
        if kind in self.lines:
            self.lines[str(kind)].append(fact)
        elif kind == "equation":
            terms: tuple[tuple[str, int], ...] = fact[1]
            constant: int = fact[2]
            angles = [(a, k) for a, k in terms if a.startswith(ANGLE)]
            if len(angles) == 1:
                a, k = angles[0]
                rest = Expression.of({b: Fraction(-n, k) for b, n in terms if b != a}, Fraction(-constant, k))
                self.values.setdefault(a, []).append((rest, number))
            elif len(angles) == 2 and len(terms) == 2 and angles[0][1] == angles[1][1] == 1:
                for a, _ in angles:
                    self.sums.setdefault(a, []).append(fact)

    def has(self, fact: Fact, form: str | None = None) -> frozenset[int] | None:
        """The rows that say the fact, outright or by a definition left unsaid; None where none do. `form` is what a
        strict reader wants it written as: "congruent" or "measure".
        """
        for number in self.first.get(fact, ()):
            if not self.strict or form is None or _form(self.rows[number]) == form:
                return frozenset((number,))
        if fact[0] == "drawn":
            fits = self.frame.pair(fact[2], fact[3]).pair == fact[1]
            return frozenset() if fits else None
        return None if self.strict else self.by_definition(fact)

    def by_definition(self, fact: Fact) -> frozenset[int] | None:
        if fact[0] == "perpendicular":
            for a in self.right_angles():
                if {self.frame.angles[a].start.line, self.frame.angles[a].end.line} == {fact[1], fact[2]}:
                    return frozenset((self.first[value_is(a, 90)][0],))
            return None
        if fact[0] != "equation":
            return None
        terms: tuple[tuple[str, int], ...] = fact[1]
        if len(terms) == 1 and terms[0][0].startswith(ANGLE) and fact == value_is(terms[0][0], 90):
            angle = self.frame.angles[terms[0][0]]
            rows = self.first.get(perpendicular(angle.start.line, angle.end.line))
            return frozenset(rows[:1]) if rows else None
        if len(terms) != 2 or not all(a.startswith(ANGLE) for a, _ in terms):
            return None
        (a, k), (b, n) = terms
        for first, row in self.values.get(a, ()):
            for second, other in self.values.get(b, ()):
                total = first.times(k).plus(second, n)
                if not total.terms and total.constant == -fact[2]:
                    return frozenset((row, other))
        if fact == congruent(a, b):
            for bisects in self.lines["bisects"]:
                parts = self.frame.bisecting(bisects[1], bisects[2])
                if parts is not None and set(parts) == {a, b}:
                    return frozenset(self.first[bisects][:1])
        return None

    def right_angles(self) -> Iterator[str]:
        for a in self.values:
            if value_is(a, 90) in self.first:
                yield a


def _form(statement: Statement) -> str:
    return "congruent" if statement.kind == "congruent" else "measure"


def judge(
    known: Known, claim: Statement, reason: str, given: Iterable[Statement] = (), cited: Sequence[int] | None = None,
) -> Judged:
    """Judge one row. `given` matters for the reason "given"; `cited` rows are tried before all rows."""
    if cited:
        narrow = Known(known.frame, ((n, known.rows[n]) for n in cited if n in known.rows), known.strict)
        found = _judge(narrow, claim, TABLE[reason], given)
        if found.ok:
            return found
    return _judge(known, claim, TABLE[reason], given)


def _judge(known: Known, claim: Statement, row: Theorem, given: Iterable[Statement]) -> Judged:
    if known.strict and not _written_strictly(claim, row):
        return Judged(False)
    if row.rule == "given":
        return Judged(any(
            one.fact == claim.fact and (not known.strict or _form(one) == _form(claim)) for one in given
        ))
    whole = WHOLE.get(row.rule)
    if whole is not None:
        used = whole(known, claim, row)
        return Judged(False) if used is None else Judged(True, tuple(sorted(used)))
    form = _premise_form(row) if known.strict else None
    missing: Way | None = None
    for way in WAYS[row.rule](known, claim, row):
        used_rows: set[int] = set()
        lacking = []
        for fact in way:
            rows = known.has(fact, form)
            if rows is None:
                lacking.append(fact)
            else:
                used_rows |= rows
        if not lacking:
            return Judged(True, tuple(sorted(used_rows)))
        if missing is None or len(lacking) < len(missing):
            missing = tuple(lacking)
    return Judged(False, (), missing)


def _written_strictly(claim: Statement, row: Theorem) -> bool:
    """Strict packs want ≅ between angles and = between measures, each where its theorem gives it."""
    if claim.loose:
        return False
    if row.gives == "congruent" and row.rule != "given":
        return claim.kind == "congruent" or row.rule == "equal measures"
    if row.rule in ("replaced", "added", "algebra", "parts", "triangle", "exterior"):
        return claim.kind != "congruent"
    return True


def _premise_form(row: Theorem) -> str | None:
    if row.rule == "converse" and row.needs[0] == "congruent":
        return "congruent"
    return None


# Reading a claim.

def _two(claim: Statement, total: int) -> tuple[str, str] | None:
    """The two angles of a ≅ b (total 0) or of a + b = total."""
    fact = claim.fact
    if fact[0] != "equation" or len(fact[1]) != 2:
        return None
    (a, k), (b, n) = fact[1]
    if not (a.startswith(ANGLE) and b.startswith(ANGLE)):
        return None
    wanted = (1, -1) if total == 0 else (1, 1)
    return (a, b) if (k, n) == wanted and fact[2] == -total else None


def _angles(known: Known) -> list[str]:
    """The angles a converse may speak of: the figure's, and those that the rows name besides."""
    spoken = dict.fromkeys(known.frame.named)
    for statement in known.rows.values():
        spoken.update(dict.fromkeys(statement.angles))
    return list(spoken)


# Ways: for a claim, the lists of premises that would give it by the theorem. No list: it gives nothing like this.

def _vertical(known: Known, claim: Statement, row: Theorem) -> Iterator[Way]:
    if claim.kind == "vertical":
        yield (claim.fact,)
    two = _two(claim, 0)
    if two and known.frame.pair(*two).pair == "vertical":
        yield ()


def _linear(known: Known, claim: Statement, row: Theorem) -> Iterator[Way]:
    if claim.kind == "linear pair":
        yield (claim.fact,)
    two = _two(claim, 180)
    if two and known.frame.pair(*two).pair == "linear pair":
        yield ()


def _original(known: Known, claim: Statement, row: Theorem) -> Iterator[Way]:
    total = 0 if row.gives == "congruent" else 180
    two = _two(claim, total)
    if two:
        found = known.frame.pair(*two)
        if found.pair == row.pair and found.lines is not None and found.lines[0] != found.lines[1]:
            yield (parallel(*found.lines),)
    elif claim.kind == "not parallel":
        # Contrapositive: a pair that is not congruent (or supplementary) shows the lines not parallel.
        for a, b in _pairs_on(known, claim.names, row.pair):
            yield from _unequal(known, a, b, total)


def _unequal(known: Known, a: str, b: str, total: int) -> Iterator[Way]:
    for first, one in known.values.get(a, ()):
        for second, other in known.values.get(b, ()):
            if first.terms or second.terms:
                continue
            off = first.constant - second.constant if total == 0 else first.constant + second.constant - total
            if off:
                yield known.rows[one].fact, known.rows[other].fact


def _pairs_on(known: Known, lines: Sequence[str], pair: str | None) -> Iterator[tuple[str, str]]:
    """Angle pairs of that name whose other sides lie on the two lines, one on each."""
    wanted = set(lines)
    frame = known.frame
    mine = [a for a in _angles(known) if wanted & {frame.angles[a].start.line, frame.angles[a].end.line}]
    for i, a in enumerate(mine):
        for b in mine[i + 1:]:
            found = frame.pair(a, b)
            if found.pair == pair and found.lines is not None and set(found.lines) == wanted:
                yield a, b


def _converse(known: Known, claim: Statement, row: Theorem) -> Iterator[Way]:
    if claim.kind != "parallel":
        return
    for a, b in _pairs_on(known, claim.names, row.pair):
        yield (congruent(a, b) if relation_for(str(row.pair)) == "congruent" else sum_is(a, b, 180),)


def _same_parallel(known: Known, claim: Statement, row: Theorem) -> Iterator[Way]:
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
    two = _two(claim, 180 if row.gives == "supplementary" else 90)
    if two:
        yield (claim.fact,)


def _equal_measures(known: Known, claim: Statement, row: Theorem) -> Iterator[Way]:
    if _two(claim, 0):
        yield (claim.fact,)


def _right_angle(known: Known, claim: Statement, row: Theorem) -> Iterator[Way]:
    frame = known.frame
    if claim.kind == "perpendicular":
        l, m = claim.names
        yield (claim.fact,)
        for a in _angles(known):
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
    two = _two(claim, 0)
    if two and frame.angles[two[0]].at == frame.angles[two[1]].at:
        one, other = frame.angles[two[0]], frame.angles[two[1]]
        middle = one.end if one.end == other.start else other.end if other.end == one.start else None
        if middle is not None:
            outer = (one.start, other.end) if one.end == other.start else (other.start, one.end)
            if frame.fig.measure_between(*outer) < 180:
                from app.figure.model import Angle

                yield (("bisects", middle.line, frame.atom(Angle("", one.at, *outer))),)


def _supplements(known: Known, claim: Statement, row: Theorem) -> Iterator[Way]:
    two = _two(claim, 0)
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


def _right_angles(known: Known, claim: Statement, row: Theorem) -> Iterator[Way]:
    two = _two(claim, 0)
    if two:
        yield value_is(two[0], 90), value_is(two[1], 90)


def _restated(known: Known, claim: Statement, row: Theorem) -> Iterator[Way]:
    yield (claim.fact,)


WAYS: dict[str, Callable[[Known, Statement, Theorem], Iterator[Way]]] = {
    "vertical": _vertical, "linear": _linear, "original": _original, "converse": _converse,
    "same parallel": _same_parallel, "same perpendicular": _same_perpendicular,
    "perpendicular transversal": _perpendicular_transversal, "sum": _sum, "equal measures": _equal_measures,
    "right angle": _right_angle, "bisector": _bisector, "supplements": _supplements,
    "right angles": _right_angles, "restated": _restated,
}


# Whole tests: the rows used, or None.

def _reflexive(known: Known, claim: Statement, row: Theorem) -> set[int] | None:
    left, right = claim.sides
    return set() if claim.fact == ("equation", (), 0) and left.key() == right.key() else None


def _parts(known: Known, claim: Statement, row: Theorem) -> set[int] | None:
    """The whole is the sum of adjacent parts; three or more parts fill a straight angle, or the full turn."""
    terms = _all_angles(claim)
    if terms is None or len(terms) < 3 or len({known.frame.angles[a].at for a, _ in terms}) != 1:
        return None
    signs = sorted(k for _, k in terms)
    constant = claim.fact[2]
    whole = constant == 0 and (signs[0] == -1 and set(signs[1:]) == {1} or signs[-1] == 1 and set(signs[:-1]) == {-1})
    filled = set(signs) == {1} and constant in (-180, -360)
    if not (whole or filled):
        return None
    return set() if not any(known.frame.row(claim.fact, {}, len(known.frame.lines))) else None


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
        for way in _same_parallel(known, claim, row):
            rows = [known.has(fact) for fact in way]
            if all(r is not None for r in rows):
                return {n for r in rows if r is not None for n in r}
        return None
    if claim.fact[0] != "equation":
        return None
    form = _form(claim) if known.strict else None
    steps: dict[object, list[tuple[object, int]]] = {}
    for number, statement in known.rows.items():
        if statement.fact[0] == "equation" and statement.fact != claim.fact and form in (None, _form(statement)):
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
    sides: tuple[Expression, Expression], rows: Sequence[tuple[int, Statement]], used: frozenset[int],
) -> Iterator[tuple[tuple[Expression, Expression], int]]:
    for number, statement in rows:
        if number in used:
            continue
        for old, new in (statement.sides, statement.sides[::-1]):
            step = new.plus(old, -1)
            for i in (0, 1):
                for factor in _occurrences(sides[i], old):
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
    """The sides of two rows added or subtracted; or the same expression added to (taken from) both sides of one."""
    if claim.fact[0] != "equation":
        return None
    rows = _equations(known)
    mine = {side.key() for side in claim.sides}
    for number, statement in rows:
        if statement.fact == claim.fact and mine != {side.key() for side in statement.sides}:
            return {number}
    for i, (number, one) in enumerate(rows):
        for other_number, other in rows[i + 1:]:
            for left, right in (other.sides, other.sides[::-1]):
                for sign in (1, -1):
                    made = equation(one.sides[0].plus(left, sign), one.sides[1].plus(right, sign))
                    if made == claim.fact and made != ("equation", (), 0):
                        return {number, other_number}
    return None


def _algebra(known: Known, claim: Statement, row: Theorem) -> set[int] | None:
    """The claim is a combination of the rows' equations, measures and unknowns taken as mere quantities."""
    return _span(known, claim) if claim.fact[0] == "equation" else None


def _span(known: Known, claim: Statement) -> set[int] | None:
    """The rows of a combination that gives the claim, none of them idle; None where there is none."""
    rows = [(n, s) for n, s in _equations(known)]
    if not _within([s.fact for _, s in rows], claim.fact):
        return None
    for number, _ in list(reversed(rows)):
        fewer = [(n, s) for n, s in rows if n != number]
        if _within([s.fact for _, s in fewer], claim.fact):
            rows = fewer
    return {n for n, _ in rows}


def _within(facts: Sequence[Fact], claim: Fact) -> bool:
    from app.reasoning.linear import Flat

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
        flat.add(row(fact))
    return not flat.empty and not any(flat.reduce(row(claim))[0])


WHOLE: dict[str, Callable[[Known, Statement, Theorem], set[int] | None]] = {
    "reflexive": _reflexive, "parts": _parts, "triangle": _triangle, "exterior": _exterior, "chain": _chain,
    "replaced": _replaced, "added": _added, "algebra": _algebra,
}
