"""A teacher's own find-x, and exercises with numbers from old textbooks (all in the public domain in the USA).

Sources: G. A. Wentworth, Plane Geometry, revised edition 1899; John Casey, The First Six Books of the Elements,
1885. Facts and figures are theirs, the wording is ours.
"""

from __future__ import annotations

import random
from fractions import Fraction
from typing import Any

import pytest

from app.figure.faults import Fault
from app.practice.answers import read_line
from app.practice.judging import judge
from app.practice.own import own_item
from app.practice.working import solutions
from app.words.house import house
from tests.practice.oracle import Oracle
from tests.reading import in_english

judge = in_english(judge)
own_item = in_english(own_item)

TWO: dict[str, Any] = {
    "lines": {
        "k": {"direction": 10, "through": [0, 3]},
        "m": {"direction": 12, "through": [0, -3]},
        "t": {"direction": 65, "through": [0, 0]},
    },
    "meets": {"A": ["k", "t"], "B": ["m", "t"]},
    "transversal": "t",
    "number": "standard",
}
# Two perpendicular lines and one through their crossing: three angles that share a vertex.
CORNER: dict[str, Any] = {
    "lines": {
        "a": {"direction": 0, "through": [0, 0]},
        "b": {"direction": 90, "through": [0, 0]},
        "c": {"direction": 40, "through": [0, 0]},
    },
    "meets": {"O": ["a", "b", "c"]},
    "angles": {
        "1": {"at": "O", "from": "a+", "to": "c+"},
        "2": {"at": "O", "from": "c+", "to": "b+"},
        "3": {"at": "O", "from": "c+", "to": "a-"},
    },
}
TRIANGLE: dict[str, Any] = {
    "lines": {
        "a": {"direction": 0, "through": [0, 0]},
        "b": {"direction": 75, "through": [-2, 0]},
        "c": {"direction": 105, "through": [2, 0]},
    },
    "meets": {"B": ["a", "b"], "C": ["a", "c"], "A": ["b", "c"]},
    "angles": {
        "1": {"at": "B", "from": "a+", "to": "b+"},
        "2": {"at": "C", "from": "c+", "to": "a-"},
        "3": {"at": "A", "from": "b-", "to": "c-"},
        "4": {"at": "C", "from": "a+", "to": "c+"},
    },
}


def answer(figure: dict[str, Any], given: list[str], want: str) -> str:
    made = own_item(figure, given, want, house())
    assert judge(made, made.key["x"][0]).right
    return made.key["x"][0]


@pytest.mark.parametrize(
    ("figure", "given", "want", "value"),
    [
        # Wentworth, exercise 1: the complement and the supplement of an angle of 49 degrees.
        (CORNER, ["a ⊥ b", "m∠1 = 49"], "m∠2", "41"),
        (CORNER, ["m∠1 = 49"], "m∠3", "131"),
        # Wentworth, exercise 3: an angle that is twice its supplement; one that is a third of its supplement.
        (CORNER, ["m∠3 = 2x", "m∠1 = x"], "m∠3", "120"),
        (CORNER, ["m∠1 = x", "m∠3 = 3x"], "m∠1", "45"),
        # Wentworth, exercise 6: the complement of an angle is a third of its supplement.
        (CORNER, ["a ⊥ b", "m∠2 = x", "m∠3 = 3x"], "m∠1", "45"),
        # Wentworth, exercise 11: isosceles, angle of 30 at the top; between a leg and the base produced.
        (TRIANGLE, ["m∠3 = 30", "∠1 ≅ ∠2"], "m∠4", "105"),
        # Wentworth §§110-116 and Casey I.29: same-side interior 70 and 110; alternate interior 71.5.
        (TWO, ["k ∥ m", "m∠3 = 70"], "m∠5", "110"),
        (TWO, ["k ∥ m", "m∠3 = 71.5"], "m∠6", "143/2"),
        (TWO, ["k ∥ m", "m∠2 = 47"], "m∠8", "133"),
    ],
)
def test_textbook_exercises(figure: dict[str, Any], given: list[str], want: str, value: str) -> None:
    assert answer(figure, given, want) == value


@pytest.mark.parametrize(
    ("given", "want", "value"),
    [
        (["k ∥ m", "m∠3 = 3x + 10", "m∠5 = 2x + 20"], "x", "30"),
        (["k ∥ m", "m∠3 = 3x + 10", "m∠5 = 2x + 20"], "m∠5", "80"),
        (["k ∥ m", "m∠3 = 2(x + 5)", "m∠6 = 70"], "x", "30"),
        (["k ∥ m", "m∠1 = 2x + y", "m∠5 = 100", "m∠3 = x + 2y"], "y", "20"),
        (["m∠1 = 4x", "m∠2 = x"], "x", "36"),
        (["k ∥ m", "m∠1 = x/2 + 40", "m∠5 = x"], "x", "80"),
        (["t ⊥ k", "m∠1 = 3x"], "x", "30"),
        (["k ∥ m", "m∠1 = x² + 3x", "m∠5 = 9x + 16"], "x", "8"),
    ],
)
def test_own_items_are_solved_as_z3_solves_them(given: list[str], want: str, value: str) -> None:
    made = own_item(TWO, given, want, house())
    assert made.key["x"][0] == value
    oracle = Oracle(dict(made.figure or {}))
    claim = f"{want} = {value}"
    assert oracle.possible([*given, claim])
    if not any("²" in g for g in given):
        assert oracle.entails(given, claim)


@pytest.mark.parametrize(
    ("given", "want", "value"),
    [
        (["m∠3 = 3x + 10", "m∠5 = 2x + 20"], "x", "30"),
        (["m∠2 = 5x - 12", "m∠6 = 3x + 20"], "m∠6", "68"),
        (["m∠4 = x² + 3x", "m∠5 = 9x + 16"], "x", "8"),
    ],
)
def test_lines_that_x_is_to_make_parallel_are_not_given_as_parallel(given: list[str], want: str, value: str) -> None:
    """The converse is what is practiced: nothing shown may say already that they are parallel."""
    made = own_item(TWO, given, want, house(), "k ∥ m")
    assert made.key["x"][0] == value and judge(made, value).right
    assert "∥" not in made.prompt and not any("∥" in g for g in made.given) and not made.marks.get("lines")
    assert made.ask == f"Find {want} so that k ∥ m."
    assert any("Converse" in hint for hint in made.hints)
    oracle = Oracle(dict(made.figure or {}))
    if want == "x" and not any("²" in g for g in given):
        assert oracle.entails([*given, f"x = {value}"], "k ∥ m"), "with this x they are"
        assert oracle.entails([*given, "k ∥ m"], f"x = {value}"), "and with no other"
    elif want == "x":
        assert oracle.possible([*given, f"x = {value}", "k ∥ m"])
    given_so = own_item(TWO, ["k ∥ m", *given], want, house())
    assert given_so.key == made.key and not any("Converse" in hint for hint in given_so.hints)


@pytest.mark.parametrize(
    ("given", "make", "code"),
    [
        (["m∠3 = 2x", "m∠2 = 100 - 3x"], "k ∥ m", "own_not_made"),  # vertical angles settle x, and say nothing of m
        (["m∠3 = 70"], "k ∥ m", "own_open"),
        (["m∠3 = 70", "m∠6 = 80"], "k ∥ m", "own_conflict"),
    ],
)
def test_what_x_can_not_make_true_is_said(given: list[str], make: str, code: str) -> None:
    with pytest.raises(Fault) as fault:
        own_item(TWO, given, "x", house(), make)
    assert fault.value.code == f"practice.{code}" and fault.value.sentence().endswith(".")


@pytest.mark.parametrize(
    ("given", "want", "code"),
    [
        (["m∠1 = 70"], "m∠5", "own_open"),
        ([], "x", "own_open"),
        (["k ∥ m", "m∠1 = 2x"], "x", "own_open"),
        (["m∠1 = 70", "m∠1 = 71"], "m∠2", "own_conflict"),
        (["m∠1 = 200"], "m∠2", "own_conflict"),
        (["m∠1 = 70", "m∠4 = 80"], "m∠2", "own_conflict"),
        (["k ∥ m", "m∠1 = x² - 4x", "m∠5 = 5x + 22"], "x", "own_roots"),
    ],
)
def test_what_does_not_settle_it_is_said(given: list[str], want: str, code: str) -> None:
    with pytest.raises(Fault) as fault:
        own_item(TWO, given, want, house())
    assert fault.value.code == f"practice.{code}" and fault.value.sentence().endswith(".")


@pytest.mark.parametrize(
    ("given", "want", "where"),
    [
        (["k ∥ m", "m∠1 ="], "x", "given.1"),
        (["m∠9 = 3"], "x", "given.0"),
        (["m∠1 = 40"], "nonsense", "want"),
    ],
)
def test_what_can_not_be_read_is_named(given: list[str], want: str, where: str) -> None:
    with pytest.raises(Fault) as fault:
        own_item(TWO, given, want, house())
    assert fault.value.where == where


@pytest.mark.parametrize(
    ("figure", "given", "want", "make", "working"),
    [
        (
            TWO,
            ["m∠3 = 4x + 4", "m∠5 = 8x - 16"],
            "x",
            "k ∥ m",
            [
                "∠3 and ∠5 are consecutive interior angles; with k ∥ m they are supplementary.",
                "4x + 4 + 8x - 16 = 180",
                "12x = 192",
                "x = 16",
            ],
        ),
        (
            TWO,
            ["m∠4 = 7x + 3", "m∠5 = 9x - 27"],
            "x",
            "k ∥ m",
            [
                "∠4 and ∠5 are alternate interior angles; with k ∥ m they are congruent.",
                "7x + 3 = 9x - 27",
                "2x = 30",
                "x = 15",
            ],
        ),
        (
            TWO,
            ["m∠1 = 4x + 17", "m∠2 = 5x - 8"],
            "x",
            None,
            ["∠1 and ∠2 are a linear pair, so they are supplementary.", "4x + 17 + 5x - 8 = 180", "9x = 171", "x = 19"],
        ),
        (
            TWO,
            ["m∠1 = 4x + 17", "m∠4 = 5x - 8"],
            "m∠1",
            None,
            [
                "∠1 and ∠4 are vertical angles, so they are congruent.",
                "4x + 17 = 5x - 8",
                "x = 25",
                "m∠1 = 4x + 17 = 117",
            ],
        ),
        # No pair by name: a third angle stands between.
        (
            TWO,
            ["k ∥ m", "m∠2 = 3x + 18", "m∠5 = 5x + 2"],
            "x",
            None,
            [
                "∠2 and ∠1 are a linear pair, so they are supplementary.",
                "∠1 and ∠5 are corresponding angles; with k ∥ m they are congruent.",
                "3x + 18 + 5x + 2 = 180",
                "8x = 160",
                "x = 20",
            ],
        ),
        (TWO, ["m∠2 = 83"], "m∠3", None, ["∠2 and ∠3 are vertical angles, so they are congruent.", "m∠3 = 83"]),
        (
            TWO,
            ["k ∥ m", "m∠3 = 70"],
            "m∠5",
            None,
            [
                "∠3 and ∠5 are consecutive interior angles; with k ∥ m they are supplementary.",
                "70 + m∠5 = 180",
                "m∠5 = 110",
            ],
        ),
        (
            TWO,
            ["k ∥ m", "m∠1 = x² + 3x", "m∠5 = 9x + 16"],
            "x",
            None,
            [
                "∠1 and ∠5 are corresponding angles; with k ∥ m they are congruent.",
                "x² + 3x = 9x + 16",
                "x² - 6x - 16 = 0",
                "x = 8 or x = -2",
                "With x = -2, m∠1 would be −2°: no angle has that measure, so this root is thrown out.",
                "x = 8",
            ],
        ),
        # No two measures are a pair: the eliminated equation, its leading coefficient positive.
        (TWO, ["t ⊥ k", "m∠1 = 3x"], "x", None, ["3x - 90 = 0", "x = 30"]),
        (
            TRIANGLE,
            ["m∠1 = 3x", "m∠2 = 100 - x", "m∠3 = x + 20"],
            "m∠1",
            None,
            ["3x - 60 = 0", "x = 20", "m∠1 = 3x = 60"],
        ),
    ],
)
def test_the_key_is_written_as_a_teacher_writes_it(
    figure: dict[str, Any],
    given: list[str],
    want: str,
    make: str | None,
    working: list[str],
) -> None:
    assert list(own_item(figure, given, want, house(), make).working) == working


def test_every_equation_of_the_key_is_true_of_its_answer() -> None:
    """Each line is read by the exercises' own reader and must hold for the unknowns' values; no lead is negative."""
    rng = random.Random(5)
    tried = 0
    while tried < 60:
        one, other = rng.sample("12345678", 2)
        p, q, r, s = (rng.randint(1, 9) for _ in range(4))
        given = ["k ∥ m", f"m∠{one} = {p}x + {r}", f"m∠{other} = {q}x + {s}"]
        try:
            made = own_item(TWO, given, "x", house())
        except Fault:
            continue
        tried += 1
        x = Fraction(made.key["x"][0])
        assert made.working[-1] == f"x = {x}" and "and" in made.working[0], "any two of the eight are told by pairs"
        for line in made.working:
            if "=" in line and "∠" not in line:
                found = solutions(read_line(line))
                assert found is None or x in found, (given, line)
                assert not line.startswith("-")
