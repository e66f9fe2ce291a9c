"""A request goes to work when its body is here; slow bodies may hold little, and not for long.

A body that is sent a byte at a time would hold a thread for as long as its sender likes; a few hundred of them
would hold all threads, and nobody else would get a page. So bodies are read here, before anything else, each by a
thread of its own. The bodies of a class arrive with their heads: they are read within a moment and need no place.
Whoever takes longer needs one of a few places, and has so long as a body of that length takes on a slow line; then
it is answered, and the connection is closed. While an address leaves many of those behind, no more are begun for it.
"""

from __future__ import annotations

from io import BytesIO
from threading import Event, Lock, Thread
from time import monotonic
from typing import Any

from app.web.limits import InFlight

AT_ONCE = 0.15  # seconds in which a body that came with its head is read, on a busy machine too
PATIENCE = 5.0  # seconds that any body may take
LEAST_RATE = 4096  # bytes a second that a longer one has to come with
MOST_PATIENCE = 60.0
FROM_ONE = 24  # slow bodies on their way from one address
FROM_ALL = 72  # and from all: of the threads that live pages leave over (app/serve.py)
MOST_LEFT = 400  # given-up bodies whose senders hold the connection open and send nothing
LEFT_BY_ONE = 100
KEPT_FREE = 500  # so many are given up at most; past MOST_LEFT only those of addresses that left none before
STEP = 512  # bytes
SLOW_STEP = 0.02  # seconds
HELD_BACK = "eight_angles.held_back"
TOO_SLOW = "eight_angles.too_slow"


class Arrived:
    """Around the application: reads bodies up to `most` bytes; what is longer is left for the refusal that it gets."""

    def __init__(self, inner: Any, most: int) -> None:
        self.inner, self.most = inner, most
        self.from_one, self.from_all = InFlight(FROM_ONE), InFlight(FROM_ALL)
        self.left_by_one, self.left = InFlight(LEFT_BY_ONE), InFlight(MOST_LEFT)

    def __call__(self, environ: Any, start: Any, /) -> Any:
        length = environ.get("CONTENT_LENGTH") or ""
        chunked = not length and environ.get("HTTP_TRANSFER_ENCODING")
        if (length in ("", "0") and not chunked) or (length and not _fits(length, self.most)):
            return self.inner(environ, start)
        reading, why = self._read(environ, self.most + 1 if chunked else int(length))
        if reading is not None and why:
            return self._given_up(environ, start, reading, why)
        if why:
            environ[why] = True
            environ["CONTENT_LENGTH"] = "0"
        environ["wsgi.input"] = BytesIO(b"" if reading is None else reading.body)
        return self.inner(environ, start)

    def _given_up(self, environ: Any, start: Any, reading: _Reading, why: str) -> Any:
        """The refusal, handed over whole at once; this thread stays until the reading ends.

        The server locks a body while it is read, and waits for that lock with everything at a standstill once a
        request is done (granian 2.8). So the request is not done before its reading is: with the refusal sent, the
        connection is closed, and that ends it.
        """

        def closing(status: str, headers: list[tuple[str, str]], *rest: Any) -> Any:
            return start(status, [*headers, ("Connection", "close")], *rest)

        environ[why] = True
        environ["CONTENT_LENGTH"], environ["wsgi.input"] = "0", BytesIO(b"")
        answer = self.inner(environ, closing)
        try:
            whole = b"".join(answer)
        finally:
            if hasattr(answer, "close"):
                answer.close()

        def in_full() -> Any:
            yield whole
            reading.wait(None)

        return in_full()

    def _read(self, environ: Any, most: int) -> tuple[_Reading | None, str]:
        """The reading, and why it was given up: HELD_BACK where too many are on their way, TOO_SLOW after long."""
        address = environ.get("REMOTE_ADDR") or "?"
        # An address that leaves many behind is still served, until it is among those that fill the house; one that
        # left none has what is kept for it.
        mine, of_all = self.left_by_one.count(address), self.left.count("")
        if of_all >= KEPT_FREE or (mine and of_all >= MOST_LEFT) or (mine >= LEFT_BY_ONE and of_all > MOST_LEFT // 2):
            return None, HELD_BACK
        reading = _Reading(environ["wsgi.input"], most)
        if reading.wait(AT_ONCE):
            return reading, ""
        if not self.from_one.enter(address):
            return self._leave(reading, address, HELD_BACK)
        try:
            if not self.from_all.enter(""):
                return self._leave(reading, address, HELD_BACK)
            try:
                patience = min(MOST_PATIENCE, PATIENCE + most / LEAST_RATE)
                return (reading, "") if reading.wait(patience) else self._leave(reading, address, TOO_SLOW)
            finally:
                self.from_all.leave("")
        finally:
            self.from_one.leave(address)

    def _leave(self, reading: _Reading, address: str, why: str) -> tuple[_Reading, str]:
        """Give a body up. Its threads are counted until the connection ends."""
        reading.given_up = True
        self.left_by_one.add(address)
        self.left.add("")

        def over() -> None:
            self.left_by_one.leave(address)
            self.left.leave("")

        reading.afterwards(over)
        return reading, why


class _Reading:
    """A body that is being read by a thread of its own."""

    def __init__(self, source: Any, most: int) -> None:
        self.source, self.most, self.body, self.given_up = source, most, b"", False
        self._done, self._lock = Event(), Lock()
        self._over: Any = None
        Thread(target=self._run, name="body", daemon=True).start()

    def _run(self) -> None:
        try:
            self.body = self._by_steps()
        except Exception:  # noqa: BLE001 - the connection broke: there is no body, and nobody to tell
            self.body = b""
        with self._lock:
            self._done.set()
            over = self._over
        if over is not None:
            over()

    def _by_steps(self) -> bytes:
        """The body. A step can't be broken off, so steps stay small where bytes come slowly: a given-up body ends."""
        parts, left, step = [], self.most, 1
        while left > 0 and not self.given_up:
            began = monotonic()
            part = self.source.read(min(step, left))
            if not part:
                break
            parts.append(part)
            left -= len(part)
            step = min(2 * step, STEP) if monotonic() - began < SLOW_STEP else 1
        return b"" if self.given_up else b"".join(parts)

    def wait(self, seconds: float | None) -> bool:
        return self._done.wait(seconds)

    def afterwards(self, act: Any) -> None:
        with self._lock:
            if not self._done.is_set():
                self._over = act
                return
        act()


def _fits(length: str, most: int) -> bool:
    return length.isascii() and length.isdigit() and len(length) <= 9 and int(length) <= most
