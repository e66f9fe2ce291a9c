"""The harness sees what it is there to see: a lost reply, a doubled one, a class that waits."""

from __future__ import annotations

import json
import sqlite3
from pathlib import Path

import pytest

from tests.attack.__main__ import Outcome
from tests.attack.heavy import question
from tests.attack.lesson import Felt, lost_and_doubled, percentile


def file_with(folder: Path, ids: list[str], counted: int) -> Path:
    (folder / "data").mkdir()
    with sqlite3.connect(folder / "data" / "eight-angles.db") as file:
        file.execute("CREATE TABLE reply (id TEXT)")
        file.execute("CREATE TABLE standing (replies INTEGER)")
        file.executemany("INSERT INTO reply VALUES (?)", [(one,) for one in ids])
        file.execute("INSERT INTO standing VALUES (?)", (counted,))
    file.close()
    return folder


@pytest.mark.parametrize(
    ("ids", "counted", "lost", "doubled"),
    [(["a", "b"], 2, 0, 0), (["a"], 1, 1, 0), (["a", "b", "b"], 3, 0, 1), (["a", "b"], 3, 0, 1)],
)
def test_lost_and_doubled_are_seen(tmp_path: Path, ids: list[str], counted: int, lost: int, doubled: int) -> None:
    found = lost_and_doubled(Felt(acknowledged=["a", "b"]), file_with(tmp_path, ids, counted))
    assert [len(found[0]), len(found[1])] == [lost, doubled]
    assert bool(Outcome("", [], lost=found[0], doubled=found[1]).broken) is bool(lost or doubled)


def test_a_class_that_waits_is_seen() -> None:
    def outcome(calm: float, attacked: float) -> Outcome:
        return Outcome(
            "", [], felt=Felt({"calm": [calm] * 9, "attack": [attacked] * 9}, {"calm": [5.0], "attack": [5.0]})
        )

    assert outcome(20, 140).slow() == []
    assert "replies: p99 160 ms" in outcome(20, 160).slow()[0]
    # On a busy machine the class alone is the measure.
    assert outcome(400, 700).slow() == [] and outcome(400, 900).slow() != []
    assert percentile(list(range(100)), 0.99) == 99


def test_an_attack_by_small_requests_is_held_against_as_many_visits() -> None:
    def outcome(visited: float, attacked: float) -> Outcome:
        return Outcome("", [], felt=Felt({"calm": [20.0] * 9, "visits": [visited] * 9, "attack": [attacked] * 9}))

    assert outcome(800, 990).slow() == []
    assert "at most 1000 ms (alone 20 ms, beside visits 800 ms)" in outcome(800, 1010).slow()[0]
    # Visits that are hardly felt allow nothing more than before.
    assert outcome(30, 140).slow() == [] and outcome(30, 160).slow() != []


def test_no_heavy_question_is_like_another() -> None:
    """An answer that the server keeps would cost it nothing."""
    bodies = [json.dumps(question(n)) for n in range(200)]
    assert len(set(bodies)) == 200 and max(map(len, bodies)) < 65_536
