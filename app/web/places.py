"""Where a Seat page sits: in a class, alone with a pack, or in the teacher's preview.

All three are the same page and the same JSON under another address; a `Place` tells them apart, so that the
views in `seat.py` need not.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

from flask import g

from app.classroom.lesson import Plan, PlanPart, arrange, find_task, visible
from app.classroom.verdict import Context
from app.lessons.tasks import Task
from app.store import people, periods, replies, seats
from app.store.ids import hashed, new_token
from app.store.rows import Period, Seat
from app.web import security
from app.web.errors import Refused
from app.web.plans import plan_of
from app.web.readers import in_own_words, read_in
from app.web.server import server
from app.web.signed_in import need_desk
from app.web.tickets import closed_alone, seed_for, wait_for_ticket
from app.words import reader


@dataclass(frozen=True)
class Place:
    """`role`: seat, alone or preview. `keeps`: work and replies are stored (not in a preview).

    `period_id` is what live notices are published under; alone it is the seat's own id.
    """

    role: str
    base: str
    seat_id: str
    plan: Plan
    period: Period | None
    seat: Seat | None
    session: str
    keeps: bool = True

    @property
    def period_id(self) -> str:
        return str(self.period["id"]) if self.period else self.seat_id

    def task(self, task_id: str) -> tuple[PlanPart, Task]:
        """(part, task); 404 for one that this place doesn't show."""
        found = find_task(self.plan, task_id)
        if found is None:
            raise Refused(404, "web.not_found_task", "task")
        return found

    def _purpose(self, task: Task) -> str:
        found = find_task(self.plan, task.id)
        return found[0].purpose if found else ""

    def context(self, task: Task) -> Context:
        """What the judge may know: this seat's seed, the period's words, the earlier replies."""
        period = self.period
        history = server().store.read(lambda c: replies.history(c, self.seat_id, task.id)) if self.keeps else []
        return Context(
            seed=seed_for(server().secret, self._purpose(task), period["id"] if period else "", self.seat_id, task),
            house=reader().names,
            profile=task.profile or (period["profile"] if period else "postulate"),
            history=history,
        )


def seat_place() -> Place:
    """The seat of this browser's session; 401 when there is none (any more)."""
    token = security.cookie(security.SEAT)
    now = server().now()

    seat = server().store.read(lambda c: people.find_seat(c, token, now)) if token else None
    period = server().hub.period(seat["period_id"]) if seat else None
    if token and seat is None and not server().store.read(lambda c: people.has_seat(c, token, now)):
        g.void_seat = True  # put out, released to another device, or of yesterday: the browser forgets it (security.py)
    if seat is None or period is None or period["ended"]:
        raise Refused(401, "web.status_401")
    read_in(period)
    plan = visible(server().hub.plan(in_own_words(period)))
    return Place("seat", "/seat", seat["id"], plan, period, seat, seat["session_hash"])


def alone_place(pack: str) -> Place:
    """Somebody who works alone: known by a random cookie; a row is made when there is something to keep."""
    found = server().shelf.pack(pack)
    if found is None:
        raise Refused(404, "web.not_found_pack")
    wait_for_ticket()
    token = security.cookie(security.ALONE)
    if len(token) < 32:
        token = new_token()
        g.new_alone = token
    seat_id = hashed(f"alone {pack} {token}")[:24]
    seat = server().store.read(lambda c: seats.find(c, seat_id))
    plan = plan_of(found)
    closed = closed_alone(plan)
    plan = replace(plan, parts=tuple(part for part in plan.parts if part.id not in closed))
    return Place("alone", f"/alone/{pack}", seat_id, plan, None, seat, seat_id)


def preview_place(pack: str) -> Place:
    """The teacher tries a pack as a student: judged like a student's, kept nowhere."""
    session = need_desk()
    found = server().shelf.pack(pack)
    if found is None:
        raise Refused(404, "web.not_found_pack")
    seat_id = hashed(f"preview {session['teacher_id']} {pack}")[:24]
    base = f"/desk/pack/{pack}/preview"
    # As the next period will have it: the teacher's order, without the parts that are left out.
    arranged = server().store.read(lambda c: periods.arranged(c, session["teacher_id"], pack))
    plan = visible(arrange(plan_of(found), arranged))
    return Place("preview", base, seat_id, plan, None, None, session["token_hash"], keeps=False)
