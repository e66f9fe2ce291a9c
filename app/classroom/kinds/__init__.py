"""The kinds of task: one module each, found here by name and imported when first needed.

Each module has

    public(task, ctx) -> dict               what a Seat may see: never the key (T-10)
    judge(task, reply, ctx) -> Verdict      raises Fault for a reply that can't be used
    ASKS                                    what may be asked beside: hints, one row judged, a try-out; never a reply
    ask(task, what, body, ctx) -> dict      the answer, where ASKS names anything; what it doesn't name is refused
                                            before, in one place for all kinds (`ask` in app/web/seat.py)
    key(task, ctx) -> dict                  for the teacher and for sheets
    own_question(task, verdict, ctx)        only where each seat has a question of its own: the one that a reply
                                            with this verdict answered, or None

`task` is one of the classes of `app/lessons/tasks.py`, or still the data of one.
"""

from __future__ import annotations

from collections.abc import Mapping
from importlib import import_module
from typing import Protocol, cast

from app.classroom.verdict import Context, Verdict
from app.lessons.tasks import Source, Task

KINDS: dict[str, str] = {
    kind: f"app.classroom.kinds.{kind}"
    for kind in ("explore", "construct", "classify", "justify", "solve", "prove", "connect", "practice")
}


class Kind(Protocol):
    """What the module of a kind has."""

    ASKS: frozenset[str]

    def public(self, task: Task | Source, ctx: Context) -> dict[str, object]: ...
    def judge(self, task: Task | Source, reply: Mapping[str, object], ctx: Context) -> Verdict: ...
    def ask(self, task: Task | Source, what: str, body: Mapping[str, object], ctx: Context) -> Mapping[str, object]: ...
    def key(self, task: Task | Source, ctx: Context) -> dict[str, object]: ...


def own_question(task: Task, verdict: Mapping[str, object], ctx: Context) -> dict[str, object] | None:
    """The question that a reply answered, where each seat has its own; None where everybody is asked the same."""
    of_kind = getattr(import_module(KINDS[task.kind]), "own_question", None)
    return None if of_kind is None else cast("dict[str, object] | None", of_kind(task, verdict, ctx))


def kind_module(kind: str) -> Kind:
    """The module that judges this kind of task; KeyError for a kind that isn't one."""
    return cast(Kind, import_module(KINDS[kind]))
