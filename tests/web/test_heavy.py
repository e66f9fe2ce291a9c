"""Heavy questions wait in a line of their own, where nobody takes another's turn and nobody is worked for who has gone (F9-01)."""

from __future__ import annotations

import os
import signal
import threading
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from flask import Flask

from app import create_app
from app.addresses import share
from app.beside import Beside, Dropped, Late
from app.figure.faults import Fault
from app.web import heavy as line
from app.web.heavy import FROM_ALL, FROM_ONE, UNMARKED, Asker, Busy, Heavy, Question, answer, is_heavy, opened
from tests.attack.heavy import grid

FOLLOWS = ("reasoning", "follows")
SCHOOL = "198.51.100.7"
HOUR = 3600


class Stuck:
    """A process that answers when it is let go, one question at each nod."""

    def __init__(self) -> None:
        self.nods = threading.Semaphore(0)
        self.asked: list[object] = []
        self.broken_off = 0

    def ask(self, _module: str, _function: str, *what: Any, wanted: Any) -> tuple[str, Any]:
        self.asked.append(what[2])
        while not self.nods.acquire(timeout=0.02):
            if not wanted():
                self.broken_off += 1
                raise Dropped
        return "answer", {"asked": what[2]}

    def begin(self) -> None: ...

    def close(self) -> None:
        self.nods.release(1000)


@pytest.fixture
def stuck(monkeypatch: pytest.MonkeyPatch) -> Stuck:
    # Whoever asks in these tests stays, until a test says otherwise.
    monkeypatch.setattr(line, "AWAY", 1000.0)
    monkeypatch.setattr(line, "WAIT", 1000.0)
    return Stuck()


@pytest.fixture
def heavy(stuck: Stuck) -> Iterator[Heavy]:
    one = Heavy(1)
    one._beside = [stuck]  # type: ignore[list-item]
    yield one
    one.close()


@pytest.fixture
def real() -> Iterator[Heavy]:
    one = Heavy(1)
    yield one
    one.close()


def _until(true: Any, most: float = 20.0) -> None:
    end = time.monotonic() + most
    while not true():
        assert time.monotonic() < end
        time.sleep(0.01)


def _answer(heavy: Heavy, asker: Asker, what: tuple[str, str], body: object) -> Any:
    question = heavy.ask(asker, *what, body)
    while not heavy.stay(question):
        pass
    return opened(question.answer)


# ── the other process ──
def test_the_other_process_gives_the_answer_that_the_core_gives(real: Heavy) -> None:
    asked = grid(4, 4, turn=1)
    kind, here = answer(*FOLLOWS, asked)
    assert kind == "answer"
    assert _answer(real, Asker(SCHOOL), FOLLOWS, asked) == here


def test_a_fault_travels_with_its_place(real: Heavy) -> None:
    asked = grid(4, 4, turn=2)
    asked["figure"]["lines"]["l0"]["direction"] = "north"
    with pytest.raises(Fault) as there:
        _answer(real, Asker(SCHOOL), FOLLOWS, asked)
    kind, parts = answer(*FOLLOWS, asked)
    assert kind == "fault" and (there.value.code, there.value.where) == parts[:2]
    assert there.value.where.startswith("figure.lines")
    assert there.value.sentence()


@pytest.fixture
def beside() -> Iterator[Beside]:
    one = Beside(60)
    yield one
    one.close()


def test_it_is_loaded_before_the_first_question() -> None:
    """Warmed at the start of the server: then the first question pays for nothing but itself."""
    one = Beside(60, ("json.tool",))
    try:
        one.begin()
        before = one.pid
        assert "json.tool" in one.ask("builtins", "eval", "sorted(__import__('sys').modules)")
        assert one.pid == before
    finally:
        one.close()


@pytest.mark.skipif(not hasattr(signal, "SIGUSR1"), reason="ended instead where there are no such signals")
def test_what_nobody_wants_any_more_is_broken_off_and_the_process_goes_on(beside: Beside) -> None:
    before = beside.ask("os", "getpid")
    began = time.monotonic()
    with pytest.raises(Dropped):
        beside.ask("time", "sleep", 50, wanted=lambda: False)
    assert time.monotonic() - began < 20, "broken off, not waited for"
    assert beside.ask("os", "getpid") == before
    if hasattr(os, "nice"):
        assert beside.ask("os", "nice", 0) >= 10, "it goes last where the machine is busy"


@pytest.mark.skipif(not hasattr(os, "nice"), reason="no such order of processes here")
def test_strangers_guesses_go_behind_everything_else(make_app: Callable[..., Flask]) -> None:
    server = make_app(TESTING=False).extensions["eight_angles"]
    assert server.guesses.ask("os", "nice", 0) == 19


def test_what_takes_too_long_ends_and_another_process_is_begun(beside: Beside) -> None:
    before = beside.ask("os", "getpid")
    beside.most = 0.05
    with pytest.raises(Late):
        beside.ask("time", "sleep", 50)
    beside.most = 60
    assert beside.ask("os", "getpid") != before


@pytest.mark.skipif(os.name != "posix", reason="ended by a signal")
def test_a_process_that_is_ended_from_outside_is_no_fault(real: Heavy) -> None:
    """As by a machine that is short of memory; the next question is answered."""
    asked = grid(4, 4, turn=3)
    one = real._beside[0]
    one.begin()
    assert one.pid is not None
    os.kill(one.pid, signal.SIGSTOP)  # it takes the question and never answers
    question = real.ask(Asker(SCHOOL), *FOLLOWS, asked)
    _until(lambda: real.working)
    os.kill(one.pid, signal.SIGKILL)
    with pytest.raises(Busy) as refused:
        real.stay(question, 30)
    assert refused.value.why == "late"
    assert _answer(real, Asker(SCHOOL), FOLLOWS, asked) == answer(*FOLLOWS, asked)[1]


def test_a_mistake_of_ours_there_tells_no_students_text(beside: Beside, caplog: pytest.LogCaptureFixture) -> None:
    with pytest.raises(RuntimeError) as told:
        beside.ask("json", "loads", "planted-answer-5512")
    assert "JSONDecodeError" in caplog.text and "planted" not in caplog.text + str(told.value)
    assert beside.ask("json", "loads", "1") == 1


# ── the line ──
def test_those_without_a_mark_share_a_few_places_and_take_nobody_elses(heavy: Heavy) -> None:
    """One neighbor behind the school's address asks 200 times; each of the class is let in."""
    refused = 0
    for n in range(200):
        try:
            heavy.ask(Asker(SCHOOL), *FOLLOWS, f"neighbor {n}")
        except Busy as busy:
            refused += busy.why == "busy"
    assert refused == 200 - UNMARKED
    for n in range(35):
        heavy.ask(Asker(SCHOOL, f"student {n}", HOUR), *FOLLOWS, n)
    assert not heavy.has_room(Asker(SCHOOL)) and heavy.has_room(Asker("203.0.113.9"))


def test_a_neighbor_with_a_heap_of_fresh_marks_makes_room_for_the_class(heavy: Heavy, stuck: Stuck) -> None:
    fresh = [heavy.ask(Asker(SCHOOL, f"fresh {n}", 5), *FOLLOWS, f"fresh {n}") for n in range(FROM_ONE)]
    _until(lambda: heavy.working)
    assert not heavy.has_room(Asker(SCHOOL, "one more", 4))
    class_ = [heavy.ask(Asker(SCHOOL, f"student {n}", HOUR), *FOLLOWS, f"student {n}") for n in range(35)]
    assert not any(one.over.is_set() for one in class_)
    gone = [one for one in fresh if one.why]
    assert len(gone) == 35 and gone == fresh[-35:], "those who came last went"
    with pytest.raises(Busy) as told:
        heavy.stay(gone[0])
    assert told.value.why == "busy"
    stuck.nods.release(100)
    for one in [*class_, *fresh[:5]]:
        assert heavy.stay(one, 30)
    # Whatever had begun, the class came before all others.
    assert sorted(stuck.asked[1:36]) == sorted(f"student {n}" for n in range(35))


def test_a_browser_that_asks_anew_gives_up_what_it_had_asked(heavy: Heavy, stuck: Stuck) -> None:
    first = heavy.ask(Asker(SCHOOL, "b", HOUR), *FOLLOWS, "first")
    _until(lambda: heavy.working)
    second = heavy.ask(Asker(SCHOOL, "b", HOUR), *FOLLOWS, "second")
    third = heavy.ask(Asker(SCHOOL, "b", HOUR), *FOLLOWS, "third")
    for one in (first, second):
        with pytest.raises(Busy) as told:
            heavy.stay(one, 30)
        assert told.value.why == "newer"
    _until(lambda: stuck.broken_off == 1)
    stuck.nods.release()
    assert heavy.stay(third, 30) and stuck.asked == ["first", "third"]


def test_addresses_take_turns(heavy: Heavy, stuck: Stuck) -> None:
    first = heavy.ask(Asker("203.0.113.1"), *FOLLOWS, "a0")
    _until(lambda: heavy.working == [first])
    rest = [heavy.ask(Asker("203.0.113.1", f"b{n}", HOUR), *FOLLOWS, f"a{n}") for n in range(1, 4)]
    rest += [heavy.ask(Asker("203.0.113.2"), *FOLLOWS, "other")]
    stuck.nods.release(10)
    assert all(heavy.stay(one, 30) for one in rest)
    assert stuck.asked[:2] == ["a0", "other"]


def test_the_whole_line_is_bounded_and_the_largest_crowd_makes_room(heavy: Heavy) -> None:
    for n in range(FROM_ALL):
        heavy.ask(Asker(("203.0.113.1", "203.0.113.2")[n % 2], f"b{n}", HOUR), *FOLLOWS, n)
    assert len(heavy.waiting) + len(heavy.working) == FROM_ALL
    heavy.ask(Asker("192.0.2.1"), *FOLLOWS, "from elsewhere")
    assert len([one for one in (*heavy.waiting, *heavy.working) if not one.why]) == FROM_ALL


def test_a_question_that_nobody_comes_back_for_is_given_up(
    heavy: Heavy, stuck: Stuck, monkeypatch: pytest.MonkeyPatch
) -> None:
    gone, waits = (heavy.ask(Asker(SCHOOL, name, HOUR), *FOLLOWS, name) for name in ("gone", "waits"))
    _until(lambda: heavy.working == [gone])
    holding = threading.Thread(target=lambda: heavy.stay(waits, 100))
    holding.start()
    _until(lambda: waits.here == 1)
    monkeypatch.setattr(line, "AWAY", 0.0)
    _until(lambda: stuck.broken_off == 1)  # what was worked on for nobody …
    stuck.nods.release()
    holding.join(30)
    assert stuck.asked == ["gone", "waits"] and waits.answer[0] == "answer"
    late = heavy.ask(Asker(SCHOOL, "late", HOUR), *FOLLOWS, "never begun")
    assert heavy.has_room(Asker(SCHOOL)) and (late.why == "late" or late in heavy.working)


def test_an_answer_that_nobody_fetches_is_forgotten(
    heavy: Heavy, stuck: Stuck, monkeypatch: pytest.MonkeyPatch
) -> None:
    question = heavy.ask(Asker(SCHOOL), *FOLLOWS, "asked")
    stuck.nods.release()
    assert heavy.stay(question, 30) and heavy.find(question.id) is question
    monkeypatch.setattr(line, "AWAY", 0.0)
    _until(lambda: heavy.has_room(Asker(SCHOOL)) and heavy.find(question.id) is None)


def test_who_has_waited_too_long_is_told_so_and_gives_the_place_back(
    heavy: Heavy, stuck: Stuck, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(line, "WAIT", 0.05)
    question = heavy.ask(Asker(SCHOOL), *FOLLOWS, "late")
    with pytest.raises(Busy) as refused:
        heavy.stay(question, 30)
    assert refused.value.why == "late"
    _until(lambda: stuck.broken_off == 1 and not heavy.working and not heavy.waiting)


def test_networks_of_ipv6_are_one_address() -> None:
    """RFC 4291 gives a link 64 bits: a machine there may use any of them."""
    assert share("2001:db8:1:2::1") == share("2001:db8:1:2:ffff::9") != share("2001:db8:1:3::1")
    assert share("::ffff:203.0.113.9") == share("203.0.113.9") != share("203.0.113.8")
    assert share("::1") == "::1" and share("fe80::1%eth0") == share("fe80::2%eth0") and share("?") == "?"


def test_only_what_may_take_long_goes_there() -> None:
    lines = {f"l{n}": {} for n in range(5)}
    assert is_heavy("reasoning", {"figure": {"lines": lines}}, 400)
    assert is_heavy("reasoning", {}, 60_000)
    assert not is_heavy("reasoning", {"figure": {"lines": {"l": {}, "m": {}, "t": {}}}}, 400)
    assert not is_heavy("figure", {"figure": {"lines": lines}}, 60_000)
    assert not is_heavy("reasoning", [], 2)


# ── by HTTP ──
@pytest.fixture
def app(tmp_path: Path, heavy: Heavy) -> Iterator[Flask]:
    made = create_app(
        {"TESTING": True, "LIMITS": True, "DATA_DIR": str(tmp_path / "data"), "PACKS_DIR": str(tmp_path / "packs")}
    )
    made.extensions["eight_angles"].__dict__["heavy"] = heavy
    yield made
    made.extensions["eight_angles"].close()


def test_an_answer_that_takes_long_is_fetched_where_it_will_be(
    app: Flask, stuck: Stuck, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(line, "HOLD", 0.01)
    monkeypatch.setattr(Heavy.stay, "__defaults__", (0.01,))
    browser = app.test_client()
    told = browser.post("/api/reasoning/follows", json=grid(turn=3))
    seen = set()
    for _ in range(3):
        assert told.status_code == 303
        seen.add(told.headers["Location"])
        told = browser.get(told.headers["Location"])
    assert len(seen) == 3, "no address twice: some askers take that for a circle"
    stuck.nods.release()
    _until(lambda: stuck.asked)
    while told.status_code == 303:
        told = browser.get(told.headers["Location"])
    assert told.status_code == 200 and told.json == {"asked": grid(turn=3)}
    # Asked again, it is there at once.
    assert browser.post("/api/reasoning/follows", json=grid(turn=3)).json == told.json
    assert browser.get("/api/asked/nothing").status_code == 404


@pytest.mark.parametrize(("why", "status"), [("busy", 429), ("late", 503), ("newer", 409)])
def test_the_sender_is_told_when_to_come_again(
    app: Flask, heavy: Heavy, monkeypatch: pytest.MonkeyPatch, why: str, status: int
) -> None:
    def busy(*_: Any, **__: Any) -> Question:
        raise Busy(why)

    monkeypatch.setattr(heavy, "ask", busy)
    told = app.test_client().post("/api/reasoning/follows", json=grid(turn=3))
    assert told.status_code == status
    assert why == "newer" or int(told.headers["Retry-After"]) >= 1
    sentence = told.json["error"]["message"]
    assert sentence.endswith(".") and not {"follows", "forced"} & set(sentence.lower().split())


class Untouched:
    """A body that nobody may read."""

    def read(self, *_: Any) -> bytes:
        raise AssertionError("read")

    readline = read


def test_a_question_without_room_is_refused_before_its_body_is_read(app: Flask, heavy: Heavy) -> None:
    for n in range(UNMARKED):
        heavy.ask(Asker("192.0.2.7"), *FOLLOWS, n)

    def ask(length: int, cookie: str = "") -> int:
        environ = app.test_request_context(
            "/api/reasoning/follows", method="POST", headers={"Cookie": cookie}
        ).request.environ
        environ |= {
            "CONTENT_LENGTH": str(length),
            "wsgi.input": Untouched(),
            "REMOTE_ADDR": "192.0.2.7",
            "HTTP_HOST": "localhost",
        }
        told: list[str] = []
        b"".join(app.wsgi_app(environ, lambda status, headers, fault=None: told.append(status)))
        return int(told[0].split()[0])

    assert ask(40_000) == 429
    # By its length alone it isn't heavy; or this browser is known: then the body is read.
    with app.app_context():
        from app.web.security import new_mark

        marked = f"ea-known={new_mark(app.extensions['eight_angles'])}"
    assert ask(400) != 429 and ask(40_000, marked) != 429
    assert ask(40_000, marked[:-1] + ("A" if marked[-1] != "A" else "B")) == 429, "a mark can't be made up"
