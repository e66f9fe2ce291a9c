"""Rows as the store hands them out: one typed dict a table (tests/store/test_rows.py holds them to the tables)."""

from __future__ import annotations

from typing import Any, TypedDict, TypeVar, cast

from sqlalchemy import Connection, Executable

__all__ = [
    "Column",
    "Connection",
    "DeskSession",
    "Drawn",
    "Invite",
    "Kept",
    "Period",
    "PeriodOfTeacher",
    "Replied",
    "Reply",
    "Seat",
    "Seated",
    "Session",
    "Standing",
    "Teacher",
    "Work",
    "every",
    "one",
]

Column = bool | int | float | str | None  # what a column holds
Kept = dict[str, Any]  # a JSON object as it was kept
R = TypeVar("R")


def one(shape: type[R], c: Connection, asked: Executable) -> R | None:
    """The first row that is found, or None."""
    row = c.execute(asked).mappings().first()
    return None if row is None else cast(R, dict(row))


def every(shape: type[R], c: Connection, asked: Executable) -> list[R]:
    """Every row that is found."""
    return [cast(R, dict(row)) for row in c.execute(asked).mappings()]


class Teacher(TypedDict):
    id: str
    name: str
    passphrase: str
    made: int


class Invite(TypedDict):
    token_hash: str
    name: str
    made: int
    ends: int


class Period(TypedDict):
    id: str
    teacher_id: str
    title: str
    pack: str
    house: str
    profile: str
    made: int
    ended: int | None
    code: str | None
    code_ends: int | None
    arrangement: str
    follow: bool
    frozen: bool
    step: str | None
    tally: str | None
    stage: str | None
    stage_to: str
    board_nonce: str
    places: int
    pack_copy: str | None


class PeriodOfTeacher(Period):
    seats: int


class Seat(TypedDict):
    id: str
    period_id: str | None  # None: somebody who works alone
    pack: str | None
    kind: str
    name: str
    folded: str
    alias: str
    approved: bool
    hidden: bool
    released: bool
    removed: bool
    here: str | None
    return_nonce: str
    made: int
    seen: int


class Seated(Seat):
    """A seat with the session that a browser has it by."""

    session_hash: str


class Session(TypedDict):
    token_hash: str
    kind: str
    teacher_id: str | None
    seat_id: str | None
    made: int
    seen: int
    ends: int


class DeskSession(TypedDict):
    """A session that a teacher is signed in by."""

    token_hash: str
    kind: str
    teacher_id: str
    seat_id: None
    made: int
    seen: int
    ends: int


class Standing(TypedDict):
    seat_id: str
    task: str
    replies: int
    refused: int
    done: bool
    ok: bool
    code: str
    text: str
    score: float
    status: str
    reopened: bool
    late: bool
    missing: bool
    incomplete: bool
    at: int


class Work(TypedDict):
    seat_id: str
    task: str
    n: int
    work: str
    figure: str | None
    at: int


class Drawn(TypedDict):
    """The figure of a seat's work."""

    seat_id: str
    task: str
    figure: str | None
    at: int


class Reply(TypedDict):
    seat_id: str
    id: str
    task: str
    attempt: int
    seed: int
    payload: str
    verdict: str
    at: int


class Replied(TypedDict):
    """A reply with what was sent and what was said of it, read."""

    seat_id: str
    id: str
    task: str
    attempt: int
    seed: int
    payload: Kept
    verdict: Kept
    at: int
