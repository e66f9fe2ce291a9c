"""What equations say, worked out by sympy: the roots of one, and what several linear ones say together.

Only polynomials of our own readers come here, never a text, and never a name that a student typed: a ring's
generators are numbered. What comes is small before anything is begun: degree 2 at most, a reader's 30 numbers and
letters of 6 digits (`tokens.py`, `app/reasoning/notation.py`). Everything is exact.

What is one step of arithmetic stays outside: a sum of two polynomials (`polynomials.py`) takes 3 microseconds, and
handing them to sympy and back 8; the root of a linear equation takes 3, and sympy's 30.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from fractions import Fraction
from functools import cache, lru_cache
from typing import Any

from app.practice.polynomials import Monomial, Poly

__all__ = ["Root", "Roots", "Span", "roots"]

Root = Fraction | tuple[Fraction, Fraction]
Roots = frozenset[Root] | None  # None: every number


@cache
def _ring(generators: int) -> Any:
    """The polynomials in so many unknowns over the rational numbers, the first unknown leading."""
    # Measured: 254 ms and 38 MB, for what begins with an equation that somebody works on.
    from sympy import QQ, Symbol
    from sympy.polys.orderings import lex
    from sympy.polys.rings import PolyRing

    return PolyRing([Symbol(f"u{i}") for i in range(generators)], QQ, lex)


def _fraction(number: Any) -> Fraction:
    return Fraction(int(number.numerator), int(number.denominator))


@lru_cache(maxsize=4096)
def roots(a: Fraction, b: Fraction, c: Fraction) -> Roots:
    """The real roots of ax² + bx + c = 0, where a and b may be 0: rational ones as numbers, two irrational ones
    together as the monic quadratic (p, q) of x² + px + q that has them.

    Kept, since each line of working is judged again with the next one.
    """
    if not a:
        return frozenset({-c / b}) if b else frozenset() if c else None
    ring = _ring(1)
    number = ring.domain
    found: set[Root] = set()
    quadratic = ring.from_dict({(n,): number(k.numerator, k.denominator) for n, k in enumerate((c, b, a)) if k})
    for factor, _ in quadratic.factor_list()[1]:
        one, *rest = factor.monic().to_dense()
        if len(rest) == 1:
            found.add(_fraction(-rest[0]))
        elif rest[0] ** 2 >= 4 * rest[1]:
            found.add((_fraction(rest[0]), _fraction(rest[1])))
    return frozenset(found)


class Span:
    """All that some equations say together, as sums of multiples: each monomial stands for itself.

    `columns` are the monomials that may occur; the earlier one is eliminated first.
    """

    def __init__(self, columns: Iterable[Monomial]) -> None:
        self.columns: Sequence[Monomial] = tuple(columns)
        self.ring = _ring(len(self.columns))
        self.place = dict(zip(self.columns, self.ring.gens, strict=True))
        self.rows: list[object] = []

    def _read(self, p: Poly) -> Any:
        number = self.ring.domain
        total = self.ring.zero
        for monomial, k in p.items():
            total += self.place[monomial] * number(k.numerator, k.denominator)
        return total

    def _rest(self, p: Poly) -> Any:
        row = self._read(p)
        return row.rem(self.rows) if self.rows else row

    def rest(self, p: Poly) -> Poly:
        """What is left of a polynomial beside multiples of the equations: nothing, where they say that it is zero."""
        return {self.columns[powers.index(1)]: _fraction(k) for powers, k in self._rest(p).terms()}

    def has(self, p: Poly) -> bool:
        return not self._rest(p)

    def put(self, p: Poly) -> Monomial | None:
        """Add an equation p = 0; the monomial that it eliminates, or None where it says nothing new. What says that a
        number is zero eliminates (), and isn't added: everything would follow from it.
        """
        row = self._rest(p)
        if not row:
            return None
        lead: Monomial = self.columns[row.LM.index(1)]
        if lead:
            self.rows.append(row.monic())
        return lead
