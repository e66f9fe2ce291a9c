"""500 wrong constructions, each refused, and for the right reason."""

from __future__ import annotations

from collections import Counter

import pytest

from app.construction.api import check
from tests.construction.wrong import wrong_ones
from tests.reading import in_english
from tests.scale import trials

check = in_english(check)


def test_wrong_constructions_are_refused_with_the_right_reason() -> None:
    count = trials(quick=140, full=560)
    seen: Counter[str] = Counter()
    for spoilt, reason, body in wrong_ones(count):
        found = check(body)
        assert found["verdict"] in ("eyeballed", "not there yet"), (spoilt, body)
        assert found["reason"] == reason, (spoilt, found["reason"], found["text"], body)
        assert found["text"] and "{" not in found["text"]
        if reason != "wrong side":
            assert any(not move["ok"] and move["note"] for move in found["moves"]), found
        seen[spoilt] += 1
    assert len(seen) == 7 and sum(seen.values()) == count


@pytest.mark.parametrize("moves", [[], [{"op": "ray", "name": "r", "through": ["V", "Q"]}]])
def test_a_given_is_not_constructed(moves: list[dict[str, object]]) -> None:
    """The angle's own side answers as drawn, but nothing was made (Euclid I.23 makes the new angle)."""
    points = {"V": [0, 0], "P": [4, 0], "Q": [3, 3]}
    start = {"points": points, "angle": ["P", "V", "Q"], "ray": ["V", "P"]}
    found = check({"task": "copy an angle", "start": start, "moves": moves, "result": "r" if moves else "VQ"})
    assert (found["verdict"], found["reason"]) == ("not there yet", "given")
    assert "was given" in found["text"] and found["next"] in found["text"]
