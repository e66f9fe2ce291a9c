"""What a fact gives together with the facts that stand already: the table, read forward.

Each `fire_…` proposes facts to the queue with `push`; nothing here decides anything.
Letters: a, b, c, d are angle atoms; l, m, n, t lines; x is an unknown.
"""

from __future__ import annotations

from fractions import Fraction

from app.reasoning.budget import Budget
from app.reasoning.facts import congruent, not_parallel, parallel, perpendicular, sum_is, value_is
from app.reasoning.frame import Frame
from app.reasoning.terms import ANGLE, Expression, Fact, equation

__all__ = ["Firing", "PAIR_REASON", "equals", "sum_of"]

PAIR_REASON = {
    "corresponding": "corresponding-angles",
    "alternate interior": "alternate-interior-angles",
    "alternate exterior": "alternate-exterior-angles",
    "consecutive interior": "consecutive-interior-angles",
    "consecutive exterior": "consecutive-exterior-angles",
}
MOST_VALUES = 4


class Firing:
    """The facts that stand, by what they say, and the rules that fire when a new one joins them."""

    frame: Frame
    budget: Budget
    goal: Fact
    angles: list[str]
    anchors: set[str]
    across: dict[Fact, list[tuple[str, str, str]]]

    def __init__(self) -> None:
        self.equal: dict[str, list[str]] = {}
        self.sums: dict[str, list[tuple[str, int, Fact]]] = {}
        self.values: dict[str, list[tuple[Expression, Fact]]] = {}
        self.found: dict[str, Fraction] = {}
        self.plain: list[Fact] = []
        self.others: list[Fact] = []
        self.parallels: list[tuple[str, str]] = []
        self.squares: list[tuple[str, str]] = []
        # What stands already, by names alone: nothing is proposed for it again. Facts come cheapest first, so what a
        # new one gives costs more than all that stand.
        self.same: set[tuple[str, str]] = set()
        self.summed: set[tuple[str, str, int]] = set()

    def push(self, fact: Fact, reason: str, premises: tuple[Fact, ...], free: bool = False) -> None:
        """Propose a fact with its reason and premises."""
        raise NotImplementedError

    def stands(self, fact: Fact) -> bool:
        """Whether a fact has been settled."""
        raise NotImplementedError

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
        anchors, same, summed = self.anchors, self.same, self.summed
        same.update(((a, b), (b, a)))
        for here, there in ((a, b), (b, a)):
            wanted = there in anchors
            for c in self.equal.get(here, ()):
                if (wanted or c in anchors) and (there, c) not in same:
                    self.push(congruent(there, c), "transitive", (congruent(here, c), fact))
            for c, total, other in self.sums.get(here, ()):
                if c != there and (wanted or c in anchors) and (there, c, total) not in summed:
                    self.push(sum_is(there, c, total), "substitution", (other, fact))
            for value, other in self.values.get(here, ()):
                self.push(equals(there, value), "substitution", (fact, other))
        for first, one in self.values.get(a, ()):
            for second, two in self.values.get(b, ()):
                if first.terms or second.terms:
                    self.push(equation(first, second), "substitution", (fact, one, two))
        firsts, seconds = self.sums.get(a, ()), self.sums.get(b, ())
        self.budget.spend(len(firsts) * len(seconds) // 4)
        for c, total, first_sum in firsts:
            for d, other_total, second_sum in seconds:
                if (
                    total == other_total
                    and total in (180, 90)
                    and c not in (d, b)
                    and d != a
                    and (c in anchors or d in anchors)
                    and (c, d) not in same
                ):
                    self.push(congruent(c, d), supplements(total), (first_sum, second_sum, fact))
        self.equal.setdefault(a, []).append(b)
        self.equal.setdefault(b, []).append(a)

    def fire_sum(self, fact: Fact, a: str, b: str, total: int) -> None:
        pair = self.frame.pair(a, b)
        if total == 180 and pair.relation == "supplementary":
            assert pair.lines is not None
            if pair.lines[0] != pair.lines[1]:
                self.push(parallel(*pair.lines), PAIR_REASON[pair.pair] + "-converse", (fact,))
        anchors, same, summed = self.anchors, self.same, self.summed
        summed.update(((a, b, total), (b, a, total)))
        for here, there in ((a, b), (b, a)):
            wanted = there in anchors
            for c in self.equal.get(here, ()):
                if c != there and (wanted or c in anchors) and (there, c, total) not in summed:
                    self.push(sum_is(there, c, total), "substitution", (fact, congruent(here, c)))
            for c, other_total, other in self.sums.get(here, ()):
                if (
                    other_total == total
                    and total in (180, 90)
                    and c != there
                    and (wanted or c in anchors)
                    and (there, c) not in same
                ):
                    self.push(congruent(there, c), supplements(total), (other, fact))
            for value, other in self.values.get(here, ()):
                rest = Expression((), Fraction(total)).plus(value, -1)
                self.push(equals(there, rest), "substitution", (fact, other))
            for c in self.equal.get(there, ()):
                more = self.sums.get(c, ())
                self.budget.spend(1 + len(more) // 4)
                for d, other_total, other in more:
                    if (
                        other_total == total
                        and (here, d) not in same
                        and total in (180, 90)
                        and d not in (here, there)
                        and (here in anchors or d in anchors)
                    ):
                        self.push(congruent(here, d), supplements(total), (fact, other, congruent(there, c)))
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
            self.push(equals(b, value), "substitution", (congruent(a, b), fact))
            for other, two in self.values.get(b, ()):
                if other.terms or value.terms:
                    self.push(equation(value, other), "substitution", (congruent(a, b), fact, two))
        for b, total, both in self.sums.get(a, ()):
            self.push(equals(b, Expression((), Fraction(total)).plus(value, -1)), "substitution", (both, fact))
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
            self.push(equals(a, put), "substitution", (fact, equals(x, Expression((), number))))

    def fire_unknown(self, fact: Fact, terms: tuple[tuple[str, int], ...], constant: int) -> None:
        if len(terms) == 1:
            x, k = terms[0]
            number = Fraction(-constant, k)
            self.push(equals(x, Expression((), number)), "algebra", (fact,))
            if x not in self.found:
                self.found[x] = number
                for a, values in list(self.values.items()):
                    for value, other in list(values):
                        self.valued(a, value, other, x, number)
        else:
            for other in self.plain:
                for x in {a for a, _ in terms}:
                    made = eliminated(fact, other, x)
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
                half = equation(Expression.of({part: Fraction(2)}), sum_of(fact[2]))
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
                number = self.found[atom], equals(atom, Expression((), self.found[atom]))
            if number is None or not self.stands(number[1]):
                without.append((atom, k))
            else:
                total += k * number[0]
                used.append(number[1])
        if len(without) == 1:
            atom, k = without[0]
            self.push(equals(atom, Expression((), -total / k)), "substitution", (fact, *used))

    def fire_goal(self, fact: Fact) -> None:
        """Steps worth making only because they are the goal."""
        goal = self.goal
        if goal[0] == "bisects" and fact[0] == "equation":
            parts = self.frame.bisecting(goal[1], goal[2])
            if parts is not None and fact == congruent(*parts):
                self.push(goal, "definition-of-bisector", (fact,))
        if goal[0] == "not parallel":
            self.fire_apart(fact, goal[1], goal[2])

    def fire_apart(self, fact: Fact, l: str, m: str) -> None:
        """Steps to l ∦ m: by measures, by perpendiculars, or by a line parallel to one of the two."""
        self.unequal(l, m)
        if fact[0] == "perpendicular":
            self.push(not_parallel(*fact[1:]), "definition-of-parallel", (fact,))
        for here, there in ((l, m), (m, l)):
            for one, other in self.parallels:
                if here in (one, other):
                    n = other if here == one else one
                    self.unequal(n, there)
                    apart = not_parallel(n, there)
                    if self.stands(apart):
                        self.push(self.goal, "parallel-to-same-line", (parallel(here, n), apart))

    def unequal(self, l: str, m: str) -> None:
        """Lines not parallel, since some pair of angles has measures that parallel lines would not allow."""
        for a, b, pair in self.across.get(parallel(l, m), ()):
            for value, one in self.values.get(a, ()):
                for other, two in self.values.get(b, ()):
                    if not value.terms and not other.terms and self.stands(one) and self.stands(two):
                        off = (
                            value.constant + other.constant - 180
                            if pair.startswith("consecutive")
                            else (value.constant - other.constant)
                        )
                        if off:
                            self.push(not_parallel(l, m), PAIR_REASON[pair], (one, two))


def sum_of(*atoms: str) -> Expression:
    total = Expression()
    for atom in atoms:
        total = total.plus(Expression(((atom, Fraction(1)),)))
    return total


def equals(atom: str, value: Expression) -> Fact:
    return equation(Expression(((atom, Fraction(1)),)), value)


def supplements(total: int) -> str:
    return "congruent-supplements" if total == 180 else "congruent-complements"


def eliminated(one: Fact, other: Fact, x: str) -> Fact | None:
    """The combination of two equations without x, or None where one of them lacks it."""
    first, second = dict(one[1]), dict(other[1])
    k, n = first.get(x), second.get(x)
    if not k or not n:
        return None
    terms = {a: Fraction(n * first.get(a, 0) - k * second.get(a, 0)) for a in {**first, **second}}
    constant = Fraction(n * one[2] - k * other[2])
    made = equation(Expression.of(terms, constant), Expression())
    return made if made[1] else None
