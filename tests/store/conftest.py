"""One store for each kind of database that is at hand: SQLite always, PostgreSQL where its programs are."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path

import pytest

from app.store.store import Store


@pytest.fixture
def store(tmp_path: Path) -> Iterator[Store]:
    made = Store(f"sqlite:///{tmp_path / 'a.db'}")
    made.open()
    yield made
    made.close()
