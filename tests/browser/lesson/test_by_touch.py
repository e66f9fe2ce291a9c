"""The whole core lesson by real fingers on a phone: from the period code to the exit ticket, dragging where one drags."""

from __future__ import annotations

import pytest

from tests.browser.conftest import Lesson
from tests.browser.lesson.walk import at_the_door, whole_lesson

pytestmark = pytest.mark.browser


def test_the_core_lesson_by_real_touch(lesson: Lesson) -> None:
    teacher = lesson.teacher()
    period = lesson.period(teacher)
    student = at_the_door(lesson, period, teacher, "touch", 24)
    whole_lesson(student, teacher, period)
