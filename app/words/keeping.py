"""Messages as JSON data, as the store keeps them: {"$say": 1, "code": …, "fields": {…}}.

`$say` is the version of the form. What was kept as a finished sentence, before there were messages, is text and stays
text. A message whose code or fields the catalogues no longer have can't be said; `web.words_gone` stands for it.
"""

from __future__ import annotations

from fractions import Fraction
from string import Formatter
from typing import Any

from app.words.message import JOINS, Message
from app.words.rendering import catalogue, has

__all__ = ["pack", "unpack"]

MARK = "$say"
VERSION = 1
NAMES = ("theorem", "short", "term")


def pack(value: object) -> object:
    """JSON data with every message in it as data too; what is no message stays as it is."""
    if isinstance(value, Message):
        return {MARK: VERSION, "code": value.code, "fields": {key: pack(one) for key, one in value.fields.items()}}
    if isinstance(value, Fraction):
        return str(value)
    if isinstance(value, dict):
        # A mark that somebody else has put there is none of ours.
        return {f"${key}" if key == MARK else key: pack(one) for key, one in value.items()}
    if isinstance(value, (list, tuple)):
        return [pack(one) for one in value]
    return value


def unpack(value: Any) -> Any:
    """The data that `pack` made, with its messages."""
    if isinstance(value, dict):
        inside = {key: unpack(one) for key, one in value.items()}
        code, fields = inside.get("code"), inside.get("fields")
        if MARK not in inside or not isinstance(code, str) or not isinstance(fields, dict):
            return inside
        message = Message(code, {key: tuple(one) if isinstance(one, list) else one for key, one in fields.items()})
        return message if inside[MARK] == VERSION and _sayable(message) else Message("web.words_gone")
    if isinstance(value, list):
        return [unpack(one) for one in value]
    return value


def _sayable(message: Message) -> bool:
    area, _, key = message.code.partition(".")
    if area == "join":
        return key in JOINS and isinstance(message.fields.get("parts"), tuple)
    if area == "house":
        return key in NAMES and isinstance(message.fields.get("id"), str)
    if not has(message.code):
        return False
    wanted = {name for _, name, _, _ in Formatter().parse(catalogue(area)[key]) if name}
    return wanted <= message.fields.keys()
