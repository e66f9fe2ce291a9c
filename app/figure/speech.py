"""Signs as they are read out: "m∠3 = 65°" is "the measure of angle 3 equals 65 degrees"."""

from __future__ import annotations

import re

from app.figure.parts import Figure
from app.words import Message, Text, joined, say

__all__ = ["spell_angle", "spoken"]

SPOKEN = re.compile(r"(?P<angle>m?∠)\s*(?P<name>[^\W_]+)|(?P<sign>\s*(?:\|\||[∥∦⊥≅=])\s*|°)")
PLAIN = {"||": "∥"}


def spell_angle(name: str, fig: Figure) -> str:
    """An angle's name for speech: one named by three meets with its letters apart, "A B C"."""
    return name if name in fig.angles and not name.isalpha() else spaced(name, fig)


def spaced(name: str, fig: Figure) -> str:
    letters = re.findall(r"[^\W\d_][\d'′]*", name)
    three = len(letters) == 3 and "".join(letters) == name and all(letter in fig.meets for letter in letters)
    return " ".join(letters) if three else name


def spoken(text: str, fig: Figure) -> Message:
    """A label or statement in words that any screen reader says alike."""
    parts: list[Text] = []
    at = 0
    for sign in SPOKEN.finditer(text):
        parts += [text[at : sign.start()]]
        at = sign.end()
        if sign["angle"]:
            parts += [say(f"figure.sign_{sign['angle']}"), spell_angle(sign["name"], fig)]
        else:
            mark = sign["sign"].strip()
            parts.append(say(f"figure.sign_{PLAIN.get(mark, mark)}"))
    return joined("tight", (*parts, text[at:]))
