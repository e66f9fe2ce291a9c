"""How far a construction has come, in the trade's steps: the deepest chain of them that the drawing holds.

A step is a test on the objects as drawn: which arc, which marked crossing. Tests bind letters (the arc about
V, the mark on the first side, …), so every order and every opening is found; the chain that gets furthest is
taken.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator
from dataclasses import dataclass

from app.construction.arithmetic import P
from app.construction.moves import Program
from app.construction.plane import Circle, Straight, cross, dot, minus, square
from app.construction.replay import Drawing
from app.construction.start import Start

__all__ = ["ROUTES", "Progress", "Step", "progress", "steps_of"]

Bound = dict[str, str]
Find = Callable[["Scene", "dict[str, str]"], "Iterator[dict[str, str]]"]
ROUTES = ("any", "corresponding", "alternate interior", "rhombus")
MOST_VISITS = 3000
SAME = 1e-8


@dataclass(frozen=True)
class Step:
    """`key` names the sentence that says what to do; `find` yields the objects that do it."""

    key: str
    find: Find


@dataclass(frozen=True)
class Progress:
    """`done` steps of the chain `chain` are there; `missing` is the key of the next `step`, "" where all are."""

    chain: str
    done: int
    of: int
    missing: str
    bound: Bound
    step: Step | None = None


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
            crossed = [q for q in scene.points if q != bound["W"] and scene.carries(line, q)
                       and scene.in_line(q, bound["A"], bound["B"])]
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


COPY = (
    Step("copy_arc", arc_at("a", "V")),
    Step("copy_mark_first", mark("M", "a", "V", "one", ray=True)),
    Step("copy_mark_second", mark("N", "a", "V", "two", ray=True)),
    Step("copy_same_arc", arc_at("b", "W", like="a")),
    Step("copy_mark_ray", mark("D", "b", "W", "S", ray=True)),
    Step("copy_span", span("c", "D", "M", "N")),
    Step("copy_mark_span", crossing("E", "b", "c")),
    Step("copy_side", joined("W", "E")),
)
PARALLEL = (
    Step("parallel_transversal", transversal),
    Step("parallel_foot", crossed),
    Step("parallel_arc", arc_at("a", "V")),
    Step("parallel_mark_transversal", mark("M", "a", "V", "W")),
    Step("parallel_mark_line", mark("N", "a", "A", "B")),
    Step("parallel_same_arc", arc_at("b", "W", like="a")),
    Step("parallel_mark_copy", mark("D", "b", "V", "W")),
    Step("parallel_span", span("c", "D", "M", "N")),
    Step("parallel_mark_span", crossing("E", "b", "c")),
    Step("parallel_line", joined("W", "E")),
)
RHOMBUS = (
    Step("rhombus_arc", rhombus_first),
    Step("rhombus_mark", mark("N", "a", "A", "B")),
    Step("rhombus_from_point", arc_at("b", "W", like="a")),
    Step("rhombus_from_mark", arc_at("c", "N", like="a")),
    Step("rhombus_crossing", crossing("E", "b", "c", besides="V")),
    Step("parallel_line", joined("W", "E")),
)
BISECT_ANGLE = (
    Step("bisect_arc", arc_at("a", "V")),
    Step("bisect_mark_first", mark("M", "a", "V", "one", ray=True)),
    Step("bisect_mark_second", mark("N", "a", "V", "two", ray=True)),
    Step("bisect_from_first", arc_at("b", "M")),
    Step("bisect_from_second", arc_at("c", "N", like="b")),
    Step("bisect_crossing", crossing("E", "b", "c", besides="V")),
    Step("bisect_ray", joined("V", "E")),
)
BISECT_SEGMENT = (
    Step("halve_from_first", arc_at("b", "A")),
    Step("halve_from_second", arc_at("c", "B", like="b")),
    Step("halve_crossing", crossing("E", "b", "c")),
    Step("halve_other_crossing", crossing("F", "b", "c", besides="E")),
    Step("halve_line", joined("E", "F")),
)
PERPENDICULAR = (
    Step("perpendicular_arc", arc_at("a", "W")),
    Step("perpendicular_mark_first", mark("M", "a", "A", "B")),
    Step("perpendicular_mark_second", mark("N", "a", "A", "B", besides="M")),
    Step("perpendicular_from_first", arc_at("b", "M")),
    Step("perpendicular_from_second", arc_at("c", "N", like="b")),
    Step("perpendicular_crossing", crossing("E", "b", "c", besides="W")),
    Step("perpendicular_line", joined("W", "E")),
)
# Two other ways that classes find: a kite over the line, and a perpendicular to a perpendicular.
KITE = (
    Step("kite_first", kite_arc("b", "M")),
    Step("kite_second", kite_arc("c", "N", besides="M")),
    Step("kite_crossing", crossing("E", "b", "c", besides="W")),
    Step("perpendicular_line", joined("W", "E")),
)
TWO_PERPENDICULARS = (
    *PERPENDICULAR,
    Step("again_arc", arc_at("d", "W")),
    Step("again_mark_first", mark("F", "d", "W", "E")),
    Step("again_mark_second", mark("G", "d", "W", "E", besides="F")),
    Step("again_from_first", arc_at("e", "F")),
    Step("again_from_second", arc_at("f", "G", like="e")),
    Step("again_crossing", crossing("H", "e", "f", besides="W")),
    Step("again_line", joined("W", "H")),
)


SEGMENT = (
    Step("segment_arc", span("c", "W", "A", "B")),
    Step("segment_mark", mark_on("E", "c")),
    Step("segment_side", joined("W", "E", ends=True)),
)


def steps_of(start: Start, route: str = "any") -> dict[str, tuple[Step, ...]]:
    """The chains of steps by which the task can be done; by that route only, where one is asked for."""
    if start.task == "parallel through a point":
        if route == "rhombus":
            return {"rhombus": RHOMBUS}
        every = {"parallel": PARALLEL, "rhombus": RHOMBUS, "two perpendiculars": TWO_PERPENDICULARS}
        return every if route == "any" else {"parallel": PARALLEL}
    chains: dict[str, dict[str, tuple[Step, ...]]] = {
        "copy an angle": {"copy": COPY},
        "copy a segment": {"segment": SEGMENT},
        "bisect an angle": {"bisect": BISECT_ANGLE},
        "bisect a segment": {"halve": BISECT_SEGMENT},
        "perpendicular through a point": {"perpendicular": PERPENDICULAR, "kite": KITE},
    }
    return chains[start.task]


def letters(start: Start) -> Bound:
    """The givens under the letters of the steps: V vertex, one and two on its sides, W the new vertex, A B
    the line.
    """
    bound: Bound = {}
    if start.angle:
        bound.update(one=start.angle[0], V=start.angle[1], two=start.angle[2])
    if start.ray:
        bound.update(W=start.ray[0], S=start.ray[1])
    if start.line:
        bound.update(A=start.line[0], B=start.line[1], W=start.point)
    if start.segment:
        bound.update(A=start.segment[0], B=start.segment[1])
        if start.point:
            bound.update(W=start.point)
    return bound


def progress(program: Program, drawing: Drawing, route: str = "any") -> Progress:
    """The chain that has come furthest, and its next step. `drawing` is a replay in floats, as drawn."""
    scene = Scene(program, drawing)
    best = furthest(scene, steps_of(program.start, route))
    if program.compass == "modern" or not best.missing:
        return best
    # What equal arcs and spans are for is the same with either compass; how to come by them is not.
    from app.construction.steps_own import own_steps

    return furthest(scene, own_steps(program.start, route))


def furthest(scene: Scene, chains: dict[str, tuple[Step, ...]]) -> Progress:
    best: Progress | None = None
    for name, chain in chains.items():
        done, bound = deepest(chain, scene, letters(scene.start))
        step = chain[done] if done < len(chain) else None
        found = Progress(name, done, len(chain), step.key if step else "", bound, step)
        if best is None or found.done / found.of > best.done / best.of:
            best = found
    assert best is not None
    return best


def deepest(chain: tuple[Step, ...], scene: Scene, bound: Bound) -> tuple[int, Bound]:
    """How many steps of the chain can be found one after the other, and what they bind."""
    best: tuple[int, Bound] = (0, bound)
    visits = 0
    stack: list[tuple[int, Bound]] = [best]
    while stack and visits < MOST_VISITS:
        done, bound = stack.pop()
        visits += 1
        if done > best[0]:
            best = (done, bound)
        if done == len(chain):
            break
        # Newest objects last on the stack are tried first: students mend by doing again.
        stack.extend((done + 1, more) for more in chain[done].find(scene, bound))
    return best
