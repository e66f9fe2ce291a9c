"""The command: what it prints, what it refuses, that importing does nothing."""

from __future__ import annotations

import re
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest
from flask import Flask

from app import cli, serve, worker

ROOT = Path(__file__).resolve().parents[2]


def run(*arguments: str) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "app", *arguments], cwd=ROOT, capture_output=True, text=True, timeout=60
    )


def test_it_says_what_it_can_do() -> None:
    said = run("--help")
    assert said.returncode == 0
    for command in ("serve", "teacher", "packs", "sheet", "erase"):
        assert command in said.stdout
    assert run().returncode == 2


@pytest.mark.parametrize("host", ["0.0.0.0", "192.168.1.4", "::", "example.org"])
def test_debug_is_for_this_machine_only(host: str) -> None:
    """V-21: debug on a non-loopback address refuses to start."""
    said = run("serve", "--debug", "--host", host, "--port", "8999")
    assert said.returncode == 2 and "--debug" in said.stderr


@pytest.mark.parametrize(("host", "own"), [("127.0.0.1", True), ("::1", True), ("localhost", True), ("127.8.8.8", True),
                                           ("0.0.0.0", False), ("10.0.0.1", False), ("x", False), ("", False)])  # fmt: skip
def test_loopback(host: str, own: bool) -> None:
    assert serve.loopback(host) is own


def test_a_port_in_use_is_said_in_words() -> None:
    import socket

    with socket.socket() as taken:
        taken.bind(("127.0.0.1", 0))
        taken.listen()
        said = run("serve", "--host", "127.0.0.1", "--port", str(taken.getsockname()[1]))
    assert said.returncode == 1 and "in use" in said.stderr and "Traceback" not in said.stderr
    assert run("serve", "--port", "70000").returncode == 2


def test_a_new_set_up_link_and_an_erasure(
    tmp_path: Path, capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    for name in ("DATA_DIR", "DATABASE_URL"):
        monkeypatch.delenv(f"EIGHT_ANGLES_{name}", raising=False)
        monkeypatch.setenv(f"EIGHT_ANGLES_{name}", "")
    data = str(tmp_path / "data")
    assert cli.main(["teacher", "Second", "--data", data, "--at", "http://192.0.2.4:8000/"]) == 0
    assert "http://192.0.2.4:8000/desk/setup/" in capsys.readouterr().out
    assert cli.main(["erase", "--yes", "--data", data]) == 0
    assert "0 seats" in capsys.readouterr().out
    monkeypatch.setattr("builtins.input", lambda _: "no")
    assert cli.main(["erase", "--data", data]) == 1


def test_importing_does_nothing(tmp_path: Path) -> None:
    """No file, no thread, and none of the slow libraries, until something is asked."""
    code = (
        "import sys, threading, app, app.cli, app.serve, app.worker, app.web.server\n"
        "from app import create_app\n"
        f"made = create_app({{'DATA_DIR': {str(tmp_path / 'data')!r}, 'PACKS_DIR': {str(tmp_path)!r}}})\n"
        "assert threading.active_count() == 1\n"
        "slow = {'sympy', 'shapely', 'mpmath', 'numpy', 'alembic'} & set(sys.modules)\n"
        "assert not slow, slow\n"
    )
    done = subprocess.run([sys.executable, "-c", code], cwd=ROOT, capture_output=True, text=True, timeout=60)
    assert done.returncode == 0, done.stderr
    assert not (tmp_path / "data").exists()


def test_a_calculator_needs_no_data_folder(tmp_path: Path) -> None:
    from app import create_app

    app = create_app({"TESTING": True, "DATA_DIR": str(tmp_path / "data")})
    answer = app.test_client().post("/api/figure/pairs", json={})
    assert answer.status_code == 422 and answer.json["error"]["where"]
    assert not (tmp_path / "data").exists()


def test_two_programs_in_one_process(tmp_path: Path) -> None:
    from app import create_app

    one, two = (create_app({"TESTING": True, "DATA_DIR": str(tmp_path / n)}) for n in "ab")
    pages = [app.test_client().get("/").get_data(as_text=True) for app in (one, two)]
    assert all("<h1" in page for page in pages)
    secrets = [(tmp_path / n / "secret").read_bytes() for n in "ab"]
    assert secrets[0] != secrets[1]


def _newer(folder: Path) -> None:
    import sqlite3

    connection = sqlite3.connect(folder / "eight-angles.db")
    connection.execute("CREATE TABLE alembic_version (version_num VARCHAR(32) NOT NULL)")
    connection.execute("INSERT INTO alembic_version VALUES ('v9999')")
    connection.commit()
    connection.close()


def _not_a_database(folder: Path) -> None:
    (folder / "eight-angles.db").write_bytes(bytes(range(256)) * 40)


def _short_secret(folder: Path) -> None:
    (folder / "secret").write_bytes(b"short")


def _a_file_in_its_place(folder: Path) -> None:
    folder.rmdir()
    folder.write_text("not a folder")


@pytest.mark.parametrize(("spoil", "word"), [(_newer, "newer"), (_not_a_database, "damaged"), (_short_secret, "damaged"),
                                             (_a_file_in_its_place, "--data")])  # fmt: skip
@pytest.mark.parametrize(
    "command",
    [("serve", "--host", "127.0.0.1", "--port", "8998"), ("teacher",), ("erase", "--yes")],
    ids=["serve", "teacher", "erase"],
)
def test_data_that_cannot_be_used_are_said_in_one_sentence(
    tmp_path: Path, spoil: Callable[[Path], None], word: str, command: tuple[str, ...]
) -> None:
    data = tmp_path / "data"
    data.mkdir()
    spoil(data)
    said = run(*command, "--data", str(data))
    assert said.returncode == 1
    assert said.stdout == "" and len(said.stderr.strip().splitlines()) == 1, said.stderr
    assert word in said.stderr and said.stderr.startswith(f"eight-angles {command[0]}: ")


def test_a_database_out_of_reach_is_said_in_one_sentence(tmp_path: Path) -> None:
    said = run(
        "serve", "--host", "127.0.0.1", "--port", "8998", "--data", str(tmp_path / "data"),
        "--database", f"sqlite:///{tmp_path}/nowhere/x.db",
    )  # fmt: skip
    assert said.returncode == 1 and len(said.stderr.strip().splitlines()) == 1, said.stderr
    assert "the database can't be used" in said.stderr


def test_a_second_start_before_set_up_leaves_the_first_link_good(
    make_app: Callable[..., Flask], capsys: pytest.CaptureFixture[str]
) -> None:
    app = make_app()
    links = []
    for _ in range(2):
        worker.announce(app.extensions["eight_angles"], "127.0.0.1", "8000")
        links += re.findall(r"(/desk/setup/\S+)", capsys.readouterr().out)
    assert len(set(links)) == 2
    assert [app.test_client().get(link).status_code for link in links] == [200, 200]


@pytest.mark.parametrize(
    ("more", "told"),
    [
        ({}, ["say by which name", "say how many proxies", "https://…/desk/setup/"]),
        ({"HOSTS": "lessons.example.org", "PROXIES": 1}, ["https://lessons.example.org/desk/setup/"]),
    ],
)
def test_behind_tls_no_plain_address_is_printed(
    make_app: Callable[..., Flask], capsys: pytest.CaptureFixture[str], more: dict[str, object], told: list[str]
) -> None:
    app = make_app(HOSTED=True, **more)
    worker.announce(app.extensions["eight_angles"], "127.0.0.1", "8000")
    said = capsys.readouterr().out
    assert [part for part in told if part not in said] == []
    assert "http://" not in said
    assert ("--hosted: say" in said) is (not more)
