"""The class: 35 Seats that hand in and a Desk that looks and acts, and what they felt.

A Seat does as the page's outbox does: it sends a reply again, under the same id, until it is acknowledged. What is felt is the time from
the first sending to the acknowledgment.
"""

from __future__ import annotations

import http.client
import json
import multiprocessing
import random
import sqlite3
import threading
import time
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any

from tests.web.running import Http, Running

SEATS = 35
SCHOOL, STRANGER, OTHER = "198.51.100.7", "203.0.113.9", "203.0.113.77"  # addresses of RFC 5737, for documentation only
PASSPHRASE = "four quiet pencils lean"
LONGEST = 60.0  # seconds until a Seat here gives up


class Browser(Http):
    """A browser somewhere: the proxy in front says from which address."""

    def __init__(self, port: int, address: str = SCHOOL, timeout: float = 15) -> None:
        super().__init__(port, timeout)
        self.address = address

    def ask(
        self, method: str, path: str, body: bytes | None = None, **headers: str
    ) -> tuple[int, dict[str, str], bytes]:
        headers.setdefault("X_Forwarded_For", self.address)
        try:
            return super().ask(method, path, body, **headers)
        except (OSError, http.client.HTTPException):
            self.connection.close()  # the next question opens another
            raise


@dataclass
class Felt:
    """Milliseconds by phase, and what went wrong."""

    replies: dict[str, list[float]] = field(default_factory=dict)
    desk: dict[str, list[float]] = field(default_factory=dict)
    acknowledged: list[str] = field(default_factory=list)
    given_up: list[str] = field(default_factory=list)
    desk_failed: list[str] = field(default_factory=list)
    again: int = 0


@dataclass
class Lesson:
    """What the class's process needs: cookies and tokens, nothing that can't be sent to it."""

    port: int
    period: str
    seats: list[tuple[dict[str, str], str]]
    desk: tuple[dict[str, str], str]


def begin(running: Running, seats: int = SEATS) -> tuple[Lesson, Browser, str]:
    """A period with its door open and a class sitting in it: (lesson, teacher, code)."""
    teacher = Browser(running.port)
    path = running.setup_path()
    assert teacher.form(path, at=path, passphrase=PASSPHRASE, again=PASSPHRASE) == 303
    period, code = running.period(teacher)
    sitting = []
    for number in range(1, seats + 1):
        student = sit(running.port, code, number=str(number))
        sitting.append((student.cookies, student.token("/")))
        student.close()
    return Lesson(running.port, period, sitting, (teacher.cookies, teacher.token("/desk/"))), teacher, code


def sit(port: int, code: str, address: str = SCHOOL, **name: str) -> Browser:
    student = Browser(port, address)
    for path, fields in (("/enter", {"code": code}), ("/enter/name", name)):
        for _ in range(20):
            status = student.form(path, **fields)
            if status != 429:
                break
            time.sleep(0.5)
        assert status == 303, (path, status, name)
    return student


class Session:
    """The class in its own process; `phase` says what is going on meanwhile."""

    def __init__(self, lesson: Lesson, seed: int = 1, pause: float = 1.5) -> None:
        context = multiprocessing.get_context("spawn")
        self.pipe, there = context.Pipe()
        self.process = context.Process(target=attend, args=(lesson, there, seed, pause), daemon=True)
        self.process.start()
        assert self.pipe.poll(30) and self.pipe.recv() == "here"

    def phase(self, name: str) -> None:
        self.pipe.send(name)

    def end(self) -> Felt:
        self.pipe.send("")
        assert self.pipe.poll(LONGEST + 20), "the class hasn't ended"
        felt: Felt = self.pipe.recv()
        self.process.join(10)
        return felt

    def stop(self) -> None:
        if self.process.is_alive():
            self.process.terminate()


def attend(lesson: Lesson, pipe: Any, seed: int, pause: float) -> None:
    felt, lock, over = Felt(), threading.Lock(), threading.Event()
    now = {"phase": "arriving"}

    def seat(k: int) -> None:
        chance = random.Random(f"{seed} {k}")
        browser = Browser(lesson.port, SCHOOL)
        browser.cookies, token = dict(lesson.seats[k][0]), lesson.seats[k][1]
        n = 0
        over.wait(chance.uniform(0, pause))
        while not over.is_set():
            n += 1
            body = {
                "id": f"reply-{k:02}-{n:04}",
                "task": ("first", "second", "third")[n % 3],
                "reply": {"answer": k % 2},
            }
            phase, began = now["phase"], time.monotonic()
            if not deliver(browser, token, body, began):
                with lock:
                    felt.given_up.append(body["id"])
                return
            with lock:
                felt.replies.setdefault(phase, []).append(1000 * (time.monotonic() - began))
                felt.acknowledged.append(body["id"])
            if n % 5 == 0:  # as after a lost acknowledgment: the same again
                deliver(browser, token, body, began)
            over.wait(chance.uniform(0.5 * pause, 1.5 * pause))

    def deliver(browser: Browser, token: str, body: dict, began: float) -> bool:
        while time.monotonic() - began < LONGEST:
            try:
                status, answer = browser.json("POST", "/seat/reply", body, token)
                if status == 200 and answer["stored"]:
                    return True
            except (OSError, http.client.HTTPException, ValueError):
                pass
            with lock:
                felt.again += 1
            time.sleep(0.2)
        return False

    def desk() -> None:
        browser = Browser(lesson.port, SCHOOL)
        browser.cookies, token = dict(lesson.desk[0]), lesson.desk[1]
        base, n = f"/desk/period/{lesson.period}", 0
        while not over.is_set():
            n += 1
            phase, began = now["phase"], time.monotonic()
            try:
                if n % 3:
                    status, _ = browser.json("GET", f"{base}/state")
                else:
                    status, _ = browser.json("POST", f"{base}/follow", {"on": False}, token)
            except (OSError, http.client.HTTPException, ValueError) as error:
                status = type(error).__name__
            with lock:
                felt.desk.setdefault(phase, []).append(1000 * (time.monotonic() - began))
                if status != 200:
                    felt.desk_failed.append(f"{phase}: {status}")
            over.wait(0.3)

    threads = [threading.Thread(target=seat, args=(k,)) for k in range(len(lesson.seats))] + [
        threading.Thread(target=desk)
    ]
    for thread in threads:
        thread.start()
    pipe.send("here")
    while word := pipe.recv():
        now["phase"] = word
    over.set()
    for thread in threads:
        thread.join()
    pipe.send(felt)


def kept(folder: Path) -> list[str]:
    """The ids of all replies in the file."""
    with sqlite3.connect(folder / "data" / "eight-angles.db", timeout=10) as connection:
        return [row[0] for row in connection.execute("SELECT id FROM reply")]


def rows(folder: Path, sql: str) -> list[tuple[Any, ...]]:
    with sqlite3.connect(folder / "data" / "eight-angles.db", timeout=10) as connection:
        return connection.execute(sql).fetchall()


def lost_and_doubled(felt: Felt, folder: Path) -> tuple[set[str], set[str]]:
    """Acknowledged and not in the file; in the file or in a count more often than once."""
    ids = kept(folder)
    twice = {one for one in ids if ids.count(one) > 1} if len(set(ids)) < len(ids) else set()
    counted = rows(folder, "SELECT coalesce(sum(replies), 0) FROM standing")[0][0]
    if counted != len(ids):
        twice.add(f"the standings count {counted}, the file holds {len(ids)}")
    return set(felt.acknowledged) - set(ids), twice


def percentile(values: list[float], share: float) -> float:
    ordered = sorted(values)
    return ordered[min(len(ordered) - 1, int(share * len(ordered)))] if ordered else 0.0


def as_json(body: object) -> bytes:
    return json.dumps(body).encode()
