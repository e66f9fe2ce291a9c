"""A counterexample is seen from the last row of the room: 8 degrees off where the givens allow it (the plan checks from 5)."""

from __future__ import annotations

from fractions import Fraction
from itertools import combinations

import pytest

from app.figure.model import figure_from_json
from app.reasoning.follows import follows
from tests.scale import trials

GIVEN = (
    [],
    ["∠1 ≅ ∠4"],
    ["∠3 ≅ ∠5"],
    ["∠1 ≅ ∠2"],
    ["m∠1 + m∠5 = 180"],
    ["m∠1 = 65"],
    ["t ⊥ l"],
    ["m∠3 = 2x + 10", "m∠6 = 3x"],
    ["∠1 and ∠2 are supplementary", "∠7 and ∠8 are supplementary"],
)


def apart(directions: dict, l: str, m: str, rest: int = 0) -> Fraction:
    return abs((directions[l] - directions[m] - rest + 90) % 180 - 90)


@pytest.mark.parametrize("turn", [12, 20, 30, 36, 45, 64, 90, 118, 150, 165])
@pytest.mark.parametrize("lines", [(12, 6), (0, 0), (1, 179), (40, 40), (3, 9)])
def test_lines_that_need_not_be_parallel_are_shown_plainly_so(turn: int, lines: tuple[int, int]) -> None:
    if turn in lines:
        pytest.skip("no crossing")
    fig = figure_from_json(
        {
            "lines": {
                "l": {"direction": lines[0], "through": [0, 2]},
                "m": {"direction": lines[1], "through": [0, -2]},
                "t": {"direction": turn, "through": [0, 0]},
            },
            "transversal": "t",
            "number": "standard",
        }
    )
    for given in GIVEN:
        for claim, l, m, rest in (("l ∥ m", "l", "m", 0), ("t ⊥ m", "t", "m", 90), ("t ⊥ l", "t", "l", 90)):
            outcome = follows(fig, given, claim)
            if outcome.verdict != "not forced":
                continue
            example = outcome.counterexample
            assert example is not None and example.figure is not None
            drawn = {name: line.direction for name, line in example.figure.lines.items()}
            assert apart(drawn, l, m, rest) >= 8, (given, claim, {n: float(d) for n, d in drawn.items()})


def test_where_the_givens_leave_less_the_figure_takes_what_they_leave() -> None:
    """m∠1 = m∠5 + 3 leaves three degrees and no more between l and m."""
    fig = figure_from_json(
        {
            "lines": {
                "l": {"direction": 12, "through": [0, 2]},
                "m": {"direction": 6, "through": [0, -2]},
                "t": {"direction": 64, "through": [0, 0]},
            },
            "transversal": "t",
            "number": "standard",
        }
    )
    outcome = follows(fig, ["m∠1 = x", "m∠5 = y", "x + 2y = 186 + 2y - m∠5"], "l ∥ m")
    if outcome.verdict == "not forced":
        assert outcome.counterexample is not None
    outcome = follows(fig, ["m∠1 = m∠5 + 3"], "l ⊥ t")
    assert outcome.verdict == "not forced" and apart(outcome.counterexample.directions, "l", "t", 90) >= 8
    assert apart(outcome.counterexample.directions, "l", "m") == 3


@pytest.mark.parametrize("chunk", range(2))
def test_random_grids_are_shown_plainly_too(chunk: int) -> None:
    import random

    rng = random.Random(chunk)
    for _ in range(trials(quick=40, full=1000)):
        names = "lmnts"
        body: dict = {"lines": {}, "meets": {}, "angles": {}}
        for i, name in enumerate(names):
            first = i < 3
            body["lines"][name] = {
                "direction": rng.randint(0, 14) if first else rng.randint(50, 120),
                "through": [0, 6 * i] if first else [5 * i - 20, 0],
            }
        for letter, (l, t) in zip("ABCDEF", [(l, t) for l in "lmn" for t in "ts"], strict=True):
            body["meets"][letter] = [l, t]
            body["angles"][str(len(body["angles"]) + 1)] = {"at": letter, "from": f"{l}+", "to": f"{t}+"}
        fig = figure_from_json(body)
        given = rng.sample(["l ∥ m", "∠1 ≅ ∠4", "∠1 ≅ ∠3", "m∠2 = 70", "t ∥ s", "∠5 ≅ ∠4"], rng.randint(0, 2))
        for l, m in combinations(names, 2):
            if fig.lines[l].direction != fig.lines[m].direction and any(
                {l, m} == set(one.lines) for one in fig.meets.values()
            ):
                continue
            outcome = follows(fig, given, f"{l} ∥ {m}")
            if outcome.verdict == "not forced":
                assert apart(outcome.counterexample.directions, l, m) >= 8, (body, given, l, m)


def test_a_crowded_drawing_is_its_own_counterexample() -> None:
    """Ten lines in every direction, all 45 crossings named: nothing is given, so the drawing shows that a and b needn't cross squarely."""
    fig = figure_from_json(
        {
            "lines": {
                name: {"direction": 18 * i + (i * i) % 7, "through": [(i * 37) % 13 - 6, (i * 53) % 11 - 5]}
                for i, name in enumerate("abcdefghjk")
            }
        }
    )
    named = {name: list(meet.lines) for name, meet in fig.meets.items()}
    assert len(named) >= 40
    crowded = figure_from_json(
        {
            "lines": {
                name: {"direction": str(line.direction), "through": [str(c) for c in line.through]}
                for name, line in fig.lines.items()
            },
            "meets": named,
        }
    )
    outcome = follows(crowded, [], "a ⊥ b")
    assert outcome.verdict == "not forced" and outcome.counterexample.figure is not None
    assert apart(outcome.counterexample.directions, "a", "b", 90) >= 8
