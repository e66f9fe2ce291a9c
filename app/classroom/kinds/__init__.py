"""The kinds of task: one module each, found here by name and imported when first needed.

Each module has

    public(task, ctx) -> dict               what a Seat may see: never the key (T-10)
    judge(task, reply, ctx) -> Verdict      raises Fault for a reply that can't be used
    ASKS                                    what may be asked beside: hints, one row judged, a try-out; never a reply
    ask(task, what, body, ctx) -> dict      the answer, where ASKS names anything; what it doesn't name is refused
                                            before, in one place for all kinds (`ask` in app/web/seat.py)
    key(task, ctx) -> dict                  for the teacher and for sheets

`task` is the flat dict of the pack (id, kind, title, ask, figure, given, and the kind's own fields).
"""

from __future__ import annotations

from importlib import import_module
from types import ModuleType

KINDS: dict[str, str] = {
    kind: f"app.classroom.kinds.{kind}"
    for kind in ("explore", "construct", "classify", "justify", "solve", "prove", "connect", "practice")
}


def kind_module(kind: str) -> ModuleType:
    """The module that judges this kind of task; KeyError for a kind that isn't one."""
    return import_module(KINDS[kind])
