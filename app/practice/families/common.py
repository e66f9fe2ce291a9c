"""What several families share: the pairs of the standard numbering, theorem choices, traps kept apart."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction

from app.practice.chance import Chance
from app.practice.items import NONE, Choice, Field
from app.words import say, term
from app.words import theorem as theorem_of
from app.words.house import House

__all__ = [
    "CROSS",
    "PAIR_OF",
    "by_field",
    "check_traps",
    "converse_of",
    "degrees",
    "named",
    "original_of",
    "pair_choices",
    "theorem_choices",
]

PAIR_OF = (
    "corresponding",
    "alternate interior",
    "alternate exterior",
    "consecutive interior",
    "consecutive exterior",
)
# The pairs of the standard numbering. The tests hold these to the figure's own naming.
CROSS: Mapping[str, tuple[tuple[str, str], ...]] = {
    "corresponding": (("1", "5"), ("2", "6"), ("3", "7"), ("4", "8")),
    "alternate interior": (("3", "6"), ("4", "5")),
    "alternate exterior": (("1", "8"), ("2", "7")),
    "consecutive interior": (("3", "5"), ("4", "6")),
    "consecutive exterior": (("1", "7"), ("2", "8")),
}


def original_of(pair: str) -> str:
    """The theorem that starts from parallel lines: "alternate-interior-angles"."""
    return pair.replace(" ", "-") + "-angles"


def converse_of(pair: str) -> str:
    """The theorem that ends in parallel lines."""
    return original_of(pair) + "-converse"


def degrees(value: Fraction | int) -> str:
    """-12° with a true minus sign, 45°, 22.5°."""
    value = Fraction(value)
    text = str(value) if value.denominator == 1 else str(float(value))
    return text.replace("-", "−") + "°"


def theorem_choices(theorems: Sequence[str], house: House) -> tuple[Choice, ...]:
    return tuple(Choice(t, say("practice.none_theorem") if t == NONE else theorem_of(t)) for t in theorems)


def pair_choices(pairs: Sequence[str], house: House) -> tuple[Choice, ...]:
    return tuple(Choice(p, term(p)) for p in pairs)


def named(text: str) -> str:
    """The first letter large: for a choice that starts a line."""
    return text[:1].upper() + text[1:]


def by_field(pair: str, making: bool, house: House, chance: Chance) -> tuple[Field, tuple[str, ...]]:
    """Which theorem lets you say so: the right one, the same the wrong way round, another pair both ways."""
    other = chance.pick([p for p in PAIR_OF if p != pair])
    options = chance.shuffled([original_of(pair), converse_of(pair), original_of(other), converse_of(other)])
    label = say("practice.by_make" if making else "practice.by_so")
    return Field("theorem", "choice", label, theorem_choices(options, house), optional=True), tuple(options)


def check_traps(
    traps: Mapping[str, Mapping[str, str]], key: Mapping[str, tuple[str, ...]]
) -> dict[str, dict[str, str]] | None:
    """The traps if each is wrong and no two are alike, else None: a mistake must be known by its answer."""
    seen: list[Mapping[str, str]] = []
    for wrong in traps.values():
        for one in _each(wrong):
            if all(value in key.get(name, ()) for name, value in one.items()) or one in seen:
                return None
            seen.append(one)
    return {name: dict(wrong) for name, wrong in traps.items()}


def _each(wrong: Mapping[str, str]) -> list[dict[str, str]]:
    """The answers that a trap stands for: {"x": "78|102"} is two."""
    found: list[dict[str, str]] = [{}]
    for name, value in wrong.items():
        found = [{**one, name: part} for one in found for part in dict.fromkeys(value.split("|"))]
    return found
