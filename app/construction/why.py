"""Why a construction works: two triangles with three equal sides, then what follows; and why a copied angle makes
parallels, as a chain to each converse.

Sources: Euclid I.8 (SSS), used by I.9 to I.12 and I.23; I.27 and I.28 (the converses), used by I.31.
"""

from __future__ import annotations

from typing import TypedDict

from app.construction.handon import HandedOn
from app.construction.moves import Program
from app.construction.verify import Judgement
from app.figure.marks import MarksJson
from app.figure.pairs import name_pair, relation_for
from app.words import Message, say, term, theorem

__all__ = ["Row", "chain", "reasons"]


class Row(TypedDict):
    """One row of a chain: its sentence, and the marks that go with it on the handed-on figure."""

    text: Message
    marks: MarksJson


# Chain of steps → the sentences, the two triangles by their letters if it takes two, and their sides as (corner,
# corner, ticks, the row from which it is marked).
TRIANGLES = ((0, 1, 1, 1), (0, 2, 1, 1), (1, 2, 2, 2))
KITE = ((0, 1, 1, 1), (1, 2, 2, 2), (0, 2, 3, 3))
WHY: dict[str, tuple[tuple[str, ...], tuple[str, str], tuple[tuple[int, ...], ...]]] = {
    "copy": (("equal_arcs", "equal_span", "sss", "angle"), ("VMN", "WDE"), TRIANGLES),
    "parallel": (("equal_arcs", "equal_span", "sss", "angle"), ("VMN", "WDE"), TRIANGLES),
    "rhombus": (("rhombus_sides", "rhombus_sss", "rhombus_angle"), ("VWN", "ENW"), TRIANGLES),
    "bisect": (("kite_arc", "kite_arcs", "kite_sss", "kite_angle"), ("VME", "VNE"), KITE),
    "perpendicular": (("kite_arc", "kite_arcs", "kite_sss", "kite_square"), ("VME", "VNE"), KITE),
    "segment": (("segment_carried",), ("", ""), ()),
    "carry": (("own_triangle", "own_lengths", "own_rest"), ("", ""), ()),
    "halve": (("halve_first", "halve_second", "halve_sss", "halve_middle"), ("EAF", "EBF"), KITE),
}


def reasons(program: Program, judgement: Judgement) -> dict[str, object] | None:
    """{"rows": [{"step", "text"}], "triangles": two lists of points, "sides": [corner, corner, ticks, from row]}, or
    None where the steps of no known way were found.
    """
    stage = judgement.progress
    if stage.missing or stage.chain not in WHY:
        return None
    keys, triangles, sides = WHY[stage.chain]
    # The perpendicular's kite has its tip at the given point.
    bound = {"V": stage.bound.get("W", ""), **stage.bound}
    return {
        "rows": [{"step": f"why_{key}", "text": say(f"construction.why_{key}", **bound)} for key in keys],
        "triangles": [[bound[letter] for letter in letters] for letters in triangles if letters],
        "sides": [list(side) for side in sides],
    }


def chain(handed: HandedOn) -> list[Row]:
    """From the angles that are congruent by construction to the parallel by a converse, and on to the other
    converses through vertical angles and linear pairs. Each row is {"text", "marks"}; the marks belong on the
    handed-on figure.
    """
    a, b = handed.angles
    rows = [row(say("construction.chain_given", a=a, b=b), {a: "given", b: "given"}, arrows=False)]
    if handed.pair not in CONVERSES:
        return rows
    words = in_house(handed.pair)
    rows.append(row(say("construction.chain_converse", a=a, b=b, **words), {a: "given", b: "given"}))
    for pair in CONVERSES:
        found = neighbor(handed, pair) if pair != handed.pair else None
        if found is not None:
            how, c, (x, y) = found
            text = say(f"construction.chain_{how}", a=x, b=y, c=c, **in_house(pair))
            rows.append(row(text, {x: "given", y: "given", c: "follows"}))
    return rows


def in_house(pair: str) -> dict[str, Message]:
    """A pair and its converse in the house's words."""
    return {"pair": term(pair), "theorem": theorem(f"{pair.replace(' ', '-')}-angles-converse")}


CONVERSES = (
    "corresponding",
    "alternate interior",
    "alternate exterior",
    "consecutive interior",
    "consecutive exterior",
)


def neighbor(handed: HandedOn, pair: str) -> tuple[str, str, tuple[str, str]] | None:
    """An angle c beside or opposite one of the two (x) that forms `pair` with the other (y)."""
    figure = handed.figure
    a, b = handed.angles
    for x, y in ((a, b), (b, a)):
        for c in figure.angles:
            step = name_pair(figure, x, c).pair if c not in (x, y) else ""
            how = {"vertical": "vertical", "linear pair": "linear"}.get(step)
            wanted = "supplementary" if how == "linear" else "congruent"
            if how and name_pair(figure, c, y).pair == pair and relation_for(pair) == wanted:
                return how, c, (x, y)
    return None


def row(text: Message, tones: dict[str, str], *, arrows: bool = True) -> Row:
    marks: MarksJson = {"angles": {name: {"arcs": 1, "tone": tone} for name, tone in tones.items()}}
    if arrows:
        marks["lines"] = {name: {"arrows": 1, "tone": "follows"} for name in ("l", "m")}
    return {"text": text, "marks": marks}
