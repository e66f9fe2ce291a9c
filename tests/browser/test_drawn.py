"""The tests' own hands: a look right after an act sees what two frames have drawn."""

from __future__ import annotations

from typing import Any

import pytest

pytestmark = pytest.mark.browser

PAGE = """<button>Act</button><p></p><script>
  var say = (text) => requestAnimationFrame(() => requestAnimationFrame(() => (document.querySelector('p').textContent = text)));
  document.querySelector('button').onclick = () => say('clicked');
  document.querySelector('button').onkeydown = () => say('pressed');
</script>"""


def test_what_the_second_frame_draws_is_seen_after_a_click_a_key_and_a_tap(chromium: Any) -> None:
    context = chromium.new_context(has_touch=True)
    page = context.new_page()
    acts = {
        "clicked": [
            lambda: page.get_by_role("button").click(),
            lambda: page.mouse.click(20, 20),
            lambda: page.touchscreen.tap(20, 20),
        ],
        "pressed": [
            lambda: page.keyboard.press("a"),
            lambda: page.get_by_role("button").press("a"),
            lambda: page.keyboard.down("a"),
        ],
    }
    for told, ways in acts.items():
        for way in ways * 5:
            page.set_content(PAGE)
            page.get_by_role("button").focus()
            way()
            assert page.evaluate("document.querySelector('p').textContent") == told
    context.close()


def test_a_page_that_is_left_is_not_waited_for(chromium: Any) -> None:
    context = chromium.new_context()
    page = context.new_page()
    page.set_content('<a href="about:blank#left">Leave</a>')
    page.get_by_role("link").click()
    page.wait_for_url("about:blank#left")
    page.close()
    context.close()
