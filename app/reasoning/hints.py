"""Hints from any partial proof, in three steps: where to look, which theorem, the next row.

The rows that stand are taken as they are, and a shortest way on from them is found; so a student on an
unusual path is helped along that path.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass

from app.figure.model import Figure
from app.reasoning.budget import PROOF, Spent, spending
from app.reasoning.check import Checked, check
from app.reasoning.directions import widened
from app.reasoning.follows import follows
from app.reasoning.frame import frame_of
from app.reasoning.graph import Row, listed
from app.reasoning.known import Known
from app.reasoning.notes import statement_of
from app.reasoning.premises import two_angles
from app.reasoning.prover import ordered
from app.reasoning.search import search
from app.reasoning.strict import CONGRUENT, firm, steps_to
from app.reasoning.terms import ANGLE, Fact, Statement, said, show
from app.reasoning.theorems import theorem
from app.words import Message, Text, joined, say
from app.words import theorem as named
from app.words.house import House, house

__all__ = ["LEVELS", "Hint", "hint", "next_row"]

LEVELS = ("point", "principle", "show")


@dataclass(frozen=True)
class Hint:
    """`text` is the hint; `angles` and `lines` (names) are what to look at in the figure; `row` comes with "show"."""

    level: str
    text: Text
    angles: tuple[str, ...] = ()
    lines: tuple[str, ...] = ()
    row: Row | None = None

    def to_json(self) -> dict[str, object]:
        body: dict[str, object] = {
            "level": self.level,
            "text": self.text,
            "angles": list(self.angles),
            "lines": list(self.lines),
        }
        if self.row is not None:
            body["row"] = {
                "statement": show(self.row.statement),
                "reason": self.row.reason,
                "from": list(self.row.uses),
            }
        return body


def hint(
    fig: Figure,
    given: Sequence[Statement | str],
    goal: Statement | str,
    rows: Sequence[dict[str, object]],
    level: str = "point",
    *,
    bar: Collection[str] = (),
    words: House | None = None,
    strict: bool = False,
) -> Hint:
    """The hint of a level for the next row after `rows` (a partial proof, right or wrong)."""
    words = words or house()
    checked = check(fig, given, goal, rows, bar=bar, words=words, strict=strict)
    if checked.complete:
        return Hint(level, say("reasoning.hint_done"))
    trouble = next((i for i, row in enumerate(checked.rows, 1) if row.verdict != "follows"), None)
    row = next_row(fig, given, goal, checked, bar, strict)
    if row is None:
        frame = frame_of(fig)
        wanted = frame.read(goal) if isinstance(goal, str) else goal
        if follows(fig, given, wanted).verdict == "follows":
            return Hint(level, say("reasoning.hint_none", goal=said(wanted)))
        # Three steps here too: what is spoken of, what to ask oneself, and only then that the goal isn't forced.
        angles = tuple(a.removeprefix(ANGLE) for a in wanted.angles)
        text = say(f"reasoning.hint_open_{level}", goal=said(wanted))
        return Hint(level, text, angles, tuple(wanted.lines))
    spoken = [row.statement]
    spoken += [s for n in row.uses if (s := checked.rows[n - 1].statement) is not None]
    angles = tuple(dict.fromkeys(a.removeprefix(ANGLE) for s in spoken for a in s.angles))
    lines = tuple(dict.fromkeys(name for s in spoken for name in s.lines))
    before = say("reasoning.hint_trouble", row=trouble) if trouble is not None and level == "point" else None
    text = joined("sentences", (before, _text(row, level, angles, lines)))
    return Hint(level, text, angles, lines, row if level == "show" else None)


def _text(row: Row, level: str, angles: Sequence[str], lines: Sequence[str]) -> Message:
    if level == "point":
        if row.reason == "given":
            return say("reasoning.hint_given")
        if angles:
            names = [ANGLE + name for name in angles]
            if len(names) == 1:
                return say("reasoning.hint_look_one", what=names[0])
            return say("reasoning.hint_look", all=joined("comma", names[:-1]), last=names[-1])
        return say("reasoning.hint_look_lines", all=joined("comma", lines[:-1]), last=lines[-1])
    if level == "principle":
        return say("reasoning.hint_principle", reason=named(row.reason), says=theorem(row.reason).sentence())
    rows = say("reasoning.hint_from", rows=listed(row.uses)) if row.uses else ""
    return say("reasoning.hint_show", statement=said(row.statement), reason=named(row.reason), rows=rows)


def next_row(
    fig: Figure,
    given: Sequence[Statement | str],
    goal: Statement | str,
    checked: Checked,
    bar: Collection[str] = (),
    strict: bool = False,
) -> Row | None:
    """The first row missing on a shortest way from the rows that stand to the goal, numbered as they are."""
    frame = frame_of(fig)
    statements = [frame.read(one) if isinstance(one, str) else one for one in given]
    wanted = frame.read(goal) if isinstance(goal, str) else goal
    standing = _standing(checked)
    known = [s for n in standing if (s := checked.rows[n - 1].statement) is not None]
    frame = widened(frame, (*statements, wanted, *known))
    said_already = next((n for n in standing if (s := checked.rows[n - 1].statement) and s.fact == wanted.fact), None)
    if said_already is not None:
        # What is to be proved stands, but written otherwise: 3x = 45 for x = 15, ≅ for = in a strict class.
        step = CONGRUENT if strict and two_angles(wanted, 0) else "algebra"
        return Row(firm(wanted), step, (said_already,))
    try:
        with spending(PROOF):
            part = search(frame, statements, wanted, frozenset(bar), known=[s for s in known if s.fact != wanted.fact])
    except Spent:
        return None
    if part is None:
        return None
    number: dict[Fact, int] = {}
    for n in standing:
        statement = checked.rows[n - 1].statement
        if statement is not None:
            number.setdefault(statement.fact, n)
    said = {s.fact: s for s in (wanted, *reversed(statements))}
    for fact in ordered(part, [s.fact for s in statements], wanted.fact):
        if fact not in number:
            reason, premises = part[fact]
            uses = tuple(sorted(number[p] for p in premises if p in number))
            row = Row(said.get(fact) or statement_of(fact), reason, uses)
            if strict:
                rows = ((n, s) for n in standing if (s := checked.rows[n - 1].statement) is not None)
                return steps_to(Known(frame, rows, strict=True), row, standing, [firm(s) for s in statements])[0]
            return row
    return None


def _standing(checked: Checked) -> list[int]:
    """The rows that follow and rest only on rows that follow."""
    standing: list[int] = []
    for number, row in enumerate(checked.rows, 1):
        if row.verdict == "follows" and all(n in standing for n in row.uses):
            standing.append(number)
    return standing
