"""Python's side of the shared cases; JavaScript's is tests/static/twins.test.js."""

from __future__ import annotations

import json
from typing import Any

import pytest

from app.classroom.kinds.explore import as_drawn
from app.construction.arithmetic import FLOATS
from app.construction.goals import aim, copied_length, halving
from app.construction.plane import Straight
from app.construction.replay import Drawing
from app.construction.start import read_start
from app.figure.read import read_figure
from tests.twins.__main__ import MADE, VECTORS, text

NEAR = 1e-6


def shared(name: str) -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = json.loads((VECTORS / f"{name}.json").read_text(encoding="utf-8"))
    return found


@pytest.mark.parametrize("name", MADE)
def test_the_cases_are_those_that_the_seed_gives(name: str) -> None:
    assert (VECTORS / f"{name}.json").read_text(encoding="utf-8") == text(MADE[name].cases()), "python -m tests.twins"


def test_statements_hold_in_a_drawing_as_arithmetic_says() -> None:
    held = 0
    for case in shared("reach"):
        fig = read_figure(case["figure"], "figure")
        for statement, holds in case["statements"]:
            assert as_drawn(fig, statement).holds == holds, (case["figure"]["lines"], statement)
            held += holds
    assert held > 300, "as often as not something holds"


@pytest.mark.parametrize("case", shared("claims"), ids=lambda case: case["task"])
def test_an_answer_misses_where_its_definition_says(case: dict[str, Any]) -> None:
    start = read_start(case["task"], case["start"])
    drawing = Drawing(FLOATS, {name: tuple(at) for name, at in case["points"].items()})
    answer = case["answer"]
    drawing.values["x"] = (
        tuple(answer) if isinstance(answer, list) else Straight(answer["kind"], tuple(answer["p"]), tuple(answer["q"]))
    )
    if case["task"] == "bisect a segment":
        missed = halving(start, drawing, "x")
    elif case["task"] == "copy a segment":
        missed = max(copied_length(start, drawing, "x"))
    else:
        line = drawing.thing("x")
        assert isinstance(line, Straight)
        missed = aim(start, drawing, line)
    assert (missed < NEAR) == (case["off"] < NEAR), (missed, case["off"])
