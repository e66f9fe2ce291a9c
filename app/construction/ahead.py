"""Whether the next step can be done on this very drawing: a hint must not ask for a crossing that isn't there.

The trade's steps say what is missing; here it is looked at whether the arcs reach each other at all, whether they were
swung far enough, whether the place is in sight, and whether what was marked before leads to the answer.
"""

from __future__ import annotations

from dataclasses import replace
from math import atan2, degrees

from app.construction.arithmetic import FLOATS, P
from app.construction.moves import Move, Program
from app.construction.plane import Circle, Straight, crossings, dot, minus, square
from app.construction.replay import replay
from app.construction.scene import ArcAt, Crossing, Joined, Mark, Scene
from app.construction.steps import Progress
from app.construction.verify import Judgement, judge

__all__ = ["Window", "in_the_way", "joined_up"]

Window = tuple[float, float, float, float]  # what is seen of the paper: left, low, right, high
Obstacle = tuple[str, dict[str, str]]  # catalogue key, fields; "arc", "one", "two" are names of objects
SLACK = 1e-6
DRAWN = "the line to come"  # no student's name for a line: names have no spaces


def in_the_way(program: Program, stage: Progress, window: Window | None = None) -> Obstacle | None:
    """What keeps the next step from being done as the drawing stands."""
    find = stage.step.find if stage.step else None
    if not isinstance(find, ArcAt | Crossing | Mark):
        return None
    scene = Scene(program, replay(program, FLOATS))
    bound = stage.bound
    if isinstance(find, ArcAt):
        return too_small(scene, find, bound)
    arcs = [bound[find.arc], bound[find.other]] if isinstance(find, Crossing) else [bound[find.arc]]
    places = [at for at in possible(scene, find, bound) if not known(scene, find, bound, at)]
    if not places:
        return apart(scene, find, bound)
    short = {name for name in arcs if not any(swept(program, scene, name, at) for at in places)}
    reached = [at for at in places if all(swept(program, scene, name, at) for name in arcs)]
    if not reached:
        return "construction.next_arc_short", {"arc": next(iter(sorted(short or arcs)))}
    if window and not any(inside(window, at) for at in reached):
        return "construction.next_off_paper", {}
    return None


def too_small(scene: Scene, find: ArcAt, bound: dict[str, str]) -> Obstacle | None:
    """Two arcs of this opening would never meet: it isn't more than half of the way between their centers."""
    if not find.like or not find.letter or not bound.get(find.like) or find.unlike:
        return None
    like, at = scene.arcs[bound[find.like]], scene.points[bound[find.center]]
    far = square(minus(like.c, at))
    name = next((one for one, place in scene.points.items() if scene.same(place, like.c)), "")
    # The same arc about a new vertex has nothing to meet; only where the two are to cross does their opening matter.
    if not name or not crossing_follows(find) or 4 * like.s > far * (1 + SLACK):
        return None
    return "construction.next_too_small", {"first": name, "second": bound[find.center]}


def crossing_follows(find: ArcAt) -> bool:
    return (find.letter, find.like) in (("c", "b"), ("f", "e"))


def possible(scene: Scene, find: Crossing | Mark, bound: dict[str, str]) -> list[P]:
    """Where the two cross, the arcs taken as whole circles and straight objects as far as they are drawn."""
    if isinstance(find, Crossing):
        return crossings(scene.arcs[bound[find.arc]], scene.arcs[bound[find.other]], FLOATS) or []
    a, b = scene.points[bound[find.a]], scene.points[bound[find.b]]
    found = crossings(scene.arcs[bound[find.arc]], Straight("line", a, b), FLOATS) or []
    return [at for at in found if not find.ray or dot(minus(b, a), minus(at, a)) > 0]


def known(scene: Scene, find: Crossing | Mark, bound: dict[str, str], at: P) -> bool:
    return bool(find.besides) and scene.same(at, scene.points[bound[find.besides]])


def apart(scene: Scene, find: Crossing | Mark, bound: dict[str, str]) -> Obstacle:
    one = scene.arcs[bound[find.arc]]
    if isinstance(find, Mark):
        return "construction.next_not_reached", {"arc": bound[find.arc], "a": bound[find.a], "b": bound[find.b]}
    two = scene.arcs[bound[find.other]]
    fields = {"one": bound[find.arc], "two": bound[find.other]}
    outside = square(minus(one.c, two.c)) >= max(one.s, two.s)
    return "construction.next_arcs_apart" if outside else "construction.next_arcs_inside", fields


def swept(program: Program, scene: Scene, name: str, at: P) -> bool:
    """Whether the arc was swung as far as this place."""
    move = next((one for one in program.moves if one.name == name), None)
    if move is None or move.sweep is None:
        return True
    circle: Circle = scene.arcs[name]
    turn = degrees(atan2(at[1] - circle.c[1], at[0] - circle.c[0]))
    start, extent = (float(part) for part in move.sweep)
    return (turn - start + SLACK) % 360 <= extent + 2 * SLACK


def inside(window: Window, at: P) -> bool:
    left, low, right, high = window
    return bool(left <= at[0] <= right and low <= at[1] <= high)


def joined_up(program: Program, stage: Progress, seed: int) -> tuple[Program, Judgement] | None:
    """Where only the answer is still to be drawn: how it would be judged. A point marked wrongly before is told now."""
    find = stage.step.find if stage.step else None
    if not isinstance(find, Joined) or len(program.moves) >= 80:
        return None
    op = {"copy an angle": "ray", "bisect an angle": "ray", "copy a segment": "segment"}.get(program.start.task, "line")
    line = Move(op, DRAWN, through=(stage.bound[find.a], stage.bound[find.b]))
    longer = replace(program, moves=(*program.moves, line), result=DRAWN)
    return longer, judge(longer, seed=seed)
