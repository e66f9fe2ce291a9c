"""The front door: a period code, then a name; or work alone; or back to a seat by its personal link.

    GET  /                      door/front.html   error, code
    GET  /enter/<code>          the same with the code filled in (short link, QR)
    POST /enter                 code → 303 /enter/name, or the front page again
    GET  /enter/name            door/name.html    period_title, offered [3 of (kept, shown)], error, typed, number
    POST /enter/name            word | number | typed → 303 /seat/
    GET  /alone                 door/alone.html   packs [{name, title, aim, minutes, standards, parts}]
    GET  /seat/return/<token>   door/return.html  name, period_title, action (the form's address)
    POST /seat/return/<token>   → 303 /seat/

Nothing changes by GET; who may choose a name is remembered in a signed cookie, not in a table.
"""

from __future__ import annotations

from flask import Blueprint, Flask, Response, redirect, render_template, request

from app.classroom import codes, names
from app.figure.faults import Fault
from app.store import people, periods, seats
from app.store.ids import hashed, number_below
from app.store.rows import Connection, Period, Seat
from app.store.seats import RoomFull
from app.web import security
from app.web.body import form_text
from app.web.errors import Refused
from app.web.places import seat_place
from app.web.secret import same
from app.web.server import server
from app.words import render
from app.words import tell as say

door = Blueprint("door", __name__)

ENTERING = "ea-entering"
TEN_MINUTES = 600
CLEAN_TRIES = 5
BROWSER_TRIES = 30  # wrong codes of one browser in ten minutes; after that it waits


def see_other(where: str) -> Response:
    answer = redirect(where, 303)
    assert isinstance(answer, Response)
    return answer


def front_page(error: str = "", code: str = "", status: int = 200) -> Response:
    page = render_template("door/front.html", error=error, code=code[:16], seated=_seated())
    return Response(page, status=status)


def _seated(period_id: str = "") -> dict[str, str] | None:
    """{name, title} of the seat that this browser has already (in that period, if one is named): whoever comes
    back on the second day types the code again, and must not sit down twice.
    """
    try:
        place = seat_place()
    except Refused:
        return None
    if place.seat is None or place.period is None or period_id not in ("", place.period["id"]):
        return None
    return {"name": render(names.seat_name(place.seat["name"])), "title": str(place.period["title"])}


@door.get("/")
def front() -> Response:
    return front_page()


@door.get("/enter")
def enter_again() -> Response:
    return see_other("/")


@door.get("/enter/<code>")
def front_with_code(code: str) -> Response:
    return front_page(code=codes.read_code(code) or "")


@door.post("/enter")
def enter() -> Response:
    """A right code always passes; wrong ones are counted, and past a bound no longer looked at (T-08)."""
    mark = security.read_mark(server(), security.cookie(security.KNOWN))
    typed = form_text("code", 64)
    code = codes.read_code(typed)
    if code is None:
        return front_page(say("web.code_shape" if typed.strip() else "web.code_first"), typed, 422)
    place, browser = security.address(), f"visit:{hashed(security.visit())[:24]}"
    failures = server().codes
    if server().limited and failures.count(browser) >= BROWSER_TRIES:
        return _wait(typed)  # its own guesses, and nobody else's: its classmates behind the same address come in
    known = mark is not None and failures.count(browser) < CLEAN_TRIES and failures.count(mark.id) < CLEAN_TRIES
    if server().limited and failures.shut(place) and not known and not server().lookers.take(place):
        return _wait(typed)
    now = server().now()
    period = server().store.read(lambda c: periods.by_code(c, code, now))
    if period is None:
        failures.add(place, browser, *([mark.id] if mark else []))
        if server().limited and failures.slow(place):
            return _wait(typed)
        return front_page(say("web.code_wrong"), typed, 422)
    answer = see_other("/enter/name")
    _set_entering(answer, period["id"], code)
    return answer


def _wait(typed: str) -> Response:
    answer = front_page(say("web.code_wait"), typed, 429)
    answer.headers["Retry-After"] = "60"
    return answer


@door.after_request
def _introduce(answer: Response) -> Response:
    """Whoever opens a page of the door while it is calm is known from then on, for a month: that browser passes the
    code door even while others flood it.
    """
    if (
        request.method == "GET"
        and answer.status_code == 200
        and security.read_mark(server(), security.cookie(security.KNOWN)) is None
        and not server().codes.shut(security.address())
    ):
        security.set_cookie(answer, security.KNOWN, security.new_mark(server()), age=security.MONTH)
    return answer


def _set_entering(answer: Response, period_id: str, code: str) -> None:
    value = f"{period_id}.{server().secret.mac('entering', period_id, code, security.visit())}"
    security.set_cookie(answer, ENTERING, value, age=TEN_MINUTES)


def _entering() -> Period | None:
    """The period whose code this browser has given, while its door is still open under that code."""
    period_id, _, mac = security.cookie(ENTERING).partition(".")
    period = server().hub.period(period_id) if mac else None
    if period is None or period["ended"] or not period["code"] or (period["code_ends"] or 0) <= server().now():
        return None
    good = server().secret.mac("entering", period_id, period["code"], security.visit())
    return period if same(mac, good) else None


def name_page(period: Period, error: str = "", status: int = 200) -> Response:
    taken = server().store.read(lambda c: seats.folded_names(c, period["id"]))
    page = render_template(
        "door/name.html",
        period_title=period["title"],
        seated=_seated(period["id"]),
        offered=[(name, render(names.seat_name(name))) for name in names.offers(number_below(2**32), taken)],
        error=error,
        typed=form_text("typed", 60),
        number=form_text("number", 6),
    )
    return Response(page, status=status)


@door.get("/enter/name")
def choose_name() -> Response:
    period = _entering()
    return name_page(period) if period else see_other("/")


@door.post("/enter/name")
def take_name() -> Response:
    period = _entering()
    if period is None:
        return front_page(say("web.door_closed"), "", 409)
    try:
        kind, name = _chosen()
        token = None if _sits_there(period, name) else _take(period, kind, name)
    except Fault as fault:
        return name_page(period, fault.sentence(), 422)
    answer = see_other("/seat/")
    if token is not None:
        server().hub.publish(period["id"], "seats")
        security.set_cookie(answer, security.SEAT, token)
    security.drop_cookie(answer, ENTERING)
    return answer


def _sits_there(period: Period, name: str) -> bool:
    """Whether this browser has the seat of that name already: whoever types it again is back, and takes nothing."""
    try:
        place = seat_place()
    except Refused:
        return False
    seat = place.seat
    return seat is not None and seat["period_id"] == period["id"] and seat["folded"] == names.fold(name)


def _chosen() -> tuple[str, str]:
    """(kind, name) of the first of the three ways that was used."""
    if word := form_text("word", 60):
        return "word", names.read_word(word)
    if number := form_text("number", 6):
        return "number", names.read_number(number)
    if "typed" in request.form:
        return "typed", names.read_typed(form_text("typed", 200))
    raise Fault("web.name_choose", "word")


def _take(period: Period, kind: str, name: str) -> str:
    """Seat the student; the session's token. A Fault where the name is in use or there is no room (F9-04).

    What is refused costs nothing: no place of this browser, and none of what its address may take in a minute.
    """
    taken, folded = server().taken, names.fold(name)
    mine = f"{period['id']} {hashed(security.visit())[:24]}"
    try:
        known = server().store.read(lambda c: seats.find_place(c, period["id"], folded))
        if known is not None and not known["released"]:
            raise Fault("classroom.name_taken", kind)
        if known is not None or not server().limited:
            taken.add(mine)  # back in a seat that the teacher has released for just that
        elif not taken.enter(mine):
            raise Fault("web.seats_enough", "number")
        try:
            return _sit(period, kind, name, security.address())
        except BaseException:
            taken.leave(mine)
            raise
    except RoomFull:
        if server().turn_away(period["id"]):
            server().hub.publish(period["id"], "seats")
        raise Fault("web.room_full", kind) from None


def _sit(period: Period, kind: str, name: str, address: str) -> str:
    """Add the seat, or open a released one. All is looked at again: others come at the same moment."""
    now = server().now()
    newcomers = server().newcomers if server().limited else None
    folded, seed = names.fold(name), number_below(2**32)

    def sit(c: Connection) -> str:
        known = seats.find_place(c, period["id"], folded)
        if known is not None and not known["released"]:
            raise Fault("classroom.name_taken", kind)
        if known is not None:
            seats.change(c, known["id"], released=False, seen=now)
            return people.open_seat(c, known["id"], now, alone=True)
        if newcomers is not None and not newcomers.take(address):
            raise Refused(429, "web.too_many", after=5)
        alias = name
        if kind == "typed":
            alias = (names.offers(seed, seats.folded_names(c, period["id"]), 1) or ["…"])[0]
        row = seats.add(c, period["id"], kind, name, folded, alias, now)
        return people.open_seat(c, row["id"], now)

    return server().store.write(sit)


@door.get("/alone")
def alone() -> str:
    packs = [
        {
            "name": found.name,
            "title": found.pack.title,
            "aim": found.pack.summary,
            "minutes": found.pack.minutes,
            "standards": list(found.pack.standards),
            "parts": [{"title": part.title, "minutes": part.minutes} for part in found.pack.parts],
        }
        for found in server().shelf.found()
        if found.pack is not None
    ]
    return render_template("door/alone.html", packs=packs)


def return_token(seat: Seat) -> str:
    """The personal link back to a seat: derived, so that nothing kept can be turned into it."""
    return f"{seat['id']}.{server().secret.mac('return', seat['id'], seat['return_nonce'])}"


def _seat_of_link(token: str) -> tuple[Seat, Period]:
    """(seat, period) of a personal link; 410 for one that is no longer good."""
    seat_id, _, mac = token[:120].partition(".")
    seat = server().store.read(lambda c: seats.find(c, seat_id)) if mac else None
    if seat is None or not seat["period_id"] or seat["removed"] or not same(token, return_token(seat)):
        raise Refused(410, "web.status_410")
    period = server().hub.period(seat["period_id"])
    if period is None or period["ended"]:
        raise Refused(410, "web.status_410")
    return seat, period


@door.get("/seat/return/<token>")
def come_back(token: str) -> str:
    seat, period = _seat_of_link(token)
    name = render(names.seat_name(seat["name"]))
    return render_template("door/return.html", name=name, period_title=period["title"], action=request.path)


@door.post("/seat/return/<token>")
def sit_again(token: str) -> Response:
    seat, period = _seat_of_link(token)
    now = server().now()
    session = server().store.write(lambda c: people.open_seat(c, seat["id"], now))
    server().hub.publish(period["id"], "seats")
    answer = see_other("/seat/")
    security.set_cookie(answer, security.SEAT, session)
    return answer


def register(app: Flask) -> None:
    app.register_blueprint(door)
