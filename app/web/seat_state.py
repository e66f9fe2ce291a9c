"""What a Seat sees of its period: the whole state, and the parts that change while it looks."""

from __future__ import annotations

import json

from app.classroom import lesson
from app.classroom.standing import shown_name
from app.store import people, replies, seats
from app.store.rows import Period
from app.web.hub import Hub, Listener
from app.web.places import Place
from app.web.readers import in_own_words
from app.web.server import Server, server
from app.web.streams import Look, State
from app.words import render


def stage_for(period: Period, place: str) -> object:
    """The stage document as shown on "board" or "seats", or None."""
    if not period["stage"] or place not in period["stage_to"].split(","):
        return None
    return json.loads(period["stage"])


def _period_part(period: Period) -> State:
    return {
        "period": {
            "id": period["id"],
            "title": period["title"],
            "pack": period["pack"],
            "code": period["code"],
        }
    }


def row_parts(period: Period, keys: set[str]) -> State:
    """The parts of a Seat's state that come from the period's row alone."""
    parts: State = {}
    if "stage" in keys:
        parts["stage"] = stage_for(period, "seats")
    if "follow" in keys:
        parts["follow"] = bool(period["follow"])
    if "step" in keys:
        parts["step"] = period["step"]
    if "frozen" in keys:
        parts["frozen"] = bool(period["frozen"])
    if "period" in keys:
        parts |= _period_part(period)
    return parts


def listener_of(place: Place) -> Listener:
    return Listener("seat", place.period_id, place.session, seat=place.seat_id)


def look_of(place: Place) -> Look:
    """How this place sees its period. Holds the server itself: a stream outlives its request."""
    return _class_look(server(), place) if place.role == "seat" else _alone_look(server(), place)


def _class_look(of: Server, place: Place) -> Look:
    hub: Hub = of.hub

    def state() -> State | None:
        period = hub.period(place.period_id)
        seat = of.store.read(lambda c: seats.find(c, place.seat_id))
        if period is None or seat is None or period["ended"]:
            return None
        done = _done(of, place.seat_id)
        plan = lesson.visible(hub.plan(in_own_words(period)))
        return {
            "role": "seat",
            **row_parts(period, {"stage", "follow", "step", "frozen", "period"}),
            "name": render(shown_name(seat, teacher=True)),
            "pending": not seat["approved"],
            "pack": lesson.outline(plan, done),
            "here": seat["here"],
        }

    def parts(keys: set[str]) -> State | None:
        period = hub.period(place.period_id)
        if period is None or keys & {"plan", "seat"}:
            return None
        return row_parts(period, keys)

    def alive() -> bool:
        session = of.store.read(lambda c: people.has_session(c, place.session, of.now()))
        return session and hub.period(place.period_id) is not None

    return Look(lambda: hub.version("seat", place.period_id, place.seat_id), state, parts, alive)


def _alone_look(of: Server, place: Place) -> Look:
    def state() -> State:
        seat = of.store.read(lambda c: seats.find(c, place.seat_id)) if place.keeps else None
        done = _done(of, place.seat_id) if place.keeps else set()
        return {
            "role": place.role,
            "period": None,
            "name": "",
            "pending": False,
            "pack": lesson.outline(place.plan, done),
            "here": seat["here"] if seat else None,
            "follow": False,
            "step": None,
            "frozen": False,
            "stage": None,
        }

    def whole(_keys: set[str]) -> None:
        return None

    return Look(lambda: of.hub.version("seat", place.period_id, place.seat_id), state, whole, lambda: True)


def _done(of: Server, seat_id: str) -> set[str]:
    standings = of.store.read(lambda c: replies.standings(c, seat_id))
    return {task for task, row in standings.items() if row["done"]}
