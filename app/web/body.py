"""Reading what was sent: a JSON object or a refusal in one sentence, never an exception of the parser."""

from __future__ import annotations

import json
import re
from typing import Any

from flask import request
from werkzeug.exceptions import RequestEntityTooLarge

from app.web.errors import Refused

MOST = 65_536  # bytes of a body
DEEPEST = 40


def raw_body(most: int = MOST) -> bytes:
    """The body as bytes; 413 when it is longer than allowed, with or without a declared length."""
    if request.content_length is not None and request.content_length > most:
        raise RequestEntityTooLarge
    data = request.stream.read(most + 1) if request.content_length is None else request.get_data(cache=False)
    if len(data) > most:
        raise RequestEntityTooLarge
    return data


def read_json() -> dict[str, Any]:
    """The body as a JSON object; `Refused` (422) for anything else."""
    return parse_json(raw_body())


def parse_json(data: bytes) -> dict[str, Any]:
    """A JSON object from bytes; `Refused` (422) for anything else."""
    try:
        text = data.decode(json.detect_encoding(data))
        if text.startswith("\ufeff"):
            raise ValueError(text)
        found = _READER.decode(text)
    except (ValueError, RecursionError):
        raise Refused(422, "web.not_json", "body") from None
    if not isinstance(found, dict):
        raise Refused(422, "web.not_object", "body")
    # Only these can make what the walk looks for: half a character, or many brackets one in the other.
    if _HALF.search(text) or text.count("[") + text.count("{") > DEEPEST:
        check_tree(found)
    return found


def _no_constant(name: str) -> Any:
    raise ValueError(name)


def _read_float(text: str) -> float:
    number = float(text)
    if number - number != 0:  # infinite
        raise ValueError("not finite")
    return number


# Unlike the parser's default: NaN, Infinity and numbers beyond a float are no JSON of ours.
_HALF = re.compile(r"\\u[dD][89a-fA-F]")
_READER = json.JSONDecoder(parse_constant=_no_constant, parse_float=_read_float)


def check_tree(value: Any, depth: int = 0) -> None:
    """Refuse what no reader of ours expects: nesting beyond reason, and halves of characters."""
    if depth > DEEPEST:
        raise Refused(422, "web.too_deep", "body")
    if isinstance(value, str):
        _check_text(value)
    elif isinstance(value, dict):
        for key, inner in value.items():
            _check_text(key)
            check_tree(inner, depth + 1)
    elif isinstance(value, list):
        for inner in value:
            check_tree(inner, depth + 1)


def _check_text(text: str) -> None:
    try:
        text.encode("utf-8")
    except UnicodeEncodeError:
        raise Refused(422, "web.half_character", "body") from None


def text_of(body: dict[str, Any], key: str, most: int = 200) -> str:
    """A string field; 422 naming it when it is missing, another type or too long."""
    value = body.get(key)
    if not isinstance(value, str) or not value or len(value) > most:
        raise Refused(422, "web.need_text", key, most=most)
    return value


def flag_of(body: dict[str, Any], key: str) -> bool:
    """A true/false field; 422 naming it otherwise."""
    value = body.get(key)
    if not isinstance(value, bool):
        raise Refused(422, "web.need_flag", key)
    return value


def form_text(key: str, most: int = 200) -> str:
    """A field of a posted form, "" when it is missing; cut to what any field may hold."""
    return request.form.get(key, "")[:most].replace("\x00", "")
