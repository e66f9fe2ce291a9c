"""Random figures, givens and claims for tests, and the same question put to z3.

The oracle's model is written from the figure's JSON alone: one real direction a line; at each meet every
two lines keep their drawn turning; parallel means equal up to a multiple of 180, tried one by one.
"""

from __future__ import annotations

import random
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations
from math import cos, radians, sin

import z3

NAMES = "lmnpqr"


@dataclass
class Query:
    figure: dict
    given: list[str]
    claim: str


def random_figure(rng: random.Random, most: int = 5) -> dict:
    """2 to `most` lines; some parallel, perpendicular, concurrent or a hair from flat as drawn; some crossings unnamed."""
    count = rng.randint(2, most)
    lines: dict[str, dict] = {}
    for name in NAMES[:count]:
        style = rng.random()
        known = [line["direction"] for line in lines.values()]
        if style < 0.2 and known:
            direction = rng.choice(known)
        elif style < 0.3 and known:
            direction = (rng.choice(known) + 90) % 180
        elif style < 0.45:
            direction = rng.choice([0, 1, 2, 178, 179, Fraction(1, 2), Fraction(359, 2)])
        elif style < 0.6:
            direction = Fraction(rng.randint(0, 1799), 10)
        else:
            direction = rng.randrange(0, 180, 5)
        through = [rng.randint(-6, 6), rng.randint(-6, 6)]
        if rng.random() < 0.3 and lines:
            through = list(rng.choice(list(lines.values()))["through"])
        if any(line["direction"] == direction and not _apart(line, direction, through) for line in lines.values()):
            continue
        lines[name] = {"direction": direction, "through": through}
    places: list[tuple[tuple[float, float], set[str]]] = []
    for a, b in combinations(lines, 2):
        at = crossing(lines[a], lines[b])
        if at is None or abs(at[0]) > 60 or abs(at[1]) > 60:
            continue
        for place, names in places:
            if abs(place[0] - at[0]) + abs(place[1] - at[1]) < 1e-6:
                names.update((a, b))
                break
        else:
            places.append((at, {a, b}))
    meets = {}
    for letter, (_, names) in zip("ABCDEFGHIJKLMNOP", places, strict=False):
        if rng.random() < 0.8:
            meets[letter] = [name for name in lines if name in names]
    angles = {}
    for at, names in meets.items():
        for _ in range(rng.randint(1, 4)):
            a, b = rng.sample(names, 2)
            rays = [f"{a}{rng.choice('+-')}", f"{b}{rng.choice('+-')}"]
            if turn(lines, *rays) > 180:
                rays.reverse()
            angles[str(len(angles) + 1)] = {"at": at, "from": rays[0], "to": rays[1]}
    return {"lines": lines, "meets": meets, "angles": angles}


def _apart(line: dict, direction: Fraction, through: list[int]) -> bool:
    turned = radians(float(direction))
    dx, dy = through[0] - line["through"][0], through[1] - line["through"][1]
    return abs(cos(turned) * dy - sin(turned) * dx) > 1e-3


def crossing(a: dict, b: dict) -> tuple[float, float] | None:
    if a["direction"] == b["direction"]:
        return None
    s, t = radians(float(a["direction"])), radians(float(b["direction"]))
    det = sin(t - s)
    dx, dy = b["through"][0] - a["through"][0], b["through"][1] - a["through"][1]
    k = (dx * sin(t) - dy * cos(t)) / det
    return a["through"][0] + k * cos(s), a["through"][1] + k * sin(s)


def turn(lines: dict, start: str, end: str) -> Fraction:
    """Degrees counterclockwise from one ray to another, as drawn."""

    def heading(ray: str) -> Fraction:
        return Fraction(lines[ray[:-1]]["direction"]) + (0 if ray[-1] == "+" else 180)

    return (heading(end) - heading(start)) % 360


def as_json(figure: dict) -> dict:
    """The figure with numbers as the contract writes them."""
    return {
        **figure,
        "lines": {
            name: {**line, "direction": str(Fraction(line["direction"]))} for name, line in figure["lines"].items()
        },
    }


def form(figure: dict, angle: str) -> tuple[str, str, Fraction]:
    """(to, from, c) with measure = d(to) - d(from) + c."""
    body = figure["angles"][angle]
    to, start = body["to"][:-1], body["from"][:-1]
    drawn = turn(figure["lines"], body["from"], body["to"])
    return to, start, drawn - Fraction(figure["lines"][to]["direction"]) + Fraction(figure["lines"][start]["direction"])


def bounds(figure: dict) -> list[tuple[str, str, Fraction]]:
    """(m, l, c) with 0 < d(m) - d(l) + c < 180: every two lines at every meet."""
    found = []
    for names in figure["meets"].values():
        for l, m in combinations(names, 2):
            drawn = turn(figure["lines"], l + "+", m + "+")
            constant = drawn - Fraction(figure["lines"][m]["direction"]) + Fraction(figure["lines"][l]["direction"])
            found.append((m, l, constant if drawn < 180 else constant - 180))
    return found


# Statements, as (kind, …) tuples of our own here, with a text for the reasoner and a formula for z3.


def random_world(rng: random.Random, figure: dict) -> dict[str, Fraction] | None:
    """Directions near the drawn ones inside all bounds, with some lines parallel or perpendicular; None if unlucky."""
    names = list(figure["lines"])
    for _ in range(6):
        world = {name: Fraction(figure["lines"][name]["direction"]) for name in names}
        for name in names:
            choice = rng.random()
            if choice < 0.35:
                world[name] += rng.randint(-12, 12)
            elif choice < 0.6:
                world[name] = world[rng.choice(names)] + rng.choice([0, 0, 0, 90, -90, 180, -180])
        if all(0 < world[m] - world[l] + c < 180 for m, l, c in bounds(figure)):
            return world
    return None


def random_statement(
    rng: random.Random, figure: dict, world: dict[str, Fraction] | None, values: dict[str, int]
) -> tuple:
    """A statement, true in the world if there is one (and one of the kind is to be had)."""
    angles, names = list(figure["angles"]), list(figure["lines"])

    def measure(angle: str) -> Fraction:
        to, start, c = form(figure, angle)
        return world[to] - world[start] + c

    for _ in range(12):
        kind = rng.choice(
            [
                "parallel",
                "parallel",
                "congruent",
                "congruent",
                "sum",
                "value",
                "perpendicular",
                "unknown",
                "linear",
                "unknown value",
                "not parallel",
                "two",
            ]
        )
        if kind in ("parallel", "perpendicular", "not parallel"):
            l, m = rng.sample(names, 2)
            if world is not None:
                difference = (world[l] - world[m]) % 180
                if kind == "parallel" and difference != 0 or kind == "perpendicular" and difference != 90:
                    continue
                if kind == "not parallel" and difference == 0:
                    continue
            return kind, l, m
        if not angles:
            continue
        a, b = rng.choice(angles), rng.choice(angles)
        if kind == "congruent":
            if a == b or world is not None and measure(a) != measure(b):
                continue
            return "linear", ((1, a), (-1, b)), 0
        if kind == "sum":
            total = rng.choice([180, 180, 90])
            if a == b or world is not None and measure(a) + measure(b) != total:
                continue
            return "linear", ((1, a), (1, b)), total
        if kind == "value":
            return "linear", ((1, a),), measure(a) if world is not None else Fraction(rng.randint(1, 359), 2)
        if kind == "two" and a != b:
            total = measure(a) - 2 * measure(b) if world is not None else Fraction(rng.randint(-180, 180))
            return "linear", ((1, a), (-2, b)), total
        if kind == "linear" and a != b:
            total = measure(a) + measure(b) if world is not None else Fraction(rng.randint(20, 340))
            return "linear", ((1, a), (1, b)), total
        x = rng.choice(list(values))
        if kind == "unknown":
            k = rng.choice([1, 2, 3, -1])
            at = measure(a) if world is not None else Fraction(rng.randint(1, 180))
            return "linear", ((1, a), (-k, x)), at - k * values[x]
        if kind == "unknown value":
            return "linear", ((1, x),), Fraction(values[x])
    return "parallel", *rng.sample(names, 2)


def text(statement: tuple) -> str:
    if statement[0] == "parallel":
        return f"{statement[1]} ∥ {statement[2]}"
    if statement[0] == "not parallel":
        return f"{statement[1]} ∦ {statement[2]}"
    if statement[0] == "perpendicular":
        return f"{statement[1]} ⊥ {statement[2]}"
    terms, total = statement[1:]
    left = " + ".join(f"({k}){'m∠' if name.isdigit() else ''}{name}" for k, name in terms)
    return f"{left} = {total if total >= 0 else f'-({-total})'}"


class Oracle:
    """One figure in z3; `solver` holds the bounds and can be used again (incremental) or made new (fresh)."""

    def __init__(self, figure: dict) -> None:
        self.figure = figure
        self.d = {name: z3.Real(f"d_{name}") for name in figure["lines"]}
        self.x = {name: z3.Real(name) for name in "xyz"}

    def bounded(self) -> z3.Solver:
        solver = z3.SolverFor("QF_LRA")
        for m, l, c in bounds(self.figure):
            turned = self.d[m] - self.d[l] + _real(c)
            solver.add(turned > 0, turned < 180)
        # Parts that nothing ties together: turning a whole part by 180 degrees changes no line, so each may be taken
        # within one half turn of the first. Then the few multiples of 180 below are all there are.
        first, *others = self.parts()
        for root in others:
            solver.add(self.d[root] - self.d[first] >= 0, self.d[root] - self.d[first] < 180)
        return solver

    def parts(self) -> list[str]:
        """One line of each part of the figure that crossings hold together."""
        part = {name: name for name in self.d}
        for m, l, _ in bounds(self.figure):
            old, new = part[m], part[l]
            part = {name: new if root == old else root for name, root in part.items()}
        return list(dict.fromkeys(part.values()))

    def formula(self, statement: tuple) -> z3.BoolRef:
        kind = statement[0]
        if kind in ("parallel", "not parallel", "perpendicular"):
            difference = self.d[statement[1]] - self.d[statement[2]]
            turn = 90 if kind == "perpendicular" else 0
            # Lines that cross differ by less than 180, so five lines by less than 720, loose parts and all.
            holds = z3.Or([difference == turn + 180 * k for k in range(-5, 5)])
            return z3.Not(holds) if kind == "not parallel" else holds
        terms, total = statement[1:]
        left = z3.Sum([_real(Fraction(k)) * self.quantity(name) for k, name in terms])
        return left == _real(Fraction(total))

    def quantity(self, name: str) -> z3.ArithRef:
        if not name.isdigit():
            return self.x[name]
        to, start, c = form(self.figure, name)
        return self.d[to] - self.d[start] + _real(c)

    def verdict(self, given: list[tuple], claim: tuple, solver: z3.Solver | None = None) -> str:
        solver = solver or self.bounded()
        solver.push()
        try:
            solver.add(*(self.formula(one) for one in given))
            if solver.check() == z3.unsat:
                return "givens conflict"
            wanted = self.formula(claim)
            if solver.check(z3.Not(wanted)) == z3.unsat:
                return "follows"
            return "cannot be" if solver.check(wanted) == z3.unsat else "not forced"
        finally:
            solver.pop()


def _real(value: Fraction) -> z3.RatNumRef:
    return z3.RealVal(str(value))


def random_query(rng: random.Random, most: int = 5, givens: int = 4) -> tuple[dict, list[tuple], tuple] | None:
    """A figure (raw), givens and a claim; None where the figure came out too bare."""
    figure = random_figure(rng, most)
    if len(figure["lines"]) < 2 or len(figure["angles"]) < 2:
        return None
    world = random_world(rng, figure) if rng.random() < 0.85 else None
    values = {"x": rng.randint(-5, 40), "y": rng.randint(1, 40)}
    given = [random_statement(rng, figure, world, values) for _ in range(rng.randint(0, givens))]
    claim = random_statement(rng, figure, world if rng.random() < 0.75 else None, values)
    return figure, given, claim
