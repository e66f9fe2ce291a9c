"""Constructed, eyeballed, or not there yet: and why.

`judge` replays the moves as drawn and with all that is free moved (see trials). What holds every time was
constructed. Where it does not hold, the reason is looked for by mending: if one other opening, one other
crossing, or one mark in place of a point placed by eye would make it right, that was the mistake; nothing is
guessed from nearness alone.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from app.construction import mend
from app.construction.arithmetic import FLOATS, P, precise
from app.construction.goals import copied_length, degrees_off, halving, passes, where_they_meet
from app.construction.moves import Program
from app.construction.plane import Straight
from app.construction.replay import Drawing, replay
from app.construction.steps import Progress, progress
from app.construction.trials import holds
from app.figure.faults import Fault

__all__ = ["CONSTRUCTED", "EYEBALLED", "NOT_YET", "Judgement", "judge"]

CONSTRUCTED, EYEBALLED, NOT_YET = "constructed", "eyeballed", "not there yet"
# Up to here a line "looks right"; beyond it, it doesn't even look so.
LOOKS_RIGHT = 10.0
STRAIGHT = ("line", "ray", "segment")


@dataclass(frozen=True)
class Judgement:
    """`reason` is one of constructed, given, carried, by eye, wrong side, opening changed, wrong crossing, unequal
    points, other answer, off the point, step missing, cannot be done; `notes` are move index → (catalogue key, fields).

    `off_by` is degrees as drawn; `meets` where two lines that should be parallel meet as drawn.
    """

    verdict: str
    reason: str
    result: str
    off_by: float | None
    progress: Progress
    drawing: Drawing
    meets: P | None = None
    notes: dict[int, tuple[str, dict[str, object]]] = field(default_factory=dict)
    fields: dict[str, object] = field(default_factory=dict)

    @property
    def constructed(self) -> bool:
        return self.verdict == CONSTRUCTED


def judge(program: Program, *, seed: int = 1, route: str = "any") -> Judgement:
    """The judgement of a construction; the same for the same seed."""
    drawn = replay(program, precise())
    floats = replay(program, FLOATS, picks=drawn.picks)
    stage = progress(program, floats, route)
    notes = {i: (fault.code, fault.fields) for i, fault in drawn.failed.items()}
    result, right = answer(program, drawn, seed)
    bare = Judgement(NOT_YET, "step missing", result, None, stage, drawn, notes=notes)
    carried = program.carried()
    if carried is not None:
        return noted(with_miss(program, bare), NOT_YET, "carried", carried, *carried_words(program, carried))
    if not result or result not in drawn.values:
        return without_answer(bare, drawn)
    if right and was_given(program, result):
        return replace(bare, reason="given", off_by=0.0, fields={"result": result})
    if right:
        return replace(bare, verdict=CONSTRUCTED, reason=CONSTRUCTED, off_by=0.0)
    return explained(program, with_miss(program, bare), seed)


def with_miss(program: Program, bare: Judgement) -> Judgement:
    """By how much the answer misses as drawn, and where it meets what it should not."""
    if bare.result not in bare.drawing.values:
        return bare
    off = degrees_off(program.start, bare.drawing, bare.result)
    return replace(bare, off_by=off, meets=crossing_of(program, bare.drawing, bare.result))


def carried_words(program: Program, index: int) -> tuple[str, dict[str, object]]:
    """The move that carries its opening: which one it is, the opening, and where it is carried to."""
    move = program.moves[index]
    one, two = move.opening or ("", "")
    return "construction.note_carried", {"n": index + 1, "center": move.center, "one": one, "two": two}


def answer(program: Program, drawn: Drawing, seed: int) -> tuple[str, bool]:
    """The object that answers, and whether it is constructed. Where none is named: the newest that is."""
    if program.result:
        good = program.result in drawn.values and holds(program, program.result, drawn, seed)
        return program.result, good
    straight = [move.name for move in reversed(program.moves) if move.op in STRAIGHT]
    lines = [name for name in straight if name in drawn.values]
    for name in lines:
        if holds(program, name, drawn, seed):
            return name, True
    return (lines[0] if lines else ""), False


def was_given(program: Program, result: str) -> bool:
    """Whether the answer is one of the givens, or a stroke over one: then nothing was made."""
    move = next((one for one in program.moves if one.name == result), None)
    if move is None:
        return True
    ends = {frozenset(named[1:]) for named in program.start.objects.values()}
    return move.op in STRAIGHT and frozenset(move.through or ()) in ends


def without_answer(bare: Judgement, drawn: Drawing) -> Judgement:
    """No line yet, or one that could not be drawn."""
    if bare.result and drawn.failed:
        first = min(drawn.failed)
        return replace(bare, reason="cannot be done", fields=dict(drawn.failed[first].fields))
    return bare


def crossing_of(program: Program, drawn: Drawing, result: str) -> P | None:
    thing = drawn.values[result]
    if program.start.task != "parallel through a point" or not isinstance(thing, Straight):
        return None
    return where_they_meet(program.start, drawn, thing)


def explained(program: Program, bare: Judgement, seed: int) -> Judgement:
    """Why an answer does not hold."""
    drawn, result = bare.drawing, bare.result
    looks = EYEBALLED if looks_right(program, bare) else NOT_YET
    side = mend.wrong_side(program, drawn, result, seed)
    if side is not None:
        return replace(bare, reason="wrong side", fields=side)
    mended = mend.other_opening(program, drawn, result, bare.progress, seed)
    if mended is not None:
        return noted(bare, looks, "opening changed", *mended)
    mended = mend.other_crossing(program, drawn, result, seed)
    if mended is not None:
        return noted(bare, looks, "wrong crossing", *mended)
    mended = mend.mark_not_eye(program, drawn, result, seed)
    if mended is not None:
        return noted(bare, looks, "by eye", *mended)
    better = mend.other_answer(program, drawn, result, bare.progress, seed)
    if better is not None:
        return replace(bare, reason="other answer", fields={"answer": better, "result": result})
    mended = mend.unequal_points(program, drawn, result)
    if mended is not None:
        return noted(bare, looks, "unequal points", *mended)
    free = mend.placed_by_eye(program, drawn, result, seed)
    if free is not None and looks == EYEBALLED:
        return noted(bare, EYEBALLED, "by eye", *free)
    if not goes_through(program, drawn, result):
        return replace(bare, reason="off the point", fields={"result": result})
    return replace(bare, verdict=looks)


def noted(bare: Judgement, verdict: str, reason: str, index: int, code: str, fields: dict[str, object]) -> Judgement:
    return replace(bare, verdict=verdict, reason=reason, fields=fields, notes={**bare.notes, index: (code, fields)})


def looks_right(program: Program, bare: Judgement) -> bool:
    start, drawn = program.start, bare.drawing
    if start.task == "bisect a segment":
        return float(halving(start, drawn, bare.result)) < 0.05
    if start.task == "copy a segment":
        return all(float(miss) < 0.05 for miss in copied_length(start, drawn, bare.result))
    near = float(passes(start, drawn, thing_of(drawn, bare.result))) < 0.05
    return near and bare.off_by is not None and bare.off_by <= LOOKS_RIGHT


def goes_through(program: Program, drawn: Drawing, result: str) -> bool:
    if program.start.task == "bisect a segment":
        return True
    if program.start.task == "copy a segment":
        return program.kind(result) != "segment" or float(copied_length(program.start, drawn, result)[0]) < 1e-9
    return float(passes(program.start, drawn, thing_of(drawn, result))) < 1e-9


def thing_of(drawn: Drawing, result: str) -> Straight:
    thing = drawn.thing(result)
    assert isinstance(thing, Straight)
    return thing


def failure(judgement: Judgement) -> Fault | None:
    """The first move that could not be done."""
    failed = judgement.drawing.failed
    return failed[min(failed)] if failed else None
