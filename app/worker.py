"""The worker process: the application made, opened, announced, then warmed behind its back."""

from __future__ import annotations

import gc
import importlib
import logging
import os
import sys
import threading
import time
from contextlib import suppress
from types import ModuleType
from typing import Any

from flask import Flask

from app import create_app
from app.addresses import lan_address, loopback
from app.beside import Late
from app.classroom.kinds import KINDS, kind_module
from app.store import people
from app.web import static
from app.web.retention import keep_times

resource: ModuleType | None
try:
    import resource
except ImportError:  # Windows has no such limits to raise
    resource = None

HEAD_START = 1.0  # seconds that the first page has for itself


def build() -> Flask:
    """The application in the worker process: made, opened, announced, then warmed behind its back."""
    _end_with(os.getppid())
    _raise_file_limit()
    # Where a hundred requests want to be worked on at once, each waits for its turn with the interpreter several times;
    # turns of a millisecond (not five) keep a class's replies quick beside a flood of pages.
    sys.setswitchinterval(0.001)
    logging.basicConfig(level=logging.WARNING, format="%(asctime)s %(levelname)s %(message)s")
    app = create_app({"DEBUG": False, "SCRIPTS_APART": os.environ.get("FLASK_DEBUG", "0") not in ("", "0")})
    server = app.extensions["eight_angles"]
    announce(server, *server.settings.listens.split())
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
    # The processes beside this one: what they load is loaded before a class or a flood could feel it.
    with suppress(Late):  # one that can't be begun now is begun when it is needed
        if server.guesses is not None:
            server.guesses.begin()
        server.heavy.warm()


def _raise_file_limit() -> None:
    """A live page holds a connection open: ask for as many as the system allows."""
    if resource is None:
        return
    soft, hard = resource.getrlimit(resource.RLIMIT_NOFILE)
    most = hard if hard != resource.RLIM_INFINITY else 65536
    if soft < min(most, 8192):
        resource.setrlimit(resource.RLIMIT_NOFILE, (min(most, 8192), hard))


def announce(server: Any, host: str, port: str) -> None:
    """Print where Desk, students and Board find the server; on the first run, the set-up link."""
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
    names = server.settings.hosts
    if not names:
        print("\n  --hosted: say by which name it is reached, as in --hosts lessons.example.org.")
    if server.settings.proxies < 1:
        print("\n  --hosted: say how many proxies stand in front, as in --proxies 1.")
    address = f"https://{names[0]}" if names else "https://…"
    return address, address


def _background(server: Any) -> None:
    """Load what the first request would otherwise wait for; then keep to the retention times, once a
    day.
    """
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
