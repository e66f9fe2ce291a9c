"""Start the server as it is meant to run: one process, a thread for each live page and some to spare.

One worker process, because live notices travel within it (with PostgreSQL, several servers can share a
database). The worker may be killed when it doesn't stop in time, so nothing relies on an orderly end.
"""

from __future__ import annotations

import importlib
import logging
import os
import sys
import threading
import time
from pathlib import Path
from typing import TYPE_CHECKING, Any

from app.addresses import lan_address, loopback

if TYPE_CHECKING:
    from flask import Flask

SPARE_THREADS = 640  # more than the bodies that may be on their way or given up (app/web/arrived.py); made when needed
STOP_AFTER = 3  # seconds
HEAD_START = 1.0  # seconds that the first page has for itself


def serve(host: str, port: int, *, debug: bool = False) -> int:
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
    said = trouble()
    if said is not None:
        print(f"eight-angles serve: {said}", file=sys.stderr)
        return 1
    alone = _alone()
    if alone is None:
        print(f"eight-angles serve: {SECOND}", file=sys.stderr)
        return 1
    from granian import Granian
    from granian.constants import Interfaces

    os.environ["EIGHT_ANGLES_LISTENS"] = f"{host} {port}"
    if debug:
        os.environ["EIGHT_ANGLES_DEBUG"] = "1"
    streams = int(os.environ.get("EIGHT_ANGLES_STREAMS") or 440)
    Granian(
        "app.serve:build",
        factory=True,
        address=host,
        port=port,
        interface=Interfaces.WSGI,
        workers=1,
        blocking_threads=streams + SPARE_THREADS,
        backpressure=4 * (streams + SPARE_THREADS),
        backlog=1024,
        websockets=False,
        workers_kill_timeout=STOP_AFTER,
        respawn_failed_workers=True,
        log_level=_quiet(debug),
        log_access=False,
    ).serve()
    return 0


SECOND = (
    "another Eight Angles already runs on this data folder. "
    "Stop it first, or give this one a folder of its own with --data."
)


def _alone() -> Any:
    """A lock on the data folder for as long as this process runs; None where another server holds it.

    The system lets go of it when the process ends, however it ends. Servers that share a database of their own may
    share the folder of the secret as well.
    """
    if os.environ.get("EIGHT_ANGLES_DATABASE_URL"):
        return True
    from filelock import FileLock, Timeout

    folder = Path(os.environ.get("EIGHT_ANGLES_DATA_DIR") or Path(__file__).resolve().parents[1] / "data")
    lock = FileLock(folder / "running.lock", mode=0o600)
    try:
        lock.acquire(timeout=0)
    except Timeout:
        return None
    except OSError:
        return True  # a file system without locks: no worse than before
    return lock


def trouble() -> str | None:
    """Why the data can't be used, in one sentence: found out here, before a worker would fail over it."""
    from app.store import look

    folder = Path(os.environ.get("EIGHT_ANGLES_DATA_DIR") or Path(__file__).resolve().parents[1] / "data")
    secret = folder / "secret"
    url = os.environ.get("EIGHT_ANGLES_DATABASE_URL")
    if not url:
        found = look.trouble(folder)
        if found is not None:
            return found
    elif (found := _unreachable(url)) is not None:
        return found
    if secret.exists() and secret.stat().st_size < 32:
        return f"{secret} is damaged; move it away, and a new one is made (links then change)."
    return None


def _unreachable(url: str) -> str | None:
    """A database of one's own is opened once and let go: it may be down, newer, or another's."""
    from app.store.store import Store

    try:
        store = Store(url)
        store.open()
        store.close()
    except Exception as error:
        first = str(error).strip().splitlines()[0] if str(error).strip() else type(error).__name__
        return f"the database can't be used: {first[:200]}"
    return None


def _quiet(debug: bool) -> Any:
    from granian.log import LogLevels

    return LogLevels.info if debug else LogLevels.error


def _free(host: str, port: int) -> bool:
    """Whether the port can be listened on: said before the server starts, in words."""
    import socket

    family = socket.AF_INET6 if ":" in host else socket.AF_INET
    try:
        with socket.socket(family, socket.SOCK_STREAM) as probe:
            probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            probe.bind((host, port))
    except OSError:
        return False
    return True


def build() -> Flask:
    """The application in the worker process: made, opened, announced, then warmed behind its back."""
    from app import create_app

    _end_with(os.getppid())

    _raise_file_limit()
    logging.basicConfig(level=logging.WARNING, format="%(asctime)s %(levelname)s %(message)s")
    app = create_app({"DEBUG": False})
    server = app.extensions["eight_angles"]
    announce(server, *os.environ.get("EIGHT_ANGLES_LISTENS", "127.0.0.1 8000").split())
    threading.Thread(target=_background, args=(server,), name="background", daemon=True).start()
    return app


def _end_with(parent: int) -> None:
    """A worker whose main process was killed would go on without the folder's lock: it ends instead."""
    if os.name != "posix":
        return

    def watch() -> None:
        while os.getppid() == parent:
            time.sleep(1)
        os._exit(1)  # nothing relies on an orderly end

    threading.Thread(target=watch, name="parent", daemon=True).start()


def _warm(server: Any) -> None:
    """The packs and all that judges their tasks; then what is rarer; then the files, packed small."""
    import gc

    from app.classroom.kinds import KINDS, kind_module
    from app.web import static

    server.shelf.found()
    for kind in KINDS:
        kind_module(kind)
    for module in ("app.reasoning.api", "app.figure.api", "app.web.sheets", "shapely", "mpmath", "sympy"):
        importlib.import_module(module)
    static.warm()
    # What is loaded now stays: the collector needn't look through it again in the middle of a lesson. And a
    # request makes hundreds of objects that are gone when it is answered: it may look less often.
    gc.collect()
    gc.freeze()
    gc.set_threshold(20_000, 20, 50)


def _raise_file_limit() -> None:
    """A live page holds a connection open: ask for as many as the system allows."""
    try:
        import resource
    except ImportError:  # Windows has no such limit to raise
        return
    soft, hard = resource.getrlimit(resource.RLIMIT_NOFILE)
    most = hard if hard != resource.RLIM_INFINITY else 65536
    if soft < min(most, 8192):
        resource.setrlimit(resource.RLIMIT_NOFILE, (min(most, 8192), hard))


def announce(server: Any, host: str, port: str) -> None:
    """Print where Desk, students and Board find the server; on the first run, the set-up link."""
    from app.store import people

    lan = lan_address() if host in ("0.0.0.0", "::") else (None if loopback(host) else host)
    here = f"http://{'localhost' if host in ('0.0.0.0', '::') or loopback(host) else host}:{port}"
    there = f"http://{lan}:{port}" if lan else here
    if server.hosted:
        here, there = _hosted_address(server)
    first = server.store.read(people.count_teachers) == 0
    print("\nEight Angles is ready.\n")
    if first:
        token = server.store.write(lambda c: people.put_invite(c, "teacher", server.now(), beside=True))
        print(f"  Desk      {here}/desk/setup/{token}")
        print("            (a link that works once: choose your passphrase there)")
    else:
        print(f"  Desk      {here}/desk/")
    print(f"  Students  {there}/   with the code that the Desk shows once a period's door is open")
    print("  Board     the link on the period's page at the Desk")
    if not server.hosted and not loopback(host):
        print("\n  Plain http on this network: let students sit under seat numbers or offered names.")
    print("\n  Ctrl-C stops the server. What has been handed in is already kept.\n", flush=True)


def _hosted_address(server: Any) -> tuple[str, str]:
    """Behind TLS the address is the proxy's: its name where one was declared, and what is missing in words."""
    from app.web.server import setting

    names = [name.strip() for name in setting(server.config, "HOSTS").split(",") if name.strip()]
    if not names:
        print("\n  --hosted: say by which name it is reached, as in --hosts lessons.example.org.")
    if int(setting(server.config, "PROXIES")) < 1:
        print("\n  --hosted: say how many proxies stand in front, as in --proxies 1.")
    address = f"https://{names[0]}" if names else "https://…"
    return address, address


def _background(server: Any) -> None:
    """Load what the first request would otherwise wait for; then keep to the retention times, once a
    day.
    """
    from app.web.retention import keep_times

    stop = threading.Event()
    stop.wait(HEAD_START)
    _warm(server)
    while True:
        rest = 24 * 3600
        try:
            keep_times(server)
        except Exception:  # noqa: BLE001 - a database that is locked or full now will be asked again in an hour
            logging.getLogger("eight_angles").exception("the retention times could not be kept")
            rest = 3600
        stop.wait(rest)
