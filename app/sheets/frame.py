"""How a printed document stands: alone with its style inside, or in a page with links to styles."""

from __future__ import annotations

from dataclasses import dataclass
from html import escape as plain_escape

from app.sheets.measure import bound
from app.words import tell as say
from app.words.house import House

__all__ = ["Frame", "document", "escape", "who_line"]


@dataclass(frozen=True, slots=True)
class Frame:
    """`style`: the text of the style sheet to stand inside; else `links` to style sheets. `bar` is markup
    above the sheet that is not printed; `scripts` are module addresses; `meta` markup for the head.
    """

    style: str = ""
    links: tuple[str, ...] = ()
    scripts: tuple[str, ...] = ()
    bar: str = ""
    meta: str = ""


def escape(text: str) -> str:
    """Text for a page, with true minus signs and no break inside a short formula."""
    return plain_escape(bound(text))


def who_line(house: House) -> str:
    """Name, date and period, each with a rule to write on."""
    words = ("name", "class", "date") if house.key == "uk" else ("name", "date", "period")
    blanks = "".join(
        f'<span class="who-one who-{w}"><span>{escape(say(f"sheets.{w}"))}</span><span class="fill-rule"></span></span>'
        for w in words
    )
    return f'<p class="who">{blanks}</p>'


def document(title: str, body: str, frame: Frame, *, classes: str, lang: str = "en-US") -> str:
    """A whole HTML document round `body`."""
    style = f"<style>{frame.style}</style>" if frame.style else ""
    links = "".join(f'<link rel="stylesheet" href="{escape(link)}">' for link in frame.links)
    scripts = "".join(f'<script type="module" src="{escape(src)}"></script>' for src in frame.scripts)
    return "\n".join(
        (
            "<!doctype html>",
            f'<html lang="{escape(lang)}">',
            '<head><meta charset="utf-8">',
            '<meta name="viewport" content="width=device-width, initial-scale=1">',
            f"{frame.meta}<title>{escape(title)}</title>",
            f"{links}{style}</head>",
            f'<body class="{classes}">',
            f'{frame.bar}<main id="main">',
            f"{body}</main>",
            f"{scripts}</body></html>\n",
        )
    )
