"""Reading what was sent: a JSON object or a refusal in one sentence, never an exception of the parser."""

from __future__ import annotations

import json
import re
from collections.abc import Iterator, Mapping
from dataclasses import MISSING, fields
from functools import cache
from typing import TYPE_CHECKING, NoReturn, TypeVar, get_args, get_type_hints

from flask import request
from werkzeug.exceptions import RequestEntityTooLarge

from app.web.bodies import Fields, Said
from app.web.errors import Refused

if TYPE_CHECKING:
    from _typeshed import DataclassInstance
    from pydantic import BaseModel

    Shape = TypeVar("Shape", bound=DataclassInstance)

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


def read_json() -> Fields:
    """The body as a JSON object; `Refused` (422) for anything else."""
    return parse_json(raw_body())


def parse_json(data: bytes) -> Fields:
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


def _no_constant(name: str) -> NoReturn:
    raise ValueError(name)


def _read_float(text: str) -> float:
    number = float(text)
    if number - number != 0:  # infinite
        raise ValueError("not finite")
    return number


# Unlike the parser's default: NaN, Infinity and numbers beyond a float are no JSON of ours.
_HALF = re.compile(r"\\u[dD][89a-fA-F]")
_READER = json.JSONDecoder(parse_constant=_no_constant, parse_float=_read_float)


def check_tree(value: object, depth: int = 0) -> None:
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


def read_body(shape: type[Shape], sent: Mapping[str, object] | None = None) -> Shape:
    """The body (or what was `sent` by a form) as one of the classes of bodies.py; `Refused` (422) says in one sentence
    what the first field that can't be used has to be, and names it.
    """
    # Measured: 48 ms and 8 MB (pydantic), which the first pages needn't wait for.
    from pydantic import ValidationError

    given = read_json() if sent is None else sent
    try:
        model = _model(shape).model_validate({name: value for name, value in given.items() if value is not None})
    except ValidationError as error:
        place = str(error.errors(include_url=False)[0]["loc"][0])
        said = said_of(shape, place)
        raise Refused(422, said.code, place, **said.fields) from None
    return shape(**{one.name: getattr(model, one.name) for one in fields(shape)})


@cache
def _model(shape: type[DataclassInstance]) -> type[BaseModel]:
    """The model that validates the class: no value is taken for one of another type."""
    # Measured: 48 ms and 8 MB (pydantic), which the first pages needn't wait for.
    from pydantic import ConfigDict, Field, create_model

    hints = get_type_hints(shape, include_extras=True)
    wanted = {}
    for one in fields(shape):
        made = one.default_factory
        default = Field(default_factory=made) if made is not MISSING else ... if one.default is MISSING else one.default
        wanted[one.name] = (hints[one.name], default)
    config = ConfigDict(strict=True, extra="ignore")
    return create_model(shape.__name__, __config__=config, **wanted)  # type: ignore[call-overload, no-any-return]


def said_of(shape: type[DataclassInstance], name: str) -> Said:
    """The sentence for a field of a body that can't be used."""
    return next(_saids(get_type_hints(shape, include_extras=True)[name]))


def _saids(hint: object) -> Iterator[Said]:
    for inner in (*getattr(hint, "__metadata__", ()), *get_args(hint)):
        if isinstance(inner, Said):
            yield inner
        else:
            yield from _saids(inner)


def form_text(key: str, most: int = 200) -> str:
    """A field of a posted form, "" when it is missing; cut to what any field may hold."""
    return request.form.get(key, "")[:most].replace("\x00", "")
