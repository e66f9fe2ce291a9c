"""A construction demonstrated: on the Board by the teacher's steps, and on the Seat of a student who follows."""

from __future__ import annotations

from typing import Any

import pytest

from tests.browser.conftest import PACK
from tests.browser.drawn import drawn

pytestmark = pytest.mark.browser


def test_the_board_and_a_following_seat_step_together(lesson: Any) -> None:
    teacher = lesson.teacher(reduced_motion="reduce")
    period = lesson.period(teacher)
    board = lesson.board(teacher, period)
    seat = lesson.seat(period.code, (1366, 633), reduced_motion="reduce")
    seat.locator("#title").wait_for()
    key = lesson.call(teacher, "GET", f"/desk/pack/{PACK}/task/copy-an-angle")["key"]
    stage = {"kind": "construction", **key, "step": 0, "speed": 1}
    lesson.call(teacher, "POST", f"{period.path}follow", {"on": True})
    lesson.call(teacher, "POST", f"{period.path}stage", {"stage": stage, "to": ["board", "seats"]})
    for page in (board, seat):
        page.locator(".c-caption-name", has_text="What is given").wait_for()
    for step in key["steps"]:
        lesson.call(
            teacher, "POST", f"{period.path}stage", {"stage": {**stage, "step": step["upto"]}, "to": ["board", "seats"]}
        )
        for page in (board, seat):
            page.locator(".c-caption-words", has_text=step["caption"]).wait_for()
            assert page.locator(".c-player .c-answer").count() == (step is key["steps"][-1])
    # One step back takes the ray away again.
    back = key["steps"][-2]
    lesson.call(
        teacher, "POST", f"{period.path}stage", {"stage": {**stage, "step": back["upto"]}, "to": ["board", "seats"]}
    )
    board.locator(".c-caption-name", has_text=back["name"]).wait_for()
    assert board.locator(".c-player .c-answer").count() == 0
    lesson.check(board, "construction on the Board")


def test_the_board_draws_large_and_tells_steps_apart_without_colour(lesson: Any) -> None:
    """J-4 (text 28 px, lines 4 px at 1280 × 720) and A-05 (dashes and numbers beside colours)."""
    teacher = lesson.teacher(reduced_motion="reduce")
    period = lesson.period(teacher)
    board = lesson.board(teacher, period)
    key = lesson.call(teacher, "GET", f"/desk/pack/{PACK}/task/parallel-through-p")["key"]
    lesson.call(
        teacher,
        "POST",
        f"{period.path}stage",
        {"stage": {"kind": "construction", **key, "step": len(key["moves"]), "speed": 1}, "to": ["board"]},
    )
    board.locator(".c-player .c-answer").wait_for(state="attached")
    drawn(board)
    size = board.evaluate("parseFloat(getComputedStyle(document.querySelector('.c-letter')).fontSize)")
    wide = board.evaluate("parseFloat(getComputedStyle(document.querySelector('.c-answer')).strokeWidth)")
    dashes = board.evaluate("[...document.querySelectorAll('.c-arc')].map(e => getComputedStyle(e).strokeDasharray)")
    tags = board.locator(".c-tag").all_text_contents()
    assert size >= 28 and wide >= 4
    assert len(set(dashes)) == 3 and sorted(tags) == ["2", "3", "4"]
