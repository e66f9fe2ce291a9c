"""Seats: who sits where in a period, and those who work alone."""

from __future__ import annotations

from contextlib import suppress

from sqlalchemy import ColumnElement, Connection, func, insert, select, update
from sqlalchemy.exc import IntegrityError

from app.classroom.names import fold
from app.store.ids import new_id
from app.store.rows import Column, Seat, every, one
from app.store.tables import period, seat, session


class RoomFull(Exception):
    """The class has as many seats as its teacher gave it places."""


def find_place(c: Connection, period_id: str, folded: str) -> Seat | None:
    """The seat under this name, None where there is none and there is room for another; else raises RoomFull.

    To be asked in the transaction that then adds the seat: the period's row is held until it ends, so that those who
    come at the same moment are counted one after another. (SQLite has one writer anyway, and takes no such lock.)
    """
    held = select(period.c.places).where(period.c.id == period_id).with_for_update()
    places = int(c.execute(held).scalar() or 0)
    taken = by_name(c, period_id, folded)
    if taken is None and count(c, period_id) >= places:
        raise RoomFull
    return taken


def add(c: Connection, period_id: str, kind: str, name: str, folded: str, alias: str, now: int) -> Seat:
    """Seat somebody under a name that `find_place` has found free; a typed name waits for the teacher's approval."""
    values = {
        "id": new_id(),
        "period_id": period_id,
        "kind": kind,
        "name": name,
        "folded": folded,
        "alias": alias,
        "approved": kind != "typed",
        "return_nonce": new_id(),
        "made": now,
        "seen": now,
    }
    c.execute(insert(seat).values(**values))
    made = find(c, str(values["id"]))
    assert made is not None
    return made


def add_alone(c: Connection, seat_id: str, pack: str, now: int) -> None:
    """The seat of somebody who works alone, made when there is first something to keep."""
    values = {
        "id": seat_id,
        "pack": pack,
        "kind": "alone",
        "name": "",
        "folded": seat_id,
        "alias": "",
        "approved": False,
        "return_nonce": new_id(),
        "made": now,
        "seen": now,
    }
    if find(c, seat_id) is not None:
        return
    # Another request of the same browser may have been quicker.
    with suppress(IntegrityError), c.begin_nested():
        c.execute(insert(seat).values(**values))


def find(c: Connection, seat_id: str) -> Seat | None:
    return one(Seat, c, select(seat).where(seat.c.id == seat_id))


def by_name(c: Connection, period_id: str, folded: str) -> Seat | None:
    return one(Seat, c, select(seat).where(seat.c.period_id == period_id, seat.c.folded == folded))


def of_period(c: Connection, period_id: str, *, removed: bool = False) -> list[Seat]:
    """The seats of a period in the order of arrival; `removed`: those put out as well, for the records."""
    which = seat.c.period_id == period_id
    if not removed:
        which &= seat.c.removed.is_(False)
    return every(Seat, c, select(seat).where(which).order_by(seat.c.made, seat.c.name, seat.c.id))


def count(c: Connection, period_id: str) -> int:
    """How many places of a period are taken, those put out not counted."""
    which = (seat.c.period_id == period_id) & seat.c.removed.is_(False)
    return int(c.execute(select(func.count()).select_from(seat).where(which)).scalar_one())


def folded_names(c: Connection, period_id: str) -> set[str]:
    """Every name and alias in use, folded."""
    found = c.execute(select(seat.c.folded, seat.c.alias).where(seat.c.period_id == period_id)).all()
    return {str(row[0]) for row in found} | {fold(str(row[1])) for row in found}


def _left(period_id: str, now: int) -> ColumnElement[bool]:
    """Seats of the room in which no browser is signed in, and that nobody may take: of another day, or left."""
    signed_in = select(session.c.seat_id).where(session.c.seat_id == seat.c.id, session.c.ends > now).exists()
    return (seat.c.period_id == period_id) & seat.c.removed.is_(False) & seat.c.released.is_(False) & ~signed_in


def left(c: Connection, period_id: str, now: int) -> int:
    """How many places wait for somebody who can't come back by their name or number."""
    return int(c.execute(select(func.count()).select_from(seat).where(_left(period_id, now))).scalar_one())


def release_left(c: Connection, period_id: str, now: int) -> None:
    """Let each of them be taken again by whoever gives its name or number. Personal links stay good."""
    c.execute(update(seat).where(_left(period_id, now)).values(released=True))


def change(c: Connection, seat_id: str, **values: Column) -> None:
    c.execute(update(seat).where(seat.c.id == seat_id).values(**values))


def remove(c: Connection, seat_id: str) -> None:
    """Put a seat out of the room: its personal link is void and its name is free again; the work stays."""
    values = {"removed": True, "hidden": True, "return_nonce": new_id(), "folded": f"removed {seat_id}"}
    c.execute(update(seat).where(seat.c.id == seat_id).values(**values))
