"""A process of its own for work that takes long: it goes last wherever the machine is busy, and can be broken off.

What is asked of it is named by module and function and answered one at a time, as by any other process: it ends with
this one, and a new one is begun where it was ended from outside or took too long.
"""

from __future__ import annotations

import logging
import os
import signal
import traceback
from collections.abc import Callable
from importlib import import_module
from multiprocessing import get_context
from threading import Lock
from time import monotonic
from typing import Any

log = logging.getLogger("eight_angles")

LOOK = 0.1  # seconds between looks whether the answer is still wanted
LET_GO = 0.5  # seconds in which a process stops what it is at, before it is ended itself
BREAKS = getattr(signal, "SIGUSR1", None)  # Windows has none: there the process is ended


class Late(Exception):
    """It took too long, or the process was ended from outside."""


class Dropped(Exception):
    """Nobody wanted the answer any more."""


class Beside:
    """One such process. `most`: the seconds that one question may take; `loads`: modules that it has ready;
    `last`: how far it goes behind everything else (nice, to 19).
    """

    def __init__(self, most: float, loads: tuple[str, ...] = (), last: int = 10) -> None:
        self.most, self.loads, self.last = most, loads, last
        self._lock = Lock()
        self._process: Any = None
        self._pipe: Any = None
        self._closed = False

    @property
    def pid(self) -> int | None:
        return self._process.pid if self._process is not None else None

    def begin(self) -> None:
        """Begin the process if there is none, and wait until it has loaded what it needs."""
        with self._lock:
            self._begin()

    def _begin(self) -> None:
        if self._closed:
            raise Late
        if self._process is not None and self._process.is_alive():
            return
        self._end()
        fresh = get_context("spawn")  # threads and open files of this process are none of its business
        self._pipe, there = fresh.Pipe()
        self._process = fresh.Process(target=serve, args=(there, self.loads, self.last), name="beside", daemon=True)
        self._process.start()
        there.close()
        try:
            self._pipe.recv()
        except (EOFError, OSError):
            self._end()
            raise Late from None

    def ask(self, module: str, function: str, *args: Any, wanted: Callable[[], bool] = lambda: True) -> Any:
        """What that function answers there. Raises Late; Dropped once `wanted` says no; RuntimeError for our fault."""
        with self._lock:
            try:
                self._begin()
                self._pipe.send((module, function, args))
                end = monotonic() + self.most
                while not self._pipe.poll(LOOK):
                    if not wanted():
                        self._let_go()
                        raise Dropped
                    if monotonic() > end:
                        self._end()
                        raise Late
                kind, found = self._pipe.recv()
            except (EOFError, OSError):
                self._end()
                raise Late from None
        if kind == "failed":
            log.error("a question failed beside:\n%s", found)
            raise RuntimeError("failed beside")
        return found

    def _let_go(self) -> None:
        """Break off what it is at. Where that takes long, or can't be told, the process goes."""
        if BREAKS is not None and self._process is not None:
            os.kill(self._process.pid, BREAKS)
            if self._pipe.poll(LET_GO):
                self._pipe.recv()
                return
        self._end()

    def _end(self) -> None:
        process, self._process = self._process, None
        pipe, self._pipe = self._pipe, None
        if pipe is not None:
            pipe.close()
        if process is not None:
            process.kill()
            process.join(3)

    def close(self) -> None:
        self._closed = True
        process = self._process
        if process is not None:
            process.kill()  # whoever waits for it is answered by that
        with self._lock:
            self._end()


class _BrokenOff(BaseException):
    """Raised in the middle of what the process is at."""


def serve(pipe: Any, loads: tuple[str, ...], last: int = 10) -> None:
    """What the other process does: answer, one after another, until this one has gone."""
    at_work = False

    def stop(*_: object) -> None:
        if at_work:
            raise _BrokenOff

    signal.signal(signal.SIGINT, signal.SIG_IGN)  # Ctrl-C is for the server, which ends this one
    if BREAKS is not None:
        signal.signal(BREAKS, stop)
    if hasattr(os, "nice"):
        os.nice(last)
    for module in loads:
        import_module(module)
    try:
        pipe.send("ready")
        while True:
            module, function, args = pipe.recv()
            found: tuple[str, object] = ("broken off", None)
            try:
                try:
                    at_work = True
                    found = "answer", getattr(import_module(module), function)(*args)
                except Exception as fault:
                    # Where it failed and of what kind, without what it says: that may hold what a student wrote.
                    found = "failed", "".join(traceback.format_tb(fault.__traceback__)) + type(fault).__name__
                finally:
                    at_work = False
            except _BrokenOff:
                at_work = False
            pipe.send(found)
    except (EOFError, OSError):
        return
