"""Every task of every shipped pack through the server: shown without its key, judged, and the key for the
teacher.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from app import create_app
from app.classroom.kinds import KINDS
from app.lessons.load import find_packs
from tests.web.conftest import Clock, Room, set_up

PACKS = Path(__file__).resolve().parents[2] / "lesson_packs"


@pytest.fixture(scope="module")
def shipped(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Room]:
    app = create_app({"TESTING": True, "DATA_DIR": str(tmp_path_factory.mktemp("data")), "CLOCK": Clock()})
    yield Room(app, app.config["CLOCK"], set_up(app))
    app.extensions["eight_angles"].close()


def strings(value: Any) -> Iterator[str]:
    """Every text in a piece of JSON."""
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict):
        for inner in value.values():
            yield from strings(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from strings(inner)


NAMES = [found.name for found in find_packs(PACKS)]


@pytest.mark.parametrize("name", NAMES)
def test_every_task_is_shown_and_judged(shipped: Room, name: str) -> None:
    period = shipped.period(f"With {name}", name)
    student = shipped.seat(shipped.open_door(period))
    tasks = [t["id"] for p in student.get("/seat/state").json["pack"]["parts"] for t in p["tasks"]]
    assert len(tasks) > 3
    for task in tasks:
        shown = student.get(f"/seat/task/{task}")
        assert shown.status_code == 200, task
        assert shown.json["task"]["ask"]
        empty = student.post("/seat/reply", {"id": f"empty-{task[:40]}", "task": task, "reply": {}})
        assert empty.status_code in (200, 422), (task, empty.data)
        seen = shipped.teacher.get(f"/desk/period/{period}/task/{task}")
        assert seen.status_code == 200 and seen.json["key"], task


@pytest.mark.parametrize("name", NAMES)
def test_no_key_reaches_a_seat(shipped: Room, name: str) -> None:
    """T-10: the reasons why, the worked proofs and the answers are not in what a Seat is sent."""
    period = shipped.period(f"Keys of {name}", name)
    student = shipped.seat(shipped.open_door(period))
    pack = next(found.pack for found in find_packs(PACKS) if found.name == name)
    assert pack is not None
    state = student.get("/seat/state").get_data(as_text=True)
    for part in pack.parts:
        for task in part.tasks:
            shown = student.get(f"/seat/task/{task.id}").json["task"]
            question = task.data.get("question") or {}
            for secret in (question.get("why"), task.notes):
                if secret:
                    assert secret not in list(strings(shown)) and secret not in state, task.id
            assert not {"answer", "expect", "notes", "possible"} & (set(shown) | set(shown.get("question") or {})), (
                task.id
            )


def test_an_exit_ticket_gets_no_help(shipped: Room) -> None:
    """Hints, shown steps and judged lines are for lessons; an exit ticket shows what a student can do alone (J-8)."""
    period = shipped.period("With a bell", "proving-lines-parallel")
    student = shipped.seat(shipped.open_door(period))
    parts = student.get("/seat/state").json["pack"]["parts"]
    exits = [t["id"] for p in parts if p["purpose"] == "exit" for t in p["tasks"]]
    lessons = [t["id"] for p in parts if p["purpose"] != "exit" for t in p["tasks"] if t["kind"] == "solve"]
    assert exits and lessons
    for what, body in [("hint", {"level": 1}), ("lines", {"lines": ["x = 1"]})]:
        for task in exits:
            assert student.post(f"/seat/task/{task}/ask/{what}", body).status_code == 409, (task, what)
        assert student.post(f"/seat/task/{lessons[-1]}/ask/{what}", body).status_code != 409, what


def test_an_unknown_question_is_refused_in_one_way(shipped: Room) -> None:
    """F5-02: it was answered four ways, by kind."""
    alone = shipped.browser()
    seen = {
        task.kind: (found.name, task.id)
        for found in find_packs(PACKS)
        if found.pack
        for part in found.pack.parts
        if part.purpose != "exit"
        for task in part.tasks
    }
    assert set(seen) == set(KINDS)
    told = set()
    for pack, task in seen.values():
        for what in ("nothing", "Hint", "__class__", "hint1"):
            answer = alone.post(f"/alone/{pack}/task/{task}/ask/{what}", {})
            told.add((answer.status_code, answer.json["error"]["message"], answer.json["error"]["where"]))
    assert told == {(404, "There is no such question for this kind of task.", "what")}
