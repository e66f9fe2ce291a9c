"""The Desk's pages for printing; for the teacher only, keys and all.

GET /desk/sheets, /desk/sheets/<pack>    sheets/form.html   families, pack or None, parts that print, left_out, packs
GET /desk/sheets/page?…                  the sheet as a page; with key=1 its key
    family: n-<family>=count, level-<family>=level · pack, part (repeated) · version, seed, paper, theme,
    purpose, title, house
GET /desk/sheets/set/<misconception>     the ready set for a group that made this mistake
GET /desk/sheets/strip/<pack>/<task>     a construction: its steps, and a page to do it on (paper)
"""

from __future__ import annotations

from collections.abc import Sequence
from html import escape
from typing import Any
from urllib.parse import urlencode

from flask import Blueprint, Response, render_template, request, url_for

from app.figure.faults import Fault
from app.lessons.schema import Pack
from app.practice.families import FAMILIES, LEVELS, title
from app.practice.misconceptions import note
from app.practice.reteach import ready
from app.sheets.build import VERSIONS, WRITE, Sheet, Want, build, read_want
from app.sheets.html import Frame, sheet_html
from app.sheets.keys import key_html
from app.sheets.packs import build_pack, left_out, printable
from app.sheets.paper import PAPERS, THEMES
from app.sheets.sets import set_for
from app.sheets.strips import strip_html
from app.web.errors import Refused
from app.web.readers import houses
from app.web.server import server
from app.web.signed_in import need_desk
from app.words import render
from app.words import tell as say

__all__ = ["sheets"]

sheets = Blueprint("sheets", __name__, url_prefix="/desk/sheets")


@sheets.get("/")
def form() -> str:
    need_desk()
    return _form(None)


@sheets.get("/<pack>")
def form_of_pack(pack: str) -> str:
    need_desk()
    found = server().shelf.pack(pack)
    if found is None:
        raise Refused(404, "web.not_found_pack")
    return _form(found)


def _form(pack: Pack | None, notice: str = "") -> str:
    """The form; `notice` says why the last choice gave no sheet."""
    families = [{"id": f, "title": title(f), "levels": LEVELS[f]} for f in FAMILIES]
    families.append({"id": WRITE, "title": say("sheets.family_write-a-proof"), "levels": 3})
    return render_template(
        "sheets/form.html", families=families, pack=pack, notice=notice,
        parts=[p for p in pack.parts if printable(p)] if pack else [], left_out=left_out(pack.parts) if pack else (),
        versions=VERSIONS, papers=["", *PAPERS],
        themes=list(THEMES), houses=houses(),
        packs=[(f.name, f.pack.title) for f in server().shelf.found() if f.pack],
    )  # fmt: skip


@sheets.get("/page")
def page() -> Response | tuple[str, int]:
    need_desk()
    try:
        key = request.args.get("key") == "1"
        return _show(_sheet(), [_sheet(version) for version in VERSIONS] if key else (), key=key)
    except Fault as fault:
        # Nothing of the chosen parts prints: said over the form, where others can be chosen.
        found = server().shelf.pack(request.args["pack"]) if fault.where == "parts" else None
        if found is None:
            raise
        return _form(found, fault.sentence()), 422


@sheets.get("/strip/<pack>/<task>")
def strip(pack: str, task: str) -> Response:
    """A construction on paper: its steps, and a page to do it on."""
    need_desk()
    found = server().shelf.pack(pack)
    one = next((t for t in found.tasks() if t.id == task and t.kind == "construct"), None) if found else None
    if one is None:
        raise Refused(404, "web.not_found_pack")
    paper = request.args.get("paper", "letter")
    read_want([], paper=paper, alone=False)
    back = _link(say("sheets.back"), f"/desk/sheets/{pack}", {})
    bar = f'<nav class="bar" aria-label="{escape(say("sheets.form_title"))}">{_print_button()}{back}</nav>'
    return _page(strip_html(one.data, one.title, paper, _frame(paper, bar)))


@sheets.get("/set/<misconception>")
def ready_set(misconception: str) -> Response:
    """About ten minutes of items for those who made one mistake (J-10)."""
    need_desk()
    if not ready(misconception):
        raise Refused(404, "web.not_found")
    sheet = set_for(misconception, **_options())
    return _show(sheet, key=request.args.get("key") == "1", lead=render(note(misconception)))


def _options() -> dict[str, Any]:
    names = ("seed", "version", "paper", "theme", "purpose", "house")
    return {name: request.args[name] for name in names if request.args.get(name)}


def _sheet(version: str = "") -> Sheet:
    """The sheet that is asked for, in this version or in the one that is asked for."""
    options = _options() | ({"version": version} if version else {})
    asks = []
    for family in (*FAMILIES, WRITE):
        count = request.args.get(f"n-{family}", "").strip()
        if count and count != "0":
            asks.append(f"{family}:{request.args.get(f'level-{family}', '1')}:{count}")
    heading = request.args.get("title", "")[:80]
    if not request.args.get("pack"):
        return build(read_want(asks, title=heading, **options))
    found = server().shelf.pack(request.args["pack"])
    if found is None:
        raise Refused(404, "web.not_found_pack")
    want: Want = read_want(asks, title=heading, alone=False, **options)
    return build_pack(found, want, request.args.getlist("part"))


def _show(sheet: Sheet, versions: Sequence[Sheet] = (), *, key: bool, lead: str = "") -> Response:
    """The sheet, or its key with what all `versions` are marked by."""
    frame = _frame(sheet.paper, _bar(sheet, key, lead))
    return _page(key_html(sheet, frame, versions) if key else sheet_html(sheet, frame))


def _frame(paper: str, bar: str) -> Frame:
    def static(name: str) -> str:
        return url_for("static", filename=name)

    return Frame(
        links=(static("css/sheet.css"), static(f"css/sheet-{paper}.css")),
        scripts=(static("practice/sheet.js"),),
        bar=bar,
        meta=f'<link rel="icon" href="{escape(static("door/mark.svg"))}" type="image/svg+xml">',
    )


def _page(html: str) -> Response:
    answer = Response(html, mimetype="text/html")
    answer.headers["Cache-Control"] = "no-store"
    return answer


def _print_button() -> str:
    return f'<button type="button" class="bar-action" data-do="print">{escape(say("sheets.print"))}</button>'


def _bar(sheet: Sheet, key: bool, lead: str) -> str:
    """What can be done with the sheet on the screen; not printed."""
    links = [_link(say("sheets.back"), "/desk/sheets/" + (request.args.get("pack") or ""), {})]
    links.append(_link(say("sheets.to_sheet" if key else "sheets.to_key"), request.path,
                       {"key": None if key else "1"}))  # fmt: skip
    for version in VERSIONS:
        if version != sheet.version:
            links.append(_link(say("sheets.other_version", version=version), request.path, {"version": version}))
    figures = "" if key else _figures(sheet)
    said = [*([lead] if lead else []), *sheet.left_out]
    led = "".join(f'<p class="bar-lead no-print">{escape(words)}</p>' for words in said)
    inside = f"{_print_button()}{''.join(links)}{figures}{led}"
    return f'<nav class="bar" aria-label="{escape(say("sheets.form_title"))}">{inside}</nav>'


def _link(words: str, path: str, change: dict[str, str | None]) -> str:
    args = [(name, value) for name, value in request.args.items(multi=True) if name not in change]
    args += [(name, value) for name, value in change.items() if value is not None]
    query = urlencode(args)
    return f'<a href="{escape(path + ("?" + query if query else ""))}">{escape(words)}</a>'


def _figures(sheet: Sheet) -> str:
    numbers = [i + 1 for i, entry in enumerate(sheet.entries) if entry.figure]
    if not numbers:
        return ""
    options = "".join(f"<option>{n}</option>" for n in numbers)
    buttons = "".join(
        f'<button type="button" data-do="{kind}">{escape(say(f"sheets.form_{kind}"))}</button>'
        for kind in ("svg", "png")
    )
    return (
        f'<span class="bar-figure"><label for="figure">{escape(say("sheets.form_figure"))}</label>'
        f'<select id="figure">{options}</select>{buttons}</span>'
    )


@sheets.errorhandler(Fault)
def _fault(fault: Fault) -> tuple[str, int]:
    return render_template("errors/error.html", status=422, title=say("sheets.form_title"),
                           message=fault.sentence(), way="/desk/sheets/"), 422  # fmt: skip
