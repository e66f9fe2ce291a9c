"""Shaking a construction: what was constructed holds, what was placed by eye comes apart, and nothing is changed by it."""

from __future__ import annotations

import re
from math import hypot
from typing import Any

import pytest

from tests.browser.conftest import PACK
from tests.browser.construct.paper import Paper, Place, part
from tests.browser.construct.test_paper import put_work
from tests.browser.construct.test_whole import drag, line
from tests.browser.drawn import drawn
from tests.browser.touch import Finger

pytestmark = pytest.mark.browser

ANGLES = re.compile(r"Angle PVQ is ([\d.]+)°, its copy at W ([\d.]+)°")


def finished(lesson: Any, task: str, size: tuple[int, int] = (1366, 633), **more: Any) -> Paper:
    """A paper with the recipe done on it by the student."""
    paper = Paper(lesson, task, size, reduced_motion="reduce", **more)
    key = lesson.call(paper.page, "POST", f"/alone/{PACK}/task/{task}/ask/demonstration")
    put_work(paper, task, key["moves"])
    return paper


def knob(paper: Paper, name: str) -> Place:
    box = paper.page.locator(f'.c-knob[aria-label^="Point {name},"] .c-grip').bounding_box()
    return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2


def dots(paper: Paper) -> list[list[float]]:
    found: list[list[float]] = paper.page.evaluate(
        "[...document.querySelectorAll('.c-dot')].map(d => [Number(d.getAttribute('cx')), Number(d.getAttribute('cy'))])"
    )
    return found


def measured(paper: Paper) -> tuple[str, str]:
    drawn(paper.page)
    text = paper.page.locator(".c-claim").inner_text()
    assert text.startswith("It holds."), text
    found = ANGLES.search(text)
    assert found, text
    return found[1], found[2]


def test_a_constructed_angle_holds_and_nothing_is_changed(lesson: Any) -> None:
    """By mouse. The saved moves, the stored reply and the drawing are afterwards what they were before."""
    paper = finished(lesson, "copy-an-angle")
    page = paper.page
    assert paper.check().startswith("Constructed")
    stored = lesson.call(page, "GET", f"/alone/{PACK}/task/copy-an-angle")
    before, steps = dots(paper), paper.steps()
    paper.press("Does it hold? Shake it")
    first = measured(paper)
    assert first[0] == first[1]
    lesson.check(page, "shaken")
    p, v = knob(paper, "P"), knob(paper, "V")
    drag(page, line(p, (v[0] + 120, v[1] - 180)))
    second = measured(paper)
    assert second[0] == second[1] != first[0]
    assert hypot(*(a - b for a, b in zip(knob(paper, "P"), (v[0] + 120, v[1] - 180), strict=True))) < 3
    paper.press("Put it back")
    assert dots(paper) == before and paper.steps() == steps
    after = lesson.call(page, "GET", f"/alone/{PACK}/task/copy-an-angle")
    assert (after["saved"], after["last"], after.get("replies")) == (
        stored["saved"],
        stored["last"],
        stored.get("replies"),
    )
    assert page.evaluate("document.activeElement.textContent") == "Shake it"


def test_by_taps_alone_on_a_phone(lesson: Any) -> None:
    """A-18: one tap picks a point up, the next one puts it down."""
    paper = finished(lesson, "copy-an-angle", (390, 844), has_touch=True, is_mobile=True)
    page = paper.page
    page.get_by_role("button", name="Shake it", exact=True).tap()
    first = measured(paper)
    q, v = knob(paper, "Q"), knob(paper, "V")
    page.touchscreen.tap(*q)
    assert page.locator(".c-claim").inner_text() == "Q is picked up. Tap where it goes."
    goal = (v[0] + 90, v[1] - 110)
    page.touchscreen.tap(*goal)
    second = measured(paper)
    assert second[0] == second[1] != first[0]
    assert hypot(*(a - b for a, b in zip(knob(paper, "Q"), goal, strict=True))) < 3
    lesson.fits(page, "shaken on a phone")
    page.get_by_role("button", name="Put it back").tap()
    assert page.locator(".c-instruments").is_visible()


@pytest.mark.parametrize(("size", "mobile"), [((390, 844), True), ((1366, 633), False)])
def test_by_a_finger_that_drags(lesson: Any, size: tuple[int, int], mobile: bool) -> None:
    paper = finished(lesson, "copy-an-angle", size, has_touch=True, is_mobile=mobile)
    page, finger = paper.page, Finger(paper.page)
    page.get_by_role("button", name="Shake it", exact=True).tap()
    first = measured(paper)
    q, v = knob(paper, "Q"), knob(paper, "V")
    goal = (v[0] + 60, v[1] - 90)
    finger.drag(q, goal)
    second = measured(paper)
    assert second[0] == second[1] != first[0]
    assert hypot(*(a - b for a, b in zip(knob(paper, "Q"), goal, strict=True))) < 3


def test_a_finger_drags_a_point_of_the_demonstration(lesson: Any) -> None:
    """F1-02: its paper lets the page be scrolled, so the browser would take the finger after some pixels."""
    paper = Paper(lesson, "copy-an-angle", (390, 844), reduced_motion="reduce", has_touch=True, is_mobile=True)
    page, finger = paper.page, Finger(paper.page)
    page.get_by_role("button", name="Show me how it is done").tap()
    for _ in range(4):
        page.get_by_role("button", name="Forward").tap()
    page.get_by_role("button", name="Shake it", exact=True).tap()
    first = measured(paper)
    q = knob(paper, "Q")
    finger.drag(q, (q[0], q[1] - 60))
    second = measured(paper)
    assert second[0] == second[1] != first[0]


def test_by_keys_alone(lesson: Any) -> None:
    """A-11, W-2: each free point is a stop, arrows move it; Esc leaves."""
    paper = finished(lesson, "copy-an-angle")
    page = paper.page
    page.get_by_role("button", name="Shake it", exact=True).focus()
    page.keyboard.press("Enter")
    first = measured(paper)
    assert page.evaluate("document.activeElement.textContent") == "Put it back"
    for _ in range(30):
        if str(page.evaluate("document.activeElement.getAttribute('aria-label')")).startswith("Point S,"):
            break
        page.keyboard.press("Shift+Tab")
    s = knob(paper, "S")
    for _ in range(5):
        page.keyboard.press("ArrowUp")
    assert knob(paper, "S")[1] == pytest.approx(s[1] - 40, abs=1)
    second = measured(paper)
    assert second == first  # the ray turned, the angle stays
    assert page.locator(".c-shaking [aria-live]").inner_text().startswith("It holds.")
    page.keyboard.press("Escape")
    assert page.locator(".c-knob").count() == 0 and len(paper.steps()) == 8


def test_an_eyeballed_line_comes_apart_and_shows_where(lesson: Any) -> None:
    paper = Paper(lesson, "parallel-through-p", reduced_motion="reduce")
    page = paper.page
    a, b, p = paper.at("A"), paper.at("B"), paper.at("P")
    page.mouse.click(*p)
    page.mouse.click(p[0] + (b[0] - a[0]) * 0.5, p[1] + (b[1] - a[1]) * 0.5)
    paper.check()
    paper.press("Does it hold? Shake it")
    text = page.locator(".c-claim").inner_text()
    assert text.startswith("It does not hold. The line and AB are") and text.endswith("apart, so they meet.")
    assert page.locator("circle.c-meets").count() == 1
    inside = page.evaluate("""() => { const [m, s] = ['circle.c-meets', '.construct-svg'].map(q => document.querySelector(q).getBoundingClientRect());
        return m.left >= s.left && m.right <= s.right && m.top >= s.top && m.bottom <= s.bottom; }""")
    drag(page, line(knob(paper, "C"), part(knob(paper, "C"), knob(paper, "B"), 0.4)))
    assert "° apart" in page.locator(".c-claim").inner_text() != text
    lesson.check(page, "shaken apart")
    assert inside
    paper.press("Put it back")
    assert page.locator("circle.c-meets").count() == 0


def at_rest(paper: Paper) -> None:
    """Wait until nothing has moved for a third of a second, once what a shake takes is over."""
    paper.page.wait_for_timeout(2300)
    for _ in range(60):
        before = dots(paper)
        paper.page.wait_for_timeout(300)
        if dots(paper) == before:
            return
    raise AssertionError("it never comes to rest")


def test_it_moves_by_itself_and_comes_to_rest(lesson: Any) -> None:
    paper = finished(lesson, "copy-an-angle")
    paper.page.emulate_media(reduced_motion="no-preference")
    page = paper.page
    page.evaluate("""() => { window.said = new Set();
      const told = () => document.querySelector('.c-claim')?.textContent && window.said.add(document.querySelector('.c-claim').textContent);
      new MutationObserver(told).observe(document.body, {childList: true, characterData: true, subtree: true}); }""")
    first = dots(paper)
    for _ in range(5):  # on a busy machine few frames are drawn of a shake, and little is said
        paper.press("Shake it")
        at_rest(paper)
        if page.evaluate("window.said.size") >= 3:
            break
    seen = page.evaluate("[...window.said]")
    assert len(seen) >= 3 and all(text.startswith(("It holds.", "Angle PVQ")) for text in seen), seen
    assert dots(paper) != first


def test_the_teacher_shakes_the_demonstration_for_all_to_see(lesson: Any) -> None:
    """In the Desk's mirror; the Board and a Seat that follows show the same places, and put them back."""
    teacher = lesson.teacher(reduced_motion="reduce")
    period = lesson.period(teacher)
    board = lesson.board(teacher, period)
    key = lesson.call(teacher, "GET", f"/desk/pack/{PACK}/task/copy-an-angle")["key"]
    stage = {"kind": "construction", **key, "step": len(key["moves"]), "speed": 1}
    lesson.call(teacher, "POST", f"{period.path}stage", {"stage": stage, "to": ["board", "seats"]})
    board.locator(".c-player .c-answer").wait_for(state="attached")
    teacher.get_by_role("tab", name="On the Board").click()
    teacher.locator(".c-shaker").wait_for()
    teacher.get_by_role("button", name="Shake it", exact=True).click()
    board.locator(".c-claim", has_text="It holds.").wait_for()
    told = teacher.locator(".c-claim").inner_text()
    board.locator(".c-claim", has_text=told).wait_for()
    assert board.locator(".c-shaking button").count() == 0  # whoever looks on has nothing to put back
    size = board.evaluate("parseFloat(getComputedStyle(document.querySelector('.c-claim')).fontSize)")
    assert size >= 28  # J-4
    lesson.check(board, "shaken on the Board")
    teacher.get_by_role("button", name="Put it back").click()
    board.locator(".c-knob").first.wait_for(state="detached")
    board.locator(".c-caption-name").wait_for()


def test_letters_keep_clear_of_what_was_moved(lesson: Any) -> None:
    """F1-19: after each move no letter stands on a line or an arc, nor on another letter."""
    paper = finished(lesson, "copy-an-angle")
    page = paper.page
    paper.press("Shake it")
    for _ in range(3):
        paper.press("Shake again")
        drawn(page)
        hit = page.evaluate("""() => {
          const letters = [...document.querySelectorAll('.c-labels .c-letter:not(.c-small)')];
          const middle = (one) => { const b = one.getBoundingClientRect(); return new DOMPoint(b.x + b.width / 2, b.y + b.height / 2); };
          const found = [];
          for (const path of document.querySelectorAll('.c-arc, .c-line, .c-answer, .c-given-line')) {
            const toPage = path.getScreenCTM(), long = path.getTotalLength();
            for (let at = 0; at <= long; at += 2) {
              const p = path.getPointAtLength(at).matrixTransform(toPage);
              for (const letter of letters) {
                const m = middle(letter);
                if (Math.hypot(p.x - m.x, p.y - m.y) < 4) found.push(letter.textContent);
              }
            }
          }
          for (const one of letters) for (const two of letters) {
            const [a, b] = [middle(one), middle(two)];
            if (one !== two && Math.hypot(a.x - b.x, a.y - b.y) < 9) found.push(`${one.textContent} on ${two.textContent}`);
          }
          return [...new Set(found)];
        }""")
        assert hit == []
