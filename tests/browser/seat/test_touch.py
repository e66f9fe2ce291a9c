"""Each line of a figure is turned and slid by a real finger, on a phone and on a small laptop with a touch screen."""

from __future__ import annotations

import math
from typing import Any

import pytest

from tests.browser.conftest import LAPTOP, PHONE, Lesson
from tests.browser.seat.hands import open_task
from tests.browser.see import expect
from tests.browser.touch import Finger

pytestmark = pytest.mark.browser
SIZES = {"phone": PHONE, "touch laptop": LAPTOP}
TASK = "make-them-equal"


def middle(page: Any, selector: str) -> tuple[float, float]:
    box = page.locator(selector).first.bounding_box()
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


def lines_of(page: Any) -> list[str]:
    found: list[str] = page.locator('.handle[data-part="b"]').evaluate_all("all => all.map(one => one.dataset.line)")
    return found


def opened(lesson: Lesson, size: str, task: str = TASK) -> tuple[Any, Finger]:
    page = open_task(lesson, task, SIZES[size], has_touch=True, is_mobile=size == "phone")
    page.locator(".handle").first.wait_for(state="attached")
    page.evaluate("""() => { window.cancelled = 0;
        addEventListener('pointercancel', () => { window.cancelled += 1; }, true); }""")
    return page, Finger(page)


@pytest.mark.parametrize("size", SIZES)
def test_every_line_turns_under_a_finger(lesson: Lesson, size: str) -> None:
    page, finger = opened(lesson, size)
    assert lines_of(page)
    for line in lines_of(page):
        grip, ring = (middle(page, f'.handle[data-line="{line}"][data-part="{part}"]') for part in ("b", "ring"))
        before = float(page.locator(f'[data-line="{line}"][data-part="b"]').get_attribute("aria-valuenow"))
        # A quarter turn would meet a limit; fifteen degrees in both directions don't, one of them at least.
        turned = []
        for way in (15, -30):
            finger.swing(ring, middle(page, f'.handle[data-line="{line}"][data-part="b"]'), way)
            turned.append(float(page.locator(f'[data-line="{line}"][data-part="b"]').get_attribute("aria-valuenow")))
        assert max(abs((now - before + 90) % 180 - 90) for now in turned) >= 5, (line, before, turned, grip)
    assert page.evaluate("window.cancelled") == 0, "the browser took the finger for its own"
    assert page.evaluate("scrollY") == 0


@pytest.mark.parametrize("size", SIZES)
def test_every_line_slides_under_a_finger(lesson: Lesson, size: str) -> None:
    page, finger = opened(lesson, size)
    for line in lines_of(page):
        ring = f'.handle[data-line="{line}"][data-part="ring"]'
        at, end = middle(page, ring), middle(page, f'.handle[data-line="{line}"][data-part="b"]')
        along = math.atan2(end[1] - at[1], end[0] - at[0]) + math.pi / 2
        moved = []
        for far in (24, -48):
            start = middle(page, ring)
            finger.drag(start, (start[0] + far * math.cos(along), start[1] + far * math.sin(along)))
            now = middle(page, ring)
            moved.append(math.hypot(now[0] - at[0], now[1] - at[1]))
        assert max(moved) >= 10, (line, moved)
    assert page.evaluate("window.cancelled") == 0


@pytest.mark.parametrize("size", SIZES)
def test_a_touch_that_the_system_takes_away_puts_the_line_back(lesson: Lesson, size: str) -> None:
    """A-17."""
    page, finger = opened(lesson, size)
    grip, ring = (middle(page, f'.handle[data-line="n"][data-part="{part}"]') for part in ("b", "ring"))
    r, a = math.hypot(grip[0] - ring[0], grip[1] - ring[1]), math.atan2(ring[1] - grip[1], grip[0] - ring[0])
    finger.down(grip)
    for k in range(1, 13):
        turn = a + math.radians(k)
        finger.move((ring[0] + r * math.cos(turn), ring[1] - r * math.sin(turn)))
    expect(page.locator(".strip-field")).not_to_have_value("5")
    finger.cancel()
    expect(page.locator(".strip-field")).to_have_value("5")


def test_a_finger_beside_the_handles_scrolls_the_page(lesson: Lesson) -> None:
    """The paper is most of a phone's window: whoever swipes over it wants to go on reading."""
    page, finger = opened(lesson, "phone")
    page.evaluate("document.body.style.minHeight = '200vh'")
    sheet = page.locator(".figure-svg").first.bounding_box()
    handles = [middle(page, f".handle >> nth={i}") for i in range(page.locator(".handle").count())]
    places = [(sheet["x"] + sheet["width"] * i / 12, sheet["y"] + sheet["height"] * 0.8) for i in range(1, 12)]
    x, y = max(places, key=lambda p: min(math.hypot(p[0] - h[0], p[1] - h[1]) for h in handles))
    finger.drag((x, y), (x, y - 160))
    page.wait_for_function("() => scrollY > 60")
