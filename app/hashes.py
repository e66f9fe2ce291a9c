"""Passphrases and their argon2id hashes: nothing else of the program, so that another process loads it at once."""

from __future__ import annotations

import unicodedata

from argon2 import PasswordHasher
from argon2.exceptions import InvalidHashError, VerificationError


def normal(passphrase: str) -> str:
    """The same letters however a keyboard composes them."""
    return unicodedata.normalize("NFKC", passphrase)


def hashed(passphrase: str) -> str:
    return PasswordHasher().hash(normal(passphrase))


def right(kept: str, passphrase: str) -> bool:
    """Whether the passphrase is the one behind this hash."""
    try:
        return PasswordHasher().verify(kept, normal(passphrase))
    except (VerificationError, InvalidHashError):
        return False
