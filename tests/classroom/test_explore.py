"""Explore: what is reached is decided on the drawing, exactly, and is said to be no more than drawn."""

from __future__ import annotations

from typing import Any

import pytest

from app.classroom.kinds import kind_module
from app.classroom.verdict import Context
from app.figure.faults import Fault
from app.figure.model import figure_from_json, figure_to_json
from app.words.house import house
from tests.figure.samples import standard
from tests.reading import in_english

kind_module = in_english(kind_module)

explore = kind_module("explore")
CTX = Context(1, house())
QUESTION = {
    "ask": "Then?",
    "choices": ["parallel", "perpendicular"],
    "answer": 0,
    "why": "Both turned together.",
}
TASK: dict[str, Any] = {
    "id": "e", "kind": "explore", "title": "e", "ask": "e", "figure": standard(10, 20, 65), "given": [],
    "movable": ["l", "m", "t"], "measures": "shown", "reach": ["∠3 and ∠5 are supplementary"], "question": None,
}  # fmt: skip


def moved(l=10, m=20, t=65) -> dict[str, Any]:
    """The task's figure with its lines turned."""
    start = figure_to_json(figure_from_json(TASK["figure"]))
    lines = {k: {**start["lines"][k], "direction": d} for k, d in (("l", l), ("m", m), ("t", t))}
    return {**start, "lines": lines, "meets": {"A": ["l", "t"], "B": ["m", "t"]}}


def judge(reply, ctx=CTX, **task):
    return explore.judge({**TASK, **task}, reply, ctx)


def test_reached_and_what_happened_to_the_lines() -> None:
    verdict = judge({"figure": moved(m=10)})

    assert (verdict.ok, verdict.done, verdict.score) == (True, True, 1.0)
    assert verdict.text == (
        "∠3 and ∠5 are supplementary, as drawn. "
        "And now l and m are parallel, as drawn: a drawing shows it, a reason is still to come."
    )
    assert verdict.marks == {"lines": {"l": {"arrows": 1, "tone": "plain"}, "m": {"arrows": 1, "tone": "plain"}}}


@pytest.mark.parametrize("m", [9, 11, 20, "1001/100"])
def test_a_degree_or_a_hundredth_off_is_not_reached(m) -> None:
    verdict = judge({"figure": moved(m=m)})

    assert (verdict.ok, verdict.code, verdict.marks) == (False, "not yet", None)
    assert verdict.text.startswith("Not yet: m∠3 + m∠5 is ") and verdict.text.endswith("it should be 180.")


@pytest.mark.parametrize(
    "statement, on, off, words",
    [
        ("∠2 ≅ ∠6", {"m": 10}, {"m": 12}, "m∠2 is 55, m∠6 is 53"),
        ("m∠2 = 40", {"l": 25}, {"l": 24}, "m∠2 is 41; it should be 40"),
        ("l ∥ m", {"m": 10}, {"m": 13}, "l and m are 3° from parallel"),
        ("t ⊥ l", {"t": 100}, {"t": 97}, "t and l are 3° from perpendicular"),
        ("m∠1 = 2m∠2", {"t": 70}, {"t": 71}, "m∠1 = 2m∠2 does not hold as drawn"),
        ("l ∦ m", {}, {"m": 10}, "l ∦ m does not hold as drawn"),
    ],
)  # fmt: skip
def test_each_kind_of_statement(statement, on, off, words) -> None:
    assert judge({"figure": moved(**on)}, reach=[statement]).ok
    missed = judge({"figure": moved(**off)}, reach=[statement])

    assert not missed.ok and words in missed.text


def test_a_question_is_answered_after_the_figure() -> None:
    right = judge({"figure": moved(m=10), "answer": 0}, question=QUESTION)
    assert right.ok and right.text == "Right. Both turned together."

    before = judge({"figure": moved(), "answer": 0}, question=QUESTION)
    assert before.code == "not yet" and before.score == 0


def test_the_reason_is_kept_for_the_second_wrong_answer() -> None:
    reply = {"figure": moved(m=10), "answer": 1}
    first = judge(reply, question=QUESTION)
    assert (
        (first.ok, first.done) == (False, False) and "Both turned" not in first.text and "perpendicular" in first.text
    )

    again = judge(reply, Context(1, house(), history=[{"reply": reply, "verdict": first.as_json()}]), question=QUESTION)
    assert (again.ok, again.done) == (False, True) and "Both turned together." in again.text


def test_a_line_turned_past_the_flat_is_the_same_line() -> None:
    """From 2 degrees down to 178: the rays of l change their signs with it, the angle stays the same
    angle.
    """
    task = {"figure": standard(2, 20, 65)}
    left = moved(l=178)
    flip = {"l+": "l-", "l-": "l+"}
    for angle in left["angles"].values():
        angle["from"], angle["to"] = (
            flip.get(angle["from"], angle["from"]),
            flip.get(angle["to"], angle["to"]),
        )

    verdict = judge({"figure": left}, reach=["m∠2 = 67"], **task)

    assert verdict.ok
    assert "l and m are 22° from parallel" in judge({"figure": left}, reach=["l ∥ m"], **task).text


@pytest.mark.parametrize(
    "reply, task, where",
    [
        ({}, {}, "reply.figure"), ({"figure": 3}, {}, "reply.figure"),
        ({"figure": moved(t=40)}, {"movable": ["m"]}, "reply.figure.lines.t"),
        ({"figure": moved(m=10)}, {"question": QUESTION}, "reply.answer"),
        ({"figure": moved(m=10), "answer": 9}, {"question": QUESTION}, "reply.answer"),
        ({"figure": moved(m=10), "answer": True}, {"question": QUESTION}, "reply.answer"),
        ({"figure": moved(m=65)}, {}, "reply.figure.meets.B"),
        ({"figure": {**moved(), "angles": {}}}, {}, "reply.figure"),
        ({"figure": moved()}, {"reach": ["m∠1 = 3x"]}, "task.reach"),
    ],
)  # fmt: skip
def test_a_reply_that_cannot_be_used_is_a_fault_at_its_place(reply, task, where) -> None:
    with pytest.raises(Fault) as caught:
        judge(reply, **task)

    assert caught.value.where == where and caught.value.sentence()


def test_without_anything_to_reach_looking_is_enough() -> None:
    assert judge({}, reach=[]).ok
    assert judge({"answer": 0}, reach=[], question=QUESTION).ok


def test_public_keeps_the_answer_and_its_reason() -> None:
    seen = explore.public({**TASK, "question": QUESTION}, CTX)

    assert seen["question"] == {"ask": "Then?", "choices": ["parallel", "perpendicular"]}
    assert "Both turned" not in str(seen) and seen["reach"] == TASK["reach"]
    assert "parallel" not in seen["words"]["text"]
    assert explore.key({**TASK, "question": QUESTION}, CTX)["answer"] == {
        "choice": "parallel",
        "why": "Both turned together.",
    }
