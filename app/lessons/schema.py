"""The shape of a pack, read top to bottom like the file it describes (DEVELOPERS.md, "Packs").

`format` is looked at first; then the head, the figures and the parts; each task by the model of its
kind (`kinds.py`). Shape only: whether a figure can be drawn and a goal really follows is asked in
`deep.py`.
"""

from __future__ import annotations

from functools import cached_property
from typing import Annotated, Any, Literal

from pydantic import BaseModel, ConfigDict, Field, StringConstraints

from app.lessons import tasks

__all__ = [
    "FORMAT",
    "LIMITS",
    "AngleTable",
    "FigureTable",
    "FileShape",
    "Head",
    "Id",
    "LineTable",
    "Line_",
    "Notes",
    "Part",
    "PartShape",
    "Pack",
    "Prose",
    "Shape",
    "Task",
    "Translation",
    "WrongTurn",
]

FORMAT = 1

# The most that a pack may hold: enough for a month of lessons, and little enough to read at once.
LIMITS = {
    "file": 262_144,  # bytes of one file
    "line": 5000,  # characters
    "parts": 20,
    "tasks": 40,  # in one part
    "title": 70,  # characters
    "ask": 420,
    "sentences": 3,  # in `ask`
    "prose": 4000,
    "given": 16,
    "rows": 30,
    "choices": 6,
    "list": 30,
}

Id = Annotated[str, StringConstraints(pattern=r"^[a-z0-9]+(-[a-z0-9]+)*$", max_length=48)]
Line_ = Annotated[str, StringConstraints(min_length=1, max_length=LIMITS["title"])]
Prose = Annotated[str, StringConstraints(max_length=LIMITS["prose"])]
Minutes = Annotated[int, Field(ge=0, le=240)]
Listed = Annotated[list[Prose], Field(max_length=LIMITS["list"])]


class Shape(BaseModel):
    """No key that isn't known, no value taken for another type."""

    model_config = ConfigDict(extra="forbid", strict=True)


class Head(Shape):
    """`[pack]`: what the lesson is, for whom, with what."""

    title: Line_
    summary: Annotated[str, StringConstraints(min_length=1, max_length=600)]
    minutes: Minutes
    language: Annotated[str, StringConstraints(pattern=r"^[a-z]{2}(-[A-Za-z]{2,8})?$")] = "en"
    grades: Line_ | None = None
    order: Annotated[int, Field(ge=0, le=999)] = 500
    standards: Annotated[list[str], Field(max_length=LIMITS["list"])] = []
    aims: Listed = []
    vocabulary: Listed = []
    materials: Listed = []
    before: Listed = []
    scenario: Prose = ""
    notes: Prose = ""


class LineTable(Shape):
    direction: object
    through: object


class AngleTable(Shape):
    at: str
    from_: str = Field(alias="from")
    to: str


class FigureTable(Shape):
    """A figure of the calculator contract; what is in it is read by `app.figure`."""

    lines: dict[str, LineTable]
    meets: dict[str, object] = {}
    angles: dict[str, AngleTable] = {}
    number: Literal["standard"] | None = None
    transversal: str | None = None
    frame: object = None


class WrongTurn(Shape):
    """What a student may do or say, and what the teacher can answer."""

    seen: Prose
    respond: Prose


class Notes(Shape):
    """For the teacher: what to say, what to look for, common wrong turns, who needs less or more."""

    say: Prose = ""
    look_for: Listed = []
    wrong_turns: Annotated[list[WrongTurn], Field(max_length=LIMITS["list"])] = []
    support: Prose = ""
    stretch: Prose = ""


class PartShape(Shape):
    id: Id
    title: Line_
    minutes: Minutes
    purpose: Literal["warm-up", "lesson", "practice", "exit"] = "lesson"
    optional: bool = False
    notes: Notes | None = None
    tasks: Annotated[list[object], Field(min_length=1, max_length=LIMITS["tasks"])]


class FileShape(Shape):
    format: Any
    pack: Head
    standards: dict[str, str] = {}
    figures: dict[str, object] = {}
    parts: Annotated[list[object], Field(min_length=1, max_length=LIMITS["parts"])]


class TextOfTask(Shape):
    title: Line_ | None = None
    ask: Annotated[str, StringConstraints(min_length=1, max_length=LIMITS["ask"])] | None = None
    notes: Prose | None = None
    question: Prose | None = None
    choices: Annotated[list[Line_], Field(min_length=2, max_length=LIMITS["choices"])] | None = None
    why: Prose | None = None


class TextOfPart(Shape):
    title: Line_ | None = None
    notes: Notes | None = None


class TextOfPack(Shape):
    title: Line_ | None = None
    summary: Prose | None = None
    aims: Listed | None = None
    vocabulary: Listed | None = None
    materials: Listed | None = None
    before: Listed | None = None
    scenario: Prose | None = None
    notes: Prose | None = None


class Translation(Shape):
    """`text.<language>.toml`: the pack's words in another language; what is missing stays as it was."""

    format: object
    pack: TextOfPack = TextOfPack()
    parts: dict[str, TextOfPart] = {}
    tasks: dict[str, TextOfTask] = {}


class Task(BaseModel):
    """One thing to do. `data` is all of it but the teacher's notes, as JSON; `made` is what judges, sheets and pages
    are handed.
    """

    id: str
    kind: str
    title: str
    ask: str
    minutes: int
    optional: bool
    standards: list[str]
    skills: list[str]
    notes: str
    data: dict[str, Any]

    @cached_property
    def made(self) -> tasks.Task:
        return tasks.read_task(self.data)


class Part(BaseModel):
    id: str
    title: str
    minutes: int
    purpose: str
    optional: bool
    notes: Notes | None
    tasks: list[Task]


class Pack(BaseModel):
    """A pack that was read whole, its figures put in place and its words in the class's own."""

    name: str
    format: int
    language: str
    languages: list[str]
    title: str
    summary: str
    minutes: int
    grades: str | None
    order: int
    standards: dict[str, str]
    aims: list[str]
    vocabulary: list[str]
    materials: list[str]
    before: list[str]
    scenario: str
    notes: str
    parts: list[Part]
    digest: str

    def tasks(self) -> list[Task]:
        """All tasks, in order."""
        return [task for part in self.parts for task in part.tasks]

    def task(self, task_id: str) -> Task | None:
        return next((task for task in self.tasks() if task.id == task_id), None)
