"""Solve: an unknown from what is given, with lines of working; a family's item a seat, or the pack's own."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from app.classroom.kinds.exercise import (
    ask_item,
    family_item,
    item_asked,
    item_key,
    item_shown,
    verdict_of,
)
from app.classroom.verdict import Context, Verdict
from app.lessons.tasks import Solve, Source, task_as
from app.practice.items import Item
from app.practice.own import own_item

__all__ = ["ASKS", "ask", "item_of", "judge", "key", "own_question", "public"]

ASKS = frozenset({"hint", "lines"})


def item_of(task: Solve | Source, ctx: Context) -> Item:
    """The item behind the task. Raises Fault where a pack's own givens don't settle the answer."""
    task = task_as(Solve, task)
    if task.family:
        return family_item(task, ctx)
    made = own_item(task.drawn, task.given, task.want, ctx.house, task.make)
    return replace(made, facts={**made.facts, "to_scale": not task.not_to_scale})


def public(task: Solve | Source, ctx: Context) -> dict[str, object]:
    """The task with its item; the key, the hints and the seed stay here."""
    task = task_as(Solve, task)
    return {
        **task.shown(),
        "item": item_shown(item_of(task, ctx)),
    }


def own_question(task: Solve | Source, verdict: Mapping[str, object], ctx: Context) -> dict[str, object] | None:
    """What a reply of this seat, with this verdict, answered."""
    task = task_as(Solve, task)
    return item_asked(item_of(task, ctx)) if task.family else None


def judge(task: Solve | Source, reply: Mapping[str, object], ctx: Context) -> Verdict:
    """reply {answer, working?: [lines]}."""
    task = task_as(Solve, task)
    return verdict_of(item_of(task, ctx), reply, ctx)[0]


def ask(task: Solve | Source, what: str, body: Mapping[str, object], ctx: Context) -> Mapping[str, object]:
    """hint {level} · lines {working}: each line judged before anything is handed in."""
    task = task_as(Solve, task)
    return ask_item(item_of(task, ctx), what, body)


def key(task: Solve | Source, ctx: Context) -> dict[str, object]:
    """The answer with its working."""
    task = task_as(Solve, task)
    return item_key(item_of(task, ctx))
