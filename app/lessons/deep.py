"""Is what a pack claims true? Asked of the reasoner and of the replay, when an author has a pack checked.

Goals follow, or are really left open; givens can hold together; what is to be reached can be reached and
isn't there yet; a given proof is one; a start has its construction; an own equation has one solution.
"""

from __future__ import annotations

from collections.abc import Sequence
from itertools import combinations
from typing import Any

from app.construction.recipes import recipe
from app.construction.start import read_start
from app.construction.verify import judge
from app.figure.faults import Fault
from app.figure.model import Figure, figure_to_json
from app.figure.pairs import name_pair
from app.practice.own import own_item
from app.reasoning.check import check
from app.reasoning.drawn import failing_as_drawn, holds_as_drawn
from app.reasoning.follows import Outcome, follows
from app.reasoning.frame import frame_of
from app.reasoning.prover import prove
from app.reasoning.statements import Statement, read_statement
from app.words.house import house

from . import kinds
from .faults import PackFault, shown
from .read import Draft
from .sense import Sense
from .shape import Place

__all__ = ["judge_deep"]


def judge_deep(draft: Draft, sense: Sense) -> list[PackFault]:
    """Every claim of the pack that isn't so. Tasks with other faults are left until those are mended."""
    broken = {fault.task for fault in (*draft.faults, *sense.faults)}
    deep = Sense(draft)
    for made in draft.tasks:
        look = _LOOKS.get(made.task.kind)
        if look is not None and not made.bad and made.task.id not in broken:
            try:
                look(deep, made.task, made.place, sense.figures.get(made.task.id))
                _scale(deep, made.task, made.place, sense.figures.get(made.task.id))
            except Fault as fault:
                deep.add(made.place, "unasked", (), problem=fault.message)
    return deep.faults


def _scale(deep: Sense, task: kinds.Common, place: Place, fig: Figure | None) -> None:
    """A drawing that is said to be to scale is one: all that is given of it can be measured in it."""
    if fig is None or not isinstance(task, kinds.Drawn | kinds.Solve):
        return
    if "not_to_scale" not in task.model_fields_set or task.not_to_scale:
        return
    given = [read_statement(text, fig) for text in task.given]
    off = [task.given[at] for at in failing_as_drawn(fig, given)]
    make = task.make if isinstance(task, kinds.Solve) else None
    if make and not off and not holds_as_drawn(fig, given, read_statement(make, fig)):
        off = [make]
    if off:
        deep.add(place, "scale", ("not_to_scale",), text=shown(off[0]))


def _explore(deep: Sense, task: kinds.Explore, place: Place, fig: Figure) -> None:
    loose = [at for at, text in enumerate(task.reach) if not _of_the_drawing(read_statement(text, fig))]
    for at in loose:
        deep.add(place, "reach", ("reach", at), text=shown(task.reach[at]))
    if loose:
        return
    if task.reach and all(holds_as_drawn(fig, [], read_statement(text, fig)) for text in task.reach):
        deep.add(place, "already", ("reach",), text=shown(task.reach[0]))
        return
    frame = frame_of(fig)
    for at, text in enumerate(task.reach):
        statement = frame.read(text)
        kind, *names = statement.fact
        if kind == "equation":
            row = frame.row(statement.fact, {}, len(frame.lines))
            turning = {line for line, k in zip(frame.lines, row, strict=False) if k}
        else:
            turning = {str(name) for name in names} & set(frame.lines)
        impossible = follows(fig, task.given, text).verdict == "cannot be"
        if impossible or not turning & set(task.movable):
            deep.add(place, "stuck", ("reach", at), text=shown(text), movable=", ".join(task.movable))


def _of_the_drawing(statement: Statement) -> bool:
    """Whether turning lines can make it true, and the drawing alone can tell."""
    return not statement.unknowns and statement.kind not in ("vertical", "linear pair", "bisects")


def _classify(deep: Sense, task: kinds.Classify, place: Place, fig: Figure) -> None:
    if task.find is None or task.count is None:
        return
    found = sum(name_pair(fig, a, b).pair == task.find for a, b in combinations(fig.angles, 2))
    if found < task.count:
        deep.add(place, "too-few", ("count",), count=task.count, found_count=found)


def _conflict(deep: Sense, given: Sequence[str], place: Place, fig: Figure) -> bool:
    """Add a fault if the givens can't hold together, and say so."""
    if not given:
        return False
    outcome = follows(fig, given, given[0])
    if outcome.verdict != "givens conflict":
        return False
    texts = [given[at] for at in outcome.conflict]
    deep.add(place, "conflict", ("given",), text="; ".join(texts))
    return True


def _justify(deep: Sense, task: kinds.Justify, place: Place, fig: Figure) -> None:
    if _conflict(deep, task.given, place, fig):
        return
    asked = [tuple(task.lines)] if task.lines else list(combinations(fig.lines, 2))
    answers = {f"{a} ∥ {b}": follows(fig, task.given, f"{a} ∥ {b}") for a, b in asked}
    open_ones = [text for text, outcome in answers.items() if outcome.verdict == "undecided"]
    if open_ones and task.expect == "not enough":
        deep.add(place, "undecided", ("given",), text=open_ones[0])
        return
    # By one theorem: what only coordinates show is no answer to "by which theorem?".
    parallel = [
        text
        for text, outcome in answers.items()
        if outcome.verdict == "follows" and (outcome.by is None or task.expect == "not enough")
    ]
    if task.expect == "parallel" and not parallel:
        what = " ∥ ".join(task.lines) if task.lines else "two lines"
        deep.add(place, "no-parallel", ("given",), what=what)
    if task.expect == "not enough" and parallel:
        deep.add(place, "parallel-follows", ("given",), text=parallel[0])


def _prove(deep: Sense, task: kinds.Prove, place: Place, fig: Figure) -> None:
    if _conflict(deep, task.given, place, fig):
        return
    frame = frame_of(fig)
    if frame.read(task.goal).fact in [frame.read(text).fact for text in task.given]:
        deep.add(place, "goal-given", ("goal",), text=shown(task.goal))
        return
    outcome = follows(fig, task.given, task.goal)
    if not task.possible:
        if outcome.verdict == "follows":
            deep.add(place, "forced", ("goal",), text=shown(task.goal))
        elif outcome.verdict == "undecided":
            deep.add(place, "undecided", ("goal",), text=shown(task.goal))
        elif _shows(fig, outcome):
            deep.add(place, "shown", ("figure",), text=shown(task.goal))
        return
    if outcome.verdict == "not forced":
        found = outcome.counterexample
        where = ", ".join(f"{n} = {v}°" for n, v in found.directions.items()) if found else "–"
        deep.add(place, "not-forced", ("goal",), text=shown(task.goal), figure=where)
    elif outcome.verdict == "cannot be":
        deep.add(place, "cannot-be", ("goal",), text=shown(task.goal))
    elif outcome.verdict == "undecided":
        deep.add(place, "undecided", ("goal",), text=shown(task.goal))
    elif outcome.by is not None:
        deep.add(place, "by-coordinates", ("goal",), text=shown(task.goal))
    elif task.proof is not None:
        _own_proof(deep, task, place, fig)
    else:
        _findable(deep, task, place, fig)


def _shows(fig: Figure, outcome: Outcome) -> bool:
    """Whether the figure as drawn is already the one in which all is given and the goal fails."""
    assert outcome.claim is not None
    return not failing_as_drawn(fig, outcome.given) and not holds_as_drawn(fig, outcome.given, outcome.claim)


def _own_proof(deep: Sense, task: kinds.Prove, place: Place, fig: Figure) -> None:
    rows = [row.model_dump(by_alias=True, exclude_none=True) for row in task.proof or ()]
    checked = check(fig, task.given, task.goal, rows, strict=task.strict, bar=task.bar)
    for at, row in enumerate(checked.rows):
        if row.verdict != "follows":
            deep.add(place, "proof-row", ("proof", at), row=at + 1, problem=f"{row.verdict}. {row.note}")
    if all(row.verdict == "follows" for row in checked.rows) and not checked.complete:
        deep.add(place, "proof-open", ("proof",), text=shown(task.goal))


def _findable(deep: Sense, task: kinds.Prove, place: Place, fig: Figure) -> None:
    if not prove(fig, task.given, task.goal, profile=task.profile or "postulate", bar=task.bar):
        deep.add(place, "no-proof", ("goal",), bar=", ".join(task.bar) or "–")


def _construct(deep: Sense, task: kinds.Construct, place: Place, fig: Figure | None) -> None:
    start = read_start(task.construction, task.start.model_dump(exclude_none=True))
    made = recipe(start, task.route, compass=task.compass)
    if not judge(made.program(), route=task.route).constructed:
        deep.add(place, "start", ("start",), problem=task.construction)


def _solve(deep: Sense, task: kinds.Solve, place: Place, fig: Figure | None) -> None:
    if fig is None or task.want is None or _conflict(deep, task.given, place, fig):
        return
    try:
        own_item(figure_to_json(fig), task.given, task.want, house(), task.make)
    except Fault as fault:
        where = "make" if fault.where == "make" else "want"
        deep.add(place, "not-one", (where,), want=task.want, problem=fault.message)


_LOOKS: dict[str, Any] = {
    "explore": _explore,
    "classify": _classify,
    "justify": _justify,
    "prove": _prove,
    "construct": _construct,
    "solve": _solve,
}
