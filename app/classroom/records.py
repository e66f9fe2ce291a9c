"""Records read out of verdicts: by skill, and by misconception. No ranking of students, ever."""

from __future__ import annotations

from typing import Any

from app.practice.misconceptions import note
from app.practice.reteach import ready

Row = dict[str, Any]


def by_skill(verdicts: list[Row], titles: dict[str, str]) -> list[Row]:
    """[{"skill", "title", "right", "of"}] over all replies that showed the skill, the least secure
    first.
    """
    counts: dict[str, list[int]] = {}
    for verdict in verdicts:
        for skill, right in (verdict.get("skills") or {}).items():
            pair = counts.setdefault(skill, [0, 0])
            pair[0] += bool(right)
            pair[1] += 1
    rows = [
        {"skill": skill, "title": titles.get(skill, skill.replace("-", " ")), "right": right, "of": of}
        for skill, (right, of) in counts.items()
    ]
    return sorted(rows, key=lambda row: (row["right"] / row["of"], -row["of"], row["skill"]))


def _seat_order(name: str) -> tuple[bool, int, str]:
    """Seat numbers in their order, before names: 3, 12, Ana."""
    number = name.isdecimal()
    return not number, int(name) if number else 0, name


def by_misconception(replies: list[tuple[str, Row]]) -> list[Row]:
    """[{"misconception", "title", "count", "seats", "set"}] from (seat's name, verdict), the most frequent
    first; `title` is the sentence that is said of it, `set` whether there is a ready set.
    """
    seen: dict[str, list[str]] = {}
    for name, verdict in replies:
        if slip := verdict.get("misconception"):
            seen.setdefault(slip, []).append(name)
    rows = [
        {
            "misconception": slip,
            "title": note(slip) if ready(slip) else slip[:1].upper() + slip[1:].replace("-", " "),
            "count": len(names),
            "seats": sorted(set(names), key=_seat_order),
            "set": ready(slip),
        }
        for slip, names in seen.items()
    ]
    return sorted(rows, key=lambda row: (-row["count"], row["misconception"]))
