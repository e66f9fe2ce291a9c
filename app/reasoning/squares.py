"""A square of an unknown, settled: the linear statements leave x and x² one quadratic, and its roots are the cases.

Everything else of a figure is linear. So x² is first taken for a quantity of its own; what the rest forces between x
and x² is then nothing, a line (a quadratic in x), or a point, and the parabola meets that in two places, one or none.
Only roots that are fractions are put in; for others, and for an unknown that is left free, the refusal says so.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from fractions import Fraction
from math import isqrt

from app.figure.faults import Fault
from app.reasoning.linear import Flat
from app.reasoning.terms import SQUARE

__all__ = ["rooted", "with_roots"]


def with_roots(atom: str) -> tuple[str, ...]:
    """The unknowns that an atom brings with it: x² comes after x."""
    return (atom[:-1], atom) if atom.endswith(SQUARE) else (atom,)


def rooted(flat: Flat, unknowns: Mapping[str, int], first: int) -> Iterator[Flat]:
    """The parts of the flat on which each square is the square of its unknown; `first` is the first unknown's column.
    Raises Fault where a root is no fraction, or where nothing fixes an unknown that is squared.
    """
    for square, high in unknowns.items():
        if square.endswith(SQUARE):
            low = unknowns[square[:-1]]
            # An unknown done already has its value and its square as rows: it comes out as one root again.
            if not _settled(flat, low, high):
                for root in _roots(flat, low, high, square[:-1]):
                    part = flat.copy()
                    part.add(_row(flat.width, low, root), first)
                    part.add(_row(flat.width, high, root * root), first)
                    if not part.empty:
                        yield from rooted(part, unknowns, first)
                return
    yield flat


def _row(width: int, column: int, value: Fraction) -> list[int]:
    row = [0] * (width + 1)
    row[column], row[-1] = value.denominator, -value.numerator
    return row


def _settled(flat: Flat, low: int, high: int) -> bool:
    values = []
    for column in (low, high):
        reduced, scale = flat.reduce(_row(flat.width, column, Fraction(0)))
        if any(reduced[:-1]):
            return False
        values.append(Fraction(reduced[-1], scale))
    return values[0] * values[0] == values[1]


def _roots(flat: Flat, low: int, high: int, unknown: str) -> list[Fraction]:
    """The values of an unknown x at which the flat allows x² to be its square; `low` and `high` are their columns."""
    # All other columns are eliminated first; the rows left speak of x and x² alone.
    others = [column for column in range(flat.width) if column not in (low, high)]
    turned = Flat(flat.width)
    for _, row, _ in flat.basis:
        turned.add([row[low], row[high], *(row[column] for column in others), row[-1]], 2)
    left = [(row[1], row[0], row[-1]) for column, row, _ in turned.basis if column < 2]
    if not left:
        raise Fault("reasoning.square_free", "claim", unknown=unknown)
    if len(left) == 1:
        return _solve(*left[0], unknown)
    # Two rows fix x and x² both: x is where x² drops out of them.
    (a, b, c), (d, e, f) = left
    x = Fraction(a * f - d * c, d * b - a * e)
    return [x] if all(a * x * x + b * x + c == 0 for a, b, c in left) else []


def _solve(a: int, b: int, c: int, unknown: str) -> list[Fraction]:
    """The real roots of a x² + b x + c, a and b not both 0."""
    if a == 0:
        return [Fraction(-c, b)]
    discriminant = b * b - 4 * a * c
    if discriminant < 0:
        return []
    root = isqrt(discriminant)
    if root * root != discriminant:
        raise Fault("reasoning.square_root", "claim", unknown=unknown, number=discriminant)
    return sorted({Fraction(-b - root, 2 * a), Fraction(-b + root, 2 * a)})
