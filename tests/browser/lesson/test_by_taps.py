"""Every task of the core lesson done by taps alone, on a phone (A-18, WCAG 2.2 SC 2.5.7), part by part, through the page's own controls."""

from __future__ import annotations

import pytest

from tests.browser.conftest import Lesson
from tests.browser.lesson.walk import parts_of, whole_part

pytestmark = pytest.mark.browser


@pytest.mark.parametrize("part", list(parts_of()))
def test_the_part_can_be_done_by_taps(lesson: Lesson, part: str) -> None:
    whole_part(lesson, "taps", part)
