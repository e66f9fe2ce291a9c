"""Explore: move lines of a figure until statements hold as drawn, and say what was seen.

What holds as drawn is decided exactly: directions are whole steps, so equal angles are equal.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations
from typing import TYPE_CHECKING

from app.classroom.kinds.on_figure import common, student_figure
from app.classroom.verdict import Context, Part, Verdict
from app.figure.faults import Fault
from app.figure.model import Figure
from app.figure.numbers import decimal_text
from app.lessons.tasks import Explore, Source, task_as
from app.reasoning.frame import frame_of
from app.reasoning.statements import read_statement
from app.words import Message, Text, joined, say

if TYPE_CHECKING:
    from app.reasoning.terms import Expression, Statement

__all__ = ["ASKS", "judge", "key", "public"]

ASKS: frozenset[str] = frozenset()

TRIES = 2  # after that many wrong answers the reason is shown, and the task counts as done


def public(task: Explore | Source, ctx: Context) -> dict[str, object]:
    """The task; its question without the answer and the reason."""
    task = task_as(Explore, task)
    question = task.question
    return {
        **common(task, ("parallel",)),
        "movable": list(task.movable),
        "measures": task.measures,
        "reach": list(task.reach),
        "question": question and {"ask": question.ask, "choices": list(question.choices)},
    }


def judge(task: Explore | Source, reply: Mapping[str, object], ctx: Context) -> Verdict:
    """Whether each statement to reach holds as drawn, then the answer to the question."""
    task = task_as(Explore, task)
    if task.reach and reply.get("figure") is None:
        raise Fault("angles.figure_wanted", "reply.figure")
    fig = student_figure(task, reply, task.movable)
    tests = [as_drawn(fig, statement) for statement in task.reach]
    parts: list[Part] = [{"field": f"reach.{i}", "ok": test.holds, "text": test.text} for i, test in enumerate(tests)]
    missed = next((test for test in tests if not test.holds), None)
    answered = None if missed is not None else judge_answer(task, reply, ctx)
    if answered is not None:
        parts.append(answered.part)
    seen = [test.text for test in tests] + new_parallels(task, fig)
    ok = missed is None and (answered is None or answered.part["ok"] is True)
    shown_why = answered is not None and answered.why_shown
    text: Text | None = missed.text if missed is not None else None
    if text is None:
        text = answered.part["text"] if answered is not None else joined("sentences", seen) if seen else None
    held = sum(bool(part["ok"]) for part in parts)
    wanted = len(tests) + (task.question is not None)
    return Verdict(
        ok=ok,
        done=ok or shown_why,
        code="not yet" if missed is not None else "seen" if ok else "other answer",
        text=text or say("angles.explore_seen"),
        parts=parts,
        score=round(held / wanted, 2) if wanted else 1.0,
        marks=marks_of(fig),
    )


@dataclass(frozen=True)
class Answered:
    """The part for the question, and whether its reason was shown with it."""

    part: Part
    why_shown: bool = False


def judge_answer(task: Explore, reply: Mapping[str, object], ctx: Context) -> Answered | None:
    """The part for the question: None where the task has none."""
    question = task.question
    if question is None:
        return None
    answer = reply.get("answer")
    choices = question.choices
    if not isinstance(answer, int) or isinstance(answer, bool) or not 0 <= answer < len(choices):
        raise Fault("angles.answer_wanted", "reply.answer")
    if answer == question.answer:
        text = say("angles.explore_answer_right", why=question.why)
        return Answered({"field": "answer", "ok": True, "text": text})
    wrong = 1 + sum(was_wrong(entry) for entry in ctx.history)
    fields = {"choice": choices[answer], "why": question.why}
    if wrong >= TRIES:
        text = say("angles.explore_answer_why", **fields)
        return Answered({"field": "answer", "ok": False, "text": text}, why_shown=True)
    return Answered({"field": "answer", "ok": False, "text": say("angles.explore_answer_wrong", **fields)})


def was_wrong(entry: Mapping[str, object]) -> bool:
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


def new_parallels(task: Explore, fig: Figure) -> list[Message]:
    """The lines that became parallel by moving: noticed, and said to be no more than drawn."""
    before = parallels(task.figure)
    return [say("angles.explore_parallel", l=a, m=b) for a, b in parallels(fig) if (a, b) not in before]


def marks_of(fig: Figure) -> dict[str, object] | None:
    """Arrow marks for lines that are parallel as drawn: plain, since nothing made them follow."""
    pairs = parallels(fig)
    if not pairs:
        return None
    return {"lines": {line: {"arrows": 1, "tone": "plain"} for pair in pairs[:1] for line in pair}}


def key(task: Explore | Source, ctx: Context) -> dict[str, object]:
    """What is to be reached, and the answer with its reason."""
    task = task_as(Explore, task)
    question = task.question
    answer = question and {"choice": question.choices[question.answer], "why": question.why}
    return {"reach": list(task.reach), "answer": answer}
