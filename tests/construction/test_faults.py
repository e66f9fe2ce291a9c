"""What can't be read is refused with its place; what can be read but not done gets a plain sentence."""

from __future__ import annotations

import copy
from typing import Any

import pytest

from app.construction.api import check
from app.figure.faults import Fault
from tests.reading import in_english

check = in_english(check)

COPY: dict[str, Any] = {
    "task": "copy an angle",
    "start": {
        "points": {"P": [6, 1], "V": [0, 0], "Q": [4, 4], "W": [9, -2], "S": [15, -3]},
        "angle": ["P", "V", "Q"],
        "ray": ["W", "S"],
    },
    "moves": [],
}
PARALLEL: dict[str, Any] = {
    "task": "parallel through a point",
    "start": {"points": {"A": [0, 0], "B": [7, 2], "P": [3, 5]}, "line": ["A", "B"], "point": "P"},
    "moves": [],
}


def arc(name: str, center: str, a: str, b: str) -> dict[str, Any]:
    return {"op": "arc", "name": name, "center": center, "opening": [a, b]}


UNREADABLE = [
    (None, ""),
    ([], ""),
    ({"task": "trisect an angle"}, "task"),
    ({"task": ["copy an angle"]}, "task"),
    ({"start": None}, "start"),
    ({"start": {"points": []}}, "start.points"),
    ({"start": {"points": {"P": [1]}}}, "start.points.P"),
    ({"start": {"points": {"P": [1, "x"]}}}, "start.points.P[1]"),
    ({"start": {"points": {"P": [0, 0], "V": [1, 0], "Q": [2, 5]}, "angle": ["P", "V"]}}, "start.angle"),
    (
        {"start": {"points": {"P": [0, 0], "V": [1, 0], "Q": [2, 5]}, "angle": ["P", "V", "Z"], "ray": ["P", "V"]}},
        "start.angle[2]",
    ),
    ({"start": {"points": {"1": [0, 0]}}}, "start.points"),
    ({"moves": None}, "moves"),
    ({"moves": "arc"}, "moves"),
    ({"moves": [3]}, "moves[0]"),
    ({"moves": [{"op": "circle", "name": "c"}]}, "moves[0].op"),
    ({"moves": [{"op": ["arc"], "name": "c"}]}, "moves[0].op"),
    ({"moves": [{"op": "point", "name": "4", "at": [0, 0]}]}, "moves[0].name"),
    ({"moves": [{"op": "point", "name": "P", "at": [0, 0]}]}, "moves[0].name"),
    ({"moves": [{"op": "point", "name": "A" * 25, "at": [0, 0]}]}, "moves[0].name"),
    ({"moves": [{"op": "point", "name": "<b>", "at": [0, 0]}]}, "moves[0].name"),
    ({"moves": [{"op": "point", "name": "Z", "at": [0, float("nan")]}]}, "moves[0].at[1]"),
    ({"moves": [{"op": "point", "name": "Z", "at": [0, 1e300]}]}, "moves[0].at[1]"),
    ({"moves": [{"op": "on", "name": "Z", "of": "k", "near": [0, 0]}]}, "moves[0].of"),
    ({"moves": [{"op": "on", "name": "Z", "of": "V", "near": [0, 0]}]}, "moves[0].of"),
    ({"moves": [arc("c", "Z", "V", "P")]}, "moves[0].center"),
    ({"moves": [arc("c", "W", "V", "VP")]}, "moves[0].opening[1]"),
    ({"moves": [arc("c", "W", "V", "V")]}, "moves[0].opening"),
    (
        {
            "moves": [
                arc("c", "W", "V", "P"),
                arc("d", "W", "V", "Q"),
                arc("e", "S", "V", "P"),
                {**arc("f", "V", "V", "P"), "opening": ["V"]},
            ]
        },
        "moves[3].opening",
    ),
    ({"moves": [{"op": "line", "name": "k", "through": ["V", "V"]}]}, "moves[0].through"),
    ({"moves": [{"op": "meet", "name": "Z", "of": ["VP"]}]}, "moves[0].of"),
    ({"moves": [{"op": "meet", "name": "Z", "of": ["VP", "VP"]}]}, "moves[0].of"),
    ({"moves": [arc("c", "V", "V", "P"), {"op": "meet", "name": "Z", "of": ["c", "VQ"]}]}, "moves[1].near"),
    ({"moves": [], "result": "r"}, "result"),
    ({"moves": [], "result": "P"}, "result"),
    ({"moves": [], "route": "magic"}, "route"),
    ({"moves": [{"op": "point", "name": f"Z{i}", "at": [i, 0]} for i in range(81)]}, "moves"),
]


@pytest.mark.parametrize(("change", "where"), UNREADABLE)
def test_unreadable_names_its_place(change: Any, where: str) -> None:
    body = {**copy.deepcopy(COPY), **change} if isinstance(change, dict) else change

    with pytest.raises(Fault) as caught:
        check(body)

    assert caught.value.where == where
    assert "{" not in caught.value.sentence().replace('{"', "")


FLAT_STARTS = [
    ({"P": [5, 0], "V": [0, 0], "Q": [5, 0.001]}, "construction.angle_flat"),
    ({"P": [5, 0], "V": [0, 0], "Q": [-5, 0.001]}, "construction.angle_flat"),
    ({"P": [5, 0], "V": [0, 0], "Q": [0, 0]}, "construction.points_coincide"),
]


@pytest.mark.parametrize(("points", "code"), FLAT_STARTS)
def test_nothing_to_bisect(points: Any, code: str) -> None:
    with pytest.raises(Fault) as caught:
        check({"task": "bisect an angle", "start": {"points": points, "angle": ["P", "V", "Q"]}, "moves": []})

    assert caught.value.code == code


def test_no_parallel_through_a_point_of_the_line() -> None:
    body = copy.deepcopy(PARALLEL)
    body["start"]["points"]["P"] = [3.5, 1]

    with pytest.raises(Fault, match="lies on line AB"):
        check(body)


NOT_DONE = [
    (
        [
            {"op": "on", "name": "B", "of": "VP", "near": [0.3, 0.05]},
            arc("c", "V", "V", "B"),
            {"op": "meet", "name": "Z", "of": ["c", "WS"], "near": [9, -2]},
        ],
        2,
        "too small to reach",
    ),
    (
        [arc("c", "V", "V", "P"), {"op": "meet", "name": "Z", "of": ["c", "WS"], "near": [9, -2]}],
        1,
        "The arc about V and ray WS do not reach each other",
    ),
    (
        [
            {"op": "on", "name": "B", "of": "VP", "near": [1, 0]},
            arc("c", "V", "V", "B"),
            arc("d", "W", "V", "B"),
            {"op": "meet", "name": "Z", "of": ["c", "d"], "near": [4, 0]},
        ],
        3,
        "too far apart",
    ),
    (
        [
            {"op": "on", "name": "B", "of": "VP", "near": [1, 0]},
            arc("c", "V", "V", "P"),
            arc("d", "B", "V", "B"),
            {"op": "meet", "name": "Z", "of": ["c", "d"], "near": [4, 0]},
        ],
        3,
        "one lies inside the other",
    ),
    (
        [
            arc("c", "V", "V", "P"),
            arc("d", "V", "P", "V"),
            {"op": "meet", "name": "Z", "of": ["c", "d"], "near": [4, 0]},
        ],
        2,
        "one and the same",
    ),
    ([{"op": "point", "name": "Z", "at": [0, 0]}, arc("c", "W", "V", "Z")], 1, "compass is shut"),
    (
        [{"op": "point", "name": "Z", "at": [0, 0]}, {"op": "line", "name": "k", "through": ["V", "Z"]}],
        1,
        "do not fix a line",
    ),
    ([{"op": "meet", "name": "Z", "of": ["VP", "WS"]}], 0, "do not reach each other"),
    ([arc("c", "V", "V", "P"), {"op": "on", "name": "Z", "of": "c", "near": [0, 0]}], 1, "at the center"),
]


@pytest.mark.parametrize(("moves", "index", "words"), NOT_DONE)
def test_a_move_that_cannot_be_done_says_why(moves: Any, index: int, words: str) -> None:
    found = check({**COPY, "moves": [*moves, {"op": "ray", "name": "r", "through": ["W", "S"]}]})

    assert found["verdict"] == "not there yet"
    assert [move["ok"] for move in found["moves"]].index(False) == index
    assert words in found["moves"][index]["note"]


def test_what_rests_on_a_lost_move_says_so() -> None:
    moves = [{"op": "meet", "name": "Z", "of": ["VP", "WS"]}, {"op": "ray", "name": "r", "through": ["W", "Z"]}]

    found = check({**COPY, "moves": moves, "result": "r"})

    assert found["moves"][1]["note"] == "This rests on Z, which could not be made."
    assert found["reason"] == "cannot be done" and "do not reach" in found["text"]


def test_eighty_moves_are_judged_in_time() -> None:
    """The largest construction allowed, nearly all of it beside the point, still gets an answer."""
    from time import process_time

    moves: list[dict[str, Any]] = []
    for i in range(26):
        moves += [{"op": "point", "name": f"Z{i}", "at": [i * 0.37, 5 - i * 0.21]}, arc(f"c{i}", f"Z{i}", "V", "P")]
    moves += [{"op": "line", "name": f"k{i}", "through": [f"Z{i}", "V"]} for i in range(27 - 2)]
    moves += [{"op": "ray", "name": "r", "through": ["W", "Z3"]}]
    began = process_time()
    found = check({**COPY, "moves": moves, "result": "r"})

    assert found["verdict"] == "not there yet"
    assert process_time() - began < 3
