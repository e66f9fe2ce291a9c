"""The Desk's page on one period, and everything that the teacher can do in it. All under /desk/period/<id>.

GET  /                       desk/period.html   period, base, houses
GET  /state, /live           the Desk's state (desk_state.py)
POST /stage                  {stage, to}   to: any of "board", "seats"
POST /follow                 {on}
POST /freeze                 {on}
POST /step                   {task | null}
POST /tally                  {task | null}
POST /door                   {open}
POST /code                   {}: a new code
POST /end                    {}
POST /delete                 {} → {erased}
POST /rename                 {title}
POST /places                 {places}
POST /release                {}: every place without a device may be taken again
POST /plan                   {order, parts}: arrange this period alone
POST /words                  {house, profile}: the textbook's names, and the converse that it starts from
POST /own                    {figure, given, goal, title} → {task}
POST /own/words              {given, goal} → the same as the class is to read it
POST /board/revoke           {} → {board}
POST /seat/<sid>/<action>    {}   approve, hide ({on}), release, remove, erase
POST /seat/<sid>/reopen      {task}
GET  /seat/<sid>/link        {link}
GET  /seat/<sid>/record      desk/student.html, or JSON (desk_records.py)
GET  /task/<task>            {task, key, notes, public}
GET  /task/<task>/replies    {replies}
GET  /qr.svg
"""

from __future__ import annotations

import json

from flask import Blueprint, Flask, Response, g, render_template, request

from app.classroom import codes, lesson, stage
from app.classroom.kinds import own_question
from app.classroom.names import seat_name
from app.classroom.verdict import Context
from app.figure.faults import Fault
from app.lessons.tasks import Task
from app.store import keeping, people, periods, replies, seats
from app.store.ids import new_id, number_below
from app.store.rows import Connection, Replied, Seat
from app.web.api import json_answer
from app.web.bodies import Arranged, Called, Door, Hidden, Own, Places, Reopened, Staged, Switch, Titled, Words
from app.web.body import read_body
from app.web.desk import read_title
from app.web.desk_packs import read_arrangement, teacher_view
from app.web.desk_state import desk_look, period_part, public_root
from app.web.door import return_token
from app.web.errors import Refused
from app.web.hub import Listener
from app.web.own import read_own, read_words
from app.web.plans import pack_of_period
from app.web.qr import qr_svg
from app.web.readers import houses, read_in
from app.web.server import server
from app.web.signed_in import need_desk
from app.web.streams import polled, streamed
from app.words import render
from app.words.house import HOUSES, house

period_pages = Blueprint("desk_period", __name__, url_prefix="/desk/period/<period_id>")

PROFILES = ("postulate", "theorem")


@period_pages.before_request
def _own_period() -> None:
    """Only the teacher of this period; to any other it doesn't exist (V-13)."""
    session = need_desk()
    period_id = str((request.view_args or {}).get("period_id", ""))
    period = server().hub.period(period_id)
    if period is None or period["teacher_id"] != session["teacher_id"]:
        raise Refused(404, "web.not_found_period")
    g.period = period
    read_in(period, desk=True)


def _change(*keys: str, **values: object) -> Response:
    """Set columns of the period and tell everybody who looks; answers the new version."""
    period_id = g.period["id"]
    server().store.write(lambda c: periods.change(c, period_id, **values))
    return _told(*keys)


def _told(*keys: str, seat: str | None = None, **more: object) -> Response:
    hub = server().hub
    hub.publish(g.period["id"], *keys, seat=seat)
    return json_answer({"version": hub.version("desk", g.period["id"]), **more})


@period_pages.get("/")
def page(period_id: str) -> str:
    period = period_part(server(), g.period, public_root(), request.url_root.rstrip("/"))
    return render_template("desk/period.html", period=period, base=f"/desk/period/{period_id}", houses=houses())


@period_pages.get("/state")
def state(period_id: str) -> Response:
    return polled(server().hub, desk_look(period_id, need_desk()))


@period_pages.get("/live")
def live(period_id: str) -> Response:
    session = need_desk()
    return streamed(server().hub, Listener("desk", period_id, session["token_hash"]), desk_look(period_id, session))


@period_pages.post("/stage")
def put_stage(period_id: str) -> Response:
    body = read_body(Staged)
    document = stage.read_stage(body.stage)
    # Nobody of ours sends places: they are the switch's below, which may change while a document is on its way.
    to = {} if body.to is None else {"stage_to": ",".join(stage.read_places(body.to))}
    return _change("stage", stage=document, **to)


@period_pages.post("/follow")
def follow(period_id: str) -> Response:
    """The stage on every Seat too, or on the Board alone."""
    on = read_body(Switch).on
    return _change("follow", "stage", follow=on, stage_to="board,seats" if on else "board")


@period_pages.post("/freeze")
def freeze(period_id: str) -> Response:
    return _change("frozen", frozen=read_body(Switch).on)


def _task_id() -> str | None:
    """The task that was sent, which is one of this period's plan; None for null."""
    task_id = read_body(Called).task
    if task_id is not None and lesson.find_task(server().hub.plan(g.period), task_id) is None:
        raise Refused(422, "web.not_found_task", "task")
    return task_id


@period_pages.post("/step")
def step(period_id: str) -> Response:
    return _change("step", step=_task_id())


@period_pages.post("/tally")
def call_tally(period_id: str) -> Response:
    return _change("tally", "called", tally=_task_id())


@period_pages.post("/rename")
def rename(period_id: str) -> Response:
    return _change("period", title=read_title(read_body(Titled).title))


@period_pages.post("/places")
def places(period_id: str) -> Response:
    """How many seats the class may take: so many and no more come in, however many ask at once (F9-04)."""
    wanted = read_body(Places).places
    server().turned_away.pop(period_id, None)
    return _change("period", "seats", places=wanted)


@period_pages.post("/door")
def door(period_id: str) -> Response:
    if read_body(Door).open:
        return _open_door()
    server().store.write(lambda c: periods.close_door(c, period_id))
    return _told("period", open=False, code=None)


@period_pages.post("/code")
def new_code(period_id: str) -> Response:
    return _open_door()


def _open_door() -> Response:
    """A fresh code for twelve hours at most; an ended period is taken up again."""
    drawn = [codes.code_from(number_below(len(codes.ALPHABET) ** codes.LENGTH)) for _ in range(20)]
    period_id, now = g.period["id"], server().now()
    # A period of before copies were kept takes its copy now.
    copy = None if g.period["pack_copy"] else server().shelf.copy(g.period["pack"])

    def open_(c: Connection) -> str | None:
        if copy is not None:
            periods.keep_copy(c, period_id, *copy)
        periods.change(c, period_id, ended=None)
        return periods.open_door(c, period_id, drawn, now)

    code = server().store.write(open_)
    if code is None:
        raise Refused(503, "web.code_none_free")
    return _told("period", open=True, code=code)


@period_pages.post("/end")
def end(period_id: str) -> Response:
    now = server().now()
    server().store.write(lambda c: periods.end(c, period_id, now))
    for row in server().store.read(lambda c: seats.of_period(c, period_id)):
        server().hub.publish(period_id, "gone", seat=row["id"])
    return _told("period", "seats", ended=True)


@period_pages.post("/delete")
def delete(period_id: str) -> Response:
    counts = server().store.write(lambda c: keeping.erase_period(c, period_id))
    server().store.scrub()
    server().hub.publish(period_id, "gone")
    return json_answer({"erased": counts})


@period_pages.post("/plan")
def plan(period_id: str) -> Response:
    known = {part.id for part in server().hub.plan(g.period).parts}
    arranged = read_arrangement(read_body(Arranged), known)
    return _change("plan", arrangement=arranged)


@period_pages.post("/words")
def words(period_id: str) -> Response:
    """The words of the class's own textbook, and which converse it starts from (5.6, Q-7)."""
    body = read_body(Words)
    chosen = {key: one for key, one in (("house", body.house), ("profile", body.profile)) if one is not None}
    if chosen.get("house", "us") not in HOUSES:
        raise Refused(422, "web.house_need", "house", houses=", ".join(HOUSES))
    if chosen.get("profile", "postulate") not in PROFILES:
        raise Refused(422, "web.profile_need", "profile", profiles=", ".join(PROFILES))
    return _change("plan", "period", **chosen) if chosen else _told("period")


@period_pages.post("/own")
def own(period_id: str) -> Response:
    """The teacher's own example: a figure, what is given, what is to be proved; judged like any proof
    task.
    """
    task = read_own(read_body(Own))
    now = server().now()
    task_id = server().store.write(lambda c: periods.put_own(c, period_id, task, now))
    return _told("plan", task=task_id)


@period_pages.post("/own/words")
def own_words(period_id: str) -> Response:
    """What was typed for an own example, as the class is to read it."""
    given, goal = read_words(read_body(Own))
    return json_answer({"given": given, "goal": goal})


@period_pages.post("/board/revoke")
def revoke_board(period_id: str) -> Response:
    _change("period", board_nonce=new_id())
    server().hub.end_session(f"board:{period_id}")
    period = server().hub.period(period_id)
    assert period is not None
    return json_answer({"board": period_part(server(), period, request.url_root.rstrip("/"))["board"]})


def _seat(sid: str) -> Seat:
    """A seat of this period; 404 for any other."""
    seat = server().store.read(lambda c: seats.find(c, sid))
    if seat is None or seat["period_id"] != g.period["id"]:
        raise Refused(404, "web.not_found_seat", "seat")
    return seat


@period_pages.post("/seat/<sid>/approve")
def approve(period_id: str, sid: str) -> Response:
    _seat(sid)
    server().store.write(lambda c: seats.change(c, sid, approved=True, hidden=False))
    return _told("seats", "seat", seat=sid)


@period_pages.post("/seat/<sid>/hide")
def hide(period_id: str, sid: str) -> Response:
    _seat(sid)
    body = read_body(Hidden) if request.content_length else Hidden()
    on = body.on is not False
    server().store.write(lambda c: seats.change(c, sid, hidden=on))
    return _told("seats", "seat", seat=sid)


@period_pages.post("/seat/<sid>/release")
def release(period_id: str, sid: str) -> Response:
    """Let the next who gives this name take the seat: for a student who comes with another device
    (T-01). The personal link of whoever had it is void.
    """
    _seat(sid)
    server().store.write(lambda c: seats.change(c, sid, released=True, return_nonce=new_id()))
    server().forgive(period_id)
    return _told("seats")


@period_pages.post("/release")
def release_left(period_id: str) -> Response:
    """The next day of a class: a place without a device is taken by whoever gives its name or number (T-01)."""
    now = server().now()
    server().store.write(lambda c: seats.release_left(c, period_id, now))
    server().forgive(period_id)
    return _told("seats")


@period_pages.post("/seat/<sid>/remove")
def remove(period_id: str, sid: str) -> Response:
    """Put somebody out: the session ends and the personal link is void. The work stays until it is
    erased.
    """
    _seat(sid)

    def put_out(c: Connection) -> None:
        people.close_seats(c, [sid])
        seats.remove(c, sid)

    server().store.write(put_out)
    server().forgive(period_id)
    server().hub.publish(period_id, "gone", seat=sid)
    return _told("seats")


@period_pages.post("/seat/<sid>/erase")
def erase(period_id: str, sid: str) -> Response:
    _seat(sid)
    # What is on stage names nobody, so nobody can say whose it is: an answer that is up goes with any erasure.
    shown = stage.shows_answer(json.loads(g.period["stage"]) if g.period["stage"] else None)

    def go(c: Connection) -> dict[str, int]:
        if shown:
            periods.change(c, period_id, stage=None)
        return keeping.erase_seat(c, sid)

    counts = server().store.write(go)
    server().store.scrub()
    if shown:
        server().hub.publish(period_id, "stage")
    server().hub.publish(period_id, "gone", seat=sid)
    return _told("seats", "tally", erased=counts)


@period_pages.post("/seat/<sid>/reopen")
def reopen(period_id: str, sid: str) -> Response:
    _seat(sid)
    task_id = read_body(Reopened).task
    if not server().store.write(lambda c: replies.reopen(c, sid, task_id)):
        raise Refused(404, "web.not_found_task", "task")
    return _told("seats", "seat", seat=sid)


@period_pages.get("/seat/<sid>/link")
def link(period_id: str, sid: str) -> Response:
    return json_answer({"link": f"{public_root()}/seat/return/{return_token(_seat(sid))}"})


@period_pages.get("/task/<task_id>")
def one_task(period_id: str, task_id: str) -> Response:
    found = lesson.find_task(server().hub.plan(g.period), task_id)
    if found is None:
        raise Refused(404, "web.not_found_task", "task")
    pack = pack_of_period(server(), g.period)
    notes = next((t.notes for p in pack.parts for t in p.tasks if t.id == task_id), "") if pack else ""
    return json_answer(teacher_view(found[1], notes, period=g.period))


@period_pages.get("/task/<task_id>/replies")
def task_replies(period_id: str, task_id: str) -> Response:
    """The newest reply of each seat that is in the room, for the teacher to pick one to discuss."""
    everybody = server().store.read(lambda c: seats.of_period(c, period_id))
    names = {row["id"]: render(seat_name(row["name"])) for row in everybody}
    found = server().store.read(lambda c: replies.last_replies(c, period_id, task_id))
    part_and_task = lesson.find_task(server().hub.plan(g.period), task_id)
    return json_answer(
        {
            "replies": [
                {
                    "id": row["id"],
                    "sid": row["seat_id"],
                    "name": names.get(row["seat_id"], ""),
                    "at": row["at"],
                    "attempt": row["attempt"],
                    "verdict": row["verdict"],
                    "reply": row["payload"],
                    "figure": row["payload"].get("figure") or row["verdict"].get("figure"),
                    **_asked(part_and_task, row),
                }
                for row in found
            ]
        }
    )


def _asked(part_and_task: tuple[lesson.PlanPart, Task] | None, row: Replied) -> dict[str, object]:
    """{asked}: the question that this reply answers, where each seat has its own; else nothing."""
    if part_and_task is None:
        return {}
    context = Context(seed=row["seed"], house=house(g.period["house"]))
    try:
        own = own_question(part_and_task[1], row["verdict"], context)
    except Fault:
        return {}  # the pack has been changed since, and this can't be asked any more
    return {} if own is None else {"asked": own}


@period_pages.get("/qr.svg")
def qr(period_id: str) -> Response:
    """The door's address as a QR code, black on white with its quiet zone."""
    address = str(period_part(server(), g.period, public_root())["link"])
    return qr_svg(address, border=4, light="#fff", omitsize=True)


def register(app: Flask) -> None:
    app.register_blueprint(period_pages)
