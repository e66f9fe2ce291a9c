"""A minute without network, a page closed in the middle of it, an answer whose receipt is lost (N-3, T-09)."""

from __future__ import annotations

import re
from typing import Any

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import Lesson, Period
from tests.browser.lesson.walk import Student, enter, parts_of

pytestmark = pytest.mark.browser
MINUTE = 60_000
KEPT = "Saved. It will be sent when the network is back."


def room(lesson: Lesson) -> tuple[Any, Period, Student]:
    teacher = lesson.teacher()
    period = lesson.period(teacher)
    return teacher, period, enter(lesson, period, teacher, "mouse", 4)


def stored(lesson: Lesson, teacher: Any, period: Period, task: str) -> list[dict[str, Any]]:
    """Every reply of the class to a task, as the teacher's record has them."""
    found: list[dict[str, Any]] = lesson.call(teacher, "GET", f"{period.path}task/{task}/replies")["replies"]
    return found


def test_a_reply_made_in_a_minute_without_network_arrives_once(lesson: Lesson) -> None:
    teacher, period, student = room(lesson)
    page, task = student.page, parts_of()["warm-up"][0]
    page.clock.install()  # the page's own timers; a minute of them passes at once below
    page.reload()
    student.go(task)
    tries: list[str] = []
    page.on("requestfailed", lambda request: request.url.endswith("/reply") and tries.append(request.post_data))
    page.context.set_offline(True)
    student.classify(task)
    for _ in range(12):
        page.clock.run_for(MINUTE // 12)
        page.wait_for_timeout(40)
    expect(page.locator("#verdict")).to_have_text(KEPT)
    expect(page.locator("#net")).to_contain_text("waiting for the network")
    assert len(tries) >= 3 and len(set(tries)) == 1, "tried again, the very same reply"
    assert stored(lesson, teacher, period, task["id"]) == []
    page.context.set_offline(False)
    page.clock.run_for(20_000)
    student.solved(task)
    expect(page.locator("#net")).to_have_text("The network is back. Everything is saved.")
    page.clock.run_for(10_000)
    expect(page.locator("#net")).to_have_text("")
    assert [reply["attempt"] for reply in stored(lesson, teacher, period, task["id"])] == [1]


def test_a_page_closed_and_opened_again_loses_neither_reply_nor_work(lesson: Lesson) -> None:
    teacher, period, student = room(lesson)
    page, (first, second) = student.page, parts_of()["explore"][:2]
    student.go(first)
    # The second task is open in the same page before the network goes, as a class on its way would have it.
    student.explore(first)
    student.solved(first)
    student.next_to(second)
    page.context.set_offline(True)
    student.explore(second)
    expect(page.locator("#net")).to_contain_text("waiting for the network")
    turned = student.hand.direction("m")
    page.close()  # the lid: nothing more is sent from here
    page = student.page = page.context.new_page()
    page.context.set_offline(False)
    page.goto(f"/seat/#{second['id']}")
    student.hand.page = page
    expect(page.locator('.path-task[aria-current="step"] .path-tick')).to_have_text("✓")
    student.solved(second)
    assert student.hand.direction("m") == turned, "the figure stands as it was left"
    assert [reply["attempt"] for reply in stored(lesson, teacher, period, second["id"])] == [1]
    for _ in range(300):
        if left := page.evaluate("Object.keys(localStorage)"):
            page.wait_for_timeout(100)
    assert left == [], "nothing stays behind once it has arrived"


def test_a_reply_whose_receipt_is_lost_is_stored_once(lesson: Lesson) -> None:
    """The server has it, the browser doesn't know: it is sent again under the same id, and counted once."""
    teacher, period, student = room(lesson)
    page, task = student.page, parts_of()["warm-up"][1]
    lost: list[int] = []

    def drop(route: Any) -> None:
        if lost:
            route.continue_()
            return
        lost.append(route.fetch().status)
        route.abort("connectionreset")

    page.route("**/seat/reply", drop)
    student.go(task)
    student.solve(task)
    student.solved(task)
    assert lost == [200]
    assert [reply["attempt"] for reply in stored(lesson, teacher, period, task["id"])] == [1]


def test_work_on_one_device_goes_on_on_another(lesson: Lesson) -> None:
    """By the personal link, as a student who changes the machine would (A-26)."""
    teacher, period, student = room(lesson)
    task = parts_of()["name-the-pairs"][0]
    student.go(task)
    chosen = "alternate interior"
    with student.page.expect_response(lambda answer: "/seat/work/" in answer.url):  # sent within half a second
        student.hand.check(student.page.locator(f'#card .pair-names input[value="{chosen}"]'))
    link = lesson.call(student.page, "GET", "/seat/return")["link"]
    other = lesson.page()
    other.goto(link[link.index("/seat/return/") :])
    if other.locator("main form button").count():
        other.locator("main form button").first.click()
    other.wait_for_url("**/seat/**")
    expect(other.locator("#title")).to_have_text(task["title"])
    other.locator("#card .pair").first.click()
    expect(other.locator(f'#card .pair-names input[value="{chosen}"]')).to_be_checked()


def test_a_healthy_network_is_never_spoken_of(lesson: Lesson) -> None:
    """The status line says what is true: nothing waits while answers go through, at no zoom (A-28)."""
    _, _, student = room(lesson)
    page = student.page
    page.evaluate("""() => { window.said = [];
        new MutationObserver(() => window.said.push(document.getElementById('net').textContent))
          .observe(document.getElementById('net'), {childList: true, characterData: true, subtree: true}); }""")
    for task in parts_of()["warm-up"]:
        student.go(task)
        student.do(task)
    assert [text for text in page.evaluate("window.said") if text] == []
    page.set_viewport_size({"width": 320, "height": 256})
    page.context.set_offline(True)
    page.locator("#card input").first.dispatch_event("input")
    page.evaluate("document.querySelector('#net').textContent || dispatchEvent(new Event('offline'))")
    page.context.set_offline(False)
    assert (
        page.evaluate(
            "getComputedStyle(document.getElementById('net')).display === 'none' && document.getElementById('net').textContent !== ''"
        )
        is False
    )


def test_a_task_opened_while_the_server_is_away_opens_by_itself_when_it_is_back(lesson: Lesson) -> None:
    _, _, student = room(lesson)
    page, (first, second) = student.page, parts_of()["construction"][:2]
    student.go(parts_of()["warm-up"][0])
    before = page.evaluate("location.hash")
    page.context.set_offline(True)
    page.locator(f'.path-task[title="{first["title"]}"]').click()
    expect(page.locator("#verdict")).to_contain_text("opens by itself")
    assert page.evaluate("location.hash") == before, "address and page name one task"
    page.locator(f'.path-task[title="{second["title"]}"]').click()
    page.wait_for_timeout(300)
    page.context.set_offline(False)
    expect(page.locator("#title")).to_have_text(second["title"])
    expect(page.locator("#card > *").first).to_be_visible()
    expect(page).to_have_url(re.compile(f"#{second['id']}$"))


@pytest.mark.parametrize("kind", ["solve", "prove"])
def test_what_was_typed_a_moment_before_a_reload_is_there_again(lesson: Lesson, kind: str) -> None:
    _, _, student = room(lesson)
    page = student.page
    task = (
        parts_of()["warm-up"][2]
        if kind == "solve"
        else next(t for t in parts_of(optional=True)["chain"] if t.get("support") == "blank")
    )
    student.go(task)
    field = (
        page.locator(".working-input").first
        if kind == "solve"
        else page.locator('.statement-field[aria-label^="Row 2,"]')
    )
    field.click()
    page.keyboard.type("4x + 17")
    page.reload()
    expect(page.locator("#title")).to_have_text(task["title"])
    expect(field).to_have_value("4x + 17")
