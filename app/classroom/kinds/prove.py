"""Prove: a proof in two columns, with as much of it filled in as the pack says; or a figure that shows
that the goal is not forced.

The key is a shortest proof by the table (or the pack's own); any proof whose rows follow is right.
"""

from __future__ import annotations

import random
from collections.abc import Mapping, Sequence
from itertools import combinations
from math import hypot
from typing import Any

from app.classroom.kinds.on_figure import common, student_figure
from app.classroom.kinds.proving import misconception_of, skills_of
from app.classroom.verdict import Context, Part, Verdict
from app.figure.faults import Fault
from app.figure.model import Figure, Meet, figure_to_json
from app.lessons.tasks import Prove, Source, task_as
from app.reasoning.api import rows_in
from app.reasoning.check import OTHER, STEP, WRONG_WAY, Checked, check
from app.reasoning.drawn import failing_as_drawn, holds_as_drawn
from app.reasoning.follows import follows
from app.reasoning.graph import Proof, Row, flow, listed, paragraph
from app.reasoning.hints import LEVELS, hint
from app.reasoning.marks import marks_of
from app.reasoning.prover import prove
from app.reasoning.statements import Statement, read_statement
from app.reasoning.terms import ANGLE, said, show, speak
from app.reasoning.theorems import TABLE
from app.words import Text, in_words, joined, say, short, theorem

__all__ = ["ASKS", "ask", "judge", "key", "public"]

ASKS = frozenset({"row", "check", "hint", "views", "drawn", "read"})

ONE_POINT = 1e-5  # of the figure's size: lines drawn through one point are this near to it

HIDDEN = ("supplementary", "complementary")
MOST_SCORE = 0.8


def public(task: Prove | Source, ctx: Context) -> dict[str, object]:
    """The task with the reasons of the house and the rows that stand already; never a blank's content."""
    task = task_as(Prove, task)
    fig, given, barred = task.figure, task.givens, set(task.bar)
    return {
        **common(task, HIDDEN),
        "given": [show(statement) for statement in given],
        "goal": show(task.goal),
        "support": task.support,
        "judge": task.judge,
        "strict": task.strict,
        "marks": marks_of(fig, given),
        "movable": list(fig.lines),
        "reasons": [
            {"id": row.id, "name": theorem(row.id), "short": short(row.id), "group": row.group, "says": row.sentence()}
            for row in TABLE.values()
            if row.id not in barred
        ],
        "barred": [short(name) for name in TABLE if name in barred],
        "rows": _shown_rows(task, fig, ctx),
    }


def _shown_rows(task: Prove, fig: Figure, ctx: Context) -> list[dict[str, object]]:
    """The rows a Seat starts from: blanks are null, and the order of rows to be put in order says nothing."""
    support = task.support
    if support == "blank":
        return [{"statement": show(s), "reason": "given", "from": []} for s in task.givens]
    rows = _key_rows(task, fig)
    if support == "order":
        mixed = [{"statement": r["statement"], "reason": r["reason"], "from": None} for r in rows]
        dealt = random.Random(ctx.seed)
        for _ in range(8):
            dealt.shuffle(mixed)
            if [r["statement"] for r in mixed] != [r["statement"] for r in rows]:
                break
        return mixed
    if support == "reasons":
        return [{**r, "reason": r["reason"] if r["reason"] == "given" else None} for r in rows]
    if support == "statements":
        return [{**r, "statement": r["statement"] if r["reason"] == "given" else None} for r in rows]
    return rows


def judge(task: Prove | Source, reply: Mapping[str, object], ctx: Context) -> Verdict:
    """A proof, a figure in which the goal fails, or "read" for a worked example."""
    task = task_as(Prove, task)
    fig = task.figure
    if task.support == "worked":
        return _judge_read(reply)
    if reply.get("not_forced") is True:
        return _judge_figure(task, reply, fig)
    if "rows" not in reply:
        raise Fault("prove.reply_wanted", "reply", goal=said(task.goal))
    checked = _checked(task, reply.get("rows"), fig, ctx)
    return _judged(task, checked, fig, ctx)


def _judge_read(reply: Mapping[str, object]) -> Verdict:
    if reply.get("read") is not True and "rows" not in reply:
        raise Fault("prove.read_wanted", "reply")
    return Verdict(ok=True, done=True, code="read", text=say("prove.read"), score=1.0, skills={"read-a-proof": True})


def _judge_figure(task: Prove, reply: Mapping[str, object], fig: Figure) -> Verdict:
    given, goal = task.givens, task.goal
    outcome = follows(fig, given, goal)
    wanted = said(goal)
    if outcome.verdict == "givens conflict":
        return Verdict(False, False, "givens conflict", say("prove.conflict"))
    if outcome.verdict == "follows":
        return Verdict(
            False,
            False,
            "follows",
            say("prove.forced", goal=wanted),
            skills={"is-it-enough": False},
            misconception="enough-taken-for-not",
            marks=marks_of(fig, [goal], "follows"),
        )
    if reply.get("figure") is None:
        return Verdict(
            False,
            False,
            "figure wanted",
            say("prove.figure_wanted", goal=wanted),
            score=0.5,
            skills={"is-it-enough": True},
        )
    moved = student_figure(task, reply, list(fig.lines))
    if not _same_order(fig, moved):
        return _mend("order changed", say("prove.order_changed"))
    spread = _spread_meet(moved)
    if spread is not None:
        *lines, last = spread.lines
        text = say("prove.not_one_point", lines=joined("comma", lines), last=last, meet=spread.name)
        return _mend("not one point", text)
    failing = failing_as_drawn(moved, _over(task, moved, "given"))
    if failing:
        return _mend("given fails", say("prove.given_fails", given=said(given[failing[0]]), goal=wanted))
    if holds_as_drawn(moved, _over(task, moved, "given"), _over(task, moved, "goal")[0]):
        return _mend("goal holds", say("prove.goal_holds", goal=wanted))
    return Verdict(
        ok=True,
        done=True,
        code="not forced",
        text=say("prove.shown", goal=wanted),
        score=1.0,
        skills={"is-it-enough": True},
        figure=figure_to_json(moved),
        marks=marks_of(moved, [goal], "fails"),
    )


def _mend(code: str, text: Text) -> Verdict:
    return Verdict(False, False, code, text, score=0.5, skills={"is-it-enough": True})


def _over(task: Prove, moved: Figure, field: str) -> list[Statement]:
    """The task's statements read again over the student's figure."""
    texts = [task.goal_text] if field == "goal" else task.given
    return [read_statement(text, moved) for text in texts]


def _spread_meet(moved: Figure) -> Meet | None:
    """A meet of three or more lines that go through one point no better than a hand draws: such a figure shows nothing,
    since all is given and drawn in it but for that.
    """
    places = [meet.at for meet in moved.meets.values()]
    size = max((hypot(x - p, y - q) for (x, y), (p, q) in combinations(places, 2)), default=1.0)
    for meet in moved.meets.values():
        if len(meet.lines) > 2 and any(abs(moved.ruled.off(line, meet.at)) > ONE_POINT * size for line in meet.lines):
            return meet
    return None


def _same_order(fig: Figure, moved: Figure) -> bool:
    """Whether the meets keep their order on every line (a line turned past flat runs the other way)."""
    for line in fig.lines:
        now, then = list(moved.order(line)), list(fig.order(line))
        if now not in (then, then[::-1]):
            return False
    return True


def _judged(task: Prove, checked: Checked, fig: Figure, ctx: Context) -> Verdict:
    goal = said(task.goal)
    parts: list[Part] = [
        {"field": f"rows.{i}", "ok": row.verdict == "follows", "text": row.note, "verdict": row.verdict}
        for i, row in enumerate(checked.rows)
    ]
    skills = skills_of(checked, task.support, task.goal.kind)
    more = {"rows": [row.to_json() for row in checked.rows]}
    followed = [row.statement for row in checked.rows if row.verdict == "follows" and row.statement is not None]
    if checked.complete and not checked.sound:
        return _blocked(checked, goal, parts, more, skills, marks_of(fig, followed, "follows"))
    if checked.complete:
        last = checked.rows[(checked.goal_row or 1) - 1]
        text = say("prove.complete_last", goal=goal, reason=theorem(last.reason or "given"))
        if checked.idle:
            text = joined("sentences", (text, say("prove.idle", rows=listed(checked.idle))))
        marks = marks_of(fig, followed, "follows")
        return Verdict(True, True, "follows", text, parts, 1.0, skills, more=more, marks=marks)
    # A row left empty on the way is no mistake.
    wrong = ((n, row) for n, row in enumerate(checked.rows, 1) if row.verdict != "follows" and not row.empty)
    trouble = next(wrong, None)
    if trouble is None:
        beyond = any(row.reason != "given" for row in checked.rows)
        text = say("prove.no_goal", goal=goal) if beyond else say("prove.no_rows")
        return Verdict(False, False, "not there yet", text, parts, _score(task, checked, fig), skills, more=more)
    number, row = trouble
    figure = row.counterexample.figure if row.counterexample is not None else None
    fails = [row.statement] if row.statement is not None else []
    return Verdict(
        False,
        False,
        row.verdict,
        say("prove.row_fails", row=number, note=row.note),
        parts,
        _score(task, checked, fig),
        skills,
        misconception_of(row, row.missing),
        more=more,
        figure=figure_to_json(figure) if figure is not None else None,
        marks=marks_of(fig, fails, "fails") if figure is not None else None,
    )


def _blocked(
    checked: Checked, goal: Text, parts: list[Part], more: Mapping[str, object], skills: dict[str, bool], marks: Any
) -> Verdict:
    """The goal is proved, and yet the page says something false, or something that can't be read, or nothing."""
    number = checked.faulty[0]
    row = checked.rows[number - 1]
    figure = row.counterexample.figure if row.counterexample is not None else None
    key = "blocked_unread" if row.verdict == "unreadable" else "blocked_false"
    return Verdict(
        False,
        False,
        row.verdict,
        say(f"prove.{key}", goal=goal, row=number, note=row.note),
        parts,
        MOST_SCORE,
        skills,
        misconception_of(row, row.missing),
        more=more,
        marks=marks,
        figure=figure_to_json(figure) if figure is not None else None,
    )


def _score(task: Prove, checked: Checked, fig: Figure) -> float:
    """Partial credit: the rows beyond the givens that follow, against the rows that a shortest proof has."""
    good = sum(row.verdict == "follows" and row.reason != "given" for row in checked.rows)
    bad = sum(row.verdict != "follows" and not row.empty for row in checked.rows)
    try:
        wanted = sum(row["reason"] != "given" for row in _key_rows(task, fig))
    except Fault:
        wanted = 0
    return float(round(MOST_SCORE * min(1.0, good / max(1, wanted, good + bad)), 2))


def ask(task: Prove | Source, what: str, body: Mapping[str, object], ctx: Context) -> Mapping[str, object]:
    """row, check: the rows judged as they stand · hint: the next of three levels · views: the same proof as a flow and
    as prose · drawn: what holds in a figure · read: one statement read and written out. None counts as a reply.
    """
    task = task_as(Prove, task)
    fig = task.figure
    if what == "read":
        statement = read_statement(body.get("text"), fig)  # type: ignore[arg-type]
        return {"statement": show(statement), "spoken": speak(statement)}
    if what in ("row", "check"):
        if task.judge == "end":
            raise Fault("prove.end_only", "ask")
        return _checked(task, body.get("rows"), fig, ctx).to_json()
    if what == "hint":
        return _hint(task, body, fig, ctx)
    if what == "drawn":
        return _drawn(task, body, fig)
    return _views(task, body, fig, ctx)


def _drawn(task: Prove, body: Mapping[str, object], fig: Figure) -> dict[str, object]:
    """Which givens hold in the student's figure as drawn, and whether the goal does."""
    moved = student_figure(task, body, list(fig.lines))
    given = _over(task, moved, "given")
    failing = failing_as_drawn(moved, given)
    goal = holds_as_drawn(moved, given, _over(task, moved, "goal")[0])
    return {"given": [i not in failing for i in range(len(given))], "goal": goal}


def _views(task: Prove, body: Mapping[str, object], fig: Figure, ctx: Context) -> dict[str, object]:
    """The readable rows as a flow (boxes and arrows) and as a paragraph; both from the uses that were found."""
    if task.judge == "end":
        raise Fault("prove.end_only", "ask")
    checked = _checked(task, body.get("rows"), fig, ctx)
    kept = [row for row in checked.rows if row.statement is not None and row.reason is not None]
    place = {id(row): n for n, row in enumerate(kept, 1)}
    rows = []
    for row in kept:
        uses = tuple(place[id(checked.rows[n - 1])] for n in row.uses if n and id(checked.rows[n - 1]) in place)
        assert row.statement is not None and row.reason is not None
        rows.append(Row(row.statement, row.reason, uses))
    boxes = flow([(show(r.statement), theorem(r.reason), r.uses) for r in rows])
    for box, row in zip(boxes, kept, strict=True):
        box["verdict"] = row.verdict
    wanting = {n for n, row in enumerate(kept, 1) if row.verdict != "follows"}
    return {"flow": boxes, "paragraph": paragraph(Proof(tuple(rows)), wanting) if rows else ""}


def _hint(task: Prove, body: Mapping[str, object], fig: Figure, ctx: Context) -> dict[str, object]:
    level = body.get("level")
    level = level if isinstance(level, str) and level in LEVELS else LEVELS[0]
    support = task.support
    rows = rows_in(body.get("rows", []))
    if support == "worked":
        return {"level": level, "text": say("prove.hint_worked"), "angles": [], "lines": []}
    checked = _checked(task, rows, fig, ctx)
    trouble = next((n for n, row in enumerate(checked.rows, 1) if row.verdict != "follows"), None)
    if support in ("reasons", "statements", "order") and trouble is not None:
        wanted = _key_rows(task, fig)
        if trouble <= len(wanted):
            return _support_hint(support, level, trouble, wanted, checked, fig, ctx)
    found = hint(
        fig,
        task.givens,
        task.goal,
        rows,
        level,
        bar=task.bar,
        words=ctx.house,
        strict=task.strict,
    )
    return found.to_json()


def _support_hint(
    support: str,
    level: str,
    row: int,
    wanted: Sequence[Mapping[str, Any]],
    checked: Checked,
    fig: Figure,
    ctx: Context,
) -> dict[str, object]:
    """Hints for a proof with blanks: about the blank at hand, from the proof that the blanks were cut from."""
    right = wanted[row - 1]
    statement = read_statement(right["statement"], fig)
    before = [in_words(wanted[n - 1]["statement"]) for n in right["from"]]
    name = theorem(right["reason"])
    if support == "order":
        done = [r.statement.fact for r in checked.rows[: row - 1] if r.statement is not None]
        following = next(
            (r["statement"] for r in wanted if read_statement(r["statement"], fig).fact not in done),
            right["statement"],
        )
        key_, fields = (
            ("hint_order", {"row": row})
            if level != "show"
            else (
                ("hint_order_show", {"row": row - 1, "statement": following})
                if row > 1
                else ("hint_order_first", {"statement": in_words(following)})
            )
        )
    elif level == "show":
        return {
            "level": level,
            "text": say("reasoning.hint_show", statement=in_words(right["statement"]), reason=name, rows=""),
            "angles": _names(statement),
            "lines": list(statement.lines),
            "row": {**right, "row": row},
        }
    elif support == "reasons":
        if level == "principle":
            return {
                "level": level,
                "text": TABLE[right["reason"]].sentence(),
                "angles": _names(statement),
                "lines": list(statement.lines),
            }
        key_ = "hint_reason" if before else "hint_reason_first"
        fields = {"row": row, "before": joined("comma", before), "statement": in_words(right["statement"])}
    else:
        key_ = "hint_statement_from" if right["from"] else "hint_statement"
        fields = {"row": row, "reason": name, "rows": listed(right["from"]) if right["from"] else ""}
        if level == "principle":
            return {"level": level, "text": TABLE[right["reason"]].sentence(), "angles": [], "lines": []}
    return {"level": level, "text": say("prove." + key_, **fields), "angles": [], "lines": []}


def key(task: Prove | Source, ctx: Context) -> dict[str, object]:
    """A shortest proof and others, as rows, as a flow and as a paragraph; or the figure in which the goal fails."""
    task = task_as(Prove, task)
    fig = task.figure
    given, goal = task.givens, task.goal
    outcome = follows(fig, given, goal)
    if outcome.verdict != "follows":
        other = outcome.counterexample
        return {"rows": None, "verdict": outcome.verdict, "counterexample": other.to_json() if other else None}
    rows = _key_rows(task, fig)
    bar = task.bar
    others = prove(fig, given, goal, k=3, bar=bar, strict=task.strict)
    return {
        "rows": [{**row, "name": theorem(row["reason"])} for row in rows],
        "verdict": "follows",
        "others": [proof.to_json() for proof in others],
        "paragraph": paragraph(others[0]) if others else "",
        "flow": flow([(r["statement"], theorem(r["reason"]), r["from"]) for r in rows]),
    }


# The task's own parts.


def _key_rows(task: Prove, fig: Figure) -> list[dict[str, Any]]:
    """The pack's proof, with what each row uses; else a shortest one found. Raises Fault where there is none."""
    given, goal, bar = task.givens, task.goal, task.bar
    if task.proof:
        checked = check(fig, given, goal, task.proof, bar=bar)
        return [
            {"statement": show(row.statement), "reason": row.reason, "from": list(row.uses)}
            for row in checked.rows
            if row.statement is not None and row.reason is not None
        ]
    found = prove(fig, given, goal, bar=bar, strict=task.strict)
    if not found:
        raise Fault("prove.reply_wanted", "task", goal=said(goal))
    return [{"statement": show(row.statement), "reason": row.reason, "from": list(row.uses)} for row in found[0].rows]


def _checked(task: Prove, rows: object, fig: Figure, ctx: Context) -> Checked:
    checked = check(
        fig,
        task.givens,
        task.goal,
        rows_in(rows, "reply.rows"),
        strict=task.strict,
        bar=task.bar,
        words=ctx.house,
    )
    support = task.support
    if support in ("statements", "order"):
        _as_printed(checked, support, ctx)
    return checked


def _as_printed(checked: Checked, support: str, ctx: Context) -> None:
    """Where the reasons are printed, no note may send a student to another reason: what can be changed is the
    statement, or the place of the row.
    """
    for row in checked.rows:
        if row.verdict in (OTHER, WRONG_WAY) and row.reason is not None:
            row.verdict, row.other = STEP, None
            says = TABLE[row.reason].sentence()
            row.note = say(f"prove.printed_{support}", reason=theorem(row.reason), says=says)


def _names(statement: Statement) -> list[str]:
    return [a.removeprefix(ANGLE) for a in statement.angles]
