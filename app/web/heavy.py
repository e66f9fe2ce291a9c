"""Heavy questions of the calculators: asked in a process of their own, beside a class's replies and never before them.

Every question has a budget of its own that ends it at the same place on every machine (app/reasoning/budget.py).
That bounds what one costs; this bounds what many cost. They wait in one line, a few from each address, for one
process that goes last wherever the machine is busy; whoever comes when the line is full is told to come again, and
whoever has waited too long gets "too busy", which is no verdict.
"""

from __future__ import annotations

import os
from collections.abc import Mapping
from concurrent.futures import BrokenExecutor
from concurrent.futures import TimeoutError as Late
from multiprocessing import get_context
from threading import Lock
from typing import Any

from pebble import ProcessExpired, ProcessPool

from app.figure.faults import Fault
from app.web.core import core
from app.web.limits import InFlight

FROM_ONE = 8  # questions of one address that wait or are worked on
FROM_ALL = 24
WAIT = 10.0  # seconds from asking to giving up
LONGEST = 6.0  # seconds of one question, many times what its budget takes on a slow machine
LIGHT_BODY = 1_500  # bytes
LIGHT_LINES = 4
KINDS = frozenset({"reasoning"})


class Busy(Exception):
    """The line is full, or the question has waited too long (`late`)."""

    def __init__(self, *, late: bool = False) -> None:
        super().__init__("late" if late else "busy")
        self.late = late


def is_heavy(layer: str, body: object, size: int) -> bool:
    """Whether a question may take more than a few milliseconds, by its size alone."""
    if layer not in KINDS:
        return False
    figure = body.get("figure") if isinstance(body, Mapping) else None
    lines = figure.get("lines") if isinstance(figure, Mapping) else None
    return size > LIGHT_BODY or (isinstance(lines, Mapping) and len(lines) > LIGHT_LINES)


class Heavy:
    """One process for heavy questions, begun with the first of them."""

    def __init__(self) -> None:
        self._lock = Lock()
        self._pool: Any = None
        self.from_one, self.from_all = InFlight(FROM_ONE), InFlight(FROM_ALL)

    def ask(self, address: str, layer: str, name: str, body: object) -> Any:
        """The core's answer. Raises what the core raises, and Busy."""
        if not self.from_one.enter(address):
            raise Busy
        try:
            if not self.from_all.enter(""):
                raise Busy
            try:
                return _opened(self._work(layer, name, body))
            finally:
                self.from_all.leave("")
        finally:
            self.from_one.leave(address)

    def _work(self, layer: str, name: str, body: object) -> tuple[str, Any]:
        asked = self._schedule(layer, name, body)
        try:
            found: tuple[str, Any] = asked.result(timeout=WAIT)
        except (Late, ProcessExpired, BrokenExecutor):  # too long, or the process was ended from outside
            asked.cancel()
            raise Busy(late=True) from None
        return found

    def _schedule(self, layer: str, name: str, body: object) -> Any:
        try:
            return self._open().schedule(answer, args=(layer, name, body), timeout=LONGEST)
        except RuntimeError:  # its process was ended from outside, and it takes no more: another is begun
            self.close()
            return self._open().schedule(answer, args=(layer, name, body), timeout=LONGEST)

    def _open(self) -> Any:
        with self._lock:
            if self._pool is None:
                # Begun from nothing: threads and open files of this process are none of its business.
                fresh = get_context("spawn")
                self._pool = ProcessPool(max_workers=1, max_tasks=2_000, initializer=stand_back, context=fresh)
            return self._pool

    def close(self) -> None:
        with self._lock:
            if self._pool is not None:
                self._pool.stop()
                self._pool.join(timeout=3)
                self._pool = None


def stand_back() -> None:
    """Go last where the machine is busy."""
    if hasattr(os, "nice"):
        os.nice(10)


def answer(layer: str, name: str, body: object) -> tuple[str, Any]:
    """Runs in the other process: ("answer", it) or ("fault", its parts), since faults don't travel as themselves."""
    try:
        return "answer", core(layer, name)(body)
    except Fault as fault:
        return "fault", (fault.code, fault.where, fault.fields)
    except RecursionError:
        return "deep", None


def _opened(found: tuple[str, Any]) -> Any:
    kind, what = found
    if kind == "fault":
        code, where, fields = what
        raise Fault(code, where, **fields)
    if kind == "deep":
        raise RecursionError
    return what
