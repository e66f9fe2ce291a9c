"""A sheet is read in the words of its house: whoever makes one, or writes it out, has its house's names."""

from __future__ import annotations

from collections.abc import Callable
from functools import wraps
from typing import Any, TypeVar, cast

from app.words import reader_of, reading

__all__ = ["in_its_words"]

Made = TypeVar("Made", bound=Callable[..., Any])


def in_its_words(make: Made) -> Made:
    """Sentences inside are for readers of the house that the sheet, or what is wanted of it, names."""

    @wraps(make)
    def said(*args: object, **named: object) -> object:
        houses = (getattr(one, "house", None) for one in (*args, *named.values()))
        house = next((one for one in houses if one is not None), "us")
        with reading(reader_of(house if isinstance(house, str) else house.key)):
            return make(*args, **named)

    return cast(Made, said)
