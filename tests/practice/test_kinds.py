"""The exercise kinds as a Seat uses them: what is shown, what a reply gets, how practice goes on."""

from __future__ import annotations

import json
from typing import Any

import pytest

from app.classroom.kinds import connect, practice, solve
from app.classroom.verdict import Context
from app.figure.faults import Fault
from app.practice.families import FAMILIES, LEVELS
from app.practice.misconceptions import MISCONCEPTIONS
from app.sheets.entries import from_item
from app.sheets.paper import THEMES
from app.words.house import house
from tests.reading import in_english

connect = in_english(connect)
practice = in_english(practice)
solve = in_english(solve)

FIGURE = {
    "lines": {
        "k": {"direction": 10, "through": [0, 3]},
        "m": {"direction": 10, "through": [0, -3]},
        "t": {"direction": 65, "through": [0, 0]},
    },
    "meets": {"A": ["k", "t"], "B": ["m", "t"]},
    "transversal": "t",
    "number": "standard",
}
SOLVE = {"id": "s", "kind": "solve", "title": "Solve", "ask": "Find x.", "family": "make-parallel", "level": 2}
OWN = {
    "id": "o",
    "kind": "solve",
    "title": "Own",
    "ask": "Find x.",
    "family": None,
    "figure": FIGURE,
    "given": ["k ∥ m", "m∠3 = 3x + 10", "m∠5 = 2x + 20"],
    "want": "x",
}
CONNECT = {"id": "c", "kind": "connect", "title": "Connect", "ask": "", "family": None, "level": 1}
MIX = {
    "id": "p",
    "kind": "practice",
    "title": "Mix",
    "ask": "",
    "families": ["name-the-pair", "make-parallel", "is-it-enough"],
    "level": 1,
    "count": 6,
    "mix": True,
}


def ctx(seed: int = 7, history: list[dict[str, Any]] | None = None) -> Context:
    return Context(seed=seed, house=house(), history=history or [])


@pytest.mark.parametrize(("kind", "task"), [(solve, SOLVE), (solve, OWN), (connect, CONNECT), (practice, MIX)])
def test_what_a_seat_sees_holds_no_key(kind: Any, task: dict[str, Any]) -> None:
    """T-10."""
    shown = kind.public(task, ctx())
    text = json.dumps(shown, ensure_ascii=False)

    assert shown["item"]["words"]["title"] and shown["item"]["figure"]["meets"]
    for word in ('"key"', '"traps"', '"hints"', '"facts"', '"seed"'):
        assert word not in text
    if kind is solve:
        assert json.dumps(kind.key(task, ctx())["working"][1:2], ensure_ascii=False)[1:-1] not in text


@pytest.mark.parametrize(("kind", "task"), [(solve, SOLVE), (solve, OWN), (connect, CONNECT), (practice, MIX)])
def test_the_key_is_accepted_and_three_hints_are_there(kind: Any, task: dict[str, Any]) -> None:
    for seed in range(5):
        verdict = kind.judge(task, {"answer": kind.key(task, ctx(seed))["key"]}, ctx(seed))
        assert verdict.ok and verdict.score > 0 and verdict.text.endswith((".", "°"))
        hints = [kind.ask(task, "hint", {"level": n}, ctx(seed))["text"] for n in (1, 2, 3)]
        assert all(hints) and len(set(hints)) == 3


def test_seats_get_different_numbers_and_keep_them() -> None:
    shown = [json.dumps(solve.public(SOLVE, ctx(seed))) for seed in range(20)]

    assert len(set(shown)) == 20
    assert shown[3] == json.dumps(solve.public(SOLVE, ctx(3)))


def test_the_first_line_that_does_not_follow_is_named() -> None:
    """The figure says (3x + 10) + (2x + 20) = 180."""
    good = ["(3x + 10) + (2x + 20) = 180", "5x + 30 = 180", "5x = 150", "x = 30"]
    assert solve.judge(OWN, {"answer": "30", "working": good}, ctx()).ok
    slipped = solve.judge(OWN, {"answer": "30", "working": [*good[:2], "5x = 210", "x = 42"]}, ctx())
    assert not slipped.ok and slipped.text.startswith("The answer is right. Line 3: You took 30")
    assert [p["ok"] for p in slipped.parts if p["field"].startswith("working")] == [True, True, False, True]
    wrong = solve.judge(OWN, {"answer": "10", "working": ["3x + 10 = 2x + 20", "x = 10"]}, ctx())
    assert not wrong.ok and "Line 1: This isn't what the figure says" in wrong.text


@pytest.mark.parametrize(
    "scrap", ["abc", "x = ", "12 + ", "vertical so equal", "y = 3", "(3x + 10", "∠7 = 40", "q ∥ r"]
)
@pytest.mark.parametrize("at", [0, 1, 2])
def test_a_scratch_line_stands_in_the_way_of_no_right_answer(scrap: str, at: int) -> None:
    """It is said beside the line, in words, and neither helps nor hurts; what is wrong stays wrong."""
    lines = ["5x + 30 = 180", "x = 30"]
    lines.insert(at, scrap)
    right = solve.judge(OWN, {"answer": "30", "working": lines}, ctx())
    assert right.ok and right.score == 1
    said = [p for p in right.parts if p["field"].startswith("working.")]
    assert [p["ok"] for p in said] == [None if i == at else True for i in range(3)]
    assert said[at]["text"].endswith("This line isn't judged.")
    assert not solve.judge(OWN, {"answer": "31", "working": lines}, ctx()).ok
    alone = solve.judge(OWN, {"answer": "31", "working": [scrap]}, ctx())
    assert not alone.ok and alone.score == solve.judge(OWN, {"answer": "31"}, ctx()).score
    slip = [*lines[:-1], "x = 42"] if at < 2 else ["5x + 30 = 180", scrap, "x = 42"]
    assert not solve.judge(OWN, {"answer": "30", "working": slip}, ctx()).ok


def test_a_field_that_cannot_be_read_is_named_as_the_page_names_it() -> None:
    with pytest.raises(Fault) as fault:
        solve.judge(OWN, {"answer": "abc"}, ctx())
    assert fault.value.sentence().startswith("x: Character 1: “abc”")


def test_lines_are_judged_before_anything_is_handed_in() -> None:
    said = solve.ask(OWN, "lines", {"working": ["5x + 30 = 180", "", "5x = 210"]}, ctx())

    assert said["first_wrong"] == 1 and [r["ok"] for r in said["rows"]] == [True, False]
    assert solve.ask(OWN, "lines", {"working": []}, ctx()) == {"rows": [], "first_wrong": None}


@pytest.mark.parametrize(
    "reply",
    [
        {},
        {"answer": None},
        {"answer": {}},
        {"answer": "3x"},
        {"answer": "30", "working": "x = 30"},
        {"answer": "30", "working": ["x = 30", 3]},
        {"answer": "30", "working": ["x = 30"] * 21},
        {"answer": "30", "working": [{}]},
        {"answer": "9**9**9"},
        {"answer": {"x": "__import__('os')"}},
    ],
)
def test_replies_that_can_not_be_used(reply: dict[str, Any]) -> None:
    with pytest.raises(Fault) as fault:
        solve.judge(OWN, reply, ctx())
    assert fault.value.sentence().endswith((".", "?"))


@pytest.mark.parametrize(
    ("what", "body"), [("hint", {}), ("hint", {"level": 4}), ("hint", {"level": True}), ("lines", {"working": 3})]
)
def test_nothing_else_can_be_asked(what: str, body: dict[str, Any]) -> None:
    with pytest.raises(Fault):
        solve.ask(OWN, what, body, ctx())


def test_what_a_kind_does_not_name_is_not_asked_of_it() -> None:
    """The server refuses it, for all kinds alike (tests/web/test_real_packs.py)."""
    assert {"hint", "lines"} == solve.ASKS
    assert {"hint", "lines", "next"} == practice.ASKS


def go(task: dict[str, Any], rights: list[bool], seed: int = 3) -> list[dict[str, Any]]:
    """A student at practice: right or not, reply by reply; gives what was shown and said each time."""
    history: list[dict[str, Any]] = []
    trail = []
    for right in rights:
        here = ctx(seed, history)
        shown = practice.public(task, here)
        answer = dict(practice.key(task, here)["key"])
        if not right:
            spoil(shown["item"], answer)
        verdict = practice.judge(task, {"n": shown["n"], "answer": answer}, here).as_json()
        trail.append({"shown": shown, "verdict": verdict})
        history = [*history, {"reply": {}, "verdict": verdict}]
    return trail


def spoil(item: dict[str, Any], answer: dict[str, Any]) -> None:
    f = item["fields"][0]
    if f["kind"] == "sentence":
        clauses = f["tiles"]["clauses"]
        answer[f["name"]] = f"If {clauses[0]['said']}, then {clauses[0]['said']}."
    elif f["kind"] == "figure":
        # As it is drawn it is no counterexample, whatever is chosen.
        answer[f["name"]] = item["figure"]
    elif f["kind"] == "order":
        answer[f["name"]] = answer[f["name"]][::-1]
    elif f["kind"] == "choice":
        answer[f["name"]] = next(c["value"] for c in f["choices"] if c["value"] != answer[f["name"]])
        if f["name"] == "lines":
            answer["theorem"] = item["fields"][1]["choices"][0]["value"]
    else:
        answer[f["name"]] = "777"


def test_practice_is_done_after_its_count_and_goes_on() -> None:
    trail = go(MIX, [True] * 9)

    assert [t["verdict"]["done"] for t in trail] == [False] * 5 + [True] * 4
    assert [t["shown"]["n"] for t in trail] == list(range(9))
    assert trail[5]["verdict"]["score"] == 1.0
    items = {json.dumps(t["shown"]["item"]["figure"]) for t in trail}
    assert len(items) == 9


def test_an_item_closes_after_two_wrong_tries_and_then_the_way_is_shown() -> None:
    trail = go(MIX, [False, False, True])

    first, second, third = (t["verdict"]["more"] for t in trail)
    assert not first["closed"] and "key" not in first and "working" not in first
    assert second["closed"] and second["key"] and second["working"]
    # It doesn't close unannounced; and once it is closed nothing is asked of it any more.
    texts = [t["verdict"]["text"] for t in trail]
    assert "One more try" in texts[0] and "One more try" not in texts[1] + texts[2]
    assert "closed" in texts[1] and "Not yet" not in texts[1] and "?" not in texts[1].split("closed")[0]
    assert trail[2]["shown"]["n"] == 1 and third["right"]


def test_a_known_mistake_is_followed_up_by_its_own_kind_of_item() -> None:
    followed = 0
    for seed in range(40):
        trail = go(MIX, [False, False, True, True], seed)
        mistake = trail[1]["verdict"]["misconception"]
        if mistake is None:
            continue
        followed += 1
        assert trail[2]["verdict"]["more"]["family"] == MISCONCEPTIONS[mistake].follow[0]
        assert trail[2]["shown"]["back"] and not trail[3]["shown"]["back"]
    assert followed >= 5


def test_support_fades_and_standing_is_counts() -> None:
    trail = go({**MIX, "families": ["make-parallel"], "count": 12}, [True] * 12)
    shown = [t["shown"] for t in trail]

    assert (
        shown[0]["support"] == "worked"
        and shown[0]["example"]["working"]
        and shown[0]["standing"][0]["counts"] == "not tried yet"
    )
    assert all(s["support"] == "bare" and s["example"] is None for s in shown[2:])
    assert [s["standing"][0]["counts"] for s in (shown[1], shown[6], shown[-1])] == [
        "1 of 1 right",
        "6 of 6 right",
        "6 of the last 6 right",
    ]
    assert shown[-1]["item"]["level"] > shown[0]["item"]["level"], "three right in a row lead one level up"


def test_the_worked_example_is_another_item() -> None:
    for seed in range(10):
        shown = practice.public({**MIX, "families": ["make-parallel"]}, ctx(seed))
        assert shown["example"]["item"]["given"] != shown["item"]["given"]


def test_a_late_answer_does_not_count_for_another_item() -> None:
    trail = go(MIX, [True, True])
    history = [{"reply": {}, "verdict": t["verdict"]} for t in trail]

    with pytest.raises(Fault) as fault:
        practice.judge(MIX, {"n": 0, "answer": "corresponding"}, ctx(3, history))
    assert fault.value.where == "reply.n"


def test_blocks_when_a_pack_asks_for_no_mixing() -> None:
    trail = go({**MIX, "mix": False}, [True] * 6)

    assert [t["verdict"]["more"]["family"] for t in trail] == ["name-the-pair"] * 2 + ["make-parallel"] * 2 + [
        "is-it-enough"
    ] * 2


@pytest.mark.parametrize("family", FAMILIES)
def test_every_family_works_on_a_seat(family: str) -> None:
    task = {**MIX, "families": [family], "level": LEVELS[family] + 3}
    trail = go(task, [True, False, False, True])

    assert trail[0]["verdict"]["ok"] and trail[3]["verdict"]["ok"]


@pytest.mark.parametrize(("said", "told"), [(False, False), (True, True), (None, True)])
def test_a_drawing_is_said_not_to_be_to_scale_only_where_it_isn_t(said: bool | None, told: bool) -> None:
    """On the page, in words, and in print: an exact figure whose pack says so carries no such note."""
    task = {**OWN, "not_to_scale": said} if said is not None else OWN
    item = solve.public(task, ctx())["item"]

    assert item["not_to_scale"] is told
    assert ("Not drawn to scale." in item["words"]["parts"]) is told
    printed = from_item(solve.item_of(task, ctx()), THEMES["standard"], house()).figure
    assert ("Not drawn to scale" in printed) is told
