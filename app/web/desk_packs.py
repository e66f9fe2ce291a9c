"""The Desk's pages on packs: read, arrange, look at one task with its key.

GET  /desk/pack/<pack>/               desk/pack.html   pack, pieces (text → paragraphs)
POST /desk/pack/<pack>/arrange        {order: [part ids], parts: [{id, hidden}]} → {order, hidden}
GET  /desk/pack/<pack>/task/<task>    {task, key, notes, public}
"""

from __future__ import annotations

from typing import TYPE_CHECKING

from flask import Blueprint, Flask, Response, render_template

from app.classroom import lesson
from app.classroom.verdict import Context
from app.lessons.tasks import Task
from app.lessons.text import pieces
from app.store import periods
from app.store.rows import Period
from app.web.api import json_answer
from app.web.bodies import Arranged
from app.web.body import read_body
from app.web.errors import Refused
from app.web.plans import plan_of
from app.web.seat import kind_of
from app.web.server import server
from app.web.signed_in import need_desk
from app.words.house import house

if TYPE_CHECKING:
    from app.lessons.schema import Pack

packs = Blueprint("desk_packs", __name__, url_prefix="/desk/pack/<name>")


def _pack(name: str) -> Pack:
    found = server().shelf.pack(name)
    if found is None:
        raise Refused(404, "web.not_found_pack")
    return found


@packs.get("/")
def pack(name: str) -> str:
    session = need_desk()
    found = _pack(name)
    arranged = server().store.read(lambda c: periods.arranged(c, session["teacher_id"], name))
    shown = found.model_dump()
    parts = {part["id"]: part for part in shown["parts"]}
    order = lesson.arrange(plan_of(found), arranged).parts
    shown["parts"] = [{**parts[part.id], "hidden": part.hidden} for part in order]
    shown["standards"] = dict(found.standards)
    return render_template("desk/pack.html", pack=shown, pieces=pieces)


@packs.post("/arrange")
def arrange(name: str) -> Response:
    session = need_desk()
    found = _pack(name)
    arranged = read_arrangement(read_body(Arranged), {part.id for part in found.parts})
    server().store.write(lambda c: periods.arrange(c, session["teacher_id"], name, arranged))
    return json_answer(arranged)


def read_arrangement(body: Arranged, known: set[str]) -> dict[str, list[str]]:
    """{"order", "hidden"} from {order: [ids], parts: [{id, hidden}]}; 422 for ids that the pack doesn't
    have.
    """
    if any(part not in known for part in body.order):
        raise Refused(422, "classroom.order_list", "order")
    ids = [part.get("id") for part in body.parts]
    if any(not isinstance(name, str) or name not in known for name in ids):
        raise Refused(422, "classroom.parts_list", "parts")
    hidden = [str(name) for name, part in zip(ids, body.parts, strict=True) if part.get("hidden") is True]
    return {"order": list(dict.fromkeys(body.order)), "hidden": list(dict.fromkeys(hidden))}


def teacher_view(task: Task, notes: str, *, period: Period | None = None) -> dict[str, object]:
    """A task as the teacher sees it: all of it, the key, and what a Seat would be shown."""
    context = Context(
        seed=server().secret.seed("seed", "desk", task.id),
        house=house(period["house"] if period else "us"),
        profile=task.profile or (period["profile"] if period else "postulate"),
    )
    module = kind_of(task)
    return {
        "task": task.source,
        "notes": notes,
        "key": module.key(task, context),
        "public": module.public(task, context),
    }


@packs.get("/task/<task_id>")
def one_task(name: str, task_id: str) -> Response:
    need_desk()
    for part in _pack(name).parts:
        for task in part.tasks:
            if task.id == task_id:
                return json_answer(teacher_view(task.made, task.notes))
    raise Refused(404, "web.not_found_task", "task")


def register(app: Flask) -> None:
    app.register_blueprint(packs)
