"""How far a construction has come, in the trade's steps: the deepest chain of them that the drawing holds.

A step is a test on the objects as drawn (`scene`): which arc, which marked crossing. Every order and every opening is
found; the chain that gets furthest is taken.
"""

from __future__ import annotations

from dataclasses import dataclass

from app.construction.moves import Program
from app.construction.replay import Drawing
from app.construction.scene import (
    Bound,
    Scene,
    Step,
    arc_at,
    crossed,
    crossing,
    joined,
    kite_arc,
    mark,
    mark_on,
    rhombus_first,
    span,
    transversal,
)
from app.construction.start import Start
from app.construction.steps_own import own_steps

__all__ = ["ROUTES", "Progress", "progress", "steps_of"]

ROUTES = ("any", "corresponding", "alternate interior", "rhombus")
MOST_VISITS = 3000


@dataclass(frozen=True)
class Progress:
    """`done` steps of the chain `chain` are there; `missing` is the key of the next `step`, "" where all are."""

    chain: str
    done: int
    of: int
    missing: str
    bound: Bound
    step: Step | None = None


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
