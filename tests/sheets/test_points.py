"""What a printed question speaks of is printed: every point that its words or its key name has its letter."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from app.lessons.load import load_pack
from app.practice.families import FAMILIES, LEVELS
from app.sheets.build import build, read_want
from app.sheets.entries import Entry
from app.sheets.packs import build_pack
from app.sheets.paper import THEMES

PACKS = sorted(p.parent for p in (Path(__file__).parents[2] / "lesson_packs").glob("*/pack.toml"))
LETTERS = re.compile(r'<text class="letter"[^>]*>([^<]+)</text>')
# ∠AVB, triangle PQR, line AB, "at A", "through P": the points that school geometry names by capitals.
NAMED = re.compile(
    r"∠([A-Z]{3})\b|\b(?:triangle|line|lines|segment|ray|angle) ([A-Z]{2,3})\b|\b(?:at|through|of|point) ([A-Z])\b(?!')"
)


def named(entry: Entry) -> set[str]:
    said = [entry.prompt, entry.ask, entry.key.answer, *entry.key.working, *(str(row[1]) for row in entry.rows)]
    return {letter for text in said for groups in NAMED.findall(text) for letter in "".join(groups)}


@pytest.mark.parametrize("theme", THEMES)
@pytest.mark.parametrize("pack", PACKS, ids=lambda p: p.name)
def test_points_of_a_pack_have_their_letters(pack: Path, theme: str) -> None:
    sheet = build_pack(load_pack(pack), read_want([], theme=theme, alone=False))
    spoken = 0
    for entry in sheet.entries:
        if entry.figure:
            shown = set(LETTERS.findall(entry.figure))
            assert named(entry) <= shown, (entry.prompt, named(entry), shown)
            spoken += bool(named(entry))
    assert spoken >= {"twelve-proofs": 3, "proving-lines-parallel": 1}.get(pack.name, 0)


@pytest.mark.parametrize("family", FAMILIES)
def test_points_of_an_exercise_have_their_letters(family: str) -> None:
    asks = [f"{family}:{level}:4" for level in range(1, LEVELS[family] + 1)]
    for entry in build(read_want(asks, seed=3)).entries:
        assert named(entry) <= set(LETTERS.findall(entry.figure)), entry.prompt
