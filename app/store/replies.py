"""Work in progress, replies with their verdicts, and how each seat stands.

`put_work` keeps the newest by the Seat's own count; `put_reply` keeps one row for one reply id however
often it is sent, and answers what was first said of it.
"""

from __future__ import annotations

import json
from dataclasses import dataclass

from sqlalchemy import ColumnElement, Connection, func, insert, select, update

from app.store.rows import Drawn, Kept, Replied, Reply, Standing, Work, every, one
from app.store.tables import reply, seat, standing, work
from app.words import Message, pack, unpack

MOST_HISTORY = 100  # more than any set of exercises is long


def pack_json(data: object) -> str:
    """JSON text that any database keeps: plain ASCII, so that no character of it can be refused."""
    return json.dumps(data, ensure_ascii=True, separators=(",", ":"))


def verdict_of(text: str) -> Kept:
    """A verdict as it was kept, with its messages; sentences that were kept finished stay as they are."""
    found: Kept = unpack(json.loads(text))
    return found


def text_of(kept: str) -> str | Message:
    """What the standing says of the newest reply: a message, or a sentence that was kept finished."""
    if not kept.startswith('{"$say":'):
        return kept
    found: str | Message = unpack(json.loads(kept))
    return found


@dataclass(frozen=True)
class Stored:
    """What is kept of a reply. `new` is false when this id had been stored before."""

    verdict: Kept
    attempt: int
    new: bool


def hold(c: Connection, seat_id: str) -> None:
    """Keep other changes of this seat waiting until the transaction ends (SQLite has one writer anyway)."""
    c.execute(select(seat.c.id).where(seat.c.id == seat_id).with_for_update())


def put_work(c: Connection, seat_id: str, task: str, n: int, data: object, figure: object, now: int) -> int:
    """Keep the work if it is newer than what is kept; returns the count of what is kept now."""
    hold(c, seat_id)
    where = (work.c.seat_id == seat_id) & (work.c.task == task)
    kept = c.execute(select(work.c.n).where(where)).scalar()
    if kept is not None and kept >= n:
        return int(kept)
    values = {
        "n": n,
        "work": pack_json(data),
        "figure": None if figure is None else pack_json(figure),
        "at": now,
    }
    if kept is None:
        c.execute(insert(work).values(seat_id=seat_id, task=task, **values))
    else:
        c.execute(update(work).where(where).values(**values))
    c.execute(update(seat).where(seat.c.id == seat_id).values(seen=now, here=task))
    return n


def work_of(c: Connection, seat_id: str, task: str) -> Kept | None:
    """{n, work, figure} of a seat on a task."""
    row = one(Work, c, select(work).where(work.c.seat_id == seat_id, work.c.task == task))
    if row is None:
        return None
    return {
        "n": row["n"],
        "work": json.loads(row["work"]),
        "figure": None if row["figure"] is None else json.loads(row["figure"]),
    }


def find(c: Connection, seat_id: str, reply_id: str) -> Stored | None:
    row = one(Reply, c, select(reply).where(reply.c.seat_id == seat_id, reply.c.id == reply_id))
    return None if row is None else Stored(verdict_of(row["verdict"]), int(row["attempt"]), False)


def put_reply(
    c: Connection, seat_id: str, reply_id: str, task: str, seed: int, payload: object, verdict: Kept, now: int
) -> Stored:
    """Store a judged reply once, and bring the standing up to date with it."""
    hold(c, seat_id)
    known = find(c, seat_id, reply_id)
    if known is not None:
        return known
    attempt = 1 + int(
        c.execute(select(func.count()).where(reply.c.seat_id == seat_id, reply.c.task == task)).scalar_one()
    )
    c.execute(
        insert(reply).values(
            seat_id=seat_id,
            id=reply_id,
            task=task,
            attempt=attempt,
            seed=seed,
            payload=pack_json(payload),
            verdict=pack_json(pack(verdict)),
            at=now,
        )
    )
    _stand(c, seat_id, task, verdict, attempt, now)
    c.execute(update(seat).where(seat.c.id == seat_id).values(seen=now, here=task))
    return Stored(verdict, attempt, True)


def _stand(c: Connection, seat_id: str, task: str, verdict: Kept, attempt: int, now: int) -> None:
    where = (standing.c.seat_id == seat_id) & (standing.c.task == task)
    before = one(Standing, c, select(standing).where(where))
    values = {
        "replies": attempt,
        "refused": 0 if verdict["ok"] else (int(before["refused"]) if before else 0) + 1,
        # Once done, a task stays done: a later try can only add to it.
        "done": bool(verdict["done"]) or bool(before and before["done"]),
        "ok": bool(verdict["ok"]),
        "code": str(verdict["code"])[:60],
        "text": pack_json(pack(verdict["text"])) if isinstance(verdict["text"], Message) else str(verdict["text"]),
        "score": max(float(verdict["score"]), float(before["score"]) if before else 0.0),
        "reopened": False,
        "at": now,
    }
    if before is None:
        c.execute(insert(standing).values(seat_id=seat_id, task=task, **values))
    else:
        c.execute(update(standing).where(where).values(**values))


def history(c: Connection, seat_id: str, task: str) -> list[Kept]:
    """The latest earlier replies of a seat to a task, oldest first: {"reply", "verdict"}."""
    found = c.execute(
        select(reply.c.payload, reply.c.verdict)
        .where(reply.c.seat_id == seat_id, reply.c.task == task)
        .order_by(reply.c.attempt.desc())
        .limit(MOST_HISTORY)
    ).all()
    return [{"reply": json.loads(row[0]), "verdict": verdict_of(row[1])} for row in reversed(found)]


def standings(c: Connection, seat_id: str) -> dict[str, Standing]:
    """Task id → standing, for one seat."""
    return {row["task"]: row for row in every(Standing, c, select(standing).where(standing.c.seat_id == seat_id))}


def stand_of(c: Connection, seat_id: str, task: str) -> Standing | None:
    return one(Standing, c, select(standing).where(standing.c.seat_id == seat_id, standing.c.task == task))


def _seats(period_id: str, *, removed: bool) -> ColumnElement[bool]:
    """Those who are in a period's room; `removed`: those put out as well."""
    return seat.c.period_id == period_id if removed else (seat.c.period_id == period_id) & seat.c.removed.is_(False)


def class_standings(c: Connection, period_id: str, *, removed: bool = False) -> list[Standing]:
    """Every standing of a period's seats; `removed`: also of those put out, for the records."""
    mine = select(standing).join(seat, seat.c.id == standing.c.seat_id).where(_seats(period_id, removed=removed))
    return every(Standing, c, mine)


def class_figures(c: Connection, period_id: str) -> list[Drawn]:
    """The figure of each seat's newest work: seat_id, task, figure (JSON text), at; newest last."""
    drawn = (
        select(work.c.seat_id, work.c.task, work.c.figure, work.c.at)
        .join(seat, seat.c.id == work.c.seat_id)
        .where(seat.c.period_id == period_id)
        .order_by(work.c.at)
    )
    return every(Drawn, c, drawn)


def last_replies(c: Connection, period_id: str, task: str) -> list[Replied]:
    """The newest reply to a task of each seat that is in the room: seat_id, id, payload, verdict, attempt, at."""
    newest = (
        select(reply.c.seat_id, func.max(reply.c.attempt).label("attempt"))
        .join(seat, seat.c.id == reply.c.seat_id)
        .where(_seats(period_id, removed=False), reply.c.task == task)
        .group_by(reply.c.seat_id)
        .subquery()
    )
    found = (
        select(reply)
        .join(newest, (newest.c.seat_id == reply.c.seat_id) & (newest.c.attempt == reply.c.attempt))
        .join(seat, seat.c.id == reply.c.seat_id)
        .where(reply.c.task == task)
        # In one moment, those who came in first stand first: the list must not change its order when it is read again.
        .order_by(reply.c.at, seat.c.made, seat.c.name)
    )
    return [_read(row) for row in every(Reply, c, found)]


def _read(row: Reply) -> Replied:
    return {**row, "payload": json.loads(row["payload"]), "verdict": verdict_of(row["verdict"])}


def verdicts(c: Connection, period_id: str) -> list[tuple[str, Kept]]:
    """(seat, verdict) of every reply of a period, oldest first."""
    found = c.execute(
        select(reply.c.seat_id, reply.c.verdict)
        .join(seat, seat.c.id == reply.c.seat_id)
        .where(seat.c.period_id == period_id)
        .order_by(reply.c.at)
    )
    return [(str(row[0]), verdict_of(row[1])) for row in found]


def all_of_seat(c: Connection, seat_id: str) -> list[Replied]:
    """Everything a seat has handed in, oldest first (for its own record)."""
    found = select(reply).where(reply.c.seat_id == seat_id).order_by(reply.c.at, reply.c.attempt)
    return [_read(row) for row in every(Reply, c, found)]


def reopen(c: Connection, seat_id: str, task: str) -> bool:
    """Let a handed-in task be answered again (A-24); False if there was nothing to re-open."""
    where = (standing.c.seat_id == seat_id) & (standing.c.task == task)
    return c.execute(update(standing).where(where).values(reopened=True)).rowcount > 0
