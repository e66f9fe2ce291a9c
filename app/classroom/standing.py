"""How a seat stands, as the Desk reads it in one look: where, how far, and whether it is stuck.

Stuck is a rule that a teacher can say aloud: three refused replies in a row on the task in hand, or ninety
seconds at it with nothing new (J-5); and the seat is here, and the task still takes an answer. Who is away
isn't stuck, nor is who has handed in an exit task; who hasn't begun yet is said to be that. Times are
milliseconds on the server's clock, handed in.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import TypedDict

from app.classroom.names import seat_name
from app.lessons.tasks import Task
from app.words import Text


class Stand(TypedDict):
    """What counts of a seat's standing on a task."""

    done: bool
    refused: int
    at: int


class Named(TypedDict):
    """What counts of a seat's name."""

    name: str
    alias: str
    approved: bool
    hidden: bool


STUCK_AFTER = 90_000
STUCK_TRIES = 3
HERE_WITHIN = 60_000


def stuck(row: Stand | None, moved: int | None, now: int) -> dict[str, int] | None:
    """{"tries": n} or {"minutes": n}, or None for a seat that is getting on.

    `row` is the standing on the task in hand (None before the first reply), `moved` the time of the last
    sign of work on it (None when there was none: a student who is listening isn't stuck).
    """
    if row is not None and row["done"]:
        return None
    if row is not None and row["refused"] >= STUCK_TRIES:
        return {"tries": int(row["refused"])}
    last = max((t for t in (moved, row["at"] if row else None) if t is not None), default=None)
    if last is not None and now - last > STUCK_AFTER:
        return {"minutes": max(1, (now - last) // 60_000)}
    return None


def shown_name(seat: Named, *, teacher: bool = False) -> Text:
    """The name by which others see a seat: its alias until a typed name is approved, or once it is
    hidden.
    """
    if teacher:
        return seat_name(str(seat["name"]))
    if not seat["approved"] or seat["hidden"]:
        return seat_name(str(seat["alias"]))
    return seat_name(str(seat["name"]))


def tally(task: Task, verdicts: Sequence[Mapping[str, object]]) -> dict[str, object]:
    """Counts by verdict for one task, without names: {"task", "title", "rows": [{"label", "count", "ok"}],
    "total"}.

    The right ones come first, then the others by number, so that what most went wrong in stands out.
    """
    counts: dict[tuple[bool, str], int] = {}
    for verdict in verdicts:
        label = (bool(verdict["ok"]), str(verdict.get("misconception") or verdict["code"]))
        counts[label] = counts.get(label, 0) + 1
    rows = [
        {"label": label, "count": count, "ok": ok}
        for (ok, label), count in sorted(counts.items(), key=lambda item: (not item[0][0], -item[1], item[0][1]))
    ]
    return {"task": task.id, "title": task.title, "rows": rows, "total": len(verdicts)}
