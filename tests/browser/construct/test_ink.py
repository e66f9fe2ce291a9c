"""The instruments in a moving hand are drawn on a canvas: it must show what the SVG would, and the paper must not change meanwhile."""

from __future__ import annotations

import io
from typing import Any

import pytest
from PIL import Image
from playwright.sync_api import expect

from tests.browser.conftest import Lesson
from tests.browser.construct.paper import Paper, Place, arc_points, part
from tests.browser.drawn import drawn
from tests.browser.seat.hands import open_task
from tests.browser.seat.test_ink import stray

pytestmark = pytest.mark.browser
TASK = "copy-an-angle"
STANDING = {"tool": "compass", "foot": "A", "opening": ["A", "B"], "turn": 0, "compass": "modern"}
CASES: dict[str, tuple[dict[str, Any], dict[str, Any] | None]] = {
    "a compass that stands": (STANDING, None),
    "a compass that swings": (STANDING, {"stands": {"c": [0, 0], "r": 3}, "pencil": [-1.8, 2.4], "sweep": [10, 117]}),
    "a compass that collapses": ({**STANDING, "compass": "collapsing"}, {"stands": {"c": [0, 0], "r": 3}, "pencil": [0, -3], "sweep": [270, 60]}),
    "a compass that is opened": ({**STANDING, "opening": None}, {"at": [2, 1], "spot": {"kind": "free", "at": [2, 1]}, "foot": [0, 0]}),
    "an opening that is carried": ({**STANDING, "foot": "C"}, {"at": [1, 2], "spot": {"kind": "point", "at": [1, 2]}}),
    "a straightedge": ({"tool": "straightedge", "first": "A", "kind": "line"}, {"at": [3, 1], "spot": {"kind": "point", "at": [3, 1]}}),
}  # fmt: skip

MOUNT = """async ([more, draft, inked]) => {
  const [{ createPaper, inHand, tool }, { createInk }, { createView }] =
    await Promise.all(['draw', 'ink', 'view'].map((name) => import(`/static/construct/${name}.js`)));
  document.querySelector('#ink-test')?.remove();
  const host = document.createElement('div');
  host.id = 'ink-test';
  host.style.cssText = 'position:fixed;left:0;top:0;width:1000px;height:600px;z-index:9;background:var(--paper)';
  document.body.append(host);
  const view = createView(1000, 600);
  view.k = 60;
  const { root, layers } = createPaper(host, { title: 'paper', about: '' });
  root.setAttribute('viewBox', '0 0 1000 600');
  const values = new Map([['A', [0, 0]], ['B', [3, 0]], ['C', [-3, -1]]]);
  const state = { values, moves: [], ...more };
  if (inked) createInk(root, view).draw(inHand(state, view, draft));
  else tool(layers, state, view, draft);
  await new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)));
}"""


def picture(page: Any) -> Image.Image:
    return Image.open(io.BytesIO(page.screenshot(clip={"x": 0, "y": 0, "width": 1000, "height": 600}))).convert("RGB")


@pytest.mark.parametrize("case", CASES)
def test_the_canvas_shows_what_the_svg_shows(lesson: Lesson, case: str) -> None:
    page = open_task(lesson, TASK)
    pictures = []
    for inked in (False, True):
        page.evaluate(MOUNT, [*CASES[case], inked])
        assert page.locator("#ink-test canvas").count() == int(inked)
        pictures.append(picture(page))
    page.evaluate("document.querySelector('#ink-test').replaceChildren()")
    assert stray(pictures[0], picture(page)) > 0.5, "something is drawn, and the comparison sees it go"
    off = stray(*pictures)
    assert off < 0.0005, f"{off:.4%} of the ink is not where the SVG has it"


def swinging(lesson: Lesson, degrees: float, steps: int) -> tuple[Any, list[Place]]:
    """A page whose compass stands on V, pressed at the first of the places of a swing."""
    paper = Paper(lesson, TASK)
    page = paper.page
    v = paper.at("V")
    b = part(v, paper.at("P"), 0.5)
    page.mouse.click(*v)
    page.mouse.click(*b)
    places = arc_points(v, b, degrees, steps)
    page.mouse.move(*places[0])
    page.mouse.down()
    return page, places


def test_a_swing_changes_nothing_of_the_page_until_the_hand_lets_go(lesson: Lesson) -> None:
    """F-3; and the arc is there afterwards, by the SVG."""
    page, places = swinging(lesson, 80, 30)
    for place in places[1:10]:
        page.mouse.move(*place)
    page.locator("canvas.c-ink").wait_for()
    page.evaluate("""() => { window.changes = [];
      new MutationObserver((list) => window.changes.push(...list.map((one) => `${one.target.nodeName} ${one.attributeName}`)))
        .observe(document.querySelector('.c-sheet'), {subtree: true, childList: true, attributes: true, attributeFilter: ['d', 'cx', 'cy', 'r', 'transform', 'x', 'y']}); }""")
    for place in places[10:]:
        page.mouse.move(*place)
    drawn(page)
    assert page.evaluate("window.changes") == []
    page.mouse.up()
    expect(page.locator("canvas.c-ink")).to_have_count(0)
    expect(page.locator(".c-arcs .c-arc")).to_have_count(1)
    expect(page.locator(".construct-svg[data-hand]")).to_have_count(0)


def test_a_swing_given_up_leaves_the_paper_as_it_was(lesson: Lesson) -> None:
    """A-17: Esc in the middle of a swing."""
    page, places = swinging(lesson, 60, 12)
    for place in places[1:]:
        page.mouse.move(*place)
    page.locator("canvas.c-ink").wait_for()
    page.keyboard.press("Escape")
    page.locator("canvas.c-ink").wait_for(state="detached")
    page.mouse.up()
    assert page.locator(".c-arcs .c-arc").count() == 0 and page.locator(".c-tool .c-wood").count() == 1
