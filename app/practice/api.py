"""The practice part of the calculator contract: plain JSON values in, plain JSON values out."""

from __future__ import annotations

from app.figure.faults import Fault
from app.practice import families as table
from app.practice.families import FAMILIES, LEVELS, SKILL
from app.practice.judging import judge, key_shown

__all__ = ["check", "families", "item"]


def families(body: object = None) -> dict[str, object]:
    """GET /api/practice → every family with its title, skill and highest level."""
    return {
        "families": [{"family": f, "title": table.title(f), "skill": SKILL[f], "levels": LEVELS[f]} for f in FAMILIES]
    }


def item(family: str, seed: int = 1, level: int = 1, house: str = "us") -> dict[str, object]:
    """GET /api/practice/<family>?seed=&level= → the public part of one item. Raises Fault."""
    return table.item(family, seed, level, house).public()


def check(family: str, body: object, house: str = "us") -> dict[str, object]:
    """POST /api/practice/<family>/check {seed, level, answer} → {verdict, misconception, note, key, …}."""
    if not isinstance(body, dict):
        raise Fault("practice.check_body", "body")
    for name in ("seed", "level", "answer"):
        if name not in body:
            raise Fault("practice.check_lacks", name, name=name)
    made = table.item(family, body["seed"], body["level"], house)
    found = judge(made, body["answer"])
    return {
        "verdict": "right" if found.right else "wrong",
        "misconception": found.misconception,
        "note": found.note,
        "key": key_shown(made),
        "parts": list(found.parts),
        "working": list(made.working),
        "next": {"family": found.follow[0], "level": found.follow[1]} if found.follow else None,
    }
