"""Preparing a pack, the teacher's own example, and the records."""

from __future__ import annotations

import re
from typing import Any

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import LAPTOP, PACK, PHONE, ZOOMED, Lesson

pytestmark = pytest.mark.browser


def _parts(page: Any) -> list[str]:
    return [str(part.get_attribute("data-part")) for part in page.locator(".desk-part").all()]


def test_parts_are_moved_and_left_out_and_the_period_follows(lesson: Lesson) -> None:
    """J-1."""
    teacher = lesson.teacher()
    teacher.goto(f"/desk/pack/{PACK}/")
    before = _parts(teacher)
    minutes = teacher.locator("#total").inner_text()
    with teacher.expect_response("**/arrange"):
        teacher.locator(".desk-part").nth(1).locator('[data-do="up"]').click()
    with teacher.expect_response("**/arrange"):
        teacher.locator(".desk-part").nth(2).locator('[data-do="hide"]').click()
    expect(teacher.locator("#total")).not_to_have_text(minutes)
    teacher.reload()
    after = _parts(teacher)
    assert after[:2] == [before[1], before[0]]
    expect(teacher.locator(".desk-part").nth(2).locator('[data-do="hide"]')).to_have_attribute("aria-pressed", "true")
    lesson.check(teacher, "prepare")
    lesson.period(teacher)
    expect(teacher.locator(".plan-title > span:first-child")).to_have_count(len(before) - 1)
    teacher.goto(f"/desk/pack/{PACK}/")
    with teacher.expect_response("**/arrange"):
        teacher.locator(".desk-part").nth(1).locator('[data-do="up"]').click()
    with teacher.expect_response("**/arrange"):
        teacher.locator(".desk-part").nth(2).locator('[data-do="hide"]').click()


def test_notes_for_the_teacher_are_there_and_not_for_students(lesson: Lesson) -> None:
    teacher = lesson.teacher()
    teacher.goto(f"/desk/pack/{PACK}/")
    note = teacher.locator("details.slip").first
    note.locator("summary").click()
    words = note.locator("p, li, dd").first.inner_text()
    assert len(words) > 20
    period = lesson.period(teacher)
    seat = lesson.seat(period.code)
    assert words not in seat.content()


@pytest.mark.parametrize("size", [LAPTOP, ZOOMED, PHONE], ids=str)
def test_pages_of_the_desk_pass_and_fit(lesson: Lesson, size: tuple[int, int]) -> None:
    teacher = lesson.teacher(size)
    period = lesson.period(teacher)
    seat = lesson.seat(period.code, number=2)
    sid = lesson.call(teacher, "GET", f"/desk/period/{period.id}/state")["seats"][0]["sid"]
    assert seat.url
    for path in (
        "/desk/",
        f"/desk/pack/{PACK}/",
        "/desk/records",
        f"/desk/records/{period.id}",
        f"/desk/period/{period.id}/seat/{sid}/record",
    ):
        teacher.goto(path)
        lesson.check(teacher, f"{size} {path}")
        lesson.fits(teacher, f"{size} {path}")


def test_an_own_example_is_judged_and_becomes_a_task(lesson: Lesson) -> None:
    teacher = lesson.teacher()
    period = lesson.period(teacher)
    seat = lesson.seat(period.code)
    teacher.get_by_role("tab", name="Own example").click()
    teacher.fill("#own-given", "<3 = <6")
    teacher.fill("#own-goal", "l || m")
    teacher.get_by_role("button", name="What follows?").click()
    verdict = teacher.locator("#sheet-own .verdict")
    expect(verdict).to_contain_text("It follows")
    rows = teacher.locator("#sheet-own .book tbody tr")
    expect(teacher.locator("#own-given")).to_have_value("∠3 ≅ ∠6")
    expect(teacher.locator("#own-goal")).to_have_value("l ∥ m")
    assert rows.count() >= 2
    expect(rows.last).to_contain_text("l ∥ m")
    lesson.check(teacher, "own example: follows")
    teacher.fill("#own-title", "A gate and a beam")
    teacher.get_by_role("button", name="Give to the class as a task").click()
    expect(teacher.locator(".plan-task", has_text="A gate and a beam")).to_have_count(1)
    pack = lesson.call(seat, "GET", "/seat/state")["pack"]
    assert any(task["title"] == "A gate and a beam" for part in pack["parts"] for task in part["tasks"])
    teacher.reload()
    teacher.get_by_role("tab", name="Own example").click()
    expect(teacher.locator("#own-given")).to_have_value("∠3 ≅ ∠6")
    expect(teacher.locator("#own-title")).to_have_value("A gate and a beam")


def test_what_is_not_forced_shows_the_other_figure(lesson: Lesson) -> None:
    teacher = lesson.teacher()
    period = lesson.period(teacher)
    teacher.get_by_role("tab", name="Own example").click()
    teacher.fill("#own-given", "<1 = <4")
    teacher.fill("#own-goal", "l || m")
    teacher.get_by_role("button", name="What follows?").click()
    expect(teacher.locator("#sheet-own .verdict")).to_contain_text("It doesn’t have to be true")
    teacher.locator(".own-other svg").wait_for()
    lesson.check(teacher, "own example: not forced")
    with teacher.expect_response("**/stage"):
        teacher.locator("#sheet-own").get_by_role("button", name="Put on the Board").click()
    expect(teacher.get_by_role("tab", name="On the Board")).to_have_attribute("aria-selected", "true")
    # The Board's figure has arcs on the two angles that are its point, and the lines that fail are marked as failing.
    marks = lesson.call(teacher, "GET", f"/desk/period/{period.id}/state")["stage"]["marks"]
    assert marks["angles"]["1"]["arcs"] and marks["angles"]["1"]["arcs"] == marks["angles"]["4"]["arcs"]
    assert [marks["lines"][name]["tone"] for name in "lm"] == ["fails", "fails"]
    board = lesson.board(teacher, period)
    expect(board.locator("#stage svg")).to_be_visible()
    lesson.check(board, "counterexample")


def test_a_statement_outside_the_notation_is_told_in_words(lesson: Lesson) -> None:
    teacher = lesson.teacher()
    lesson.period(teacher)
    teacher.get_by_role("tab", name="Own example").click()
    teacher.fill("#own-given", "<1 = <5\n\n<1 is nice")
    teacher.get_by_role("button", name="What follows?").click()
    verdict = teacher.locator('#sheet-own .verdict[data-tone="mend"]')
    expect(verdict).to_contain_text("Line 3 of the givens. Character ")
    givens = teacher.locator("#own-given")
    expect(givens).to_have_attribute("aria-invalid", "true")
    expect(givens).to_be_focused()
    assert givens.evaluate("box => box.value.slice(box.selectionStart, box.selectionEnd)") == "<1 is nice"
    lesson.check(teacher, "own example: a given that can't be read")
    teacher.fill("#own-given", "<1 = <5")
    teacher.fill("#own-goal", "l || z")
    teacher.get_by_role("button", name="What follows?").click()
    expect(verdict).to_contain_text("What is to be proved. Character ")
    expect(teacher.locator("#own-goal")).to_have_attribute("aria-invalid", "true")
    assert givens.get_attribute("aria-invalid") is None
    field = teacher.locator(".own-number").first
    field.fill("steep")
    field.press("Tab")
    expect(field).to_have_attribute("aria-invalid", "true")
    expect(teacher.locator("#status")).to_contain_text("write a number")
    across = teacher.get_by_label("Direction of t in degrees")
    across.fill("127/2")
    across.press("Tab")
    expect(teacher.get_by_label("Direction of t in degrees")).to_have_value("127/2")
    teacher.fill("#own-goal", "l || m")
    teacher.get_by_role("button", name="What follows?").click()
    expect(teacher.locator("#sheet-own .verdict")).to_contain_text("It follows")


@pytest.mark.parametrize(("given", "goal", "says"), [
    ("m<1 = 40\nm<1 = 50", "l || m", "cannot all be true"),
    ("m<1 = 40\nm<5 = 50", "l || m", "It cannot be"),
])  # fmt: skip
def test_what_no_class_could_show_is_not_given_to_it(lesson: Lesson, given: str, goal: str, says: str) -> None:
    teacher = lesson.teacher()
    lesson.period(teacher)
    teacher.get_by_role("tab", name="Own example").click()
    teacher.fill("#own-given", given)
    teacher.fill("#own-goal", goal)
    teacher.get_by_role("button", name="What follows?").click()
    expect(teacher.locator("#sheet-own .verdict")).to_contain_text(says)
    expect(teacher.get_by_role("button", name="Put on the Board", exact=True)).to_be_visible()
    expect(teacher.get_by_role("button", name="Give to the class as a task")).to_be_hidden()
    teacher.fill("#own-given", "<1 = <5")
    teacher.get_by_role("button", name="What follows?").click()
    expect(teacher.get_by_role("button", name="Give to the class as a task")).to_be_visible()


def test_records_as_tables_and_a_file_and_erased_on_the_second_press(lesson: Lesson) -> None:
    """PD-5, V-16."""
    teacher = lesson.teacher()
    period = lesson.period(teacher, title="To be erased")
    seat = lesson.seat(period.code, number=21)
    task = lesson.call(teacher, "GET", f"/desk/period/{period.id}/state")["parts"][0]["tasks"][0]
    shown = lesson.call(seat, "GET", f"/seat/task/{task['id']}")["task"]
    names = {",".join(pair): "vertical" for pair in shown["pairs"]}
    lesson.call(seat, "POST", "/seat/reply", {"id": "reply-records-1", "task": task["id"], "reply": {"names": names}})
    teacher.goto(f"/desk/records/{period.id}")
    row = teacher.locator(".desk-marks tbody tr")
    expect(row.locator('th[scope="row"]')).to_have_text("21")
    teacher.locator(".desk-marks thead button").first.click()
    expect(teacher.locator('.desk-marks th[aria-sort="ascending"]')).to_have_count(1)
    lesson.check(teacher, "records")
    file = teacher.request.get(f"{lesson.base}/desk/records/{period.id}.csv")
    assert file.ok and "21" in file.text()
    teacher.get_by_role("button", name="Erase this period").click()
    teacher.get_by_role("button", name="Press again").click()
    expect(teacher.locator(".desk-erase [role=status]")).to_have_text("Erased: 1 answer, 1 place, 1 period.")
    teacher.wait_for_url("**/desk/records")
    assert "To be erased" not in teacher.locator("main").inner_text()


@pytest.mark.parametrize(
    ("zone", "made"), [("America/Los_Angeles", "2026-11-30 16:30"), ("Europe/Madrid", "2026-12-01 01:30")]
)
def test_five_classes_on_one_pack_are_told_apart(lesson: Lesson, zone: str, made: str) -> None:
    """Each has a title of its own; its day and hour are those of the teacher's clock, not of Greenwich."""
    teacher = lesson.teacher(timezone_id=zone)
    pack = teacher.locator(".desk-pack").filter(has=teacher.locator(f'a[href="/desk/pack/{PACK}/"]'))
    before = teacher.locator(".desk-table tbody tr").count()
    for _ in range(5):
        pack.locator("form button").click()
        teacher.wait_for_url("**/desk/period/**")
        teacher.goto("/desk/")
    rows = teacher.locator(".desk-table tbody tr")
    expect(rows).to_have_count(before + 5)
    titles = rows.locator("th").all_inner_texts()[:5]
    assert len(set(titles)) == 5, titles
    for path in ("/desk/", "/desk/records"):
        # Both pages, as they come with the evening's hour of the west in them: there it is still the day before.
        teacher.route(f"**{path}", _at_half_past_midnight)
        teacher.goto(path)
        expect(teacher.locator("time").first).to_have_text(made)
        lesson.check(teacher, path)


def _at_half_past_midnight(route: Any) -> None:
    """The same page, in which everything was made on December 1 at 0:30 UTC."""
    answer = route.fetch()
    route.fulfill(response=answer, body=re.sub(r'datetime="[^"]+"', 'datetime="2026-12-01T00:30:00Z"', answer.text()))


def test_an_exit_task_can_be_handed_in_once_more_when_the_teacher_lets_it(lesson: Lesson) -> None:
    """A-24, T-09: closed once handed in, until the teacher opens it again."""
    teacher = lesson.teacher()
    period = lesson.period(teacher)
    seat = lesson.seat(period.code, number=8)
    state = lesson.call(teacher, "GET", f"/desk/period/{period.id}/state")
    task = next(part for part in state["parts"] if part["purpose"] == "exit")["tasks"][0]
    shown = lesson.call(seat, "GET", f"/seat/task/{task['id']}")["task"]
    choice = next(field for field in shown["item"]["fields"] if field.get("choices"))
    answers = [{choice["name"]: one["value"]} for one in choice["choices"]]

    def hand_in(n: int) -> int:
        token = seat.locator('meta[name="token"]').get_attribute("content")
        body = {"id": f"reply-exit-{n}", "task": task["id"], "reply": {"answer": answers[n % len(answers)]}}
        return seat.request.post(f"{lesson.base}/seat/reply", data=body, headers={"X-Seat-Token": token}).status

    assert hand_in(0) == 200
    assert hand_in(1) == 409
    sid = lesson.call(teacher, "GET", f"/desk/period/{period.id}/state")["seats"][0]["sid"]
    teacher.goto(f"/desk/period/{period.id}/seat/{sid}/record")
    # What was asked of this student, with its own numbers, and what was answered, in words.
    work = teacher.locator(".desk-work li").first
    expect(work).to_contain_text(shown["item"]["prompt"])
    expect(work.locator("[data-reply]")).to_have_text(choice["choices"][0]["text"])
    button = teacher.get_by_role("button", name="Let it be handed in again")
    expect(button).to_have_count(1)
    button.click()
    expect(teacher.get_by_text("It can be handed in again.")).to_be_focused()
    lesson.check(teacher, "opened again")
    assert hand_in(1) == 200
