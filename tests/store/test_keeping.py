"""Retention and erasure (PD-4, PD-5): by a clock that the test moves, and by reading the file's
bytes.
"""

from __future__ import annotations

from pathlib import Path

import pytest

from app.store import keeping, people, periods, replies, seats
from app.store.keeping import DAY
from app.store.store import Store

NOW = 1_900_000_000_000
VERDICT = {"ok": True, "done": True, "code": "right", "text": "It follows.", "score": 1.0}


def teacher(store: Store) -> str:
    def make(c):  # type: ignore[no-untyped-def]
        link = people.put_invite(c, "teacher", NOW)
        return people.use_invite(c, link, "hash", NOW)

    return str(store.write(make))


def fill(store: Store, teacher_id: str, mark: str, now: int = NOW) -> tuple[str, str]:
    """A period with one seat that has worked and replied; (period, seat)."""

    def make(c):  # type: ignore[no-untyped-def]
        period = periods.add(c, teacher_id, f"Hour {mark}", "small", now, arranged={})
        seat = seats.add(c, period, "typed", f"Name {mark}", f"name {mark}", "Calm Arc", now)["id"]
        people.open_seat(c, seat, now)
        replies.put_work(c, seat, "first", 1, {"note": f"work {mark}"}, None, now)
        replies.put_reply(c, seat, "reply-0001", "first", 1, {"note": f"reply {mark}"}, VERDICT, now)
        return period, seat

    return store.write(make)


def bytes_of(folder: Path) -> bytes:
    return b"".join(path.read_bytes() for path in sorted(folder.glob("a.db*")))


@pytest.mark.parametrize("what", ["seat", "period", "all"])
def test_erased_is_gone_from_the_file(file_store: Store, tmp_path: Path, what: str) -> None:
    store = file_store
    owner = teacher(store)
    gone_period, gone_seat = fill(store, owner, "gone-4417")
    kept = fill(store, owner, "kept-9902") if what != "all" else None
    assert b"gone-4417" in bytes_of(tmp_path)

    erase = {
        "seat": lambda c: keeping.erase_seat(c, gone_seat),
        "period": lambda c: keeping.erase_period(c, gone_period),
        "all": lambda c: keeping.erase_all(c, owner),
    }[what]
    counts = store.write(erase)
    store.scrub()

    assert counts == {"replies": 1, "works": 1, "names": 0, "seats": 1, "periods": 0 if what == "seat" else 1}
    left = bytes_of(tmp_path)
    for trace in (b"Name gone-4417", b"work gone-4417", b"reply gone-4417", gone_seat.encode()):
        assert trace not in left, trace
    if kept:
        assert b"work kept-9902" in left


def test_erasure_waits_for_readers(file_store: Store, tmp_path: Path) -> None:
    """A page that is being read keeps the old log alive for a moment; the erasure still finishes clean."""
    store = file_store
    import threading
    import time

    owner = teacher(store)
    period, seat = fill(store, owner, "gone-4417")
    reading = threading.Event()

    def slow(c):  # type: ignore[no-untyped-def]
        seats.of_period(c, period)
        reading.set()
        time.sleep(0.4)

    thread = threading.Thread(target=store.read, args=(slow,))
    thread.start()
    reading.wait(5)
    store.write(lambda c: keeping.erase_period(c, period))
    store.scrub()
    thread.join()

    assert seat.encode() not in bytes_of(tmp_path)


@pytest.mark.parametrize(
    ("ended", "age", "left"),
    [
        (True, 29 * DAY, 1),  # kept until 30 days after the class ended
        (True, 31 * DAY, 0),
        (False, 399 * DAY, 1),  # a class that nobody ended: 400 days at the most
        (False, 401 * DAY, 0),
    ],
)
def test_retention(store: Store, ended: bool, age: int, left: int) -> None:
    period, _ = fill(store, teacher(store), "old")
    if ended:
        store.write(lambda c: periods.end(c, period, NOW))
    store.write(lambda c: keeping.purge(c, NOW + age))

    size = store.read(keeping.size)
    assert (size["period"], size["seat"], size["reply"], size["work"], size["standing"]) == (left,) * 5


def test_what_was_done_alone_is_kept_thirty_days(store: Store) -> None:
    def work(c):  # type: ignore[no-untyped-def]
        seats.add_alone(c, "alone-seat", "small", NOW)
        replies.put_work(c, "alone-seat", "first", 1, {}, None, NOW)

    store.write(work)
    store.write(lambda c: keeping.purge(c, NOW + 29 * DAY))
    assert store.read(keeping.size)["work"] == 1
    store.write(lambda c: keeping.purge(c, NOW + 31 * DAY))
    assert store.read(keeping.size)["work"] == 0


def test_nothing_kept_opens_anything(file_store: Store, tmp_path: Path) -> None:
    """The file holds hashes of tokens, not tokens (V-01)."""
    store = file_store
    owner = teacher(store)
    _, seat = fill(store, owner, "x")
    tokens = [
        store.write(lambda c: people.open_desk(c, owner, NOW)),
        store.write(lambda c: people.open_seat(c, seat, NOW)),
        store.write(lambda c: people.put_invite(c, "other", NOW)),
    ]
    kept = bytes_of(tmp_path)
    for token in tokens:
        assert len(token) >= 22  # 128 bits in base 64
        assert token.encode() not in kept
