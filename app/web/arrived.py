"""A request goes to work when its body is here, and only so many may be on their way at once.

A body that is sent a byte at a time would hold a thread for as long as its sender likes; a few hundred of
them would hold all threads, and nobody else would get a page. So bodies are read here, before anything else,
by a bounded number of threads; who comes when they are taken is told to wait. Bodies of a class arrive with
their heads, so these places are free again at once.
"""

from __future__ import annotations

from io import BytesIO
from typing import Any

from app.web.limits import InFlight

FROM_ONE = 64  # bodies on their way from one address: a class may sit behind one
FROM_ALL = 96  # of the threads that live pages leave over (app/serve.py)
HELD_BACK = "eight_angles.held_back"


class Arrived:
    """Around the application: reads bodies up to `most` bytes; what is longer is left for the refusal that it gets."""

    def __init__(self, inner: Any, most: int) -> None:
        self.inner, self.most = inner, most
        self.from_one, self.from_all = InFlight(FROM_ONE), InFlight(FROM_ALL)

    def __call__(self, environ: Any, start: Any, /) -> Any:
        length = environ.get("CONTENT_LENGTH") or ""
        chunked = not length and environ.get("HTTP_TRANSFER_ENCODING")
        if (length in ("", "0") and not chunked) or (length and not _fits(length, self.most)):
            return self.inner(environ, start)
        body = self._read(environ, self.most + 1 if chunked else int(length))
        if body is None:
            environ[HELD_BACK] = True
            environ["CONTENT_LENGTH"], body = "0", b""
        environ["wsgi.input"] = BytesIO(body)
        return self.inner(environ, start)

    def _read(self, environ: Any, most: int) -> bytes | None:
        """The body; None where too many are on their way."""
        address = environ.get("REMOTE_ADDR") or "?"
        if not self.from_one.enter(address):
            return None
        try:
            if not self.from_all.enter(""):
                return None
            try:
                found: bytes = environ["wsgi.input"].read(most)
            finally:
                self.from_all.leave("")
        finally:
            self.from_one.leave(address)
        return found


def _fits(length: str, most: int) -> bool:
    return length.isascii() and length.isdigit() and len(length) <= 9 and int(length) <= most
