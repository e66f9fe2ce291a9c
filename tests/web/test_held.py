"""Held against attack (F9): clocks that jump, places, what strangers leave here, links that end, names of this machine."""

from __future__ import annotations

import json
import logging
from pathlib import Path
from threading import Thread
from typing import Any

import pytest
from flask import Flask

from app.store import keeping
from app.web.hosts import known_host, near, own_domains, own_names
from app.web.limits import Bucket, Failures
from app.web.retention import FILE, keep_times
from tests.web.conftest import START, Browser, Clock, Room, set_up

DAY = 24 * 3600 * 1000


# ── clocks ──
def test_limits_run_on_when_the_clock_is_set_back() -> None:
    clock = Clock()
    bucket, failures = Bucket(clock, 2, 3), Failures(clock, 2, 4)
    assert [bucket.take("a") for _ in range(4)] == [True, True, True, False]
    failures.add("a")
    failures.add("a")
    clock.pass_(minutes=-30)
    assert not bucket.take("a")
    clock.pass_(seconds=1)
    assert bucket.take("a") and bucket.take("a") and not bucket.take("a")
    assert failures.count("a") == 0, "failures that are still to come count for nothing"


def test_a_class_hands_in_while_the_clock_jumps_back(make_app: Any) -> None:
    app: Flask = make_app(LIMITS=True)
    room = Room(app, app.config["CLOCK"], set_up(app))
    student = room.seat(room.open_door(room.period()))
    for minutes in (0, -30, 5):
        room.clock.pass_(minutes=minutes)
        for n in range(3):
            assert student.put("/seat/work/first", {"n": n + 1, "work": {}}).status_code == 200
        sent = {"id": f"reply-jump-{minutes + 90}", "task": "first", "reply": {"answer": 0}}
        assert student.post("/seat/reply", sent).status_code == 200


def test_real_limits_never_ask_the_machines_clock(make_app: Any, monkeypatch: pytest.MonkeyPatch) -> None:
    server = make_app(CLOCK=None).extensions["eight_angles"]
    before = server.ticks()
    monkeypatch.setattr("app.web.server.now_ms", lambda: START - 10**12)
    assert server.ticks() >= before and server.codes.clock == server.ticks and server.replies.clock == server.ticks


@pytest.mark.parametrize("days", [401, -3])
def test_a_clock_that_has_jumped_erases_nothing_unasked(room: Room, days: int) -> None:
    period = room.period()
    student = room.seat(room.open_door(period))
    student.post("/seat/reply", {"id": "reply-kept-1", "task": "first", "reply": {"answer": 0}})
    room.teacher.post(f"/desk/period/{period}/end")
    assert keep_times(room.server) == {} or not any(keep_times(room.server).values())
    room.clock.pass_(days=days)
    if days < 0:
        # Set back, and what was ended by the right clock is over its time by a wrong one some day: still nothing goes.
        assert not any(keep_times(room.server).values())
        return
    assert keep_times(room.server) == {}
    assert room.server.waiting is not None
    assert room.server.store.read(lambda c: keeping.size(c))["reply"] == 1
    teacher = room.browser()
    assert teacher.form("/desk/signin", passphrase="four quiet pencils lean").status_code == 303
    page = teacher.page("/desk/").get_data(as_text=True)
    assert "The date is right" in page
    # The teacher has looked at the date: now it goes.
    assert teacher.form("/desk/retention").status_code == 303
    assert room.server.store.read(lambda c: keeping.size(c))["reply"] == 0
    assert room.server.waiting is None and "The date is right" not in teacher.page("/desk/").get_data(as_text=True)


def test_day_by_day_the_retention_times_are_kept_by_themselves(room: Room) -> None:
    period = room.period()
    room.seat(room.open_door(period))
    room.teacher.post(f"/desk/period/{period}/end")
    for _ in range(31):
        keep_times(room.server)
        room.clock.pass_(days=1)
    assert keep_times(room.server)["seats"] == 1
    assert json.loads((room.server.data / FILE).read_text(encoding="utf-8"))["at"] == room.clock.now


def test_what_could_not_be_erased_is_asked_again(room: Room, monkeypatch: pytest.MonkeyPatch) -> None:
    keep_times(room.server)
    before = (room.server.data / FILE).read_text(encoding="utf-8")
    room.clock.pass_(days=1)

    def locked(*_: Any) -> None:
        raise TimeoutError("the database is locked")

    monkeypatch.setattr(keeping, "purge", locked)
    with pytest.raises(TimeoutError):
        keep_times(room.server)
    assert (room.server.data / FILE).read_text(encoding="utf-8") == before
    # … and what keeps to it day by day goes on, an hour later.
    from app import worker

    rests: list[float] = []

    class Stop:
        def wait(self, seconds: float) -> None:
            rests.append(seconds)
            if len(rests) > 3:
                raise SystemExit

    monkeypatch.setattr(worker.threading, "Event", Stop)
    monkeypatch.setattr(worker, "_warm", lambda server: None)
    with pytest.raises(SystemExit):
        worker._background(room.server)
    assert rests[1:] == [3600, 3600, 3600]


def test_a_note_that_cannot_be_read_is_no_note(tmp_path: Path) -> None:
    from app.web.retention import last_run

    for text in ("", "{", "[]", '{"at": "x"}', '{"at": true}', "null"):
        (tmp_path / FILE).write_text(text, encoding="utf-8")
        assert last_run(tmp_path) is None


# ── places ──
def limited(make_app: Any) -> Room:
    app = make_app(LIMITS=True)
    return Room(app, app.config["CLOCK"], set_up(app))


def test_one_browser_takes_a_few_places_and_a_classmate_still_comes_in(make_app: Any) -> None:
    room = limited(make_app)
    code = room.open_door(room.period())
    greedy = room.browser()
    answers = []
    for number in range(1, 30):
        assert greedy.form("/enter", code=code).status_code == 303
        answers.append(greedy.form("/enter/name", number=str(number)).status_code)
    assert answers.count(303) == 4 and set(answers[4:]) == {422}
    for number in (30, 31):
        other = room.browser()
        assert other.form("/enter", code=code).status_code == 303
        assert other.form("/enter/name", number=str(number)).status_code == 303


def test_thirty_five_come_in_at_once_from_one_address_and_a_flood_of_new_browsers_is_paced(make_app: Any) -> None:
    room = limited(make_app)
    code = room.open_door(room.period())

    def come(number: int, address: str) -> int:
        one = Browser(room.app, address)
        assert one.form("/enter", code=code).status_code == 303
        return int(one.form("/enter/name", number=str(number)).status_code)

    assert {come(n, "192.0.2.7") for n in range(1, 36)} == {303}
    answers = [come(n, "198.51.100.9") for n in range(36, 99)]
    assert answers == [303] * 5 + [422] * 58, "a class has forty places until its teacher says otherwise"


def entering(room: Room, code: str, address: str = "192.0.2.7") -> Browser:
    """A browser that has given the code and chooses a name."""
    one = room.browser(address)
    assert one.form("/enter", code=code).status_code == 303
    return one


def as_it_sits_down(monkeypatch: pytest.MonkeyPatch, meanwhile: Any) -> None:
    """Let `meanwhile` happen once, between the first look at a name and the taking of a place."""
    from app.web import door

    sit, todo = door._sit, [meanwhile]

    def sits(*args: Any) -> str:
        if todo:  # in a thread of its own, as requests come
            other = Thread(target=todo.pop())
            other.start()
            other.join()
        return sit(*args)

    monkeypatch.setattr(door, "_sit", sits)


def test_a_class_has_as_many_seats_as_its_teacher_says_and_more_by_one_press(make_app: Any) -> None:
    room = limited(make_app)
    period = room.period()
    code, desk = room.open_door(period), f"/desk/period/{period}"
    assert room.teacher.post(f"{desk}/places", {"places": 3}).status_code == 200
    for number in range(1, 4):
        room.seat(code, number=str(number))
    state = room.teacher.get(f"{desk}/state").json
    assert state["period"]["places"] == 3 and state["full"] is None, "nobody has been refused yet"
    late = entering(room, code)
    refused = late.form("/enter/name", number="4")
    assert refused.status_code == 422 and "Tell your teacher" in refused.get_data(as_text=True)
    full = room.teacher.get(f"{desk}/state").json["full"]
    assert full == {"at": 3, "more": 5}
    assert room.teacher.post(f"{desk}/places", {"places": full["at"] + full["more"]}).status_code == 200
    assert room.teacher.get(f"{desk}/state").json["full"] is None
    assert late.form("/enter/name", number="4").status_code == 303
    assert len(room.teacher.get(f"{desk}/state").json["seats"]) == 4


@pytest.mark.parametrize("wrong", [0, 100, -1, 3.5, True, "40", None])
def test_what_is_no_size_of_a_class_is_refused_in_words(room: Room, wrong: Any) -> None:
    period = room.period()
    answer = room.teacher.post(f"/desk/period/{period}/places", {"places": wrong})
    assert answer.status_code == 422 and answer.json["error"]["where"] == "places"
    assert room.teacher.get(f"/desk/period/{period}/state").json["period"]["places"] == 40


def fill(room: Room, period: str, places: int) -> None:
    """Take places until so many are taken."""
    from app.store import seats

    def take(c: Any) -> None:
        for n in range(seats.count(c, period), places):
            seats.add(c, period, "number", str(n), str(n), str(n), room.clock.now)

    room.server.store.write(take)


def test_there_are_never_more_places_made_than_seat_numbers(make_app: Any) -> None:
    room = limited(make_app)
    period = room.period()
    code, desk = room.open_door(period), f"/desk/period/{period}"
    for places, more in ((97, 2), (99, 0)):
        room.teacher.post(f"{desk}/places", {"places": places})
        fill(room, period, places)
        assert entering(room, code).form("/enter/name", typed="one more").status_code == 422
        assert room.teacher.get(f"{desk}/state").json["full"] == {"at": places, "more": more}


def test_two_who_come_at_the_same_moment_dont_share_the_last_place(
    make_app: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    room = limited(make_app)
    period = room.period()
    code = room.open_door(period)
    room.teacher.post(f"/desk/period/{period}/places", {"places": 1})
    first, second = entering(room, code), entering(room, code)
    told: list[int] = []
    as_it_sits_down(monkeypatch, lambda: told.append(second.form("/enter/name", number="2").status_code))
    answer = first.form("/enter/name", number="1").status_code
    assert (answer, told) == (422, [303])
    assert [one["name"] for one in room.teacher.get(f"/desk/period/{period}/state").json["seats"]] == ["2"]


def test_two_who_ask_for_one_name_at_the_same_moment_get_one_seat(
    make_app: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    room = limited(make_app)
    period = room.period()
    code = room.open_door(period)
    first, second = entering(room, code), entering(room, code)
    told: list[int] = []
    as_it_sits_down(monkeypatch, lambda: told.append(second.form("/enter/name", typed="Ada").status_code))
    assert first.form("/enter/name", typed="ADA").status_code == 422 and told == [303]


def test_one_browser_that_asks_at_the_same_moment_gets_no_seat_too_many(
    make_app: Any, monkeypatch: pytest.MonkeyPatch
) -> None:
    room = limited(make_app)
    period = room.period()
    code = room.open_door(period)
    greedy = entering(room, code)
    kept, answers = greedy.client.get_cookie("ea-entering").value, []

    def take(number: int) -> int:
        greedy.client.set_cookie("ea-entering", kept)
        return int(greedy.form("/enter/name", number=str(number)).status_code)

    answers = [take(number) for number in range(1, 4)]
    as_it_sits_down(monkeypatch, lambda: answers.append(take(50)))
    answers.append(take(4))
    answers += [take(number) for number in range(5, 9)]
    assert answers == [303, 303, 303, 422, 303, 422, 422, 422, 422]


def test_who_comes_back_takes_no_place(make_app: Any) -> None:
    """To a seat that the teacher released, or to the one that this browser has: also where all places are taken."""
    room = limited(make_app)
    period = room.period()
    code, desk = room.open_door(period), f"/desk/period/{period}"
    one, two = room.seat(code, number="1"), room.seat(code, number="2")
    room.teacher.post(f"{desk}/places", {"places": 2})
    # Back in its own seat, by its own name typed again.
    assert one.form("/enter", code=code).status_code == 303
    assert one.form("/enter/name", number="1").headers["Location"] == "/seat/"
    assert one.get("/seat/state").status_code == 200
    # On another device, once the teacher has released the seat.
    other = entering(room, code)
    assert other.form("/enter/name", number="2").status_code == 422
    sid = next(seat["sid"] for seat in room.teacher.get(f"{desk}/state").json["seats"] if seat["name"] == "2")
    room.teacher.post(f"{desk}/seat/{sid}/release")
    assert other.form("/enter/name", number="2").status_code == 303
    assert other.get("/seat/state").status_code == 200 and two.get("/seat/state").status_code == 401
    assert room.teacher.get(f"{desk}/state").json["full"] is None, "nobody was refused for want of room"


def test_names_in_use_cost_newcomers_nothing(make_app: Any) -> None:
    """A hundred refused names from the school's address, and its students still come in."""
    room = limited(make_app)
    period = room.period()
    code = room.open_door(period)
    room.seat(code, number="1")
    slow = entering(room, code)
    assert {slow.form("/enter/name", number="1").status_code for _ in range(100)} == {422}
    for number in range(2, 30):
        room.seat(code, number=str(number))


# ── what strangers leave ──
def test_work_alone_is_bounded_by_browser_and_in_all(room: Room, monkeypatch: pytest.MonkeyPatch) -> None:
    from app.web import seat as pages

    monkeypatch.setattr(pages, "MOST_ALONE", 100_000)
    monkeypatch.setattr(pages, "MOST_ONE_ALONE", 30_000)
    text = "x" * 20_000
    first = room.browser()
    first.get("/alone/small/state")
    assert first.put("/alone/small/work/first", {"n": 1, "work": {"text": text}}).status_code == 200
    assert first.put("/alone/small/work/second", {"n": 1, "work": {"text": text}}).status_code == 200
    assert first.put("/alone/small/work/third", {"n": 1, "work": {"text": text}}).status_code == 413
    for n in range(12):
        room.clock.pass_(seconds=1)
        other = room.browser()
        other.get("/alone/small/state")
        assert other.put("/alone/small/work/first", {"n": n + 1, "work": {"text": text}}).status_code == 200
        assert room.server.store.read(keeping.alone_bytes) <= 125_000
    # The newest is there, the oldest has gone, and somebody new is served.
    assert other.get("/alone/small/task/first").json["saved"]["work"]["text"] == text
    assert first.get("/alone/small/task/first").json["saved"] is None


def test_the_work_of_a_class_is_not_counted_with_it(room: Room, monkeypatch: pytest.MonkeyPatch) -> None:
    student = room.seat(room.open_door(room.period()))
    assert student.put("/seat/work/first", {"n": 1, "work": {"text": "x" * 30_000}}).status_code == 200
    assert room.server.store.read(keeping.alone_bytes) == 0
    assert student.put("/seat/work/first", {"n": 2, "work": {"text": "x" * 45_000}}).status_code == 413


def test_what_a_figure_isnt_made_of_is_not_kept_or_sent_on(room: Room) -> None:
    period = room.period()
    student = room.seat(room.open_door(period))
    figure = {"lines": {"l": {"direction": 10, "through": [0, 3], "more": "planted-8841"}, "t": {"direction": 65, "through": [0, 0]}},
              "nobody": "planted-8842" * 2_000}  # fmt: skip
    assert student.put("/seat/work/first", {"n": 1, "work": {}, "figure": figure}).status_code == 200
    state = room.teacher.get(f"/desk/period/{period}/state")
    assert "planted" not in state.get_data(as_text=True)
    assert state.json["seats"][0]["figure"]["lines"]["l"]["direction"] in (10, "10")


# ── what must go, and what must not be told ──
@pytest.mark.parametrize("covered", [False, True])
def test_erasing_a_seat_takes_its_answer_off_the_stage_and_out_of_the_file(room: Room, covered: bool) -> None:
    period = room.period()
    room.seat(room.open_door(period))
    desk = f"/desk/period/{period}"
    answer = {"kind": "reply", "task": "first", "ask": "Which?", "lines": ["planted-answer-7719"]}
    stage = {"kind": "blank", "under": answer} if covered else answer
    assert room.teacher.post(f"{desk}/stage", {"stage": stage, "to": ["board"]}).status_code == 200
    sid = room.teacher.get(f"{desk}/state").json["seats"][0]["sid"]
    room.teacher.post(f"{desk}/seat/{sid}/erase")
    assert room.teacher.get(f"{desk}/state").json["stage"] is None
    for path in room.server.data.glob("eight-angles.db*"):
        assert b"planted-answer-7719" not in path.read_bytes()


def test_a_lesson_of_the_teachers_own_stays_on_the_stage(room: Room) -> None:
    period = room.period()
    room.seat(room.open_door(period))
    desk = f"/desk/period/{period}"
    stage = {
        "kind": "figure",
        "figure": {"lines": {"l": {"direction": 30, "through": [0, 0]}}, "meets": {}, "angles": {}},
    }
    room.teacher.post(f"{desk}/stage", {"stage": stage, "to": ["board"]})
    sid = room.teacher.get(f"{desk}/state").json["seats"][0]["sid"]
    room.teacher.post(f"{desk}/seat/{sid}/erase")
    assert room.teacher.get(f"{desk}/state").json["stage"]["kind"] == "figure"


def test_a_fault_of_the_database_tells_no_students_text(room: Room, caplog: pytest.LogCaptureFixture) -> None:
    """The log gets the trace, never what was sent (V-20)."""
    from sqlalchemy import text

    with caplog.at_level(logging.ERROR), pytest.raises(Exception) as caught:
        room.server.store.write(
            lambda c: c.execute(
                text("INSERT INTO seat (id, name) VALUES (:id, :name)"), {"id": "s", "name": "Planted Name"}
            )
        )
    assert "Planted Name" not in str(caught.value) and "Planted Name" not in caplog.text


# ── links ──
def test_links_end_when_they_should(room: Room) -> None:
    period = room.period()
    student = room.seat(room.open_door(period))
    desk = f"/desk/period/{period}"
    link = student.get("/seat/return").json["link"].split("/", 3)[3]
    assert room.browser().page(f"/{link}").status_code == 200
    sid = room.teacher.get(f"{desk}/state").json["seats"][0]["sid"]
    room.teacher.post(f"{desk}/seat/{sid}/release")
    assert room.browser().page(f"/{link}").status_code == 410

    board = room.teacher.get(f"{desk}/state").json["period"]["board"]
    path = board[board.index("/board/") :].rstrip("/")
    assert room.browser().get(f"{path}/state").status_code == 200
    room.teacher.post(f"{desk}/end")
    assert room.browser().get(f"{path}/state").status_code == 410


def test_the_cookie_of_a_seat_that_is_gone_is_cleared(room: Room) -> None:
    period = room.period()
    student = room.seat(room.open_door(period))
    desk = f"/desk/period/{period}"
    # An ended period may be taken up again: each browser has its seat back then.
    room.teacher.post(f"{desk}/end")
    assert student.page("/seat/").status_code == 303 and student.client.get_cookie("ea-seat")
    room.open_door(period)
    assert student.page("/seat/").status_code == 200
    sid = room.teacher.get(f"{desk}/state").json["seats"][0]["sid"]
    room.teacher.post(f"{desk}/seat/{sid}/remove")
    assert student.get("/seat/state").status_code == 401 and student.client.get_cookie("ea-seat"), (
        "a tab that only asks for news"
    )
    assert student.page("/seat/").headers["Location"] == "/"
    assert student.client.get_cookie("ea-seat") is None


def test_a_browser_that_sits_down_anew_keeps_its_new_seat(room: Room) -> None:
    period = room.period()
    code = room.open_door(period)
    student = room.seat(code, number="4")
    sid = room.teacher.get(f"/desk/period/{period}/state").json["seats"][0]["sid"]
    room.teacher.post(f"/desk/period/{period}/seat/{sid}/remove")
    token = student.token("/")
    student.open("/enter", "POST", data={"token": token, "code": code}, headers={"Accept": "text/html"})
    student.open("/enter/name", "POST", data={"token": token, "number": "5"}, headers={"Accept": "text/html"})
    assert student.page("/seat/").status_code == 200


def test_the_stream_of_an_idle_desk_ends_after_an_hour(room: Room) -> None:
    from app.store import people
    from app.store.ids import hashed

    token = room.teacher.client.get_cookie("ea-desk").value

    def alive() -> bool:
        return bool(room.server.store.read(lambda c: people.has_session(c, hashed(token), room.clock.now)))

    assert alive()
    room.clock.pass_(minutes=59)
    assert alive()
    room.clock.pass_(minutes=12)
    assert not alive()


# ── names ──
OWN = [
    "localhost",
    "localhost:8000",
    "127.0.0.1:8000",
    "192.168.1.20",
    "10.20.30.40:8000",
    "[::1]:8000",
    "[fe80::1%25en0]:8000",
    "",
    "LOCALHOST.",
]
STRANGE = [
    "rebound.example",
    "rebound.example:8000",
    "localhost.rebound.example",
    "127.0.0.1.rebound.example",
    "1",
    "0x7f.1",
    "a b",
    "école.example",
]


@pytest.mark.parametrize("host", OWN)
def test_the_machines_own_names_and_addresses_are_known(host: str) -> None:
    assert known_host(host, own_names())


@pytest.mark.parametrize("host", STRANGE)
def test_a_strangers_name_for_it_is_not(host: str, room: Room) -> None:
    assert not known_host(host, own_names())
    if host.isascii():
        answer = room.browser().get("/", Host=host)
        assert answer.status_code == 421 and "address" in answer.get_data(as_text=True)


def test_its_own_name_is_known_with_the_domains_of_its_network(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """RFC 6762 (local), RFC 8375 (home.arpa), and what the network told; nobody else's name under any of them."""
    monkeypatch.setattr("socket.gethostname", lambda: "Lehrer-PC")
    told = tmp_path / "resolv.conf"
    told.write_text(
        "# by DHCP\nnameserver 192.0.2.1\nsearch fritz.box School.example.\noptions edns0\n\n", encoding="utf-8"
    )
    names = own_names(domains=own_domains(told))
    for host in (
        "lehrer-pc.local",
        "LEHRER-PC.home.arpa:8000",
        "lehrer-pc.internal",
        "lehrer-pc.lan.",
        "lehrer-pc.fritz.box",
        "lehrer-pc.school.example",
    ):
        assert known_host(host, names), host
    for host in (
        "other.local",
        "lehrer-pc.evil.local",
        "fritz.box",
        "other.fritz.box",
        "local",
        "home.arpa",
        "lehrer-pc.example",
        "x.internal",
    ):
        assert not known_host(host, names), host
    assert not known_host("lehrer-pc.fritz.box", own_names(domains=())), (
        "a domain that can be bought, unless the network says it is its own"
    )
    assert own_domains(tmp_path / "none") <= own_domains(told)


def test_a_declared_name_is_known(make_app: Any) -> None:
    app = make_app(HOSTS="lessons.example.org, other.example.org")
    assert app.test_client().get("/", headers={"Host": "lessons.example.org"}).status_code == 200
    assert app.test_client().get("/", headers={"Host": "third.example.org"}).status_code == 421


def test_forwarded_addresses_are_believed_from_near_by_only(make_app: Any) -> None:
    app = make_app(PROXIES="1")
    seen: list[str] = []

    @app.before_request
    def look() -> None:
        from app.web.security import address

        seen.append(address())

    for peer in ("127.0.0.1", "10.0.0.2", "203.0.113.9"):
        app.test_client().get("/", headers={"X-Forwarded-For": "198.51.100.1"}, environ_base={"REMOTE_ADDR": peer})
    assert seen == ["198.51.100.1", "198.51.100.1", "203.0.113.9"]
    # A proxy that comes by IPv4 through a socket of IPv6 is the same proxy.
    app.test_client().get(
        "/", headers={"X-Forwarded-For": "198.51.100.1"}, environ_base={"REMOTE_ADDR": "::ffff:127.0.0.1"}
    )
    app.test_client().get("/", environ_base={"REMOTE_ADDR": "::ffff:203.0.113.9"})
    assert seen[3:] == ["198.51.100.1", "203.0.113.9"]
    assert near("::1") and near("192.168.0.4") and not near("8.8.4.4") and not near("nonsense")
