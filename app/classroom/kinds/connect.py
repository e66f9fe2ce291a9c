"""Connect: a conditional and its relatives, to write, to judge, to break with a counterexample."""

from __future__ import annotations

from collections.abc import Mapping

from app.classroom.kinds.exercise import family_item, hint, item_asked, item_key, item_shown, verdict_of
from app.classroom.verdict import Context, Verdict
from app.lessons.tasks import Connect, Source, task_as
from app.practice.items import Item

__all__ = ["ASKS", "ask", "judge", "key", "own_question", "public"]

ASKS = frozenset({"hint"})


def _item(task: Connect, ctx: Context) -> Item:
    return family_item(task, ctx)


def public(task: Connect | Source, ctx: Context) -> dict[str, object]:
    """The task with its item."""
    task = task_as(Connect, task)
    return {
        **task.shown(),
        "item": item_shown(_item(task, ctx)),
    }


def own_question(task: Connect | Source, verdict: Mapping[str, object], ctx: Context) -> dict[str, object] | None:
    """What a reply of this seat, with this verdict, answered."""
    return item_asked(_item(task_as(Connect, task), ctx))


def judge(task: Connect | Source, reply: Mapping[str, object], ctx: Context) -> Verdict:
    """reply {answer}."""
    task = task_as(Connect, task)
    return verdict_of(_item(task, ctx), reply, ctx)[0]


def ask(task: Connect | Source, what: str, body: Mapping[str, object], ctx: Context) -> Mapping[str, object]:
    """hint {level}."""
    task = task_as(Connect, task)
    return hint(_item(task, ctx), body)


def key(task: Connect | Source, ctx: Context) -> dict[str, object]:
    """The answer with its reasons."""
    task = task_as(Connect, task)
    return item_key(_item(task, ctx))
