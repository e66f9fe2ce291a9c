"""The one writer: all or nothing for each job, many jobs to a commit, an answer only after the commit."""

from __future__ import annotations

import sqlite3
import threading
import time
from concurrent.futures import Future, ThreadPoolExecutor
from pathlib import Path
from types import SimpleNamespace
from typing import Any

import pytest
from alembic.autogenerate import compare_metadata
from alembic.migration import MigrationContext
from sqlalchemy import Connection, insert, inspect, select, text
from sqlalchemy.exc import IntegrityError

from app.store import migrate
from app.store.faults import StoreFull
from app.store.store import Store, StoreClosed
from app.store.tables import metadata, teacher


def add(name: str):  # type: ignore[no-untyped-def]
    def job(c: Connection) -> str:
        c.execute(insert(teacher).values(id=name, name=name, passphrase="-", made=1))
        return name

    return job


def names(c: Connection) -> list[str]:
    return [row[0] for row in c.execute(select(teacher.c.name).order_by(teacher.c.name))]


def test_sqlite_is_opened_for_keeping(file_store: Store) -> None:
    """The four settings that the answer "it is stored" rests on."""
    store = file_store
    found = store.write(
        lambda c: {
            p: c.exec_driver_sql(f"PRAGMA {p}").scalar()
            for p in ("journal_mode", "synchronous", "foreign_keys", "secure_delete")
        }
    )
    assert found == {"journal_mode": "wal", "synchronous": 2, "foreign_keys": 1, "secure_delete": 1}


def test_an_answer_comes_after_the_commit(file_store: Store, tmp_path: Path) -> None:
    """What `write` has answered, another connection to the file sees."""
    store = file_store
    store.write(add("one"))
    other = sqlite3.connect(tmp_path / "a.db")

    assert other.execute("SELECT name FROM teacher").fetchall() == [("one",)]
    other.close()


def test_jobs_that_wait_share_a_commit_and_fail_alone(file_store: Store) -> None:
    """While the writer is held up, jobs gather; one that fails undoes itself and nobody else."""
    store = file_store
    held, entered = threading.Event(), threading.Event()

    def hold(c: Connection) -> None:
        entered.set()
        held.wait(5)

    results: list[str] = []

    def ask(name: str) -> None:
        try:
            results.append(f"kept {store.write(add(name))}")
        except IntegrityError:
            results.append(f"refused {name}")

    threads = [threading.Thread(target=store.write, args=(hold,))]
    threads[0].start()
    entered.wait(5)
    threads += [threading.Thread(target=ask, args=(name,)) for name in ["a", "b", "a", "c", "b", "d"]]
    for thread in threads[1:]:
        thread.start()
    held.set()
    for thread in threads:
        thread.join()

    assert store.read(names) == ["a", "b", "c", "d"]
    assert sorted(results) == ["kept a", "kept b", "kept c", "kept d", "refused a", "refused b"]


def test_nothing_is_acknowledged_that_a_full_disk_undid(file_store: Store) -> None:
    """SQLite on a full disk undoes all jobs of a commit by itself (sqlite.org/lang_transaction.html, 3.2).

    Its file is held to the size that it has, so it says so itself.
    """
    store = file_store
    store.write(lambda c: c.exec_driver_sql("PRAGMA max_page_count = 1"))  # no less than there is
    held, entered = threading.Event(), threading.Event()

    def hold(c: Connection) -> None:
        entered.set()
        held.wait(5)

    kept: list[str] = []
    told: list[str] = []

    def ask(name: str) -> None:
        try:
            kept.append(store.write(add(name)))
        except StoreFull as fault:
            told.append(repr(fault))

    threads = [threading.Thread(target=store.write, args=(hold,))]
    threads[0].start()
    entered.wait(5)
    big = "b" * 2_000_000
    for name in ("a", big, "c"):  # in this order, all in one commit
        threads.append(threading.Thread(target=ask, args=(name,)))
        threads[-1].start()
        time.sleep(0.1)
    held.set()
    for thread in threads:
        thread.join()
    assert sorted(kept) == store.read(names)
    assert told

    store.write(lambda c: c.exec_driver_sql("PRAGMA max_page_count = 100000"))
    assert store.write(add("d")) == "d"
    assert "d" in store.read(names)


def test_a_burst_takes_fewer_commits_than_jobs(file_store: Store) -> None:
    """Two hundred changes from fifty threads, every one kept, in far fewer transactions."""
    store = file_store
    commits = []
    from sqlalchemy import event

    event.listen(store.open(), "commit", lambda c: commits.append(1))

    def ask(k: int) -> None:
        for n in range(4):
            store.write(add(f"{k:02}-{n}"))

    threads = [threading.Thread(target=ask, args=(k,)) for k in range(50)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()

    assert len(store.read(names)) == 200
    assert len(commits) < 190, f"{len(commits)} commits: nothing was gathered"


def test_closing_finishes_what_was_asked(tmp_path: Path) -> None:
    store = Store(f"sqlite:///{tmp_path / 'a.db'}")
    store.write(add("kept"))
    store.close()
    with pytest.raises(StoreClosed):
        store.write(add("late"))
    again = Store(f"sqlite:///{tmp_path / 'a.db'}")

    assert again.read(names) == ["kept"]
    again.close()


def test_what_is_asked_for_as_the_store_closes_is_answered(tmp_path: Path) -> None:
    """A job that slips in beside the end would wait for ever: each is done or refused."""
    store = Store(f"sqlite:///{tmp_path / 'closing.db'}")
    store.open()
    writer = store._writer
    assert writer is not None
    jobs, ending = writer._jobs, []

    def put(entry: Any) -> None:
        """As the job is handed over, somebody else closes: the end may not come to stand before it."""
        if entry is not None and not ending:
            ending.append(threading.Thread(target=writer.stop))
            ending[0].start()
            ending[0].join(0.2)
        jobs.put(entry)

    writer._jobs = SimpleNamespace(put=put, get=jobs.get, get_nowait=jobs.get_nowait, empty=jobs.empty)  # type: ignore[assignment]
    with ThreadPoolExecutor(1) as pool:
        asked = pool.submit(store.write, lambda c: "done")
        try:
            assert asked.result(20) == "done"
        finally:
            jobs.put(None)  # where it fails, it fails and doesn't hang
    ending[0].join(20)
    with pytest.raises(StoreClosed):
        store.write(lambda c: None)
    store.close()


def test_whoever_waits_for_a_writer_that_has_ended_is_told(tmp_path: Path) -> None:
    store = Store(f"sqlite:///{tmp_path / 'ended.db'}")
    store.open()
    writer = store._writer
    assert writer is not None
    writer.stop()
    answer: Future[None] = Future()
    writer._jobs.put((lambda c: None, answer, False))

    def broken() -> Any:
        raise OSError("the disk has gone")

    writer._engine = SimpleNamespace(connect=broken)  # type: ignore[assignment]
    with pytest.raises(OSError, match="gone"):
        writer._run()
    with pytest.raises(StoreClosed):
        answer.result(5)
    store.close()


def test_a_database_in_memory_works_too() -> None:
    store = Store("sqlite://")
    store.write(add("one"))

    assert store.read(names) == ["one"]
    store.close()


def test_migrations_make_the_tables(store: Store) -> None:
    """What the migrations build is what the program reads: no difference, by Alembic's own comparison."""
    with store.open().connect() as connection:
        context = MigrationContext.configure(connection, opts={"compare_type": True})
        differences = compare_metadata(context, metadata)

    assert differences == []
    assert migrate.version(store.open()) == migrate.HEAD


def test_one_job_is_all_or_nothing(store: Store) -> None:
    def half(c: Connection) -> None:
        add("half")(c)
        raise KeyError("on purpose")

    with pytest.raises(KeyError):
        store.write(half)
    store.write(add("whole"))
    assert store.read(names) == ["whole"]


def test_the_head_is_the_newest_migration() -> None:
    from alembic.config import Config
    from alembic.script import ScriptDirectory

    config = Config()
    config.set_main_option("script_location", str(migrate.FOLDER))
    assert ScriptDirectory.from_config(config).get_current_head() == migrate.HEAD


def test_migrating_down_leaves_nothing(store: Store) -> None:
    from alembic import command
    from alembic.config import Config

    config = Config()
    config.set_main_option("script_location", str(migrate.FOLDER))
    with store.open().connect() as connection, connection.begin():
        config.attributes["connection"] = connection
        command.downgrade(config, "base")

    assert inspect(store.open()).get_table_names() == ["alembic_version"]


def test_a_database_of_before_copies_keeps_its_periods(store: Store) -> None:
    from alembic import command
    from alembic.config import Config

    from app.store import periods

    config = Config()
    config.set_main_option("script_location", str(migrate.FOLDER))
    with store.open().connect() as connection, connection.begin():
        config.attributes["connection"] = connection
        command.downgrade(config, "v0001")
        connection.execute(text("INSERT INTO teacher (id, name, passphrase, made) VALUES ('t', 'teacher', '-', 1)"))
        connection.execute(
            text(
                "INSERT INTO period (id, teacher_id, title, pack, made, board_nonce) VALUES ('p', 't', 'Old', 'q', 1, 'n')"
            )
        )
    migrate.upgrade(store.open())

    found = store.read(lambda c: periods.find(c, "p"))
    assert found is not None and (found["title"], found["pack_copy"], found["places"]) == ("Old", None, 40)
    store.write(lambda c: periods.keep_copy(c, "p", "d" * 64, "{}"))
    assert store.read(lambda c: periods.copied(c, "d" * 64)) == "{}"


def test_opening_again_changes_nothing(tmp_path: Path) -> None:
    for _ in range(2):
        store = Store(f"sqlite:///{tmp_path / 'a.db'}")
        assert store.read(lambda c: c.execute(text("SELECT count(*) FROM teacher")).scalar()) == 0
        store.close()
