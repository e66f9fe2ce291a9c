"""From the text of a pack to its validated shape, or to every fault in it.

What is asked here needs no reasoning: TOML, format, keys and types, ids, words, minutes, standards.
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
from .shape import Place, judge_shape
from .standards import STANDARDS, canonical
from .text import names_in, text_fault
from .vocabulary import KNOWN_NAMES, SKILLS

__all__ = ["Draft", "DraftPart", "read_text", "read_translation"]


@dataclass
class DraftPart:
    shape: PartShape
    place: Place
    tasks: list[tuple[Common, Place]] = field(default_factory=list)


@dataclass
class Draft:
    """What could be read of a pack; whole only when there are no faults."""

    file: str
    shape: FileShape | None = None
    figures: dict[str, dict[str, Any]] = field(default_factory=dict)
    figure_places: dict[str, Place] = field(default_factory=dict)
    parts: list[DraftPart] = field(default_factory=list)
    faults: list[PackFault] = field(default_factory=list)

    def tasks(self) -> Iterator[tuple[Common, Place]]:
        for part in self.parts:
            yield from part.tasks


def read_text(text: str, file: str) -> Draft:
    """The draft of the pack in `text`; `file` is the name that faults call it by."""
    draft = Draft(file)
    raw, place, faults = _toml(text, file)
    draft.faults += faults
    if raw is None:
        return draft
    shape, found = judge_shape(FileShape, raw, place)
    draft.shape = shape
    draft.faults += found
    draft.figures = {name: table for name, table in _table(raw.get("figures")).items() if isinstance(table, dict)}
    draft.figure_places = {name: place.at("figures", name) for name in draft.figures}
    for name, table in _table(raw.get("figures")).items():
        draft.faults += judge_shape(FigureTable, table, place, ("figures", name))[1]
    for at, part in enumerate(_list(raw.get("parts"))):
        _part(draft, part, place.at("parts", at), raw)
    _ids(draft, raw, place)
    if shape is not None:
        _words_of_head(draft, shape, place)
        _minutes(draft, shape, place)
    return draft


def read_translation(text: str, file: str, draft: Draft) -> tuple[Translation | None, list[PackFault]]:
    """The words of a pack in another language, checked against the pack they translate."""
    raw, place, faults = _toml(text, file)
    if raw is None:
        return None, faults
    shape, faults = judge_shape(Translation, raw, place)
    parts = {part.shape.id for part in draft.parts}
    tasks = {task.id for task, _ in draft.tasks()}
    for what, known, table in (("part", parts, raw.get("parts")), ("task", tasks, raw.get("tasks"))):
        for name in _table(table):
            if name not in known:
                faults.append(place.fault("translates-nothing", (f"{what}s", name), near=near(name, known), what=what, id=name))
    for path, words in _strings(raw):
        faults += _markup(words, place, path)
    return shape, faults


def _toml(text: str, file: str) -> tuple[dict[str, Any] | None, Place, list[PackFault]]:
    lines = Lines("")
    place = Place(file, lines)
    try:
        raw = tomllib.loads(text)
    except tomllib.TOMLDecodeError as error:
        found = re.search(r"line (\d+), column (\d+)", str(error))
        problem = str(error).split(" (at ")[0]
        line, column = (int(found.group(1)), found.group(2)) if found else (len(text.splitlines()), "1")
        return None, place, [PackFault("toml", file, line=line, fields={"column": column, "problem": problem})]
    place = Place(file, Lines(text))
    number = raw.get("format")
    if number is None:
        return None, place, [place.fault("no-format", ("format",), known=FORMAT)]
    if isinstance(number, int) and number > FORMAT:
        return None, place, [place.fault("newer", ("format",), known=FORMAT, format=number)]
    if not isinstance(number, int) or isinstance(number, bool) or number < 1:
        return None, place, [place.fault("format", ("format",), known=FORMAT, value=shown(number))]
    return raw, place, []


def _part(draft: Draft, raw: Any, place: Place, whole: dict[str, Any]) -> None:
    name = raw.get("id") if isinstance(raw, dict) else None
    place = place.into(part=name if isinstance(name, str) else str(int(place.path[-1]) + 1))
    shape, found = judge_shape(PartShape, raw, place)
    draft.faults += found
    part = DraftPart(shape, place) if shape is not None else None
    if part:
        draft.parts.append(part)
        for path, words in _strings({key: raw[key] for key in ("title", "notes") if key in raw}):
            draft.faults += _markup(words, place, path)
    for at, task in enumerate(_list(raw.get("tasks") if isinstance(raw, dict) else None)):
        made, where = _task(draft, task, place.into("tasks", at), whole)
        if part and made:
            part.tasks.append((made, where))


def _task(draft: Draft, raw: Any, place: Place, whole: dict[str, Any]) -> tuple[Common | None, Place]:
    name = raw.get("id") if isinstance(raw, dict) else None
    place = place.into(task=name if isinstance(name, str) else f"number {int(place.path[-1]) + 1} of part {place.part}")
    if not isinstance(raw, dict):
        draft.faults += judge_shape(Common, raw, place)[1]
        return None, place
    kind = raw.get("kind")
    model = MODELS.get(kind) if isinstance(kind, str) else None
    if model is None:
        if "kind" in raw:
            draft.faults.append(place.fault("choice", ("kind",), near=near(kind, MODELS), allowed=", ".join(MODELS), value=shown(kind)))
        # Only what all tasks share can be judged; the keys of a kind we don't know are let be.
        shared = {info.alias or key for key, info in Common.model_fields.items()}
        known = {key: value for key, value in raw.items() if key in shared}
        draft.faults += judge_shape(Common, known, place)[1]
        return None, place
    made, found = judge_shape(model, raw, place)
    draft.faults += found
    if isinstance(raw.get("figure"), dict):
        draft.faults += judge_shape(FigureTable, raw["figure"], place, ("figure",))[1]
    draft.faults += _codes(raw, place, whole)
    for path, words in _strings({key: raw[key] for key in ("title", "ask", "notes", "question") if key in raw}):
        draft.faults += _markup(words, place, path)
    if isinstance(raw.get("ask"), str):
        count = len(re.findall(r"[.?!:](?=\s|$)", raw["ask"]))
        if count > LIMITS["sentences"]:
            draft.faults.append(place.fault("sentences", ("ask",), most=LIMITS["sentences"], count=count))
    return made, place


def _codes(raw: dict[str, Any], place: Place, whole: dict[str, Any]) -> list[PackFault]:
    found = []
    own = _table(whole.get("standards"))
    for at, code in enumerate(_list(raw.get("standards"))):
        if isinstance(code, str) and code not in own and canonical(code) is None:
            found.append(place.fault("standard", ("standards", at), near=near(code, [*STANDARDS, *own]), code=code))
    for at, skill in enumerate(_list(raw.get("skills"))):
        if isinstance(skill, str) and skill not in SKILLS:
            found.append(place.fault("skill", ("skills", at), near=near(skill, SKILLS), allowed=", ".join(SKILLS), skill=skill))
    return found


def _ids(draft: Draft, raw: dict[str, Any], place: Place) -> None:
    """Each part and each task has an id of its own, in the whole pack."""
    parts = [(("parts", p), part.get("id")) for p, part in enumerate(_list(raw.get("parts"))) if isinstance(part, dict)]
    tasks = [
        (("parts", p, "tasks", t), task.get("id"))
        for p, part in enumerate(_list(raw.get("parts"))) if isinstance(part, dict)
        for t, task in enumerate(_list(part.get("tasks"))) if isinstance(task, dict)
    ]
    for what, named in (("part", parts), ("task", tasks)):
        first: dict[str, int | None] = {}
        for path, name in named:
            if not isinstance(name, str):
                continue
            here = place.at(*path, **{what: name})
            if name in first:
                draft.faults.append(here.fault("same-id", ("id",), what=what, id=name, first=first[name] or "?"))
            first.setdefault(name, place.lines.find((*path, "id")))


def _words_of_head(draft: Draft, shape: FileShape, place: Place) -> None:
    head = shape.pack
    for path, words in _strings({"pack": head.model_dump(exclude={"standards"})}):
        draft.faults += _markup(words, place, path)
    for at, code in enumerate(head.standards):
        if code not in shape.standards and canonical(code) is None:
            draft.faults.append(place.fault("standard", ("pack", "standards", at), near=near(code, [*STANDARDS, *shape.standards]), code=code))


def _minutes(draft: Draft, shape: FileShape, place: Place) -> None:
    total = sum(part.shape.minutes for part in draft.parts if not part.shape.optional)
    if total > shape.pack.minutes:
        draft.faults.append(place.fault("time", ("pack", "minutes"), minutes=shape.pack.minutes, total=total))
    for part in draft.parts:
        spent = sum(task.minutes for task, _ in part.tasks if not task.optional)
        if spent > part.shape.minutes:
            draft.faults.append(part.place.fault("part-time", ("minutes",), minutes=part.shape.minutes, total=spent))


def _markup(words: str, place: Place, path: tuple[str | int, ...]) -> list[PackFault]:
    problem = text_fault(words)
    if problem:
        return [place.fault("markup", path, problem=say(f"lessons.markup.{problem}"))]
    return [
        place.fault("name", path, near=near(name, KNOWN_NAMES), name=name)
        for name in names_in(words) if name.lower() not in KNOWN_NAMES
    ]


def _strings(value: Any, path: tuple[str | int, ...] = ()) -> Iterator[tuple[tuple[str | int, ...], str]]:
    if isinstance(value, str):
        yield path, value
    elif isinstance(value, dict):
        for key, inner in value.items():
            yield from _strings(inner, (*path, key))
    elif isinstance(value, list):
        for at, inner in enumerate(value):
            yield from _strings(inner, (*path, at))


def _table(value: Any) -> dict[str, Any]:
    return value if isinstance(value, dict) else {}


def _list(value: Any) -> list[Any]:
    return value if isinstance(value, list) else []
