"""What a task of each kind holds, beside what all tasks hold. One model a kind; `MODELS` lists them.

Keys and defaults here are the fields of the dict that the kind modules in `app/classroom/kinds/` get.
"""

from __future__ import annotations

from typing import Annotated, Literal

from pydantic import Field, StringConstraints

from .schema import LIMITS, Id, Line_, Minutes, Prose, Shape

__all__ = ["MODELS", "Common"]

Statement = Annotated[str, StringConstraints(min_length=1, max_length=200)]
Given = Annotated[list[Statement], Field(max_length=LIMITS["given"])]
Name = Annotated[str, StringConstraints(min_length=1, max_length=24)]
Pair = Annotated[list[Name], Field(min_length=2, max_length=2)]
Level = Annotated[int, Field(ge=1, le=9)]


class Common(Shape):
    """What every task holds."""

    id: Id
    kind: str
    title: Line_
    ask: Annotated[str, StringConstraints(min_length=1, max_length=LIMITS["ask"])]
    minutes: Minutes = 2
    optional: bool = False
    standards: Annotated[list[str], Field(max_length=LIMITS["list"])] = []
    skills: Annotated[list[str], Field(max_length=LIMITS["list"])] = []
    notes: Prose = ""


class Drawn(Common):
    """A task on a figure: a table, or the name of one under `[figures]`."""

    figure: object
    given: Given = []
    not_to_scale: bool = False


class Question(Shape):
    ask: Prose
    choices: Annotated[list[Line_], Field(min_length=2, max_length=LIMITS["choices"])]
    answer: Annotated[int, Field(ge=0)]
    why: Annotated[str, StringConstraints(min_length=1, max_length=LIMITS["ask"])]


class Explore(Drawn):
    """Move lines of a figure; make statements true as drawn; say what was seen."""

    movable: Annotated[list[Name], Field(min_length=1, max_length=8)]
    measures: Literal["shown", "hidden", "toggle"] = "toggle"
    reach: Given = []
    question: Question | None = None


class Classify(Drawn):
    """Name pairs of angles, or find pairs with a given name."""

    pairs: Annotated[list[Pair], Field(max_length=12)] = []
    find: str | None = None
    count: Annotated[int, Field(ge=1, le=12)] | None = None
    transversal: bool = False
    movable: Annotated[list[Name], Field(max_length=8)] = []


class Justify(Drawn):
    """Which lines do the givens make parallel, and by which theorem? Or is it not enough?"""

    lines: Pair | None = None
    expect: Literal["parallel", "not enough"] = "parallel"


class Row(Shape):
    statement: Statement
    reason: Name | str
    from_: Annotated[list[int], Field(max_length=8)] | None = Field(default=None, alias="from")


class Prove(Drawn):
    """A two-column proof, with as much of it filled in as `support` says."""

    goal: Statement
    support: Literal["worked", "reasons", "statements", "order", "blank"] = "blank"
    judge: Literal["row", "asked", "end"] = "asked"
    strict: bool = False
    profile: Literal["postulate", "theorem"] | None = None
    bar: Annotated[list[str], Field(max_length=12)] = []
    proof: Annotated[list[Row], Field(min_length=1, max_length=LIMITS["rows"])] | None = None
    possible: bool = True


class Start(Shape):
    """Where a construction begins: the start of `/api/construction/check`."""

    points: dict[str, object]
    angle: Annotated[list[Name], Field(min_length=3, max_length=3)] | None = None
    ray: Pair | None = None
    line: Pair | None = None
    point: Name | None = None
    segment: Pair | None = None


class Construct(Common):
    """Compass and straightedge."""

    construction: Literal[
        "copy an angle",
        "copy a segment",
        "parallel through a point",
        "bisect an angle",
        "bisect a segment",
        "perpendicular through a point",
    ]
    start: Start
    route: Literal["any", "corresponding", "alternate interior", "rhombus"] = "any"
    compass: Literal["modern", "collapsing"] = "modern"
    demonstration: bool = True


class Solve(Common):
    """An unknown from what is given: an item of a family (new numbers for each seat), or the pack's own."""

    family: str | None = None
    level: Level = 1
    figure: object = None
    given: Given = []
    not_to_scale: bool = True
    want: Statement | None = None
    make: Statement | None = None


class Connect(Common):
    """A conditional and its relatives: write them, judge them, find the one that a proof needs."""

    family: str = "connect"
    level: Level = 1


class Practice(Common):
    """Items without end, mixed from families."""

    families: Annotated[list[str], Field(min_length=1, max_length=20)]
    level: Level = 1
    count: Annotated[int, Field(ge=1, le=40)] = 6
    mix: bool = True


MODELS: dict[str, type[Common]] = {
    "explore": Explore,
    "construct": Construct,
    "classify": Classify,
    "justify": Justify,
    "solve": Solve,
    "prove": Prove,
    "connect": Connect,
    "practice": Practice,
}
