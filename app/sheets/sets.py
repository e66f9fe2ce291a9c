"""The ready set for one mistake: exercises, or constructions, for about ten minutes (J-10)."""

from __future__ import annotations

from typing import Any

from app.practice.families import LEVELS, title
from app.practice.making import making_set
from app.practice.misconceptions import KNOWN
from app.sheets.build import Sheet, Want, build, read_want
from app.sheets.packs import construct_entries, with_caution
from app.sheets.paper import THEMES
from app.sheets.reading import in_its_words
from app.words import render
from app.words import tell as say
from app.words.house import house as house_of

__all__ = ["set_for"]


def set_for(mistake: str, **options: Any) -> Sheet:
    """The sheet for a mistake that has a set; `options` are those of `read_want`. Raises Fault for a wrong one."""
    if mistake in KNOWN:
        family, level = KNOWN[mistake].follow
        up = min(level + 1, LEVELS[family])
        return build(read_want([f"{family}:{level}:3", f"{family}:{up}:2"], title=render(title(family)), **options))
    want: Want = read_want([], title=say("sheets.title_making"), alone=False, **options)
    return _making(mistake, want)


@in_its_words
def _making(mistake: str, want: Want) -> Sheet:
    theme, house = THEMES[want.theme], house_of(want.house)
    entries = [
        entry
        for task in making_set(mistake, want.seed, want.version)
        for entry in construct_entries(task, want.seed, theme, house)
    ]
    told = tuple(with_caution(entries))
    return Sheet(want.title, want.version, want.seed, want.paper, theme, house, told, want.purpose)
