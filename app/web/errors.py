"""Refusals and errors: one JSON shape, one calm page, one sentence each.

{"error": {"message": "…", "where": "figure.lines.l.direction"}}
"""

from __future__ import annotations

import logging

from flask import Flask, Response, jsonify, render_template, request
from werkzeug.exceptions import HTTPException

from app.figure.faults import Fault
from app.store.faults import StoreFull
from app.words import tell as say

log = logging.getLogger("eight_angles")

KNOWN = {400, 401, 403, 404, 405, 408, 409, 410, 413, 414, 415, 422, 429, 431, 500, 503}


class Refused(Exception):
    """A request that is answered with a status, a sentence and a place. `after`: seconds to wait (429,
    503).
    """

    def __init__(self, status: int, code: str, where: str = "", *, after: int | None = None, **fields: object) -> None:
        super().__init__(code)
        self.status, self.code, self.where, self.after, self.fields = status, code, where, after, fields

    def sentence(self) -> str:
        return say(self.code, **self.fields)


def error_json(status: int, message: str, where: str = "", after: int | None = None) -> Response:
    """The one shape of a failure."""
    answer = jsonify({"error": {"message": message, "where": where}})
    answer.status_code = status
    if after is not None:
        answer.headers["Retry-After"] = str(after)
    return answer


def wants_page() -> bool:
    """True when a person looks at the answer: a page was asked for, or a plain form was sent."""
    if request.path.startswith("/api/"):
        return False
    accept = request.headers.get("Accept", "")
    return "text/html" in accept and "application/json" not in accept


def answer(status: int, message: str, where: str = "", *, after: int | None = None) -> Response:
    """A failure as whoever asked can use it."""
    if not wants_page():
        return error_json(status, message, where, after)
    page = Response(
        render_template("errors/error.html", status=status, title=None, message=message, way=None),
        status=status,
    )
    if after is not None:
        page.headers["Retry-After"] = str(after)
    return page


def register(app: Flask) -> None:
    """Every way a request can fail, in one place."""

    @app.errorhandler(Refused)
    def _refused(error: Refused) -> Response:
        return answer(error.status, error.sentence(), error.where, after=error.after)

    @app.errorhandler(Fault)
    def _fault(error: Fault) -> Response:
        return answer(422, error.sentence(), error.where)

    @app.errorhandler(StoreFull)
    def _full(_error: StoreFull) -> Response:
        # Ours, and the machine's: pages ask again by themselves, and the Desk says what is the matter.
        app.extensions["eight_angles"].tell("disk")
        log.error("the disk is full")
        return answer(503, say("web.disk_full"), after=15)

    @app.errorhandler(HTTPException)
    def _http(error: HTTPException) -> Response | HTTPException:
        status = error.code or 500
        if status < 400:
            return error  # a redirect of the router's own
        key = status if status in KNOWN else (400 if status < 500 else 500)
        made = answer(status, say(f"web.status_{key}"))
        if error.get_response().headers.get("Allow"):
            made.headers["Allow"] = error.get_response().headers["Allow"]
        return made

    if app.testing:
        return  # in tests a mistake of ours surfaces as itself

    @app.errorhandler(Exception)
    def _mistake(error: Exception) -> Response:
        # Ours, not the sender's. The log gets the trace and the route, never what was sent (V-20).
        log.error("mistake in %s %s", request.method, request.url_rule, exc_info=error)
        return answer(500, say("web.status_500"))
