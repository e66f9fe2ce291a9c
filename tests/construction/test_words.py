"""The words of each step, as they were last read and found good (tests/vectors/construction.json)."""

from __future__ import annotations

import json

import pytest

from app.construction.moves import read_program
from app.construction.start import TASKS, read_start
from app.construction.steps import steps_of
from app.construction.steps_own import own_steps
from app.construction.words import object_words, sentence
from app.words.en.construction import WORDS
from tests.construction.make_vectors import CASES, FILE, made
from tests.construction.starts import random_start
from tests.reading import in_english

object_words = in_english(object_words)
sentence = in_english(sentence)

KEPT = json.loads(FILE.read_text(encoding="utf-8"))


@pytest.mark.parametrize("i", range(len(KEPT)))
def test_words_of_each_step(i: int) -> None:
    now = made()[i]

    assert now["words"] == KEPT[i]["words"]
    assert now["steps"] == KEPT[i]["steps"]
    assert now["moves"] == KEPT[i]["moves"]


def test_every_step_of_every_way_has_its_sentence() -> None:
    from random import Random

    for task in TASKS:
        start = read_start(task, random_start(task, Random(1)))
        for route in ("any", "rhombus"):
            for chain in steps_of(start, route).values():
                for step in chain:
                    assert WORDS[f"next_{step.key}"].endswith(".")
            for chain in own_steps(start, route).values():
                for step in chain:
                    assert WORDS[f"next_{step.key}"].endswith(".")


def test_steps_named_as_the_trade_names_them() -> None:
    """5.4, steps 1 to 6 of copying an angle: arc, same opening, opening of the span, same opening, the ray."""
    words = [step["caption"] for step in KEPT[0]["steps"]]

    assert "any opening" in words[0] and "crosses both sides" in words[0]
    assert words[1].startswith("Same opening, compass point on W")
    assert words[2].startswith("Open the compass from B to C. Same opening")
    assert words[3].startswith("Draw the ray from W")


def test_two_arcs_about_one_center_are_told_apart() -> None:
    start = read_start(*CASES[0][0::2])
    moves = [
        {"op": "arc", "name": "a", "center": "V", "opening": ["V", "P"]},
        {"op": "arc", "name": "b", "center": "V", "opening": ["W", "S"]},
        {"op": "meet", "name": "Z", "of": ["a", "VQ"], "near": [1, 1]},
        {"op": "point", "name": "Y", "at": [1, 2]},
        {"op": "segment", "name": "k", "through": ["Y", "Z"]},
    ]
    program = read_program(start, moves)

    assert object_words(program, "b") == "the arc about V with opening WS"
    assert sentence(program, 2) == "Mark Z where the arc about V with opening VP and ray VQ cross."
    assert sentence(program, 3) == "Mark a point Y by eye."
    assert sentence(program, 4) == "Draw the segment from Y to Z, and call it k."


def test_no_sentence_is_left_unsaid() -> None:
    assert all(text.strip() == text for text in WORDS.values())
