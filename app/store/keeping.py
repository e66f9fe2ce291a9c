"""How long things are kept, and erasing them with a count (PD-4, PD-5).

Work and replies stay until 30 days after the period's end, and never more than 400 days; what somebody did
alone stays 30 days. The caller runs `Store.scrub()` after an erasure, so that the file holds no trace
either.
"""

from __future__ import annotations

from sqlalchemy import ColumnElement, Connection, Select, delete, func, literal, or_, select

from app.store.people import HOUR
from app.store.tables import (
    arrangement,
    invite,
    own_task,
    period,
    real_name,
    reply,
    seat,
    session,
    standing,
    teacher,
    work,
)

DAY = 24 * HOUR
AFTER_END = 30 * DAY
MOST = 400 * DAY
ALONE = 30 * DAY
AT_A_TIME = 8  # seats that are erased before it is looked again how much is left

Counts = dict[str, int]


def erase_seat(c: Connection, seat_id: str) -> Counts:
    return _erase(c, seat.c.id == seat_id, None)


def erase_period(c: Connection, period_id: str) -> Counts:
    return _erase(c, seat.c.period_id == period_id, period.c.id == period_id)


def erase_all(c: Connection, teacher_id: str) -> Counts:
    """Every period of this teacher, with its seats; the sign-in stays."""
    periods = select(period.c.id).where(period.c.teacher_id == teacher_id)
    counts = _erase(c, seat.c.period_id.in_(periods), period.c.teacher_id == teacher_id)
    c.execute(delete(arrangement).where(arrangement.c.teacher_id == teacher_id))
    return counts


def erase_everything(c: Connection) -> Counts:
    """All classes of all teachers, for a machine that changes hands; sign-ins stay."""
    counts = _erase(c, seat.c.id.is_not(None), period.c.id.is_not(None))
    c.execute(delete(arrangement))
    return counts


def _over(now: int) -> tuple[ColumnElement[bool], ColumnElement[bool]]:
    """(which seats, which periods) have been kept long enough."""
    over = or_(period.c.ended < now - AFTER_END, period.c.made < now - MOST)
    alone = (seat.c.period_id.is_(None)) & (seat.c.seen < now - ALONE)
    return or_(seat.c.period_id.in_(select(period.c.id).where(over)), alone), over


def due(c: Connection, now: int) -> int:
    """How many seats and periods the next purge would erase."""
    of_seats, of_periods = _over(now)
    return sum(
        int(c.execute(select(func.count()).select_from(table).where(which)).scalar_one())
        for table, which in ((seat, of_seats), (period, of_periods))
    )


def newest(c: Connection) -> int | None:
    """The last time that anything here was made, seen or sent, in milliseconds; None where nothing is kept."""
    columns = (period.c.made, period.c.ended, seat.c.made, seat.c.seen, session.c.seen, work.c.at, reply.c.at)
    times = [c.execute(select(func.max(column))).scalar() for column in columns]
    return max((int(at) for at in times if at is not None), default=None)


def alone_bytes(c: Connection, seat_id: str | None = None) -> int:
    """How much is kept of what people did alone: characters of work, figures and replies; of one seat, or of all."""
    total = 0
    for table, columns in ((work, (work.c.work, work.c.figure)), (reply, (reply.c.payload, reply.c.verdict))):
        size = sum((func.coalesce(func.length(column), 0) for column in columns), start=literal(0))
        found = select(func.sum(size)).select_from(table)
        if seat_id is not None:
            found = found.where(table.c.seat_id == seat_id)
        else:
            found = found.join(seat, seat.c.id == table.c.seat_id).where(seat.c.period_id.is_(None))
        total += int(c.execute(found).scalar() or 0)
    return total


def make_room(c: Connection, most: int, but: str) -> int:
    """Erase the oldest work of those who work alone, but for one seat, until at most `most` characters are left.
    How many seats went.
    """
    gone = 0
    while alone_bytes(c) > most:
        others = (seat.c.period_id.is_(None)) & (seat.c.id != but)
        oldest = select(seat.c.id).where(others).order_by(seat.c.seen).limit(AT_A_TIME)
        names = [str(row[0]) for row in c.execute(oldest)]
        if not names:
            break
        _erase(c, seat.c.id.in_(names), None)
        gone += len(names)
    return gone


def purge(c: Connection, now: int) -> Counts:
    """Erase what has been kept long enough; run at each start and once a day."""
    counts = _erase(c, *_over(now))
    c.execute(delete(session).where(session.c.ends < now))
    c.execute(delete(invite).where(invite.c.ends < now))
    return counts


def _erase(c: Connection, which: ColumnElement[bool], periods: ColumnElement[bool] | None) -> Counts:
    """Erase seats and, if asked, periods, with all that hangs on them; how many of each went."""
    gone: Select[tuple[str]] = select(seat.c.id).where(which)
    counts = {
        name: int(c.execute(select(func.count()).select_from(table).where(table.c.seat_id.in_(gone))).scalar_one())
        for name, table in (("replies", reply), ("works", work), ("names", real_name))
    }
    counts["seats"] = int(c.execute(select(func.count()).select_from(seat).where(which)).scalar_one())
    # Each table by name, not left to the cascade: an erasure must not depend on a setting of the
    # connection.
    for table in (reply, work, standing, real_name, session):
        c.execute(delete(table).where(table.c.seat_id.in_(gone)))
    c.execute(delete(seat).where(which))
    counts["periods"] = 0
    if periods is not None:
        counts["periods"] = int(c.execute(select(func.count()).select_from(period).where(periods)).scalar_one())
        c.execute(delete(own_task).where(own_task.c.period_id.in_(select(period.c.id).where(periods))))
        c.execute(delete(period).where(periods))
    return counts


def size(c: Connection) -> Counts:
    """How many rows are kept, by table (for the Desk's page on data, and for tests)."""
    tables = (teacher, period, seat, session, work, reply, standing, own_task, real_name)
    return {t.name: int(c.execute(select(func.count()).select_from(t)).scalar_one()) for t in tables}
