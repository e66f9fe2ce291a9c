"""What one change would make a wrong construction right: that change names the mistake.

Candidates are tried in floats as drawn, and the first that comes out right is confirmed at 60 digits with
everything free moved, so a mend is never a coincidence of the drawing.
"""

from __future__ import annotations

from dataclasses import replace
from fractions import Fraction
from itertools import combinations
from math import hypot
from random import Random

from app.construction.arithmetic import FLOATS, N, precise
from app.construction.goals import residuals
from app.construction.moves import Program
from app.construction.plane import Straight, cross, crossings, dot, minus, square
from app.construction.replay import Drawing, Pick, replay
from app.construction.scene import Scene
from app.construction.steps import Progress
from app.construction.trials import HOLDS, holds, moved, nudge_one, reach_of

__all__ = [
    "mark_not_eye",
    "other_answer",
    "other_crossing",
    "other_opening",
    "placed_by_eye",
    "unequal_points",
    "wrong_side",
]

Mend = tuple[int, str, dict[str, object]]
LOOSE = 1e-9
NEAR = 0.06
MOST_TRIED = 400


def right_as_drawn(program: Program, result: str, picks: dict[str, Pick] | None = None) -> bool:
    """A quick look in floats."""
    drawing = replay(program, FLOATS, picks=picks)
    if result not in drawing.values:
        return False
    return all(miss < LOOSE for miss in residuals(program.start, drawing, result))


def confirmed(program: Program, result: str, seed: int, picks: dict[str, Pick] | None = None) -> bool:
    drawn = replay(program, precise(), picks=picks)
    return holds(program, result, drawn, seed)


def wrong_side(program: Program, drawn: Drawing, result: str, seed: int) -> dict[str, object] | None:
    """For a parallel: the copied angle lies on the wrong side of its transversal. Then the answer is the
    given line's mirror image over the transversal, every time.
    """
    if program.start.task != "parallel through a point":
        return None
    rng, reach = Random(seed), reach_of(drawn, program.start)
    replays = [drawn, moved(program, drawn, rng, reach), moved(program, drawn, rng, reach)]
    limit = precise().number(HOLDS)
    for move in program.moves:
        straight = move.op in ("line", "ray", "segment") and move.name != result and move.name in drawn.values
        if straight and all(mirrored(program, drawing, result, move.name, limit) for drawing in replays):
            return {"transversal": move.name, "result": result}
    return None


def mirrored(program: Program, drawing: Drawing, result: str, transversal: str, limit: N) -> bool:
    if result not in drawing.values or transversal not in drawing.values:
        return False
    line, t = drawing.thing(result), drawing.thing(transversal)
    assert isinstance(line, Straight) and isinstance(t, Straight)
    at = drawing.point(program.start.point)
    if any(cross(o.way, minus(at, o.p)) ** 2 > limit * limit * square(o.way) for o in (line, t)):
        return False
    a, b = (drawing.point(name) for name in program.start.line)
    base, way = minus(b, a), t.way
    # The mirror image of the base over t, times the square of t's length.
    k = 2 * dot(way, base)
    image = k * way[0] - square(way) * base[0], k * way[1] - square(way) * base[1]
    size = square(way) * drawing.use.root(square(base) * square(line.way))
    return bool(abs(cross(image, line.way)) <= limit * size)


def other_opening(program: Program, drawn: Drawing, result: str, stage: Progress, seed: int) -> Mend | None:
    """One arc that needed the opening of another, or the span between the two marks."""
    choices = {move.opening: move.name for move in program.moves if move.op == "arc" and move.opening}
    span = (stage.bound.get("M", ""), stage.bound.get("N", ""))
    spans = {span: ""} if all(span) and span[0] != span[1] else {}
    for i, move in reversed(list(enumerate(program.moves))):
        if move.op != "arc":
            continue
        known = {*program.start.points, *(m.name for m in program.moves[:i])}
        for opening, arc in {**spans, **choices}.items():
            if opening == move.opening or not set(opening) <= known:
                continue
            if program.compass == "collapsing" and move.center not in opening:
                continue  # no compass that closes when it is lifted can be opened so
            changed = program.with_move(i, opening=opening)
            picks = dict(drawn.picks.items())
            if right_as_drawn(changed, result, picks) and confirmed(changed, result, seed, picks):
                fields: dict[str, object] = {
                    "arc": move.name,
                    "center": move.center,
                    "a": opening[0],
                    "b": opening[1],
                    "like": arc,
                    "was": "".join(move.opening or ()),
                }
                return i, "construction.note_opening" if arc else "construction.note_span", fields
    return None


def other_crossing(program: Program, drawn: Drawing, result: str, seed: int) -> Mend | None:
    """One crossing that should have been the other one."""
    for i, move in enumerate(program.moves):
        pick = drawn.picks.get(move.name)
        if move.op != "meet" or pick is None:
            continue
        if len(crossings(drawn.thing(move.of[0]), drawn.thing(move.of[1]), drawn.use) or []) < 2:
            continue
        flipped = replace(pick, index=1 - pick.index, other=not pick.other)
        picks = {**drawn.picks, move.name: flipped}
        if right_as_drawn(program, result, picks) and confirmed(program, result, seed, picks):
            return i, "construction.note_crossing", {"point": move.name, "a": move.of[0], "b": move.of[1]}
    return None


def mark_not_eye(program: Program, drawn: Drawing, result: str, seed: int) -> Mend | None:
    """One point placed by eye near a crossing that should have been marked instead."""
    floats = replay(program, FLOATS, picks=drawn.picks)
    limit, tried = NEAR * program.start.size(), 0
    for i, move in reversed(list(enumerate(program.moves))):
        if not move.by_eye() or move.name not in floats.values:
            continue
        at = floats.point(move.name)
        before = {*program.start.objects, *(m.name for m in program.moves[:i] if not m.makes_point())}
        things = [name for name in before if name in floats.values]
        for a, b in combinations(sorted(distinct(things, floats)), 2):
            for place in crossings(floats.thing(a), floats.thing(b), FLOATS) or []:
                tried += 1
                if tried > MOST_TRIED or hypot(place[0] - at[0], place[1] - at[1]) > limit:
                    continue
                exact = Fraction(place[0]), Fraction(place[1])
                changed = program.with_move(i, op="meet", of=(a, b), near=exact, at=None)
                if right_as_drawn(changed, result) and confirmed(changed, result, seed):
                    return i, "construction.note_mark", {"point": move.name, "a": a, "b": b}
    return None


def unequal_points(program: Program, drawn: Drawing, result: str) -> Mend | None:
    """For a bisector or a perpendicular: equal arcs about two points that are not equally far from where it begins."""
    start = program.start
    if start.task not in ("bisect an angle", "perpendicular through a point"):
        return None
    scene = Scene(program, replay(program, FLOATS, picks=drawn.picks))
    foot = start.angle[1] if start.angle else start.point
    arcs = {move.name: i for i, move in enumerate(program.moves) if move.name in scene.arcs}
    for move in reversed(program.moves):
        if move.op != "meet" or move.name not in scene.points or not set(move.of) <= set(arcs):
            continue
        first, second = sorted(move.of, key=lambda name: arcs[name])
        if not scene.equal(first, second) or result not in scene.joining(foot, move.name):
            continue
        one, two = (program.moves[arcs[name]].center for name in (first, second))
        away = [square(minus(scene.points[name], scene.points[foot])) for name in (one, two)]
        if facing(scene, one, two) and abs(away[0] - away[1]) > LOOSE * sum(away):
            return arcs[second], "construction.note_unequal", {"one": one, "two": two, "foot": foot}
    return None


def facing(scene: Scene, one: str, two: str) -> bool:
    """Whether the two points lie one on each side of the angle, or both on the line."""
    start = scene.start
    if start.line:
        return all(scene.in_line(name, *start.line) for name in (one, two))
    p, v, q = start.angle
    return any(scene.in_ray(a, v, p) and scene.in_ray(b, v, q) for a, b in ((one, two), (two, one)))


def distinct(names: list[str], drawing: Drawing) -> list[str]:
    """One name for each object: a given line goes by two names."""
    found: dict[object, str] = {}
    for name in names:
        found.setdefault(drawing.values[name], name)
    return list(found.values())


def other_answer(program: Program, drawn: Drawing, result: str, stage: Progress, seed: int) -> str | None:
    """Another line of the drawing that is the answer, where all steps were done and the wrong one was
    named.
    """
    name = stage.bound.get("answer", "")
    if stage.missing or not name or name == result or name not in drawn.values:
        return None
    return name if holds(program, name, drawn, seed) else None


def placed_by_eye(program: Program, drawn: Drawing, result: str, seed: int) -> Mend | None:
    """The last point placed by eye that the answer's error hangs on."""
    use = precise()
    rng, reach, limit = Random(seed), reach_of(drawn, program.start), use.number(HOLDS)
    before = residuals(program.start, drawn, result)
    for i, move in reversed(list(enumerate(program.moves))):
        if not move.by_eye() or move.name not in drawn.values:
            continue
        nudge = nudge_one(program, i, rng, reach, use)
        after = replay(program, use, nudge=nudge, picks=drawn.picks)
        if result not in after.values:
            continue
        then = residuals(program.start, after, result)
        if any(abs(a - b) > limit for a, b in zip(before, then, strict=True)):
            return i, "construction.note_by_eye", {"point": move.name}
    return None
