"""The steps of each task with a compass that collapses when it is lifted: each circle by its center and one point.

Source: Euclid I.1 (two circles through each other's centers), I.2 (a length moved without carrying it), I.9 to I.12,
I.23, I.31. Where two arcs of one opening are wanted, two circles through each other's centers give them for
nothing; only the span of a copied angle, and a copied segment, take I.2.
"""

from __future__ import annotations

from collections.abc import Iterator

from app.construction.plane import minus, square
from app.construction.scene import (
    Bound,
    Find,
    Scene,
    Step,
    arc_at,
    crossed,
    crossing,
    joined,
    mark,
    rhombus_first,
    transversal,
)
from app.construction.start import Start

__all__ = ["own_steps"]


def arc_through(letter: str, center: str, point: str) -> Find:
    """An arc about the point bound to `center`, through the one bound to `point`."""

    def find(scene: Scene, bound: Bound) -> Iterator[Bound]:
        for name in scene.arcs_at(bound[center]):
            if scene.on_arc(bound[point], name):
                yield {**bound, letter: name}

    return find


def beyond(letter: str, arc: str, a: str, b: str) -> Find:
    """A named point on the arc and on the way from a through b, farther than b."""

    def find(scene: Scene, bound: Bound) -> Iterator[Bound]:
        start, end = scene.points[bound[a]], scene.points[bound[b]]
        for name, at in scene.points.items():
            far = square(minus(at, start)) > square(minus(end, start))
            if far and scene.on_arc(name, bound[arc]) and scene.in_ray(name, bound[a], bound[b]):
                yield {**bound, letter: name}

    return find


def either_end(to: str, a: str, b: str) -> Find:
    """An arc about `to` through one end of the span: X is that end, Y the other."""

    def find(scene: Scene, bound: Bound) -> Iterator[Bound]:
        for x, y in ((bound[a], bound[b]), (bound[b], bound[a])):
            yield from arc_through("p", to, "X")(scene, {**bound, "X": x, "Y": y})

    return find


def side(letter: str, a: str, b: str) -> Find:
    """A drawn line, ray or segment along both points, which is not the answer."""

    def find(scene: Scene, bound: Bound) -> Iterator[Bound]:
        for name in scene.joining(bound[a], bound[b]):
            yield {**bound, letter: name}

    return find


def carry(to: str, a: str, b: str) -> tuple[Step, ...]:
    """Euclid I.2: the length from a to b brought to `to`, where it ends at H."""
    return (
        Step("own_carry_first", either_end(to, a, b)),
        Step("own_carry_second", arc_through("q", "X", to)),
        Step("own_carry_tip", crossing("F", "p", "q")),
        Step("own_carry_side_one", side("s", "F", "X")),
        Step("own_carry_side_two", side("u", "F", to)),
        Step("own_carry_length", arc_through("g", "X", "Y")),
        Step("own_carry_mark", beyond("G", "g", "F", "X")),
        Step("own_carry_large", arc_through("h", "F", "G")),
        Step("own_carry_end", beyond("H", "h", "F", to)),
    )


def arc_to_point(scene: Scene, bound: Bound) -> Iterator[Bound]:
    """The arc about V through W, which is then the mark on the transversal itself."""
    for found in arc_through("a", "V", "W")(scene, bound):
        yield {**found, "M": bound["W"]}


SPAN = (*carry("D", "M", "N"), Step("own_carry_span", arc_through("c", "D", "H")))
COPY = (
    Step("own_copy_arc", arc_through("a", "V", "W")),
    Step("copy_mark_first", mark("M", "a", "V", "one", ray=True)),
    Step("copy_mark_second", mark("N", "a", "V", "two", ray=True)),
    Step("own_copy_same_arc", arc_through("b", "W", "V")),
    Step("copy_mark_ray", mark("D", "b", "W", "S", ray=True)),
    *SPAN,
    Step("copy_mark_span", crossing("E", "b", "c")),
    Step("copy_side", joined("W", "E")),
)


def back_at_foot(scene: Scene, bound: Bound) -> Iterator[Bound]:
    """The copy in the alternate place has its mark where the transversal meets the given line."""
    yield {**bound, "D": bound["V"]}


def parallel(copy: Find) -> tuple[Step, ...]:
    return (
        Step("parallel_transversal", transversal),
        Step("parallel_foot", crossed),
        Step("own_parallel_arc", arc_to_point),
        Step("parallel_mark_line", mark("N", "a", "A", "B")),
        Step("own_parallel_same_arc", arc_through("b", "W", "V")),
        Step("parallel_mark_copy", copy),
        *SPAN,
        Step("parallel_mark_span", crossing("E", "b", "c")),
        Step("parallel_line", joined("W", "E")),
    )


CORRESPONDING = parallel(mark("D", "b", "V", "W", besides="V"))
ALTERNATE = parallel(back_at_foot)
RHOMBUS = (
    Step("rhombus_arc", rhombus_first),
    Step("rhombus_mark", mark("N", "a", "A", "B")),
    Step("own_rhombus_from_point", arc_through("b", "W", "V")),
    Step("own_rhombus_from_mark", arc_through("c", "N", "V")),
    Step("rhombus_crossing", crossing("E", "b", "c", besides="V")),
    Step("parallel_line", joined("W", "E")),
)
BISECT_ANGLE = (
    Step("bisect_arc", arc_at("a", "V")),
    Step("bisect_mark_first", mark("M", "a", "V", "one", ray=True)),
    Step("bisect_mark_second", mark("N", "a", "V", "two", ray=True)),
    Step("own_from_first", arc_through("b", "M", "N")),
    Step("own_from_second", arc_through("c", "N", "M")),
    Step("bisect_crossing", crossing("E", "b", "c", besides="V")),
    Step("bisect_ray", joined("V", "E")),
)
BISECT_SEGMENT = (
    Step("own_halve_from_first", arc_through("b", "A", "B")),
    Step("own_halve_from_second", arc_through("c", "B", "A")),
    Step("halve_crossing", crossing("E", "b", "c")),
    Step("halve_other_crossing", crossing("F", "b", "c", besides="E")),
    Step("halve_line", joined("E", "F")),
)
PERPENDICULAR = (
    Step("perpendicular_arc", arc_at("a", "W")),
    Step("perpendicular_mark_first", mark("M", "a", "A", "B")),
    Step("perpendicular_mark_second", mark("N", "a", "A", "B", besides="M")),
    Step("own_from_first", arc_through("b", "M", "N")),
    Step("own_from_second", arc_through("c", "N", "M")),
    Step("perpendicular_crossing", crossing("E", "b", "c", besides="W")),
    Step("perpendicular_line", joined("W", "E")),
)


def bound_segment(scene: Scene, bound: Bound) -> Iterator[Bound]:
    """The segment and the point under the letters of a carried span."""
    yield {**bound, "D": bound["W"], "M": bound["A"], "N": bound["B"]}


# The first step is there from the beginning: it only gives the letters.
SEGMENT = (
    Step("own_carry_first", bound_segment),
    *carry("D", "M", "N"),
    Step("own_segment_side", joined("W", "H", ends=True)),
)


def own_steps(start: Start, route: str = "any") -> dict[str, tuple[Step, ...]]:
    """The chains of steps by which the task can be done with a collapsing compass, as steps_of() has them."""
    if start.task == "parallel through a point":
        if route in ("any", "rhombus"):
            return {"rhombus": RHOMBUS}
        return {"parallel": CORRESPONDING if route == "corresponding" else ALTERNATE}
    chains: dict[str, dict[str, tuple[Step, ...]]] = {
        "copy an angle": {"copy": COPY},
        "copy a segment": {"carry": SEGMENT},
        "bisect an angle": {"bisect": BISECT_ANGLE},
        "bisect a segment": {"halve": BISECT_SEGMENT},
        "perpendicular through a point": {"perpendicular": PERPENDICULAR},
    }
    return chains[start.task]
