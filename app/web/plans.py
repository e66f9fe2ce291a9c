"""Packs as plans: what a period works through, in the teacher's order (see `app.classroom.lesson`)."""

from __future__ import annotations

import json
from typing import TYPE_CHECKING, Protocol

from app.classroom.lesson import Plan, PlanPart, arrange, with_own
from app.lessons.tasks import read_task
from app.store import periods
from app.store.rows import Period
from app.store.store import Store
from app.words import tell as say

if TYPE_CHECKING:
    from app.lessons.schema import Pack
    from app.web.shelf import Shelf


class Library(Protocol):
    """Where packs and periods are kept (a server): all that a plan is made from."""

    @property
    def store(self) -> Store: ...

    @property
    def shelf(self) -> Shelf: ...


def plan_of(pack: Pack) -> Plan:
    """A pack as a plan."""
    parts = [
        PlanPart(
            part.id, part.title, part.minutes, part.optional, part.purpose, tuple(task.made for task in part.tasks)
        )
        for part in pack.parts
    ]
    return Plan(pack.name, pack.title, tuple(parts))


def pack_of_period(server: Library, period: Period) -> Pack | None:
    """The pack that a period works through: the copy made when it was opened, so that no edit or renaming in the
    folder takes its plan or its marks away. A period without a copy goes by the folder.
    """
    name, digest, house = period["pack"], period["pack_copy"], period["house"]
    if digest:
        copied = server.shelf.copied(
            name, digest, house, lambda: server.store.read(lambda c: periods.copied(c, digest))
        )
        if copied is not None:
            return copied
    return server.shelf.pack(name, house)


def pack_now(server: Library, period: Period) -> str:
    """How the folder stands to the period's copy: "same", "changed", or "gone" (renamed, taken away, faulty)."""
    now, mine = server.shelf.pack(period["pack"], period["house"]), pack_of_period(server, period)
    if now is None:
        return "gone"
    return "same" if mine is not None and mine.digest == now.digest else "changed"


def plan_of_period(server: Library, period: Period) -> Plan:
    """The plan of a period; an empty one where there is neither copy nor pack."""
    pack = pack_of_period(server, period)
    plan = plan_of(pack) if pack else Plan(period["pack"], period["pack"])
    plan = arrange(plan, json.loads(period["arrangement"] or "{}"))
    own = server.store.read(lambda c: periods.own(c, period["id"]))
    return with_own(plan, [read_task(task) for task in own], say("web.own_part"))
