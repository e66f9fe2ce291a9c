"""Practice: items without end, mixed from families, with support that fades and a standing in words.

A reply answers one item. The task counts as done once `count` items are closed, and goes on for who wants.
"""

from __future__ import annotations

from collections.abc import Mapping

from app.classroom.kinds.exercise import (
    ask_item,
    item_asked,
    item_key,
    item_shown,
    verdict_of,
)
from app.classroom.mastery import TRIES, Place, closed_of, item_of_note, place_of, standings, tries_of
from app.classroom.verdict import Context, Verdict
from app.figure.faults import Fault
from app.lessons.tasks import Practice, Source, task_as
from app.practice.families import title
from app.practice.judging import key_shown
from app.practice.misconceptions import note as mistake
from app.words import joined, say

__all__ = ["ASKS", "ask", "judge", "key", "own_question", "public"]

ASKS = frozenset({"next", "hint", "lines"})


def public(task: Practice | Source, ctx: Context) -> dict[str, object]:
    """The task with the item that the student is at."""
    task = task_as(Practice, task)
    return {
        **task.shown(),
        **_here(task, ctx),
    }


def _here(task: Practice, ctx: Context) -> dict[str, object]:
    place = place_of(task, ctx.seed, ctx.history)
    made = place.item(ctx.house.key)
    example = place.example(ctx.house.key)
    return {
        "n": place.n,
        "count": task.count,
        "tries": tries_of(ctx.history, place.n),
        "family": title(place.family),
        "item": item_shown(made),
        "support": place.support,
        "example": {"item": item_shown(example), "working": list(example.working)} if example else None,
        "first_hint": made.hints[0] if place.support == "hint" else None,
        "back": say("practice.follow_up") if place.follows else None,
        "standing": standings(task, ctx.history),
    }


def own_question(task: Practice | Source, verdict: Mapping[str, object], ctx: Context) -> dict[str, object] | None:
    """What a reply of this seat, with this verdict, answered."""
    note = verdict.get("more")
    made = item_of_note(task_as(Practice, task), ctx.seed, note if isinstance(note, Mapping) else {}, ctx.house.key)
    return None if made is None else item_asked(made)


def judge(task: Practice | Source, reply: Mapping[str, object], ctx: Context) -> Verdict:
    """reply {n, answer, working?}: n says which item is meant; a late answer can't count for another."""
    task = task_as(Practice, task)
    place = place_of(task, ctx.seed, ctx.history)
    if reply.get("n", place.n) != place.n:
        raise Fault("practice.item_closed", "reply.n")
    made = place.item(ctx.house.key)
    verdict, _ = verdict_of(made, reply, ctx)
    closed = verdict.ok or tries_of(ctx.history, place.n) + 1 >= TRIES
    before = closed_of(ctx.history)
    count = task.count
    right = sum(bool(c["right"]) for c in before) + verdict.ok
    note = _note(place, verdict, closed)
    if closed and not verdict.ok:
        note |= {"key": key_shown(made), "working": list(made.working)}
    elif verdict.ok:
        note["working"] = list(made.working)
    total = len(before) + closed
    text = verdict.text
    if closed and not verdict.ok:
        # Nothing more is asked of this one; what went wrong is still told, and how it goes stands on the page.
        why = mistake(verdict.misconception) if verdict.misconception else None
        text = joined("sentences", (say("practice.closed"), why))
    elif not closed:
        text = joined("sentences", (text, say("practice.last_try")))
    return Verdict(
        ok=verdict.ok,
        done=total >= count,
        code=verdict.code,
        text=text,
        parts=verdict.parts,
        score=round(min(1.0, right / max(count, total)), 3),
        skills=verdict.skills,
        misconception=verdict.misconception,
        more=note,
    )


def _note(place: Place, verdict: Verdict, closed: bool) -> dict[str, object]:
    return {
        "n": place.n,
        "family": place.family,
        "level": place.level,
        "closed": closed,
        "right": verdict.ok,
        "misconception": verdict.misconception,
        "follows": place.follows,
    }


def ask(task: Practice | Source, what: str, body: Mapping[str, object], ctx: Context) -> Mapping[str, object]:
    """next · hint {level} · lines {working}."""
    task = task_as(Practice, task)
    if what == "next":
        return _here(task, ctx)
    return ask_item(place_of(task, ctx.seed, ctx.history).item(ctx.house.key), what, body)


def key(task: Practice | Source, ctx: Context) -> dict[str, object]:
    """The key of the item that the student is at."""
    task = task_as(Practice, task)
    return item_key(place_of(task, ctx.seed, ctx.history).item(ctx.house.key))
