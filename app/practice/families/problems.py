"""Two angles with an unknown, for the exercises that ask for x: the numbers, level by level.

Letters: p, q are the two angles, A and B their measures, relation what they must be to each other.
Values (I-8): whole x, angles from 20° to 160°.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction

from app.figure.pairs import relation_for
from app.practice.chance import Chance
from app.practice.families.common import CROSS, PAIR_OF
from app.practice.polynomials import Poly, add, multiply, scale, show_poly

__all__ = ["Measure", "Problem", "at_x", "linear", "propose", "relation_poly", "root_of", "unknown_free", "value_at"]

LOW, HIGH = 20, 160
X: Poly = {("x",): Fraction(1)}


@dataclass(frozen=True, slots=True)
class Measure:
    """The measure of one angle: as written on the figure, and as a polynomial."""

    text: str
    poly: Poly

    @property
    def shown(self) -> str:
        text = self.text.replace("-", "−")
        return f"({text})°" if len(self.poly) > 1 and not text.endswith(")") else f"{text}°"


@dataclass(frozen=True, slots=True)
class Problem:
    p: str
    q: str
    relation: str
    at_p: Measure
    at_q: Measure
    x: Fraction
    y: Fraction | None = None
    third: tuple[str, Measure] | None = None  # another angle at p's meet, for two unknowns
    thrown: Fraction | None = None  # the root that no angle can have


def const(n: Fraction | int) -> Poly:
    return {(): Fraction(n)} if n else {}


def linear(a: int, b: int) -> Poly:
    return add({("x",): Fraction(a)}, const(b))


def plain(poly: Poly) -> Measure:
    return Measure(show_poly(poly), poly)


def relation_poly(relation: str, first: Poly, second: Poly, total: int = 180) -> Poly:
    """Zero exactly when the two measures are as `relation` says."""
    if relation == "congruent":
        return add(first, scale(second, Fraction(-1)))
    return add(add(first, second), const(-total))


def root_of(poly: Poly) -> Fraction | None:
    """The one solution of a linear polynomial in x."""
    a = poly.get(("x",), Fraction(0))
    return -poly.get((), Fraction(0)) / a if a else None


def value_at(poly: Poly, at: Mapping[str, Fraction]) -> Fraction:
    """The value of a polynomial whose unknowns are all in `at`."""
    total = Fraction(0)
    for monomial, k in poly.items():
        for letter in monomial:
            k *= at[letter]
        total += k
    return total


def unknown_free(poly: Poly) -> bool:
    return not any(poly)


def at_x(poly: Poly, x: Fraction) -> Fraction:
    return sum((k * x ** len(m) for m, k in poly.items()), Fraction(0))


def propose(chance: Chance, level: int) -> Problem | None:
    pair = chance.pick(PAIR_OF)
    p, q = chance.pick(CROSS[pair])
    if chance.maybe(1, 2):
        p, q = q, p
    relation = relation_for(pair) or "congruent"
    size = chance.between(LOW + 5, HIGH - 5)
    if size == 90:
        return None
    a, b = Fraction(size), Fraction(size if relation == "congruent" else 180 - size)
    if not LOW <= b <= HIGH:
        return None
    return _LEVELS[level - 1](chance, p, q, relation, a, b)


def _one_side(chance: Chance, p: str, q: str, relation: str, a: Fraction, b: Fraction) -> Problem | None:
    x = chance.between(4, 40)
    k = chance.between(2, 6)
    rest = int(b) - k * x
    if not rest or abs(rest) > 60:
        return None
    return Problem(p, q, relation, plain(const(a)), plain(linear(k, rest)), Fraction(x))


def _both_sides(chance: Chance, p: str, q: str, relation: str, a: Fraction, b: Fraction) -> Problem | None:
    x = chance.between(4, 30)
    k, j = chance.between(2, 8), chance.between(1, 8)
    rest_p, rest_q = int(a) - k * x, int(b) - j * x
    if k == j or not rest_p or not rest_q or max(abs(rest_p), abs(rest_q)) > 80:
        return None
    return Problem(p, q, relation, plain(linear(k, rest_p)), plain(linear(j, rest_q)), Fraction(x))


def _brackets(chance: Chance, p: str, q: str, relation: str, a: Fraction, b: Fraction) -> Problem | None:
    x = chance.between(4, 30)
    k, j = chance.between(2, 5), chance.between(1, 6)
    if int(a) % k:
        return None
    inside, rest = int(a) // k - x, int(b) - j * x
    if not inside or not rest or k == j or max(abs(inside), abs(rest)) > 60:
        return None
    first = Measure(f"{k}({show_poly(linear(1, inside))})", scale(linear(1, inside), Fraction(k)))
    return Problem(p, q, relation, first, plain(linear(j, rest)), Fraction(x))


def _two_unknowns(chance: Chance, p: str, q: str, relation: str, a: Fraction, b: Fraction) -> Problem | None:
    """p = ax + by and its neighbour at the same meet = cx + dy; q is a number."""
    x, y = chance.between(5, 30), chance.between(5, 30)
    k, j = chance.between(1, 4), chance.between(1, 4)
    m, n = chance.between(1, 5), chance.between(-3, 4)
    neighbour = 180 - a
    rest_p, rest_n = int(a) - k * x - j * y, int(neighbour) - m * x - n * y
    if k * n == j * m or not n or x == y or max(abs(rest_p), abs(rest_n)) > 60:
        return None
    first = add({("x",): Fraction(k), ("y",): Fraction(j)}, const(rest_p))
    third = add({("x",): Fraction(m), ("y",): Fraction(n)}, const(rest_n))
    meet = {"1": "2", "2": "4", "4": "3", "3": "1", "5": "6", "6": "8", "8": "7", "7": "5"}
    return Problem(
        p, q, relation, plain(first), plain(const(b)), Fraction(x), Fraction(y), third=(meet[p], plain(third))
    )


def _quadratic(chance: Chance, p: str, q: str, relation: str, a: Fraction, b: Fraction) -> Problem | None:
    """q = dx + e; p differs from what it must be by (x - r)(x - s), and dx + e is no angle at s."""
    r, s = chance.between(4, 14), -chance.between(2, 20)
    d = chance.between(2, 9)
    e = int(b) - d * r
    if d * s + e > 0 or not e or abs(e) > 60:
        return None
    second = linear(d, e)
    factors = multiply(linear(1, -r), linear(1, -s))
    wanted = second if relation == "congruent" else add(const(180), scale(second, Fraction(-1)))
    first = add(factors, wanted)
    if max(abs(first.get(("x",), Fraction(0))), abs(first.get((), Fraction(0)))) > 200 or ("x",) not in first:
        return None
    return Problem(p, q, relation, plain(first), plain(second), Fraction(r), thrown=Fraction(s))


_LEVELS = (_one_side, _both_sides, _brackets, _two_unknowns, _quadratic)
