"""The two kinds of numbers that a construction is replayed with.

`FLOATS` draws and searches; `precise()` judges: 60 decimal digits, the one declared exception to exact
arithmetic (a construction takes square roots of square roots, and exact ones grow without bound).
A number of either kind is called `N` here: they share + - * / and comparison, and no type says so.
"""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass
from fractions import Fraction
from functools import cache
from typing import Any

from mpmath import MPContext

__all__ = ["DIGITS", "FLOATS", "Arithmetic", "N", "P", "precise"]

N = Any
P = tuple[N, N]

DIGITS = 60


@dataclass(frozen=True)
class Arithmetic:
    """`number` takes an exact fraction in; `root` is the square root; what is below `tiny` (relative) counts
    as 0.
    """

    number: Callable[[Fraction], N]
    root: Callable[[N], N]
    tiny: float | N


FLOATS = Arithmetic(float, math.sqrt, 1e-12)


@cache
def precise() -> Arithmetic:
    """60 digits in a context of our own: mpmath's shared one has a precision that any thread may change."""
    context = MPContext()
    context.dps = DIGITS

    def number(exact: Fraction) -> N:
        return context.mpf(exact.numerator) / exact.denominator

    return Arithmetic(number, context.sqrt, context.mpf(10) ** -45)
