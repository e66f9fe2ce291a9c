"""The Board: what is projected. View only, by a link that the Desk can revoke; counts, never names (PD-7).

GET /board/<token>                board/board.html   base, period_title, desk? (in the teacher's own browser)
GET /board/<token>/state, /live   {version, epoch, title, code, open, short, link, stage, tally, counts}
GET /board/<token>/qr.svg         the code as QR, while the door is open
"""

from __future__ import annotations

from flask import Blueprint, Flask, Response, render_template

from app.store import replies, seats
from app.store.rows import Period
from app.web import security
from app.web.desk_state import board_token, door_open, public_root, tally_of
from app.web.errors import Refused
from app.web.hub import Listener
from app.web.qr import qr_svg
from app.web.readers import read_in
from app.web.seat_state import stage_for
from app.web.secret import same
from app.web.server import Server, server
from app.web.signed_in import find_desk
from app.web.streams import Look, State, polled, streamed

board = Blueprint("board", __name__, url_prefix="/board/<token>")

ENDED = "period"  # where the refusal points when the link is right and its period is over


def _period(token: str) -> Period:
    """The period of a Board link; 410 for one that has been revoked, and for one of a period that has ended."""
    period = server().hub.period(token[:120].partition(".")[0])
    if period is None or not same(token, board_token(server(), period)):
        raise Refused(410, "web.status_410")
    if period["ended"]:
        raise Refused(410, "web.status_410", ENDED)
    read_in(period)
    return period


def counts_of(of: Server, period: Period) -> State:
    """How many are here, and how many are done with the step in hand (or have done anything)."""
    everybody = of.store.read(lambda c: seats.of_period(c, period["id"]))
    standings = of.store.read(lambda c: replies.class_standings(c, period["id"]))
    step = period["step"]
    done = {row["seat_id"] for row in standings if row["done"] and (step is None or row["task"] == step)}
    online = of.hub.online(period["id"])
    return {
        "here": sum(1 for seat in everybody if seat["id"] in online),
        "done": len(done),
        "of": len(everybody),
    }


def _look(token: str, period_id: str) -> Look:
    of, root = server(), public_root()

    def state() -> State | None:
        return parts({"period", "stage", "tally", "seats"})

    def parts(keys: set[str]) -> State | None:
        period = of.hub.period(period_id)
        if period is None or period["ended"] or not same(token, board_token(of, period)):
            return None
        is_open = door_open(period, of.now())
        shown: State = {}
        if "period" in keys:
            code = period["code"] if is_open else None
            shown = {
                "title": period["title"],
                "code": code,
                "open": is_open,
                "short": root.split("://", 1)[1],
                "link": f"{root}/enter/{code}" if code else root,
            }
        if "stage" in keys:
            shown["stage"] = stage_for(period, "board")
        if keys & {"tally", "seats"}:
            shown["tally"] = tally_of(of, period)
            shown["counts"] = counts_of(of, period)
        return shown

    def alive() -> bool:
        period = of.hub.period(period_id)
        return period is not None and not period["ended"] and same(token, board_token(of, period))

    return Look(lambda: of.hub.version("board", period_id), state, parts, alive, frozenset({"seats", "tally"}), 0.5)


@board.get("/")
def page(token: str) -> str:
    period = _period(token)
    session = find_desk()
    more: State = {}
    if session and session["teacher_id"] == period["teacher_id"]:
        # The clicker works on the Board itself when it is the teacher's own browser.
        key = f"desk:{security.cookie(security.DESK)}"
        more = {"desk": f"/desk/period/{period['id']}", "token": security.page_token(key)}
    return render_template("board/board.html", base=f"/board/{token}", period_title=period["title"], **more)


@board.get("/qr.svg")
def qr(token: str) -> Response:
    """The way in for a camera: what the Board says in letters beside it."""
    period = _period(token)
    if not door_open(period, server().now()):
        raise Refused(404, "web.status_404")
    return qr_svg(f"{public_root()}/enter/{period['code']}", scale=8, border=2, svgns=True)


@board.get("/state")
def state(token: str) -> Response:
    return polled(server().hub, _look(token, _period(token)["id"]))


@board.get("/live")
def live(token: str) -> Response:
    period = _period(token)
    # Each Board counts by itself: a link may be open on the projector and on the teacher's own screen.
    listener = Listener("board", period["id"], f"board:{period['id']}")
    return streamed(server().hub, listener, _look(token, period["id"]))


def register(app: Flask) -> None:
    app.register_blueprint(board)
