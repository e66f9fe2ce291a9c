"""What every answer carries (V-04, V-06, V-19)."""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest
from flask import Flask

from tests.web.conftest import Browser, Room, set_up

PAGES = [
    "/",
    "/alone",
    "/desk/signin",
    "/no-such-page",
    "/seat/state",
    "/static/css/base.css",
    "/api/reasoning/theorems",
]


@pytest.mark.parametrize("path", PAGES)
def test_the_policy_is_strict(room: Room, path: str) -> None:
    headers = room.browser().get(path).headers
    policy = headers["Content-Security-Policy"]
    # The five directives of V-06, word for word.
    for part in (
        "default-src 'self'",
        "object-src 'none'",
        "base-uri 'none'",
        "frame-ancestors 'none'",
        "form-action 'self'",
    ):
        assert part in policy
    assert "unsafe" not in policy
    assert headers["X-Content-Type-Options"] == "nosniff"
    assert headers["Referrer-Policy"] == "same-origin"


@pytest.mark.parametrize("path", ["/", "/seat/state", "/desk/", "/desk/signin"])
def test_personal_pages_are_not_stored(room: Room, path: str) -> None:
    assert room.teacher.page(path).headers["Cache-Control"] in ("no-store", "no-cache")


def test_classroom_cookies(room: Room) -> None:
    student = room.seat(room.open_door(room.period()))
    seat, desk = student.client.get_cookie("ea-seat"), room.teacher.client.get_cookie("ea-desk")
    assert seat is not None and desk is not None
    assert (seat.http_only, seat.same_site, seat.secure) == (True, "Lax", False)
    assert (desk.http_only, desk.same_site, desk.secure) == (True, "Strict", False)


def test_hosted_cookies(make_app: Callable[..., Flask]) -> None:
    app = make_app(HOSTED=True)
    teacher = set_up(app)
    desk = teacher.client.get_cookie("__Host-ea-desk")
    assert desk is not None
    assert (desk.http_only, desk.same_site, desk.secure, desk.path) == (True, "Strict", True, "/")
    assert "max-age" in Browser(app).get("/").headers["Strict-Transport-Security"]


def test_behind_tls_every_link_is_https_though_no_proxy_says_so(make_app: Callable[..., Flask]) -> None:
    """`--hosted` without `--proxies`: requests come in by plain http from the machine that ends TLS."""
    app = make_app(HOSTED=True)
    teacher = set_up(app)
    period = teacher.post("/desk/period", {"pack": "small", "title": "Hosted"}).json["id"]
    state = teacher.get(f"/desk/period/{period}/state").get_data(as_text=True)
    assert "https://" in state
    assert "http://" not in state


def test_a_new_token_at_every_sign_in(room: Room) -> None:
    from tests.web.conftest import PASSPHRASE

    first = room.teacher.client.get_cookie("ea-desk")
    room.teacher.form("/desk/signout")
    assert room.teacher.client.get_cookie("ea-desk") is None
    signed_in = room.teacher.form("/desk/signin", passphrase=PASSPHRASE)
    second = room.teacher.client.get_cookie("ea-desk")

    assert signed_in.status_code == 303
    assert first is not None and second is not None and first.value != second.value
    room.teacher.client.set_cookie("ea-desk", first.value)
    assert room.teacher.page("/desk/").headers["Location"] == "/desk/signin"


def test_static_files_are_packed_and_kept(room: Room) -> None:
    browser = room.browser()
    page = browser.page("/").get_data(as_text=True)
    path = next(p for p in re.findall(r"/static/-[^\"]+", page) if p.endswith("base+door.css"))
    packed = browser.get(path, **{"Accept-Encoding": "br, gzip"})
    assert packed.headers["Content-Encoding"] == "br"
    assert "immutable" in packed.headers["Cache-Control"]
    assert browser.get(path, **{"If-None-Match": packed.headers["ETag"], "Accept-Encoding": "br"}).status_code == 304
    plain = browser.get("/static/css/base.css")
    assert plain.headers["Cache-Control"] == "no-cache" and "Content-Encoding" not in plain.headers
    for bad in (
        "/static/../app/cli.py",
        "/static/-x/../../app/cli.py",
        "/static/%2e%2e/app/cli.py",
        "/static/css",
        "/static/a%00b",
    ):
        assert browser.get(bad).status_code == 404, bad


def test_scripts_import_by_relative_paths() -> None:
    """An absolute address would load a module a second time beside its versioned one."""
    from app.web.static import FOLDER

    for path in FOLDER.rglob("*.js"):
        text = path.read_text(encoding="utf-8")
        assert "'/static/" not in text and '"/static/' not in text and "`/static/" not in text, path
