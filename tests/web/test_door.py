"""Coming in: codes, names, set-up, sign-in, and whoever guesses (T-01, T-02, T-08, V-09, V-10,
V-12).
"""

from __future__ import annotations

import random
from collections.abc import Callable
from typing import Any

import pytest
from flask import Flask

from app.classroom import codes
from app.store import people
from app.web import passphrases
from app.web.errors import Refused
from tests.web.conftest import PASSPHRASE, Browser, Room, set_up


def test_a_class_comes_in_beside_an_attack(make_app: Callable[..., Flask]) -> None:
    """T-08: from one address, over a thousand wrong codes and thirty-five students in the same
    minute.
    """
    app = make_app(LIMITS=True)
    room = Room(app, app.config["CLOCK"], set_up(app))
    code = room.open_door(room.period())
    chance = random.Random(1)
    statuses: list[int] = []
    arrived = 0
    attacker, token = room.browser(), ""
    for n in range(1600):
        if n % 28 == 0:  # a browser that has guessed thirty times is no longer heard: the attacker forgets its cookies
            attacker = room.browser()
            token = attacker.token("/")
        wrong = codes.code_from(chance.randrange(31**6))
        statuses.append(attacker.open("/enter", "POST", data={"token": token, "code": wrong}).status_code)
        if n % 29 == 0 and arrived < 35:
            arrived += 1
            assert room.seat(code, number=str(arrived)), n
            room.clock.pass_(seconds=1.7)

    assert arrived == 35
    assert statuses[:59] == [422] * 59 and set(statuses[60:]) == {429}
    # Past the bound hardly a guess is looked at, the right one no more than the wrong ones …
    looked = [room.browser().form("/enter", code=code).status_code for _ in range(20)]
    assert looked.count(303) <= 4 and set(looked) <= {303, 429}
    # … but a classmate behind the same address who asks again every few seconds comes in …
    classmate = room.browser()
    for _ in range(12):
        room.clock.pass_(seconds=5)
        if classmate.form("/enter", code=code).status_code == 303:
            break
    else:
        raise AssertionError("a classmate is shut out")
    # … while another address is not concerned, and ten minutes later nobody is.
    assert room.browser("198.51.100.9").form("/enter", code=code).status_code == 303
    room.clock.pass_(minutes=11)
    assert room.browser().form("/enter", code=code).status_code == 303


def test_a_browser_of_an_earlier_day_comes_in_beside_a_flood(make_app: Callable[..., Flask]) -> None:
    """Known for a month, longer than the visit in which it was; and it has few guesses of its own."""
    app = make_app(LIMITS=True)
    room = Room(app, app.config["CLOCK"], set_up(app))
    period = room.period()
    known, guesser, new = room.browser(), room.browser(), room.browser()
    for one in (known, guesser):
        one.page("/")
    mark = guesser.client.get_cookie("ea-known").value

    def flood() -> None:
        for _ in range(1500):
            app.extensions["eight_angles"].codes.add("192.0.2.7")
        while app.extensions["eight_angles"].lookers.take("192.0.2.7"):
            pass

    for days, status in ((29, 303), (3, 429)):
        room.clock.pass_(days=days)
        assert room.teacher.form("/desk/signin", passphrase=PASSPHRASE).status_code == 303
        code = room.open_door(period)
        for one in (known, guesser, new):
            one.client.delete_cookie("ea-visit")
        flood()
        assert known.form("/enter", code=code).status_code == status, days
        assert new.form("/enter", code=code).status_code == 429
        if days == 29:
            # What it guesses wrong is counted by its mark, however often it forgets its visit.
            for _ in range(5):
                guesser.client.delete_cookie("ea-visit")
                assert guesser.form("/enter", code="QQQQQQ").status_code == 429
            guesser.client.delete_cookie("ea-visit")
            assert guesser.form("/enter", code=code).status_code == 429
            assert guesser.client.get_cookie("ea-known").value == mark


def test_a_teacher_is_told_when_codes_are_guessed(make_app: Callable[..., Flask]) -> None:
    """T-08, the alarm: from sixty wrong codes in ten minutes, whatever addresses they come from."""
    app = make_app(LIMITS=True)
    room = Room(app, app.config["CLOCK"], set_up(app))
    period = room.period()
    room.open_door(period)

    def told() -> int:
        return int(room.teacher.get(f"/desk/period/{period}/state").json["guesses"])

    def guess(n: int, address: str) -> None:
        browser = room.browser(address)
        for _ in range(n):
            browser.form("/enter", code="QQQQQQ")

    guess(30, "198.51.100.1")
    guess(29, "198.51.100.2")
    assert told() == 0 and "wrong codes" not in room.teacher.get("/desk/").text
    guess(8, "198.51.100.3")
    assert told() == 60
    assert "At least 60 wrong codes were typed" in room.teacher.get("/desk/").text
    room.clock.pass_(minutes=11)
    assert told() == 0 and "wrong codes" not in room.teacher.get("/desk/").text


def test_a_door_is_open_only_while_it_is_open(room: Room) -> None:
    period = room.period()
    code = room.open_door(period)
    other = room.open_door(room.period())
    assert code != other
    room.teacher.post(f"/desk/period/{period}/door", {"open": False})
    assert room.browser().form("/enter", code=code).status_code == 422
    fresh = room.open_door(period)
    assert fresh != code
    room.clock.pass_(hours=12, seconds=1)
    assert room.browser().form("/enter", code=fresh).status_code == 422


def test_a_door_closed_between_code_and_name(room: Room) -> None:
    period = room.period()
    student = room.browser()
    student.form("/enter", code=room.open_door(period))
    room.teacher.post(f"/desk/period/{period}/door", {"open": False})
    assert student.form("/enter/name", number="4").status_code == 409


def test_a_new_code_shuts_out_the_old_one(room: Room) -> None:
    period = room.period()
    old = room.open_door(period)
    new = room.teacher.post(f"/desk/period/{period}/code").json["code"]
    assert room.browser().form("/enter", code=old).status_code == 422
    assert room.browser().form("/enter", code=new.lower()).status_code == 303


def test_a_code_can_be_pasted_in_one_field(room: Room) -> None:
    """A-26: paste and autofill, one field, no split boxes."""
    code = room.open_door(room.period())
    page = room.browser().page("/").get_data(as_text=True)
    assert page.count('name="code"') == 1
    assert room.browser().form("/enter", code=f"  {code[:3].lower()} - {code[3:]} ").status_code == 303
    assert code in room.browser().page(f"/enter/{code}").get_data(as_text=True)


def test_a_taken_name_is_refused_until_the_teacher_releases_it(room: Room) -> None:
    period = room.period()
    code = room.open_door(period)
    first = room.seat(code, number="7")
    second = room.browser()
    second.form("/enter", code=code)
    assert second.form("/enter/name", number="7").status_code == 422

    sid = room.teacher.get(f"/desk/period/{period}/state").json["seats"][0]["sid"]
    room.teacher.post(f"/desk/period/{period}/seat/{sid}/release")
    assert second.form("/enter/name", number="7").status_code == 303
    assert second.get("/seat/state").status_code == 200
    assert first.get("/seat/state").status_code == 401  # one seat, one person
    assert len(room.teacher.get(f"/desk/period/{period}/state").json["seats"]) == 1


def test_a_typed_name_is_shown_to_nobody_before_it_is_approved(room: Room) -> None:
    period = room.period()
    student = room.seat(room.open_door(period), typed="Rude Word")
    state = room.teacher.get(f"/desk/period/{period}/state").json
    assert state["seats"][0]["pending"] and state["seats"][0]["name"] == "Rude Word"
    board = state["period"]["board"]
    path = board[board.index("/board/") :]
    for address in (path, f"{path}/state"):
        assert "Rude Word" not in room.browser().get(address).get_data(as_text=True)
    assert student.get("/seat/state").json["pending"]

    room.teacher.post(f"/desk/period/{period}/seat/{state['seats'][0]['sid']}/approve")
    assert not student.get("/seat/state").json["pending"]


def test_removed_means_out(room: Room) -> None:
    period = room.period()
    student = room.seat(room.open_door(period))
    link = student.get("/seat/return").json["link"]
    sid = room.teacher.get(f"/desk/period/{period}/state").json["seats"][0]["sid"]
    room.teacher.post(f"/desk/period/{period}/seat/{sid}/remove")

    assert student.get("/seat/state").status_code == 401
    assert room.browser().page(link[link.index("/seat/return") :]).status_code == 410
    assert room.teacher.get(f"/desk/period/{period}/state").json["seats"] == []
    assert sid in room.teacher.get(f"/desk/records/{period}.csv").get_data(as_text=True)  # the work stays


def test_the_board_link_can_be_revoked(room: Room) -> None:
    period = room.period()
    board = room.teacher.get(f"/desk/period/{period}/state").json["period"]["board"]
    path = board[board.index("/board/") :]
    assert room.browser().get(f"{path}/state").status_code == 200
    fresh = room.teacher.post(f"/desk/period/{period}/board/revoke").json["board"]

    assert room.browser().get(f"{path}/state").status_code == 410
    assert room.browser().get(fresh[fresh.index("/board/") :] + "/state").status_code == 200
    assert room.browser().post(path).status_code in (404, 405)


def test_a_set_up_link_works_once(make_app: Callable[..., Flask]) -> None:
    """V-10: no default account; without the link nobody signs in."""
    app = make_app()
    nobody = Browser(app)
    for guess in ("", "admin", "teacher", "password", PASSPHRASE):
        assert nobody.form("/desk/signin", passphrase=guess).status_code == 422
    from app.store import people

    server = app.extensions["eight_angles"]
    token = server.store.write(lambda c: people.put_invite(c, "teacher", server.now()))
    path = f"/desk/setup/{token}"
    assert nobody.form(path, passphrase="short", again="short").status_code == 422
    assert nobody.form(path, passphrase=PASSPHRASE, again="other" + PASSPHRASE).status_code == 422
    assert nobody.form(path, passphrase=PASSPHRASE, again=PASSPHRASE).status_code == 303
    assert nobody.page("/desk/").status_code == 200
    assert Browser(app).page(path).status_code == 410
    assert Browser(app).form(path, passphrase=PASSPHRASE + "2", again=PASSPHRASE + "2").status_code == 410


def test_a_sign_in_that_is_guessed_at(make_app: Callable[..., Flask], monkeypatch: pytest.MonkeyPatch) -> None:
    app = make_app(LIMITS=True)
    teacher = set_up(app)
    teacher.form("/desk/signout")
    real = passphrases.right
    monkeypatch.setattr(passphrases, "right", lambda kept, given: given == PASSPHRASE and real(kept, given))
    guesser = Browser(app)
    token = guesser.token("/desk/signin")

    def guess(passphrase: str) -> int:
        form = {"token": token, "passphrase": passphrase}
        return int(guesser.open("/desk/signin", "POST", data=form, headers={"Accept": "text/html"}).status_code)

    statuses = [guess(f"guess {n}") for n in range(140)]
    assert statuses[:9] == [422] * 9 and set(statuses[10:]) == {429}
    assert guess(PASSPHRASE) == 429  # past the bound not even looked at
    # The teacher's own browser, same address: it was here before, and is heard.
    assert teacher.form("/desk/signin", passphrase=PASSPHRASE).status_code == 303


COMMON = ["password", "Password1", "12345678", "123456789", "qwertyuiop", "iloveyou", "football1", "sunshine", "princess",
          "aaaaaaaa", "abcabcabc", "P@ssw0rd", "letmein!", "welcome123", "1q2w3e4r", "zxcvbnm1", "20051987", "trustno1",
          "superman", "mathematics", "geometry2026", "teacher!", "passw0rd!", "dragon123", "monkey12", "abcdefgh", "87654321",
          "asdfghjkl", "qwerty123", "11111111", "baseball", "michael1", "jordan23", "computer", "starwars", "121212 12"]  # fmt: skip


@pytest.mark.parametrize("passphrase", COMMON)
def test_first_guesses_are_refused(passphrase: str) -> None:
    with pytest.raises(Refused):
        passphrases.check_new(passphrase, passphrase)


@pytest.mark.parametrize(
    "passphrase",
    [
        "four quiet pencils lean",
        "Tr4nsvers!l oak",
        "x" * 3 + "Kj8$mQ",
        "наш кабинет 204 тих",
        "a b d g k p v",
        "seven kites over a slow green river, and a lantern " + "q7-",
        "ß🙂 lemon kite",
    ],
)
def test_any_characters_will_do(passphrase: str) -> None:
    """V-09: eight at least, sixty-four and more allowed, any characters, no composition rule."""
    passphrases.check_new(passphrase, passphrase)
    kept = passphrases.hashed(passphrase)
    assert kept.startswith("$argon2id$") and passphrase not in kept
    # RFC 9106, 4: the second recommended choice has these costs; one lane leaves a core to the class.
    assert "$m=65536,t=3,p=1$" in kept
    assert passphrases.right(kept, passphrase) and not passphrases.right(kept, passphrase + " ")


def test_two_teachers_sign_in_by_name_or_by_passphrase(room: Room) -> None:
    """The first was never asked for a name: a second one must not lock that teacher out."""
    mine = room.period()
    # What a password manager is told at set-up is the name that the sign-in takes.
    link = room.server.store.write(lambda c: people.put_invite(c, "Second", room.server.now()))
    page = room.browser().page(f"/desk/setup/{link}").get_data(as_text=True)
    assert 'name="username" value="Second" autocomplete="username"' in page
    set_up(room.app, "Second", "another long passphrase")
    browser = room.browser()
    assert 'required autocomplete="username"' not in browser.page("/desk/signin").get_data(as_text=True)
    for name in ("", "Desk"):  # left empty; filled in by a password manager from an older set-up page
        first = room.browser()
        assert first.form("/desk/signin", name=name, passphrase=PASSPHRASE).status_code == 303
        assert mine in first.page("/desk/").get_data(as_text=True)
    second = room.browser()
    assert second.form("/desk/signin", passphrase="another long passphrase").status_code == 303
    assert mine not in second.page("/desk/").get_data(as_text=True)
    assert browser.form("/desk/signin", passphrase="nobody's long passphrase").status_code == 422
    assert browser.form("/desk/signin", name="second", passphrase=PASSPHRASE).status_code == 422
    assert browser.form("/desk/signin", name="second", passphrase="another long passphrase").status_code == 303


def test_the_desk_closes_after_an_hour_of_rest(room: Room) -> None:
    room.clock.pass_(minutes=59)
    room.teacher.post("/desk/period", {"pack": "small"})
    room.clock.pass_(minutes=59)
    assert room.teacher.page("/desk/").status_code == 200
    room.clock.pass_(minutes=61)
    assert room.teacher.page("/desk/").status_code == 303


def test_a_student_session_lasts_the_day(room: Room) -> None:
    period = room.period()
    student = room.seat(room.open_door(period))
    room.clock.pass_(hours=11)
    assert student.get("/seat/state").status_code == 200
    room.clock.pass_(hours=1, seconds=1)
    assert student.get("/seat/state").status_code == 401


def test_the_end_of_the_class(room: Room) -> None:
    period = room.period()
    code = room.open_door(period)
    student = room.seat(code)
    link = student.get("/seat/return").json["link"]
    room.teacher.post(f"/desk/period/{period}/end")

    assert student.get("/seat/state").status_code == 401
    assert room.browser().form("/enter", code=code).status_code == 422
    assert room.browser().page(link[link.index("/seat/return") :]).status_code == 410
    room.open_door(period)  # taken up again: the link is good again
    assert room.browser().form(link[link.index("/seat/return") :]).status_code == 303


def test_who_has_a_seat_already_goes_on_with_it(room: Room) -> None:
    """On the second day the code is typed again as on the first: the seat and its work are offered before any new name."""
    period = room.period()
    code = room.open_door(period)
    student = room.seat(code, number="4")
    assert "Go on as 4" in student.page("/").get_data(as_text=True)
    assert student.form("/enter", code=code).status_code == 303
    page = student.page("/enter/name").get_data(as_text=True)
    assert "Go on as 4" in page and "has a seat in this period already" in page
    # In another period it has none yet, though the first one is still offered at the front door.
    other = room.open_door(room.period())
    assert student.form("/enter", code=other).status_code == 303
    assert "Go on as" not in student.page("/enter/name").get_data(as_text=True)
    # With the door closed the seat is still there; for a browser without one, and after the end, nothing is offered.
    room.teacher.post(f"/desk/period/{period}/door", {"open": False})
    assert "Go on as 4" in student.page("/").get_data(as_text=True)
    assert "Go on as" not in room.browser().page("/").get_data(as_text=True)
    room.teacher.post(f"/desk/period/{period}/end")
    assert "Go on as" not in student.page("/").get_data(as_text=True)


def test_the_guesses_of_one_browser_are_its_own(make_app: Callable[..., Flask]) -> None:
    """Wrong codes by the hundred from one browser: it waits, and its classmates behind the same address do not."""
    app = make_app(LIMITS=True)
    room = Room(app, app.config["CLOCK"], set_up(app))
    code = room.open_door(room.period())
    guesser = room.browser()
    token = guesser.token("/")
    answers = [
        guesser.open("/enter", "POST", data={"token": token, "code": codes.code_from(n)}).status_code
        for n in range(1520)
    ]
    assert set(answers[31:]) == {429}
    assert guesser.open("/enter", "POST", data={"token": token, "code": code}).status_code == 429
    for number in range(1, 6):
        assert room.seat(code, number=str(number))


def test_a_browser_takes_a_few_seats_and_names_in_use_cost_it_none(make_app: Callable[..., Flask]) -> None:
    """F9-04, with the mistakes of an honest student: six numbers that others have, then a free one."""
    app = make_app(LIMITS=True)
    room = Room(app, app.config["CLOCK"], set_up(app))
    period = room.period()
    code = room.open_door(period)
    for number in range(1, 7):
        room.seat(code, number=str(number))
    shared = room.browser()

    def take(number: int) -> int:
        assert shared.form("/enter", code=code).status_code == 303
        return int(shared.form("/enter/name", number=str(number)).status_code)

    assert [take(number) for number in range(1, 7)] == [422] * 6
    assert [take(number) for number in range(10, 14)] == [303] * 4
    assert [take(number) for number in range(14, 60)] == [422] * 46
    state = room.teacher.get(f"/desk/period/{period}/state").json
    assert len(state["seats"]) == 10
    # What the sentence says: once the teacher has released one, there is a place again.
    sid = next(seat["sid"] for seat in state["seats"] if seat["name"] == "13")
    room.teacher.post(f"/desk/period/{period}/seat/{sid}/release")
    assert take(13) == 303


def test_a_page_of_the_door_makes_no_browser_a_teachers(
    make_app: Callable[..., Flask], monkeypatch: pytest.MonkeyPatch
) -> None:
    """What lifts the bound on guesses is a sign-in, and nothing that a stranger can fetch."""
    app = make_app(LIMITS=True)
    room = Room(app, app.config["CLOCK"], set_up(app))
    monkeypatch.setattr(passphrases, "right", lambda kept, given: given == PASSPHRASE)
    stranger = room.browser("198.51.100.4")
    stranger.page("/")
    statuses = [stranger.form("/desk/signin", passphrase=f"guess {n}").status_code for n in range(120)]
    assert statuses[-1] == 429
    assert stranger.form("/desk/signin", passphrase=PASSPHRASE).status_code == 429
    # The machine itself is never refused.
    assert room.browser("127.0.0.1").form("/desk/signin", passphrase=PASSPHRASE).status_code == 303


def test_a_passphrase_is_weighed_for_nobody_without_a_link(room: Room, monkeypatch: pytest.MonkeyPatch) -> None:
    """To weigh one can take a second: a stranger who sends hundreds would hold the class up."""

    def weighed(_: str) -> bool:
        raise AssertionError("weighed for a stranger")

    monkeypatch.setattr(passphrases, "guessable", weighed)
    stranger = room.browser("198.51.100.4")
    token = stranger.token("/")
    for link in ("none", "x" * 43):
        sent = {"token": token, "passphrase": '@4({[<369!1|70$5+7%2"*4', "again": "another"}
        assert stranger.open(f"/desk/setup/{link}", "POST", data=sent).status_code == 410


def test_a_guess_that_is_refused_looks_nothing_up(
    make_app: Callable[..., Flask], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Where the line of strangers is full: no hash, no database, and the name that was typed still has its field."""
    app = make_app(LIMITS=True)
    set_up(app)
    stranger = Browser(app, "203.0.113.9")
    token = stranger.token("/")
    for _ in range(3):
        passphrases._waiting.add("203.0.113.9")
    try:

        def asked(*_: Any) -> None:
            raise AssertionError("looked up")

        monkeypatch.setattr(app.extensions["eight_angles"].store, "read", asked)
        monkeypatch.setattr(passphrases, "right", asked)
        sent = {"token": token, "passphrase": "a guess of somebody", "name": "second"}
        told = stranger.open("/desk/signin", "POST", data=sent, headers={"Accept": "text/html"})
        assert (
            told.status_code == 429
            and int(told.headers["Retry-After"])
            and 'name="name"' in told.get_data(as_text=True)
        )
    finally:
        for _ in range(3):
            passphrases._waiting.leave("203.0.113.9")


def test_a_teachers_browser_is_known_for_half_a_year(
    make_app: Callable[..., Flask], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Longer than the visit in which the sign-in was, and no longer than that."""
    app = make_app(LIMITS=True)
    room = Room(app, app.config["CLOCK"], set_up(app))
    monkeypatch.setattr(passphrases, "right", lambda kept, given: given == PASSPHRASE)
    teacher = room.browser("203.0.113.7")
    assert teacher.form("/desk/signin", passphrase=PASSPHRASE).status_code == 303

    def shut(address: str = "203.0.113.7") -> None:
        stranger = room.browser(address)
        for n in range(120):
            stranger.form("/desk/signin", passphrase=f"guess {n}")

    for days, status in ((30, 303), (140, 303), (200, 429)):
        room.clock.pass_(days=days)
        for name in ("ea-visit", "ea-desk"):
            teacher.client.delete_cookie(name)
        shut()
        assert teacher.form("/desk/signin", passphrase=PASSPHRASE).status_code == status, days
