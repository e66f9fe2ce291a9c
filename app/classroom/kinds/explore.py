"""Explore: move lines of a figure until statements hold as drawn, and say what was seen.

What holds as drawn is decided exactly: directions are whole steps, so equal angles are equal.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations
from typing import TYPE_CHECKING, Any

from app.classroom.kinds.on_figure import common, figure_of, student_figure
from app.classroom.verdict import Context, Verdict
from app.figure.faults import Fault
from app.figure.model import Figure
from app.figure.numbers import decimal_text
from app.reasoning.frame import frame_of
from app.reasoning.statements import read_statement
from app.words import Message, Text, joined, say

if TYPE_CHECKING:
    from app.reasoning.terms import Expression, Statement

__all__ = ["ASKS", "judge", "key", "public"]

ASKS: frozenset[str] = frozenset()

TRIES = 2  # after that many wrong answers the reason is shown, and the task counts as done


def public(task: dict[str, Any], ctx: Context) -> dict[str, Any]:
    """The task; its question without the answer and the reason."""
    question = task.get("question")
    fig = figure_of(task)
    return {
        **common(task, fig, ("parallel",)),
        "movable": list(task.get("movable") or []),
        "measures": task.get("measures") or "toggle",
        "reach": [str(statement) for statement in task.get("reach") or []],
        "question": question and {"ask": question["ask"], "choices": list(question["choices"])},
    }


def judge(task: dict[str, Any], reply: dict[str, Any], ctx: Context) -> Verdict:
    """Whether each statement to reach holds as drawn, then the answer to the question."""
    reach = [str(statement) for statement in task.get("reach") or []]
    if reach and reply.get("figure") is None:
        raise Fault("angles.figure_wanted", "reply.figure")
    fig = student_figure(task, reply, task.get("movable") or ())
    tests = [as_drawn(fig, statement) for statement in reach]
    parts: list[dict[str, Any]] = [
        {"field": f"reach.{i}", "ok": test.holds, "text": test.text} for i, test in enumerate(tests)
    ]
    missed = next((test for test in tests if not test.holds), None)
    answered = None if missed is not None else judge_answer(task, reply, ctx)
    if answered is not None:
        parts.append(answered)
    seen = [test.text for test in tests] + new_parallels(task, fig)
    ok = missed is None and (answered is None or answered["ok"])
    shown_why = answered is not None and answered.get("why_shown", False)
    text: Text | None = missed.text if missed is not None else None
    if text is None:
        text = answered["text"] if answered is not None else joined("sentences", seen) if seen else None
    held = sum(bool(part["ok"]) for part in parts)
    wanted = len(tests) + bool(task.get("question"))
    return Verdict(
        ok=ok,
        done=ok or shown_why,
        code="not yet" if missed is not None else "seen" if ok else "other answer",
        text=text or say("angles.explore_seen"),
        parts=[{key: part[key] for key in ("field", "ok", "text")} for part in parts],
        score=round(held / wanted, 2) if wanted else 1.0,
        marks=marks_of(fig),
    )


def judge_answer(task: Mapping[str, Any], reply: Mapping[str, Any], ctx: Context) -> dict[str, Any] | None:
    """The part for the question: None where the task has none."""
    question = task.get("question")
    if not question:
        return None
    answer = reply.get("answer")
    choices = question["choices"]
    if not isinstance(answer, int) or isinstance(answer, bool) or not 0 <= answer < len(choices):
        raise Fault("angles.answer_wanted", "reply.answer")
    if answer == question["answer"]:
        text = say("angles.explore_answer_right", why=question["why"])
        return {"field": "answer", "ok": True, "text": text}
    wrong = 1 + sum(was_wrong(entry) for entry in ctx.history)
    fields = {"choice": choices[answer], "why": question["why"]}
    if wrong >= TRIES:
        text = say("angles.explore_answer_why", **fields)
        return {"field": "answer", "ok": False, "text": text, "why_shown": True}
    return {"field": "answer", "ok": False, "text": say("angles.explore_answer_wrong", **fields)}


def was_wrong(entry: Mapping[str, Any]) -> bool:
    verdict = entry.get("verdict")
    return isinstance(verdict, Mapping) and verdict.get("code") == "other answer"


@dataclass(frozen=True)
class Drawn:
    """Whether a statement holds in the figure as drawn, and a sentence with the numbers."""

    holds: bool
    text: Message


def as_drawn(fig: Figure, text: str) -> Drawn:
    """The statement tried on the drawing. Raises Fault for one that the figure alone can't decide."""
    statement = read_statement(text, fig)
    if statement.unknowns:
        raise Fault("angles.reach_unknown", "task.reach", statement=text)
    if statement.kind in ("parallel", "perpendicular", "not parallel"):
        return lines_as_drawn(fig, statement, text)
    if statement.kind in ("vertical", "linear pair", "bisects"):
        raise Fault("angles.reach_unknown", "task.reach", statement=text)
    left, right = (value(fig, side) for side in statement.sides)
    if left == right:
        return Drawn(True, say("angles.explore_reached", statement=text))
    fields = {"x": decimal_text(left), "y": decimal_text(right)}
    if not statement.sides[1].terms:
        total = " + ".join(f"m{atom}" for atom, _ in statement.sides[0].terms)
        if all(k == 1 for _, k in statement.sides[0].terms):
            return Drawn(False, say("angles.explore_sum_off", sum=total, **fields))
    one, other = (side.atom() for side in statement.sides)
    if one and other:
        return Drawn(False, say("angles.explore_off", left=f"m{one}", right=f"m{other}", **fields))
    return Drawn(False, say("angles.explore_plain_off", statement=text))


def value(fig: Figure, side: Expression) -> Fraction:
    """What one side of an equation comes to, with the measures as drawn."""
    return sum((k * measure(fig, atom) for atom, k in side.terms), start=side.constant)


def measure(fig: Figure, atom: str) -> Fraction:
    angle = frame_of(fig).angles[atom]
    return fig.measure_between(angle.start, angle.end)


def lines_as_drawn(fig: Figure, statement: Statement, text: str) -> Drawn:
    one, other = (fig.lines[name] for name in statement.names)
    turn = (one.direction - other.direction) % 180
    target = 90 if statement.kind == "perpendicular" else 0
    off = min((turn - target) % 180, (target - turn) % 180)
    if (off == 0) == (statement.kind != "not parallel"):
        return Drawn(True, say("angles.explore_reached", statement=text))
    if statement.kind == "not parallel":
        return Drawn(False, say("angles.explore_plain_off", statement=text))
    key = f"angles.explore_{statement.kind}_off"
    return Drawn(False, say(key, l=one.name, m=other.name, x=decimal_text(off)))


def parallels(fig: Figure) -> list[tuple[str, str]]:
    return [(a, b) for a, b in combinations(fig.lines, 2) if fig.parallel_as_drawn(a, b)]


def new_parallels(task: Mapping[str, Any], fig: Figure) -> list[Message]:
    """The lines that became parallel by moving: noticed, and said to be no more than drawn."""
    before = parallels(figure_of(task))
    return [say("angles.explore_parallel", l=a, m=b) for a, b in parallels(fig) if (a, b) not in before]


def marks_of(fig: Figure) -> dict[str, Any] | None:
    """Arrow marks for lines that are parallel as drawn: plain, since nothing made them follow."""
    pairs = parallels(fig)
    if not pairs:
        return None
    return {"lines": {line: {"arrows": 1, "tone": "plain"} for pair in pairs[:1] for line in pair}}


def key(task: dict[str, Any], ctx: Context) -> dict[str, Any]:
    """What is to be reached, and the answer with its reason."""
    question = task.get("question")
    answer = question and {"choice": question["choices"][question["answer"]], "why": question["why"]}
    return {"reach": list(task.get("reach") or []), "answer": answer}
