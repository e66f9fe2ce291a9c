"""Every sentence the program says, in one place: `say("figure.too_many_lines", most=12)`.

A catalogue is a plain dict in `app/words/<language>/<area>.py`, named WORDS, keyed by the part after
the area's dot. Core modules carry a code and fields; the sentence is made here, last.
"""

from __future__ import annotations

from functools import cache
from importlib import import_module

__all__ = ["catalogue", "say"]


@cache
def catalogue(area: str, language: str = "en") -> dict[str, str]:
    """The sentences of one area ("figure", "reasoning", …)."""
    words: dict[str, str] = import_module(f"app.words.{language}.{area}").WORDS
    return words


def say(key: str, /, language: str = "en", **fields: object) -> str:
    """The sentence for `area.key` with its fields filled in. A missing key or field is a KeyError:
    it is a mistake of ours, and tests find it.
    """
    area, _, rest = key.partition(".")
    return catalogue(area, language)[rest].format_map(fields)
