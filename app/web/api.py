"""The calculators: the core asked by stateless JSON, with no class and no sign-in (contract.md).

POST /api/figure/pairs|words|read|picture     app.figure.api
POST /api/reasoning/follows|prove|check       app.reasoning.api      GET /api/reasoning/theorems
POST /api/construction/check                  app.construction.api
GET  /api/practice, /api/practice/<family>    app.practice.api       POST /api/practice/<family>/check
"""

from __future__ import annotations

import json
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from importlib import import_module
from typing import Any

from flask import Blueprint, Flask, Response, request

from app.figure.faults import Fault
from app.web.body import read_json
from app.web.errors import Refused, error_json
from app.web.security import address
from app.web.server import server

api = Blueprint("api", __name__, url_prefix="/api")

MOST_SEED = 2**63 - 1


def core(layer: str, name: str) -> Callable[..., Any]:
    """A function of the core by its address, imported when first asked for."""
    try:
        found: Callable[..., Any] = getattr(import_module(f"app.{layer}.api"), name)
    except (ModuleNotFoundError, AttributeError):
        raise Refused(404, "web.status_404") from None
    return found


def json_answer(data: object) -> Response:
    return Response(json.dumps(data, ensure_ascii=False, separators=(",", ":")), mimetype="application/json")


@contextmanager
def _place() -> Iterator[None]:
    """A place among the requests of this address; 429 when it has too many under way."""
    if not server().limited:
        yield
        return
    key = address()
    if not server().calls.enter(key):
        raise Refused(429, "web.api_busy", after=1)
    try:
        yield
    finally:
        server().calls.leave(key)


def _ask(layer: str, name: str, *args: Any) -> Any:
    with _place():
        try:
            return core(layer, name)(*args)
        except RecursionError:
            raise Refused(422, "web.too_deep", "body") from None


@api.errorhandler(Fault)
def _fault(error: Fault) -> Response:
    return error_json(422, error.sentence(), error.where)


@api.post("/figure/<any(pairs, words, read):what>")
def figure(what: str) -> Response:
    return json_answer(_ask("figure", what, read_json()))


@api.post("/figure/picture")
def picture() -> Response:
    return Response(_ask("figure", "picture", read_json()), mimetype="image/svg+xml")


@api.post("/reasoning/<any(follows, prove, check):what>")
def reasoning(what: str) -> Response:
    return json_answer(_ask("reasoning", what, read_json()))


@api.get("/reasoning/theorems")
def theorems() -> Response:
    return json_answer(_ask("reasoning", "theorems"))


@api.post("/construction/check")
def construction() -> Response:
    return json_answer(_ask("construction", "check", read_json()))


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
    return json_answer(_ask("practice", "check", family, read_json()))


def register(app: Flask) -> None:
    app.register_blueprint(api)
