"""From a draft without faults to the pack that everybody else sees.

Figures are put in place, and names in braces become the class's own words.
"""

from __future__ import annotations

from typing import Any

from app.words import catalogue
from app.words.house import house as house_words

from .kinds import Common
from .read import Draft, DraftPart
from .schema import Notes, Pack, Part, Task, Translation
from .sense import Sense, mended
from .standards import canonical
from .text import fill
from .vocabulary import PAIRS

__all__ = ["build"]

HEAD_WORDS = ("title", "summary", "aims", "vocabulary", "materials", "before", "scenario", "notes")
TASK_WORDS = ("title", "ask", "notes", "question")


def build(
    name: str,
    draft: Draft,
    sense: Sense,
    words: dict[str, Translation],
    *,
    house: str,
    language: str | None,
    digest: str,
) -> Pack:
    """The pack, its theorem names as `house` has them, its words from `words[language]` if there are any."""
    assert draft.shape is not None
    other = words.get(language or "", Translation(format=1))
    maker = _Maker(sense, other, house, draft.shape.standards)
    head = draft.shape.pack
    parts = [maker.part(part) for part in draft.parts]
    codes = [*head.standards, *(code for part in parts for task in part.tasks for code in task.standards)]
    return Pack(
        name=name,
        format=draft.shape.format,
        language=language if language in words else head.language,  # type: ignore[arg-type]
        languages=[head.language, *words],
        minutes=head.minutes,
        grades=head.grades,
        order=head.order,
        standards=_standards(codes, draft.shape.standards, language or "en"),
        parts=parts,
        digest=digest,
        **{key: maker.either(getattr(maker.other.pack, key), getattr(head, key)) for key in HEAD_WORDS},
    )


def _standards(codes: list[str], own: dict[str, str], language: str) -> dict[str, str]:
    """Code → words, each once; a pack's own codes as it writes them, the others as the table does."""
    named = [code if code in own else canonical(code) or code for code in codes]
    table = catalogue("standards", language)
    return {code: own.get(code) or table[code] for code in named}


class _Maker:
    """Makes the parts and tasks of one pack in one house and one language."""

    def __init__(self, sense: Sense, other: Translation, house: str, own: dict[str, str]) -> None:
        self.sense, self.other, self.house, self.own = sense, other, house_words(house), own

    def said(self, value: object) -> object:
        """The value with the house's names in place of those in braces, however deep they stand."""
        if isinstance(value, str):
            return fill(value, self._name)
        if isinstance(value, list):
            return [self.said(inner) for inner in value]
        if isinstance(value, dict):
            return {key: self.said(inner) for key, inner in value.items()}
        return value

    def _name(self, name: str) -> str:
        key = name.lower()
        return self.house.term(key) if key in PAIRS else self.house.form(key, "low")

    def either(self, translated: Any, own: Any) -> Any:
        return self.said(own if translated is None else translated)

    def part(self, part: DraftPart) -> Part:
        shape = part.shape
        text = self.other.parts.get(shape.id)
        notes = text.notes if text and text.notes else shape.notes
        return Part(
            id=shape.id,
            title=self.either(text.title if text else None, shape.title),
            minutes=shape.minutes,
            purpose=shape.purpose,
            optional=shape.optional,
            notes=Notes.model_validate(self.said(notes.model_dump())) if notes else None,
            tasks=[self.task(made.task) for made in part.tasks],
        )

    def task(self, task: Common) -> Task:
        data = task.model_dump(by_alias=True)
        data.update({key: self.said(data[key]) for key in TASK_WORDS if key in data})
        self._translate(data)
        if "figure" in data:
            fig = self.sense.figures.get(task.id)
            data["figure"] = mended(fig) if fig is not None else None
        if "start" in data:
            data["start"] = {key: value for key, value in data["start"].items() if value is not None}
        own = self.own
        data["standards"] = [code if code in own else canonical(code) or code for code in task.standards]
        notes = data.pop("notes")
        return Task(
            id=task.id,
            kind=task.kind,
            title=data["title"],
            ask=data["ask"],
            minutes=task.minutes,
            optional=task.optional,
            standards=data["standards"],
            skills=task.skills,
            notes=notes,
            data=data,
        )

    def _translate(self, data: dict[str, Any]) -> None:
        text = self.other.tasks.get(data["id"])
        if text is None:
            return
        for key in ("title", "ask", "notes"):
            data[key] = self.either(getattr(text, key), data[key])
        question = data.get("question")
        if question is not None:
            for key, translated in (("ask", text.question), ("choices", text.choices), ("why", text.why)):
                question[key] = self.either(translated, question[key])
