"""Statements: every spelling of the contract, faults with their place, nothing a student types does harm."""

from __future__ import annotations

import json
import time
from pathlib import Path

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from app.figure.faults import Fault
from app.reasoning.statements import read_statement, show, speak
from tests.quick import least_cpu
from tests.reading import in_english
from tests.reasoning.samples import figure

speak = in_english(speak)

VECTORS = json.loads((Path(__file__).parent.parent / "vectors" / "statements.json").read_text(encoding="utf-8"))


@pytest.mark.parametrize("case", VECTORS["read"], ids=lambda case: case["text"])
def test_spellings_read_as_the_contract_says(case: dict) -> None:
    statement = read_statement(case["text"], figure(case.get("figure", "eight")))

    assert statement.kind == case["kind"]
    assert show(statement) == case["shown"]


@pytest.mark.parametrize("case", VECTORS["same"], ids=lambda case: case[0] + " ~ " + case[1])
def test_spellings_of_one_fact_are_one_fact(case: list[str]) -> None:
    fig = figure("eight")

    assert read_statement(case[0], fig).fact == read_statement(case[1], fig).fact


@pytest.mark.parametrize("case", VECTORS["faults"], ids=lambda case: case["text"][:30] or "(empty)")
def test_faults_name_the_place(case: dict) -> None:
    with pytest.raises(Fault) as caught:
        read_statement(case["text"], figure("eight"))

    assert caught.value.code == "reasoning." + case["code"]
    assert caught.value.fields["at"] == case["at"]
    sentence = caught.value.sentence()
    assert sentence.endswith(".") and "{" not in sentence


def test_at_least_the_contracts_spellings_are_covered() -> None:
    kinds = {case["kind"] for case in VECTORS["read"]}

    assert kinds == {
        "parallel",
        "not parallel",
        "perpendicular",
        "congruent",
        "equation",
        "supplementary",
        "complementary",
        "linear pair",
        "vertical",
        "right",
        "bisects",
    }


def test_angles_by_three_meets_are_the_same_sector_whatever_points_name_it() -> None:
    fig = figure("three")

    # B lies between A and C on t, so ∠(side of m)BC and the numbered angle are compared by their sides.
    assert read_statement("∠1 ≅ ∠2", fig).fact == read_statement("∠2 ≅ ∠1", fig).fact
    triangle = figure("triangle")
    assert read_statement("∠BAC ≅ ∠2", triangle).fact == read_statement("∠1 ≅ ∠2", triangle).fact
    assert read_statement("∠CAB = ∠2", triangle).fact == read_statement("∠1 ≅ ∠2", triangle).fact


def test_speech_spells_what_the_eye_reads() -> None:
    assert speak(read_statement("∠1 ≅ ∠5", figure("eight"))) == "angle 1 is congruent to angle 5"
    assert speak(read_statement("m∠1 = 3x + 10", figure("eight"))) == "the measure of angle 1 equals 3x plus 10"
    assert speak(read_statement("l || m", figure("eight"))) == "l is parallel to m"
    assert speak(read_statement("m<1 + m<2 = m<4 - 10", figure("eight"))).endswith("the measure of angle 4 minus 10")


@given(st.text(alphabet="lmtx∠<=+-*/()0123456789 m°≅∥⊥²^.,andisupplementarcog|\n\t\x00é", max_size=210))
@settings(max_examples=400, deadline=None)
def test_no_text_does_anything_but_read_or_fault(text: str) -> None:
    fig = figure("eight")
    start = time.process_time()
    try:
        statement = read_statement(text, fig)
    except Fault as fault:
        assert fault.code.startswith("reasoning.")
        assert isinstance(fault.sentence(), str)
    else:
        again = read_statement(show(statement), fig)
        assert again.fact == statement.fact

    assert time.process_time() - start < 0.5


HOSTILE = [
    "(" * 200,
    "9" * 200,
    "9**9**9 = 1",
    "__import__('os').system('x') = 1",
    "m∠1 = 9^9^9",
    "1e999 = x",
    "x" * 200,
    "m∠1 = " + "-" * 190,
    "m∠1 = 1" + "+1" * 96,
    "\N{ARABIC-INDIC DIGIT ONE} = x",
    "∠" * 200,
    "l ∥ m; drop table",
    "{x} = 1",
    "%s = 1",
    "\ud800 = 1",
]


@pytest.mark.parametrize("text", HOSTILE, ids=range(len(HOSTILE)))
def test_hostile_texts_are_answered_at_once(text: str) -> None:
    def read() -> None:
        try:
            read_statement(text, figure("eight"))
        except Fault as fault:
            fault.sentence()

    # T-06 asks for 50 ms.
    assert least_cpu(read) < 0.05
