"""A construction whose free points have moved: `app/construction/replay.py` (with the picks as drawn) and `static/construct/moved.js`.

Recipes, and the same with some crossings placed by eye; the server's drawing is what is expected, and
tests/construction holds that to Euclid's propositions.
"""

from __future__ import annotations

from fractions import Fraction
from math import atan2, degrees
from random import Random
from typing import Any

from app.construction.arithmetic import FLOATS
from app.construction.moves import Program, moves_to_json
from app.construction.plane import Circle
from app.construction.recipes import recipe
from app.construction.replay import Drawing, Nudge, replay
from app.construction.start import read_start
from tests.construction.starts import random_start

ROUTES = [
    ("copy an angle", "any", "modern"),
    ("copy a segment", "any", "collapsing"),
    ("bisect an angle", "any", "collapsing"),
    ("parallel through a point", "rhombus", "modern"),
    ("parallel through a point", "corresponding", "modern"),
    ("parallel through a point", "alternate interior", "collapsing"),
    ("bisect a segment", "any", "modern"),
    ("perpendicular through a point", "any", "modern"),
    ("copy an angle", "any", "collapsing"),
]
EACH = 4


def cases() -> list[dict[str, Any]]:
    rng = Random(20261128)
    return [one_case(*route, rng, by_eye=i % 2 == 1) for route in ROUTES for i in range(EACH)]


def one_case(task: str, route: str, compass: str, rng: Random, *, by_eye: bool) -> dict[str, Any]:
    while True:
        data = random_start(task, rng)
        done = recipe(read_start(task, data), route, compass=compass)
        program = done.program()
        if by_eye:
            program = loosened(program, rng)
        # As the page has it: by the notation, to its last digit.
        moves = moves_to_json(program.moves)
        drawn = replay(program, FLOATS)
        nudge = nudged(program, rng)
        moved = replay(program, FLOATS, nudge=nudge, picks=drawn.picks)
        if not drawn.failed and not moved.failed and clear(drawn) and clear(moved):
            return {
                "task": task,
                "route": route,
                "compass": compass,
                "start": data,
                "moves": moves,
                "points": {name: list(by) for name, by in nudge.points.items()},
                "along": along(program, moved),
                "values": values(moved),
            }


def loosened(program: Program, rng: Random) -> Program:
    """One crossing placed by eye where it lies: from then on it is a free point."""
    crossings = [i for i, move in enumerate(program.moves) if move.op == "meet"]
    i = rng.choice(crossings)
    x, y = replay(program, FLOATS).point(program.moves[i].name)
    at = (Fraction(round(x * 10**6), 10**6), Fraction(round(y * 10**6), 10**6))
    return program.with_move(i, op="point", of=(), near=None, at=at)


def nudged(program: Program, rng: Random) -> Nudge:
    """Everything that is free a little aside; given points that lie on a given line stay where they are on it."""
    nudge = Nudge()
    for name in program.start.points:
        nudge.points[name] = (round(rng.uniform(-0.5, 0.5), 6), round(rng.uniform(-0.5, 0.5), 6))
    for move in program.moves:
        if move.op == "point":
            nudge.points[move.name] = (round(rng.uniform(-0.3, 0.3), 6), round(rng.uniform(-0.3, 0.3), 6))
        if move.op == "on":
            nudge.along[move.name] = round(rng.uniform(-0.3, 0.3), 6)
    return nudge


def along(program: Program, moved: Drawing) -> dict[str, Any]:
    """Where on its object each point lies that was placed there: a part of the way from p to q, or degrees around a circle."""
    found: dict[str, Any] = {}
    for move in program.moves:
        if move.op == "on":
            of, at = moved.thing(move.of[0]), moved.point(move.name)
            if isinstance(of, Circle):
                found[move.name] = {"turn": round(degrees(atan2(at[1] - of.c[1], at[0] - of.c[0])), 9)}
            else:
                found[move.name] = {"t": round(of.along(at), 9)}
    return found


def clear(drawing: Drawing) -> bool:
    """No two points that a rounding could take for one."""
    points = [value for value in drawing.values.values() if isinstance(value, tuple)]
    return all(abs(a[0] - b[0]) + abs(a[1] - b[1]) > 1e-3 or a == b for i, a in enumerate(points) for b in points[:i])


def values(drawing: Drawing) -> dict[str, Any]:
    found: dict[str, Any] = {}
    for name, value in drawing.values.items():
        if isinstance(value, Circle):
            found[name] = {"center": rounded(value.c), "radius": round(value.s**0.5, 9)}
        elif isinstance(value, tuple):
            found[name] = rounded(value)
        else:
            found[name] = {"kind": value.kind, "p": rounded(value.p), "q": rounded(value.q)}
    return found


def rounded(at: Any) -> list[float]:
    return [round(float(c), 9) + 0.0 for c in at]
