"""The hub: who is looking at what just now, and waking them when it changes.

Every change publishes a notice; the hub counts it, forgets what it had cached of the period and wakes the
listeners. A listener holds no queue of messages, only the set of things that have changed since it last
spoke, and then tells their newest state: a slow network makes it coarser, never late.

Versions only grow. They start at the server's start in milliseconds, so that a restart goes on above what
any page has seen; `epoch` tells pages of different processes apart.
"""

from __future__ import annotations

import secrets
from collections.abc import Iterable
from dataclasses import dataclass, field
from threading import Condition, Lock
from typing import Protocol

from app.classroom.lesson import Plan
from app.store import periods
from app.store.notices import Notice, Notices
from app.store.rows import Period
from app.web.plans import Library, pack_of_period, plan_of_period

TICK = 10_000
MOST_OF_SESSION = 2
MOST_OF_PERIOD = 50
KEPT_FOR_DESKS = 16
SHARE_ALONE = 4  # one live page in so many may be somebody's who works alone
SEAT_KEYS = {"stage", "follow", "step", "frozen", "period", "plan"}
ROW_KEYS = SEAT_KEYS | {"called"}  # changes of the period's own row; "called": another tally
BOARD_KEYS = {"stage", "period", "tally", "seats"}


class TooManyStreams(Exception):
    """The session, the class or the server has its fill of live streams."""


@dataclass(eq=False)
class Listener:
    """One open stream. `role` is seat, desk or board."""

    role: str
    period: str
    session: str
    seat: str | None = None
    pending: set[str] = field(default_factory=set)
    closed: bool = False
    gone: bool = False
    wake: Condition = field(default_factory=Condition)

    @property
    def alone(self) -> bool:
        """Whether it is a page of somebody who works alone: in no period, published under the seat itself."""
        return self.role == "seat" and self.period == self.seat

    def tell(self, keys: Iterable[str]) -> None:
        with self.wake:
            self.pending.update(keys)
            self.wake.notify()

    def wait(self, seconds: float) -> set[str]:
        """What has changed since the last call; empty after `seconds` of silence."""
        with self.wake:
            if not self.pending and not self.closed:
                self.wake.wait(seconds)
            found, self.pending = self.pending, set()
            return found

    def close(self, *, gone: bool = False) -> None:
        with self.wake:
            self.closed, self.gone = True, self.gone or gone
            self.wake.notify()


class Around(Library, Protocol):
    """The server that a hub belongs to, as far as it is the hub's business."""

    streams: int

    @property
    def notices(self) -> Notices: ...

    def now(self) -> int: ...


class Hub:
    """Versions, listeners, and the period rows that all of them read."""

    def __init__(self, server: Around) -> None:
        self.server = server
        self.epoch = secrets.token_hex(4)
        self.base = server.now()
        self._lock = Lock()
        self._versions: dict[str, int] = {}
        self._listeners: dict[str, set[Listener]] = {}
        self._rows: dict[str, Period | None] = {}
        self._plans: dict[str, dict[str, tuple[tuple[str | None, str, str], Plan]]] = {}  # period → house → plan
        self._seen: dict[str, int] = {}
        self.open = 0
        self.alone = 0  # of them, those of people who work alone
        server.notices.listen(self.heard)

    # What has changed

    def publish(self, period: str, *keys: str, seat: str | None = None) -> None:
        """Say that something of a period changed; call it after the commit."""
        self.server.notices.publish(Notice(period, keys, seat))

    def heard(self, notice: Notice) -> None:
        keys = set(notice.keys)
        with self._lock:
            # Forget first, count second: who reads between them reads anew.
            if keys & ROW_KEYS or "gone" in keys:
                self._rows.pop(notice.period, None)
                self._plans.pop(notice.period, None)
            self._count(notice.period, keys, notice.seat)
            listeners = list(self._listeners.get(notice.period, ()))
        for listener in listeners:
            self._wake(listener, keys, notice.seat)

    def _count(self, period: str, keys: set[str], seat: str | None) -> None:
        topics = [f"desk:{period}"]
        if keys & SEAT_KEYS:
            topics.append(f"period:{period}")
        if keys & BOARD_KEYS:
            topics.append(f"board:{period}")
        if seat and "seat" in keys:
            topics.append(f"seat:{seat}")
        for topic in topics:
            self._versions[topic] = self._versions.get(topic, 0) + 1

    @staticmethod
    def _wake(listener: Listener, keys: set[str], seat: str | None) -> None:
        if "gone" in keys and (seat is None or listener.seat == seat):
            listener.close(gone=True)
        elif listener.role == "desk":
            listener.tell(keys)
        elif listener.role == "board" and keys & BOARD_KEYS:
            listener.tell(keys & BOARD_KEYS)
        elif listener.role == "seat" and seat is not None and listener.seat == seat:
            if keys & {"seat"}:
                listener.tell({"seat"})
        elif listener.role == "seat" and seat is None and keys & SEAT_KEYS:
            listener.tell(keys & SEAT_KEYS)

    def version(self, role: str, period: str, seat: str | None = None) -> int:
        """The version of what this role sees of the period. Read it before the state that it numbers."""
        with self._lock:
            if role == "seat":
                count = self._versions.get(f"period:{period}", 0) + self._versions.get(f"seat:{seat}", 0)
            else:
                count = self._versions.get(f"{role}:{period}", 0)
        if role == "desk":
            # Who is stuck and who is there change by the clock alone: the Desk's version moves with it.
            count += max(0, self.server.now() - self.base) // TICK
        return self.base + count

    # What everybody reads

    def period(self, period_id: str | None) -> Period | None:
        """The period's row, kept until the next notice about it; None for the period of somebody who works alone."""
        if period_id is None:
            return None
        with self._lock:
            if period_id in self._rows:
                return self._rows[period_id]
            count = self._versions.get(f"desk:{period_id}", 0)
        row = self.server.store.read(lambda c: periods.find(c, period_id))
        with self._lock:
            if count == self._versions.get(f"desk:{period_id}", 0) and row is not None:
                self._rows[period_id] = row
        return row

    def plan(self, period: Period) -> Plan:
        """The period's plan, kept until the period or its pack changes."""
        pack = pack_of_period(self.server, period)
        stamp = (pack.digest if pack else None, period["house"], period["arrangement"])
        with self._lock:
            kept = self._plans.get(period["id"], {}).get(period["house"])
        if kept is not None and kept[0] == stamp:
            return kept[1]
        plan = plan_of_period(self.server, period)
        with self._lock:
            self._plans.setdefault(period["id"], {})[period["house"]] = (stamp, plan)
        return plan

    # Who is looking

    def enter(self, listener: Listener) -> Listener:
        """Let a stream in, or raise TooManyStreams. A second try follows after old ones had to show
        life.
        """
        for again in (True, False):
            with self._lock:
                mine = self._listeners.setdefault(listener.period, set())
                of_session = [one for one in mine if one.session == listener.session]
                spare = None
                if len(of_session) < MOST_OF_SESSION and self._room(listener, mine):
                    mine.add(listener)
                    self.open += 1
                    self.alone += listener.alone
                    return listener
                if len(of_session) < MOST_OF_SESSION and not listener.alone:
                    spare = self._second(listener, mine)
            if spare is not None:
                # Who comes first with one page goes before who has two.
                spare.close()
                self.leave(spare)
                continue
            if not again or len(of_session) < MOST_OF_SESSION:
                raise TooManyStreams
            # A reloaded page leaves a dead stream behind, noticed at its next beat: ask for one now.
            for one in of_session:
                one.tell({"beat"})
            with listener.wake:
                listener.wake.wait(0.4)
        raise TooManyStreams

    def _room(self, listener: Listener, mine: set[Listener]) -> bool:
        """Whether there is a place. Those who work alone have a share of all; a class has the rest, and each period its
        own, with some kept for Desks and Boards.
        """
        most = self.server.streams
        if listener.alone:
            return self.open < most and self.alone < max(1, most // SHARE_ALONE)
        if listener.role == "seat":
            return self.open < most - KEPT_FOR_DESKS and len(mine) < MOST_OF_PERIOD
        return self.open < most

    @staticmethod
    def _second(listener: Listener, mine: set[Listener]) -> Listener | None:
        """The second page of some seat of this period, where this seat has none yet and the period is full."""
        if listener.role != "seat" or any(one.seat == listener.seat for one in mine):
            return None
        seen: set[str] = set()
        for one in mine:
            if one.seat is not None and one.seat in seen:
                return one
            if one.seat is not None:
                seen.add(one.seat)
        return None

    def leave(self, listener: Listener) -> None:
        with self._lock:
            mine = self._listeners.get(listener.period)
            if mine and listener in mine:
                mine.discard(listener)
                self.open -= 1
                self.alone -= listener.alone
                if not mine:
                    self._listeners.pop(listener.period, None)
        if listener.seat:
            self._seen[listener.seat] = self.server.now()

    def saw(self, seat: str) -> None:
        """Note a sign of life of a seat that polls."""
        if len(self._seen) > 20_000:
            self._seen.clear()
        self._seen[seat] = self.server.now()

    def online(self, period: str, within: int = 20_000) -> set[str]:
        """The seats that are looking now: a stream is open, or they asked a moment ago."""
        now = self.server.now()
        with self._lock:
            there = {one.seat for one in self._listeners.get(period, ()) if one.seat}
        return there | {seat for seat, at in list(self._seen.items()) if now - at < within}

    def end_session(self, session: str) -> None:
        """Close the streams of a session that has been ended."""
        with self._lock:
            all_of = [one for listeners in self._listeners.values() for one in listeners if one.session == session]
        for listener in all_of:
            listener.close(gone=True)

    def close(self) -> None:
        with self._lock:
            all_of = [one for listeners in self._listeners.values() for one in listeners]
        for listener in all_of:
            listener.close()
