"""Random starts for the construction tests, and coordinates found another way: by formulas, not by replay.

The formulas follow what Euclid's propositions assert, not how he does it: I.23 and I.31 by rotating a direction, I.9 by
adding unit vectors, I.10 by halving, I.11 and I.12 by turning a quarter.
"""

from __future__ import annotations

from fractions import Fraction
from random import Random
from typing import Any

from mpmath import MPContext

CONTEXT = MPContext()
CONTEXT.dps = 80

# The tasks whose answer is known by its direction.
TASKS = (
    "copy an angle",
    "parallel through a point",
    "bisect an angle",
    "bisect a segment",
    "perpendicular through a point",
)


def place(rng: Random, size: int = 10) -> list[str]:
    return [f"{rng.randint(-size * 1000, size * 1000)}/1000" for _ in range(2)]


def far(a: Any, b: Any) -> float:
    (ax, ay), (bx, by) = ([float(Fraction(c)) for c in p] for p in (a, b))
    return float(((ax - bx) ** 2 + (ay - by) ** 2) ** 0.5)


def turn(a: Any, b: Any, c: Any) -> Fraction:
    (ax, ay), (bx, by), (cx, cy) = ([Fraction(v) for v in p] for p in (a, b, c))
    return (bx - ax) * (cy - ay) - (by - ay) * (cx - ax)


def fair(*points: Any) -> bool:
    """Three points that make a triangle no thinner than a few degrees."""
    if len(points) == 2:
        return far(*points) > 1
    a, b, c = points
    sides = sorted((far(a, b), far(b, c), far(a, c)))
    return sides[0] > 1 and abs(float(turn(a, b, c))) > 0.06 * sides[1] * sides[2]


def random_start(task: str, rng: Random, *, on_line: bool = False) -> dict[str, Any]:
    """A contract start of the task."""
    while True:
        if task in ("copy an angle", "bisect an angle"):
            p, v, q, w, s = (place(rng) for _ in range(5))
            if not (fair(p, v, q) and far(w, s) > 1 and len({map_key(x) for x in (p, v, q, w, s)}) == 5):
                continue
            if task == "bisect an angle":
                return {"points": {"P": p, "V": v, "Q": q}, "angle": ["P", "V", "Q"]}
            return {"points": {"P": p, "V": v, "Q": q, "W": w, "S": s}, "angle": ["P", "V", "Q"], "ray": ["W", "S"]}
        a, b, p = (place(rng) for _ in range(3))
        if task == "copy a segment":
            if fair(a, b) and min(far(a, p), far(b, p)) > 1:
                return {"points": {"A": a, "B": b, "P": p}, "segment": ["A", "B"], "point": "P"}
            continue
        if task == "bisect a segment":
            if fair(a, b):
                return {"points": {"A": a, "B": b}, "segment": ["A", "B"]}
            continue
        if not fair(a, b, p):
            continue
        if on_line:
            k = Fraction(rng.randint(-20, 30), 10) + Fraction(1, 37)
            p = [str(Fraction(x) + k * (Fraction(y) - Fraction(x))) for x, y in zip(a, b, strict=True)]
        return {"points": {"A": a, "B": b, "P": p}, "line": ["A", "B"], "point": "P"}


def map_key(point: list[str]) -> tuple[str, ...]:
    return tuple(point)


def vector(start: dict[str, Any], a: str, b: str) -> Any:
    (ax, ay), (bx, by) = ([number(c) for c in start["points"][name]] for name in (a, b))
    return CONTEXT.mpc(bx - ax, by - ay)


def number(text: Any) -> Any:
    exact = Fraction(text)
    return CONTEXT.mpf(exact.numerator) / exact.denominator


def wanted_ways(task: str, start: dict[str, Any]) -> list[Any]:
    """The directions that answer, as complex numbers of length 1 (a line's two ways count as one)."""
    if task == "bisect a segment":
        return [unit(vector(start, *start["segment"])) * 1j]
    if task == "parallel through a point":
        return [unit(vector(start, *start["line"]))]
    if task == "perpendicular through a point":
        return [unit(vector(start, *start["line"])) * 1j]
    p, v, q = start["angle"]
    one, two = unit(vector(start, v, p)), unit(vector(start, v, q))
    if task == "bisect an angle":
        return [unit(one + two)]
    base = unit(vector(start, *start["ray"]))
    return [base * (two / one), base * (one / two)]


def unit(z: Any) -> Any:
    return z / CONTEXT.sqrt(z.real**2 + z.imag**2)
