"""*Next step?* asks only for what can be done on the drawing as it stands (F12-08, F1-14).

Each drawing is one that students make; whether the circles meet is known from Euclid I.22: two circles meet when each of
the three lengths, the two openings and the way between the centers, is less than the other two together.
"""

from __future__ import annotations

from typing import Any

import pytest

from app.classroom.kinds.construct import ask
from app.classroom.verdict import Context
from app.construction.api import check
from app.words.house import house
from tests.reading import in_english

ask = in_english(ask)
check = in_english(check)

Moves = list[dict[str, Any]]
SEGMENT = {"segment": ["A", "B"], "points": {"A": [-3, 0], "B": [3, 0]}}
ANGLE = {"angle": ["P", "V", "Q"], "points": {"V": [0, 0], "P": [5, 0], "Q": [2, 3]}}
ON_LINE = {"line": ["A", "B"], "point": "P", "points": {"A": [-3, 0], "B": [3, 0], "P": [-1, 0]}}
OFF_LINE = {"line": ["A", "B"], "point": "P", "points": {"A": [-4, 0], "B": [4, 0], "P": [1, 3]}}


def step(construction: str, start: dict[str, Any], moves: Moves, **more: Any) -> str:
    task = {"construction": construction, "start": start}
    context = Context(seed=1, house=house("us"), profile="postulate", history=[])
    text: str = ask(task, "step", {"moves": moves, **more}, context)["text"]
    return text


def point(name: str, x: float, y: float) -> dict[str, Any]:
    return {"op": "point", "name": name, "at": [x, y]}


def on(name: str, of: str, x: float, y: float) -> dict[str, Any]:
    return {"op": "on", "name": name, "of": of, "near": [x, y]}


def arc(name: str, center: str, a: str, b: str, sweep: list[float] | None = None) -> dict[str, Any]:
    return {"op": "arc", "name": name, "center": center, "opening": [a, b], **({"sweep": sweep} if sweep else {})}


def meet(name: str, one: str, two: str, x: float, y: float) -> dict[str, Any]:
    return {"op": "meet", "name": name, "of": [one, two], "near": [x, y]}


def line(name: str, a: str, b: str, op: str = "line") -> dict[str, Any]:
    return {"op": op, "name": name, "through": [a, b]}


def test_an_opening_under_half_of_the_segment_is_told_before_and_after_the_second_arc() -> None:
    moves = [on("C", "AB", -1, 0), arc("c1", "A", "A", "C")]
    first = step("bisect a segment", SEGMENT, moves)
    assert "too small" in first and "more than half" in first and "crosses the one" not in first
    second = step("bisect a segment", SEGMENT, [*moves, arc("c2", "B", "A", "C")])
    assert "too small" in second and "Mark" not in second


@pytest.mark.parametrize(("far", "wide"), [(-0.1, False), (0.0, False), (0.1, True)])
def test_half_is_the_border(far: float, wide: bool) -> None:
    """Euclid I.22: at exactly half the circles only touch."""
    said = step("bisect a segment", SEGMENT, [on("C", "AB", far, 0), arc("c1", "A", "A", "C")])
    assert said.startswith("Keep the same opening") is wide


def test_an_arc_that_ends_too_soon_is_told() -> None:
    moves = [on("C", "AB", 1, 0), arc("c1", "A", "A", "C", [-20, 40]), arc("c2", "B", "A", "C", [90, 180])]
    said = step("bisect a segment", SEGMENT, moves)
    assert "about A" in said and "ends before" in said
    longer = [moves[0], arc("c1", "A", "A", "C", [-80, 160]), moves[2]]
    assert step("bisect a segment", SEGMENT, longer) == "Mark where the two arcs cross."


def test_an_arc_that_does_not_reach_the_line_is_told() -> None:
    """The pack's own note: from P off the line, an arc that doesn't reach it."""
    said = step("perpendicular through a point", OFF_LINE, [point("C", 1, 2), arc("c1", "P", "P", "C")])
    assert "does not cross" in said and "wider" in said


def test_a_crossing_off_the_paper_is_called_so() -> None:
    moves = [on("C", "AB", 2.9, 0), arc("c1", "A", "A", "C"), arc("c2", "B", "A", "C")]
    assert "off the paper" in step("bisect a segment", SEGMENT, moves, window=[-4, -2, 4, 2])
    assert "off the paper" not in step("bisect a segment", SEGMENT, moves, window=[-9, -9, 9, 9])
    for unusable in (None, "left", [1, 2], [1, 2, 3, "4"]):
        assert "off the paper" not in step("bisect a segment", SEGMENT, moves, window=unusable)


def copied(at: tuple[float, float]) -> Moves:
    """A parallel by corresponding angles up to the last crossing; l is the transversal from Q(-2, 0) to P(0, 2)."""
    return [
        on("Q", "AB", -2, 0), line("t", "Q", "P"),
        on("M", "t", -1, 1), arc("c1", "Q", "Q", "M"), meet("N", "AB", "c1", -0.5858, 0),
        arc("c2", "P", "Q", "M"), meet("D", "t", "c2", 1, 3), arc("c3", "D", "M", "N"), meet("E", "c2", "c3", *at),
    ]  # fmt: skip


def test_a_crossing_on_the_wrong_side_is_told_before_the_line_is_drawn() -> None:
    start = {"line": ["A", "B"], "point": "P", "points": {"A": [-4, 0], "B": [4, 0], "P": [0, 2]}}
    right = step("parallel through a point", start, copied((1.414, 2)))
    assert right == "Draw the line through P and E."
    wrong = step("parallel through a point", start, copied((0, 3.414)))
    assert "Draw" not in wrong and ("wrong side" in wrong or "wrong one" in wrong)
    after = step("parallel through a point", start, [*copied((0, 3.414)), line("u", "P", "E")])
    assert "All steps are there" not in after and "wrong" in after


def test_a_kite_goes_on_as_a_kite() -> None:
    """Euclid III.10 and I.12: two circles about points of the line, through P, meet again in P's mirror image."""
    moves = [arc("c1", "A", "A", "P"), arc("c2", "B", "B", "P")]
    assert "another place of line AB" in step("perpendicular through a point", OFF_LINE, moves[:1])
    assert (
        step("perpendicular through a point", OFF_LINE, moves) == "Mark the other crossing of the arcs about B and A."
    )
    moves.append(meet("E", "c1", "c2", 1, -3))
    assert step("perpendicular through a point", OFF_LINE, moves) == "Draw the line through P and E."
    done = check({"task": "perpendicular through a point", "start": OFF_LINE, "moves": [*moves, line("s", "P", "E")]})
    assert done["verdict"] == "constructed"


def test_two_perpendiculars_go_on_as_such() -> None:
    """Euclid I.28: two lines perpendicular to one line are parallel."""
    moves = [
        arc("c1", "P", "P", "A"), meet("M", "AB", "c1", -4, 0), meet("N", "AB", "c1", 6, 0),
        arc("c2", "M", "M", "N"), arc("c3", "N", "M", "N"), meet("E", "c2", "c3", 1, -8), line("s", "P", "E"),
    ]  # fmt: skip
    told = [step("parallel through a point", OFF_LINE, moves)]
    assert told[0] == "Mark where the arc about P crosses your perpendicular."  # the first arc does again
    more = [point("C", 2, 4), arc("c4", "P", "P", "C"), meet("F", "s", "c4", 1, 5), meet("G", "s", "c4", 1, 1),
            arc("c5", "F", "F", "G"), arc("c6", "G", "F", "G"), meet("H", "c5", "c6", 4, 3)]  # fmt: skip
    for k in range(2, len(more) + 1):
        told.append(step("parallel through a point", OFF_LINE, [*moves, *more[:k]]))
    assert told[-1] == "Draw the line through P and H."
    assert len(set(told[1:])) == len(told) - 1 and not any("transversal" in text for text in told)
    done = check({"task": "parallel through a point", "start": OFF_LINE, "moves": [*moves, *more, line("u", "P", "H")]})
    assert done["verdict"] == "constructed"


@pytest.mark.parametrize(
    ("task", "start", "moves", "pair"),
    [
        ("bisect an angle", ANGLE,
         [arc("c1", "P", "P", "V"), arc("c2", "Q", "P", "V"), meet("E", "c1", "c2", 7, 3), line("s", "V", "E", "ray")], "P and Q"),
        ("perpendicular through a point", ON_LINE,
         [arc("c1", "A", "A", "B"), arc("c2", "B", "A", "B"), meet("E", "c1", "c2", 0, 5), line("s", "P", "E")], "A and B"),
    ],
)  # fmt: skip
def test_equal_arcs_about_unequal_points_are_the_cause(task: str, start: Any, moves: Moves, pair: str) -> None:
    """A point equally far from two others lies on their perpendicular bisector (Euclid I.10), which misses the vertex."""
    told = check({"task": task, "start": start, "moves": moves})
    assert told["reason"] == "unequal points" and told["verdict"] != "constructed"
    assert pair in told["text"] and "not equally far" in told["text"]
    assert [one["ok"] for one in told["moves"]].count(False) == 1


def test_the_post_does_not_stand_in_the_middle() -> None:
    """Else arcs about A and B, which are wrong, come out right by chance."""
    from app.lessons.load import load_pack
    from tests.browser.conftest import ROOT

    found = load_pack(ROOT / "lesson_packs" / "other-constructions").task("post-on-the-line")
    assert found is not None
    task = found.data
    points = {name: [float(c) for c in at] for name, at in task["start"]["points"].items()}
    a, b, p = (points[name] for name in "ABP")
    along = [(p[i] - a[i]) / (b[i] - a[i]) for i in (0, 1)]
    assert along[0] == pytest.approx(along[1]) and 0.1 < abs(along[0] - 0.5) < 0.4


def test_an_arc_as_an_answer_is_called_an_arc() -> None:
    from app.figure.faults import Fault
    from app.words import tell as say

    with pytest.raises(Fault) as caught:
        check({"task": "bisect an angle", "start": ANGLE, "moves": [arc("c1", "V", "V", "P")], "result": "c1"})
    assert say(caught.value.code, **caught.value.fields) == "The answer is a line or a ray; c1 is an arc."
