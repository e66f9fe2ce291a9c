"""The name of a pair of angles, in a figure of any number of lines.

Two angles at different meets share a transversal if one line carries a side of each and passes through both
meets. A side that points at the other meet is inside, else outside. Both inside: on the same side of the
transversal they are consecutive interior, on opposite sides alternate interior. Both outside: likewise. One
of each: on the same side they are corresponding; on opposite sides they have no name.
"""

from __future__ import annotations

from typing import NamedTuple

from app.figure.faults import Fault, shown
from app.figure.parts import Angle, Figure, Ray

__all__ = ["ALL_PAIRS", "TRANSVERSAL_PAIRS", "Pair", "name_angles", "name_pair", "relation_for"]

CORRESPONDING = "corresponding"
ALTERNATE_INTERIOR, ALTERNATE_EXTERIOR = "alternate interior", "alternate exterior"
CONSECUTIVE_INTERIOR, CONSECUTIVE_EXTERIOR = "consecutive interior", "consecutive exterior"
VERTICAL, LINEAR, SAME, NONE = "vertical", "linear pair", "same", "none"

TRANSVERSAL_PAIRS = (
    CORRESPONDING,
    ALTERNATE_INTERIOR,
    ALTERNATE_EXTERIOR,
    CONSECUTIVE_INTERIOR,
    CONSECUTIVE_EXTERIOR,
)
ALL_PAIRS = (*TRANSVERSAL_PAIRS, VERTICAL, LINEAR, SAME, NONE)


class Pair(NamedTuple):
    """What two angles are to each other.

    `transversal` and `lines` (those of the other two sides, first angle's first) are None where no line
    carries a side of each. `inside` and `same_side` say how the pair lies: they are None there too.
    """

    pair: str
    transversal: str | None = None
    lines: tuple[str, str] | None = None
    relation: str | None = None
    inside: tuple[bool, bool] | None = None
    same_side: bool | None = None


def relation_for(pair: str) -> str | None:
    """What the two angles must be for the lines to be parallel: "congruent", "supplementary" or None."""
    if pair in (CORRESPONDING, ALTERNATE_INTERIOR, ALTERNATE_EXTERIOR):
        return "congruent"
    return "supplementary" if pair in (CONSECUTIVE_INTERIOR, CONSECUTIVE_EXTERIOR) else None


def name_pair(fig: Figure, a: str, b: str) -> Pair:
    """The pair that two of the figure's angles form. Raises Fault for a name that is no angle of it."""
    for name in (a, b):
        if name not in fig.angles:
            known = ", ".join(fig.angles) or "–"
            raise Fault("figure.angle_unknown", "angles", angle=shown(name), known=known)
    return name_angles(fig, fig.angles[a], fig.angles[b])


def name_angles(fig: Figure, a: Angle, b: Angle) -> Pair:
    """As name_pair, for any two angles at the figure's meets."""
    if a.at == b.at:
        return Pair(at_one_meet(a, b))
    transversal = fig.line_through(a.at, b.at)
    if transversal is None:
        return Pair(NONE)
    along_a, along_b = a.ray_on(transversal), b.ray_on(transversal)
    if along_a is None or along_b is None:
        return Pair(NONE)
    off_a, off_b = a.ray_off(transversal), b.ray_off(transversal)
    toward = fig.toward(transversal, a.at, b.at)
    inside = along_a.sign == toward.sign, along_b.sign != toward.sign
    same_side = left_of(fig, transversal, off_a) == left_of(fig, transversal, off_b)
    pair = across(inside, same_side)
    return Pair(pair, transversal, (off_a.line, off_b.line), relation_for(pair), inside, same_side)


def at_one_meet(a: Angle, b: Angle) -> str:
    if (a.start, a.end) in ((b.start, b.end), (b.end, b.start)):
        return SAME
    if a.start == b.start.back() and a.end == b.end.back():
        return VERTICAL
    follows = a.end == b.start and a.start == b.end.back()
    precedes = b.end == a.start and b.start == a.end.back()
    return LINEAR if follows or precedes else NONE


def left_of(fig: Figure, line: str, ray: Ray) -> bool:
    """Whether a ray from a point of the line runs off to the left of its + direction."""
    return fig.turn(Ray(line, "+"), ray) < fig.ruled.half


def across(inside: tuple[bool, bool], same_side: bool) -> str:
    if inside[0] != inside[1]:
        return CORRESPONDING if same_side else NONE
    if inside[0]:
        return CONSECUTIVE_INTERIOR if same_side else ALTERNATE_INTERIOR
    return CONSECUTIVE_EXTERIOR if same_side else ALTERNATE_EXTERIOR
