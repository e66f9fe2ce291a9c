"""Each refusal can be said: a sentence with a gap that nobody fills would be a failure of the server's own."""

from __future__ import annotations

import ast
import string
from collections.abc import Callable
from pathlib import Path

import pytest
from flask import Flask

from app.words.en.web import WORDS
from tests.web.conftest import Room, set_up

WEB = Path(__file__).resolve().parents[2] / "app" / "web"


def refusals() -> list[tuple[str, str, set[str]]]:
    """(place, code, fields that are given) of every refusal whose code is written out."""
    found = []
    for path in sorted(WEB.glob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Name) and node.func.id == "Refused":
                code = node.args[1]
                if isinstance(code, ast.Constant):
                    fields = {word.arg or "**" for word in node.keywords} - {"after"}
                    found.append((f"{path.name}:{node.lineno}", str(code.value), fields))
    return found


def test_every_gap_of_a_refusal_is_filled() -> None:
    found = refusals()
    assert len(found) > 40
    for place, code, fields in found:
        area, _, name = code.partition(".")
        if area == "web" and "**" not in fields:
            gaps = {gap for _, gap, _, _ in string.Formatter().parse(WORDS[name]) if gap}
            assert gaps <= fields, (place, code)


@pytest.mark.parametrize("saves", [60])
def test_who_saves_too_fast_is_told_to_wait(make_app: Callable[..., Flask], saves: int) -> None:
    """V-12, and no 5xx for any input: the page keeps the work and sends it again."""
    app = make_app(LIMITS=True)
    room = Room(app, app.config["CLOCK"], set_up(app))
    student = room.seat(room.open_door(room.period()))
    answers = [student.put("/seat/work/first", {"n": n, "work": {}}) for n in range(saves)]

    statuses = [answer.status_code for answer in answers]
    assert set(statuses) == {200, 429} and statuses[-1] == 429
    assert answers[-1].json["error"]["message"] == WORDS["too_many"] and answers[-1].headers["Retry-After"] == "1"
    room.clock.pass_(seconds=5)
    assert student.put("/seat/work/first", {"n": saves, "work": {}}).status_code == 200
