"""The generator against the published one, and fair enough for exercises."""

from __future__ import annotations

from collections import Counter

import pytest

from app.practice.chance import Chance, mixed


def test_first_numbers_of_splitmix64() -> None:
    """Steele, Lea, Flood 2014; the five values for seed 1234567 are printed in many public test suites."""
    chance = Chance(1234567)

    assert [chance.bits() for _ in range(5)] == [
        6457827717110365317,
        3203168211198807973,
        9817491932198370423,
        4593380528125082431,
        16408922859458223821,
    ]


def test_words_make_seeds_as_fnv_1a_does() -> None:
    """Fowler, Noll, Vo: the 64-bit FNV-1a hashes of "" and "foobar" in the authors' own test vectors."""
    assert mixed() == 0xCBF29CE484222325
    assert mixed("foobar") == 0x85944171F73967E8


@pytest.mark.parametrize("n", [1, 2, 3, 7, 100])
def test_below_is_even(n: int) -> None:
    chance = Chance(n)

    counts = Counter(chance.below(n) for _ in range(400 * n))
    assert set(counts) == set(range(n)) and all(280 < count < 520 or n == 1 for count in counts.values())


def test_shuffling_keeps_everything_and_reaches_every_order() -> None:
    chance = Chance(3)
    things = [1, 2, 3]

    orders = Counter(tuple(chance.shuffled(things)) for _ in range(6_000))
    assert len(orders) == 6 and all(850 < count < 1150 for count in orders.values()) and things == [1, 2, 3]
