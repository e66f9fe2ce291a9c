"""A figure made ready for deciding: one column a line, the drawn order as constants and strict bounds.

Letters: d_i is the direction of line i, a real number near its drawn one; an angle's measure is
d(to) - d(from) + c with c a multiple of 180 read off the drawing. At each meet the lines keep their turning order, so
0 < d_j - d_i < 180 whenever line j is drawn counterclockwise of line i there. These bounds also settle which
multiple of 180 "parallel" means: see `steps`.

Nothing but the drawn order enters here, so figures that are drawn alike share what was worked out for the first:
a student who drags a line asks about many figures of one order.
"""

from __future__ import annotations

from collections import OrderedDict
from collections.abc import Iterable
from fractions import Fraction
from functools import cached_property
from itertools import combinations

from app.figure.model import Angle, Figure, Ray, angle_by_meets, measure_form
from app.figure.pairs import Pair, name_angles
from app.reasoning.linear import Row
from app.reasoning.notation import read
from app.reasoning.terms import ANGLE, Fact, Statement

__all__ = ["Frame", "frame_of"]

FAR = 10**9
MOST_KEPT = 512
MOST_ORDERS = 128
SHARED = (
    "lines",
    "index",
    "meets",
    "threes",
    "bounds",
    "whole",
    "between",
    "rings",
    "angles",
    "named",
    "_most",
    "_atoms",
    "_forms",
    "_pairs",
    "_read",
    "_rows",
)


class Frame:
    """What the reasoner needs of one figure, worked out once."""

    def __init__(self, fig: Figure, also: frozenset[str] = frozenset()) -> None:
        """`also` are lettered crossings that count as drawn because a statement names an angle there."""
        self.fig = fig
        self.directions = [line.direction for line in fig.lines.values()]
        # The drawing in whole numbers: direction_i = drawn[i] / scale.
        self.scale, self.drawn = fig.ruled.scale, list(fig.ruled.turn.values())
        self._steps: dict[tuple[str, str, int], list[int]] = {}
        order = order_of(fig), also
        known = _orders.get(order)
        if known is not None:
            self.__dict__.update(known)
            return
        self._work_out(also)
        _orders[order] = {name: self.__dict__[name] for name in SHARED}
        while len(_orders) > MOST_ORDERS:
            _orders.popitem(last=False)

    def _work_out(self, also: frozenset[str]) -> None:
        """Everything that the drawn order settles."""
        fig = self.fig
        self.lines = tuple(fig.lines)
        self.index = {name: i for i, name in enumerate(self.lines)}
        standing = {angle.at for angle in fig.angles.values()}
        lettered = fig.lettered
        self.meets = tuple(name for name in fig.meets if name not in lettered or name in standing or name in also)
        # Where three or more lines meet, directions alone don't say what can be drawn.
        self.threes = tuple(name for name in self.meets if len(fig.meets[name].lines) > 2)
        # (j, i, c): d_j - d_i + c > 0.
        self.bounds = tuple(dict.fromkeys(self._bounds()))
        self._most = self._reach()
        # Whether meets join all lines, as in nearly every figure.
        self.whole = all(most < FAR // 2 for most in self._most[0])
        sides = self._sides()
        # Pairs of lines that cross between two others, as the order along those says, with or without a name for it;
        # and three lines, each of which would lie to the left of the next, all the way round, with how their +
        # directions agree.
        self.between = tuple((i, j) for (i, j), both in sides.items() if len(both) > 1 and i < j)
        self.rings = tuple(self._rings({pair: next(iter(one)) for pair, one in sides.items() if len(one) == 1}))
        self._atoms: dict[tuple[str, Ray, Ray], str] = {}
        self.angles: dict[str, Angle] = {}
        self._forms: dict[str, tuple[int, int, int]] = {}
        self._pairs: dict[tuple[str, str], Pair] = {}
        self._read: dict[str, Statement] = {}
        self._rows: dict[tuple[Fact, int], Row] = {}
        for name, angle in fig.angles.items():
            self._enter(ANGLE + name, angle)
        self.named = tuple(self.angles)

    def _bounds(self) -> Iterable[tuple[int, int, int]]:
        for name in self.meets:
            around = sorted((self.index[line] for line in self.fig.meets[name].lines), key=self.drawn.__getitem__)
            for i, j in zip(around, around[1:], strict=False):
                yield j, i, 0
            yield around[0], around[-1], 180

    def _sides(self) -> dict[tuple[int, int], frozenset[int]]:
        """For lines i, j that a third line crosses: on which side of j line i would lie if they were parallel, as each
        such line says by the order of its meets (1: to the left of j's + direction).
        """
        fig, drawn, kept = self.fig, self.drawn, set(self.meets)
        found: dict[tuple[int, int], set[int]] = {}
        for line, k in self.index.items():
            passed: list[int] = []
            for name in fig.order(line):
                if name in kept:
                    here = [self.index[other] for other in fig.meets[name].lines if other != line]
                    for j in here:
                        for i in passed:
                            # Line k meets i before j: i lies where k comes from.
                            side = -1 if drawn[k] > drawn[j] else 1
                            found.setdefault((i, j), set()).add(side)
                            found.setdefault((j, i), set()).add(1 if drawn[k] > drawn[i] else -1)
                    passed += here
        return {pair: frozenset(sides) for pair, sides in found.items()}

    @cached_property
    def between_bounds(self) -> tuple[tuple[int, int, int], ...]:
        """(j, i, c): d_j - d_i + c > 0 for lines that cross between two others.

        Lines k and l meet i at P and R, j in the other order: P and R lie on two sides of j, and which comes first
        along i is drawn, so j turns against i one way only, as if their crossing had a name.
        """
        found = []
        for i, j in self.between:
            low, high = (j, i) if self.drawn[j] < self.drawn[i] else (i, j)
            found += [(high, low, 0), (low, high, 180)]
        return tuple(found)

    def _rings(self, sides: dict[tuple[int, int], int]) -> Iterable[tuple[int, int, int, int, int]]:
        if len(sides) < 6:
            return
        for i, j, k in combinations(range(len(self.lines)), 3):
            if (i, j) in sides and (j, k) in sides and (k, i) in sides:
                for one in self._agreeing(i, j):
                    for other in self._agreeing(i, k):
                        # Which of two lies to the left, all seen along the first.
                        round_about = {sides[i, j] * one, sides[j, k] * other, sides[k, i]}
                        if len(round_about) == 1:
                            yield i, j, k, one, other

    def _agreeing(self, i: int, j: int) -> set[int]:
        """How the + directions of two lines can agree if they are parallel: 1, or -1 for opposite."""
        return {1 if step % 360 == 0 else -1 for step in self._find_steps(self.lines[i], self.lines[j], 0)}

    def _reach(self) -> list[list[int]]:
        """most[i][j]: d_i - d_j is less than this (FAR where nothing bounds it)."""
        n = len(self.lines)
        most = [[0 if i == j else FAR for j in range(n)] for i in range(n)]
        for name in self.meets:
            around = sorted((self.index[line] for line in self.fig.meets[name].lines), key=self.drawn.__getitem__)
            for place, i in enumerate(around):
                for j in around[place + 1 :]:
                    most[j][i] = min(most[j][i], 180)
                    most[i][j] = min(most[i][j], 0)
        for k in range(n):
            through = most[k]
            for row in most:
                first = row[k]
                if first < FAR:
                    for j in range(n):
                        if first + through[j] < row[j]:
                            row[j] = first + through[j]
        return most

    def _enter(self, atom: str, angle: Angle) -> str:
        key = (angle.at, angle.start, angle.end)
        known = self._atoms.setdefault(key, atom)
        self.angles.setdefault(atom, angle)
        to, start, constant = measure_form(self.fig, angle)
        self._forms[atom] = self.index[to], self.index[start], constant
        return known

    def atom(self, angle: Angle) -> str:
        """The atom of a sector: "∠1" where the figure names it, else "∠" and three meets."""
        known = self._atoms.get((angle.at, angle.start, angle.end))
        if known is not None:
            return known
        first, last = (self._nearest(angle.at, ray) for ray in (angle.start, angle.end))
        if first is None or last is None:
            return self._enter(f"{ANGLE}{angle.at}:{angle.start}{angle.end}", angle)
        return self._enter(ANGLE + min(first, last) + angle.at + max(first, last), angle)

    def _nearest(self, at: str, ray: Ray) -> str | None:
        """The first meet along a ray."""
        order = list(self.fig.order(ray.line))
        place = order.index(at)
        ahead = order[place + 1 :] if ray.sign == "+" else order[:place][::-1]
        return ahead[0] if ahead else None

    def by_meets(self, p: str, vertex: str, q: str) -> str | None:
        """The atom of ∠PVQ, or None where the figure has no such angle."""
        found = angle_by_meets(self.fig, p, vertex, q)
        return None if found is None else self.atom(found)

    def pair(self, a: str, b: str) -> Pair:
        """How two angles lie to each other (atoms)."""
        found = self._pairs.get((a, b))
        if found is None:
            found = self._pairs[a, b] = name_angles(self.fig, self.angles[a], self.angles[b])
        return found

    def form(self, atom: str) -> tuple[int, int, int]:
        """(to, from, c): the atom's measure is d_to - d_from + c."""
        return self._forms[atom]

    def steps(self, l: str, m: str, turn: int = 0) -> list[int]:
        """The values of d_l - d_m, 180 apart and `turn` modulo 180, that the drawn order leaves possible.

        Two lines crossed by one line leave a single value for parallel (turn 0): the drawing settles it.
        Where nothing ties the two lines together, the value nearest to the drawing is taken: turning a whole
        loose part of the figure by 180 degrees changes nothing.
        """
        found = self._steps.get((l, m, turn))
        if found is None:
            found = self._steps[l, m, turn] = self._find_steps(l, m, turn)
        return found

    def _find_steps(self, l: str, m: str, turn: int) -> list[int]:
        i, j = self.index[l], self.index[m]
        most, least = self._most[i][j], -self._most[j][i]
        if most > FAR // 2 or least < -FAR // 2:
            drawn = self.directions[i] - self.directions[j]
            return [turn + 180 * round((drawn - turn) / 180)]
        first = turn + 180 * ((least - turn) // 180)
        return [value for value in range(first, most + 1, 180) if least < value < most]

    def crossing(self, l: str, m: str) -> bool:
        """Whether the figure shows a crossing of the two lines that counts as drawn."""
        return any(l in (lines := self.fig.meets[name].lines) and m in lines for name in self.meets)

    def tied(self, l: str, m: str) -> bool:
        """Whether meets join the two lines, so that the drawn order says something of their directions."""
        return self._most[self.index[l]][self.index[m]] < FAR // 2

    def tie(self, l: str, m: str, value: int) -> None:
        """Record d_l - d_m = value, on a frame of one's own, so that `steps` of other lines follow."""
        i, j = self.index[l], self.index[m]
        most, n = self._most, range(len(self.lines))
        tied = [
            [min(most[a][b], most[a][i] + value + most[j][b], most[a][j] - value + most[i][b]) for b in n] for a in n
        ]
        # The bounds are strict, and this one difference is reached.
        tied[i][j], tied[j][i] = value + 1, 1 - value
        self._most = tied
        self._steps.clear()

    def bisecting(self, line: str, atom: str) -> tuple[str, str] | None:
        """The two parts (atoms) that a line cuts an angle into, or None where it doesn't run inside it."""
        angle = self.angles[atom]
        if line not in self.fig.meets[angle.at].lines or line in (angle.start.line, angle.end.line):
            return None
        whole = self.fig.measure_between(angle.start, angle.end)
        for sign in "+-":
            ray = Ray(line, sign)
            if self.fig.measure_between(angle.start, ray) < whole:
                parts = Angle("", angle.at, angle.start, ray), Angle("", angle.at, ray, angle.end)
                return self.atom(parts[0]), self.atom(parts[1])
        return None

    def row(self, fact: Fact, unknowns: dict[str, int], width: int, step: int = 0) -> Row:
        """The fact as a row over directions and unknowns (`unknowns` gives their columns); for parallel and
        perpendicular, d_l - d_m = step. Rows are never changed: those without unknowns are
        made once.
        """
        if width == len(self.lines):
            known = self._rows.get((fact, step))
            if known is None:
                known = self._rows[fact, step] = self._make_row(fact, unknowns, width, step)
                if len(self._rows) > MOST_KEPT:
                    self._rows.clear()
            return known
        return self._make_row(fact, unknowns, width, step)

    def _make_row(self, fact: Fact, unknowns: dict[str, int], width: int, step: int) -> Row:
        row = [0] * (width + 1)
        if fact[0] == "equation":
            total = fact[2]
            forms = self._forms
            for atom, k in fact[1]:
                form = forms.get(atom)
                if form is not None:
                    to, start, constant = form
                    row[to] += k
                    row[start] -= k
                    if constant:
                        total += k * constant
                else:
                    row[unknowns[atom]] += k
            row[width] = total
            return row
        if fact[0] == "bisects":
            parts = self.bisecting(fact[1], fact[2])
            assert parts is not None
            for part, k in zip(parts, (1, -1), strict=True):
                to, start, constant = self._forms[part]
                row[to] += k
                row[start] -= k
                row[width] += k * constant
            return row
        row[self.index[fact[1]]] = 1
        row[self.index[fact[2]]] = -1
        row[width] = -step
        return row

    def measure(self, atom: str, directions: list[Fraction]) -> Fraction:
        """The atom's measure where the lines have the given directions."""
        to, start, constant = self._forms[atom]
        return directions[to] - directions[start] + constant

    def read(self, text: str) -> Statement:
        """The statement that a text makes about this figure; those read lately are kept."""
        known = self._read.get(text)
        if known is None:
            known = read(text, self)
            if len(self._read) >= MOST_KEPT:
                self._read.clear()
            self._read[text] = known
        return known


def order_of(fig: Figure) -> tuple[object, ...]:
    """The drawn order: equal for two figures in which the same lines, meets and angles lie alike."""
    turn = fig.ruled.turn.__getitem__
    return (
        tuple(fig.lines),
        tuple([(meet.name, meet.lines, tuple(sorted(meet.lines, key=turn))) for meet in fig.meets.values()]),
        tuple([fig.order(line) for line in fig.lines]),
        tuple(fig.angles.values()),
        fig.lettered,
    )


_orders: OrderedDict[tuple[tuple[object, ...], frozenset[str]], dict[str, object]] = OrderedDict()
_frames: OrderedDict[tuple[int, frozenset[str]], Frame] = OrderedDict()


def frame_of(fig: Figure, also: frozenset[str] = frozenset()) -> Frame:
    """The frame of a figure; those of the last 64 figures are kept."""
    key = (id(fig), also)
    frame = _frames.get(key)
    if frame is None or frame.fig is not fig:
        frame = Frame(fig, also)
        _frames[key] = frame
        while len(_frames) > 64:
            _frames.popitem(last=False)
    return frame
