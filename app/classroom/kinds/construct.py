"""The construct task: compass and straightedge moves, judged by replay; the recipe is the key.

`ask` answers "step" (what is missing, as a hint), "demonstration" (the recipe, where the pack allows it) and
"why" (the two triangles and the chain to the converse, once the construction is right).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from app.classroom.verdict import Context, Part, Verdict
from app.construction.ahead import Window
from app.construction.handon import hand_on, place_of
from app.construction.moves import Program, moves_to_json, read_program
from app.construction.recipes import recipe
from app.construction.report import move_notes, next_step, text_of
from app.construction.start import read_compass, start_to_json
from app.construction.verify import EYEBALLED, Judgement
from app.construction.verify import judge as verify
from app.construction.why import chain, reasons
from app.construction.words import captions, sentences
from app.figure.faults import Fault, shown
from app.lessons.tasks import Construct, Source, task_as
from app.reasoning.api import prove
from app.words import Text, joined, say, theorem

ASKS = frozenset({"step", "demonstration", "why"})

SKILLS = {"copy an angle": "copy-an-angle", "parallel through a point": "construct-a-parallel"}
MISCONCEPTIONS = {
    "by eye": "placed-by-eye",
    "wrong side": "copied-on-the-wrong-side",
    "opening changed": "opening-changed",
    "wrong crossing": "wrong-crossing",
}
# How much of the task an answer shows that is wrong in this way.
SCORES = {
    "by eye": 0.4,
    "wrong side": 0.6,
    "opening changed": 0.5,
    "wrong crossing": 0.6,
    "other answer": 0.8,
    "carried": 0.5,
    "unequal points": 0.5,
}


def public(task: Construct | Source, ctx: Context) -> dict[str, object]:
    """What a Seat may see: the start and what is asked of it; never the recipe."""
    task = task_as(Construct, task)
    return {
        **task.shown(),
        "minutes": task.minutes,
        "optional": task.optional,
        "construction": task.start.task,
        "start": start_to_json(task.start),
        "route": task.route,
        "compass": task.compass,
        "demonstration": task.demonstration,
    }


def judge(task: Construct | Source, reply: Mapping[str, object], ctx: Context) -> Verdict:
    """A reply {moves, result?} → constructed, eyeballed or not there yet, and why. Raises Fault for unusable
    moves.
    """
    task = task_as(Construct, task)
    program, route = read_reply(task, reply), task.route
    found = verify(program, seed=ctx.seed, route=route)
    more = details(program, found)
    if not found.constructed:
        score = SCORES.get(found.reason, 0.5 * found.progress.done / found.progress.of)
        code = found.verdict if found.reason in ("step missing", "cannot be done") else found.reason
        return verdict(task, program, found, False, code, text_of(program, found), score, more)
    # The steps of every way are looked through again: the way asked for may not be the one that was gone.
    by_any = found if route == "any" else verify(program, seed=ctx.seed)
    way = place_of(program, by_any)
    more.update(handed_on(program, by_any, ctx), way=way, why=reasons(program, by_any))
    if route != "any" and way and way != route:
        other = say("construction.other_route", wanted=say(f"construction.route_{route}"))
        return verdict(task, program, found, False, "other route", other, 0.7, more)
    text: Text = text_of(program, found)
    if way and f"place_{way}" in PLACES:
        text = joined("sentences", (text, say(f"construction.place_{way}")))
    return verdict(task, program, found, True, found.verdict, text, 1.0, more)


PLACES = {"place_corresponding", "place_alternate interior", "place_alternate exterior", "place_rhombus"}


def read_reply(task: Construct, reply: object) -> Program:
    if not isinstance(reply, dict):
        raise Fault("construction.reply_wanted", "reply", found=shown(reply))
    # A student may take the harder compass, never the easier one.
    own = read_compass(reply.get("compass"))
    return read_program(task.start, reply.get("moves"), reply.get("result"), task.compass if own == "modern" else own)


def verdict(
    task: Construct,
    program: Program,
    found: Judgement,
    ok: bool,
    code: str,
    text: Text,
    score: float,
    more: dict[str, Any],
) -> Verdict:
    skill = SKILLS.get(program.start.task, "other-constructions")
    notes = move_notes(program, found)
    parts: list[Part] = [
        {"field": f"moves[{i}]", "ok": False, "text": note["note"]} for i, note in enumerate(notes) if not note["ok"]
    ]
    return Verdict(
        ok=ok,
        done=ok,
        code=code,
        text=text,
        parts=parts,
        score=round(score, 2),
        skills={skill: ok},
        misconception=None if ok else MISCONCEPTIONS.get(found.reason),
        figure=more.get("figure"),
        marks=more.get("marks"),
        more=more,
    )


def details(program: Program, found: Judgement) -> dict[str, object]:
    """What the page draws beside the sentence."""
    return {
        "reason": found.reason,
        "result": found.result or None,
        "looks_right": found.verdict == EYEBALLED,
        "off_by": None if found.off_by is None else round(found.off_by, 6),
        "meets": None if found.meets is None else [round(float(c), 6) for c in found.meets],
        "next": "" if found.constructed else next_step(program, found),
        "notes": move_notes(program, found),
        "words": sentences(program),
    }


def handed_on(program: Program, found: Judgement, ctx: Context) -> dict[str, object]:
    """A constructed parallel as a figure with its given, and the chain of reasons from there on."""
    handed = hand_on(program, found)
    if handed is None:
        return {}
    data = handed.as_json()
    goal = "l ∥ m"
    # The parallel is not taken over from the construction: the reasoner has to prove it from the given alone.
    proved = prove({"figure": data["figure"], "given": data["given"], "goal": goal, "profile": ctx.profile})
    rows = [{**row, "name": theorem(row["reason"])} for row in proved["rows"] or []]  # type: ignore[attr-defined]
    return {**data, "goal": goal, "proof": rows, "chain": chain(handed)}


def ask(task: Construct | Source, what: str, body: Mapping[str, object], ctx: Context) -> Mapping[str, object]:
    """ "step": the next step of what is drawn so far; "demonstration": the recipe; "why": why the copy is
    equal.
    """
    task = task_as(Construct, task)
    if what == "demonstration":
        if not task.demonstration:
            raise Fault("construction.no_demonstration", "demonstration")
        return key(replace(task, compass=read_compass(body["compass"])) if body.get("compass") else task, ctx)
    program = read_reply(task, body)
    found = verify(program, seed=ctx.seed, route=task.route)
    if what == "why":
        return {"why": reasons(program, found) if found.constructed else None}
    seen = read_window(body.get("window"))
    return {
        "text": text_of(program, found) if found.constructed else next_step(program, found, seen, ctx.seed),
        "done": found.progress.done,
        "of": found.progress.of,
        "constructed": found.constructed,
        "words": sentences(program),
    }


def read_window(value: object) -> Window | None:
    """What the page shows of its paper, or nothing: a window that can't be read is none."""
    if not isinstance(value, list) or len(value) != 4 or not all(isinstance(one, int | float) for one in value):
        return None
    left, low, right, high = (float(one) for one in value)
    return (left, low, right, high)


def key(task: Construct | Source, ctx: Context) -> dict[str, object]:
    """The recipe for this start: moves, named steps with captions, each move in words; a stage document but
    for `step`.
    """
    task = task_as(Construct, task)
    start, compass = task.start, read_compass(task.compass)
    made = recipe(start, task.route, compass=compass)
    return {
        "construction": start.task,
        "compass": compass,
        "start": start_to_json(start),
        "moves": moves_to_json(made.moves),
        "result": made.result,
        "steps": captions(made),
        "words": sentences(made.program()),
    }
