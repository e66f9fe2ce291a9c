"""Explore: turn lines until a statement holds, choose two angles, answer; by mouse, by taps alone, by keyboard alone."""

from __future__ import annotations

import math
import re
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
    expect(page.locator(".figure [role=status]")).to_contain_text("Line m")


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
    words = page.locator(".figure-words")
    words.locator("li").first.wait_for(state="attached")
    page.locator('[data-line="n"][data-part="b"]').focus()
    page.keyboard.press("ArrowUp")
    expect(words).to_contain_text("Angle 6 is inside, right of t, at B: 60 degrees.")
    text = words.text_content()
    assert "parallel" not in text and "corresponding" not in text
    assert page.locator(".figure-svg").get_attribute("role") == "graphics-document"


def test_reduced_motion_leaves_nothing_moving(lesson: Lesson) -> None:
    hand = Mouse(open_task(lesson, TASK, reduced_motion="reduce"))
    hand.turn("n", 16)
    hand.angle("2")
    hand.angle("6")
    assert hand.page.evaluate("document.getAnimations().filter((one) => one.playState === 'running').length") == 0


@pytest.mark.parametrize(
    "size", [LAPTOP, ZOOMED, PHONE, (320, 256), (768, 1366)], ids=lambda size: f"{size[0]}x{size[1]}"
)
def test_every_state_is_accessible_and_fits(lesson: Lesson, size: tuple[int, int]) -> None:
    page = open_task(lesson, TASK, size)
    lesson.check(page, "start")
    lesson.fits(page, "start")
    page.locator('[data-line="n"][data-part="b"]').focus()
    page.keyboard.press("PageUp")
    page.keyboard.press("ArrowUp")
    page.locator('[data-kind=angle][data-name="2"]').focus()
    page.keyboard.press("Enter")
    page.locator('.angle[data-name="2"][data-picked]').wait_for(state="attached")
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


def test_the_angles_in_question_are_marked_before_and_while_a_line_is_dragged(lesson: Lesson) -> None:
    page = open_task(lesson, TASK)
    marked = page.locator(".angle[data-asked]")
    assert sorted(marked.evaluate_all("all => all.map((one) => one.dataset.name)")) == ["2", "6"]
    assert marked.first.locator(".outline").evaluate("one => getComputedStyle(one).stroke") not in (
        "none",
        "rgba(0, 0, 0, 0)",
    )
    # Its two straight sides: an arc more would be a mark of congruence.
    assert all(
        "A" not in (d or "")
        for d in page.locator(".angle .outline").evaluate_all("all => all.map((one) => one.getAttribute('d'))")
    )


def drag(hand: Mouse, line: str, to: float) -> None:
    x, y = hand.crossing(line)
    gx, gy = hand.middle(f'[data-line="{line}"][data-part="b"]')
    hand.page.mouse.move(gx, gy)
    hand.page.mouse.down()
    hand.page.mouse.move(*hand.pointing(line, to - 3, math.hypot(gx - x, gy - y)), steps=4)
    hand.page.mouse.move(*hand.pointing(line, to, math.hypot(gx - x, gy - y)), steps=4)


@pytest.mark.parametrize("off", [-1.4, 1.4])
def test_parallel_is_caught_within_pixels_that_a_hand_can_hit(lesson: Lesson, off: float) -> None:
    """At least 10 px to both sides at the grip (WCAG 2.2 SC 2.5.8 asks 24 px of a target across)."""
    hand = Mouse(open_task(lesson, TASK))
    drag(hand, "n", 16 + off)
    hand.page.mouse.up()
    assert hand.direction("n") == 16


def test_a_direction_beside_parallel_can_still_be_had(lesson: Lesson) -> None:
    hand = Mouse(open_task(lesson, TASK))
    hand.turn("n", 16)
    hand.page.locator('[data-line="n"][data-part="b"]').focus()
    hand.page.keyboard.press("ArrowUp")
    assert hand.direction("n") == 17


def test_the_number_in_the_strip_is_the_line_s_in_every_frame(lesson: Lesson) -> None:
    hand = Mouse(open_task(lesson, TASK))
    page = hand.page
    page.evaluate("""() => { window.lag = []; const now = document.querySelector('.strip-now');
      new MutationObserver(() => window.lag.push(now.textContent)).observe(now, {subtree: true, childList: true, characterData: true}); }""")
    drag(hand, "n", 30)
    expect(page.locator(".strip-now[data-on]")).to_have_text("30")
    assert len(set(page.evaluate("window.lag"))) >= 4, "it doesn't wait for the hand to rest"
    page.mouse.up()
    expect(page.locator(".strip-now[data-on]")).to_have_count(0)
    expect(page.locator(".strip-field")).to_have_value("30")


def test_that_lines_will_meet_again_is_said_only_of_lines_that_stood_parallel(lesson: Lesson) -> None:
    hand = Mouse(open_task(lesson, TASK))
    page = hand.page
    page.evaluate("""() => { window.said = []; const at = document.querySelector('#verdict');
      new MutationObserver(() => window.said.push(at.textContent)).observe(at, {subtree: true, childList: true, characterData: true}); }""")
    drag(hand, "n", 16)
    page.locator("#verdict", has_text="equal directions").wait_for()
    page.mouse.move(*hand.pointing("n", 30, 200), steps=6)
    page.mouse.up()
    assert not [text for text in page.evaluate("window.said") if "meet again" in text], "they only came past"
    hand.turn("n", 16)
    hand.turn("n", 30)
    expect(page.locator("#verdict")).to_have_text("Now m and n will meet again.")


def test_a_line_says_why_it_stops_where_it_is_seen(lesson: Lesson) -> None:
    page = open_task(lesson, TASK)
    page.get_by_role("button", name="Line n", exact=True).click()
    page.locator(".strip-field").fill("66")
    page.locator(".strip-field").press("Enter")
    expect(page.locator(".figure-note[data-on] .figure-halt")).to_contain_text(
        "Line n stops here: further on, it would cross too flatly"
    )
    page.locator(".strip-field").fill("20")
    page.locator(".strip-field").press("Enter")
    expect(page.locator(".figure-halt")).to_have_count(0)


def test_what_is_heard_of_a_move_is_what_it_changed(lesson: Lesson) -> None:
    page = open_task(lesson, TASK)
    told = page.locator(".figure [role=status]")
    grip = page.locator('[data-line="n"][data-part="b"]')
    grip.focus()
    page.keyboard.press("ArrowUp")
    expect(told).to_have_text(
        "Line n: 6 degrees. Angle 5: 120 degrees, Angle 6: 60 degrees, Angle 7: 60 degrees and Angle 8: 120 degrees."
    )
    expect(grip).to_have_attribute("aria-valuetext", "6 degrees")
    ring = page.locator('[data-line="n"][data-part="ring"]')
    ring.focus()
    page.keyboard.press("ArrowUp")
    expect(told).to_contain_text("from where it was.")
    assert "Angle" not in told.inner_text(), "sliding changes no measure"
    assert re.fullmatch(r"[\d.]+ units up from where it was", ring.get_attribute("aria-valuetext") or "")


def test_the_description_is_a_list_and_stands_once(lesson: Lesson) -> None:
    page = open_task(lesson, TASK)
    page.locator(".figure-words li").nth(7).wait_for(state="attached")
    assert page.locator(".figure-svg").get_attribute("aria-describedby") is None
    assert page.locator(".figure-words").evaluate("one => !one.textContent.includes('- ')")


def test_what_is_written_on_the_strip_is_in_its_names(lesson: Lesson) -> None:
    """WCAG 2.2 SC 2.5.3, label in name."""
    page = open_task(lesson, TASK)
    for button in page.locator(".figure-strip button").all():
        written, name = (
            button.inner_text().split("\n")[-1].strip(),
            button.get_attribute("aria-label") or button.inner_text(),
        )
        assert written and written in name
