"""A figure as the contract writes it, in our own small model: lines, named meets, rays, and what the drawing says.

Directions are degrees. A world gives each line an oriented direction: the way its `+` ray points, modulo 360. What the
drawing says is which way every two lines turn at a named meet, and the order of named meets along each line.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction
from itertools import combinations
from math import atan2, cos, degrees, hypot, radians, sin

Number = Fraction | float | int
Place = tuple[float, float]
Ray = tuple[str, str]
World = dict[str, Number]

GIVEN_TOLERANCE = 1e-9


@dataclass
class Figure:
    lines: dict[str, tuple[Number, tuple[Number, Number]]]
    meets: dict[str, tuple[str, ...]]
    angles: dict[str, tuple[str, Ray, Ray]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.world: World = {name: direction for name, (direction, _) in self.lines.items()}
        self.through: dict[str, Place] = {name: (float(x), float(y)) for name, (_, (x, y)) in self.lines.items()}
        self.facts = facts(self.world, self.through, self.meets)
        self._sectors: dict[str, tuple[str, Ray, Ray]] = {}

    def to_json(self) -> dict:
        return {
            "lines": {
                name: {"direction": _number(direction), "through": [_number(x), _number(y)]}
                for name, (direction, (x, y)) in self.lines.items()
            },
            "meets": {name: list(lines) for name, lines in self.meets.items()},
            "angles": {
                name: {"at": at, "from": "".join(start), "to": "".join(end)}
                for name, (at, start, end) in self.angles.items()
            },
        }

    def sector(self, name: str) -> tuple[str, Ray, Ray]:
        """(meet, from, to) of an angle by number or by three meets: the sector of less than 180 degrees."""
        if name in self.angles:
            return self.angles[name]
        if name not in self._sectors:
            first, at, last = name
            rays = []
            for point in (first, last):
                line = next(l for l in self.meets[at] if l in self.meets[point])
                order = self.facts.order[line]
                rays.append((line, "+" if order.index(point) > order.index(at) else "-"))
            turned = (heading(self.world, rays[1]) - heading(self.world, rays[0])) % 360
            if turned > 180:
                rays.reverse()
            self._sectors[name] = (at, rays[0], rays[1])
        return self._sectors[name]

    def measure(self, name: str, world: World) -> Number:
        _, start, end = self.sector(name)
        return (heading(world, end) - heading(world, start)) % 360


def _number(value: Number) -> object:
    return int(value) if value == int(value) else str(value)


def _decimal(value: float) -> Fraction:
    return Fraction(f"{value:.9f}")


def heading(world: World, ray: Ray) -> Number:
    return world[ray[0]] + (0 if ray[1] == "+" else 180)


@dataclass(frozen=True)
class Facts:
    """What is drawn: places of meets, turning (+1 or -1) of two lines at a meet, order along lines."""

    places: dict[str, Place]
    turns: dict[tuple[str, str], int]
    order: dict[str, tuple[str, ...]]
    # How clean the drawing is: the smallest angle, the smallest gap on a line, how far a third line misses its meet.
    angle: float
    gap: float
    miss: float
    size: float

    def same_as(self, other: Facts) -> bool:
        return self.turns == other.turns and self.order == other.order


def crossing(a: tuple[float, Place], b: tuple[float, Place]) -> Place:
    """Where two lines (radians, a point) cross."""
    (s, (ax, ay)), (t, (bx, by)) = a, b
    k = ((bx - ax) * sin(t) - (by - ay) * cos(t)) / sin(t - s)
    return ax + k * cos(s), ay + k * sin(s)


def facts(world: World, through: dict[str, Place], meets: dict[str, tuple[str, ...]]) -> Facts:
    turned = {name: radians(float(direction)) for name, direction in world.items()}
    places: dict[str, Place] = {}
    turns: dict[tuple[str, str], int] = {}
    angle, miss = 90.0, 0.0
    for meet, lines in meets.items():
        for a, b in combinations(sorted(lines), 2):
            s = sin(turned[b] - turned[a])
            turns[a, b] = 1 if s > 0 else -1
            angle = min(angle, degrees(abs(s)))
        # Of three or more, the two that cross most squarely say where; the others are held against it.
        a, b = max(combinations(lines, 2), key=lambda two: abs(sin(turned[two[1]] - turned[two[0]])))
        if abs(sin(turned[b] - turned[a])) < 1e-12:
            places[meet] = (0.0, 0.0)
            continue
        x, y = places[meet] = crossing((turned[a], through[a]), (turned[b], through[b]))
        for c in lines:
            px, py = through[c]
            miss = max(miss, abs(cos(turned[c]) * (y - py) - sin(turned[c]) * (x - px)))
    order, gap = {}, 1e9
    for name in world:
        dx, dy = cos(turned[name]), sin(turned[name])
        along = sorted((places[m][0] * dx + places[m][1] * dy, m) for m, lines in meets.items() if name in lines)
        order[name] = tuple(m for _, m in along)
        gap = min([gap, *(b[0] - a[0] for a, b in zip(along, along[1:], strict=False))])
    size = max([1.0, *(hypot(*at) for at in places.values())])
    return Facts(places, turns, order, angle, gap, miss, size)


def oriented_like(drawn: Figure, world: World, through: dict[str, Place]) -> World | None:
    """`world` (directions modulo 180) with its `+` rays where the drawing has them; None if no choice keeps the drawing.

    Turning the whole by 180 degrees is no change, so the first line of each part that meets hold together keeps its
    direction; each meet then says how its other lines point.
    """
    seen = facts(world, through, drawn.meets)
    flip: dict[str, int] = {}
    for first in drawn.lines:
        if first in flip:
            continue
        part, queue = [first], [first]
        flip[first] = 1
        while queue:
            here = queue.pop()
            for (a, b), turn in drawn.facts.turns.items():
                if here not in (a, b):
                    continue
                there = b if here == a else a
                want = flip[here] * turn * seen.turns[a, b]
                if there not in flip:
                    flip[there] = want
                    part.append(there)
                    queue.append(there)
                elif flip[there] != want:
                    return None
        # The part as a whole may stand upside down: the order along its lines tells.
        for name in part:
            order = seen.order[name]
            if len(order) > 1:
                if (order if flip[name] == 1 else order[::-1]) == drawn.facts.order[name]:
                    break
                for one in part:
                    flip[one] = -flip[one]
                break
    for name, order in drawn.facts.order.items():
        if (seen.order[name] if flip[name] == 1 else seen.order[name][::-1]) != order:
            return None
    return {name: direction + (0 if flip[name] == 1 else 180) for name, direction in world.items()}


def from_points(points: dict[str, Place], lines: dict[str, str]) -> Figure | None:
    """A figure of lines through named points (`{"l": "AB"}`); every point with two or more lines on it is a named meet."""
    made: dict[str, tuple[Number, tuple[Number, Number]]] = {}
    for name, ends in lines.items():
        (ax, ay), (bx, by) = points[ends[0]], points[ends[-1]]
        # Rounded as a body is written: what we measure is what was sent.
        made[name] = (_decimal(degrees(atan2(by - ay, bx - ax))) % 180, (_decimal(ax), _decimal(ay)))
    meets = {point: tuple(name for name, ends in lines.items() if point in ends) for point in points}
    meets = {point: through for point, through in meets.items() if len(through) > 1}
    figure = Figure(made, meets)
    return figure if figure.facts.angle > 4 and figure.facts.gap > 0.12 and figure.facts.miss < 1e-6 else None
