"""The teacher's Desk: set-up by a link that works once, sign-in, the list of packs and periods.

GET  /desk/                 desk/home.html    packs, periods, guesses  (signed out → 303 /desk/signin)
GET  /desk/setup/<token>    desk/setup.html   error, least, name
POST /desk/setup/<token>    passphrase, again → signed in, 303 /desk/
GET  /desk/signin           desk/signin.html  error, first (no teacher yet), several (ask for the name too)
POST /desk/signin           passphrase, name? → 303 /desk/
POST /desk/signout          → 303 /
POST /desk/period           {pack, title} → 303 /desk/period/<id>/ (form) or {id} (JSON)
POST /desk/retention        {} → {erased: counts}: after the clock has jumped, what is over its time may go
POST /desk/erase            {} → {erased: counts}: every period of this teacher
"""

from __future__ import annotations

from datetime import UTC, datetime
from typing import TYPE_CHECKING

from flask import Blueprint, Flask, Response, render_template, request

from app.addresses import loopback
from app.store import keeping, people, periods
from app.store.ids import hashed
from app.store.rows import Connection, PeriodOfTeacher
from app.web import passphrases, security
from app.web.api import json_answer
from app.web.bodies import MOST_TITLE, Opened
from app.web.body import form_text, read_body
from app.web.door import see_other
from app.web.errors import Refused, answer, wants_page
from app.web.retention import let_go
from app.web.server import server
from app.web.signed_in import find_desk, need_desk
from app.words import reader
from app.words import tell as say

if TYPE_CHECKING:
    from app.lessons.load import Found

desk = Blueprint("desk", __name__, url_prefix="/desk")

MOST_TRIED = 8  # passphrases looked at for one sign-in without a name: each costs a core for a moment


def iso(ms: int | None) -> str | None:
    """A time as the open formats write it: 2026-01-31T09:30:00Z."""
    return None if ms is None else datetime.fromtimestamp(ms / 1000, UTC).strftime("%Y-%m-%dT%H:%M:%SZ")


@desk.app_errorhandler(Refused)
def _to_signin(error: Refused) -> Response:
    if error.status == 401 and wants_page() and request.path.startswith("/desk"):
        return see_other("/desk/signin")
    return answer(error.status, error.sentence(), error.where, after=error.after)


@desk.get("/")
def home() -> str:
    session = need_desk()
    mine = server().store.read(lambda c: periods.of_teacher(c, session["teacher_id"]))
    titles = {found.name: found.pack.title for found in server().shelf.found() if found.pack}
    return render_template(
        "desk/home.html",
        packs=[_pack_row(found) for found in server().shelf.found()],
        periods=[
            {
                "id": row["id"],
                "title": row["title"],
                "pack": row["pack"],
                "pack_title": titles.get(row["pack"], row["pack"]),
                "open": door_open(row),
                "ended": iso(row["ended"]),
                "code": row["code"] if door_open(row) else None,
                "seats": row["seats"],
                "made": iso(row["made"]),
            }
            for row in mine
        ],
        waiting=iso(server().waiting),
        now=iso(server().now()),
        trouble=server().trouble,
        guesses=server().codes.flood() if any(door_open(row) for row in mine) else 0,
    )


def _pack_row(found: Found) -> dict[str, object]:
    if found.pack is None:
        faults = [fault.sentence() for fault in found.faults]
        return {"name": found.name, "title": found.name, "aim": "", "minutes": None, "standards": [],
                "parts": [], "task_count": 0, "faults": faults}  # fmt: skip
    pack = found.pack
    return {
        "name": found.name,
        "title": pack.title,
        "aim": pack.summary,
        "minutes": pack.minutes,
        "standards": list(pack.standards),
        "parts": [{"id": part.id, "title": part.title, "minutes": part.minutes} for part in pack.parts],
        "task_count": sum(len(part.tasks) for part in pack.parts),
        "faults": [],
    }


def door_open(period: PeriodOfTeacher) -> bool:
    return bool(period["code"]) and (period["code_ends"] or 0) > server().now() and not period["ended"]


def _setup_page(token: str, error: str = "", status: int = 200) -> Response:
    now = server().now()
    invite = server().store.read(lambda c: people.find_invite(c, token, now))
    if invite is None:
        raise Refused(410, "web.setup_gone")
    page = render_template("desk/setup.html", error=error, least=passphrases.LEAST, name=invite["name"])
    return Response(page, status=status)


@desk.get("/setup/<token>")
def setup(token: str) -> Response:
    return _setup_page(token)


@desk.post("/setup/<token>")
def set_up(token: str) -> Response:
    passphrase, again = form_text("passphrase", 400), form_text("again", 400)
    # First of all: to weigh a passphrase costs, and is done for nobody without a link.
    if server().store.read(lambda c: people.find_invite(c, token, server().now())) is None:
        raise Refused(410, "web.setup_gone")
    try:
        # A page that asks only once sends no second field.
        passphrases.check_new(passphrase, again if "again" in request.form else passphrase)
    except Refused as refused:
        return _setup_page(token, refused.sentence(), refused.status)
    kept = passphrases.hashed(passphrase)
    now = server().now()
    teacher_id = server().store.write(lambda c: people.use_invite(c, token, kept, now))
    if teacher_id is None:
        raise Refused(410, "web.setup_gone")
    return _sign_in(teacher_id)


def _sign_in(teacher_id: str) -> Response:
    """A new token at every sign-in (V-02)."""
    now = server().now()
    token = server().store.write(lambda c: people.open_desk(c, teacher_id, now))
    made = see_other("/desk/")
    security.set_cookie(made, security.DESK, token)
    security.set_cookie(made, security.TEACHER, security.new_mark(server(), teacher=True), age=security.HALF_YEAR)
    return made


def _signin_page(error: str = "", status: int = 200) -> Response:
    count = server().store.read(people.count_teachers)
    page = render_template("desk/signin.html", error=error, first=count == 0, several=count > 1)
    return Response(page, status=status)


@desk.get("/signin")
def signin() -> Response:
    return see_other("/desk/") if find_desk() else _signin_page()


@desk.post("/signin")
def sign_in() -> Response:
    place, known = security.address(), _known_browser() or _at_the_machine()
    failures = server().passphrases
    if server().limited and not known and (failures.shut(place) or passphrases.full(place)):
        return _busy(say("web.signin_wait"))
    passphrase, name = form_text("passphrase", 400), form_text("name", 40).strip().casefold()
    teachers = server().store.read(people.teachers)
    # A name picks its teacher where it is one; whoever was never told a name of theirs is known by the passphrase.
    asked = [row for row in teachers if row["name"].casefold() == name]
    try:
        with passphrases.in_line(place, known=known):
            for row in (asked or teachers)[:MOST_TRIED]:
                if _right(row["passphrase"], passphrase, known=known):
                    return _sign_in(row["id"])
    except passphrases.Crowded:
        return _busy(say("web.signin_wait"))
    # A known browser's own slips are counted by themselves: nobody outside can use up a teacher's tries.
    failures.add(f"known {hashed(_signed_in_before() or security.visit())[:24]}" if known else place)
    if server().limited and failures.slow(place) and not known:
        return _busy(say("web.signin_wait"))
    return _signin_page(say("web.passphrase_wrong"), 422)


def _right(kept: str, passphrase: str, *, known: bool) -> bool:
    beside = None if known else server().guesses
    return passphrases.right_beside(beside, kept, passphrase) if beside else passphrases.right(kept, passphrase)


def _busy(error: str) -> Response:
    """Hundreds may get this at once: nothing is looked up for it."""
    page = Response(
        render_template("desk/signin.html", error=error, first=False, several=bool(form_text("name", 40))), status=429
    )
    page.headers["Retry-After"] = "60"
    return page


def _at_the_machine() -> bool:
    """Whoever sits at the machine itself; a proxy on it passes others on, and says so or is known by the mode."""
    return loopback(security.address()) and not server().hosted and "X-Forwarded-For" not in request.headers


def _known_browser() -> bool:
    """A browser in which a teacher has signed in before, and that has not guessed much itself since."""
    nonce = _signed_in_before()
    return nonce is not None and not server().passphrases.slow(f"known {hashed(nonce)[:24]}")


def _signed_in_before() -> str | None:
    """By what a browser is known in which a teacher has signed in within half a year."""
    mark = security.read_mark(server(), security.cookie(security.TEACHER), teacher=True)
    return mark.id if mark else None


@desk.post("/signout")
def sign_out() -> Response:
    token = security.cookie(security.DESK)
    server().store.write(lambda c: people.close_session(c, token))
    server().hub.end_session(hashed(token))
    made = json_answer({"left": True}) if request.is_json else see_other("/")
    security.drop_cookie(made, security.DESK)
    made.headers["Clear-Site-Data"] = '"storage"'
    return made


@desk.post("/period")
def open_period() -> Response:
    session = need_desk()
    asked = read_body(Opened, None if request.is_json else {key: form_text(key, 200) for key in ("pack", "title")})
    pack = server().shelf.pack(asked.pack)
    if pack is None:
        raise Refused(422, "web.pack_need", "pack")
    title = read_title(asked.title) if asked.title else _free_title(pack.title, session["teacher_id"])
    now, copy = server().now(), server().shelf.copy(pack.name)
    house = reader().names.key  # asked here: the store writes in a thread of its own

    def add(c: Connection) -> str:
        arranged = periods.arranged(c, session["teacher_id"], pack.name)
        made = periods.add(c, session["teacher_id"], title, pack.name, now, arranged=arranged, house=house)
        if copy is not None:
            periods.keep_copy(c, made, *copy)
        return made

    period_id = server().store.write(add)
    return json_answer({"id": period_id}) if request.is_json else see_other(f"/desk/period/{period_id}/")


def _free_title(wanted: str, teacher_id: str) -> str:
    """The pack's title; with a number where another period of this teacher has it: five classes meet on one pack."""
    taken = {row["title"] for row in server().store.read(lambda c: periods.of_teacher(c, teacher_id))}
    titles = (f"{wanted[: MOST_TITLE - 6]} ({n})" for n in range(2, len(taken) + 3))
    return read_title(wanted if wanted not in taken else next(title for title in titles if title not in taken))


def read_title(text: str) -> str:
    """A period's title: one line of 1 to 80 characters."""
    if not 1 <= len(title := " ".join(text.split())) <= MOST_TITLE:
        raise Refused(422, "web.title_need", "title", most=MOST_TITLE)
    if any(not (c.isprintable()) for c in title):
        raise Refused(422, "web.title_need", "title", most=MOST_TITLE)
    return title


@desk.post("/retention")
def retention() -> Response:
    """The teacher has looked at the date: what is over its time may go."""
    need_desk()
    counts = let_go(server())
    return json_answer({"erased": counts}) if request.is_json else see_other("/desk/")


@desk.post("/erase")
def erase_all() -> Response:
    session = need_desk()
    mine = server().store.read(lambda c: periods.of_teacher(c, session["teacher_id"]))
    counts = server().store.write(lambda c: keeping.erase_all(c, session["teacher_id"]))
    server().store.scrub()
    for row in mine:
        server().hub.publish(row["id"], "gone")
    return json_answer({"erased": counts})


def register(app: Flask) -> None:
    app.register_blueprint(desk)
