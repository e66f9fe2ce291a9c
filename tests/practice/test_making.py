"""The ready sets for mistakes in constructions: each task can be done, and the set is for its mistake."""

from __future__ import annotations

import json

import pytest

from app.classroom.kinds import construct
from app.classroom.records import by_misconception
from app.classroom.verdict import Context
from app.practice.making import MAKING, making_set
from app.practice.misconceptions import note
from app.practice.reteach import groups
from app.sheets.html import Frame, sheet_html
from app.sheets.keys import key_html
from app.sheets.sets import set_for
from app.words.house import house
from tests.reading import in_english
from tests.scale import trials

by_misconception = in_english(by_misconception)

construct = in_english(construct)

making_set = in_english(making_set)
note = in_english(note)
groups = in_english(groups)

CTX = Context(seed=3, house=house(), history=[])


@pytest.mark.parametrize("mistake", MAKING)
def test_every_task_is_done_by_its_recipe(mistake: str) -> None:
    """Euclid's constructions, replayed by the judge of constructions, from each start that the seeds make."""
    seen = set()
    for seed in range(trials(quick=6, full=200)):
        tasks = making_set(mistake, seed)
        assert len(tasks) == 3 and making_set(mistake, seed) == tasks != making_set(mistake, seed, "B")
        for task in tasks:
            assert "{" not in task["ask"] and task["ask"].count(".") == 2
            key = construct.key(task, CTX)
            reply = json.loads(json.dumps({"moves": key["moves"], "result": key["result"]}))
            assert construct.judge(task, reply, CTX).ok, (seed, task)
            # On the paper of a phone and of a sheet.
            assert all(abs(x) <= 4.4 and abs(y) <= 2.2 for x, y in task["start"]["points"].values())
        seen.add(json.dumps(tasks))
    assert len(seen) == trials(quick=6, full=200)


def test_every_mistake_that_constructing_notes_has_a_set_and_a_note() -> None:
    assert set(construct.MISCONCEPTIONS.values()) == set(MAKING)
    for mistake in MAKING:
        assert note(mistake).startswith("“") and len(note(mistake)) < 200


def test_a_class_that_places_points_by_eye_is_a_group_with_a_set() -> None:
    found = groups(
        {
            "Calm Ray": ["placed-by-eye", "pair-side", "placed-by-eye"],
            "Still Arc": ["placed-by-eye"],
            "Bright Line": ["wrong-crossing"],
        }
    )

    assert [(g.misconception, g.members, len(g.items), len(g.tasks)) for g in found] == [
        ("placed-by-eye", ("Calm Ray", "Still Arc"), 0, 3),
        ("wrong-crossing", ("Bright Line",), 0, 3),
    ]
    assert [task["construction"] for task in found[0].as_json()["tasks"]][0] == "bisect a segment"
    rows = by_misconception([("3", {"misconception": "placed-by-eye"})])
    assert rows[0]["set"] and rows[0]["title"] == note("placed-by-eye")


@pytest.mark.parametrize("mistake", MAKING)
@pytest.mark.parametrize("paper", ["letter", "a4"])
def test_the_set_prints_with_room_to_construct_and_its_steps_in_the_key(mistake: str, paper: str) -> None:
    sheet = set_for(mistake, paper=paper, seed="4")
    page, key = sheet_html(sheet, Frame()), key_html(sheet, Frame())

    assert page.count('class="space"') == 3 and 'class="strip"' not in page
    assert key.count('class="strip"') == 3 and "Key:" in key
    assert page != sheet_html(set_for(mistake, paper=paper, seed="4", version="B"), Frame())
