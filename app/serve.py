"""Start the server as it is meant to run: one process, a thread for each live page and some to spare.

One worker process, because live notices travel within it (with PostgreSQL, several servers can share a
database). The worker may be killed when it doesn't stop in time, so nothing relies on an orderly end.
"""

from __future__ import annotations

import os
import socket
import sys
from dataclasses import replace

from app.addresses import loopback
from app.settings import Settings
from app.store import look

SPARE_THREADS = 640  # more than the bodies that may be on their way or given up (app/web/arrived.py); made when needed
STOP_AFTER = 3  # seconds


def serve(settings: Settings, host: str, port: int, *, debug: bool = False) -> int:
    """Serve until Ctrl-C. Refuses to show errors in full to others (V-21)."""
    if (debug or os.environ.get("FLASK_DEBUG", "0") not in ("", "0")) and not loopback(host):
        print(
            f"eight-angles serve: --debug is for this machine only; {host} can be reached by others.",
            file=sys.stderr,
        )
        return 2
    if not 1 <= port <= 65535:
        print("eight-angles serve: give a port from 1 to 65535.", file=sys.stderr)
        return 2
    if not _free(host, port):
        print(f"eight-angles serve: port {port} is in use; try --port {port + 1}.", file=sys.stderr)
        return 1
    said = trouble(settings)
    if said is not None:
        print(f"eight-angles serve: {said}", file=sys.stderr)
        return 1
    alone = _alone(settings)
    if alone is None:
        print(f"eight-angles serve: {SECOND}", file=sys.stderr)
        return 1
    # Measured: 43 ms and 15 MB, for nothing in the other commands, which ask this module about the data too.
    from granian import Granian
    from granian.constants import Interfaces
    from granian.log import LogLevels

    if debug:
        os.environ["FLASK_DEBUG"] = "1"  # for the worker
    os.environ.update(replace(settings, listens=f"{host} {port}").environment())
    threads = settings.streams + SPARE_THREADS
    Granian(
        "app.worker:build",
        factory=True,
        address=host,
        port=port,
        interface=Interfaces.WSGI,
        workers=1,
        blocking_threads=threads,
        backpressure=4 * threads,
        backlog=1024,
        websockets=False,
        workers_kill_timeout=STOP_AFTER,
        respawn_failed_workers=True,
        log_level=LogLevels.info if debug else LogLevels.error,
        log_access=False,
    ).serve()
    return 0


SECOND = (
    "another Eight Angles already runs on this data folder. "
    "Stop it first, or give this one a folder of its own with --data."
)


def _alone(settings: Settings) -> object:
    """A lock on the data folder for as long as this process runs; None where another server holds it.

    The system lets go of it when the process ends, however it ends. Servers that share a database of their own may
    share the folder of the secret as well.
    """
    if settings.database_url:
        return True
    # Measured: 25 ms and 8 MB, for `serve` alone.
    from filelock import FileLock, Timeout

    lock = FileLock(settings.data_dir / "running.lock", mode=0o600)
    try:
        lock.acquire(timeout=0)
    except Timeout:
        return None
    except OSError:
        return True  # a file system without locks: no worse than before
    return lock


def trouble(settings: Settings) -> str | None:
    """Why the data can't be used, in one sentence: found out here, before a worker would fail over it."""
    secret = settings.data_dir / "secret"
    url = settings.database_url
    found = _unreachable(url) if url else look.trouble(settings.data_dir)
    if found is not None:
        return found
    if secret.exists() and secret.stat().st_size < 32:
        return f"{secret} is damaged; move it away, and a new one is made (links then change)."
    return None


def _unreachable(url: str) -> str | None:
    """A database of one's own is opened once and let go: it may be down, newer, or another's."""
    # Measured: 136 ms and 26 MB in a process that only watches over the worker, or ends at once.
    from app.store.store import Store

    try:
        store = Store(url)
        store.open()
        store.close()
    except Exception as error:
        first = str(error).strip().splitlines()[0] if str(error).strip() else type(error).__name__
        return f"the database can't be used: {first[:200]}"
    return None


def _free(host: str, port: int) -> bool:
    """Whether the port can be listened on: said before the server starts, in words."""
    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    try:
        with socket.socket(family, socket.SOCK_STREAM) as probe:
            probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            probe.bind((host, port))
    except OSError:
        return False
    return True
