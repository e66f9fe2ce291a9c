"""Reading figures: what the contract allows comes in, anything else is a fault with its place and its mend."""

from __future__ import annotations

import copy
import math
import random
from fractions import Fraction
from itertools import pairwise
from math import cos, radians, sin

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from app.figure.faults import Fault
from app.figure.model import figure_from_json, figure_to_json
from tests.figure.samples import samples, standard
from tests.scale import trials


def fault_of(data) -> Fault:
    with pytest.raises(Fault) as caught:
        figure_from_json(data)
    return caught.value


def changed(place, value):
    """The standard figure with one place of it changed; `...` takes the key away."""
    data = {**standard(10, 20, 65), "angles": {"1": {"at": "A", "from": "l+", "to": "t+"}}}
    data = copy.deepcopy(data)
    inner = data
    *path, last = place
    for key in path:
        inner = inner[key]
    if value is ...:
        del inner[last]
    else:
        inner[last] = value
    return data


UNUSABLE = [
    # place changed, new value, where the fault is, its code
    (["lines"], ..., "figure.lines", "lines_wanted"),
    (["lines"], [], "figure.lines", "lines_wanted"),
    (["lines"], {}, "figure.lines", "no_lines"),
    (["lines", "l"], 5, "figure.lines.l", "line_wanted"),
    (["lines", "l", "direction"], ..., "figure.lines.l", "line_lacks"),
    (["lines", "l", "through"], ..., "figure.lines.l", "line_lacks"),
    (["lines", "l", "direction"], "ten", "figure.lines.l.direction", "number_wanted"),
    (["lines", "l", "direction"], True, "figure.lines.l.direction", "number_wanted"),
    (["lines", "l", "direction"], None, "figure.lines.l.direction", "number_wanted"),
    (["lines", "l", "direction"], float("nan"), "figure.lines.l.direction", "number_finite"),
    (["lines", "l", "direction"], float("inf"), "figure.lines.l.direction", "number_finite"),
    (["lines", "l", "direction"], 361, "figure.lines.l.direction", "number_large"),
    (["lines", "l", "direction"], 10**400, "figure.lines.l.direction", "number_large"),
    (["lines", "l", "direction"], 1e300, "figure.lines.l.direction", "number_large"),
    (["lines", "l", "direction"], 1e-300, "figure.lines.l.direction", "number_digits"),
    (["lines", "l", "direction"], "1/0", "figure.lines.l.direction", "number_over_zero"),
    (["lines", "l", "direction"], "9**9**9", "figure.lines.l.direction", "number_wanted"),
    (["lines", "l", "direction"], "1e5", "figure.lines.l.direction", "number_wanted"),
    (["lines", "l", "direction"], "1" * 5000, "figure.lines.l.direction", "number_digits"),
    (["lines", "l", "direction"], "٣", "figure.lines.l.direction", "number_wanted"),
    (["lines", "l", "through"], [1], "figure.lines.l.through", "place_wanted"),
    (["lines", "l", "through"], [1, "x"], "figure.lines.l.through.1", "number_wanted"),
    (["lines", "l", "through"], [10**7, 0], "figure.lines.l.through.0", "number_large"),
    (["lines", "2l"], {"direction": 1, "through": [0, 0]}, "figure.lines", "lines_name"),
    (["lines", "a b"], {"direction": 1, "through": [0, 0]}, "figure.lines", "lines_name"),
    (["lines", "linelineline"], {"direction": 1, "through": [0, 0]}, "figure.lines", "lines_name"),
    (["lines", "\ud800"], {"direction": 1, "through": [0, 0]}, "figure.lines", "lines_name"),
    (["lines", "n"], {"direction": 10, "through": [0, 3]}, "figure.lines.n", "one_line_twice"),
    (["lines"], {f"a{i}": {"direction": i, "through": [0, i]} for i in range(13)}, "figure.lines", "too_many_lines"),
    (["meets"], "A", "figure.meets", "meets_wanted"),
    (["meets", "A"], ["l"], "figure.meets.A", "meet_wanted"),
    (["meets", "A"], ["l", "x"], "figure.meets.A", "line_unknown"),
    (["meets", "A"], ["l", []], "figure.meets.A", "line_unknown"),
    (["meets", "A"], ["l", "l"], "figure.meets.A", "meet_repeats"),
    (["meets", "A"], ["l", "m", "t"], "figure.meets.A", "not_concurrent"),
    (["meets", "A"], {"lines": ["l", "t"], "at": [3, 3]}, "figure.meets.A", "meet_off_line"),
    (["meets", "A"], {"lines": ["l", "t"], "at": 3}, "figure.meets.A.at", "place_wanted"),
    (["meets", "A"], {"at": [0, 0]}, "figure.meets.A.lines", "meet_wanted"),
    (["meets", "C"], ["t", "l"], "figure.meets.C", "meets_twice"),
    (["meets", "C D"], ["l", "m"], "figure.meets", "meets_name"),
    (["lines", "m", "direction"], 65, "figure.meets.B", "meet_of_parallels"),
    (["lettered"], 7, "figure.lettered", "lettered_wanted"),
    (["lettered"], ["Z"], "figure.lettered", "meet_unknown"),
    (["transversal"], "x", "figure.transversal", "line_unknown"),
    (["transversal"], 7, "figure.transversal", "line_unknown"),
    (["frame"], [0, 0, 1], "figure.frame", "frame_wanted"),
    (["frame"], [0, 0, 0, 1], "figure.frame", "frame_empty"),
    (["angles"], [1], "figure.angles", "angles_wanted"),
    (["angles", "1"], "l+", "figure.angles.1", "angle_wanted"),
    (["angles", "1", "at"], ..., "figure.angles.1", "angle_lacks"),
    (["angles", "1", "at"], "Z", "figure.angles.1.at", "meet_unknown"),
    (["angles", "1", "at"], ["A"], "figure.angles.1.at", "meet_unknown"),
    (["angles", "1", "from"], "l", "figure.angles.1.from", "ray_wanted"),
    (["angles", "1", "from"], "x+", "figure.angles.1.from", "line_unknown"),
    (["angles", "1", "from"], "m+", "figure.angles.1.from", "ray_off_meet"),
    (["angles", "1", "from"], 3, "figure.angles.1.from", "ray_wanted"),
    (["angles", "1", "to"], "l-", "figure.angles.1", "angle_one_line"),
    (["angles", "1", "to"], "t-", "figure.angles.1", "angle_long_way"),
    (["angles", "one two"], {}, "figure.angles", "angles_name"),
    (["angles"], {str(i): {} for i in range(121)}, "figure.angles", "too_many_angles"),
]


@pytest.mark.parametrize("place, value, where, code", UNUSABLE)
def test_an_unusable_figure_is_a_fault_at_its_place(place, value, where, code) -> None:
    fault = fault_of(changed(place, value))

    assert (fault.where, fault.code) == (where, f"figure.{code}")
    sentence = fault.sentence()
    assert sentence.endswith(".") and len(sentence) < 260
    sentence.encode("utf-8")


@pytest.mark.parametrize("data", [None, [], "figure", 5, True, 1.5])
def test_a_figure_that_is_no_object(data) -> None:
    assert fault_of(data).code == "figure.figure_wanted"


@pytest.mark.parametrize(
    "change, where, code",
    [
        ({"number": "mine"}, "figure.number", "number_kind"),
        ({"number": "standard", "transversal": None}, "figure.transversal", "number_needs_transversal"),
        ({"number": "standard", "meets": {"A": ["l", "t"]}}, "figure.number", "number_needs_two"),
    ],
)
def test_numbering_that_cannot_be_done(change, where, code) -> None:
    fault = fault_of({**standard(10, 20, 65), **change})

    assert (fault.where, fault.code) == (where, f"figure.{code}")


def test_numbering_is_for_three_lines() -> None:
    data = standard(10, 20, 65)
    data["lines"]["s"] = {"direction": 90, "through": [5, 0]}

    assert fault_of(data).code == "figure.number_needs_three"


def test_two_meets_at_one_place_must_be_one() -> None:
    data = {
        "lines": {k: {"direction": d, "through": [0, 0]} for k, d in (("l", 0), ("m", 40), ("t", 90))},
        "meets": {"A": ["l", "t"], "B": ["m", "t"]},
    }

    assert fault_of(data).code == "figure.meets_coincide"


def test_two_meets_that_fall_together_while_a_line_is_dragged() -> None:
    """The two lines cross the flat transversal at one point, to the last digits of a float."""
    assert fault_of(standard(88, 92, 0)).code == "figure.meets_coincide"
    assert fault_of({**standard(60, 120, 0), "meets": None}).code == "figure.number_needs_two"


JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=6) | st.sampled_from(["l", "t+", "A", "1"]),
    lambda inner: st.lists(inner, max_size=4)
    | st.dictionaries(st.sampled_from(["lines", "meets", "angles", "l", "m", "A", "at", "from", "through"]) | st.text(max_size=3), inner, max_size=4),
    max_leaves=12,
)  # fmt: skip


@settings(max_examples=trials(quick=400, full=10_000), deadline=None)
@given(st.data())
def test_whatever_json_stands_anywhere_gives_a_figure_or_a_fault(data) -> None:
    """Some part of a good figure is replaced by any JSON at all."""
    place = data.draw(
        st.sampled_from([
            ["lines"], ["lines", "l"], ["lines", "l", "direction"], ["lines", "t", "through"], ["meets"], ["meets", "A"],
            ["angles"], ["angles", "1"], ["angles", "1", "at"], ["angles", "1", "to"], ["transversal"], ["frame"],
            ["number"], ["lettered"],
        ])
    )  # fmt: skip
    figure = changed(place, data.draw(JSON))
    try:
        fig = figure_from_json(figure)
    except Fault as fault:
        assert fault.where.startswith("figure")
        fault.sentence().encode("utf-8")
    else:
        assert figure_to_json(figure_from_json(figure_to_json(fig))) == figure_to_json(fig)


def test_any_json_at_all() -> None:
    @settings(max_examples=trials(quick=200, full=5000), deadline=None)
    @given(JSON)
    def check(data) -> None:
        try:
            figure_from_json(data)
        except Fault as fault:
            assert fault.sentence()

    check()


def test_a_written_figure_reads_back_the_same() -> None:
    for sample in samples(4, 60):
        fig = figure_from_json(sample.figure)
        again = figure_from_json(figure_to_json(fig))

        assert again.lines == fig.lines and again.angles == fig.angles
        for name, meet in fig.meets.items():
            assert again.meets[name].lines == meet.lines
            assert again.meets[name].at == pytest.approx(meet.at, abs=1e-6)


def test_numbers_are_exact_in_every_spelling() -> None:
    spellings = [18.5, "18.5", "37/2", " 18.50 ", Fraction(37, 2)]

    directions = {figure_from_json(changed(["lines", "l", "direction"], s)).lines["l"].direction for s in spellings}

    assert directions == {Fraction(37, 2)}


def test_directions_beyond_180_turn_the_rays_with_them() -> None:
    """l at 190 degrees is the line at 10 degrees, and its + runs the other way."""
    plain, turned = changed([*("lines", "l", "direction")], 10), changed(["lines", "l", "direction"], 190)
    turned["angles"]["1"] = {"at": "A", "from": "l-", "to": "t+"}

    assert figure_to_json(figure_from_json(plain)) == figure_to_json(figure_from_json(turned))
    below = figure_from_json(changed(["lines", "l", "direction"], -10)).lines["l"].direction
    assert below == 170


def test_meets_left_out_are_lettered_from_the_top_then_from_the_left() -> None:
    fig = figure_from_json({
        "lines": {"l": {"direction": 0, "through": [0, 2]}, "m": {"direction": 0, "through": [0, -2]},
                  "t": {"direction": 60, "through": [0, 0]}, "s": {"direction": 110, "through": [4, 0]}},
    })  # fmt: skip

    places = [meet.at for meet in fig.meets.values()]
    assert "".join(fig.meets) == "ABCDE" and fig.lettered == set("ABCDE")
    assert all(a[1] > b[1] + 1e-9 or (abs(a[1] - b[1]) < 1e-9 and a[0] < b[0]) for a, b in pairwise(places))
    assert fig.meets["A"].lines == ("t", "s")


def test_lines_through_one_point_are_lettered_as_one_meet() -> None:
    fig = figure_from_json({
        "lines": {k: {"direction": d, "through": [2, 3]} for k, d in zip("lmnt", (10, 55, 107.3, 160), strict=True)},
    })  # fmt: skip

    assert [meet.lines for meet in fig.meets.values()] == [("l", "m", "n", "t")]
    assert fig.meets["A"].at == pytest.approx((2, 3))


def test_a_letter_that_names_a_line_is_not_given_to_a_meet() -> None:
    fig = figure_from_json(
        {"lines": {"A": {"direction": 0, "through": [0, 0]}, "t": {"direction": 50, "through": [0, 0]}}}
    )

    assert list(fig.meets) == ["B"]


@pytest.mark.parametrize("error, fits", [(0, True), (0.0008, True), (0.02, False)])
def test_coordinates_agree_to_drawing_accuracy(error, fits) -> None:
    """Three lines meant to pass through (0, 2), one of them off by a part of the frame."""
    data = {
        "lines": {"l": {"direction": 0, "through": [0, 2 + 10 * error]}, "m": {"direction": 70, "through": [0, 2]},
                  "t": {"direction": 120, "through": [0, 2]}, "k": {"direction": 0, "through": [0, -3]}},
        "meets": {"A": {"lines": ["l", "m", "t"], "at": [0, 2]}, "B": ["k", "m"], "C": ["k", "t"]},
        "frame": [-5, -5, 5, 5],
    }  # fmt: skip
    if fits:
        assert figure_from_json(data).order("t") == ("C", "A")
    else:
        assert fault_of(data).where == "figure.meets.A"


def test_the_only_meet_of_a_star_is_judged_by_the_size_of_its_lines() -> None:
    """Lines through points rounded to hundredths, some ten apart: off by less than a thousandth of that."""
    star = {
        "lines": {"l": {"direction": 0, "through": [-5, 2]}, "m": {"direction": 63.43, "through": [-2, -2]},
                  "t": {"direction": 135, "through": [4.01, -2]}},
        "meets": {"A": ["l", "m", "t"]},
    }  # fmt: skip
    assert figure_from_json(star).meets["A"].at == pytest.approx((0, 2), abs=0.02)

    star["lines"]["t"]["through"] = [4.5, -2]
    assert fault_of(star).code == "figure.not_concurrent"


@pytest.mark.parametrize(
    "lines",
    [
        # Each goes through one point exactly, and most of the points named are that point.
        {"l": (2, [4, -3]), "m": (135, [1, 0]), "q": (0, [4, -3])},
        {"l": ("1247/10", [-2, -5]), "m": (75, [-2, -5]), "n": (45, [5, 2])},
    ],
)
def test_three_lines_through_one_point_are_one_meet(lines: dict) -> None:
    fig = figure_from_json(
        {
            "lines": {name: {"direction": turn, "through": at} for name, (turn, at) in lines.items()},
            "meets": {"A": [*lines]},
        }
    )
    assert set(fig.meets["A"].lines) == set(lines)


@pytest.mark.parametrize("error, fits", [(0.006, True), (0.2, False)])
def test_the_place_of_a_star_is_judged_by_what_is_seen_round_it(error, fits) -> None:
    """All lines go through the one point that is drawn; whoever draws it shows more of the plane than a point."""
    star = {
        "lines": {name: {"direction": direction, "through": [-1.9, 1.8]} for name, direction in (("l", 12), ("m", 81), ("t", 60))},
        "meets": {"A": {"lines": ["l", "m", "t"], "at": [-1.9 + error, 1.8]}},
    }  # fmt: skip
    if fits:
        assert figure_from_json(star).meets["A"].at == pytest.approx((-1.9, 1.8))
    else:
        assert fault_of(star).code == "figure.meet_off_line"


def test_a_place_is_judged_by_a_drawing_in_which_the_far_meets_are_seen() -> None:
    """A and B near each other, C 13 away on a nearly parallel line: a thousandth of the whole is allowed at B."""
    data = {
        "lines": {"a": {"direction": 48, "through": [0, 0]}, "b": {"direction": 168, "through": [0.4, 0]},
                  "c": {"direction": 171, "through": [0, -0.5]}},
        "meets": {"A": ["a", "b"], "B": {"lines": ["a", "c"], "at": [-0.5, -0.42]}, "C": ["b", "c"]},
    }  # fmt: skip
    exact = figure_from_json({**data, "meets": {**data["meets"], "B": ["a", "c"]}}).meets["B"].at
    data["meets"]["B"]["at"] = [exact[0] + 0.005, exact[1] + 0.005]

    assert figure_from_json(data).meets["B"].at == exact


def test_no_angles_and_standard_numbering_asks_for_the_eight() -> None:
    assert list(figure_from_json({**standard(0, 0, 60), "angles": {}}).angles) == list("12345678")


def test_nearly_parallel_lines_meet_where_they_should() -> None:
    """Two lines 1e-12 degrees apart, 2 apart at x = 0, cross about 1.1e14 away: on the side where they close."""
    gap = 1e-12
    fig = figure_from_json({
        "lines": {"l": {"direction": 30, "through": [0, 2]}, "m": {"direction": 30 + 0, "through": [0, 0]}},
        "meets": {},
    })  # fmt: skip
    assert fig.meets == {}
    fig = figure_from_json({
        "lines": {"l": {"direction": "30", "through": [0, 2]}, "m": {"direction": "30.000000000001", "through": [0, 0]}},
    })  # fmt: skip

    far = 2 * cos(radians(30)) / sin(radians(gap))
    x, y = fig.meets["A"].at
    assert x == pytest.approx(far * cos(radians(30)), rel=1e-9)
    assert y == pytest.approx(far * sin(radians(30)), rel=1e-9)


def test_frame_and_lettered_are_kept() -> None:
    data = {"lines": standard(0, 0, 60)["lines"], "frame": [-6, -5, "13/2", 5]}
    written = figure_to_json(figure_from_json(data))

    assert written["frame"] == [-6, -5, "13/2", 5]
    assert written["lettered"] == ["A", "B"]
    assert figure_from_json(written).lettered == {"A", "B"}


def test_a_figure_is_read_once_and_the_order_of_its_parts_is_kept() -> None:
    data = standard(10, 20, 65)
    turned = {**data, "lines": dict(reversed(data["lines"].items()))}

    assert figure_from_json(data) is figure_from_json(copy.deepcopy(data))
    assert list(figure_from_json(data).lines) == ["l", "m", "t"]
    assert list(figure_from_json(turned).lines) == ["t", "m", "l"]


def test_a_fault_names_the_place_it_was_asked_with() -> None:
    for where in ("figure", "reply.figure", "figure"):
        with pytest.raises(Fault) as caught:
            figure_from_json({"lines": 5}, where)
        assert caught.value.where == f"{where}.lines"


def test_nesting_without_end_is_a_fault() -> None:
    deep: object = {}
    for _ in range(100_000):
        deep = [deep]

    assert fault_of({"lines": {"l": {"direction": deep, "through": [0, 0]}}}).code == "figure.number_wanted"


@pytest.mark.parametrize("seed", range(trials(quick=200, full=5_000)))
def test_one_crossing_may_be_given_with_the_places_of_a_drawing(seed: int) -> None:
    """A drawing rounds: lines that go through their only crossing, and the crossing, each to six decimals."""
    rng = random.Random(seed)
    one, other = rng.sample(range(180), 2)
    x, y = rng.uniform(-5, 5), rng.uniform(-5, 5)

    def on(direction: int, along: float) -> list[float]:
        at = math.radians(direction)
        return [round(x + along * math.cos(at), 6), round(y + along * math.sin(at), 6)]

    fig = figure_from_json({
        "lines": {
            "a": {"direction": one, "through": on(one, rng.choice([0, 0, 1e-6, 2]))},
            "b": {"direction": other, "through": on(other, rng.choice([0, 0, 3]))},
        },
        "meets": {"A": {"lines": ["a", "b"], "at": [round(x, 6), round(y, 6)]}},
    })  # fmt: skip

    assert math.hypot(fig.meets["A"].at[0] - x, fig.meets["A"].at[1] - y) < 1e-3
