"""Sectors at a meet: all of them, the one between three meets, the standard eight; a measure as a form."""

from __future__ import annotations

from dataclasses import replace
from itertools import pairwise

from app.figure.faults import Fault
from app.figure.parts import FIRST, Angle, Figure, Meet, Ray

__all__ = ["all_sectors", "angle_by_meets", "measure_form", "number_standard", "oriented"]

# Quarters of the page, counterclockwise from upper right: (0 upper, 1 lower), (0 left, 1 right).
PLACES = ((0, 1), (0, 0), (1, 0), (1, 1))


def oriented(fig: Figure, name: str, at: str, one: Ray, other: Ray) -> Angle:
    """The angle less than 180 degrees between two rays of different lines, named from the right ray."""
    if fig.turn(one, other) < fig.ruled.half:
        return Angle(name, at, one, other)
    return Angle(name, at, other, one)


def all_sectors(fig: Figure, meet: str) -> tuple[Angle, ...]:
    """The sectors between neighbouring rays at a meet, counterclockwise from the lowest heading; unnamed."""
    rays = rays_around(fig, meet)
    return tuple([Angle("", meet, a, b) for a, b in pairwise([*rays, rays[0]])])


def rays_around(fig: Figure, meet: str) -> list[Ray]:
    """The rays at a meet, counterclockwise from the lowest heading."""
    lines = sorted(fig.meets[meet].lines, key=fig.ruled.turn.__getitem__)
    return [Ray(line, "+") for line in lines] + [Ray(line, "-") for line in lines]


def angle_by_meets(fig: Figure, p: str, vertex: str, q: str) -> Angle | None:
    """∠PVQ: the angle at `vertex` with one side toward p and the other toward q.

    Gives the figure's own angle where it has that one, else a new one named by its three letters. None where
    a name is no meet, a side lies on no line of the figure, or the three meets are on one line.
    """
    if any(name not in fig.meets for name in (p, vertex, q)) or vertex in (p, q):
        return None
    to_p, to_q = fig.line_through(vertex, p), fig.line_through(vertex, q)
    if to_p is None or to_q is None or to_p == to_q:
        return None
    found = oriented(fig, p + vertex + q, vertex, fig.toward(to_p, vertex, p), fig.toward(to_q, vertex, q))
    for angle in fig.angles.values():
        if angle.at == vertex and angle.rays() == found.rays():
            return angle
    return found


def measure_form(fig: Figure, angle: Angle) -> tuple[str, str, int]:
    """(line_to, line_from, c): the measure is direction(line_to) - direction(line_from) + c degrees.

    c is a multiple of 180 read off the drawn order; nothing else of the drawing enters.
    """
    to, start = angle.end.line, angle.start.line
    ruled = fig.ruled
    constant = fig.turn(angle.start, angle.end) - ruled.turn[to] + ruled.turn[start]
    return to, start, 180 * (constant // ruled.half)


def number_standard(fig: Figure, transversal: str, where: str = "figure") -> Figure:
    """The figure with its eight angles numbered 1 to 8 along the transversal.

    Upper meet first, left first where the transversal is flat; within a meet upper left, upper right, lower
    left, lower right. Raises Fault unless the transversal crosses exactly two other lines at two meets.
    """
    return replace(fig, angles=standard_angles(fig, transversal, where), transversal=transversal)


def standard_angles(fig: Figure, transversal: str, where: str) -> dict[str, Angle]:
    meets = [fig.meets[name] for name in fig.order(transversal)]
    if len(meets) != 2 or any(len(meet.lines) != 2 for meet in meets):
        raise Fault("figure.number_needs_two", f"{where}.number", transversal=transversal)
    if fig.lines[transversal].direction != 0:
        # The + direction of a line that isn't flat runs upward.
        meets.reverse()
    angles: dict[str, Angle] = {}
    for meet in meets:
        for start, end in four_in_order(fig, meet, transversal):
            name = str(len(angles) + 1)
            angles[name] = Angle(name, meet.name, start, end)
    return angles


def four_in_order(fig: Figure, meet: Meet, transversal: str) -> list[tuple[Ray, Ray]]:
    """The four sectors: upper left, upper right, lower left, lower right.

    The middles of the four sectors are a right angle apart, so each quarter of the page holds one, unless
    they run along the page. Then upper and lower are read against the line, left and right against the
    transversal; both readings agree everywhere near.
    """
    a, b, c, d = rays_around(fig, meet.name)
    sectors = [(a, b), (b, c), (c, d), (d, a)]
    half = fig.ruled.half
    # The headings of the middles are half this sum and then a right angle more each: twice them, 90 degrees
    # being one `half`, are whole numbers of ticks.
    first = fig.ticks(a) + fig.ticks(b)
    if first % half:
        quarters = [(first // half + k) % 4 for k in range(4)]
        places = [PLACES[quarter] for quarter in quarters]
    else:
        places = [place_by_lines(fig, start, end, transversal) for start, end in sectors]
    return [sector for _, sector in sorted(zip(places, sectors, strict=True), key=FIRST)]


def place_by_lines(fig: Figure, start: Ray, end: Ray, transversal: str) -> tuple[int, int]:
    along_t, along_l = (start, end) if start.line == transversal else (end, start)
    ruled = fig.ruled
    # Above a line is left of its + direction where that runs to the right, and it does for 0 to 90 degrees.
    left_of_l = fig.turn(Ray(along_l.line, "+"), along_t) < ruled.half
    above = left_of_l == (2 * ruled.turn[along_l.line] < ruled.half)
    left = fig.turn(Ray(transversal, "+"), along_l) < ruled.half
    return (0 if above else 1, 0 if left else 1)
