"""How well a student has a skill: knowledge tracing by Bayes' rule (sources: DEVELOPERS.md, *Sources*).

Four numbers a skill: L0 (known before), T (learned at one opportunity), S (slip: known, yet wrong),
G (guess: not known, yet right). After a reply, with L the estimate before it:

    right:  L' = L(1 - S) / (L(1 - S) + (1 - L)G)
    wrong:  L' = LS / (LS + (1 - L)(1 - G))
    then    L  = L' + (1 - L')T

which is the forward pass of a hidden Markov model of two states that never forgets; the tests check it
against a general one. Estimates are fractions and choose what comes next; students see counts.

The values are set by what a blind guess can do (a choice of six is guessed once in six) and otherwise are
common practice, no source: fit them to a school's own records when there are enough.
"""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from fractions import Fraction

from app.practice.chance import Chance

__all__ = [
    "CHOSEN",
    "RECENT",
    "TYPED",
    "Skill",
    "Standing",
    "after",
    "estimate",
    "next_skill",
    "standing",
    "support",
]

RECENT = 6  # replies that a standing counts


@dataclass(frozen=True, slots=True)
class Skill:
    known: Fraction = Fraction(1, 5)  # L0
    learned: Fraction = Fraction(3, 20)  # T
    slip: Fraction = Fraction(1, 10)  # S
    guess: Fraction = Fraction(1, 5)  # G

    def __post_init__(self) -> None:
        if not all(0 <= p <= 1 for p in (self.known, self.learned, self.slip, self.guess)):
            raise ValueError("the four numbers of a skill are probabilities")
        # Else a right reply would lower the estimate: the degenerate model.
        if self.slip + self.guess >= 1:
            raise ValueError("slip and guess together must stay under 1")


TYPED = Skill(guess=Fraction(1, 20))  # a number typed is hardly guessed
CHOSEN = Skill(guess=Fraction(1, 5))


@dataclass(frozen=True, slots=True)
class Standing:
    """A skill in counts: `right` of the last `of` replies, `replies` in all."""

    skill: str
    known: Fraction
    replies: int
    right: int
    of: int


def after(known: Fraction, right: bool, skill: Skill) -> Fraction:
    """The estimate after one reply."""
    if right:
        top = known * (1 - skill.slip)
        total = top + (1 - known) * skill.guess
    else:
        top = known * skill.slip
        total = top + (1 - known) * (1 - skill.guess)
    seen = top / total if total else known
    # The denominators would grow with every reply; a millionth is finer than the model.
    return (seen + (1 - seen) * skill.learned).limit_denominator(1_000_000)


def estimate(replies: Iterable[bool], skill: Skill = CHOSEN) -> Fraction:
    known = skill.known
    for right in replies:
        known = after(known, right, skill)
    return known


def standing(skill: str, replies: Sequence[bool], numbers: Skill = CHOSEN) -> Standing:
    last = replies[-RECENT:]
    return Standing(skill, estimate(replies, numbers), len(replies), sum(last), len(last))


def support(known: Fraction, replies: int) -> str:
    """How much is shown beside the next item; it fades as the skill grows (E-1, J-7)."""
    if replies == 0:
        return "worked"
    if known < Fraction(2, 5):
        return "hint"
    return "bare"


def next_skill(
    skills: Sequence[str],
    history: Sequence[tuple[str, bool]],
    seed: int,
    numbers: dict[str, Skill] | None = None,
) -> str:
    """The skill of the next item: blocked for its first two, then mixed, weaker and longer unseen ones first.

    `history`: (skill, right) in order. Mixed and spaced practice: DEVELOPERS.md, *Sources*.
    """
    numbers = numbers or {}
    replies: dict[str, list[bool]] = {s: [] for s in skills}
    last: dict[str, int] = {}
    for i, (name, right) in enumerate(history):
        if name in replies:
            replies[name].append(right)
            last[name] = i
    seen = [s for s in skills if replies[s]]
    newest = history[-1][0] if history else None
    if newest in replies and len(replies[newest]) < 2:
        return newest
    # A new skill joins once those begun are no longer at their very start.
    if len(seen) < len(skills) and all(len(replies[s]) >= 2 for s in seen):
        waiting = [s for s in skills if s not in seen]
        if len(seen) < 2 or len(history) % 3 == 0:
            return waiting[0]
    pool = [s for s in seen if s != newest] or list(seen) or list(skills)
    chance = Chance(seed * 1_000_003 + len(history))
    weights = []
    for s in pool:
        gap = len(history) - last.get(s, 0)
        weights.append(1 + int(20 * (1 - estimate(replies[s], numbers.get(s, CHOSEN)))) + min(gap, 10))
    at = chance.below(sum(weights))
    for s, weight in zip(pool, weights, strict=True):
        at -= weight
        if at < 0:
            return s
    return pool[-1]
