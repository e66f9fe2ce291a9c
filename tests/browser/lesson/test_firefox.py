"""The same lesson in the other engine: coming in, a drag, names, a sentence, a row of a proof, an arc."""

from __future__ import annotations

from typing import Any

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import Lesson
from tests.browser.lesson.walk import enter, parts_of

pytestmark = pytest.mark.browser


def test_a_lesson_in_firefox(lesson: Lesson, firefox: Any) -> None:
    teacher = lesson.teacher()
    period = lesson.period(teacher)
    student = enter(lesson, period, teacher, "mouse", 21, browser=firefox)
    page, parts = student.page, parts_of(optional=True)
    for task in (parts["explore"][0], parts["name-the-pairs"][0], parts["justify"][0], parts["construction"][1]):
        student.go(task)
        student.do(task)
    blank = next(task for task in parts["chain"] if task.get("support") == "blank")
    student.go(blank)
    row = student.key(blank)["rows"][1]
    student.state(page.locator('.statement-field[aria-label^="Row 2,"]'), row["statement"])
    student.hand.reason(page.locator('.reason-field[aria-label^="Row 2,"]'), {"id": row["reason"], "name": row["name"]})
    student.hand.press(student.button("Check my rows"))
    expect(page.locator('tbody[data-verdict="follows"]')).to_have_count(1)
    expect(page.locator("#verdict")).to_have_attribute("data-tone", "good")
    done = {t["id"]: t["done"] for p in lesson.call(teacher, "GET", f"{period.path}state")["parts"] for t in p["tasks"]}
    assert sum(done.values()) == 4
