"""A judgement as sentences: which condition held, or what failed and how to mend it."""

from __future__ import annotations

from dataclasses import replace
from math import hypot
from typing import TypedDict

from app.construction.ahead import Window, in_the_way, joined_up
from app.construction.goals import anchor
from app.construction.moves import Program
from app.construction.verify import CONSTRUCTED, Judgement, failure
from app.construction.words import object_words
from app.words import Message, Text, joined, say

__all__ = ["move_notes", "next_step", "text_of"]

DONE = {
    "copy an angle": "copy",
    "copy a segment": "segment",
    "parallel through a point": "parallel",
    "bisect an angle": "bisect",
    "bisect a segment": "halve",
    "perpendicular through a point": "perpendicular",
}


def text_of(program: Program, judgement: Judgement) -> Message:
    """One or two plain sentences for the verdict line."""
    reason = judgement.reason
    fields: dict[str, object] = judgement.fields
    if judgement.verdict == CONSTRUCTED:
        return say(f"construction.done_{DONE[program.start.task]}", **judgement.progress.bound)
    if reason == "given":
        thing = object_words(program, judgement.result)
        return say("construction.was_given", thing=thing, next=next_step(program, judgement))
    if reason == "carried":
        return say("construction.carried", **fields)
    if reason == "by eye":
        return by_eye(program, judgement)
    if reason == "wrong side":
        told = say("construction.wrong_side", transversal=object_words(program, str(fields["transversal"])))
        return joined("sentences", (told, meeting(program, judgement)))
    if reason == "opening changed" and program.compass == "collapsing":
        return say("construction.opened_wrong", **fields, to=through_of(fields))
    if reason == "opening changed":
        if fields["like"]:
            like = object_words(program, str(fields["like"]))
            return say("construction.opening_changed", **{**fields, "like": like})
        return say("construction.span_changed", **fields)
    if reason == "wrong crossing":
        return say("construction.wrong_crossing", point=fields["point"], **two(program, judgement))
    if reason == "unequal points":
        return say(f"construction.unequal_{DONE[program.start.task]}", **fields)
    if reason == "other answer":
        return say("construction.other_answer", **fields)
    if reason == "off the point":
        key = "off_end" if program.start.task == "copy a segment" else "off_point"
        return say(f"construction.{key}", point=anchor(program.start))
    fault = failure(judgement)
    if fault is not None:
        return say("construction.cannot_be_done", why=in_words(program, fault.code, fault.fields))
    if judgement.off_by is not None and judgement.off_by > 0.05:
        return say("construction.missing_off", off=one_place(judgement.off_by), next=next_step(program, judgement))
    return say("construction.missing", next=next_step(program, judgement))


def next_step(program: Program, judgement: Judgement, window: Window | None = None, seed: int = 1) -> Message:
    """What to do next, in the trade's steps; where that can't be done on this drawing, what keeps it from being done.

    `window` is what is seen of the paper, where that is known.
    """
    stage = judgement.progress
    if not stage.missing:
        return all_there(program, judgement)
    wanted = say(f"construction.next_{stage.missing}", **stage.bound)
    obstacle = in_the_way(program, stage, window)
    if obstacle:
        code, fields = obstacle
        told = say(code, **{key: spoken(program, key, value) for key, value in fields.items()})
        return joined("sentences", (wanted, told)) if code == "construction.next_off_paper" else told
    ahead = joined_up(program, stage, seed)
    if ahead is None or ahead[1].reason not in WRONG_AHEAD:
        return wanted
    if ahead[1].reason == "wrong side":
        return say("construction.next_wrong_side")
    return text_of(ahead[0], replace(ahead[1], meets=None))


# What was marked or swung before leads to a wrong answer, whoever draws it.
WRONG_AHEAD = ("wrong side", "wrong crossing", "opening changed")


def spoken(program: Program, key: str, value: str) -> Text:
    return object_words(program, str(value)) if key in ("arc", "one", "two") else value


def all_there(program: Program, judgement: Judgement) -> Message:
    """All steps are there. That is said only where the answer is too; else what is wrong with it."""
    if judgement.constructed or judgement.reason == "given":
        return say("construction.next_nothing")
    return say("construction.next_look_again") if judgement.reason == "step missing" else text_of(program, judgement)


def through_of(fields: dict[str, object]) -> str:
    """The point that an arc should have been opened to."""
    return str(fields["b"] if fields["center"] == fields["a"] else fields["a"])


def two(program: Program, judgement: Judgement) -> dict[str, Text]:
    return {
        "one": object_words(program, str(judgement.fields["a"])),
        "two": object_words(program, str(judgement.fields["b"])),
    }


def by_eye(program: Program, judgement: Judgement) -> Message:
    point = judgement.fields["point"]
    if judgement.off_by is None:
        length = program.start.task == "copy a segment"
        first = say("construction.by_eye_length" if length else "construction.by_eye_point", point=point)
    elif judgement.off_by < 0.005:
        first = say("construction.by_eye_exact", point=point)
    else:
        first = say("construction.by_eye", point=point, off=one_place(judgement.off_by))
    mend = say("construction.by_eye_mark", **two(program, judgement)) if "a" in judgement.fields else None
    return joined("sentences", (first, meeting(program, judgement), mend))


def one_place(degrees: float) -> str:
    """Degrees as read off a good protractor: one decimal, two below a tenth."""
    return f"{degrees:.2f}".rstrip("0").rstrip(".") if degrees < 0.1 else f"{degrees:.1f}".removesuffix(".0")


def meeting(program: Program, judgement: Judgement) -> Message | None:
    """Where two lines that should be parallel would meet, told by the given line's own length."""
    if judgement.meets is None:
        return None
    a, b = program.start.line
    (ax, ay), (bx, by) = (
        (float(x), float(y)) for x, y in (judgement.drawing.point(name) for name in program.start.line)
    )
    x, y = (float(c) for c in judgement.meets)
    long = hypot(bx - ax, by - ay)
    t = ((x - ax) * (bx - ax) + (y - ay) * (by - ay)) / long**2
    end, times = (b, t - 1) if t > 0.5 else (a, -t)
    if times < 0.5:
        return say("construction.lines_meet_near", end=end)
    shown = f"{times:.1f}".removesuffix(".0") if times < 10 else f"{min(times, 1_000_000):,.0f}"
    return say("construction.lines_meet", times=shown, A=a, B=b, end=end)


class MoveNote(TypedDict):
    """What is wrong with a move; an empty note where nothing is."""

    ok: bool
    note: Text


def move_notes(program: Program, judgement: Judgement) -> list[MoveNote]:
    """For each move {"ok", "note"}: the note says what is wrong with it, "" where nothing is."""
    notes: list[MoveNote] = []
    for i in range(len(program.moves)):
        found = judgement.notes.get(i)
        notes.append({"ok": found is None, "note": in_words(program, *found) if found else ""})
    return notes


def in_words(program: Program, code: str, fields: dict[str, object]) -> Message:
    """A sentence about objects, each called what a reader calls it."""
    if code in ("construction.note_opening", "construction.note_span") and program.compass == "collapsing":
        code, fields = "construction.note_opened", {**fields, "to": through_of(fields)}
    named = {
        key: object_words(program, str(value)) if key in ("a", "b", "like", "of") and value else value
        for key, value in fields.items()
    }
    return say(code, **named)
