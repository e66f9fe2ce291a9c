"""Passphrases and their argon2id hashes: nothing else of the program, so that another process loads it at once."""

from __future__ import annotations

import unicodedata

from argon2 import PasswordHasher
from argon2.exceptions import InvalidHashError, VerificationError


def normal(passphrase: str) -> str:
    """The same letters however a keyboard composes them."""
    return unicodedata.normalize("NFKC", passphrase)


# RFC 9106's second choice (64 MB, three passes), in one lane where it has four: on a small machine four take every
# core, also when a teacher signs in while a class is at work. A hash keeps the numbers that it was made with.
HASHER = PasswordHasher(time_cost=3, memory_cost=65_536, parallelism=1)


def hashed(passphrase: str) -> str:
    return HASHER.hash(normal(passphrase))


def right(kept: str, passphrase: str) -> bool:
    """Whether the passphrase is the one behind this hash."""
    try:
        return HASHER.verify(kept, normal(passphrase))
    except (VerificationError, InvalidHashError):
        return False
