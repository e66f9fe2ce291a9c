"""Classify: names judged by how the angles lie; a wrong one is answered with the condition, not with the
name.
"""

from __future__ import annotations

import pytest

from app.classroom.kinds import kind_module
from app.classroom.verdict import Context
from app.figure.faults import Fault
from app.figure.model import figure_from_json, figure_to_json
from app.words.house import house
from tests.figure.samples import standard
from tests.reading import in_english

kind_module = in_english(kind_module)

classify = kind_module("classify")
CTX = Context(1, house())

# Wentworth, Plane Geometry (1899), §109, in standard numbers; the last two follow from the positions.
NAMES = {
    "3,6": "alternate interior", "2,6": "corresponding", "1,8": "alternate exterior", "4,6": "consecutive interior",
    "2,8": "consecutive exterior", "1,4": "vertical", "5,6": "linear pair", "1,6": "none",
}  # fmt: skip
TASK = {
    "id": "c", "kind": "classify", "title": "c", "ask": "c", "figure": standard(10, 20, 65), "given": [],
    "pairs": [name.split(",") for name in NAMES], "find": None, "count": None, "transversal": False, "movable": ["t"],
}  # fmt: skip
FIND = {**TASK, "pairs": [], "find": "alternate exterior", "count": 2}


def judge(task, reply, ctx=CTX):
    return classify.judge(task, reply, ctx)


def test_all_named_right() -> None:
    verdict = judge(TASK, {"names": NAMES})

    assert (verdict.ok, verdict.done, verdict.score) == (True, True, 1.0)
    assert verdict.text == "All 8 pairs are named right."
    assert verdict.skills == {"name-pairs": True}


@pytest.mark.parametrize("pair", NAMES)
@pytest.mark.parametrize("wrong", sorted(set(NAMES.values())))
def test_each_wrong_name_is_answered_with_how_the_pair_lies(pair, wrong) -> None:
    right = NAMES[pair]
    if wrong == right:
        return

    verdict = judge(TASK, {"names": {**NAMES, pair: wrong}})

    failing = [part for part in verdict.parts if not part["ok"]]
    assert [part["field"] for part in failing] == [pair]
    assert verdict.misconception == "wrong-pair-name" and verdict.score == round(7 / 8, 2)
    text = failing[0]["text"]
    assert text in verdict.text and "would have to be" in text
    a, b = pair.split(",")
    assert f"∠{a}" in text and f"∠{b}" in text
    if right not in ("none", "vertical", "linear pair"):
        assert right not in text, "the right name is left to be found"


def test_the_condition_that_holds_and_the_one_that_fails() -> None:
    one = {**TASK, "pairs": [["3", "6"]]}

    verdict = judge(one, {"names": {"3,6": "corresponding"}})

    assert verdict.parts[0]["text"] == (
        "∠3 and ∠6 share transversal t, both are inside, on opposite sides. "
        "For corresponding angles they would have to be one inside and one outside, on the same side."
    )


def test_words_of_other_houses_are_understood() -> None:
    words = {
        "4,6": "Same-Side Interior Angles",
        "1,4": "vertically opposite angles",
        "3,6": "alternate interior angles",
    }

    assert judge(TASK, {"names": {**NAMES, **words}}).ok


def test_names_are_judged_in_the_figure_as_it_was_left() -> None:
    moved = standard(10, 20, 65)
    moved["lines"]["t"]["direction"] = 110
    left = figure_from_json(
        {
            **figure_to_json(figure_from_json(TASK["figure"])),
            "lines": moved["lines"],
            "meets": {"A": ["l", "t"], "B": ["m", "t"]},
        }
    )

    assert judge(TASK, {"names": NAMES, "figure": figure_to_json(left)}).ok


def test_a_figure_that_is_not_the_tasks_is_a_fault() -> None:
    fixed = figure_to_json(figure_from_json(standard(11, 20, 65)))
    with pytest.raises(Fault) as caught:
        judge(TASK, {"names": NAMES, "figure": fixed})
    assert caught.value.where == "reply.figure.lines.l" and "Line l stays where it is" in caught.value.sentence()

    with pytest.raises(Fault):
        judge(TASK, {"names": NAMES, "figure": {"lines": {"t": {"direction": 1, "through": [0, 0]}}}})


NETWORK = {
    "lines": {"l": {"direction": 4, "through": [0, 2]}, "m": {"direction": 0, "through": [0, -2]},
              "t": {"direction": 62, "through": [-3, 0]}, "s": {"direction": 60, "through": [3, 0]}},
    "meets": {"A": ["l", "t"], "B": ["m", "t"], "C": ["l", "s"], "D": ["m", "s"]},
    "angles": {
        "1": {"at": "A", "from": "t-", "to": "l+"}, "3": {"at": "B", "from": "m+", "to": "t+"},
        "5": {"at": "D", "from": "s+", "to": "m-"}, "6": {"at": "D", "from": "m+", "to": "s+"},
    },
}  # fmt: skip
WITH_TRANSVERSAL = {
    **TASK,
    "figure": NETWORK,
    "pairs": [["3", "6"], ["1", "5"]],
    "transversal": True,
    "movable": [],
}


def test_in_a_network_the_transversal_is_judged_with_the_name() -> None:
    names = {"3,6": "corresponding", "1,5": "none"}

    right = judge(WITH_TRANSVERSAL, {"names": names, "transversals": {"3,6": "m", "1,5": None}})
    assert right.ok and right.skills == {"name-pairs": True, "find-transversal": True}

    wrong = judge(WITH_TRANSVERSAL, {"names": names, "transversals": {"3,6": "t", "1,5": None}})
    assert wrong.misconception == "wrong-transversal" and not wrong.ok
    assert wrong.parts[0]["text"].startswith("t does not carry a side of each of ∠3 and ∠6.")
    assert wrong.skills == {"name-pairs": True, "find-transversal": False}

    missing = judge(WITH_TRANSVERSAL, {"names": names})
    assert missing.parts[0]["text"].endswith("Which line carries a side of each?") and missing.parts[1]["ok"]


def test_found_pairs() -> None:
    assert judge(FIND, {"found": [["1", "8"], ["2", "7"]]}).ok
    assert judge(FIND, {"found": [["8", "1"], ["7", "2"]]}).ok

    fewer = judge(FIND, {"found": [["1", "8"]]})
    assert (fewer.ok, fewer.code, fewer.score) == (False, "more wanted", 0.5)

    twice = judge(FIND, {"found": [["1", "8"], ["8", "1"]]})
    assert not twice.ok and "chosen twice" in twice.text and twice.misconception is None

    wrong = judge(FIND, {"found": [["1", "8"], ["3", "6"]]})
    assert wrong.misconception == "wrong-pair-name" and "both are inside" in wrong.text


@pytest.mark.parametrize(
    "task, reply, where",
    [
        (TASK, {}, "reply.names"), (TASK, {"names": []}, "reply.names"), (TASK, {"names": {"9,9": "vertical"}}, "reply.names"),
        (TASK, {"names": {"3,6": "vertical"}}, "reply.names.2,6"), (TASK, {"names": {**NAMES, "3,6": 4}}, "reply.names.3,6"),
        (FIND, {}, "reply.found"), (FIND, {"found": []}, "reply.found"), (FIND, {"found": [["1"]]}, "reply.found.0"),
        (FIND, {"found": [["1", "1"]]}, "reply.found.0"), (FIND, {"found": [["1", "x"]]}, "reply.found.0"),
        (FIND, {"found": [["1", "8"]] * 41}, "reply.found"),
        (WITH_TRANSVERSAL, {"names": {"3,6": "none", "1,5": "none"}, "transversals": {"3,6": "z"}}, "reply.transversals.3,6"),
        (TASK, {"names": NAMES, "figure": 4}, "reply.figure"),
    ],
)  # fmt: skip
def test_a_reply_that_cannot_be_used_is_a_fault_at_its_place(task, reply, where) -> None:
    with pytest.raises(Fault) as caught:
        judge(task, reply)

    assert caught.value.where == where and caught.value.sentence()


def test_public_and_key() -> None:
    seen = classify.public(TASK, CTX)
    assert seen["pairs"][0] == ["3", "6"] and seen["find"] is None
    assert not any(name in seen["words"]["text"] for name in ("interior", "corresponding", "vertical"))

    key = classify.key(TASK, CTX)
    assert {",".join(row["angles"]): row["pair"] for row in key["pairs"]} == NAMES
    assert classify.public(FIND, CTX)["find"] == {
        "id": "alternate exterior",
        "name": "alternate exterior angles",
    }
    assert [row["angles"] for row in classify.key(FIND, CTX)["pairs"]] == [["1", "8"], ["2", "7"]]
