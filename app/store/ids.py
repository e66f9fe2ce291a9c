"""Names for rows, and tokens for people: random, never in sequence.

Whatever the program draws for somebody is drawn here: rows, sessions, period codes, offered names. What a seat is
asked follows from its row's name, so that whoever draws here (`chance`) settles everybody's numbers.
"""

from __future__ import annotations

import hashlib
import secrets
from typing import Protocol


class Chance(Protocol):
    """What is asked of a source of chance; the standard library's `secrets` is one."""

    def token_hex(self, nbytes: int, /) -> str: ...
    def token_urlsafe(self, nbytes: int, /) -> str: ...
    def randbelow(self, exclusive_upper_bound: int, /) -> int: ...


chance: Chance = secrets  # the system's own; only the browser tests put another here (tests/browser/serving.py)


def new_id() -> str:
    """A row's id: 96 random bits as hex, so that nobody guesses a neighbour's."""
    return chance.token_hex(12)


def new_token() -> str:
    """A session token: 256 random bits (V-01 asks for 128)."""
    return chance.token_urlsafe(32)


def number_below(most: int) -> int:
    """A number from 0 to most − 1, each alike."""
    return chance.randbelow(most)


def hashed(token: str) -> str:
    """What is kept of a token."""
    return hashlib.sha256(token.encode("utf-8", "replace")).hexdigest()
