"""Teachers, set-up links and sessions.

Every function takes the connection first and runs inside the caller's transaction. Times are milliseconds.
"""

from __future__ import annotations

from sqlalchemy import Connection, delete, func, insert, select, update

from app.store.ids import hashed, new_id, new_token
from app.store.rows import Invite, Seated, Session, Teacher, every, one
from app.store.tables import invite, period, seat, session, teacher

MINUTE = 60_000
HOUR = 60 * MINUTE
DESK_IDLE, DESK_MOST = 60 * MINUTE, 12 * HOUR
SEAT_MOST = 12 * HOUR
INVITE_MOST = 72 * HOUR


def count_teachers(c: Connection) -> int:
    return int(c.execute(select(func.count()).select_from(teacher)).scalar_one())


def teachers(c: Connection) -> list[Teacher]:
    return every(Teacher, c, select(teacher).order_by(teacher.c.made))


def put_invite(c: Connection, name: str, now: int, *, beside: bool = False) -> str:
    """A new set-up link for `name`; an older one for the same name stops working. Returns its token.

    `beside`: older links stay good until one of them is used, as where a server that nobody has set up yet is
    started again.
    """
    token = new_token()
    old = invite.c.ends < now
    c.execute(delete(invite).where(old if beside else old | (invite.c.name == name)))
    c.execute(insert(invite).values(token_hash=hashed(token), name=name, made=now, ends=now + INVITE_MOST))
    return token


def find_invite(c: Connection, token: str, now: int) -> Invite | None:
    return one(Invite, c, select(invite).where(invite.c.token_hash == hashed(token), invite.c.ends > now))


def use_invite(c: Connection, token: str, passphrase: str, now: int) -> str | None:
    """Spend the link: set the passphrase of the teacher it names (made now if new). None for a dead link.

    A new passphrase ends every session of that teacher. Returns the teacher's id.
    """
    found = find_invite(c, token, now)
    if found is None:
        return None
    if not c.execute(delete(invite).where(invite.c.token_hash == found["token_hash"])).rowcount:
        return None  # somebody else was quicker by a moment
    c.execute(delete(invite).where(invite.c.name == found["name"]))
    known = one(Teacher, c, select(teacher).where(teacher.c.name == found["name"]))
    if known is None:
        teacher_id = new_id()
        c.execute(insert(teacher).values(id=teacher_id, name=found["name"], passphrase=passphrase, made=now))
    else:
        teacher_id = str(known["id"])
        c.execute(update(teacher).where(teacher.c.id == teacher_id).values(passphrase=passphrase))
        c.execute(delete(session).where(session.c.teacher_id == teacher_id))
    return teacher_id


def open_desk(c: Connection, teacher_id: str, now: int) -> str:
    """Sign a teacher in; returns the session token."""
    return _open(c, "desk", now, DESK_MOST, teacher_id=teacher_id)


def open_seat(c: Connection, seat_id: str, now: int, *, alone: bool = False) -> str:
    """Let a browser take a seat. `alone`: every other browser in it is put out."""
    if alone:
        c.execute(delete(session).where(session.c.seat_id == seat_id))
    return _open(c, "seat", now, SEAT_MOST, seat_id=seat_id)


def _open(c: Connection, kind: str, now: int, most: int, **of: str) -> str:
    c.execute(delete(session).where(session.c.ends < now))
    token = new_token()
    c.execute(insert(session).values(token_hash=hashed(token), kind=kind, made=now, seen=now, ends=now + most, **of))
    return token


def find_session(c: Connection, kind: str, token: str, now: int) -> Session | None:
    """The live session behind a token. A Desk left idle for an hour is closed."""
    found = one(
        Session,
        c,
        select(session).where(session.c.token_hash == hashed(token), session.c.kind == kind, session.c.ends > now),
    )
    if found is not None and kind == "desk" and found["seen"] + DESK_IDLE < now:
        return None
    return found


def find_seat(c: Connection, token: str, now: int) -> Seated | None:
    """The seat behind a seat's token, with the session's hash as `session_hash`; None when it has ended, and while its
    period is over (V-02).
    """
    found = select(seat, session.c.token_hash.label("session_hash")).join(session, session.c.seat_id == seat.c.id)
    mine = (session.c.token_hash == hashed(token)) & (session.c.kind == "seat") & (session.c.ends > now)
    over = select(period.c.id).where(period.c.id == seat.c.period_id, period.c.ended.is_not(None)).exists()
    return one(Seated, c, found.where(mine, ~over))


def has_seat(c: Connection, token: str, now: int) -> bool:
    """Whether a seat's token is good, or will be when the teacher takes the ended period up again."""
    mine = (session.c.token_hash == hashed(token)) & (session.c.kind == "seat") & (session.c.ends > now)
    return c.execute(select(session.c.token_hash).where(mine)).first() is not None


def touch(c: Connection, token_hash: str, now: int) -> None:
    """Note that the session was used."""
    c.execute(update(session).where(session.c.token_hash == token_hash).values(seen=now))


def close_session(c: Connection, token: str) -> None:
    c.execute(delete(session).where(session.c.token_hash == hashed(token)))


def close_seats(c: Connection, seats: list[str]) -> None:
    """End every session of these seats."""
    c.execute(delete(session).where(session.c.seat_id.in_(seats)))


def has_session(c: Connection, token_hash: str, now: int) -> bool:
    """Whether a session (by the hash of its token) is still open; a Desk is closed after an hour of rest."""
    found = one(Session, c, select(session).where(session.c.token_hash == token_hash))
    if found is None or found["ends"] <= now:
        return False
    return bool(found["kind"] != "desk" or found["seen"] + DESK_IDLE >= now)
