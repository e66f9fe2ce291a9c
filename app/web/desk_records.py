"""Records: how a class stands, task by task; one student's own record; everything as a table file.

GET /desk/records/                        desk/records.html   periods
GET /desk/records/<period>/               desk/records.html   period, tasks, rows
GET /desk/records/<period>.csv            one row a seat, one column a task
GET /desk/period/<id>/seat/<sid>/record   desk/student.html, or JSON: {seat, tasks, replies}
"""

from __future__ import annotations

import csv
import io
from typing import Any

from flask import Blueprint, Flask, Response, render_template, request

from app.classroom import lesson
from app.classroom.kinds import kind_module
from app.classroom.names import seat_name
from app.classroom.records import by_misconception, by_skill
from app.figure.faults import Fault
from app.lessons.vocabulary import SKILLS
from app.practice.reteach import groups
from app.store import periods, replies, seats
from app.store.rows import Period, Replied, Seat
from app.web.api import json_answer
from app.web.desk import iso
from app.web.errors import Refused, wants_page
from app.web.places import Place
from app.web.server import server
from app.web.signed_in import need_desk
from app.words import joined, render
from app.words import tell as say

records = Blueprint("desk_records", __name__, url_prefix="/desk")

Row = dict[str, Any]


def safe_cell(text: str) -> str:
    """A cell that no spreadsheet takes for a formula (V-16)."""
    return f"'{text}" if text[:1] in ("=", "+", "-", "@", "\t", "\r") else text


def _mine(period_id: str) -> Period:
    session = need_desk()
    period = server().hub.period(period_id)
    if period is None or period["teacher_id"] != session["teacher_id"]:
        raise Refused(404, "web.not_found_period")
    return period


def _table(period: Period) -> tuple[list[Row], list[Row]]:
    """(tasks, rows): each row a seat with its standing on every task."""
    tasks = [
        {"id": task.id, "title": task.title, "kind": task.kind, "exit": part.purpose == "exit"}
        for part in server().hub.plan(period).parts
        for task in part.tasks
    ]
    everybody = server().store.read(lambda c: seats.of_period(c, period["id"], removed=True))
    cells: dict[str, dict[str, Row]] = {}
    for row in server().store.read(lambda c: replies.class_standings(c, period["id"], removed=True)):
        cells.setdefault(row["seat_id"], {})[row["task"]] = {
            "ok": bool(row["ok"]),
            "done": bool(row["done"]),
            "code": row["code"],
            "score": row["score"],
            "replies": row["replies"],
            "status": row["status"],
            "reopened": bool(row["reopened"]),
            "at": iso(row["at"]),
        }
    rows = [
        {"sid": seat["id"], "name": render(seat_name(seat["name"])), "tasks": cells.get(seat["id"], {})}
        for seat in everybody
    ]
    return tasks, rows


@records.get("/records")
def all_records() -> str:
    session = need_desk()
    mine = server().store.read(lambda c: periods.of_teacher(c, session["teacher_id"]))
    shown = [{"id": row["id"], "title": row["title"], "seats": row["seats"], "made": iso(row["made"])} for row in mine]
    return render_template("desk/records.html", periods=shown, period=None, tasks=[], rows=[])


@records.get("/records/<period_id>")
def one_period(period_id: str) -> str:
    # Only here: they bring the exercises with them, and the first page of a lesson shouldn't wait for those.
    period = _mine(period_id)
    tasks, rows = _table(period)
    shown = {"id": period["id"], "title": period["title"], "pack": period["pack"]}
    names = {row["sid"]: row["name"] for row in rows}
    handed_in = server().store.read(lambda c: replies.verdicts(c, period_id))
    skills = by_skill([verdict for _, verdict in handed_in], SKILLS)
    slips = by_misconception([(names[sid], verdict) for sid, verdict in handed_in if sid in names])
    mistakes: dict[str, list[str]] = {}
    for sid, verdict in handed_in:
        if sid in names and (slip := verdict.get("misconception")):
            mistakes.setdefault(names[sid], []).append(str(slip))
    return render_template(
        "desk/records.html",
        periods=[],
        period=shown,
        tasks=tasks,
        rows=rows,
        skills=skills,
        misconceptions=slips,
        groups=groups(mistakes),
    )


@records.get("/records/<period_id>.csv")
def as_csv(period_id: str) -> Response:
    """UTF-8 with a byte-order mark (spreadsheets ask for it) and CRLF; scores from 0 to 1."""
    period = _mine(period_id)
    tasks, rows = _table(period)
    out = io.StringIO()
    table = csv.writer(out, lineterminator="\r\n")
    table.writerow([say("desk.csv_seat"), say("desk.csv_name"), *(safe_cell(task["title"]) for task in tasks)])
    for row in rows:
        cells = [row["tasks"].get(task["id"]) for task in tasks]
        table.writerow([row["sid"], safe_cell(row["name"]), *("" if c is None else f"{c['score']:g}" for c in cells)])
    answer = Response("\ufeff" + out.getvalue(), mimetype="text/csv")
    answer.headers["Content-Disposition"] = f'attachment; filename="period-{period["id"]}.csv"'
    return answer


@records.get("/period/<period_id>/seat/<sid>/record")
def one_seat(period_id: str, sid: str) -> str | Response:
    period = _mine(period_id)
    seat = server().store.read(lambda c: seats.find(c, sid))
    if seat is None or seat["period_id"] != period_id:
        raise Refused(404, "web.not_found_seat", "seat")
    tasks, rows = _table(period)
    mine = next(row for row in rows if row["sid"] == sid)
    handed_in = server().store.read(lambda c: replies.all_of_seat(c, sid))
    record = {
        "seat": {"sid": sid, "name": render(seat_name(seat["name"])), "made": iso(seat["made"])},
        "period": {"id": period["id"], "title": period["title"]},
        "tasks": [{**task, "standing": mine["tasks"].get(task["id"])} for task in tasks],
        "replies": [
            {
                "task": r["task"],
                "attempt": r["attempt"],
                "at": iso(r["at"]),
                "verdict": r["verdict"],
                "reply": r["payload"],
            }
            for r in handed_in
        ],
    }
    if wants_page() and request.args.get("as") != "json":
        return render_template("desk/student.html", **record, asked=_asked(period, seat, handed_in))
    return json_answer(record)


def _asked(period: Period, seat: Seat, handed_in: list[Replied]) -> dict[str, Row]:
    """Task → what this seat was asked, with its own numbers, for the tasks that it has answered.

    {kind, words: the question's sentences, task: what the answer's ids are named by}. The items of a practice
    set are told by their verdicts alone: each has been another one.
    """
    plan = server().hub.plan(period)
    place = Place("seat", "/seat", seat["id"], plan, period, seat, "")
    found: dict[str, Row] = {}
    for task_id in {row["task"] for row in handed_in}:
        part_and_task = lesson.find_task(plan, task_id)
        if part_and_task is None:
            continue
        task = part_and_task[1]
        try:
            shown = kind_module(task.kind).public(task, place.context(task))
        except Fault:
            continue  # the pack has been changed since, and this task can't be asked any more
        item = shown.get("item") if task.kind != "practice" else None
        item = item if isinstance(item, dict) else {}
        said = [item.get("prompt"), item.get("ask")] if item else [str(shown.get("ask") or task.ask)]
        kept = {name: shown[name] for name in ("choices", "question", "reasons") if name in shown}
        found[task_id] = {
            "kind": task.kind,
            "words": joined("sentences", said),
            "task": {**kept, "item": {"fields": item.get("fields", [])}},
        }
    return found


def register(app: Flask) -> None:
    app.register_blueprint(records)
