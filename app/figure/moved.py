"""A figure that a student has moved: still the same figure, with some of its lines turned or slid."""

from __future__ import annotations

from collections.abc import Iterable

from app.figure.faults import Fault, shown
from app.figure.model import Figure, figure_from_json

__all__ = ["moved_figure"]


def moved_figure(own: Figure, data: object, movable: Iterable[str], where: str) -> Figure:
    """`own` as it was moved: only lines of `movable` may lie elsewhere. Raises Fault for another figure."""
    moved = figure_from_json(data, where)
    if list(moved.lines) != list(own.lines) or set(moved.angles) != set(own.angles):
        raise Fault("angles.other_figure", where)
    free = set(movable)
    for name, line in own.lines.items():
        if name not in free and moved.lines[name] != line:
            raise Fault("angles.fixed_line", f"{where}.lines.{shown(name)}", line=name)
    for name, angle in own.angles.items():
        now = moved.angles[name]
        if moved.meets[now.at].lines != own.meets[angle.at].lines or set(now.lines()) != set(angle.lines()):
            raise Fault("angles.other_figure", f"{where}.angles.{name}")
    return moved
