"""Which questions go on which page: by the height each takes as it is printed, so that no figure is ever cut.

The browser could break pages by itself, but then no page could say "2 of 3" in its own body, and only some browsers
print page numbers in the margin (I-2, I-3). Heights are in mm; the numbers are those of `static/css/sheet.css`, and a
browser test measures every question and every page against them.
"""

from __future__ import annotations

import re
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import ceil
from typing import Literal

from app.sheets.entries import Blank, Entry, figure_size
from app.sheets.measure import MM_A_POINT, lines, set_lines, width
from app.sheets.paper import AREA, Theme
from app.words import tell as say

__all__ = ["HEADING", "Part", "Place", "height_of", "into_pages"]

# "tabled" has its rows beside the figure, "left" and "right" stand side by side, "stacked" has the words under the
# figure; where one page can't hold all of a question, "figure" is only that, "words" all but the figure and the rows,
# "drawn" the figure with its rows.
Part = Literal["all", "tabled", "left", "right", "stacked", "figure", "words", "drawn", "rows", "top"]
Place = tuple[int, Part]  # which question, and whether the whole of it

WIDE = AREA[0] - 0.1
GAP = 4.0  # between the columns of a question
NUMBER = 7.0
HALF = (WIDE - 8) / 2  # two questions side by side
HEADING = 11.5  # of a part, with the white around it
SAVED = 4.0  # what two side by side must save to be worth it


def _line(theme: Theme) -> float:
    return theme.type * MM_A_POINT * theme.leading


def _gap(theme: Theme) -> float:
    """Under a question."""
    return 4.5 if theme.type < 15 else 8.0


def _number(theme: Theme) -> float:
    return NUMBER if theme.type < 15 else 11.0


def room(theme: Theme, first: bool, title: str = "", lead: str = "") -> float:
    """What a page has between head and foot."""
    foot = 2 + (9.5 if theme.type < 15 else 15 if theme.under else 14) * MM_A_POINT * theme.leading
    if first:
        size = 24.0 if theme.under else 17.0
        who = (10.5 if theme.type < 15 else 15.0) * MM_A_POINT * theme.leading + 5
        head = who + lines(title or "–", WIDE - 45, size) * size * MM_A_POINT * 1.15 + 8.6
        head += 1 + lines(lead, WIDE, theme.type) * _line(theme) if lead else 0
    else:
        head = (10 if theme.type < 15 else 14) * MM_A_POINT * theme.leading + 1.5 + 4 + 1.5
    return AREA[1] - 0.5 - head - foot


def height_of(entry: Entry, theme: Theme, part: Part = "all") -> float:
    """The height that a question needs, or a part of one, with the white under it."""
    number, line = _number(theme), _line(theme)
    half = part in ("left", "right")
    under = theme.alone or theme.under or half or part == "stacked"
    if theme.alone:
        across = WIDE if entry.figure else WIDE - number - GAP
    elif half:
        across = HALF - number - 2
    elif entry.figure and not under:
        across = WIDE - number - figure_size(entry, theme)[0] - 2 * GAP
    else:
        across = WIDE - number - GAP
    words = _words(entry, theme, across)
    figure = _figure(entry, theme) if entry.figure else 0.0
    rows = 0.0
    if entry.rows:
        rows = _rows(entry, theme, across if part == "tabled" else WIDE if theme.alone else WIDE - number - GAP)
    gap = _gap(theme)
    over = line if theme.alone else 0.0  # there the number has a line of its own
    if part == "tabled":
        return max(figure, words + rows) + gap
    if part == "figure":
        return over + figure + gap
    if part == "words":
        return over + words + gap
    if part == "rows":
        return over + rows + gap
    if part == "drawn":
        return over + figure + rows + gap
    space = _space(entry)
    if under and figure:
        top = figure + (0 if theme.alone else 4.5 if theme.under else 2) + words
    else:
        top = max(figure, words, line)
    if part == "top":
        return over + top + gap
    return over + top + rows + space + gap


def _figure(entry: Entry, theme: Theme) -> float:
    return figure_size(entry, theme)[1] + (6 if theme.alone else 0)


def _words(entry: Entry, theme: Theme, across: float) -> float:
    line = _line(theme)
    high = sum(set_lines(runs, across, theme.type) for runs in said(entry)) * line
    high += entry.room if entry.room > 10 or not theme.under else min(entry.room, 2)
    used: float | None = None
    for blank in entry.blanks:
        needs = short_of(blank, theme)
        if needs is None:
            needs = max(BESIDE, width(blank.label, theme.type) + 32) if blank.middling else across
        if used is not None and used + 5 + needs <= across:
            used += 5 + needs  # it stands beside the one before it
            continue
        high += _blank(blank, across, theme)
        used = needs
    return high


BESIDE = 58.0  # what a theorem's name needs to be written


def said(entry: Entry) -> list[list[tuple[str, bool]]]:
    """The paragraphs of a question, each as runs of (text, bold): the question itself runs on after what is known."""
    *before, last = entry.prompt.split("\n")
    if last and not before and last[-1] not in ".?!:":
        last += "."
    runs = [[(text, False)] for text in before]
    if entry.note:
        last = f"{last} {entry.note}".strip()
    if entry.ask and before:
        return [*runs, *([[(last, False)]] if last else []), [(entry.ask, True)]]
    return [*runs, [run for run in ((last, False), (entry.ask, True)) if run[0]]]


def short_of(blank: Blank, theme: Theme) -> float | None:
    """The width of a blank for a number, which need not fill its line."""
    if blank.choices or not blank.brief:
        return None
    return width(blank.label, theme.type) + 2 + 24 + (2 + width(blank.unit, theme.type) if blank.unit else 0)


def _space(entry: Entry) -> float:
    """The height of a drawing to construct in, with its frame."""
    found = re.search(r' height="([\d.]+)mm"', entry.space)
    return float(found[1]) + 2.6 if found else 0.0


def _rows(entry: Entry, theme: Theme, across: float) -> float:
    line = _line(theme)
    head = 0.88 * theme.type
    box = max(15.0, width(say("sheets.place"), head) + 4.5) if entry.ordering else 0.0
    number = max(11.0, width(say("sheets.row"), head) + 4.5)
    statement = 0.45 * across - 4.4
    reason = across - 0.45 * across - number - box - 4.4
    high = 3 + 0.88 * line + (4.5 if theme.type >= 15 else 1.6)
    for _, s, r in entry.rows:
        tall = max(lines(s or "", statement, theme.type), lines(r or "", reason, theme.type)) * line
        written = theme.row if s is None or r is None else theme.row - 1 if entry.ordering else theme.row - 2
        high += max(written, tall + 0.5)
    return high


def _blank(blank: Blank, across: float, theme: Theme) -> float:
    """The height of a blank, with the white over it."""
    line = _line(theme)
    if short_of(blank, theme) is not None:
        return 2 + line
    if not blank.choices:
        label = width(blank.label, theme.type) + 2
        # The rule moves to a line of its own where the label leaves it less than 3 cm.
        if label + 30 > across:
            return 2 + lines(blank.label, across, theme.type) * line + theme.type * MM_A_POINT + 0.4
        return 2 + line + (0.4 if not blank.label else 0)
    label = 0.92 * line * lines(blank.label, across, theme.type * 0.92)
    if tall(blank.choices):
        return 2 + label + sum(lines(c, across - 5.2, theme.type) for c in blank.choices) * line
    used, count = 0.0, 1
    for choice in blank.choices:
        wide = width(choice, theme.type) + (6.6 if theme.under else 5.1)
        if used and used + 5 + wide > across:
            count, used = count + 1, wide
        else:
            used += wide + (5 if used else 0)
    return 2 + label + count * line + (count - 1) * 0.4


def tall(choices: Sequence[str]) -> bool:
    """Choices longer than a few words stand one under the other."""
    return any(len(c) > 22 for c in choices)


def into_pages(entries: Sequence[Entry], theme: Theme, *, title: str = "", lead: str = "") -> list[list[Place]]:
    """The questions page by page, on as few pages as their order allows.

    A figure to be touched stands alone; its words follow if they have room.
    """
    parted = len({entry.part for entry in entries}) > 1
    rooms = room(theme, True, title, lead), room(theme, False)
    # The best way to have set the first i questions: fewest pages, then least of the last page used. Less used is never
    # worse for what follows, so no other way need be kept.
    best: list[_Way | None] = [_Way(1, 0.0, ())] + [None] * len(entries)
    for i, entry in enumerate(entries):
        here = best[i]
        assert here is not None
        begins = parted and (i == 0 or entry.part != entries[i - 1].part)
        heading = HEADING if begins else 0.0
        for places in _choices(entries, i, theme):
            way = here
            for n, block in enumerate(places):
                high = max(height_of(entries[k], theme, part) for k, part in block)
                alone = theme.alone and block[0][1] not in ("words", "rows")
                fresh = entry.fresh and begins and n == 0
                way = way.with_block(block, high, heading if n == 0 else 0.0, rooms, apart=alone or fresh)
            after = places[-1][-1][0] + 1
            known = best[after]
            if known is None or (way.pages, way.used) < (known.pages, known.used):
                best[after] = way
    found = best[-1]
    assert found is not None
    return [list(page) for page in found.listed()]


@dataclass(frozen=True, slots=True)
class _Way:
    """Questions set so far: how many pages, how much of the last is used, and the blocks (page, places) in order."""

    pages: int
    used: float
    blocks: tuple[tuple[int, tuple[Place, ...]], ...]

    def with_block(
        self, block: Sequence[Place], high: float, heading: float, rooms: tuple[float, float], *, apart: bool
    ) -> _Way:
        most = rooms[0] if self.pages == 1 else rooms[1]
        if self.used and (apart or self.used + heading + high > most):
            pages, used = self.pages + 1, heading + high
        else:
            pages, used = self.pages, self.used + heading + high
        return _Way(pages, used, (*self.blocks, (pages, tuple(block))))

    def listed(self) -> list[list[Place]]:
        found: list[list[Place]] = [[] for _ in range(self.pages)]
        for page, places in self.blocks:
            found[page - 1] += places
        return found


def _choices(entries: Sequence[Entry], i: int, theme: Theme) -> Iterator[list[list[Place]]]:
    """Ways to set the next question: alone, in parts that never tear what belongs together, or beside the one after."""
    yield [[(i, part)] for part in _parts(entries[i], theme)]
    if i + 1 < len(entries) and _side_by_side(entries[i], entries[i + 1], theme):
        yield [[(i, "left"), (i + 1, "right")]]


def _side_by_side(one: Entry, other: Entry, theme: Theme) -> bool:
    if theme.under or theme.alone or one.part != other.part:
        return False
    if any(e.rows or e.space or not e.figure for e in (one, other)):
        return False
    together = max(height_of(one, theme, "left"), height_of(other, theme, "right"))
    return together + SAVED <= height_of(one, theme) + height_of(other, theme)


def _parts(entry: Entry, theme: Theme) -> tuple[Part, ...]:
    """A question whole if a page can hold it, else in two parts."""
    whole, most = height_of(entry, theme), room(theme, False)
    if theme.alone and whole > room(theme, True, "–", say("sheets.lead_tactile")):
        return ("figure", "words", "rows") if entry.rows else ("figure", "words")
    if entry.rows and entry.figure and not theme.under and not theme.alone:
        # Where little is to be written the rows may be narrow.
        written = sum(cell is None for row in entry.rows for cell in row)
        if written <= 1 and height_of(entry, theme, "tabled") + SAVED <= whole:
            return ("tabled",)
    if whole <= most:
        return ("all",)
    if entry.rows and entry.figure and height_of(entry, theme, "drawn") <= most:
        # The rows speak of the figure's angles: the two stay on one page.
        return ("words", "drawn")
    if entry.rows:
        return ("top", "rows")
    return ("figure", "words") if theme.under else ("stacked",)


def columns(heights: Sequence[float], first: float, later: float) -> list[list[list[int]]]:
    """Blocks of these heights set in two columns a page, in order."""
    pages: list[list[list[int]]] = [[[]]]
    left, most = first, first
    for i, high in enumerate(heights):
        if pages[-1][-1] and high > left:
            if len(pages[-1]) == 2:
                pages.append([[]])
                most = later
            else:
                pages[-1].append([])
            left = most
        pages[-1][-1].append(i)
        left -= high
    return pages


def sheets_of_paper(pages: int) -> int:
    """How many sheets so many pages take, printed on both sides."""
    return ceil(pages / 2)
