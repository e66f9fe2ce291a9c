"""A request goes to work when its body is here; slow bodies may hold little, and not for long.

A body that is sent a byte at a time would hold a thread for as long as its sender likes; a few hundred of them
would hold all threads, and nobody else would get a page. So bodies are read here, before anything else, each by a
thread of its own. The bodies of a class arrive with their heads: they are read within a moment and need no place.
Whoever takes longer needs one of a few places, and has so long as a body of that length takes on a slow line; then
it is answered, and the connection is closed. While an address leaves many of those behind, no more are begun for it.
Many addresses together can still take all places, so some are kept for browsers that have been here before and have
nothing on its way themselves: nobody can make up a mark, and none holds more than one place.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator
from io import BytesIO
from queue import SimpleQueue
from threading import Event, Lock, Thread
from time import monotonic
from typing import TYPE_CHECKING
from wsgiref.types import InputStream, StartResponse, WSGIApplication, WSGIEnvironment

from app.addresses import share
from app.web.limits import InFlight

if TYPE_CHECKING:
    from _typeshed import OptExcInfo

AT_ONCE = 0.15  # seconds in which a body that came with its head is read, on a busy machine too
PATIENCE = 5.0  # seconds that any body may take
LEAST_RATE = 4096  # bytes a second that a longer one has to come with
MOST_PATIENCE = 60.0
FROM_ONE = 24  # slow bodies on their way from one address
FROM_ALL = 72  # and from all: of the threads that live pages leave over (app/serve.py)
MOST_LEFT = 400  # given-up bodies whose senders hold the connection open and send nothing
LEFT_BY_ONE = 100
KEPT_FREE = 500  # past MOST_LEFT only those of addresses that left none before, and up to here
KEPT_KNOWN = 560  # past that, of browsers that are known and left none; so many are given up at most
KNOWN_AT_ONCE = 48  # slow bodies of known browsers, where their address or the house has its fill
IDLE = 48  # threads that wait for the next body
STEP = 512  # bytes
SLOW_STEP = 0.02  # seconds
HELD_BACK = "eight_angles.held_back"
TOO_SLOW = "eight_angles.too_slow"


class Arrived:
    """Around the application: reads bodies up to `most` bytes; what is longer is left for the refusal that it gets.

    `mark`: by what the browser is known that sends this, "" if it isn't.
    """

    def __init__(
        self, inner: WSGIApplication, most: int, mark: Callable[[WSGIEnvironment], str] = lambda _: ""
    ) -> None:
        self.inner, self.most, self.mark = inner, most, mark
        self.from_one, self.from_all = InFlight(FROM_ONE), InFlight(FROM_ALL)
        self.from_mark, self.from_known = InFlight(1), InFlight(KNOWN_AT_ONCE)
        self.left_by_one, self.left = InFlight(LEFT_BY_ONE), InFlight(MOST_LEFT)
        self.left_by_mark = InFlight(1)

    def __call__(self, environ: WSGIEnvironment, start: StartResponse, /) -> Iterable[bytes]:
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

    def _given_up(self, environ: WSGIEnvironment, start: StartResponse, reading: _Reading, why: str) -> Iterable[bytes]:
        """The refusal, handed over whole at once; this thread stays until the reading ends.

        The server locks a body while it is read, and waits for that lock with everything at a standstill once a
        request is done (granian 2.8). So the request is not done before its reading is: with the refusal sent, the
        connection is closed, and that ends it.
        """

        def closing(
            status: str, headers: list[tuple[str, str]], exc_info: OptExcInfo | None = None, /
        ) -> Callable[[bytes], object]:
            return start(status, [*headers, ("Connection", "close")], exc_info)

        environ[why] = True
        environ["CONTENT_LENGTH"], environ["wsgi.input"] = "0", BytesIO(b"")
        answer = self.inner(environ, closing)
        try:
            whole = b"".join(answer)
        finally:
            if hasattr(answer, "close"):
                answer.close()

        def in_full() -> Iterator[bytes]:
            yield whole
            reading.wait(None)

        return in_full()

    def _read(self, environ: WSGIEnvironment, most: int) -> tuple[_Reading | None, str]:
        """The reading, and why it was given up: HELD_BACK where too many are on their way, TOO_SLOW after long."""
        address = share(environ.get("REMOTE_ADDR") or "?")
        # An address that leaves many behind is still served, until it is among those that fill the house; one that
        # left none has what is kept for it.
        mine, of_all = self.left_by_one.count(address), self.left.count("")
        if of_all >= KEPT_FREE or (mine and of_all >= MOST_LEFT) or (mine >= LEFT_BY_ONE and of_all > MOST_LEFT // 2):
            mark = self.mark(environ)
            if not mark or of_all >= KEPT_KNOWN or self.left_by_mark.full(mark):
                return None, HELD_BACK
        reading = _Reading(environ["wsgi.input"], most)
        if reading.wait(AT_ONCE):
            return reading, ""
        mark = self.mark(environ)
        place = self._place(address, mark)
        if place is None:
            return self._leave(reading, address, mark, HELD_BACK)
        try:
            patience = min(MOST_PATIENCE, PATIENCE + most / LEAST_RATE)
            return (reading, "") if reading.wait(patience) else self._leave(reading, address, mark, TOO_SLOW)
        finally:
            for which, key in place:
                which.leave(key)

    def _place(self, address: str, mark: str) -> list[tuple[InFlight, str]] | None:
        """A place for a slow body: of its address and the house, else of its browser; None where neither has one."""
        ways = [[(self.from_one, address), (self.from_all, "")]]
        if mark:
            ways.append([(self.from_mark, mark), (self.from_known, "")])
        for (one, key), (all_, whole) in ways:
            if not one.enter(key):
                continue
            if all_.enter(whole):
                return [(one, key), (all_, whole)]
            one.leave(key)
        return None

    def _leave(self, reading: _Reading, address: str, mark: str, why: str) -> tuple[_Reading, str]:
        """Give a body up. Its threads are counted until the connection ends."""
        reading.given_up = True
        counted = [(self.left_by_one, address), (self.left, ""), *([(self.left_by_mark, mark)] if mark else [])]
        for which, key in counted:
            which.add(key)

        def over() -> None:
            for which, key in counted:
                which.leave(key)

        reading.afterwards(over)
        return reading, why


class _Readers:
    """Threads that read bodies. One that is done waits for the next: to begin one costs more than most bodies do."""

    def __init__(self, most_idle: int) -> None:
        self._most = most_idle
        self._lock = Lock()
        self._idle: list[SimpleQueue[Callable[[], None]]] = []

    def run(self, job: Callable[[], None]) -> None:
        with self._lock:
            free = self._idle.pop() if self._idle else None
        if free is not None:
            free.put(job)
            return
        Thread(target=self._work, args=(job,), name="body", daemon=True).start()

    def _work(self, job: Callable[[], None]) -> None:
        mine: SimpleQueue[Callable[[], None]] = SimpleQueue()
        while True:
            job()
            with self._lock:
                if len(self._idle) >= self._most:
                    return
                self._idle.append(mine)
            job = mine.get()


_readers = _Readers(IDLE)


class _Reading:
    """A body that is being read by a thread of its own."""

    def __init__(self, source: InputStream, most: int) -> None:
        self.source, self.most, self.body, self.given_up = source, most, b"", False
        self._done, self._lock = Event(), Lock()
        self._over: Callable[[], None] | None = None
        _readers.run(self._run)

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

    def afterwards(self, act: Callable[[], None]) -> None:
        with self._lock:
            if not self._done.is_set():
                self._over = act
                return
        act()


def _fits(length: str, most: int) -> bool:
    return length.isascii() and length.isdigit() and len(length) <= 9 and int(length) <= most
