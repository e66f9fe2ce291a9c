"""Pair names: against coordinates, against sympy's geometry, and against the printed tables."""

from __future__ import annotations

import json
from collections import Counter
from itertools import combinations
from random import Random

import pytest

from app.figure.faults import Fault
from app.figure.model import figure_from_json
from app.figure.pairs import ALL_PAIRS, name_pair, relation_for
from tests.figure import make_vectors
from tests.figure.oracle import name as oracle_name
from tests.figure.samples import random_sample, standard
from tests.scale import trials

ENOUGH = trials(quick=3_000, full=20_000)


def as_contract(fig, a, b):
    pair = name_pair(fig, a, b)
    lines = None if pair.lines is None else list(pair.lines)
    return {"pair": pair.pair, "transversal": pair.transversal, "lines": lines, "relation": pair.relation}


def test_every_pair_of_random_figures_is_named_as_coordinates_name_it() -> None:
    rng, figures, seen = Random(1899), 0, Counter()
    while figures < ENOUGH:
        sample = random_sample(rng)
        if sample is None:
            continue
        figures += 1
        fig = figure_from_json(sample.figure)
        for _ in range(4):
            a, b = rng.choice(list(sample.corners)), rng.choice(list(sample.corners))
            expected = oracle_name(sample.corners[a], sample.corners[b])
            assert as_contract(fig, a, b) == expected, (sample.figure, a, b)
            seen[expected["pair"]] += 1

    assert set(seen) == set(ALL_PAIRS)
    assert min(seen.values()) > ENOUGH // 200, seen


def test_names_agree_with_sympy_geometry() -> None:
    """sympy's own lines, crossings and sides decide the same names (sympy.geometry, exact rationals)."""
    import sympy
    from sympy.geometry import Line, Point

    rng, figures = Random(27), 0
    while figures < trials(quick=25, full=1500):
        sample = random_sample(rng, 4)
        if sample is None:
            continue
        figures += 1
        fig = figure_from_json(sample.figure)
        exact = {k: Line(*(Point(*map(sympy.Rational, p)) for p in line)) for k, line in sample.lines.items()}
        for a, b in rng.sample(list(combinations(sample.corners, 2)), 6):
            assert as_contract(fig, a, b)["pair"] == named_by_sympy(sample.figure, exact, a, b), (sample.figure, a, b)


def named_by_sympy(figure, exact, a, b):
    from sympy.geometry import Point, Segment

    def meet(angle):
        one, other = figure["meets"][figure["angles"][angle]["at"]][:2]
        return exact[one].intersection(exact[other])[0]

    def arm(angle, key):
        line, sign = figure["angles"][angle][key][:-1], figure["angles"][angle][key][-1]
        step = exact[line].direction
        if step.y < 0 or (step.y == 0 and step.x < 0):
            step = -step
        return meet(angle) + (step if sign == "+" else -step)

    va, vb = meet(a), meet(b)
    arms = {x: (arm(x, "from"), arm(x, "to")) for x in (a, b)}
    if va == vb:
        back = [v * 2 - p for v, p in zip((va, va), arms[a], strict=True)]

        def along(p, q):
            return Point.is_collinear(va, p, q) and (p - va).dot(q - va) > 0

        same = sum(bool(along(p, q)) for p in arms[a] for q in arms[b])
        opposite = sum(bool(along(p, q)) for p in back for q in arms[b])
        return {(2, 0): "same", (0, 2): "vertical", (1, 1): "linear pair"}.get((same, opposite), "none")
    on = {x: [p for p in arms[x] if Point.is_collinear(va, vb, p)] for x in (a, b)}
    if not on[a] or not on[b]:
        return "none"
    off = {x: next(p for p in arms[x] if p not in on[x]) for x in (a, b)}
    between = Segment(va, vb)

    def inside(x, v):
        # Only a ray toward the other meet has points between the meets, close to its own.
        return (v + (on[x][0] - v) / 10**6) in between

    # The two off sides are on one side when the segment joining points of them doesn't cross the transversal.
    far = [p + (q - p) / 10**3 for p, q in ((va, off[a]), (vb, off[b]))]
    one_side = not Segment(*far).intersection(Segment(va * 1000 - vb * 999, vb * 1000 - va * 999))
    kinds = inside(a, va), inside(b, vb)
    if kinds == (True, True):
        return "consecutive interior" if one_side else "alternate interior"
    if kinds == (False, False):
        return "consecutive exterior" if one_side else "alternate exterior"
    return "corresponding" if one_side else "none"


# G. A. Wentworth, Plane Geometry, revised edition (1899), §109: the eight angles of the printed figure, and the
# name of each of the 28 pairs. The book names the interior, exterior, alternate and corresponding ones (its
# "exterior-interior"); the others follow from the positions.
WENTWORTH_PLACES = dict(zip("bcadfgeh", "12345678", strict=True))
WENTWORTH = """
ab linear pair|ac vertical|ad linear pair|ae corresponding|af consecutive interior|ag alternate interior|ah none
bc linear pair|bd vertical|be consecutive exterior|bf corresponding|bg none|bh alternate exterior
cd linear pair|ce alternate exterior|cf none|cg corresponding|ch consecutive exterior
de none|df alternate interior|dg consecutive interior|dh corresponding
ef linear pair|eg vertical|eh linear pair|fg linear pair|fh vertical|gh linear pair
"""
TABLE = [cell.split(" ", 1) for row in WENTWORTH.strip().splitlines() for cell in row.split("|")]


@pytest.mark.parametrize("turn", range(0, 360, 15))
def test_wentworths_28_pairs_however_the_figure_is_turned(turn: int) -> None:
    assert len(TABLE) == 28
    upright = figure_from_json(standard(10, 25, 70))
    fig = figure_from_json(turned(upright, turn))
    for labels, expected in TABLE:
        a, b = (WENTWORTH_PLACES[label] for label in labels)
        assert name_pair(fig, a, b).pair == expected
        assert name_pair(fig, b, a).pair == expected


def turned(fig, turn):
    """The same drawing turned about the origin, its angles keeping their names."""
    from math import cos, radians, sin

    c, s = cos(radians(turn)), sin(radians(turn))

    def place(p):
        x, y = map(float, p)
        return [round(c * x - s * y, 9), round(s * x + c * y, 9)]

    return {
        "lines": {
            k: {"direction": int(line.direction) + turn if line.direction + turn < 360 else int(line.direction) + turn - 360,
                "through": place(line.through)}
            for k, line in fig.lines.items()
        },
        "meets": {k: list(meet.lines) for k, meet in fig.meets.items()},
        "angles": {k: {"at": a.at, "from": str(a.start), "to": str(a.end)} for k, a in fig.angles.items()},
    }  # fmt: skip


# Euclid, Elements I.27 speaks of equal alternate angles; I.28 of an exterior angle equal to the interior and
# opposite one on the same side, and of interior angles on the same side that make two right angles. Letters as in
# J. Casey, The First Six Books (1885): AB and CD cut by EF at H and K; B and D on one side of EF.
EUCLID = [
    ("I.27", ("A", "H", "K"), ("H", "K", "D"), "alternate interior", "congruent"),
    ("I.27", ("B", "H", "K"), ("H", "K", "C"), "alternate interior", "congruent"),
    ("I.28", ("E", "H", "B"), ("H", "K", "D"), "corresponding", "congruent"),
    ("I.28", ("E", "H", "A"), ("H", "K", "C"), "corresponding", "congruent"),
    ("I.28", ("B", "H", "K"), ("H", "K", "D"), "consecutive interior", "supplementary"),
    ("I.28", ("A", "H", "K"), ("H", "K", "C"), "consecutive interior", "supplementary"),
]


@pytest.mark.parametrize("proposition, one, other, pair, relation", EUCLID)
def test_the_pairs_euclid_speaks_of(proposition, one, other, pair, relation) -> None:
    fig = figure_from_json({
        "lines": {
            "l": {"direction": 5, "through": [0, 2]},
            "m": {"direction": 170, "through": [0, -2]},
            "t": {"direction": 60, "through": [0, 0]},
            # Short lines that give each end of the three its letter.
            "a": {"direction": 90, "through": [-6, 0]},
            "b": {"direction": 90, "through": [6, 0]},
            "e": {"direction": 0, "through": [0, 5]},
            "f": {"direction": 0, "through": [0, -5]},
        },
        "meets": {
            "H": ["l", "t"], "K": ["m", "t"], "A": ["l", "a"], "B": ["l", "b"], "C": ["m", "a"], "D": ["m", "b"],
            "E": ["t", "e"], "F": ["t", "f"],
        },
        "angles": {},
    })  # fmt: skip
    from app.figure.model import angle_by_meets
    from app.figure.pairs import name_angles

    found = name_angles(fig, angle_by_meets(fig, *one), angle_by_meets(fig, *other))

    assert (found.pair, found.relation, found.transversal) == (pair, relation, "t")
    assert set(found.lines) == {"l", "m"}


def test_shared_vectors_are_what_the_oracle_says_and_are_all_met() -> None:
    written = make_vectors.PLACE.read_text(encoding="utf-8")
    assert written == make_vectors.text(), "run python -m tests.figure.make_vectors"
    data = json.loads(written)
    figures = {name: figure_from_json(figure) for name, figure in data["figures"].items()}
    assert len(data["cases"]) >= 200
    assert {case["expected"]["pair"] for case in data["cases"]} >= set(ALL_PAIRS) - {"same"}
    for case in data["cases"]:
        assert as_contract(figures[case["figure"]], case["a"], case["b"]) == case["expected"], case


def test_a_no_name_pair_keeps_its_transversal_and_no_relation() -> None:
    fig = figure_from_json(standard(0, 0, 60))

    assert as_contract(fig, "1", "6") == {"pair": "none", "transversal": "t", "lines": ["l", "m"], "relation": None}


def test_angles_on_different_transversals_are_no_pair() -> None:
    """Wentworth §109, two transversals: an angle of each is a pair of neither."""
    fig = figure_from_json({
        "lines": {"l": {"direction": 0, "through": [0, 2]}, "m": {"direction": 0, "through": [0, -2]},
                  "t": {"direction": 60, "through": [-3, 0]}, "s": {"direction": 120, "through": [3, 0]}},
        "meets": {"A": ["l", "t"], "B": ["m", "t"], "C": ["l", "s"], "D": ["m", "s"]},
        "angles": {"1": {"at": "A", "from": "t-", "to": "l+"}, "2": {"at": "D", "from": "s+", "to": "m-"},
                   "3": {"at": "C", "from": "l-", "to": "s-"}},
    })  # fmt: skip

    assert as_contract(fig, "1", "2") == {"pair": "none", "transversal": None, "lines": None, "relation": None}
    # Angles 1 and 3 are at two meets of l, which carries a side of each: there l is the transversal.
    assert as_contract(fig, "1", "3") == {
        "pair": "consecutive interior", "transversal": "l", "lines": ["t", "s"], "relation": "supplementary",
    }  # fmt: skip


def test_an_unknown_angle_is_a_fault_that_names_the_known_ones() -> None:
    fig = figure_from_json(standard(0, 0, 60))

    with pytest.raises(Fault) as caught:
        name_pair(fig, "1", "9")

    assert caught.value.sentence() == "There is no angle 9 in this figure; its angles are 1, 2, 3, 4, 5, 6, 7, 8."


def test_relation_for_each_pair() -> None:
    relations = {pair: relation_for(pair) for pair in ALL_PAIRS}

    assert [p for p, r in relations.items() if r == "congruent"] == [
        "corresponding",
        "alternate interior",
        "alternate exterior",
    ]
    assert [p for p, r in relations.items() if r == "supplementary"] == ["consecutive interior", "consecutive exterior"]
