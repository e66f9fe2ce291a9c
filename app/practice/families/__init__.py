"""The families of exercises: one module each, found here by name and imported when first needed.

Each module has `make(family, seed, level, house) -> Item` and says what it holds in `ABOUT`: family → About.
"""

from __future__ import annotations

from collections.abc import Mapping
from functools import lru_cache
from importlib import import_module
from typing import cast

from app.figure.faults import Fault
from app.practice.items import Item
from app.words import Message, say
from app.words.house import house as house_of

__all__ = ["FAMILIES", "LEVELS", "SKILL", "item", "levels", "title"]

# family → (module, highest level, skill). The order is the order of teaching.
_TABLE: tuple[tuple[str, str, int, str], ...] = (
    ("name-the-pair", "pairs", 3, "name-pairs"),
    ("which-transversal", "transversals", 3, "find-transversal"),
    ("find-the-angle", "angles", 3, "solve-from-parallel"),
    ("is-it-enough", "enough", 3, "is-it-enough"),
    ("make-parallel", "solving", 5, "solve-for-x"),
    ("parallel-so", "solving", 5, "solve-from-parallel"),
    ("missing-reason", "reasons", 3, "read-a-proof"),
    ("find-the-mistake", "mistakes", 3, "read-a-proof"),
    ("put-in-order", "orders", 3, "prove-parallel"),
    ("connect", "connect", 6, "direction"),
    ("real-settings", "settings", 3, "choose-converse"),
)
FAMILIES: tuple[str, ...] = tuple(row[0] for row in _TABLE)
_MODULE: Mapping[str, str] = {row[0]: row[1] for row in _TABLE}
LEVELS: Mapping[str, int] = {row[0]: row[2] for row in _TABLE}
SKILL: Mapping[str, str] = {row[0]: row[3] for row in _TABLE}

MOST_SEED = 2**53 - 1  # what every JSON reader holds exactly


def levels(family: str) -> int:
    """The highest level of a family. Raises Fault for a name that is no family."""
    if family not in LEVELS:
        raise Fault("practice.family_unknown", "family", family=family[:40], known=", ".join(FAMILIES))
    return LEVELS[family]


def title(family: str) -> Message:
    return say(f"practice.family_{family}")


def item(family: str, seed: int, level: int, house: str = "us") -> Item:
    """The item of a seed: the same for ever. Raises Fault for a family, seed or level that isn't one."""
    highest = levels(family)
    if isinstance(seed, bool) or not isinstance(seed, int) or not 0 <= seed <= MOST_SEED:
        raise Fault("practice.seed", "seed", most=MOST_SEED)
    if isinstance(level, bool) or not isinstance(level, int) or not 1 <= level <= highest:
        raise Fault("practice.level", "level", family=family, most=highest)
    return _made(family, seed, level, house)


@lru_cache(maxsize=512)
def _made(family: str, seed: int, level: int, house: str) -> Item:
    module = import_module(f"app.practice.families.{_MODULE[family]}")
    return cast(Item, module.make(family, seed, level, house_of(house)))
