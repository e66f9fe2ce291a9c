"""Live notices: "something of this period has changed", to every part of the program that shows it.

A notice says what kind of thing changed and never what it is now: whoever hears it reads the present
state, so notices may be joined, repeated or overtaken without harm.
"""

from __future__ import annotations

import json
from collections.abc import Callable
from dataclasses import asdict, dataclass
from threading import Event, Thread
from typing import Protocol

from sqlalchemy import Engine, text

Heard = Callable[["Notice"], None]


@dataclass(frozen=True)
class Notice:
    """`keys`: what changed ("stage", "seats", …; "gone" when it was removed); `seat`: whose, if one
    seat's.
    """

    period: str
    keys: tuple[str, ...]
    seat: str | None = None


class Notices(Protocol):
    """Carries notices to everybody who listens, in this process or in all of them."""

    def listen(self, heard: Heard) -> None: ...

    def publish(self, notice: Notice) -> None: ...

    def close(self) -> None: ...


class LocalNotices:
    """Within one process: a call."""

    def __init__(self) -> None:
        self._heard: list[Heard] = []

    def listen(self, heard: Heard) -> None:
        self._heard.append(heard)

    def publish(self, notice: Notice) -> None:
        for heard in self._heard:
            heard(notice)

    def close(self) -> None:
        self._heard.clear()


class PostgresNotices:
    """Between any number of processes on one PostgreSQL database, by its own LISTEN and NOTIFY."""

    CHANNEL = "eight_angles"

    def __init__(self, engine: Engine) -> None:
        self._engine = engine
        self._heard: list[Heard] = []
        self._stop = Event()
        self._ready = Event()
        self._thread = Thread(target=self._run, name="notices", daemon=True)
        self._thread.start()
        self._ready.wait(10)

    def listen(self, heard: Heard) -> None:
        self._heard.append(heard)

    def publish(self, notice: Notice) -> None:
        with self._engine.begin() as connection:
            connection.execute(
                text("SELECT pg_notify(:channel, :payload)"),
                {"channel": self.CHANNEL, "payload": json.dumps(asdict(notice))},
            )

    def close(self) -> None:
        self._stop.set()
        self._thread.join(timeout=5)

    def _run(self) -> None:
        while not self._stop.is_set():
            try:
                self._follow()
            except Exception:  # the database went away: it is asked again until it is back
                self._stop.wait(1)

    def _follow(self) -> None:
        with self._engine.connect().execution_options(isolation_level="AUTOCOMMIT") as connection:
            connection.exec_driver_sql(f"LISTEN {self.CHANNEL}")
            driver = connection.connection.driver_connection
            assert driver is not None
            self._ready.set()
            while not self._stop.is_set():
                for note in driver.notifies(timeout=0.5):
                    data = json.loads(note.payload)
                    notice = Notice(data["period"], tuple(data["keys"]), data["seat"])
                    for heard in list(self._heard):
                        heard(notice)
