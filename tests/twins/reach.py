"""Statements tried on a drawing: `app/classroom/kinds/explore.py` and `static/tasks/reach.js`.

Directions are whole degrees, so the expected answer is whole-number arithmetic on them, with neither program asked.
"""

from __future__ import annotations

from random import Random
from typing import Any

from tests.figure.samples import standard

FIGURES = 60


def cases() -> list[dict[str, Any]]:
    rng = Random(20261128)
    return [one_case(rng) for _ in range(FIGURES)]


def one_case(rng: Random) -> dict[str, Any]:
    l = rng.randrange(0, 25)
    t = rng.randrange(40, 140)
    # As often as not something holds: parallels, a right angle. Both lines are flat enough for upper and lower to be plain.
    m = rng.choice([l, rng.randrange(0, 25)])
    if rng.random() < 0.2:
        t = (l + 90) % 180
    figure = standard(l, m, t)
    sizes = sizes_of(l, m, t)
    return {"figure": figure, "statements": [[text, holds] for text, holds in statements(rng, l, m, t, sizes)]}


def sizes_of(l: int, m: int, t: int) -> dict[str, int]:
    """The eight measures: at the upper meet upper left, upper right, lower left, lower right, then at the lower.

    The angle between the transversal and a line, on the right above the line, is t − l: that and its supplement are all.
    """
    found = {}
    for first, line in ((1, l), (5, m)):
        right_above = (t - line) % 180
        for name, size in zip(
            range(first, first + 4), (180 - right_above, right_above, right_above, 180 - right_above), strict=True
        ):
            found[str(name)] = size
    return found


def statements(rng: Random, l: int, m: int, t: int, sizes: dict[str, int]) -> list[tuple[str, bool]]:
    found: list[tuple[str, bool]] = []
    for _ in range(4):
        a, b = rng.sample(list(sizes), 2)
        x, y = sizes[a], sizes[b]
        n = rng.choice([x, x, x + 1, 90])
        total = rng.choice([x + y, x + y, 180, 90])
        found += [
            (f"∠{a} ≅ ∠{b}", x == y),
            (f"m∠{a} = m∠{b}", x == y),
            (f"m∠{a} = {n}", x == n),
            (f"∠{a} and ∠{b} are supplementary", x + y == 180),
            (f"∠{a} and ∠{b} are complementary", x + y == 90),
            (f"m∠{a} + m∠{b} = {total}", x + y == total),
        ]
    for one, other, turn in (("l", "m", l - m), ("t", "l", t - l), ("m", "t", m - t)):
        found += [
            (f"{one} ∥ {other}", turn % 180 == 0),
            (f"{one} ∦ {other}", turn % 180 != 0),
            (f"{one} ⊥ {other}", turn % 180 == 90),
        ]
    return found
