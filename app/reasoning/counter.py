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
from typing import TYPE_CHECKING

from app.figure.model import Figure
from app.figure.numbers import show_number
from app.reasoning.linear import Flat, Row, roomiest
from app.reasoning.realise import realise
from app.reasoning.terms import SQUARE

if TYPE_CHECKING:
    from app.reasoning.follows import _Decision
    from app.reasoning.frame import Frame

__all__ = ["Counterexample", "counterexample"]

PLAIN = 24  # degrees: no figure needs to fail by more
ENOUGH = 12
ROOM = 6
MOST_SIGNS = 4


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
        from app.figure.model import figure_to_json

        body: dict[str, object] = {
            "lines": {name: show_number(value) for name, value in self.directions.items()},
            "unknowns": {name: show_number(value) for name, value in self.unknowns.items()},
            "measures": {name: show_number(value) for name, value in self.measures.items()},
        }
        if self.figure is not None:
            body["figure"] = figure_to_json(self.figure)
        return body


def counterexample(
    decision: _Decision, flat: Flat, off: Sequence[Row], turn: int, rest: int,
) -> Counterexample | None:
    """A point of the flat inside all bounds and off the rows of `off` (and off every multiple of 180 for rows with
    `turn`, measured from `rest`); None where there is none.
    """
    frame = decision.frame
    free = flat.free()
    first = None
    for values in _points(decision, flat, off, turn, rest, free):
        point = flat.point(values)
        lines = len(frame.lines)
        found = Counterexample(
            frame, dict(zip(frame.lines, point[:lines], strict=True)),
            {name: point[column] for name, column in decision.unknowns.items() if not name.endswith(SQUARE)},
            decision.spoken(),
        )
        if found.drawable:
            return found
        first = first or found
    return first


def _points(
    decision: _Decision, flat: Flat, off: Sequence[Row], turn: int, rest: int, free: Sequence[int],
) -> Iterator[list[Fraction]]:
    """Candidate points, as values of all columns, the plainest nearest to the drawing first."""
    frame = decision.frame
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
    away = [_away(decision, flat, row, turn, rest, free) for row in off]
    away += [_away(decision, flat, row, 180, 0, free) for row in decision.unequal]
    away = [one for one in away if any(one.a)]
    for walls in ([*bounds, *box], bounds):
        options = []
        for signs in product((1, -1), repeat=min(len(away), MOST_SIGNS)):
            sides = [
                ([x * sign for x in one.a], one.b * sign, one.w) for one, sign in zip(away, signs, strict=False)
            ]
            room, best = roomiest([*walls, *sides], len(free), PLAIN)
            if room > 0:
                options.append((room, best))
        options.sort(key=lambda option: -option[0])
        for room, best in options:
            yield from _nicest(walls, away, room, best, free, drawn)


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


def _away(decision: _Decision, flat: Flat, row: Row, turn: int, rest: int, free: Sequence[int]) -> _Away:
    """A row to keep off; of parallels, off the multiple of 180 nearest to the drawing."""
    a, b, w = decision.from_drawn(flat, row, free)
    if turn:
        value = b / w - rest
        b = (value - turn * round(value / turn)) * w
    return _Away(a, b, w, turn)


def _nicest(
    walls: Sequence[tuple[list[Fraction], Fraction, int]], away: Sequence[_Away], room: Fraction,
    best: Sequence[Fraction], free: Sequence[int], drawn: Sequence[Fraction],
) -> Iterator[list[Fraction]]:
    """Points on the way from the drawing to the roomiest one: plain and round ones first, then any that will do."""
    keep, plain = min(room / 2, Fraction(ROOM)), min(room / 2, Fraction(ENOUGH))

    def values(step: Fraction, grain: int) -> list[Fraction]:
        point = list(drawn)
        for column, move in zip(free, best, strict=True):
            value = drawn[column] + step * move
            point[column] = Fraction(round(value / grain) * grain) if grain else value
        return point

    def slack(point: Sequence[Fraction]) -> tuple[Fraction, Fraction]:
        """The least distance from a wall, and the least from what it must keep off."""
        moves = [point[column] - drawn[column] for column in free]
        inside = min((sum((x * u for x, u in zip(a, moves, strict=True)), b) / w for a, b, w in walls), default=keep)
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
