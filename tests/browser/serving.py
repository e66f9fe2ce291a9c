"""`python -m tests.browser.serving` is `python -m app` whose chance is the same in every run.

Each browser of a test says which one it is in a header that only this server reads. What is drawn for it (its seat's id,
from which its own numbers follow; a period's code; a name that is offered) comes from that name and from how much was
drawn for it before, so that it doesn't depend on the day, nor on what ran before, nor on what else asks meanwhile.
"""

from __future__ import annotations

import base64
import hashlib
import os
from collections import Counter
from contextvars import copy_context
from functools import wraps
from pathlib import Path
from threading import Lock
from typing import Any

from flask import has_request_context, request

from app.cli import main
from app.store import ids
from app.store.store import Store
from app.web import static
from tests.words import pseudo

BROWSER = "X-Test-Browser"  # the header; its value is the test and which of its browsers
PSEUDO = (
    "EIGHT_ANGLES_TEST_STATIC"  # a copy of static/ with the made-up language's words, where a server is to speak it
)
SECRET = hashlib.sha256(b"the secret of every server of the browser tests").digest()


class Seeded:
    """Chance from a hash of who asks and how often."""

    def __init__(self) -> None:
        self._drawn: Counter[tuple[str, str]] = Counter()
        self._lock = Lock()

    def _bytes(self, kind: str, size: int) -> bytes:
        who = request.headers.get(BROWSER, "") if has_request_context() else ""
        with self._lock:
            self._drawn[who, kind] += 1
            number = self._drawn[who, kind]
        return hashlib.shake_256(f"{who}\x1f{kind}\x1f{number}".encode()).digest(size)

    def token_hex(self, nbytes: int, /) -> str:
        return self._bytes("hex", nbytes).hex()

    def token_urlsafe(self, nbytes: int, /) -> str:
        return base64.urlsafe_b64encode(self._bytes("token", nbytes)).rstrip(b"=").decode()

    def randbelow(self, exclusive_upper_bound: int, /) -> int:
        return int.from_bytes(self._bytes("number", 16), "big") % exclusive_upper_bound


def in_its_request(write: Any) -> Any:
    """What a request changes is changed by the writer's thread: let that know whose request it is."""

    @wraps(write)
    def then(store: Store, job: Any) -> Any:
        here = copy_context()
        return write(store, lambda connection: here.run(job, connection))

    return then


def quickly(squeeze: Any) -> Any:
    """Each server packs every file anew: as small as can be is not worth it for one module's tests."""
    return lambda data, how, *, hard: squeeze(data, how, hard=False)


if __name__ in ("__main__", "__mp_main__"):  # the second: a worker, where workers are not forked
    ids.chance = Seeded()
    Store.write = in_its_request(Store.write)  # type: ignore[method-assign]
    static.squeeze = quickly(static.squeeze)
    if PSEUDO in os.environ:
        pseudo.register()
        static.FOLDER = Path(os.environ[PSEUDO])

if __name__ == "__main__":
    raise SystemExit(main())
