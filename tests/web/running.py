"""A real server in its own process, and a plain HTTP client with cookies, for tests that must not share
memory.
"""

from __future__ import annotations

import http.client
import json
import os
import re
import signal
import subprocess
import sys
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any
from urllib.parse import urlencode

from tests.ports import free_port
from tests.web.small_pack import write_pack

ROOT = Path(__file__).resolve().parents[2]


class Http:
    """One browser without a face: keeps a connection and its cookies."""

    def __init__(self, port: int, timeout: float = 15) -> None:
        self.port, self.timeout = port, timeout
        self.cookies: dict[str, str] = {}
        self.connection = http.client.HTTPConnection("127.0.0.1", port, timeout=timeout)
        self._token = ""

    def ask(
        self, method: str, path: str, body: bytes | None = None, **headers: str
    ) -> tuple[int, dict[str, str], bytes]:
        """(status, headers, body); headers in small letters."""
        names = {k.replace("_", "-"): v for k, v in headers.items()}
        if self.cookies:
            names["Cookie"] = "; ".join(f"{k}={v}" for k, v in self.cookies.items())
        self.connection.request(method, path, body, names)
        answer = self.connection.getresponse()
        data = answer.read()
        found: dict[str, str] = {}
        for name, value in answer.getheaders():
            if name.lower() == "set-cookie":
                key, _, rest = value.partition("=")
                self.cookies[key] = rest.split(";")[0]
            found[name.lower()] = value
        return answer.status, found, data

    def token(self, path: str = "/") -> str:
        status, headers, data = self.ask("GET", path, Accept="text/html")
        found = re.search(rb'<meta name="token" content="([^"]+)"', data)
        assert found, (status, path, data[:300])
        return found.group(1).decode()

    def form(self, path: str, at: str = "/", **fields: str) -> int:
        body = urlencode({"token": self.token(at), **fields}).encode()
        return self.ask("POST", path, body, Content_Type="application/x-www-form-urlencoded", Accept="text/html")[0]

    def json(self, method: str, path: str, body: Any = None, token: str | None = None) -> tuple[int, Any]:
        headers = {"Accept": "application/json"}
        data = None
        if method != "GET":
            headers |= {"Content-Type": "application/json", "X-Seat-Token": token or self._page_token(path)}
            data = json.dumps(body or {}).encode()
        status, _, text = self.ask(method, path, data, **headers)
        return status, json.loads(text) if text.startswith(b"{") else text

    def _page_token(self, path: str) -> str:
        if not self._token:
            self._token = self.token("/desk/" if path.startswith("/desk") else "/")
        return self._token

    def close(self) -> None:
        self.connection.close()


class Running:
    """The server as `python -m app serve` starts it."""

    def __init__(self, folder: Path, *options: str) -> None:
        self.folder, self.options = folder, options
        if not (folder / "packs").exists():
            write_pack(folder / "packs")
        self.port = free_port()
        self.log = folder / "server.log"
        self.first_page = 0.0
        self.start()

    def start(self) -> None:
        began = time.monotonic()
        with self.log.open("ab") as log:
            self.process = subprocess.Popen(
                [sys.executable, "-m", "app", "serve", "--host", "127.0.0.1", "--port", str(self.port),
                 "--data", str(self.folder / "data"), "--packs", str(self.folder / "packs"), *self.options],
                cwd=ROOT, stdout=log, stderr=log, start_new_session=True, env={**os.environ, "PYTHONUNBUFFERED": "1"},
            )  # fmt: skip
        while time.monotonic() - began < 30:
            try:
                http = Http(self.port)
                if http.ask("GET", "/")[0] == 200:
                    self.first_page = time.monotonic() - began
                    return
            except OSError:
                time.sleep(0.02)
            finally:
                http.close()
            assert self.process.poll() is None, self.log.read_text()
        raise AssertionError("no page in 30 s: " + self.log.read_text())

    def kill(self) -> None:
        """As a power switch would, but for the disk: every process of the server at once, no goodbye."""
        os.killpg(self.process.pid, signal.SIGKILL)
        self.process.wait()

    def interrupt(self) -> int:
        """Ctrl-C; the exit status."""
        os.killpg(self.process.pid, signal.SIGINT)
        return self.process.wait(timeout=30)

    def stop(self) -> None:
        if self.process.poll() is None:
            self.kill()

    def setup_path(self) -> str:
        found = re.findall(r"(/desk/setup/\S+)", self.log.read_text())
        assert found, self.log.read_text()
        return str(found[-1])

    def teacher(self) -> Http:
        teacher = Http(self.port)
        path = self.setup_path()
        assert teacher.form(path, at=path, passphrase="four quiet pencils lean", again="four quiet pencils lean") == 303
        return teacher

    def period(self, teacher: Http) -> tuple[str, str]:
        """(id, code) of a period with its door open."""
        status, made = teacher.json("POST", "/desk/period", {"pack": "small", "title": "Third hour"})
        assert status == 200, made
        status, door = teacher.json("POST", f"/desk/period/{made['id']}/door", {"open": True})
        assert status == 200, door
        return made["id"], door["code"]

    def seat(self, code: str, number: int) -> Http:
        student = Http(self.port)
        assert student.form("/enter", code=code) == 303
        assert student.form("/enter/name", number=str(number)) == 303
        return student


def events(http: Http, path: str) -> Iterator[tuple[str, Any]]:
    """(event, data) of a live stream, for as long as it is read."""
    http.connection.request("GET", path, headers={"Cookie": "; ".join(f"{k}={v}" for k, v in http.cookies.items())})
    answer = http.connection.getresponse()
    if answer.status != 200:
        yield "refused", answer.status
        return
    name = ""
    while line := answer.fp.readline() if not answer.chunked else _line(answer):
        text = line.decode().rstrip("\n")
        if text.startswith("event: "):
            name = text[7:]
        elif text.startswith("data: "):
            yield name, json.loads(text[6:])


def _line(answer: http.client.HTTPResponse) -> bytes:
    return answer.readline()
