"""In which language, and with which names, an answer is given.

The language is the student's own where one was chosen (a cookie), else that of the period's house, else the setting
LANGUAGE. The calculators know no student and no period: there the browser's `Accept-Language` decides, then LANGUAGE.
The names are the house's of the period, or of the question.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from flask import Flask, request

from app.web.server import server
from app.words import LANGUAGES, Reader, language_of, turn_to
from app.words.house import HOUSES

__all__ = ["COOKIE", "asked_in", "read_in", "register"]

COOKIE = "language"  # the student's own choice; no more than the name of a language


def chosen() -> str | None:
    """The language that was chosen in this browser."""
    found = request.cookies.get(COOKIE, "")
    return found if found in LANGUAGES else None


def read_in(period: Mapping[str, Any] | None, *, desk: bool = False) -> None:
    """From here on this request is read in the period's words; a teacher's Desk keeps its own language."""
    house = str((period or {}).get("house") or "us")
    own = HOUSES[house].lang.split("-")[0] if period and not desk else server().language
    turn_to(Reader(chosen() or language_of(own), house))


def asked_in(accept: str, otherwise: str, body: object = None) -> Reader:
    """The reader of a calculator's answer: by the `Accept-Language` header, and the house that the body names."""
    wanted = ((part.split(";")[0].strip()) for part in accept[:200].split(","))
    language = next((language_of(tag) for tag in wanted if tag.split("-")[0].casefold() in LANGUAGES), None)
    house = body.get("house") if isinstance(body, dict) else None
    named = house if isinstance(house, str) and house in HOUSES else "us"
    return Reader(language or language_of(otherwise), named)


def register(app: Flask) -> None:
    @app.before_request
    def _reader() -> None:
        if request.path.startswith("/api/"):
            turn_to(asked_in(request.headers.get("Accept-Language", ""), server().language))
        else:
            read_in(None)
