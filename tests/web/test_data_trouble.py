"""Data that can't be used, or can't be added to: one plain sentence, and on the Desk where a teacher sees it (F9-12)."""

from __future__ import annotations

import sqlite3
import subprocess
import sys
from collections.abc import Callable
from pathlib import Path

import pytest

from app.store.look import FILE, trouble
from app.store.store import Store
from tests.ports import free_port
from tests.web.conftest import Room

ROOT = Path(__file__).resolve().parents[2]


def _made(folder: Path) -> Path:
    path = folder / FILE
    store = Store(f"sqlite:///{path}")
    store.open()
    store.close()
    return path


def _empty(folder: Path) -> None:
    (folder / FILE).touch()


def _scrambled(folder: Path) -> None:
    """The head of the file is whole, so it opens; everything behind its first page is noise."""
    path = _made(folder)
    data = bytearray(path.read_bytes())
    data[4096:] = bytes((i * 37 + 11) % 256 for i in range(len(data) - 4096))
    path.write_bytes(bytes(data))


def _foreign_revision(folder: Path) -> None:
    with sqlite3.connect(_made(folder)) as c:
        c.execute("UPDATE alembic_version SET version_num = '3f2a9c0b77de'")


def _another_programs(folder: Path) -> None:
    with sqlite3.connect(folder / FILE) as c:
        c.execute("CREATE TABLE recipe (id INTEGER)")


@pytest.mark.parametrize(("spoil", "word"), [(_empty, "is empty"), (_scrambled, "is damaged"), (_foreign_revision, "isn't a database of"), (_another_programs, "isn't a database of")])  # fmt: skip
def test_a_file_that_is_not_ours_or_not_whole_is_named(
    tmp_path: Path, spoil: Callable[[Path], None], word: str
) -> None:
    spoil(tmp_path)
    before = (tmp_path / FILE).read_bytes()
    said = trouble(tmp_path)
    assert said is not None and word in said and FILE in said and "\n" not in said
    assert (tmp_path / FILE).read_bytes() == before


def test_a_sound_file_is_no_trouble(tmp_path: Path) -> None:
    assert trouble(tmp_path) is None
    _made(tmp_path)
    assert trouble(tmp_path) is None


def test_a_full_disk_is_told_to_the_student_and_on_the_desk(room: Room) -> None:
    """SQLite itself says that it is full: its file is held to the size that it has (PRAGMA max_page_count)."""
    period = room.period()
    store = room.server.store

    def hold(pages: int) -> None:
        store.write(lambda c: c.exec_driver_sql(f"PRAGMA max_page_count = {pages}"))

    hold(1)  # no smaller than it is: SQLite takes that for the size that it has
    refused = None
    for n in range(400):
        made = room.teacher.post("/desk/period", {"pack": "small", "title": f"{n} " + "x" * 50})
        if made.status_code != 200:
            refused = made
            break
    assert refused is not None and refused.status_code == 503, refused
    assert "disk is full" in refused.get_data(as_text=True)
    state = room.teacher.get(f"/desk/period/{period}/state")
    assert state.status_code == 200 and state.json["trouble"] == "disk"
    hold(1_000_000)
    assert room.teacher.post("/desk/period", {"pack": "small", "title": "After"}).status_code == 200
    room.clock.pass_(minutes=3)
    assert room.teacher.get(f"/desk/period/{period}/state").json["trouble"] != "disk"


def test_a_second_server_on_one_folder_says_so_and_leaves_the_first_alone(tmp_path: Path) -> None:
    def start(port: int) -> subprocess.Popen[str]:
        return subprocess.Popen(
            [sys.executable, "-m", "app", "serve", "--host", "127.0.0.1", "--port", str(port), "--data", str(tmp_path)],
            cwd=ROOT, stdout=subprocess.PIPE, stderr=subprocess.PIPE, text=True,
        )  # fmt: skip

    ports = [free_port(), free_port()]
    first = start(ports[0])
    try:
        assert first.stdout is not None
        while "http://" not in (line := first.stdout.readline()):
            assert line or first.poll() is None
        second = start(ports[1])
        out, err = second.communicate(timeout=60)
        assert second.returncode == 1 and out == ""
        assert len(err.strip().splitlines()) == 1 and "already runs on this data folder" in err
        assert first.poll() is None
    finally:
        first.terminate()
        first.communicate(timeout=30)
    third = start(ports[1])
    try:
        assert third.stdout is not None
        assert any("http://" in third.stdout.readline() for _ in range(10)), "the folder is free again"
    finally:
        third.terminate()
        third.communicate(timeout=30)
