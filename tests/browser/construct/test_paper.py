"""What else the construct page must do: cancel, undo, choose, be wrong, come back, show, explain, stay fast."""

from __future__ import annotations

from typing import Any

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import saved
from tests.browser.construct.paper import Paper, part
from tests.browser.construct.test_whole import COPIED, drag, line, tap_copy
from tests.browser.drawn import drawn
from tests.browser.touch import Finger

pytestmark = pytest.mark.browser


UNTOUCHED = "In your hand: the compass. Tap V, the vertex of the angle: its point goes there."


def test_escape_leaves_all_as_it_was(lesson: Any) -> None:
    """A-17."""
    paper = Paper(lesson, "copy-an-angle")
    page, v, p = paper.page, paper.at("V"), paper.at("P")
    page.mouse.move(*v)
    page.mouse.down()
    page.mouse.move(*part(v, p, 0.4))
    page.mouse.move(*part(v, p, 0.5))
    drawn(page)
    page.evaluate("document.querySelector('.c-spot').focus()")
    page.keyboard.press("Escape")
    page.mouse.up()
    assert paper.steps() == [] and paper.said() == "Left as it was."
    assert page.locator("#c-now").inner_text() == UNTOUCHED


def test_a_touch_that_the_system_takes_away_leaves_all_as_it_was(lesson: Any) -> None:
    """A-17."""
    paper = Paper(lesson, "copy-an-angle", has_touch=True)
    finger, v, p = Finger(paper.page), paper.at("V"), paper.at("P")
    finger.down(v)
    for k in range(1, 6):
        finger.move(part(v, p, k / 10))
    finger.cancel()
    assert paper.steps() == [] and paper.said() == "Left as it was."
    assert paper.page.locator("#c-now").inner_text() == UNTOUCHED


def test_undo_redo_and_going_back_to_a_step(lesson: Any) -> None:
    paper = Paper(lesson, "copy-an-angle")
    page = paper.page
    tap_copy(paper, lambda place: page.mouse.click(*place))
    paper.press("Undo")
    assert len(paper.steps()) == 7 and paper.said().startswith("Undone: Draw the ray")
    paper.press("Redo")
    assert paper.steps() == COPIED
    page.locator(".c-step").nth(2).click()
    assert "Point D" not in paper.spots() and page.locator("#c-now").inner_text() == "You are looking at step 3 of 8."
    paper.press("Back to my last step")
    assert "Point D" in paper.spots()
    page.locator(".c-step").nth(2).click()
    paper.press("Go on from here")
    assert paper.steps() == COPIED[:3]
    paper.press("Redo")
    assert paper.steps() == COPIED


def test_work_comes_back_after_a_reload(lesson: Any) -> None:
    paper = Paper(lesson, "copy-an-angle")
    page, v = paper.page, paper.at("V")
    drag(page, line(v, part(v, paper.at("P"), 0.5)))
    paper.press("Swing an arc")
    kept = paper.steps()
    saved(page)
    page.reload()
    page.locator(".c-step").first.wait_for()
    assert paper.steps() == kept and len(kept) == 2


def test_an_eyeballed_line_is_told_by_how_much_and_where_it_meets(lesson: Any) -> None:
    """A free hand is allowed to be wrong; the verdict says how wrong, and the paper shows where the lines would meet."""
    paper = Paper(lesson, "parallel-through-p")
    page = paper.page
    a, b, p = paper.at("A"), paper.at("B"), paper.at("P")
    page.mouse.click(*p)
    page.mouse.click(p[0] + (b[0] - a[0]) * 0.5, p[1] + (b[1] - a[1]) * 0.5 + 9)
    said = paper.check()
    assert "placed by eye" in said and "° off" in said and "would meet" in said
    assert page.locator(".c-steps li[data-wrong=true]").count() == 1
    lesson.check(page, "eyeballed")
    paper.press("Show where the lines would meet")
    assert page.locator("circle.c-meets").count() == 1
    paper.press("Back to my drawing")
    assert page.locator("circle.c-meets").count() == 0


def test_several_spots_near_a_tap_are_offered_by_name(lesson: Any) -> None:
    """A-19: a pick list where points overlap."""
    paper = Paper(lesson, "copy-an-angle")
    page, v = paper.page, paper.at("V")
    paper.pick("Pencil")
    for dx in (-7, 7):
        page.get_by_label("Free hand").check()
        page.mouse.click(v[0] + 200 + dx, v[1] - 160)
        page.get_by_label("Free hand").uncheck()
    paper.pick("Compass")
    page.mouse.click(v[0] + 200.5, v[1] - 160)
    offered = page.locator(".c-pick button").all_inner_texts()
    assert sorted(offered) == ["Point B", "Point C"]
    lesson.check(page, "pick list")
    page.locator(".c-pick button", has_text="Point C").click()
    assert page.locator("#c-now").inner_text().startswith("Point on C.")


def test_why_it_works_goes_reason_by_reason_and_carries_the_figure(lesson: Any) -> None:
    paper = Paper(lesson, "parallel-through-p")
    page = paper.page
    key = paper.lesson.call(page, "POST", "/alone/proving-lines-parallel/task/parallel-through-p/ask/demonstration")
    page.evaluate("([key]) => sessionStorage.setItem('seen', JSON.stringify(key))", [key])
    put_work(paper, "parallel-through-p", key["moves"])
    said = paper.check()
    assert said.startswith("Constructed") and "corresponding place" in said
    paper.press("Why does it work?")
    assert page.locator(".c-triangle").count() == 2
    while page.get_by_role("button", name="Next reason").is_enabled():
        paper.press("Next reason")
    reasons = page.locator(".c-why li").all_inner_texts()
    assert any("SSS" in row for row in reasons) and any("given now" in row for row in reasons)
    assert sum("l ∥ m" in row for row in reasons) >= 3
    assert page.locator(".c-over svg").count() == 1 and page.locator(".c-reason").inner_text() == reasons[-1]
    proof = page.locator(".c-proof tbody tr").all_inner_texts()
    assert proof[0].endswith("Given") and proof[-1].startswith("l ∥ m")
    lesson.check(page, "why")
    paper.press("Close")
    assert page.locator(".c-over").is_hidden() and page.locator(".c-instruments").is_visible()
    carried = page.evaluate("JSON.parse(sessionStorage.getItem('carry:constructed'))")
    assert (
        carried["given"]
        and carried["figure"]["lines"]["l"]["direction"] == carried["figure"]["lines"]["m"]["direction"]
    )


def put_work(paper: Paper, task: str, moves: list[dict[str, Any]]) -> None:
    """The student's saved work, as another device would have left it."""
    page = paper.page
    paper.lesson.call(page, "PUT", f"/alone/proving-lines-parallel/work/{task}", {"n": 999, "work": {"moves": moves}})
    page.reload()
    page.locator(".c-step").first.wait_for()
    drawn(page)


def test_the_demonstration_goes_forward_and_back_and_returns(lesson: Any) -> None:
    paper = Paper(lesson, "copy-an-angle", reduced_motion="reduce")
    page = paper.page
    paper.press("Show me how it is done")
    assert page.locator(".c-caption-name").inner_text() == "What is given"
    names = []
    for _ in range(4):
        paper.press("Forward")
        names.append(page.locator(".c-caption-name").inner_text())
    assert names == [
        "1. An arc across the angle",
        "2. The same arc at the new vertex",
        "3. The span carried over",
        "4. The new side",
    ]
    assert page.get_by_role("button", name="Forward").is_disabled()
    lesson.check(page, "demonstration")
    page.locator(".c-controls").get_by_role("button", name="Back", exact=True).click()
    assert page.locator(".c-caption-name").inner_text() == "3. The span carried over"
    paper.press("Back to my own drawing")
    assert paper.steps() == [] and page.locator(".c-edge").is_visible()


def test_two_fingers_move_the_paper_and_buttons_do_the_same(lesson: Any) -> None:
    """A-17: a pinch has its buttons."""
    paper = Paper(lesson, "copy-an-angle", (390, 844), has_touch=True, is_mobile=True)
    page = paper.page
    before = wide(paper)
    finger = Finger(page)
    finger.pinch((195, 250), 40, 80)
    pinched = wide(paper)
    assert 1.7 < pinched / before < 2.3 and paper.steps() == []
    dot = "['cx', 'cy'].map(k => Number(document.querySelector('.c-dot').getAttribute(k)))"
    place = page.evaluate(dot)
    finger.drag_two((195, 300), (155, 260))
    moved = page.evaluate(dot)
    assert abs(moved[0] - place[0] + 40) < 8 and abs(moved[1] - place[1] + 40) < 8 and paper.steps() == []
    page.get_by_text("Move the paper").click()
    paper.press("Whole figure")
    assert abs(wide(paper) / before - 1) < 0.01
    paper.press("Zoom in")
    assert abs(wide(paper) / before - 1.4) < 0.02


def wide(paper: Paper) -> float:
    """How far V and P lie apart on screen, also where they are outside the window."""
    dots: list[float] = paper.page.evaluate(
        "[...document.querySelectorAll('.c-dot')].slice(0, 2).map(d => Number(d.getAttribute('cx')))"
    )
    return abs(dots[0] - dots[1])


def test_letters_of_instruments_do_nothing_in_a_field(lesson: Any) -> None:
    """A-12."""
    paper = Paper(lesson, "copy-an-angle")
    page = paper.page
    page.get_by_text("Place a point by numbers").click()
    page.locator("#c-across").fill("")
    page.locator("#c-across").press("s")
    assert page.locator(".c-instrument[aria-pressed=true]").inner_text() == "Compass"
    page.get_by_role("button", name="Use this place").click()
    assert paper.said().startswith("Numbers are wanted here")
    assert page.locator("#c-across").get_attribute("aria-invalid") == "true"


@pytest.mark.parametrize("size", [(1366, 633), (390, 844), (683, 316), (320, 640)])
def test_the_page_fits_and_passes_the_rules(lesson: Any, size: tuple[int, int]) -> None:
    paper = Paper(lesson, "parallel-through-p", size)
    lesson.fits(paper.page, f"{size}")
    lesson.check(paper.page, f"{size}")


def test_focus_is_a_ring_drawn_in_the_picture(lesson: Any) -> None:
    """A-16: a ring of 2 px or more drawn in SVG."""
    paper = Paper(lesson, "copy-an-angle")
    page = paper.page
    page.evaluate("document.querySelector('.c-spot').focus()")
    page.keyboard.press("End")
    ring = page.evaluate("""() => { const s = getComputedStyle(document.activeElement.querySelector('.c-ring'));
        return [s.stroke, parseFloat(s.strokeWidth), document.activeElement.getAttribute('role'), document.activeElement.getAttribute('aria-label')]; }""")
    assert ring[0] != "none" and ring[1] >= 2 and ring[2] == "button" and ring[3].startswith("Point")


def test_a_small_drawing_for_a_page(lesson: Any) -> None:
    """F-4: at most 400 nodes in the figure, also with everything drawn."""
    paper = Paper(lesson, "copy-an-angle")
    page = paper.page
    tap_copy(paper, lambda place: page.mouse.click(*place))
    assert page.evaluate("document.querySelector('.construct-svg').querySelectorAll('*').length") <= 400


def test_the_task_after_a_demonstration_is_there(lesson: Any) -> None:
    """The player takes the place of paper and card; the next task gets both back. The focus is never lost."""
    paper = Paper(lesson, "copy-an-angle")
    page = paper.page
    focus = "document.activeElement.tagName + ' ' + document.activeElement.textContent.trim()"
    paper.press("Show me how it is done")
    page.locator(".c-player").wait_for()
    assert page.evaluate("document.querySelector('.c-play').contains(document.activeElement)")
    page.get_by_role("button", name="Back to my own drawing", exact=True).click()
    assert page.evaluate(focus) == "BUTTON Show me how it is done"
    paper.press("Show me how it is done")
    page.locator(".c-player").wait_for()
    for _ in range(2):
        before = page.locator("#title").inner_text()
        page.locator("#next").click()
        expect(page.locator("#title")).not_to_have_text(before)
        expect(page.locator("#card > *").first).to_be_visible()
        expect(page.locator("#paper > *").first).to_be_visible()


def test_a_window_made_small_keeps_every_point_in_sight(lesson: Any) -> None:
    """The paper is laid out anew where the new window would cut off what was in it, and lies as before when turned back."""
    page = Paper(lesson, "copy-an-angle", size=(1366, 633)).page

    def spots() -> list[list[float]]:
        return page.evaluate(
            """() => { const sheet = document.querySelector('.c-sheet').getBoundingClientRect();
              return [...document.querySelectorAll('.c-spot')].map(spot => { const b = spot.getBoundingClientRect();
                return [b.x + b.width / 2 - sheet.x, b.y + b.height / 2 - sheet.y, sheet.width, sheet.height]; }); }"""
        )

    before = spots()
    assert len(before) >= 4
    page.set_viewport_size({"width": 390, "height": 844})
    page.wait_for_function("() => document.querySelector('.c-sheet').getBoundingClientRect().width < 400")
    page.evaluate("() => new Promise(done => requestAnimationFrame(() => requestAnimationFrame(done)))")
    outside = [one for one in spots() if not (0 <= one[0] <= one[2] and 0 <= one[1] <= one[3])]
    assert outside == []
    page.set_viewport_size({"width": 1366, "height": 633})
    page.wait_for_function("() => document.querySelector('.c-sheet').getBoundingClientRect().width > 400")
    page.evaluate("() => new Promise(done => requestAnimationFrame(() => requestAnimationFrame(done)))")
    assert [[round(x) for x in one] for one in spots()] == [[round(x) for x in one] for one in before]
