"""In which language, and with which names, an answer is given.

For a page and its JSON, the first of these that is known: the language chosen in this browser (a cookie); that of the
period's house, for a Seat and the Board; the setting LANGUAGE; the browser's own `Accept-Language`; English. The
calculators know no choice and no period: there the `Accept-Language` header decides, which our pages send in their own
language, then LANGUAGE. The names are the house's of the period, or of the question, where it speaks the language.

    POST /language, /desk/language   language, back → 303: the language for this browser, until it is closed
"""

from __future__ import annotations

from flask import Flask, Response, redirect, request

from app.store.rows import Period
from app.web.body import form_text
from app.web.errors import Refused
from app.web.security import cookie, set_cookie
from app.web.server import server
from app.words import LANGUAGES, Reader, language_of, reader, tell, turn_to
from app.words.house import HOUSES
from app.words.rendering import has

__all__ = ["COOKIE", "asked_in", "houses", "in_own_words", "others", "read_in", "register"]

COOKIE = "language"  # the choice made in this browser; no more than the name of a language


def chosen() -> str | None:
    """The language that was chosen in this browser."""
    found = cookie(COOKIE)
    return found if found in LANGUAGES else None


def wanted(accept: str) -> str | None:
    """The first of our languages that an `Accept-Language` header names; its order is the browser's preference."""
    tags = (part.split(";")[0].strip() for part in accept[:200].split(","))
    return next((language_of(tag) for tag in tags if tag.split("-")[0].casefold() in LANGUAGES), None)


def read_in(period: Period | None, *, desk: bool = False) -> None:
    """From here on this request is read in the period's words; a teacher's Desk keeps its own language."""
    house = period["house"] if period else "us"
    of_period = HOUSES[house].lang.split("-")[0] if period and not desk else None
    language = chosen() or of_period or server().language or wanted(request.headers.get("Accept-Language", ""))
    turn_to(Reader(language_of(language or "en"), house))


def in_own_words(period: Period) -> Period:
    """The period as this reader has it: with names in the reader's language, whatever the class's are."""
    return {**period, "house": reader().names.key}


def asked_in(accept: str, otherwise: str, body: object = None) -> Reader:
    """The reader of a calculator's answer: by the `Accept-Language` header, and the house that the body names."""
    house = body.get("house") if isinstance(body, dict) else None
    named = house if isinstance(house, str) and house in HOUSES else "us"
    return Reader(wanted(accept) or language_of(otherwise), named)


def others() -> dict[str, str]:
    """The languages that a page may be switched to, each by its own name for itself."""
    return {code: name for code, name in LANGUAGES.items() if code != reader().language}


def houses() -> list[tuple[str, str]]:
    """The houses that a teacher may choose: id, and what the reader's language calls it, or else its own title."""
    return [(key, tell(f"sheets.house_{key}") if has(f"sheets.house_{key}") else HOUSES[key].title) for key in HOUSES]


def choose() -> Response:
    """Take the language for this browser, and go back to the page that it was chosen on."""
    language, back = form_text("language", 8), form_text("back", 300)
    if language not in LANGUAGES:
        raise Refused(422, "web.language_need", "language", known=", ".join(LANGUAGES))
    # A place of this server, and no other's: "//elsewhere" and "/\\elsewhere" lead away.
    inside = back.startswith("/") and back[1:2] not in ("/", "\\") and back.isprintable()
    answer = redirect(back if inside else "/", 303)
    assert isinstance(answer, Response)
    set_cookie(answer, COOKIE, language, age=None)
    return answer


def register(app: Flask) -> None:
    # At the Desk as well: a page's token holds for its own part of the addresses.
    app.add_url_rule("/language", "language", choose, methods=["POST"])
    app.add_url_rule("/desk/language", "desk_language", choose, methods=["POST"])

    @app.context_processor
    def _switch() -> dict[str, object]:
        # Where a page comes back to when its language is switched: itself, unless it answered a form.
        return {"languages": others(), "address": request.full_path.rstrip("?") if request.method == "GET" else "/"}

    @app.before_request
    def _reader() -> None:
        if request.path.startswith("/api/"):
            turn_to(asked_in(request.headers.get("Accept-Language", ""), server().language))
        else:
            read_in(None)
