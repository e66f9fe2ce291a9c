"""Exactly, by coordinates: is the claim true in every figure in which the givens hold and the lines meet as named?

A point is (p, q), where q stands for the conjugate of p, and a line of direction d has s = e^(2id): it holds the points
with p - s·q one number. Parallel is s = s', perpendicular s = -s', and what the givens say of directions makes every s
a product of powers of few free ones (the flat's columns) and of constants. Where three or more lines meet there is a
point; two such points on a line give one equation, linear in the points. The points are eliminated, dividing only by
what no figure makes zero: the difference of two lines that cross, of two points on a line. What is left are
polynomials in the free directions; they are solved one after the other, with a case for each factor, and the claim, a
polynomial too, must come out zero in every case.

Everything is exact and in whole numbers. The work is bounded before it starts by the number of unknowns, and while it
goes on by degree and by counted terms, so that the answer never depends on the machine.

Constants that are no multiple of 15 degrees stand for unknowns of their own: what is shown is then true for all of
them. "Not shown" is never taken for "not true".
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Sequence
from fractions import Fraction
from itertools import combinations
from math import lcm
from typing import Any

from app.reasoning.budget import spend
from app.reasoning.directions import Directions
from app.reasoning.linear import Flat

__all__ = ["shown_by_coordinates"]

MOST_UNKNOWNS = 9  # free directions, constants and points together
MOST_POINTS = 10
MOST_POWER = 6
MOST_DEGREE, MOST_TERMS = 24, 160
DEEPEST = 10
# A root of unity e^(2i·degrees) of its own for the common constants: what it satisfies, lowest power first.
ROOTS = {45: (1, 0, 1), 30: (1, -1, 1), 15: (1, 0, -1, 0, 1)}
Poly = Any  # an element of sympy's ring of polynomials


class TooLarge(Exception):
    """More than this way is meant for: nothing is said."""


def shown_by_coordinates(decision: Directions, flat: Flat, claim: tuple[list[int], int] | None) -> bool:
    """Whether the claim (a row, and what it must be modulo 180) holds in every figure of the flat; without a claim,
    whether the flat has no figure at all.
    """
    try:
        question = _Question(decision, flat, claim)
        return question.settled(question.equations, question.never, question.goal, 0)
    except TooLarge:
        return False


class _Question:
    """The figure, the givens and the claim as polynomials."""

    def __init__(self, decision: Directions, flat: Flat, claim: tuple[list[int], int] | None) -> None:
        self.decision, self.flat, self.frame = decision, flat, decision.frame
        frame = self.frame
        lines = [[frame.index[line] for line in frame.fig.meets[name].lines] for name in frame.threes]
        if len(lines) > MOST_POINTS:
            raise TooLarge
        lines += self.hub(lines)
        used = sorted({i for names in lines for i in names})
        forms = {i: self.form(self.unit(i)) for i in used}
        wanted = None if claim is None else self.form(claim[0], claim[1])
        self.make_ring([*forms.values(), *([wanted] if wanted else [])], lines)
        self.s = {i: self.power(form) for i, form in forms.items()}
        self.never: list[Poly] = []
        for name in frame.meets:
            here = [frame.index[line] for line in frame.fig.meets[name].lines]
            for i, j in combinations([i for i in here if i in self.s], 2):
                self.nonzero(self.across(i, j))
        for base, constant in zip(self.base, self.bases, strict=True):
            # Of a constant that stands for itself, what multiples of it are none of 180 degrees.
            for n in range(1, 1 + MOST_POWER):
                for half in (0, 90):
                    if (n * constant - half) % 180:
                        self.nonzero(base**n - (1 if half == 0 else -1))
        self.equations: list[Poly] = list(self.roots)
        self.place_points(lines)
        self.goal: Poly = self.ring.one if wanted is None else self.level(wanted)

    def hub(self, lines: Sequence[Sequence[int]]) -> list[list[int]]:
        """A crossing of two lines that has more of the points beside it than any of them has: a place to start from."""
        frame = self.frame
        on = {i: sum(i in names for names in lines) for i in range(len(frame.lines))}
        most, found = max((sum(on[i] - 1 for i in names) for names in lines), default=0), []
        for name in frame.meets:
            here = [frame.index[line] for line in frame.fig.meets[name].lines]
            if len(here) == 2 and all(on[i] > 1 for i in here) and on[here[0]] + on[here[1]] > most:
                most, found = on[here[0]] + on[here[1]], [here]
        return found

    # Directions.

    def unit(self, column: int) -> list[int]:
        row = [0] * (self.flat.width + 1)
        row[column] = 1
        return row

    def form(self, row: list[int], rest: int = 0) -> tuple[dict[int, Fraction], Fraction]:
        """A quantity as Σ k·(free column) + constant, in degrees."""
        reduced, scale = self.flat.reduce(row)
        found = {c: Fraction(reduced[c], scale) for c in range(self.flat.width) if reduced[c]}
        if any(c >= len(self.frame.lines) for c in found):
            raise TooLarge
        return found, Fraction(reduced[-1], scale) - rest

    def make_ring(self, forms: Sequence[tuple[dict[int, Fraction], Fraction]], lines: Sequence[Sequence[int]]) -> None:
        """The unknowns: free directions (all but one, since a figure may be turned), constants, points."""
        # Measured: 254 ms and 38 MB, for figures in which lines meet in threes.
        from sympy.polys.domains import ZZ
        from sympy.polys.rings import ring

        columns = sorted({c for form, _ in forms for c in form})
        self.grain = {c: lcm(*(form[c].denominator for form, _ in forms if c in form)) for c in columns}
        self.turned = columns[:1]
        free = columns[1:]
        constants = [Fraction(c) % 180 for _, c in forms]
        self.bases, self.minimal = _bases(constants)
        names = [f"a{i}" for i in range(len(free))] + [f"c{i}" for i in range(len(self.bases))]
        names += [f"q{i}" for i in range(len(lines))]
        if len(free) + len(self.bases) > MOST_UNKNOWNS:
            raise TooLarge
        self.ring, *gens = ring(names or ["a0"], ZZ)
        self.free = dict(zip(free, gens, strict=False))
        self.base = gens[len(free) : len(free) + len(self.bases)]
        self.q = gens[len(free) + len(self.bases) :] if lines else []
        self.roots = (
            [sum((k * self.base[0] ** i for i, k in enumerate(self.minimal)), self.ring.zero)] if self.minimal else []
        )

    def power(self, form: tuple[dict[int, Fraction], Fraction]) -> tuple[Poly, Poly]:
        """s = e^(2i·form) as a fraction of two monomials."""
        above, below = self.ring.one, self.ring.one
        for column, k in form[0].items():
            if column in self.free:
                n = int(k * self.grain[column])
                if abs(n) > MOST_POWER:
                    raise TooLarge
                above, below = _times(above, below, self.free[column], n)
        sign, powers = _split(form[1] % 180, self.bases)
        for base, n in zip(self.base, powers, strict=True):
            above, below = _times(above, below, base, n)
        return above * sign, below

    def level(self, form: tuple[dict[int, Fraction], Fraction]) -> Poly:
        """The polynomial that is zero where the form is a multiple of 180."""
        if sum(form[0].values()):
            raise TooLarge  # not a matter of the figure's shape alone
        above, below = self.power(form)
        return above - below

    def across(self, i: int, j: int) -> Poly:
        """s_i - s_j, without denominators."""
        (a, b), (c, d) = self.s[i], self.s[j]
        return a * d - c * b

    def nonzero(self, poly: Poly) -> None:
        """Take note that no figure makes a polynomial zero."""
        if poly == 0:
            # Lines that cross can't be parallel: such a flat has no figure.
            self.never.append(poly)
        else:
            self.never += _parts(poly, self.never)

    # Points.

    def place_points(self, lines: Sequence[Sequence[int]]) -> None:
        """Equations between the points' q, the p eliminated: round every loop, Σ s·(difference of q) is 0."""
        ring, count = self.ring, len(lines)
        shared: dict[int, list[int]] = {}
        for point, names in enumerate(lines):
            for i in names:
                shared.setdefault(i, []).append(point)
        apart = [(one, other) for points in shared.values() for one, other in combinations(points, 2)]
        if not apart:
            return
        # Everything over one denominator: the product of those of all s.
        shared = {i: points for i, points in shared.items() if len(points) > 1}
        whole = ring.one
        for i in shared:
            whole = _lcm(whole, self.s[i][1])
        s = {i: self.s[i][0] * (whole // self.s[i][1]) for i in shared}
        # p of each point as a row of coefficients over the q, along a tree from the point with most others beside it.
        p: dict[int, list[Poly]] = {}
        fixed: dict[int, int] = {}
        rows: list[list[Poly]] = []
        beside = {point: sum(len(shared[i]) for i in lines[point] if i in shared) for point in range(count)}
        for root in sorted(beside, key=lambda point: -beside[point]):
            if root in p or not beside[root]:
                continue
            # A piece of the figure of its own: put down at 0, and of size 1 along a first line.
            p[root], fixed[root] = [ring.zero] * count, 0
            waiting, seen = [root], set[int]()
            for here in waiting:
                for i in lines[here]:
                    if i not in shared or i in seen:
                        continue
                    seen.add(i)
                    for there in shared[i]:
                        if there == here:
                            continue
                        if len(fixed) % 2:
                            fixed[there] = 1
                        row = list(p[here])
                        row[there] += s[i]
                        row[here] -= s[i]
                        if there in p:
                            rows.append([x - y for x, y in zip(row, p[there], strict=True)])
                        else:
                            p[there] = row
                            waiting.append(there)
        self.eliminate(rows, fixed, apart)

    def eliminate(self, rows: list[list[Poly]], fixed: dict[int, int], apart: Sequence[tuple[int, int]]) -> None:
        """Solve for as many q as can be, dividing by what is never zero; the rest are equations."""
        ring = self.ring
        gone: dict[int, tuple[list[Poly], Poly]] = {}
        rows = [_primitive(row) for row in rows]
        while True:
            choice = None
            for number, row in enumerate(rows):
                for column, k in enumerate(row):
                    if k and column not in fixed and column not in gone and self.safe(k, self.never):
                        size = len(k), sum(map(len, row))
                        if choice is None or size < choice[0]:
                            choice = size, number, column
            if choice is None:
                break
            _, number, column = choice
            pivot = rows.pop(number)
            k = pivot[column]
            rest = [ring.zero if c == column else -x for c, x in enumerate(pivot)]
            gone = {
                c: (self.put(old, column, rest, k), below * k if old[column] else below)
                for c, (old, below) in gone.items()
            }
            gone[column] = (rest, k)
            rows = [self.put(row, column, rest, k) for row in rows]
            rows = [row for row in map(_primitive, rows) if any(row)]
        known = [self.known(c, fixed, gone) for c in range(len(self.q))]
        for row in rows:
            total = ring.zero
            for c, k in enumerate(row):
                if k:
                    total += k * known[c][0]
            self.equations.append(self.small(total))
        for one, other in dict.fromkeys(apart):
            (a, b), (c, d) = known[one], known[other]
            self.nonzero(self.small(a * d - c * b))

    def put(self, row: list[Poly], column: int, rest: list[Poly], k: Poly) -> list[Poly]:
        """The row with a column replaced by rest / k, times k."""
        if not row[column]:
            return row
        spend(sum(map(len, row)) * len(k) + sum(map(len, rest)) * len(row[column]))
        return [
            self.small(x * k + row[column] * y) if c != column else self.ring.zero
            for c, (x, y) in enumerate(zip(row, rest, strict=True))
        ]

    def known(
        self,
        column: int,
        fixed: dict[int, int],
        gone: dict[int, tuple[list[Poly], Poly]],
    ) -> tuple[Poly, Poly]:
        """A point's q as a fraction of polynomials."""
        if column in fixed:
            return self.ring(fixed[column]), self.ring.one
        if column not in gone:
            return self.q[column], self.ring.one
        row, below = gone[column]
        total = self.ring.zero
        for c, k in enumerate(row):
            if k:
                total += k * (self.ring(fixed[c]) if c in fixed else self.q[c])
        return self.small(total), below

    # Solving.

    def small(self, poly: Poly) -> Poly:
        """The polynomial, if it is of a size that is meant here."""
        spend(1 + len(poly))
        if len(poly) > MOST_TERMS or (poly and max(map(sum, poly.itermonoms())) > MOST_DEGREE):
            raise TooLarge
        return poly

    def safe(self, poly: Poly, never: Iterable[Poly]) -> bool:
        """Whether no figure makes it zero."""
        return bool(poly) and not _without(poly, never)

    def settled(self, equations: Sequence[Poly], never: list[Poly], goal: Poly, deep: int) -> bool:
        """Whether the goal is zero wherever the equations are and nothing in `never` is."""
        spend(100)
        if any(not one for one in never) or deep > DEEPEST:
            return deep <= DEEPEST
        if not goal:
            return True
        left: list[list[Poly]] = []
        for one in equations:
            if one:
                factors = _without(self.small(one), never)
                if not factors:
                    return True  # an equation that no figure satisfies: there is no such case
                left.append(factors)
        if not left:
            return False
        several = next((factors for factors in left if len(factors) > 1), None)
        if several is not None:
            others = [factors for factors in left if factors is not several]
            rest = [_product(self.ring, factors) for factors in others]
            return all(self.settled([one, *rest], never, goal, deep + 1) for one in several)
        polys = list(dict.fromkeys(factors[0] for factors in left))
        if len(polys) == 1:
            return not goal.rem(polys[0])
        return self.substituted(polys, never, goal, deep)

    def substituted(self, polys: list[Poly], never: list[Poly], goal: Poly, deep: int) -> bool:
        """One equation solved for an unknown in which it is linear, and put into the others."""
        best = None
        for one in polys:
            for place, x in enumerate(self.ring.gens):
                if one.degree(x) == 1:
                    above, rest = _linear(one, place, self.ring)
                    risk = 0 if self.safe(above, never) else 1
                    size = risk, len(above) * len(rest), len(one)
                    if best is None or size < best[0]:
                        best = size, one, place, above, rest
        if best is None:
            raise TooLarge
        (risk, *_), one, place, above, rest = best
        others = [poly for poly in polys if poly != one]
        never_zero = list(never)
        if risk:
            if not self.settled([above, rest, *others], never, goal, deep + 1):
                return False
            never_zero += _parts(above, never_zero)
        then = [self.replaced(poly, place, above, rest) for poly in others]
        off: list[Poly] = []
        for poly in never_zero:
            if poly.degree(self.ring.gens[place]):
                off += _parts(self.replaced(poly, place, above, rest), off)
            else:
                off.append(poly)
        return self.settled(then, off, self.replaced(goal, place, above, rest), deep + 1)

    def replaced(self, poly: Poly, place: int, above: Poly, rest: Poly) -> Poly:
        """The polynomial with the unknown replaced by -rest / above, times a power of `above`."""
        most = poly.degree(self.ring.gens[place])
        if most <= 0:
            return poly
        by_power: dict[int, Poly] = {}
        for monom, k in poly.iterterms():
            power = monom[place]
            bare = (*monom[:place], 0, *monom[place + 1 :])
            part = by_power.setdefault(power, self.ring.zero.copy())
            part[bare] = part.get(bare, 0) + k
        total = self.ring.zero
        for power, part in by_power.items():
            spend(len(part) * (1 + len(rest) * power + len(above) * (most - power)))
            total += self.small(part * (-rest) ** power * above ** (most - power))
        return self.small(total)


def _bases(constants: Sequence[Fraction]) -> tuple[list[Fraction], tuple[int, ...]]:
    """Constants that all others are sums of, and what the first satisfies where that is known."""
    odd = [c for c in dict.fromkeys(constants) if c % 90]
    if not odd:
        return [], ()
    for base, minimal in ROOTS.items():
        if all(c % base == 0 for c in odd):
            return [Fraction(base)], minimal
    found: list[Fraction] = []
    alone = [(max(powers), c) for c in odd if (powers := _alone(odd, c)) is not None]
    if alone:
        return [min(alone)[1]], ()
    for c in sorted(odd):
        try:
            _split(c, found)
        except TooLarge:
            found.append(c)
    return found, ()


def _alone(constants: Sequence[Fraction], base: Fraction) -> list[int] | None:
    """The powers of one base that the constants are, or None where one of them is none."""
    try:
        return [abs(_split(c, [base])[1][0]) for c in constants]
    except TooLarge:
        return None


def _split(constant: Fraction, bases: Sequence[Fraction]) -> tuple[int, list[int]]:
    """e^(2i·constant) as ±1 times powers of the bases'."""
    none = [0] * len(bases)
    if constant % 90 == 0:
        return (1 if constant % 180 == 0 else -1), none
    for at, base in enumerate(bases):
        for n in (1, -1, 2, -2, 3, -3, 4, -4, 5, -5, 6, -6):
            left = constant - n * base
            if left % 90 == 0:
                powers = list(none)
                powers[at] = n
                return (1 if left % 180 == 0 else -1), powers
    for (at, one), (to, other) in combinations(enumerate(bases), 2):
        for n in (1, -1):
            for m in (1, -1):
                left = constant - n * one - m * other
                if left % 90 == 0:
                    powers = list(none)
                    powers[at], powers[to] = n, m
                    return (1 if left % 180 == 0 else -1), powers
    raise TooLarge


def _times(above: Poly, below: Poly, x: Poly, n: int) -> tuple[Poly, Poly]:
    return (above * x**n, below) if n >= 0 else (above, below * x**-n)


def _lcm(a: Poly, b: Poly) -> Poly:
    return a * (b // a.gcd(b))


def _primitive(row: list[Poly]) -> list[Poly]:
    """A row without what all its entries have in common as a monomial or number."""
    common = None
    for k in row:
        if k:
            common = k if common is None else common.gcd(k) if len(common) == 1 or len(k) == 1 else common
            if common == 1:
                return row
    if common is None or len(common) > 1:
        return row
    return [k // common if k else k for k in row]


def _linear(poly: Poly, place: int, ring: Any) -> tuple[Poly, Poly]:
    """(a, b) with poly = a·x + b."""
    above, rest = ring.zero.copy(), ring.zero.copy()
    for monom, k in poly.iterterms():
        if monom[place]:
            above[(*monom[:place], 0, *monom[place + 1 :])] = k
        else:
            rest[monom] = k
    return above, rest


def _product(ring: Any, factors: Iterable[Poly]) -> Poly:
    total = ring.one
    for one in factors:
        total *= one
    return total


def _without(poly: Poly, never: Iterable[Poly]) -> list[Poly]:
    """The different irreducible factors of a polynomial that are not known to be never zero; monomials never are."""
    return list(_parts(poly, list(never)))


def _parts(poly: Poly, never: Sequence[Poly]) -> Iterator[Poly]:
    ring = poly.ring
    if not poly:
        yield poly
        return
    # Out with powers of unknowns that are never zero (directions and constants are; a point's q may be).
    low = [min(column) for column in zip(*poly.itermonoms(), strict=True)]
    for place, n in enumerate(low):
        if n and not ring.symbols[place].name.startswith("q"):
            poly = poly // ring.gens[place] ** n
    for one in never:
        while one and not poly.is_ground:
            spend(len(poly) + len(one))
            quotient, rest = poly.div(one)
            if rest or one.is_ground:
                break
            poly = quotient
    if poly.is_ground:
        return
    spend(20 * len(poly))
    for factor, _ in poly.factor_list()[1]:
        yield factor
