"""Rows that stand in a proof, looked up by the facts they say."""

from __future__ import annotations

from collections.abc import Iterable, Iterator
from fractions import Fraction
from functools import lru_cache

from app.reasoning.facts import congruent, perpendicular, value_is
from app.reasoning.frame import Frame
from app.reasoning.terms import ANGLE, Expression, Fact, Statement

__all__ = ["Known", "form_of"]


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
        if not statement.plain:
            return
        self.first.setdefault(fact, []).append(number)
        kind = fact[0]
        if kind in self.lines:
            self.lines[str(kind)].append(fact)
        elif kind == "equation":
            value, both = _told(fact)
            if value is not None:
                self.values.setdefault(value[0], []).append((value[1], number))
            for a in both:
                self.sums.setdefault(a, []).append(fact)

    def has(self, fact: Fact, form: str | None = None) -> frozenset[int] | None:
        """The rows that say the fact, outright or by a definition left unsaid; None where none do. `form` is what a
        strict reader wants it written as: "congruent" or "measure".
        """
        for number in self.first.get(fact, ()):
            if not self.strict or form is None or form_of(self.rows[number]) == form:
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


@lru_cache(maxsize=4096)
def _told(fact: Fact) -> tuple[tuple[str, Expression] | None, tuple[str, ...]]:
    """What an equation tells of angles: the one angle in it and what that comes to; the two whose sum it gives."""
    terms: tuple[tuple[str, int], ...] = fact[1]
    angles = [(a, k) for a, k in terms if a.startswith(ANGLE)]
    if len(angles) == 1:
        a, k = angles[0]
        return (a, Expression.of({b: Fraction(-n, k) for b, n in terms if b != a}, Fraction(-fact[2], k))), ()
    if len(angles) == 2 and len(terms) == 2 and angles[0][1] == angles[1][1] == 1:
        return None, (angles[0][0], angles[1][0])
    return None, ()


def form_of(statement: Statement) -> str:
    return "congruent" if statement.kind == "congruent" else "measure"
