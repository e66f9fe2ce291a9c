"""Classify: name pairs, find pairs, say which line is the transversal; by mouse, by taps alone, by keyboard alone.

The right names come from the textbook table of tests/figure (Euclid I.29's exterior and interior, a textbook's six names), by position
on the page: this module states them as words, not by asking the program.
"""

from __future__ import annotations

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import PHONE, ZOOMED, Lesson
from tests.browser.drawn import drawn
from tests.browser.seat.hands import WAYS, Mouse, hands, open_task

pytestmark = pytest.mark.browser

# Two lines and a transversal, numbered 1 2 over 3 4 above and 5 6 over 7 8 below.
NAMES = {
    "∠3 ∠6": "alternate interior angles",
    "∠2 ∠6": "corresponding angles",
    "∠1 ∠8": "alternate exterior angles",
    "∠4 ∠6": "consecutive interior angles",
    "∠2 ∠8": "consecutive exterior angles",
}


@pytest.mark.parametrize("way", WAYS)
def test_a_student_names_five_pairs(lesson: Lesson, way: str) -> None:
    hand = hands(way, lesson, "pairs-upright")
    page = hand.page
    for i, (pair, name) in enumerate(NAMES.items(), 1):
        hand.press(f".pair:nth-child({i})")
        assert page.locator(".pair[aria-current]").inner_text().startswith(pair)
        expect(page.locator(".angle[data-picked]")).to_have_count(2)
        picked = page.locator(".angle[data-picked]").evaluate_all("all => all.map((one) => `∠${one.dataset.name}`)")
        assert sorted(picked) == sorted(pair.split())
        hand.radio(name)
    hand.press(".hand-in .action")
    hand.verdict()
    assert page.locator("#verdict").get_attribute("data-tone") == "good"
    assert page.locator(".pair[data-state=good]").count() == 5
    assert page.locator(".trace[d]").count() == 1, "the path of the pair is drawn over the figure"


def test_a_wrong_name_is_answered_with_how_the_pair_lies(lesson: Lesson) -> None:
    hand = hands("mouse", lesson, "pairs-upright")
    page = hand.page
    for i in range(5):
        hand.press(f".pair:nth-child({i + 1})")
        hand.radio("corresponding angles")
    hand.press(".hand-in .action")
    text = hand.verdict()
    assert "transversal t" in text and "opposite sides" in text and "alternate" not in text
    assert page.locator(".pair[data-state=mend]").count() == 4
    assert page.locator(".pair[data-state=good]").count() == 1
    lesson.check(page, "four pairs to mend")


def test_a_missing_name_is_asked_for_before_anything_is_sent(lesson: Lesson) -> None:
    page = open_task(lesson, "pairs-upright")
    page.locator(".hand-in .action").click()
    page.locator("#verdict", has_text="Give ∠3 and ∠6 a name first.").wait_for()
    assert page.locator("#verdict").get_attribute("data-tone") == "plain", "what nobody has come to yet is no mistake"


def test_check_stays_with_the_pair_on_show_and_speaks_of_it(lesson: Lesson) -> None:
    """A choice, then Check: no other pair is called up, nothing is scolded; a verdict goes with its pair."""
    hand = hands("mouse", lesson, "pairs-upright")
    page = hand.page
    shown = page.locator(".pair[aria-current]")
    hand.radio("corresponding angles")
    page.locator(".hand-in .action").click()
    expect(page.locator("#verdict")).to_have_text(
        "∠3 and ∠6 are named; 4 of 5 pairs are still open. Check looks at all of them together."
    )
    assert page.locator("#verdict").get_attribute("data-tone") == "plain"
    expect(shown).to_have_text("∠3 ∠6")
    for _ in range(4):
        page.get_by_role("button", name="Next pair").click()
        expect(page.locator("#verdict")).to_have_text("")
        hand.radio("corresponding angles")
    page.locator(".hand-in .action").click()
    page.locator("#verdict[data-tone=mend]").wait_for()
    for i in (0, 1, 2, 4):
        if i:
            page.locator(f".pair:nth-child({i + 1})").click()
        name = shown.inner_text()
        a, b = name.split()
        assert a in page.locator("#verdict").inner_text() and b in page.locator("#verdict").inner_text()
        assert name in (shown.get_attribute("aria-label") or ""), "what is written is in the name (WCAG 2.2 SC 2.5.3)"
    hand.radio("alternate exterior angles")
    expect(page.locator("#verdict")).to_have_text("")


def test_in_the_gable_the_transversal_is_asked_for_too(lesson: Lesson) -> None:
    hand = hands("mouse", lesson, "pairs-in-the-gable")
    page = hand.page
    # ∠4 and ∠7 lie at A and B, which both lie on beam m: m is the transversal, and the rafters s and t are the lines.
    lines = {"∠4 ∠9": "s", "∠4 ∠7": "m", "∠6 ∠14": "t", "∠11 ∠14": "n", "∠2 ∠7": "m"}
    names = {
        "∠4 ∠9": "alternate interior angles", "∠4 ∠7": "consecutive interior angles", "∠6 ∠14": "corresponding angles",
        "∠11 ∠14": "alternate exterior angles", "∠2 ∠7": "alternate interior angles",
    }  # fmt: skip
    for wrong in (True, False):
        for i, pair in enumerate(lines, 1):
            hand.press(f".pair:nth-child({i})")
            line = "t" if wrong and pair == "∠4 ∠7" else lines[pair]
            page.locator(f'.choices-row input[value="{line}"]').check()
            hand.radio(names[pair])
        hand.press(".hand-in .action")
        if wrong:
            page.locator("#verdict[data-tone=mend]").wait_for()
            assert page.locator(".pair[data-state=mend]").all_inner_texts() == ["∠4 ∠7"]
    page.locator("#verdict[data-tone=good]").wait_for()


@pytest.mark.parametrize("way", WAYS)
def test_pairs_are_found_by_choosing_two_angles(lesson: Lesson, way: str) -> None:
    hand = hands(way, lesson, "find-exterior")
    # Outside the two posts, on opposite sides of the rail: 1 and 8 above and below, and 3 and 6 (posts j and k stand, t lies).
    page = hand.page
    outside = [
        name
        for name in (str(n) for n in range(1, 9))
        if "outside" in page.locator(f'[data-kind=angle][data-name="{name}"]').get_attribute("aria-label")
    ]
    above = [
        n for n in outside if "above" in page.locator(f'[data-kind=angle][data-name="{n}"]').get_attribute("aria-label")
    ]
    pairs = [(a, b) for a in above for b in outside if b not in above and (int(a) < 5) != (int(b) < 5)]
    assert len(pairs) == 2
    for pair in pairs:
        for name in pair:
            hand.angle(name)
    hand.press(".hand-in .action")
    hand.verdict()
    assert page.locator("#verdict").get_attribute("data-tone") == "good"


def test_the_description_never_names_the_pair(lesson: Lesson) -> None:
    """D-4: what is asked for is not said."""
    for task in ("pairs-upright", "pairs-turned", "pairs-in-the-gable", "names-at-one-crossing"):
        page = open_task(lesson, task)
        page.locator(".figure-words li").first.wait_for(state="attached")
        for words in [
            page.locator(".figure").text_content(),
            *page.locator("[aria-label]").evaluate_all("all => all.map((e) => e.ariaLabel)"),
        ]:
            for banned in ("corresponding", "alternate", "consecutive", "vertical", "linear pair", "parallel"):
                assert banned not in (words or ""), f"{task}: {words}"


@pytest.mark.parametrize("task", ["pairs-in-the-gable", "find-exterior", "names-at-one-crossing"])
def test_every_classify_page_is_accessible_and_fits(lesson: Lesson, task: str) -> None:
    for size in (PHONE, ZOOMED, (320, 256)):
        page = open_task(lesson, task, size)
        lesson.check(page, f"{task} {size}")
        lesson.fits(page, f"{task} {size}")


def test_a_tap_on_a_crossing_asks_which_angle_is_meant(lesson: Lesson) -> None:
    """A-19: where targets overlap, a pick list."""
    page = open_task(lesson, "find-exterior")
    hand = Mouse(page)
    page.mouse.click(*hand.middle("[data-kind=meet] .meet-dot"))
    box = page.locator(".figure-which")
    box.wait_for()
    lesson.check(page, "pick list")
    assert box.get_by_role("button").count() == 5
    page.keyboard.press("Escape")
    box.wait_for(state="detached")
    page.mouse.click(*hand.middle("[data-kind=meet] .meet-dot"))
    box.get_by_role("button", name="∠3").click()
    page.locator('.angle[data-name="3"][data-picked]').wait_for()


def test_every_name_is_in_sight_on_a_low_screen(lesson: Lesson) -> None:
    """Also "not a named pair", the last one, beside a verdict of several lines."""
    page = open_task(lesson, "pairs-upright", (1366, 633))
    for wrong in (False, True):
        if wrong:
            for i in range(5):
                page.locator(f".pair:nth-child({i + 1})").click()
                page.locator(".pair-names input").first.check()
            page.locator(".hand-in .action").click()
            page.locator("#verdict[data-tone=mend]").wait_for()
            drawn(page)
        last = page.locator(".pair-names label").last
        assert last.inner_text() == "not a named pair"
        seen = last.evaluate("""one => { const box = one.getBoundingClientRect(); const at = document.elementFromPoint(box.x + 30, box.bottom - 4);
          return one.contains(at); }""")
        assert seen, f"hidden, {wrong=}"
