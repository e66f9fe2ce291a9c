"""Messages: what the program has to say, as data.

A message is a code of a catalogue and its fields. Fields are plain values (text in the notation, numbers,
names of points and lines) or other messages. The sentence is made last, by `render`, for one reader: in the
reader's language, with the names of the reader's house. Until then nobody takes a message apart: it has no
letters, it can't be added to a string, cut or searched.

Beside the catalogues' codes there are

- `join.<how>`, made by `joined`: several messages said one after the other, or as a list;
- `house.<what>`, made by `theorem`, `short` and `term`: a name that each house says in its own way.

How the store keeps them stands in `app.words.keeping`.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from fractions import Fraction
from typing import Any, TypeAlias, Union

__all__ = ["Field", "Message", "Text", "joined", "plain", "say", "short", "term", "theorem"]

# What may stand in a field: hashable and plain, so that a message can be kept, compared and sent.
Field: TypeAlias = Union[str, int, float, Fraction, None, "Message", "tuple[Field, ...]"]
# Where a pack's own text or a formula may stand in a sentence's place.
Text: TypeAlias = Union[str, "Message"]

JOINS = ("sentences", "and", "or", "comma", "semicolon", "plain", "tight")


class Message:
    """A code and its fields; equal when both are, and never changed."""

    __slots__ = ("_fields", "_hash", "code")

    code: str

    def __init__(self, code: str, fields: Mapping[str, object] | None = None) -> None:
        object.__setattr__(self, "code", code)
        object.__setattr__(self, "_fields", fields or {})

    def __setattr__(self, name: str, value: object) -> None:
        raise AttributeError(f"a message is never changed: {name}")

    __delattr__ = __setattr__  # type: ignore[assignment]

    @property
    def fields(self) -> Mapping[str, Any]:
        """The fields, to be read."""
        return self._fields  # type: ignore[attr-defined, no-any-return]

    def __eq__(self, other: object) -> bool:
        if not isinstance(other, Message):
            return NotImplemented
        return self.code == other.code and self.fields == other.fields

    def __hash__(self) -> int:
        return hash((self.code, frozenset(self.fields.items())))

    def __repr__(self) -> str:
        said = "".join(f", {key}={value!r}" for key, value in self.fields.items())
        return f"say({self.code!r}{said})"

    def __str__(self) -> str:
        """The sentence for whoever reads just now; only pages, print and commands may ask for it."""
        return _render(self)

    def __format__(self, spec: str) -> str:
        return format(str(self), spec)

    def __reduce__(self) -> tuple[object, ...]:
        return Message, (self.code, dict(self.fields))


def _unsaid(message: Message) -> str:
    raise RuntimeError(f"nobody has said how {message!r} is rendered")


_render: Callable[[Message], str] = _unsaid


def rendered_by(render: Callable[[Message], str]) -> None:
    """How a message becomes a sentence (`rendering`): a message is data, and knows no catalogue by itself."""
    global _render
    _render = render


def say(code: str, /, **fields: object) -> Message:
    """The message `area.key` with its fields. That the catalogues have it, the tests see to."""
    return Message(code, fields)


def joined(how: str, parts: Iterable[Text | None]) -> Message:
    """Messages (or texts) said together: "sentences", one after the other; "and", "or", "comma", "semicolon",
    as a list; "plain", with nothing between; "tight", the same with single spaces within. Empty ones are left out;
    of a single message that one is left.
    """
    if how not in JOINS:
        raise ValueError(how)
    kept = tuple(part for part in parts if part is not None and part != "")
    if len(kept) == 1 and isinstance(kept[0], Message):
        return kept[0]
    return Message(f"join.{how}", {"parts": kept})


def theorem(name: str) -> Message:
    """A theorem, by its id; the reader's house has its name."""
    return Message("house.theorem", {"id": name})


def short(name: str) -> Message:
    """A theorem's short name, as a teacher writes it in the margin."""
    return Message("house.short", {"id": name})


def term(key: str) -> Message:
    """A word of the lesson: the name of a pair ("alternate interior") or "congruent", "transversal", …"""
    return Message("house.term", {"id": key})


def plain(value: object) -> object:
    """For `json.dumps(default=plain)`: a message as the sentence for whoever reads just now."""
    if isinstance(value, Message):
        return str(value)
    if isinstance(value, Fraction):
        return str(value)
    raise TypeError(f"no JSON: {type(value).__name__}")
