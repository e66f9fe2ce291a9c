"""A constructed parallel is handed on as a figure with congruent angles given, and the reasoner proves it from them."""

from __future__ import annotations

from random import Random
from typing import Any

import pytest

from app.classroom.kinds import construct
from app.classroom.verdict import Context
from app.figure.model import figure_from_json
from app.figure.pairs import name_pair
from app.words.house import house
from tests.construction.starts import random_start
from tests.reading import in_english

construct = in_english(construct)

ROUTES = ("corresponding", "alternate interior", "rhombus")


def task(route: str, data: dict[str, Any], **more: Any) -> dict[str, Any]:
    return {
        "id": "p1",
        "kind": "construct",
        "title": "A parallel",
        "ask": "Construct it.",
        "minutes": 5,
        "construction": "parallel through a point",
        "start": data,
        "route": route,
        "notes": "teacher only",
        **more,
    }


CTX = Context(7, house())


@pytest.mark.parametrize("route", ROUTES)
def test_the_key_is_right_and_hands_on_its_given(route: str) -> None:
    for i in range(8):
        data = random_start("parallel through a point", Random(f"{route}{i}"))
        key = construct.key(task(route, data), CTX)
        verdict = construct.judge(task(route, data), {"moves": key["moves"], "result": key["result"]}, CTX)
        assert verdict.ok and verdict.done and verdict.score == 1 and verdict.more["way"] == route
        figure = figure_from_json(verdict.more["figure"])
        (given,) = verdict.more["given"]
        one, two = (part.strip("∠ ") for part in given.split("≅"))
        assert figure.measure(one) == figure.measure(two)
        pair = name_pair(figure, one, two)
        assert pair.pair == ("alternate interior" if route == "rhombus" else route)
        assert set(pair.lines or ()) == {"l", "m"} and pair.transversal == "t"
        assert set(verdict.more["marks"]["angles"]) == {one, two}


def test_the_reasoner_proves_the_parallel_from_the_given() -> None:
    follows = pytest.importorskip("app.reasoning.follows").follows
    for route in ROUTES:
        data = random_start("parallel through a point", Random(route))
        key = construct.key(task(route, data), CTX)
        more = construct.judge(task(route, data), {"moves": key["moves"]}, CTX).more
        found = follows(figure_from_json(more["figure"]), more["given"], "l ∥ m")
        assert found.verdict == "follows"


def test_another_way_than_the_one_asked_for_is_said_so() -> None:
    data = random_start("parallel through a point", Random(3))
    key = construct.key(task("rhombus", data), CTX)

    verdict = construct.judge(task("corresponding", data), {"moves": key["moves"]}, CTX)

    assert (verdict.ok, verdict.code) == (False, "other route")
    assert "corresponding place" in verdict.text


def test_what_a_seat_may_see_holds_no_key_and_no_notes() -> None:
    shown = construct.public(task("any", random_start("parallel through a point", Random(3))), CTX)

    assert "moves" not in shown and "notes" not in shown and shown["construction"] == "parallel through a point"


def test_why_names_the_two_triangles() -> None:
    data = random_start("copy an angle", Random(3))
    copy = {**task("any", data), "construction": "copy an angle"}
    key = construct.key(copy, CTX)
    why = construct.ask(copy, "why", {"moves": key["moves"]}, CTX)["why"]

    assert why["triangles"] == [["V", "B", "C"], ["W", "D", "E"]]
    assert [row["step"] for row in why["rows"]] == ["why_equal_arcs", "why_equal_span", "why_sss", "why_angle"]
    assert construct.ask(copy, "why", {"moves": key["moves"][:4]}, CTX)["why"] is None


def test_the_next_step_is_told_one_at_a_time() -> None:
    data = random_start("copy an angle", Random(3))
    copy = {**task("any", data), "construction": "copy an angle"}
    key = construct.key(copy, CTX)
    told = [construct.ask(copy, "step", {"moves": key["moves"][:k]}, CTX) for k in range(len(key["moves"]) + 1)]

    assert len({step["text"] for step in told}) == len(told) - 1  # a point on a side alone changes nothing
    assert [step["constructed"] for step in told] == [False] * len(key["moves"]) + [True]


def test_a_pack_may_keep_the_demonstration_back() -> None:
    from app.figure.faults import Fault

    data = random_start("parallel through a point", Random(3))
    with pytest.raises(Fault, match="yours to find"):
        construct.ask(task("any", data, demonstration=False), "demonstration", {}, CTX)
    assert construct.ask(task("any", data), "demonstration", {}, CTX)["steps"]


def test_scores_and_misconceptions_of_wrong_ones() -> None:
    from tests.construction.wrong import wrong_ones

    for _, reason, body in wrong_ones(14):
        one = {**task("any", body["start"]), "construction": body["task"]}
        verdict = construct.judge(one, {"moves": body["moves"], "result": body["result"]}, CTX)
        assert not verdict.ok and 0 < verdict.score < 1
        assert verdict.code == reason and verdict.misconception


@pytest.mark.parametrize("route", ROUTES)
def test_the_chain_reaches_the_other_converses(route: str) -> None:
    """Vertical angles and linear pairs carry one congruent pair to the other pairs (Wentworth 1899, Ex. 14-16 for the
    exterior ones), and every row of the chain holds in the figure.
    """
    data = random_start("parallel through a point", Random(f"chain {route}"))
    key = construct.key(task(route, data), CTX)
    more = construct.judge(task(route, data), {"moves": key["moves"]}, CTX).more
    texts = [row["text"] for row in more["chain"]]

    assert "given now" in texts[0] and "so l ∥ m by the" in texts[1] and len(texts) >= 4
    names = {
        house().name(f"{p}-angles-converse") for p in ("corresponding", "alternate-interior", "alternate-exterior")
    }
    assert sum(any(name in text for text in texts) for name in names) >= 2
    assert any(house().name("consecutive-interior-angles-converse") in text for text in texts) or any(
        house().name("consecutive-exterior-angles-converse") in text for text in texts
    )
    figure = figure_from_json(more["figure"])
    assert more["proof"][-1]["statement"] == "l ∥ m" and more["proof"][0]["reason"] == "given"
    assert all(row["name"] for row in more["proof"])
    for row in more["chain"]:
        assert set(row["marks"]["angles"]) <= set(figure.angles)


@pytest.mark.parametrize(
    "name", ["copy an angle", "bisect an angle", "bisect a segment", "perpendicular through a point"]
)
def test_the_two_triangles_of_every_reason_have_equal_sides(name: str) -> None:
    """Euclid I.8: what the page calls congruent by SSS is so, side by side, in the drawing."""
    from app.construction.arithmetic import FLOATS
    from app.construction.moves import read_program
    from app.construction.replay import replay
    from app.construction.start import read_start

    for i in range(6):
        data = random_start(name, Random(f"why {i}"), on_line=i % 2 == 1)
        one = {**task("any", data), "construction": name}
        key = construct.key(one, CTX)
        why = construct.ask(one, "why", {"moves": key["moves"]}, CTX)["why"]
        drawing = replay(read_program(read_start(name, data), key["moves"]), FLOATS)
        first, second = ([drawing.point(p) for p in corners] for corners in why["triangles"])
        for a, b, _, row in why["sides"]:
            lengths = [((t[a][0] - t[b][0]) ** 2 + (t[a][1] - t[b][1]) ** 2) ** 0.5 for t in (first, second)]
            assert lengths[0] == pytest.approx(lengths[1], rel=1e-9) and 1 <= row <= len(why["rows"])
        assert len(why["rows"]) == 4 and "SSS" in why["rows"][2]["text"]
