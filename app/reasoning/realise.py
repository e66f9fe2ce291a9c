"""From directions to a figure: places for the lines that keep the drawn order along each of them.

With directions fixed, where lines l and m cross is linear in the lines' offsets, so the order of meets along a
line is a set of linear inequalities in the offsets, and a meet of three lines an equation. Offsets are
found by stepping, from the drawing, across each inequality that fails, inside the equations' space. Floats:
this places what was decided exactly.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from itertools import combinations
from math import cos, floor, hypot, log10, radians, sin
from typing import TYPE_CHECKING

from app.figure.faults import Fault
from app.figure.model import Angle, Figure, Line, Meet, Ray, figure_from_json, figure_to_json
from app.reasoning.budget import spend

if TYPE_CHECKING:
    from app.reasoning.frame import Frame

__all__ = ["figure_of", "realise"]

ROUNDS = 400
SMALL = 1e-9
GAP = 5e-4  # of the figure's size: meets that lie nearer to each other can't be told apart
NEAR = 5e-10  # of the figure's size: how well lines that meet in one point do so, whichever two are taken


def realise(frame: Frame, directions: Sequence[Fraction], roomy: bool = True) -> Figure | None:
    """A figure with these directions (near the drawn ones, not reduced) and the drawn order; None if none was found.
    With `roomy` false, the lines are only turned about the points that they were drawn through.
    """
    fig = frame.fig
    units = [_unit(d) for d in directions]
    offsets = [_offset(line, unit) for line, unit in zip(fig.lines.values(), units, strict=True)]
    if not roomy:
        return figure_of(frame, directions, units, offsets)
    equations, walls = _conditions(frame, units, _sizes(frame))
    if equations is None:
        return None
    settled = _settle(offsets, equations, walls)
    return None if settled is None else figure_of(frame, directions, units, settled)


def _unit(direction: Fraction) -> tuple[float, float]:
    turn = radians(float(direction % 360))
    return cos(turn), sin(turn)


def _offset(line: Line, unit: tuple[float, float]) -> float:
    """The offset of a line with the new direction through the old line's point."""
    x, y = float(line.through[0]), float(line.through[1])
    return -unit[1] * x + unit[0] * y


def _sizes(frame: Frame) -> float:
    """A length to keep meets apart by: a fifth of the figure's spread, less where many lie on one line."""
    places = [frame.fig.meets[name].at for name in frame.meets]
    if len(places) < 2:
        return 1.0
    most = max(len(frame.fig.order(line)) for line in frame.lines)
    return max(spread_of(places), 1e-6) / max(5, most)


def spread_of(places: Sequence[tuple[float, float]]) -> float:
    """The larger side of the box round some places."""
    xs, ys = [x for x, _ in places] or [0.0], [y for _, y in places] or [0.0]
    return max(max(xs) - min(xs), max(ys) - min(ys))


def _conditions(
    frame: Frame,
    units: Sequence[tuple[float, float]],
    apart: float,
) -> tuple[list[list[float]] | None, list[tuple[list[float], float]]]:
    """Equations (rows over offsets, = 0) and inequalities (row, least value)."""
    count = len(units)
    equations: list[list[float]] = []
    rays: dict[tuple[str, int], list[float]] = {}
    for name in frame.meets:
        lines = [frame.index[line] for line in frame.fig.meets[name].lines]
        i, j = lines[0], lines[1]
        cross = units[i][0] * units[j][1] - units[i][1] * units[j][0]
        if abs(cross) < SMALL:
            return None, []
        # The point X with n_i·X = b_i and n_j·X = b_j is (b_i·u_j - b_j·u_i) / cross.
        place_x, place_y = [0.0] * count, [0.0] * count
        place_x[i], place_x[j] = units[j][0] / cross, -units[i][0] / cross
        place_y[i], place_y[j] = units[j][1] / cross, -units[i][1] / cross
        for k in lines[2:]:
            row = [-units[k][1] * x + units[k][0] * y for x, y in zip(place_x, place_y, strict=True)]
            row[k] -= 1
            equations.append(row)
        for k in lines:
            rays[name, k] = [units[k][0] * x + units[k][1] * y for x, y in zip(place_x, place_y, strict=True)]
    walls: list[tuple[list[float], float]] = []
    for line, k in frame.index.items():
        order = [name for name in frame.fig.order(line) if name in frame.meets]
        for before, after in zip(order, order[1:], strict=False):
            walls.append(([b - a for a, b in zip(rays[before, k], rays[after, k], strict=True)], apart))
    return equations, walls


def _settle(
    offsets: list[float],
    equations: Sequence[Sequence[float]],
    walls: Sequence[tuple[Sequence[float], float]],
) -> list[float] | None:
    """Offsets that satisfy the equations and reach every wall, by repeated projection; None if that doesn't settle."""
    basis: list[list[float]] = []
    for row in equations:
        basis = _with(basis, row)
    now = _project(offsets, basis)
    flat_walls = []
    for row, least in walls:
        inside = _project(row, basis)
        size = sum(x * x for x in inside)
        if size < SMALL:
            return None
        flat_walls.append((inside, size, least))
    worst = 1.0
    for _ in range(ROUNDS):
        spend(2 + len(flat_walls) * (len(now) + 8) // 8)
        worst = 0.0
        for row, size, least in flat_walls:
            lack = least - sum(a * b for a, b in zip(row, now, strict=True))
            if lack > 0:
                worst = max(worst, lack / least)
                step = 1.2 * lack / size
                now = [x + step * a for x, a in zip(now, row, strict=True)]
        if worst < 0.6:
            return _project(now, basis)
    # A crowded figure: what only keeps the order will do.
    return _project(now, basis) if worst < 0.95 else None


def _with(basis: list[list[float]], row: Sequence[float]) -> list[list[float]]:
    rest = _project(row, basis)
    size = sum(x * x for x in rest) ** 0.5
    if size < 1e-7:
        return basis
    return [*basis, [x / size for x in rest]]


def _project(vector: Sequence[float], basis: Sequence[Sequence[float]]) -> list[float]:
    """The part of the vector at right angles to all of the basis."""
    rest = list(vector)
    for row in basis:
        k = sum(a * b for a, b in zip(rest, row, strict=True))
        rest = [a - k * b for a, b in zip(rest, row, strict=True)]
    return rest


def figure_of(
    frame: Frame,
    directions: Sequence[Fraction],
    units: Sequence[tuple[float, float]],
    offsets: Sequence[float],
) -> Figure | None:
    """The figure, at the drawn size and place; None where its order as read back is not the drawn one."""
    fig = frame.fig
    places = {}
    for name in frame.meets:
        # Of three or more lines, the two that cross most squarely place the meet.
        cross, i, j = max(
            (
                (units[i][0] * units[j][1] - units[i][1] * units[j][0], i, j)
                for i, j in combinations([frame.index[line] for line in fig.meets[name].lines], 2)
            ),
            key=lambda one: abs(one[0]),
        )
        places[name] = (
            (offsets[i] * units[j][0] - offsets[j] * units[i][0]) / cross,
            (offsets[i] * units[j][1] - offsets[j] * units[i][1]) / cross,
        )
    # Where three lines are to go through one point, the points that place them are given as finely as floats go.
    fine = 10**13 if frame.threes else 10 ** max(4, 5 - floor(log10(max(_sizes(frame), SMALL))))
    grow, shift, back = _fit(list(places.values()), [fig.meets[name].at for name in frame.meets])

    def moved(x: float, y: float) -> tuple[Fraction, Fraction]:
        return (
            Fraction(round(((x - shift[0]) * grow + back[0]) * fine), fine),
            Fraction(round(((y - shift[1]) * grow + back[1]) * fine), fine),
        )

    flipped = {name for name, d in zip(frame.lines, directions, strict=True) if (d // 180) % 2}
    lines = {}
    for name, direction, unit, offset in zip(frame.lines, directions, units, offsets, strict=True):
        # The line's point nearest to the middle of its meets, or to the figure's middle.
        mine = [places[meet] for meet in frame.meets if name in fig.meets[meet].lines] or [shift]
        middle = sum(x for x, _ in mine) / len(mine), sum(y for _, y in mine) / len(mine)
        away = offset - (-unit[1] * middle[0] + unit[0] * middle[1])
        x, y = middle[0] - unit[1] * away, middle[1] + unit[0] * away
        lines[name] = Line(name, direction % 180, moved(x, y))

    def turned(ray: Ray) -> Ray:
        return ray.back() if ray.line in flipped else ray

    meets = {name: Meet(name, fig.meets[name].lines, _float(moved(*places[name]))) for name in frame.meets}
    angles = {
        name: Angle(name, angle.at, turned(angle.start), turned(angle.end))
        for name, angle in fig.angles.items()
        if angle.at in meets
    }
    spend(200 + 40 * len(meets))
    try:
        made = figure_from_json(figure_to_json(Figure(lines, meets, angles, fig.transversal, None)))
    except Fault:
        return None
    size = max(spread_of([meet.at for meet in made.meets.values()]), 1e-6)
    if any(_apart(made, meet) > NEAR * size for meet in made.meets.values() if len(meet.lines) > 2):
        return None
    for line in frame.lines:
        order = [name for name in fig.order(line) if name in meets]
        if line in flipped:
            order.reverse()
        if list(made.order(line)) != order:
            return None
        for here, there in zip(order, order[1:], strict=False):
            # No nearer than can be told apart, but for meets that are drawn as near.
            drawn = hypot(*(b - a for a, b in zip(fig.meets[here].at, fig.meets[there].at, strict=True)))
            now = made.ruled.along(line, made.meets[there].at) - made.ruled.along(line, made.meets[here].at)
            if now < min(GAP * size, drawn / 4):
                return None
    return made


def _apart(made: Figure, meet: Meet) -> float:
    """How far from a named point two of its lines can cross, whichever two are taken."""
    offs = [(float(made.lines[line].direction), made.ruled.off(line, meet.at)) for line in meet.lines]
    worst = max(abs(off) for _, off in offs)
    for (a, p), (b, q) in combinations(offs, 2):
        # From the named place, the crossing of the two lies at most this far.
        worst = max(worst, (abs(p) + abs(q)) / max(abs(sin(radians(b - a))), 1e-6))
    return worst


def _float(point: tuple[Fraction, Fraction]) -> tuple[float, float]:
    return float(point[0]), float(point[1])


def _fit(
    now: Sequence[tuple[float, float]],
    drawn: Sequence[tuple[float, float]],
) -> tuple[float, tuple[float, float], tuple[float, float]]:
    """(factor, old middle, new middle) that bring places to the drawing's size and middle."""

    def middle(points: Sequence[tuple[float, float]]) -> tuple[float, float]:
        xs, ys = [x for x, _ in points], [y for _, y in points]
        return (min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2

    if not now:
        return 1.0, (0.0, 0.0), (0.0, 0.0)
    old, new = spread_of(now), spread_of(drawn)
    grow = new / old if old > SMALL and new > SMALL else 1.0
    return grow, middle(now), middle(drawn)
