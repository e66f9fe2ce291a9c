"""The plain facts that rules speak of, made without a text: a ≅ b, a + b = 180, l ∥ m, …

Letters: a, b are angle atoms; l, m, t lines.
"""

from __future__ import annotations

from fractions import Fraction

from app.reasoning.terms import Expression, Fact, equation

__all__ = ["congruent", "not_parallel", "parallel", "perpendicular", "sum_is", "value_is"]


def congruent(a: str, b: str) -> Fact:
    """The fact m a = m b."""
    if a < b:
        return "equation", ((a, 1), (b, -1)), 0
    return ("equation", (), 0) if a == b else ("equation", ((b, 1), (a, -1)), 0)


def sum_is(a: str, b: str, total: int) -> Fact:
    """The fact m a + m b = total."""
    if a != b:
        return "equation", ((a, 1), (b, 1)) if a < b else ((b, 1), (a, 1)), -total
    return equation(Expression.of({a: Fraction(2)}), Expression((), Fraction(total)))


def value_is(a: str, value: Fraction | int) -> Fact:
    """The fact m a = value."""
    if isinstance(value, int):
        return "equation", ((a, 1),), -value
    return equation(Expression.of({a: Fraction(1)}), Expression((), Fraction(value)))


def parallel(l: str, m: str) -> Fact:
    return "parallel", *sorted((l, m))


def not_parallel(l: str, m: str) -> Fact:
    return "not parallel", *sorted((l, m))


def perpendicular(t: str, l: str) -> Fact:
    return "perpendicular", *sorted((t, l))
