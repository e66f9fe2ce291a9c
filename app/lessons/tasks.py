"""Tasks as judges, sheets and pages are handed them: one frozen class a kind, read once from a pack's data.

Plain dataclasses, with no pydantic anywhere below (`tests/test_layers.py`), so that judging needs no compiled package.
What a pack may hold is asked before, by the models of `kinds.py`; what a teacher's own example holds, by
`app/web/own.py`. A figure, and the statements over it, are read when they are first wanted and kept with the task: a
task that can't be read any more spoils no other.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from functools import cached_property
from typing import TypeVar

from app.construction.start import Start, read_start
from app.figure.model import Figure, figure_from_json
from app.reasoning.statements import read_statement
from app.reasoning.terms import Statement

__all__ = [
    "KINDS",
    "Classify",
    "Connect",
    "Construct",
    "Drawn",
    "Explore",
    "Items",
    "Justify",
    "Practice",
    "Prove",
    "Question",
    "Solve",
    "Source",
    "Task",
    "read_task",
    "task_as",
]

Source = Mapping[str, object]  # the task's data, as a pack or the store holds them
Pair = tuple[str, str]


@dataclass(frozen=True)
class Task:
    """What every task has. `source` is all of it as data, for the teacher's page."""

    id: str
    kind: str
    title: str
    ask: str
    minutes: int
    optional: bool
    profile: str | None
    source: Source = field(repr=False, compare=False)

    def shown(self) -> dict[str, object]:
        """The fields that a Seat may see of any task."""
        return {"id": self.id, "kind": self.kind, "title": self.title, "ask": self.ask}


@dataclass(frozen=True)
class Drawn(Task):
    """A task on a figure."""

    drawn: object
    given: tuple[str, ...]
    not_to_scale: bool

    @cached_property
    def figure(self) -> Figure:
        """The figure, to be looked at and never changed. Raises Fault for one that can't be read."""
        return figure_from_json(self.drawn)

    @cached_property
    def givens(self) -> tuple[Statement, ...]:
        return tuple(read_statement(text, self.figure) for text in self.given)


@dataclass(frozen=True)
class Question:
    ask: str
    choices: tuple[str, ...]
    answer: int
    why: str


@dataclass(frozen=True)
class Explore(Drawn):
    movable: tuple[str, ...]
    measures: str
    reach: tuple[str, ...]
    question: Question | None


@dataclass(frozen=True)
class Classify(Drawn):
    pairs: tuple[Pair, ...]
    find: str | None
    count: int | None
    transversal: bool
    movable: tuple[str, ...]


@dataclass(frozen=True)
class Justify(Drawn):
    lines: Pair | None


@dataclass(frozen=True)
class Prove(Drawn):
    goal_text: str
    support: str
    judge: str
    strict: bool
    bar: tuple[str, ...]
    proof: tuple[dict[str, object], ...]  # the pack's own rows, as the checker reads them

    @cached_property
    def goal(self) -> Statement:
        return read_statement(self.goal_text, self.figure)


@dataclass(frozen=True)
class Construct(Task):
    construction: str
    begun: object
    route: str
    compass: str
    demonstration: bool

    @cached_property
    def start(self) -> Start:
        """The start. Raises Fault for one that can't be read."""
        return read_start(self.construction, self.begun)


@dataclass(frozen=True)
class Items(Task):
    """A task whose items come from a family (None: the pack's own numbers)."""

    family: str | None
    level: int


@dataclass(frozen=True)
class Solve(Items):
    drawn: object
    given: tuple[str, ...]
    not_to_scale: bool
    want: str
    make: str | None


@dataclass(frozen=True)
class Connect(Items):
    pass


@dataclass(frozen=True)
class Practice(Task):
    families: tuple[str, ...]
    level: int
    count: int
    mix: bool


def _text(of: Source, key: str, default: str = "") -> str:
    value = of.get(key)
    return value if isinstance(value, str) and value else default


def _name(of: Source, key: str) -> str | None:
    return _text(of, key) or None


def _number(of: Source, key: str, default: int) -> int:
    value = of.get(key)
    return value if isinstance(value, int) and value else default


def _flag(of: Source, key: str, default: bool = False) -> bool:
    value = of.get(key)
    return default if value is None else bool(value)


def _rows(of: Source, key: str) -> Sequence[object]:
    value = of.get(key)
    return tuple(value) if isinstance(value, (list, tuple)) else ()


def _names(of: Source, key: str) -> tuple[str, ...]:
    return tuple(str(one) for one in _rows(of, key))


def _two(value: object) -> Pair | None:
    return (str(value[0]), str(value[1])) if isinstance(value, (list, tuple)) and len(value) == 2 else None


def _question(of: Source) -> Question | None:
    asked = of.get("question")
    if not isinstance(asked, Mapping) or not asked:
        return None
    return Question(_text(asked, "ask"), _names(asked, "choices"), _number(asked, "answer", 0), _text(asked, "why"))


class _Common:
    """The fields that several kinds share, read from a task's data."""

    def __init__(self, of: Source) -> None:
        self.of = of
        self.task = (
            _text(of, "id"), _text(of, "kind"), _text(of, "title"), _text(of, "ask"), _number(of, "minutes", 0),
            _flag(of, "optional"), _name(of, "profile"), of,
        )  # fmt: skip
        self.drawn = (*self.task, of.get("figure"), _names(of, "given"), _flag(of, "not_to_scale"))


def _explore(of: Source) -> Explore:
    shared = _Common(of).drawn
    return Explore(*shared, _names(of, "movable"), _text(of, "measures", "toggle"), _names(of, "reach"), _question(of))


def _classify(of: Source) -> Classify:
    pairs = tuple(two for one in _rows(of, "pairs") if (two := _two(one)))
    count = _number(of, "count", 0) or None
    return Classify(
        *_Common(of).drawn, pairs, _name(of, "find"), count, _flag(of, "transversal"), _names(of, "movable")
    )


def _justify(of: Source) -> Justify:
    return Justify(*_Common(of).drawn, _two(of.get("lines")))


def _prove(of: Source) -> Prove:
    return Prove(
        *_Common(of).drawn, _text(of, "goal"), _text(of, "support", "blank"), _text(of, "judge", "asked"),
        _flag(of, "strict"), _names(of, "bar"),
        tuple(dict(row) for row in _rows(of, "proof") if isinstance(row, Mapping)),
    )  # fmt: skip


def _construct(of: Source) -> Construct:
    return Construct(
        *_Common(of).task, _text(of, "construction"), of.get("start"), _text(of, "route", "any"),
        _text(of, "compass", "modern"), _flag(of, "demonstration", True),
    )  # fmt: skip


def _solve(of: Source) -> Solve:
    return Solve(
        *_Common(of).task, _name(of, "family"), _number(of, "level", 1), of.get("figure"), _names(of, "given"),
        _flag(of, "not_to_scale", True), _text(of, "want", "x"), _name(of, "make"),
    )  # fmt: skip


def _connect(of: Source) -> Connect:
    return Connect(*_Common(of).task, _text(of, "family", "connect"), _number(of, "level", 1))


def _practice(of: Source) -> Practice:
    numbers = _number(of, "level", 1), _number(of, "count", 6)
    return Practice(*_Common(of).task, _names(of, "families"), *numbers, _flag(of, "mix", True))


KINDS: dict[str, Callable[[Source], Task]] = {
    "explore": _explore, "construct": _construct, "classify": _classify, "justify": _justify,
    "solve": _solve, "prove": _prove, "connect": _connect, "practice": _practice,
}  # fmt: skip
_OF_CLASS: dict[type[Task], str] = {
    Explore: "explore", Construct: "construct", Classify: "classify", Justify: "justify",
    Solve: "solve", Prove: "prove", Connect: "connect", Practice: "practice",
}  # fmt: skip
T = TypeVar("T", bound=Task)


def read_task(data: Source) -> Task:
    """The task that the data are. One of a kind that isn't known has no more than every task has."""
    read = KINDS.get(str(data.get("kind")))
    return read(data) if read else Task(*_Common(data).task)


def task_as(kind: type[T], task: Task | Source) -> T:
    """The task as one of this kind: it is that already, or it is still data (an example fresh from its page)."""
    made = task if isinstance(task, Task) else KINDS[_OF_CLASS[kind]](task)
    assert isinstance(made, kind)
    return made
