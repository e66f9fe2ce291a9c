"""The server's secret: made on the first run, kept in the data folder, readable by its owner alone.

Everything that has to be the same tomorrow but unguessable today is derived from it: page tokens, the
links of seats and Boards, the seed of each seat's version of a task.
"""

from __future__ import annotations

import base64
import hashlib
import hmac
import os
import secrets
from pathlib import Path

SIZE = 32


def load_secret(folder: Path) -> bytes:
    """The secret of this data folder; made (mode 600) if there is none yet."""
    path = folder / "secret"
    folder.mkdir(parents=True, exist_ok=True, mode=0o700)
    try:
        # O_EXCL: of two processes that start at once, one makes it and both read the same.
        handle = os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600)
    except FileExistsError:
        kept = path.read_bytes()
        if len(kept) < SIZE:
            raise ValueError(f"{path} is damaged: move it away, and a new one is made (links then change).") from None
        return kept
    made = secrets.token_bytes(SIZE)
    with os.fdopen(handle, "wb") as file:
        file.write(made)
        file.flush()
        os.fsync(file.fileno())
    return made


class Secret:
    """What is derived from the secret, each use under its own label."""

    def __init__(self, key: bytes) -> None:
        self._key = key

    def mac(self, label: str, *parts: str) -> str:
        """A 144-bit stamp of the parts, safe in an address."""
        return base64.urlsafe_b64encode(self._stamp(label, parts)[:18]).decode()

    def seed(self, label: str, *parts: str) -> int:
        """A number from 0 to 2**31 − 1, the same for the same parts for ever."""
        return int.from_bytes(self._stamp(label, parts)[:4], "big") >> 1

    def _stamp(self, label: str, parts: tuple[str, ...]) -> bytes:
        message = "\x1f".join((label, *parts)).encode("utf-8", "replace")
        return hmac.new(self._key, message, hashlib.sha256).digest()


def same(a: str, b: str) -> bool:
    """Comparison that takes as long whether the first or the last character differs."""
    return hmac.compare_digest(a.encode("utf-8", "replace"), b.encode("utf-8", "replace"))
