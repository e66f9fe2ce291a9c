"""From a construction to the figure that the rest of the lesson reasons about.

A parallel made by copying an angle is two lines, a transversal and two angles that are congruent by
construction: that, and not the parallel, is handed on as the given, so that the converse can do its work.
Letters: l is the constructed line, m the given one, t the transversal.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction
from math import atan2, degrees

from app.construction.arithmetic import FLOATS, P
from app.construction.moves import Program
from app.construction.plane import minus
from app.construction.replay import Drawing, replay
from app.construction.verify import Judgement
from app.figure.faults import Fault
from app.figure.model import Figure, figure_from_json, figure_to_json
from app.figure.pairs import name_pair

__all__ = ["HandedOn", "hand_on", "place_of"]

FINE = 10_000


@dataclass(frozen=True)
class HandedOn:
    """The figure with standard numbering, the two angles that are congruent by construction, and their
    pair.
    """

    figure: Figure
    angles: tuple[str, str]
    pair: str

    def as_json(self) -> dict[str, object]:
        one, two = self.angles
        marks = {"angles": {name: {"arcs": 1, "tone": "given"} for name in self.angles}}
        return {
            "figure": figure_to_json(self.figure),
            "given": [f"∠{one} ≅ ∠{two}"],
            "marks": marks,
            "pair": self.pair,
            "lines": ["l", "m"],
            "transversal": "t",
        }


def hand_on(program: Program, judgement: Judgement) -> HandedOn | None:
    """The figure of a constructed parallel; None for other tasks, and for a drawing no figure can show."""
    if program.start.task != "parallel through a point" or not judgement.constructed:
        return None
    drawing = replay(program, FLOATS, picks=judgement.drawing.picks)
    sides = copied(drawing, judgement) or by_rhombus(drawing, judgement) or plain(program, drawing)
    if sides is None:
        return None
    (v, v_on_m, v_on_t), (w, w_on_l, w_on_t) = sides
    try:
        figure = draw(program, drawing, v, w)
        names = [sector(figure, at, one, two) for at, one, two in ((w, w_on_l, w_on_t), (v, v_on_m, v_on_t))]
        pair = name_pair(figure, names[0], names[1]).pair
    except Fault:
        return None
    return HandedOn(figure, (names[0], names[1]), pair)


Sides = tuple[tuple[P, P, P], tuple[P, P, P]]


def copied(drawing: Drawing, judgement: Judgement) -> Sides | None:
    """The angle at V on the given line and its copy at W, each as vertex, a point on the line, one on the
    transversal.
    """
    stage = judgement.progress
    if stage.chain != "parallel" or stage.missing:
        return None
    v, m, n, w, d, e = (drawing.point(stage.bound[letter]) for letter in "VMNWDE")
    return (v, n, m), (w, e, d)


def by_rhombus(drawing: Drawing, judgement: Judgement) -> Sides | None:
    """The diagonal from P to N is the transversal, and cuts the rhombus into congruent triangles."""
    stage = judgement.progress
    if stage.chain != "rhombus" or stage.missing:
        return None
    v, n, w, e = (drawing.point(stage.bound[letter]) for letter in "VNWE")
    return (n, v, w), (w, e, n)


def plain(program: Program, drawing: Drawing) -> Sides | None:
    """Made some other way: alternate angles on the line from P to a given point of the line."""
    a, b = (drawing.point(name) for name in program.start.line)
    w = drawing.point(program.start.point)
    return (a, b, w), (w, (w[0] + a[0] - b[0], w[1] + a[1] - b[1]), a)


def draw(program: Program, drawing: Drawing, v: P, w: P) -> Figure:
    a, b = (drawing.point(name) for name in program.start.line)
    along = fine(direction(minus(b, a)))
    lines = {
        "l": {"direction": along, "through": place(w)},
        "m": {"direction": along, "through": place(v)},
        "t": {"direction": fine(direction(minus(w, v))), "through": place(v)},
    }
    return figure_from_json({"lines": lines, "transversal": "t", "number": "standard"})


def direction(way: P) -> float:
    return degrees(atan2(way[1], way[0])) % 180


def fine(number: float) -> str:
    return str(Fraction(round(number * FINE), FINE) % 180)


def place(at: P) -> list[str]:
    return [str(Fraction(round(c * FINE), FINE)) for c in at]


def sector(figure: Figure, at: P, one: P, two: P) -> str:
    """The numbered angle at this place whose sides run toward both points."""
    headings = [degrees(atan2(p[1] - at[1], p[0] - at[0])) % 360 for p in (one, two)]
    best, least = "", 1e9
    for angle in figure.angles.values():
        x, y = figure.meets[angle.at].at
        away = abs(x - at[0]) + abs(y - at[1])
        sides = [float(figure.heading(ray)) for ray in (angle.start, angle.end)]
        turned = min(
            gap(sides[0], headings[0]) + gap(sides[1], headings[1]),
            gap(sides[0], headings[1]) + gap(sides[1], headings[0]),
        )
        if turned < 1 and away < least:
            best, least = angle.name, away
    if not best:
        raise Fault("construction.no_sector")
    return best


def gap(a: float, b: float) -> float:
    return abs((a - b + 180) % 360 - 180)


def place_of(program: Program, judgement: Judgement) -> str:
    """By which way a parallel was made: "rhombus", or the pair that the copied angle makes; "" for another
    way.
    """
    stage = judgement.progress
    if program.start.task != "parallel through a point" or stage.missing:
        return ""
    if stage.chain == "rhombus":
        return "rhombus"
    found = hand_on(program, judgement)
    return found.pair if found else ""
