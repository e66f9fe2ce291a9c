"""A kind of task for the tests of the server: one number is right. The real kinds have tests of their
own.
"""

from __future__ import annotations

from typing import Any

from app.classroom.verdict import Context, Verdict
from app.figure.faults import Fault
from app.lessons.tasks import Explore as Task

ASKS = frozenset({"hint"})
SECRET_KEY = "only the teacher may read this 7391"


def public(task: Task, ctx: Context) -> dict[str, Any]:
    return {
        **task.shown(),
        "start": ctx.seed % 100,
    }


def judge(task: Task, reply: dict[str, Any], ctx: Context) -> Verdict:
    answer = reply.get("answer")
    if not isinstance(answer, int) or isinstance(answer, bool):
        raise Fault("web.need_count", "reply.answer")
    ok = answer == task.question.answer
    text = f"Try {len(ctx.history) + 1}: {'that is it' if ok else 'the other one'}."
    return Verdict(ok=ok, done=ok, code="right" if ok else "wrong", text=text, score=float(ok))


def ask(task: Task, what: str, body: dict[str, Any], ctx: Context) -> dict[str, Any]:
    return {"hint": "Look again.", "level": body.get("level")}


def key(task: Task, ctx: Context) -> dict[str, Any]:
    return {"answer": task.question.answer, "note": SECRET_KEY}
