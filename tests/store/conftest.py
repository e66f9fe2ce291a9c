"""One store for each kind of database that is at hand: SQLite always, PostgreSQL where its programs are."""

from __future__ import annotations

import os
import shutil
import subprocess
import tempfile
from collections.abc import Iterator
from pathlib import Path

import pytest

from app.store.store import Store
from tests.ports import free_port


@pytest.fixture
def file_store(tmp_path: Path) -> Iterator[Store]:
    """SQLite in a file, for tests that look at the file."""
    made = Store(f"sqlite:///{tmp_path / 'a.db'}")
    made.open()
    yield made
    made.close()


@pytest.fixture(scope="session")
def postgres() -> Iterator[str]:
    """A PostgreSQL of its own, thrown away at the end: its address up to the database's name."""
    try:
        import psycopg  # noqa: F401
    except ImportError:
        pytest.skip("psycopg is not installed: PostgreSQL is not tested (pip install 'psycopg[binary]')")
    homes = sorted(Path("/usr/lib/postgresql").glob("*/bin")) or [Path(p).parent for p in [shutil.which("initdb")] if p]
    if not homes:
        pytest.skip("no PostgreSQL server program: PostgreSQL is not tested (apt-get install postgresql)")
    # Short, since the path of a socket may be no longer than about 100 characters; removed below.
    folder = Path(tempfile.mkdtemp(prefix="pg"))
    # The server refuses to run as root.
    user = ["runuser", "-u", "postgres", "--"] if os.geteuid() == 0 else []
    if user:
        shutil.chown(folder, "postgres")
    port = free_port()

    def run(program: str, *arguments: str) -> None:
        subprocess.run([*user, str(homes[-1] / program), *arguments], check=True, cwd=folder, stdout=subprocess.DEVNULL)

    run(
        "initdb",
        "-D",
        f"{folder}/data",
        "-U",
        "postgres",
        "-A",
        "trust",
        "--no-sync",
        "-E",
        "UTF8",
        "--locale=C.UTF-8",
    )
    options = f"-k {folder} -h 127.0.0.1 -p {port} -c fsync=off -c synchronous_commit=off -c full_page_writes=off"
    run(
        "pg_ctl",
        "-D",
        f"{folder}/data",
        "-s",
        "-w",
        "-t",
        "30",
        "-l",
        f"{folder}/log",
        "-o",
        options,
        "start",
    )
    yield f"postgresql+psycopg://postgres@127.0.0.1:{port}"
    run("pg_ctl", "-D", f"{folder}/data", "-s", "-m", "fast", "stop")
    shutil.rmtree(folder, ignore_errors=True)


@pytest.fixture
def postgres_url(postgres: str) -> Iterator[str]:
    """An empty database of its own for one test."""
    import psycopg

    admin = postgres.replace("+psycopg", "") + "/postgres"
    name = "t" + os.urandom(6).hex()
    with psycopg.connect(admin, autocommit=True) as connection:
        connection.execute(f"CREATE DATABASE {name}")
    yield f"{postgres}/{name}"
    with psycopg.connect(admin, autocommit=True) as connection:
        connection.execute(f"DROP DATABASE {name} WITH (FORCE)")


@pytest.fixture(params=["sqlite", "postgresql"])
def store(request: pytest.FixtureRequest, tmp_path: Path) -> Iterator[Store]:
    """The same tests for both."""
    url = f"sqlite:///{tmp_path / 'b.db'}" if request.param == "sqlite" else request.getfixturevalue("postgres_url")
    made = Store(url)
    made.open()
    yield made
    made.close()
