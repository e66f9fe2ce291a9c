"""F9-05: the clock of the machine goes back half an hour, or far ahead."""

from __future__ import annotations

import sqlite3
import time
from pathlib import Path

from app import create_app
from tests.attack.lesson import begin, kept
from tests.web.running import Running
from tests.web.small_pack import write_pack

HALF_HOUR = 30 * 60_000
FAR = 401 * 24 * 3_600_000


def clock_back(folder: Path) -> list[tuple[bool, str]]:
    """Limits on, one seat; the clock handed in goes back. In process, for the clock of a machine is not ours to set."""
    write_pack(folder / "packs")
    now = {"ms": int(time.time() * 1000)}
    app = create_app(
        {
            "TESTING": True,
            "LIMITS": True,
            "CLOCK": lambda: now["ms"],
            "DATA_DIR": str(folder / "data"),
            "PACKS_DIR": str(folder / "packs"),
        }
    )
    client = app.test_client()
    token = _token(client, "/alone/small/")
    statuses: dict[str, list[int]] = {"before": [], "after": []}
    for when in ("before", "after"):
        for n in range(12):
            now["ms"] += 1000
            body = {"n": n + (100 if when == "after" else 0), "work": {"text": str(n)}}
            put = client.put("/alone/small/work/first", json=body, headers={"X-Seat-Token": token})
            reply = client.post(
                "/alone/small/reply",
                headers={"X-Seat-Token": token},
                json={"id": f"reply-{when}-{n:03}", "task": "first", "reply": {"answer": n % 2}},
            )
            statuses[when] += [put.status_code, reply.status_code]
        now["ms"] -= HALF_HOUR
    app.extensions["eight_angles"].close()
    return [
        (set(statuses["before"]) == {200}, "work and replies are taken while the clock is right"),
        (set(statuses["after"]) == {200}, f"and after it went back half an hour ({sorted(set(statuses['after']))})"),
    ]


def _token(client, path: str) -> str:
    import re

    found = re.search(r'<meta name="token" content="([^"]+)"', client.get(path).get_data(as_text=True))
    assert found
    return found.group(1)


def clock_ahead(folder: Path, wait: float = 6.0) -> list[tuple[bool, str]]:
    """All that is kept is made 401 days older while the server is down: the same as a clock that is 401 days ahead."""
    running = Running(folder, "--proxies", "1")
    try:
        lesson, _, _ = begin(running, seats=3)
        from tests.attack.lesson import Browser

        for k, (cookies, token) in enumerate(lesson.seats):
            student = Browser(running.port)
            student.cookies = dict(cookies)
            assert (
                student.json(
                    "POST", "/seat/reply", {"id": f"reply-{k:04}", "task": "first", "reply": {"answer": 0}}, token
                )[0]
                == 200
            )
        before = sorted(kept(folder))
        running.interrupt()
        older(folder / "data" / "eight-angles.db")
        (folder / "data" / "last-run.json").unlink(missing_ok=True)  # what is in the database must tell as much
        running.start()
        end = time.monotonic() + wait
        while time.monotonic() < end and sorted(kept(folder)) == before:
            time.sleep(0.25)
        after = sorted(kept(folder))
        with sqlite3.connect(folder / "data" / "eight-angles.db") as file:
            seats = file.execute("SELECT count(*) FROM seat").fetchone()[0]
    finally:
        running.stop()
    return [
        (
            after == before and seats == 3,
            f"a start with the clock far ahead erases nothing unasked ({len(after)} of {len(before)} replies, {seats} of 3 seats left)",
        )
    ]


def older(file: Path) -> None:
    """Every time in the file (milliseconds since 1970) moves 401 days back."""
    with sqlite3.connect(file) as connection:
        tables = [row[0] for row in connection.execute("SELECT name FROM sqlite_master WHERE type = 'table'")]
        for table in tables:
            for column in [row[1] for row in connection.execute(f"PRAGMA table_info('{table}')")]:
                connection.execute(
                    f"""UPDATE "{table}" SET "{column}" = "{column}" - ? WHERE typeof("{column}") = 'integer'
                    AND "{column}" > 1500000000000""",
                    (FAR,),
                )
    connection.close()
