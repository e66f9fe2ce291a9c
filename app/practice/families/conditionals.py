"""Conditionals about a figure: hypothesis, conclusion, the four sentences made of them, and their truth.

Truth is the reasoner's: a conditional is true when the conclusion follows from the hypothesis in every
figure with the drawn order. Converse and inverse are true together, statement and contrapositive too.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property

from app.figure.model import Figure
from app.figure.pairs import name_pair, relation_for
from app.practice.certify import verdict
from app.practice.chance import Chance
from app.practice.clauses import Atom
from app.practice.drawing import Drawn, draw_lines, turn_of
from app.practice.families.common import CROSS, PAIR_OF, converse_of, original_of
from app.words import Message, Text, say

__all__ = ["FORMS", "Clause", "Conditional", "propose"]

FORMS = ("statement", "converse", "inverse", "contrapositive")


@dataclass(frozen=True)
class Clause:
    """Statements that hold together. `not_said` is the sentence for its denial."""

    statements: tuple[str, ...]
    said: Text
    not_said: Text
    holds: Callable[[int, int], bool]  # for measures of the two angles, in the order of their names
    atoms: tuple[Atom, ...] = ()  # what is claimed, for the reader of written sentences
    later: tuple[Text, Text] | None = None  # said and denied where it comes second: "they are …"

    def text(self, denied: bool, second: bool) -> Text:
        return ((self.later if second else None) or (self.said, self.not_said))[denied]


@dataclass(frozen=True)
class Conditional:
    drawn: Drawn
    hypothesis: Clause
    conclusion: Clause
    a: str
    b: str

    @property
    def fig(self) -> Figure:
        return self.drawn.fig

    @cached_property
    def pair(self) -> str:
        return name_pair(self.fig, self.a, self.b).pair

    def _true(self, one: Clause, other: Clause) -> bool:
        return all(verdict(self.fig, one.statements, claim) == "follows" for claim in other.statements)

    @cached_property
    def truth(self) -> dict[str, bool]:
        statement = self._true(self.hypothesis, self.conclusion)
        converse = self._true(self.conclusion, self.hypothesis)
        return {
            "statement": statement,
            "converse": converse,
            "inverse": converse,
            "contrapositive": statement,
        }

    def theorem(self, form: str) -> str | None:
        """The theorem that a true form between a pair's relation and parallel lines is, else None."""
        parallel_last = self.conclusion.statements[0].count("∥") == (1 if form == "statement" else 0)
        if self.pair not in PAIR_OF or not self.truth[form]:
            return None
        return converse_of(self.pair) if parallel_last else original_of(self.pair)

    def sentence(self, form: str) -> Message:
        h, c = self.hypothesis, self.conclusion
        first, last, no_first, no_last = {
            "statement": (h, c, False, False),
            "converse": (c, h, False, False),
            "inverse": (h, c, True, True),
            "contrapositive": (c, h, True, True),
            "half-if": (h, c, True, False),
            "half-then": (h, c, False, True),
        }[form]
        parts = first.text(no_first, False), last.text(no_last, True)
        return say("practice.if_then", first=parts[0], last=parts[1])


def _parallel(drawn: Drawn, relation: str) -> Clause:
    first, second = drawn.lines
    atom = Atom("parallel", frozenset({first, second}), "lines")
    return Clause((f"{first} ∥ {second}",), f"{first} ∥ {second}", f"{first} ∦ {second}", _HOLDS[relation], (atom,))


_HOLDS: Mapping[str, Callable[[int, int], bool]] = {
    "congruent": lambda one, two: one == two,
    "supplementary": lambda one, two: one + two == 180,
}


def _relation(relation: str, a: str, b: str, pair: str) -> Clause:
    atoms = (Atom(relation, frozenset({a, b}), "angles", pair),)
    if relation == "congruent":
        said = f"∠{a} ≅ ∠{b}"
        return Clause((said,), said, say("practice.not_congruent", a=a, b=b), _HOLDS[relation], atoms)
    return Clause(
        (f"m∠{a} + m∠{b} = 180",),
        say("practice.supplementary", a=a, b=b),
        say("practice.not_supplementary", a=a, b=b),
        _HOLDS[relation],
        atoms,
    )


def _measures(a: str, b: str, at_a: int, at_b: int) -> Clause:
    (a, at_a), (b, at_b) = sorted(((a, at_a), (b, at_b)))
    return Clause(
        (f"m∠{a} = {at_a}", f"m∠{b} = {at_b}"),
        say("practice.both_measures", a=a, b=b, at_a=at_a, at_b=at_b),
        say("practice.not_both_measures", a=a, b=b, at_a=at_a, at_b=at_b),
        lambda one, two: (one, two) == (at_a, at_b),
        tuple(Atom("measure", frozenset({n}), "angles", "", Fraction(at)) for n, at in ((a, at_a), (b, at_b))),
    )


def _perpendicular(drawn: Drawn) -> Clause:
    (first, second), (cut,) = drawn.lines, drawn.transversals
    return Clause(
        (f"{cut} ⊥ {first}", f"{cut} ⊥ {second}"),
        say("practice.both_perpendicular", cut=cut, first=first, second=second),
        say("practice.not_both_perpendicular", cut=cut, first=first, second=second),
        lambda one, two: one == two == 90,
        tuple(Atom("perpendicular", frozenset({cut, line}), "lines") for line in (first, second)),
    )


def propose(chance: Chance, seed: int, level: int, kinds: tuple[str, ...]) -> Conditional:
    """A conditional of one of the kinds: relation (true both ways), wrong, measures, perpendicular."""
    kind = chance.pick(kinds)
    a, b = chance.pick(CROSS[chance.pick(PAIR_OF)])
    size = chance.pick([n for n in range(35, 146) if abs(n - 90) > 8])
    drawn_as = Fraction(90) if kind == "perpendicular" else Fraction(size)
    off = Fraction(chance.pick([-4, -3, 0, 3, 4]))
    drawn = draw_lines(
        chance,
        turn_of(seed, level, least=-30, most=30),
        number=a,
        angle=drawn_as,
        off=off,
        numbers=sorted((a, b)),
    )
    pair = name_pair(drawn.fig, a, b).pair
    relation = relation_for(pair) or "congruent"
    parallel = _parallel(drawn, relation)
    if kind == "relation":
        first = _relation(relation, a, b, pair)
    elif kind == "wrong":
        first = _relation("supplementary" if relation == "congruent" else "congruent", a, b, pair)
    elif kind == "measures":
        first = _measures(a, b, size, size if relation == "congruent" else 180 - size)
    else:
        first = _perpendicular(drawn)
    one, other = (first, parallel) if chance.maybe(1, 2) else (parallel, first)
    return Conditional(drawn, one, other, a, b)
