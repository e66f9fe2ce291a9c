"""Who is asking, and may they: cookies, page tokens, headers (V-01 to V-06, V-19).

Two named modes. *Hosted*: TLS in front, cookies `__Host-…` and Secure. *Classroom*: plain http on the
room's own network, the same cookies without what needs TLS.
"""

from __future__ import annotations

import secrets
from collections.abc import Callable, Iterable
from dataclasses import dataclass
from typing import TYPE_CHECKING
from wsgiref.types import StartResponse, WSGIApplication, WSGIEnvironment

from flask import Flask, Response, g, request

from app.addresses import plain, share
from app.store.ids import new_id
from app.web.arrived import HELD_BACK, TOO_SLOW
from app.web.errors import Refused, wants_page
from app.web.secret import same
from app.web.server import Server, server
from app.words import speaking, tell

VISIT, SEAT, ALONE, DESK, KNOWN = "ea-visit", "ea-seat", "ea-alone", "ea-desk", "ea-known"
TEACHER = "ea-teacher"  # a browser in which a teacher has signed in: it opens nothing, and is heard first
HALF_DAY = 12 * 3600
MONTH, HALF_YEAR = 30 * 24 * 3600, 180 * 24 * 3600  # seconds

POLICY = (
    "default-src 'self'; object-src 'none'; base-uri 'none'; frame-ancestors 'none'; form-action 'self'; "
    "img-src 'self' data:"
)
HEADERS = {
    "Content-Security-Policy": POLICY,
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "same-origin",
    "Permissions-Policy": "camera=(), microphone=(), geolocation=()",
}


if TYPE_CHECKING:
    from _typeshed import OptExcInfo

HOSTED = {"Strict-Transport-Security": "max-age=31536000", "Cross-Origin-Opener-Policy": "same-origin"}


class Stamped:
    """The same headers on every answer, whoever made it, put on where the answer leaves."""

    def __init__(self, inner: WSGIApplication, *, hosted: bool) -> None:
        self.inner, self.headers = inner, list((HEADERS | (HOSTED if hosted else {})).items())
        self.hosted = hosted

    def __call__(self, environ: WSGIEnvironment, start: StartResponse, /) -> Iterable[bytes]:
        def begin(
            status: str, headers: list[tuple[str, str]], exc_info: OptExcInfo | None = None, /
        ) -> Callable[[bytes], object]:
            return start(status, headers + self.headers, exc_info)

        environ["REMOTE_ADDR"] = plain(environ.get("REMOTE_ADDR", ""))
        if self.hosted:
            environ["wsgi.url_scheme"] = (
                "https"  # whatever the proxy in front says, or doesn't: links go out by TLS only
            )
        return self.inner(environ, begin)


def cookie_name(name: str) -> str:
    return f"__Host-{name}" if server().hosted else name


def cookie(name: str) -> str:
    """What the browser sent under this name, cut to what any cookie of ours may hold."""
    return request.cookies.get(cookie_name(name), "")[:200]


def set_cookie(answer: Response, name: str, value: str, *, age: int | None = HALF_DAY) -> None:
    answer.set_cookie(
        cookie_name(name),
        value,
        max_age=age,
        path="/",
        secure=server().hosted,
        httponly=True,
        samesite="Strict" if name == DESK else "Lax",
    )


def drop_cookie(answer: Response, name: str) -> None:
    answer.delete_cookie(
        cookie_name(name),
        path="/",
        secure=server().hosted,
        httponly=True,
        samesite="Strict" if name == DESK else "Lax",
    )


@dataclass(frozen=True)
class Mark:
    """By what a browser is known that has been here before: a number that nobody can make up, and since when."""

    id: str
    age: int  # seconds
    teacher: bool = False  # a teacher has signed in there


def new_mark(of: Server, *, teacher: bool = False) -> str:
    """The cookie's value, for KNOWN or TEACHER."""
    name, stamp = new_id(), str(of.now() // 1000)
    return f"{name}.{stamp}.{of.secret.mac('signed in' if teacher else 'known', name, stamp)}"


def read_mark(of: Server, value: str, *, teacher: bool = False) -> Mark | None:
    """The mark in a cookie's value, if this server made it within a month, or half a year for a teacher's browser.

    A clock that was set back, or is put right, makes none of them void.
    """
    name, stamp, mac = [*value.split("."), "", "", ""][:3]
    if not mac or not same(mac, of.secret.mac("signed in" if teacher else "known", name, stamp)):
        return None
    age = of.now() // 1000 - int(stamp)
    return Mark(name, max(0, age), teacher) if abs(age) <= (HALF_YEAR if teacher else MONTH) else None


def mark_of(of: Server, environ: WSGIEnvironment) -> Mark | None:
    """The mark of the browser that sent this request, read without any of the machinery of pages."""
    sent = str(environ.get("HTTP_COOKIE", ""))
    if KNOWN not in sent and TEACHER not in sent:
        return None
    cookies = dict(part.strip().partition("=")[::2] for part in sent[:4096].split(";"))
    before = "__Host-" if of.hosted else ""
    for name, teacher in ((TEACHER, True), (KNOWN, False)):
        found = read_mark(of, cookies.get(before + name, "")[:200].strip('"'), teacher=teacher)
        if found is not None:
            return found
    return None


def visit() -> str:
    """This browser's own random mark, made now if it has none (the answer then carries the cookie)."""
    if "visit" not in g:
        g.visit = cookie(VISIT)
        if len(g.visit) < 32:
            g.visit = secrets.token_urlsafe(24)
            g.new_visit = True
    return str(g.visit)


def _role_key() -> str:
    """What a page's token is bound to: the Desk's session on Desk pages, this browser elsewhere."""
    if request.path.startswith("/desk") and cookie(DESK):
        return f"desk:{cookie(DESK)}"
    return f"visit:{visit()}"


def page_token(key: str | None = None) -> str:
    """The page's proof that a change was asked for on it. Each page gets another, all are good.

    The random half keeps it from being guessed through the length of a compressed page.
    """
    nonce = secrets.token_urlsafe(12)
    return f"{nonce}.{server().secret.mac('page', key or _role_key(), nonce)}"


def check_token() -> None:
    """Refuse a change whose page token is missing or another browser's (V-05)."""
    sent = request.headers.get("X-Seat-Token", "")
    if not sent and request.mimetype in ("application/x-www-form-urlencoded", "multipart/form-data"):
        sent = request.form.get("token", "")
    nonce, _, mac = sent[:120].partition(".")
    if not mac or not same(mac, server().secret.mac("page", _role_key(), nonce)):
        raise Refused(403, "web.no_token", "token")


def address() -> str:
    """By what whoever asks is counted: the address, or its network; in memory only, while the limiter looks back."""
    return share(request.remote_addr or "?")


def register(app: Flask) -> None:
    """Ask every change for its token, and put the headers on every answer."""

    @app.before_request
    def _guard() -> None:
        if HELD_BACK in request.environ:
            raise Refused(429, "web.too_many", after=1)
        if TOO_SLOW in request.environ:
            raise Refused(408, "web.status_408")
        # The calculators are stateless: there is nothing that a forged request could change.
        if request.method not in ("GET", "HEAD", "OPTIONS") and not request.path.startswith("/api/"):
            check_token()

    @app.after_request
    def _headers(answer: Response) -> Response:
        if "Cache-Control" not in answer.headers:
            answer.headers.add("Cache-Control", "no-store")
        if "new_visit" in g:
            set_cookie(answer, VISIT, g.visit)
        # With a page, that is: an old tab that only asks for news could drop what a newer one has just been given.
        if "void_seat" in g and request.method == "GET" and wants_page():
            drop_cookie(answer, SEAT)
        return answer

    @app.context_processor
    def _words() -> dict[str, object]:
        return {"say": tell, "lang": speaking(), "token": page_token(), "hosted": server().hosted}
