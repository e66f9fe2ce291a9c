"""Real figures, found by Gauss and Newton: which lines in the plane keep the drawing and make these statements true?

The unknowns are a direction and a distance from the origin for each line, and the letters of the statements. Equations: every
named meet is one point, every statement holds. Bounds, as penalties until they hold: turning at each meet, order along each
line. Derivatives by a complex step, so the last iterations converge quadratically. A figure counts only when all is checked
again, apart from how it was found.
"""

from __future__ import annotations

from itertools import combinations
from math import cos, degrees, pi, radians, sin
from typing import NamedTuple

import numpy as np

from tests.honest.plane import Figure, Place, World, facts
from tests.honest.statements import (
    BISECTS,
    LINEAR,
    NOT_PARALLEL,
    PARALLEL,
    PERPENDICULAR,
    Statement,
    halves,
    is_angle,
    off,
    unknowns_of,
)

STEP = 1e-30


class Plane:
    """The equations of one figure and some statements."""

    def __init__(self, figure: Figure, statements: list[Statement]) -> None:
        self.figure = figure
        self.names = list(figure.lines)
        self.n = len(self.names)
        self.at = {name: i for i, name in enumerate(self.names)}
        self.letters = sorted(set().union(*(unknowns_of(one) for one in statements)) if statements else set())
        self.size = 2 * self.n + len(self.letters)
        self.scale = figure.facts.size
        self.drawn = np.array([radians(float(figure.world[name])) for name in self.names])
        self.apart = (
            np.array(
                [
                    figure.through[name][1] * cos(t) - figure.through[name][0] * sin(t)
                    for name, t in zip(self.names, self.drawn, strict=True)
                ]
            )
            / self.scale
        )
        self.statements = [one for one in statements if one[0] != NOT_PARALLEL]
        rows, totals = [], []
        for one in self.statements:
            row = self.row(one)
            if row is not None:
                rows.append(row[0])
                totals.append(row[1])
        self.rows = np.array(rows).reshape(len(rows), self.size)
        self.totals = np.array(totals)
        self.parallel = [(self.at[s[1]], self.at[s[2]]) for s in self.statements if s[0] == PARALLEL]
        self.square = [(self.at[s[1]], self.at[s[2]]) for s in self.statements if s[0] == PERPENDICULAR]
        self.pairs: list[tuple[int, int]] = []
        self.triples: list[tuple[int, int, int]] = []
        self.spot: dict[str, int] = {}
        for meet, lines in figure.meets.items():
            a, b = max(
                combinations(lines, 2),
                key=lambda two: abs(sin(radians(float(figure.world[two[1]] - figure.world[two[0]])))),
            )
            self.spot[meet] = len(self.pairs)
            self.pairs.append((self.at[a], self.at[b]))
            self.triples += [(self.at[a], self.at[b], self.at[c]) for c in lines if c not in (a, b)]
        self.turns = []
        for lines in figure.meets.values():
            for a, b in combinations(lines, 2):
                turn = radians(float(figure.world[b] - figure.world[a]))
                self.turns.append((self.at[a], self.at[b], -pi * np.floor(turn / pi)))
        self.steps = [
            (self.at[name], self.spot[first], self.spot[second])
            for name, order in figure.facts.order.items()
            for first, second in zip(order, order[1:], strict=False)
        ]
        self._index()

    def _index(self) -> None:
        def columns(rows: list, width: int) -> list[np.ndarray]:
            return list(np.array(rows, dtype=int).reshape(-1, width).T)

        self.i_par, self.i_square = columns(self.parallel, 2), columns(self.square, 2)
        self.i_pair, self.i_triple = columns(self.pairs, 2), columns(self.triples, 3)
        self.i_step = columns(self.steps, 3)
        self.i_turn = columns([t[:2] for t in self.turns], 2)
        self.c_turn = np.array([t[2] for t in self.turns])

    def row(self, statement: Statement) -> tuple[np.ndarray, float] | None:
        """A statement that is linear in directions and letters: (factors, total), in radians."""
        row, total = np.zeros(self.size), 0.0

        def sector(start: tuple[str, str], end: tuple[str, str], k: float) -> float:
            """Add k times the turn from start to end; what its drawn multiple of 180 adds to the left side."""
            drawn = float(self.figure.world[end[0]] - self.figure.world[start[0]])
            turn = (drawn + (0 if start[1] == end[1] else 180)) % 360
            row[self.at[end[0]]] += k
            row[self.at[start[0]]] -= k
            return k * radians(turn - drawn)

        if statement[0] == LINEAR:
            for k, name in statement[1]:
                if is_angle(name):
                    _, start, end = self.figure.sector(name)
                    total -= sector(start, end, float(k))
                else:
                    row[2 * self.n + self.letters.index(name)] += float(k)
            return row, total + radians(float(statement[2]))
        if statement[0] == BISECTS:
            start, ray, end = halves(self.figure, statement[1], statement[2])
            total -= sector(start, ray, 1.0)
            total -= sector(ray, end, -1.0)
            return row, total
        return None

    def equations(self, x: np.ndarray) -> np.ndarray:
        """Residuals of a batch of points (…, size)."""
        t, r = x[..., : self.n], x[..., self.n : 2 * self.n]
        parts = []
        if len(self.rows):
            parts.append(x @ self.rows.T - self.totals)
        if self.parallel:
            a, b = self.i_par
            parts.append(np.sin(t[..., a] - t[..., b]))
        if self.square:
            a, b = self.i_square
            parts.append(np.cos(t[..., a] - t[..., b]))
        if self.triples:
            a, b, c = self.i_triple
            parts.append(
                r[..., a] * np.sin(t[..., b] - t[..., c])
                + r[..., b] * np.sin(t[..., c] - t[..., a])
                + r[..., c] * np.sin(t[..., a] - t[..., b])
            )
        return np.concatenate(parts, -1) if parts else np.zeros((*x.shape[:-1], 0), x.dtype)

    def bounds(self, x: np.ndarray, angle: float, gap: float) -> np.ndarray:
        """What the drawing wants, each 0 where it holds."""
        t, r = x[..., : self.n], x[..., self.n : 2 * self.n]
        a, b = self.i_turn
        turn = t[..., b] - t[..., a] + self.c_turn
        parts = [_below(turn, angle), _below(pi - turn, angle)]
        if self.steps:
            a, b = self.i_pair
            s = np.sin(t[..., b] - t[..., a])
            s = np.where(np.abs(s.real) < 1e-6, 1e-6, s)
            px = (r[..., a] * np.cos(t[..., b]) - r[..., b] * np.cos(t[..., a])) / s
            py = (r[..., a] * np.sin(t[..., b]) - r[..., b] * np.sin(t[..., a])) / s
            l, first, second = self.i_step
            along = (px[..., second] - px[..., first]) * np.cos(t[..., l]) + (
                py[..., second] - py[..., first]
            ) * np.sin(t[..., l])
            parts.append(_below(along, gap))
        return np.concatenate(parts, -1)

    def solve(self, x: np.ndarray, push: tuple[int, int, float] | None, rounds: int) -> np.ndarray | None:
        """Newton's way from x to a figure; `push` = (l, m, t): l turned at least 9 degrees off m + t, for a failing claim."""
        angle, gap = radians(2.5), 0.012

        def whole(v: np.ndarray) -> np.ndarray:
            parts = [self.equations(v), self.bounds(v, angle, gap)]
            if push:
                l, m, turn = push
                parts.append(_below(np.sin(v[..., l] - v[..., m] - turn) ** 2, sin(radians(9)) ** 2)[..., None])
            return np.concatenate(parts, -1)

        steps = np.vstack([np.zeros(self.size), 1j * STEP * np.eye(self.size)])
        damp, best = 1e-2, np.inf
        for _ in range(rounds):
            batch = whole(x + steps)
            f, jac = batch[0].real, (batch[1:].imag / STEP).T
            cost = float(f @ f)
            if cost < 1e-27:
                return x
            best = min(best, cost)
            normal, slope = jac.T @ jac, jac.T @ f
            for _ in range(8):
                try:
                    move = np.linalg.solve(normal + damp * np.eye(self.size), slope)
                except np.linalg.LinAlgError:
                    return None
                size = float(np.abs(move).max())
                trial = x - move * min(1.0, 0.7 / max(size, 1e-12))
                g = whole(trial)
                if float(g @ g) < cost:
                    x, damp = trial, max(damp * 0.15, 1e-13)
                    break
                damp = min(damp * 6, 1e6)
            else:
                return None
        return None

    def start(self, rng: np.random.Generator, spread: float) -> np.ndarray:
        x = np.zeros(self.size)
        x[: self.n] = self.drawn + rng.normal(0, spread, self.n)
        x[self.n : 2 * self.n] = self.apart + rng.normal(0, spread, self.n)
        x[2 * self.n :] = rng.normal(0.5, 0.5, len(self.letters))
        return x

    def read(self, x: np.ndarray) -> tuple[World, dict[str, Place], dict[str, float]]:
        world = {name: degrees(x[i]) for name, i in self.at.items()}
        through = {
            name: (-sin(x[i]) * x[self.n + i] * self.scale, cos(x[i]) * x[self.n + i] * self.scale)
            for name, i in self.at.items()
        }
        letters = {name: degrees(x[2 * self.n + i]) for i, name in enumerate(self.letters)}
        return world, through, letters


def _below(value: np.ndarray, least: float) -> np.ndarray:
    return np.where(value.real < least, least - value, 0)


class Found(NamedTuple):
    world: World
    through: dict[str, Place]
    letters: dict[str, float]


def realize(
    figure: Figure,
    holds: list[Statement],
    fails: Statement | None = None,
    *,
    starts: int = 6,
    seed: int = 0,
    rounds: int = 60,
    visible: float = 0.5,
) -> Found | None:
    """A figure in which all of `holds` hold and `fails` fails by at least `visible` degrees; None where none was found."""
    rng = np.random.default_rng(seed)
    plane = Plane(figure, holds)
    pushes: list[tuple[int, int, float] | None] = [None]
    if fails is not None and fails[0] in (PARALLEL, PERPENDICULAR):
        turn = pi / 2 if fails[0] == PERPENDICULAR else 0.0
        pushes = [(plane.at[fails[1]], plane.at[fails[2]], turn), None]
    for k in range(starts):
        x = plane.solve(plane.start(rng, (0.05, 0.15, 0.3, 0.6)[k % 4]), pushes[k % len(pushes)], rounds)
        if x is None:
            continue
        world, through, letters = plane.read(x)
        if fails is not None:
            letters |= {name: float(rng.normal(30, 20)) for name in unknowns_of(fails) - set(letters)}
        if sound(figure, world, through, letters, holds) and (
            fails is None or float(off(figure, world, letters, fails)) >= visible
        ):
            return Found(world, through, letters)
    return None


def sound(
    figure: Figure, world: World, through: dict[str, Place], letters: dict[str, float], holds: list[Statement]
) -> bool:
    """Checked apart from how it was found: the drawing is kept, every meet is one point, every statement holds."""
    seen = facts(world, through, figure.meets)
    return (
        seen.same_as(figure.facts)
        and seen.miss < 1e-8 * seen.size
        and seen.gap > 1e-4 * seen.size
        and seen.angle > 0.5
        and all(float(off(figure, world, letters, one)) < 1e-7 for one in holds)
    )
