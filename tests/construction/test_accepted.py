"""Right constructions that are not the recipe: any opening, either side, either place, any order, extra lines."""

from __future__ import annotations

from typing import Any

import pytest

from app.construction.api import check
from tests.construction.test_faults import COPY, PARALLEL, arc
from tests.reading import in_english

check = in_english(check)


def on(name: str, of: str, x: float, y: float) -> dict[str, Any]:
    return {"op": "on", "name": name, "of": of, "near": [x, y]}


def meet(name: str, a: str, b: str, x: float, y: float) -> dict[str, Any]:
    return {"op": "meet", "name": name, "of": [a, b], "near": [x, y]}


def straight(op: str, name: str, a: str, b: str) -> dict[str, Any]:
    return {"op": op, "name": name, "through": [a, b]}


COPY_MOVES = [
    arc("a", "V", "V", "P"),
    meet("C", "a", "VQ", 4, 4),
    arc("b", "W", "V", "P"),
    meet("D", "b", "WS", 15, -3),
    arc("c", "D", "P", "C"),
    meet("E", "b", "c", 13, 2),
    straight("ray", "r", "W", "E"),
]


def verdict(base: dict[str, Any], moves: list[dict[str, Any]], result: str | None = None) -> dict[str, Any]:
    return check({**base, "moves": moves, "result": result})


def test_long_names() -> None:
    names = {"a": "first_arc", "b": "the_same_arc_again", "c": "span", "r": "new_side"}
    moves = [
        {
            key: names.get(value, value)
            if key in ("name",)
            else [names.get(n, n) for n in value]
            if key == "of"
            else value
            for key, value in move.items()
        }
        for move in COPY_MOVES
    ]

    assert verdict(COPY, moves, "new_side")["verdict"] == "constructed"


def test_an_opening_from_vertex_to_a_given_point() -> None:
    assert verdict(COPY, COPY_MOVES, "r")["verdict"] == "constructed"


def test_the_other_side() -> None:
    moves = [*COPY_MOVES[:5], meet("E", "b", "c", 13, -6), COPY_MOVES[6]]

    assert verdict(COPY, moves, "r")["verdict"] == "constructed"


def test_any_order_and_extra_lines() -> None:
    extra = [{"op": "point", "name": "X", "at": [2, 7]}, straight("line", "k", "X", "S"), arc("z", "X", "X", "S")]
    order = [2, 0, 3, 1, 4, 5, 6]
    moves = [*extra, *(COPY_MOVES[i] for i in order)]

    assert verdict(COPY, moves, "r")["verdict"] == "constructed"


@pytest.mark.parametrize("op", ["line", "ray", "segment"])
def test_the_new_side_as_line_ray_or_segment(op: str) -> None:
    assert verdict(COPY, [*COPY_MOVES[:6], straight(op, "r", "W", "E")], "r")["verdict"] == "constructed"


def test_sides_drawn_again_by_the_student() -> None:
    """The contract does not name the given sides, so a student (or an outside check) may draw them."""
    moves = [
        straight("ray", "v1", "V", "P"),
        straight("ray", "v2", "V", "Q"),
        straight("ray", "w1", "W", "S"),
        on("F", "v1", 2, 0.3),
        arc("a", "V", "V", "F"),
        meet("C", "a", "v2", 1, 1),
        arc("b", "W", "V", "F"),
        meet("D", "b", "w1", 11, -2),
        arc("c", "D", "F", "C"),
        meet("E", "b", "c", 11, -1),
        straight("ray", "r", "W", "E"),
    ]

    assert verdict(COPY, moves, "r")["verdict"] == "constructed"


def through_p(place: tuple[float, float], near: tuple[float, float]) -> list[dict[str, Any]]:
    """The parallel by copying angle at Q; place: near D on the transversal; near: which crossing of the two arcs."""
    return [
        on("Q", "AB", 0.5, 0.2),
        straight("line", "t", "P", "Q"),
        on("M", "t", 1.2, 1.6),
        arc("a", "Q", "Q", "M"),
        meet("N", "a", "AB", 2, 0.6),
        arc("b", "P", "M", "Q"),
        meet("D", "b", "t", *place),
        arc("c", "D", "M", "N"),
        meet("E", "b", "c", *near),
        straight("line", "r", "E", "P"),
    ]


# Direction P to D as Q to M or reversed; D's side as N's or reversed: both kept or both reversed is right (K-1).
@pytest.mark.parametrize(
    ("place", "near", "right"),
    [
        ((4, 7), (5, 5.5), True),
        ((4, 7), (2.5, 7.5), False),
        ((2, 3), (1.2, 4.5), True),
        ((2, 3), (4.5, 3.5), False),
    ],
)
def test_direction_and_side_both_kept_or_both_reversed(place: Any, near: Any, right: bool) -> None:
    found = verdict(PARALLEL, through_p(place, near), "r")

    assert found["verdict"] == ("constructed" if right else "not there yet")
    assert found["reason"] == ("constructed" if right else "wrong side")
    assert (found["meets"] is None) == right


def test_two_perpendiculars_make_a_parallel() -> None:
    """Another way altogether (Euclid I.11 and I.12, then I.28): judged on what holds, not on the steps."""
    moves = [
        on("C", "AB", 1, 0),
        arc("a", "P", "P", "C"),
        meet("D", "a", "AB", 6, 1.5),
        arc("b", "C", "C", "P"),
        arc("c", "D", "C", "P"),
        meet("E", "b", "c", 5, -4),
        straight("line", "k", "P", "E"),
        arc("d", "P", "C", "D"),
        meet("F", "d", "k", 1, 10),
        meet("G", "d", "k", 5, 0),
        arc("e", "F", "F", "G"),
        arc("f", "G", "F", "G"),
        meet("H", "e", "f", 12, 8),
        straight("line", "r", "P", "H"),
    ]

    found = verdict(PARALLEL, moves, "r")
    assert found["verdict"] == "constructed", found


def test_the_right_line_beside_the_one_named() -> None:
    moves = [*COPY_MOVES, {"op": "point", "name": "X", "at": [12, 5]}, straight("ray", "s", "W", "X")]

    found = verdict(COPY, moves, "s")
    assert found["reason"] == "other answer" and "Choose r" in found["text"]
    assert verdict(COPY, moves)["verdict"] == "constructed"


def test_exactly_right_by_eye_is_still_by_eye() -> None:
    """A point typed at a place that is exactly right as drawn: nothing off, and not constructed."""
    base = {
        "task": "parallel through a point",
        "moves": [],
        "start": {"points": {"A": [0, 0], "B": [7, 2], "P": [3, 5]}, "line": ["A", "B"], "point": "P"},
    }
    moves = [{"op": "point", "name": "Z", "at": [10, 7]}, straight("line", "r", "P", "Z")]

    found = verdict(base, moves, "r")
    assert (found["verdict"], found["off_by"], found["reason"]) == ("eyeballed", 0, "by eye")
    assert "nothing is off" in found["text"]


def test_a_given_point_on_the_given_line_stays_on_it() -> None:
    base = {
        "task": "perpendicular through a point",
        "start": {"points": {"A": [0, 0], "B": [6, 3], "P": [4, 2]}, "line": ["A", "B"], "point": "P"},
    }
    moves = [
        arc("a", "P", "P", "A"),
        meet("C", "a", "AB", 8, 4),
        arc("b", "A", "A", "C"),
        arc("c", "C", "A", "C"),
        meet("D", "b", "c", 0, 10),
        straight("line", "r", "P", "D"),
    ]

    assert check({**base, "moves": moves})["verdict"] == "constructed"


def test_a_midpoint_is_an_answer_to_bisecting_a_segment() -> None:
    base = {"task": "bisect a segment", "start": {"points": {"A": [0, 0], "B": [7, 2]}, "segment": ["A", "B"]}}
    moves = [
        arc("a", "A", "A", "B"),
        arc("b", "B", "A", "B"),
        meet("C", "a", "b", 2, 7),
        meet("D", "a", "b", 5, -5),
        straight("line", "k", "C", "D"),
        meet("M", "k", "AB", 3.5, 1),
    ]

    assert check({**base, "moves": moves, "result": "M"})["verdict"] == "constructed"
    eyed = check({**base, "moves": [on("M", "AB", 3.52, 1)], "result": "M"})
    assert (eyed["verdict"], eyed["reason"], eyed["off_by"]) == ("eyeballed", "by eye", None)


def test_off_by_is_degrees_as_drawn() -> None:
    """One degree by the tangent: a line that rises tan 1° in 1 beside a flat one (values: any table of tangents)."""
    base = {
        "task": "parallel through a point",
        "start": {"points": {"A": [0, 0], "B": [10, 0], "P": [2, 5]}, "line": ["A", "B"], "point": "P"},
    }
    moves = [{"op": "point", "name": "Z", "at": [102, 5 + 1.7455064928217585]}, straight("line", "r", "P", "Z")]

    found = check({**base, "moves": moves, "result": "r"})
    assert abs(found["off_by"] - 1) < 1e-9
    assert abs(found["meets"][0] - (2 - 5 / 0.017455064928217585)) < 1e-3 and abs(found["meets"][1]) < 1e-6
    assert "1° off" in found["text"] and "beyond A" in found["text"]
