"""The focus never falls to the page's body: every control of every kind of task is pressed, in three states (F11-01)."""

from __future__ import annotations

from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import PACK, Lesson
from tests.browser.drawn import drawn
from tests.in_sight import ROOT, Looker, tasks_of, works

pytestmark = pytest.mark.browser
TASKS = [
    "names-at-one-crossing",
    "make-them-equal",
    "enough-alternate",
    "chain-alternate-exterior",
    "neighbors",
    "mixed",
    "exit-name",
]
# Every control that a key can press here. Fields take typing; what leads away from the task is tried by itself.
PRESSED = "#card-side button, #card-side summary, #card-side input[type=radio], #card-side input[type=checkbox], .seat-paper button, .seat-menu > summary"
NAMED = """(css) => [...document.querySelectorAll(css)].map((e, i) => [i, e]).filter(([, e]) => e.checkVisibility({visibilityProperty: true})
  && !e.matches(':disabled') && e.getClientRects().length && e.tabIndex >= 0).map(([i, e]) => [i, (e.getAttribute('aria-label') || e.textContent || e.value).trim().slice(0, 40)])"""
HELD = "() => document.activeElement && document.activeElement !== document.body"


def press_all(page: Any, where: str) -> list[str]:
    """Press each control that is there at the start, one after the other; the names of those after which nothing has the focus."""
    bad = []
    for at, name in page.evaluate(NAMED, PRESSED):
        one = page.locator(PRESSED).nth(at)
        if not one.count() or not one.is_visible() or not one.is_enabled():
            continue  # an earlier press took it away
        one.focus()
        page.keyboard.press("Space")
        expect(page.locator("#verdict")).not_to_have_attribute("data-tone", "wait")
        # Two frames for what is drawn anew, two for the focus to be found a place.
        page.evaluate(
            "() => new Promise(done => { let n = 6; const step = () => (n -= 1) ? requestAnimationFrame(step) : done(); step(); })"
        )
        if not page.evaluate(HELD):
            bad.append(f"{where}: {name}")
    return bad


@pytest.mark.parametrize("task_id", TASKS)
def test_no_press_loses_the_focus(lesson: Lesson, task_id: str) -> None:
    folder: Path = ROOT / "lesson_packs"
    looker = Looker(lesson, PACK, folder)
    page = looker.page
    task = next(one for one in tasks_of(folder, PACK) if one["id"] == task_id)
    kept = works(task, looker.ctx(task))
    lost = []
    for n, state in enumerate(("start", "wrong", "right")):
        if state != "start":
            if kept.get(state) is None:
                continue
            if looker.closed or page.locator(".seat").get_attribute("data-frozen") == "true":
                looker._somebody_else()
                kept = works(task, looker.ctx(task))
            looker.lesson.call(
                page, "PUT", f"/alone/{PACK}/work/{task_id}", {"n": 10_000_000 * (n + 1), "work": kept[state]}
            )
        looker._open(task)
        drawn(page)
        lost += press_all(page, state)
    assert not lost, "\n".join(lost)
    page.context.close()


def test_what_the_teacher_does_leaves_the_focus_in_the_page(lesson: Lesson) -> None:
    """*Pencils down* and *Everyone here*, while a student has a control in hand."""
    teacher = lesson.teacher()
    period = lesson.period(teacher)
    seat = lesson.seat(period.code, (1366, 633))
    seat.goto("/seat/#names-at-one-crossing")
    seat.locator("#card .pair").first.wait_for()
    seat.locator("#hand .action:visible").first.focus()
    lesson.call(teacher, "POST", f"{period.path}freeze", {"on": True})
    expect(seat.locator(".seat")).to_have_attribute("data-frozen", "true")
    expect(seat.locator("#title")).to_be_focused()
    lesson.call(teacher, "POST", f"{period.path}freeze", {"on": False})
    expect(seat.locator(".seat")).to_have_attribute("data-frozen", "false")
    expect(seat.locator("#hand .action:visible").first).to_be_focused()  # where the hand was
    seat.locator("#card .pair-names input").first.focus()
    lesson.call(teacher, "POST", f"{period.path}step", {"task": "enough-alternate"})
    seat.locator("[data-blank=theorem]").wait_for()
    drawn(seat)
    assert seat.evaluate(HELD)
