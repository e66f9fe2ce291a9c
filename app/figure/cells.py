"""The part of the page that an angle opens on: no line of the figure cuts it, and it has no dents.

So a text that stands in it can be led to its angle without crossing a line, and one that stands elsewhere cannot.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import cos, radians, sin

from app.figure.parts import Angle, Figure
from app.figure.plane import Point, unit
from app.figure.view import View

__all__ = ["Side", "places_in", "room_in", "sides_of"]

# A line's name, and on which side of it the angle lies: 1 is left of its + direction.
Side = tuple[str, int]
# Closer than this to a line, in parts of the figure's size, a meet lies on it.
ON = 1e-9


def sides_of(fig: Figure, angle: Angle, share: float = 0.5) -> tuple[Side, ...]:
    """On which side of each line the points are that lie near the angle's meet, at that share of its turn."""
    x, y = fig.meets[angle.at].at
    sweep = float(fig.measure_between(angle.start, angle.end))
    middle = radians(float(fig.heading(angle.start)) + share * sweep)
    found = []
    for name, line in fig.lines.items():
        ux, uy = unit(line.direction)
        dx, dy = x - float(line.through[0]), y - float(line.through[1])
        off = ux * dy - uy * dx
        if name in fig.meets[angle.at].lines or abs(off) <= ON * (1 + abs(dx) + abs(dy)):
            off = ux * sin(middle) - uy * cos(middle)
        found.append((name, 1 if off > 0 else -1))
    return tuple(found)


def room_in(fig: Figure, sides: Sequence[Side], view: View, half: Point, gap: float, margin: float) -> list[Point]:
    """The corners of where the middle of a text may stand: a gap off every line, a margin off the edge."""
    left, top = half[0] + margin, half[1] + margin
    right, bottom = view.width - left, view.height - top
    if left > right or top > bottom:
        return []
    corners: list[Point] = [(left, top), (right, top), (right, bottom), (left, bottom)]
    for name, side in sides:
        line = fig.lines[name]
        ux, uy = unit(line.direction)
        x, y = view.page((float(line.through[0]), float(line.through[1])))
        # Page y runs down; off the line toward the angle:
        nx, ny = -side * uy, -side * ux
        least = abs(nx) * half[0] + abs(ny) * half[1] + gap
        corners = cut(corners, nx, ny, nx * x + ny * y + least)
        if not corners:
            return []
    return corners


def cut(corners: Sequence[Point], nx: float, ny: float, least: float) -> list[Point]:
    """What of a polygon without dents has nx·x + ny·y ≥ least."""
    found: list[Point] = []
    before = corners[-1]
    was = nx * before[0] + ny * before[1] - least
    for corner in corners:
        now = nx * corner[0] + ny * corner[1] - least
        if (now < 0) != (was < 0):
            share = was / (was - now)
            found.append((before[0] + share * (corner[0] - before[0]), before[1] + share * (corner[1] - before[1])))
        if now >= 0:
            found.append(corner)
        before, was = corner, now
    return found


def places_in(corners: Sequence[Point], step: float, most: int) -> list[Point]:
    """Places all over a polygon without dents, a step apart, or farther apart where they would be too many."""
    xs, ys = [x for x, _ in corners], [y for _, y in corners]
    top, wide, high = min(ys), max(xs) - min(xs), max(ys) - min(ys)
    step = max(step, (wide * high / most) ** 0.5, wide / most, high / most)
    edges = list(zip(corners, [*corners[1:], corners[0]], strict=True))
    places = list(corners)
    for j in range(int(high / step) + 1):
        y = top + (high - step * int(high / step)) / 2 + j * step
        cuts = [
            a[0] + (y - a[1]) / (b[1] - a[1]) * (b[0] - a[0])
            for a, b in edges
            if min(a[1], b[1]) <= y < max(a[1], b[1])
        ]
        if len(cuts) < 2:
            continue
        low, end = min(cuts), max(cuts)
        many = int((end - low) / step) + 1
        places += [(low + (end - low) * (i + 0.5) / many, y) for i in range(many)]
    return places
