"""A statement of the notation is shown in the reader's words, the same as the reasoner says it."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from app.figure.words import describe
from app.reasoning.statements import read_statement, show
from app.reasoning.terms import said
from app.words import in_words, render, speak
from tests.reasoning.samples import figure

VECTORS = json.loads((Path(__file__).parents[1] / "vectors" / "statements.json").read_text("utf-8"))


@pytest.mark.parametrize("language", ["en", "es"])
def test_a_shown_statement_is_said_as_the_reasoner_says_it(language: str) -> None:
    with speak(language):
        for case in VECTORS["read"]:
            statement = read_statement(case["text"], figure(case.get("figure", "eight")))
            told = render(in_words(show(statement)))
            assert told == render(said(statement)), case["text"]
            # And it is read back as the same statement.
            assert show(read_statement(told, figure(case.get("figure", "eight")))) == show(statement)


def test_a_description_keeps_what_is_asked_for_to_itself_in_spanish_too() -> None:
    with speak("es"):
        told = describe(figure("eight"), {"lines": {"l": {"arrows": 1}, "m": {"arrows": 1}}}, ["l ∥ m"], ["parallel"])
        assert "paralel" not in render(told["text"]).casefold()
        assert "Flechas en l y m." in [render(part) for part in told["parts"]]
