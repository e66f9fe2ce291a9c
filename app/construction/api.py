"""The calculator's question about constructions, from JSON to JSON (contract: /api/construction/check)."""

from __future__ import annotations

from app.construction.moves import read_program
from app.construction.report import move_notes, next_step, text_of
from app.construction.start import read_start
from app.construction.steps import ROUTES
from app.construction.verify import judge
from app.construction.words import sentences
from app.figure.faults import Fault, shown

__all__ = ["check"]


def check(body: object) -> dict[str, object]:
    """`{task, start, moves, result?, route?, compass?}` → `{verdict, moves: [{ok, note, words}], off_by, reason, text,
    next, meets}`.

    `off_by` is degrees as drawn (null without a line to measure), `meets` the place where two lines that
    should be parallel would meet, as drawn. Raises Fault for a body that can't be used.
    """
    if not isinstance(body, dict):
        raise Fault("construction.body_wanted", "", found=shown(body))
    start = read_start(body.get("task"), body.get("start"))
    program = read_program(start, body.get("moves"), body.get("result"), body.get("compass"))
    judgement = judge(program, route=read_route(body.get("route")))
    words = sentences(program)
    return {
        "verdict": judgement.verdict,
        "reason": judgement.reason,
        "text": text_of(program, judgement),
        "moves": [{**note, "words": words[i]} for i, note in enumerate(move_notes(program, judgement))],
        "off_by": None if judgement.off_by is None else round(judgement.off_by, 9),
        "result": judgement.result or None,
        "meets": None if judgement.meets is None else [round(float(c), 9) for c in judgement.meets],
        "next": next_step(program, judgement) if not judgement.constructed else "",
    }


def read_route(value: object) -> str:
    if value is None:
        return "any"
    if not isinstance(value, str) or value not in ROUTES:
        raise Fault("construction.route_unknown", "route", found=shown(value), known=", ".join(ROUTES))
    return value
