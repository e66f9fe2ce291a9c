"""Ready sets for mistakes in constructions: a few tasks with compass and straightedge, and the one thing to watch.

A task is what a pack's construct task is: `construction`, `start`, `route`, `ask`. Units: those of packs.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from typing import Any

from app.practice.chance import Chance, mixed
from app.words import joined, say

__all__ = ["MAKING", "making_set"]

Task = dict[str, Any]
# mistake → (construction, route) of each task, the easiest first
MAKING: Mapping[str, tuple[tuple[str, str], ...]] = {
    "placed-by-eye": (
        ("bisect a segment", "any"),
        ("copy an angle", "any"),
        ("parallel through a point", "corresponding"),
    ),
    "copied-on-the-wrong-side": (
        ("copy an angle", "any"),
        ("parallel through a point", "corresponding"),
        ("parallel through a point", "alternate interior"),
    ),
    "opening-changed": (("copy an angle", "any"), ("bisect an angle", "any"), ("parallel through a point", "rhombus")),
    "wrong-crossing": (("bisect an angle", "any"), ("copy an angle", "any"), ("perpendicular through a point", "any")),
}


def making_set(mistake: str, seed: int = 1, version: str = "A") -> list[Task]:
    """The tasks for those who made the mistake; the same for the same seed. `mistake` is one of MAKING."""
    found = []
    for i, (construction, route) in enumerate(MAKING[mistake]):
        chance = Chance(mixed("making", mistake, seed, version, i))
        start = _STARTS[construction](chance)
        ask = joined(
            "sentences", (say(f"connect.make_{construction}", **_names(start)), say(f"connect.watch_{mistake}"))
        )
        found.append(
            {
                "id": f"{mistake}-{i + 1}",
                "kind": "construct",
                "construction": construction,
                "route": route,
                "start": start,
                "ask": ask,
            }
        )
    return found


def _names(start: Task) -> dict[str, str]:
    names = {key: "".join(value) for key, value in start.items() if key != "points"}
    return {key: names.get(key, "") for key in ("angle", "ray", "line", "segment", "point")}


def _near(chance: Chance, x: float, y: float, by: int = 3) -> list[float]:
    """A place near (x, y), in tenths."""
    return [round(x + chance.between(-by, by) / 10, 1), round(y + chance.between(-by, by) / 10, 1)]


def _angle(chance: Chance) -> Task:
    points = {
        "V": _near(chance, -2.8, -1.4),
        "P": _near(chance, 2.6, -1.7),
        "Q": _near(chance, chance.pick([0.4, -1.2]), 1.7),
    }
    return {"angle": ["P", "V", "Q"], "points": points}


def _copy(chance: Chance) -> Task:
    points = {
        "V": _near(chance, -3.6, -0.6), "P": _near(chance, -0.6, -0.9), "Q": _near(chance, -1.8, 1.6),
        "A": _near(chance, 1.0, -1.5), "B": _near(chance, 4.0, -1.2),
    }  # fmt: skip
    return {"angle": ["P", "V", "Q"], "ray": ["A", "B"], "points": points}


def _segment(chance: Chance) -> Task:
    return {"segment": ["A", "B"], "points": {"A": _near(chance, -2.9, -0.8), "B": _near(chance, 2.8, 0.8)}}


def _line_and_point(chance: Chance) -> Task:
    points = {
        "A": _near(chance, -3.5, -1.4),
        "B": _near(chance, 3.5, -0.7),
        "P": _near(chance, chance.pick([-0.6, 0.8]), 1.3),
    }
    return {"line": ["A", "B"], "point": "P", "points": points}


_STARTS: Mapping[str, Callable[[Chance], Task]] = {
    "copy an angle": _copy,
    "parallel through a point": _line_and_point,
    "bisect an angle": _angle,
    "bisect a segment": _segment,
    "perpendicular through a point": _line_and_point,
}
