"""Nothing changes without the page's token, and nothing changes by looking (V-05)."""

from __future__ import annotations

import hashlib
from typing import Any

from sqlalchemy import select

from app.store.tables import metadata
from tests.web.conftest import Room, token_of
from tests.web.test_roles import Cast, address, rules


def digest(room: Room) -> str:
    """One hash over every row of every table."""

    def read(c: Any) -> str:
        mark = hashlib.sha256()
        for table in metadata.sorted_tables:
            for row in c.execute(select(table).order_by(*table.primary_key.columns)):
                mark.update(repr(tuple(row)).encode())
        return mark.hexdigest()

    return str(room.server.store.read(read))


def test_no_change_without_a_token(room: Room) -> None:
    cast = Cast(room)
    before, tried = None, 0
    for rule, method in rules(room.app):
        if method == "GET" or rule.rule.startswith("/api/"):
            continue
        path = address(room.app, rule, cast.arguments(rule))
        if path is None:
            continue
        before = digest(room)
        browser = cast.student if path.startswith("/seat") else room.teacher
        for kind in (
            {"json": {}},
            {"data": {"passphrase": "x" * 20}},
            {"data": b"", "content_type": "text/plain"},
        ):
            answer = browser.open(path, method, **kind)
            assert answer.status_code == 403, (method, path, kind, answer.status_code)
        forged = browser.open(path, method, json={}, headers={"X-Seat-Token": "abc.def"})
        assert forged.status_code == 403
        assert digest(room) == before
        tried += 1
    assert tried > 30


def test_a_token_is_good_for_its_own_browser_only(room: Room) -> None:
    one, two = room.browser(), room.browser()
    token = token_of(one.page("/").get_data(as_text=True))
    two.page("/")

    assert one.open("/enter", "POST", data={"token": token, "code": "ABCDEF"}).status_code == 422
    assert two.open("/enter", "POST", data={"token": token, "code": "ABCDEF"}).status_code == 403


def test_a_desk_token_is_bound_to_its_session(room: Room) -> None:
    token = room.teacher.token("/desk/")
    assert (
        room.teacher.open("/desk/period", "POST", json={"pack": "small"}, headers={"X-Seat-Token": token}).status_code
        == 200
    )
    visitor = token_of(room.teacher.page("/").get_data(as_text=True))  # a page of the door, in the same browser
    refused = room.teacher.open("/desk/period", "POST", json={"pack": "small"}, headers={"X-Seat-Token": visitor})
    assert refused.status_code == 403


def test_looking_changes_nothing(room: Room) -> None:
    """Each GET twice, by the owner of everything: the same rows before and after."""
    cast = Cast(room)
    room.clock.pass_(minutes=3)
    seen = 0
    for rule, method in rules(room.app):
        if method != "GET":
            continue
        path = address(room.app, rule, cast.arguments(rule))
        if path is None:
            continue
        before = digest(room)
        for _ in range(2):
            for browser in (cast.student, room.teacher):
                for accept in ("application/json", "text/html"):
                    answer = browser.open(path, headers={"Accept": accept}, buffered=False)
                    assert answer.status_code < 500
                    answer.close()
        assert digest(room) == before, path
        seen += 1
    assert seen > 25
