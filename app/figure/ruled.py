"""A figure's lines as they are ruled on the paper: directions in whole numbers, places in floats.

A *tick* is a part of a degree small enough that every direction of the figure is a whole number of them; what
turns which way is then a comparison of whole numbers, and as exact as the fractions it came from.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from fractions import Fraction
from math import cos, lcm, radians, sin

from app.figure.plane import RIGHT_ANGLES, Point, step

__all__ = ["Line", "Ruled"]


@dataclass(frozen=True)
class Line:
    """A line: its direction in degrees, in [0, 180), and one point that it goes through."""

    name: str
    direction: Fraction
    through: tuple[Fraction, Fraction]


class Ruled:
    """`scale`: ticks in a degree; `half`: ticks in 180 degrees; `turn`: each line's direction in ticks, from
    0 to below `half`; `place`: (ux, uy, x, y), the unit vector of its + direction and the point it goes through.
    """

    __slots__ = ("_through", "half", "place", "scale", "turn")

    def __init__(self, lines: Iterable[Line]) -> None:
        self.place: dict[str, tuple[float, float, float, float]] = {}
        self._through: dict[str, tuple[Fraction, Fraction]] = {}
        directions: dict[str, tuple[int, int]] = {}
        scale = 1
        for line in lines:
            turn, below = directions[line.name] = line.direction.numerator, line.direction.denominator
            if scale % below:
                scale = lcm(scale, below)
            along = RIGHT_ANGLES.get(turn) if below == 1 else None
            if along is None:
                angle = radians(turn / below)
                along = cos(angle), sin(angle)
            x, y = self._through[line.name] = line.through
            self.place[line.name] = *along, x.numerator / x.denominator, y.numerator / y.denominator
        self.scale, self.half = scale, 180 * scale
        self.turn = {name: turn * (scale // below) for name, (turn, below) in directions.items()}

    def crossing(self, a: str, b: str) -> Point | None:
        """Where two lines cross, or None when they are parallel as drawn."""
        turned = self.turn[b] - self.turn[a]
        if turned == 0:
            return None
        # The sine from the exact difference, so that lines a hair from parallel cross where they should.
        half, right = self.half, self.half // 2
        small = (turned + right) % half - right
        sine = sin(radians(small / self.scale))
        if (turned - small) % (2 * half):
            sine = -sine
        ux, uy, x, y = self.place[a]
        vx, vy, _, _ = self.place[b]
        (ax, ay), (bx, by) = self._through[a], self._through[b]
        s = (step(ax, bx) * vy - step(ay, by) * vx) / sine
        return x + s * ux, y + s * uy

    def off(self, line: str, at: Point) -> float:
        """Signed distance of a point from a line, positive on the left of its + direction."""
        ux, uy, x, y = self.place[line]
        return ux * (at[1] - y) - uy * (at[0] - x)

    def along(self, line: str, at: Point) -> float:
        """How far along a line's + direction the point lies, from the point the line goes through."""
        ux, uy, x, y = self.place[line]
        return (at[0] - x) * ux + (at[1] - y) * uy
