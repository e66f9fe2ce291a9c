"""What a figure is made of.

Letters used here: l, m, t are lines; A, B are meets; a ray is a line with a sign, "l+" running along its
direction; an angle is the sector counterclockwise from its start ray to its end ray, less than 180 degrees.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction
from functools import cached_property
from operator import itemgetter
from typing import NamedTuple

from app.figure.plane import Point
from app.figure.ruled import Line, Ruled

__all__ = ["Angle", "Figure", "Line", "Meet", "Ray"]

FIRST = itemgetter(0)


@dataclass(frozen=True)
class Meet:
    """A named point where the named lines cross. Naming three or more asserts that they are concurrent."""

    name: str
    lines: tuple[str, ...]
    at: Point


class Ray(NamedTuple):
    """One of the two ways along a line from a point of it: sign "+" or "-"."""

    line: str
    sign: str

    def __str__(self) -> str:
        return self.line + self.sign

    def back(self) -> Ray:
        """The ray the other way."""
        return Ray(self.line, "-" if self.sign == "+" else "+")


class Angle(NamedTuple):
    """The sector at a meet, counterclockwise from start to end."""

    name: str
    at: str
    start: Ray
    end: Ray

    def rays(self) -> frozenset[Ray]:
        return frozenset((self.start, self.end))

    def lines(self) -> tuple[str, str]:
        return self.start.line, self.end.line

    def ray_on(self, line: str) -> Ray | None:
        """The side that lies on the line, if one does."""
        return self.start if self.start.line == line else self.end if self.end.line == line else None

    def ray_off(self, line: str) -> Ray:
        """The side that does not lie on the line."""
        return self.end if self.start.line == line else self.start


@dataclass(frozen=True)
class Figure:
    """A drawing: lines, meets and angles by name, in the order they were given.

    `frame` is (left, bottom, right, top) where the drawing asks for one. `lettered` are the meets that were
    not given but lettered on reading. Build figures with `figure_from_json`, which checks that the parts fit
    together; the methods below take that as done.
    """

    lines: dict[str, Line]
    meets: dict[str, Meet]
    angles: dict[str, Angle]
    transversal: str | None = None
    frame: tuple[Fraction, Fraction, Fraction, Fraction] | None = None
    lettered: frozenset[str] = frozenset()
    _orders: dict[str, tuple[str, ...]] = field(default_factory=dict, init=False, repr=False, compare=False)

    @cached_property
    def ruled(self) -> Ruled:
        """The lines in whole numbers and floats."""
        return Ruled(self.lines.values())

    def ticks(self, ray: Ray) -> int:
        """The direction a ray runs in, in ticks of `ruled`, from 0 to below two halves."""
        ruled = self.ruled
        return ruled.turn[ray.line] if ray.sign == "+" else ruled.turn[ray.line] + ruled.half

    def turn(self, start: Ray, end: Ray) -> int:
        """The turn counterclockwise from one ray to the other, in ticks, from 0 to below two halves."""
        return (self.ticks(end) - self.ticks(start)) % (2 * self.ruled.half)

    def heading(self, ray: Ray) -> Fraction:
        """The direction a ray runs in, in [0, 360)."""
        return self.lines[ray.line].direction + (0 if ray.sign == "+" else 180)

    def measure_between(self, start: Ray, end: Ray) -> Fraction:
        """Degrees counterclockwise from one ray to the other, as drawn, in [0, 360)."""
        turn, scale = self.turn(start, end), self.ruled.scale
        return Fraction(turn) if scale == 1 else Fraction(turn, scale)

    def measure(self, name: str) -> Fraction:
        """An angle's measure in degrees as drawn: never taken as given."""
        angle = self.angles[name]
        return self.measure_between(angle.start, angle.end)

    def position(self, meet: str, line: str) -> float:
        """How far along the line's + direction the meet lies."""
        return self.ruled.along(line, self.meets[meet].at)

    def order(self, line: str) -> tuple[str, ...]:
        """The meets on a line, in the order its + direction reaches them."""
        known = self._orders.get(line)
        if known is None:
            along = self.ruled.along
            on = [(along(line, meet.at), meet.name) for meet in self.meets.values() if line in meet.lines]
            on.sort(key=FIRST)
            known = self._orders[line] = tuple([name for _, name in on])
        return known

    def toward(self, line: str, here: str, there: str) -> Ray:
        """The ray of a line from one of its meets toward another."""
        order = self.order(line)
        return Ray(line, "+" if order.index(there) > order.index(here) else "-")

    def line_through(self, a: str, b: str) -> str | None:
        """The line named at both meets, if one is."""
        other = self.meets[b].lines
        for line in self.meets[a].lines:
            if line in other:
                return line
        return None

    @cached_property
    def points(self) -> tuple[Point, ...]:
        """The places of all meets."""
        return tuple(meet.at for meet in self.meets.values())

    def parallel_as_drawn(self, a: str, b: str) -> bool:
        return self.lines[a].direction == self.lines[b].direction
