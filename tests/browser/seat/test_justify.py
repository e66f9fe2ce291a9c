"""Justify: the sentence filled in by tapping the figure or from lists; the verdict underlines the blank that fails and says why."""

from __future__ import annotations

from typing import Any

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import LAPTOP, PHONE, ZOOMED, Lesson, saved
from tests.browser.seat.hands import WAYS, Hands, hands, open_task

pytestmark = pytest.mark.browser

TASK = "enough-alternate"  # given ∠4 ≅ ∠5: inside, on opposite sides of t (Euclid I.27 makes m and n parallel)
RIGHT = {
    "pair": "alternate interior", "transversal": "t", "relation": "congruent", "l": "m", "m": "n",
    "theorem": "alternate-interior-angles-converse",
}  # fmt: skip


def complete(hand: Hands, **other: str) -> None:
    for blank, value in {**RIGHT, **other}.items():
        hand.choose(f"[data-blank={blank}]", value)


@pytest.mark.parametrize("way", WAYS)
def test_a_student_says_why_the_lines_are_parallel(lesson: Lesson, way: str) -> None:
    hand = hands(way, lesson, TASK)
    page = hand.page
    hand.angle("4")
    hand.angle("5")
    assert [page.locator(f"[data-blank={name}]").input_value() for name in "ab"] == ["4", "5"]
    complete(hand)
    hand.press(".hand-in .action")
    assert "∥" in hand.verdict()
    assert page.locator("#verdict").get_attribute("data-tone") == "good"
    assert page.locator("[data-blank][data-ok=true]").count() == 8
    assert page.locator(".arrows[data-tone=follows]").count() == 2, "what follows is marked in the accent"


@pytest.mark.parametrize(
    ("blank", "value", "said"),
    [
        ("relation", "supplementary", "congruent would"),
        ("theorem", "alternate-interior-angles", "Alternate Interior Angles"),
        ("pair", "corresponding", "opposite sides"),
        ("transversal", "m", "t"),
        ("theorem", "looks-parallel", ""),
    ],
)
def test_the_blank_that_fails_is_underlined_and_told(lesson: Lesson, blank: str, value: str, said: str) -> None:
    hand = hands("mouse", lesson, TASK)
    page: Any = hand.page
    hand.angle("4")
    hand.angle("5")
    complete(hand, **{blank: value})
    hand.press(".hand-in .action")
    text = hand.verdict()
    assert page.locator("#verdict").get_attribute("data-tone") == "mend"
    assert page.locator(f"[data-blank={blank}]").get_attribute("data-ok") == "false"
    assert page.locator(f"[data-blank={blank}]").get_attribute("aria-invalid") == "true"
    assert said in text and len(text) > 25, text
    lesson.check(page, f"{blank} fails")


def test_not_enough_is_an_answer_and_a_wrong_claim_is_met_by_another_figure(lesson: Lesson) -> None:
    """Consecutive interior angles that are congruent make nothing parallel (postulate 5 asks for two right angles)."""
    hand = hands("mouse", lesson, "enough-same-side")
    page = hand.page
    hand.angle("3")
    hand.angle("5")
    complete(
        hand, pair="consecutive interior", relation="supplementary", theorem="consecutive-interior-angles-converse"
    )
    hand.press(".hand-in .action")
    hand.verdict()
    assert page.locator("#verdict").get_attribute("data-tone") == "mend"
    page.locator(".beside .figure-svg").wait_for()
    lesson.check(page, "the other figure beside")
    page.get_by_role("button", name="Not enough information").click()
    page.locator("#verdict[data-tone=good]").wait_for()


def test_an_empty_blank_is_asked_for_and_gets_the_focus(lesson: Lesson) -> None:
    page = open_task(lesson, TASK)
    page.locator(".hand-in .action").click()
    page.locator("#verdict", has_text="Fill this blank first").wait_for()
    assert page.evaluate("document.activeElement.dataset.blank") == "a"


def test_hints_unfold_one_after_the_other(lesson: Lesson) -> None:
    page = open_task(lesson, TASK)
    for level in (1, 2, 3):
        slip = page.locator(".slips .slip").nth(level - 1)
        slip.locator("summary").click()
        slip.locator(".hint-text:not(:empty)").wait_for()
    texts = page.locator(".hint-text").all_inner_texts()
    assert len(set(texts)) == 3


def test_work_in_progress_is_there_again_after_a_reload(lesson: Lesson) -> None:
    hand = hands("mouse", lesson, TASK)
    hand.angle("4")
    hand.choose("[data-blank=relation]", "congruent")
    saved(hand.page)
    hand.page.reload()
    hand.page.locator("[data-blank=relation]").wait_for()
    assert hand.page.locator("[data-blank=a]").input_value() == "4"
    assert hand.page.locator("[data-blank=relation]").input_value() == "congruent"


@pytest.mark.parametrize("size", [LAPTOP, ZOOMED, PHONE, (320, 256)], ids=lambda size: f"{size[0]}x{size[1]}")
def test_the_sentence_is_accessible_and_fits(lesson: Lesson, size: tuple[int, int]) -> None:
    page = open_task(lesson, TASK, size)
    lesson.check(page, "empty")
    lesson.fits(page, "empty")
    for blank, value in {**RIGHT, "a": "4", "b": "5"}.items():
        page.locator(f"[data-blank={blank}]").select_option(value)
    lesson.fits(page, "filled")
    page.locator(".hand-in .action").click()
    page.locator("#verdict[data-tone=good]").wait_for()
    lesson.check(page, "done")
    lesson.fits(page, "done")


def test_a_tap_on_a_crossing_asks_which_line_and_fills_it_in(lesson: Lesson) -> None:
    """No blank of the sentence takes a crossing, so none is offered."""
    page = open_task(lesson, "enough-alternate")
    box = page.locator("#paper .meet-dot").first.bounding_box()
    page.mouse.click(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
    offered = page.locator(".figure-which button")
    expect(offered).to_have_text(["line m", "line t", "none of these"])
    offered.nth(1).click()
    expect(page.locator("[data-blank=transversal]")).to_have_value("t")
    expect(page.locator("#paper .meet[role=button]")).to_have_count(0)
