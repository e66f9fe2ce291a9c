"""The whole core lesson once in Firefox: from the period code to the exit ticket, by mouse."""

from __future__ import annotations

from typing import Any

import pytest

from tests.browser.conftest import Lesson
from tests.browser.lesson.walk import at_the_door, whole_lesson

pytestmark = pytest.mark.browser


def test_the_core_lesson_in_firefox(lesson: Lesson, firefox: Any) -> None:
    teacher = lesson.teacher()
    period = lesson.period(teacher)
    student = at_the_door(lesson, period, teacher, "mouse", 21, browser=firefox)
    whole_lesson(student, teacher, period)
