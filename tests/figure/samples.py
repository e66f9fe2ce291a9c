"""Random figures from exact points: each line goes through two points with whole coordinates.

The figure JSON carries only a decimal direction and one point; the points stay with the sample, so that the
oracle never sees a direction.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import atan2, degrees
from random import Random
from typing import Any

from tests.figure.oracle import Corner, Point, side

NAMES = "lmntpqrs"
Place = tuple[int, int]
Exact = tuple[Place, Place]


@dataclass
class Sample:
    figure: dict[str, Any]
    lines: dict[str, Exact]
    corners: dict[str, Corner]


def exact_meet(a: Exact, b: Exact) -> Point | None:
    """Where two lines through exact points cross; None for parallels."""
    (x1, y1), (x2, y2) = a
    (x3, y3), (x4, y4) = b
    det = (x2 - x1) * (y4 - y3) - (y2 - y1) * (x4 - x3)
    if det == 0:
        return None
    s = Fraction((x3 - x1) * (y4 - y3) - (y3 - y1) * (x4 - x3), det)
    return x1 + s * (x2 - x1), y1 + s * (y2 - y1)


def whole_point(rng: Random, size: int = 40) -> Place:
    return rng.randint(-size, size), rng.randint(-size, size)


def random_lines(rng: Random, count: int, concurrent: bool) -> dict[str, Exact]:
    """Lines no two of which are one; with `concurrent`, the first three share a point."""
    lines: dict[str, Exact] = {}
    hub = whole_point(rng, 10)
    while len(lines) < count:
        a = hub if concurrent and len(lines) < 3 else whole_point(rng)
        b = whole_point(rng)
        if len(lines) and rng.random() < 0.25 and not (concurrent and len(lines) < 3):
            # A parallel to an earlier line.
            p, q = rng.choice(list(lines.values()))
            b = a[0] + q[0] - p[0], a[1] + q[1] - p[1]
        if a != b and all(side(*other, a) or side(*other, b) for other in lines.values()):
            lines[NAMES[len(lines)]] = (a, b)
    return lines


def direction(line: Exact) -> str:
    (x1, y1), (x2, y2) = line
    angle = degrees(atan2(float(y2 - y1), float(x2 - x1))) % 180
    return f"{angle % 180:.12f}" if angle < 180 else "0"


def meets_of(lines: dict[str, Exact]) -> dict[Point, list[str]]:
    places: dict[Point, list[str]] = {}
    names = list(lines)
    for i, a in enumerate(names):
        for b in names[i + 1 :]:
            at = exact_meet(lines[a], lines[b])
            if at is not None:
                here = places.setdefault(at, [])
                here += [name for name in (a, b) if name not in here]
    return places


def plus_point(line: Exact, at: Point, sign: str) -> Point:
    """A point of the line from `at` along its + direction (upward; rightward where flat), or its -."""
    (x1, y1), (x2, y2) = line
    dx, dy = x2 - x1, y2 - y1
    if dy < 0 or (dy == 0 and dx < 0):
        dx, dy = -dx, -dy
    k = 1 if sign == "+" else -1
    return at[0] + k * dx, at[1] + k * dy


def random_sample(rng: Random, count: int | None = None) -> Sample | None:
    """A figure of 3 to 8 lines with a few angles, or None where too few lines cross.

    Meets nearer to one another than a thousandth of the drawing are left to other tests.
    """
    count = count or rng.choice([3, 3, 3, 4, 5, 6, 8])
    lines = random_lines(rng, count, rng.random() < 0.3)
    places = {at: names for at, names in meets_of(lines).items() if max(map(abs, at)) < 400}
    if len(places) < 2 or too_close(list(places)):
        return None
    letters = {at: f"P{i}" for i, at in enumerate(places, 1)}
    figure: dict[str, Any] = {
        "lines": {
            name: {"direction": direction(line), "through": [int(c) for c in rng.choice(line)]}
            for name, line in lines.items()
        },
        "meets": {letters[at]: names for at, names in places.items()},
        "angles": {},
    }
    corners: dict[str, Corner] = {}
    for name in map(str, range(1, rng.choice([9, 13, 17]))):
        at = rng.choice(list(places))
        one, other = rng.sample(places[at], 2)
        signs = rng.choice("+-"), rng.choice("+-")
        p, q = plus_point(lines[one], at, signs[0]), plus_point(lines[other], at, signs[1])
        if side(at, p, q) < 0:
            (one, other), (p, q), signs = (other, one), (q, p), (signs[1], signs[0])
        corners[name] = Corner(at, (p, q), (one, other))
        figure["angles"][name] = {"at": letters[at], "from": one + signs[0], "to": other + signs[1]}
    return Sample(figure, lines, corners)


def too_close(places: list[Point]) -> bool:
    floats = [(float(x), float(y)) for x, y in places]
    return any(abs(a[0] - b[0]) + abs(a[1] - b[1]) < 0.1 for i, a in enumerate(floats) for b in floats[i + 1 :])


def samples(seed: int, count: int, lines: int | None = None) -> list[Sample]:
    """That many usable random figures."""
    rng = Random(seed)
    found: list[Sample] = []
    while len(found) < count:
        sample = random_sample(rng, lines)
        if sample is not None:
            found.append(sample)
    return found


def standard(direction_l: object, direction_m: object, direction_t: object, gap: float = 3) -> dict[str, Any]:
    """Two lines and a transversal with the standard eight angles."""
    return {
        "lines": {
            "l": {"direction": direction_l, "through": [0, gap]},
            "m": {"direction": direction_m, "through": [0, -gap]},
            "t": {"direction": direction_t, "through": [0, 0]},
        },
        "meets": {"A": ["l", "t"], "B": ["m", "t"]},
        "number": "standard",
        "transversal": "t",
    }
