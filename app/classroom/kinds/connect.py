"""Connect: a conditional and its relatives, to write, to judge, to break with a counterexample."""

from __future__ import annotations

from typing import Any

from app.classroom.kinds.exercise import family_item, hint, item_key, item_shown, verdict_of
from app.classroom.verdict import Context, Verdict
from app.practice.items import Item

__all__ = ["ASKS", "ask", "judge", "key", "public"]

ASKS = frozenset({"hint"})


def _item(task: dict[str, Any], ctx: Context) -> Item:
    return family_item(task, ctx, task.get("family") or "connect")


def public(task: dict[str, Any], ctx: Context) -> dict[str, Any]:
    """The task with its item."""
    return {
        **{name: task[name] for name in ("id", "kind", "title", "ask") if name in task},
        "item": item_shown(_item(task, ctx)),
    }


def judge(task: dict[str, Any], reply: dict[str, Any], ctx: Context) -> Verdict:
    """reply {answer}."""
    return verdict_of(_item(task, ctx), reply, ctx)[0]


def ask(task: dict[str, Any], what: str, body: dict[str, Any], ctx: Context) -> dict[str, Any]:
    """hint {level}."""
    return hint(_item(task, ctx), body)


def key(task: dict[str, Any], ctx: Context) -> dict[str, Any]:
    """The answer with its reasons."""
    return item_key(_item(task, ctx))
