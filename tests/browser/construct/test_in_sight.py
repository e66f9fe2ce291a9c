"""On a small laptop's screen nothing that a construction needs is out of sight, in any of its states."""

from __future__ import annotations

from typing import Any

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import PACK
from tests.browser.construct.paper import Paper, Place
from tests.browser.construct.test_paper import put_work
from tests.browser.drawn import drawn

pytestmark = pytest.mark.browser

SIZES = [(1366, 633), (1280, 585)]
TASKS = [(PACK, "copy-an-angle"), (PACK, "parallel-through-p")]
# Whole in the window, and nothing over it: the middle and the four corners, a little inside, belong to the thing.
SEEN = """thing => {
  const r = thing.getBoundingClientRect();
  if (!r.width || r.left < -1 || r.top < -1 || r.right > innerWidth + 1 || r.bottom > innerHeight + 1) return false;
  return [[.5, .5], [.03, .1], [.97, .1], [.03, .9], [.97, .9]].every(([x, y]) => {
    const hit = document.elementFromPoint(r.left + r.width * x, r.top + r.height * y);
    return hit && (thing.contains(hit) || hit.contains(thing));
  });
}"""


def in_sight(page: Any, *things: Any) -> None:
    drawn(page)
    for thing in things:
        assert thing.evaluate(SEEN), thing


def always(page: Any) -> None:
    """What stands there in every state: the paper, large enough to work on; the instruments; what to do; the main button."""
    in_sight(page, page.locator(".c-instruments"), page.locator("#c-now"), page.get_by_role("button", name="Check my construction"),
             page.locator("#title"), page.locator(".seat-ask"), page.get_by_role("button", name="Next step?"))  # fmt: skip
    box = page.locator(".c-sheet").bounding_box()
    assert box["height"] >= 300 and box["width"] >= 600, box


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("task", [task for _, task in TASKS])
def test_start_half_wrong_and_right(lesson: Any, size: tuple[int, int], task: str) -> None:
    paper = Paper(lesson, task, size, reduced_motion="reduce")
    page = paper.page
    verdict = page.locator("#verdict")
    always(page)
    key = lesson.call(page, "POST", f"/alone/{PACK}/task/{task}/ask/demonstration")
    half = len(key["moves"]) // 2
    put_work(paper, task, key["moves"][:half])
    always(page)
    last_step(page)
    paper.press("Next step?")
    expect(verdict).not_to_have_text("")
    always(page)
    assert page.locator("#c-now").inner_text() == paper.said()
    # Wrong: a line by eye.
    free_line(paper, task)
    paper.check()
    always(page)
    in_sight(page, verdict)
    if page.get_by_role("button", name="Show where the lines would meet").count():
        in_sight(page, page.get_by_role("button", name="Show where the lines would meet"))
    # Right, its reasons, and the shaking.
    lesson.call(page, "PUT", f"/alone/{PACK}/work/{task}", {"n": 9999, "work": {"moves": key["moves"]}})
    page.reload()
    page.locator(".c-step").nth(half).wait_for()
    assert paper.check().startswith("Constructed")
    always(page)
    in_sight(
        page,
        verdict,
        page.get_by_role("button", name="Why does it work?"),
        page.get_by_role("button", name="Does it hold? Shake it"),
    )
    last_step(page)
    paper.press("Why does it work?")
    while page.get_by_role("button", name="Next reason").is_enabled():
        in_sight(page, page.locator(".c-reason"), page.get_by_role("button", name="Next reason"))
        paper.press("Next reason")
    paper.press("Close")
    paper.press("Does it hold? Shake it")
    in_sight(page, page.locator(".c-claim"), page.get_by_role("button", name="Put it back"))


def free_line(paper: Paper, task: str) -> None:
    page = paper.page
    paper.pick("Straightedge")
    start: Place = paper.at("W" if task == "copy-an-angle" else "P")
    page.mouse.click(*start)
    page.mouse.click(start[0] + 137, start[1] - 41)


def last_step(page: Any) -> None:
    """The step done last is read without scrolling by the student."""
    in_view = """item => { const r = item.getBoundingClientRect();
        return document.elementFromPoint(r.left + 30, r.top + Math.min(12, r.height / 2))?.closest('li') === item; }"""
    drawn(page)
    assert page.locator(".c-steps li").last.evaluate(in_view)
