"""Whatever is sent: a sentence and a 4xx, never a 5xx, never a script (T-03, T-06, V-14, V-17,
V-20).
"""

from __future__ import annotations

import json
import logging
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from flask import Flask
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from tests.scale import trials
from tests.web.conftest import Browser, Room, set_up
from tests.web.test_roles import Cast, address, rules

SCRIPTS = [
    "<script>alert(1)</script>", "<img src=x onerror=alert(1)>", "\"><svg/onload=alert(1)>", "'-alert(1)-'", "{{733*877}}",
    "{% raw %}x", "javascript:alert(1)", "</title><script>alert(1)</script>", "<b>bold</b>", "&lt;script&gt;", "=1+1", "@SUM(A1)",
]  # fmt: skip

# Bodies that parsers trip over: each is one request to every address that takes JSON.
BODIES: list[bytes] = [
    b"", b"null", b"[]", b"0", b'"x"', b"true", b"{", b"{]", b"\xff\xfe", b"\x00", b"{}", b'{"a":NaN}', b'{"a":Infinity}',
    b'{"a":-Infinity}', b'{"a":1e999}', b'{"a":' + b"9" * 5000 + b"}", b"[" * 50_000, b'{"a":' * 5000 + b"1" + b"}" * 5000,
    b'{"\\ud800":1}', b'{"a":"\\ud800"}', b'{"figure":{"lines":{"\\udfff":1}}}', b'{"a":"\\u0000"}', b'{"figure":null}',
    b'{"figure":[]}', b'{"figure":{"lines":{}}}', b'{"figure":{"lines":{"l":{"direction":"1/0","through":[0,0]}}}}',
    b'{"figure":{"lines":{"l":{"direction":"9e999999999","through":[0,0]}}}}', b'{"rows":[[[[[[]]]]]]}', b'{"answer":"9**9**9**9"}',
    b'{"task":{},"start":[],"moves":"x"}', b'{"id":{},"task":[],"reply":1}', b'{"n":-1}', b'{"n":true}', b'{"n":1e308,"work":{}}',
    b'{"n":' + b"1" * 400 + b',"work":{}}', b'{"stage":{"kind":"figure","figure":{"lines":1}},"to":"board"}', b'{"to":[["board"]]}',
    b'{"stage":{"kind":["figure"]}}', b'{"stage":{"kind":{}}}', b'{"on":1}', b'{"open":"yes"}', b'{"task":5}', b'{"title":[]}',
    b'{"order":[[]],"parts":[1]}', b'{"order":{},"parts":{}}', b'{"parts":[{"id":[]}]}', b'{"seed":[],"level":{},"answer":{}}',
    b'{"given":[1],"goal":2,"claim":[]}', json.dumps({"title": "x" * 60_000}).encode(), b" " * 70_000,
]  # fmt: skip


def json_routes(app: Flask) -> list[tuple[Any, str]]:
    """Addresses that take JSON: not the plain forms, and not those that end the test's own session."""
    ends = ("/delete", "/erase", "/remove", "/end", "/leave", "/signout", "/revoke")
    forms = ("/enter", "/seat/return", "/desk/sign", "/desk/setup")
    return [(r, m) for r, m in rules(app) if m != "GET" and not r.rule.endswith(ends) and not r.rule.startswith(forms)]


def send(cast: Cast, rule: Any, method: str, body: bytes, **headers: str) -> Any:
    path = address(cast.room.app, rule, cast.arguments(rule))
    if path is None:
        return None
    browser = cast.student if path.startswith("/seat") else cast.room.teacher
    if not hasattr(browser, "tokens"):
        browser.tokens = {}  # type: ignore[attr-defined]
    side = "/desk/" if path.startswith("/desk") else "/"
    token = browser.tokens.setdefault(side, browser.token(side))  # type: ignore[attr-defined]
    named = {
        "Content-Type": "application/json",
        "X-Seat-Token": token,
        "Accept": "application/json",
        **headers,
    }
    return browser.open(path, method, data=body, headers=named)


def check(answer: Any, what: object) -> None:
    if answer is None:
        return
    assert answer.status_code < 500 or answer.status_code == 503, (what, answer.status_code)
    if answer.status_code >= 400:
        error = answer.get_json(silent=True)
        assert error and error["error"]["message"] and "where" in error["error"], (what, answer.data[:200])


def test_no_body_breaks_any_address(room: Room) -> None:
    cast = Cast(room)
    for rule, method in json_routes(room.app):
        for body in BODIES:
            check(send(cast, rule, method, body), (method, rule.rule, body[:80]))


def test_a_long_body_is_refused_as_long(room: Room) -> None:
    cast = Cast(room)
    for rule, method in json_routes(room.app):
        answer = send(cast, rule, method, json.dumps({"id": "x" * 70_000}).encode())
        if answer is not None and rule.rule.startswith(("/api/", "/seat/reply", "/seat/work")):
            assert answer.status_code == 413, rule.rule


JSON = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=12) | st.sampled_from(SCRIPTS),
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(max_size=8), inner, max_size=4),
    max_leaves=12,
)
KEYS = st.sampled_from(
    ["figure", "angles", "given", "claim", "goal", "rows", "task", "start", "moves", "reply", "id", "n", "work", "stage", "to",
     "on", "open", "title", "pack", "order", "parts", "seed", "level", "answer", "lines", "marks", "kind", "house", "profile"]
)  # fmt: skip


def test_no_json_breaks_any_address(room: Room) -> None:
    cast = Cast(room)
    routes = json_routes(room.app)

    @settings(
        max_examples=trials(quick=250, full=4000),
        deadline=None,
        suppress_health_check=list(HealthCheck),
        database=None,
    )
    @given(st.sampled_from(range(len(routes))), st.dictionaries(KEYS, JSON, max_size=5))
    def sent(which: int, body: dict[str, Any]) -> None:
        rule, method = routes[which]
        check(send(cast, rule, method, json.dumps(body).encode()), (method, rule.rule, body))

    sent()


def test_no_address_breaks(room: Room) -> None:
    """Odd paths, odd query strings, odd methods, odd headers."""
    browser = room.teacher
    paths = [
        "/%00", "/%ff", "/..%2f..%2fetc", "//", "/enter/%F0%9F%98%80", "/board/a.b.c", "/board/" + "x" * 3000, "/seat/return/x.y",
        "/seat/return/%00.x", "/seat/task/%ff", "/alone/%2e%2e", "/alone/a%00b", "/desk/period/%00/", "/desk/pack/../x",
        "/api/practice/x?seed=abc", "/api/practice/x?seed=99999999999999999999", "/api/practice/%00?level=-", "/seat/state?since=%ff",
        "/seat/state?since=" + "9" * 400, "/desk/setup/%00", "/static/-", "/static/-x/", "/static/" + "a/" * 300, "/desk/records/x.csv",
    ]  # fmt: skip
    for path in paths:
        for accept in ("text/html", "application/json", "*/*", "\xff"):
            assert browser.get(path, Accept=accept).status_code < 500, path
    for method in ("PUT", "DELETE", "PATCH", "OPTIONS", "TRACE", "HEAD", "BREW"):
        assert browser.open("/", method).status_code < 500
        assert browser.open("/api/figure/pairs", method, data=b"{}").status_code < 500
    odd = {
        "Cookie": "ea-desk=\x01; ea-seat=" + "x" * 5000,
        "If-None-Match": "\x01",
        "Accept-Encoding": ";;q=x,br;q",
        "Host": "a b",
    }
    for name, value in odd.items():
        assert browser.get("/", **{name: value}).status_code < 500, name
    for kind in (
        "multipart/form-data; boundary=x",
        "multipart/form-data",
        "application/x-www-form-urlencoded",
        "text/xml",
        "\x01",
    ):
        for body in (b"--x\r\n", b"a" * 200, b"%ff=%00&code=%00"):
            answer = browser.open(
                "/enter",
                "POST",
                data=body,
                headers={"Content-Type": kind, "X-Seat-Token": browser.token("/")},
            )
            assert answer.status_code < 500, (kind, body)


@pytest.mark.parametrize("text", SCRIPTS)
def test_nothing_typed_becomes_markup(room: Room, text: str) -> None:
    """Each field that somebody types, looked at in every page that shows it (T-03, V-14)."""
    title = room.teacher.post("/desk/period", {"pack": "small", "title": text}).json["id"]
    code = room.open_door(title)
    student = room.browser()
    pages = [student.form("/enter", code=text)]
    student.form("/enter", code=code)
    pages += [
        student.form("/enter/name", typed=text),
        student.form("/enter/name", word=text),
        student.form("/enter/name", number=text),
    ]
    student.form("/enter/name", number="3")
    student.put("/seat/work/first", {"n": 1, "work": {"note": text}})
    pages += [student.page("/seat/"), student.page("/enter/name")]
    pages += [
        room.teacher.page(path)
        for path in ("/desk/", f"/desk/period/{title}/", "/desk/records", f"/desk/records/{title}")
    ]
    board = room.teacher.get(f"/desk/period/{title}/state").json["period"]["board"]
    pages.append(room.browser().page(board[board.index("/board/") :]))
    for page in pages:
        shown = page.get_data(as_text=True)
        if "<" in text:
            assert text not in shown
        assert "642841" not in shown  # what the braces would come to, if a template read them


def test_no_formula_in_the_table_file(room: Room) -> None:
    """V-16: a cell that begins like a formula is defused. Typed names can begin with a hyphen."""
    from app.web.desk_records import safe_cell

    assert [safe_cell(c) for c in ("=1+1", "+1", "-1", "@x", "\tx", "Ana", "")] == [
        "'=1+1",
        "'+1",
        "'-1",
        "'@x",
        "'\tx",
        "Ana",
        "",
    ]
    period = room.period()
    room.seat(room.open_door(period), typed="-1 Ana")
    text = room.teacher.get(f"/desk/records/{period}.csv").get_data(as_text=True)
    assert ",'-1 Ana," in text and text.startswith("\ufeffseat,name,") and "\r\n" in text


def test_logs_hold_nobody(
    make_app: Callable[..., Flask], caplog: pytest.LogCaptureFixture, tmp_path: Path, capfd: Any
) -> None:
    """V-20: after a whole lesson, and a mistake of ours on top, no planted value is in any log."""
    caplog.set_level(logging.DEBUG)
    app = make_app(TESTING=False)
    room = Room(app, app.config["CLOCK"], set_up(app))
    period = room.period("Planted title 5501")
    code = room.open_door(period)
    student = room.seat(code, typed="Planted name")
    student.put("/seat/work/first", {"n": 1, "work": {"note": "planted work 5502"}})
    student.post("/seat/reply", {"id": "planted-5503", "task": "first", "reply": {"answer": "planted 5504"}})
    room.browser().form("/enter", code="PLANTX")
    room.browser().form("/desk/signin", passphrase="planted 5505 passphrase")
    server = room.server
    server.store.write(lambda c: c.exec_driver_sql("DROP TABLE work"))
    answer = student.put("/seat/work/first", {"n": 2, "work": {"note": "planted work 5506"}})
    assert answer.status_code == 500 and "No such table" not in answer.get_data(as_text=True)
    assert answer.json["error"]["message"]

    seat, desk = student.client.get_cookie("ea-seat"), room.teacher.client.get_cookie("ea-desk")
    assert seat and desk
    logged = caplog.text + "".join(capfd.readouterr())
    assert "mistake in PUT" in logged
    for planted in ("Planted", "planted", "PLANTX", code, seat.value, desk.value, "5506"):
        assert planted not in logged, planted


def test_a_reply_that_is_stored_twice_at_once_is_one(room: Room) -> None:
    """Two requests with one id at the same moment, in one process: one row, one answer."""
    import threading

    student = room.seat(room.open_door(room.period()))
    token = student.token("/")
    answers: list[Any] = []

    def reply() -> None:
        own = Browser(room.app)
        for name in ("ea-seat", "ea-visit"):
            own.client.set_cookie(name, student.client.get_cookie(name).value)  # type: ignore[union-attr]
        body = {"id": "both-at-once", "task": "first", "reply": {"answer": 0}}
        answers.append(own.open("/seat/reply", "POST", json=body, headers={"X-Seat-Token": token}).json)

    threads = [threading.Thread(target=reply) for _ in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert len(answers) == 8 and all(answer == answers[0] for answer in answers)
    assert student.get("/seat/task/first").json["replies"] == 1
