"""What the Desk sees of a period: the whole small state, the seats with where they are and who is stuck."""

from __future__ import annotations

import json

from flask import request

from app.addresses import lan_address, loopback
from app.classroom import lesson
from app.classroom.names import MOST_SEATS, seat_name
from app.classroom.standing import stuck, tally
from app.store import keeping, people, replies, seats
from app.store.rows import DeskSession, Drawn, Period, Seat, Standing
from app.web.hub import Hub
from app.web.plans import pack_now
from app.web.server import Server, server
from app.web.streams import Look, State
from app.words import render
from app.words import tell as say

MORE_PLACES = 5  # made by one press, where somebody was refused


def door_open(period: Period, now: int) -> bool:
    return bool(period["code"]) and (period["code_ends"] or 0) > now and not period["ended"]


def board_token(of: Server, period: Period) -> str:
    """The Board's view-only link; a new nonce makes the old one void (T-12)."""
    return f"{period['id']}.{of.secret.mac('board', period['id'], period['board_nonce'])}"


def public_root() -> str:
    """The address by which others reach this server: the one in use, or the machine's own in its network.

    A teacher who sits at the server itself looks at "localhost", which is of no use on the wall.
    """
    root = request.url_root.rstrip("/")
    name = request.host.rsplit(":", 1)[0]
    listens = server().settings.listens.split()[0]
    if loopback(name.strip("[]")) and not loopback(listens) and (lan := lan_address()):
        port = request.host.rsplit(":", 1)[1] if ":" in request.host else ""
        return f"{request.scheme}://{lan}" + (f":{port}" if port else "")
    return root


def period_part(of: Server, period: Period, root: str, own: str | None = None) -> State:
    """`root` is the address for others, `own` the one that the teacher's browser uses (for the Board's
    window).
    """
    is_open = door_open(period, of.now())
    code = period["code"] if is_open else None
    return {
        "id": period["id"],
        "title": period["title"],
        "pack": period["pack"],
        "pack_now": pack_now(of, period),
        "house": period["house"],
        "profile": period["profile"],
        "code": code,
        "open": is_open,
        "ended": bool(period["ended"]),
        "places": period["places"],
        "kept_until": kept_until(period),
        "short": root.split("://", 1)[1],
        "link": f"{root}/enter/{code}" if code else root,
        "board": f"{own or root}/board/{board_token(of, period)}",
    }


def kept_until(period: Period) -> int | None:
    """When an ended period's work is erased, in milliseconds."""
    return min(period["ended"] + keeping.AFTER_END, period["made"] + keeping.MOST) if period["ended"] else None


def full_at(of: Server, period: Period, seats: int) -> State | None:
    """{at, more}: somebody found all these places taken, and so many more can be made. None once there is room."""
    if seats < period["places"] or not door_open(period, of.now()) or not of.was_full(period["id"]):
        return None
    return {"at": period["places"], "more": min(MORE_PLACES, MOST_SEATS - period["places"])}


def tally_of(of: Server, period: Period) -> State | None:
    """The tally that the teacher has called, by verdict, without names."""
    called = period["tally"]
    found = lesson.find_task(of.hub.plan(period), called) if called else None
    if found is None:
        return None
    rows = of.store.read(lambda c: replies.last_replies(c, period["id"], found[1].id))
    return tally(found[1], [row["verdict"] for row in rows])


def seat_rows(of: Server, period: Period) -> list[State]:
    """Each seat: {sid, name, alias, kind, pending, hidden, online, here, done, total, stuck, figure,
    last}.
    """
    everybody = of.store.read(lambda c: seats.of_period(c, period["id"]))
    standings = of.store.read(lambda c: replies.class_standings(c, period["id"]))
    figures = of.store.read(lambda c: replies.class_figures(c, period["id"]))
    online = of.hub.online(period["id"])
    plan = lesson.visible(of.hub.plan(period))
    shown = {task.id for task in lesson.tasks(plan)}
    exits = {task.id for part in plan.parts if part.purpose == "exit" for task in part.tasks}
    by_seat: dict[str, dict[str, Standing]] = {}
    for row in standings:
        by_seat.setdefault(row["seat_id"], {})[row["task"]] = row
    work = {(row["seat_id"], row["task"]): row for row in figures}
    newest = {row["seat_id"]: row for row in figures if row["figure"]}
    now = of.now()
    return [
        _seat_row(seat, by_seat.get(seat["id"], {}), work, newest, seat["id"] in online, len(shown), now, exits)
        for seat in everybody
    ]


def _seat_row(
    seat: Seat,
    mine: dict[str, Standing],
    work: dict[tuple[str, str], Drawn],
    newest: dict[str, Drawn],
    online: bool,
    total: int,
    now: int,
    exits: set[str],
) -> State:
    here = seat["here"] or ""
    at_work, drawn = work.get((seat["id"], here)), newest.get(seat["id"])
    figure = (at_work["figure"] if at_work else None) or (drawn["figure"] if drawn else None)
    standing = mine.get(here)
    # An exit task takes one answer: with it handed in, right or wrong, there is nothing to be stuck on.
    closed = here in exits and standing is not None and not standing["reopened"]
    held = stuck(standing, at_work["at"] if at_work else None, now) if online and not closed else None
    last = max(mine.values(), key=lambda row: row["at"], default=None)
    return {
        "sid": seat["id"],
        "name": render(seat_name(seat["name"])),
        "alias": render(seat_name(seat["alias"])),
        "kind": seat["kind"],
        "number": int(seat["name"]) if seat["kind"] == "number" else None,
        "pending": not seat["approved"],
        "hidden": bool(seat["hidden"]),
        "released": bool(seat["released"]),
        "online": online,
        "here": seat["here"],
        "done": sum(1 for row in mine.values() if row["done"]),
        "total": total,
        "stuck": _stuck_word(held),
        "begun": bool(mine) or any(seat_id == seat["id"] for seat_id, _ in work),
        "hand": False,
        "figure": json.loads(figure) if figure else None,
        "last": last and {"task": last["task"], "ok": bool(last["ok"]), "code": last["code"],
                          "text": replies.text_of(last["text"]), "at": last["at"]},
    }  # fmt: skip


def _stuck_word(held: dict[str, int] | None) -> str | None:
    if held is None:
        return None
    return say("web.stuck_tries", n=held["tries"]) if "tries" in held else say("web.stuck_minutes", n=held["minutes"])


def part_rows(of: Server, period: Period) -> list[State]:
    """The period's parts with, for each task, how many replied and how many are done."""
    standings = of.store.read(lambda c: replies.class_standings(c, period["id"]))
    replied: dict[str, int] = {}
    done: dict[str, int] = {}
    for row in standings:
        replied[row["task"]] = replied.get(row["task"], 0) + 1
        done[row["task"]] = done.get(row["task"], 0) + int(row["done"])
    return [
        {
            "id": part.id,
            "title": part.title,
            "minutes": part.minutes,
            "hidden": part.hidden,
            "purpose": part.purpose,
            "tasks": [
                {
                    **task.shown(),
                    "replied": replied.get(task.id, 0),
                    "done": done.get(task.id, 0),
                }
                for task in part.tasks
            ],
        }
        for part in of.hub.plan(period).parts
    ]


def parts_for(of: Server, period: Period, keys: set[str], root: str, own: str) -> State:
    """The outer keys of the Desk's state that these changes touch."""
    parts: State = {}
    if keys & {"period", "plan"}:
        parts["period"] = period_part(of, period, root, own)
    if keys & {"stage"}:
        parts["stage"] = json.loads(period["stage"]) if period["stage"] else None
        parts["to"] = [place for place in period["stage_to"].split(",") if place]
    if "follow" in keys:
        parts["follow"] = bool(period["follow"])
    if "step" in keys:
        parts["step"] = period["step"]
    if "frozen" in keys:
        parts["frozen"] = bool(period["frozen"])
    if keys & {"seats", "seat", "plan"}:
        rows = seat_rows(of, period)
        parts["seats"], parts["full"] = rows, full_at(of, period, len(rows))
        now = of.now()
        parts["left"] = of.store.read(lambda c: seats.left(c, period["id"], now)) if door_open(period, now) else 0
        parts["trouble"] = of.trouble
        parts["guesses"] = of.codes.flood()  # told again at each beat, with the seats
    if keys & {"seat", "plan", "tally"}:
        parts["parts"] = part_rows(of, period)
        parts["tally"] = tally_of(of, period)
    return parts


ALL = {"period", "stage", "follow", "step", "frozen", "seats", "seat", "plan", "tally"}


def desk_look(period_id: str, session: DeskSession) -> Look:
    """How a signed-in teacher sees the period."""
    of, hub, root, own = server(), server().hub, public_root(), request.url_root.rstrip("/")

    def state() -> State | None:
        period = hub.period(period_id)
        return None if period is None else parts_for(of, period, ALL, root, own)

    def parts(keys: set[str]) -> State | None:
        period = hub.period(period_id)
        return None if period is None else parts_for(of, period, keys, root, own)

    def alive() -> bool:
        # The streams of a Desk end with its session; looking at one doesn't keep it open.
        return of.store.read(lambda c: people.has_session(c, session["token_hash"], of.now()))

    def version() -> int:
        return hub.version("desk", period_id)

    return Look(version, state, parts, alive, frozenset({"seats", "seat", "tally"}), 0.4, frozenset({"seats"}))


__all__ = ["Hub", "board_token", "desk_look", "door_open", "public_root", "seat_rows", "tally_of"]
