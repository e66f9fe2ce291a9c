"""What the teacher does in a period: own examples, order, words, records, erasing."""

from __future__ import annotations

import re
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest

from tests.web.conftest import PASSPHRASE, Room

FIGURE = {
    "lines": {
        "l": {"direction": 10, "through": [0, 3]},
        "m": {"direction": 12, "through": [0, -3]},
        "t": {"direction": 65, "through": [0, 0]},
    },
    "number": "standard",
    "transversal": "t",
}


def test_an_own_example_is_shown_as_the_trade_writes_it(room: Room) -> None:
    """Typed on a plain keyboard; the class sees signs."""
    period = room.period()
    body = {"figure": FIGURE, "given": ["<3 = <6", "m<1=3x+10"], "goal": "l || m"}
    written = {"given": ["∠3 ≅ ∠6", "m∠1 = 3x + 10"], "goal": "l ∥ m"}
    assert room.teacher.post(f"/desk/period/{period}/own/words", body).json == written
    room.teacher.post(f"/desk/period/{period}/own", {**body, "given": body["given"][:1]})
    student = room.seat(room.open_door(period))
    shown = student.get("/seat/task/own-1").json["task"]
    assert (shown["given"], shown["goal"]) == (["∠3 ≅ ∠6"], "l ∥ m") and "l ∥ m" in shown["ask"]


def test_an_own_example_is_a_task_like_any_other(room: Room) -> None:
    period = room.period()
    student = room.seat(room.open_door(period))
    body = {"figure": FIGURE, "given": ["∠3 ≅ ∠6"], "goal": "l ∥ m", "title": "From the window"}
    made = room.teacher.post(f"/desk/period/{period}/own", body)
    assert made.status_code == 200 and made.json["task"] == "own-1"

    parts = student.get("/seat/state").json["pack"]["parts"]
    assert [task["title"] for task in parts[-1]["tasks"]] == ["From the window"]
    shown = student.get("/seat/task/own-1").json["task"]
    assert shown["goal"] == "l ∥ m"
    rows = [
        {"statement": "∠3 ≅ ∠6", "reason": "given"},
        {"statement": "l ∥ m", "reason": "alternate-interior-angles-converse"},
    ]
    verdict = student.post("/seat/reply", {"id": "own-reply-1", "task": "own-1", "reply": {"rows": rows}}).json[
        "verdict"
    ]
    assert verdict["ok"], verdict
    assert room.teacher.get(f"/desk/period/{period}/task/own-1").json["key"]
    assert room.teacher.post(f"/desk/period/{period}/step", {"task": "own-1"}).status_code == 200
    assert student.get("/seat/state").json["step"] == "own-1"


@pytest.mark.parametrize(
    ("change", "where"),
    [
        ({"goal": "l parallels m"}, "goal"),
        ({"goal": 5}, "goal"),
        ({"given": ["∠3 ≅ ∠6", "∠3 = banana"]}, "given.1"),
        ({"given": "∠3 ≅ ∠6"}, "given"),
        ({"given": ["m∠3 = 40", "m∠3 = 50"]}, "goal"),
        ({"figure": None}, "figure"),
        ({"figure": {"lines": {}}}, "figure"),
    ],
)
def test_an_own_example_that_cannot_be_used_says_why(room: Room, change: dict[str, Any], where: str) -> None:
    body = {"figure": FIGURE, "given": ["∠3 ≅ ∠6"], "goal": "l ∥ m", **change}
    refused = room.teacher.post(f"/desk/period/{room.period()}/own", body)
    assert refused.status_code == 422
    assert refused.json["error"]["where"].startswith(where) and refused.json["error"]["message"].endswith(".")


def test_what_is_not_forced_may_be_asked_too(room: Room) -> None:
    period = room.period()
    student = room.seat(room.open_door(period))
    body = {"figure": FIGURE, "given": ["∠3 ≅ ∠5"], "goal": "l ∥ m"}
    assert room.teacher.post(f"/desk/period/{period}/own", body).status_code == 200
    assert "own-1" in str(student.get("/seat/state").json)


def test_one_period_in_another_order(room: Room) -> None:
    period, other = room.period(), room.period()
    body = {"order": ["bell", "main", "warm"], "parts": [{"id": "bell", "hidden": True}]}
    assert room.teacher.post(f"/desk/period/{period}/plan", body).status_code == 200

    def order(which: str) -> list[str]:
        student = room.seat(room.open_door(which))
        return [part["id"] for part in student.get("/seat/state").json["pack"]["parts"]]

    assert order(period) == ["main", "warm"]
    assert order(other) == ["warm", "main", "bell"]
    assert room.teacher.post(f"/desk/period/{period}/plan", {"order": ["nowhere"]}).status_code == 422


def test_the_words_of_the_class(room: Room) -> None:
    period = room.period()
    assert room.teacher.post(f"/desk/period/{period}/words", {"house": "uk", "profile": "theorem"}).status_code == 200
    shown = room.teacher.get(f"/desk/period/{period}/state").json["period"]
    assert (shown["house"], shown["profile"]) == ("uk", "theorem")
    for wrong in ({"house": "fr"}, {"profile": "axiom"}, {"house": 5}):
        assert room.teacher.post(f"/desk/period/{period}/words", wrong).status_code == 422


def test_the_way_in_as_a_picture(room: Room) -> None:
    period = room.period()
    room.open_door(period)
    picture = room.teacher.get(f"/desk/period/{period}/qr.svg")
    assert picture.mimetype == "image/svg+xml" and b"<path" in picture.data and b"style=" not in picture.data


def test_replies_and_records(room: Room) -> None:
    period = room.period()
    code = room.open_door(period)
    ana, li = room.seat(code, number="1"), room.seat(code, number="2")
    ana.post("/seat/reply", {"id": "reply-0001", "task": "first", "reply": {"answer": 0}})
    ana.post("/seat/reply", {"id": "reply-0002", "task": "first", "reply": {"answer": 1}})
    li.post("/seat/reply", {"id": "reply-0001", "task": "first", "reply": {"answer": 0}})

    seen = room.teacher.get(f"/desk/period/{period}/task/first/replies").json["replies"]
    assert [(r["name"], r["reply"], r["attempt"]) for r in seen] == [
        ("1", {"answer": 1}, 2),
        ("2", {"answer": 0}, 1),
    ]
    page = room.teacher.page(f"/desk/records/{period}").get_data(as_text=True)
    assert "Task first" in page
    assert page.count("<table") == page.count("<caption") > 0  # a table says what it holds (F11-12)
    lines = room.teacher.get(f"/desk/records/{period}.csv").get_data(as_text=True).split("\r\n")
    assert [line.split(",")[1:3] for line in lines[1:3]] == [["1", "1"], ["2", "0"]]
    sid = seen[0]["sid"]
    record = room.teacher.get(f"/desk/period/{period}/seat/{sid}/record").json
    assert [reply["attempt"] for reply in record["replies"]] == [1, 2] and record["seat"]["name"] == "1"


def test_periods_opened_without_a_title_are_told_apart(room: Room) -> None:
    """Five classes on one pack, opened by the button beside it: five titles. One that the teacher gives stays as it is given."""
    for _ in range(5):
        assert room.teacher.post("/desk/period", {"pack": "small"}).status_code == 200
    for _ in range(2):
        room.period("Third hour")
    page = room.teacher.page("/desk/").get_data(as_text=True)
    titles = re.findall(r'href="/desk/period/[^"]+">([^<]+)<', page)
    numbered = [f"A small pack ({n})" for n in (2, 3, 4, 5)]
    assert sorted(titles) == ["A small pack", *numbered, "Third hour", "Third hour"]


def test_who_was_put_out_is_counted_nowhere_but_in_the_records(room: Room) -> None:
    """So many of so many have answered: both are those in the room, on the plan, in the answers and on the Board."""
    period = room.period()
    code = room.open_door(period)
    for number in ("1", "2"):
        reply = {"id": f"reply-out-{number}", "task": "first", "reply": {"answer": 1}}
        assert room.seat(code, number=number).post("/seat/reply", reply).status_code == 200
    look, told = f"/desk/period/{period}/state", f"/desk/period/{period}/task/first/replies"
    room.teacher.post(f"/desk/period/{period}/tally", {"task": "first"})
    state = room.teacher.get(look).json
    sid = next(seat["sid"] for seat in state["seats"] if seat["name"] == "1")
    board = state["period"]["board"].split("/board/")[1]

    def counted() -> tuple[int, int, int, int, int, int, int]:
        now, up = room.teacher.get(look).json, room.browser().get(f"/board/{board}/state").json
        task = now["parts"][0]["tasks"][0]
        answers = len(room.teacher.get(told).json["replies"])
        return (len(now["seats"]), task["replied"], task["done"], answers, now["tally"]["total"], up["tally"]["total"],
                up["counts"]["done"])  # fmt: skip

    assert counted() == (2,) * 7
    room.teacher.post(f"/desk/period/{period}/seat/{sid}/remove")
    assert counted() == (1,) * 7
    marks = room.teacher.get(f"/desk/records/{period}.csv").get_data(as_text=True).split("\r\n")
    assert [line.split(",")[1:3] for line in marks[1:3]] == [["1", "1"], ["2", "1"]], (
        "the work stays until it is erased"
    )


@pytest.mark.parametrize("what", ["seat", "period", "everything"])
def test_erasing_leaves_nothing_in_the_file(room: Room, tmp_path: Path, what: str) -> None:
    """PD-5, through the Desk: a count is shown, and the file's bytes hold no trace."""
    period = room.period("Planted title 8812")
    student = room.seat(room.open_door(period), typed="Planted Name")
    student.put("/seat/work/first", {"n": 1, "work": {"note": "planted work 8813"}})
    student.post("/seat/reply", {"id": "planted-8814", "task": "first", "reply": {"answer": 0}})
    sid = room.teacher.get(f"/desk/period/{period}/state").json["seats"][0]["sid"]

    def kept() -> bytes:
        return b"".join(path.read_bytes() for path in (tmp_path / "data").glob("eight-angles.db*"))

    assert b"Planted Name" in kept() and b"planted work 8813" in kept()
    path = {
        "seat": f"/desk/period/{period}/seat/{sid}/erase",
        "period": f"/desk/period/{period}/delete",
        "everything": "/desk/erase",
    }[what]
    erased = room.teacher.post(path).json["erased"]

    assert (erased["seats"], erased["replies"], erased["works"]) == (1, 1, 1)
    left = kept()
    for trace in (b"Planted Name", b"planted work 8813", b"planted-8814", sid.encode()):
        assert trace not in left, trace
    assert (b"Planted title 8812" in left) == (what == "seat")
    assert student.get("/seat/state").status_code == 401


def test_stuck_is_seen_without_anybody_moving(room: Room) -> None:
    period = room.period()
    student = room.seat(room.open_door(period))
    look = f"/desk/period/{period}/state"
    assert student.get("/seat/state").status_code == 200
    assert not room.teacher.get(look).json["seats"][0]["begun"], (
        "here, and not begun: that is neither stuck nor working"
    )
    student.post("/seat/here", {"task": "first"})
    student.put("/seat/work/first", {"n": 1, "work": {}})
    state = room.teacher.get(look).json
    assert state["seats"][0]["stuck"] is None and state["seats"][0]["begun"]
    room.clock.pass_(seconds=100)
    assert room.teacher.get(look).json["seats"][0]["stuck"] is None, "who is away isn't stuck"
    assert student.get("/seat/state").status_code == 200
    later = room.teacher.get(f"/desk/period/{period}/state?since={state['version']}")
    assert later.status_code == 200 and re.search(r"\d", later.json["seats"][0]["stuck"])

    for n in range(3):
        student.post("/seat/reply", {"id": f"reply-000{n}", "task": "first", "reply": {"answer": 0}})
    assert room.teacher.get(f"/desk/period/{period}/state").json["seats"][0]["stuck"] == "3 tries"
    # A wrong answer on an exit task that takes one is nothing to be stuck on; opened again by the teacher, it is.
    student.post("/seat/here", {"task": "last"})
    student.post("/seat/reply", {"id": "reply-last", "task": "last", "reply": {"answer": 0}})
    room.clock.pass_(seconds=200)
    assert student.get("/seat/state").status_code == 200
    seat = room.teacher.get(look).json["seats"][0]
    assert seat["online"] and seat["stuck"] is None
    room.teacher.post(f"/desk/period/{period}/seat/{seat['sid']}/reopen", {"task": "last"})
    assert room.teacher.get(look).json["seats"][0]["stuck"]


def test_a_seat_waits_for_its_browser_when_a_period_is_taken_up_again(room: Room) -> None:
    period = room.period()
    student = room.seat(room.open_door(period), number="7")
    room.teacher.post(f"/desk/period/{period}/end")
    assert student.get("/seat/state").status_code == 401
    room.open_door(period)
    assert student.get("/seat/state").status_code == 200


def test_the_next_day_one_press_lets_a_class_take_its_places_again(room: Room) -> None:
    """F1-08, a day later: a sign-in lasts twelve hours (V-02), and a name or number that has a place is nobody else's (T-01)."""
    period = room.period()
    code = room.open_door(period)
    look = f"/desk/period/{period}/state"
    students = [room.seat(code, number=str(n)) for n in range(1, 31)]
    students[6].post("/seat/reply", {"id": "reply-0001", "task": "first", "reply": {"answer": 1}})
    assert room.teacher.get(look).json["left"] == 0
    room.teacher.post(f"/desk/period/{period}/end")
    room.clock.pass_(days=1)
    assert room.teacher.form("/desk/signin", passphrase=PASSPHRASE).status_code == 303
    code = room.open_door(period)
    early = room.seat(code, number="31")
    assert room.teacher.get(look).json["left"] == 30

    def comes(number: str) -> int:
        browser = room.browser()
        browser.form("/enter", code=code)
        return int(browser.form("/enter/name", number=number).status_code)

    assert comes("7") == 422, "not before the teacher says so"
    room.teacher.post(f"/desk/period/{period}/release")
    assert room.teacher.get(look).json["left"] == 0
    assert comes("7") == 303
    assert comes("7") == 422, "taken again, and the next can't have it"
    assert comes("31") == 422 and early.get("/seat/state").status_code == 200, "who is here keeps the place"
    state = room.teacher.get(look).json
    assert len(state["seats"]) == 31
    assert next(seat for seat in state["seats"] if seat["name"] == "7")["done"] == 1, "with the work of the day before"


def test_a_pack_that_changes_takes_neither_plan_nor_marks(room: Room, packs: Path) -> None:
    """Broken, changed or renamed on disk while a period is open: the period goes on as it was opened, and the Desk says so."""
    period = room.period()
    student = room.seat(room.open_door(period), number="7")
    student.post("/seat/reply", {"id": "reply-0001", "task": "first", "reply": {"answer": 0}})
    look = lambda: room.teacher.get(f"/desk/period/{period}/state").json  # noqa: E731
    csv = f"/desk/records/{period}.csv"
    plan, marks = look()["parts"], room.teacher.get(csv).get_data(as_text=True)
    assert look()["period"]["pack_now"] == "same" and "first" in marks
    [folder] = [at.parent for at in packs.glob("*/pack.toml") if at.parent.name == "small"]
    text = (folder / "pack.toml").read_text(encoding="utf-8")

    def holds(told: str) -> None:
        room.server.shelf._looked.clear()
        assert look()["period"]["pack_now"] == told
        assert look()["parts"] == plan and room.teacher.get(csv).get_data(as_text=True) == marks
        assert student.get("/seat/task/first").status_code == 200

    (folder / "pack.toml").write_text("[" + text, encoding="utf-8")
    holds("gone")
    (folder / "pack.toml").write_text(text.replace('id = "first"', 'id = "renamed"'), encoding="utf-8")
    holds("changed")
    folder.rename(folder.with_name("other-name"))
    holds("gone")
    # The texts are kept once, and only while a period works through them.
    folder.with_name("other-name").rename(folder)
    (folder / "pack.toml").write_text(text, encoding="utf-8")
    room.server.shelf._looked.clear()
    room.period()
    count = "SELECT count(*) FROM pack_copy"
    assert room.server.store.read(lambda c: c.exec_driver_sql(count).scalar()) == 1


def test_the_address_on_the_wall(room: Room, monkeypatch: pytest.MonkeyPatch) -> None:
    """A teacher at the server itself sees "localhost"; the wall shows what others can reach."""
    from app.web import desk_state

    monkeypatch.setattr(desk_state, "lan_address", lambda: "198.51.100.7")
    period = room.period()
    path = f"/desk/period/{period}/state"
    monkeypatch.setattr(room.server, "settings", replace(room.server.settings, listens="0.0.0.0 8000"))
    shown = room.teacher.get(path, Host="localhost:8000").json["period"]
    assert shown["short"] == "198.51.100.7:8000" and shown["board"].startswith("http://localhost:8000/board/")
    monkeypatch.setattr(room.server, "settings", replace(room.server.settings, listens="127.0.0.1 8000"))
    room.clock.pass_(seconds=30)
    assert room.teacher.get(path, Host="localhost:8000").json["period"]["short"] == "localhost:8000"
