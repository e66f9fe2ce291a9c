"""A sheet and its key as whole HTML documents: plain markup, the figures inside, one style sheet.

Pages are made here, each with its own head and foot in the body, so that every browser prints them alike.
A `Frame` says how the document stands: alone with its style inside, or in a page with links to styles.
"""

from __future__ import annotations

from app.sheets.build import Sheet
from app.sheets.entries import Blank, Entry
from app.sheets.frame import Frame, document, escape, who_line
from app.sheets.pages import Part, into_pages, key_pages
from app.sheets.reading import in_its_words
from app.words import tell as say

__all__ = ["Frame", "key_html", "sheet_html"]


@in_its_words
def sheet_html(sheet: Sheet, frame: Frame) -> str:
    """The sheet that students get: nothing of the key is in it (T-10)."""
    pages = into_pages(sheet.entries, sheet.theme, lead=bool(sheet.lead) or sheet.theme.alone)
    body = []
    for n, page in enumerate(pages):
        questions = "".join(_question(i + 1, sheet.entries[i], part, under=sheet.theme.under) for i, part in page)
        head = _head(sheet) if n == 0 else _later(sheet, sheet.title)
        body.append(_page(sheet, n, len(pages), head, f'<ol class="questions">{questions}</ol>'))
    return _document(sheet, sheet.title, "".join(body), frame)


@in_its_words
def key_html(sheet: Sheet, frame: Frame) -> str:
    """The key, a document of its own: answers, working, what else earns the mark."""
    pages = key_pages(sheet.entries, sheet.theme)
    title = say("sheets.key_title", title=sheet.title)
    first = (
        f'<header class="page-head"><h1>{escape(title)}</h1>{_version(sheet)}'
        f'<p class="tag">{escape(say("sheets.not_for_students", code=sheet.code))}</p></header>'
    )
    body = []
    for n, page in enumerate(pages):
        answers = "".join(_answer(i + 1, sheet.entries[i]) for i in page)
        head = first if n == 0 else _later(sheet, title)
        body.append(_page(sheet, n, len(pages), head, f'<ol class="key-list">{answers}</ol>'))
    return _document(sheet, title, "".join(body), frame)


def _document(sheet: Sheet, title: str, body: str, frame: Frame) -> str:
    whole = f"{title} · {say('sheets.version', version=sheet.version)}"
    classes = f"sheet theme-{sheet.theme.name} paper-{sheet.paper}"
    return document(whole, body, frame, classes=classes, lang=sheet.house.lang)


def _page(sheet: Sheet, n: int, of: int, head: str, inside: str) -> str:
    number = escape(say("sheets.page", n=n + 1, of=of))
    mine = escape(say("sheets.identity", code=sheet.code, seed=sheet.seed, version=sheet.version))
    foot = f'<footer class="page-foot"><span>{number}</span><span class="identity">{mine}</span></footer>'
    return f'<section class="page" aria-label="{number}">{head}{inside}{foot}</section>\n'


def _version(sheet: Sheet) -> str:
    return f'<p class="version">{escape(say("sheets.version", version=sheet.version))}</p>'


def _head(sheet: Sheet) -> str:
    lead = say("sheets.lead_tactile") if sheet.theme.name == "tactile" else sheet.lead
    led = f'<p class="lead">{escape(lead)}</p>' if lead else ""
    title = f"<h1>{escape(sheet.title)}</h1>{_version(sheet)}"
    return f'<header class="page-head">{who_line(sheet.house)}{title}{led}</header>'


def _later(sheet: Sheet, title: str) -> str:
    return f'<header class="page-head later"><p>{escape(title)}</p>{_version(sheet)}</header>'


def _question(number: int, entry: Entry, part: Part, *, under: bool = False) -> str:
    drawn = entry.figure and part not in ("words", "rows")
    figure = f'<div class="q-figure">{entry.figure}</div>' if drawn else ""
    plain = "" if entry.figure else " plain"
    if part == "stacked" or (under and entry.figure):
        plain = " stacked"
    head = f'<li class="question{plain}"><p class="q-number">{number}</p>{figure}'
    if part == "figure":
        return f"{head}</li>"
    if part == "rows":
        return f"{head}{_rows(entry)}</li>"
    prompt = f'<p class="prompt">{escape(entry.prompt)}</p>' if entry.prompt else ""
    ask = f'<p class="ask">{escape(entry.ask)}</p>' if entry.ask else ""
    blanks = "".join(_blank(b) for b in entry.blanks)
    room = f'<div class="room room-{entry.room}"></div>' if entry.room else ""
    tiny = f'<p class="tiny q-mark">{escape(entry.mark)}</p>' if entry.mark else ""
    space = f'<div class="space">{entry.space}</div>' if entry.space else ""
    words = f'<div class="q-words">{prompt}{ask}{room}{blanks}</div>'
    rows = "" if part == "top" else _rows(entry)
    return f"{head}{words}{rows}{space}{tiny}</li>"


def _blank(blank: Blank) -> str:
    label = escape(blank.label)
    if not blank.choices:
        unit = f"<span>{escape(blank.unit)}</span>" if blank.unit else ""
        long = "" if blank.label.endswith("=") and len(blank.label) < 12 else " long"
        return f'<p class="fill{long}"><span>{label}</span><span class="fill-rule"></span>{unit}</p>'
    tall = " tall" if any(len(c) > 22 for c in blank.choices) else ""
    tick = '<span class="tick" aria-hidden="true"></span>'
    choices = "".join(f"<li>{tick}{escape(c)}</li>" for c in blank.choices)
    return f'<div class="fill"><p class="fill-label">{label}</p><ul class="ticks{tall}">{choices}</ul></div>'


def _rows(entry: Entry) -> str:
    if not entry.rows:
        return ""
    place = f'<th scope="col" class="box">{escape(say("sheets.place"))}</th>' if entry.ordering else ""
    heads = "".join(f'<th scope="col">{escape(say(f"sheets.{word}"))}</th>' for word in ("statement", "reason"))
    number = f'<th scope="col" class="n">{escape(say("sheets.row"))}</th>'
    box = '<td class="box"><span></span></td>' if entry.ordering else ""
    cells = [
        f'<tr>{box}<th scope="row" class="n">{escape(label)}</th>'
        f'<td class="statement">{escape(statement or "")}</td><td>{escape(reason or "")}</td></tr>'
        for label, statement, reason in entry.rows
    ]
    head = f"<thead><tr>{place}{number}{heads}</tr></thead>"
    return f'<table class="rows">{head}<tbody>{"".join(cells)}</tbody></table>'


def _answer(number: int, entry: Entry) -> str:
    working = "".join(f"<li>{escape(line)}</li>" for line in entry.key.working)
    steps = f'<ol class="working">{working}</ol>' if working else ""
    also = ""
    if entry.key.also:
        also = f'<p class="also">{escape(say("sheets.also", also="; ".join(entry.key.also)))}</p>'
    strip = ""
    if entry.key.steps:
        panels = "".join(
            f"<li>{step.svg}<p><b>{step.number or ''}</b> {escape(step.title)}</p></li>" for step in entry.key.steps
        )
        strip = f'<ol class="strip">{panels}</ol>'
    mark = f'<p class="tiny q-mark">{escape(entry.mark)}</p>' if entry.mark else ""
    said = f'{mark}<p class="answer-line">{escape(entry.key.answer)}</p>{strip}{steps}{also}'
    return f'<li class="answer"><p class="q-number">{number}</p><div>{said}</div></li>'
