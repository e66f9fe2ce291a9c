"""Who may ask for what: every route, by every role (V-13); a new route has to be put in the
table.
"""

from __future__ import annotations

from typing import Any

import pytest
from flask import Flask

from tests.web.conftest import Browser, Room, set_up

ROLES = ("nobody", "other student", "student", "other teacher", "teacher")

# Who gets in, by the beginning of the address; the longest that fits counts. Everybody else is told 401
# (not signed in), 404 (not yours, so not there) or 410 (no such link).
ALLOWED: dict[str, tuple[str, ...]] = {
    "/": ROLES,
    "/enter": ROLES,
    "/language": ROLES,
    "/alone": ROLES,
    "/static/": ROLES,
    "/api/": ROLES,
    "/board/<token>": ROLES,  # whoever has the link
    "/seat/return/<token>": ROLES,  # whoever has the link
    "/seat": ("student", "other student"),  # each sees the own seat; no address names another
    "/desk": ("teacher", "other teacher"),
    "/desk/setup/<token>": ROLES,
    "/desk/signin": ROLES,
    "/desk/language": ROLES,  # the sign-in page has it too
    "/desk/signout": ROLES,
    "/desk/period/<period_id>": ("teacher",),
    "/desk/records/<period_id>": ("teacher",),
}


def allowed(rule: str) -> tuple[str, ...]:
    fits = [start for start in ALLOWED if rule == start or (start != "/" and rule.startswith(start))]
    assert fits, f"{rule} is in no line of ALLOWED: who may ask for it?"
    return ALLOWED[max(fits, key=len)]


class Cast:
    """One browser for each role, and the names of things that belong to the owner."""

    def __init__(self, room: Room) -> None:
        self.room = room
        self.period = room.period()
        code = room.open_door(self.period)
        self.student = room.seat(code, number="7")
        self.student.post("/seat/reply", {"id": "reply-0001", "task": "first", "reply": {"answer": 0}})
        self.student.post("/seat/here", {"task": "first"})
        self.other_teacher = set_up(room.app, "second", "another long passphrase")
        theirs = str(self.other_teacher.post("/desk/period", {"pack": "small", "title": "Theirs"}).json["id"])
        their_code = self.other_teacher.post(f"/desk/period/{theirs}/door", {"open": True}).json["code"]
        self.other_student = room.seat(their_code, number="8")
        state = room.teacher.get(f"/desk/period/{self.period}/state").json
        self.sid = state["seats"][0]["sid"]
        self.board = state["period"]["board"].rsplit("/", 1)[1]
        self.returns = self.student.get("/seat/return").json["link"].rsplit("/", 1)[1]
        self.code = code

    def browser(self, role: str) -> Browser:
        return {
            "nobody": self.room.browser(),
            "other student": self.other_student,
            "student": self.student,
            "other teacher": self.other_teacher,
            "teacher": self.room.teacher,
        }[role]

    def arguments(self, rule: Any) -> dict[str, str]:
        token = self.returns if "/seat/return" in rule.rule else self.board
        if "/desk/setup" in rule.rule:
            from app.store import people

            server = self.room.server
            token = server.store.write(lambda c: people.put_invite(c, "teacher", server.now()))
        known = {
            "period_id": self.period, "sid": self.sid, "task_id": "first", "what": "hint", "name": "small",
            "pack": "small", "token": token, "filename": "css/base.css", "code": self.code, "family": "no-such",
            "misconception": "original-for-converse",
        }  # fmt: skip
        return {name: known[name] for name in rule.arguments if name in known}


def rules(app: Flask) -> list[tuple[Any, str]]:
    found = [
        (rule, method)
        for rule in app.url_map.iter_rules()
        for method in sorted((rule.methods or set()) - {"HEAD", "OPTIONS"})
    ]
    assert len(found) > 60
    # What takes the ground away from under the others comes last, in this order.
    last = [*ENDS]

    def place(entry: tuple[Any, str]) -> tuple[int, str]:
        rule = entry[0].rule
        return (next((1 + n for n, end in enumerate(last) if rule.endswith(end)), 0), rule)

    return sorted(found, key=place)


ENDS = (
    "/seat/<sid>/release",
    "/leave",
    "/remove",
    "/seat/<sid>/erase",
    "/revoke",
    "/end",
    "/delete",
    "/desk/erase",
    "/signout",
    "/setup/<token>",
)


def address(app: Flask, rule: Any, args: dict[str, str]) -> str | None:
    """The rule's address with its blanks filled, or None if it has a blank that the cast knows nothing
    of.
    """
    with app.test_request_context():
        adapter = app.url_map.bind("localhost")
        values = {**dict.fromkeys(rule.arguments, "words"), **args}
        try:
            return adapter.build(rule.endpoint, values, method=None, force_external=False)
        except Exception:
            return None


def knock(browser: Browser, method: str, path: str) -> int:
    """The status that this browser gets, with a right page token, asking for JSON. Its cookies stay as
    they were.
    """
    kept = dict(browser.client._cookies)  # type: ignore[attr-defined]
    headers = {"Accept": "application/json"}
    if method != "GET":
        headers["X-Seat-Token"] = browser.token(path)
        answer = browser.open(path, method, json={}, headers=headers)
    else:
        answer = browser.open(path, headers=headers, buffered=False)
    status = answer.status_code
    answer.close()
    browser.client._cookies = kept  # type: ignore[attr-defined]
    return int(status)


def test_every_route_by_every_role(room: Room) -> None:
    cast = Cast(room)
    wrong = []
    for rule, method in rules(room.app):
        may = allowed(rule.rule)
        for role in sorted(ROLES, key=lambda r: (r in may, r == "teacher")):  # those who may not first, the owner last
            path = address(room.app, rule, cast.arguments(rule))
            if path is None:
                continue
            if rule.rule.endswith(ENDS) and role in may and role not in ("teacher", "student"):
                continue  # it works once: for whoever owns the thing
            status = knock(cast.browser(role), method, path)
            if role not in may and status not in (401, 404, 410):
                wrong.append(f"{role} got {status} for {method} {rule.rule}")
            if role in may and status in (401, 403, 404, 410) and not excused(rule.rule, status):
                wrong.append(f"{role} was refused ({status}) {method} {rule.rule}")
            if role == "student" and role in may and rule.rule.endswith("/leave"):
                break  # this browser is out now
    assert not wrong, "\n".join(wrong)


def excused(rule: str, status: int) -> bool:
    """Answers that are no refusal: things that the cast doesn't have."""
    nothing_there = (
        "/api/practice/<family>",
        "/api/asked/<question_id>",
        "/desk/sheets/strip",
        "/alone/<pack>/return",
        "/desk/pack/<pack>/preview/return",
        "/desk/period/<period_id>/seat/<sid>/reopen",
    )
    return status == 404 and (rule.startswith(nothing_there) or "<path:" in rule)


def test_the_seats_pages_are_their_own(room: Room) -> None:
    """Two students side by side: neither sees the other's work, replies or link."""
    cast = Cast(room)
    assert cast.student.get("/seat/task/first").json["replies"] == 1
    assert cast.other_student.get("/seat/task/first").json["replies"] == 0
    assert cast.student.get("/seat/return").json != cast.other_student.get("/seat/return").json


def test_a_key_is_never_in_what_a_seat_gets(room: Room) -> None:
    """T-10: grep every answer that a student can have for the key and the words of the answer."""
    from tests.web.plain_kind import SECRET_KEY

    cast = Cast(room)
    assert SECRET_KEY in room.teacher.get(f"/desk/period/{cast.period}/task/first").get_data(as_text=True)
    for path in (
        "/seat/state",
        "/seat/task/first",
        "/seat/task/last",
        "/alone/small/state",
        "/alone/small/task/first",
    ):
        text = cast.student.get(path).get_data(as_text=True)
        assert SECRET_KEY not in text and "key-word-5521" not in text and '"answer"' not in text, path


@pytest.mark.parametrize("path", ["/desk/", "/desk/signin"])
def test_desk_pages_lead_to_the_sign_in(room: Room, path: str) -> None:
    page = room.browser().page(path)
    assert page.status_code == (303 if path == "/desk/" else 200)
