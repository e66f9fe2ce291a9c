"""The words of a pack: plain text, `*emphasis*`, blank-line paragraphs, and names in the class's own words.

Nothing else is markup, so a pack can't bring in anything but words. `{alternate interior}` or
`{corresponding-angles-converse}` stands for what the teacher's own book calls that pair or theorem.
"""

from __future__ import annotations

import re
from collections.abc import Callable

__all__ = ["Piece", "fill", "names_in", "pieces", "plain", "text_fault"]

Piece = tuple[str, bool]  # words, emphasised?

_NAME = re.compile(r"\{([^{}]*)\}")
_EMPHASIS = re.compile(r"\*([^*\n]+)\*")
_CONTROL = re.compile(r"[\x00-\x08\x0b-\x1f\x7f\u200b-\u200f\u202a-\u202e\u2060-\u2069\ufeff]")


def text_fault(text: str) -> str | None:
    """Why the text is not in the small markup of a pack: "control", "star", "brace", or None."""
    if _CONTROL.search(text):
        return "control"
    if "*" in _EMPHASIS.sub("", text):
        return "star"
    rest = _NAME.sub("", text)
    return "brace" if "{" in rest or "}" in rest else None


def names_in(text: str) -> list[str]:
    """The names in braces, in order."""
    return [name.strip() for name in _NAME.findall(text)]


def fill(text: str, name: Callable[[str], str]) -> str:
    """The text with each `{…}` replaced by `name(…)`; a sentence keeps its capital letter."""

    def word(found: re.Match[str]) -> str:
        given = found.group(1).strip()
        said = name(given)
        return said[:1].upper() + said[1:] if given[:1].isupper() else said

    return _NAME.sub(word, text)


def pieces(text: str) -> list[list[Piece]]:
    """Paragraphs, each a list of (words, emphasised?).

    >>> pieces("Look at *both* lines.")
    [[('Look at ', False), ('both', True), (' lines.', False)]]
    """
    paragraphs = []
    for block in re.split(r"\n\s*\n", text.strip()):
        words = " ".join(block.split())
        parts = _EMPHASIS.split(words)
        paragraphs.append([(part, at % 2 == 1) for at, part in enumerate(parts) if part])
    return paragraphs


def plain(text: str) -> str:
    """The words alone, for a title, a sheet or a screen reader."""
    return _EMPHASIS.sub(r"\1", " ".join(text.split()))
