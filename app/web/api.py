"""The calculators: the core asked by stateless JSON, with no class and no sign-in.

POST /api/figure/pairs|words|read|picture     app.figure.api
POST /api/reasoning/follows|prove|check       app.reasoning.api      GET /api/reasoning/theorems
POST /api/construction/check                  app.construction.api
GET  /api/practice, /api/practice/<family>    app.practice.api       POST /api/practice/<family>/check
"""

from __future__ import annotations

import json
from typing import Any

from flask import Blueprint, Flask, Response, request

from app.figure.faults import Fault
from app.web.body import parse_json, raw_body
from app.web.core import core
from app.web.errors import Refused, error_json
from app.web.heavy import Busy, is_heavy
from app.web.readers import asked_in
from app.web.security import address
from app.web.server import server
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


def _ask_beside(layer: str, name: str, body: object) -> Any:
    """The answer to a heavy question, worked out beside this process; 429 or 503 where it can't be had now."""
    try:
        return server().heavy.ask(address(), layer, name, body)
    except Busy as busy:
        if busy.late:
            raise Refused(503, "web.api_late", after=5) from None
        raise Refused(429, "web.api_busy", after=2) from None
    except RecursionError:
        raise Refused(422, "web.too_deep", "body") from None


def _ask(layer: str, name: str, *args: Any) -> Any:
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


def _answered(layer: str, name: str, *args: Any, kind: str = JSON) -> Response:
    """The core's answer to the body, from among those given lately if it is there."""
    data = raw_body()
    key = (request.path, data, speaking())
    kept = server().answers.get(key)
    if kept is None:
        body = parse_json(data)
        beside = server().limited and is_heavy(layer, body, len(data))
        made = _ask_beside(layer, name, body) if beside else _ask(layer, name, *args, body)
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
