"""Finding a shortest proof in named steps, as a teacher would write it.

Forward search, cheapest facts first: the cost of a fact is the number of rows that a proof of it needs, shared
rows counted once. Everything found is only a proposal: the judge decides (and tests ask it each time).

Letters: a, b, c, d are angle atoms; l, m, n, t lines; a *part* is a proof in the making, fact → (reason, premises).
"""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Iterator, Sequence
from fractions import Fraction
from heapq import heappop, heappush
from itertools import combinations, permutations

from app.figure.model import Figure, all_sectors
from app.reasoning.follows import decide, widened
from app.reasoning.frame import Frame, frame_of
from app.reasoning.graph import Proof, Row
from app.reasoning.judge import Known, _within, congruent, judge, parallel, perpendicular, sum_is, value_is
from app.reasoning.notes import statement_of
from app.reasoning.terms import ANGLE, Expression, Fact, Statement, equation
from app.reasoning.theorems import PROFILES, TABLE

__all__ = ["prove", "search"]

Step = tuple[str, tuple[Fact, ...]]
Part = dict[Fact, Step]
Ban = tuple[Fact, str, tuple[Fact, ...]]

# Among proofs of one length, the plainer reasons first.
WEIGHT = {
    "given": 0, "vertical-angles": 1, "linear-pair": 1, "definition-of-congruent": 2, "definition-of-perpendicular": 2,
    "definition-of-supplementary": 2, "transitive": 2, "parallel-to-same-line": 1, "perpendicular-to-same-line": 1,
    "perpendicular-transversal": 1, "congruent-supplements": 2, "congruent-complements": 2, "substitution": 4,
    "algebra": 5, "corresponding-angles": 2, "corresponding-angles-converse": 2, "right-angles-congruent": 1,
}
PAIR_REASON = {
    "corresponding": "corresponding-angles", "alternate interior": "alternate-interior-angles",
    "alternate exterior": "alternate-exterior-angles", "consecutive interior": "consecutive-interior-angles",
    "consecutive exterior": "consecutive-exterior-angles",
}
MOST_POPS = 20000
SAME_COST = 2  # proofs of one fact kept, if they cost the same
MOST_VALUES = 4
MOST_TRIES = 24
MOST_ANGLES = 60


def prove(
    fig: Figure, given: Sequence[Statement | str], goal: Statement | str, *, profile: str = "postulate", k: int = 1,
    bar: Collection[str] = (),
) -> list[Proof]:
    """Up to k different proofs, shortest first; [] where the goal does not follow or the table does not reach it.

    `bar` are theorems not to be used. The profile names which rows are postulates; it bars nothing by itself.
    """
    if profile not in PROFILES:
        raise KeyError(profile)
    frame = frame_of(fig)
    statements = [frame.read(one) if isinstance(one, str) else one for one in given]
    wanted = frame.read(goal) if isinstance(goal, str) else goal
    frame = widened(frame, (*statements, wanted))
    if decide(frame, [s.fact for s in statements], wanted.fact) != "follows":
        return []
    first = search(frame, statements, wanted, frozenset(bar))
    if first is None:
        return []
    found = {_shape(first): first}
    # Other proofs: take one step away from a proof that was found, and look again.
    waiting: list[tuple[Part, frozenset[Ban]]] = [(first, frozenset())]
    tries = MOST_TRIES if k > 1 else 0
    while waiting and len(found) < k + 2 and tries:
        part, ban = waiting.pop(0)
        for fact, (reason, premises) in reversed(list(part.items())):
            if reason == "given" or not tries:
                continue
            tries -= 1
            more = ban | {(fact, reason, premises)}
            other = search(frame, statements, wanted, frozenset(bar), ban=more)
            if other is not None:
                waiting.append((other, more))
                found.setdefault(_shape(other), other)
    proofs = [_written(part, statements, wanted) for part in found.values()]
    proofs.sort(key=lambda proof: (len(proof.rows), sum(WEIGHT.get(row.reason, 3) for row in proof.rows)))
    return proofs[:k]


def _shape(part: Part) -> frozenset[tuple[Fact, str]]:
    return frozenset((fact, reason) for fact, (reason, _) in part.items())


def search(
    frame: Frame, given: Sequence[Statement], goal: Statement, bar: frozenset[str] = frozenset(), *,
    ban: frozenset[Ban] = frozenset(), known: Sequence[Statement] = (),
) -> Part | None:
    """The cheapest proof of the goal as a part, or None. Rows in `known` stand already and cost nothing.

    The figure's named angles are tried first, then all that three letters can name.
    """
    found = _Search(frame, given, goal, bar, ban, known).run()
    if found is None and goal.kind != "not parallel":
        also = [a for a in _every_angle(frame) if a not in frame.named]
        if also:
            found = _Search(frame, given, goal, bar, ban, known, also).run()
    return found


def _every_angle(frame: Frame) -> list[str]:
    """All sectors between neighbouring rays, and the corners of triangles, where letters on both sides name them."""
    found: dict[str, None] = {}
    for meet in frame.meets:
        for sector in all_sectors(frame.fig, meet):
            found[frame.atom(sector)] = None
    for p, v, q in permutations(frame.meets, 3):
        if p < q and (atom := frame.by_meets(p, v, q)) is not None:
            found[atom] = None
    return [a for a in found if ":" not in a][:MOST_ANGLES]


class _Search:
    def __init__(
        self, frame: Frame, given: Sequence[Statement], goal: Statement, bar: frozenset[str], ban: frozenset[Ban],
        known: Sequence[Statement], also: Sequence[str] = (),
    ) -> None:
        self.frame, self.goal, self.bar, self.ban = frame, goal.fact, bar, ban
        self.facts = [s.fact for s in given]
        spoken = dict.fromkeys(frame.named)
        for statement in (*given, goal, *known):
            spoken.update(dict.fromkeys(statement.angles))
        spoken.update(dict.fromkeys(also))
        self.angles = list(spoken)
        self.heap: list[tuple[int, int, int, Fact, str, tuple[Fact, ...], Part]] = []
        self.count = 0
        self.done: dict[Fact, list[Part]] = {}
        self.waiting: dict[Fact, int] = {}
        self.equal: dict[str, list[str]] = {}
        self.sums: dict[str, list[tuple[str, int, Fact]]] = {}
        self.values: dict[str, list[tuple[Expression, Fact]]] = {}
        self.found: dict[str, Fraction] = {}
        self.plain: list[Fact] = []
        self.others: list[Fact] = []
        self.parallels: list[tuple[str, str]] = []
        self.squares: list[tuple[str, str]] = []
        self.across: dict[Fact, list[tuple[str, str, str]]] = {}
        self.anchors: set[str] = set()
        self.start(known)
        self.anchor((*self.facts, *(s.fact for s in known)))

    def anchor(self, facts: Sequence[Fact]) -> None:
        """The angles worth chaining to. A chain of equals can be built from either of its ends, so only chains from
        the goal's angles are needed, from those of the givens' equations, and from one side of each pair that
        may show two lines parallel which are not so already.
        """
        for fact in (*facts, self.goal):
            if fact[0] == "equation":
                self.anchors.update(a for a, _ in fact[1] if a.startswith(ANGLE))
        for lines, pairs in self.across.items():
            if lines not in facts and decide(self.frame, facts, lines) == "follows":
                self.anchors.update(a for a, _, _ in pairs)
        if self.goal[0] in ("bisects", "perpendicular"):
            self.anchors.update(self.angles)

    # The start: what stands, what is given, what is drawn.

    def start(self, known: Sequence[Statement]) -> None:
        for statement in known:
            self.push(statement.fact, "given", (), free=True)
        for fact in self.facts:
            self.push(fact, "given", ())
        frame = self.frame
        for a, b in combinations(self.angles, 2):
            pair = frame.pair(a, b)
            if pair.pair == "vertical":
                self.push(congruent(a, b), "vertical-angles", ())
            elif pair.pair == "linear pair":
                self.push(sum_is(a, b, 180), "linear-pair", ())
            elif pair.lines is not None and pair.relation is not None and pair.lines[0] != pair.lines[1]:
                self.across.setdefault(parallel(*pair.lines), []).append((a, b, pair.pair))
        if self.goal[0] == "drawn":
            self.push(self.goal, "vertical-angles" if self.goal[1] == "vertical" else "linear-pair", ())
        if self.goal == ("equation", (), 0):
            self.push(self.goal, "reflexive", ())
        for fact, reason in self.drawn_sums():
            self.push(fact, reason, ())

    def drawn_sums(self) -> Iterator[tuple[Fact, str]]:
        """Angle addition at the meets, and the triangles: three angles of which the figure says a sum."""
        frame = self.frame
        known = Known(frame)
        by_meet: dict[str, list[str]] = {}
        for a in self.angles:
            by_meet.setdefault(frame.angles[a].at, []).append(a)
        for atoms in by_meet.values():
            for a, b in combinations(atoms, 2):
                one, other = frame.angles[a], frame.angles[b]
                for first, second in ((one, other), (other, one)):
                    if first.end == second.start:
                        for c in atoms:
                            whole = frame.angles[c]
                            if whole.start == first.start and whole.end == second.end:
                                yield equation(_sum_of(c), _sum_of(a, b)), "angle-addition"
                yield from self.straight(atoms, a, b)
        corner: dict[frozenset[str], list[str]] = {}
        for a in self.angles:
            angle = frame.angles[a]
            corner.setdefault(frozenset((angle.start.line, angle.end.line)), []).append(a)
        for l, m, n in combinations(frame.lines, 3):
            sides = [corner.get(frozenset(two), []) for two in ((l, m), (m, n), (l, n))]
            for a in sides[0]:
                for b in sides[1]:
                    for c in sides[2]:
                        if len({frame.angles[x].at for x in (a, b, c)}) == 3:
                            yield from self.triangle(known, a, b, c)

    def straight(self, atoms: Sequence[str], a: str, b: str) -> Iterator[tuple[Fact, str]]:
        """Three neighbouring angles that fill a straight angle."""
        angles = self.frame.angles
        for first, second in ((angles[a], angles[b]), (angles[b], angles[a])):
            if first.end == second.start:
                for c in atoms:
                    if angles[c].start == second.end and angles[c].end == first.start.back():
                        yield equation(_sum_of(a, b, c), Expression((), Fraction(180))), "angle-addition"

    def triangle(self, known: Known, a: str, b: str, c: str) -> Iterator[tuple[Fact, str]]:
        fact = equation(_sum_of(a, b, c), Expression((), Fraction(180)))
        if judge(known, statement_of(fact), "triangle-sum").ok:
            yield fact, "triangle-sum"
        for outer, one, other in ((a, b, c), (b, a, c), (c, a, b)):
            fact = equation(_sum_of(outer), _sum_of(one, other))
            if judge(known, statement_of(fact), "exterior-angle").ok:
                yield fact, "exterior-angle"

    # The queue.

    def push(self, fact: Fact, reason: str, premises: tuple[Fact, ...], free: bool = False) -> None:
        if reason in self.bar or (fact, reason, premises) in self.ban or fact in premises:
            return
        if free:
            self.count += 1
            heappush(self.heap, (0, 0, self.count, fact, reason, (), {}))
            self.waiting[fact] = 0
            return
        done = self.done.get(fact)
        if done is not None and len(done) >= SAME_COST:
            return
        best = self.waiting.get(fact)
        goal = self.waiting.get(self.goal)
        if best is not None or goal is not None:
            # No proof from these premises is shorter than the longest of theirs.
            least = 1
            for premise in premises:
                size = len(self.done[premise][0]) + 1
                if size > least:
                    least = size
            if best is not None and (least > best or (least == best and done)):
                return
            if goal is not None and least >= goal and fact != self.goal:
                return
        part = self.together(premises)
        cost = len(part) + 1
        if fact in part or (best is not None and cost > best):
            return
        self.waiting[fact] = cost
        weight = WEIGHT.get(reason, 3)
        for step, _ in part.values():
            weight += WEIGHT.get(step, 3)
        self.count += 1
        heappush(self.heap, (cost, weight, self.count, fact, reason, premises, part))

    def together(self, premises: tuple[Fact, ...]) -> Part:
        """One proof of all the premises: of the proofs kept for each, those that share the most rows."""
        part: Part = {}
        several = [self.done[premise] for premise in premises]
        if all(len(parts) == 1 for parts in several):
            for parts in several:
                part = {**part, **parts[0]}
            return part
        made: list[Part] = [part]
        for parts in several:
            made = [{**one, **more} for one in made for more in parts]
        return min(made, key=len)

    def run(self) -> Part | None:
        if self.drain():
            return self.done[self.goal][0]
        while self.combine():
            if self.drain():
                return self.done[self.goal][0]
        return None

    def drain(self) -> bool:
        """Settle facts, cheapest first, until the goal is one of them; False when there are no more."""
        for _ in range(MOST_POPS):
            if not self.heap:
                return self.goal in self.done
            cost, _, _, fact, reason, premises, part = heappop(self.heap)
            done = self.done.get(fact)
            mine = part if cost == 0 else {**part, fact: (reason, premises)}
            if done is None:
                self.done[fact] = [mine]
                if fact == self.goal:
                    return True
                self.fire(fact)
            elif len(done) < SAME_COST and len(mine) == len(done[0]) and mine.keys() != done[0].keys():
                done.append(mine)
        return self.goal in self.done

    # What a new fact gives with the ones that stand.

    def fire(self, fact: Fact) -> None:
        kind = fact[0]
        if kind == "parallel":
            self.fire_parallel(fact, fact[1], fact[2])
        elif kind == "perpendicular":
            self.fire_perpendicular(fact, fact[1], fact[2])
        elif kind == "bisects":
            self.fire_bisects(fact)
        elif kind == "equation":
            terms: tuple[tuple[str, int], ...] = fact[1]
            constant: int = fact[2]
            angles = [(a, k) for a, k in terms if a.startswith(ANGLE)]
            if not angles:
                self.fire_unknown(fact, terms, constant)
            elif len(angles) == 1:
                a, k = angles[0]
                rest = Expression.of({x: Fraction(-n, k) for x, n in terms if x != a}, Fraction(-constant, k))
                self.fire_value(fact, a, rest)
            elif len(terms) == 2:
                (a, k), (b, n) = terms
                if (k, n) == (1, -1) and constant == 0:
                    self.fire_congruent(fact, a, b)
                elif (k, n) == (1, 1):
                    self.fire_sum(fact, a, b, -constant)
                else:
                    self.fire_other(fact)
            else:
                self.fire_other(fact)
        self.fire_goal(fact)

    def fire_congruent(self, fact: Fact, a: str, b: str) -> None:
        pair = self.frame.pair(a, b)
        if pair.relation == "congruent" and pair.lines is not None and pair.lines[0] != pair.lines[1]:
            self.push(parallel(*pair.lines), PAIR_REASON[pair.pair] + "-converse", (fact,))
        anchors = self.anchors
        for here, there in ((a, b), (b, a)):
            wanted = there in anchors
            for c in self.equal.get(here, ()):
                if wanted or c in anchors:
                    self.push(congruent(there, c), "transitive", (congruent(here, c), fact))
            for c, total, other in self.sums.get(here, ()):
                if c != there and (wanted or c in anchors):
                    self.push(sum_is(there, c, total), "substitution", (other, fact))
            for value, other in self.values.get(here, ()):
                self.push(_value(there, value), "substitution", (fact, other))
        for first, one in self.values.get(a, ()):
            for second, two in self.values.get(b, ()):
                if first.terms or second.terms:
                    self.push(equation(first, second), "substitution", (fact, one, two))
        for c, total, first_sum in self.sums.get(a, ()):
            for d, other_total, second_sum in self.sums.get(b, ()):
                if total == other_total and total in (180, 90) and c not in (d, b) and d != a and (
                    c in anchors or d in anchors
                ):
                    self.push(congruent(c, d), _supplements(total), (first_sum, second_sum, fact))
        self.equal.setdefault(a, []).append(b)
        self.equal.setdefault(b, []).append(a)

    def fire_sum(self, fact: Fact, a: str, b: str, total: int) -> None:
        pair = self.frame.pair(a, b)
        if total == 180 and pair.relation == "supplementary" and pair.lines is not None and pair.lines[0] != pair.lines[1]:
            self.push(parallel(*pair.lines), PAIR_REASON[pair.pair] + "-converse", (fact,))
        anchors = self.anchors
        for here, there in ((a, b), (b, a)):
            wanted = there in anchors
            for c in self.equal.get(here, ()):
                if c != there and (wanted or c in anchors):
                    self.push(sum_is(there, c, total), "substitution", (fact, congruent(here, c)))
            for c, other_total, other in self.sums.get(here, ()):
                if other_total == total and total in (180, 90) and c != there and (wanted or c in anchors):
                    self.push(congruent(there, c), _supplements(total), (other, fact))
            for value, other in self.values.get(here, ()):
                rest = Expression((), Fraction(total)).plus(value, -1)
                self.push(_value(there, rest), "substitution", (fact, other))
            for c in self.equal.get(there, ()):
                for d, other_total, other in self.sums.get(c, ()):
                    if other_total == total and total in (180, 90) and d not in (here, there) and (
                        here in anchors or d in anchors
                    ):
                        self.push(congruent(here, d), _supplements(total), (fact, other, congruent(there, c)))
        for first, one in self.values.get(a, ()):
            for second, two in self.values.get(b, ()):
                if first.terms or second.terms:
                    both = equation(first.plus(second), Expression((), Fraction(total)))
                    self.push(both, "substitution", (fact, one, two))
        self.sums.setdefault(a, []).append((b, total, fact))
        self.sums.setdefault(b, []).append((a, total, fact))

    def fire_value(self, fact: Fact, a: str, value: Expression) -> None:
        mine = self.values.setdefault(a, [])
        if len(mine) >= MOST_VALUES:
            return
        for b in self.equal.get(a, ()):
            self.push(_value(b, value), "substitution", (congruent(a, b), fact))
            for other, two in self.values.get(b, ()):
                if other.terms or value.terms:
                    self.push(equation(value, other), "substitution", (congruent(a, b), fact, two))
        for b, total, both in self.sums.get(a, ()):
            self.push(_value(b, Expression((), Fraction(total)).plus(value, -1)), "substitution", (both, fact))
            for other, two in self.values.get(b, ()):
                if other.terms or value.terms:
                    summed = equation(value.plus(other), Expression((), Fraction(total)))
                    self.push(summed, "substitution", (both, fact, two))
        for other, two in mine:
            if other.terms or value.terms:
                self.push(equation(value, other), "substitution", (fact, two))
        for b, values in self.values.items():
            if b != a:
                for other, two in values:
                    self.two_values(a, value, fact, b, other, two)
        for x, number in self.found.items():
            self.valued(a, value, fact, x, number)
        mine.append((value, fact))
        if not value.terms and value.constant == 90:
            angle = self.frame.angles[a]
            self.push(perpendicular(angle.start.line, angle.end.line), "definition-of-perpendicular", (fact,))
        for fact_3 in self.others:
            self.with_values(fact_3)

    def two_values(self, a: str, value: Expression, one: Fact, b: str, other: Expression, two: Fact) -> None:
        difference = value.plus(other, -1)
        if not difference.terms and difference.constant == 0:
            right = not value.terms and value.constant == 90
            self.push(congruent(a, b), "right-angles-congruent" if right else "definition-of-congruent", (one, two))
        total = value.plus(other)
        if not total.terms and total.constant in (180, 90):
            kind = "supplementary" if total.constant == 180 else "complementary"
            self.push(sum_is(a, b, int(total.constant)), f"definition-of-{kind}", (one, two))

    def valued(self, a: str, value: Expression, fact: Fact, x: str, number: Fraction) -> None:
        k = dict(value.terms).get(x)
        if k:
            put = value.plus(Expression(((x, Fraction(1)),)), -k).plus(Expression((), k * number))
            self.push(_value(a, put), "substitution", (fact, _value(x, Expression((), number))))

    def fire_unknown(self, fact: Fact, terms: tuple[tuple[str, int], ...], constant: int) -> None:
        if len(terms) == 1:
            x, k = terms[0]
            number = Fraction(-constant, k)
            self.push(_value(x, Expression((), number)), "algebra", (fact,))
            if x not in self.found:
                self.found[x] = number
                for a, values in list(self.values.items()):
                    for value, other in list(values):
                        self.valued(a, value, other, x, number)
        else:
            for other in self.plain:
                for x in {a for a, _ in terms}:
                    made = _eliminated(fact, other, x)
                    if made is not None:
                        self.push(made, "algebra", (fact, other))
        self.plain.append(fact)

    def fire_parallel(self, fact: Fact, l: str, m: str) -> None:
        for a, b, pair in self.across.get(fact, ()):
            said = sum_is(a, b, 180) if pair.startswith("consecutive") else congruent(a, b)
            self.push(said, PAIR_REASON[pair], (fact,))
        for here, there in ((l, m), (m, l)):
            for one, other in self.parallels:
                if here in (one, other):
                    n = other if here == one else one
                    if n != there:
                        self.push(parallel(there, n), "parallel-to-same-line", (parallel(here, n), fact))
            for one, other in self.squares:
                if here in (one, other):
                    t = other if here == one else one
                    if t != there:
                        self.push(perpendicular(t, there), "perpendicular-transversal", (fact, perpendicular(t, here)))
        self.parallels.append((l, m))

    def fire_perpendicular(self, fact: Fact, l: str, m: str) -> None:
        for a in self.angles:
            angle = self.frame.angles[a]
            if {angle.start.line, angle.end.line} == {l, m}:
                self.push(value_is(a, 90), "definition-of-perpendicular", (fact,))
        for here, there in ((l, m), (m, l)):
            for one, other in self.squares:
                if here in (one, other):
                    n = other if here == one else one
                    if n != there:
                        self.push(parallel(there, n), "perpendicular-to-same-line", (perpendicular(here, n), fact))
            for one, other in self.parallels:
                if here in (one, other):
                    n = other if here == one else one
                    if n != there:
                        self.push(perpendicular(there, n), "perpendicular-transversal", (parallel(here, n), fact))
        self.squares.append((l, m))

    def fire_bisects(self, fact: Fact) -> None:
        parts = self.frame.bisecting(fact[1], fact[2])
        assert parts is not None
        self.push(congruent(*parts), "definition-of-bisector", (fact,))
        for part in parts:
            if part in self.angles:
                half = equation(Expression.of({part: Fraction(2)}), _sum_of(fact[2]))
                self.push(half, "definition-of-bisector", (fact,))

    def fire_other(self, fact: Fact) -> None:
        self.others.append(fact)
        self.with_values(fact)

    def with_values(self, fact: Fact) -> None:
        """An equation of three or more quantities, all but one of which have numbers, gives the last."""
        terms: tuple[tuple[str, int], ...] = fact[1]
        without = []
        total = Fraction(fact[2])
        used: list[Fact] = []
        for atom, k in terms:
            number = next(((v.constant, f) for v, f in self.values.get(atom, ()) if not v.terms), None)
            if number is None and atom in self.found:
                number = self.found[atom], _value(atom, Expression((), self.found[atom]))
            if number is None or number[1] not in self.done:
                without.append((atom, k))
            else:
                total += k * number[0]
                used.append(number[1])
        if len(without) == 1:
            atom, k = without[0]
            self.push(_value(atom, Expression((), -total / k)), "substitution", (fact, *used))

    def fire_goal(self, fact: Fact) -> None:
        """Steps worth making only because they are the goal."""
        goal = self.goal
        if goal[0] == "bisects" and fact[0] == "equation":
            parts = self.frame.bisecting(goal[1], goal[2])
            if parts is not None and fact == congruent(*parts):
                self.push(goal, "definition-of-bisector", (fact,))
        if goal[0] == "not parallel":
            self.unequal()

    def unequal(self) -> None:
        """Lines not parallel, since some pair of angles has measures that parallel lines would not allow."""
        for a, b, pair in self.across.get(("parallel", *self.goal[1:]), ()):
            for value, one in self.values.get(a, ()):
                for other, two in self.values.get(b, ()):
                    if not value.terms and not other.terms and one in self.done and two in self.done:
                        off = value.constant + other.constant - 180 if pair.startswith("consecutive") else (
                            value.constant - other.constant)
                        if off:
                            self.push(self.goal, PAIR_REASON[pair], (one, two))

    # Where named steps alone don't reach: combine equations by algebra.

    def combine(self) -> bool:
        """Push facts about lines, or the goal, that the settled equations give together; False if there are none."""
        before = len(self.heap)
        pool = sorted(
            (fact for fact in self.done if fact[0] == "equation"), key=lambda fact: len(self.done[fact][0]),
        )
        for target, reason, finish in self.targets():
            premises = _combination(pool, target)
            if premises is None:
                continue
            if target not in self.done:
                if "substitution" not in self.bar and len(premises) > 1 and judge(
                    Known(self.frame, enumerate(statement_of(fact) for fact in premises)), statement_of(target),
                    "substitution",
                ).ok:
                    reason = "substitution"
                self.push(target, reason, tuple(premises))
            if finish is not None and finish[0] not in self.done and target in self.done:
                self.push(finish[0], finish[1], (target,))
            if len(self.heap) > before and target == self.goal:
                break
        return len(self.heap) > before

    def targets(self) -> Iterator[tuple[Fact, str, tuple[Fact, str] | None]]:
        if self.goal[0] == "equation":
            if self.goal not in self.done:
                yield self.goal, "algebra", None
            return
        for lines, pairs in self.across.items():
            if lines not in self.done:
                for a, b, pair in pairs:
                    said = sum_is(a, b, 180) if pair.startswith("consecutive") else congruent(a, b)
                    if said not in self.done:
                        yield said, "algebra", None
        for a in self.angles:
            if value_is(a, 90) not in self.done:
                yield value_is(a, 90), "algebra", None
        if self.goal[0] == "bisects":
            parts = self.frame.bisecting(self.goal[1], self.goal[2])
            if parts is not None and congruent(*parts) not in self.done:
                yield congruent(*parts), "algebra", None


def _sum_of(*atoms: str) -> Expression:
    total = Expression()
    for atom in atoms:
        total = total.plus(Expression(((atom, Fraction(1)),)))
    return total


def _value(atom: str, value: Expression) -> Fact:
    return equation(Expression(((atom, Fraction(1)),)), value)


def _supplements(total: int) -> str:
    return "congruent-supplements" if total == 180 else "congruent-complements"


def _eliminated(one: Fact, other: Fact, x: str) -> Fact | None:
    """The combination of two equations without x, or None where one of them lacks it."""
    first, second = dict(one[1]), dict(other[1])
    k, n = first.get(x), second.get(x)
    if not k or not n:
        return None
    terms = {a: Fraction(n * first.get(a, 0) - k * second.get(a, 0)) for a in {**first, **second}}
    constant = Fraction(n * one[2] - k * other[2])
    made = equation(Expression.of(terms, constant), Expression())
    return made if made[1] else None


def _combination(pool: Sequence[Fact], target: Fact) -> list[Fact] | None:
    """Few facts of the pool (cheapest first) that together give the target; None where all of them don't."""
    if not _within(pool, target):
        return None
    low, high = 0, len(pool)
    while low < high:
        middle = (low + high) // 2
        if _within(pool[:middle], target):
            high = middle
        else:
            low = middle + 1
    kept = list(pool[:low])
    for fact in reversed(list(kept)):
        fewer = [one for one in kept if one != fact]
        if _within(fewer, target):
            kept = fewer
    return kept


# Writing it down.

def natural(fact: Fact) -> tuple[object, ...]:
    """A key that puts ∠9 before ∠13."""
    words = re.findall(r"\d+|[^\W\d_]+", str(fact))
    return tuple((0, int(word), "") if word.isdigit() else (1, 0, word) for word in words)


def ordered(part: Part, given: Iterable[Fact], goal: Fact) -> list[Fact]:
    """The facts of a part that the goal rests on: givens in their order, then the rest, each after what it uses."""
    needed: list[Fact] = []
    seen: set[Fact] = set()

    def visit(fact: Fact) -> None:
        if fact in seen or fact not in part:
            return
        seen.add(fact)
        for premise in sorted(part[fact][1], key=lambda one: (part[one][0] != "given" if one in part else False, natural(one))):
            visit(premise)
        needed.append(fact)

    visit(goal)
    first = [fact for fact in dict.fromkeys(given) if fact in seen and part[fact][0] == "given"]
    return [*first, *(fact for fact in needed if fact not in first)]


def _written(part: Part, given: Sequence[Statement], goal: Statement) -> Proof:
    facts = ordered(part, [s.fact for s in given], goal.fact)
    said = {s.fact: s for s in reversed(given)}
    number: dict[Fact, int] = {}
    rows: list[Row] = []
    shown: dict[Fact, Statement] = {}
    for fact in facts:
        reason, premises = part[fact]
        uses = tuple(sorted(number[p] for p in premises if p in number))
        statement = said.get(fact) if reason == "given" else None
        if fact == goal.fact:
            statement = goal
        put_in = _put_in(fact, premises, shown) if reason == "substitution" else None
        if put_in is not None:
            # Substitution gives 3x + 10 = 5x - 20; that x = 15 is a step of algebra.
            rows.append(Row(put_in, reason, uses))
            tidy = statement or statement_of(fact)
            if tidy.sides != put_in.sides:
                uses, reason, statement = (len(rows),), "algebra", tidy
            else:
                number[fact], shown[fact] = len(rows), put_in
                continue
        statement = statement or statement_of(fact)
        rows.append(Row(statement, reason, uses))
        number[fact], shown[fact] = len(rows), statement
    return Proof(tuple(rows))


def _put_in(fact: Fact, premises: tuple[Fact, ...], shown: dict[Fact, Statement]) -> Statement | None:
    """The equation of unknowns as it comes out of a substitution: the first premise with its angles replaced."""
    if fact[0] != "equation" or any(a.startswith(ANGLE) for a, _ in fact[1]):
        return None
    if any(p not in shown for p in premises):
        return None
    if len(premises) == 2:
        # Two expressions for one angle.
        for atom in shown[premises[0]].angles:
            one, other = (_side_off(shown[p], atom) for p in premises)
            if one is not None and other is not None and equation(one, other) == fact:
                return Statement("equation", (), one, other)
    if len(premises) != 3:
        return None
    put: list[Expression] = []
    for side in shown[premises[0]].sides:
        made = Expression((), side.constant)
        for a, k in side.terms:
            value = next((_side_off(shown[p], a) for p in premises[1:] if _side_off(shown[p], a) is not None), None)
            made = made.plus(value if value is not None else Expression(((a, Fraction(1)),)), k)
        put.append(made)
    made_statement = Statement("equation", (), put[0], put[1])
    return made_statement if made_statement.fact == fact else None


def _side_off(statement: Statement, atom: str) -> Expression | None:
    """The other side of m∠a = …"""
    left, right = statement.sides
    if left.atom() == atom:
        return right
    return left if right.atom() == atom else None


assert set(WEIGHT) <= set(TABLE)
