"""Groups for reteaching: who made the same mistake, and a ready set of items for them (J-10)."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from app.practice.chance import mixed
from app.practice.families import LEVELS
from app.practice.making import MAKING, making_set
from app.practice.misconceptions import KNOWN, note
from app.words import Message

__all__ = ["Group", "groups", "ready"]

# About ten minutes of work.
ITEMS = 5


@dataclass(frozen=True, slots=True)
class Group:
    """`items` are (family, level, seed), `tasks` constructions: always the same, so that a set prints again alike."""

    misconception: str
    note: Message
    members: tuple[str, ...]
    items: tuple[tuple[str, int, int], ...]
    tasks: tuple[dict[str, object], ...] = ()

    def as_json(self) -> dict[str, object]:
        return {
            "misconception": self.misconception,
            "note": self.note,
            "members": list(self.members),
            "items": [{"family": f, "level": level, "seed": seed} for f, level, seed in self.items],
            "tasks": list(self.tasks),
        }


def ready(mistake: str) -> bool:
    """Whether there is a set for those who made it."""
    return mistake in KNOWN or mistake in MAKING


def groups(mistakes: Mapping[str, Sequence[str]]) -> list[Group]:
    """Student → the mistakes seen in their replies, in order; gives the groups, largest first.

    A student is in the group of the mistake made most often, the latest where two are alike.
    """
    members: dict[str, list[str]] = {}
    for who, seen in mistakes.items():
        known = [m for m in seen if ready(m)]
        if known:
            latest = {m: i for i, m in enumerate(known)}
            most = max(set(known), key=lambda m: (known.count(m), latest[m]))
            members.setdefault(most, []).append(who)
    found = [
        Group(m, note(m), tuple(who), _set(m), tuple(making_set(m)) if m in MAKING else ())
        for m, who in members.items()
    ]
    return sorted(found, key=lambda g: (-len(g.members), g.misconception))


def _set(misconception: str) -> tuple[tuple[str, int, int], ...]:
    """The follow-up items, the last two one level up where there is one."""
    if misconception in MAKING:
        return ()
    family, level = KNOWN[misconception].follow
    up = min(level + 1, LEVELS[family])
    steps = [level] * (ITEMS - 2) + [up] * 2
    return tuple((family, at, mixed("reteach", misconception, i) % 100_000) for i, at in enumerate(steps))
