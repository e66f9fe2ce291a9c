"""The store: one engine, one writer.

SQLite takes one writer at a time. Rather than let threads queue for its lock, every change goes to one
writer thread, which gathers whatever is waiting into one transaction, commits once with the disk flushed
(`synchronous=FULL`), and only then answers each. So an acknowledged change survives a killed process, and
a whole class handing in at once costs a few commits. PostgreSQL does this itself: there each change is its
own transaction.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from concurrent.futures import Future
from functools import partial
from queue import Empty, SimpleQueue
from threading import Lock, Thread
from typing import Any, TypeVar

from sqlalchemy import Connection, Engine, create_engine, event
from sqlalchemy.engine import make_url
from sqlalchemy.exc import DBAPIError, OperationalError
from sqlalchemy.pool import StaticPool

from app.store.faults import StoreFull
from app.store.migrate import upgrade

T = TypeVar("T")
Job = Callable[[Connection], object]

MOST_IN_ONE_COMMIT = 256
# What the databases say when there is no room (SQLite's SQLITE_FULL; PostgreSQL's 53100).
FULL = ("database or disk is full", "no space left", "disk full")


def now_ms() -> int:
    """The server's clock: whole milliseconds since 1970, UTC."""
    return time.time_ns() // 1_000_000


class StoreClosed(RuntimeError):
    """A change was asked for after `close()`."""


class Store:
    """Reads and writes. Nothing is opened before the first use (or `open()`)."""

    def __init__(self, url: str, clock: Callable[[], int] = now_ms) -> None:
        self.url = make_url(url)
        self.clock = clock
        self._lock = Lock()
        self._engine: Engine | None = None
        self._writer: _Writer | None = None
        self._closed = False

    @property
    def sqlite(self) -> bool:
        return self.url.get_backend_name() == "sqlite"

    @property
    def in_memory(self) -> bool:
        return self.sqlite and self.url.database in (None, "", ":memory:")

    def open(self) -> Engine:
        """Connect, bring the tables up to date, start the writer. Safe to call again and from any
        thread.
        """
        if self._engine is not None:
            return self._engine
        with self._lock:
            if self._closed:
                raise StoreClosed
            if self._engine is None:
                engine = (
                    _sqlite_engine(self)
                    if self.sqlite
                    else create_engine(self.url, pool_size=16, max_overflow=48, hide_parameters=True)
                )
                upgrade(engine)
                if self.sqlite:
                    self._writer = _Writer(engine)
                self._engine = engine
        return self._engine

    def read(self, job: Callable[[Connection], T]) -> T:
        """Answer a question from a consistent snapshot."""
        engine = self.open()
        if self.in_memory and self._writer:  # one shared connection: take turns on the writer's thread
            return self._writer.do(job)
        with engine.connect() as connection:
            return job(connection)

    def write(self, job: Callable[[Connection], T]) -> T:
        """Make a change; returns what `job` returned, after the commit. An exception undoes this job
        alone.
        """
        engine = self.open()
        try:
            if self._writer:
                return self._writer.do(job)
            with engine.begin() as connection:
                return job(connection)
        except OperationalError as fault:
            if any(sign in str(fault.orig).lower() for sign in FULL):
                raise StoreFull from None
            raise

    def scrub(self) -> None:
        """After an erasure: leave no trace of erased rows in the file or its log (PD-5)."""
        engine = self.open()
        if self._writer and not self.in_memory:
            self._writer.alone(_scrub)
        elif not self.sqlite:
            with engine.connect().execution_options(isolation_level="AUTOCOMMIT") as connection:
                connection.exec_driver_sql("VACUUM")

    def close(self) -> None:
        """Finish what was asked for, then let go of the file. Nothing relies on this being called."""
        with self._lock:
            self._closed = True
            if self._writer:
                self._writer.stop()
            if self._engine is not None:
                self._engine.dispose()
                self._engine = None


class _Writer:
    """The thread that makes every change, many to a commit."""

    def __init__(self, engine: Engine) -> None:
        self._engine = engine
        self._jobs: SimpleQueue[tuple[Job, Future[Any], bool] | None] = SimpleQueue()
        self._thread = Thread(target=self._run, name="writer", daemon=True)
        self._stopped = False
        self._door = Lock()  # nothing is asked for after the end was: it would never be answered
        self._thread.start()

    def do(self, job: Callable[[Connection], T], *, alone: bool = False) -> T:
        answer: Future[T] = Future()
        with self._door:
            if self._stopped:
                raise StoreClosed
            self._jobs.put((job, answer, alone))
        return answer.result()

    def alone(self, job: Job) -> None:
        """Run a job outside any transaction (SQLite's VACUUM wants that)."""
        self.do(job, alone=True)

    def stop(self) -> None:
        with self._door:
            self._stopped = True
            self._jobs.put(None)
        self._thread.join(timeout=10)

    def _run(self) -> None:
        try:
            self._serve()
        finally:
            # However the thread ended: whoever still waits is told, and nobody else begins to.
            with self._door:
                self._stopped = True
                while not self._jobs.empty():
                    if (entry := self._jobs.get()) is not None:
                        entry[1].set_exception(StoreClosed())

    def _serve(self) -> None:
        with self._engine.connect().execution_options(writes=True) as connection:
            while (first := self._jobs.get()) is not None:
                if first[2]:
                    _settle(first[1], partial(first[0], connection))
                    continue
                batch, last = self._gather(first)
                self._commit(connection, batch)
                if last is _STOP:
                    return
                if last is not None:
                    _settle(last[1], partial(last[0], connection))

    def _gather(self, first: Any) -> tuple[list[tuple[Job, Future[Any]]], Any]:
        """All jobs that wait now, up to the most; and what ended the gathering, if it can't join them."""
        batch = [(first[0], first[1])]
        while len(batch) < MOST_IN_ONE_COMMIT:
            try:
                entry = self._jobs.get_nowait()
            except Empty:
                break
            if entry is None:
                return batch, _STOP
            if entry[2]:
                return batch, entry
            batch.append((entry[0], entry[1]))
        return batch, None

    def _commit(self, connection: Connection, batch: list[tuple[Job, Future[object]]]) -> None:
        settled: list[tuple[Future[object], object, BaseException | None]] = []
        try:
            with connection.begin():
                for job, answer in batch:
                    try:
                        with connection.begin_nested():
                            settled.append((answer, job(connection), None))
                    except Exception as fault:
                        if _let_go(connection):
                            raise _cause(fault) from None
                        settled.append((answer, None, fault))
        except Exception as fault:  # the commit itself failed: nobody's change was kept
            settled = [(answer, None, fault) for _, answer in batch]
        for answer, result, fault_of in settled:
            if fault_of is None:
                answer.set_result(result)
            else:
                answer.set_exception(fault_of)


_STOP = object()


def _let_go(connection: Connection) -> bool:
    """Whether the database has ended the whole transaction by itself, as SQLite does on a full disk.

    Then nothing of the batch is kept, and none of it may be acknowledged.
    """
    return getattr(connection.connection.dbapi_connection, "in_transaction", True) is False


def _cause(fault: Exception) -> Exception:
    """The first fault of the database behind one: undoing a job fails too where the transaction is gone."""
    found, at = fault, fault.__context__
    while at is not None:
        if isinstance(at, DBAPIError):
            found = at
        at = at.__context__
    return found


def _settle(answer: Future[object], act: Callable[[], object]) -> None:
    try:
        answer.set_result(act())
    except Exception as fault:
        answer.set_exception(fault)


def _sqlite_engine(store: Store) -> Engine:
    if store.in_memory:
        engine = create_engine(
            "sqlite://", poolclass=StaticPool, connect_args={"check_same_thread": False}, hide_parameters=True
        )
    else:
        engine = create_engine(
            store.url,
            pool_size=16,
            max_overflow=64,
            pool_timeout=20,
            connect_args={"check_same_thread": False},
            hide_parameters=True,  # a fault that is logged must not tell what a student wrote
        )

    @event.listens_for(engine, "connect")
    def _connect(connection: Any, _record: Any) -> None:
        connection.isolation_level = None  # the driver's own idea of transactions is switched off; see _begin
        cursor = connection.cursor()
        for pragma in (
            "busy_timeout=10000",
            "journal_mode=WAL",
            "synchronous=FULL",
            "foreign_keys=ON",
            "secure_delete=ON",
        ):
            cursor.execute(f"PRAGMA {pragma}")
        cursor.close()

    @event.listens_for(engine, "begin")
    def _begin(connection: Connection) -> None:
        # A second process (a command beside the server) may write as well: ask for the lock at once, so
        # that waiting for it is the driver's business.
        writes = connection.get_execution_options().get("writes")
        connection.exec_driver_sql("BEGIN IMMEDIATE" if writes else "BEGIN")

    return engine


def _scrub(connection: Connection) -> None:
    raw = connection.connection.driver_connection
    assert raw is not None
    raw.execute("VACUUM")
    for _ in range(50):
        busy = raw.execute("PRAGMA wal_checkpoint(TRUNCATE)").fetchone()[0]
        if not busy:
            return
        time.sleep(0.05)  # a reader still holds the old log: it is a matter of milliseconds
