"""Measures, orders, sectors, the angle between three meets, standard numbering, the linear form."""

from __future__ import annotations

from fractions import Fraction
from math import acos, cos, degrees, hypot, radians, sin, tan

import pytest
from hypothesis import given
from hypothesis import strategies as st

from app.figure.model import Ray, all_sectors, angle_by_meets, figure_from_json, measure_form, number_standard
from tests.figure.oracle import side
from tests.figure.samples import samples, standard


def test_measures_are_those_of_the_points() -> None:
    for sample in samples(6, 80):
        fig = figure_from_json(sample.figure)
        for name, corner in sample.corners.items():
            v, (p, q) = corner.vertex, corner.arms
            a, b = (float(p[0] - v[0]), float(p[1] - v[1])), (float(q[0] - v[0]), float(q[1] - v[1]))
            expected = degrees(acos((a[0] * b[0] + a[1] * b[1]) / hypot(*a) / hypot(*b)))
            assert float(fig.measure(name)) == pytest.approx(expected, abs=1e-5)


def test_the_linear_form_gives_every_measure() -> None:
    for sample in samples(7, 80):
        fig = figure_from_json(sample.figure)
        for name, angle in fig.angles.items():
            to, start, constant = measure_form(fig, angle)
            assert fig.lines[to].direction - fig.lines[start].direction + constant == fig.measure(name)
            assert constant % 180 == 0


def test_meets_stand_in_the_order_of_the_points() -> None:
    for sample in samples(8, 80):
        fig = figure_from_json(sample.figure)
        for name, (p, q) in sample.lines.items():
            up = q[1] > p[1] or (q[1] == p[1] and q[0] > p[0])
            order = fig.order(name)
            xs = [fig.meets[meet].at for meet in order]
            along = [(x - float(p[0])) * float(q[0] - p[0]) + (y - float(p[1])) * float(q[1] - p[1]) for x, y in xs]
            assert along == sorted(along, reverse=not up)


def test_sectors_fill_the_turn_at_every_meet() -> None:
    for sample in samples(9, 40):
        fig = figure_from_json(sample.figure)
        for meet in fig.meets.values():
            sectors = all_sectors(fig, meet.name)
            assert len(sectors) == 2 * len(meet.lines)
            assert sum(fig.measure_between(s.start, s.end) for s in sectors) == 360
            assert all(0 < fig.measure_between(s.start, s.end) < 180 for s in sectors)


def test_angle_by_three_meets_is_the_one_between_the_points() -> None:
    triangle = figure_from_json({
        "lines": {"l": {"direction": 0, "through": [0, 0]}, "m": {"direction": 50, "through": [0, 0]},
                  "t": {"direction": 110, "through": [6, 0]}},
        "meets": {"A": ["l", "m"], "B": ["l", "t"], "C": ["m", "t"]},
        "angles": {"1": {"at": "B", "from": "t+", "to": "l-"}},
    })  # fmt: skip

    at_a = angle_by_meets(triangle, "B", "A", "C")

    assert at_a is not None and triangle.measure_between(at_a.start, at_a.end) == 50
    assert at_a.name == "BAC"
    assert angle_by_meets(triangle, "C", "B", "A") == triangle.angles["1"]
    assert angle_by_meets(triangle, "A", "B", "C") == triangle.angles["1"]
    total = sum(
        triangle.measure_between(a.start, a.end)
        for a in (angle_by_meets(triangle, *p) for p in ("BAC", "ABC", "ACB"))
        if a is not None
    )
    assert total == 180


@pytest.mark.parametrize("letters", ["AAB", "ABB", "ABA", "ABZ", "XYZ"])
def test_three_meets_that_make_no_angle(letters) -> None:
    fig = figure_from_json(standard(10, 20, 65))

    assert angle_by_meets(fig, *letters) is None


def test_no_angle_where_a_side_is_no_line() -> None:
    fig = figure_from_json({
        "lines": {"l": {"direction": 0, "through": [0, 2]}, "m": {"direction": 0, "through": [0, -2]},
                  "t": {"direction": 60, "through": [0, 0]}, "s": {"direction": 60, "through": [4, 0]}},
        "meets": {"A": ["l", "t"], "B": ["m", "t"], "C": ["l", "s"], "D": ["m", "s"]},
    })  # fmt: skip

    assert angle_by_meets(fig, "A", "D", "B") is None, "no line from D to A"
    assert angle_by_meets(fig, "B", "A", "C") is not None


def place_of(fig, name) -> tuple[str, str]:
    """Upper or lower, left or right, of a sector within its meet: by where its middle lies on the page."""
    angle = fig.angles[name]
    middle = float(fig.heading(angle.start) + fig.measure(name) / 2) % 360
    return ("upper" if 0 < middle < 180 else "lower", "left" if 90 < middle < 270 else "right")


# common practice, no source: the numbering of the contract, 1 to 8.
PLACES = [("upper", "left"), ("upper", "right"), ("lower", "left"), ("lower", "right")] * 2


def test_standard_numbers_in_every_turn_of_the_figure() -> None:
    for t in range(1, 180, 7):
        for one in range(0, 180, 5):
            other = (one + 6) % 180
            if t in (one, other):
                continue
            data = standard(one, other, t)
            fig = figure_from_json(data)
            tie = [(fig.lines["t"].direction + fig.lines[k].direction) % 90 == 0 for k in "lm"]
            upper, lower = fig.angles["1"].at, fig.angles["5"].at
            assert fig.meets[upper].at[1] > fig.meets[lower].at[1]
            got = [place_of(fig, name) for name in fig.angles]
            for half in (0, 1):
                at = fig.meets[(upper, lower)[half]].lines[0]
                if not tie["lm".index(at)]:
                    assert got[4 * half : 4 * half + 4] == PLACES[:4], (one, other, t)


@pytest.mark.parametrize("t, across", [(45, 135), (30, 150), (150, 30), (60, 120), (120, 60), (170, 10), (135, 45)])
def test_where_sectors_point_along_the_page_the_lines_decide(t, across) -> None:
    """Above or below its line (y at that x), left or right of the transversal (x at that y), by coordinates."""
    fig = figure_from_json(standard(across, across, t))

    for name, (height, hand) in zip(fig.angles, PLACES, strict=True):
        angle = fig.angles[name]
        x0, y0 = fig.meets[angle.at].at
        middle = radians(float(fig.heading(angle.start) + fig.measure(name) / 2))
        x, y = x0 + cos(middle), y0 + sin(middle)
        assert (y > y0 + (x - x0) * tan(radians(across))) == (height == "upper")
        assert (x < x0 + (y - y0) / tan(radians(t))) == (hand == "left")


@pytest.mark.parametrize("one, other", [(40, 40), (60, 120), (100, 30), (90, 90)])
def test_on_a_flat_transversal_the_left_meet_comes_first(one, other) -> None:
    data = {
        "lines": {"l": {"direction": one, "through": [3, 0]}, "m": {"direction": other, "through": [-3, 0]},
                  "t": {"direction": 0, "through": [0, 0]}},
        "number": "standard",
        "transversal": "t",
        "meets": {"A": ["l", "t"], "B": ["m", "t"]},
    }  # fmt: skip

    fig = figure_from_json(data)

    assert fig.angles["1"].at == "B" and fig.angles["5"].at == "A"
    above = [name for name in fig.angles if fig.measure_between(Ray("t", "+"), fig.angles[name].ray_off("t")) < 180]
    assert above == ["1", "2", "5", "6"]


def test_numbering_takes_its_sectors_from_the_figure() -> None:
    fig = figure_from_json({**standard(10, 20, 65), "number": None})
    assert fig.angles == {}

    numbered = number_standard(fig, "t")

    assert list(numbered.angles) == list("12345678")
    assert [numbered.measure(n) for n in "1234"] == [125, 55, 55, 125]


def test_side_of_a_line_is_what_coordinates_say() -> None:
    """The oracle's own sign convention, so that it can be trusted: left is positive."""
    zero, one = Fraction(0), Fraction(1)
    assert side((zero, zero), (one, zero), (zero, one)) == 1


@given(st.lists(st.fractions(min_value=0, max_value=Fraction(1799, 10), max_denominator=997), min_size=2, max_size=6))
def test_turns_in_ticks_are_the_turns_of_the_exact_directions(directions: list[Fraction]) -> None:
    """Outside check: the definition itself, counted in fractions of a degree."""
    names = "abcdef"[: len(directions)]
    lines = {
        name: {"direction": str(d), "through": [k, 3 * k * k + 2 * k]}
        for k, (name, d) in enumerate(zip(names, directions, strict=True))
    }
    fig = figure_from_json({"lines": lines, "meets": {}})
    rays = {
        Ray(name, sign): d + (0 if sign == "+" else 180)
        for name, d in zip(names, directions, strict=True)
        for sign in "+-"
    }
    for start, one in rays.items():
        for end, other in rays.items():
            turn = (other - one) % 360
            assert fig.measure_between(start, end) == turn
            assert (fig.turn(start, end) < fig.ruled.half) == (turn < 180)
            assert Fraction(fig.turn(start, end), fig.ruled.scale) == turn
