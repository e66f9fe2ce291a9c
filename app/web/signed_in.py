"""The teacher who is signed in at the Desk in this browser, if one is."""

from __future__ import annotations

from typing import cast

from flask import g, request

from app.store import people
from app.store.rows import DeskSession
from app.web import security
from app.web.errors import Refused
from app.web.server import server

TOUCH_AFTER = 10 * people.MINUTE


def find_desk() -> DeskSession | None:
    """The session of a signed-in teacher, or None."""
    if "desk_session" in g:
        return g.desk_session  # type: ignore[no-any-return]
    token = security.cookie(security.DESK)
    now = server().now()
    found = server().store.read(lambda c: people.find_session(c, "desk", token, now)) if token else None
    # Reading alone changes nothing; the hour of rest is counted from the last change, or to ten minutes.
    if found is not None and (request.method != "GET" or now - found["seen"] > TOUCH_AFTER):
        server().store.write(lambda c: people.touch(c, found["token_hash"], now))
    g.desk_session = found
    return cast("DeskSession | None", found)


def need_desk() -> DeskSession:
    """The teacher's session; 401 for anybody else."""
    found = find_desk()
    if found is None:
        raise Refused(401, "web.status_401")
    return found
