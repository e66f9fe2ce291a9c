"""What solve, connect and practice share: an item as a Seat may see it, an answer to it as a verdict."""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction

from app.classroom.verdict import Context, Part, Verdict
from app.figure.faults import Fault
from app.figure.model import figure_from_json
from app.figure.words import describe
from app.lessons.tasks import Items
from app.practice.families import LEVELS, item
from app.practice.items import Item
from app.practice.judging import Judged, judge, key_shown
from app.practice.misconceptions import note
from app.practice.working import Row, Working, check_working
from app.words import Message, Text, joined, say

__all__ = [
    "ask_item",
    "family_item",
    "hint",
    "item_asked",
    "item_key",
    "item_shown",
    "line_text",
    "lines_judged",
    "verdict_of",
]

# The slips between two lines that are also known mistakes in an answer.
_SLIPS = {"bracket_first": "first-term-only", "sign": "sign-kept"}
# Words that would tell the answer, by what an item asks (D-4).
_GIVEAWAY = ("corresponding", "alternate", "consecutive")


def family_item(task: Items, ctx: Context) -> Item:
    """The task's item for this seat; a level above the family's highest falls to its highest."""
    name = str(task.family)
    level = min(task.level, LEVELS.get(name, 1))
    return item(name, abs(ctx.seed) % 2**31, max(1, level), ctx.house.key)


def item_shown(made: Item) -> dict[str, object]:
    """The item as a Seat sees it, with its figure in words."""
    shown = made.public()
    if made.figure is not None:
        fig = figure_from_json(dict(made.figure))
        told = describe(fig, made.marks, list(made.given), _GIVEAWAY, not_to_scale=not made.to_scale)
        shown["words"] = told
        shown["not_to_scale"] = not made.to_scale
    return shown


def item_asked(made: Item) -> dict[str, object]:
    """The item as a Seat sees it, without its figure's words for ears: the question beside its answer at the Desk."""
    return {**made.public(), "not_to_scale": not made.to_scale}


def item_key(made: Item) -> dict[str, object]:
    return {"key": key_shown(made), "working": list(made.working)}


def hint(made: Item, body: Mapping[str, object]) -> dict[str, object]:
    """One of the three hints: point, principle, show."""
    level = body.get("level")
    if isinstance(level, bool) or not isinstance(level, int) or not 1 <= level <= 3:
        raise Fault("practice.hint_level", "level")
    return {"text": made.hints[level - 1], "level": level, "of": 3}


def ask_item(made: Item, what: str, body: Mapping[str, object]) -> dict[str, object]:
    """hint {level} · lines {working}: each line judged before anything is handed in."""
    if what == "hint":
        return hint(made, body)
    working = lines_judged(made, body)
    rows = working.rows if working else ()
    return {
        "rows": [{"ok": r.ok, "text": line_text(r)} for r in rows],
        "first_wrong": working.first_wrong if working else None,
    }


def line_text(row: Row) -> Message:
    """The sentence for one line of working."""
    if row.ok is None:
        return say("practice.line_unjudged", text=_line_text(row))
    return _line_text(row)


def _line_text(row: Row) -> Message:
    fields: dict[str, Text] = {name: _shown(value) for name, value in row.fields.items()}
    if fields.get("side") in ("left", "right"):
        fields["side"] = say(f"practice.side_{fields['side']}")
    for name in ("from_side", "to_side"):
        if name in fields:
            fields[name] = say(f"practice.side_{fields[name]}")
    return say(f"practice.{row.code}", **fields)


def _shown(value: object) -> str:
    return str(value).replace("-", "−") if isinstance(value, Fraction) else str(value)


def lines_judged(made: Item, body: Mapping[str, object]) -> Working | None:
    """The lines of working in a reply, judged; None where there are none."""
    lines = body.get("working")
    if lines is None:
        return None
    if not isinstance(lines, list) or not all(isinstance(line, str) for line in lines):
        raise Fault("practice.working_list", "working")
    written = [line for line in lines if not (isinstance(line, str) and not line.strip())]
    if not written or not made.start:
        return None
    return check_working(written, start=made.start, allowed=made.allowed, angles=made.measures)


def verdict_of(made: Item, reply: Mapping[str, object], ctx: Context) -> tuple[Verdict, Judged]:
    """The verdict on an answer with or without working. A line that can't be read is said beside it (`ok` None) and
    stands in the way of nothing.
    """
    if "answer" not in reply:
        raise Fault("practice.answer_missing", "reply.answer", label=made.fields[0].label)
    working = lines_judged(made, reply)
    said = judge(made, reply["answer"], ctx.house)
    parts = [Part(field=p["field"], ok=p["ok"], text=p["text"]) for p in said.parts]
    misconception, code = said.misconception, "right" if said.right else "not yet"
    text: Text = said.note
    score = float(said.score) if not said.right else 1.0
    ok = said.right
    if working is not None:
        parts += [{"field": f"working.{i}", "ok": row.ok, "text": line_text(row)} for i, row in enumerate(working.rows)]
        if working.first_wrong is not None:
            row = working.rows[working.first_wrong]
            ok, code = False, "line of working"
            text = say("practice.line_named", n=working.first_wrong + 1, text=line_text(row))
            if said.right:
                text = say("practice.right_but", text=text)
            known = _SLIPS.get(row.slip or "")
            if misconception is None and known:
                misconception = known
                text = joined("sentences", (text, note(known))) if not said.right else text
            # Half for the answer, half for the lines before the first that doesn't follow.
            sound = sum(row.ok is True for row in working.rows[: working.first_wrong])
            score = score / 2 + sound / len(working.rows) / 2
        elif not said.right and any(row.ok for row in working.rows):
            score = max(score, 0.5)
    verdict = Verdict(
        ok=ok,
        done=ok,
        code=misconception or code,
        text=text,
        parts=parts,
        score=round(score, 3),
        skills={made.skill: ok},
        misconception=misconception,
        more={"working": list(made.working)} if ok else {},
    )
    return verdict, said
