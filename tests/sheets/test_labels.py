"""What stands at the angles of printed figures is read as it is meant: looked for with plain geometry (shapely)."""

from __future__ import annotations

from functools import lru_cache
from itertools import combinations

import pytest
from shapely import LineString, Point, Polygon, box
from shapely.ops import polygonize, unary_union

from app.figure.laying import lay_out
from app.figure.layout import Label, Layout
from app.figure.look import LOOKS
from app.figure.marks import read_marks
from app.figure.model import figure_from_json
from tests.figure.samples import samples, standard
from tests.scale import trials
from tests.sheets.printed import Printed, printed

# In a hundred figures, so many leaders may cross a line: where two lines run close together, a long expression has no room
# between them at any size. Before there was a look for such room it was 24, 13 and 36.
MOST_CROSSING = {"standard": 3.0, "large": 2.0, "tactile": 15.0}


@lru_cache
def figures(theme: str) -> tuple[Printed, ...]:
    return tuple(printed(theme, trials(quick=1, full=20)))


def lines(laid: Layout) -> list[LineString]:
    return [LineString([line.start, line.end]) for line in laid.strokes]


def led(laid: Layout) -> list[Label]:
    return [label for label in laid.labels if label.leader is not None]


def crosses(label: Label, laid: Layout) -> bool:
    leader = LineString(list(label.leader or ()))
    return any(leader.intersects(line) for line in lines(laid))


@pytest.mark.parametrize("theme", MOST_CROSSING)
def test_hardly_a_leader_crosses_a_line(theme: str) -> None:
    found = [(where, label.of) for where, _, _, laid in figures(theme) for label in led(laid) if crosses(label, laid)]

    assert len(found) <= MOST_CROSSING[theme] / 100 * len(figures(theme)), found


@pytest.mark.parametrize("theme", MOST_CROSSING)
def test_a_leader_is_no_minus(theme: str) -> None:
    """A minus is a short level stroke with a text right before and right behind it."""
    for where, _, _, laid in figures(theme):
        for label in led(laid):
            if label.of in laid.crossing:
                continue
            (x, y), tip = label.leader or ((0, 0), (0, 0))
            level = abs(tip[1] - y) < 0.4 * abs(tip[0] - x)
            others = [
                box(*other.box.edges)
                for other in laid.labels
                if other is not label and other.role in ("number", "label")
            ]
            near = min((Point(tip).distance(other) for other in others), default=1e9)
            assert near >= 0.4 * label.size, (where, label)
            if level:
                # Nor does it run between two texts like the bar of a fraction.
                along = min((LineString([(x, y), tip]).distance(other) for other in others), default=1e9)
                assert abs(tip[0] - x) > 1.9 * label.size and along > 0.9 * label.size, (where, label)


@pytest.mark.parametrize("theme", MOST_CROSSING)
def test_a_number_and_a_measure_in_one_row_are_two(theme: str) -> None:
    for where, _, _, laid in figures(theme):
        texts = [label for label in laid.labels if label.role in ("number", "label")]
        for one, other in combinations(texts, 2):
            if {one.role, other.role} == {"number"}:
                continue
            down = abs(one.box.y - other.box.y) - one.box.half_height - other.box.half_height
            across = abs(one.box.x - other.box.x) - one.box.half_width - other.box.half_width
            assert down >= 0 or across >= 0.6 * min(one.size, other.size), (where, one, other)


@pytest.mark.parametrize("theme", MOST_CROSSING)
def test_what_has_no_leader_stands_in_its_angle(theme: str) -> None:
    """In the part of the page, cut along the figure's lines, that lies in the angle and has its meet for a corner."""
    for where, fig, _, laid in figures(theme):
        page = box(0, 0, laid.width, laid.height)
        far = [LineString([reached(b, a), reached(a, b)]) for a, b in ((line.start, line.end) for line in laid.strokes)]
        parts = list(polygonize(unary_union([page.exterior, *far])))
        for label in laid.labels:
            if label.role not in ("number", "label"):
                continue
            at = Point(laid.view.page(fig.meets[fig.angles[label.of].at].at))
            stands = box(*label.box.edges) if label.leader is None else Point(label.leader[1]).buffer(0.3)
            part = next((part for part in parts if part.buffer(0.5).contains(stands)), None)
            assert part is not None and part.distance(at) < 1, (where, label)


def reached(start: tuple[float, float], end: tuple[float, float]) -> tuple[float, float]:
    """A point far beyond the second."""
    return end[0] + 9 * (end[0] - start[0]), end[1] + 9 * (end[1] - start[1])


def test_no_letter_stands_in_an_arc() -> None:
    """The letter of a meet within arcs would be read as the name of the angle."""
    marked = {"angles": {name: {"arcs": 1 + i % 2} for i, name in enumerate("123456")}}
    figs = [(standard(0, 7, t), marked) for t in range(20, 170, trials(quick=10, full=1))]
    for sample in samples(31, trials(quick=8, full=60)):
        figs.append((sample.figure, {"angles": {name: {"arcs": 1} for name in list(sample.figure["angles"])[::2]}}))
    letters = 0
    for data, marks in figs:
        fig = figure_from_json(data)
        laid = lay_out(fig, read_marks(marks, fig), (480, 360), LOOKS["paper"])
        for arc in laid.arcs:
            edge = [arc_at(arc, arc.radii[-1], k / 24) for k in range(25)]
            inside = Polygon([arc.centre, *edge])
            for label in laid.labels:
                if label.role == "letter" and label.of == fig.angles[arc.angle].at:
                    letters += 1
                    assert not inside.intersects(box(*label.box.edges)), (data, label, arc)
    assert letters > 0


def arc_at(arc, radius: float, share: float) -> tuple[float, float]:
    from math import cos, radians, sin

    turn = radians(arc.start + share * arc.sweep)
    return arc.centre[0] + radius * cos(turn), arc.centre[1] - radius * sin(turn)
