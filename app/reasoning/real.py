"""A real figure for a flat of directions: every named meet one point, the drawn order kept, and off what it must fail.

Where three or more lines meet, not every direction that the givens allow has a figure: that the lines go through one
point is an equation between directions and offsets that isn't linear. So directions (in the flat's free columns) and
offsets are settled together, by least squares from seeded starts, with a little room asked at every strict bound. What
comes out is made exact where it can be (the directions are fractions on the flat, so the givens hold exactly), and
the figure is read back and looked at: order, turning, and each meet one point to 1e-10 of its size.

Letters: d_i is the direction of line i, b_i its offset (-sin d·x + cos d·y = b), u the free columns in radians.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from itertools import combinations
from math import cos, degrees, pi, radians, sin
from random import Random

from app.figure.model import Figure
from app.reasoning.budget import spend
from app.reasoning.directions import Directions, Off
from app.reasoning.least import Row, settle
from app.reasoning.linear import Flat
from app.reasoning.linear import Row as Whole
from app.reasoning.realise import figure_of

__all__ = ["real_points"]

ROOMS = (6.0, 2.0)  # degrees asked at each strict bound, first and later
PLAIN = (24.0, 12.0, 10.0)  # degrees asked off the claim
SEEN = Fraction(8)  # degrees off that are seen from the last row
SURE = Fraction(1, 10)  # where floats settle directions too, a failure by less is none
FINE = 10**12
ROUNDS, POLISH = 60, 12


class _Affine:
    """A quantity that is linear in the free columns: constant + Σ k·u, in radians."""

    __slots__ = ("constant", "slopes")

    def __init__(self, constant: float, slopes: Sequence[tuple[int, float]]) -> None:
        self.constant, self.slopes = constant, slopes

    def at(self, x: Sequence[float]) -> float:
        return self.constant + sum(k * x[c] for c, k in self.slopes)

    def less(self, other: _Affine) -> _Affine:
        total = dict(self.slopes)
        for c, k in other.slopes:
            total[c] = total.get(c, 0.0) - k
        return _Affine(self.constant - other.constant, [(c, k) for c, k in total.items() if k])


class System:
    """The rows that a figure must make small, over x = (u, b)."""

    def __init__(self, decision: Directions, flat: Flat, away: Sequence[Off]) -> None:
        frame = decision.frame
        self.decision, self.frame, self.flat, self.away = decision, frame, flat, away
        self.free = flat.free()
        self.lines = len(frame.lines)
        self.first = len(self.free)
        self.start_at = [Fraction(0)] * flat.width
        for column, direction in enumerate(frame.directions):
            self.start_at[column] = direction
        place = {column: i for i, column in enumerate(self.free)}
        self.d: list[_Affine] = []
        for column in range(flat.width):
            self.d.append(self.affine(column, place))
        self.bounds = [
            _Affine(self.d[j].constant - self.d[i].constant + radians(c), self.d[j].less(self.d[i]).slopes)
            for j, i, c in frame.bounds
        ]
        self.off = [self.quantity(one.row, -one.rest) for one in away]
        self.read_drawing()
        self.threes = [
            (i, j, k)
            for name in frame.meets
            if len(frame.fig.meets[name].lines) > 2
            for i, j, k in self.triples([frame.index[line] for line in frame.fig.meets[name].lines])
        ]
        self.orders = []
        for line, k in frame.index.items():
            order = [name for name in frame.fig.order(line) if name in frame.meets]
            for before, after in zip(order, order[1:], strict=False):
                self.orders.append((k, self.beside(before, k), self.beside(after, k)))

    def affine(self, column: int, place: dict[int, int]) -> _Affine:
        row = [0] * (self.flat.width + 1)
        row[column] = 1
        reduced, scale = self.flat.reduce(row)
        return _Affine(
            radians(reduced[-1] / scale),
            [(place[c], reduced[c] / scale) for c in self.free if reduced[c]],
        )

    def quantity(self, row: Whole, shift: int) -> _Affine:
        total: dict[int, float] = {}
        constant = radians(row[-1] + shift)
        for column, k in enumerate(row[:-1]):
            if k:
                constant += k * self.d[column].constant
                for c, q in self.d[column].slopes:
                    total[c] = total.get(c, 0.0) + k * q
        return _Affine(constant, list(total.items()))

    def read_drawing(self) -> None:
        """Offsets as drawn, from the middle of the meets, in a size of 10."""
        fig = self.frame.fig
        places = [fig.meets[name].at for name in self.frame.meets]
        xs, ys = [x for x, _ in places] or [0.0], [y for _, y in places] or [0.0]
        self.middle = (min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2
        size = max(max(xs) - min(xs), max(ys) - min(ys)) or 10.0
        self.grow = 10.0 / size
        most = max((len([n for n in fig.order(line) if n in self.frame.meets]) for line in self.frame.lines), default=1)
        self.apart = 10.0 / (most + 4)
        self.drawn = []
        for line in fig.lines.values():
            turn = radians(float(line.direction))
            x, y = (float(line.through[0]) - self.middle[0]), (float(line.through[1]) - self.middle[1])
            self.drawn.append((-sin(turn) * x + cos(turn) * y) * self.grow)

    def triples(self, names: list[int]) -> Iterator[tuple[int, int, int]]:
        """A meet of n lines as n - 2 times three lines through one point, from the two that cross most squarely."""

        def across(two: tuple[int, int]) -> float:
            a, b = (float(self.frame.directions[i]) for i in two)
            return abs(sin(radians(a - b)))

        i, j = max(combinations(names, 2), key=across)
        for k in names:
            if k not in (i, j):
                yield i, j, k

    def beside(self, meet: str, k: int) -> int:
        """The line that crosses line k most squarely at a meet."""
        names = [self.frame.index[line] for line in self.frame.fig.meets[meet].lines]
        here = float(self.frame.directions[k])
        return max(
            (i for i in names if i != k),
            key=lambda i: abs(sin(radians(float(self.frame.directions[i]) - here))),
        )

    # Rows.

    def equations(self, x: Sequence[float]) -> list[Row]:
        """Three lines through one point: b_i sin(k-j) + b_j sin(i-k) + b_k sin(j-i) = 0."""
        found: list[Row] = []
        d = [one.at(x) for one in self.d[: self.lines]]
        b = self.first
        for i, j, k in self.threes:
            bi, bj, bk = x[b + i], x[b + j], x[b + k]
            kj, ik, ji = d[k] - d[j], d[i] - d[k], d[j] - d[i]
            si, sj, sk = sin(kj), sin(ik), sin(ji)
            ci, cj, ck = bi * cos(kj), bj * cos(ik), bk * cos(ji)
            slopes = [(b + i, si), (b + j, sj), (b + k, sk)]
            for line, slope in ((i, cj - ck), (j, ck - ci), (k, ci - cj)):
                slopes += [(c, slope * q) for c, q in self.d[line].slopes]
            found.append((bi * si + bj * sj + bk * sk, slopes))
        return found

    def hinges(self, x: Sequence[float], room: float, plain: float, sign: Sequence[int]) -> list[Row]:
        """What strict bounds lack: order along lines, turning at meets, distance from what must fail."""
        found: list[Row] = []
        for one in self.bounds:
            lack = room - one.at(x)
            if lack > 0:
                found.append((6 * lack, [(c, -6 * k) for c, k in one.slopes]))
        for one, side, away in zip(self.off, sign, self.away, strict=True):
            value = one.at(x)
            if away.turn:
                value -= pi * round(value / pi)
            lack = plain - side * value
            if lack > 0:
                found.append((4 * lack, [(c, -4 * side * k) for c, k in one.slopes]))
        b = self.first
        d = [one.at(x) for one in self.d[: self.lines]]
        for k, i, j in self.orders:
            before, after = self.along(x, d, k, i), self.along(x, d, k, j)
            if before is None or after is None:
                continue
            lack = self.apart - (after[0] - before[0])
            if lack > 0:
                slopes: list[tuple[int, float]] = []
                for (_, own, cross, turn), line, sense in ((before, i, 1.0), (after, j, -1.0)):
                    slopes += [(b + k, sense * own), (b + line, sense * cross)]
                    slopes += [(col, sense * turn * q) for col, q in self.d[k].slopes]
                    slopes += [(col, -sense * turn * q) for col, q in self.d[line].slopes]
                found.append((lack, slopes))
        return found

    def along(self, x: Sequence[float], d: Sequence[float], k: int, i: int) -> tuple[float, float, float, float] | None:
        """How far along line k it crosses line i, and the slopes in b_k, b_i and d_k - d_i."""
        turn = d[k] - d[i]
        s, c = sin(turn), cos(turn)
        if abs(s) < 1e-3:
            return None
        t = (x[self.first + i] - x[self.first + k] * c) / s
        return t, -c / s, 1 / s, x[self.first + k] - t * c / s

    # Starts and ends.

    def start(self, number: int) -> list[float]:
        """The drawing, or for later numbers a figure turned and moved from it at random (the same ones each time)."""
        drawn = [radians(float(self.start_at[c])) if c < self.lines else 0.0 for c in self.free]
        if number < 2:
            return [*drawn, *self.drawn]
        rng = Random(number)
        spread = radians(8.0 * (1 + number % 5))
        return [*(v + rng.gauss(0, spread) for v in drawn), *(b + rng.gauss(0, 1.0 + number % 3) for b in self.drawn)]

    def points(self, numbers: Sequence[int]) -> Iterator[tuple[list[Fraction], Figure, Fraction]]:
        """(values of all columns, the figure, the least distance off) for the starts that end in a real figure."""
        for number in numbers:
            room = radians(ROOMS[number % len(ROOMS)])
            plain = radians(PLAIN[number // 2 % len(PLAIN)])
            sign = [1 if (number >> place) & 1 == 0 else -1 for place in range(len(self.off))]
            columns = range(self.first + self.lines)

            def rows(x: Sequence[float], room: float = room, plain: float = plain, sign: list[int] = sign) -> list[Row]:
                return [(3 * r, [(c, 3 * k) for c, k in s]) for r, s in self.equations(x)] + self.hinges(
                    x, room, plain, sign
                )

            x, _ = settle(self.start(number), rows, ROUNDS, columns)
            for found in self.finished(x):
                yield found
                break

    def finished(self, x: list[float]) -> Iterator[tuple[list[Fraction], Figure, Fraction]]:
        """The figure made exact: round directions where these have one too, else as fine as floats go."""
        offsets = range(self.first, self.first + self.lines)
        for grain in (5, 1, 0):
            spend(50 + 10 * self.lines)
            whole = [self.value(x[i], grain) for i in range(self.first)]
            here = [*(radians(float(v)) for v in whole), *x[self.first :]]
            if grain == 0:
                here, cost = settle(list(x), self.equations, POLISH, range(self.first + self.lines))
                if cost > 1e-22:
                    return
                whole = [self.value(v, 0) for v in here[: self.first]]
            elif self.threes:
                here, cost = settle(here, self.equations, POLISH, offsets)
                if cost > 1e-22:
                    continue
            point = [Fraction(0)] * self.flat.width
            for column, value in zip(self.free, whole, strict=True):
                point[column] = value
            point = self.flat.point(point)
            off = self.judged(point)
            if off is None or (grain and off < SEEN and self.away):
                continue
            figure = self.drawn_as(point, here[self.first :])
            if figure is not None:
                yield point, figure, off

    def value(self, turn: float, grain: int) -> Fraction:
        if grain:
            return Fraction(round(degrees(turn) / grain) * grain)
        return Fraction(round(degrees(turn) * FINE), FINE)

    def judged(self, point: Sequence[Fraction]) -> Fraction | None:
        """The least distance off, all strict bounds kept; else None. All of it exact."""
        if any(point[j] - point[i] + c < SURE for j, i, c in self.frame.bounds):
            return None
        least = min((one.distance(one.value(point)) for one in self.away), default=Fraction(90))
        return least if least > 0 and (not self.threes or least >= SURE) else None

    def drawn_as(self, point: Sequence[Fraction], offsets: Sequence[float]) -> Figure | None:
        """The figure of these directions and offsets, where it reads back as what it is to be."""
        directions = list(point[: self.lines])
        units = [(cos(radians(float(d % 360))), sin(radians(float(d % 360)))) for d in directions]
        return figure_of(self.frame, directions, units, offsets)


def real_points(
    decision: Directions,
    flat: Flat,
    away: Sequence[Off],
    numbers: Sequence[int],
) -> Iterator[tuple[list[Fraction], Figure, Fraction]]:
    """Real figures of the flat, off what must fail, from the starts of these numbers."""
    yield from System(decision, flat, away).points(numbers)
