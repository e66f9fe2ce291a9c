"""The linear oracle: z3's linear arithmetic over one real direction a line.

From the contract: the measure of an angle is its second ray's direction less its first's, so it is linear, with the
multiple of 180 that the drawing fixes; every two lines at a named meet keep the way they turn; parallel is equality up to a multiple
of 180. That three lines meet in a point, and the order along lines, is not said here, so what this oracle proves
is certain, and what it calls possible may still be impossible (`planar.py` and `nonlinear.py` look further).
"""

from __future__ import annotations

from fractions import Fraction
from itertools import combinations

import z3

from tests.honest.plane import Figure, Number, Ray
from tests.honest.statements import BISECTS, LINEAR, NOT_PARALLEL, PARALLEL, PERPENDICULAR, Statement, halves, is_angle

CONFLICT, FOLLOWS, CANNOT, OPEN = "givens conflict", "follows", "cannot be", "not forced"
_numbers: dict[Number, z3.RatNumRef] = {}


def real(number: Number) -> z3.RatNumRef:
    if number not in _numbers:
        _numbers[number] = z3.RealVal(str(Fraction(number)))
    return _numbers[number]


class Linear:
    """One figure in z3, kept for many givens and claims."""

    def __init__(self, figure: Figure) -> None:
        self.figure = figure
        self.names = list(figure.lines)
        # Each direction as its difference from the drawn one: then every constant is what is drawn.
        self.turned = {name: z3.Real(f"turned_{name}") for name in self.names}
        self.drawn = {name: Fraction(figure.world[name]) for name in self.names}
        self.unknown: dict[str, z3.ArithRef] = {}
        self.solver = z3.SolverFor("QF_LRA")
        self.most: dict[tuple[str, str], Fraction] = {}
        for lines in figure.meets.values():
            for a, b in combinations(lines, 2):
                turn = (self.drawn[b] - self.drawn[a]) % 180
                apart = self.turned[b] - self.turned[a] + real(turn)
                self.solver.add(apart > 0, apart < 180)
                # The difference b - a of what was turned lies between -turn and 180 - turn.
                self._bound(a, b, turn)
        self._spread()

    def _bound(self, a: str, b: str, turn: Fraction) -> None:
        """most[a, b] is the most that b can be turned beyond a."""
        for one, two, most in ((a, b, 180 - turn), (b, a, turn)):
            self.most[one, two] = min(most, self.most.get((one, two), most))

    def _spread(self) -> None:
        """How far two lines can turn against each other: shortest paths, for the few multiples of 180 that matter."""
        for k in self.names:
            for a in self.names:
                for b in self.names:
                    if (a, k) in self.most and (k, b) in self.most and a != b:
                        way = self.most[a, k] + self.most[k, b]
                        if way < self.most.get((a, b), Fraction(10**6)):
                            self.most[a, b] = way
        first = self.names[0]
        loose = [name for name in self.names if name != first and (first, name) not in self.most]
        while loose:
            # A part that nothing ties to the first: a half turn of it changes no line, so one half turn is all there is.
            root = loose[0]
            self.solver.add(self.turned[root] - self.turned[first] >= 0, self.turned[root] - self.turned[first] < 180)
            self.most[first, root], self.most[root, first] = Fraction(181), Fraction(1)
            for k in (first, root):
                for a in self.names:
                    for b in self.names:
                        if (a, k) in self.most and (k, b) in self.most and a != b:
                            way = self.most[a, k] + self.most[k, b]
                            if way < self.most.get((a, b), Fraction(10**6)):
                                self.most[a, b] = way
            loose = [name for name in loose if (first, name) not in self.most]

    def _rays(self, start: Ray, end: Ray) -> z3.ArithRef:
        """The turn from one ray to another at a meet, in (0, 180) as drawn."""
        drawn = self.drawn[end[0]] - self.drawn[start[0]] + (0 if start[1] == end[1] else 180)
        return self.turned[end[0]] - self.turned[start[0]] + real(drawn % 360)

    def measure(self, angle: str) -> z3.ArithRef:
        _, start, end = self.figure.sector(angle)
        return self._rays(start, end)

    def formula(self, statement: Statement) -> z3.BoolRef:
        kind = statement[0]
        if kind in (PARALLEL, NOT_PARALLEL, PERPENDICULAR):
            ways = self._ways(statement[1], statement[2], 90 if kind == PERPENDICULAR else 0)
            holds = z3.Or([way == 0 for way in ways]) if ways else z3.BoolVal(False)
            return z3.Not(holds) if kind == NOT_PARALLEL else holds
        if kind == BISECTS:
            start, ray, end = halves(self.figure, statement[1], statement[2])
            return self._rays(start, ray) == self._rays(ray, end)
        assert kind == LINEAR
        left = z3.Sum([real(k) * self._quantity(name) for k, name in statement[1]])
        return left == real(statement[2])

    def _ways(self, l: str, m: str, turn: int) -> list[z3.ArithRef]:
        """l - m - turn - 180 k for every k that the bounds leave open."""
        drawn = self.drawn[l] - self.drawn[m] - turn
        # turned_l - turned_m lies between -least[l, m] and least[m, l].
        low, high = drawn - self.most[l, m], drawn + self.most[m, l]
        ways = []
        for k in range(-7, 8):
            if low <= 180 * k <= high:
                ways.append(self.turned[l] - self.turned[m] + real(drawn - 180 * k))
        return ways

    def visible(self, statement: Statement, degrees: int) -> z3.BoolRef:
        """The lines of a claim are at least so far off it."""
        ways = self._ways(statement[1], statement[2], 90 if statement[0] == PERPENDICULAR else 0)
        return z3.And([z3.Or(way >= degrees, way <= -degrees) for way in ways] or [z3.BoolVal(True)])

    def _quantity(self, name: str) -> z3.ArithRef:
        if is_angle(name):
            return self.measure(name)
        if name not in self.unknown:
            self.unknown[name] = z3.Real(name)
        return self.unknown[name]

    # Questions. `given` opens a set of givens; `close` drops it.

    def given(self, statements: list[Statement]) -> bool:
        """Add the givens; true where they can hold together, as far as directions go."""
        self.solver.push()
        self.solver.add(*(self.formula(one) for one in statements))
        return self.solver.check() == z3.sat

    def close(self) -> None:
        self.solver.pop()

    def possible(self, *formulas: z3.BoolRef) -> bool:
        self.solver.push()
        try:
            self.solver.add(*formulas)
            return self.solver.check() == z3.sat
        finally:
            self.solver.pop()

    def verdict(self, claim: Statement) -> str:
        wanted = self.formula(claim)
        if not self.possible(z3.Not(wanted)):
            return FOLLOWS
        return OPEN if self.possible(wanted) else CANNOT

    def conflict(self, statements: list[Statement]) -> bool:
        clash = not self.given(statements)
        self.close()
        return clash
