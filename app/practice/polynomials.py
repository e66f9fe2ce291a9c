"""Polynomials of the exercises: a dict from monomial to coefficient, a *monomial* the sorted tuple of its letters.

3x² + xy - 1/2 is {("x","x"): 3, ("x","y"): 1, (): -1/2}.
"""

from __future__ import annotations

from fractions import Fraction

__all__ = ["Monomial", "Poly", "add", "multiply", "scale", "show_poly"]

Monomial = tuple[str, ...]
Poly = dict[Monomial, Fraction]


def show_poly(poly: Poly) -> str:
    """The polynomial in one canonical order: higher degree first, then the alphabet; 0 for nothing."""
    words: list[str] = []
    for monomial in sorted((m for m, k in poly.items() if k), key=lambda m: (-len(m), m)):
        k = poly[monomial]
        letters = "".join(monomial[0] + "²" if len(monomial) == 2 and monomial[0] == monomial[1] else "".join(monomial))
        size = str(abs(k))
        if letters and abs(k) == 1:
            size = ""
        elif letters and abs(k).denominator != 1:
            size = f"({size})"
        words.append(
            ("-" if k < 0 else "") + size + letters if not words else (" - " if k < 0 else " + ") + size + letters
        )
    return "".join(words) or "0"


def add(p: Poly, q: Poly) -> Poly:
    total = dict(p)
    for monomial, k in q.items():
        total[monomial] = total.get(monomial, Fraction(0)) + k
    return {m: k for m, k in total.items() if k}


def scale(p: Poly, k: Fraction) -> Poly:
    return {m: c * k for m, c in p.items() if c * k}


def multiply(p: Poly, q: Poly) -> Poly:
    total: Poly = {}
    for m, a in p.items():
        for n, b in q.items():
            key = tuple(sorted(m + n))
            total[key] = total.get(key, Fraction(0)) + a * b
    return {m: k for m, k in total.items() if k}
