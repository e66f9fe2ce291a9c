"""A compass that closes when it is lifted (K-4): what it can do, what it refuses, and how it is helped.

Euclid's Elements, Book I: his third postulate gives a circle by its center and a distance from there, I.1 and I.2 move a
length, I.9 to I.12, I.23 and I.31 are the tasks. Coordinates by formula, in starts.py; the exact proofs in test_exact.py.
"""

from __future__ import annotations

from fractions import Fraction
from random import Random
from typing import Any

import pytest

from app.classroom.kinds import construct
from app.classroom.verdict import Context
from app.construction.api import check
from app.construction.arithmetic import precise
from app.construction.bench import Recipe
from app.construction.moves import moves_to_json, read_program
from app.construction.plane import Straight
from app.construction.recipes import recipe
from app.construction.replay import replay
from app.construction.start import read_start
from app.construction.verify import judge
from app.figure.faults import Fault
from app.words.house import house
from tests.construction.starts import CONTEXT, TASKS, random_start, unit, vector, wanted_ways
from tests.construction.test_recipes import z
from tests.reading import in_english
from tests.scale import trials

construct = in_english(construct)
check = in_english(check)

ROUTES = [(task, "any") for task in TASKS] + [
    ("parallel through a point", "corresponding"),
    ("parallel through a point", "alternate interior"),
    ("perpendicular through a point", "on the line"),
    ("copy a segment", "any"),
]
CTX = Context(7, house())


def made(task: str, route: str, rng: Random, compass: str = "collapsing") -> tuple[dict[str, Any], Recipe]:
    data = random_start(task, rng, on_line=route == "on the line")
    part = Fraction(rng.randint(50, 950), 1000)
    return data, recipe(read_start(task, data), route, opening=part, compass=compass)


@pytest.mark.parametrize(("task", "route"), ROUTES)
def test_the_recipe_holds_everywhere(task: str, route: str) -> None:
    rng = Random(f"own {task} {route}")
    for _ in range(trials(quick=400, full=4000) // len(ROUTES)):
        data, one = made(task, route, rng)
        assert all(move.center in (move.opening or ()) for move in one.moves if move.op == "arc")
        drawing = replay(one.program(), precise())
        assert not drawing.failed, (data, drawing.failed)
        line = drawing.thing(one.result)
        assert isinstance(line, Straight)
        p, q = z(line.p), z(line.q)
        if task == "copy a segment":
            assert abs(abs(q - p) - abs(vector(data, "A", "B"))) < CONTEXT.mpf(10) ** -30
            assert abs(p - z(drawing.point("P"))) < CONTEXT.mpf(10) ** -30
            continue
        assert min(abs((unit(q - p) / w).imag) for w in wanted_ways(task, data)) < CONTEXT.mpf(10) ** -30


@pytest.mark.parametrize(("task", "route"), ROUTES)
def test_the_recipe_is_judged_constructed(task: str, route: str) -> None:
    rng = Random(f"own judged {task} {route}")
    for _ in range(trials(quick=5, full=80)):
        data, one = made(task, route, rng)
        body = {
            "task": task,
            "start": data,
            "moves": moves_to_json(one.moves),
            "result": one.result,
            "compass": "collapsing",
        }
        found = check(body)
        assert found["verdict"] == "constructed", (data, found["reason"], found["text"])


@pytest.mark.parametrize(("task", "route"), ROUTES)
def test_each_next_step_is_one_that_this_compass_can_do(task: str, route: str) -> None:
    """With the first k moves done the hint changes, never asks to keep an opening, and the last one is the answer."""
    data, one = made(task, route, Random(11))
    start = read_start(task, data)
    way = route if route in ("corresponding", "alternate interior") else "any"
    told = []
    for k in range(len(one.moves)):
        program = read_program(start, moves_to_json(one.moves[:k]), compass="collapsing")
        found = judge(program, route=way)
        if found.constructed:
            break  # a line is there; the midpoint on it is extra
        told.append(construct.next_step(program, found))
    assert not any("Keep" in text or "ame opening, put" in text for text in told), told
    assert len(set(told)) >= len(told) - 2
    if task != "perpendicular through a point":
        assert told[-1].startswith("Draw the")


@pytest.mark.parametrize(
    "task",
    [task for task in TASKS if task not in ("bisect an angle", "perpendicular through a point")] + ["copy a segment"],
)
def test_a_carried_opening_is_refused_with_its_move_and_its_mend(task: str) -> None:
    data, one = made(task, "any", Random(task), "modern")
    moves = moves_to_json(one.moves)
    body = {"task": task, "start": data, "moves": moves, "result": one.result}
    assert check(body)["verdict"] == "constructed"
    found = check({**body, "compass": "collapsing"})
    first = next(i for i, move in enumerate(moves) if move["op"] == "arc" and move["center"] not in move["opening"])
    a, b = moves[first]["opening"]
    assert (found["verdict"], found["reason"]) == ("not there yet", "carried")
    assert found["text"].startswith(f"Move {first + 1} carries the opening {a}{b} to {moves[first]['center']}")
    assert "Open it there" in found["text"]
    assert [i for i, move in enumerate(found["moves"]) if not move["ok"]] == [first]


def test_a_carried_arc_counts_before_there_is_an_answer() -> None:
    data = random_start("bisect a segment", Random(2))
    arc = {"op": "arc", "name": "c", "center": "A", "opening": ["B", "X"]}
    point = {"op": "point", "name": "X", "at": [1, 1]}
    found = check({"task": "bisect a segment", "start": data, "moves": [point, arc], "compass": "collapsing"})
    assert found["reason"] == "carried" and found["result"] is None


def test_an_arc_opened_to_the_wrong_point_is_told_which_point_it_must_pass() -> None:
    data, one = made("bisect a segment", "any", Random(4))
    moves = moves_to_json(one.moves)
    (ax, ay), (bx, by) = ([float(Fraction(c)) for c in data["points"][name]] for name in "AB")
    near = [bx + 0.15 * (ax - bx), by + 0.15 * (ay - by)]
    moves[1:1] = [{"op": "on", "name": "Z", "of": "AB", "near": [round(c, 6) for c in near]}]
    moves[2]["opening"] = ["B", "Z"]
    moves[0]["opening"] = ["A", "B"]
    moves[1:1] = []
    wide = {**moves[2], "opening": ["B", "A"]}
    assert (
        check(
            {"task": "bisect a segment", "start": data, "moves": [moves[0], wide, *moves[3:]], "compass": "collapsing"}
        )["verdict"]
        == "constructed"
    )
    other = {**moves[2], "opening": ["B", "Y"]}
    far = {"op": "point", "name": "Y", "at": [round(bx + 0.9 * (ax - bx), 6), round(by + 0.9 * (ay - by), 6)]}
    found = check(
        {
            "task": "bisect a segment",
            "start": data,
            "moves": [moves[0], far, other, *moves[3:]],
            "result": one.result,
            "compass": "collapsing",
        }
    )
    assert found["reason"] == "opening changed", found
    assert found["text"] == "The arc about B was opened as BY, and it needs to pass through A."


def test_a_length_set_off_on_the_wrong_side_is_not_a_copy() -> None:
    """I.2 with the last mark on the near side of P: the segment is shorter or longer than AB."""
    data, one = made("copy a segment", "any", Random(6))
    moves = moves_to_json(one.moves)
    drawing = replay(one.program(), precise())
    tip, last = moves[2]["name"], moves[-2]
    (fx, fy), (hx, hy) = ([float(c) for c in drawing.point(name)] for name in (tip, last["name"]))
    moves.insert(-2, {"op": "line", "name": "v", "through": [tip, "P"]})
    moves[-2] = {**last, "of": [last["of"][0], "v"], "near": [2 * fx - hx, 2 * fy - hy]}
    found = check(
        {"task": "copy a segment", "start": data, "moves": moves, "result": one.result, "compass": "collapsing"}
    )
    assert (found["verdict"], found["reason"]) == ("not there yet", "wrong crossing")


def test_which_compass_is_asked_for() -> None:
    data = random_start("copy a segment", Random(3))
    with pytest.raises(Fault, match="modern, collapsing"):
        check({"task": "copy a segment", "start": data, "moves": [], "compass": "rusty"})
    with pytest.raises(Fault, match="The answer is a segment"):
        line = {"op": "line", "name": "k", "through": ["P", "A"]}
        check({"task": "copy a segment", "start": data, "moves": [line], "result": "k"})


def test_a_student_may_take_the_harder_compass_and_never_the_easier() -> None:
    data, one = made("copy an angle", "any", Random(5), "modern")
    task = {"id": "t", "kind": "construct", "title": "T", "construction": "copy an angle", "start": data}
    reply = {"moves": moves_to_json(one.moves), "result": one.result}
    assert construct.judge(task, reply, CTX).ok
    assert construct.judge(task, {**reply, "compass": "collapsing"}, CTX).code == "carried"
    own = {**task, "compass": "collapsing"}
    assert construct.public(own, CTX)["compass"] == "collapsing"
    assert construct.judge(own, {**reply, "compass": "modern"}, CTX).code == "carried"
    key = construct.ask(task, "demonstration", {"compass": "collapsing"}, CTX)
    assert construct.judge(own, {"moves": key["moves"], "result": key["result"]}, CTX).ok


def test_why_it_works_is_said_for_a_moved_length() -> None:
    data, one = made("copy a segment", "any", Random(9))
    task = {
        "id": "t",
        "kind": "construct",
        "title": "T",
        "construction": "copy a segment",
        "start": data,
        "compass": "collapsing",
    }
    why = construct.judge(task, {"moves": moves_to_json(one.moves), "result": one.result}, CTX).more["why"]
    assert [row["step"] for row in why["rows"]] == ["why_own_triangle", "why_own_lengths", "why_own_rest"]
    assert why["triangles"] == [] and "Euclid I.2" in why["rows"][2]["text"]
