"""Period codes: six symbols of thirty-one, none of which can be mistaken for another on a far wall.

31 ** 6 is 29.7 bits. The code is read aloud, typed and pasted, so reading it is forgiving about case,
blanks and hyphens (T-08, A-26).
"""

from __future__ import annotations

import math

ALPHABET = "ABCDEFGHJKMNPQRSTUVWXYZ23456789"  # without 0 O 1 I L
LENGTH = 6

assert len(ALPHABET) == 31


def code_from(number: int) -> str:
    """The code that a random number below 31 ** 6 stands for."""
    symbols = []
    for _ in range(LENGTH):
        number, place = divmod(number, len(ALPHABET))
        symbols.append(ALPHABET[place])
    return "".join(symbols)


def read_code(text: str) -> str | None:
    """The code in what was typed, or None if it can't be one."""
    code = "".join(c for c in text.upper() if c not in " -\u2010\u2011\u2013\t")
    return code if len(code) == LENGTH and all(c in ALPHABET for c in code) else None


def bits() -> float:
    """How many bits a code holds."""
    return LENGTH * math.log2(len(ALPHABET))
