"""The language of a page: the browser's choice, the period's, the setting, the browser's own; and the switch."""

from __future__ import annotations

import re
from collections.abc import Callable
from typing import Any

import pytest
from flask import Flask

from tests.web.conftest import Browser, Room

SPANISH = {"Accept": "text/html", "Accept-Language": "es-MX,es;q=0.9,en;q=0.8"}


def lang_of(page: Any) -> str:
    return re.search(r'<html lang="([^"]*)"', page.get_data(as_text=True))[1]  # type: ignore[index]


def test_a_page_outside_a_class_speaks_the_browsers_language(room: Room) -> None:
    browser = room.browser()
    for path in ("/", "/alone"):
        assert lang_of(browser.open(path, headers=SPANISH)) == "es"
        assert lang_of(browser.page(path)) == "en"
        assert lang_of(browser.open(path, headers={**SPANISH, "Accept-Language": "fr-CA, es;q=0.5"})) == "es"
        assert lang_of(browser.open(path, headers={**SPANISH, "Accept-Language": "fr"})) == "en"
    assert "Código de la clase" in browser.open("/", headers=SPANISH).get_data(as_text=True)


def test_the_setting_goes_before_the_browser(make_app: Callable[..., Flask]) -> None:
    assert lang_of(Browser(make_app(LANGUAGE="es")).page("/")) == "es"
    assert lang_of(Browser(make_app(LANGUAGE="en")).open("/", headers=SPANISH)) == "en"


def test_a_seat_and_the_board_speak_the_periods_language_and_the_desk_its_own(room: Room) -> None:
    period = room.period()
    room.teacher.post(f"/desk/period/{period}/words", {"house": "es"})
    student = room.seat(room.open_door(period))

    assert lang_of(student.page("/seat/")) == "es"
    assert student.get("/seat/state").json["period"]["title"] == "Third hour"
    board = room.teacher.get(f"/desk/period/{period}/state").json["period"]["board"]
    assert lang_of(room.browser().page(board[board.index("/board/") :])) == "es"
    assert lang_of(room.teacher.page(f"/desk/period/{period}/")) == "en"
    # Asked by its page, in the page's language: what refuses a student is said so too.
    assert student.get("/seat/task/none").json["error"]["message"] == "Esa actividad no existe en esta clase."


@pytest.mark.parametrize(
    ("house", "chosen"),
    [
        ("us", "es"),
        ("es", "en"),
        ("es-collateral", "es"),
    ],
)
def test_a_student_may_choose_another_language_than_the_class_has(room: Room, house: str, chosen: str) -> None:
    period = room.period()
    room.teacher.post(f"/desk/period/{period}/words", {"house": house})
    code = room.open_door(period)
    student = room.seat(code)
    answer = student.form("/language", language=chosen, back="/seat/")

    assert answer.status_code == 303
    assert answer.headers["Location"] == "/seat/"
    assert lang_of(student.page("/seat/")) == chosen
    # Its classmates keep the class's.
    other = room.seat(code)
    assert lang_of(other.page("/seat/")) == ("es" if house.startswith("es") else "en")


def test_the_switch_stands_on_each_page_named_in_the_other_language(room: Room) -> None:
    period = room.period()
    student = room.seat(room.open_door(period))
    pages = [
        room.browser().page("/"),
        room.browser().page("/alone"),
        student.page("/seat/"),
        room.teacher.page("/desk/"),
    ]
    for page in pages:
        text = page.get_data(as_text=True)
        assert re.search(r'<button [^>]*name="language" value="es" lang="es">Español</button>', text)
        assert 'value="en"' not in text
    assert 'lang="en">English</button>' in room.browser().open("/", headers=SPANISH).get_data(as_text=True)


@pytest.mark.parametrize(
    "back", ["//elsewhere.example/", "https://elsewhere.example/", "/\\elsewhere.example", "", "/a\r\nX: y"]
)
def test_the_switch_leads_to_no_other_server(room: Room, back: str) -> None:
    assert room.browser().form("/language", language="es", back=back).headers["Location"] == "/"


def test_a_language_that_is_not_spoken_is_refused_and_a_choice_ends_with_the_seat(room: Room) -> None:
    refused = room.browser().form("/language", language="xx", back="/")
    assert refused.status_code == 422
    student = room.seat(room.open_door(room.period()))
    student.form("/language", language="es", back="/seat/")
    assert lang_of(student.page("/")) == "es"
    student.post("/seat/leave")
    assert lang_of(student.page("/")) == "en"


def test_the_switch_asks_for_the_pages_token(room: Room) -> None:
    assert room.browser().open("/language", "POST", data={"language": "es", "back": "/"}).status_code == 403


def test_a_spanish_desk_opens_periods_in_spanish(room: Room) -> None:
    assert room.teacher.form("/desk/language", language="es", back="/desk/").status_code == 303
    made = room.teacher.post("/desk/period", {"pack": "small", "title": "Tercera hora"})
    state = room.teacher.get(f"/desk/period/{made.json['id']}/state").json
    assert state["period"]["house"] == "es"


def test_the_calculators_answer_in_the_language_that_the_page_asks_in(room: Room) -> None:
    body = {"figure": {"lines": {}}}
    browser = room.browser()
    said = [
        browser.open("/api/figure/words", "POST", json=body, headers={"Accept-Language": tag}).json["error"]["message"]
        for tag in ("en", "es", "en")
    ]
    assert said[0] == said[2] == "This figure has no line; give at least one."
    assert said[1] == "Esta figura no tiene ninguna recta; da al menos una."
