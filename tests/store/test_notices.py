"""Notices reach everybody who listens: in one process by a call, between processes by PostgreSQL."""

from __future__ import annotations

import threading
import time

from app.store.notices import LocalNotices, Notice, PostgresNotices
from app.store.store import Store


def test_within_one_process() -> None:
    notices, heard = LocalNotices(), []
    notices.listen(heard.append)
    notices.publish(Notice("p1", ("stage",)))
    notices.publish(Notice("p1", ("seats",), "s1"))

    assert heard == [Notice("p1", ("stage",), None), Notice("p1", ("seats",), "s1")]


def test_between_processes(postgres_url: str) -> None:
    """Two stores on one database, as two processes have them: each hears the other and itself, soon."""
    stores = [Store(postgres_url), Store(postgres_url)]
    carriers = [PostgresNotices(store.open()) for store in stores]
    heard: list[list[tuple[float, Notice]]] = [[], []]
    got = threading.Semaphore(0)
    for carrier, mine in zip(carriers, heard, strict=True):

        def note(notice: Notice, mine: list[tuple[float, Notice]] = mine) -> None:
            mine.append((time.monotonic(), notice))
            got.release()

        carrier.listen(note)
    began = time.monotonic()
    carriers[0].publish(Notice("p1", ("stage", "step")))
    carriers[1].publish(Notice("p2", ("seats",), "s9"))
    for _ in range(4):
        assert got.acquire(timeout=10)

    for mine in heard:
        assert sorted(notice.period for _, notice in mine) == ["p1", "p2"]
        assert all(at - began < 8 for at, _ in mine)
    for carrier, store in zip(carriers, stores, strict=True):
        carrier.close()
        store.close()


def test_two_servers_on_one_database(postgres_url: str) -> None:
    """A change made through one server raises the version that the other one tells."""
    from app.store import people, periods
    from app.web.server import Server

    one, two = (Server({"DATABASE_URL": postgres_url}) for _ in range(2))
    link = one.store.write(lambda c: people.put_invite(c, "teacher", one.now()))
    teacher = one.store.write(lambda c: people.use_invite(c, link, "hash", one.now()))
    assert teacher is not None
    period = one.store.write(lambda c: periods.add(c, teacher, "Hour", "small", one.now(), arranged={}))
    two_row = two.hub.period(period)
    assert two_row is not None and not two_row["follow"]
    before = two.hub.version("seat", period, "s")

    one.store.write(lambda c: periods.change(c, period, follow=True))
    one.hub.publish(period, "follow")
    deadline = time.monotonic() + 10
    while two.hub.version("seat", period, "s") == before and time.monotonic() < deadline:
        time.sleep(0.01)

    assert two.hub.version("seat", period, "s") == before + 1
    seen = two.hub.period(period)
    assert seen is not None and seen["follow"]
    one.close()
    two.close()
