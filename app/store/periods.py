"""Periods: one class meeting each, with its door, its stage and the teacher's own examples."""

from __future__ import annotations

import json

from sqlalchemy import Connection, delete, func, insert, select, update
from sqlalchemy.exc import IntegrityError

from app.store.ids import new_id
from app.store.people import HOUR
from app.store.rows import Period, PeriodOfTeacher, every, one
from app.store.tables import arrangement, own_task, pack_copy, period, seat

DOOR_MOST = 12 * HOUR


def add(
    c: Connection,
    teacher_id: str,
    title: str,
    pack: str,
    now: int,
    *,
    arranged: dict[str, list[str]],
    house: str = "us",
) -> str:
    """Open a period; its door is still closed. Returns its id."""
    period_id = new_id()
    c.execute(
        insert(period).values(
            id=period_id,
            teacher_id=teacher_id,
            title=title,
            pack=pack,
            made=now,
            house=house,
            arrangement=json.dumps(arranged),
            board_nonce=new_id(),
            stage_to="board",
        )
    )
    return period_id


def find(c: Connection, period_id: str) -> Period | None:
    return one(Period, c, select(period).where(period.c.id == period_id))


def by_code(c: Connection, code: str, now: int) -> Period | None:
    """The period whose door stands open for this code."""
    open_ = (period.c.code == code) & (period.c.code_ends > now) & period.c.ended.is_(None)
    return one(Period, c, select(period).where(open_))


def meeting(c: Connection, pack: str, now: int) -> list[Period]:
    """The periods on a pack that meet just now: not ended, and the door open or a seat used in the last two hours."""
    lately = select(seat.c.id).where(seat.c.period_id == period.c.id, seat.c.seen > now - 2 * HOUR).exists()
    on = select(period).where(period.c.pack == pack, period.c.ended.is_(None), (period.c.code_ends > now) | lately)
    return every(Period, c, on)


def of_teacher(c: Connection, teacher_id: str) -> list[PeriodOfTeacher]:
    """The teacher's periods, newest first, each with the number of its seats."""
    seats = select(func.count()).where(seat.c.period_id == period.c.id).scalar_subquery()
    mine = select(period, seats.label("seats")).where(period.c.teacher_id == teacher_id)
    return every(PeriodOfTeacher, c, mine.order_by(period.c.made.desc()))


def change(c: Connection, period_id: str, **values: object) -> None:
    """Set columns of a period; `stage` and `arrangement` are given as JSON data."""
    for key in ("stage", "arrangement"):
        if key in values and values[key] is not None:
            values[key] = json.dumps(values[key], ensure_ascii=True, separators=(",", ":"))
    c.execute(update(period).where(period.c.id == period_id).values(**values))


def open_door(c: Connection, period_id: str, codes: list[str], now: int) -> str | None:
    """Open the door under the first of `codes` that no other door uses; None if all are taken."""
    c.execute(update(period).where(period.c.code_ends < now).values(code=None, code_ends=None))
    for code in codes:
        try:
            with c.begin_nested():
                change(c, period_id, code=code, code_ends=now + DOOR_MOST)
        except IntegrityError:
            continue
        return code
    return None


def close_door(c: Connection, period_id: str) -> None:
    change(c, period_id, code=None, code_ends=None)


def end(c: Connection, period_id: str, now: int) -> None:
    """The class is over: the door closes, and no seat of an ended period is open to anybody (V-02). The work stays.

    The sessions themselves run on: where the teacher takes the period up again, each browser has its seat back
    without a release.
    """
    change(c, period_id, code=None, code_ends=None, ended=now)


def keep_copy(c: Connection, period_id: str, digest: str, texts: str) -> None:
    """Let the period work through this copy of its pack from now on. Copies that no period has any more go."""
    if c.execute(select(pack_copy.c.digest).where(pack_copy.c.digest == digest)).scalar() is None:
        c.execute(insert(pack_copy).values(digest=digest, texts=texts))
    change(c, period_id, pack_copy=digest)
    used = select(period.c.pack_copy).where(period.c.pack_copy.is_not(None))
    c.execute(delete(pack_copy).where(pack_copy.c.digest.not_in(used)))


def copied(c: Connection, digest: str) -> str | None:
    """The texts of a copy, as JSON."""
    found = c.execute(select(pack_copy.c.texts).where(pack_copy.c.digest == digest)).scalar()
    return None if found is None else str(found)


def put_own(c: Connection, period_id: str, task: dict[str, object], now: int) -> str:
    """Add a teacher's own example; returns the task's id (own-1, own-2, …)."""
    n = int(c.execute(select(func.count()).where(own_task.c.period_id == period_id)).scalar_one()) + 1
    task = {**task, "id": f"own-{n}"}
    c.execute(insert(own_task).values(period_id=period_id, id=task["id"], task=json.dumps(task), made=now))
    return str(task["id"])


def own(c: Connection, period_id: str) -> list[dict[str, object]]:
    found = c.execute(select(own_task.c.task).where(own_task.c.period_id == period_id).order_by(own_task.c.made))
    return [json.loads(row[0]) for row in found]


def arranged(c: Connection, teacher_id: str, pack: str) -> dict[str, list[str]]:
    """How this teacher has arranged the pack: {"order": [part ids], "hidden": [part ids]}, or {}."""
    where = (arrangement.c.teacher_id == teacher_id) & (arrangement.c.pack == pack)
    found = c.execute(select(arrangement.c.parts).where(where)).scalar()
    return {} if found is None else dict(json.loads(found))


def arrange(c: Connection, teacher_id: str, pack: str, parts: dict[str, list[str]]) -> None:
    where = (arrangement.c.teacher_id == teacher_id) & (arrangement.c.pack == pack)
    c.execute(delete(arrangement).where(where))
    c.execute(insert(arrangement).values(teacher_id=teacher_id, pack=pack, parts=json.dumps(parts)))
