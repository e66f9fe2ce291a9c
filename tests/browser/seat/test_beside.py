"""The other figure beside a proof: large enough for sixteen angles, and what fails in it is marked (F3-06)."""

from __future__ import annotations

from typing import Any

import pytest

from tests.browser.conftest import LAPTOP, Lesson

pytestmark = pytest.mark.browser


@pytest.mark.parametrize("size", [LAPTOP, (1280, 585)], ids=["1366x633", "1280x585"])
def test_the_other_figure_has_room_and_marks(lesson: Lesson, size: tuple[int, int]) -> None:
    page: Any = lesson.page(size, reduced_motion="reduce")
    page.goto("/alone/twelve-proofs/#opposite-corners")
    row = page.get_by_label("Row 3, statement", exact=True)
    row.wait_for()
    row.fill("∠1 ≅ ∠2")
    reason = page.get_by_label("Row 3, reason", exact=True)
    reason.fill("Corresponding Angles Converse")
    reason.press("Enter")
    page.locator("#hand .action:visible").first.click()
    sheet = page.locator(".beside .figure-sheet")
    sheet.wait_for()
    box = sheet.bounding_box()
    assert box["width"] >= 500 and box["height"] >= (190 if size == LAPTOP else 140), box
    assert box["y"] + box["height"] <= size[1]
    assert page.locator(".beside .angle[data-tone=fails]").evaluate_all(
        "all => all.map(e => e.dataset.name).sort()"
    ) == ["1", "2"]
    measured = page.locator(".beside .figure-values div:visible")
    assert len(measured.all_inner_texts()) in (0, 2)  # in the strip only the two that are spoken of
    # The student's own figure is still there to compare.
    strip = page.locator(".beside .figure-values").bounding_box()
    assert strip is None or strip["y"] + strip["height"] <= size[1] - 50, strip
    own = page.locator("#paper > .figure .figure-sheet").bounding_box()
    assert own["height"] >= 90 and own["y"] + own["height"] <= box["y"] + 1, (own, box)
