"""The door to statements: reading, writing and speaking them.

>>> read_statement("<1 = <5", fig).kind        # doctest: +SKIP
'congruent'
"""

from __future__ import annotations

from app.figure.model import Figure
from app.reasoning.frame import frame_of
from app.reasoning.terms import Expression, Fact, Statement, show, speak

__all__ = ["Expression", "Fact", "Statement", "read_statement", "show", "speak"]


def read_statement(text: str, fig: Figure) -> Statement:
    """The statement a text makes about a figure.

    Raises Fault: `where` is "character n" (from 0), the fields hold `at` and, where it helps, `expected` and `found`.
    """
    return frame_of(fig).read(text)
