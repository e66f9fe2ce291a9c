"""Solve: an unknown from what is given, with lines of working; a family's item a seat, or the pack's own."""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from app.classroom.kinds.exercise import (
    ask_item,
    family_item,
    item_key,
    item_shown,
    verdict_of,
)
from app.classroom.verdict import Context, Verdict
from app.practice.items import Item
from app.practice.own import own_item

__all__ = ["ASKS", "ask", "item_of", "judge", "key", "public"]

ASKS = frozenset({"hint", "lines"})


def item_of(task: Mapping[str, Any], ctx: Context) -> Item:
    """The item behind the task. Raises Fault where a pack's own givens don't settle the answer."""
    if task.get("family"):
        return family_item(task, ctx)
    given = [str(s) for s in task.get("given") or []]
    made = own_item(task["figure"], given, str(task.get("want") or "x"), ctx.house, task.get("make"))
    return replace(made, facts={**made.facts, "to_scale": task.get("not_to_scale", True) is False})


def public(task: dict[str, Any], ctx: Context) -> dict[str, Any]:
    """The task with its item; the key, the hints and the seed stay here."""
    return {
        **{name: task[name] for name in ("id", "kind", "title", "ask") if name in task},
        "item": item_shown(item_of(task, ctx)),
    }


def judge(task: dict[str, Any], reply: dict[str, Any], ctx: Context) -> Verdict:
    """reply {answer, working?: [lines]}."""
    return verdict_of(item_of(task, ctx), reply, ctx)[0]


def ask(task: dict[str, Any], what: str, body: dict[str, Any], ctx: Context) -> dict[str, Any]:
    """hint {level} · lines {working}: each line judged before anything is handed in."""
    return ask_item(item_of(task, ctx), what, body)


def key(task: dict[str, Any], ctx: Context) -> dict[str, Any]:
    """The answer with its working."""
    return item_key(item_of(task, ctx))
