"""A figure in words: `app/figure/words.py` and `static/figure/describe.js`.

What both say alike: the title, where lines cross, where each angle lies, in the words of the server's English catalogue. Marks, labels
and measures each side tells in its own way: the page says the shapes of marks, since what they mean may be what is asked for.
"""

from __future__ import annotations

from random import Random
from typing import Any

from app.figure.read import read_figure
from app.figure.words import crossings, place, title_of
from tests.figure.samples import random_sample, standard
from tests.reading import read

SAMPLES, STANDARD = 40, 25


def cases() -> list[dict[str, Any]]:
    rng = Random(20261128)
    figures = [*SMALL, *(drawn(rng) for _ in range(STANDARD))]
    while len(figures) < len(SMALL) + STANDARD + SAMPLES:
        sample = random_sample(rng)
        if sample is not None:
            figures.append(sample.figure)
    return [{"figure": figure, **told(figure)} for figure in figures]


def drawn(rng: Random) -> dict[str, Any]:
    """Two lines and a transversal as packs have them, up to a flat transversal and a steep pair."""
    l, t = rng.choice(
        [
            (rng.randrange(0, 30), rng.randrange(45, 140)),
            (rng.randrange(75, 105), rng.choice([0, rng.randrange(0, 30)])),
        ]
    )
    return standard(l, (l + rng.choice([0, 0, 5, 12])) % 180, t)


def line(direction: int, *through: int) -> dict[str, Any]:
    return {"direction": direction, "through": list(through)}


# One line; two that cross, two that don't; three apart; three through a point; a triangle with and
# without angles; two pairs of lines, each with a crossing of its own.
SMALL: list[dict[str, Any]] = [
    {"lines": {"l": line(20, 0, 0)}, "meets": {}, "angles": {}},
    {"lines": {"l": line(20, 0, 0), "t": line(80, 0, 0)}, "meets": {"A": ["l", "t"]}, "angles": {"1": {"at": "A", "from": "l+", "to": "t+"}}},
    {"lines": {"l": line(20, 0, 0), "m": line(20, 0, 3)}, "meets": {}, "angles": {}},
    {"lines": {"l": line(0, 0, 0), "m": line(0, 0, 3), "n": line(0, 0, 5)}, "meets": {}, "angles": {}},
    {"lines": {"l": line(0, 0, 0), "m": line(60, 0, 0), "n": line(100, 0, 0)}, "meets": {"A": ["l", "m", "n"]},
     "angles": {"1": {"at": "A", "from": "l+", "to": "m+"}, "2": {"at": "A", "from": "m-", "to": "n-"}}},
    {"lines": {"l": line(0, 0, 0), "m": line(60, 0, 0), "n": line(120, 6, 0)}, "meets": {"A": ["l", "m"], "B": ["l", "n"], "C": ["m", "n"]},
     "angles": {"1": {"at": "A", "from": "l+", "to": "m+"}, "2": {"at": "C", "from": "m-", "to": "n-"}}},
    {"lines": {"l": line(0, 0, 0), "m": line(60, 0, 0), "n": line(120, 6, 0)}, "meets": {"A": ["l", "m"], "B": ["l", "n"]}, "angles": {}},
    {"lines": {"l": line(0, 0, 0), "m": line(60, 0, 0), "n": line(20, 40, 0), "p": line(100, 40, 0)}, "meets": {"A": ["l", "m"], "B": ["n", "p"]},
     "angles": {"1": {"at": "B", "from": "n+", "to": "p+"}}},
]  # fmt: skip


def told(figure: dict[str, Any]) -> dict[str, Any]:
    fig = read_figure(figure, "figure")
    return {
        "title": read(title_of(fig)),
        "crossings": [read(one) for one in crossings(fig)],
        "places": {name: read(place(fig, angle)) for name, angle in fig.angles.items()},
    }
