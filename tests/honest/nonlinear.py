"""The nonlinear oracle: z3's arithmetic of real polynomials over coordinates of the named points.

The first line with two named points lies along the x-axis from (0, 0) to (1, 0): turning, moving and scaling a figure changes
nothing that is said of it. An angle is told by the cross and the dot product of its two rays, so statements with measures other than 45,
90 and 135, or with unknowns, are not for this oracle.
"""

from __future__ import annotations

from collections import Counter

import z3

from tests.honest.plane import Figure, Ray
from tests.honest.statements import (
    BISECTS,
    LINEAR,
    NOT_PARALLEL,
    PARALLEL,
    PERPENDICULAR,
    Statement,
    halves,
    is_angle,
    unknowns_of,
)

PROVED, REFUTED, UNKNOWN, NOT_FOR_IT = "proved", "refuted", "unknown", "not for it"
Vector = tuple[z3.ArithRef, z3.ArithRef]


class NotForThis(Exception):
    """A statement that polynomials with whole factors can't say."""


class Nonlinear:
    def __init__(self, figure: Figure, timeout: int) -> None:
        self.figure = figure
        self.solver = z3.SolverFor("QF_NRA")
        self.solver.set("timeout", timeout)
        self.point: dict[str, Vector] = {}
        base = max(figure.lines, key=lambda name: len(figure.facts.order[name]))
        order = figure.facts.order[base]
        zero, one = z3.RealVal(0), z3.RealVal(1)
        for meet in figure.meets:
            on_base = meet in order
            self.point[meet] = (z3.Real(f"{meet}_x"), zero if on_base else z3.Real(f"{meet}_y"))
        if order:
            self.point[order[0]] = (zero, zero)
        if len(order) > 1:
            self.point[order[1]] = (one, zero)
        self.ray: dict[str, Vector] = {}
        for name in figure.lines:
            points = figure.facts.order[name]
            if name == base:
                self.ray[name] = (one, zero)
            elif len(points) > 1:
                (ax, ay), (bx, by) = self.point[points[0]], self.point[points[-1]]
                self.ray[name] = (bx - ax, by - ay)
            else:
                u, v = z3.Real(f"{name}_u"), z3.Real(f"{name}_v")
                self.ray[name] = (u, v)
                if not points:
                    self.solver.add(z3.Or(u != 0, v != 0))
        for name, points in figure.facts.order.items():
            ray = self.ray[name]
            for a, b in zip(points, points[1:], strict=False):
                step = (self.point[b][0] - self.point[a][0], self.point[b][1] - self.point[a][1])
                if len(points) > 2 or name == base:
                    self.solver.add(cross(ray, step) == 0)
                self.solver.add(dot(ray, step) > 0)
        for (a, b), turn in figure.facts.turns.items():
            self.solver.add(turn * cross(self.ray[a], self.ray[b]) > 0)

    def _sector(self, start: Ray, end: Ray) -> tuple[z3.ArithRef, z3.ArithRef]:
        """(cross, dot) of the two rays: sine and cosine of the angle, times a positive number."""
        factor = 1 if start[1] == end[1] else -1
        a, b = self.ray[start[0]], self.ray[end[0]]
        return factor * cross(a, b), factor * dot(a, b)

    def formula(self, statement: Statement) -> z3.BoolRef:
        kind = statement[0]
        if kind in (PARALLEL, NOT_PARALLEL, PERPENDICULAR):
            a, b = self.ray[statement[1]], self.ray[statement[2]]
            return {PARALLEL: cross(a, b) == 0, NOT_PARALLEL: cross(a, b) != 0, PERPENDICULAR: dot(a, b) == 0}[kind]
        if kind == BISECTS:
            start, ray, end = halves(self.figure, statement[1], statement[2])
            return _same(self._sector(start, ray), self._sector(ray, end))
        assert kind == LINEAR
        terms, total = statement[1:]
        if not all(is_angle(name) for _, name in terms):
            raise NotForThis
        sectors = [self._sector(*self.figure.sector(name)[1:]) for _, name in terms]
        factors = [k for k, _ in terms]
        if factors == [1] and total in (45, 90, 135):
            s, c = sectors[0]
            return {45: c == s, 90: c == 0, 135: c == -s}[int(total)]
        if factors == [1, -1] and total == 0:
            return _same(*sectors)
        if factors == [1, 1] and total in (90, 180):
            (s, c), (t, d) = sectors
            if total == 180:
                return s * d + c * t == 0
            return z3.And(c * d - s * t == 0, c > 0)
        raise NotForThis

    def prove(self, given: list[Statement], claim: Statement | None) -> str:
        """Proved where no figure has the givens and not the claim; with no claim, where no figure has the givens."""
        try:
            formulas = [self.formula(one) for one in bound(given, claim)]
            if claim is not None:
                formulas.append(z3.Not(self.formula(claim)))
        except NotForThis:
            return NOT_FOR_IT
        self.solver.push()
        self.solver.add(*formulas)
        answer = self.solver.check()
        self.solver.pop()
        return PROVED if answer == z3.unsat else REFUTED if answer == z3.sat else UNKNOWN


def bound(given: list[Statement], claim: Statement | None) -> list[Statement]:
    """The givens that say something of the figure: what gives a letter that stands nowhere else is always to be had."""
    left = list(given)
    while True:
        told = Counter(name for one in [*left, *([claim] if claim else [])] for name in unknowns_of(one))
        keep = [one for one in left if all(told[name] > 1 for name in unknowns_of(one))]
        if len(keep) == len(left):
            return left
        left = keep


def cross(a: Vector, b: Vector) -> z3.ArithRef:
    return a[0] * b[1] - a[1] * b[0]


def dot(a: Vector, b: Vector) -> z3.ArithRef:
    return a[0] * b[0] + a[1] * b[1]


def _same(one: tuple, two: tuple) -> z3.BoolRef:
    (s, c), (t, d) = one, two
    return s * d == c * t
