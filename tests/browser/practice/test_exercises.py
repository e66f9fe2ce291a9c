"""Exercises in a real browser: by clicks alone, by keyboard alone, after a reload, and what the page says."""

from __future__ import annotations

import re
from typing import Any

import pytest

from app.practice.families import FAMILIES, LEVELS, item
from app.practice.judging import key_shown
from tests.browser.conftest import LAPTOP, PHONE, ZOOMED, Lesson, saved
from tests.browser.drawn import drawn

pytestmark = pytest.mark.browser
PACK = "solve-and-practice"
# What a student must see of the exercise kinds, and where it is in the pack.
SOLVE, MIXED = "make-them-parallel", "proofs-mixed"


def alone(lesson: Lesson, task: str, size: tuple[int, int] = LAPTOP, **more: Any) -> Any:
    page = lesson.page(size, **more)
    page.goto(f"/alone/{PACK}/#{task}")
    page.locator("form.exercise").wait_for()
    return page


def solve_by_sight(page: Any) -> tuple[str, list[str]]:
    """The right x of the item on show, from its givens as the page prints them, and lines of working."""
    import sympy

    text = page.locator(".exercise-prompt").inner_text()
    sides = re.findall(r"m∠(\d+) = ([^,.]+)", text)
    pair = [re.sub(r"(\d)([a-z(])", r"\1*\2", e.replace("−", "-")) for _, e in sides]
    x = sympy.symbols("x")
    equal = sympy.solve(sympy.sympify(pair[0]) - sympy.sympify(pair[1]), x)
    return str(equal[0]), [f"{sides[0][1]} = {sides[1][1]}".replace("−", "-"), f"x = {equal[0]}"]


def until(page: Any, asked: str, arg: Any = None) -> None:
    """Wait until the page says yes; asked from outside, since the page's own policy forbids evaluating text."""
    for _ in range(600):
        if page.evaluate(asked, arg):
            return
        page.wait_for_timeout(50)
    raise AssertionError(f"never: {asked}")


def verdict(page: Any) -> str:
    until(
        page,
        "() => { const v = document.querySelector('#verdict'); return v.dataset.tone !== 'wait' && v.textContent; }",
    )
    return str(page.locator("#verdict").inner_text())


def test_a_line_that_does_not_follow_is_underlined_with_its_reason(lesson: Lesson) -> None:
    page = alone(lesson, SOLVE)
    value, lines = solve_by_sight(page)
    inputs = page.locator(".working-input")
    inputs.nth(0).fill(lines[0])
    inputs.nth(1).fill("x = 1")
    page.get_by_role("button", name="Does each line follow?").click()

    assert verdict(page).startswith("Line 2")
    second = page.locator(".working-line").nth(1)
    assert second.get_attribute("data-ok") == "false" and "✗" in second.inner_text()
    lesson.check(page, "a wrong line")
    inputs.nth(1).fill(lines[1])
    page.locator(".blank-number").fill(value)
    page.get_by_role("button", name="Hand in").click()
    assert verdict(page).startswith("Yes")
    assert page.locator("details:has(.how)").is_visible()
    lesson.check(page, "a right answer")


def test_a_scratch_line_is_told_beside_it_and_blocks_nothing(lesson: Lesson) -> None:
    page = alone(lesson, SOLVE)
    value, lines = solve_by_sight(page)
    inputs = page.locator(".working-input")
    inputs.nth(0).fill("abc")
    inputs.nth(1).fill(f"X = {value} (alt. int.)")
    page.get_by_role("button", name="Does each line follow?").click()
    assert verdict(page).startswith("Line 1: Character 1: “abc”")
    note = page.locator(".working-note").nth(0)
    assert "isn't judged" in note.inner_text() and page.locator(".working-line").nth(0).get_attribute("data-ok") is None
    assert inputs.nth(0).get_attribute("aria-invalid") == "true"
    assert inputs.nth(0).get_attribute("aria-describedby") == note.get_attribute("id")
    assert page.locator(".working-line").nth(1).get_attribute("data-ok") == "true"
    page.locator(".blank-number").fill(value)
    page.get_by_role("button", name="Hand in").click()
    assert verdict(page).startswith("Yes")
    assert "isn't judged" in note.inner_text()
    lesson.check(page, "a scratch line")


def test_what_can_not_be_read_is_said_at_once(lesson: Lesson) -> None:
    page = alone(lesson, SOLVE)
    page.locator(".blank-number").fill("9**9**9")

    told = page.locator(".blank-told").first
    assert "x²" in told.inner_text() and page.locator(".blank-number").get_attribute("aria-invalid") == "true"
    page.locator(".blank-number").fill("")
    assert told.inner_text() == ""


def test_plus_and_minus_change_the_number_without_typing(lesson: Lesson) -> None:
    page = alone(lesson, SOLVE, PHONE, has_touch=True)
    for _ in range(3):
        page.get_by_role("button", name="x: one more").tap()
    page.get_by_role("button", name="x: one less").tap()

    assert page.locator(".blank-number").input_value() == "2"


def test_hints_unfold_one_after_the_other(lesson: Lesson) -> None:
    page = alone(lesson, SOLVE)
    texts = []
    for name in ("Where to look", "What holds there", "How it goes"):
        slip = (
            page.locator(".hints-slips details, .hints details").filter(has=page.locator("summary", has_text=name)).last
        )
        slip.locator("summary").click()
        slip.locator("p").filter(has_text=re.compile(r"\w")).wait_for()
        texts.append(slip.locator("p").inner_text())
    assert len(set(texts)) == 3
    lesson.check(page, "hints open")


def test_working_survives_a_reload(lesson: Lesson) -> None:
    page = alone(lesson, SOLVE)
    _, lines = solve_by_sight(page)
    page.locator(".working-input").nth(0).fill(lines[0])
    page.locator(".blank-number").fill("12")
    saved(page)
    page.reload()
    page.locator("form.exercise").wait_for()

    until(page, "() => document.querySelector('.blank-number').value === '12'")
    assert page.locator(".working-input").nth(0).input_value() == lines[0]


def test_an_order_is_made_with_buttons_and_keys(lesson: Lesson) -> None:
    """W-5, A-18: no dragging; the moved row keeps the focus and its place is said."""
    page = lesson.page(PHONE)
    page.goto(f"/alone/{PACK}/#{MIXED}")
    page.locator("form.exercise").wait_for()
    for _ in range(24):
        if page.locator(".order").count():
            break
        answer_anything(page)
    assert page.locator(".order").count(), "an item to be put in order comes within the set"
    first = page.locator(".order-row").first
    label = first.locator(".order-label").inner_text()
    down = first.get_by_role("button", name=f"Move row {label} down")
    down.focus()
    page.keyboard.press("Enter")
    assert page.locator(".order-row").nth(1).locator(".order-label").inner_text() == label
    assert page.evaluate("document.activeElement.getAttribute('aria-label')") == f"Move row {label} down"
    assert f"Row {label} is now in place 2" in page.locator("#verdict").inner_text()
    lesson.check(page, "an order")
    lesson.fits(page, "an order on a phone")


def answer_anything(page: Any) -> None:
    """Two answers to whatever is asked, so that the item closes; then on to the next."""
    for _ in range(2):
        for group in page.locator("fieldset.choices:visible").all():
            group.locator("label").first.click()
        for menu in page.locator(".blank-menu select:visible").all():
            menu.select_option(index=1)
        for box in page.locator(".blank-number:visible").all():
            box.fill("1")
        page.get_by_role("button", name="Hand in").click()
        verdict(page)
        drawn(page)
        if page.locator(".practice-next:visible").count():
            break
    page.locator(".practice-next").click()
    page.locator(".practice-next").wait_for(state="hidden")


def test_practice_by_keyboard_alone(lesson: Lesson) -> None:
    """A-11: an item answered, its way read, and the next one begun, without a pointer."""
    page = lesson.page(LAPTOP)
    page.goto(f"/alone/{PACK}/#{MIXED}")
    page.locator("form.exercise").wait_for()
    before = page.locator(".exercise-prompt").last.inner_text()
    for _ in range(2):
        tab_to(page, ".blank select, input[type=radio]")
        page.keyboard.press("ArrowDown")
        tab_to(page, "button[type=submit]")
        page.keyboard.press("Enter")
        verdict(page)
        drawn(page)
        if page.locator(".practice-next:visible").count():
            break
    assert page.evaluate("document.activeElement.className").startswith("action practice-next")
    page.keyboard.press("Enter")
    until(page, "(before) => [...document.querySelectorAll('.exercise-prompt')].at(-1).textContent !== before", before)


def tab_to(page: Any, selector: str) -> None:
    for _ in range(60):
        if page.evaluate("(s) => document.activeElement.matches(s)", selector):
            return
        page.keyboard.press("Tab")
    raise AssertionError(f"Tab never reaches {selector}")


def test_standing_is_counted_and_no_points(lesson: Lesson) -> None:
    page = lesson.page(LAPTOP)
    page.goto(f"/alone/{PACK}/#{MIXED}")
    page.locator("form.exercise").wait_for()
    page.get_by_text("How far I have come").click()

    words = page.locator(".standing dd").all_inner_texts()
    assert words and all(re.fullmatch(r"not tried yet|\d of \d right|\d of the last 6 right", word) for word in words)


@pytest.mark.parametrize("size", [LAPTOP, PHONE, ZOOMED, (320, 256)])
def test_no_sideways_scrolling_and_no_violation(lesson: Lesson, size: tuple[int, int]) -> None:
    for task in (SOLVE, MIXED, "exit-enough"):
        page = alone(lesson, task, size)
        lesson.fits(page, f"{task} at {size}")
        lesson.check(page, f"{task} at {size}")


@pytest.mark.parametrize("task", [SOLVE, MIXED, "exit-solve", "exit-reason", "exit-enough"])
def test_the_way_to_hand_in_is_in_view(lesson: Lesson, task: str) -> None:
    """Not below the card's fold on a small laptop, and not under anything; Enter in a blank hands in too."""
    page = alone(lesson, task)
    button = page.get_by_role("button", name="Hand in")
    page.locator("#hand button").first.wait_for()
    assert button.count() == 1
    box = button.bounding_box()
    assert box and box["y"] + box["height"] <= LAPTOP[1]
    assert button.evaluate("""b => { const r = b.getBoundingClientRect();
        return b.contains(document.elementFromPoint(r.x + r.width / 2, r.y + r.height / 2)); }""")
    if page.locator(".blank-number:visible").count():
        page.locator(".blank-number").first.fill("1")
        page.locator(".blank-number").first.press("Enter")
        if page.locator("#confirm").is_visible():
            return
        verdict(page)


def test_the_page_never_holds_the_key(lesson: Lesson) -> None:
    """T-10: neither the answers nor the seed come with the task."""
    page = lesson.page()
    bodies: list[str] = []
    page.on("response", lambda r: bodies.append(r.text()) if "/task/" in r.url and r.ok else None)
    page.goto(f"/alone/{PACK}/#{SOLVE}")
    page.locator("form.exercise").wait_for()

    text = " ".join(bodies)
    assert '"item"' in text
    assert not re.search(r'"(key|traps|seed|facts|hints)"', text)


def test_the_calculator_serves_every_family(lesson: Lesson) -> None:
    """The contract: GET an item, POST an answer; the same for the same seed."""
    page = lesson.page()
    page.goto("/")
    base = lesson.base + "/api/practice"
    listed = page.request.get(base).json()["families"]
    assert {f["family"]: f["levels"] for f in listed} == dict(LEVELS)
    for family in FAMILIES:
        shown = page.request.get(f"{base}/{family}?seed=7&level=2").json()
        assert {"prompt", "figure", "given", "ask"} <= set(shown)
        said = page.request.post(
            f"{base}/{family}/check", data={"seed": 7, "level": 2, "answer": key_shown(item(family, 7, 2))}
        )
        assert said.json()["verdict"] == "right" and {"misconception", "note", "key"} <= set(said.json())
    for body in (
        {},
        {"seed": 7},
        {"seed": 7, "level": 2, "answer": "9**9**7"},
        {"seed": "x", "level": 2, "answer": 1},
        [],
    ):
        assert page.request.post(f"{base}/make-parallel/check", data=body).status == 422
    assert page.request.get(f"{base}/nothing").status in (404, 422)
