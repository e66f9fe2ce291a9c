"""The front door and the first run, as a teacher and a class meet them."""

from __future__ import annotations

import re
from collections.abc import Iterator
from typing import Any

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import LAPTOP, PASSPHRASE, PHONE, ZOOMED, Lesson, come_in, sign_in, start

pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def lesson_server(tmp_path_factory: pytest.TempPathFactory, chromium: Any) -> Iterator[Lesson]:
    """A server that nobody has set up yet: the first test here does."""
    made = start(tmp_path_factory.mktemp("lesson"), chromium, ready=False)
    yield made
    made.stop()


def test_the_first_run_needs_the_printed_link_and_a_passphrase(lesson: Lesson) -> None:
    """V-10: no default account; a one-time set-up link."""
    page = lesson.page()
    if not lesson.ready:
        page.goto("/desk/")
        assert "/desk/signin" in page.url
        page.goto(lesson.setup)
        page.fill("#passphrase", "short")
        page.click("main button[type=submit]")
        page.get_by_role("alert").wait_for()
        lesson.check(page, "set-up refused")
    teacher = lesson.teacher()
    teacher.get_by_role("heading", name="Packs").wait_for()
    page.goto(lesson.setup)
    assert page.locator("#passphrase").count() == 0, "the link works once"


def test_a_wrong_passphrase_is_refused_in_words(lesson: Lesson) -> None:
    lesson.teacher()
    page = lesson.page()
    page.goto("/desk/signin")
    page.fill("#passphrase", "not the passphrase")
    page.click("main button[type=submit]")
    alert = page.get_by_role("alert")
    alert.wait_for()
    assert len(alert.inner_text()) > 10
    lesson.check(page, "sign-in refused")


def test_the_code_can_be_pasted_and_written_loosely(lesson: Lesson) -> None:
    """A-26: one field, paste allowed; the code is read in lower case, with spaces and dashes."""
    teacher = lesson.teacher()
    period = lesson.period(teacher)
    page = lesson.page(PHONE)
    page.goto("/")
    assert page.locator("form input:not([type=hidden])").count() == 1
    page.locator("#code").focus()
    page.keyboard.insert_text(f" {period.code[:3].lower()}-{period.code[3:].lower()} ")
    page.keyboard.press("Enter")
    page.wait_for_url("**/enter/name")
    lesson.check(page, "names")


@pytest.mark.parametrize("way", [{}, {"number": 12}, {"typed": "Zorblax"}], ids=["offered", "number", "typed"])
def test_a_student_comes_in_by_each_way_that_the_page_has(lesson: Lesson, way: dict[str, Any]) -> None:
    teacher = lesson.teacher()
    period = lesson.period(teacher)
    page = lesson.page(PHONE)
    come_in(page, period.code, **way)
    page.locator("#card > *").first.wait_for()
    seats = lesson.call(teacher, "GET", f"{period.path}state")["seats"]
    assert len(seats) == 1 and seats[0]["number"] == way.get("number"), seats


def test_a_code_of_no_period_says_so_and_keeps_what_was_typed(lesson: Lesson) -> None:
    page = lesson.page(PHONE)
    page.goto("/")
    page.fill("#code", "222222")
    page.click("main button[type=submit]")
    page.get_by_role("alert").wait_for()
    assert page.locator("#code").get_attribute("aria-invalid") == "true"
    assert "code-error" in (page.locator("#code").get_attribute("aria-describedby") or "")
    lesson.check(page, "wrong code")


def test_the_figure_on_the_door_turns_parallel_with_the_code(lesson: Lesson) -> None:
    page = lesson.page(reduced_motion="reduce")
    page.goto("/")
    page.locator(".living path.living-m").wait_for(state="attached")
    assert page.locator("#living-caption").is_hidden()
    page.fill("#code", "ABC")
    assert page.locator("#living-caption").is_hidden()
    page.fill("#code", "ABCDEF")
    page.locator("#living-caption").wait_for()
    ends = [_ends(page, name) for name in ("l", "m")]
    slopes = [(y2 - y1) / (x2 - x1) for x1, y1, x2, y2 in ends]
    assert abs(slopes[0] - slopes[1]) < 0.01
    running = page.evaluate("document.getAnimations().filter((a) => a.playState === 'running').length")
    assert running == 0, "nothing moves under reduced motion (A-14)"


def _ends(page: Any, name: str) -> tuple[float, float, float, float]:
    path = page.locator(f"path.living-{name}").get_attribute("d")
    numbers = [float(n) for n in re.findall(r"-?\d+\.?\d*", path)]
    return numbers[0], numbers[1], numbers[-2], numbers[-1]


def test_the_form_works_without_script(lesson: Lesson) -> None:
    teacher = lesson.teacher()
    period = lesson.period(teacher)
    page = lesson.page(java_script_enabled=False)
    page.goto("/")
    page.fill("#code", period.code)
    page.click("main button[type=submit]")
    page.wait_for_url("**/enter/name")


@pytest.mark.parametrize("size", [LAPTOP, ZOOMED, PHONE, (320, 256)], ids=str)
def test_every_page_at_the_door_fits_and_passes(lesson: Lesson, size: tuple[int, int]) -> None:
    page = lesson.page(size, reduced_motion="reduce")
    for path in ("/", "/alone", "/desk/signin", "/no-such-page"):
        page.goto(path)
        page.wait_for_load_state("load")
        lesson.fits(page, path)
        lesson.check(page, f"{size} {path}")


def test_signing_out_closes_the_desk(lesson: Lesson) -> None:
    teacher = lesson.teacher()
    teacher.get_by_role("button", name="Sign out").click()
    teacher.wait_for_url(re.compile(r"/$"))
    teacher.goto("/desk/")
    assert "/desk/signin" in teacher.url
    assert PASSPHRASE not in teacher.content()
    sign_in(teacher)
    teacher.get_by_role("heading", name="Packs").wait_for()


def test_the_code_has_the_focus_where_no_keyboard_springs_up(lesson: Lesson) -> None:
    page = lesson.page(LAPTOP)
    page.goto("/")
    expect(page.locator("#code")).to_be_focused()
    page.keyboard.type("ABC")
    expect(page.locator("#code")).to_have_value("ABC")
    phone = lesson.page(PHONE, has_touch=True, is_mobile=True)
    phone.goto("/")
    phone.locator(".living-line[d]").first.wait_for(state="attached")  # drawn by the script that gives the focus
    expect(phone.locator("#code")).not_to_be_focused()
