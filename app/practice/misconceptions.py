"""The known mistakes, as data. A family's items carry the wrong answer that each mistake leads to
(`Item.traps`, made by the family that knows the numbers); here is what the mistake is, how well that is
known, what to say to the student, and which item to give next.

Evidence: R research read for this project, M a well-known paper cited from memory, P practice, no source.
No rate is claimed anywhere: the studies do not give them for these tasks.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass

from app.practice.items import Item
from app.words import Message, say

__all__ = ["HABITS", "KNOWN", "MISCONCEPTIONS", "Misconception", "note", "recognise"]

_HOYLES = "Hoyles and Küchemann 2002, Educational Studies in Mathematics 51 (statement and converse taken as one)"
_STYLIANIDES = "Stylianides, Stylianides and Philippou 2004 (contrapositive; undergraduates)"
_BAIDOO = "Baidoo and Baidoo (25 school leavers on parallel lines and transversals)"
_BIBER = "Biber, Tuna and Korkmaz 2013, European Journal of Science and Mathematics Education 1(2)"
_CIRILLO = "Cirillo and Hummer 2021, ZDM (warrants and assumptions in proof; 20 interviews)"
_MIYAZAKI = "Miyazaki, Fujita and Jones 2017, Educational Studies in Mathematics 94 (circular arguments)"
_HAREL = "Harel and Sowder 2007 (empirical proof schemes)"
_PRACTICE = "common practice, no source"


@dataclass(frozen=True, slots=True)
class Misconception:
    id: str
    grade: str  # R, M or P
    source: str
    follow: tuple[str, int]  # the next item: family, level


def _table(*rows: tuple[str, str, str, str, int]) -> Mapping[str, Misconception]:
    return {row[0]: Misconception(row[0], row[1], row[2], (row[3], row[4])) for row in rows}


MISCONCEPTIONS: Mapping[str, Misconception] = _table(
    ("original-for-converse", "R", _HOYLES, "missing-reason", 1),
    ("converse-for-original", "R", _HOYLES, "missing-reason", 1),
    ("converse-always", "R", _HOYLES, "connect", 3),
    ("converse-never", "P", _PRACTICE, "connect", 2),
    ("inverse-for-converse", "R", _STYLIANIDES, "connect", 1),
    ("contrapositive-for-converse", "R", _STYLIANIDES, "connect", 1),
    ("converse-for-inverse", "R", _STYLIANIDES, "connect", 1),
    ("converse-for-contrapositive", "R", _STYLIANIDES, "connect", 1),
    ("inverse-for-contrapositive", "R", _STYLIANIDES, "connect", 1),
    ("half-negated", "P", _PRACTICE, "connect", 1),
    ("not-both-for-neither", "P", _PRACTICE, "connect", 5),
    ("one-way-for-both", "P", _PRACTICE, "connect", 4),
    ("converse-taken-as-same", "R", _HOYLES, "connect", 3),
    ("iff-one-way", "P", _PRACTICE, "connect", 2),
    ("examples-as-proof", "R", _HAREL, "connect", 3),
    ("counterexample-to-converse", "P", _PRACTICE, "connect", 3),
    ("example-for-counterexample", "P", _PRACTICE, "connect", 3),
    ("neither-for-counterexample", "P", _PRACTICE, "connect", 3),
    ("equal-without-parallel", "R", f"{_BAIDOO}; {_BIBER}", "is-it-enough", 1),
    ("equal-for-supplementary", "P", _PRACTICE, "find-the-angle", 1),
    ("supplementary-for-equal", "P", _PRACTICE, "find-the-angle", 1),
    ("ninety-for-180", "P", _PRACTICE, "find-the-angle", 1),
    ("pair-side", "R", _BAIDOO, "name-the-pair", 1),
    ("pair-inside", "R", _BAIDOO, "name-the-pair", 1),
    ("pair-corresponding", "R", _BAIDOO, "name-the-pair", 1),
    ("one-meet-mixed", "P", _PRACTICE, "name-the-pair", 1),
    ("wrong-transversal", "P", _PRACTICE, "which-transversal", 1),
    ("wrong-lines", "P", _PRACTICE, "which-transversal", 1),
    ("looks-parallel", "R", f"{_BIBER}; Parzysz 1988", "is-it-enough", 2),
    ("looks-not-parallel", "R", f"{_BIBER}; Gal and Linchevski 2010", "is-it-enough", 1),
    ("one-meet-evidence", "P", _PRACTICE, "is-it-enough", 1),
    ("theorem-of-other-pair", "R", _BAIDOO, "name-the-pair", 2),
    ("unknown-for-angle", "P", _PRACTICE, "make-parallel", 3),
    ("angle-for-unknown", "P", _PRACTICE, "make-parallel", 1),
    ("impossible-root", "P", _PRACTICE, "make-parallel", 5),
    ("sign-kept", "P", _PRACTICE, "make-parallel", 1),
    ("first-term-only", "P", _PRACTICE, "make-parallel", 3),
    ("unknowns-swapped", "P", _PRACTICE, "make-parallel", 4),
    ("given-for-derived", "R", _CIRILLO, "missing-reason", 1),
    ("goal-as-given", "R", _MIYAZAKI, "find-the-mistake", 3),
    ("theorem-first", "R", _CIRILLO, "put-in-order", 1),
    ("last-row-blamed", "P", _PRACTICE, "find-the-mistake", 1),
)

# What the lesson's own tasks note (classify, justify, prove): no exercise has it for a trap, but each has a set.
HABITS: Mapping[str, Misconception] = _table(
    ("wrong-pair-name", "R", _BAIDOO, "name-the-pair", 1),
    ("always-true-pair", "P", _PRACTICE, "is-it-enough", 1),
    ("wrong-theorem", "R", _BAIDOO, "name-the-pair", 2),
    ("unsupported-relation", "R", _CIRILLO, "is-it-enough", 2),
    ("enough-taken-for-not", "P", _PRACTICE, "is-it-enough", 1),
)

KNOWN: Mapping[str, Misconception] = {**MISCONCEPTIONS, **HABITS}


def note(misconception: str) -> Message:
    """What to say to the student, beginning with what they may have thought."""
    return say(f"practice.mis_{misconception}")


def recognise(item: Item, answer: Mapping[str, str]) -> str | None:
    """The mistake whose wrong answer this is, or None; `answer` is as `judging.read_answer` gives it.

    A mistake is known by all the fields that it speaks of; the one that speaks of more fields comes first.
    """
    found = [
        (len(wrong), name)
        for name, wrong in item.traps.items()
        if all(_is(answer.get(field, ""), value) for field, value in wrong.items())
    ]
    return max(found, key=lambda pair: pair[0])[1] if found else None


def _is(value: str, wrong: str) -> bool:
    """Whether it is that wrong value; "^D" stands for every order that begins with D, "78|102" for either."""
    return value.startswith(wrong[1:]) if wrong.startswith("^") else value in wrong.split("|")
