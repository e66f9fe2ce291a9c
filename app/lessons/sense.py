"""Does a pack make sense? Its figures can be drawn, its names are in them, its statements can be read.

Nothing here needs a proof or a replay: that is asked in `deep.py`, when an author has the pack checked.
"""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

from app.construction.start import read_start
from app.figure.faults import Fault
from app.figure.model import Figure, figure_from_json, figure_to_json
from app.reasoning.statements import read_statement
from app.words.house import house

from . import kinds
from .faults import PackFault, near, shown
from .read import Draft
from .shape import Path, Place
from .vocabulary import PAIRS, THEOREMS, families

__all__ = ["Sense", "judge_sense", "mended"]

Bad = frozenset[str]

NEEDS = {
    "copy an angle": ("angle", "ray"),
    "copy a segment": ("segment", "point"),
    "parallel through a point": ("line", "point"),
    "bisect an angle": ("angle",),
    "bisect a segment": ("segment",),
    "perpendicular through a point": ("line", "point"),
}


class Sense:
    """One look through a draft. `figures` keeps each task's figure, read once, for those who come after."""

    def __init__(self, draft: Draft) -> None:
        self.draft = draft
        self.faults: list[PackFault] = []
        self.figures: dict[str, Figure] = {}
        self.statements: dict[str, list[object]] = {}
        self._named: dict[str, Figure | None] = {}

    def judge(self) -> None:
        for name, table in self.draft.figures.items():
            self._named[name] = self._read(table, self.draft.place, ("figures", name))
        for made in self.draft.tasks:
            fig = self._figure(getattr(made.task, "figure", None), made.place)
            if fig is not None:
                self.figures[made.task.id] = fig
            _LOOKS[made.task.kind](self, made.task, made.place, fig, made.bad)

    def add(self, place: Place, code: str, where: Path, *, near: tuple[str, ...] = (), **fields: object) -> None:
        self.faults.append(place.fault(code, where, near=near, **fields))

    def one_of(self, place: Place, code: str, where: Path, value: str, allowed: Iterable[str]) -> bool:
        """Is the value among those allowed? If not, that is a fault, with its near matches."""
        names = list(allowed)
        if value in names:
            return True
        self.add(place, code, where, near=near(value, names), value=shown(value), allowed=", ".join(names))
        return False

    def readable(self, place: Place, texts: Iterable[tuple[Path, str]], fig: Figure | None) -> None:
        """Each text is a statement about the figure."""
        if fig is None:
            return
        for where, text in texts:
            try:
                read_statement(text, fig)
            except Fault as fault:
                self.add(place, "statement", where, text=shown(text), problem=fault.message)

    def _figure(self, figure: object, place: Place) -> Figure | None:
        if figure is None:
            return None
        if isinstance(figure, str):
            if figure in self._named:
                return self._named[figure]
            self.add(place, "no-figure", ("figure",), near=near(figure, self._named), value=shown(figure))
            return None
        if isinstance(figure, dict):
            return self._read(figure, place, ("figure",))
        self.add(place, "no-figure", ("figure",), value=shown(figure))
        return None

    def _read(self, table: dict[str, object], place: Place, where: Path) -> Figure | None:
        try:
            return figure_from_json(table, "figure")
        except Fault as fault:
            self.add(place, "figure", (*where, *path_of(fault)[1:]), problem=fault.message)
            return None


def path_of(fault: Fault) -> Path:
    """The keys of a fault's dotted place; past a line's or angle's name, a number counts a list's members."""
    keys = fault.where.split(".")
    return tuple(int(key) if key.isdigit() and at > 2 else key for at, key in enumerate(keys))


def judge_sense(draft: Draft) -> Sense:
    """All that doesn't fit together in a draft, and its figures."""
    sense = Sense(draft)
    sense.judge()
    return sense


def mended(fig: Figure) -> dict[str, object]:
    """The contract JSON of a figure, its meets and angles written out so that nobody numbers them again.

    Crossings that the author did not name and that hold no angle are left out: far off the page, two lines
    that are to be proved parallel may still cross as drawn, and naming that crossing would deny the proof.
    """
    data: dict[str, Any] = figure_to_json(fig)
    standing = {angle.at for angle in fig.angles.values()}
    data["meets"] = {name: meet for name, meet in data["meets"].items() if name in standing or name not in fig.lettered}
    return data


def _lines(sense: Sense, place: Place, key: str, names: Iterable[str] | None, fig: Figure | None) -> None:
    for at, name in enumerate(names or ()):
        if fig is not None:
            sense.one_of(place, "line", (key, at), name, fig.lines)


def _given(task: kinds.Drawn | kinds.Solve) -> list[tuple[Path, str]]:
    return [(("given", at), text) for at, text in enumerate(task.given)]


def _explore(sense: Sense, task: kinds.Explore, place: Place, fig: Figure | None, bad: Bad) -> None:
    _lines(sense, place, "movable", task.movable, fig)
    reach: list[tuple[Path, str]] = [(("reach", at), text) for at, text in enumerate(task.reach)]
    sense.readable(place, _given(task) + reach, fig)
    if task.question is None:
        if not task.reach and not bad & {"reach", "question"}:
            sense.add(place, "nothing-asked", ("reach",))
        return
    choices = task.question.choices
    if task.question.answer >= len(choices):
        sense.add(place, "answer", ("question", "answer"), most=len(choices) - 1, value=task.question.answer)
    for at, choice in enumerate(choices):
        if choice in choices[:at]:
            sense.add(place, "same-choice", ("question", "choices", at), value=choice)


def _classify(sense: Sense, task: kinds.Classify, place: Place, fig: Figure | None, bad: Bad) -> None:
    sense.readable(place, _given(task), fig)
    _lines(sense, place, "movable", task.movable, fig)
    used = [key for key in ("pairs", "find", "count") if getattr(task, key)]
    if used not in (["pairs"], ["find", "count"]) and not bad & {"pairs", "find", "count"}:
        sense.add(place, "pairs-or-find", (used[0] if used else "pairs",), value=", ".join(used) or "–")
    if task.find is not None:
        sense.one_of(place, "pair-name", ("find",), task.find, [pair for pair in PAIRS if pair != "none"])
    for at, pair in enumerate(task.pairs):
        if pair[0] == pair[1]:
            sense.add(place, "self-pair", ("pairs", at), value=shown(pair[0]))
        for side, name in enumerate(pair):
            if fig is not None:
                sense.one_of(place, "angle", ("pairs", at, side), name, fig.angles)


def _justify(sense: Sense, task: kinds.Justify, place: Place, fig: Figure | None, bad: Bad) -> None:
    sense.readable(place, _given(task), fig)
    _lines(sense, place, "lines", task.lines, fig)


def _prove(sense: Sense, task: kinds.Prove, place: Place, fig: Figure | None, bad: Bad) -> None:
    proof = task.proof or []
    rows = [(("proof", at, "statement"), row.statement) for at, row in enumerate(proof)]
    goal: list[tuple[Path, str]] = [(("goal",), task.goal)] if "goal" not in bad else []
    sense.readable(place, [*_given(task), *goal, *rows], fig)
    for at, name in enumerate(task.bar):
        sense.one_of(place, "theorem", ("bar", at), name, THEOREMS)
    for at, row in enumerate(proof):
        if row.reason not in THEOREMS and house().accepts(row.reason) is None:
            sense.one_of(place, "theorem", ("proof", at, "reason"), row.reason, THEOREMS)


def _construct(sense: Sense, task: kinds.Construct, place: Place, fig: Figure | None, bad: Bad) -> None:
    start = task.start
    if bad & {"start", "construction"}:
        return
    before = len(sense.faults)
    for key in NEEDS[task.construction]:
        value = getattr(start, key)
        if value is None:
            sense.add(place, "start-needs", ("start", key), key=key, construction=task.construction)
            continue
        for at, name in enumerate([value] if isinstance(value, str) else value):
            where: Path = ("start", key) if isinstance(value, str) else ("start", key, at)
            sense.one_of(place, "no-point", where, name, start.points)
    if len(sense.faults) > before:
        return
    try:
        read_start(task.construction, start.model_dump(exclude_none=True))
    except Fault as fault:
        sense.add(place, "start", path_of(fault), problem=fault.message)


def _solve(sense: Sense, task: kinds.Solve, place: Place, fig: Figure | None, bad: Bad) -> None:
    used = [key for key in ("family", "figure", "given", "want") if getattr(task, key)]
    own = ["figure", "given", "want"]
    if used not in (["family"], own) and not bad & {"family", *own}:
        sense.add(place, "family-or-own", (used[0] if used else "family",), value=", ".join(used) or "–")
    if task.make and task.family is not None and "make" not in bad:
        sense.add(place, "family-or-own", ("make",), value="family, make")
    if task.family is not None:
        _family(sense, place, ("family",), task.family, task.level)
    sense.readable(place, [*_given(task), (("make",), task.make)] if task.make else _given(task), fig)


def _connect(sense: Sense, task: kinds.Connect, place: Place, fig: Figure | None, bad: Bad) -> None:
    _family(sense, place, ("family",), task.family, task.level)


def _practice(sense: Sense, task: kinds.Practice, place: Place, fig: Figure | None, bad: Bad) -> None:
    for at, name in enumerate(task.families or ()):
        _family(sense, place, ("families", at), name, task.level)


def _family(sense: Sense, place: Place, where: Path, name: str, level: int) -> None:
    known = families()
    if sense.one_of(place, "family", where, name, known) and level not in known[name]:
        levels = ", ".join(map(str, known[name]))
        sense.add(place, "level", ("level",), allowed=levels, value=level)


_LOOKS: dict[str, Any] = {
    "explore": _explore,
    "classify": _classify,
    "justify": _justify,
    "prove": _prove,
    "construct": _construct,
    "solve": _solve,
    "connect": _connect,
    "practice": _practice,
}
