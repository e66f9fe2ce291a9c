"""Finding room: ink already on the page, and the first of many places for a label that keeps clear of it."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, field
from itertools import islice
from typing import Any

import shapely

__all__ = ["Box", "Effort", "Room"]

Place = tuple[float, float]


@dataclass(frozen=True)
class Box:
    """A label's room: its middle, and half its width and height, in pixels."""

    x: float
    y: float
    half_width: float
    half_height: float

    @property
    def edges(self) -> tuple[float, float, float, float]:
        """Left, top, right, bottom."""
        return (
            self.x - self.half_width,
            self.y - self.half_height,
            self.x + self.half_width,
            self.y + self.half_height,
        )


class Effort:
    """How many more places may be looked at: a bound on the work that any figure can ask for."""

    def __init__(self, places: int) -> None:
        self.left = places

    def spend(self, places: int) -> bool:
        """Whether there was that much left; it is spent then."""
        self.left -= places
        return self.left >= 0


@dataclass
class Room:
    """The page and what is on it. `gap` is kept between a new label and all ink."""

    width: float
    height: float
    gap: float
    effort: Effort
    margin: float = 2
    ink: list[Any] = field(default_factory=list)  # shapely geometries: strokes and boxes
    lines: list[object] = field(default_factory=list)  # the figure's lines alone
    meets: list[Any] = field(default_factory=list)  # the dots of its meets
    air: list[object] = field(default_factory=list)  # room that texts keep from texts
    _tree: object = None
    _indexed: int = -1

    def add_stroke(self, points: Sequence[Place], *, line: bool = False) -> None:
        """A stroke of ink through the points; `line` for a line of the figure."""
        stroke = shapely.LineString(points)
        self.ink.append(stroke)
        if line:
            self.lines.append(stroke)

    def add_dot(self, at: Place, radius: float, *, meet: bool = False) -> None:
        """A round spot of ink; `meet` for a meet's dot."""
        dot = shapely.Point(at).buffer(radius, quad_segs=4)
        self.ink.append(dot)
        if meet:
            self.meets.append(dot)

    def add_box(self, box: Box, *, air: bool = False) -> None:
        """A text's room; `air` for room round one that other texts keep off, but no leader."""
        shape = shapely.box(*box.edges)
        self.ink.append(shape)
        if air:
            self.air.append(shape)

    def first_free(
        self, places: Iterable[Place], half: Place, wanted: Callable[[Place], bool] | None = None
    ) -> Place | None:
        """The first wanted place where a label of that half size stands free and on the page.

        Places are looked at a handful at a time, since one of the first nearly always does.
        """
        rest = iter(places)
        many = 12
        while (chunk := list(islice(rest, many))) and self.effort.spend(len(chunk)):
            many = min(2 * many, 192)
            spots = [at for at in chunk if self.inside(*at, half) and (wanted is None or wanted(at))]
            for at, ok in zip(spots, self.free(spots, half), strict=True):
                if ok:
                    return at
        return None

    def free(self, places: Sequence[Place], half: Place) -> list[bool]:
        """For each place on the page, whether a label there keeps the gap from all ink."""
        room = [True] * len(places)
        if places and self.ink:
            boxes = boxes_at([x for x, _ in places], [y for _, y in places], half)
            for i in self.tree().query(boxes, predicate="dwithin", distance=self.gap)[0]:
                room[i] = False
        return room

    def tree(self) -> Any:
        """An index of all ink, made anew when there is more."""
        if self._indexed != len(self.ink):
            self._tree, self._indexed = shapely.STRtree(self.ink), len(self.ink)
        return self._tree

    def inside(self, x: float, y: float, half: Place) -> bool:
        across = half[0] + self.margin <= x <= self.width - half[0] - self.margin
        return across and half[1] + self.margin <= y <= self.height - half[1] - self.margin

    def marks_but(self, at: Place) -> list[Any]:
        """All ink but the figure's lines, and but arcs and the meet that a leader to the place may touch."""
        spot = shapely.Point(at)
        passed = {id(shape) for shape in (*self.lines, *self.air)}
        passed |= {id(dot) for dot in self.meets if dot.contains(spot)}
        rest = [shape for shape in self.ink if id(shape) not in passed]
        strokes = [shape for shape in rest if shape.geom_type == "LineString"]
        touched = {id(stroke) for stroke in strokes if shapely.distance(stroke, spot) <= 2}
        return [shape for shape in rest if id(shape) not in touched]

    @staticmethod
    def index(shapes: Sequence[object]) -> object:
        """Shapes made ready for `clear`."""
        return shapely.STRtree(list(shapes))

    @staticmethod
    def clear(strokes: Sequence[tuple[Place, Place]], of: Any, off: float = 1.0) -> list[bool]:
        """For each stroke, whether it keeps one pixel (or `off`) from all the shapes of an index."""
        clear = [True] * len(strokes)
        if strokes:
            drawn = shapely.linestrings([list(stroke) for stroke in strokes])
            for i in of.query(drawn, predicate="dwithin", distance=off)[0]:
                clear[i] = False
        return clear


def boxes_at(xs: Sequence[float], ys: Sequence[float], half: Place) -> object:
    left, right = [x - half[0] for x in xs], [x + half[0] for x in xs]
    top, bottom = [y - half[1] for y in ys], [y + half[1] for y in ys]
    return shapely.box(left, top, right, bottom)
