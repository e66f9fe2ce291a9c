"""The key of a sheet: first what can be marked from in seconds, one line a question with all versions side by side;
then each answer with why it is so, what else is right, the common mistake and the points.

A key is always set in ordinary type, also that of a sheet in large print: it is the same key.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import replace

from app.sheets.build import Sheet
from app.sheets.entries import Entry, Key
from app.sheets.frame import Frame, document, escape
from app.sheets.html import paged
from app.sheets.measure import MM_A_POINT, lines
from app.sheets.pages import HALF, WIDE, columns, room
from app.sheets.paper import THEMES, Theme
from app.sheets.reading import in_its_words
from app.words import tell as say

__all__ = ["key_html"]

SIZE = 10.0  # points of the answers
LEADING = 1.32
LINE = SIZE * LEADING * MM_A_POINT
STRIP = 31.0  # a row of three steps, or a counterexample
QUICK = 1.9  # white in a row of the quick key


@in_its_words
def key_html(sheet: Sheet, frame: Frame, versions: Sequence[Sheet] = ()) -> str:
    """The key, a document of its own. `versions` are those that are marked together; this one alone if left out."""
    plain = THEMES["standard"]
    title = say("sheets.key_title", title=sheet.title)
    first = (
        f'<header class="page-head"><h1>{escape(title)}</h1>'
        f'<p class="version">{escape(say("sheets.version", version=sheet.version))}</p>'
        f'<p class="tag">{escape(say("sheets.not_for_students", code=sheet.code))}</p></header>'
    )
    bodies = [*_quick(list(versions) or [sheet], plain, title), *_full(sheet, plain, title)]
    whole = f"{title} · {say('sheets.version', version=sheet.version)}"
    body = paged(replace(sheet, theme=plain), bodies, first, title, named=False)
    return document(whole, body, frame, classes=f"sheet key theme-standard paper-{sheet.paper}", lang=sheet.house.lang)


def _quick(sheets: list[Sheet], theme: Theme, title: str) -> list[str]:
    """One line a question, a column a version; an answer that all versions share stands once across."""
    count = len(sheets)
    across = (WIDE - 10 - 16) / count - 4
    rows: list[tuple[float, str]] = []
    for i, entry in enumerate(sheets[0].entries):
        said = [sheet.entries[i].key.glance for sheet in sheets if i < len(sheet.entries)]
        same = len(set(said)) == 1
        cells = said[:1] if same else said
        wide = (across + 4) * count - 4 if same else across
        high = max(1, *(lines(text, wide, SIZE) for text in cells)) * LINE + QUICK
        span = f' colspan="{count}"' if same and count > 1 else ""
        inside = "".join(f"<td{span}>{escape(text)}</td>" for text in cells)
        rows.append((high, f'<tr class="quick"><th scope="row">{i + 1}</th>{inside}<td>{entry.key.points}</td></tr>'))
    total = sum(entry.key.points for entry in sheets[0].entries)
    last = f'<p class="total">{escape(say("sheets.points_all", count=total))}</p>'
    head = "".join(
        f'<th scope="col">{escape(say("sheets.version", version=s.version))} · {escape(s.code)}</th>' for s in sheets
    )
    caption = f"<caption>{escape(say('sheets.quick'))}</caption>"
    columns_head = (
        f'<thead><tr><th scope="col">{escape(say("sheets.number"))}</th>{head}'
        f'<th scope="col">{escape(say("sheets.points"))}</th></tr></thead>'
    )
    over = 3 * LINE + 6
    tag = say("sheets.not_for_students", code=sheets[0].code)
    pages: list[list[str]] = [[]]
    left = room(theme, True, title, tag) - over
    for high, row in rows:
        if pages[-1] and high > left:
            pages.append([])
            left = room(theme, False) - over
        pages[-1].append(row)
        left -= high
    over_rows = f'<table class="quick-key">{caption}{columns_head}'
    tables = [f"{over_rows}<tbody>{''.join(page)}</tbody></table>" for page in pages]
    tables[-1] += last
    return tables


def _full(sheet: Sheet, theme: Theme, title: str) -> list[str]:
    heights = [_height(entry) for entry in sheet.entries]
    most = room(theme, False) - 1
    found = []
    for page in columns(heights, most, most):
        lists = "".join(
            f'<ol class="key-list" start="{column[0] + 1}">'
            f"{''.join(_answer(i + 1, sheet.entries[i]) for i in column)}</ol>"
            for column in page
            if column
        )
        found.append(f'<div class="columns">{lists}</div>')
    return found


def _answer(number: int, entry: Entry) -> str:
    key = entry.key
    pieces = [f'<p class="answer-line">{escape(key.answer)}</p>']
    if key.steps:
        panels = "".join(
            f"<li>{step.svg}<p><b>{step.number or ''}</b> {escape(step.title)}</p></li>" for step in key.steps
        )
        pieces.append(f'<ol class="strip">{panels}</ol>')
    if key.working:
        pieces.append(_list("working", key.working))
    pieces += [f'<p class="also">{escape(text)}</p>' for text in _beside(key)]
    for n, route in enumerate(key.routes, 1):
        pieces.append(f'<p class="route-name">{escape(say("sheets.route", n=n))}</p>{_list("working", route)}')
    pieces.append(f'<p class="tiny q-mark">{escape(_mark(entry))}</p>')
    return f'<li class="answer"><p class="q-number">{number}</p><div>{"".join(pieces)}</div></li>'


def _list(name: str, texts: Sequence[str]) -> str:
    return f'<ol class="{name}">{"".join(f"<li>{escape(text)}</li>" for text in texts)}</ol>'


def _beside(key: Key) -> list[str]:
    found = [say("sheets.also", also="; ".join(key.also))] if key.also else []
    return [*found, say("sheets.mistake", text=key.mistake)] if key.mistake else found


def _mark(entry: Entry) -> str:
    points = say("sheets.points_of", count=entry.key.points)
    return f"{points} · {entry.mark}" if entry.mark else points


def _height(entry: Entry) -> float:
    """What an answer takes in its column, in mm."""
    key, across = entry.key, HALF - 9
    said = [*key.working, *_beside(key), *(row for route in key.routes for row in route)]
    count = lines(key.answer, across, SIZE, bold=True) + sum(max(1, lines(text, across, SIZE)) for text in said)
    count += len(key.routes)
    strips = -(-len(key.steps) // 3) * STRIP if key.steps else 0.0
    return count * LINE + strips + 6.5 * LEADING * MM_A_POINT + 3.2
