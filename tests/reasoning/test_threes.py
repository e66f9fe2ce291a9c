"""Lines that meet in threes: theorems decided by coordinates, what isn't forced shown by a real figure, the rest open.

What is true is the textbooks': the rhombus and the rectangle by their diagonals (Elements I.34 and after), the altitudes
(Archimedes, Book of Lemmas 5), the bisectors (Elements IV.4), the line through midpoints (Elements VI.2).
"""

from __future__ import annotations

from fractions import Fraction
from itertools import combinations
from math import atan2, cos, degrees, hypot, radians, sin

import pytest

from app.figure.model import Figure, figure_from_json
from app.reasoning import api
from app.reasoning.check import check
from app.reasoning.coordinates import shown_by_coordinates
from app.reasoning.follows import follows
from tests.reading import in_english

api = in_english(api)
check = in_english(check)

Place = tuple[float, float]


def through(points: dict[str, Place], lines: dict[str, str]) -> dict:
    """The figure of lines that each go through the points named; points on two or more of them are its meets."""
    body: dict = {"lines": {}, "meets": {}, "angles": {}}
    for name, on in lines.items():
        (x, y), (u, v) = points[on[0]], points[on[1]]
        body["lines"][name] = {
            "direction": str(round(degrees(atan2(v - y, u - x)) % 180, 9)),
            "through": [str(round(x, 9)), str(round(y, 9))],
        }
    for point in points:
        here = [name for name, on in lines.items() if point in on]
        if len(here) > 1:
            body["meets"][point] = here
    return body


def crossing(a: Place, b: Place, c: Place, d: Place) -> Place:
    r, s = (b[0] - a[0], b[1] - a[1]), (d[0] - c[0], d[1] - c[1])
    k = ((c[0] - a[0]) * s[1] - (c[1] - a[1]) * s[0]) / (r[0] * s[1] - r[1] * s[0])
    return a[0] + k * r[0], a[1] + k * r[1]


def four_corners() -> dict:
    """A quadrilateral ABCD, not yet a parallelogram, with its diagonals d = AC and e = BD."""
    p: dict[str, Place] = {"A": (0, 0), "B": (6, 0.3), "C": (8.2, 4.4), "D": (1.7, 4)}
    p["X"] = crossing(p["A"], p["C"], p["B"], p["D"])
    return through(p, {"l": "AB", "m": "DC", "p": "AD", "q": "BC", "d": "ACX", "e": "BDX"})


def three_cevians() -> dict:
    """A triangle ABC with a line through each corner, all three through H: altitudes or bisectors if given."""
    p: dict[str, Place] = {"A": (0, 0), "B": (7.5, 0.2), "C": (2.4, 5.6)}
    p["H"] = (3.1, 2.0)
    for foot, corner, one, other in (("D", "A", "B", "C"), ("E", "B", "C", "A"), ("F", "C", "A", "B")):
        p[foot] = crossing(p[corner], p["H"], p[one], p[other])
    return through(p, {"a": "BCD", "b": "CAE", "c": "ABF", "h": "AHD", "k": "BHE", "n": "CHF"})


def midpoints() -> dict:
    """Triangle ABC; M and N on its sides as crossings of the diagonals of ABDC and ABCE."""
    p: dict[str, Place] = {"A": (0, 0), "B": (8, 0.2), "C": (3, 6), "D": (11.2, 6.1)}
    p["E"] = (p["C"][0] - 7.9 * (p["D"][0] - p["C"][0]) / 8.2, p["C"][1] - 7.9 * (p["D"][1] - p["C"][1]) / 8.2)
    p["M"] = crossing(p["A"], p["D"], p["B"], p["C"])
    p["N"] = crossing(p["B"], p["E"], p["A"], p["C"])
    return through(
        p, {"a": "BCM", "b": "ACN", "c": "AB", "g": "DCE", "h": "BD", "k": "AE", "r": "ADM", "s": "BEN", "t": "MN"}
    )


def hexagon() -> dict:
    """Six points, three on each of two lines that cross at O, and the six joins round them."""
    p: dict[str, Place] = {
        "O": (0, 0),
        "A": (2, 0.1),
        "B": (5, 0.25),
        "C": (9, 0.45),
        "D": (2.7, 2.7),
        "E": (5, 5),
        "F": (12.3, 12.3),
    }
    return through(p, {"g": "OABC", "h": "ODEF", "l": "AE", "m": "BF", "p": "BD", "q": "CE", "s": "AD", "t": "CF"})


CORNERS, CEVIANS, MIDDLE, HEXAGON = four_corners(), three_cevians(), midpoints(), hexagon()
PARALLELOGRAM = ["l ∥ m", "p ∥ q"]
HALVES = ["∠BAH ≅ ∠HAC", "∠CBH ≅ ∠HBA"]
TRUE = {
    "a diagonal that bisects a corner makes a rhombus": (CORNERS, [*PARALLELOGRAM, "∠DAC ≅ ∠CAB"], "d ⊥ e"),
    "diagonals at right angles make a rhombus": (CORNERS, [*PARALLELOGRAM, "d ⊥ e"], "∠DAC ≅ ∠CAB"),
    "equal angles with the diagonals make a rectangle": (CORNERS, [*PARALLELOGRAM, "∠CAB ≅ ∠ABD"], "l ⊥ p"),
    "a rectangle has equal angles with its diagonals": (CORNERS, [*PARALLELOGRAM, "l ⊥ p"], "∠CAB ≅ ∠ABD"),
    "altitudes": (CEVIANS, ["h ⊥ a", "k ⊥ b"], "n ⊥ c"),
    "bisectors": (CEVIANS, HALVES, "∠ACH ≅ ∠HCB"),
    "the line through midpoints": (MIDDLE, ["c ∥ g", "b ∥ h", "a ∥ k"], "t ∥ c"),
    # Pappus, with all three crossings far away (Hilbert, Foundations of Geometry, § 14).
    "six points on two lines": (HEXAGON, ["l ∥ m", "p ∥ q"], "s ∥ t"),
    # 45 and not 135: only the turning at the corners tells.
    "a square's diagonal": (CORNERS, [*PARALLELOGRAM, "l ⊥ p", "d ⊥ e"], "m∠CAB = 45"),
}
OPEN = {
    "a parallelogram is no rhombus": (CORNERS, PARALLELOGRAM, "d ⊥ e"),
    "two sides parallel make no parallelogram": (CORNERS, ["l ∥ m"], "p ∥ q"),
    "a trapezoid with diagonals at right angles": (CORNERS, ["l ∥ m", "d ⊥ e"], "p ∥ q"),
    "one altitude": (CEVIANS, ["h ⊥ a"], "n ⊥ c"),
    "one bisector": (CEVIANS, HALVES[:1], "∠ACH ≅ ∠HCB"),
    "three lines through a point": (CEVIANS, [], "n ⊥ c"),
    "one midpoint": (MIDDLE, ["c ∥ g", "b ∥ h"], "t ∥ c"),
}


@pytest.mark.parametrize("name", TRUE)
def test_theorems_follow_by_coordinates_and_have_no_rows(name: str) -> None:
    body, given, claim = TRUE[name]
    outcome = follows(figure_from_json(body), given, claim)
    assert (outcome.verdict, outcome.by, outcome.proof, outcome.counterexample) == (
        "follows",
        "coordinates",
        None,
        None,
    )
    answer = api.follows({"figure": body, "given": given, "claim": claim})
    assert (answer["verdict"], answer["by"], answer["proof"]) == ("follows", "coordinates", None)
    assert answer["note"] == "It is true in every such figure, but these theorems alone don't prove it."
    proved = api.prove({"figure": body, "given": given, "goal": claim})
    assert proved["rows"] is None and proved["by"] == "coordinates"


@pytest.mark.parametrize("name", TRUE)
def test_without_one_of_its_givens_no_theorem_is_shown(name: str) -> None:
    """Coordinates alone, without the search for figures before them: what they show must rest on every given."""
    body, given, claim = TRUE[name]
    fig = figure_from_json(body)
    for place in range(len(given)):
        fewer = [*given[:place], *given[place + 1 :]]
        decision = follows(fig, fewer, claim)._decision
        row = decision.frame.row(decision.claim, decision.unknowns, decision.width)
        asked = row, 90 if decision.claim[0] == "perpendicular" else 0
        assert not all(shown_by_coordinates(decision, part, asked) for part in decision.failing()), fewer


@pytest.mark.parametrize("name", OPEN)
def test_what_is_not_forced_has_a_figure_with_every_meet_one_point(name: str) -> None:
    body, given, claim = OPEN[name]
    answer = api.follows({"figure": body, "given": given, "claim": claim})
    assert answer["verdict"] == "not forced"
    shown = answer["counterexample"]["figure"]
    read = figure_from_json(shown)
    size = max(hypot(p.at[0] - q.at[0], p.at[1] - q.at[1]) for p, q in combinations(read.meets.values(), 2))
    for meet, value in shown["meets"].items():
        assert sorted(value["lines"]) == sorted(body["meets"][meet])
        for line in value["lines"]:
            turned = radians(float(Fraction(str(shown["lines"][line]["direction"]))))
            x, y = (float(Fraction(str(c))) for c in shown["lines"][line]["through"])
            off = cos(turned) * (value["at"][1] - y) - sin(turned) * (value["at"][0] - x)
            assert abs(off) <= 1e-9 * max(size, 1), (meet, line, off)
    drawn = figure_from_json(body)
    for line in body["lines"]:
        assert list(read.order(line)) in (list(drawn.order(line)), list(drawn.order(line))[::-1])
    if claim[2] in "∥⊥":
        one, other = (Fraction(str(shown["lines"][line]["direction"])) for line in (claim[0], claim[-1]))
        apart = (one - other - (90 if claim[2] == "⊥" else 0) + 90) % 180 - 90
        assert abs(apart) >= 8
    for one in given:
        check_given(read, one)


def check_given(fig: Figure, said: str) -> None:
    """A given measured in the figure, with floats and from its places alone."""

    def heading(line: str) -> float:
        return float(fig.lines[line].direction)

    if said[2] in "∥⊥":
        turn = (heading(said[0]) - heading(said[-1]) - (90 if said[2] == "⊥" else 0) + 90) % 180 - 90
        assert abs(turn) <= 1e-9, said
        return
    first, second = (measured(fig, one) for one in said.replace("∠", "").split(" ≅ "))
    assert abs(first - second) <= 1e-7, said


def measured(fig: Figure, letters: str) -> float:
    (x, y), (u, v), (s, t) = (fig.meets[name].at for name in (letters[1], letters[0], letters[2]))
    turn = abs(degrees(atan2(v - y, u - x) - atan2(t - y, s - x))) % 360
    return min(turn, 360 - turn)


def test_a_figure_that_can_not_be_is_a_conflict_of_givens() -> None:
    """In a rhombus a diagonal bisects the corner; directions alone don't say so."""
    given = [*PARALLELOGRAM, "d ⊥ e", "m∠DAC = m∠CAB + 10"]
    outcome = follows(figure_from_json(CORNERS), given, "l ⊥ p")
    assert (outcome.verdict, outcome.conflict) == ("givens conflict", (0, 1, 2, 3))
    answer = api.follows({"figure": CORNERS, "given": given, "claim": "l ⊥ p"})
    assert len(answer["conflict"]) == 4 and "by" not in answer


def test_what_no_figure_allows_can_not_be() -> None:
    """A rhombus's diagonals cross at right angles, so at no 80 degrees: directions alone would let them."""
    outcome = follows(figure_from_json(CORNERS), [*PARALLELOGRAM, "∠DAC ≅ ∠CAB"], "m∠AXB = 80")
    assert (outcome.verdict, outcome.counterexample) == ("cannot be", None)
    outcome = follows(figure_from_json(CORNERS), PARALLELOGRAM, "m∠AXB = 80")
    assert outcome.verdict == "not forced"


def test_order_along_lines_counts_for_givens_and_refuses_no_row() -> None:
    """A, P, R on a but A, S, Q on b: l = PQ and m = RS cross between a and b, so they can't be parallel."""
    body = {
        "lines": {
            "a": {"direction": 2, "through": [0, 0]},
            "b": {"direction": 42, "through": [0, 0]},
            "l": {"direction": 68, "through": [3, 0]},
            "m": {"direction": 150, "through": [6, 0]},
        },
        "meets": {"A": ["a", "b"], "P": ["a", "l"], "R": ["a", "m"], "S": ["b", "m"], "Q": ["b", "l"]},
        "angles": {},
    }
    fig = figure_from_json(body)
    for given in (["∠APQ ≅ ∠ARS"], ["l ∥ m"]):
        outcome = follows(fig, given, "l ⊥ a")
        assert (outcome.verdict, outcome.conflict) == ("givens conflict", (0,))
    outcome = follows(fig, ["m∠APQ = 80", "∠APQ ≅ ∠ARS", "m∠APQ = 80"], "l ∥ m")
    assert (outcome.verdict, outcome.conflict) == ("givens conflict", (1,))
    # The same in a proof: each row is judged by its reason.
    rows = [
        {"statement": "∠APQ ≅ ∠ARS", "reason": "given"},
        {"statement": "l ∥ m", "reason": "corresponding-angles-converse"},
    ]
    assert [row.verdict for row in check(fig, ["∠APQ ≅ ∠ARS"], "l ∥ m", rows).rows] == ["follows", "follows"]
    # In the drawn order nothing is wrong with one of them.
    assert follows(fig, ["m∠APQ = 80"], "l ∥ m").verdict != "givens conflict"


def test_three_parallel_lines_that_go_round_in_a_ring() -> None:
    """By t, l is left of m; by s, m of n; by r, n of l: no two of them are at odds, but the three are."""
    places = {"T": ((0, 0), (8, 3)), "S": ((9, 2), (10, -7)), "R": ((8, -9), (0, -3))}
    body: dict = {"lines": {}, "meets": {}, "angles": {}}
    for name, line in zip("tsr", places.values(), strict=True):
        (x, y), (u, v) = line
        body["lines"][name] = {"direction": str(round(degrees(atan2(v - y, u - x)) % 180, 6)), "through": [x, y]}
    ends = {
        "l": (places["T"][0], places["R"][1]),
        "m": (places["T"][1], places["S"][0]),
        "n": (places["S"][1], places["R"][0]),
    }
    for name, ((x, y), (u, v)) in ends.items():
        body["lines"][name] = {"direction": str(round(degrees(atan2(v - y, u - x)) % 180, 6)), "through": [x, y]}
    body["meets"] = {
        "A": ["l", "t"],
        "B": ["m", "t"],
        "C": ["m", "s"],
        "D": ["n", "s"],
        "E": ["n", "r"],
        "F": ["l", "r"],
    }
    fig = figure_from_json(body)
    outcome = follows(fig, ["l ∥ m", "m ∥ n"], "l ⊥ t")
    assert outcome.verdict in ("givens conflict", "not forced")
    if outcome.verdict == "not forced":
        assert outcome.counterexample is not None and outcome.counterexample.figure is not None


def test_a_row_that_only_coordinates_show_says_so() -> None:
    body, given, claim = TRUE["altitudes"]
    rows = [{"statement": one, "reason": "given"} for one in given] + [{"statement": claim, "reason": "algebra"}]
    last = check(figure_from_json(body), given, claim, rows).rows[-1]
    assert last.verdict == "needs a step" and "these theorems alone don't prove it" in last.note
