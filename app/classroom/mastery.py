"""A student's standing in the families of a practice set, and which item comes next.

Everything is worked out from the history of replies: nothing else is kept. Letters: n is the number of
items already closed; an item is *closed* when it is right, or after TRIES wrong answers.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from typing import Any

from app.lessons.tasks import Practice
from app.practice.chance import mixed
from app.practice.families import FAMILIES, LEVELS, SKILL, item, title
from app.practice.items import Item
from app.practice.mastery import CHOSEN, TYPED, Skill, Standing, estimate, next_skill, standing, support
from app.practice.misconceptions import MISCONCEPTIONS
from app.words import Text, say

__all__ = ["TRIES", "Place", "closed_of", "item_of_note", "place_of", "standings", "tries_of"]

TRIES = 2
_TYPED = {"make-parallel", "parallel-so", "find-the-angle", "put-in-order", "real-settings"}


@dataclass(frozen=True, slots=True)
class Place:
    """Where the student is: item number n (from 0), and what it is."""

    n: int
    family: str
    level: int
    seed: int
    support: str  # worked, hint, bare
    follows: str | None  # the mistake that this item follows up, if it does

    def item(self, house: str) -> Item:
        return item(self.family, self.seed, self.level, house)

    def example(self, house: str) -> Item | None:
        """A worked item of the same kind, where one is shown first."""
        if self.support != "worked":
            return None
        return item(self.family, self.seed ^ 0x5A5A5A, self.level, house)


def item_of_note(task: Practice, seed: int, note: Mapping[str, object], house: str) -> Item | None:
    """The item that a reply answered, by what its verdict noted; None where that tells of none."""
    n, family, level = note.get("n"), note.get("family"), note.get("level")
    if not isinstance(n, int) or family not in FAMILIES or not isinstance(level, int):
        return None
    return item(str(family), _seed_of(task, seed, n), level, house)


def _seed_of(task: Practice, seed: int, n: int) -> int:
    return mixed("practice", seed, task.id, n) % 2**31


def closed_of(history: Sequence[Mapping[str, Any]]) -> list[Mapping[str, Any]]:
    """What was noted of each closed item, in order: {n, family, level, right, misconception}."""
    notes = [entry.get("verdict", {}).get("more") or {} for entry in history]
    return [note for note in notes if note.get("closed")]


def tries_of(history: Sequence[Mapping[str, Any]], n: int) -> int:
    """How many answers item n has had."""
    return sum(1 for entry in history if (entry.get("verdict", {}).get("more") or {}).get("n") == n)


def _families(task: Practice) -> list[str]:
    return [f for f in task.families if f in FAMILIES] or ["name-the-pair"]


def _numbers(family: str) -> Skill:
    return TYPED if family in _TYPED else CHOSEN


def place_of(task: Practice, seed: int, history: Sequence[Mapping[str, object]]) -> Place:
    """The item that the student is at."""
    families = _families(task)
    closed = closed_of(history)
    n = len(closed)
    here = _seed_of(task, seed, n)
    known = MISCONCEPTIONS.get(str(closed[-1].get("misconception"))) if closed else None
    if known and not closed[-1]["right"] and not closed[-1].get("follows"):
        family, level = known.follow
        return Place(n, family, level, here, "hint", known.id)
    trail = [(str(c["family"]), bool(c["right"])) for c in closed]
    if task.mix:
        family = next_skill(families, trail, seed % 2**31, {f: _numbers(f) for f in families})
    else:
        family = families[min(n * len(families) // max(1, task.count), len(families) - 1)]
    level = _level(task, family, closed)
    replies = [right for name, right in trail if name == family]
    return Place(n, family, level, here, support(estimate(replies, _numbers(family)), len(replies)), None)


def _level(task: Practice, family: str, closed: Sequence[Mapping[str, object]]) -> int:
    """The task's level, one up for every three right in a row at a level, one down for two wrong."""
    level = min(task.level, LEVELS[family])
    streak = 0
    for c in closed:
        if c["family"] != family or c.get("follows"):
            continue
        streak = (
            streak + 1
            if c["right"] and streak >= 0
            else streak - 1
            if not c["right"] and streak <= 0
            else (1 if c["right"] else -1)
        )
        if streak == 3:
            level, streak = min(level + 1, LEVELS[family]), 0
        elif streak == -2:
            level, streak = max(level - 1, 1), 0
    return level


def _counts(at: Standing) -> Text:
    """What the student has done, counted: no rank, no points."""
    if not at.replies:
        return say("practice.standing_none")
    of_all = at.of == at.replies
    return say("practice.standing_all" if of_all else "practice.standing_last", right=at.right, n=at.of)


def standings(task: Practice, history: Sequence[Mapping[str, object]]) -> list[dict[str, Text]]:
    """The student's own standing by family: how many of the last answers were right."""
    closed = closed_of(history)
    found: list[dict[str, Text]] = []
    for family in _families(task):
        replies = [bool(c["right"]) for c in closed if c["family"] == family]
        at: Standing = standing(SKILL[family], replies, _numbers(family))
        found.append(
            {
                "family": family,
                "title": title(family),
                "counts": _counts(at),
            }
        )
    return found
