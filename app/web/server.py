"""The parts that a running server is made of, opened when first needed.

A calculator request touches none of them: no database, no secret, no file.
"""

from __future__ import annotations

import time
from collections.abc import Callable, Mapping
from threading import RLock
from typing import TYPE_CHECKING, Any, Generic, TypeVar, cast

from flask import current_app

from app.beside import Beside
from app.settings import Settings, read_settings
from app.store.look import FILE
from app.store.notices import LocalNotices, Notices, PostgresNotices
from app.store.store import Store, now_ms
from app.web.answers import Answers
from app.web.heavy import Heavy
from app.web.hub import Hub
from app.web.limits import Bucket, Failures, InFlight
from app.web.secret import Secret, load_secret

if TYPE_CHECKING:
    from app.web.shelf import Shelf

T = TypeVar("T")


class lazy(Generic[T]):
    """A part made at first use, once, whatever threads ask for it at the same time."""

    def __init__(self, make: Callable[[Any], T]) -> None:
        self.make, self.name = make, make.__name__
        self.__doc__ = make.__doc__

    def __get__(self, owner: Any, _kind: type) -> T:
        with owner.opening:
            if self.name not in owner.__dict__:
                owner.__dict__[self.name] = self.make(owner)
            return cast(T, owner.__dict__[self.name])


SEATS_OF_BROWSER = 4  # places that one browser may take in a period: it is shared by a few students, not by a class
TOLD_FOR = 20 * 60_000  # milliseconds for which a Desk is told that somebody found no place


class Server:
    """One running server: its settings, store, secret, live notices, packs and limits."""

    def __init__(self, config: Mapping[str, Any] | None = None, settings: Settings | None = None) -> None:
        config = config or {}
        self.settings = settings or read_settings(config)
        self.opening = RLock()
        self.testing = bool(config.get("TESTING"))
        self.data = self.settings.data_dir
        self.hosted = self.settings.hosted
        self.language = self.settings.language
        self.streams = self.settings.streams
        self.taken = InFlight(SEATS_OF_BROWSER)  # places that a browser has taken in a period
        self.turned_away: dict[str, int] = {}  # when somebody last found a period's places all taken
        self.waiting: int | None = None  # when it last ran, while an erasure waits for somebody to look at the clock
        self._trouble = ("", 0)
        self._clock: Callable[[], int] | None = config.get("CLOCK")
        limited = bool(config.get("LIMITS", not self.testing))
        self.limited = limited
        # Past the first number of failures in ten minutes the answer is "wait"; past the second, only
        # browsers that are known already are heard (limits.py). 1,500 guesses at 200 open doors: one
        # chance in 3,000.
        self.codes = Failures(self.ticks, 60, 1500)
        self.passphrases = Failures(self.ticks, 10, 100)
        self.saves = Bucket(self.ticks, 8, 24)
        self.replies = Bucket(self.ticks, 2, 60)
        self.asks = Bucket(self.ticks, 5, 30)
        self.newcomers = Bucket(self.ticks, 2, 90)  # seats taken, by address: two classes may come at once
        self.lookers = Bucket(self.ticks, 2, 4)  # codes looked at for an address whose guesses are shut out
        self.begun_alone = Bucket(self.ticks, 2, 200)  # browsers that begin to keep something, by address
        self.calls = InFlight(64)

    def now(self) -> int:
        """Milliseconds since 1970 (a test may hand in its own clock)."""
        if self._clock is not None:
            return self._clock()
        return now_ms()

    def ticks(self) -> int:
        """Milliseconds that only ever grow, for limits: the machine's clock may be set back or far ahead."""
        return self._clock() if self._clock is not None else time.monotonic_ns() // 1_000_000

    def forgive(self, period_id: str) -> None:
        """A teacher has let a seat of this period go: browsers that took many may take one again."""
        for key in self.taken.keys(f"{period_id} "):
            self.taken.leave(key)

    def turn_away(self, period_id: str) -> bool:
        """Somebody found no place in this period. True where the Desk hasn't been told in the last ten seconds."""
        now = self.ticks()
        before = self.turned_away.get(period_id)
        self.turned_away[period_id] = now
        return before is None or not 0 <= now - before < 10_000

    def was_full(self, period_id: str) -> bool:
        """Whether somebody found no place lately."""
        at = self.turned_away.get(period_id)
        return at is not None and 0 <= self.ticks() - at < TOLD_FOR

    def tell(self, trouble: str) -> None:
        """Something is the matter with this machine: the Desk says so for as long as it goes on."""
        self._trouble = (trouble, self.ticks())

    @property
    def trouble(self) -> str:
        """What the Desk has to be told of this machine just now: "disk" or nothing."""
        word, at = self._trouble
        return word if word and self.ticks() - at < 120_000 else ""

    @lazy
    def answers(self) -> Answers:
        return Answers()

    @lazy
    def heavy(self) -> Heavy:
        return Heavy()

    @lazy
    def guesses(self) -> Beside | None:
        """Where strangers' passphrases are looked at; in tests, here."""
        return None if self.testing else Beside(20, ("app.hashes",), last=19)

    @lazy
    def store(self) -> Store:
        url = self.settings.database_url
        if not url:
            self.data.mkdir(parents=True, exist_ok=True, mode=0o700)
            url = f"sqlite:///{self.data / FILE}"
        return Store(url, self.now)

    @lazy
    def secret(self) -> Secret:
        return Secret(load_secret(self.data))

    @lazy
    def notices(self) -> Notices:
        return LocalNotices() if self.store.sqlite else PostgresNotices(self.store.open())

    @lazy
    def hub(self) -> Hub:
        return Hub(self)

    @lazy
    def shelf(self) -> Shelf:
        # Measured: 73 ms and 9 MB (pydantic, the reading of packs), which the front door needn't wait for.
        from app.web.shelf import Shelf

        return Shelf(self.settings.packs_dir)

    def close(self) -> None:
        """Let go of what was opened; for tests and a tidy end, never needed for safety."""
        if "hub" in self.__dict__:
            self.hub.close()
        if "notices" in self.__dict__:
            self.notices.close()
        if "heavy" in self.__dict__:
            self.heavy.close()
        if (guesses := self.__dict__.get("guesses")) is not None:
            guesses.close()
        if "store" in self.__dict__:
            self.store.close()


def server() -> Server:
    """The server that answers this request."""
    return cast(Server, current_app.extensions["eight_angles"])
