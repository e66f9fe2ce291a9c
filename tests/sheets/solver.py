"""Solves printed questions from the printed page alone: its words, and the strokes and letters of its drawing.

Nothing of the program is used. Lines, dots and labels are read off the SVG; which angle a number stands for is seen from where it
stands. An angle's measure is then a linear form in the directions of its two lines (its sign and its multiple of 180
are read off the drawing), so that what is given forces a claim when the claim is a combination of the givens: exact
elimination by sympy. Names of pairs: by which sides of the transversal and inside or outside, as in any textbook.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from html import unescape
from itertools import combinations
from typing import Any

import numpy as np
from sympy import Expr, Matrix, Rational, Symbol, solve, sympify

X, Y = Symbol("x"), Symbol("y")
NUMBER = re.compile(r'<text class="number" x="([-\d.]+)" y="([-\d.]+)"[^>]*font-size="([\d.]+)"[^>]*>([^<]+)<')
LABEL = re.compile(r'<text class="label" x="([-\d.]+)" y="([-\d.]+)"[^>]*font-size="([\d.]+)"[^>]*>([^<]+)<')
LINE = re.compile(r'<g data-line="([^"]+)"><path class="line" d="M([-\d.]+) ([-\d.]+)L([-\d.]+) ([-\d.]+)"')
DOT = re.compile(r'<circle class="meet" cx="([-\d.]+)" cy="([-\d.]+)"')
# Start beside the label, tip in the angle.
LEADER = re.compile(r'<path class="leader" d="M([-\d.]+) ([-\d.]+)L([-\d.]+) ([-\d.]+)"')


def words(html: str) -> str:
    text = unescape(re.sub(r"<(title|desc)[^>]*>.*?</\1>|<[^>]+>", " ", html, flags=re.S))
    return " ".join(text.replace("\xa0", " ").replace("−", "-").split())


def value(text: str) -> Expr:
    """(3x + 26)° as an expression."""
    text = text.replace("−", "-").replace("²", "**2").replace("°", "").replace("\xa0", " ").strip()
    text = re.sub(r"(\d|\))\s*(?=[xy(])", r"\1*", text)
    assert re.fullmatch(r"[\dxy+\-*()/ ]+", text), text
    return sympify(text)


@dataclass
class Angle:
    meet: int
    first: tuple[str, int]  # a ray: line and which way along it; the angle lies counterclockwise from it
    second: tuple[str, int]

    @property
    def lines(self) -> set[str]:
        return {self.first[0], self.second[0]}


@dataclass
class Drawing:
    """A figure as it is printed, y up."""

    lines: dict[str, tuple[np.ndarray, np.ndarray]]
    meets: list[np.ndarray]
    angles: dict[str, Angle] = field(default_factory=dict)
    measures: dict[str, Expr] = field(default_factory=dict)

    @staticmethod
    def read(svg: str) -> Drawing:
        lines = {}
        for name, *ends in LINE.findall(svg):
            a, b = np.array([float(ends[0]), -float(ends[1])]), np.array([float(ends[2]), -float(ends[3])])
            lines[unescape(name)] = (a, (b - a) / np.linalg.norm(b - a))
        drawing = Drawing(lines, [np.array([float(x), -float(y)]) for x, y in DOT.findall(svg)])
        leaders = [
            (np.array([float(a), -float(b)]), np.array([float(c), -float(d)])) for a, b, c, d in LEADER.findall(svg)
        ]
        found = [
            (kind, unescape(text), float(x), -(float(y) - 0.36 * float(size)), float(size))
            for kind, pattern in (("number", NUMBER), ("label", LABEL))
            for x, y, size, text in pattern.findall(svg)
        ]
        # "Not drawn to scale." is no measure.
        found = [one for one in found if one[0] == "number" or not re.search(r"[a-wz]{3}", one[1])]
        places = {(kind, text): np.array([x, y]) for kind, text, x, y, _ in found}
        for start, tip in leaders:
            # A leader runs from beside its label to its tip in the angle.
            near = min(
                found,
                key=lambda one, s=start: (
                    max(abs(s[0] - one[2]) - 0.28 * one[4] * len(one[1]), 0) + max(abs(s[1] - one[3]) - 0.4 * one[4], 0)
                ),
            )
            places[near[0], near[1]] = tip
        for kind, text, *_ in found:
            if kind == "number":
                drawing.angles[text] = drawing.sector(places[kind, text])
        for kind, text, *_ in found:
            if kind == "label":
                drawing.measures[drawing.owner(places[kind, text])] = value(text)
        return drawing

    def through(self, meet: int) -> list[str]:
        at = self.meets[meet]
        return [n for n, (p, u) in self.lines.items() if abs(np.cross(np.append(u, 0), np.append(at - p, 0))[2]) < 1.5]

    def rays(self, meet: int) -> list[tuple[float, str, int]]:
        found = []
        for name in self.through(meet):
            turn = np.degrees(np.arctan2(self.lines[name][1][1], self.lines[name][1][0]))
            found += [(turn % 360, name, 1), ((turn + 180) % 360, name, -1)]
        return sorted(found)

    def wedge(self, meet: int, at: np.ndarray) -> Angle:
        """The sector of a meet that a place lies in."""
        way = at - self.meets[meet]
        turn = np.degrees(np.arctan2(way[1], way[0])) % 360
        rays = self.rays(meet)
        i = next((k for k, ray in enumerate(rays) if ray[0] > turn), 0)
        (_, a, s), (_, b, t) = rays[i - 1], rays[i]
        return Angle(meet, (a, s), (b, t))

    def sector(self, at: np.ndarray) -> Angle:
        meet = min(range(len(self.meets)), key=lambda k: float(np.linalg.norm(self.meets[k] - at)))
        return self.wedge(meet, at)

    def owner(self, at: np.ndarray) -> str:
        """The numbered angle in whose sector a measure stands, nearest to its vertex."""
        fits = [
            (float(np.linalg.norm(self.meets[a.meet] - at)), name)
            for name, a in self.angles.items()
            if (w := self.wedge(a.meet, at)) and (w.first, w.second) == (a.first, a.second)
        ]
        return min(fits)[1]

    # What is known of directions.

    def turn(self, name: str) -> float:
        u = self.lines[name][1]
        return float(np.degrees(np.arctan2(u[1], u[0])))

    def measure(self, name: str) -> Expr:
        """The angle as a form in the directions of its lines."""
        a = self.angles[name]
        (one, s), (two, t) = a.first, a.second
        drawn = (self.turn(two) + (0 if t > 0 else 180) - self.turn(one) - (0 if s > 0 else 180)) % 360
        constant = round((drawn - (self.turn(two) - self.turn(one))) / 180) * 180
        return Symbol(f"d_{two}") - Symbol(f"d_{one}") + constant

    def parallel(self, one: str, two: str) -> Expr:
        """Zero when they are parallel."""
        return Symbol(f"d_{one}") - Symbol(f"d_{two}") - round((self.turn(one) - self.turn(two)) / 180) * 180

    def zero(self, statement: str) -> list[Expr]:
        """The forms that are zero where the statement holds."""
        text = statement.replace("−", "-").replace("°", "").strip().rstrip(".")
        if " and " in text and not re.match(r"∠\w+ and ∠", text):
            return [z for part in text.split(" and ") for z in self.zero(part)]
        if found := re.fullmatch(r"(\w) ∥ (\w)", text):
            return [self.parallel(*found.groups())]
        if found := re.fullmatch(r"(\w) ⊥ (\w)", text):
            return [self.square(*found.groups())]
        if found := re.fullmatch(r"∠(\w+) ≅ ∠(\w+)", text):
            return [self.measure(found[1]) - self.measure(found[2])]
        if found := re.fullmatch(r"∠(\w+) and ∠(\w+) are (?:supplementary|a linear pair)", text):
            return [self.measure(found[1]) + self.measure(found[2]) - 180]
        left, right = text.split(" = ")
        return [self.side(left) - self.side(right)]

    def square(self, one: str, two: str) -> Expr:
        """Zero when they are perpendicular, with the turn that is nearest to the drawing."""
        off = self.turn(one) - self.turn(two)
        return Symbol(f"d_{one}") - Symbol(f"d_{two}") - (round((off - 90) / 180) * 180 + 90)

    def side(self, text: str) -> Expr:
        total: Expr = sympify(0)
        for sign, term in re.findall(r"(^|[+-])\s*([^+-]+)", text.strip()):
            part = self.measure(term.strip()[2:]) if term.strip().startswith("m∠") else value(term)
            total = total - part if sign == "-" else total + part
        return total

    def forces(self, given: list[Expr], claim: list[Expr]) -> bool:
        """Whether each claim is a combination of the givens."""
        names = sorted({s for e in [*given, *claim] for s in e.free_symbols}, key=str)

        def row(e: Expr) -> list[Expr]:
            return [e.coeff(n) for n in names] + [e.subs(dict.fromkeys(names, 0))]

        base = Matrix([row(e) for e in given]) if given else Matrix(0, len(names) + 1, [])
        rank = base.rank() if given else 0
        return all(Matrix([*base.tolist(), row(e)]).rank() == rank for e in claim if e != 0)

    def allows(self, given: list[Expr]) -> bool:
        """Whether the givens don't contradict each other."""
        names = sorted({s for e in given for s in e.free_symbols}, key=str)
        left = Matrix([[e.coeff(n) for n in names] for e in given])
        whole = Matrix([[e.coeff(n) for n in names] + [e.subs(dict.fromkeys(names, 0))] for e in given])
        return left.rank() == whole.rank()

    # Names of pairs.

    def pair(self, one: str, two: str) -> tuple[str, str | None, frozenset[str]]:
        """(name, transversal, the two other lines)."""
        a, b = self.angles[one], self.angles[two]
        if a.meet == b.meet:
            if a.lines != b.lines:
                return "not a named pair", None, frozenset()
            opposite = {(n, -s) for n, s in (a.first, a.second)} == {b.first, b.second}
            return ("vertical angles" if opposite else "a linear pair"), None, frozenset()
        shared = [n for n in a.lines & b.lines if n in self.through(a.meet) and n in self.through(b.meet)]
        if not shared:
            return "not a named pair", None, frozenset()
        t = shared[0]
        inside, side = [], []
        for angle, other in ((a, b), (b, a)):
            along = next(s for n, s in (angle.first, angle.second) if n == t)
            across = next((n, s) for n, s in (angle.first, angle.second) if n != t)
            toward = np.dot(self.meets[other.meet] - self.meets[angle.meet], self.lines[t][1]) * along > 0
            inside.append(toward)
            u, v = self.lines[t][1], self.lines[across[0]][1] * across[1]
            side.append(u[0] * v[1] - u[1] * v[0] > 0)
        same = side[0] == side[1]
        lines = frozenset((a.lines | b.lines) - {t})
        if inside[0] != inside[1]:
            return ("corresponding angles" if same else "not a named pair"), t, lines
        where = "interior" if inside[0] else "exterior"
        return f"{'consecutive' if same else 'alternate'} {where} angles", t, lines


EQUAL = ("corresponding", "alternate interior", "alternate exterior")


def theorem(name: str, *, converse: bool) -> str:
    """The theorem about a pair as the American house prints it."""
    bare = name.removesuffix(" angles").title()
    if converse:
        return f"{bare} Angles Converse"
    return f"{bare} Angles {'Postulate' if bare == 'Corresponding' else 'Theorem'}"


def crossing_pairs(drawing: Drawing, names: list[str], lines: set[str] | None = None) -> list[str]:
    """The names of those pairs of these angles that have one, at two vertices, on these lines."""
    found = []
    for one, two in combinations(names, 2):
        name, t, others = drawing.pair(one, two)
        if t and name != "not a named pair" and (lines is None or others == lines):
            found.append(name)
    return found


def solve_unknowns(drawing: Drawing, lines: tuple[str, str]) -> list[dict[Symbol, Rational]]:
    """x (and y) that make, or follow from, parallel lines: angles stay between 0 and 180 degrees."""
    equations = [drawing.measure(name) - expr for name, expr in drawing.measures.items()]
    equations.append(drawing.parallel(*lines))
    symbols = sorted({s for e in equations for s in e.free_symbols}, key=str)
    fixed = next(s for s in symbols if str(s).startswith("d_"))
    equations = [e.subs(fixed, 0) for e in equations]
    unknown = [s for s in symbols if s != fixed]
    found = solve(equations, unknown, dict=True)
    return [one for one in found if all(0 < expr.subs(one) < 180 for expr in drawing.measures.values())]


# Proofs: does a row follow from those above it, by its reason?

PLAIN = {
    "Given",
    "Vertical Angles Theorem",
    "Linear Pair Postulate",
    "Supplements of congruent angles are congruent",
    "Transitive Property",
    "Substitution Property",
    "Lines parallel to the same line are parallel",
}
PAIRS = (
    "corresponding angles",
    "alternate interior angles",
    "alternate exterior angles",
    "consecutive interior angles",
    "consecutive exterior angles",
)
REASONS = PLAIN | {theorem(p, converse=c) for p in PAIRS for c in (False, True)}


def atoms(statement: str) -> Expr | None:
    """An equation of measures taken as mere quantities; None for a statement about lines."""
    text = statement.replace("−", "-")
    if found := re.fullmatch(r"∠(\w+) ≅ ∠(\w+)", text):
        return Symbol(f"m{found[1]}") - Symbol(f"m{found[2]}")
    if found := re.fullmatch(r"∠(\w+) and ∠(\w+) are supplementary", text):
        return Symbol(f"m{found[1]}") + Symbol(f"m{found[2]}") - 180
    if " = " in text:
        left, right = (re.sub(r"m∠(\w+)", r"m\1", side) for side in text.split(" = "))
        return sympify(left) - sympify(right)
    return None


def spanned(rows: list[Expr], claim: Expr) -> bool:
    names = sorted({s for e in [*rows, claim] for s in e.free_symbols}, key=str)

    def row(e: Expr) -> list[Any]:
        return [e.coeff(n) for n in names] + [e.subs(dict.fromkeys(names, 0))]

    base = Matrix([row(e) for e in rows]) if rows else Matrix(0, len(names) + 1, [])
    return Matrix([*base.tolist(), row(claim)]).rank() == (base.rank() if rows else 0)


def pair_in(statement: str) -> tuple[str, str, str] | None:
    """(first angle, second angle, equal or sum)."""
    if found := re.fullmatch(r"∠(\w+) ≅ ∠(\w+)", statement):
        return found[1], found[2], "equal"
    if found := re.fullmatch(r"m∠(\w+) = m∠(\w+)", statement):
        return found[1], found[2], "equal"
    if found := re.fullmatch(r"∠(\w+) and ∠(\w+) are supplementary", statement):
        return found[1], found[2], "sum"
    if found := re.fullmatch(r"m∠(\w+) \+ m∠(\w+) = 180", statement):
        return found[1], found[2], "sum"
    return None


def lines_in(statement: str) -> frozenset[str] | None:
    found = re.fullmatch(r"(\w) ∥ (\w)", statement)
    return frozenset(found.groups()) if found else None


def row_follows(drawing: Drawing, given: list[str], above: list[str], claim: str, reason: str) -> bool:
    if reason == "Given":
        return claim in given
    two, wanted = pair_in(claim), lines_in(claim)
    if reason in ("Vertical Angles Theorem", "Linear Pair Postulate"):
        name = "vertical angles" if reason.startswith("Vert") else "a linear pair"
        return two is not None and drawing.pair(two[0], two[1])[0] == name and (two[2] == "equal") == (name[0] == "v")
    if reason == "Lines parallel to the same line are parallel" or (reason == "Transitive Property" and wanted):
        known = [lines_in(row) for row in above]
        return wanted is not None and any(a and b and a ^ b == wanted for a, b in combinations(known, 2))
    if reason in ("Transitive Property", "Substitution Property", "Supplements of congruent angles are congruent"):
        equation = atoms(claim)
        known = [e for row in above if (e := atoms(row)) is not None]
        return equation is not None and spanned(known, equation)
    for name in PAIRS:
        kind = "equal" if name.startswith(EQUAL) else "sum"
        if reason == theorem(name, converse=False) and two:
            found, t, others = drawing.pair(two[0], two[1])
            return found == name and two[2] == kind and any(lines_in(row) == others for row in above)
        if reason == theorem(name, converse=True) and wanted:
            for row in above:
                pair = pair_in(row)
                if pair and pair[2] == kind:
                    found, t, others = drawing.pair(pair[0], pair[1])
                    if found == name and others == wanted:
                        return True
            return False
    return False
