"""The objects of a drawing, and the tests on them that the steps of both compasses are made of.

A test binds letters (the arc about V, the mark on the first side, …) to what it finds; it yields every way that it
can be met.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from app.construction.arithmetic import P
from app.construction.moves import Program
from app.construction.plane import Circle, Straight, cross, dot, minus, square
from app.construction.replay import Drawing
from app.construction.start import Start

__all__ = [
    "ArcAt",
    "Bound",
    "Crossing",
    "Find",
    "Joined",
    "Mark",
    "Scene",
    "Step",
    "arc_at",
    "crossed",
    "crossing",
    "joined",
    "kite_arc",
    "mark",
    "mark_on",
    "rhombus_first",
    "span",
    "transversal",
]

Bound = dict[str, str]
Find = Callable[["Scene", "dict[str, str]"], "Iterator[dict[str, str]]"]
SAME = 1e-8


@dataclass(frozen=True)
class Step:
    """`key` names the sentence that says what to do; `find` yields the objects that do it."""

    key: str
    find: Find


class Scene:
    """The drawn objects by sort, and tests with a drawing's tolerance."""

    def __init__(self, program: Program, drawing: Drawing) -> None:
        self.start: Start = program.start
        values = drawing.values
        self.points: dict[str, P] = {n: v for n, v in values.items() if isinstance(v, tuple)}
        self.arcs: dict[str, Circle] = {n: v for n, v in values.items() if isinstance(v, Circle)}
        given = {n: v for n, v in values.items() if isinstance(v, Straight)}
        self.drawn: dict[str, Straight] = {m.name: given[m.name] for m in program.moves if m.name in given}
        self.scale = max(program.start.size(), 1e-9)

    def same(self, a: P, b: P) -> bool:
        return bool(square(minus(a, b)) <= (SAME * self.scale) ** 2)

    def on_arc(self, point: str, arc: str) -> bool:
        circle = self.arcs[arc]
        off = square(minus(self.points[point], circle.c)) - circle.s
        return bool(abs(off) <= SAME * (circle.s + self.scale**2))

    def in_line(self, point: str, a: str, b: str) -> bool:
        """On the whole line through two points."""
        way, out = minus(self.points[b], self.points[a]), minus(self.points[point], self.points[a])
        return bool(cross(way, out) ** 2 <= (SAME * self.scale) ** 2 * square(way))

    def in_ray(self, point: str, a: str, b: str) -> bool:
        way, out = minus(self.points[b], self.points[a]), minus(self.points[point], self.points[a])
        return self.in_line(point, a, b) and bool(dot(way, out) > 0)

    def arcs_at(self, center: str) -> Iterator[str]:
        for name, circle in self.arcs.items():
            if self.same(circle.c, self.points[center]):
                yield name

    def equal(self, arc: str, other: str) -> bool:
        a, b = self.arcs[arc].s, self.arcs[other].s
        return bool(abs(a - b) <= SAME * (a + b))

    def spans(self, arc: str, a: str, b: str) -> bool:
        """Whether the arc's opening is the distance from a to b."""
        long, s = square(minus(self.points[a], self.points[b])), self.arcs[arc].s
        return bool(abs(long - s) <= SAME * (long + s)) and long > 0

    def carries(self, line: Straight, point: str) -> bool:
        off = cross(line.way, minus(self.points[point], line.p))
        return bool(off**2 <= (SAME * self.scale) ** 2 * square(line.way))

    def joining(self, a: str, b: str) -> Iterator[str]:
        if not self.same(self.points[a], self.points[b]):
            for name, line in self.drawn.items():
                if self.carries(line, a) and self.carries(line, b):
                    yield name

    def ends_at(self, line: Straight, a: str, b: str) -> bool:
        p, q = self.points[a], self.points[b]
        there = (self.same(line.p, p) and self.same(line.q, q)) or (self.same(line.p, q) and self.same(line.q, p))
        return line.kind == "segment" and there


@dataclass(frozen=True)
class ArcAt:
    """An arc about the point bound to `center`; with `like`, of the same opening as that arc."""

    letter: str
    center: str
    like: str = ""
    unlike: str = ""

    def __call__(self, scene: Scene, bound: Bound) -> Iterator[Bound]:
        for name in scene.arcs_at(bound[self.center]):
            if (not self.like or scene.equal(name, bound[self.like])) and name != bound.get(self.unlike):
                yield {**bound, self.letter: name}


def arc_at(letter: str, center: str, like: str = "", unlike: str = "") -> Find:
    return ArcAt(letter, center, like, unlike)


@dataclass(frozen=True)
class Mark:
    """A named point where the arc crosses the line (or the ray) from a through b."""

    letter: str
    arc: str
    a: str
    b: str
    ray: bool = False
    besides: str = ""

    def __call__(self, scene: Scene, bound: Bound) -> Iterator[Bound]:
        test = scene.in_ray if self.ray else scene.in_line
        for name in scene.points:
            fits = scene.on_arc(name, bound[self.arc]) and test(name, bound[self.a], bound[self.b])
            if fits and not (self.besides and scene.same(scene.points[name], scene.points[bound[self.besides]])):
                yield {**bound, self.letter: name}


def mark(letter: str, arc: str, a: str, b: str, *, ray: bool = False, besides: str = "") -> Find:
    return Mark(letter, arc, a, b, ray, besides)


def mark_on(letter: str, arc: str) -> Find:
    """A named point anywhere on the arc."""

    def find(scene: Scene, bound: Bound) -> Iterator[Bound]:
        for name in scene.points:
            if scene.on_arc(name, bound[arc]):
                yield {**bound, letter: name}

    return find


def span(letter: str, center: str, a: str, b: str) -> Find:
    """An arc about `center` with the opening from a to b."""

    def find(scene: Scene, bound: Bound) -> Iterator[Bound]:
        for name in scene.arcs_at(bound[center]):
            if scene.spans(name, bound[a], bound[b]):
                yield {**bound, letter: name}

    return find


@dataclass(frozen=True)
class Crossing:
    """A named point on both arcs."""

    letter: str
    arc: str
    other: str
    besides: str = ""

    def __call__(self, scene: Scene, bound: Bound) -> Iterator[Bound]:
        for name in scene.points:
            apart = not self.besides or not scene.same(scene.points[name], scene.points[bound[self.besides]])
            if apart and scene.on_arc(name, bound[self.arc]) and scene.on_arc(name, bound[self.other]):
                yield {**bound, self.letter: name}


def crossing(letter: str, arc: str, other: str, besides: str = "") -> Find:
    return Crossing(letter, arc, other, besides)


@dataclass(frozen=True)
class Joined:
    """A drawn line, ray or segment along both points; with `ends`, only the segment from one to the other."""

    a: str
    b: str
    ends: bool = False

    def __call__(self, scene: Scene, bound: Bound) -> Iterator[Bound]:
        for name in scene.joining(bound[self.a], bound[self.b]):
            if not self.ends or scene.ends_at(scene.drawn[name], bound[self.a], bound[self.b]):
                yield {**bound, "answer": name}


def joined(a: str, b: str, *, ends: bool = False) -> Find:
    return Joined(a, b, ends)


def transversal(scene: Scene, bound: Bound) -> Iterator[Bound]:
    """A drawn line through P, and a named point Q where it meets the given line."""
    for name, line in scene.drawn.items():
        if scene.carries(line, bound["W"]):
            crossed = [
                q
                for q in scene.points
                if q != bound["W"] and scene.carries(line, q) and scene.in_line(q, bound["A"], bound["B"])
            ]
            if not crossed:
                yield {**bound, "t": name}
            for q in crossed:
                yield {**bound, "t": name, "V": q}


def crossed(scene: Scene, bound: Bound) -> Iterator[Bound]:
    if "V" in bound:
        yield bound


def rhombus_first(scene: Scene, bound: Bound) -> Iterator[Bound]:
    """An arc about a point of the line, through P."""
    for center in scene.points:
        if scene.in_line(center, bound["A"], bound["B"]):
            for arc in scene.arcs_at(center):
                if scene.on_arc(bound["W"], arc):
                    yield {**bound, "V": center, "a": arc}


def kite_arc(letter: str, at: str, besides: str = "") -> Find:
    """An arc about a point of the line, through P off the line."""

    def find(scene: Scene, bound: Bound) -> Iterator[Bound]:
        if scene.in_line(bound["W"], bound["A"], bound["B"]):
            return
        for center, place in scene.points.items():
            if not scene.in_line(center, bound["A"], bound["B"]):
                continue
            if besides and scene.same(place, scene.points[bound[besides]]):
                continue
            for arc in scene.arcs_at(center):
                if scene.on_arc(bound["W"], arc):
                    yield {**bound, at: center, letter: arc}

    return find
