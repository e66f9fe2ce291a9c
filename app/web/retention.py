"""Keeping to the retention times, without trusting a clock that has jumped (F9-05).

While the server runs it notes once a day when it last ran. Where the clock says now that this was long ago, or is
yet to come, either the machine has rested for a summer or its clock is wrong, and no program can tell which. Then
nothing is erased by itself: the Desk says what waits, and a teacher who has looked at the date lets it go.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import TYPE_CHECKING, Any

from app.store import keeping

if TYPE_CHECKING:
    from app.web.server import Server

FILE = "last-run.json"
REST = 14 * keeping.DAY  # longer than a school's short holidays
BACK = keeping.DAY


def keep_times(server: Server) -> dict[str, int]:
    """Erase what is over its time, unless the clock has jumped; how many of each went."""
    now, last = server.now(), last_run(server.data)
    if last is None:  # nothing noted, as from before these notes: what is kept tells it too
        last = server.store.read(keeping.newest)
    jumped = last is not None and not -BACK <= now - last <= REST
    if jumped and server.store.read(lambda c: keeping.due(c, now)):
        server.waiting = last
        return {}
    return let_go(server)


def let_go(server: Server) -> dict[str, int]:
    """Erase what is over its time by the clock as it is, and note that it is right."""
    now = server.now()
    counts = server.store.write(lambda c: keeping.purge(c, now))
    server.waiting = None
    _note(server.data, now)
    if any(counts.values()):
        server.store.scrub()
    return counts


def last_run(folder: Path) -> int | None:
    """When the server last ran, in milliseconds; None where it never did, or the note can't be read."""
    try:
        told: Any = json.loads((folder / FILE).read_text(encoding="utf-8"))
    except (OSError, ValueError):
        return None
    at = told.get("at") if isinstance(told, dict) else None
    return at if isinstance(at, int) and not isinstance(at, bool) else None


def _note(folder: Path, now: int) -> None:
    folder.mkdir(parents=True, exist_ok=True, mode=0o700)
    made = folder / f"{FILE}.new"
    try:
        made.write_text(json.dumps({"at": now}), encoding="utf-8")
        made.replace(folder / FILE)
    except OSError:
        pass  # a full disk is told elsewhere; the next day asks again
