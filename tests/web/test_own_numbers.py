"""Where each seat has a question of its own, an answer stands beside that one: at the Desk, and on the Board where it is discussed."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

import pytest

from app import create_app
from tests.web.conftest import Clock, Room, set_up


@pytest.fixture(scope="module")
def shipped(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Room]:
    app = create_app({"TESTING": True, "DATA_DIR": str(tmp_path_factory.mktemp("data")), "CLOCK": Clock()})
    yield Room(app, app.config["CLOCK"], set_up(app))
    app.extensions["eight_angles"].close()


def asked(seat: Any, task: str) -> dict[str, Any]:
    """What this seat is asked now, without what is only for ears."""
    item: dict[str, Any] = seat.get(f"/seat/task/{task}").json["task"]["item"]
    return {name: value for name, value in item.items() if name != "words"}


def answer_to(item: dict[str, Any]) -> Any:
    """Something that can be handed in, right or wrong."""
    field = item["fields"][0]
    return {field["name"]: field["choices"][0]["value"] if field.get("choices") else "1"}


@pytest.mark.parametrize(
    ("pack", "task"),
    [
        ("proving-lines-parallel", "exit-name"),
        ("proving-lines-parallel", "exit-reason"),
        ("proving-lines-parallel", "solve-one-side"),
        ("proving-lines-parallel", "relatives-of-a-sentence"),
        ("proving-lines-parallel", "mixed"),
        ("solve-and-practice", "twins"),
    ],
)
def test_each_answer_is_told_with_the_question_of_its_seat(shipped: Room, pack: str, task: str) -> None:
    period = shipped.period(pack=pack)
    code = shipped.open_door(period)
    before: dict[str, dict[str, Any]] = {}
    for number in ("1", "2", "3"):
        seat = shipped.seat(code, number=number)
        item = before[number] = asked(seat, task)
        sent = {"id": f"reply-own-{number}", "task": task, "reply": {"answer": answer_to(item)}}
        done = seat.post("/seat/reply", sent)
        assert done.status_code == 200, done.data
    told = shipped.teacher.get(f"/desk/period/{period}/task/{task}/replies").json["replies"]
    assert {one["name"]: one["asked"] for one in told} == before
    assert len({str(item["figure"]) + item["ask"] + item["prompt"] for item in before.values()}) > 1, "not one question"


def test_a_question_that_everybody_has_is_not_told_again(shipped: Room) -> None:
    period = shipped.period(pack="proving-lines-parallel")
    seat = shipped.seat(shipped.open_door(period), number="1")
    names = {"3,6": "corresponding", "2,6": "corresponding", "1,8": "corresponding", "4,6": "corresponding", "2,8": "corresponding"}  # fmt: skip
    seat.post("/seat/reply", {"id": "reply-own-9", "task": "pairs-upright", "reply": {"names": names}})
    [told] = shipped.teacher.get(f"/desk/period/{period}/task/pairs-upright/replies").json["replies"]
    assert "asked" not in told
