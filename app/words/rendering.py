"""From a message to a sentence, for one reader.

A *reader* is a language and a house. The catalogue of the language has the sentence; where it lacks one the English
stands. A house speaks one language: where the reader's house speaks another than the reader, the language's own
house gives the names.

A sentence may ask something of its fields (`static/words/say.js` does the same for `|`, `low` and `cap`):

| in the catalogue | of a theorem | of anything else |
| --- | --- | --- |
| `{reason}` | as a noun: Alternate Interior Angles Theorem; “alternate angles are equal” | as it is |
| `{reason:low}` | the same, inside a sentence of a language that writes it small | with a small letter |
| `{reason:cap}` | the same, at the beginning of a sentence | with a capital letter |
| `{sentence:start}` | | with a capital letter where it begins with a word, not with a sign or a letter alone |
| `{reason:the}`, `{reason:The}` | with its article, if it takes one: the Vertical Angles Theorem | as it is, `cap` |
| `{reason:of}` | after "of": del teorema de …; in English like `the` | as it is |
| `{reason:label}` | as in a list, or before a colon | as it is |
| `{reason:aside}` | as in brackets after a statement | as it is |
| `{n:row|rows}` | | the word for one thing or for another number of them |

Whoever is being answered is the *reader now*: `with speak("es"):` or `with reading(Reader("es", "es")):` holds for
every sentence that is made inside, in this thread.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar
from dataclasses import dataclass, replace
from functools import cache, lru_cache
from importlib import import_module
from string import Formatter

from app.words.house import HOUSES, House
from app.words.message import Message, Text, rendered_by

__all__ = [
    "ENGLISH",
    "LANGUAGES",
    "Reader",
    "catalogue",
    "has",
    "language_of",
    "reader",
    "reader_of",
    "reading",
    "render",
    "speak",
    "speaking",
    "tell",
    "turn_to",
]

# language → its own name for itself
LANGUAGES = {"en": "English", "es": "Español"}
# language → the house that gives the names where the reader's house speaks another language
OWN_HOUSE = {"en": "us", "es": "es"}


@dataclass(frozen=True)
class Reader:
    """Who reads: a language ("en") and a house ("us")."""

    language: str = "en"
    house: str = "us"

    @property
    def names(self) -> House:
        """The house whose names stand in this reader's sentences."""
        return _names(self.language, self.house)


ENGLISH = Reader()
_now: ContextVar[Reader] = ContextVar("reader", default=ENGLISH)


def reader() -> Reader:
    """Whoever reads just now."""
    return _now.get()


def speaking() -> str:
    """The language in which sentences are made just now."""
    return _now.get().language


@contextmanager
def speak(language: str) -> Iterator[None]:
    """Say everything in this language until the end of the block."""
    with reading(replace(_now.get(), language=language_of(language))):
        yield


def language_of(tag: str) -> str:
    """The language of ours that a tag stands for ("es-MX" → "es"); English for one that isn't spoken here."""
    code = tag.replace("_", "-").split("-")[0].casefold()
    return code if code in LANGUAGES else "en"


@contextmanager
def reading(who: Reader) -> Iterator[None]:
    """Whatever is shown inside is shown to `who`."""
    token = _now.set(who)
    try:
        yield
    finally:
        _now.reset(token)


def reader_of(house: str) -> Reader:
    """Whoever reads what is in the words of a house: in its language where that isn't English, else in the language
    just now.
    """
    own = HOUSES[house].lang.split("-")[0]
    return Reader(_now.get().language if own == "en" else own, house)


def turn_to(who: Reader) -> None:
    """From here on, in this thread, everything is shown to `who`: for the beginning of a request."""
    _now.set(who)


def tell(code: str, /, **fields: object) -> str:
    """A sentence of a page, a sheet or a command, for whoever reads just now."""
    return render(Message(code, fields))


@cache
def catalogue(area: str, language: str = "en") -> dict[str, str]:
    """The sentences of one area ("figure", "reasoning", …), English where the language has none."""
    words: dict[str, str] = import_module(f"app.words.en.{area}").WORDS
    if language == "en":
        return words
    try:
        other: dict[str, str] = import_module(f"app.words.{language}.{area}").WORDS
    except ModuleNotFoundError:
        return words
    return {**words, **other}


def has(code: str) -> bool:
    """Whether the catalogues know this code."""
    area, _, key = code.partition(".")
    try:
        return key in catalogue(area)
    except ModuleNotFoundError:
        return False


@cache
def _names(language: str, house: str) -> House:
    chosen = HOUSES[house]
    return chosen if chosen.lang.split("-")[0] == language else HOUSES[OWN_HOUSE.get(language, "us")]


class _Theorem(str):
    """A theorem's name within a sentence, which each sentence may have in the form that it needs."""

    __slots__ = ("house", "id")
    house: House
    id: str


def _form(value: object, spec: str) -> str:
    """A field as its sentence asks for it."""
    if not spec:
        return str(value)
    if "|" in spec:
        one, many = spec.split("|")
        return one if str(value) == "1" else many
    if isinstance(value, _Theorem):
        return value.house.form(value.id, spec)
    text = str(value)
    if spec == "low":
        return text[:1].lower() + text[1:] if text[1:2].islower() else text
    if spec == "start":
        return _capital(text) if text[:2].isalpha() else text
    return _capital(text) if spec in ("cap", "The") else text


@cache
def _pieces(code: str, language: str) -> tuple[tuple[str, str | None, str], ...]:
    """A sentence of the catalogue taken apart once: (text, the field after it, what is asked of the field)."""
    area, _, key = code.partition(".")
    return tuple((text, name, spec or "") for text, name, spec, _ in Formatter().parse(catalogue(area, language)[key]))


def render(message: Text, who: Reader | None = None) -> str:
    """The sentence. A code or a field that is missing is a KeyError: a mistake of ours, which tests find."""
    if isinstance(message, str):
        return message
    who = who or _now.get()
    if message.code == "house.theorem":  # alone, in a cell or a list of choices: a name, quoted by nobody
        return _names(who.language, who.house).name(message.fields["id"])
    return str(_said(message, who))


def _said(message: Message, who: Reader) -> str:
    code, fields = message.code, message.fields
    if code.startswith("join."):
        return _listed(code[5:], [_value(part, who) for part in fields["parts"]], who.language)
    if code.startswith("house."):
        return _named(code, fields["id"], who.language, who.house)
    said: list[str] = []
    for text, name, spec in _pieces(code, who.language):
        said.append(text)
        if name is not None:
            value = fields[name]
            said.append(_form(_said(value, who) if isinstance(value, Message) else value, spec))
    return "".join(said)


def _value(value: object, who: Reader) -> object:
    return _said(value, who) if isinstance(value, Message) else value


@lru_cache(maxsize=4096)
def _named(code: str, key: str, language: str, house: str) -> str:
    names = _names(language, house)
    if code == "house.theorem":
        name = _Theorem(names.form(key))
        name.house, name.id = names, key
        return name
    return names.short(key) if code == "house.short" else names.term(key)


def _listed(how: str, parts: list[object], language: str) -> str:
    words = [str(part) for part in parts]
    if how == "sentences":
        return " ".join(words)
    if how == "tight":
        return " ".join("".join(words).split())
    if how == "plain":
        return "".join(words)
    joins = catalogue("join", language)
    between = joins["semicolon" if how == "semicolon" else "comma"]
    if how in ("comma", "semicolon") or len(words) < 2:
        return between.join(words)
    return joins[how].format(all=between.join(words[:-1]), last=words[-1])


def _capital(text: str) -> str:
    """With a capital letter first, also after an opening quotation mark."""
    at = 1 if text[:1] in "“‘«¿¡" else 0
    return text[:at] + text[at : at + 1].upper() + text[at + 1 :]


rendered_by(render)
