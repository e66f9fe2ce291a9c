"""What a finger presses at the Seat is 44 px wide and high, in every kind of task and every state (WCAG 2.2 SC 2.5.5)."""

from __future__ import annotations

from typing import Any

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import LAPTOP, PACK, PHONE, Lesson
from tests.in_sight import ROOT, Looker, tasks_of, works

pytestmark = pytest.mark.browser
SIZES = {"phone": (PHONE, True), "touch laptop": (LAPTOP, False)}
# One of each kind, and of each form that has controls of its own.
TASKS = [
    "names-at-one-crossing", "make-them-equal", "enough-alternate", "chain-alternate-exterior", "neighbors", "copy-an-angle",
    "relatives-of-a-sentence", "mixed",
]  # fmt: skip
# The box that a finger has: a radio's or a check box's whole label. Handles of a figure have a circle around their ink. A word that
# is a link or a blank inside a sentence may be as high as its line, which the blanks here don't need.
SMALL = r"""() => {
  const shown = e => e.checkVisibility({visibilityProperty: true}) && e.getClientRects().length;
  const controls = document.querySelectorAll('#main :is(a[href], button, input:not([type=hidden]), select, textarea, summary, [role=option], [role=slider])');
  const found = [];
  for (const e of controls) {
    if (!shown(e) || e.matches(':disabled') || e.closest('[hidden], details:not([open]) > :not(summary)')) continue;
    const whole = /radio|checkbox/.test(e.type) ? e.labels[0] : e.querySelector(':scope > .handle-hit, :scope > .c-hit') ?? e;
    const b = whole.getBoundingClientRect();
    if (b.width < 43.5 || b.height < 43.5) found.push(`${e.tagName} ${e.getAttribute('class')} "${(e.getAttribute('aria-label') || e.textContent).trim().slice(0, 30)}" ${b.width.toFixed(1)}x${b.height.toFixed(1)}`);
  }
  return [controls.length, found];
}"""


def unfold(page: Any) -> None:
    """Open all that is folded in the card, and the tools of a row of a proof, as somebody at work would have them."""
    for slip in page.locator("#card details:not([open]) > summary").all():
        if slip.is_visible():
            slip.click()
    field = page.locator(".statement-field, .reason-field").last
    if field.count():
        field.click()


@pytest.mark.parametrize("size", SIZES)
@pytest.mark.parametrize("task_id", TASKS)
def test_all_that_is_pressed_has_room_for_a_finger(lesson: Lesson, task_id: str, size: str) -> None:
    view, mobile = SIZES[size]
    looker = Looker(lesson, PACK, ROOT / "lesson_packs", size=view, has_touch=True, is_mobile=mobile)
    page = looker.page
    assert page.evaluate("matchMedia('(any-pointer: coarse)').matches")
    task = next(one for one in tasks_of(ROOT / "lesson_packs", PACK) if one["id"] == task_id)
    kept = works(task, looker.ctx(task))
    small, most = set(), 0
    for n, state in enumerate(("start", "wrong", "right")):
        if state != "start":
            if kept.get(state) is None:
                continue
            lesson.call(page, "PUT", f"/alone/{PACK}/work/{task_id}", {"n": 10_000_000 * (n + 1), "work": kept[state]})
        looker._open(task)
        if state != "start":
            looker._hand_in(state)
        unfold(page)
        count, found = page.evaluate(SMALL)
        most = max(most, count)
        small |= {f"{state}: {one}" for one in found}
    for menu in page.locator(".seat-menu > summary").all():
        menu.click()
        small |= {f"menu: {one}" for one in page.evaluate(SMALL)[1]}
    assert most > 30, "the page has hardly a control: it was measured before it was there"
    assert not small, "\n".join(sorted(small))


@pytest.mark.parametrize("far", [0, 21])
def test_a_finger_that_is_21_px_beside_a_point_of_a_construction_means_it(lesson: Lesson, far: int) -> None:
    """The points and crossings of the paper have a reach of 22 px and more for a finger, of 15 for a mouse."""
    looker = Looker(lesson, PACK, ROOT / "lesson_packs", size=PHONE, has_touch=True, is_mobile=True)
    page = looker.page
    looker._open(next(one for one in tasks_of(ROOT / "lesson_packs", PACK) if one["id"] == "copy-an-angle"))
    box = page.locator('.c-spot[aria-label="Point V"]').bounding_box()
    page.touchscreen.tap(box["x"] + box["width"] / 2 - far, box["y"] + box["height"] / 2)
    expect(page.locator(".c-now")).to_contain_text("Point on V")
