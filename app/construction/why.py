"""Why a copied angle is equal, and why that makes parallels: the two triangles, then the chain.

Each row is {"step", "text"} and, for the overlay, the triangles by their vertices. Sources: Euclid I.8
(SSS), used by I.23; I.27 and I.28 (the converses), used by I.31.
"""

from __future__ import annotations

from typing import Any

from app.construction.moves import Program
from app.construction.verify import Judgement
from app.words import say

__all__ = ["reasons"]


def reasons(program: Program, judgement: Judgement) -> dict[str, Any] | None:
    """{"rows": [...], "triangles": [[V, M, N], [W, D, E]]}, or None where no copied angle was found."""
    stage = judgement.progress
    if stage.missing or stage.chain not in ("copy", "parallel", "rhombus"):
        return None
    bound = stage.bound
    if stage.chain == "rhombus":
        keys: tuple[str, ...] = ("why_rhombus_sides", "why_rhombus_sss", "why_rhombus_angle")
        triangles = [[bound["V"], bound["W"], bound["N"]], [bound["E"], bound["N"], bound["W"]]]
        equal = [["sides", 0, 1, 2]]
    else:
        keys = ("why_equal_arcs", "why_equal_span", "why_sss", "why_angle")
        triangles = [[bound["V"], bound["M"], bound["N"]], [bound["W"], bound["D"], bound["E"]]]
        equal = [["arcs", 0, 1], ["span", 2]]
    rows = [{"step": key, "text": say(f"construction.{key}", **bound)} for key in keys]
    return {"rows": rows, "triangles": triangles, "equal": equal}
