"""Figures in words: title first, parts in a list, what the marks say and no more, no answer given away."""

from __future__ import annotations

from itertools import product

import pytest

from app.figure.api import words
from app.figure.faults import Fault
from app.figure.model import figure_from_json
from app.figure.words import LONGEST_TITLE, describe
from tests.figure.samples import samples, standard
from tests.reading import in_english

describe = in_english(describe)

GOLDEN = {
    "lines": {"m": {"direction": 0, "through": [0, 2]}, "n": {"direction": 0, "through": [0, -2]},
              "t": {"direction": 60, "through": [0, 0]}},
    "meets": {"A": ["m", "t"], "B": ["n", "t"]},
    "angles": {"3": {"at": "A", "from": "t-", "to": "m+"}, "6": {"at": "B", "from": "t+", "to": "n-"}},
    "transversal": "t",
}  # fmt: skip


def test_the_golden_example() -> None:
    """common practice, no source: the wording of figure descriptions, kept word for word."""
    marks = {"angles": {"3": {"label": "65°"}, "6": {"label": "65°"}}}

    told = describe(figure_from_json(GOLDEN), marks)

    assert " ".join([told["title"], *told["parts"]]) == (
        "Two lines m and n cut by line t. Line t crosses m at A and n at B. "
        "Angle 3 is inside, right of t, at A: 65 degrees. Angle 6 is inside, left of t, at B: 65 degrees. "
        "No parallel marks."
    )
    assert told["text"].splitlines()[1] == "- Line t crosses m at A and n at B."


def test_the_eight_standard_angles_each_in_its_place() -> None:
    told = describe(figure_from_json(standard(0, 0, 70)))

    places = [part.split(" is ")[1] for part in told["parts"] if part.startswith("Angle")]
    sides = product(("A", "B"), ("up", "down"), ("left of t", "right of t"))
    expected = [
        f"{'outside' if (at == 'A') == (row == 'up') else 'inside'}, {hand}, at {at}." for at, row, hand in sides
    ]
    assert places == expected


@pytest.mark.parametrize(
    "t, words_used", [(10, {"above", "below"}), (170, {"above", "below"}), (90, {"left of", "right of"})]
)
def test_sides_of_a_shallow_transversal_are_above_and_below(t, words_used) -> None:
    told = describe(figure_from_json(standard(60, 60, t)))

    assert {word for word in ("above", "below", "left of", "right of") if word in told["text"]} == words_used


def test_what_marks_say_and_nothing_of_how_it_looks() -> None:
    fig = figure_from_json(standard(0, 0, 70))
    bare = describe(fig)["text"]
    assert "congruent" not in bare and "70" not in bare and bare.endswith("- No parallel marks.")

    marks = {
        "angles": {"1": {"arcs": 1}, "5": {"arcs": 1}, "4": {"arcs": 2, "label": "3x + 10"}},
        "lines": {"l": {"arrows": 1}, "m": {"arrows": 1}},
        "right": [{"at": "A", "angle": "2"}],
        "segments": {"A B": {"ticks": 1}},
    }
    told = describe(fig, marks, ["m∠1 = 65", "∠1 ≅ ∠5", "t ⊥ l"])["parts"]

    assert told[-8:] == [
        "One arc at angles 1 and 5: marked congruent.",
        "Two arcs at angle 4.",
        "A square marks angle 2 as a right angle.",
        "Ticks on A B.",
        "Arrow marks show l and m parallel.",
        "Given: the measure of angle 1 equals 65.",
        "Given: angle 1 is congruent to angle 5.",
        "Given: t is perpendicular to l.",
    ]
    assert "Angle 4 is inside, right of t, at A: 3x + 10 degrees." in told


@pytest.mark.parametrize("word", ["parallel", "congruent", "alternate interior", "inside", "degrees"])
def test_a_hidden_word_is_never_said(word) -> None:
    fig = figure_from_json(standard(0, 0, 70))
    marks = {
        "angles": {"1": {"arcs": 1, "label": "65°"}, "5": {"arcs": 1}},
        "lines": {"l": {"arrows": 1}, "m": {"arrows": 1}},
    }

    for shown in (None, marks):
        told = describe(fig, shown, ["l ∥ m", "∠3 ≅ ∠6"], hide=[word])
        assert word not in told["text"]
        assert told["title"] == "Two lines l and m cut by line t."
    if word == "parallel":
        assert "Arrow marks on l and m." in describe(fig, marks, hide=[word])["parts"]
        assert describe(fig, hide=[word])["parts"][-1] == "No arrow marks."


def test_an_angle_by_three_meets_is_spelt_letter_by_letter() -> None:
    fig = figure_from_json({
        "lines": {"l": {"direction": 0, "through": [0, 0]}, "m": {"direction": 50, "through": [0, 0]},
                  "t": {"direction": 110, "through": [6, 0]}},
        "meets": {"A": ["l", "m"], "B": ["l", "t"], "C": ["m", "t"]},
        "angles": {"BAC": {"at": "A", "from": "l+", "to": "m+"}},
    })  # fmt: skip

    told = describe(fig, given=["m∠BAC = 50°"])

    assert told["title"] == "Three lines l, m and t that cross at A, B and C."
    assert "Angle B A C is at A, between line l toward B and line m toward C." in told["parts"]
    assert told["parts"][-1] == "Given: the measure of angle B A C equals 50 degrees."


def test_networks_say_every_meet_once_and_each_angle_by_its_sides() -> None:
    for sample in samples(21, 40):
        fig = figure_from_json(sample.figure)
        told = describe(fig)
        crossings = " ".join(part for part in told["parts"] if "cross" in part) + told["title"]
        assert all(
            meet in crossings.replace(".", " ").replace(",", " ").replace(":", " ").split() for meet in fig.meets
        )
        assert sum(part.startswith("Angle ") for part in told["parts"]) == len(fig.angles)
        assert len(told["title"]) <= LONGEST_TITLE < 125


def test_a_title_stays_short_with_long_names() -> None:
    lines = {f"abcdefg{i}"[-8:]: {"direction": 10 * i, "through": [i, 0]} for i in range(10)}
    told = describe(figure_from_json({"lines": lines}))

    assert told["title"].startswith("Ten lines with ") and len(told["title"]) < 125


def test_one_line_two_lines_and_lines_through_a_point() -> None:
    def told(*directions):
        lines = {k: {"direction": d, "through": [1, 1]} for k, d in zip("lmn", directions, strict=False)}
        return describe(figure_from_json({"lines": lines}))

    assert told(10)["text"] == "One line l."
    assert told(10, 50)["title"] == "Lines l and m cross at A."
    assert told(10, 50, 90)["title"] == "Three lines through A: l, m and n."


def test_every_word_of_a_moved_figure_changes_with_it() -> None:
    """Past the point where t becomes flat the same angle lies elsewhere, and is said to."""
    before, after = describe(figure_from_json(standard(60, 60, 5))), describe(figure_from_json(standard(60, 60, 175)))

    assert before["text"] != after["text"]


@pytest.mark.parametrize(
    "extra",
    [{"marks": 5}, {"marks": {"angles": {"9": {}}}}, {"marks": {"lines": {"l": {"arrows": 9}}}}, {"given": "x"}, {"hide": [1]},
     {"marks": {"angles": {"1": {"tone": "red"}}}}, {"marks": {"segments": {"A": {}}}}, {"marks": {"right": [{"angle": "z"}]}},
     {"marks": {"angles": {"1": {"label": "x" * 99}}}}, {"marks": {"angles": {"1": 4}}}, {"marks": {"right": 7}}],
)  # fmt: skip
def test_what_cannot_be_used_is_a_fault(extra) -> None:
    with pytest.raises(Fault) as caught:
        words({"figure": standard(0, 0, 60), **extra})

    assert caught.value.where.split(".")[0] in extra
    assert caught.value.sentence()
