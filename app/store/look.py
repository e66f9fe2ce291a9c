"""A look at the data before anything is opened: can this program use them? If not, why, in one sentence.

With Python's own driver alone, so that the start needn't wait for it.
"""

from __future__ import annotations

import os
import re
import sqlite3
from pathlib import Path

_OURS = re.compile(r"v\d{4}\Z")

__all__ = ["FILE", "HEAD", "trouble"]

FILE = "eight-angles.db"
HEAD = "v0003"  # the newest migration


def trouble(folder: Path) -> str | None:
    """What is wrong with the data folder and the SQLite database in it; None when nothing is."""
    try:
        folder.mkdir(parents=True, exist_ok=True, mode=0o700)
    except OSError as error:
        return f"the data folder {folder} can't be made ({error.strerror}); give another with --data."
    if not os.access(folder, os.R_OK | os.W_OK | os.X_OK):
        return f"nothing can be written in the data folder {folder}; give another with --data."
    path = folder / FILE
    if not path.exists():
        return None
    if not os.access(path, os.R_OK | os.W_OK):
        return f"{path} can't be written to; change who may, or give another folder with --data."
    if path.stat().st_size == 0:
        return (
            f"{path} is empty: something has cut it short. Put a copy of yours in its place, "
            "or move it away to begin anew."
        )
    try:
        found = _version(path)
        sound = _sound(path)
    except sqlite3.OperationalError:
        return None  # locked for a moment: the server waits its turn
    except sqlite3.DatabaseError:
        return f"{path} is damaged; put a copy of yours in its place, or move it away to begin anew."
    if not sound:
        return f"{path} is damaged; put a copy of yours in its place, or move it away to begin anew."
    if found is None or not _OURS.match(found):
        return f"{path} isn't a database of Eight Angles; give another folder with --data."
    if found > HEAD:
        return (
            f"the data in {folder} were made by a newer Eight Angles; update this one, "
            "or give another folder with --data."
        )
    return None


def _sound(path: Path) -> bool:
    """Whether the file's pages hang together; of a large one only the beginning, so as not to hold the start."""
    connection = sqlite3.connect(path, timeout=2)
    try:
        small = path.stat().st_size < 64_000_000
        ask = "PRAGMA quick_check(1)" if small else "SELECT 'ok' FROM sqlite_master LIMIT 1"
        told = connection.execute(ask).fetchone()
        return told is None or told[0] == "ok"
    finally:
        connection.close()


def _version(path: Path) -> str | None:
    connection = sqlite3.connect(path, timeout=2)
    try:
        tables = connection.execute("SELECT name FROM sqlite_master WHERE name = 'alembic_version'").fetchall()
        if not tables:
            return None
        row = connection.execute("SELECT version_num FROM alembic_version").fetchone()
        return None if row is None else str(row[0])
    finally:
        connection.close()
