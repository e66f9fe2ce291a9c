"""Does a pack make sense? Figures can be drawn, names are in them, statements can be read; and, when asked
deeply, goals follow (or are really left open), givens can hold together, constructions can be made.
"""

from __future__ import annotations

from typing import Any

from .faults import PackFault
from .read import Draft

__all__ = ["figure_of", "judge_sense"]


def figure_of(figure: Any, draft: Draft) -> dict[str, Any] | None:
    """The contract JSON of a task's figure: its own table, or the one it names."""
    return draft.figures.get(figure) if isinstance(figure, str) else figure


def judge_sense(draft: Draft, *, deep: bool) -> list[PackFault]:
    return []
