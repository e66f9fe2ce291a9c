"""Places in the plane, in floats: where lines cross, how far a point is from a line, how big a figure is.

Directions stay exact as long as they can: the sine of the difference of two directions is taken from the
exact difference, so that lines a hair from parallel still cross where they should.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from functools import lru_cache
from itertools import combinations
from math import cos, hypot, radians, sin

__all__ = ["Point", "along", "crossing", "nearest_to_all", "off_line", "span", "step", "unit"]

Point = tuple[float, float]
Through = tuple[Fraction, Fraction]

RIGHT_ANGLES: dict[int, Point] = {0: (1.0, 0.0), 90: (0.0, 1.0), 180: (-1.0, 0.0), 270: (0.0, -1.0)}


@lru_cache(maxsize=4096)
def unit(direction: Fraction) -> Point:
    """The unit vector of a direction in degrees; exact along the axes."""
    turned = direction % 360
    if turned.denominator == 1 and turned.numerator in RIGHT_ANGLES:
        return RIGHT_ANGLES[turned.numerator]
    angle = radians(float(turned))
    return cos(angle), sin(angle)


@lru_cache(maxsize=4096)
def sine(turn: Fraction) -> float:
    """The sine of a turn in degrees, as good for one a hair from 0 or 180 as for any other."""
    small = (turn + 90) % 180 - 90
    sign = 1 if (turn - small) % 360 == 0 else -1
    return sign * sin(radians(float(small)))


def step(a: Fraction, b: Fraction) -> float:
    """b - a: subtracted exactly, then made a float."""
    below, under = a.denominator, b.denominator
    return (b.numerator * below - a.numerator * under) / (below * under)


def crossing(direction: Fraction, through: Through, other: Fraction, other_through: Through) -> Point | None:
    """Where two lines cross, or None when they are parallel as drawn."""
    if (other - direction) % 180 == 0:
        return None
    ux, uy = unit(direction)
    vx, vy = unit(other)
    dx, dy = step(through[0], other_through[0]), step(through[1], other_through[1])
    s = (dx * vy - dy * vx) / sine(other - direction)
    return float(through[0]) + s * ux, float(through[1]) + s * uy


def along(direction: Fraction, through: Through, at: Point) -> float:
    """How far along a line's + direction the point lies, from the point the line goes through."""
    ux, uy = unit(direction)
    return (at[0] - float(through[0])) * ux + (at[1] - float(through[1])) * uy


def off_line(direction: Fraction, through: Through, at: Point) -> float:
    """Signed distance of a point from a line, positive on the left of its + direction."""
    ux, uy = unit(direction)
    return ux * (at[1] - float(through[1])) - uy * (at[0] - float(through[0]))


def nearest_to_all(lines: Sequence[tuple[Fraction, Through]]) -> Point:
    """The point with the least sum of squared distances from lines that are not all parallel."""
    first, second = lines[:2]
    if len(lines) > 2:
        first, second = max(combinations(lines, 2), key=lambda two: abs(sine(two[1][0] - two[0][0])))
    origin = crossing(*first, *second)
    assert origin is not None
    if len(lines) == 2 or abs(sine(second[0] - first[0])) < 1e-6:
        return origin
    xx = xy = yy = bx = by = 0.0
    for direction, through in lines:
        ux, uy = unit(direction)
        nx, ny = -uy, ux
        c = -off_line(direction, through, origin)
        xx, xy, yy = xx + nx * nx, xy + nx * ny, yy + ny * ny
        bx, by = bx + nx * c, by + ny * c
    det = xx * yy - xy * xy
    return origin[0] + (yy * bx - xy * by) / det, origin[1] + (xx * by - xy * bx) / det


def middle_of(values: list[float]) -> float:
    """The median."""
    values.sort()
    half = len(values) // 2
    return values[half] if len(values) % 2 else (values[half - 1] + values[half]) / 2


def span(points: Sequence[Point]) -> float:
    """The size of what is drawn: the larger side of the box round the points, leaving out far crossings of
    nearly parallel lines; 0 where there is nothing to measure.
    """
    return extent(without_far(points))


def extent(points: Sequence[Point]) -> float:
    """The larger side of the box round the points; 0 where there are none."""
    if not points:
        return 0.0
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return max(max(xs) - min(xs), max(ys) - min(ys))


def without_far(points: Sequence[Point], times: float = 8.0) -> list[Point]:
    """The points, without those many times further from the middle than most."""
    if len(points) < 3:
        return list(points)
    mx, my = middle_of([x for x, _ in points]), middle_of([y for _, y in points])
    far = [hypot(x - mx, y - my) for x, y in points]
    usual, most = middle_of(far[:]), max(far)
    if usual <= 1e-9 * most:
        # Most are one place, as far as floats can tell.
        usual = most
    return [point for point, distance in zip(points, far, strict=True) if distance <= times * usual]
