"""Theorems with names, and sentences that look like theorems: what every textbook says must be said here too.

Each is a figure through free points (moved at random, so that nothing in the drawing is special), givens, a claim, and what is
true; none of them may be left open.
"""

from __future__ import annotations

import random
from collections.abc import Callable
from dataclasses import dataclass

from tests.honest.plane import Figure, Place, from_points
from tests.honest.statements import BISECTS, PARALLEL, PERPENDICULAR, Statement, congruent, total, value

FOLLOWS, OPEN, CANNOT, CONFLICT = "follows", "not forced", "cannot be", "givens conflict"
Points = dict[str, Place]


@dataclass(frozen=True)
class Named:
    name: str
    source: str
    points: Callable[[random.Random], Points]
    lines: dict[str, str]
    given: tuple[Statement, ...]
    claim: Statement
    truth: str

    def figure(self, rng: random.Random) -> Figure:
        for _ in range(200):
            figure = from_points(self.points(rng), self.lines)
            if figure is not None and figure.facts.angle > 10 and figure.facts.size < 30:
                return figure
        raise AssertionError(self.name)


def _near(rng: random.Random, spread: float = 0.6, **at: Place) -> Points:
    return {name: (x + rng.uniform(-spread, spread), y + rng.uniform(-spread, spread)) for name, (x, y) in at.items()}


def _meet(a: Place, b: Place, c: Place, d: Place) -> Place:
    """Where AB and CD cross."""
    r, s = (b[0] - a[0], b[1] - a[1]), (d[0] - c[0], d[1] - c[1])
    k = ((c[0] - a[0]) * s[1] - (c[1] - a[1]) * s[0]) / (r[0] * s[1] - r[1] * s[0])
    return a[0] + k * r[0], a[1] + k * r[1]


def _quadrilateral(rng: random.Random) -> Points:
    p = _near(rng, A=(0, 0), B=(6, 0), C=(8, 4.5), D=(2, 4.5))
    return p | {"E": _meet(p["A"], p["C"], p["B"], p["D"])}


def _trapezoid(rng: random.Random) -> Points:
    p = _near(rng, A=(0, 0), B=(8, 0), C=(6, 4.5), D=(2, 4.5))
    return p | {"E": _meet(p["A"], p["C"], p["B"], p["D"])}


def _cevians(rng: random.Random) -> Points:
    p = _near(rng, A=(0, 0), B=(8, 0), C=(3, 6.5))
    w = [rng.uniform(0.5, 1.5) for _ in "ABC"]
    whole = sum(w)
    h = tuple(sum(k * p[n][i] for k, n in zip(w, "ABC", strict=True)) / whole for i in (0, 1))
    return p | {
        "H": (h[0], h[1]),
        "D": _meet(p["A"], h, p["B"], p["C"]),
        "E": _meet(p["B"], h, p["C"], p["A"]),
        "F": _meet(p["C"], h, p["A"], p["B"]),
    }


def _midline(rng: random.Random) -> Points:
    """Triangle ABC, its sides' midpoints M, N as crossings of diagonals: of ABDC and of ABCE, parallelograms once given."""
    p = _near(rng, 0.4, A=(0, 0), B=(8, 0), C=(3, 6), D=(11, 6))
    e = _on(p["D"], p["C"], 2.0 + rng.uniform(-0.1, 0.1))
    return p | {"E": e, "M": _meet(p["A"], p["D"], p["B"], p["C"]), "N": _meet(p["B"], e, p["C"], p["A"])}


def _on(a: Place, b: Place, k: float) -> Place:
    return a[0] + k * (b[0] - a[0]), a[1] + k * (b[1] - a[1])


def _medians(rng: random.Random) -> Points:
    p = _midline(rng)
    g = _meet(p["A"], p["M"], p["B"], p["N"])
    return p | {"G": g, "P": _meet(p["C"], g, p["A"], p["B"])}


def _desargues(rng: random.Random) -> Points:
    p = _near(rng, 0.3, O=(0, 0), A=(4, -1), B=(3.5, 2.5), C=(0.5, 4))
    ks = [1.8 + rng.uniform(-0.15, 0.15) for _ in range(3)]
    return p | {new: _on(p["O"], p[old], k) for new, old, k in zip("DEF", "ABC", ks, strict=True)}


def _pappus(rng: random.Random) -> Points:
    """A, B, C on one line from O, D, E, F on another."""
    p = _near(rng, 0.3, O=(0, 0), A=(2, -0.4), D=(1.6, 1.4))
    steps = [(k + rng.uniform(-0.08, 0.08)) for k in (1.6, 2.5, 1.45, 2.4)]
    return p | {
        "B": _on(p["O"], p["A"], steps[0]),
        "C": _on(p["O"], p["A"], steps[1]),
        "E": _on(p["O"], p["D"], steps[2]),
        "F": _on(p["O"], p["D"], steps[3]),
    }


def _crossed(rng: random.Random) -> Points:
    """Two lines from A, cut by l at P and Q and by m at R and S: P before R on the one, S before Q on the other."""
    p = _near(rng, 0.3, A=(0, 0), P=(3, 0), R=(6, 0))
    far = (4.5 + rng.uniform(-0.4, 0.4), 4.5 + rng.uniform(-0.4, 0.4))
    return p | {"R": _on(p["A"], p["P"], 1.9 + rng.uniform(-0.1, 0.1)), "S": _on(p["A"], far, 0.5), "Q": far}


SIDES = {"l": "AB", "m": "DC", "p": "AD", "q": "BC"}
DIAGONALS = SIDES | {"d": "AEC", "e": "BED"}
PARALLELOGRAM = ((PARALLEL, "l", "m"), (PARALLEL, "p", "q"))
CEVIANS = {"a": "BDC", "b": "CEA", "c": "AFB", "d": "AHD", "e": "BHE", "f": "CHF"}
MIDLINE = {"a": "BMC", "b": "CNA", "c": "AB", "g": "CDE", "h": "BD", "k": "AMD", "n": "AE", "r": "BNE", "s": "MN"}
MIDLINE_GIVEN = ((PARALLEL, "g", "c"), (PARALLEL, "h", "b"), (PARALLEL, "n", "a"))
MEDIANS = {
    "a": "BMC",
    "b": "CNA",
    "c": "APB",
    "g": "CDE",
    "h": "BD",
    "k": "AGMD",
    "n": "AE",
    "r": "BGNE",
    "s": "CGP",
    "t": "NP",
}

NAMED = [
    Named(
        "parallelogram: opposite angles",
        "Elements I.34",
        _quadrilateral,
        DIAGONALS,
        PARALLELOGRAM,
        congruent("DAB", "BCD"),
        FOLLOWS,
    ),
    Named(
        "parallelogram: a bisecting diagonal makes a rhombus, whose diagonals are perpendicular",
        "rhombus, textbooks",
        _quadrilateral,
        DIAGONALS,
        (*PARALLELOGRAM, congruent("DAC", "CAB")),
        (PERPENDICULAR, "d", "e"),
        FOLLOWS,
    ),
    Named(
        "the same for a line that bisects",
        "rhombus, textbooks",
        _quadrilateral,
        DIAGONALS,
        (*PARALLELOGRAM, (BISECTS, "d", "DAB")),
        (PERPENDICULAR, "d", "e"),
        FOLLOWS,
    ),
    Named(
        "parallelogram: perpendicular diagonals bisect the angles",
        "rhombus, textbooks",
        _quadrilateral,
        DIAGONALS,
        (*PARALLELOGRAM, (PERPENDICULAR, "d", "e")),
        congruent("DAC", "CAB"),
        FOLLOWS,
    ),
    Named(
        "rhombus: the other diagonal bisects too",
        "rhombus, textbooks",
        _quadrilateral,
        DIAGONALS,
        (*PARALLELOGRAM, congruent("DAC", "CAB")),
        congruent("ABD", "DBC"),
        FOLLOWS,
    ),
    Named(
        "rectangle: the diagonals make equal angles with a side",
        "rectangle, textbooks",
        _quadrilateral,
        DIAGONALS,
        (*PARALLELOGRAM, (PERPENDICULAR, "l", "p")),
        congruent("CAB", "DBA"),
        FOLLOWS,
    ),
    Named(
        "parallelogram: diagonals with equal angles make a rectangle",
        "rectangle, textbooks",
        _quadrilateral,
        DIAGONALS,
        (*PARALLELOGRAM, congruent("CAB", "DBA")),
        (PERPENDICULAR, "l", "p"),
        FOLLOWS,
    ),
    Named(
        "square: diagonals at 45 degrees",
        "square, textbooks",
        _quadrilateral,
        DIAGONALS,
        (*PARALLELOGRAM, (PERPENDICULAR, "l", "p"), (PERPENDICULAR, "d", "e")),
        value("CAB", 45),
        FOLLOWS,
    ),
    Named(
        "altitudes meet in one point",
        "orthocenter; Archimedes, Book of Lemmas 5",
        _cevians,
        CEVIANS,
        ((PERPENDICULAR, "d", "a"), (PERPENDICULAR, "e", "b")),
        (PERPENDICULAR, "f", "c"),
        FOLLOWS,
    ),
    Named(
        "angle bisectors meet in one point",
        "Elements IV.4",
        _cevians,
        CEVIANS,
        (congruent("BAH", "HAC"), congruent("CBH", "HBA")),
        congruent("ACH", "HCB"),
        FOLLOWS,
    ),
    Named(
        "midpoint line is parallel to the base",
        "Elements VI.2",
        _midline,
        MIDLINE,
        MIDLINE_GIVEN,
        (PARALLEL, "s", "c"),
        FOLLOWS,
    ),
    Named(
        "medians meet in one point",
        "Archimedes, On the Equilibrium of Planes I.14",
        _medians,
        MEDIANS,
        MIDLINE_GIVEN,
        (PARALLEL, "t", "a"),
        FOLLOWS,
    ),
    Named(
        "trapezoid: angles along a leg",
        "Elements I.29",
        _trapezoid,
        DIAGONALS,
        ((PARALLEL, "l", "m"),),
        total("DAB", "CDA", 180),
        FOLLOWS,
    ),
    Named(
        "isosceles trapezoid: equal base angles, equal angles with the diagonals",
        "isosceles trapezoid, textbooks",
        _trapezoid,
        DIAGONALS,
        ((PARALLEL, "l", "m"), congruent("DAB", "ABC")),
        congruent("CAB", "DBA"),
        FOLLOWS,
    ),
    Named(
        "isosceles trapezoid: the converse",
        "isosceles trapezoid, textbooks",
        _trapezoid,
        DIAGONALS,
        ((PARALLEL, "l", "m"), congruent("CAB", "DBA")),
        congruent("DAB", "ABC"),
        FOLLOWS,
    ),
    Named(
        "angles in one segment",
        "Elements III.21 and its converse",
        _quadrilateral,
        DIAGONALS,
        (congruent("DAC", "DBC"),),
        congruent("ABD", "ACD"),
        FOLLOWS,
    ),
    Named(
        "opposite angles of a quadrilateral in a circle",
        "Elements III.22",
        _quadrilateral,
        DIAGONALS,
        (congruent("DAC", "DBC"),),
        total("DAB", "BCD", 180),
        FOLLOWS,
    ),
    Named(
        "two triangles seen from a point, two pairs of sides parallel",
        "Desargues, affine",
        _desargues,
        {"a": "OAD", "b": "OBE", "c": "OCF", "l": "AB", "m": "DE", "p": "BC", "q": "EF", "s": "AC", "t": "DF"},
        ((PARALLEL, "l", "m"), (PARALLEL, "p", "q")),
        (PARALLEL, "s", "t"),
        FOLLOWS,
    ),
    Named(
        "six points on two lines, two pairs of joins parallel",
        "Pappus, Collection VII 138-139, affine",
        _pappus,
        {"g": "OABC", "h": "ODEF", "l": "AE", "m": "BF", "p": "BD", "q": "CE", "s": "AD", "t": "CF"},
        ((PARALLEL, "l", "m"), (PARALLEL, "p", "q")),
        (PARALLEL, "s", "t"),
        FOLLOWS,
    ),
    Named(
        "parallelogram: its diagonals need not be perpendicular",
        "a counterexample is any other rectangle",
        _quadrilateral,
        DIAGONALS,
        PARALLELOGRAM,
        (PERPENDICULAR, "d", "e"),
        OPEN,
    ),
    Named(
        "parallelogram: its diagonals need not bisect the angles",
        "the same",
        _quadrilateral,
        DIAGONALS,
        PARALLELOGRAM,
        congruent("DAC", "CAB"),
        OPEN,
    ),
    Named(
        "perpendicular diagonals make no parallelogram",
        "a kite",
        _quadrilateral,
        DIAGONALS,
        ((PERPENDICULAR, "d", "e"),),
        (PARALLEL, "l", "m"),
        OPEN,
    ),
    Named(
        "one pair of parallel sides is not two",
        "a trapezoid",
        _quadrilateral,
        DIAGONALS,
        ((PARALLEL, "l", "m"),),
        (PARALLEL, "p", "q"),
        OPEN,
    ),
    Named(
        "one altitude says nothing of the others",
        "any triangle",
        _cevians,
        CEVIANS,
        ((PERPENDICULAR, "d", "a"),),
        (PERPENDICULAR, "f", "c"),
        OPEN,
    ),
    Named(
        "one bisector says nothing of the others",
        "any triangle",
        _cevians,
        CEVIANS,
        (congruent("BAH", "HAC"),),
        congruent("ACH", "HCB"),
        OPEN,
    ),
    Named(
        "two altitudes make no equal angles",
        "any scalene triangle",
        _cevians,
        CEVIANS,
        ((PERPENDICULAR, "d", "a"), (PERPENDICULAR, "e", "b")),
        congruent("BAH", "HAC"),
        OPEN,
    ),
    Named("one midpoint is not two", "any other cut", _midline, MIDLINE, MIDLINE_GIVEN[:2], (PARALLEL, "s", "c"), OPEN),
    Named(
        "a trapezoid need not be isosceles",
        "any other one",
        _trapezoid,
        DIAGONALS,
        ((PARALLEL, "l", "m"),),
        congruent("DAB", "ABC"),
        OPEN,
    ),
    Named(
        "the diagonals of a parallelogram are not parallel",
        "they meet",
        _quadrilateral,
        DIAGONALS,
        PARALLELOGRAM,
        (PARALLEL, "d", "e"),
        CANNOT,
    ),
    Named(
        "no two altitudes are parallel",
        "they meet",
        _cevians,
        CEVIANS,
        ((PERPENDICULAR, "d", "a"), (PERPENDICULAR, "e", "b")),
        (PARALLEL, "d", "e"),
        CANNOT,
    ),
    Named(
        "a rhombus's diagonals make no 80 degrees",
        "rhombus, textbooks",
        _quadrilateral,
        DIAGONALS,
        (*PARALLELOGRAM, congruent("DAC", "CAB")),
        value("AEB", 80),
        CANNOT,
    ),
    Named(
        "lines that cross between two others are not parallel: equal angles conflict with the order",
        "order as drawn",
        _crossed,
        {"a": "APR", "b": "ASQ", "l": "PQ", "m": "RS"},
        (congruent("APQ", "ARS"),),
        (PARALLEL, "l", "m"),
        CONFLICT,
    ),
    Named(
        "the same, given as parallel",
        "order as drawn",
        _crossed,
        {"a": "APR", "b": "ASQ", "l": "PQ", "m": "RS"},
        ((PARALLEL, "l", "m"),),
        (PERPENDICULAR, "l", "a"),
        CONFLICT,
    ),
]
