"""What the core says, as a reader of the house at hand reads it: tests that hold sentences look at these.

`judge = in_english(judge)` is the same function with its messages said. The house is that of the context that is
handed in ("us" where there is none), the language that of the house.
"""

from __future__ import annotations

import copy
from collections.abc import Callable
from dataclasses import fields, is_dataclass
from functools import wraps
from types import ModuleType
from typing import Any, TypeVar, cast

from app.words import Message, Reader, render
from app.words.house import HOUSES, House

__all__ = ["in_english", "read"]

T = TypeVar("T")


def read(value: Any, house: str = "us") -> Any:
    """The same data with every message in it said."""
    if isinstance(value, Message):
        return render(value, Reader(HOUSES[house].lang.split("-")[0], house))
    if isinstance(value, dict):
        return {key: read(one, house) for key, one in value.items()}
    if isinstance(value, list):
        return [read(one, house) for one in value]
    if type(value) is tuple:
        return tuple(read(one, house) for one in value)
    if is_dataclass(value) and not isinstance(value, type):
        said = copy.copy(value)
        for one in fields(value):
            object.__setattr__(said, one.name, read(getattr(value, one.name), house))
        return said
    return in_english(value) if isinstance(value, ModuleType) else value


class _Said:
    """A module whose functions' answers are said."""

    def __init__(self, inside: ModuleType) -> None:
        self.inside = inside

    def __getattr__(self, name: str) -> Any:
        found = getattr(self.inside, name)
        return in_english(found) if callable(found) and not isinstance(found, type) else found


def in_english(made: T) -> T:
    """A function, or a module of functions, with what it answers said."""
    if isinstance(made, ModuleType):
        return cast(T, _Said(made))
    function = cast(Callable[..., Any], made)

    @wraps(function)
    def said(*args: Any, **named: Any) -> Any:
        houses = [one if isinstance(one, House) else getattr(one, "house", None) for one in (*args, *named.values())]
        house = next((one.key for one in houses if isinstance(one, House)), "us")
        return read(function(*args, **named), house)

    return cast(T, said)
