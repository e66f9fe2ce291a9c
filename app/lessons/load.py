"""Packs from their folders: `load_pack` for one, `find_packs` for a shelf of them.

A pack is a folder with `pack.toml` and, for other languages, `text.<language>.toml`. Reading is cached by
the files' stamps, so that asking for a pack at each request costs two looks at the disk.
"""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path
from typing import Any

from app.words.house import house as house_words

from .faults import PackFault, PackFaults
from .kinds import Common
from .read import Draft, read_text, read_translation
from .schema import LIMITS, Notes, Pack, Part, Task, Translation
from .sense import figure_of, judge_sense
from .standards import STANDARDS, canonical
from .text import fill
from .vocabulary import PAIRS

__all__ = ["Found", "check_pack", "find_packs", "load_pack", "read_pack"]

PACK = "pack.toml"


@dataclass(frozen=True)
class Found:
    """A folder that is, or was meant to be, a pack."""

    name: str
    path: Path
    pack: Pack | None
    faults: list[PackFault]


def load_pack(path: str | Path, *, house: str = "us", language: str | None = None) -> Pack:
    """The pack in the folder `path`, its theorem names in the words of `house`. PackFaults with all faults, if any."""
    folder = Path(path)
    return _cached(folder.resolve(), _stamp(folder), house, language, False)


def check_pack(path: str | Path) -> Pack:
    """Like `load_pack`, and every goal, given and start is also asked of the reasoner and the replay."""
    folder = Path(path)
    return _cached(folder.resolve(), _stamp(folder), "us", None, True)


def find_packs(folder: str | Path, *, house: str = "us", language: str | None = None) -> list[Found]:
    """Every pack under `folder` (or `folder` itself, if it is one), in the order that the packs ask for."""
    root = Path(folder)
    paths = [root] if (root / PACK).is_file() else sorted(p.parent for p in root.glob(f"*/{PACK}"))
    found = []
    for path in paths:
        try:
            found.append(Found(path.name, path, load_pack(path, house=house, language=language), []))
        except PackFaults as error:
            found.append(Found(path.name, path, None, error.faults))
    return sorted(found, key=lambda f: (f.pack.order if f.pack else 1000, f.name))


def read_pack(name: str, text: str, translations: dict[str, str] | None = None, *,
              house: str = "us", language: str | None = None, deep: bool = False) -> Pack:
    """A pack from text that is in hand, such as one a teacher has just uploaded.

    `translations` is language → the text of its file. PackFaults with all faults.
    """
    draft = read_text(text, PACK)
    faults = list(draft.faults) + judge_sense(draft, deep=deep)
    words: dict[str, Translation] = {}
    for code, content in (translations or {}).items():
        shape, found = read_translation(content, f"text.{code}.toml", draft)
        faults += found
        if shape is not None:
            words[code] = shape
    if faults or draft.shape is None:
        order = {PACK: 0}
        raise PackFaults(name, sorted(faults, key=lambda f: (order.get(f.file, 1), f.file, f.line or 0)))
    digest = hashlib.sha256(text.encode()).hexdigest()[:16]
    return _build(name, draft, words, house, language, digest)


@lru_cache(maxsize=128)
def _cached(folder: Path, stamp: tuple[tuple[str, int, int], ...], house: str, language: str | None, deep: bool) -> Pack:
    if not stamp or stamp[0][0] != PACK:
        raise PackFaults(folder.name, [_unreadable(PACK, "no such file")])
    texts, faults = {}, []
    for name, size, _ in stamp:
        if size > LIMITS["file"]:
            faults.append(PackFault("too-big", name, fields={"most": str(LIMITS["file"]), "size": str(size)}))
            continue
        try:
            texts[name] = (folder / name).read_text(encoding="utf-8")
        except (OSError, UnicodeDecodeError) as error:
            faults.append(_unreadable(name, str(error)))
    if faults:
        raise PackFaults(folder.name, faults)
    others = {name.split(".")[1]: text for name, text in texts.items() if name != PACK}
    return read_pack(folder.name, texts[PACK], others, house=house, language=language, deep=deep)


def _stamp(folder: Path) -> tuple[tuple[str, int, int], ...]:
    """Name, size and time of each file of the pack; pack.toml first."""
    files = [p for p in (folder / PACK, *sorted(folder.glob("text.*.toml"))) if p.is_file()]
    return tuple((p.name, p.stat().st_size, p.stat().st_mtime_ns) for p in files)


def _unreadable(name: str, problem: str) -> PackFault:
    return PackFault("unreadable", name, fields={"problem": problem})


def _build(name: str, draft: Draft, words: dict[str, Translation], house: str, language: str | None, digest: str) -> Pack:
    assert draft.shape is not None
    head = draft.shape.pack
    names = house_words(house)
    other = words.get(language or "", Translation(format=1))

    def said(value: Any) -> Any:
        """The value with the house's names in place of those in braces."""
        if isinstance(value, str):
            key = {pair: pair for pair in PAIRS}
            return fill(value, lambda n: names.term(n.lower()) if n.lower() in key else names.name(n.lower()))
        if isinstance(value, list):
            return [said(inner) for inner in value]
        if isinstance(value, dict):
            return {key: said(inner) for key, inner in value.items()}
        return value

    def head_word(key: str) -> Any:
        translated = getattr(other.pack, key, None)
        return said(getattr(head, key) if translated is None else translated)

    parts = []
    for part in draft.parts:
        shape, text = part.shape, other.parts.get(part.shape.id)
        notes = (text.notes if text and text.notes else shape.notes)
        parts.append(Part(
            id=shape.id, title=said(text.title if text and text.title else shape.title), minutes=shape.minutes,
            purpose=shape.purpose, optional=shape.optional,
            notes=Notes.model_validate(said(notes.model_dump())) if notes else None,
            tasks=[_task(task, draft, other, said) for task, _ in part.tasks],
        ))
    codes = {code: draft.shape.standards.get(code, "") for code in head.standards}
    for part_ in parts:
        codes.update({code: draft.shape.standards.get(code, "") for task in part_.tasks for code in task.standards if code not in codes})
    return Pack(
        name=name, format=draft.shape.format, language=language if language in words else head.language,
        languages=[head.language, *words], minutes=head.minutes, grades=head.grades, order=head.order,
        standards={code: text or STANDARDS[canonical(code) or code] for code, text in codes.items()},
        parts=parts, digest=digest,
        **{key: head_word(key) for key in ("title", "summary", "aims", "vocabulary", "materials", "before", "scenario", "notes")},
    )


def _task(task: Common, draft: Draft, other: Translation, said: Any) -> Task:
    text = other.tasks.get(task.id)
    data = said_only(task.model_dump(by_alias=True), said)
    if text is not None:
        for key in ("title", "ask", "notes"):
            if getattr(text, key) is not None:
                data[key] = said(getattr(text, key))
        question = data.get("question")
        if question is not None:
            for key, new in (("ask", text.question), ("choices", text.choices), ("why", text.why)):
                if new is not None:
                    question[key] = said(new)
    if "figure" in data:
        data["figure"] = figure_of(data["figure"], draft)
    notes = data.pop("notes")
    return Task(
        id=task.id, kind=task.kind, title=data["title"], ask=data["ask"], minutes=task.minutes, optional=task.optional,
        standards=[canonical(code) or code for code in task.standards], skills=task.skills, notes=notes, data=data,
    )


def said_only(data: dict[str, Any], said: Any) -> dict[str, Any]:
    """House words in the keys that hold words; statements, names and coordinates stay as they are."""
    worded = {"title", "ask", "notes", "question"}
    return {key: said(value) if key in worded else value for key, value in data.items()}
