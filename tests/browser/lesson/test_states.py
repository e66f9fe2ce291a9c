"""Each task page in its other states: the optional tasks, answers that are wrong, narrow windows (X-1, A-07)."""

from __future__ import annotations

from typing import Any

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import LAPTOP, PACK, PHONE, ZOOMED, Lesson
from tests.browser.lesson.hands import Mouse, Taps
from tests.browser.lesson.walk import Student, Task, parts_of

pytestmark = pytest.mark.browser
NARROWEST = (320, 256)  # a window of 1280 × 1024 at 400 % (WCAG 2.2 SC 1.4.10)
ALL = [task for tasks in parts_of(optional=True).values() for task in tasks]
LEFT = [task for task in ALL if task["id"] not in {t["id"] for tasks in parts_of().values() for t in tasks}]


def alone(lesson: Lesson, size: tuple[int, int], task: Task, **more: Any) -> Any:
    page = lesson.page(size, **more)
    page.goto(f"/alone/{PACK}/#{task['id']}")
    expect(page.locator("#title")).to_have_text(task["title"])
    page.locator("#card > *").first.wait_for()
    return page


@pytest.mark.parametrize("size", [NARROWEST, ZOOMED], ids=["320x256", "683x316"])
def test_no_task_scrolls_sideways(lesson: Lesson, size: tuple[int, int]) -> None:
    page = alone(lesson, size, ALL[0])
    for task in ALL:
        page.locator(f'.path-task[title="{task["title"]}"]').click()
        expect(page.locator("#title")).to_have_text(task["title"])
        page.locator("#card > *").first.wait_for()
        lesson.fits(page, task["id"])


@pytest.mark.parametrize("size", [LAPTOP, PHONE], ids=["laptop", "phone"])
def test_the_optional_tasks_too_are_without_barriers(lesson: Lesson, size: tuple[int, int]) -> None:
    page = alone(lesson, size, LEFT[0])
    for task in LEFT:
        page.locator(f'.path-task[title="{task["title"]}"]').click()
        expect(page.locator("#title")).to_have_text(task["title"])
        page.locator("#card > *").first.wait_for()
        lesson.check(page, task["id"])
        lesson.fits(page, task["id"])


def wrong(student: Student, task: Task) -> None:
    """An answer of this kind that can't be right."""
    page, hand = student.page, student.hand
    if task["kind"] == "classify":
        for i in range(len(task["pairs"])):
            hand.press(page.locator("#card .pair").nth(i))
            if task["transversal"]:
                hand.check(page.locator('#card .choices-row input[value=""]'))
            hand.check(page.locator('#card .pair-names input[value="none"]'))
        hand.press(student.button("Check"))
    elif task["kind"] == "explore":
        hand.check(page.locator("#card .choices input").nth((task["question"]["answer"] + 1) % 3))
        hand.press(student.button("Check my answer"))
    elif task["kind"] == "justify":
        values = {"a": "3", "b": "5", "pair": "corresponding", "transversal": "t", "relation": "congruent", "l": "m", "m": "n",
                  "theorem": "corresponding-angles"}  # fmt: skip
        for blank, value in values.items():
            hand.choose(page.locator(f'[data-blank="{blank}"]'), value)
        hand.press(student.button("Check my reason"))
    elif task["kind"] == "solve":
        hand.write(page.locator(".blank-number").first, "1")
        hand.press(student.button("Hand in"))
    else:
        hand.reason(page.locator(".reason-field").first, {"id": "vertical-angles", "name": "Vertical Angles Theorem"})
        hand.press(student.button("Hand in the proof"))


WRONG = ["names-at-one-crossing", "neighbors", "make-them-equal", "enough-same-side", "chain-alternate-exterior"]


@pytest.mark.parametrize("name", ["mouse", "taps"])
def test_a_wrong_answer_says_what_failed_and_where(lesson: Lesson, name: str) -> None:
    """Never a bare "wrong": a sentence in the verdict line, nothing done, and the page still without barriers."""
    touch = {"has_touch": True, "is_mobile": True} if name == "taps" else {}
    tasks = [next(task for task in ALL if task["id"] == one) for one in WRONG]
    page = alone(lesson, PHONE if name == "taps" else LAPTOP, tasks[0], **touch)
    student = Student(lesson, page, (Taps if name == "taps" else Mouse)(page), "", lesson.data)
    for task in tasks:
        student.go(task)
        wrong(student, task)
        line = page.locator("#verdict")
        expect(line).to_have_attribute("data-tone", "mend")
        expect(line).not_to_have_text("")
        assert len(line.inner_text().split()) >= 6, line.inner_text()
        expect(page.locator('.path-task[aria-current="step"] .path-tick')).to_have_text("")
        lesson.check(page, f"{task['id']}, a wrong answer, {name}")
        lesson.fits(page, task["id"])
