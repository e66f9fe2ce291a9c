"""A period as it goes: the teacher opens it, three students come in, each with another hand, the Board counts without names."""

from __future__ import annotations

from typing import Any

import pytest
from playwright.sync_api import expect

from app.words.house import house as words_of
from tests.browser.conftest import LAPTOP, PHONE, ZOOMED, Lesson
from tests.browser.lesson.walk import Student, Task, enter, parts_of

pytestmark = pytest.mark.browser
TYPED = "Quillon"


def room_row(teacher: Any, name: str) -> Any:
    return teacher.locator(".room-list tbody tr").filter(has=teacher.locator("th button", has_text=name))


def verb(teacher: Any, task: Task, name: str) -> None:
    """A verb of a task in the plan; the task is opened first."""
    button = teacher.locator(".plan-task").filter(has=teacher.get_by_text(task["title"], exact=True))
    if button.get_attribute("aria-expanded") == "false":
        button.click()
    teacher.get_by_role("button", name=f"{name} {task['title']}", exact=True).click()


def test_a_period_from_the_open_door_to_the_tally(lesson: Lesson) -> None:
    task = parts_of()["name-the-pairs"][0]
    teacher = lesson.teacher()
    period = lesson.period(teacher)
    board = lesson.board(teacher, period)
    students = [enter(lesson, period, teacher, name, n) for n, name in enumerate(("mouse", "taps", "keys"), 31)]
    expect(teacher.locator(".room .place-name")).to_have_text(["31", "32", "33"])

    # All on one task; nobody has to look for it.
    verb(teacher, task, "Everyone here")
    for student in students:
        student.opened(task)
        expect(student.page.locator("#banner")).to_be_visible()
    for student in students[:2]:
        student.do(task)
    # One takes corresponding angles for alternate interior ones.
    last = students[2]
    for i in range(len(task["pairs"])):
        last.hand.press(last.page.locator("#card .pair").nth(i))
        last.hand.check(last.page.locator('#card .pair-names input[value="alternate interior"]'))
    last.hand.press(last.button("Check"))
    expect(last.page.locator("#verdict")).to_have_attribute("data-tone", "mend")

    # The Desk has the count, and each different answer once.
    plan = teacher.locator(".plan-task").filter(has=teacher.get_by_text(task["title"], exact=True))
    expect(plan.locator(".plan-count")).to_have_text("3/3")
    verb(teacher, task, "Answers")
    counts = teacher.locator(".answers tbody td.number:visible")
    expect(counts).to_have_text(["2", "1"])
    assert "31" not in teacher.locator(".answers").first.inner_text(), "the answers are read without names first"

    # The Board counts, and names nobody.
    teacher.get_by_role("button", name="Put the tally on the Board").click()
    expect(board.locator("#stage")).to_have_attribute("data-kind", "tally")
    # Part by part, and everybody counts once in each.
    expect(board.locator(".tally")).to_have_count(len(task["pairs"]))
    for i in range(len(task["pairs"])):
        counts = [int(text) for text in board.locator(".tally").nth(i).locator(".tally-count").all_inner_texts()]
        assert sum(counts) == 3 and max(counts) >= 2, counts
    expect(board.locator(".stage-ask")).to_have_text("3 of 3 have answered")
    text = board.locator("body").inner_text()
    assert not any(name in text.split() for name in ("31", "32", "33")), text

    # Mended, the third is done as well.
    last.do(task)
    state = lesson.call(teacher, "GET", f"{period.path}state")
    assert next(t["done"] for p in state["parts"] for t in p["tasks"] if t["id"] == task["id"]) == 3
    teacher.locator("#seats-own").click()
    expect(teacher.locator("#seats-own")).to_be_checked()
    for student in students:
        expect(student.page.locator("#next")).to_be_enabled()


def test_follow_me_shows_the_teachers_own_figure_and_lets_go_again(lesson: Lesson) -> None:
    task = parts_of()["explore"][0]
    teacher = lesson.teacher()
    period = lesson.period(teacher)
    student = enter(lesson, period, teacher, "taps", 5)
    student.go(task)
    student.hand.turn("m", 9, "A")
    verb(teacher, task, "Move its figure live")
    teacher.locator("#seats-follow").click()
    expect(teacher.locator("#seats-follow")).to_be_checked()
    stage = student.page.locator("#stage")
    expect(stage).to_be_visible()
    expect(stage.locator("svg").first).to_be_visible()
    expect(student.page.locator("#card-side")).to_be_hidden()
    lesson.check(student.page, "following")
    teacher.locator("#seats-follow").click()
    expect(teacher.locator("#seats-follow")).not_to_be_checked()
    expect(stage).to_be_hidden()
    assert student.hand.direction("m") == 9, "the own figure stands as it was"
    student.do(task)


def test_a_figure_that_comes_late_still_reaches_a_class_that_follows(lesson: Lesson) -> None:
    """The switch is pressed while the figure is being fetched, on a line so slow that the figure arrives before the switch does."""
    task = parts_of()["explore"][0]
    teacher = lesson.teacher()
    period = lesson.period(teacher)
    student = enter(lesson, period, teacher, "mouse", 5)
    figure: list[Any] = []
    switch: list[Any] = []
    teacher.route(f"**/task/{task['id']}", lambda route: figure.append(route))
    teacher.route("**/follow", lambda route: switch.append(route))
    with teacher.expect_request(f"**/task/{task['id']}"):
        verb(teacher, task, "Move its figure live")
    with teacher.expect_request("**/follow"):
        teacher.locator("#seats-follow").click()
    with teacher.expect_response("**/stage"):
        figure.pop().continue_()
    switch.pop().continue_()
    expect(student.page.locator("#banner")).to_be_visible()
    expect(student.page.locator("#stage svg").first).to_be_visible()


def test_the_exit_ticket_is_looked_over_confirmed_and_opened_again_by_the_teacher_alone(lesson: Lesson) -> None:
    """WCAG 2.2 SC 3.3.4; records by task and student."""
    task = parts_of()["exit-ticket"][0]
    teacher = lesson.teacher()
    period = lesson.period(teacher)
    student = enter(lesson, period, teacher, "mouse", 8)
    page = student.page
    student.go(task)
    student.solve(task)
    expect(page.locator("#confirm")).to_be_visible()
    lesson.check(page, "look it over")
    page.get_by_role("button", name="Keep working").click()
    expect(page.locator("#verdict")).to_have_text("Nothing was handed in.")
    assert lesson.call(teacher, "GET", f"{period.path}task/{task['id']}/replies")["replies"] == []
    student.hand.press(student.button("Hand in"))
    student.confirm(task)
    student.solved(task)
    page.reload()
    expect(page.locator("#verdict")).to_have_text("Handed in. Your teacher can open it again if you need to change it.")
    expect(student.button("Hand in")).to_be_hidden()
    lesson.check(page, "handed in")

    teacher.goto(f"/desk/records/{period.id}")
    row = teacher.locator(".desk-marks tbody tr").first
    expect(row.locator("th")).to_have_text("8")
    expect(row.locator("td", has_text="correct")).to_have_count(1)
    row.locator("th a").click()
    teacher.locator(f'[data-reopen][data-task="{task["id"]}"]').click()
    page.reload()
    expect(student.button("Hand in")).to_be_enabled()


@pytest.mark.parametrize("size", [LAPTOP, ZOOMED, PHONE], ids=str)
def test_the_question_before_an_exit_task_is_handed_in_stands_where_its_button_stood(
    lesson: Lesson, size: tuple[int, int]
) -> None:
    """SC 3.3.4: what answers it is in view and can be hit, nothing else there asks for the same, the focus comes back."""
    teacher = lesson.teacher()
    student = enter(lesson, lesson.period(teacher), teacher, "mouse", 8)
    page = student.page
    page.set_viewport_size({"width": size[0], "height": size[1]})
    for task in parts_of()["exit-ticket"]:
        student.go(task)
        student.solve(task)
        yes = page.get_by_role("button", name="Hand it in", exact=True)
        yes.wait_for()
        assert yes.evaluate("""one => { const box = one.getBoundingClientRect();
            return one.contains(document.elementFromPoint(box.x + box.width / 2, box.y + box.height / 2)); }"""), task[
            "id"
        ]
        expect(page.get_by_role("button", name="Hand in", exact=True)).to_have_count(0)
        lesson.fits(page, task["id"])
        page.get_by_role("button", name="Keep working").click()
        expect(student.button("Hand in")).to_be_focused()


@pytest.mark.parametrize("house", ["us-same-side", "uk", "es"])
def test_a_class_with_another_book_does_the_same_lesson_in_its_words(lesson: Lesson, house: str) -> None:
    teacher = lesson.teacher()
    period = lesson.period(teacher)
    lesson.call(teacher, "POST", f"{period.path}words", {"house": house})
    student: Student = enter(lesson, period, teacher, "mouse", 3)
    shown = {
        one["id"]: one
        for part in lesson.call(student.page, "GET", "/seat/state")["pack"]["parts"]
        for one in part["tasks"]
    }
    student.house = house
    for part, i in (("name-the-pairs", 1), ("justify", 0)):
        task = {**parts_of()[part][i], "title": shown[parts_of()[part][i]["id"]]["title"]}
        student.go(task)
        student.do(task)
    names = student.page.locator('[data-blank="theorem"] option').all_inner_texts()
    # A name that is a sentence stands quoted in the sentence.
    assert words_of(house).name("consecutive-interior-angles-converse").casefold() in [
        name.strip("“”").casefold() for name in names
    ]
