"""The same construction with its free points moved a little, at 60 digits.

What a construction forces, it forces wherever its free points go; and an equation between such points that
holds all over a small neighbourhood holds wherever the construction can be carried from there (it is
analytic). So small moves decide, and small moves never make arcs miss each other that met before. Replay is
strong evidence, not a proof: an equation that fails would have to be 1e-35 near true at three random places.
"""

from __future__ import annotations

from fractions import Fraction
from math import hypot
from random import Random

from app.construction.arithmetic import Arithmetic, N, precise
from app.construction.goals import residuals
from app.construction.moves import Program
from app.construction.replay import Drawing, Nudge, Pick, replay
from app.construction.start import ON_LINE, Exact, Start

__all__ = ["HOLDS", "TRIALS", "holds", "moved", "nudge_all", "nudge_one", "reach_of"]

TRIALS = 3
HOLDS = Fraction(1, 10**35)
GRAIN = 10**6
PART = 1e-3
LEAST = 1e-6


def reach_of(drawing: Drawing, start: Start) -> Fraction:
    """How far free points may move: a small part of the smallest distance between two points as drawn."""
    points = [(float(v[0]), float(v[1])) for v in drawing.values.values() if isinstance(v, tuple)]
    size = start.size()
    gaps = [hypot(a[0] - b[0], a[1] - b[1]) for i, a in enumerate(points) for b in points[:i]]
    apart = [gap for gap in gaps if gap > LEAST * size]
    return Fraction(max(LEAST * size, PART * min(apart, default=size)))


def chance(rng: Random) -> Fraction:
    """A random part in [-1, 1], not near 0."""
    return Fraction(rng.randint(GRAIN // 4, GRAIN) * rng.choice((-1, 1)), GRAIN)


def nudge_all(program: Program, rng: Random, reach: Fraction, use: Arithmetic) -> Nudge:
    """Every given point, free point and placement on an object moved at random."""
    nudge = Nudge()
    placed = moved_start(program.start, rng, reach)
    for name, (x, y) in placed.items():
        x0, y0 = program.start.points[name]
        nudge.points[name] = use.number(x - x0), use.number(y - y0)
    for move in program.moves:
        if move.by_eye():
            add(nudge, move.op, move.name, rng, reach, use)
    return nudge


def nudge_one(program: Program, index: int, rng: Random, reach: Fraction, use: Arithmetic) -> Nudge:
    """Only what one move placed by eye, moved at random."""
    nudge = Nudge()
    add(nudge, program.moves[index].op, program.moves[index].name, rng, reach, use)
    return nudge


def add(nudge: Nudge, op: str, name: str, rng: Random, reach: Fraction, use: Arithmetic) -> None:
    if op == "point":
        nudge.points[name] = use.number(chance(rng) * reach), use.number(chance(rng) * reach)
    else:
        nudge.along[name] = use.number(chance(rng) * reach)


def moved_start(start: Start, rng: Random, reach: Fraction) -> dict[str, Exact]:
    """The given points moved, those on a given line staying on it."""
    placed: dict[str, Exact] = {}
    for name, (x, y) in start.points.items():
        dx, dy = chance(rng) * reach, chance(rng) * reach
        line = next((ends for ends in pairs(start) if name not in ends and on(start, name, ends)), None)
        if line is None or not all(end in placed for end in line):
            placed[name] = x + dx, y + dy
            continue
        (ax, ay), (bx, by) = start.points[line[0]], start.points[line[1]]
        t = ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / ((bx - ax) ** 2 + (by - ay) ** 2)
        t += chance(rng) * reach / Fraction(start.size())
        (ax, ay), (bx, by) = placed[line[0]], placed[line[1]]
        placed[name] = ax + t * (bx - ax), ay + t * (by - ay)
    return placed


def pairs(start: Start) -> list[tuple[str, str]]:
    return [(a, b) for _, a, b in start.objects.values()]


def on(start: Start, name: str, ends: tuple[str, str]) -> bool:
    return abs(start.off(name, *ends)) <= ON_LINE * start.size()


def moved(
    program: Program, drawn: Drawing, rng: Random, reach: Fraction, picks: dict[str, Pick] | None = None
) -> Drawing:
    """One replay with everything free moved. Moves less far while some crossing is lost on the way."""
    use = precise()
    far = reach
    for _ in range(6):
        drawing = replay(program, use, nudge=nudge_all(program, rng, far, use), picks=picks or drawn.picks)
        if len(drawing.failed) <= len(drawn.failed):
            return drawing
        far /= 100
    return drawing


def holds(program: Program, result: str, drawn: Drawing, seed: int, picks: dict[str, Pick] | None = None) -> bool:
    """Whether the answer is right as drawn and every time that what is free is moved."""
    rng, use = Random(seed), precise()
    limit = use.number(HOLDS)
    as_drawn = drawn if picks is None else replay(program, use, picks=picks)
    if not right(program, as_drawn, result, limit):
        return False
    reach = reach_of(drawn, program.start)
    return all(right(program, moved(program, drawn, rng, reach, picks), result, limit) for _ in range(TRIALS))


def right(program: Program, drawing: Drawing, result: str, limit: N) -> bool:
    if result not in drawing.values:
        return False
    return all(miss <= limit for miss in residuals(program.start, drawing, result))
