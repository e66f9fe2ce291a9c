"""The other figure: directions in which every given holds and the claim visibly fails.

The search works in the free columns of a flat, measured from the drawing, and asks for a point that keeps away
from every bound and from the claim; then it walks back toward the drawing and to round numbers as far as
the failure stays plain.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from fractions import Fraction
from functools import cached_property
from itertools import product

from app.figure.model import Figure, figure_to_json
from app.figure.numbers import show_number
from app.reasoning.budget import Spent
from app.reasoning.directions import Directions, Off
from app.reasoning.frame import Frame
from app.reasoning.linear import Flat, roomiest
from app.reasoning.real import real_points
from app.reasoning.realise import realise
from app.reasoning.terms import SQUARE

__all__ = ["SEEN", "Counterexample", "as_drawn", "counterexample", "solved"]

PLAIN = 24  # degrees: no figure needs to fail by more
ENOUGH = 12
SEEN = Fraction(8)  # a failure that is seen from the last row of the room
ROOM = 6
MOST_SIGNS = 4
MOST_DRAWN = 10  # figures tried for one flat
# How much less room is asked at the walls than off the claim: first plain figures, then any.
LESS = (4, 48)
BOX = 48


@dataclass
class Counterexample:
    """Directions of the lines in degrees (kept near the drawn ones, so that l+ still means l+), values of the
    unknowns, and the measure of every angle spoken of.
    """

    frame: Frame
    directions: dict[str, Fraction]
    unknowns: dict[str, Fraction]
    spoken: tuple[str, ...] = ()

    @cached_property
    def measures(self) -> dict[str, Fraction]:
        """Measures by angle name, for the figure's angles and those that statements named."""
        values = list(self.directions.values())
        return {atom[1:]: self.frame.measure(atom, values) for atom in self.spoken or self.frame.named}

    @cached_property
    def figure(self) -> Figure | None:
        """A whole figure with these directions and the drawn order, where one was found."""
        return realise(self.frame, list(self.directions.values()))

    @property
    def drawable(self) -> bool:
        return self.figure is not None

    def to_json(self) -> dict[str, object]:
        body: dict[str, object] = {
            "lines": {name: show_number(value) for name, value in self.directions.items()},
            "unknowns": {name: show_number(value) for name, value in self.unknowns.items()},
            "measures": {name: show_number(value) for name, value in self.measures.items()},
        }
        if self.figure is not None:
            body["figure"] = figure_to_json(self.figure)
        return body


def counterexample(decision: Directions, flat: Flat, away: Sequence[Off]) -> tuple[Counterexample, Fraction] | None:
    """A drawable point of the flat inside all bounds and off what it must fail, and how far off (in degrees): the first
    that is seen to fail, else the one farthest off; None where none was found.
    """
    best: tuple[Counterexample, Fraction] | None = None
    drawn = 0
    try:
        for values in _points(decision, flat, away):
            point = flat.point(values)
            off = distance(point, away)
            if best is not None and off <= best[1]:
                continue
            found = made(decision, point)
            drawn += 1
            if found.drawable:
                best = found, off
                if off >= SEEN:
                    break
            if drawn == MOST_DRAWN:
                break
    except Spent:
        if best is None:
            raise
    return best


def as_drawn(decision: Directions, flat: Flat, away: Sequence[Off]) -> tuple[Counterexample, Fraction] | None:
    """The same from the drawing itself, turned no more than the flat asks: a crowded order that moving would break."""
    frame = decision.frame
    point = flat.point([*frame.directions, *([Fraction(0)] * (decision.width - len(frame.lines)))])
    off = distance(point, away)
    if off < SEEN or any(point[j] - point[i] + c <= 0 for j, i, c in frame.bounds):
        return None
    figure = realise(frame, point[: len(frame.lines)], roomy=False)
    if figure is None:
        return None
    found = made(decision, point)
    found.__dict__["figure"] = figure  # the cached property, already known
    return found, off


def solved(
    decision: Directions,
    flat: Flat,
    away: Sequence[Off],
    numbers: Sequence[int],
) -> tuple[Counterexample, Fraction] | None:
    """The same, by solving for directions and places together from the starts of these numbers."""
    best: tuple[Counterexample, Fraction] | None = None
    try:
        for point, figure, off in real_points(decision, flat, away, numbers):
            if best is None or off > best[1]:
                found = made(decision, point)
                found.__dict__["figure"] = figure  # the cached property, already known
                best = found, off
                if off >= SEEN:
                    break
    except Spent:
        if best is None:
            raise
    return best


def made(decision: Directions, point: Sequence[Fraction]) -> Counterexample:
    """The counterexample at a point of the flat."""
    frame = decision.frame
    return Counterexample(
        frame,
        dict(zip(frame.lines, point[: len(frame.lines)], strict=True)),
        {name: point[column] for name, column in decision.unknowns.items() if not name.endswith(SQUARE)},
        decision.spoken(),
    )


def distance(point: Sequence[Fraction], away: Sequence[Off]) -> Fraction:
    """How far a point is from the nearest of what it must not be."""
    return min((one.distance(one.value(point)) for one in away), default=Fraction(PLAIN))


def _points(decision: Directions, flat: Flat, off: Sequence[Off]) -> Iterator[list[Fraction]]:
    """Candidate points, as values of all columns, the plainest nearest to the drawing first."""
    frame = decision.frame
    free = flat.free()
    lines, width = len(frame.lines), decision.width
    drawn = [*frame.directions, *([Fraction(0)] * (width - lines))]
    bounds = decision.bounds(flat)
    box = []
    for column in range(lines):
        for sign, constant in ((1, 0), (-1, 180)):
            row = [0] * (width + 1)
            row[column], row[-1] = sign, constant
            # Directions stay in [0, 180) where they can, so that the answer reads like any figure.
            box.append(decision.from_drawn(flat, row, free))
    away = [one for one in (_away(decision, flat, one, free) for one in off) if any(one.a)]
    for walls, extra, less in ((bounds, box, LESS[0]), (bounds, [], LESS[0]), (bounds, [], LESS[1])):
        asked = [*_wider(walls, less), *_wider(extra, BOX)]
        options = []
        for signs in product((1, -1), repeat=min(len(away), MOST_SIGNS)):
            sides = [([x * sign for x in one.a], one.b * sign, one.w) for one, sign in zip(away, signs, strict=False)]
            room, best = roomiest([*asked, *sides], len(free), PLAIN)
            if room > 0:
                options.append((room, best))
        options.sort(key=lambda option: -option[0])
        for room, best in options:
            yield from _nicest(walls, extra, room / (2 * less), away, room, best, free, drawn)


Wall = tuple[list[Fraction], Fraction, int]


def _wider(walls: Sequence[Wall], less: int) -> list[Wall]:
    """Walls that ask `less` times less room."""
    return [([x * less for x in a], b * less, w) for a, b, w in walls]


@dataclass(frozen=True)
class _Away:
    """A quantity (a·u + b) / w, u measured from the drawing, that must not be 0 nor a multiple of `turn` (if any)."""

    a: list[Fraction]
    b: Fraction
    w: int
    turn: int

    def distance(self, moves: Sequence[Fraction]) -> Fraction:
        """How far from what it must not be."""
        value = sum((x * u for x, u in zip(self.a, moves, strict=True)), self.b) / self.w
        return abs(value - self.turn * round(value / self.turn)) if self.turn else abs(value)


def _away(decision: Directions, flat: Flat, one: Off, free: Sequence[int]) -> _Away:
    """A row to keep off; of parallels, off the multiple of 180 nearest to the drawing."""
    a, b, w = decision.from_drawn(flat, one.row, free)
    if one.turn:
        value = b / w - one.rest
        b = (value - one.turn * round(value / one.turn)) * w
    return _Away(a, b, w, one.turn)


def _nicest(
    walls: Sequence[Wall],
    box: Sequence[Wall],
    keep: Fraction,
    away: Sequence[_Away],
    room: Fraction,
    best: Sequence[Fraction],
    free: Sequence[int],
    drawn: Sequence[Fraction],
) -> Iterator[list[Fraction]]:
    """Points on the way from the drawing to the roomiest one: plain and round ones first, then any that will do."""
    keep, plain = min(keep, Fraction(ROOM)), min(max(room / 2, min(room, SEEN)), Fraction(ENOUGH))

    def values(step: Fraction, grain: int) -> list[Fraction]:
        point = list(drawn)
        for column, move in zip(free, best, strict=True):
            value = drawn[column] + step * move
            point[column] = Fraction(round(value / grain) * grain) if grain else value
        return point

    def slack(point: Sequence[Fraction]) -> tuple[Fraction, Fraction]:
        """The least distance from a wall, and the least from what it must keep off."""
        moves = [point[column] - drawn[column] for column in free]

        def within(some: Sequence[Wall], default: Fraction) -> Fraction:
            values = (sum((x * u for x, u in zip(a, moves, strict=True)), b) / w for a, b, w in some)
            return min(values, default=default)

        inside = within(walls, keep)
        if within(box, keep) < 0:
            inside = Fraction(-1)
        return inside, min((one.distance(moves) for one in away), default=plain)

    for step in (Fraction(0), Fraction(1, 4), Fraction(1, 2), Fraction(3, 4), Fraction(1)):
        for grain in (5, 1, 0):
            point = values(step, grain)
            inside, off = slack(point)
            if inside >= keep and off >= plain:
                yield point
                break
    for step in (Fraction(1), Fraction(49, 50), Fraction(19, 20), Fraction(9, 10), Fraction(4, 5)):
        point = values(step, 0)
        inside, off = slack(point)
        if inside > 0 and off > 0:
            yield point
