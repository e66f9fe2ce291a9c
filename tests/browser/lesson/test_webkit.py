"""The whole core lesson once in WebKit, the engine of tablets: from the period code to the exit ticket, by mouse."""

from __future__ import annotations

import pytest

from tests.browser.conftest import LAPTOP, Lesson
from tests.browser.lesson.walk import HANDS, Student, seat_of, whole_lesson
from tests.browser.webkit import webkit_page

pytestmark = pytest.mark.browser


def test_the_core_lesson_in_webkit(lesson: Lesson) -> None:
    teacher = lesson.teacher()
    period = lesson.period(teacher)
    with webkit_page(lesson.base, LAPTOP) as page:
        page.goto("/")
        page.fill("#code", period.code)
        page.click("main button[type=submit]")
        page.wait_for_url("/enter/name")
        page.fill("#number", "23")
        page.locator("#number ~ button").click()
        page.wait_for_url("/seat/")
        page.locator(".path-task").first.wait_for()
        student = Student(
            lesson, page, HANDS["mouse"](page), seat_of(lesson, teacher, period, 23), lesson.data, period=period.id
        )
        whole_lesson(student, teacher, period)
