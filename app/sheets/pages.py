"""Which questions go on which page: by the height each is known to need, so that no figure is ever cut.

The browser could break pages by itself, but then no page could say "2 of 3" in its own body, and only some
browsers print page numbers in the margin (I-2, I-3). Heights are in mm, rather more than less; a
browser test measures every page.
"""

from __future__ import annotations

import re
from collections.abc import Sequence
from math import ceil
from typing import Literal

from app.sheets.entries import Blank, Entry, figure_height
from app.sheets.paper import AREA, Theme

__all__ = ["Part", "Place", "height_of", "into_pages", "key_pages"]

# "stacked" has the words under the figure, "top" is all but the proof rows, "words" all but the figure.
Part = Literal["all", "stacked", "figure", "words", "top", "rows"]
Place = tuple[int, Part]  # which question, and whether the whole of it

MM_A_POINT = 25.4 / 72
# Words under a figure are reckoned so amply that a page holds them up to here; beyond, they get a page of their own.
LOOSE = 1.18
STRIP = 41.0  # a row of three steps in a key


def _lines(text: str, across: int) -> int:
    """How many lines a text takes; words don't break, so a line is rarely full."""
    return ceil(len(text) * 1.06 / across) if text else 0


def _line(theme: Theme) -> float:
    return theme.type * MM_A_POINT * 1.4


def _head(theme: Theme, first: bool, lead: bool = False) -> float:
    """A leading sentence takes a line, on a tactile sheet two."""
    if not first:
        return 8 + _line(theme)
    return theme.head + (_line(theme) * (2 if theme.alone else 1) if lead else 0)


def _foot(theme: Theme) -> float:
    return 3 + _line(theme)


def _gap(theme: Theme) -> float:
    """Between one question and the next."""
    return 5.5 if theme.type < 15 else 8.8


def height_of(entry: Entry, theme: Theme, part: Part = "all") -> float:
    """The height that a question needs, or a part of one."""
    line = _line(theme)
    under = theme.alone or theme.under or part == "stacked"
    across = theme.beside if entry.figure and not under else theme.wide
    words = (_lines(entry.prompt, across) + _lines(entry.ask, across)) * line + 1.5 + entry.room
    words += sum(_blank(b, across) * line + 2.2 for b in entry.blanks)
    figure = figure_height(entry, theme) + (6 if theme.alone else 0) if entry.figure else 0.0
    if part == "figure":
        return figure + line + _gap(theme)
    if part == "rows":
        return _rows(entry, theme) + line + _gap(theme)
    top = words + line if part == "words" else figure + words + line if under else max(figure, words)
    rows = 0.0 if part == "top" else _rows(entry, theme)
    return top + rows + _space(entry) + _gap(theme)


def _space(entry: Entry) -> float:
    """The height of a drawing to construct in, with its frame."""
    found = re.search(r' height="([\d.]+)mm"', entry.space)
    return float(found[1]) + 3 if found else 0.0


def _rows(entry: Entry, theme: Theme) -> float:
    if not entry.rows:
        return 0.0
    line = _line(theme)
    rows = 5 + 1.5 * line
    # The box for a place takes room from the words.
    cell = theme.cell - (4 if entry.ordering else 0)
    for _, s, r in entry.rows:
        tall = max(_lines(s or "", cell), _lines(r or "", cell))
        rows += max(theme.row, tall * line + 1)
    return rows


def _blank(blank: Blank, across: int) -> float:
    """The lines that a blank takes."""
    if not blank.choices:
        return max(1.0, float(_lines(blank.label, across - 12)))
    if _tall(blank.choices):
        return 1 + sum(_lines(c, across - 3) for c in blank.choices) * 1.02
    return 1 + ceil(sum(len(c) + 6 for c in blank.choices) / across) * 1.1


def _tall(choices: Sequence[str]) -> bool:
    """Choices longer than a few words stand one under the other."""
    return any(len(c) > 22 for c in choices)


def into_pages(entries: Sequence[Entry], theme: Theme, *, lead: bool = False) -> list[list[Place]]:
    """The questions page by page. A figure to be touched stands alone; its words follow if they have room."""
    pages: list[list[Place]] = [[]]
    left = _room(theme, True, lead)
    for i, entry in enumerate(entries):
        for part, high in _parts(entry, theme, lead):
            if pages[-1] and (high > left or (theme.alone and part not in ("words", "rows"))):
                pages.append([])
                left = _room(theme, False)
            pages[-1].append((i, part))
            left -= high
    return pages


def _parts(entry: Entry, theme: Theme, lead: bool) -> list[tuple[Part, float]]:
    """A question whole if a page can hold it, else in two parts."""
    whole = height_of(entry, theme)
    names: tuple[Part, ...] = ("all",)
    touched = theme.alone and whole > _room(theme, True, lead)
    if touched or (theme.under and not entry.rows and whole > LOOSE * _room(theme, False)):
        names = ("figure", "words")
    elif whole > _room(theme, False):
        names = ("top", "rows") if entry.rows else ("stacked",)
    return [(name, height_of(entry, theme, name)) for name in names]


def _room(theme: Theme, first: bool, lead: bool = False) -> float:
    return AREA[1] - _head(theme, first, lead) - _foot(theme)


def key_pages(entries: Sequence[Entry], theme: Theme) -> list[list[int]]:
    """The answers, page by page."""
    pages: list[list[int]] = [[]]
    left = _room(theme, True)
    for i, entry in enumerate(entries):
        high = _key_height(entry, theme)
        if pages[-1] and high > left:
            pages.append([])
            left = _room(theme, False)
        pages[-1].append(i)
        left -= high
    return pages


def _key_height(entry: Entry, theme: Theme) -> float:
    across = theme.wide - 12
    said = [*entry.key.working]
    # The small mark of where it comes from stands beside the answer; on large print it is longer.
    answer = max(1, _lines(entry.key.answer, round(across * (0.55 if theme.under else 0.8))))
    also = _lines("Also right: " + "; ".join(entry.key.also), across) if entry.key.also else 0
    return (
        (answer + sum(max(1, _lines(text, across)) for text in said) + also) * _line(theme)
        + 6
        + STRIP * ceil(len(entry.key.steps) / 3)
    )
