"""A sheet as a whole HTML document: plain markup, the figures inside, one style sheet. Its key is made in `keys`.

Pages are made here, each with its own head and foot in the body, so that every browser prints them alike.
A `Frame` says how the document stands: alone with its style inside, or in a page with links to styles.
"""

from __future__ import annotations

from app.sheets.build import Sheet
from app.sheets.entries import Blank, Entry
from app.sheets.frame import Frame, document, escape, who_line
from app.sheets.pages import Part, into_pages, said, tall
from app.sheets.reading import in_its_words
from app.words import in_words, render
from app.words import tell as say

__all__ = ["Frame", "paged", "rows_html", "sheet_html"]


@in_its_words
def sheet_html(sheet: Sheet, frame: Frame) -> str:
    """The sheet that students get: nothing of the key is in it (T-10)."""
    lead = say("sheets.lead_tactile") if sheet.theme.alone else sheet.lead
    pages = into_pages(sheet.entries, sheet.theme, title=sheet.title, lead=lead)
    parted = len({entry.part for entry in sheet.entries}) > 1
    seen: str | None = None
    bodies = []
    for page in pages:
        inside: list[str] = []
        lists: list[tuple[int, list[str]]] = []
        for i, part in page:
            entry = sheet.entries[i]
            if parted and entry.part != seen:
                inside += _lists(lists)
                lists = []
                inside.append(f'<h2 class="part">{escape(entry.part)}</h2>')
            seen = entry.part
            if not lists:
                lists.append((i + 1, []))
            lists[-1][1].append(_question(i + 1, entry, part, under=sheet.theme.under, level=3 if parted else 2))
        bodies.append("".join([*inside, *_lists(lists)]))
    return _document(sheet, sheet.title, paged(sheet, bodies, _head(sheet, lead)), frame)


def _lists(lists: list[tuple[int, list[str]]]) -> list[str]:
    return [f'<ol class="questions" start="{start}">{"".join(found)}</ol>' for start, found in lists]


def _document(sheet: Sheet, title: str, body: str, frame: Frame) -> str:
    whole = f"{title} · {say('sheets.version', version=sheet.version)}"
    classes = f"sheet theme-{sheet.theme.name} paper-{sheet.paper}"
    return document(whole, body, frame, classes=classes, lang=sheet.house.lang)


def paged(sheet: Sheet, bodies: list[str], head: str, title: str = "", *, named: bool = True) -> str:
    """The pages, each with its head and foot; `named`: with a line for the student's name on every one."""
    later = _later(sheet, title or sheet.title, named=named)
    mine = escape(say("sheets.identity", code=sheet.code, seed=sheet.seed, version=sheet.version))
    found = []
    for n, inside in enumerate(bodies):
        number = escape(say("sheets.page", n=n + 1, of=len(bodies)))
        foot = f'<footer class="page-foot"><span>{number}</span><span class="identity">{mine}</span></footer>'
        found.append(
            f'<section class="page" aria-label="{number}">{head if n == 0 else later}'
            f'<div class="page-body">{inside}</div>{foot}</section>\n'
        )
    return "".join(found)


def _version(sheet: Sheet) -> str:
    return f'<p class="version">{escape(say("sheets.version", version=sheet.version))}</p>'


def _head(sheet: Sheet, lead: str) -> str:
    led = f'<p class="lead">{escape(lead)}</p>' if lead else ""
    title = f"<h1>{escape(sheet.title)}</h1>{_version(sheet)}"
    return f'<header class="page-head">{who_line(sheet.house)}{title}{led}</header>'


def _later(sheet: Sheet, title: str, *, named: bool) -> str:
    rule = '<span class="fill-rule"></span>'
    name = f'<p class="who-later"><span>{escape(say("sheets.name"))}</span>{rule}</p>' if named else "<p></p>"
    return f'<header class="page-head later"><p>{escape(title)}</p>{name}{_version(sheet)}</header>'


def _question(number: int, entry: Entry, part: Part, *, under: bool, level: int) -> str:
    """One question, or the part of it that this page holds."""
    classes = "question"
    drawn = entry.figure and part not in ("words", "rows")
    if part == "tabled":
        classes += " tabled"
    elif part in ("left", "right"):
        classes += f" stacked half {part}"
    elif part == "stacked" or (under and drawn):
        classes += " stacked"
    elif not drawn:
        classes += " plain"
    pieces = [f'<li class="{classes}"><h{level} class="q-number">{number}</h{level}>']
    if drawn:
        pieces.append(f'<div class="q-figure">{entry.figure}</div>')
    if part in ("all", "left", "right", "stacked", "words", "top", "tabled"):
        pieces.append(_words(entry))
    if entry.rows and part in ("all", "rows", "drawn", "tabled"):
        pieces.append(rows_html(entry))
    if entry.space:
        pieces.append(f'<div class="space">{entry.space}</div>')
    return "".join([*pieces, "</li>"])


def _words(entry: Entry) -> str:
    paragraphs = []
    for runs in said(entry):
        inside = " ".join(f'<b class="ask">{escape(text)}</b>' if bold else escape(text) for text, bold in runs)
        paragraphs.append(f'<p class="prompt">{inside}</p>')
    space = f'<div class="room room-{entry.room}"></div>' if entry.room else ""
    blanks = "".join(_blank(b) for b in entry.blanks)
    return f'<div class="q-words">{"".join(paragraphs)}{space}<div class="fills">{blanks}</div></div>'


def _blank(blank: Blank) -> str:
    label = escape(blank.label)
    if not blank.choices:
        unit = f"<span>{escape(blank.unit)}</span>" if blank.unit else ""
        kind = "brief" if blank.brief else "middling" if blank.middling else "long"
        return f'<p class="fill {kind}"><span>{label}</span><span class="fill-rule"></span>{unit}</p>'
    high = " tall" if tall(blank.choices) else ""
    tick = '<span class="tick" aria-hidden="true"></span>'
    choices = "".join(f"<li>{tick}<span>{escape(c)}</span></li>" for c in blank.choices)
    return f'<div class="fill"><p class="fill-label">{label}</p><ul class="ticks{high}">{choices}</ul></div>'


def rows_html(entry: Entry) -> str:
    """The rows of a proof: with rules to write on where something is missing, closer where all is printed."""
    place = f'<th scope="col" class="box">{escape(say("sheets.place"))}</th>' if entry.ordering else ""
    heads = "".join(f'<th scope="col">{escape(say(f"sheets.{word}"))}</th>' for word in ("statement", "reason"))
    number = f'<th scope="col" class="n">{escape(say("sheets.row"))}</th>'
    box = '<td class="box"><span></span></td>' if entry.ordering else ""
    cells = []
    for label, statement, reason in entry.rows:
        whole = "ordered" if entry.ordering else "printed"
        printed = "" if statement is None or reason is None else f' class="{whole}"'
        cells.append(
            f'<tr{printed}>{box}<th scope="row" class="n">{escape(label)}</th>'
            f'<td class="statement">{escape(render(in_words(statement or "")))}</td>'
            f"<td>{escape(reason or '')}</td></tr>"
        )
    head = f"<thead><tr>{place}{number}{heads}</tr></thead>"
    return f'<table class="rows">{head}<tbody>{"".join(cells)}</tbody></table>'
