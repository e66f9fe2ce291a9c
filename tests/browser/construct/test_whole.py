"""A whole construction by mouse drags, by taps alone, by keys alone and by touch, in Chromium (issue: A-11, A-17, A-18)."""

from __future__ import annotations

import re
from typing import Any

import pytest

from tests.browser.construct.paper import Paper, Place, arc_points, part
from tests.browser.lesson.hands import Keys
from tests.browser.see import expect
from tests.browser.touch import Finger

pytestmark = pytest.mark.browser

DONE = "Constructed: the angle at W stays equal to angle PVQ"
COPIED = [
    "Mark a point B on ray VP.",
    "Put the compass point on V, open it to B, and swing an arc.",
    "Mark C where ray VQ and the arc about V cross.",
    "Keep the opening VB, put the compass point on W, and swing an arc.",
    "Mark D where ray WS and the arc about W cross.",
    "Open the compass from B to C, put its point on D, and swing an arc.",
    "Mark E where the arc about W and the arc about D cross.",
    "Draw the ray from W through E, and call it r.",
]


def drag(page: Any, places: list[Place]) -> None:
    page.mouse.move(*places[0])
    page.mouse.down()
    for place in places[1:]:
        page.mouse.move(*place)
        page.wait_for_timeout(12)
    page.mouse.up()


def line(a: Place, b: Place) -> list[Place]:
    return [part(a, b, k / 8) for k in range(9)]


class Mouse:
    """A mouse with the verbs of a finger."""

    def __init__(self, page: Any) -> None:
        self.page = page

    def tap(self, place: Place) -> None:
        self.page.mouse.click(*place)

    def along(self, places: list[Place]) -> None:
        drag(self.page, places)


HANDS = {
    "mouse": (Mouse, (1366, 633), {}),
    "finger on a touch laptop": (Finger, (1366, 633), {"has_touch": True}),
    "finger on a phone": (Finger, (390, 844), {"has_touch": True, "is_mobile": True}),
}


@pytest.mark.parametrize("name", HANDS)
def test_by_drag(lesson: Any, name: str) -> None:
    """The compass is opened by a drag, swung along its dotted circle, and carried; the ray is ruled by a drag."""
    made, size, more = HANDS[name]
    paper = Paper(lesson, "copy-an-angle", size, **more)
    page = paper.page
    page.evaluate("""() => { window.cancelled = 0;
        addEventListener('pointercancel', () => { window.cancelled += 1; }, true); }""")
    hand = made(page)
    v, w = paper.at("V"), paper.at("W")
    b = part(v, paper.at("P"), 0.5)
    hand.along(line(v, b))
    hand.along(arc_points(v, b, 75))
    paper.pick("Pencil")
    hand.tap(paper.at(paper.crossing("ray VQ", "about V")))
    paper.pick("Compass")
    hand.tap(paper.at("W"))
    v, w, b = paper.at("V"), paper.at("W"), paper.at("B")
    s = paper.at("S")
    r = ((b[0] - v[0]) ** 2 + (b[1] - v[1]) ** 2) ** 0.5
    on = part(w, s, r / ((s[0] - w[0]) ** 2 + (s[1] - w[1]) ** 2) ** 0.5)
    hand.along(arc_points(w, arc_points(w, on, -12)[-1], 110))
    paper.pick("Pencil")
    hand.tap(paper.at(paper.crossing("ray WS", "about W")))
    paper.pick("Compass")
    paper.press("New opening")
    hand.along(line(paper.at("B"), paper.at("C")))
    hand.tap(paper.at("D"))
    b, c, d = paper.at("B"), paper.at("C"), paper.at("D")
    span = ((c[0] - b[0]) ** 2 + (c[1] - b[1]) ** 2) ** 0.5
    hand.along(arc_points(d, (d[0], d[1] - span), 100, 40))
    paper.pick("Pencil")
    hand.tap(paper.at(paper.crossing("about W", "about D")))
    paper.pick("Straightedge")
    hand.along(line(paper.at("W"), paper.at("E")))

    assert paper.steps() == COPIED
    assert page.evaluate("window.cancelled") == 0, "the browser took the finger for its own"
    lesson.fits(page, name)
    assert paper.check().startswith(DONE)
    lesson.check(page, "constructed")


def tap_copy(paper: Paper, tap: Any) -> None:
    """Copy the angle by single taps on the paper and its buttons, nothing held down."""
    v, w = paper.at("V"), paper.at("W")
    tap(v)
    tap(part(v, paper.at("P"), 0.5))
    paper.press("Swing an arc")
    paper.press("Longer arc")
    paper.pick("Pencil")
    tap(paper.at(paper.crossing("ray VQ", "about V")))
    paper.pick("Compass")
    tap(w)
    paper.press("Swing an arc")
    paper.press("Longer arc")
    paper.pick("Pencil")
    tap(paper.at(paper.crossing("ray WS", "about W")))
    paper.pick("Compass")
    paper.press("New opening")
    for name in ("B", "C", "D"):
        tap(paper.at(name))
    paper.press("All the way round")
    paper.pick("Pencil")
    tap(paper.at(paper.crossing("about W", "about D")))
    paper.pick("Straightedge")
    tap(w)
    tap(paper.at("E"))


def test_by_taps_alone(lesson: Any) -> None:
    paper = Paper(lesson, "copy-an-angle")

    def tap(place: Place) -> None:
        paper.page.mouse.click(*place)

    tap_copy(paper, tap)
    assert paper.steps() == COPIED
    assert paper.check().startswith(DONE)


def test_by_taps_of_a_finger_on_a_phone(lesson: Any) -> None:
    """Single taps of a real finger on 390 pixels; the page does not scroll sideways."""
    paper = Paper(lesson, "copy-an-angle", (390, 844), has_touch=True, is_mobile=True)
    tap_copy(paper, Finger(paper.page).tap)
    assert paper.steps() == COPIED
    lesson.fits(paper.page, "construct on a phone")
    assert paper.check().startswith(DONE)


def to_spot(paper: Paper, label: str, press: bool = True) -> None:
    """Go with the arrow keys from spot to spot until this one has focus, and press Enter."""
    page = paper.page
    here = "document.activeElement.getAttribute('aria-label')"
    page.keyboard.press("Home")
    for _ in range(3):
        for key in (
            "ArrowRight",
            "ArrowUp",
            "ArrowLeft",
            "ArrowDown",
            "ArrowRight",
            "ArrowRight",
            "ArrowUp",
            "ArrowRight",
            "ArrowDown",
            "ArrowLeft",
        ):
            if page.evaluate(here) == label:
                break
            page.keyboard.press(key)
    if page.evaluate(here) != label:
        # Every spot can be reached by going through all of them as well: from the first, always the nearest not yet seen.
        walk(page, label)
    assert page.evaluate(here) == label, (label, page.evaluate(here))
    if press:
        page.keyboard.press("Enter")


def walk(page: Any, label: str) -> None:
    from random import Random

    rng = Random(label)
    for _ in range(120):
        if page.evaluate("document.activeElement.getAttribute('aria-label')") == label:
            return
        page.keyboard.press(rng.choice(("ArrowRight", "ArrowUp", "ArrowLeft", "ArrowDown")))


def tab_to(page: Any, test: str, most: int = 60, key: str = "Tab") -> None:
    """Press Tab (or Shift+Tab) until the focused element passes a test in the page."""
    for _ in range(most):
        if page.evaluate(f"(e => e && ({test}))(document.activeElement)"):
            return
        page.keyboard.press(key)
    raise AssertionError(f"Tab does not reach: {test}")


def button(words: str) -> str:
    return f"e.tagName === 'BUTTON' && e.textContent.trim() === {words!r}"


def test_by_keys_alone(lesson: Any) -> None:
    """No pointer at all: letters for the instruments, arrows between spots, Enter for a tap, a slider for a place on a ray."""
    paper = Paper(lesson, "copy-an-angle")
    page = paper.page

    def on_paper() -> None:
        # The paper comes before its instruments and the steps: back to it is the short way.
        tab_to(page, "e.classList.contains('c-spot')", key="Shift+Tab")

    def act(words: str) -> None:
        tab_to(page, button(words))
        page.keyboard.press("Enter")

    on_paper()
    to_spot(paper, "Point V")
    tab_to(page, "e.tagName === 'SUMMARY' && e.textContent.includes('by numbers')")
    page.keyboard.press("Enter")
    tab_to(page, "e.id === 'c-where'")
    page.keyboard.type("ray VP")
    tab_to(page, "e.id === 'c-along'")
    page.keyboard.press("ArrowLeft")
    act("Use this place")
    assert paper.said().startswith("Mark a point B on ray VP.")
    page.evaluate("document.activeElement.blur()")
    act("Swing an arc")
    act("Longer arc")
    on_paper()
    page.keyboard.press("p")
    to_spot(paper, paper.crossing("ray VQ", "about V"))
    page.keyboard.press("c")
    to_spot(paper, "Point W")
    act("Swing an arc")
    act("Longer arc")
    on_paper()
    page.keyboard.press("p")
    to_spot(paper, paper.crossing("ray WS", "about W"))
    page.keyboard.press("c")
    act("New opening")
    on_paper()
    for name in ("B", "C", "D"):
        to_spot(paper, f"Point {name}")
    act("All the way round")
    on_paper()
    page.keyboard.press("p")
    to_spot(paper, paper.crossing("about W", "about D"))
    page.keyboard.press("s")
    to_spot(paper, "Point W")
    to_spot(paper, "Point E")
    assert [step.split(" ")[0] for step in paper.steps()] == [step.split(" ")[0] for step in COPIED]
    tab_to(page, button("Check my construction"))
    page.keyboard.press("Enter")
    expect(page.locator("#verdict")).to_have_text(re.compile(f"^{re.escape(DONE)}"))


def test_a_copied_angle_takes_forty_five_keys_at_most(lesson: Any) -> None:
    """From the open page to the verdict, all told: Tab to the paper, arrows, Enter, and the letters that the page tells."""
    paper = Paper(lesson, "copy-an-angle")
    page, keys = paper.page, Keys(paper.page)
    page.evaluate(
        """() => { window.keys = []; addEventListener('keydown', (event) => window.keys.push(event.key), true); }"""
    )
    page.locator("#title").evaluate("title => title.focus()")  # where the page puts the focus on a task
    keys.reach(page.locator(".c-spot").first)
    told = page.locator("#c-keys")
    expect(told).to_be_visible()
    for letter, what in {
        "c": "compass",
        "s": "straightedge",
        "p": "pencil",
        "m": "mark",
        "a": "arc",
        "o": "new opening",
        "k": "check",
    }.items():
        assert f"{letter} {what}" in told.inner_text()
    assert page.locator(".c-spots").get_attribute("aria-describedby") == "c-keys"

    def go(*names: str) -> None:
        for name in names:
            keys._walk(page.locator(f'.c-spot[aria-label="Point {name}"]'))
            page.keyboard.press("Enter")

    def press(*letters: str) -> None:
        for letter in letters:
            page.keyboard.press(letter)

    go("V", "P")
    press("a", "m")
    go("W")
    press("a", "m", "o")
    go("P", "B", "C")
    press("a", "m", "s")
    go("W", "D")
    press("k")
    page.locator("#verdict[data-tone=good]").wait_for()
    assert paper.said().startswith(DONE)
    pressed = page.evaluate("window.keys")
    assert len(pressed) <= 45, (len(pressed), pressed)


def test_after_every_button_that_goes_away_the_focus_is_on_the_paper(lesson: Any) -> None:
    """F1-14, F11-01: Swing an arc, All the way round, New opening, Lift, the last Undo, Longer arc at its longest."""
    paper = Paper(lesson, "copy-an-angle")
    page = paper.page

    def here() -> str:
        return str(page.evaluate("document.activeElement.getAttribute('class') ?? document.activeElement.tagName"))

    def press(words: str) -> None:
        page.get_by_role("button", name=words, exact=True).focus()
        page.keyboard.press("Enter")
        assert here() == "c-spot" or page.evaluate("document.activeElement.textContent") == words, (words, here())

    def stand() -> None:
        for name in ("V", "P"):
            page.mouse.click(*paper.at(name))

    stand()
    press("Swing an arc")
    assert here() == "c-spot" and page.evaluate("document.activeElement.getAttribute('aria-label')").startswith(
        "Crossing of ray VQ"
    )
    for _ in range(6):
        if not page.get_by_role("button", name="Longer arc").is_visible():
            break
        press("Longer arc")
    assert here() == "c-spot"
    press("New opening")
    stand()
    press("All the way round")
    page.mouse.click(*paper.at("W"))
    press("Lift the compass")
    for _ in range(2):
        press("Undo")
    assert paper.steps() == [] and here() == "c-spot"


def test_letters_do_nothing_away_from_the_paper(lesson: Any) -> None:
    """WCAG 2.2 SC 2.1.4: single-key commands only while the figure has the focus."""
    paper = Paper(lesson, "copy-an-angle")
    page = paper.page
    page.get_by_role("button", name="Check my construction").focus()
    for letter in "cspmarlouk":
        page.keyboard.press(letter)
    assert page.locator(".c-instrument[aria-pressed=true]").inner_text() == "Compass" and paper.steps() == []
    assert paper.said() == ""


def test_a_letter_held_down_is_one_press(lesson: Any) -> None:
    paper = Paper(lesson, "copy-an-angle")
    page = paper.page
    for name in ("V", "P"):
        page.mouse.click(*paper.at(name))
    page.locator(".c-spot").first.focus()
    page.keyboard.press("r")
    assert len(paper.steps()) == 1
    page.locator(".c-spot").first.focus()
    page.keyboard.press("Enter")  # the compass keeps its opening and stands again
    for _ in range(3):
        page.keyboard.down("r")  # every one but the first is a repeat
    page.keyboard.up("r")
    page.keyboard.down("u")
    page.keyboard.down("u")
    page.keyboard.up("u")
    assert len(paper.steps()) == 1


def test_one_undo_takes_one_step(lesson: Any) -> None:
    """F1-14: a line ruled between two new places is three steps of the list, and three undos."""
    paper = Paper(lesson, "copy-an-angle")
    paper.pick("Straightedge")
    v = paper.at("V")
    drag(paper.page, line((v[0] + 300, v[1] - 220), (v[0] + 420, v[1] - 240)))
    assert len(paper.steps()) == 3
    for left in (2, 1, 0):
        paper.press("Undo")
        assert len(paper.steps()) == left
    for back in (1, 2, 3):
        paper.press("Redo")
        assert len(paper.steps()) == back


@pytest.mark.parametrize("size", [(1366, 633), (1280, 585), (1024, 700)])
def test_the_paper_never_jumps_with_the_length_of_what_is_said(lesson: Any, size: tuple[int, int]) -> None:
    """F1-14: every hint of the catalogue, the shaking and every instrument leave the paper where it is, and are read whole."""
    paper = Paper(lesson, "copy-an-angle", size)
    page = paper.page
    box = ".c-sheet"
    before = page.locator(box).bounding_box()
    from app.words.en.construction import WORDS

    hints = sorted((text for key, text in WORDS.items() if key.startswith("next_")), key=len)[-6:]
    for text in hints:
        page.locator("#c-now").evaluate("(now, text) => { now.textContent = text; }", text)
        assert page.locator(box).bounding_box() == before, text
        if size[0] > 1200:
            assert page.locator("#c-now").evaluate("now => now.scrollHeight <= now.clientHeight + 1"), text
    for tool in ("Straightedge", "Pencil", "Compass"):
        paper.pick(tool)
        assert page.locator(box).bounding_box() == before, tool
    for name in ("V", "P"):
        page.mouse.click(*paper.at(name))
        assert page.locator(box).bounding_box() == before, name
    paper.press("Swing an arc")
    paper.press("Shake it")
    assert page.locator(box).bounding_box() == before, "shaken"
