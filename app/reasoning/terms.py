"""What a statement is: its kind, what it names, and the bare fact it says.

Letters: an *atom* is a quantity: "∠1" (the measure of an angle, in degrees), "x" (an unknown) or "x²". An
*expression* is a sum of atoms with fraction coefficients and a constant. A *fact* is the statement with
its spelling taken off, so that two rows say the same exactly when their facts are equal.
"""

from __future__ import annotations

import re
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from math import gcd, lcm
from typing import Any

from app.words import Message, Text, catalogue, joined, say

__all__ = ["ANGLE", "Expression", "Fact", "Statement", "equation", "said", "show", "show_number", "speak"]

ANGLE = "∠"
SQUARE = "²"

# ("parallel", l, m) · ("not parallel", l, m) · ("perpendicular", l, m) · ("bisects", line, atom)
# ("drawn", "vertical" or "linear pair", atom, atom) · ("equation", ((atom, int), …), int): Σ = 0, in lowest terms
Fact = tuple[Any, ...]
Key = tuple[tuple[tuple[str, int, int], ...], int, int]


@dataclass(frozen=True)
class Expression:
    """Σ coefficient · atom + constant. Atoms keep the order they were written in, each once."""

    terms: tuple[tuple[str, Fraction], ...] = ()
    constant: Fraction = Fraction(0)

    @staticmethod
    def of(terms: Mapping[str, Fraction], constant: Fraction | int = 0) -> Expression:
        return Expression(tuple([(a, _exact(k)) for a, k in terms.items() if k]), _exact(constant))

    def plus(self, other: Expression, factor: Fraction | int = 1) -> Expression:
        """self + factor · other."""
        terms = dict(self.terms)
        for atom, k in other.terms:
            more = k if factor == 1 else factor * k
            terms[atom] = terms[atom] + more if atom in terms else more
        constant = other.constant if factor == 1 else factor * other.constant
        return Expression.of(terms, self.constant + constant if self.constant else constant)

    def times(self, factor: Fraction | int) -> Expression:
        if factor == 1:
            return self
        return Expression.of({a: k * factor for a, k in self.terms}, self.constant * factor)

    def key(self) -> Key:
        """The same for two expressions that differ only in the order of their terms. Whole numbers only, which are
        quicker to compare than fractions.
        """
        known: Key | None = self.__dict__.get("_key")
        if known is None:
            terms = [(a, k.numerator, k.denominator) for a, k in self.terms]
            terms.sort()
            known = self.__dict__["_key"] = tuple(terms), self.constant.numerator, self.constant.denominator
        return known

    def atom(self) -> str | None:
        """The atom, if the expression is that atom alone."""
        if len(self.terms) == 1 and self.constant == 0 and self.terms[0][1] == 1:
            return self.terms[0][0]
        return None


def _exact(number: Fraction | int) -> Fraction:
    return number if type(number) is Fraction else Fraction(number)


def equation(left: Expression, right: Expression) -> Fact:
    """The fact left = right: whole numbers in lowest terms, the first atom positive."""
    common = lcm(*[k.denominator for side in (left, right) for k in (side.constant, *[k for _, k in side.terms])])
    whole = {a: k.numerator * (common // k.denominator) for a, k in left.terms}
    for a, k in right.terms:
        whole[a] = whole.get(a, 0) - k.numerator * (common // k.denominator)
    constant = int(common * (left.constant - right.constant))
    terms = sorted([(a, k) for a, k in whole.items() if k])
    divisor = gcd(constant, *[k for _, k in terms]) or 1
    if (terms and terms[0][1] < 0) or (not terms and constant < 0):
        divisor = -divisor
    return "equation", tuple([(a, k // divisor) for a, k in terms]), constant // divisor


@dataclass(frozen=True)
class Statement:
    """One row's claim about a figure.

    `kind`: parallel, not parallel, perpendicular (lines of `names`) · congruent, supplementary, complementary,
    linear pair, vertical (two angle atoms) · right (one atom) · bisects (a line, an atom) · equation (`left` =
    `right`).
    `loose` is true where = stands between bare angles (∠1 = ∠5): accepted unless the pack is strict.
    """

    kind: str
    names: tuple[str, ...] = ()
    left: Expression = Expression()
    right: Expression = Expression()
    loose: bool = False
    text: str = ""

    @cached_property
    def fact(self) -> Fact:
        """What it says, free of spelling."""
        if self.kind in ("parallel", "not parallel", "perpendicular"):
            return self.kind, *sorted(self.names)
        if self.kind == "bisects":
            return self.kind, *self.names
        if self.kind in ("vertical", "linear pair"):
            return "drawn", self.kind, *sorted(self.names)
        return equation(*self.sides)

    @cached_property
    def sides(self) -> tuple[Expression, Expression]:
        """The two sides, for every kind that is an equation of measures; two empty ones for the rest."""
        atoms = [Expression(((name, Fraction(1)),)) for name in self.names]
        if self.kind == "congruent":
            return atoms[0], atoms[1]
        if self.kind in ("supplementary", "complementary"):
            total = 180 if self.kind == "supplementary" else 90
            return atoms[0].plus(atoms[1]), Expression((), Fraction(total))
        if self.kind == "right":
            return atoms[0], Expression((), Fraction(90))
        return self.left, self.right

    @cached_property
    def written(self) -> str:
        """An equation as the trade writes it."""
        return f"{_show_expression(self.left)} = {_show_expression(self.right)}"

    @cached_property
    def plain(self) -> bool:
        """Whether it says its fact as it stands: 3x = 45 says x = 15 only after a step of algebra."""
        if self.fact[0] != "equation":
            return True
        left, right = self.sides
        if not right.terms and len(left.terms) == 1:
            return abs(left.terms[0][1]) == 1
        difference = dict(left.plus(right, -1).terms)
        if len(difference) == 1:
            return all(abs(k) == 1 for k in difference.values())
        # Clearing fractions is no step; dividing out a common factor is.
        return all(abs(difference[a]) <= abs(k) for a, k in self.fact[1])

    def same_as(self, other: Statement) -> bool:
        """Whether two statements say the same but for spelling: sides swapped, terms in another order, = for ≅."""
        if self is other or self.fact != other.fact or self.fact[0] != "equation":
            return self.fact == other.fact
        return {side.key() for side in self.sides} == {side.key() for side in other.sides}

    @cached_property
    def atoms(self) -> tuple[str, ...]:
        """Every atom it names, each once, in order."""
        if self.kind in ("parallel", "not parallel", "perpendicular"):
            return ()
        if self.kind == "bisects":
            return self.names[1:]
        if self.kind in ("vertical", "linear pair"):
            return self.names
        return tuple(dict.fromkeys(a for side in self.sides for a, _ in side.terms))

    @cached_property
    def angles(self) -> tuple[str, ...]:
        return tuple(a for a in self.atoms if a.startswith(ANGLE))

    @cached_property
    def unknowns(self) -> tuple[str, ...]:
        return tuple(a for a in self.atoms if not a.startswith(ANGLE))

    @property
    def lines(self) -> tuple[str, ...]:
        if self.kind in ("parallel", "not parallel", "perpendicular"):
            return self.names
        return self.names[:1] if self.kind == "bisects" else ()


def show_number(value: Fraction) -> str:
    """15, 37/2, -4: as a student would write it."""
    return str(value.numerator) if value.denominator == 1 else f"{value.numerator}/{value.denominator}"


def _measure(atom: str) -> str:
    return f"m{atom}" if atom.startswith(ANGLE) else atom


def _show_expression(expression: Expression) -> str:
    parts: list[str] = []
    for atom, k in expression.terms:
        sign = "-" if k < 0 else "+"
        size = abs(k)
        if size == 1:
            body = _measure(atom)
        elif size.denominator == 1:
            body = f"{size.numerator}{_measure(atom)}"
        else:
            body = f"({show_number(size)}){_measure(atom)}"
        parts.append(f"{sign} {body}")
    if expression.constant or not parts:
        sign = "-" if expression.constant < 0 else "+"
        parts.append(f"{sign} {show_number(abs(expression.constant))}")
    if parts[0][0] == "-" and parts[-1][0] == "+":
        # 180 - m∠5 rather than -m∠5 + 180.
        parts.insert(0, parts.pop())
    text = " ".join(parts)
    return text[2:] if text.startswith("+ ") else "-" + text[2:]


def show(statement: Statement) -> str:
    """The statement in the notation, readable again by `read_statement`."""
    told = said(statement)
    if isinstance(told, str):
        return told
    # The notation's own words are English, whoever reads.
    return catalogue("reasoning")[told.code.partition(".")[2]].format_map(told.fields)


def said(statement: Statement) -> Text:
    """The statement within a sentence: in signs, or, where the trade has none, in the reader's words."""
    n = statement.names
    match statement.kind:
        case "parallel":
            return f"{n[0]} ∥ {n[1]}"
        case "not parallel":
            return f"{n[0]} ∦ {n[1]}"
        case "perpendicular":
            return f"{n[0]} ⊥ {n[1]}"
        case "bisects":
            return say("reasoning.show_bisects", line=n[0], angle=n[1])
        case "congruent":
            return f"{n[0]} ≅ {n[1]}"
        case "supplementary" | "complementary" | "vertical" | "linear pair" as kind:
            return say("reasoning.show_" + kind.replace(" ", "_"), a=n[0], b=n[1])
        case "right":
            return say("reasoning.show_right", a=n[0])
    return statement.written


def speak(statement: Statement) -> Message:
    """The statement in words for the ear: "angle A B C is congruent to angle 5"."""
    told = said(statement)
    if not isinstance(told, str):
        return Message(told.code, {key: _spoken(str(text)) for key, text in told.fields.items()})
    return _spoken(told)


_EAR = {
    "m∠": "speak_measure",
    "∠": "speak_angle",
    "∥": "speak_parallel",
    "∦": "speak_not_parallel",
    "⊥": "speak_perpendicular",
    "≅": "speak_congruent",
    "=": "speak_equals",
    "+": "speak_plus",
    "-": "speak_minus",
    "²": "speak_squared",
}
_SIGNS = re.compile(r"m∠|∠|∥|∦|⊥|≅|=|\+|(?<= )-(?= )|²")


def _spoken(text: str) -> Message:
    """Each sign as a word; letters of an angle's name are spelled out: "A B C", not "abc"."""
    parts: list[Text] = []
    at, after_angle = 0, False
    for sign in [*_SIGNS.finditer(text), None]:
        for word in text[at : sign.start() if sign else len(text)].split():
            parts.append(" ".join(word) if after_angle and word.isalpha() and word.isupper() else word)
            after_angle = False
        if sign is not None:
            parts.append(say("reasoning." + _EAR[sign[0]]))
            at, after_angle = sign.end(), sign[0].endswith("∠")
    return joined("sentences", parts)
