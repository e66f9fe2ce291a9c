"""The Seat: one student's page and its JSON, the same at three places (`places.py`).

    GET  {base}/                       seat/seat.html   base, role, name, title
    GET  {base}/state?since=n          {version, epoch, role, period, name, pending, pack, here, follow, step, frozen,
                                       stage}
    GET  {base}/live                   the same as a stream
    GET  {base}/task/<id>              {task, saved: {n, work, figure} | null, last: verdict | null, replies, done,
                                       open}
    PUT  {base}/work/<id>              {n, work, figure?} → {n}: the newest n wins
    POST {base}/reply                  {id, task, reply} → {stored, verdict, attempt}; the same id is one reply
    POST {base}/task/<id>/ask/<what>   hints and try-outs: never counted as a reply
    POST {base}/here                   {task} → {here}
    GET  {base}/return                 {link}: the personal way back (in a class)
    POST {base}/leave                  "I'm done": ends the session on this browser

base is /seat, /alone/<pack> or /desk/pack/<pack>/preview.
"""

from __future__ import annotations

import re
from collections.abc import Callable

from flask import Blueprint, Flask, Response, g, render_template, request

from app.classroom.kinds import KINDS, Kind, kind_module
from app.classroom.lesson import PlanPart, tasks
from app.classroom.names import seat_name
from app.classroom.verdict import Verdict
from app.figure.model import figure_from_json, figure_to_json
from app.lessons.tasks import Task
from app.store import keeping, people, replies, seats
from app.store.rows import Connection, Standing
from app.web import errors, security
from app.web.api import dump, json_answer
from app.web.bodies import Fields, Here, Sent, Work
from app.web.body import read_body, read_json
from app.web.door import return_token, see_other
from app.web.errors import Refused
from app.web.limits import Bucket
from app.web.places import Place, alone_place, preview_place, seat_place
from app.web.readers import COOKIE as LANGUAGE
from app.web.seat_state import listener_of, look_of
from app.web.server import server
from app.web.streams import polled, streamed
from app.words import render

Find = Callable[..., Place]
Made = str | Response
REPLY_ID = re.compile(r"[A-Za-z0-9_-]{8,64}\Z")
MOST_WORK = 40_000  # characters of half-done work on one task: eighty moves, or forty rows, take a tenth of it
MOST_ONE_ALONE = 1_500_000  # of one browser in one pack
MOST_ALONE = 24_000_000  # of everybody who works alone on this server
# Questions whose answer judges or shows part of the work: none of them on an exit ticket.
HELPS = frozenset({"check", "demonstration", "lines", "row", "step", "views", "why"})


def kind_of(task: Task) -> Kind:
    """The module that judges this task; 404 while there is none."""
    try:
        return kind_module(task.kind)
    except (KeyError, ModuleNotFoundError) as missing:
        if isinstance(missing, ModuleNotFoundError) and missing.name != KINDS[task.kind]:
            raise
        raise Refused(404, "web.kind_missing", "task") from None


def page(place: Place) -> str:
    name = render(seat_name(place.seat["name"])) if place.seat else ""
    more = {"later": (f"tasks/{kind}.js",)} if (kind := _first_kind(place)) else {}
    return render_template(
        "seat/seat.html", base=place.base, role=place.role, name=name, title=place.plan.title, **more
    )


def _first_kind(place: Place) -> str | None:
    """The kind of the task that the page is likely to open first: its scripts can be fetched with the page's own."""
    here = (place.period["step"] if place.period else None) or (place.seat["here"] if place.seat else None)
    all_tasks = tasks(place.plan)
    found = next((task for task in all_tasks if task.id == here), all_tasks[0] if all_tasks else None)
    return found.kind if found else None


def state(place: Place) -> Response:
    if place.role == "seat":
        server().hub.saw(place.seat_id)
    return polled(server().hub, look_of(place))


def live(place: Place) -> Response:
    return streamed(server().hub, listener_of(place), look_of(place))


def task(place: Place, task_id: str) -> Response:
    part, found = place.task(task_id)
    context = place.context(found)
    shown = kind_of(found).public(found, context)
    saved, standing = None, None
    if place.keeps:
        saved = server().store.read(lambda c: replies.work_of(c, place.seat_id, task_id))
        standing = server().store.read(lambda c: replies.stand_of(c, place.seat_id, task_id))
    return json_answer(
        {
            "task": shown,
            "saved": saved,
            "last": context.history[-1]["verdict"] if context.history else None,
            "replies": standing["replies"] if standing else 0,
            "done": bool(standing and standing["done"]),
            "open": not _handed_in(part, standing),
        }
    )


def _handed_in(part: PlanPart, standing: Standing | None) -> bool:
    """An exit task takes one reply, until the teacher opens it again (A-24, T-09)."""
    return part.purpose == "exit" and standing is not None and not standing["reopened"]


def _pencils_up(place: Place) -> None:
    """With pencils down nothing is taken. It is asked again after a moment, so nothing that was on its way is lost."""
    if place.role == "seat" and place.period is not None and place.period["frozen"]:
        raise Refused(429, "web.frozen", after=3)


def _paced(bucket: Bucket, key: str) -> None:
    if server().limited and not bucket.take(key):
        raise Refused(429, "web.too_many", after=1)


def work(place: Place, task_id: str) -> Response:
    place.task(task_id)
    _paced(server().saves, place.seat_id)
    body = read_body(Work)
    # What a figure is made of, and nothing else that was sent.
    figure = None if body.figure is None else figure_to_json(figure_from_json(body.figure))
    if len(dump(body.work)) > MOST_WORK:
        raise Refused(413, "web.too_much", "work")
    if not place.keeps:
        return json_answer({"n": body.n})
    _paced_alone(place)
    now = server().now()

    def keep(c: Connection) -> int:
        if place.role == "alone":
            _keep_alone(c, place, now)
        return replies.put_work(c, place.seat_id, task_id, body.n, body.work, figure, now)

    kept = server().store.write(keep)
    server().hub.publish(place.period_id, "seats", seat=place.seat_id)
    return json_answer({"n": kept})


def _keep_alone(c: Connection, place: Place, now: int) -> None:
    """Make the seat of somebody who works alone. What strangers may leave here is bounded: a browser by its own share,
    all of them together by dropping what is oldest.
    """
    if place.seat is None:
        seats.add_alone(c, place.seat_id, place.plan.name, now)
        keeping.make_room(c, MOST_ALONE, place.seat_id)
    elif keeping.alone_bytes(c, place.seat_id) > MOST_ONE_ALONE:
        raise Refused(413, "web.too_much", "work")


def _paced_alone(place: Place) -> None:
    if place.role == "alone" and place.seat is None:
        _paced(server().begun_alone, security.address())


def reply(place: Place) -> Response:
    """Judge and keep a reply. It is answered only after it is stored; sent again, it is answered the
    same.
    """
    body = read_body(Sent)
    reply_id, task_id, sent = body.id, body.task, body.reply
    if not REPLY_ID.match(reply_id):
        raise Refused(422, "web.need_id", "id")
    if place.keeps:
        known = server().store.read(lambda c: replies.find(c, place.seat_id, reply_id))
        if known is not None:
            return _stored(known)
    _pencils_up(place)
    _paced(server().replies, place.seat_id)
    part, found = place.task(task_id)
    _paced_alone(place)
    context = place.context(found)
    verdict = kind_of(found).judge(found, sent, context)
    if not place.keeps:
        return json_answer({"stored": False, "verdict": verdict.as_json(), "attempt": 0})
    return _stored(_keep(place, part, reply_id, task_id, context.seed, sent, verdict))


def _keep(
    place: Place, part: PlanPart, reply_id: str, task_id: str, seed: int, sent: Fields, verdict: Verdict
) -> replies.Stored:
    now = server().now()

    def keep(c: Connection) -> replies.Stored:
        replies.hold(c, place.seat_id)
        known = replies.find(c, place.seat_id, reply_id)
        if known is not None:
            return known
        if _handed_in(part, replies.stand_of(c, place.seat_id, task_id)):
            raise Refused(409, "web.handed_in", "task")
        if place.role == "alone":
            _keep_alone(c, place, now)
        return replies.put_reply(c, place.seat_id, reply_id, task_id, seed, sent, verdict.as_json(), now)

    stored = server().store.write(keep)
    if stored.new:
        server().hub.publish(place.period_id, "seats", "seat", "tally", seat=place.seat_id)
    return stored


def _stored(stored: replies.Stored) -> Response:
    return json_answer({"stored": True, "verdict": stored.verdict, "attempt": stored.attempt})


def ask(place: Place, task_id: str, what: str) -> Response:
    part, found = place.task(task_id)
    module = kind_of(found)
    if what not in module.ASKS:
        raise Refused(404, "web.not_found_what", "what")
    _pencils_up(place)
    _paced(server().asks, place.seat_id)
    body = read_json()
    if part.purpose == "exit" and (what.startswith("hint") or what in HELPS):
        raise Refused(409, "web.no_help")
    return json_answer(module.ask(found, what, body, place.context(found)))


def here(place: Place) -> Response:
    task_id = read_body(Here).task
    place.task(task_id)
    if place.role == "seat":
        now = server().now()
        server().store.write(lambda c: seats.change(c, place.seat_id, here=task_id, seen=now))
        server().hub.publish(place.period_id, "seats", seat=place.seat_id)
    return json_answer({"here": task_id})


def link(place: Place) -> Response:
    if place.seat is None or place.role != "seat":
        raise Refused(404, "web.status_404")
    root = request.url_root.rstrip("/")
    return json_answer({"link": f"{root}/seat/return/{return_token(place.seat)}"})


def leave(place: Place) -> Response:
    """End the session here; nothing personal stays in this browser (PD-8, T-12)."""
    if place.role == "seat":
        token = security.cookie(security.SEAT)
        server().store.write(lambda c: people.close_session(c, token))
        server().hub.end_session(place.session)
        server().hub.publish(place.period_id, "seats")
    answer = json_answer({"left": True}) if request.is_json else see_other("/")
    if place.role != "preview":
        security.drop_cookie(answer, security.SEAT if place.role == "seat" else security.ALONE)
        security.drop_cookie(answer, LANGUAGE)
        answer.headers["Clear-Site-Data"] = '"storage"'
    return answer


def seat_pages(name: str, prefix: str, find: Find) -> Blueprint:
    """The Seat's addresses under one prefix; `find` tells whose place it is from the address and the
    cookies.
    """
    pages = Blueprint(name, __name__, url_prefix=prefix)

    def at(rule: str, view: Callable[..., Made], *methods: str) -> None:
        def answer(pack: str | None = None, **args: str) -> Made:
            place = find(pack) if pack is not None else find()
            made = view(place, **args)
            return _with_cookie(made)

        pages.add_url_rule(rule, view.__name__, answer, methods=list(methods))

    at("/", page, "GET")
    at("/state", state, "GET")
    at("/live", live, "GET")
    at("/task/<task_id>", task, "GET")
    at("/work/<task_id>", work, "PUT")
    at("/reply", reply, "POST")
    at("/task/<task_id>/ask/<what>", ask, "POST")
    at("/here", here, "POST")
    at("/return", link, "GET")
    at("/leave", leave, "POST")
    return pages


def _with_cookie(made: Made) -> Made:
    """Whoever works alone is known again by a cookie of this browser, gone when it is closed."""
    if "new_alone" in g:
        answer = made if isinstance(made, Response) else Response(made)
        security.set_cookie(answer, security.ALONE, g.new_alone, age=None)
        return answer
    return made


def _page_gone(error: Refused) -> Response:
    """A Seat page whose session has ended leads back to the front door; its JSON says 401."""
    if error.status == 401 and errors.wants_page():
        return see_other("/")
    return errors.answer(error.status, error.sentence(), error.where, after=error.after)


def register(app: Flask) -> None:
    places: list[tuple[str, str, Find]] = [
        ("seat", "/seat", seat_place),
        ("alone", "/alone/<pack>", alone_place),
        ("preview", "/desk/pack/<pack>/preview", preview_place),
    ]
    for name, prefix, find in places:
        pages = seat_pages(name, prefix, find)
        pages.register_error_handler(Refused, _page_gone)
        app.register_blueprint(pages)
