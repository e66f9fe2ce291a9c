"""Which questions a sheet holds, as a short code printed in its foot and in the foot of its key.

The code is worked out from the questions themselves, never from how they were asked for: a part alone and the whole
pack, or the same seed under another family, differ in it as soon as one question differs. Size of print, paper, title
and colors are no part of it: large print is marked with the same key.
"""

from __future__ import annotations

import json
from collections.abc import Sequence
from hashlib import sha256

from app.classroom.codes import ALPHABET
from app.sheets.entries import Entry

__all__ = ["LENGTH", "check_code"]

LENGTH = 5  # 27 ** 5: that two sheets meet by chance is one in fourteen million
VOWELS = "AEIOUY"
# A word that nobody wants to read aloud needs a vowel.
SYMBOLS = [s for s in ALPHABET if s not in VOWELS]


def check_code(entries: Sequence[Entry]) -> str:
    """The code of these questions in this order, such as K7-P3F."""
    said = [
        [e.prompt, e.ask, e.source, e.rows, e.ordering, [(b.label, b.choices, b.unit) for b in e.blanks]]
        for e in entries
    ]
    number = int.from_bytes(sha256(json.dumps(said).encode()).digest()[:8], "big")
    symbols = []
    for _ in range(LENGTH):
        number, place = divmod(number, len(SYMBOLS))
        symbols.append(SYMBOLS[place])
    return f"{''.join(symbols[:2])}-{''.join(symbols[2:])}"
