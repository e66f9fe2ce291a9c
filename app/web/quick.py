"""The calculators' short way: a question that has been answered, or can be, never meets the machinery of pages.

Sessions, cookies, page tokens, routing and templates are nothing to a calculator; they cost more than most of its
answers. Measured (median of 400, `/api/figure/pairs`): a fresh question 25 µs here against 89 through Flask, one that
was asked before 4 against 92. Whatever is not plainly an answer (another method, a browser that has a Seat, a fault, a
limit, a mistake of ours) takes the long way through Flask instead, which says what is the matter; so there is one place
that does.
"""

from __future__ import annotations

from collections.abc import Iterable
from io import BytesIO
from wsgiref.types import StartResponse, WSGIApplication, WSGIEnvironment

from flask import Flask

from app.web.api import JSON, SVG, asker_of, dump
from app.web.body import MOST, parse_json
from app.web.core import core
from app.web.heavy import KINDS, LIGHT_BODY, is_heavy
from app.web.readers import asked_in
from app.web.security import SEAT
from app.web.static import SMALL, VARY, encoding_for, squeeze
from app.words import reading, tell

# path → layer, name, kind of answer
PLACES = {
    **{f"/api/figure/{name}": ("figure", name, JSON) for name in ("pairs", "words", "read")},
    "/api/figure/picture": ("figure", "picture", SVG),
    **{f"/api/reasoning/{name}": ("reasoning", name, JSON) for name in ("follows", "prove", "check")},
    "/api/construction/check": ("construction", "check", JSON),
}


class Gate:
    """Before a body is read: a question that is heavy by its length alone, and for which there is no room.

    It costs no more than a look at its head. Nothing is parsed and nobody looked up for it.
    """

    def __init__(self, inner: WSGIApplication, app: Flask) -> None:
        self.inner, self.server = inner, app.extensions["eight_angles"]

    def __call__(self, environ: WSGIEnvironment, start: StartResponse, /) -> Iterable[bytes]:
        if self._refuses(environ):
            with reading(asked_in(environ.get("HTTP_ACCEPT_LANGUAGE", ""), self.server.language)):
                refusal = dump({"error": {"message": tell("web.api_busy"), "where": ""}}).encode()
            headers = [("Content-Type", JSON), ("Content-Length", str(len(refusal)))]
            start("429 Too Many Requests", [*headers, ("Retry-After", "2"), ("Cache-Control", "no-store")])
            return [refusal]
        return self.inner(environ, start)

    def _refuses(self, environ: WSGIEnvironment) -> bool:
        if environ["REQUEST_METHOD"] != "POST" or not self.server.limited:
            return False
        place = PLACES.get(environ.get("PATH_INFO", ""))
        length = environ.get("CONTENT_LENGTH") or ""
        if place is None or place[0] not in KINDS or not (length.isascii() and length.isdigit() and len(length) < 8):
            return False
        return int(length) > LIGHT_BODY and not self.server.heavy.has_room(asker_of(environ, self.server))


class Quick:
    """Around the application: answers what it can, hands on the rest."""

    def __init__(self, app: Flask) -> None:
        self.inner = app.wsgi_app
        self.server = app.extensions["eight_angles"]

    def __call__(self, environ: WSGIEnvironment, start: StartResponse, /) -> Iterable[bytes]:
        if environ["REQUEST_METHOD"] != "POST":
            return self.inner(environ, start)
        place = PLACES.get(environ.get("PATH_INFO", ""))
        length = environ.get("CONTENT_LENGTH") or ""
        fits = length.isascii() and length.isdigit() and len(length) < 6 and int(length) <= MOST
        if place is None or not fits or SEAT in environ.get("HTTP_COOKIE", ""):
            return self.inner(environ, start)
        data = environ["wsgi.input"].read(int(length))
        answer = self.answer(environ, data, place) if len(data) == int(length) else None
        if answer is None:
            environ["wsgi.input"] = BytesIO(data)
            return self.inner(environ, start)
        headers = [("Content-Type", answer[1])]
        body = answer[0]
        how = encoding_for(environ.get("HTTP_ACCEPT_ENCODING", "")) if len(body) > 2 * SMALL else ""
        if how:
            body = squeeze(body, how, hard=False)
            headers.append(("Content-Encoding", how))
        headers += [("Content-Length", str(len(body))), ("Vary", VARY), ("Cache-Control", "no-store")]
        start("200 OK", headers)
        return [body]

    def answer(self, environ: WSGIEnvironment, data: bytes, place: tuple[str, str, str]) -> tuple[bytes, str] | None:
        """The answer's bytes and kind; None where there is no plain answer."""
        server = self.server
        accept = environ.get("HTTP_ACCEPT_LANGUAGE", "")
        key = environ["PATH_INFO"], data, asked_in(accept, server.language).language
        known: tuple[bytes, str] | None = server.answers.get(key)
        if known is not None:
            return known
        calls = server.calls if server.limited else None
        address = environ.get("REMOTE_ADDR") or "?"
        if calls is not None and not calls.enter(address):
            return None
        layer, name, kind = place
        try:
            body = parse_json(data)
            if server.limited and is_heavy(layer, body, len(data)):
                return None
            with reading(asked_in(accept, server.language, body)):
                made = core(layer, name)(body)
                found = (made if isinstance(made, str) else dump(made)).encode(), kind
        except Exception:
            return None
        finally:
            if calls is not None:
                calls.leave(address)
        server.answers.put(key, found)
        return found
