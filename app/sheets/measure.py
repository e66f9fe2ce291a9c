"""How wide a text is printed and how many lines it takes, before any browser has seen it.

Advance widths in hundredths of the type size, as measured of the widest face that the style sheet asks for (a serif
that is on every free system); a narrower face only leaves a little more white. A browser holds them to what it prints
in `tests/sheets/test_fill.py`.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from functools import lru_cache

__all__ = ["MM_A_POINT", "bound", "lines", "set_lines", "width"]

MM_A_POINT = 25.4 / 72
PLAIN = {
    23: "′",
    28: "'", 31: "j", 32: " \xa0,.il·’‘í", 34: "-/:;\\|", 37: "f", 39: "()[]", 40: "!IJt²³Í¡", 46: '"∥',
    48: "r", 50: "*_`°–", 51: "s“”", 53: "z", 54: "?¿", 57: "cvxy", 60: "eéaoáó", 61: "k",
    64: "∦$0123456789bdghnpqu{}úñü", 67: "LYPT", 69: "SF", 71: "ZX",
    74: "AVÁEÉB", 76: "KRC", 80: "DG", 82: "OQÓ", 84: "#+<=>U^~≅∠−×≤≥Ú→", 88: "wHNÑ&",
    95: "⊥%m", 103: "@—…MW",
}  # fmt: skip
BOLD = {
    26: "′",
    31: "'", 35: " \xa0,.·’‘", 37: "/\\j|:;", 38: "ilí", 42: "-", 43: "f", 44: "!²³¡", 46: "t", 47: "()IJ[]Í",
    50: "_`°–", 53: '"*r∥', 56: "s", 58: "zvy“”", 60: "?¿xc", 65: "e{}éaá", 67: "oó", 70: "k$0123456789Lbdgpq",
    72: "FYS", 75: "ZhnuúñüTP", 77: "EÉ∦", 79: "AVXÁC", 84: "R#+<=>B^~≅∠−×≤≥→", 86: "Gw", 87: "DKOQUÓÚ", 92: "&NÑ",
    96: "H%⊥", 100: "@—…", 107: "m", 112: "MW",
}  # fmt: skip
_WIDTHS = {
    bold: {char: hundredths for hundredths, chars in reversed(table.items()) for char in chars}
    for bold, table in ((False, PLAIN), (True, BOLD))
}
UNKNOWN = 90

# A formula is not broken at a relation, nor a difference at its sign; before a plus it may be.
_RELATION = re.compile(r" ([=≅∥∦⊥−]) (?=\S)")
_SUM = re.compile(r" \+ (?=\S)")


def bound(text: str) -> str:
    """The text with no-break blanks where a formula must hold together."""
    return _SUM.sub(" +\xa0", _RELATION.sub("\xa0\\1\xa0", text.replace(" - ", " − ")))


def width(text: str, points: float, *, bold: bool = False) -> float:
    """In mm, on one line."""
    table = _WIDTHS[bold]
    return sum(table.get(char, UNKNOWN) for char in text) / 100 * points * MM_A_POINT


@lru_cache(maxsize=65536)
def lines(text: str, room: float, points: float, *, bold: bool = False) -> int:
    """How many lines the text takes in `room` mm."""
    return sum(set_lines(((part, bold),), room, points) for part in text.split("\n")) if text else 0


def set_lines(runs: Iterable[tuple[str, bool]], room: float, points: float) -> int:
    """How many lines a paragraph of runs (text, bold) takes; words are set as long as they fit, as a browser does."""
    count, used = 0, 0.0
    for text, bold in runs:
        blank = width(" ", points, bold=bold)
        for word in bound(text).split(" ") if text else ():
            wide = width(word, points, bold=bold)
            if count == 0 or used + blank + wide > room:
                count += 1
                used = wide
            else:
                used += blank + wide
            while used > room:  # a word too long for a line is broken anywhere
                count += 1
                used -= room
    return count
