"""A class from the open door to the last reply, over HTTP alone."""

from __future__ import annotations

from typing import Any

from tests.web.conftest import Room


def test_a_class_comes_in_works_and_is_seen(room: Room) -> None:
    period = room.period()
    code = room.open_door(period)
    student = room.seat(code)

    state = student.get("/seat/state").json
    assert state["period"]["title"] == "Third hour"
    assert [part["id"] for part in state["pack"]["parts"]] == ["warm", "main", "bell"]
    assert not state["pending"] and state["name"]

    shown = student.get("/seat/task/first").json
    assert shown["task"]["ask"] == "Look at the figure."
    assert shown["saved"] is None and shown["last"] is None and not shown["done"]

    wrong = student.post("/seat/reply", {"id": "reply-0001", "task": "first", "reply": {"answer": 0}})
    assert wrong.status_code == 200
    assert wrong.json["stored"] and not wrong.json["verdict"]["ok"]
    right = student.post("/seat/reply", {"id": "reply-0002", "task": "first", "reply": {"answer": 1}})
    assert right.json["verdict"]["done"] and right.json["attempt"] == 2

    seats = room.teacher.get(f"/desk/period/{period}/state").json["seats"]
    assert [(seat["name"], seat["here"], seat["done"]) for seat in seats] == [(state["name"], "first", 1)]
    assert student.get("/seat/task/first").json["done"]


def test_a_reply_sent_again_is_one_reply(room: Room) -> None:
    student = room.seat(room.open_door(room.period()))
    body = {"id": "same-reply-1", "task": "first", "reply": {"answer": 0}}
    first = student.post("/seat/reply", body).json
    # Sent again with another answer under the same id: what was first said stands (T-09).
    again = student.post("/seat/reply", {**body, "reply": {"answer": 1}}).json

    assert again == first
    assert student.get("/seat/task/first").json["replies"] == 1


def test_a_reply_that_cannot_be_used_is_not_kept(room: Room) -> None:
    student = room.seat(room.open_door(room.period()))
    refused = student.post("/seat/reply", {"id": "reply-0001", "task": "first", "reply": {"answer": "one"}})

    assert refused.status_code == 422
    assert refused.json["error"]["where"] == "reply.answer"
    assert student.get("/seat/task/first").json["replies"] == 0
    # The same id may be used for the mended reply: nothing was stored under it.
    assert student.post("/seat/reply", {"id": "reply-0001", "task": "first", "reply": {"answer": 1}}).json["stored"]


def test_the_newest_work_wins(room: Room) -> None:
    student = room.seat(room.open_door(room.period()))
    figure = {"lines": {"l": {"direction": 30, "through": [0, 0]}}, "meets": {}, "angles": {}}
    assert student.put("/seat/work/first", {"n": 5, "work": {"a": 1}, "figure": figure}).json == {"n": 5}
    # An older one that was held up on the way changes nothing.
    assert student.put("/seat/work/first", {"n": 4, "work": {"a": 0}}).json == {"n": 5}

    saved = student.get("/seat/task/first").json["saved"]
    assert saved == {"n": 5, "work": {"a": 1}, "figure": figure}
    bad = student.put("/seat/work/first", {"n": 6, "work": {}, "figure": {"lines": {"l": {"direction": "x"}}}})
    assert bad.status_code == 422 and bad.json["error"]["where"]


def test_a_second_device_comes_back_by_the_personal_link(room: Room) -> None:
    student = room.seat(room.open_door(room.period()))
    student.put("/seat/work/first", {"n": 1, "work": {"note": "half done"}})
    link = student.get("/seat/return").json["link"]
    path = link[link.index("/seat/return") :]

    other = room.browser()
    assert other.page(path).status_code == 200
    assert other.get("/seat/state").status_code == 401  # looking at the link is not coming in
    assert other.form(path).status_code == 303
    assert other.get("/seat/task/first").json["saved"]["work"] == {"note": "half done"}


def test_leaving_wipes_this_browser(room: Room) -> None:
    student = room.seat(room.open_door(room.period()))
    kept = student.client.get_cookie("ea-seat")
    assert kept is not None
    left = student.form("/seat/leave")

    assert left.status_code == 303
    assert student.client.get_cookie("ea-seat") is None
    # The old cookie is dead on the server, not only gone from the browser (V-02).
    student.client.set_cookie("ea-seat", kept.value)
    assert student.get("/seat/state").status_code == 401


def test_an_exit_task_takes_one_reply_until_it_is_opened_again(room: Room) -> None:
    period = room.period()
    student = room.seat(room.open_door(period))
    first = {"id": "exit-rep-1", "task": "last", "reply": {"answer": 0}}
    assert student.post("/seat/reply", first).json["stored"]
    assert not student.get("/seat/task/last").json["open"]
    second = {"id": "exit-rep-2", "task": "last", "reply": {"answer": 1}}
    assert student.post("/seat/reply", second).status_code == 409
    assert student.post("/seat/reply", first).status_code == 200  # acknowledged again, for a page that missed it

    sid = room.teacher.get(f"/desk/period/{period}/state").json["seats"][0]["sid"]
    assert room.teacher.post(f"/desk/period/{period}/seat/{sid}/reopen", {"task": "last"}).status_code == 200
    assert student.post("/seat/reply", second).json["verdict"]["ok"]


def test_alone_with_a_pack(room: Room) -> None:
    browser = room.browser()
    state = browser.get("/alone/small/state").json
    assert state["role"] == "alone" and state["period"] is None
    assert browser.post("/alone/small/reply", {"id": "alone-rep1", "task": "first", "reply": {"answer": 1}}).json[
        "stored"
    ]
    done = {t["id"]: t["done"] for p in browser.get("/alone/small/state").json["pack"]["parts"] for t in p["tasks"]}

    assert done["first"] and not done["second"]
    assert room.browser().get("/alone/small/task/first").json["replies"] == 0  # another browser, another person
    assert browser.get("/alone/no-such-pack/state").status_code == 404


def test_a_preview_goes_through_the_parts_as_the_teacher_has_arranged_them(room: Room) -> None:
    def parts() -> list[str]:
        return [part["id"] for part in room.teacher.get("/desk/pack/small/preview/state").json["pack"]["parts"]]

    before = parts()
    body = {"order": before[::-1], "parts": [{"id": before[0], "hidden": True}]}
    assert room.teacher.post("/desk/pack/small/arrange", body).status_code == 200
    assert parts() == before[:0:-1]


def test_a_preview_judges_and_keeps_nothing(room: Room) -> None:
    base = "/desk/pack/small/preview"
    before = room.server.store.read(_sizes)
    verdict = room.teacher.post(f"{base}/reply", {"id": "preview-r1", "task": "first", "reply": {"answer": 1}}).json

    assert verdict["verdict"]["ok"] and not verdict["stored"]
    assert room.server.store.read(_sizes) == before
    assert room.browser().get(f"{base}/state").status_code == 401


def _sizes(c: Any) -> dict[str, int]:
    from app.store.keeping import size

    return size(c)


def test_the_desk_leads(room: Room) -> None:
    """Stage, follow, step, freeze and tally reach Seat and Board; a late joiner gets all of it at once."""
    period = room.period()
    code = room.open_door(period)
    desk = f"/desk/period/{period}"
    figure = {"lines": {"l": {"direction": 30, "through": [0, 0]}}, "meets": {}, "angles": {}}
    stage = {"kind": "figure", "figure": figure, "marks": {}, "measures": True, "caption": "Watch t."}
    assert room.teacher.post(f"{desk}/stage", {"stage": stage, "to": ["board", "seats"]}).status_code == 200
    room.teacher.post(f"{desk}/follow", {"on": True})
    room.teacher.post(f"{desk}/step", {"task": "third"})
    room.teacher.post(f"{desk}/freeze", {"on": True})
    room.teacher.post(f"{desk}/tally", {"task": "first"})

    late = room.seat(code)
    state = late.get("/seat/state").json
    assert (state["stage"], state["follow"], state["step"], state["frozen"]) == (stage, True, "third", True)

    # With pencils down nothing is taken; the same reply, asked again when they are up, is.
    sent = {"id": "reply-0001", "task": "first", "reply": {"answer": 0}}
    refused = late.post("/seat/reply", sent)
    assert refused.status_code == 429 and refused.headers["Retry-After"]
    assert late.post("/seat/task/first/ask/hint", {"level": 1}).status_code == 429
    room.teacher.post(f"{desk}/freeze", {"on": False})
    assert late.post("/seat/reply", sent).json["stored"]
    board = room.teacher.get(f"{desk}/state").json["period"]["board"]
    seen = room.browser().get(board[board.index("/board/") :] + "/state").json
    assert seen["stage"] == stage
    assert seen["tally"]["rows"] == [{"label": "wrong", "count": 1, "ok": False}]
    assert seen["counts"] == {"here": 1, "done": 0, "of": 1}
    assert state["name"] not in str(seen)  # counts, not names (PD-7)

    only_board = room.teacher.post(f"{desk}/stage", {"stage": stage, "to": ["board"]})
    assert only_board.status_code == 200
    assert late.get("/seat/state").json["stage"] is None


def test_following_shows_what_comes_on_the_stage_before_and_after_it(room: Room) -> None:
    """A document that was on its way when the switch was pressed says no places, so it can't undo them."""
    period = room.period()
    student = room.seat(room.open_door(period))
    desk = f"/desk/period/{period}"
    first, second = ({"kind": "blank", "caption": n} for n in ("first", "second"))

    def seen() -> object:
        state = student.get("/seat/state").json
        return state["follow"], (state["stage"] or {}).get("caption")

    room.teacher.post(f"{desk}/stage", {"stage": first})
    assert seen() == (False, None)
    room.teacher.post(f"{desk}/follow", {"on": True})
    assert seen() == (True, "first")
    room.teacher.post(f"{desk}/stage", {"stage": second})
    assert seen() == (True, "second")
    room.teacher.post(f"{desk}/follow", {"on": False})
    assert seen() == (False, None)
    room.teacher.post(f"{desk}/stage", {"stage": first})
    assert seen() == (False, None)


def test_a_part_that_is_hidden_is_not_there(room: Room) -> None:
    arranged = room.teacher.post(
        "/desk/pack/small/arrange",
        {"order": ["main", "warm", "bell"], "parts": [{"id": "warm", "hidden": True}]},
    )
    assert arranged.status_code == 200
    student = room.seat(room.open_door(room.period()))

    assert [part["id"] for part in student.get("/seat/state").json["pack"]["parts"]] == ["main", "bell"]
    assert student.get("/seat/task/first").status_code == 404


def test_polling_says_nothing_while_nothing_is_new(room: Room) -> None:
    period = room.period()
    student = room.seat(room.open_door(period))
    state = student.get("/seat/state")
    assert student.get(f"/seat/state?since={state.json['version']}").status_code == 204
    assert student.get("/seat/state", **{"If-None-Match": state.headers["ETag"]}).status_code == 304

    room.teacher.post(f"/desk/period/{period}/follow", {"on": True})
    newer = student.get(f"/seat/state?since={state.json['version']}")
    assert newer.status_code == 200
    assert newer.json["version"] > state.json["version"] and newer.json["epoch"] == state.json["epoch"]
