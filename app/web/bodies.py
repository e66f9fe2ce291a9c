"""What each address takes: one frozen class a body, read by `read_body` (body.py) before anything else is done.

A field says by `Said` which sentence answers what isn't of its type or its bounds. `object` is whatever was sent: it is
read by the layer that knows it (a figure, a stage, a reply), or kept as it is. Null is the same as left out; a key that
no field has is passed over.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from typing import Annotated

from annotated_types import Ge, Le, MaxLen, MinLen

from app.classroom.names import MOST_SEATS

__all__ = [
    "Arranged",
    "Called",
    "Door",
    "Fields",
    "Here",
    "Hidden",
    "Opened",
    "Own",
    "Places",
    "Reopened",
    "Said",
    "Sent",
    "Staged",
    "Switch",
    "Titled",
    "Words",
    "Work",
]

MOST_COUNT = 2**53 - 1  # what every browser counts exactly
MOST_TITLE = 80
MOST_GIVEN = 16

Fields = dict[str, object]  # a JSON object that a deeper layer reads


class Said:
    """The sentence (a code of the catalogues with its fields) for a field that can't be used."""

    def __init__(self, code: str, **fields: int) -> None:
        self.code, self.fields = code, fields


Id = Annotated[str, MinLen(1), MaxLen(64), Said("web.need_text", most=64)]
TaskId = Annotated[str, MinLen(1), MaxLen(60), Said("web.need_text", most=60)]
Chosen = Annotated[str, MinLen(1), MaxLen(20), Said("web.need_text", most=20)]
Flag = Annotated[bool, Said("web.need_flag")]
Title = Annotated[str, Said("web.title_need", most=MOST_TITLE)]
Statements = Annotated[list[str], MaxLen(MOST_GIVEN), Said("web.own_given", most=MOST_GIVEN)]


@dataclass(frozen=True)
class Work:
    """Half-done work on a task; the newest `n` wins."""

    n: Annotated[int, Ge(0), Le(MOST_COUNT), Said("web.need_count")]
    work: object = None
    figure: object = None


@dataclass(frozen=True)
class Sent:
    """A reply that is handed in."""

    id: Id
    task: TaskId
    reply: Annotated[Fields, Said("web.need_object")]


@dataclass(frozen=True)
class Here:
    task: TaskId


@dataclass(frozen=True)
class Reopened:
    task: TaskId


@dataclass(frozen=True)
class Called:
    """A task that is put on, or none."""

    task: TaskId | None = None


@dataclass(frozen=True)
class Switch:
    on: Flag


@dataclass(frozen=True)
class Hidden:
    """Without `on`: hide."""

    on: Annotated[bool | None, Said("web.need_flag")] = None


@dataclass(frozen=True)
class Door:
    open: Flag


@dataclass(frozen=True)
class Titled:
    title: Title


@dataclass(frozen=True)
class Places:
    places: Annotated[int, Ge(1), Le(MOST_SEATS), Said("web.places_need", most=MOST_SEATS)]


@dataclass(frozen=True)
class Staged:
    """A stage document and where it goes; without `to`, where the last one went."""

    stage: object = None
    to: object = None


@dataclass(frozen=True)
class Arranged:
    """The order of the parts, and each with whether it is left out."""

    order: Annotated[list[str], Said("classroom.order_list")] = field(default_factory=list)
    parts: Annotated[list[Fields], Said("classroom.parts_list")] = field(default_factory=list)


@dataclass(frozen=True)
class Words:
    """The textbook's names, and the converse that it starts from."""

    house: Chosen | None = None
    profile: Chosen | None = None


@dataclass(frozen=True)
class Own:
    """A teacher's own example, as it was typed."""

    goal: Annotated[str, Said("web.need_text", most=200)]
    figure: object = None
    given: Statements = field(default_factory=list)
    title: object = None


@dataclass(frozen=True)
class Opened:
    """A period to be opened on a pack; without a title it takes the pack's."""

    pack: Annotated[str, Said("web.pack_need")]
    title: Title | None = None
