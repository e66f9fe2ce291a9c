"""What the server of the browser tests draws by chance follows from the test's name alone."""

from __future__ import annotations

from concurrent.futures import ThreadPoolExecutor
from typing import Any

import pytest
from flask import Flask

from app.store import ids
from tests.browser.conftest import Lesson, start
from tests.browser.serving import BROWSER, Seeded

pytestmark = pytest.mark.browser
PACK, TASK = "solve-and-practice", "with-brackets"


def shown(lesson: Lesson, test: str) -> tuple[Any, ...]:
    """A period's code, what a task asks alone and at a seat, and the names that the front door offers."""
    lesson.test = test
    teacher = lesson.teacher()
    code = lesson.period(teacher, PACK).code
    student = lesson.page()
    student.goto(f"/alone/{PACK}/#{TASK}")
    student.locator("form.exercise").wait_for()
    asked = lesson.call(student, "GET", f"/alone/{PACK}/task/{TASK}")["task"]["item"]
    newcomer = lesson.page()
    newcomer.goto("/")
    newcomer.fill("#code", code)
    newcomer.click("main button[type=submit]")
    newcomer.wait_for_url("**/enter/name")
    offered = newcomer.locator(".door-offer").all_inner_texts()
    newcomer.locator(".door-offer").first.click()
    newcomer.wait_for_url("**/seat/")
    in_class = lesson.call(newcomer, "GET", f"/seat/task/{TASK}")["task"]["item"]
    return code, str(asked), str(in_class), offered


def test_a_fresh_server_draws_the_same_for_the_same_test(
    chromium: Any, tmp_path_factory: pytest.TempPathFactory
) -> None:
    """Two servers of its own: on one that others use, or that a first try has used, much was drawn before."""
    started: list[Lesson] = []
    try:
        for _ in range(2):
            started.append(start(tmp_path_factory.mktemp("fresh"), chromium))
        first, other = started
        one, same, another = shown(first, "one"), shown(other, "one"), shown(other, "two")
        assert one == same
        for a, b in zip(one, another, strict=True):
            assert a != b
        assert not first.faults + other.faults
    finally:
        for server in started:
            for context in server.contexts:
                context.close()
            server.stop()


def test_what_one_browser_draws_does_not_depend_on_the_others() -> None:
    app = Flask(__name__)

    def draws(chance: Seeded, browser: str) -> list[str]:
        with app.test_request_context(headers={BROWSER: browser}):
            return [chance.token_hex(12) for _ in range(50)] + [str(chance.randbelow(31**6)), chance.token_urlsafe(32)]

    alone = {name: draws(Seeded(), name) for name in "abcd"}
    together = Seeded()
    with ThreadPoolExecutor(4) as pool:
        assert dict(zip("abcd", pool.map(lambda name: draws(together, name), "abcd"), strict=True)) == alone
    assert len({draw for drawn in alone.values() for draw in drawn}) == 4 * 52


def test_the_program_itself_draws_from_the_system() -> None:
    """Nothing here changes what a class gets: this process has imported the tests' server and still has real chance."""
    import secrets

    assert ids.chance is secrets
    assert len({ids.new_id() for _ in range(100)} | {ids.new_token() for _ in range(100)}) == 200
