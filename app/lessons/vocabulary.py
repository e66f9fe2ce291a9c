"""The ids that a pack may use: skills, pair names, theorems."""

from __future__ import annotations

from functools import cache

from app.figure.pairs import ALL_PAIRS
from app.practice.families import FAMILIES, LEVELS
from app.reasoning.theorems import REASONS as THEOREMS

__all__ = ["KNOWN_NAMES", "PAIRS", "SKILLS", "THEOREMS", "families"]

# skill → what a student who has it can do
SKILLS: dict[str, str] = {
    "vertical-angles": "use vertical angles",
    "linear-pair": "use linear pairs",
    "name-pairs": "name a pair of angles",
    "find-transversal": "find the transversal and the two lines that a pair speaks of",
    "choose-converse": "choose the converse that a pair of angles calls for",
    "is-it-enough": "tell whether what is given is enough",
    "direction": "tell a theorem from its converse",
    "biconditional": "say a biconditional and prove both directions",
    "prove-parallel": "prove two lines parallel",
    "read-a-proof": "follow a proof and give the reason of a row",
    "solve-for-x": "find the unknown that makes lines parallel",
    "solve-from-parallel": "find an unknown when lines are parallel",
    "copy-an-angle": "copy an angle with compass and straightedge",
    "construct-a-parallel": "construct a parallel through a point",
    "other-constructions": "bisect, and construct perpendiculars",
}

PAIRS = tuple(pair for pair in ALL_PAIRS if pair != "same")

# What may stand in braces in a pack's words; compared in small letters.
KNOWN_NAMES = frozenset((*PAIRS, *THEOREMS)) - {"none"}


@cache
def families() -> dict[str, tuple[int, ...]]:
    """Practice family → its levels."""
    return {family: tuple(range(1, LEVELS[family] + 1)) for family in FAMILIES}
