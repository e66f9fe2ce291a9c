"""F4-07: ∠ ≅ ∥ ∦ ⊥ △ ∼ come from a face of our own in every browser, in roman, italic and bold, on pages and on sheets.

Its advance widths (`tests/draw_signs.py`) are compared with what a browser sets: 1 em is 1000 units (OpenType, *hmtx*).
"""

from __future__ import annotations

from typing import Any

import pytest

from tests.browser.conftest import LAPTOP, Lesson
from tests.browser.webkit import webkit_page
from tests.draw_signs import FILE, WIDTHS

MEASURE = """async (signs) => {
  await document.fonts.load('100px "Eight Angles Signs"', signs);
  await document.fonts.load('italic 100px "Eight Angles Signs"', signs);
  const found = {};
  for (const how of ['var(--serif)', 'var(--sans)']) for (const style of ['normal', 'italic']) for (const weight of [400, 700]) for (const sign of signs) {
    const e = document.createElement('span');
    e.style.cssText = `position:absolute;white-space:nowrap;font:${style} ${weight} 100px/1 serif;letter-spacing:0;font-family:${how}`;
    e.textContent = sign.repeat(10);
    document.body.append(e);
    found[[how, style, weight, sign]] = e.getBoundingClientRect().width;
    e.remove();
  }
  return found;
}"""
SIGNS = "".join(WIDTHS)


def held(found: dict[str, float]) -> None:
    assert len(found) == 8 * len(WIDTHS)
    for key, width in found.items():
        # A bold that the browser makes itself may be a pixel or two wider.
        assert width == pytest.approx(WIDTHS[key[-1]], abs=4 if "400" in key else 45), key


def test_the_file_is_small() -> None:
    assert FILE.read_bytes()[:4] == b"wOF2"  # the signature (W3C, WOFF File Format 2.0, 4.1)
    assert FILE.stat().st_size <= 3_000


@pytest.mark.parametrize("name", ["chromium", "firefox"])
def test_the_signs_are_ours(lesson: Lesson, request: Any, name: str) -> None:
    page = lesson.page(browser=request.getfixturevalue(name)) if name == "firefox" else lesson.page()
    page.goto("/")
    held(page.evaluate(MEASURE, SIGNS))


def test_the_signs_are_ours_in_webkit(lesson: Lesson) -> None:
    """There a gap stood behind ∠: "∠ 2 ≅  ∠ 6"."""
    lesson.period(lesson.teacher())
    with webkit_page(lesson.base, LAPTOP) as page:
        page.goto("/")
        page.evaluate(
            """() => { const e = document.createElement('p'); e.style.fontFamily = 'var(--serif)'; e.textContent = 'SIGNS';
            document.body.append(e); }""".replace("SIGNS", SIGNS)
        )
        held(page.evaluate(MEASURE, SIGNS))


def test_a_letter_is_not(lesson: Lesson) -> None:
    """`unicode-range`: the face is for the signs, and is sent for only where one stands."""
    page = lesson.page()
    page.goto("/")
    asked = """async () => (await document.fonts.load('20px "Eight Angles Signs"', 'abc 123')).length"""
    assert page.evaluate(asked) == 0
