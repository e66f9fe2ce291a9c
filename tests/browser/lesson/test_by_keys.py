"""The whole core lesson by the keyboard alone (A-11, WCAG 2.2 SC 2.1.1): from the period code to the exit ticket, in one sitting."""

from __future__ import annotations

import pytest

from tests.browser.conftest import Lesson
from tests.browser.lesson.walk import at_the_door, whole_lesson

pytestmark = pytest.mark.browser


def test_the_core_lesson_by_keys(lesson: Lesson) -> None:
    teacher = lesson.teacher()
    period = lesson.period(teacher)
    student = at_the_door(lesson, period, teacher, "keys", 7)
    whole_lesson(student, teacher, period)
