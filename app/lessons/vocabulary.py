"""The ids that a pack may use: skills, pair names, theorems."""

from __future__ import annotations

from functools import cache

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
    "biconditional": "say a biconditional and prove both halves",
    "prove-parallel": "prove two lines parallel",
    "read-a-proof": "follow a proof and give the reason of a row",
    "solve-for-x": "find the unknown that makes lines parallel",
    "solve-from-parallel": "find an unknown when lines are parallel",
    "copy-an-angle": "copy an angle with compass and straightedge",
    "construct-a-parallel": "construct a parallel through a point",
    "other-constructions": "bisect, and construct perpendiculars",
}

PAIRS = (
    "corresponding", "alternate interior", "alternate exterior", "consecutive interior",
    "consecutive exterior", "vertical", "linear pair", "none",
)

_FIVE = tuple(f"{name.replace(' ', '-')}-angles" for name in PAIRS[:5])

THEOREMS = (
    "given", "vertical-angles", "linear-pair", *_FIVE, *(f"{name}-converse" for name in _FIVE),
    "definition-of-supplementary", "definition-of-complementary", "definition-of-congruent",
    "definition-of-perpendicular", "definition-of-bisector", "congruent-supplements",
    "congruent-complements", "right-angles-congruent", "reflexive", "symmetric", "transitive",
    "substitution", "addition", "subtraction",
    "angle-addition", "parallel-to-same-line", "perpendicular-to-same-line", "perpendicular-transversal",
    "triangle-sum", "exterior-angle", "algebra",
)

# What may stand in braces in a pack's words; compared in small letters.
KNOWN_NAMES = frozenset((*PAIRS[:7], *THEOREMS))


@cache
def families() -> dict[str, tuple[int, ...]]:
    """Practice family → its levels."""
    from app.practice.families import FAMILIES, LEVELS

    return {family: tuple(range(1, LEVELS[family] + 1)) for family in FAMILIES}
