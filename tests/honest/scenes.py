"""Random figures with a world behind them: real lines, exactly known, in which some statements are true.

The world is made first (parallel families, right angles, points of a grid); the figure that is drawn and asked about is the
world bent at random, for as long as every crossing turns the same way and every line has its points in the same order. So givens
taken from the world can hold together in the figure as drawn, and what fails in the world isn't forced.
"""

from __future__ import annotations

import random
from dataclasses import dataclass, field
from fractions import Fraction
from itertools import combinations
from math import atan2, cos, degrees, hypot, radians, sin

from tests.honest.plane import Figure, Number, Place, World, facts, from_points, oriented_like
from tests.honest.statements import (
    BISECTS,
    LINEAR,
    NOT_PARALLEL,
    PARALLEL,
    PERPENDICULAR,
    Statement,
    congruent,
    halves,
    off,
    total,
    value,
)

Spot = tuple[Fraction, Fraction]
LINES, POINTS = "lmnpqrstabcdefghjk", "ABCDEFGHIJKLMNOPQRSTUVW"


@dataclass
class Scene:
    figure: Figure
    world: World
    exact: bool
    letters: dict[str, Number] = field(default_factory=dict)
    measures: dict[str, Number] = field(default_factory=dict)
    # Lines that cross unnamed between two others: to give them as parallel conflicts with the order as drawn.
    crossed: tuple[str, ...] = ()

    def true(self, statement: Statement) -> bool:
        return off(self.figure, self.world, self.letters, statement) <= (0 if self.exact else 1e-9)


# Without concurrency: whole degrees, and every measure is exact.


def linear_scene(rng: random.Random) -> Scene | None:
    turn = rng.randrange(180)
    style = rng.choice(("transversal", "transversal", "two transversals", "families", "loose", "crossed"))
    made: list[tuple[int, Place]] = []
    if style == "crossed":
        for i in range(rng.choice((2, 2, 3))):
            made.append((rng.randint(-40, 40), (rng.uniform(-1.5, 1.5), 1.2 * i - 1)))
        for side in (-1, 1):
            made.append((rng.randint(60, 120), (side * rng.uniform(3, 4), 0)))
    elif style in ("transversal", "two transversals"):
        slant = rng.choice((rng.randint(25, 155), 90, 30, 36, 60))
        for i in range(rng.randint(2, 4)):
            lean = 0 if rng.random() < 0.65 else rng.randint(-22, 22)
            made.append((lean, (rng.uniform(-1, 1), 2.6 * i - 3 + rng.uniform(-0.5, 0.5))))
        made.append((slant, (rng.uniform(-1, 1) - 4, 0)))
        if style == "two transversals":
            made.append((rng.choice((slant, slant + 90, rng.randint(25, 155))) % 180, (rng.uniform(1, 3), 0)))
    else:
        pool = [0, rng.choice((90, 60, 45, rng.randint(20, 160)))]
        for _ in range(rng.randint(2, 6 if style == "families" else 4)):
            if rng.random() < 0.35 or style == "loose":
                pool.append(rng.randint(0, 179))
            made.append((rng.choice(pool), (rng.uniform(-5, 5), rng.uniform(-5, 5))))
    if len(made) > 6:
        made = made[:6]
    names = rng.sample(LINES, len(made))
    crossed = tuple(names[:-2]) if style == "crossed" else ()
    both = list(zip(names, made, strict=True))
    rng.shuffle(both)
    names, made = [name for name, _ in both], [line for _, line in both]
    world: World = {name: (direction + turn) % 180 for name, (direction, _) in zip(names, made, strict=True)}
    through = {name: _turned(at, turn) for name, (_, at) in zip(names, made, strict=True)}
    meets: dict[str, tuple[str, ...]] = {}
    letters = rng.sample(POINTS, 15)
    keep = rng.choice((1.0, 1.0, 0.8))
    for a, b in combinations(names, 2):
        if abs(sin(radians(world[a] - world[b]))) < 0.1:
            continue
        if rng.random() > keep or (a in crossed and b in crossed):
            continue
        meets[letters.pop()] = (a, b) if rng.random() < 0.5 else (b, a)
    if not meets:
        return None
    seen = facts(world, through, meets)
    far = [meet for meet, at in seen.places.items() if hypot(*at) > 25]
    for meet in far:
        del meets[meet]
    seen = facts(world, through, meets)
    if not meets or seen.gap < 0.2:
        return None
    scene = _drawn(rng, world, through, meets)
    if scene is not None:
        scene.crossed = crossed
    return scene


def _turned(at: Place, turn: float) -> Place:
    x, y = at
    return x * cos(radians(turn)) - y * sin(radians(turn)), x * sin(radians(turn)) + y * cos(radians(turn))


def _drawn(
    rng: random.Random, world: World, through: dict[str, Place], meets: dict[str, tuple[str, ...]]
) -> Scene | None:
    want = facts(world, through, meets)
    for spread in (14, 9, 5, 2, 0):
        drawn: World = {}
        for name, direction in world.items():
            bent = direction + (rng.choice((0, rng.randint(-spread, spread))) if spread else 0)
            drawn[name] = bent if rng.random() < 0.8 else bent + Fraction(rng.randint(-9, 9), 10) * (spread > 0)
        moved = {
            name: (round(x + rng.uniform(-spread, spread) / 20, 3), round(y + rng.uniform(-spread, spread) / 20, 3))
            for name, (x, y) in through.items()
        }
        got = facts(drawn, moved, meets)
        if got.same_as(want) and got.gap > 0.15 and got.angle > 4 and got.size < 40:
            break
    else:
        return None
    exact = {name: (drawn[name] % 180, tuple(Fraction(str(v)) for v in moved[name])) for name in world}
    figure = Figure(exact, meets)
    if figure.facts.gap < 0.1 or figure.facts.angle < 3:
        return None
    oriented = oriented_like(figure, world, through)
    if oriented is None:
        return None
    return _numbered(rng, Scene(figure, oriented, exact=True))


def _numbered(rng: random.Random, scene: Scene) -> Scene:
    """Angles at random, numbered at random, and the letters' values."""
    figure = scene.figure
    numbers = list(range(1, 41))
    if rng.random() < 0.5:
        rng.shuffle(numbers)
    for at, lines in figure.meets.items():
        for _ in range(rng.choice((1, 2, 3, 4)) if len(figure.meets) < 8 else rng.choice((1, 2))):
            a, b = rng.sample(lines, 2)
            rays = [(a, rng.choice("+-")), (b, rng.choice("+-"))]
            if (
                figure.world[b]
                + (180 if rays[1][1] == "-" else 0)
                - figure.world[a]
                - (180 if rays[0][1] == "-" else 0)
            ) % 360 > 180:
                rays.reverse()
            if any(there == (at, *rays) for there in figure.angles.values()):
                continue
            if len(figure.angles) < 24:
                figure.angles[str(numbers.pop(0))] = (at, rays[0], rays[1])
    scene.letters = {"x": rng.randint(2, 40), "y": rng.randint(2, 40)}
    scene.measures = {name: figure.measure(name, scene.world) for name in figure.angles}
    return scene


# With concurrency: points of a grid, lines through them. Directions are no fractions, so truth is told by whole
# cross and dot products, exactly.


def grid_scene(rng: random.Random) -> Scene | None:
    style = rng.choice(
        ("parallelogram", "parallelogram", "triangle", "points", "star", "quadrangle", "special", "special", "special")
    )
    places: dict[str, Spot] = {}

    def spot() -> Spot:
        return Fraction(rng.randint(-6, 6)), Fraction(rng.randint(-6, 6))

    recipe: list[str] = []
    if style == "parallelogram":
        a, u, v = spot(), spot(), spot()
        if rng.random() < 0.4:
            v = (-u[1], u[0]) if rng.random() < 0.5 else (u[1], u[0])
        places = {"A": a, "B": _plus(a, u), "C": _plus(a, u, v), "D": _plus(a, v)}
        if rng.random() < 0.3:
            places["C"] = _plus(places["C"], (Fraction(rng.randint(-2, 2)), Fraction(rng.randint(-2, 2))))
        recipe = ["AB", "BC", "CD", "DA", "AC", "BD"]
    elif style == "special":
        places, recipe = _special(rng)
        recipe = rng.sample(recipe, len(recipe) - (rng.random() < 0.4))
    elif style == "triangle":
        places = {"A": spot(), "B": spot(), "C": spot(), "P": spot()}
        recipe = ["AB", "BC", "CA", "AP", "BP", "CP"]
    elif style == "quadrangle":
        places = {name: spot() for name in "ABCD"}
        recipe = ["AB", "BC", "CD", "DA", "AC", "BD"][: rng.randint(5, 6)]
    elif style == "star":
        places = {name: spot() for name in "ABCDE"}
        recipe = ["AB", "AC", "AD", *rng.sample(["AE", "BC", "CD", "DE", "BE"], rng.randint(2, 3))]
    else:
        places = {name: spot() for name in "ABCDE"[: rng.randint(4, 5)]}
        recipe = ["".join(two) for two in combinations(places, 2)]
        rng.shuffle(recipe)
        recipe = recipe[: rng.randint(4, 7)]
    if len(set(places.values())) < len(places):
        return None
    names = rng.sample(LINES, len(recipe))
    lines = dict(zip(names, recipe, strict=True))
    ways = {}
    for name, ends in lines.items():
        a, b = ends[0], ends[-1]
        dx, dy = places[b][0] - places[a][0], places[b][1] - places[a][1]
        # One way to write each direction, so that two lines on one another are seen.
        ways[name] = (Fraction(1), dy / dx) if dx else (Fraction(0), Fraction(1))
    if len({(ways[n], _cross(ways[n], places[lines[n][0]])) for n in names}) < len(names):
        return None

    # The figure as drawn: the points moved a little off the grid.
    true_lines = {name: degrees(atan2(way[1], way[0])) for name, way in ways.items()}
    through = {name: (float(places[lines[name][0]][0]), float(places[lines[name][0]][1])) for name in names}
    for spread in (1.2, 0.7, 0.35, 0.12):
        moved = {
            p: (float(x) + rng.uniform(-spread, spread), float(y) + rng.uniform(-spread, spread))
            for p, (x, y) in places.items()
        }
        # A line through three points stays one: the third is moved along.
        for ends in recipe:
            if len(ends) == 3:
                moved[ends[1]] = crossing_of(moved, recipe, ends[1])
        bare = from_points(moved, lines)
        if bare is None:
            continue
        meets = {p: tuple(n for n in names if p in lines[n]) for p in places}
        meets = {p: through_it for p, through_it in meets.items() if len(through_it) > 1}
        # Crossings of two lines beside the named points, some of them named.
        for a, b in combinations(names, 2):
            if set(lines[a]) & set(lines[b]) or rng.random() < 0.4 or len(meets) > 9:
                continue
            if _cross(ways[a], ways[b]) and abs(sin(radians(true_lines[a] - true_lines[b]))) > 0.1:
                meets[next(p for p in POINTS if p not in meets and p not in places)] = (a, b)
        try:
            figure = Figure(bare.lines, meets)
            want = facts(true_lines, through, meets)
        except ZeroDivisionError:
            return None
        if (
            figure.facts.gap < 0.12
            or figure.facts.angle < 4
            or figure.facts.size > 60
            or want.gap < 1e-6
            or want.angle < 1
        ):
            continue
        oriented = oriented_like(figure, true_lines, through)
        if oriented is not None and any(len(names_) > 2 for names_ in meets.values()):
            scene = Scene(figure, oriented, exact=False)
            return _numbered(rng, scene)
    return None


def crossing_of(points: dict[str, Place], recipe: list[str], point: str) -> Place:
    """Where the first two lines through three points on which `point` is the middle one cross; else it stays on the first."""
    through = [ends for ends in recipe if len(ends) == 3 and ends[1] == point]
    (ax, ay), (bx, by) = points[through[0][0]], points[through[0][2]]
    if len(through) == 1:
        return (ax + bx) / 2, (ay + by) / 2
    (cx, cy), (dx, dy) = points[through[1][0]], points[through[1][2]]
    det = (bx - ax) * (dy - cy) - (by - ay) * (dx - cx)
    if abs(det) < 1e-9:
        return points[point]
    k = ((cx - ax) * (dy - cy) - (cy - ay) * (dx - cx)) / det
    return ax + k * (bx - ax), ay + k * (by - ay)


def _special(rng: random.Random) -> tuple[dict[str, Spot], list[str]]:
    """Figures of which there is something to prove: altitudes, bisectors, midpoints, points of a circle, trapezoids."""
    which = rng.choice(("altitudes", "bisectors", "midpoints", "circle", "trapezoid"))
    a, b, c = (Fraction(rng.randint(2, 7)) for _ in "abc")
    zero = Fraction(0)
    if which == "altitudes":
        # A above BC, H where the altitude of B meets that of A: the slopes of AC and BH are -a/c and c/a.
        places = {"A": (zero, a), "B": (-b, zero), "C": (c, zero), "H": (zero, b * c / a)}
        recipe = ["AB", "BC", "CA", "AH", "BH", "CH"]
    elif which == "bisectors":
        # The circle inside has radius 1 and touches the base at 0; tangents of half the angles are 1/b, 1/c.
        if b * c <= 1:
            c = Fraction(2)
        y = 2 * b * c / (b * c - 1)
        # The apex lies where the two other tangents cross: y is its height, x by the slopes 2t/(1 - t²).
        left = 2 * b / (b * b - 1)
        x = y / left - b
        places = {"A": (-b, zero), "B": (c, zero), "C": (x, y), "I": (zero, Fraction(1))}
        recipe = ["AB", "BC", "CA", "AI", "BI", "CI"]
    elif which == "midpoints":
        places = {"A": (zero, zero), "B": (2 * a, zero), "C": (2 * b - 4, 2 * c)}
        places["M"] = _middle(places["B"], places["C"])
        places["N"] = _middle(places["C"], places["A"])
        places["D"] = _plus(places["B"], places["C"])
        recipe = ["AB", "BMC", "CNA", "MN", "AMD", "BD", "CD"]
    elif which == "circle":
        ring = [
            (3, 4),
            (4, 3),
            (5, 0),
            (4, -3),
            (3, -4),
            (0, -5),
            (-3, -4),
            (-4, -3),
            (-5, 0),
            (-4, 3),
            (-3, 4),
            (0, 5),
        ]
        four = sorted(rng.sample(range(12), 4))
        places = {name: (Fraction(ring[i][0]), Fraction(ring[i][1])) for name, i in zip("ABCD", four, strict=True)}
        recipe = ["AB", "BC", "CD", "DA", "AC", "BD"]
    else:
        places = {"A": (-a - 3, zero), "B": (a + 3, zero), "C": (b / 2, c), "D": (-b / 2, c)}
        recipe = ["AB", "BC", "CD", "DA", "AC", "BD"]
    # Turned by a rotation whose sine and cosine are fractions, so that nothing lies flat.
    p, q = rng.choice(((1, 0), (4, 3), (12, 5), (3, 4), (15, 8)))
    r = Fraction(p * p + q * q)
    cos_, sin_ = (p * p - q * q) / r, 2 * p * q / r
    return {name: (x * cos_ - y * sin_, x * sin_ + y * cos_) for name, (x, y) in places.items()}, recipe


def _middle(a: Spot, b: Spot) -> Spot:
    return (a[0] + b[0]) / 2, (a[1] + b[1]) / 2


def _plus(*points: Spot) -> Spot:
    return sum((p[0] for p in points), Fraction(0)), sum((p[1] for p in points), Fraction(0))


def _cross(a: Spot, b: Spot) -> Fraction:
    return a[0] * b[1] - a[1] * b[0]


# Statements, true in the world or not.


def true_statements(scene: Scene) -> list[Statement]:
    """What there is to be said of the world's lines and angles: parallels, right angles, equal angles, sums."""
    figure, found = scene.figure, []
    near = (lambda a, b: a == b) if scene.exact else (lambda a, b: abs(a - b) < 1e-9)
    for l, m in combinations(figure.lines, 2):
        turn = (scene.world[l] - scene.world[m]) % 180
        if near(turn, 0) or near(turn, 180):
            found += [(PARALLEL, l, m)] * 3
        elif near(turn, 90):
            found += [(PERPENDICULAR, l, m)] * 2
    for a, b in combinations(scene.measures, 2):
        if near(scene.measures[a], scene.measures[b]):
            found.append(congruent(a, b))
        if near(scene.measures[a] + scene.measures[b], 180):
            found.append(total(a, b, 180))
        if near(scene.measures[a] + scene.measures[b], 90):
            found += [total(a, b, 90)] * 2
    for name in scene.measures:
        for line in figure.meets[figure.angles[name][0]]:
            if halves(figure, line, name) and scene.true((BISECTS, line, name)):
                found += [(BISECTS, line, name)] * 3
    return found


def random_statement(rng: random.Random, scene: Scene, pool: list[Statement], *, true: bool) -> Statement:
    angles, names = list(scene.measures), list(scene.figure.lines)
    if true and pool and rng.random() < (0.55 if scene.exact else 0.8):
        return rng.choice(pool)
    for _ in range(20):
        kind = rng.choice(("value", "two", "letter", "letter", "three", "line", "line", "letter value", "equal"))
        if kind == "line":
            kind = rng.choice((PARALLEL, PARALLEL, PERPENDICULAR, NOT_PARALLEL))
            statement: Statement = (kind, *rng.sample(names, 2))
        elif kind == "letter value":
            x = rng.choice(list(scene.letters))
            statement = (LINEAR, ((1, x),), scene.letters[x] if true else rng.randint(1, 60))
        elif len(angles) < 3:
            continue
        else:
            a, b, c = rng.sample(angles, 3)
            if kind == "equal":
                statement = rng.choice((congruent(a, b), total(a, b, 180)))
            elif not scene.exact and kind != "letter":
                at = round(scene.measures[a])
                if true and abs(at - scene.measures[a]) > 1e-9:
                    continue
                statement = value(a, at)
            elif not scene.exact:
                continue
            elif kind == "value":
                statement = value(a, scene.measures[a] if true else rng.randint(5, 175))
            elif kind == "two":
                k = rng.choice((-2, 2, -1, 1))
                at = scene.measures[a] + k * scene.measures[b]
                statement = LINEAR, ((1, a), (k, b)), at if true else at + rng.randint(-20, 20)
            elif kind == "three":
                statement = LINEAR, ((1, a), (1, b), (1, c)), scene.measures[a] + scene.measures[b] + scene.measures[c]
            else:
                k, x = rng.choice((1, 2, 3, 5, -1, Fraction(1, 2))), rng.choice(list(scene.letters))
                at = scene.measures[a] - k * scene.letters[x]
                statement = LINEAR, ((1, a), (-k, x)), at if true else at + rng.randint(-20, 20)
        if not true or scene.true(statement):
            return statement
    return PARALLEL, *rng.sample(names, 2)
