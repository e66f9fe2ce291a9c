"""A browser with an exit ticket gets no help with it from the calculators or from work alone (F9-03)."""

from __future__ import annotations

from typing import Any

import pytest

from tests.web.conftest import Browser, Room

FIGURE = {
    "lines": {
        "l": {"direction": 10, "through": [0, 3]},
        "m": {"direction": 10, "through": [0, -3]},
        "t": {"direction": 65, "through": [0, 0]},
    },
    "number": "standard",
    "transversal": "t",
}
ASKED = [
    ("POST", "/api/figure/pairs", {"figure": FIGURE, "angles": ["1", "5"]}),
    ("POST", "/api/figure/words", {"figure": FIGURE}),
    ("POST", "/api/reasoning/follows", {"figure": FIGURE, "given": ["∠1 ≅ ∠5"], "claim": "l ∥ m"}),
    ("POST", "/api/reasoning/prove", {"figure": FIGURE, "given": ["∠1 ≅ ∠5"], "goal": "l ∥ m"}),
    ("POST", "/api/reasoning/check", {"figure": FIGURE, "given": [], "goal": "l ∥ m", "rows": []}),
    ("GET", "/api/practice/make-parallel?seed=1", None),
    ("POST", "/api/practice/make-parallel/check", {"seed": 7, "level": 2, "answer": {"x": 1}}),
]


def statuses(browser: Browser) -> list[int]:
    return [browser.open(path, method, json=body).status_code for method, path, body in ASKED]


def hand_in(student: Browser, task: str = "last") -> None:
    sent = {"id": f"ticket-{task}-1", "task": task, "reply": {"answer": 1}}
    assert student.post("/seat/reply", sent).status_code == 200


def test_the_calculators_wait_until_the_ticket_is_handed_in(room: Room) -> None:
    period = room.period()
    student = room.seat(room.open_door(period))
    assert statuses(student) == [409] * len(ASKED)
    told = student.open(ASKED[0][1], "POST", json=ASKED[0][2]).json["error"]["message"]
    assert "exit ticket" in told
    hand_in(student)
    assert statuses(student) == [200] * len(ASKED)
    # Opened again by the teacher, the ticket is open again.
    sid = room.teacher.get(f"/desk/period/{period}/state").json["seats"][0]["sid"]
    room.teacher.post(f"/desk/period/{period}/seat/{sid}/reopen", {"task": "last"})
    assert statuses(student) == [409] * len(ASKED)
    room.teacher.post(f"/desk/period/{period}/end")
    assert statuses(student) == [200] * len(ASKED)


def test_others_and_the_teacher_are_answered(room: Room) -> None:
    period = room.period()
    code = room.open_door(period)
    room.seat(code)
    assert statuses(room.browser()) == [200] * len(ASKED)
    # A teacher who tries the lesson from the Desk's own browser holds a Seat too.
    assert room.teacher.form("/enter", code=code).status_code == 303
    assert room.teacher.form("/enter/name", number="9").status_code == 303
    assert room.teacher.get("/seat/state").status_code == 200
    assert statuses(room.teacher) == [200] * len(ASKED)


def test_a_plan_without_a_ticket_keeps_nobody_from_asking(room: Room) -> None:
    period = room.period()
    room.teacher.post(f"/desk/period/{period}/plan", {"parts": [{"id": "bell", "hidden": True}]})
    student = room.seat(room.open_door(period))
    assert statuses(student) == [200] * len(ASKED)


def alone_parts(browser: Browser) -> list[str]:
    return [part["id"] for part in browser.get("/alone/small/state").json["pack"]["parts"]]


def test_what_is_on_a_ticket_or_hidden_is_not_to_be_had_alone_while_the_class_meets(room: Room) -> None:
    alone = room.browser()
    assert alone_parts(alone) == ["warm", "main", "bell"]
    period = room.period()
    room.teacher.post(f"/desk/period/{period}/plan", {"parts": [{"id": "main", "hidden": True}]})
    room.open_door(period)
    assert alone_parts(alone) == ["warm"]
    for task in ("third", "last"):
        assert alone.get(f"/alone/small/task/{task}").status_code == 404
        sent = {"id": "alone-reply-1", "task": task, "reply": {"answer": 1}}
        assert alone.post("/alone/small/reply", sent).status_code == 404
        assert alone.post(f"/alone/small/task/{task}/ask/hint", {"level": 1}).status_code == 404
        assert alone.put(f"/alone/small/work/{task}", {"n": 1, "work": {}}).status_code == 404
    # The door is closed and everybody has gone home; the period is not ended, but it doesn't meet.
    room.teacher.post(f"/desk/period/{period}/door", {"open": False})
    room.clock.pass_(hours=3)
    assert alone_parts(alone) == ["warm", "main", "bell"]


def test_a_member_of_the_class_has_them_not_even_after_school(room: Room) -> None:
    period = room.period()
    student = room.seat(room.open_door(period))
    room.teacher.post(f"/desk/period/{period}/door", {"open": False})
    room.clock.pass_(hours=3)
    assert alone_parts(student) == ["warm", "main"]
    assert alone_parts(room.browser()) == ["warm", "main", "bell"]


@pytest.mark.parametrize("how", ["here", "work"])
def test_a_ticket_that_is_begun_comes_first(room: Room, how: str) -> None:
    """Until then work alone is practice, and practice before a ticket is what a teacher wants."""
    student = room.seat(room.open_door(room.period()))
    assert student.get("/alone/small/state").status_code == 200
    if how == "here":
        student.post("/seat/here", {"task": "last"})
    else:
        student.put("/seat/work/last", {"n": 1, "work": {"answer": "1"}})
        student.post("/seat/here", {"task": "first"})
    refused: list[Any] = [
        student.get("/alone/small/state"),
        student.get("/alone/small/task/first"),
        student.post("/alone/small/reply", {"id": "alone-reply-1", "task": "first", "reply": {"answer": 1}}),
        student.post("/alone/small/task/first/ask/hint", {"level": 1}),
    ]
    assert [one.status_code for one in refused] == [409] * 4
    assert "exit ticket" in refused[0].json["error"]["message"]
    assert "exit ticket" in student.page("/alone/small/").get_data(as_text=True)
    hand_in(student)
    assert student.get("/alone/small/state").status_code == 200
