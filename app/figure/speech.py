"""Signs as they are read out: "m∠3 = 65°" is "the measure of angle 3 equals 65 degrees"."""

from __future__ import annotations

import re

from app.figure.parts import Figure
from app.words import tell as say

__all__ = ["spell_angle", "spoken"]

ANGLE = re.compile(r"(m?∠)\s*([^\W_]+)")
SIGNS = re.compile(r"\s*(\|\||[∥∦⊥≅=])\s*")
PLAIN = {"||": "∥"}


def spell_angle(name: str, fig: Figure) -> str:
    """An angle's name for speech: one named by three meets with its letters apart, "A B C"."""
    return name if name in fig.angles and not name.isalpha() else spaced(name, fig)


def spaced(name: str, fig: Figure) -> str:
    letters = re.findall(r"[^\W\d_][\d'′]*", name)
    three = len(letters) == 3 and "".join(letters) == name and all(letter in fig.meets for letter in letters)
    return " ".join(letters) if three else name


def spoken(text: str, fig: Figure) -> str:
    """A label or statement in words that any screen reader says alike."""
    text = ANGLE.sub(lambda found: say(f"figure.sign_{found[1]}") + spell_angle(found[2], fig), text)
    text = SIGNS.sub(lambda found: say(f"figure.sign_{PLAIN.get(found[1], found[1])}"), text)
    text = text.replace("°", say("figure.sign_°"))
    return " ".join(text.split())
