"""From the text of a pack to its validated shape, or to every fault in it.

What is asked here needs no geometry: TOML, format, keys and types, ids, words, minutes, standards.
"""

from __future__ import annotations

import re
import tomllib
from collections.abc import Iterator
from dataclasses import dataclass, field
from typing import Any

from app.words import say

from .faults import PackFault, near, shown
from .kinds import MODELS, Common
from .locate import Lines
from .schema import FORMAT, LIMITS, FigureTable, FileShape, PartShape, Translation
from .shape import Path, Place, judge_shape, judge_what_can_be
from .standards import STANDARDS, canonical
from .text import names_in, text_fault
from .vocabulary import KNOWN_NAMES, SKILLS

__all__ = ["Draft", "DraftPart", "DraftTask", "read_text", "read_translation"]

TASK_WORDS = ("title", "ask", "notes", "question")


@dataclass
class DraftTask:
    """A task as far as it could be read. Keys in `bad` are None in `task`, or hold their default."""

    task: Common
    place: Place
    bad: frozenset[str]


@dataclass
class DraftPart:
    shape: PartShape
    place: Place
    tasks: list[DraftTask] = field(default_factory=list)


@dataclass
class Draft:
    """What could be read of a pack; whole only when there are no faults."""

    file: str
    shape: FileShape | None = None
    figures: dict[str, dict[str, object]] = field(default_factory=dict)
    place: Place = field(default_factory=lambda: Place("", Lines("")))
    parts: list[DraftPart] = field(default_factory=list)
    tasks: list[DraftTask] = field(default_factory=list)  # those of broken parts too
    # Every part's and task's id as it is written, those of broken ones too; None where the file isn't TOML.
    ids: dict[str, set[str]] | None = None
    faults: list[PackFault] = field(default_factory=list)


def read_text(text: str, file: str) -> Draft:
    """The draft of the pack in `text`; `file` is the name that faults call it by."""
    draft = Draft(file)
    raw, place, draft.faults = _toml(text, file)
    draft.place = place
    if raw is None:
        return draft
    draft.shape, found = judge_shape(FileShape, raw, place)
    draft.faults += found
    for name, table in _table(raw.get("figures")).items():
        _, found = judge_shape(FigureTable, table, place, ("figures", name))
        draft.faults += found
        if not found:
            draft.figures[name] = table
    for at, part in enumerate(_list(raw.get("parts"))):
        _part(draft, part, place.at("parts", at), raw)
    _ids(draft, raw, place)
    _head(draft, raw, place)
    return draft


def read_translation(text: str, file: str, draft: Draft) -> tuple[Translation | None, list[PackFault]]:
    """The words of a pack in another language, checked against the pack they translate."""
    raw, place, faults = _toml(text, file)
    if raw is None:
        return None, faults
    shape, faults = judge_shape(Translation, raw, place)
    # Where the pack itself can't be read, nothing here is known to translate nothing: the cause is told once.
    for what, ids in (draft.ids or {}).items():
        for name in _table(raw.get(f"{what}s")):
            if name not in ids:
                where: Path = (f"{what}s", name)
                meant = near(name, ids)
                faults.append(place.fault("translates-nothing", where, near=meant, what=what, id=name))
    return shape, faults + _words(raw, place)


def _toml(text: str, file: str) -> tuple[dict[str, object] | None, Place, list[PackFault]]:
    """The file's tables; or the one fault that keeps us from looking further."""
    place = Place(file, Lines(""))
    for at, row in enumerate(text.splitlines(), start=1):
        if len(row) > LIMITS["line"]:
            fields = {"most": str(LIMITS["line"]), "length": str(len(row))}
            return None, place, [PackFault("long-line", file, line=at, fields=fields)]
    try:
        raw = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        told = re.search(r"line (\d+), column (\d+)", str(error))
        line, column = (int(told[1]), told[2]) if told else (len(text.splitlines()), "1")
        problem = str(error).split(" (at ")[0]
        fields = {"column": column, "problem": problem}
        return None, place, [PackFault("toml", file, line=line, fields=fields)]
    except (RecursionError, ValueError):
        # Lists in lists without end; a number of thousands of digits.
        return None, place, [PackFault("toml", file, fields={"column": "1", "problem": say("lessons.toml.deep")})]
    place = Place(file, Lines(text))
    number = raw.get("format")
    if number is None:
        return None, place, [place.fault("no-format", ("format",), known=FORMAT)]
    if not isinstance(number, int) or isinstance(number, bool) or number < 1:
        return None, place, [place.fault("format", ("format",), known=FORMAT, value=shown(number))]
    if number > FORMAT:
        return None, place, [place.fault("newer", ("format",), known=FORMAT, format=number)]
    return raw, place, []


def _part(draft: Draft, raw: object, place: Place, whole: dict[str, object]) -> None:
    name = _table(raw).get("id")
    place = place.into(part=name if isinstance(name, str) else str(int(place.path[-1]) + 1))
    shape, found = judge_shape(PartShape, raw, place)
    draft.faults += found + _words(_only(raw, ("title", "notes")), place)
    part = DraftPart(shape, place) if shape is not None else None
    if part is not None:
        draft.parts.append(part)
    for at, task in enumerate(_list(_table(raw).get("tasks"))):
        made = _task(draft, task, place.into("tasks", at), whole)
        if made is not None:
            draft.tasks.append(made)
            if part is not None:
                part.tasks.append(made)


def _task(draft: Draft, raw: object, place: Place, whole: dict[str, object]) -> DraftTask | None:
    name = _table(raw).get("id")
    number = say("lessons.place.number", number=int(place.path[-1]) + 1, part=place.part)
    place = place.into(task=name if isinstance(name, str) else number)
    task, bad, found = _judge_kind(raw, place)
    draft.faults += found + _codes(_table(raw), place, whole) + _words(_only(raw, TASK_WORDS), place)
    figure = _table(raw).get("figure")
    if isinstance(figure, dict):
        _, found = judge_shape(FigureTable, figure, place, ("figure",))
        draft.faults += found
        if found and task is not None:
            task, bad = task.model_copy(update={"figure": None}), bad | {"figure"}
    ask = _table(raw).get("ask")
    if isinstance(ask, str):
        count = len(re.findall(r"[.?!:](?=\s|$)", ask))
        if count > LIMITS["sentences"]:
            draft.faults.append(place.fault("sentences", ("ask",), most=LIMITS["sentences"], count=count))
    return DraftTask(task, place, bad) if task is not None else None


def _judge_kind(raw: object, place: Place) -> tuple[Common | None, frozenset[str], list[PackFault]]:
    """The task by the model of its kind; of an unknown kind, only what all tasks share can be judged."""
    kind = _table(raw).get("kind")
    model = MODELS.get(kind) if isinstance(kind, str) else None
    if model is not None or not isinstance(raw, dict):
        return judge_what_can_be(model or Common, raw, place)
    _, found = judge_shape(Common, _only(raw, Common.model_fields), place)
    if isinstance(kind, str):
        fields = {"allowed": ", ".join(MODELS), "value": shown(kind)}
        found.append(place.fault("choice", ("kind",), near=near(kind, MODELS), **fields))
    return None, frozenset(), found


def _codes(raw: dict[str, object], place: Place, whole: dict[str, object]) -> list[PackFault]:
    """Standards and skills that nobody knows."""
    own = list(_table(whole.get("standards")))
    found = _standards(raw.get("standards"), own, place, ("standards",))
    for at, skill in enumerate(_list(raw.get("skills"))):
        if isinstance(skill, str) and skill not in SKILLS:
            fields = {"allowed": ", ".join(SKILLS), "skill": skill}
            found.append(place.fault("skill", ("skills", at), near=near(skill, SKILLS), **fields))
    return found


def _standards(codes: object, own: list[str], place: Place, where: Path) -> list[PackFault]:
    return [
        place.fault("standard", (*where, at), near=near(code, [*STANDARDS, *own]), found=code)
        for at, code in enumerate(_list(codes))
        if isinstance(code, str) and code not in own and canonical(code) is None
    ]


def _ids(draft: Draft, raw: dict[str, object], place: Place) -> None:
    """Each part and each task has an id of its own, in the whole pack."""
    parts: list[tuple[Path, object]] = []
    tasks: list[tuple[Path, object]] = []
    for p, part in enumerate(_list(raw.get("parts"))):
        parts.append((("parts", p), _table(part).get("id")))
        for t, task in enumerate(_list(_table(part).get("tasks"))):
            tasks.append((("parts", p, "tasks", t), _table(task).get("id")))
    for what, named in (("part", parts), ("task", tasks)):
        first: dict[str, object] = {}
        for path, name in named:
            if not isinstance(name, str):
                continue
            if name in first:
                here = place.at(*path, **{what: name})
                draft.faults.append(here.fault("same-id", ("id",), what=what, id=name, first=first[name]))
            first.setdefault(name, place.lines.find((*path, "id")))
        draft.ids = {**(draft.ids or {}), what: {name for _, name in named if isinstance(name, str)}}


def _head(draft: Draft, raw: dict[str, object], place: Place) -> None:
    """Words, standards and minutes of the pack as a whole."""
    head = _table(raw.get("pack"))
    own = list(_table(raw.get("standards")))
    draft.faults += _words({"pack": {key: v for key, v in head.items() if key != "standards"}}, place)
    draft.faults += _standards(head.get("standards"), own, place, ("pack", "standards"))
    minutes = head.get("minutes")
    total = sum(part.shape.minutes for part in draft.parts if not part.shape.optional)
    if isinstance(minutes, int) and total > minutes:
        draft.faults.append(place.fault("time", ("pack", "minutes"), minutes=minutes, total=total))
    for part in draft.parts:
        spent = sum(made.task.minutes for made in part.tasks if not made.task.optional)
        allowed = part.shape.minutes
        if spent > allowed:
            draft.faults.append(part.place.fault("part-time", ("minutes",), minutes=allowed, total=spent))


def _words(value: object, place: Place) -> list[PackFault]:
    """Faults in the small markup of every text inside the value."""
    found = []
    for path, words in _strings(value):
        problem = text_fault(words)
        if problem:
            found.append(place.fault("markup", path, problem=say(f"lessons.markup.{problem}")))
            continue
        for name in names_in(words):
            if name.lower() not in KNOWN_NAMES:
                found.append(place.fault("name", path, near=near(name, KNOWN_NAMES), name=name))
    return found


def _strings(value: object, path: Path = ()) -> Iterator[tuple[Path, str]]:
    if isinstance(value, str):
        yield path, value
    elif isinstance(value, dict):
        for key, inner in value.items():
            yield from _strings(inner, (*path, key))
    elif isinstance(value, list):
        for at, inner in enumerate(value):
            yield from _strings(inner, (*path, at))


def _only(raw: Any, keys: Any) -> dict[str, Any]:
    return {key: value for key, value in _table(raw).items() if key in keys}


def _table(value: Any) -> dict[str, Any]:
    return value if isinstance(value, dict) else {}


def _list(value: object) -> list[object]:
    return value if isinstance(value, list) else []
