"""Exit tickets: everybody's own numbers in equal forms, and no help with one from the program's other pages (F9-03).

A ticket is *open* to a Seat while an exit task of its period has not been handed in, and *begun* once the Seat has
been at one of them. While it is open, the calculators (`/api/…`) don't answer that browser; once it is begun, work
alone waits too. What a class has on its ticket, or its teacher has hidden, isn't to be had alone while that class
meets.
"""

from __future__ import annotations

import json
from dataclasses import dataclass

from app.classroom.lesson import Plan, visible
from app.lessons.tasks import Items, Task
from app.practice.families import LEVELS
from app.practice.forms import in_form
from app.store import people, periods, replies
from app.web import security
from app.web.errors import Refused
from app.web.secret import Secret
from app.web.server import server

__all__ = ["Ticket", "closed_alone", "no_help_with_ticket", "seed_for", "ticket_of_browser", "wait_for_ticket"]

EXIT = "exit"


@dataclass(frozen=True)
class Ticket:
    """What a browser's Seat still has to hand in of its period's exit ticket."""

    period: str
    pack: str
    open: tuple[str, ...]  # ids of exit tasks
    begun: bool


def exit_tasks(plan: Plan) -> tuple[str, ...]:
    return tuple(task.id for part in plan.parts if part.purpose == EXIT for task in part.tasks)


def ticket_of_browser() -> Ticket | None:
    """The ticket of the Seat that this browser has; None without a Seat in a period that still goes on."""
    token, now, of = security.cookie(security.SEAT), server().now(), server()
    seat = of.store.read(lambda c: people.find_seat(c, token, now)) if token else None
    period = of.hub.period(seat["period_id"]) if seat else None
    if seat is None or period is None or period["ended"]:
        return None
    tasks = exit_tasks(visible(of.hub.plan(period)))
    if not tasks:
        return Ticket(period["id"], period["pack"], (), False)
    stands = of.store.read(lambda c: replies.standings(c, seat["id"]))
    left = tuple(task for task in tasks if task not in stands or stands[task]["reopened"])
    begun = bool(left) and (
        seat["here"] in tasks
        or any(task in stands for task in tasks)
        or of.store.read(lambda c: any(replies.work_of(c, seat["id"], task) for task in left))
    )
    return Ticket(period["id"], period["pack"], left, begun)


def _at_the_desk() -> bool:
    """The teacher's own browser, which may hold a Seat as well, to see what students see."""
    token, now = security.cookie(security.DESK), server().now()
    return bool(token) and server().store.read(lambda c: people.find_session(c, "desk", token, now)) is not None


def no_help_with_ticket() -> None:
    """Refuse a calculator to a browser whose ticket is open."""
    if not security.cookie(security.SEAT):
        return
    ticket = ticket_of_browser()
    if ticket is not None and ticket.open and not _at_the_desk():
        raise Refused(409, "web.ticket_open")


def wait_for_ticket() -> None:
    """Refuse work alone to a browser that has begun its ticket."""
    if not security.cookie(security.SEAT):
        return
    ticket = ticket_of_browser()
    if ticket is not None and ticket.begun and not _at_the_desk():
        raise Refused(409, "web.ticket_begun")


def closed_alone(plan: Plan) -> set[str]:
    """Ids of the parts that can't be done alone just now: on the ticket of a class that meets, or hidden from it."""
    of, now = server(), server().now()
    found = of.store.read(lambda c: periods.meeting(c, plan.name, now))
    ticket = ticket_of_browser()
    if ticket is not None and ticket.pack == plan.name and all(row["id"] != ticket.period for row in found):
        mine = of.hub.period(ticket.period)
        found = [*found, mine] if mine else found
    closed: set[str] = set()
    for period in found:
        closed.update(str(part) for part in json.loads(period["arrangement"] or "{}").get("hidden", []))
    if found:
        closed.update(part.id for part in plan.parts if part.purpose == EXIT)
    return closed


def seed_for(secret: Secret, purpose: str, period: str, seat: str, task: Task) -> int:
    """The seed of a Seat's version of a task. On a ticket: own numbers, in the form that the whole period has."""
    own = secret.seed("seed", seat, task.id)
    family = task.family if isinstance(task, Items) else None
    if purpose != EXIT or not family or not period or not isinstance(task, Items):
        return own
    level = max(1, min(task.level, LEVELS[family]))
    return in_form(family, level, secret.seed("form", period, task.id), own)
