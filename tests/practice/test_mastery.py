"""Bayesian Knowledge Tracing against a hidden Markov model reckoned path by path, and a library's."""

from __future__ import annotations

import itertools
import random
from fractions import Fraction

import pytest

from app.practice.mastery import RECENT, Skill, after, estimate, next_skill, standing, support
from tests.scale import trials


def by_all_paths(replies: list[bool], skill: Skill) -> Fraction:
    """P(known after the last opportunity | replies), summed over every hidden path: no recursion, no formula of ours."""
    n = len(replies)
    total = known_at_end = Fraction(0)
    for path in itertools.product((False, True), repeat=n + 1):
        p = skill.known if path[0] else 1 - skill.known
        for i, right in enumerate(replies):
            if path[i]:
                p *= 1 - skill.slip if right else skill.slip
                p *= 1 if path[i + 1] else 0
            else:
                p *= skill.guess if right else 1 - skill.guess
                p *= skill.learned if path[i + 1] else 1 - skill.learned
        total += p
        known_at_end += p * path[-1]
    return known_at_end / total


@pytest.mark.parametrize("seed", range(trials(quick=40, full=400)))
def test_against_every_path_of_the_hidden_model(seed: int) -> None:
    rng = random.Random(seed)
    skill = Skill(*(Fraction(rng.randint(1, 49), 100) for _ in range(4)))
    replies = [rng.random() < 0.6 for _ in range(rng.randint(1, 8))]

    assert abs(estimate(replies, skill) - by_all_paths(replies, skill)) < Fraction(1, 10_000)


# P(known at the last opportunity | replies), before learning there, as hmmlearn 0.3.3 (a general library of
# hidden Markov models) gives it: CategoricalHMM with two states, predict_proba. Keys: (L0, T, S, G), replies.
HMMLEARN = {
    (0.3, 0.1, 0.05, 0.2): {
        "0000": 0.007413783,
        "0011": 0.78063066,
        "0101": 0.447415991,
        "0110": 0.224112264,
        "1000": 0.008076188,
        "1010": 0.089215367,
        "1101": 0.824428714,
        "1111": 0.996858204,
        "001100110": 0.221544311,
        "011100010000101": 0.435770548,
    },
    (0.2, 0.15, 0.1, 0.2): {
        "0000": 0.025226366,
        "0011": 0.851749312,
        "0101": 0.623771759,
        "0110": 0.469749809,
        "1000": 0.028520405,
        "1010": 0.221679852,
        "1101": 0.860453887,
        "1111": 0.994876659,
        "001100110": 0.578683729,
        "011100010000101": 0.621001476,
    },
    (0.5, 0.3, 0.08, 0.02): {
        "0000": 0.038156909,
        "0011": 0.999337052,
        "0101": 0.995353234,
        "0110": 0.994885541,
        "1000": 0.101120536,
        "1010": 0.977634798,
        "1101": 0.999957155,
        "1111": 0.999999924,
        "001100110": 0.999904745,
        "011100010000101": 0.999206469,
    },
    (0.1, 0.05, 0.2, 0.3): {
        "0000": 0.021319534,
        "0011": 0.421307736,
        "0101": 0.273402387,
        "0110": 0.20061667,
        "1000": 0.028164432,
        "1010": 0.126769368,
        "1101": 0.500796204,
        "1111": 0.891227676,
        "001100110": 0.274383424,
        "011100010000101": 0.264121769,
    },
}


@pytest.mark.parametrize("numbers", HMMLEARN, ids=str)
def test_against_a_general_library(numbers: tuple[float, ...]) -> None:
    known, learned, slip, guess = (Fraction(str(n)) for n in numbers)
    skill = Skill(known, learned, slip, guess)
    for replies, seen in HMMLEARN[numbers].items():
        found = float(estimate([r == "1" for r in replies], skill))
        assert abs(found - (seen + (1 - seen) * float(learned))) < 1e-5, replies


def test_one_step_by_hand() -> None:
    """Corbett and Anderson 1995, equations 1 and 2, with L = 1/2, S = 1/10, G = 1/5, T = 3/20."""
    skill = Skill()
    seen = Fraction(9, 11)  # (1/2 · 9/10) / (1/2 · 9/10 + 1/2 · 1/5)

    assert after(Fraction(1, 2), True, skill) == seen + (1 - seen) * Fraction(3, 20)
    seen = Fraction(1, 9)  # (1/2 · 1/10) / (1/2 · 1/10 + 1/2 · 4/5)
    assert after(Fraction(1, 2), False, skill) == seen + (1 - seen) * Fraction(3, 20)


def test_right_replies_raise_the_estimate() -> None:
    known = Fraction(1, 5)
    for _ in range(6):
        up = after(known, True, Skill())
        assert up > known
        known = up
    assert known > Fraction(95, 100)


def test_a_standing_counts_the_last_six() -> None:
    """F7: what was done, counted; no ladder of words."""
    assert RECENT == 6
    for replies, right, of in (
        ([], 0, 0),
        ([False, True], 1, 2),
        ([True] * 6, 6, 6),
        ([True] * 9 + [False], 5, 6),
        ([False] * 9 + [True] * 2, 2, 6),
    ):
        found = standing("x", replies)
        assert (found.right, found.of, found.replies) == (right, of, len(replies))


@pytest.mark.parametrize("numbers", [(0, 0, Fraction(1, 2), Fraction(1, 2)), (2, 0, 0, 0), (0, -1, 0, 0)])
def test_senseless_numbers_are_refused(numbers: tuple[Fraction, ...]) -> None:
    with pytest.raises(ValueError):
        Skill(*map(Fraction, numbers))


def test_support_fades() -> None:
    assert [support(Fraction(1, 5), 0), support(Fraction(1, 5), 2), support(Fraction(3, 5), 3)] == [
        "worked",
        "hint",
        "bare",
    ]


def run(skills: list[str], n: int, ability: dict[str, float], seed: int = 1) -> list[str]:
    rng = random.Random(seed)
    history: list[tuple[str, bool]] = []
    for _ in range(n):
        skill = next_skill(skills, history, seed)
        history.append((skill, rng.random() < ability[skill]))
    return [name for name, _ in history]


def test_practice_is_blocked_at_first_and_mixed_after() -> None:
    skills = ["a", "b", "c"]
    order = run(skills, 60, dict.fromkeys(skills, 0.8))

    assert order[0] == order[1] == "a", "a new skill is tried twice before another joins"
    tail = order[12:]
    assert sum(x == y for x, y in zip(tail, tail[1:], strict=False)) == 0, (
        "mixed practice never repeats a skill at once"
    )
    assert set(tail) == set(skills)


def test_the_weaker_skill_comes_more_often_and_no_skill_is_forgotten() -> None:
    order = run(["a", "b", "c"], 300, {"a": 0.97, "b": 0.97, "c": 0.2}, seed=4)

    assert order.count("c") > order.count("a") and order.count("c") > order.count("b")
    gaps = [i for i, s in enumerate(order) if s == "a"]
    assert max(b - a for a, b in itertools.pairwise(gaps)) < 30


def test_one_skill_alone_and_a_strange_history() -> None:
    assert run(["a"], 5, {"a": 0.5}) == ["a"] * 5
    assert next_skill(["a", "b"], [("gone", True)] * 9, 3) in {"a", "b"}
