"""A server with a folder of its own, a clock of its own, and a small pack of its own."""

from __future__ import annotations

import re
import shutil
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
from flask import Flask
from flask.testing import FlaskClient

from app import create_app
from app.classroom.kinds import KINDS
from tests.web.small_pack import write_pack

PASSPHRASE = "four quiet pencils lean"
START = 1_900_000_000_000


class Clock:
    """Milliseconds that move only when told."""

    def __init__(self) -> None:
        self.now = START

    def __call__(self) -> int:
        return self.now

    def pass_(self, *, seconds: float = 0, minutes: float = 0, hours: float = 0, days: float = 0) -> None:
        self.now += int(1000 * (seconds + 60 * minutes + 3600 * hours + 86400 * days))


def token_of(page: str) -> str:
    found = re.search(r'<meta name="token" content="([^"]+)"', page)
    assert found, page[:400]
    return found.group(1)


class Browser:
    """One browser: its cookies, and the token of the page it last looked at, by role."""

    def __init__(self, app: Flask, address: str = "192.0.2.7") -> None:
        self.client: FlaskClient = app.test_client()
        self.address = address

    def open(self, path: str, method: str = "GET", **more: Any) -> Any:
        more.setdefault("environ_base", {"REMOTE_ADDR": self.address})
        return self.client.open(path, method=method, **more)

    def page(self, path: str, **more: Any) -> Any:
        return self.open(path, headers={"Accept": "text/html"}, **more)

    def token(self, path: str) -> str:
        at = "/desk/" if path.startswith("/desk") else "/"
        found = self.page(at)
        if found.status_code == 303:
            found = self.page(found.headers["Location"])
        return token_of(found.get_data(as_text=True))

    def form(self, path: str, **fields: str) -> Any:
        return self.open(path, "POST", data={"token": self.token(path), **fields}, headers={"Accept": "text/html"})

    def json(self, method: str, path: str, body: Any = None, **headers: str) -> Any:
        headers = {"X-Seat-Token": self.token(path), **headers}
        return self.open(path, method, json={} if body is None else body, headers=headers)

    def post(self, path: str, body: Any = None) -> Any:
        return self.json("POST", path, body)

    def put(self, path: str, body: Any) -> Any:
        return self.json("PUT", path, body)

    def get(self, path: str, **headers: str) -> Any:
        return self.open(path, headers=headers)


@dataclass
class Room:
    """An app with a teacher signed in, and ways to fill a class."""

    app: Flask
    clock: Clock
    teacher: Browser

    @property
    def server(self) -> Any:
        return self.app.extensions["eight_angles"]

    def browser(self, address: str = "192.0.2.7") -> Browser:
        return Browser(self.app, address)

    def period(self, title: str = "Third hour", pack: str = "small") -> str:
        made = self.teacher.post("/desk/period", {"pack": pack, "title": title})
        assert made.status_code == 200, made.data
        return str(made.json["id"])

    def open_door(self, period: str) -> str:
        made = self.teacher.post(f"/desk/period/{period}/door", {"open": True})
        assert made.status_code == 200, made.data
        return str(made.json["code"])

    def seat(self, code: str, **name: str) -> Browser:
        """A student who comes in by the code; by default under the first offered name."""
        student = self.browser()
        assert student.form("/enter", code=code).status_code == 303
        if not name:
            page = student.page("/enter/name").get_data(as_text=True)
            name = {"word": re.findall(r'name="word" value="([^"]+)"', page)[0]}
        assert student.form("/enter/name", **name).status_code == 303, name
        return student


def set_up(app: Flask, name: str = "teacher", passphrase: str = PASSPHRASE) -> Browser:
    """A teacher who has just used the set-up link."""
    from app.store import people

    server = app.extensions["eight_angles"]
    token = server.store.write(lambda c: people.put_invite(c, name, server.now()))
    teacher = Browser(app)
    page = teacher.page(f"/desk/setup/{token}")
    assert page.status_code == 200
    made = teacher.open(
        f"/desk/setup/{token}",
        "POST",
        data={"token": token_of(page.get_data(as_text=True)), "passphrase": passphrase, "again": passphrase},
        headers={"Accept": "text/html"},
    )
    assert made.status_code == 303, made.data
    return teacher


@pytest.fixture
def packs(tmp_path: Path) -> Path:
    return write_pack(tmp_path / "packs")


@pytest.fixture(scope="session")
def empty_database(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A database with its tables and nothing in them: made once, copied for each test."""
    from app.store.store import Store

    path = tmp_path_factory.mktemp("empty") / "eight-angles.db"
    store = Store(f"sqlite:///{path}")
    store.open()
    store.close()
    return path


@pytest.fixture
def make_app(
    tmp_path: Path, packs: Path, empty_database: Path, monkeypatch: pytest.MonkeyPatch
) -> Iterator[Callable[..., Flask]]:
    monkeypatch.setitem(KINDS, "explore", "tests.web.plain_kind")
    made: list[Flask] = []
    (tmp_path / "data").mkdir()
    shutil.copy(empty_database, tmp_path / "data" / "eight-angles.db")

    def make(**config: Any) -> Flask:
        settings = {
            "TESTING": True,
            "DATA_DIR": str(tmp_path / "data"),
            "PACKS_DIR": str(packs),
            "CLOCK": Clock(),
        }
        app = create_app({**settings, **config})
        made.append(app)
        return app

    yield make
    for app in made:
        app.extensions["eight_angles"].close()


@pytest.fixture
def room(make_app: Callable[..., Flask], monkeypatch: pytest.MonkeyPatch) -> Room:
    app = make_app()
    return Room(app, app.config["CLOCK"], set_up(app))
