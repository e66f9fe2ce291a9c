"""The calculator's reasoning addresses as functions: shapes of the contract, and faults with their place."""

from __future__ import annotations

import json
import random

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from app.figure.faults import Fault
from app.figure.model import figure_from_json
from app.reasoning import api
from app.reasoning.follows import value_of
from app.reasoning.theorems import FIGURES
from tests.reading import in_english

api = in_english(api)

CONTRACT = {
    "lines": {
        "l": {"direction": 10, "through": [0, 3]},
        "m": {"direction": "10", "through": [0, -3]},
        "t": {"direction": 65, "through": [0, 0]},
    },
    "transversal": "t",
    "number": "standard",
}


def test_follows_answers_as_the_contract_says() -> None:
    told = api.follows({"figure": CONTRACT, "given": ["∠1 ≅ ∠5"], "claim": "l ∥ m"})
    assert told["verdict"] == "follows" and told["counterexample"] is None
    assert told["proof"][-1]["statement"] == "l ∥ m" and told["proof"][-1]["from"] == [1]

    told = api.follows({"figure": CONTRACT, "given": ["m∠1 = 3x + 10"], "claim": "l ∥ m"})
    assert told["verdict"] == "not forced" and told["proof"] is None
    other = told["counterexample"]
    assert set(other) >= {"lines", "unknowns", "measures"} and set(other["measures"]) == set("12345678")
    assert other["lines"]["l"] != other["lines"]["m"] and "x" in other["unknowns"]

    told = api.follows({"figure": CONTRACT, "given": ["m∠1 = 65", "m∠2 = 70"], "claim": "l ∥ m"})
    assert told["verdict"] == "givens conflict" and told["conflict"] == ["m∠1 = 65", "m∠2 = 70"]

    assert api.follows({"figure": CONTRACT, "given": ["l ∦ m"], "claim": "∠1 ≅ ∠5"})["verdict"] == "cannot be"


def test_the_value_that_the_givens_force() -> None:
    fig = figure_from_json(CONTRACT)
    assert value_of(fig, ["l ∥ m", "m∠3 = 3x + 10", "m∠6 = 5x - 20"], "x") == 15
    assert value_of(fig, ["l ∥ m", "m∠3 = 3x + 10", "m∠6 = 5x - 20"], "m∠5") == 125
    assert value_of(fig, ["m∠1 = 2x"], "x") is None
    assert value_of(fig, ["m∠1 = 2x", "m∠1 = 3x"], "m∠2") is None


def test_prove_gives_rows_or_the_verdict() -> None:
    told = api.prove({"figure": CONTRACT, "given": ["l ∥ m"], "goal": "∠4 ≅ ∠5"})
    assert [row["reason"] for row in told["rows"]] == ["given", "alternate-interior-angles"]
    assert all(set(row) >= {"statement", "reason", "from"} for row in told["rows"])
    told = api.prove({"figure": CONTRACT, "given": [], "goal": "l ∥ m"})
    assert told["rows"] is None and told["verdict"] == "not forced"


def test_check_gives_a_verdict_a_row() -> None:
    told = api.check(
        {
            "figure": CONTRACT,
            "given": ["∠1 ≅ ∠5"],
            "goal": "l ∥ m",
            "rows": [
                {"statement": "∠1 ≅ ∠5", "reason": "given"},
                {"statement": "l ∥ m", "reason": "corresponding-angles-converse", "from": [1]},
            ],
        }
    )
    assert told["complete"] is True
    assert [set(row) >= {"verdict", "note", "from"} for row in told["rows"]] == [True, True]


def test_theorems_are_listed_with_what_each_needs_and_gives() -> None:
    told = api.theorems()
    assert len(told["theorems"]) == 36
    assert all(row["gives"] and "needs" in row for row in told["theorems"])
    assert json.dumps(api.theorems({"house": "es", "profile": "theorem"}))


@pytest.mark.parametrize(
    ("body", "where"),
    [
        (None, ""),
        ([], ""),
        ({}, "figure"),
        ({"figure": CONTRACT, "given": "x", "claim": "l ∥ m"}, "given"),
        ({"figure": CONTRACT, "given": [1], "claim": "l ∥ m"}, "given.0"),
        ({"figure": CONTRACT, "given": ["l ∥ k"], "claim": "l ∥ m"}, "given.0"),
        ({"figure": CONTRACT, "given": []}, "claim"),
        ({"figure": CONTRACT, "given": [], "claim": "∠9 = 3"}, "claim"),
        ({"figure": CONTRACT, "given": ["l ∥ m"] * 41, "claim": "l ∥ m"}, "given"),
        ({"figure": CONTRACT, "given": [], "claim": "m∠1 = x²"}, "claim"),
        ({"figure": CONTRACT, "given": ["x² = 5"], "claim": "x = 2"}, "claim"),
    ],
)
def test_unusable_bodies_are_faults_with_a_place(body: object, where: str) -> None:
    with pytest.raises(Fault) as caught:
        api.follows(body)
    assert caught.value.where.startswith(where)
    assert caught.value.sentence().endswith((".", "?")) or caught.value.sentence()


JSON = st.recursive(
    st.none()
    | st.booleans()
    | st.integers(-(10**30), 10**30)
    | st.floats(allow_nan=True)
    | st.text(max_size=12)
    | st.sampled_from(["l ∥ m", "∠1 ≅ ∠5", "given", "m∠1 = 3x", "x = 1", "transitive"]),
    lambda inner: (
        st.lists(inner, max_size=4)
        | st.dictionaries(
            st.sampled_from(
                [
                    "figure",
                    "given",
                    "goal",
                    "claim",
                    "rows",
                    "statement",
                    "reason",
                    "from",
                    "lines",
                    "l",
                    "direction",
                    "house",
                    "k",
                    "bar",
                ]
            ),
            inner,
            max_size=4,
        )
    ),
    max_leaves=12,
)


@given(st.data())
@settings(max_examples=300, deadline=None)
def test_no_body_brings_anything_but_an_answer_or_a_fault(data) -> None:
    body = data.draw(JSON)
    if isinstance(body, dict) and data.draw(st.booleans()):
        body["figure"] = random.choice([CONTRACT, FIGURES["grid" if "grid" in FIGURES else "cross"]])
    for call in (api.follows, api.prove, api.check, api.theorems):
        try:
            json.dumps(call(body))
        except Fault as fault:
            assert isinstance(fault.sentence(), str)
        except Exception as error:
            raise AssertionError(f"{call.__name__}: {error!r}") from error
