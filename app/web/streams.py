"""State to pages: one whole answer for who polls, a stream of events for who listens.

    event: state   the whole state, at once and after any change that touches much of it
    event: part    only the outer keys that changed, with the new version
    event: beat    every 12 s, so that both ends notice a dead line
    event: gone    the session was ended, the seat or the period removed

`Look` is how one role sees one period: `state()` makes the whole, `parts(keys)` what a few changed keys
need, or None when that is everything.
"""

from __future__ import annotations

import random
import time
from collections.abc import Callable, Iterator
from dataclasses import dataclass

from flask import Response, request

from app.web.api import dump
from app.web.errors import Refused
from app.web.hub import Hub, Listener, TooManyStreams
from app.words import Reader, reader, reading

State = dict[str, object]  # JSON, but for its messages
BEAT = 12.0


@dataclass(frozen=True)
class Look:
    """How one role sees one period.

    `pace`: least seconds between two messages about `slow` keys alone; `ticking`: keys told again at each
    beat.
    """

    version: Callable[[], int]
    state: Callable[[], State | None]
    parts: Callable[[set[str]], State | None]
    alive: Callable[[], bool]
    slow: frozenset[str] = frozenset()
    pace: float = 0.0
    ticking: frozenset[str] = frozenset()


def polled(hub: Hub, look: Look) -> Response:
    """The state for a page that polls: 204 when it is as the page has it already."""
    version = look.version()
    since = request.args.get("since", "")
    mark = f'W/"{hub.epoch}-{version}"'
    headers = {"ETag": mark, "Cache-Control": "no-cache"}
    if request.headers.get("If-None-Match") == mark:
        return Response(status=304, headers=headers)
    if since == str(version):
        return Response(status=204, headers=headers)
    state = look.state()
    if state is None:
        raise Refused(401, "web.status_401")
    body = dump({"version": version, "epoch": hub.epoch, **state})
    return Response(body, mimetype="application/json", headers=headers)


def streamed(hub: Hub, listener: Listener, look: Look) -> Response:
    """The live stream; 503 when there are too many (the page then polls)."""
    try:
        hub.enter(listener)
    except TooManyStreams:
        raise Refused(503, "web.status_503", after=10) from None
    headers = {"Cache-Control": "no-store", "X-Accel-Buffering": "no"}
    return Response(_events(hub, listener, look, reader()), mimetype="text/event-stream", headers=headers)


def _events(hub: Hub, listener: Listener, look: Look, who: Reader) -> Iterator[str]:
    try:
        yield "retry: 3000\n\n"
        yield _whole(hub, look, who)
        spoken = 0.0
        # A whole school that comes back at one moment must not beat at one moment for ever after.
        beat = random.uniform(BEAT / 2, BEAT)
        while not listener.closed:
            keys = listener.wait(beat)
            beat = BEAT
            if listener.closed:
                break
            if keys and keys <= look.slow:
                # Let the small changes of a busy class gather before the next telling.
                rest = look.pace - (time.monotonic() - spoken)
                if rest > 0:
                    time.sleep(rest)
                    keys |= listener.wait(0)
            if keys - {"beat"}:
                yield _news(hub, look, keys - {"beat"}, who)
                spoken = time.monotonic()
                continue
            if not look.alive():
                listener.close(gone=True)
                break
            yield "event: beat\ndata: 0\n\n"
            if look.ticking:
                yield _news(hub, look, set(look.ticking), who)
        if listener.gone:
            yield "event: gone\ndata: 0\n\n"
    finally:
        hub.leave(listener)


def _whole(hub: Hub, look: Look, who: Reader) -> str:
    version = look.version()  # before the state: what changes in between is told again, never lost
    with reading(who):
        state = look.state()
        if state is None:
            return "event: gone\ndata: 0\n\n"
        return _event("state", version, {"epoch": hub.epoch, **state})


def _news(hub: Hub, look: Look, keys: set[str], who: Reader) -> str:
    version = look.version()
    with reading(who):
        parts = look.parts(keys)
        if parts is None:
            return _whole(hub, look, who)
        return _event("part", version, parts)


def _event(name: str, version: int, data: State) -> str:
    return f"event: {name}\nid: {version}\ndata: {dump({'version': version, **data})}\n\n"
