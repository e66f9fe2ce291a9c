"""The marks on a figure: what is given, follows or fails, as arcs, arrows, squares, ticks and labels.

Marks come as the JSON that pages use too:
{"angles": {"1": {"arcs": 1, "tone": "given", "label": "65°"}}, "lines": {"l": {"arrows": 1}},
 "right": [{"at": "A", "angle": "1"}], "segments": {"A B": {"ticks": 1}}}
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from typing import TypedDict, TypeVar

from app.figure.faults import Fault, shown
from app.figure.parts import Figure

__all__ = ["TONES", "Mark", "MarkJson", "Marks", "MarksJson", "RightJson", "read_marks"]

TONES = ("plain", "given", "follows", "fails")
MOST_OF_ONE = 4
LONGEST_LABEL = 24

K = TypeVar("K")


class MarkJson(TypedDict, total=False):
    """One mark as pages have it: arcs of an angle, arrows of a line or ticks of a segment."""

    arcs: int
    arrows: int
    ticks: int
    tone: str
    label: str


class RightJson(TypedDict):
    at: str
    angle: str
    tone: str


class MarksJson(TypedDict, total=False):
    """All marks of a figure as pages have them."""

    angles: dict[str, MarkJson]
    lines: dict[str, MarkJson]
    segments: dict[str, MarkJson]
    right: list[RightJson]


@dataclass(frozen=True)
class Mark:
    """`count` arcs, arrows or ticks; a tone; for an angle perhaps a label such as "65°" or "3x + 10"."""

    count: int = 0
    tone: str = "plain"
    label: str = ""


@dataclass(frozen=True)
class Marks:
    """Marks by angle, by line, by pair of meets; `right` maps angle names to tones."""

    angles: dict[str, Mark] = field(default_factory=dict)
    lines: dict[str, Mark] = field(default_factory=dict)
    segments: dict[tuple[str, str], Mark] = field(default_factory=dict)
    right: dict[str, str] = field(default_factory=dict)


def read_marks(data: object, fig: Figure, where: str = "marks") -> Marks:
    """The marks of a JSON value, all of them on things of the figure. Raises Fault for anything else."""
    if data is None:
        return Marks()
    if isinstance(data, Marks):
        return data
    if not isinstance(data, dict):
        raise Fault("figure.marks_wanted", where, found=shown(data))

    def angle(name: str, place: str) -> str:
        if name not in fig.angles:
            raise Fault("figure.angle_unknown", place, angle=shown(name), known=", ".join(fig.angles) or "–")
        return name

    def line(name: str, place: str) -> str:
        if name not in fig.lines:
            raise Fault("figure.line_unknown", place, line=shown(name), known=", ".join(fig.lines))
        return name

    def segment(name: str, place: str) -> tuple[str, str]:
        ends = tuple(name.split())
        if len(ends) != 2 or ends[0] == ends[1] or any(end not in fig.meets for end in ends):
            raise Fault("figure.segment_wanted", place, found=shown(name))
        return ends[0], ends[1]

    return Marks(
        angles=marked(data.get("angles"), angle, "arcs", f"{where}.angles"),
        lines=marked(data.get("lines"), line, "arrows", f"{where}.lines"),
        segments=marked(data.get("segments"), segment, "ticks", f"{where}.segments"),
        right=read_right(data.get("right"), fig, f"{where}.right"),
    )


def marked(data: object, known: Callable[[str, str], K], counted: str, where: str) -> dict[K, Mark]:
    if data is None:
        return {}
    if not isinstance(data, dict):
        raise Fault("figure.marks_wanted", where, found=shown(data))
    found: dict[K, Mark] = {}
    for name, value in data.items():
        place = f"{where}.{shown(name)}"
        if not isinstance(name, str) or not isinstance(value, dict):
            raise Fault("figure.mark_wanted", place, counted=counted, found=shown(value))
        found[known(name, place)] = read_mark(value, counted, place)
    return found


def read_mark(value: dict[str, object], counted: str, where: str) -> Mark:
    count, label = value.get(counted, 0), value.get("label") or ""
    if not isinstance(count, int) or isinstance(count, bool) or not 0 <= count <= MOST_OF_ONE:
        raise Fault("figure.mark_count", f"{where}.{counted}", most=MOST_OF_ONE, counted=counted)
    if not isinstance(label, str) or len(label) > LONGEST_LABEL or not label.isprintable():
        raise Fault("figure.mark_label", f"{where}.label", most=LONGEST_LABEL)
    return Mark(count, read_tone(value.get("tone"), where), label)


def read_tone(value: object, where: str) -> str:
    if value is None:
        return "plain"
    if not isinstance(value, str) or value not in TONES:
        raise Fault("figure.mark_tone", f"{where}.tone", known=", ".join(TONES), found=shown(value))
    return value


def read_right(data: object, fig: Figure, where: str) -> dict[str, str]:
    if data is None:
        return {}
    if not isinstance(data, (list, tuple)):
        raise Fault("figure.right_wanted", where, found=shown(data))
    found: dict[str, str] = {}
    for i, value in enumerate(data):
        name = value.get("angle") if isinstance(value, dict) else None
        if not isinstance(name, str) or name not in fig.angles:
            raise Fault("figure.right_wanted", f"{where}.{i}", found=shown(value))
        found[name] = read_tone(value.get("tone"), f"{where}.{i}")
    return found
