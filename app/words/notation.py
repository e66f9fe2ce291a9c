"""Statements of the notation as a reader has them.

What is kept and sent has a few English words ("∠3 and ∠5 are supplementary"); shown to somebody it is said in their
language, as `app.reasoning.terms.said` says a statement that has been read. `static/words/statement.js` does the same.
"""

from __future__ import annotations

import re

from app.words.message import Text, say

__all__ = ["in_words"]

_SHAPES = (
    (re.compile(r"(\S+) and (\S+) are supplementary"), "supplementary"),
    (re.compile(r"(\S+) and (\S+) are complementary"), "complementary"),
    (re.compile(r"(\S+) and (\S+) are a linear pair"), "linear_pair"),
    (re.compile(r"(\S+) and (\S+) are vertical angles"), "vertical"),
)


def in_words(statement: str) -> Text:
    """The statement in the reader's words; one that has only signs, or is no such statement, stays as it is."""
    for shape, kind in _SHAPES:
        if found := shape.fullmatch(statement):
            return say(f"reasoning.show_{kind}", a=found[1], b=found[2])
    if found := re.fullmatch(r"(\S+) is a right angle", statement):
        return say("reasoning.show_right", a=found[1])
    if found := re.fullmatch(r"(\S+) bisects (\S+)", statement):
        return say("reasoning.show_bisects", line=found[1], angle=found[2])
    return statement
