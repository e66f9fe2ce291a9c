"""Explore: turn lines until a statement holds, choose two angles, answer; by mouse, by taps alone, by keyboard alone."""

from __future__ import annotations

from typing import Any

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import LAPTOP, PHONE, ZOOMED, Lesson
from tests.browser.seat.hands import WAYS, Mouse, hands, open_task

pytestmark = pytest.mark.browser

TASK = "make-them-equal"  # m at 16 degrees, n at 5, t at 66: ∠2 and ∠6 are congruent when n is at 16 too
NUMBERS = ".figure-values:not([hidden]) dd, .fig-texts .angle-value"


@pytest.mark.parametrize("way", WAYS)
def test_a_student_makes_two_angles_congruent_and_says_what_happened(lesson: Lesson, way: str) -> None:
    hand = hands(way, lesson, TASK)
    page = hand.page
    assert page.locator(".reach-mark").inner_text() == "not yet"
    hand.turn("n", 16)
    assert hand.direction("n") == 16, "whole degrees: equal is exactly equal"
    page.locator(".reach-mark[data-holds=true]").wait_for()
    assert page.locator(".figure-note[data-on]").inner_text().startswith("m ∥ n")
    assert "not proved" in page.locator(".figure-note").inner_text()
    assert page.locator(".arrows[data-tone=drawn]").count() == 2
    for name in ("2", "6"):
        hand.angle(name)
    assert "corresponding angles, on transversal t" in page.locator(".pair-line").inner_text()
    assert page.locator(".trace[d]").count() == 1
    hand.radio("parallel, as drawn")
    hand.press(".hand-in .action")
    assert hand.verdict().startswith("Right.")
    assert page.locator("[aria-current=step][data-done]").count() == 1


def test_what_an_answer_marked_goes_when_the_figure_is_turned_away(lesson: Lesson) -> None:
    """Arrow marks on lines that cross would say what is not so, to the eye and in the description (A-01)."""
    hand = hands("keys", lesson, TASK)
    page = hand.page
    hand.turn("n", 16)
    hand.radio("parallel, as drawn")
    hand.press(".hand-in .action")
    assert hand.verdict().startswith("Right.")
    described = page.locator(".figure > .words").first
    expect(described).to_contain_text("Arrow marks on m and n")
    hand.turn("n", 30)
    expect(page.locator(".arrows[d]:not([d=''])")).to_have_count(0)
    expect(described).not_to_contain_text("Arrow marks")


def test_the_reverse_question_is_judged_by_the_numbers(lesson: Lesson) -> None:
    hand = hands("mouse", lesson, "make-them-supplementary")
    hand.radio("180 degrees as well")
    hand.press(".hand-in .action")
    assert "∠3" in hand.verdict() and "180" in hand.verdict(), "it says how far off the sum is"
    hand.turn("m", 4)
    hand.press(".hand-in .action")
    hand.page.locator("#verdict[data-tone=good]").wait_for()


def test_all_eight_measures_are_live_and_can_be_hidden(lesson: Lesson) -> None:
    for size in (LAPTOP, PHONE):
        page = open_task(lesson, TASK, size)
        before = page.locator(NUMBERS).all_text_contents()
        assert before == ["130°", "50°", "50°", "130°", "119°", "61°", "61°", "119°"]
        page.locator('[data-line="n"][data-part="b"]').focus()
        page.keyboard.press("ArrowUp")
        assert page.locator(NUMBERS).all_text_contents()[4:] == ["120°", "60°", "60°", "120°"]
        page.get_by_role("button", name="Hide the measures").click()
        assert page.locator(NUMBERS).count() == 0


def test_escape_puts_the_line_back(lesson: Lesson) -> None:
    """A-17: Esc puts the state back (a touch that is taken away: test_touch.py); undo for all."""
    hand = hands("mouse", lesson, TASK)
    page = hand.page
    grip = '[data-line="n"][data-part="b"]'
    page.mouse.move(*hand.middle(grip))
    page.mouse.down()
    page.mouse.move(*hand.pointing("n", 30, 300), steps=8)
    expect(page.locator(".strip-field")).to_have_value("30")
    page.keyboard.press("Escape")
    expect(page.locator(".strip-field")).to_have_value("5")
    page.mouse.up()
    assert hand.direction("n") == 5
    hand.turn("n", 12)
    assert hand.direction("n") == 12
    page.get_by_role("button", name="Undo the last move").click()
    expect(page.locator("[data-line=n][data-part=b]")).to_have_attribute("aria-valuenow", "5")


def test_a_ring_slides_a_line_and_keeps_its_direction(lesson: Lesson) -> None:
    hand = hands("mouse", lesson, TASK)
    page = hand.page
    before = hand.crossing("m")
    x, y = hand.middle('[data-line="m"][data-part="ring"]')
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x, y + 40, steps=6)
    page.mouse.up()
    assert hand.direction("m") == 16
    assert hand.crossing("m")[1] > before[1] + 15


def test_the_ring_can_be_picked_up_and_put_down_by_taps(lesson: Lesson) -> None:
    page = open_task(lesson, TASK, PHONE, has_touch=True)
    hand = Mouse(page)
    before = hand.crossing("m")
    x, y = hand.middle('[data-line="m"][data-part="ring"]')
    page.touchscreen.tap(x, y)
    page.locator("[data-part=ring][data-held]").wait_for()
    page.touchscreen.tap(x, y + 30)
    expect(page.locator("[data-part][data-held]")).to_have_count(0)
    assert hand.crossing("m")[1] > before[1] + 10
    assert "Line m" in page.locator(".figure [role=status]").inner_text()


def test_a_number_can_be_typed_and_a_wrong_one_is_answered_in_words(lesson: Lesson) -> None:
    page = open_task(lesson, TASK)
    field = page.locator(".strip-field")
    page.get_by_role("button", name="Line n").click()
    assert field.get_attribute("aria-label") == "Direction of n in degrees"
    field.fill("16")
    field.press("Enter")
    page.locator(".reach-mark[data-holds=true]").wait_for()
    field.fill("steep")
    field.press("Enter")
    page.locator(".figure [role=status]", has_text="A direction is a number").wait_for()
    field.fill("66")
    field.press("Enter")
    page.locator(".figure [role=status]", has_text="stops here").wait_for()
    assert Mouse(page).direction("n") != 66, "it may not run along the transversal"


def test_the_description_follows_the_figure_and_gives_nothing_away(lesson: Lesson) -> None:
    """A-01, D-4: it changes within a second; it says marks and places, not what the task asks for."""
    page = open_task(lesson, TASK)
    words = page.locator(f"#{page.locator('.figure-svg').get_attribute('aria-describedby')}")
    page.wait_for_timeout(600)
    page.locator('[data-line="n"][data-part="b"]').focus()
    page.keyboard.press("ArrowUp")
    page.wait_for_timeout(1000)
    text = words.text_content()
    assert "Angle 6 is inside, right of t, at B: 60 degrees." in text
    assert "parallel" not in text and "corresponding" not in text
    assert page.locator(".figure-svg").get_attribute("role") == "graphics-document"


def test_reduced_motion_leaves_nothing_moving(lesson: Lesson) -> None:
    hand = Mouse(open_task(lesson, TASK, reduced_motion="reduce"))
    hand.turn("n", 16)
    hand.angle("2")
    hand.angle("6")
    assert hand.page.evaluate("document.getAnimations().filter((one) => one.playState === 'running').length") == 0


@pytest.mark.parametrize("size", [LAPTOP, ZOOMED, PHONE, (320, 256), (768, 1366)], ids=lambda size: f"{size[0]}x{size[1]}")
def test_every_state_is_accessible_and_fits(lesson: Lesson, size: tuple[int, int]) -> None:
    page = open_task(lesson, TASK, size)
    lesson.check(page, "start")
    lesson.fits(page, "start")
    page.locator('[data-line="n"][data-part="b"]').focus()
    page.keyboard.press("PageUp")
    page.keyboard.press("ArrowUp")
    page.locator('[data-kind=angle][data-name="2"]').focus()
    page.keyboard.press("Enter")
    page.wait_for_timeout(150)
    lesson.check(page, "moved")
    page.locator(".hand-in .action").click()
    page.locator("#verdict[data-tone=mend]").wait_for()
    lesson.check(page, "answer wanted")
    page.locator(".seat-menu summary").first.click()
    lesson.check(page, "help open")
    lesson.fits(page, "help open")


def test_nothing_focused_hides_behind_what_stays_in_view(lesson: Lesson) -> None:
    """A-16: after each Tab the focused thing lies in the window and is not covered."""
    for size in (LAPTOP, PHONE):
        page = open_task(lesson, TASK, size)
        for _ in range(45):
            page.keyboard.press("Tab")
            seen: Any = page.evaluate("""() => { const e = document.activeElement; if (!e || e === document.body) return null;
              const b = e.getBoundingClientRect(); const x = b.x + b.width / 2; const y = b.y + b.height / 2;
              const top = document.elementFromPoint(x, y);
              return {what: e.outerHTML.slice(0, 90), inside: y > 0 && y < innerHeight && x > 0 && x < innerWidth,
                own: Boolean(top && (e.contains(top) || top.contains(e) || e.closest('svg')?.contains(top) || e.closest('label')?.contains(top)))}; }""")
            if seen is None:
                break
            assert seen["inside"] and seen["own"], f"{size}: {seen}"
