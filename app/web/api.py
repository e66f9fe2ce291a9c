"""The calculators: the core asked by stateless JSON, with no class and no sign-in.

POST /api/figure/pairs|words|read|picture     app.figure.api
POST /api/reasoning/follows|prove|check       app.reasoning.api
GET  /api/reasoning/theorems
POST /api/construction/check                  app.construction.api
GET  /api/asked/<id>                          the answer to a question that took long (heavy.py)
GET  /api/practice, /api/practice/<family>    app.practice.api
POST /api/practice/<family>/check
"""

from __future__ import annotations

import json
from wsgiref.types import WSGIEnvironment

from flask import Blueprint, Flask, Response, redirect, request

from app.addresses import share
from app.figure.faults import Fault
from app.web.body import parse_json, raw_body
from app.web.core import core
from app.web.errors import Refused, error_json
from app.web.heavy import Asker, Busy, Question, is_heavy, opened
from app.web.readers import asked_in
from app.web.security import MONTH, address, mark_of
from app.web.server import Server, server
from app.web.tickets import no_help_with_ticket
from app.words import plain, reading, speaking

api = Blueprint("api", __name__, url_prefix="/api")

MOST_SEED = 2**63 - 1
JSON, SVG = "application/json", "image/svg+xml; charset=utf-8"


def json_answer(data: object) -> Response:
    return Response(dump(data), mimetype="application/json")


def dump(data: object) -> str:
    """JSON text; messages as sentences for whoever reads just now."""
    return json.dumps(data, ensure_ascii=False, separators=(",", ":"), default=plain)


def asker_of(environ: WSGIEnvironment, of: Server) -> Asker:
    """Whose turn a heavy question takes: this browser's, at this address."""
    mark = mark_of(of, environ)
    at = share(environ.get("REMOTE_ADDR") or "?")
    if mark is None:
        return Asker(at)
    return Asker(at, mark.id, MONTH if mark.teacher else mark.age)


def _ask_beside(layer: str, name: str, body: object, key: tuple[str, bytes, str], kind: str) -> Response:
    """The answer to a heavy question, worked out beside this process; 429 or 503 where it can't be had now."""
    asker, reader = asker_of(request.environ, server()), asked_in(speaking(), server().language, body)
    try:
        question = server().heavy.ask(asker, layer, name, body, key=key, kind=kind, reader=reader)
    except Busy as busy:
        raise _no_answer(busy) from None
    return _from_beside(question, 1)


def _from_beside(question: Question, times: int) -> Response:
    """The answer where it is there within a moment; else 303 to where it will be. Who doesn't come for it has gone."""
    try:
        there = server().heavy.stay(question)
    except Busy as busy:
        raise _no_answer(busy) from None
    if not there:
        answer = redirect(f"/api/asked/{question.id}?times={times}", 303)
        assert isinstance(answer, Response)
        return answer
    try:
        made = opened(question.answer)
    except RecursionError:
        raise Refused(422, "web.too_deep", "body") from None
    with reading(question.reader):
        kept = (made if isinstance(made, str) else dump(made)).encode(), question.kind
    server().answers.put(question.key, kept)
    return Response(kept[0], content_type=kept[1])


def _no_answer(busy: Busy) -> Refused:
    if busy.why == "late":
        return Refused(503, "web.api_late", after=5)
    return Refused(409, "web.api_newer") if busy.why == "newer" else Refused(429, "web.api_busy", after=2)


def _ask(layer: str, name: str, *args: object) -> object:
    """The core's answer; 429 when this address has too many requests under way."""
    calls = server().calls if server().limited else None
    key = address()
    if calls is not None and not calls.enter(key):
        raise Refused(429, "web.api_busy", after=1)
    try:
        return core(layer, name)(*args)
    except RecursionError:
        raise Refused(422, "web.too_deep", "body") from None
    finally:
        if calls is not None:
            calls.leave(key)


def _answered(layer: str, name: str, *args: object, kind: str = JSON) -> Response:
    """The core's answer to the body, from among those given lately if it is there."""
    data = raw_body()
    key = (request.path, data, speaking())
    kept = server().answers.get(key)
    if kept is None:
        body = parse_json(data)
        if server().limited and is_heavy(layer, body, len(data)):
            return _ask_beside(layer, name, body, key, kind)
        made = _ask(layer, name, *args, body)
        with reading(asked_in(speaking(), server().language, body)):
            kept = ((made if isinstance(made, str) else dump(made)).encode(), kind)
        server().answers.put(key, kept)
    return Response(kept[0], content_type=kept[1])


@api.before_request
def _ticket_first() -> None:
    no_help_with_ticket()


@api.errorhandler(Fault)
def _fault(error: Fault) -> Response:
    return error_json(422, error.sentence(), error.where)


@api.post("/figure/<any(pairs, words, read):what>")
def figure(what: str) -> Response:
    return _answered("figure", what)


@api.post("/figure/picture")
def picture() -> Response:
    return _answered("figure", "picture", kind=SVG)


@api.post("/reasoning/<any(follows, prove, check):what>")
def reasoning(what: str) -> Response:
    return _answered("reasoning", what)


@api.get("/asked/<question_id>")
def asked(question_id: str) -> Response:
    """Where the answer to a heavy question will be; each look says that somebody still waits for it."""
    question = server().heavy.find(question_id)
    if question is None:
        raise Refused(404, "web.status_404")
    return _from_beside(question, 1 + _whole_number("times", 0, 1000))


@api.get("/reasoning/theorems")
def theorems() -> Response:
    return json_answer(_ask("reasoning", "theorems"))


@api.post("/construction/check")
def construction() -> Response:
    return _answered("construction", "check")


@api.get("/practice")
def families() -> Response:
    return json_answer(_ask("practice", "families"))


def _whole_number(name: str, default: int, most: int) -> int:
    text = request.args.get(name, str(default)).strip()
    digits = text.removeprefix("-")
    if not (digits.isascii() and digits.isdigit() and len(digits) < 20 and abs(int(text)) <= most):
        raise Refused(422, "web.need_count", name)
    return int(text)


@api.get("/practice/<family>")
def item(family: str) -> Response:
    return json_answer(
        _ask("practice", "item", family, _whole_number("seed", 0, MOST_SEED), _whole_number("level", 1, 99))
    )


@api.post("/practice/<family>/check")
def practice_check(family: str) -> Response:
    return _answered("practice", "check", family)


def register(app: Flask) -> None:
    app.register_blueprint(api)
