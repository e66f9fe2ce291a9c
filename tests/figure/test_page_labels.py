"""What stands at the angles of the page's own figures is read as it is meant: all figures of all packs, and twenty of each family and level.

The layout is the page's (`static/figure/layout.js`), run by Node; what is counted is plain geometry. Nothing here is left to chance.
"""

from __future__ import annotations

import json
import shutil
import subprocess
from pathlib import Path
from typing import Any

import pytest

from app.classroom.kinds import kind_module
from app.classroom.verdict import Context
from app.lessons.load import load_pack
from app.practice.families import LEVELS, item
from app.words.house import house
from tests.need import need

ROOT = Path(__file__).resolve().parents[2]
SEEDS = 20

# A text led to its thin sector from beside it crosses one side of that sector; more of them than today means less room found inside.
MOST_CROSSING = {"laptop": 0, "phone": 36, "board": 26, "measures": 5}
MOST_TWICE = {"laptop": 0, "phone": 1, "board": 1, "measures": 0}
# Only where the teacher shows every measure of a crowded figure at once.
MOST_ROWS = {"laptop": 0, "phone": 0, "board": 32, "measures": 3}
MOST_FRACTIONS = {"laptop": 0, "phone": 0, "board": 1, "measures": 0}


def figures() -> list[tuple[str, Any, Any]]:
    found: list[tuple[str, Any, Any]] = []
    ctx = Context(seed=1, house=house("us"), profile="postulate", history=[])
    for folder in sorted((ROOT / "lesson_packs").iterdir()):
        if not (folder / "pack.toml").exists():
            continue
        for task in load_pack(folder).tasks():
            shown = kind_module(task.kind).public(task.data, ctx)
            if shown.get("figure"):
                found.append((f"{folder.name} {task.id}", shown["figure"], shown.get("marks") or {}))
    for family, top in LEVELS.items():
        for level in range(1, top + 1):
            for seed in range(SEEDS):
                made = item(family, seed, level)
                if made.figure:
                    found.append((f"{family} {level} {seed}", dict(made.figure), made.marks or {}))
    return found


@pytest.fixture(scope="module")
def laid(tmp_path_factory: pytest.TempPathFactory) -> dict[str, dict[str, Any]]:
    node = need(shutil.which("node"), "Node.js (18 or later)")
    file = tmp_path_factory.mktemp("figures") / "figures.json"
    file.write_text(json.dumps(figures(), default=str), encoding="utf-8")
    run = subprocess.run(
        [node, "tests/figure/labels_of.mjs", str(file)], cwd=ROOT, capture_output=True, text=True, timeout=300
    )
    assert run.returncode == 0, run.stderr[-3000:]
    told: dict[str, dict[str, Any]] = json.loads(run.stdout)
    assert all(found["figures"] > 800 for found in told.values()) and set(told) == set(MOST_CROSSING)
    return told


@pytest.mark.parametrize("size", MOST_CROSSING)
def test_hardly_a_leader_of_the_page_crosses_a_line(laid: dict[str, dict[str, Any]], size: str) -> None:
    found = laid[size]
    assert len(found["crossing"]) <= MOST_CROSSING[size], found["crossing"]
    assert len(found["twice"]) <= MOST_TWICE[size], found["twice"]
    assert not found["level"], found["level"]  # a short level stroke between two texts is a minus


@pytest.mark.parametrize("size", MOST_CROSSING)
def test_a_number_over_another_angles_measure_is_no_fraction(laid: dict[str, dict[str, Any]], size: str) -> None:
    found = laid[size]
    assert len(found["fractions"]) <= MOST_FRACTIONS[size], found["fractions"]
    assert len(found["rows"]) <= MOST_ROWS[size], found["rows"]


def test_the_count_sees_a_fraction_and_a_crossing(laid: dict[str, dict[str, Any]]) -> None:
    """So that the numbers above are not those of a look that sees nothing."""
    assert laid["phone"]["leaders"] > 0 and laid["phone"]["crossing"] and laid["board"]["rows"]
