"""Who is stuck, what a tally says, what a plan shows (J-5, PD-7)."""

from __future__ import annotations

import json

import pytest

from app.classroom import lesson, records, stage, standing
from app.figure.faults import Fault
from app.lessons.tasks import read_task
from app.words.message import plain

NOW = 1_000_000_000


def row(**fields: object) -> dict[str, object]:
    return {"done": False, "refused": 0, "at": NOW, **fields}


@pytest.mark.parametrize(
    ("on_task", "moved", "held"),
    [
        (None, None, None),  # listening
        (None, NOW - 89_000, None),
        (None, NOW - 91_000, {"minutes": 1}),  # 90 s with nothing new (J-5)
        (row(at=NOW - 200_000), NOW - 5_000, None),  # still moving the figure
        (row(at=NOW - 200_000), NOW - 185_000, {"minutes": 3}),
        (row(refused=2), NOW, None),
        (row(refused=3), NOW, {"tries": 3}),
        (row(refused=3, done=True), NOW - 900_000, None),
    ],
)
def test_stuck(on_task: dict[str, object] | None, moved: int | None, held: dict[str, int] | None) -> None:
    assert standing.stuck(on_task, moved, NOW) == held


def test_a_name_waits_for_approval() -> None:
    seat = {"name": "Typed", "alias": "Calm Arc", "approved": False, "hidden": False}
    assert standing.shown_name(seat) == "Calm Arc"
    assert standing.shown_name({**seat, "approved": True}) == "Typed"
    assert standing.shown_name({**seat, "approved": True, "hidden": True}) == "Calm Arc"
    assert standing.shown_name(seat, teacher=True) == "Typed"


def test_a_tally_counts_and_names_nobody() -> None:
    verdicts = [
        {"ok": True, "code": "right"},
        {"ok": False, "code": "wrong pair"},
        {"ok": False, "code": "x", "misconception": "original-for-converse"},
        {"ok": False, "code": "y", "misconception": "original-for-converse"},
    ]
    found = standing.tally(read_task({"id": "a", "title": "A"}), verdicts)
    assert [(r["label"], r["count"]) for r in found["rows"]] == [
        ("right", 1),
        ("original-for-converse", 2),
        ("wrong pair", 1),
    ]
    assert found["total"] == 4


PLAN = lesson.Plan("p", "P", tuple(
    lesson.PlanPart(p, p, 1, False, "lesson", tuple(
        read_task({"id": f"{p}{n}", "kind": "explore", "title": "T", "question": {"answer": 1}}) for n in (1, 2)))
    for p in ("a", "b", "c")
))  # fmt: skip


def test_a_teacher_orders_and_hides() -> None:
    arranged = lesson.arrange(PLAN, {"order": ["c", "a"], "hidden": ["a", "gone"]})
    assert [part.id for part in arranged.parts] == ["c", "a", "b"]
    assert [part.id for part in lesson.visible(arranged).parts] == ["c", "b"]
    assert [part.id for part in PLAN.parts] == ["a", "b", "c"]  # the pack itself is untouched


def test_an_outline_holds_no_answers() -> None:
    shown = lesson.outline(
        lesson.with_own(PLAN, [read_task({"id": "own-1", "kind": "prove", "title": "O", "goal": "l ∥ m"})], "Own"),
        {"a1"},
    )
    assert "answer" not in str(shown) and "goal" not in str(shown)
    assert [t["done"] for p in shown["parts"] for t in p["tasks"]] == [True] + [False] * 6


@pytest.mark.parametrize(
    "document",
    [
        [],
        "figure",
        {"kind": "movie"},
        {},
        {"kind": "figure"},
        {"kind": "figure", "figure": {"lines": 3}},
        {"kind": "task", "task": "x" * 40_000},
        {"kind": "blank", "under": {"kind": "blank", "under": {"kind": "blank"}}},
    ],  # fmt: skip
)
def test_what_is_no_stage(document: object) -> None:
    with pytest.raises(Fault) as caught:
        stage.read_stage(document)
    assert caught.value.sentence()


def test_records_by_skill_and_by_misconception() -> None:
    verdicts = [
        (
            "Ana",
            {"skills": {"name-pairs": True, "direction": False}, "misconception": "original-for-converse"},
        ),
        ("Ana", {"skills": {"name-pairs": True}, "misconception": None}),
        ("Li", {"skills": {"direction": False}, "misconception": "original-for-converse"}),
    ]
    assert [(r["skill"], r["right"], r["of"]) for r in records.by_skill([v for _, v in verdicts], {})] == [
        ("direction", 0, 2),
        ("name-pairs", 2, 2),
    ]
    numbered = [(name, {"misconception": "pair-side"}) for name in ("12", "Li", "3", "12")]
    assert records.by_misconception(numbered)[0]["seats"] == ["3", "12", "Li"]
    assert json.loads(json.dumps(records.by_misconception(verdicts), default=plain)) == [
        {
            "misconception": "original-for-converse",
            "title": "“It's the theorem about these angles.” That theorem starts from parallel lines, and you don't "
            "have those yet: the converse ends in them.",
            "count": 2,
            "seats": ["Ana", "Li"],
            "set": True,
        }
    ]
