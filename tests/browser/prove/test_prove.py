"""Proving on a Seat in a real browser: by clicks only, by keyboard only, every support form, the other figure, the Board."""

from __future__ import annotations

from typing import Any

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import LAPTOP, PHONE, ZOOMED, Lesson, saved
from tests.browser.lesson.hands import ALONG, MIDDLE

pytestmark = pytest.mark.browser
TWELVE = "twelve-proofs"
CORE = "proving-lines-parallel"


def open_task(lesson: Lesson, pack: str, task: str, size: tuple[int, int] = LAPTOP, **more: Any) -> Any:
    page = lesson.page(size, **more)
    page.goto(f"/alone/{pack}#{task}")
    page.locator(".prove-book").wait_for()
    page.locator(".figure-svg").first.wait_for()
    return page


def field(page: Any, row: int, what: str) -> Any:
    return page.get_by_label(f"Row {row}, {what}", exact=True).and_(page.locator("input"))


def choose(page: Any, row: int, typed: str) -> None:
    reason = field(page, row, "reason")
    reason.click()
    reason.fill(typed)
    page.locator("[role=option]:visible").first.click()


def verdict_of(page: Any, row: int) -> Any:
    return page.locator(".prove-book tbody").nth(row - 1).locator(".book-note strong")


def status(page: Any) -> Any:
    return page.locator("#verdict")


def test_a_proof_by_clicks_only(lesson: Lesson) -> None:
    """Tap the figure for statements, choose reasons and references from lists: no typing, no dragging (SC 2.5.7)."""
    page = open_task(lesson, TWELVE, "derive-alternate-interior")
    for row, names in ((2, ("2", "3")), (3, ("2", "6"))):
        if row > 2:
            page.get_by_role("button", name="Next row", exact=True).click()
        field(page, row, "statement").click()
        for name in names:
            tap(page, "angle", name)
        assert field(page, row, "statement").input_value() == f"∠{names[0]} ≅ ∠{names[1]}"
        field(page, row, "reason").click()
        page.get_by_role("option", name="Vertical Angles Theorem" if row == 2 else "Transitive Property").click()
    page.locator(".from-button").nth(1).click()
    for n in (1, 2):
        page.get_by_role("button", name=f"Row {n}", exact=True).click()
    assert page.locator(".from-button").nth(1).inner_text() == "1, 2"

    page.get_by_role("button", name="Next row", exact=True).click()
    field(page, 4, "statement").click()
    for line in ("m", "n"):
        tap(page, "line", line)
    assert field(page, 4, "statement").input_value() == "m ∥ n"
    field(page, 4, "reason").click()
    page.get_by_role("option", name="Corresponding Angles Converse").click()
    page.get_by_role("button", name="Hand in the proof").click()
    status(page).get_by_text("Proved").wait_for()
    lesson.check(page, "proved")


def tap(page: Any, kind: str, name: str) -> None:
    """A click in the middle of a sector, or on a line with nothing else near."""
    part = page.locator(f'.figure-svg [data-kind="{kind}"][data-name="{name}"]').first
    page.mouse.click(*part.evaluate(MIDDLE if kind == "angle" else ALONG))


def test_a_proof_by_keyboard_only(lesson: Lesson) -> None:
    page = open_task(lesson, TWELVE, "one-reason")
    field(page, 2, "reason").focus()
    page.keyboard.type("alt int conv")
    page.keyboard.press("ArrowDown")
    option = page.locator("[role=option]:visible").first
    assert option.get_attribute("aria-selected") == "true"
    assert field(page, 2, "reason").get_attribute("aria-activedescendant") == option.get_attribute("id")
    page.keyboard.press("Enter")
    assert field(page, 2, "reason").input_value() == "Alternate Interior Angles Converse"
    assert field(page, 2, "reason").get_attribute("aria-expanded") == "false"
    for _ in range(12):
        page.keyboard.press("Tab")
        if page.evaluate("document.activeElement.textContent") == "Hand in the proof":
            break
    page.keyboard.press("Enter")
    status(page).get_by_text("Proved").wait_for()


def test_wrong_rows_get_their_notes_in_place(lesson: Lesson) -> None:
    page = open_task(lesson, TWELVE, "derive-alternate-interior")
    field(page, 2, "statement").fill("m || n")
    choose(page, 2, "Corresponding Angles Postulate")
    page.get_by_role("button", name="Next row", exact=True).click()
    field(page, 3, "statement").fill("<2 = <")
    choose(page, 3, "Vertical")
    page.get_by_role("button", name="Check my rows").click()
    verdict_of(page, 3).get_by_text("can't be read").wait_for()
    assert "Character" in page.locator(".prove-book tbody").nth(2).locator(".book-note").inner_text()
    assert verdict_of(page, 2).inner_text() == "needs a step"
    assert "Row 2" in status(page).inner_text()
    lesson.check(page, "notes")

    field(page, 3, "statement").fill("∠2 ≅ ∠3")
    field(page, 3, "statement").press("Enter")
    assert not page.locator(".prove-book tbody").nth(2).locator(".book-note").is_visible()


def test_the_note_of_a_wrong_row_is_tied_to_its_fields_and_reached_by_keys(lesson: Lesson) -> None:
    """WCAG 2.2 SC 3.3.1 and 1.3.1: the field that is amiss says so and names its note; the note is a stop of Tab."""
    page = open_task(lesson, TWELVE, "derive-alternate-interior")
    wrong = (
        ("<2 = <", "Vertical", "statement"),
        ("∠2 ≅ ∠3", "Corresponding Angles Postulate", "reason"),
        ("m ∥ n", "Corresponding Angles Postulate", "statement reason"),
    )
    for row, (statement, reason, _) in enumerate(wrong, 2):
        if row > 2:
            page.get_by_role("button", name="Next row", exact=True).click()
        field(page, row, "statement").fill(statement)
        choose(page, row, reason)
    page.get_by_role("button", name="Check my rows").click()
    for row, (_, _, blamed) in enumerate(wrong, 2):
        note = page.locator(".prove-book tbody").nth(row - 1).locator(".note-told")
        note.get_by_text(verdict_of(page, row).inner_text()).wait_for()
        for what in ("statement", "reason"):
            one = field(page, row, what)
            assert (one.get_attribute("aria-invalid") == "true") == (what in blamed), (row, what)
            told = page.locator(f"#{one.get_attribute('aria-describedby')}")
            assert told.inner_text() == note.inner_text() != ""
        field(page, row, "reason").focus()
        for _ in range(4):
            page.keyboard.press("Tab")
            if note.evaluate("e => e === document.activeElement"):
                break
        else:
            raise AssertionError(f"no Tab reaches the note of row {row}")
    lesson.check(page, "tied notes")
    # A row that is changed is amiss no longer, and has no note to name.
    field(page, 4, "statement").fill("∠2 ≅ ∠6")
    assert field(page, 4, "statement").get_attribute("aria-invalid") is None
    assert field(page, 4, "statement").get_attribute("aria-describedby") is None


# How much of an element can be seen inside the part of the card that scrolls, and whether it is what lies on top there.
SEEN = """e => {
  const box = e.getBoundingClientRect(), view = document.querySelector(".seat-read").getBoundingClientRect();
  const top = Math.max(box.top, view.top, 0), bottom = Math.min(box.bottom, view.bottom, innerHeight);
  const on = document.elementFromPoint(box.left + box.width / 2, (top + bottom) / 2);
  return bottom - top >= box.height - 1 && e.contains(on);
}"""


def test_the_note_of_the_row_in_hand_is_in_view(lesson: Lesson) -> None:
    page = open_task(lesson, TWELVE, "derive-alternate-interior")
    for row, statement in ((2, "∠2 ≅ ∠3"), (3, "∠1 ≅ ∠4"), (4, "∠5 ≅ ∠8"), (5, "∠2 ≅ ∠6")):
        if row > 2:
            page.get_by_role("button", name="Next row", exact=True).click()
        field(page, row, "statement").fill(statement)
        choose(page, row, "Vertical Angles Theorem")
    field(page, 5, "statement").click()
    page.locator(".seat-read").evaluate("e => e.scrollTo(0, 0)")
    page.get_by_role("button", name="Check my rows").click()
    verdict_of(page, 5).get_by_text("other reason").wait_for()
    assert page.locator(".prove-book tbody").nth(4).locator(".book-note").evaluate(SEEN)
    assert page.locator(".prove-book tbody").nth(4).locator("tr").first.evaluate(SEEN)


def test_five_rows_to_be_put_in_order_are_in_view_at_once(lesson: Lesson) -> None:
    page = open_task(lesson, CORE, "chain-consecutive-interior")
    rows = page.locator(".prove-book tbody")
    tall = rows.evaluate_all("all => all.map(e => e.getBoundingClientRect().height)")
    assert all(rows.nth(i).locator("tr").first.evaluate(SEEN) for i in range(rows.count()))
    # A fifth row would stand there too.
    room = page.evaluate("""() => document.querySelector(".seat-read").getBoundingClientRect().bottom
        - document.querySelector(".prove-book").getBoundingClientRect().bottom""")
    assert room >= max(tall) * (5 - rows.count())


@pytest.mark.parametrize("size", [LAPTOP, PHONE], ids=str)
def test_the_verbs_never_cover_the_row_in_hand(lesson: Lesson, size: tuple[int, int]) -> None:
    page = open_task(lesson, TWELVE, "derive-alternate-interior", size)
    for row in (2, 3, 4):
        if row > 2:
            page.get_by_role("button", name="Next row", exact=True).click()
        for what in ("statement", "reason"):
            field(page, row, what).fill("∠2 ≅ ∠3" if what == "statement" else "Vertical Angles Theorem")
            assert field(page, row, what).evaluate("""e => {
              const box = e.getBoundingClientRect();
              return document.elementFromPoint(box.left + box.width / 2, box.top + box.height / 2) === e;
            }"""), (row, what)


@pytest.mark.parametrize("task", ["derive-alternate-interior", "one-reason"])
def test_an_exit_ticket_shows_no_help(lesson: Lesson, task: str) -> None:
    """The page is told that the task is an exit ticket; the server's own refusal is tried with the packs."""
    page = lesson.page()

    def as_exit(route: Any) -> None:
        text = route.fetch().text()
        told = text.replace('exit: purpose(id) === "exit"', "exit: true")
        assert told != text
        route.fulfill(body=told, content_type="text/javascript")

    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url) if "/ask/" in request.url else None)
    page.route("**/gathered/seat.js", as_exit)
    page.goto(f"/alone/{TWELVE}#{task}")
    page.locator(".prove-book").wait_for()
    hand = page.get_by_role("button", name="Hand in the proof")
    hand.wait_for()
    for name in ("Check my rows", "a flow", "a paragraph"):
        assert page.get_by_role("button", name=name, exact=True).count() == 0
    assert page.locator(".slip").count() == 0
    if task == "one-reason":
        choose(page, 2, "Alternate Interior Angles Converse")
        hand.click()
        status(page).get_by_text("Proved").wait_for()
    else:
        field(page, 2, "statement").fill("∠2 ≅ ∠3")
        choose(page, 2, "Vertical Angles Theorem")
        page.get_by_role("button", name="Next row", exact=True).click()
        saved(page)
        assert page.locator(".book-note:visible").count() == 0
    assert asked == []


def test_a_row_that_is_not_forced_opens_the_other_figure(lesson: Lesson) -> None:
    page = open_task(lesson, TWELVE, "leaning")
    field(page, 2, "statement").fill("m ∥ n")
    choose(page, 2, "Consecutive Interior Angles Converse")
    page.get_by_role("button", name="Check my rows").click()
    page.get_by_role("button", name="Show the other figure").click()
    other = page.locator(".prove-other")
    other.wait_for()
    assert "m ∥ n fails" in other.inner_text()
    page.wait_for_timeout(1200)
    assert page.locator(".figure-svg").count() == 2
    lesson.check(page, "other figure")
    page.get_by_role("button", name="Put the other figure away").click()
    assert page.locator(".prove-other").count() == 0


def test_the_other_figure_appears_at_once_where_motion_is_reduced(lesson: Lesson) -> None:
    page = open_task(lesson, TWELVE, "leaning", reduced_motion="reduce")
    field(page, 2, "statement").fill("m ∥ n")
    choose(page, 2, "Consecutive Interior Angles Converse")
    page.get_by_role("button", name="Check my rows").click()
    page.get_by_role("button", name="Show the other figure").click()
    page.locator(".prove-other .figure-svg").wait_for()
    before = page.locator(".prove-other .figure-svg").inner_html()
    page.wait_for_timeout(400)
    assert page.locator(".prove-other .figure-svg").inner_html() == before


def test_not_forced_is_answered_by_another_figure(lesson: Lesson) -> None:
    page = open_task(lesson, TWELVE, "leaning")
    page.get_by_role("button", name="It doesn't have to be true").click()
    turning = page.locator(".turning")
    turning.wait_for()
    turning.get_by_text("here").first.wait_for()
    lesson.check(page, "turning")
    page.get_by_role("button", name="Back to the proof").click()
    assert page.locator(".prove-book").is_visible()


def test_flow_and_paragraph_show_the_same_rows(lesson: Lesson) -> None:
    page = open_task(lesson, TWELVE, "one-reason")
    choose(page, 2, "Alternate Interior Angles Converse")
    page.get_by_role("button", name="a flow", exact=True).click()
    page.locator(".flow-box").nth(1).wait_for()
    assert page.locator(".flow-box").count() == 2
    assert page.locator(".flow-arrows path").count() == 2
    lesson.check(page, "flow")
    page.get_by_role("button", name="a paragraph", exact=True).click()
    page.locator(".prove-prose").wait_for()
    assert "It is given that" in page.locator(".prove-prose").inner_text()
    page.get_by_role("button", name="two columns", exact=True).click()
    assert page.locator(".prove-book").is_visible()


def test_rows_are_put_in_order_with_buttons(lesson: Lesson) -> None:
    page = open_task(lesson, CORE, "chain-consecutive-interior")
    wanted = ["∠2 and ∠5 are supplementary", "∠1 and ∠2 are supplementary", "∠1 ≅ ∠5", "j ∥ k"]
    for at, statement in enumerate(wanted):
        for _ in range(6):
            rows = page.locator(".statement-fixed").all_inner_texts()
            place = rows.index(statement)
            if place <= at:
                break
            page.get_by_role("button", name=f"Move row {place + 1} up").click()
            # The focus stays with the row that was moved.
            assert page.evaluate("document.activeElement.getAttribute('aria-label')") == f"Move row {place} up"
    # Down too, and at the end of its way, where the control rests: a second press moves nothing and keeps the focus.
    page.get_by_role("button", name="Move row 1 down").press("Enter")
    assert page.evaluate("document.activeElement.getAttribute('aria-label')") == "Move row 2 down"
    page.get_by_role("button", name="Move row 2 up").press("Enter")
    page.keyboard.press("Enter")
    assert page.evaluate("document.activeElement.getAttribute('aria-label')") == "Move row 1 up"
    assert page.locator(".statement-fixed").all_inner_texts() == wanted
    lesson.check(page, "order")
    page.get_by_role("button", name="Hand in the proof").click()
    status(page).get_by_text("Proved").wait_for()


def test_a_worked_example_is_read_row_by_row(lesson: Lesson) -> None:
    page = open_task(lesson, CORE, "chain-alternate-interior")
    assert page.locator(".prove-book tbody:visible").count() == 1
    page.get_by_role("button", name="Next row", exact=True).click()
    assert page.locator(".prove-book tbody:visible").count() == 2
    page.get_by_role("button", name="All rows").click()
    lesson.check(page, "worked")
    page.get_by_role("button", name="I have read it").click()
    status(page).get_by_text("Read through").wait_for()


def test_hints_go_from_looking_to_the_row_itself(lesson: Lesson) -> None:
    page = open_task(lesson, TWELVE, "derive-alternate-interior")
    page.locator(".slip summary").nth(0).click()
    page.locator(".hint-text").nth(0).get_by_text("Look at").wait_for()
    page.locator(".slip summary").nth(1).click()
    page.locator(".hint-text").nth(1).get_by_text("Theorem").wait_for()
    page.locator(".slip summary").nth(2).click()
    page.get_by_role("button", name="Write it in").click()
    assert field(page, 2, "statement").input_value() != ""
    assert field(page, 2, "reason").input_value() != ""


def test_reasons_missing_are_filled_in(lesson: Lesson) -> None:
    page = open_task(lesson, CORE, "chain-alternate-exterior", PHONE, has_touch=True)
    rows = page.locator(".prove-book tbody")
    reasons = {
        "∠8 ≅ ∠5": "Vertical",
        "∠1 ≅ ∠4": "Vertical",
        "∠1 ≅ ∠5": "Transitive",
        "∠4 ≅ ∠8": "Transitive",
        "m ∥ n": "Corresponding Angles Converse",
    }
    for n in range(2, rows.count() + 1):
        statement = rows.nth(n - 1).locator(".statement-fixed").inner_text()
        choose(page, n, reasons[statement])
    page.get_by_role("button", name="Hand in the proof").tap()
    status(page).get_by_text("Proved").wait_for()


@pytest.mark.parametrize("size", [PHONE, ZOOMED, (320, 256), (768, 1366)], ids=str)
def test_nothing_scrolls_sideways(lesson: Lesson, size: tuple[int, int]) -> None:
    for pack, task in (
        (TWELVE, "derive-alternate-interior"),
        (CORE, "chain-consecutive-interior"),
        (CORE, "chain-alternate-exterior"),
    ):
        page = open_task(lesson, pack, task, size)
        if task != "chain-consecutive-interior":
            page.locator("[role=combobox]").first.click()
        lesson.fits(page, f"{task} at {size}")
        if size == PHONE:
            lesson.check(page, f"{task} at {size}")


def test_work_is_kept_over_a_reload(lesson: Lesson) -> None:
    page = open_task(lesson, TWELVE, "derive-alternate-exterior")
    field(page, 2, "statement").fill("∠1 ≅ ∠4")
    choose(page, 2, "Vertical")
    page.locator("#kept").get_by_text("Saved").wait_for()
    page.reload()
    page.locator(".prove-book").wait_for()
    assert field(page, 2, "statement").input_value() == "∠1 ≅ ∠4"
    assert field(page, 2, "reason").input_value() == "Vertical Angles Theorem"


def test_a_proof_stands_on_the_board_row_by_row(lesson: Lesson) -> None:
    teacher = lesson.teacher()
    period = lesson.period(teacher, CORE)
    board = lesson.board(teacher, period)
    rows = [
        {"statement": "∠3 ≅ ∠6", "reason": "given", "name": "Given", "from": []},
        {
            "statement": "l ∥ m",
            "reason": "alternate-interior-angles-converse",
            "name": "Alternate Interior Angles Converse",
            "from": [1],
        },
    ]
    figure = {
        "lines": {
            "l": {"direction": 10, "through": [0, 2]},
            "m": {"direction": 10, "through": [0, -2]},
            "t": {"direction": 70, "through": [0, 0]},
        },
        "meets": {"A": ["l", "t"], "B": ["m", "t"]},
        "transversal": "t",
        "number": "standard",
    }
    from app.figure.model import figure_from_json, figure_to_json

    stage = {
        "kind": "proof",
        "title": "Alternate",
        "figure": figure_to_json(figure_from_json(figure)),
        "given": ["∠3 ≅ ∠6"],
        "goal": "l ∥ m",
        "rows": rows,
        "shown": 1,
        "reasons": False,
    }
    lesson.call(teacher, "POST", f"{period.path}stage", {"stage": stage, "to": ["board"]})
    board.locator(".stage-book tbody tr").first.wait_for()
    assert board.locator(".stage-book tbody tr").count() == 1
    lesson.call(teacher, "POST", f"{period.path}stage", {"stage": {**stage, "shown": 2}, "to": ["board"]})
    board.locator(".stage-book tbody tr").nth(1).wait_for()
    assert "reason?" in board.locator(".stage-book").inner_text()
    lesson.call(
        teacher, "POST", f"{period.path}stage", {"stage": {**stage, "shown": 2, "reasons": True}, "to": ["board"]}
    )
    board.get_by_text("Alternate Interior Angles Converse").wait_for()
    lesson.check(board, "proof on the Board")
    board.screenshot(path=str(lesson.data / "board-proof.png"))


def test_a_proof_task_on_the_board_says_what_is_given_and_what_to_prove(lesson: Lesson) -> None:
    """Put there by the Desk's own button; a given is not broken across lines."""
    teacher = lesson.teacher()
    period = lesson.period(teacher, "twelve-proofs")
    board = lesson.board(teacher, period)
    teacher.locator("#plan button", has_text="With an unknown").first.click()
    teacher.get_by_role("button", name="Put on the Board").click()
    expect(board.locator(".stage-given")).to_have_text(["Given m∠2 = 6x - 17, m∠5 = 3x + 8, x = 21", "Prove j ∥ k"])
    one = board.locator(".stage-given .statement").nth(1).bounding_box()["height"]
    assert one < 1.5 * board.locator(".stage-given .statement").last.bounding_box()["height"]
    lesson.check(board, "a proof task on the Board")
