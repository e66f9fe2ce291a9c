"""Where a construction stands on the paper: large enough for a real compass, with room for each arc.

Millimeters. The trade's own way is done beforehand at the scale in question, so what has to fit is known: the points,
the arcs, and where they cross.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from math import hypot

from app.construction.arithmetic import FLOATS
from app.construction.picture import extent_of
from app.construction.plane import Circle
from app.construction.recipes import recipe
from app.construction.replay import replay
from app.construction.start import Start, read_compass, read_start
from app.sheets.paper import BOX_HIGH, BOX_WIDE

__all__ = ["EDGE", "FOOT", "Bench", "bench_for"]

# What a school compass can be set to.
NARROW, OPEN = 30.0, 120.0
EDGE = 5.0  # between the outermost mark and the frame
FOOT = 8.0  # for the bar, under all marks
LETTER = 5.0  # from a point to the far side of its letter
LEAST = 62.0  # height of a box
NEAR = 0.75  # how near two given points may be, as a part of the narrowest opening
# The free opening as a part of the lengths at hand: whichever of these fits the paper best.
SHARES = tuple(Fraction(n, 20) for n in range(6, 20))
Point = tuple[float, float]


@dataclass(frozen=True, slots=True)
class Bench:
    """A box `wide` by `high`, `scale` mm to a unit; (`x`, `y`) of the start is in the middle of the room."""

    wide: float
    high: float
    scale: float
    x: float
    y: float
    fits: bool = True  # whether it is as large as it should be

    def at(self, point: Point) -> Point:
        """Where a point of the start is printed, from the upper left corner."""
        room = self.high - FOOT
        return self.wide / 2 + (point[0] - self.x) * self.scale, room / 2 - (point[1] - self.y) * self.scale


def bench_for(task: Mapping[str, object]) -> Bench:
    """The lowest box in which the trade's own way, with some opening, fits a school compass.

    Raises Fault for an unusable start.
    """
    given = read_start(task["construction"], task["start"])
    found = [_bench(given, task, opening) for opening in SHARES]
    return min(found, key=lambda one: (not one.fits, one.high))


def _bench(given: Start, task: Mapping[str, object], opening: Fraction) -> Bench:
    route = str(task.get("route") or "any")
    program = recipe(given, route, opening=opening, compass=read_compass(task.get("compass"))).program()
    drawing = replay(program, FLOATS)
    left, low, right, top = extent_of(drawing, program)
    openings = [float(c.s) ** 0.5 for c in drawing.values.values() if isinstance(c, Circle)]
    places = [(float(x), float(y)) for x, y in (drawing.point(name) for name in given.points)]
    apart = min(
        (hypot(a[0] - b[0], a[1] - b[1]) for i, a in enumerate(places) for b in places[i + 1 :]), default=NARROW
    )
    # As large as the narrowest opening and the nearest two points ask for, no larger than paper and compass allow.
    wanted = scale = 1.05 * NARROW / min([apart / NEAR, *openings])
    while True:
        letter = LETTER / scale
        xs = [left, right, *(x + by for x, _ in places for by in (-letter, letter))]
        ys = [low, top, *(y + by for _, y in places for by in (-letter, letter))]
        wide, high = ((max(side) - min(side)) * scale + 2 * EDGE for side in (xs, ys))
        if wide <= BOX_WIDE and high + FOOT <= BOX_HIGH and max(openings) * scale <= OPEN:
            break
        scale *= 0.98
    return Bench(
        BOX_WIDE,
        round(max(LEAST, high + FOOT), 1),
        scale,
        (min(xs) + max(xs)) / 2,
        (min(ys) + max(ys)) / 2,
        fits=scale == wanted,
    )
