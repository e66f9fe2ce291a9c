"""A period from the Desk: the door, the room, names that wait, the Board, answers, the own example."""

from __future__ import annotations

import re

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import LAPTOP, PHONE, ZOOMED, Lesson
from tests.browser.drawn import drawn

pytestmark = pytest.mark.browser


def test_a_typed_name_stays_with_the_teacher_until_the_nod(lesson: Lesson) -> None:
    """T-02: an unapproved name is never in the Board's page."""
    teacher = lesson.teacher()
    period = lesson.period(teacher)
    board = lesson.board(teacher, period)
    lesson.seat(period.code, typed="Zorblax")
    nod = teacher.locator(".nods li", has_text="Zorblax")
    nod.wait_for()
    assert "Zorblax" not in board.content()
    assert teacher.locator(".room", has_text="Zorblax").count() == 0
    lesson.check(teacher, "a name waits")
    nod.get_by_role("button", name="Approve").focus()
    teacher.keyboard.press("Enter")
    expect(teacher.locator(".room .place-name", has_text="Zorblax")).to_be_visible()
    # The button is gone with its line: the focus goes on to what comes next, not to the page.
    teacher.wait_for_function("() => document.activeElement.closest('main')")
    assert "Zorblax" not in board.content()


def test_another_name_is_given_to_one_not_nodded_to(lesson: Lesson) -> None:
    teacher = lesson.teacher()
    period = lesson.period(teacher)
    seat = lesson.seat(period.code, typed="Blurghh")
    nod = teacher.locator(".nods li", has_text="Blurghh")
    nod.get_by_role("button", name="Give another name").click()
    expect(teacher.locator(".room .place-name")).to_have_count(1)
    expect(teacher.locator(".room .place-name", has_text="Blurghh")).to_have_count(0)
    assert seat.url.split("#")[0].endswith("/seat/")


def test_the_room_as_a_plan_and_as_a_list(lesson: Lesson) -> None:
    """W-9: a table with row headers and sortable columns; text carries the state."""
    teacher = lesson.teacher()
    period = lesson.period(teacher)
    for number in (12, 3, 7):
        lesson.seat(period.code, number=number)
    expect(teacher.locator(".room .place-name")).to_have_text(["3", "7", "12"])
    # Each place shows a figure. It comes after the name: the Desk hears where a seat is, and asks what that task starts with.
    expect(teacher.locator(".room .place .stamp:has(line)")).to_have_count(3)
    teacher.get_by_role("button", name="List", exact=True).click()
    rows = teacher.locator(".room-list tbody tr")
    expect(rows).to_have_count(3)
    assert rows.first.locator('th[scope="row"]').count() == 1
    teacher.get_by_role("button", name="Place", exact=True).click()
    expect(teacher.locator('.room-list th[aria-sort="descending"]')).to_have_count(1)
    expect(rows.first.locator("th button")).to_have_text("12")
    lesson.check(teacher, "list")
    rows.first.locator("th button").click()
    expect(teacher.locator("#seat-name")).to_have_text("12")
    lesson.check(teacher, "one seat")


def test_one_press_lets_those_come_back_who_are_signed_out(lesson: Lesson) -> None:
    teacher = lesson.teacher()
    period = lesson.period(teacher)
    seat = lesson.seat(period.code, number=5)
    expect(teacher.locator(".room .place-name")).to_have_text(["5"])
    again = teacher.get_by_role("button", name="Let students take their places again")
    expect(again).to_be_hidden()
    lesson.call(seat, "POST", "/seat/leave")
    expect(teacher.locator(".room-left")).to_contain_text("1 place is without a device")
    lesson.check(teacher, "a place without a device")
    again.focus()
    teacher.keyboard.press("Enter")
    expect(again).to_be_hidden()
    teacher.wait_for_function("() => document.activeElement.closest('main')")
    lesson.seat(period.code, number=5)
    expect(teacher.locator(".room .place-name")).to_have_text(["5"])


def test_removing_asks_once_more_and_then_empties_the_seat(lesson: Lesson) -> None:
    teacher = lesson.teacher()
    period = lesson.period(teacher)
    lesson.seat(period.code, number=5)
    teacher.locator(".place").first.click()
    teacher.get_by_role("button", name="Remove", exact=True).click()
    sure = teacher.get_by_role("button", name="Press again")
    sure.wait_for()
    assert teacher.locator(".place").count() == 1
    sure.click()
    expect(teacher.locator(".place")).to_have_count(0)


def test_a_link_brings_one_student_back_on_another_device(lesson: Lesson) -> None:
    """A-26: coming back needs no recall."""
    teacher = lesson.teacher()
    period = lesson.period(teacher)
    lesson.seat(period.code, number=9)
    teacher.locator(".place").first.click()
    teacher.get_by_role("button", name="Link to come back").click()
    link = teacher.locator(".seat-link")
    expect(link).to_contain_text("/seat/return/")
    path = link.inner_text().split("/seat/return/")[1]
    other = lesson.page(PHONE)
    other.goto(f"/seat/return/{path}")
    lesson.check(other, "coming back")
    if other.locator("main form button").count():
        other.locator("main form button").first.click()
    other.wait_for_url("**/seat/**")
    expect(teacher.locator(".place")).to_have_count(1)


def test_what_students_see_is_told_to_the_server_and_comes_back(lesson: Lesson) -> None:
    teacher = lesson.teacher()
    period = lesson.period(teacher)
    teacher.get_by_role("button", name="Everyone here").first.click()
    expect(teacher.locator("#seats-one")).to_be_checked()
    expect(teacher.locator(".plan-where", has_text="everyone is here")).to_have_count(1)
    teacher.locator("#seats-own").check()
    expect(teacher.locator(".plan-where", has_text="everyone is here")).to_have_count(0)
    teacher.locator("#seats-frozen").check()
    teacher.reload()
    expect(teacher.locator("#seats-frozen")).to_be_checked()
    state = lesson.call(teacher, "GET", f"/desk/period/{period.id}/state")
    assert state["frozen"] is True and state["step"] is None


def test_the_way_in_can_be_shown_large(lesson: Lesson) -> None:
    teacher = lesson.teacher()
    period = lesson.period(teacher)
    teacher.get_by_role("button", name="Show the way in").click()
    expect(teacher.locator("#wall-code")).to_have_text(f"{period.code[:3]} {period.code[3:]}")
    teacher.wait_for_function("() => document.getElementById('qr').naturalWidth > 0")
    lesson.check(teacher, "the way in")


def test_the_door_closes_and_opens_with_a_new_code(lesson: Lesson) -> None:
    teacher = lesson.teacher()
    period = lesson.period(teacher)
    teacher.get_by_role("button", name="Close the door").click()
    expect(teacher.locator("#code-line")).to_be_hidden()
    page = lesson.page(PHONE)
    page.goto("/")
    page.fill("#code", period.code)
    page.click("main button[type=submit]")
    page.get_by_role("alert").wait_for()
    teacher.get_by_role("button", name="Open the door").click()
    expect(teacher.locator("#code-line")).to_be_visible()
    assert teacher.locator("#code").inner_text().replace(" ", "") != period.code


@pytest.mark.parametrize("size", [LAPTOP, ZOOMED, PHONE], ids=str)
def test_every_sheet_passes_and_fits(lesson: Lesson, size: tuple[int, int]) -> None:
    teacher = lesson.teacher(size)
    period = lesson.period(teacher)
    lesson.seat(period.code, number=4)
    teacher.locator(".place").first.wait_for()
    for name in ("The room", "On the Board", "Answers", "Own example"):
        teacher.get_by_role("tab", name=name).click()
        teacher.locator("[role=tabpanel]:not([hidden]) >> nth=0").wait_for()
        drawn(teacher)
        lesson.check(teacher, f"{size} {name}")
        lesson.fits(teacher, f"{size} {name}")
    teacher.get_by_role("button", name="More", exact=True).click()
    lesson.check(teacher, "more")


def test_a_period_is_opened_by_keyboard_alone(lesson: Lesson) -> None:
    """A-11: from signing in to a figure on the Board, no pointer."""
    lesson.teacher()
    page = lesson.page()
    page.goto("/desk/signin")
    press = page.keyboard.press
    _tab_to(page, "#passphrase")
    page.keyboard.type("a calm rhombus at noon")
    press("Enter")
    page.wait_for_url("**/desk/")
    _tab_to(page, "button:has-text('Open a period')")
    press("Enter")
    page.wait_for_url("**/desk/period/**")
    page.locator(".plan-task").first.wait_for()
    _tab_to(page, "#door")
    press("Enter")
    expect(page.locator("#code-line")).to_be_visible()
    _tab_to(page, ".plan-verbs:not([hidden]) button")
    press("Enter")
    expect(page.locator(".plan-where", has_text="on the Board")).to_have_count(1)
    _tab_to(page, "[role=tab][aria-selected=true]")
    press("ArrowRight")
    expect(page.get_by_role("tab", name="On the Board")).to_be_focused()
    expect(page.locator("#sheet-board .stage")).to_be_visible()


def _tab_to(page: object, selector: str) -> None:
    """Press Tab until the first match has the focus; each stop on the way must be in view (A-16)."""
    for _ in range(90):
        page.keyboard.press("Tab")  # type: ignore[attr-defined]
        if page.evaluate(  # type: ignore[attr-defined]
            "s => document.activeElement === [...document.querySelectorAll(s.split(':has-text')[0])]"
            ".find((e) => !s.includes(':has-text') || e.textContent.includes(s.split(\"'\")[1]))",
            selector,
        ):
            return
    raise AssertionError(f"Tab does not reach {selector}")


def test_the_teacher_is_told_when_somebody_guesses_codes(lesson: Lesson) -> None:
    """T-08, the alarm: where the teacher looks during a lesson, without anybody opening another page."""
    teacher = lesson.teacher()
    period = lesson.period(teacher)
    told = teacher.locator("#guesses")
    assert told.is_hidden()
    for _ in range(3):  # a browser is heard no more after some; a guesser takes another
        guesser = lesson.page()
        guesser.goto("/")
        token = guesser.locator('input[name="token"]').first.get_attribute("value")
        for _ in range(20):
            guesser.request.post("/enter", form={"token": token, "code": "QQQQQQ"})
    told.wait_for()
    expect(told).to_contain_text("At least 60 wrong codes")
    lesson.check(teacher, "codes are guessed")
    lesson.fits(teacher, "codes are guessed")
    lesson.seat(period.code, number=4)  # a student beside it comes in as ever
    expect(teacher.locator(".room .place-name")).to_have_count(1)
    teacher.locator("#door").click()
    expect(told).to_be_empty()


def test_an_ended_period_says_so_and_how_long_its_work_is_kept(lesson: Lesson) -> None:
    """Thirty days after the end (PD-4), and what opening the door does."""
    from datetime import datetime, timedelta

    teacher = lesson.teacher()
    period = lesson.period(teacher)
    teacher.goto(period.path)
    note = teacher.locator("#guesses")
    expect(note).not_to_contain_text("has ended")

    def until() -> str:
        """The day thirty days from now, as a teacher reads it."""
        said: str = teacher.evaluate(
            "ms => new Date(ms).toLocaleDateString('en-US', {year: 'numeric', month: 'long', day: 'numeric'})",
            (datetime.now().astimezone() + timedelta(days=30)).timestamp() * 1000,
        )
        return said

    before = until()
    lesson.call(teacher, "POST", f"{period.path}end", {})
    expect(note).to_contain_text("has ended")
    expect(note).to_contain_text(re.compile(f"kept until ({before}|{until()})"))  # midnight may come between
    teacher.locator("#door").click()
    expect(note).not_to_contain_text("has ended")


@pytest.mark.parametrize("size", [LAPTOP, PHONE])
def test_who_finds_no_place_is_seen_and_one_press_makes_room(lesson: Lesson, size: tuple[int, int]) -> None:
    """F9-04: a class has so many places; who is refused, and how to make room, stands before the teacher."""
    teacher = lesson.teacher(size)
    period = lesson.period(teacher)
    teacher.get_by_role("button", name="More", exact=True).click()
    places = teacher.get_by_label("Places in this class")
    expect(places).to_have_value("40")
    places.fill("2")
    places.press("Enter")
    for number in (1, 2):
        lesson.seat(period.code, number=number)
    expect(teacher.locator("#full")).to_have_text("")
    expect(teacher.get_by_role("button", name="Make room for")).to_have_count(0)
    late = lesson.page(PHONE)
    late.goto(f"/enter/{period.code}")
    late.locator("main button[type=submit]").first.click()
    late.wait_for_url("**/enter/name")
    late.fill("#number", "3")
    late.locator("form:has(#number) button").click()
    expect(late.get_by_role("alert")).to_contain_text("Tell your teacher")
    expect(teacher.locator("#full")).to_have_text("Someone was refused: the class is full at 2.")
    lesson.check(teacher, "full")
    lesson.fits(teacher, "full")
    room = teacher.get_by_role("button", name="Make room for 5 more")
    room.focus()
    teacher.keyboard.press("Enter")
    expect(teacher.locator("#full")).to_have_text("")
    expect(room).to_be_hidden()
    expect(places).to_have_value("7")
    teacher.wait_for_function("() => document.activeElement.closest('main')")
    late.fill("#number", "3")
    late.locator("form:has(#number) button").click()
    late.wait_for_url("**/seat/**")
