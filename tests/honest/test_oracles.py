"""The oracles themselves: they agree with the books, with each other, and the reader of figures sees what is wrong with one."""

from __future__ import annotations

import copy
import random

import pytest

from tests.honest.linear import CONFLICT, OPEN, Linear
from tests.honest.named import CANNOT, FOLLOWS, NAMED, Named
from tests.honest.nonlinear import PROVED, REFUTED, Nonlinear
from tests.honest.planar import Found, realize
from tests.honest.plane import Figure
from tests.honest.reader import read

PARALLELOGRAM = next(one for one in NAMED if one.name.startswith("parallelogram: its diagonals need not be perp"))


@pytest.mark.parametrize("one", NAMED, ids=lambda one: one.name)
def test_real_figures_speak_for_the_books(one: Named) -> None:
    """Gauss and Newton find a figure against what isn't so, and none against a theorem (Elements, and as `named.py` says)."""
    figure, given = one.figure(random.Random(one.name)), list(one.given)
    there = realize(figure, given, starts=8)
    fails = realize(figure, given, one.claim, starts=10)
    holds = realize(figure, [*given, one.claim], starts=8)
    want = {FOLLOWS: (1, 0, 1), OPEN: (1, 1, 1), CANNOT: (1, 1, 0), CONFLICT: (0, 0, 0)}[one.truth]
    assert tuple(int(found is not None) for found in (there, fails, holds)) == want


@pytest.mark.parametrize("one", NAMED, ids=lambda one: one.name)
def test_no_oracle_of_z3_speaks_against_the_books(one: Named) -> None:
    figure, given = one.figure(random.Random(one.name)), list(one.given)
    linear = Linear(figure)
    # Concurrency and order are hidden from the linear oracle: what it can't prove it leaves open, and no more.
    assert linear.given(given)
    assert one.truth == CONFLICT or linear.verdict(one.claim) in (OPEN, one.truth)
    answer = Nonlinear(figure, 250).prove(given, one.claim)
    assert answer != (PROVED if one.truth in (OPEN, CANNOT) else REFUTED)


def test_z3_proves_by_coordinates_what_lines_alone_leave_open() -> None:
    for name in ("altitudes meet", "parallelogram: perpendicular diagonals", "the same, given as parallel"):
        one = next(one for one in NAMED if one.name.startswith(name))
        assert Nonlinear(one.figure(random.Random(1)), 5000).prove(list(one.given), one.claim) == PROVED


def example(figure: Figure, found: Found) -> dict:
    body = figure.to_json()
    for name, line in body["lines"].items():
        line["direction"] = f"{found.world[name] % 180:.13f}"
        line["through"] = [f"{v:.13f}" for v in found.through[name]]
    lines = {name: line["direction"] for name, line in body["lines"].items()}
    return {"figure": body, "lines": lines, "unknowns": {}, "measures": {}}


@pytest.fixture(scope="module")
def other() -> tuple[Figure, list, tuple, dict]:
    """A parallelogram whose diagonals are not perpendicular, as an answer."""
    figure, given = PARALLELOGRAM.figure(random.Random(3)), list(PARALLELOGRAM.given)
    found = realize(figure, given, PARALLELOGRAM.claim, visible=8)
    assert found is not None
    return figure, given, PARALLELOGRAM.claim, example(figure, found)


def test_a_right_figure_is_taken(other) -> None:
    figure, given, claim, answer = other
    reading = read(figure, given, claim, answer)
    assert reading.problems == [] and reading.apart >= 8 and not reading.faint


def moved(answer: dict, line: str, *, by: float = 0.0, turn: float = 0.0) -> dict:
    changed = copy.deepcopy(answer)
    body = changed["figure"]["lines"][line]
    body["through"][1] = f"{float(body['through'][1]) + by:.13f}"
    body["direction"] = changed["lines"][line] = f"{(float(body['direction']) + turn) % 180:.13f}"
    return changed


@pytest.mark.parametrize(
    ("change", "problem"),
    [
        (lambda a: moved(a, "d", by=1e-5), "miss each other"),
        (lambda a: moved(a, "l", turn=1e-6), "is off by"),
        (lambda a: moved(a, "l", by=30), "order is not kept"),
        (lambda a: {**a, "figure": None}, "no figure"),
        (lambda a: {**a, "lines": {**a["lines"], "l": "17"}}, "lines says"),
        (lambda a: {**a, "measures": {"DAB": "1"}}, "measures says"),
        (lambda a: {**a, "figure": {**a["figure"], "meets": {**a["figure"]["meets"], "E": ["d", "l"]}}}, "is named"),
    ],
)
def test_a_wrong_figure_is_seen(other, change, problem: str) -> None:
    figure, given, claim, answer = other
    assert problem in "; ".join(read(figure, given, claim, change(answer)).problems)


def test_a_mirrored_figure_is_seen(other) -> None:
    figure, given, claim, answer = other
    mirrored = copy.deepcopy(answer)
    for name, line in mirrored["figure"]["lines"].items():
        line["direction"] = mirrored["lines"][name] = f"{-float(line['direction']) % 180:.13f}"
        line["through"][1] = f"{-float(line['through'][1]):.13f}"
    assert read(figure, given, claim, mirrored).problems == ["the drawn order is not kept"]


def test_a_figure_in_which_the_claim_holds_is_seen(other) -> None:
    figure, given, claim, _ = other
    found = realize(figure, [*given, claim])
    assert found is not None
    assert "the claim holds" in "; ".join(read(figure, given, claim, example(figure, found)).problems)


def test_a_figure_that_looks_like_the_claim_is_faint(other) -> None:
    figure, given, _, answer = other
    d, e = (float(answer["lines"][name]) for name in "de")
    turned = realize(figure, [*given, ("lin", ((1, "AEB"),), 93)])
    assert turned is not None and abs(d - e) != 90
    reading = read(figure, given, ("perp", "d", "e"), example(figure, turned))
    assert reading.problems == [] and reading.faint
