"""Heavy questions of the calculators: asked in processes of their own, beside a class's replies and never before them.

Every question has a budget of its own that ends it at the same place on every machine (app/reasoning/budget.py).
That bounds what one costs; this bounds what many cost. They wait in one line for fewer processes than the machine
has cores:

- A browser that is known (security.mark) has one question at a time, and a newer one of its own takes the place of
  the older. All that come without a mark are one such sharer for each address, with a few places.
- The line is fair: addresses take turns, and within one address so do its browsers, those first that have been
  known for longer; so one neighbor behind a school's address, however much it asks, takes nobody's turn. Where all
  places are taken, who came last makes room for who was known first.
- Whoever asked has to stay. An answer that takes longer than a moment is fetched: the asker is sent on to the
  question's own address, again and again, and a question that nobody comes back to is broken off.
"""

from __future__ import annotations

import os
import secrets
from collections.abc import Mapping
from dataclasses import dataclass, field
from threading import Condition, Event, Thread
from time import monotonic
from typing import Any

from app.beside import Beside, Dropped, Late
from app.figure.faults import Fault
from app.web.core import core

UNMARKED = 4  # questions that wait or are worked on, of all without a mark at one address
FROM_ONE = 40  # of one address: a class
FROM_ALL = 72
WAIT = 12.0  # seconds from asking to giving up
LONGEST = 6.0  # seconds of one question, many times what its budget takes on a slow machine
HOLD = 1.0  # seconds that an asker waits at a time
AWAY = 1.5  # seconds after which one that doesn't come back has gone
SETTLED = 600  # seconds after which a browser's mark is of before the rush
LIGHT_BODY = 1_500  # bytes
LIGHT_LINES = 4
KINDS = frozenset({"reasoning"})
WORKERS = max(1, min(2, (os.cpu_count() or 2) - 1))
READY = ("app.reasoning.api", "app.web.heavy", "sympy")


class Busy(Exception):
    """No answer, and `why`: the line is full ("busy"), it took too long ("late"), the browser asked anew ("newer")."""

    def __init__(self, why: str = "busy") -> None:
        super().__init__(why)
        self.why = why


@dataclass(frozen=True)
class Asker:
    """Who asks: the share of an address, the mark of the browser if it has one, and how many seconds it is known."""

    address: str
    browser: str = ""
    known: int = 0

    @property
    def rank(self) -> int:
        """0 for those who were here before, 1 for fresh marks, 2 for none."""
        return 2 if not self.browser else 0 if self.known >= SETTLED else 1


@dataclass(eq=False)
class Question:
    asker: Asker
    what: tuple[str, str, object]  # layer, name, body
    key: tuple[str, bytes, str] = ("", b"", "")  # what its answer is kept under
    kind: str = ""
    reader: Any = None  # in whose words it is told
    id: str = field(default_factory=lambda: secrets.token_urlsafe(18))
    began: float = field(default_factory=monotonic)
    seen: float = field(default_factory=monotonic)
    here: int = 0  # requests that wait for it just now
    over: Event = field(default_factory=Event)
    answer: tuple[str, object] = ("", None)
    why: str = ""  # it was given up

    def is_wanted(self) -> bool:
        return not self.why and (self.here > 0 or monotonic() - self.seen < AWAY)

    def end(self, why: str = "", answer: tuple[str, object] = ("", None)) -> None:
        if not self.over.is_set():
            self.why, self.answer = self.why or why, answer
            self.over.set()


def is_heavy(layer: str, body: object, size: int) -> bool:
    """Whether a question may take more than a few milliseconds, by its size alone."""
    if layer not in KINDS:
        return False
    figure = body.get("figure") if isinstance(body, Mapping) else None
    lines = figure.get("lines") if isinstance(figure, Mapping) else None
    return size > LIGHT_BODY or (isinstance(lines, Mapping) and len(lines) > LIGHT_LINES)


class Heavy:
    """The line of heavy questions, and the processes that answer them."""

    def __init__(self, workers: int = WORKERS) -> None:
        self._change = Condition()
        self.waiting: list[Question] = []
        self.working: list[Question] = []
        self._asked: dict[str, Question] = {}
        self._turns: dict[str, int] = {}  # address, or address and browser → its last turn
        self._turn = 0
        self._closed = False
        self._beside = [Beside(LONGEST, READY) for _ in range(workers)]
        self._threads: list[Thread] = []

    # Asking

    def has_room(self, asker: Asker) -> bool:
        """Whether a question of this asker would be let in now."""
        with self._change:
            self._sweep()
            return self._gives_way(asker) is not None

    def ask(self, asker: Asker, layer: str, name: str, body: object, **more: Any) -> Question:
        """Stand in line. Raises Busy where there is no room."""
        question = Question(asker, (layer, name, body), **more)
        with self._change:
            self._sweep()
            less = self._gives_way(asker)
            if less is None:
                raise Busy
            for one in less:
                own = bool(asker.browser) and one.asker.browser == asker.browser
                self._drop(one, "newer" if own else "busy")
            self.waiting.append(question)
            self._asked[question.id] = question
            self._start()
            self._change.notify()
        return question

    def find(self, question_id: str) -> Question | None:
        with self._change:
            return self._asked.get(question_id)

    def stay(self, question: Question, seconds: float = HOLD) -> bool:
        """Wait for the answer; False where the asker has to come again for it. Raises Busy where it was given up."""
        with self._change:
            question.here += 1
        try:
            left = question.began + WAIT - monotonic()
            there = question.over.wait(max(0.0, min(seconds, left)))
            if not there and left <= seconds:
                with self._change:
                    self._drop(question, "late")
        finally:
            with self._change:
                question.here -= 1
                question.seen = monotonic()
        if question.why:
            raise Busy(question.why)
        return question.over.is_set()

    def _sweep(self) -> None:
        """Let go of those that nobody waits for any more, and of answers that nobody fetched."""
        for one in [one for one in self.waiting if not one.is_wanted()]:
            self._drop(one, "late")
        now = monotonic()
        for one in [one for one in self._asked.values() if one.over.is_set() and not one.here]:
            if now - one.seen > 2 * AWAY:
                del self._asked[one.id]

    def _drop(self, question: Question, why: str) -> None:
        question.why = question.why or why  # one that is worked on is broken off at the next look
        if question in self.waiting:
            self.waiting.remove(question)
        question.end(why)

    def _gives_way(self, asker: Asker) -> list[Question] | None:
        """The questions that make room for one of this asker (often none of them); None where there is no room."""
        all_ = [one for one in (*self.waiting, *self.working) if not one.why]
        near = [one for one in all_ if one.asker.address == asker.address]
        own = [one for one in near if one.asker.browser == asker.browser]
        if asker.browser and own:
            return own
        if not asker.browser and len(own) >= UNMARKED:
            return None
        if len(near) >= FROM_ONE:
            return self._youngest(near, asker)
        if len(all_) < FROM_ALL:
            return []
        most = max({one.asker.address for one in all_}, key=lambda at: sum(one.asker.address == at for one in all_))
        theirs = [one for one in all_ if one.asker.address == most]
        return self._youngest(theirs, None) if len(theirs) > len(near) + 1 else None

    def _youngest(self, questions: list[Question], than: Asker | None) -> list[Question] | None:
        """The one that waits and was known last, if it was known after `than`."""
        waits = [one for one in questions if one in self.waiting]
        last = max(waits, key=lambda one: (one.asker.rank, -one.asker.known, one.began), default=None)
        if last is None or (than is not None and (last.asker.rank, -last.asker.known) <= (than.rank, -than.known)):
            return None
        return [last]

    # Answering

    def warm(self) -> None:
        """Begin the processes before the first question is asked."""
        for beside in self._beside:
            beside.begin()

    def _start(self) -> None:
        while len(self._threads) < len(self._beside):
            beside = self._beside[len(self._threads)]
            thread = Thread(target=self._work, args=(beside,), name="heavy", daemon=True)
            self._threads.append(thread)
            thread.start()

    def _work(self, beside: Beside) -> None:
        while (question := self._next()) is not None:
            try:
                question.end(answer=beside.ask(__name__, "answer", *question.what, wanted=question.is_wanted))
            except (Late, Dropped):
                question.end("late")
            except Exception:  # noqa: BLE001 - it is in the log; the asker is told by `opened`
                question.end(answer=("failed", None))
            finally:
                with self._change:
                    self.working.remove(question)

    def _next(self) -> Question | None:
        with self._change:
            while not self._closed:
                self._sweep()
                if self.waiting:
                    return self._take(min(self.waiting, key=self._order))
                self._change.wait()
        return None

    def _order(self, question: Question) -> tuple[int, int, int, float]:
        """Addresses in turn; within one, those known before, and its browsers in turn."""
        asker = question.asker
        turn = self._turns.get(f"{asker.address} {asker.browser}", 0)
        return self._turns.get(asker.address, 0), asker.rank, turn, question.began

    def _take(self, question: Question) -> Question:
        self.waiting.remove(question)
        self.working.append(question)
        if len(self._turns) > 20_000:
            self._turns.clear()
        self._turn += 1
        self._turns[question.asker.address] = self._turn
        self._turns[f"{question.asker.address} {question.asker.browser}"] = self._turn
        return question

    def close(self) -> None:
        with self._change:
            self._closed = True
            for one in (*self.waiting, *self.working):
                self._drop(one, "late")
            self._change.notify_all()
        for beside in self._beside:
            beside.close()


def answer(layer: str, name: str, body: object) -> tuple[str, object]:
    """Runs in the other process: ("answer", it) or ("fault", its parts), since faults don't travel as themselves."""
    try:
        return "answer", core(layer, name)(body)
    except Fault as fault:
        return "fault", (fault.code, fault.where, fault.fields)
    except RecursionError:
        return "deep", None


def opened(found: tuple[str, Any]) -> Any:
    """The core's answer; raises what the core raised."""
    kind, what = found
    if kind == "fault":
        code, where, fields = what
        raise Fault(code, where, **fields)
    if kind == "deep":
        raise RecursionError
    if kind != "answer":
        raise RuntimeError(kind)
    return what
