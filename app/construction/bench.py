"""Where a recipe is put together: its moves, drawn as they come, and the marks that both compasses begin with.

Points are lettered with the first free capitals.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction
from math import hypot

from app.construction.arithmetic import FLOATS, P
from app.construction.moves import Move, Program
from app.construction.replay import Drawing, replay
from app.construction.start import Start

__all__ = [
    "Bench",
    "Recipe",
    "RecipeStep",
    "beside",
    "bisect_angle_marks",
    "cross_at",
    "line_name",
    "perpendicular_marks",
    "rhombus_marks",
    "toward",
    "transversal_foot",
]


@dataclass(frozen=True)
class RecipeStep:
    """A named step: `key` names its title and caption, `upto` is how many moves are done after it."""

    key: str
    upto: int
    names: dict[str, str]


@dataclass(frozen=True)
class Recipe:
    start: Start
    moves: tuple[Move, ...]
    result: str
    steps: tuple[RecipeStep, ...]
    compass: str = "modern"

    def program(self) -> Program:
        return Program(self.start, self.moves, self.result, self.compass)


@dataclass
class Bench:
    """Where a recipe is put together: moves made so far, drawn as they come so that places can be chosen."""

    start: Start
    moves: list[Move] = field(default_factory=list)
    steps: list[RecipeStep] = field(default_factory=list)
    arcs: int = 0

    def drawing(self) -> Drawing:
        return replay(Program(self.start, tuple(self.moves)), FLOATS)

    def at(self, name: str) -> P:
        return self.drawing().point(name)

    def far(self, a: str, b: str) -> float:
        (ax, ay), (bx, by) = self.at(a), self.at(b)
        return hypot(ax - bx, ay - by)

    def fresh(self, letters: str) -> str:
        """The first capital of `letters`, then of the alphabet, that no point or line uses; then with a
        prime.
        """
        used = {*self.start.points, *(move.name for move in self.moves)}
        for tail in ("", "1", "2"):
            for letter in letters + "BCDEFGHJKLMNPQRSTUVWXYZA":
                if letter + tail not in used:
                    return letter + tail
        raise AssertionError("more than seventy points")

    def add(self, move: Move) -> str:
        self.moves.append(move)
        return move.name

    def place(self, of: str, near: P, letters: str = "BCDEF") -> str:
        return self.add(Move("on", self.fresh(letters), of=(of,), near=rounded(near)))

    def arc(self, center: str, opening: tuple[str, str]) -> str:
        self.arcs += 1
        name = f"c{self.arcs}"
        while name in self.start.points:
            self.arcs += 1
            name = f"c{self.arcs}"
        return self.add(Move("arc", name, center=center, opening=opening))

    def meet(self, a: str, b: str, near: P, letters: str = "BCDEF") -> str:
        return self.add(Move("meet", self.fresh(letters), of=(a, b), near=rounded(near)))

    def straight(self, kind: str, name: str, a: str, b: str) -> str:
        used = {*self.start.points, *(move.name for move in self.moves)}
        while name in used:
            name += "1"
        return self.add(Move(kind, name, through=(a, b)))

    def step(self, key: str, **names: str) -> None:
        self.steps.append(RecipeStep(key, len(self.moves), names))


def rounded(at: P) -> tuple[Fraction, Fraction]:
    x, y = (Fraction(round(c * 10**6), 10**6) for c in at)
    return x, y


def toward(a: P, b: P, far: float) -> P:
    """The point `far` from a on the way to b."""
    long = hypot(b[0] - a[0], b[1] - a[1])
    return a[0] + (b[0] - a[0]) * far / long, a[1] + (b[1] - a[1]) * far / long


def beside(a: P, b: P, left: bool) -> P:
    """A point well to one side of the way from a to b."""
    dx, dy = b[0] - a[0], b[1] - a[1]
    return (b[0] - dy, b[1] + dx) if left else (b[0] + dy, b[1] - dx)


def transversal_foot(bench: Bench) -> tuple[str, str]:
    """Q on the line, off the foot of P's perpendicular, and the transversal through P."""
    a, b = bench.start.line
    p = bench.start.point
    (ax, ay), (bx, by), (px, py) = bench.at(a), bench.at(b), bench.at(p)
    ux, uy = bx - ax, by - ay
    t = ((px - ax) * ux + (py - ay) * uy) / (ux * ux + uy * uy)
    height = abs(ux * (py - ay) - uy * (px - ax)) / (ux * ux + uy * uy)
    q = bench.place(line_name(bench), (ax + (t - 0.45 * height) * ux, ay + (t - 0.45 * height) * uy), "Q")
    return q, bench.straight("line", "t", q, p)


def line_name(bench: Bench) -> str:
    return "".join(bench.start.line)


def cross_at(bench: Bench, v: str, p: str, q: str) -> float:
    (vx, vy), (px, py), (qx, qy) = bench.at(v), bench.at(p), bench.at(q)
    return float((px - vx) * (qy - vy) - (py - vy) * (qx - vx))


def rhombus_marks(bench: Bench, part: float) -> tuple[str, str, str, P]:
    """P, Q on the line, N where the arc about Q through P crosses it, and the place of the fourth corner."""
    p = bench.start.point
    a, b = (bench.at(name) for name in bench.start.line)
    at_p = bench.at(p)
    ux, uy = b[0] - a[0], b[1] - a[1]
    long = hypot(ux, uy)
    t = ((at_p[0] - a[0]) * ux + (at_p[1] - a[1]) * uy) / long**2
    height = abs(ux * (at_p[1] - a[1]) - uy * (at_p[0] - a[0])) / long**2
    back = t - (0.2 + part) * height
    q = bench.place(line_name(bench), (a[0] + back * ux, a[1] + back * uy), "Q")
    first = bench.arc(q, (q, p))
    at_q, far = bench.at(q), bench.far(q, p)
    n = bench.meet(first, line_name(bench), (at_q[0] + ux * far / long, at_q[1] + uy * far / long), "NCDE")
    at_n = bench.at(n)
    return p, q, n, (at_p[0] + at_n[0] - at_q[0], at_p[1] + at_n[1] - at_q[1])


def bisect_angle_marks(bench: Bench, part: float) -> tuple[str, str, str, P]:
    """The vertex, the two marks of an arc across the angle, and a place inside it beyond them."""
    p, v, q = bench.start.angle
    far = part * min(bench.far(v, p), bench.far(v, q))
    b = bench.place(v + p, toward(bench.at(v), bench.at(p), far))
    first = bench.arc(v, (v, b))
    c = bench.meet(first, v + q, toward(bench.at(v), bench.at(q), far))
    at_b, at_c, at_v = bench.at(b), bench.at(c), bench.at(v)
    return v, b, c, (at_b[0] + at_c[0] - at_v[0], at_b[1] + at_c[1] - at_v[1])


def perpendicular_marks(bench: Bench, part: float) -> tuple[str, str, str, P]:
    """The point, the two marks of an arc about it on the line, and a place across the line from it."""
    a, b = bench.start.line
    p = bench.start.point
    line = line_name(bench)
    at_p, at_a, at_b = bench.at(p), bench.at(a), bench.at(b)
    ux, uy = at_b[0] - at_a[0], at_b[1] - at_a[1]
    long = hypot(ux, uy)
    t = ((at_p[0] - at_a[0]) * ux + (at_p[1] - at_a[1]) * uy) / long**2
    height = abs(ux * (at_p[1] - at_a[1]) - uy * (at_p[0] - at_a[0])) / long
    half = max(height * (0.4 + part), (0.15 + part / 3) * long if bench.start.on_line() else 0) / long
    c = bench.place(line, (at_a[0] + (t - half) * ux, at_a[1] + (t - half) * uy), "CDEF")
    first = bench.arc(p, (p, c))
    d = bench.meet(first, line, (at_a[0] + (t + half) * ux, at_a[1] + (t + half) * uy), "DEFG")
    foot = at_a[0] + t * ux, at_a[1] + t * uy
    left = bench.start.off(p, a, b) <= 0
    return p, c, d, beside(foot, (foot[0] + 2 * half * ux, foot[1] + 2 * half * uy), left)
