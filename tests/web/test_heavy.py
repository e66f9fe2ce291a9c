"""Heavy questions wait in a line of their own (F9-01)."""

from __future__ import annotations

import os
import signal
import threading
import time
from collections.abc import Iterator
from concurrent.futures import TimeoutError as Late
from pathlib import Path
from typing import Any

import pytest

from app import create_app
from app.figure.faults import Fault
from app.web.heavy import FROM_ALL, FROM_ONE, Busy, Heavy, answer, is_heavy
from tests.attack.heavy import grid

FOLLOWS = ("reasoning", "follows")


@pytest.fixture
def heavy() -> Iterator[Heavy]:
    one = Heavy()
    yield one
    one.close()


class Stuck:
    """A process that never answers, until it is let go."""

    def __init__(self) -> None:
        self.free = threading.Event()
        self.cancelled = 0

    def schedule(self, *_: Any, **__: Any) -> Stuck:
        return self

    def result(self, timeout: float) -> tuple[str, Any]:
        if not self.free.wait(min(timeout, 5)):
            raise Late
        return "answer", {}

    def cancel(self) -> None:
        self.cancelled += 1

    def stop(self) -> None: ...

    def join(self, timeout: float) -> None: ...


def test_the_other_process_gives_the_answer_that_the_core_gives(heavy: Heavy) -> None:
    asked = grid(4, 4, turn=1)
    kind, here = answer(*FOLLOWS, asked)
    assert kind == "answer"
    assert heavy.ask("203.0.113.9", *FOLLOWS, asked) == here


def test_a_fault_travels_with_its_place(heavy: Heavy) -> None:
    asked = grid(4, 4, turn=2)
    asked["figure"]["lines"]["l0"]["direction"] = "north"
    with pytest.raises(Fault) as there:
        heavy.ask("203.0.113.9", *FOLLOWS, asked)
    kind, parts = answer(*FOLLOWS, asked)
    assert kind == "fault" and (there.value.code, there.value.where) == parts[:2]
    assert there.value.where.startswith("figure.lines")
    assert there.value.sentence()


def test_an_address_has_so_many_places_and_all_have_so_many(heavy: Heavy) -> None:
    stuck = heavy._pool = Stuck()
    waiting = [threading.Thread(target=heavy.ask, args=("203.0.113.9", *FOLLOWS, {})) for _ in range(FROM_ONE)]
    for one in waiting:
        one.start()
    _until(lambda: heavy.from_one.full("203.0.113.9"))
    with pytest.raises(Busy) as refused:
        heavy.ask("203.0.113.9", *FOLLOWS, {})
    assert not refused.value.late
    others = [threading.Thread(target=heavy.ask, args=(f"203.0.113.{n}", *FOLLOWS, {})) for n in range(10, 10 + FROM_ALL - FROM_ONE)]
    for one in others:
        one.start()
    _until(lambda: heavy.from_all.full(""))
    with pytest.raises(Busy):
        heavy.ask("198.51.100.1", *FOLLOWS, {})
    stuck.free.set()
    for one in waiting + others:
        one.join()
    assert heavy.ask("203.0.113.9", *FOLLOWS, {}) == {}, "places are given back"


def test_who_has_waited_too_long_is_told_so_and_gives_the_place_back(heavy: Heavy, monkeypatch: pytest.MonkeyPatch) -> None:
    stuck = heavy._pool = Stuck()
    monkeypatch.setattr("app.web.heavy.WAIT", 0.05)
    with pytest.raises(Busy) as refused:
        heavy.ask("203.0.113.9", *FOLLOWS, {})
    assert refused.value.late and stuck.cancelled == 1
    assert not heavy.from_one.count("203.0.113.9") and not heavy.from_all.count("")


@pytest.mark.skipif(os.name != "posix", reason="ended by a signal")
def test_a_process_that_is_ended_from_outside_is_no_fault(heavy: Heavy) -> None:
    """As by a machine that is short of memory; the next question is answered."""
    asked = grid(4, 4, turn=3)
    where = heavy._open().schedule(os.getpid).result(timeout=60)
    os.kill(where, signal.SIGSTOP)  # it takes the question and never answers
    threading.Timer(0.5, os.kill, (where, signal.SIGKILL)).start()
    with pytest.raises(Busy) as refused:
        heavy.ask("203.0.113.9", *FOLLOWS, asked)
    assert refused.value.late
    assert heavy.ask("203.0.113.9", *FOLLOWS, asked) == answer(*FOLLOWS, asked)[1]


def test_only_what_may_take_long_goes_there() -> None:
    lines = {f"l{n}": {} for n in range(5)}
    assert is_heavy("reasoning", {"figure": {"lines": lines}}, 400)
    assert is_heavy("reasoning", {}, 60_000)
    assert not is_heavy("reasoning", {"figure": {"lines": {"l": {}, "m": {}, "t": {}}}}, 400)
    assert not is_heavy("figure", {"figure": {"lines": lines}}, 60_000)
    assert not is_heavy("reasoning", [], 2)


@pytest.mark.parametrize(("late", "status"), [(False, 429), (True, 503)])
def test_the_sender_is_told_when_to_come_again(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, late: bool, status: int
) -> None:
    app = create_app({"TESTING": True, "LIMITS": True, "DATA_DIR": str(tmp_path / "data"), "PACKS_DIR": str(tmp_path / "packs")})
    server = app.extensions["eight_angles"]

    def busy(*_: Any) -> None:
        raise Busy(late=late)

    monkeypatch.setattr(server.heavy, "ask", busy)
    told = app.test_client().post("/api/reasoning/follows", json=grid(turn=3))
    assert told.status_code == status
    assert int(told.headers["Retry-After"]) >= 1
    sentence = told.json["error"]["message"]
    assert sentence.endswith(".") and not {"follows", "forced"} & set(sentence.lower().split())
    server.close()


def _until(true: Any, most: float = 30.0) -> None:
    end = time.monotonic() + most
    while not true():
        assert time.monotonic() < end
        time.sleep(0.01)
