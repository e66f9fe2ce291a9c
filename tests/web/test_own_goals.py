"""A teacher's own example is refused in plain words where no class could finish it: undecided, or only by coordinates."""

from __future__ import annotations

import pytest

import app.reasoning.follows as decider
from app.reasoning.theorems import FIGURES
from app.web.bodies import Own
from app.web.errors import Refused
from app.web.own import read_own
from tests.reasoning.test_threes import CORNERS

EIGHT = {"figure": FIGURES["eight"], "given": ["∠3 ≅ ∠5"], "goal": "l ∥ m"}
RHOMBUS = {"figure": CORNERS, "given": ["l ∥ m", "p ∥ q", "∠DAC ≅ ∠CAB"], "goal": "d ⊥ e"}


def test_a_goal_that_is_not_forced_is_a_task_and_one_that_follows_too() -> None:
    assert read_own(Own(**EIGHT))["possible"] is False
    assert read_own(Own(**{**EIGHT, "given": ["∠3 ≅ ∠6"]}))["possible"] is True


def test_an_undecided_goal_is_refused_with_that_word(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(decider, "DECISION", 1)
    with pytest.raises(Refused) as refused:
        read_own(Own(**EIGHT))
    assert (refused.value.status, refused.value.where) == (422, "goal")
    assert "undecided" in refused.value.sentence()


def test_a_goal_that_only_coordinates_show_is_refused() -> None:
    with pytest.raises(Refused) as refused:
        read_own(Own(**RHOMBUS))
    assert (refused.value.status, refused.value.where) == (422, "goal")
    assert "these theorems alone don't prove it" in refused.value.sentence()
