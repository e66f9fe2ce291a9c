"""A second opinion on pair names, from coordinates alone: no directions, no rays, none of app/figure.

It reads the textbook's regions (Wentworth, Plane Geometry, 1899, §109: an angle is interior when it lies
between the two lines that the transversal cuts; alternate means on opposite sides of the transversal). An angle
is given by exact points: its vertex and one point on each side.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

Point = tuple[Fraction, Fraction]


@dataclass(frozen=True)
class Corner:
    """An angle by exact points: vertex, and a point on each side, with the names of the sides' lines."""

    vertex: Point
    arms: tuple[Point, Point]
    lines: tuple[str, str]


def side(a: Point, b: Point, p: Point) -> int:
    """1, 0 or -1: p on the left of the line from a to b, on it, or on the right."""
    cross = (b[0] - a[0]) * (p[1] - a[1]) - (b[1] - a[1]) * (p[0] - a[0])
    return (cross > 0) - (cross < 0)


def within(corner: Corner) -> Point:
    """A point in the sector, close to its vertex."""
    v, (p, q) = corner.vertex, corner.arms
    tiny = Fraction(1, 10**6)
    return v[0] + tiny * (p[0] + q[0] - 2 * v[0]), v[1] + tiny * (p[1] + q[1] - 2 * v[1])


def name(a: Corner, b: Corner) -> dict[str, object]:
    """{pair, transversal, lines, relation} as the contract has it."""
    if a.vertex == b.vertex:
        return answer(at_one_vertex(a, b))
    shared = [
        (i, j)
        for i in (0, 1)
        for j in (0, 1)
        if side(a.vertex, b.vertex, a.arms[i]) == 0 and side(a.vertex, b.vertex, b.arms[j]) == 0
    ]
    if not shared:
        return answer("none")
    (i, j) = shared[0]
    # Between the lines: on the side of its own line on which the other vertex is.
    inside_a = side(a.vertex, a.arms[1 - i], within(a)) == side(a.vertex, a.arms[1 - i], b.vertex)
    inside_b = side(b.vertex, b.arms[1 - j], within(b)) == side(b.vertex, b.arms[1 - j], a.vertex)
    one_side = side(a.vertex, b.vertex, within(a)) == side(a.vertex, b.vertex, within(b))
    table = {
        (True, True): ("consecutive interior", "alternate interior"),
        (False, False): ("consecutive exterior", "alternate exterior"),
    }
    named = table.get((inside_a, inside_b), ("corresponding", "none"))[0 if one_side else 1]
    return answer(named, a.lines[i], [a.lines[1 - i], b.lines[1 - j]])


def at_one_vertex(a: Corner, b: Corner) -> str:
    ways = [same_way(a.vertex, p, q) for p in a.arms for q in b.arms]  # 1 the same ray, -1 opposite rays
    if ways.count(1) == 2:
        return "same"
    if ways.count(-1) == 2 and ways.count(1) == 0:
        return "vertical"
    return "linear pair" if ways.count(1) == 1 and ways.count(-1) == 1 else "none"


def same_way(v: Point, p: Point, q: Point) -> int:
    if side(v, p, q) != 0:
        return 0
    dot = (p[0] - v[0]) * (q[0] - v[0]) + (p[1] - v[1]) * (q[1] - v[1])
    return 1 if dot > 0 else -1


def answer(pair: str, transversal: str | None = None, lines: list[str] | None = None) -> dict[str, object]:
    relations = {
        "corresponding": "congruent",
        "alternate interior": "congruent",
        "alternate exterior": "congruent",
        "consecutive interior": "supplementary",
        "consecutive exterior": "supplementary",
    }
    return {"pair": pair, "transversal": transversal, "lines": lines, "relation": relations.get(pair)}
