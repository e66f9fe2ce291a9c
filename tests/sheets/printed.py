"""Every figure that a sheet can hold, as it is laid out: all packs, all practice families, each theme of paper."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from importlib import import_module
from typing import Any

from app.figure.layout import Layout
from app.figure.marks import Marks, read_marks
from app.figure.parts import Figure
from app.lessons.load import load_pack
from app.practice.families import FAMILIES, LEVELS
from app.sheets.build import read_want
from app.sheets.entries import from_family
from app.sheets.packs import task_entries, task_seed
from app.sheets.paper import THEMES
from app.words.house import house
from tests.web.running import ROOT

Printed = tuple[str, Figure, Marks, Layout]


@contextmanager
def noted(where: list[str], found: list[Printed]) -> Iterator[None]:
    """While it lasts, each layout that is drawn is put down with where it comes from."""
    entries: Any = import_module("app.sheets.entries")
    real = entries.picture

    def picture(fig: Figure, marks: Mapping[str, Any] | None, *, laid: Layout, **more: Any) -> str:
        found.append((where[0], fig, read_marks(marks, fig), laid))
        return str(real(fig, marks, laid=laid, **more))

    entries.picture = picture
    try:
        yield
    finally:
        entries.picture = real


def printed(theme: str, seeds: int, *, packs: bool = True) -> list[Printed]:
    found: list[Printed] = []
    where = [""]
    paper, words = THEMES[theme], house("us")
    with noted(where, found):
        if packs:
            want = read_want(["make-parallel:1:1"], theme=theme)
            for folder in sorted((ROOT / "lesson_packs").iterdir()):
                for task in load_pack(folder).tasks():
                    where[0] = f"{folder.name} {task.id}"
                    task_entries(task, task_seed(task, want.seed, want.version), paper, words)
        for family in FAMILIES:
            for level in range(1, LEVELS[family] + 1):
                for seed in range(seeds):
                    where[0] = f"{family} {level} {seed}"
                    from_family(family, level, seed, paper, words)
    assert found, "no figure was drawn"
    return found
