"""Names for rows, and tokens for people: random, never in sequence."""

from __future__ import annotations

import hashlib
import secrets


def new_id() -> str:
    """A row's id: 96 random bits as hex, so that nobody guesses a neighbour's."""
    return secrets.token_hex(12)


def new_token() -> str:
    """A session token: 256 random bits (V-01 asks for 128)."""
    return secrets.token_urlsafe(32)


def hashed(token: str) -> str:
    """What is kept of a token."""
    return hashlib.sha256(token.encode("utf-8", "replace")).hexdigest()
