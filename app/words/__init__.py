"""Every sentence the program says, in one place: `say("figure.too_many_lines", most=12)`.

A catalogue is a plain dict in `app/words/<language>/<area>.py`, named WORDS, keyed by the part after
the area's dot. Core modules carry a code and fields; the sentence is made here, last.

The language is that of whoever is being answered: `with speak("es"):` holds for everything said inside, in this
thread. Whatever keeps a finished sentence for later has to keep the language with it (`speaking()`).
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from functools import cache
from importlib import import_module
from string import Formatter
from typing import Any

__all__ = ["LANGUAGES", "catalogue", "language_of", "say", "speak", "speaking"]

# language → its own name for itself
LANGUAGES = {"en": "English", "es": "Español"}

_spoken: ContextVar[str] = ContextVar("spoken", default="en")


def speaking() -> str:
    """The language in which sentences are made just now."""
    return _spoken.get()


@contextmanager
def speak(language: str) -> Iterator[None]:
    """Say everything in this language until the end of the block."""
    before = _spoken.set(language_of(language))
    try:
        yield
    finally:
        _spoken.reset(before)


def language_of(tag: str) -> str:
    """The language of ours that a tag stands for ("es-MX" → "es"); English for one that isn't spoken here."""
    code = tag.replace("_", "-").split("-")[0].casefold()
    return code if code in LANGUAGES else "en"


@cache
def catalogue(area: str, language: str = "en") -> dict[str, str]:
    """The sentences of one area ("figure", "reasoning", …). What a language lacks is said in English."""
    english: dict[str, str] = import_module(f"app.words.en.{area}").WORDS
    if language == "en":
        return english
    try:
        own: dict[str, str] = import_module(f"app.words.{language}.{area}").WORDS
    except ModuleNotFoundError:
        return english
    return {**english, **own}


class _Grammar(Formatter):
    """Fields with what their sentence asks of them: `{n:row|rows}` is the word for one or for another number of
    things, `{theorem:low}` a name inside a sentence, `{word:cap}` one at its beginning. `static/words/say.js` does
    the same.
    """

    def format_field(self, value: Any, format_spec: str) -> str:
        if "|" in format_spec:
            one, many = format_spec.split("|")
            return one if str(value) == "1" else many
        text = str(value)
        if format_spec == "low":
            return text[:1].lower() + text[1:] if text[1:2].islower() else text
        if format_spec == "cap":
            return text[:1].upper() + text[1:]
        return str(super().format_field(value, format_spec))


_grammar = _Grammar()


@cache
def _asking(area: str, language: str) -> frozenset[str]:
    """The keys of an area whose sentences ask something of their fields; the others are filled in faster."""
    words = catalogue(area, language)
    return frozenset(key for key, text in words.items() if any(spec for _, _, spec, _ in _grammar.parse(text)))


def say(key: str, /, language: str | None = None, **fields: object) -> str:
    """The sentence for `area.key` with its fields filled in. A missing key or field is a KeyError:
    it is a mistake of ours, and tests find it.
    """
    area, _, rest = key.partition(".")
    tongue = language or _spoken.get()
    sentence = catalogue(area, tongue)[rest]
    if rest in _asking(area, tongue):
        return _grammar.vformat(sentence, (), fields)
    return sentence.format_map(fields)
