"""Where a construction begins: the given points, and what the task says of them.

The given lines, rays and segments can be named in moves by their two points: VP is the side of angle PVQ
through P.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from fractions import Fraction
from math import atan2, degrees, hypot

from app.figure.faults import Fault, shown
from app.figure.numbers import read_number, show_number

__all__ = ["COMPASSES", "NAME", "TASKS", "Exact", "Start", "read_compass", "read_point", "read_start", "start_to_json"]

Exact = tuple[Fraction, Fraction]

TASKS = (
    "copy an angle",
    "copy a segment",
    "parallel through a point",
    "bisect an angle",
    "bisect a segment",
    "perpendicular through a point",
)
# A modern compass keeps its opening when it is lifted; Euclid's collapses, so that a circle is known by its center
# and a point it passes through only.
COMPASSES = ("modern", "collapsing")
# What each task's start says beside its points, and how many names each takes.
SAYS: dict[str, dict[str, int]] = {
    "copy an angle": {"angle": 3, "ray": 2},
    "copy a segment": {"segment": 2, "point": 1},
    "parallel through a point": {"line": 2, "point": 1},
    "bisect an angle": {"angle": 3},
    "bisect a segment": {"segment": 2},
    "perpendicular through a point": {"line": 2, "point": 1},
}
NAME = re.compile(r"[^\W\d_][A-Za-z0-9_'′]{0,23}")
MOST_POINTS = 12
# An angle this close to 0 or 180 degrees, or a point this close to its line, can't be told apart on paper.
LEAST_DEGREES = 1.0
ONE_PLACE = 1e-4
ON_LINE = 1e-9


@dataclass(frozen=True)
class Start:
    """A task and its givens. `angle` has its vertex in the middle; `ray` begins at its first point."""

    task: str
    points: dict[str, Exact]
    angle: tuple[str, ...] = ()
    ray: tuple[str, ...] = ()
    line: tuple[str, ...] = ()
    segment: tuple[str, ...] = ()
    point: str = ""
    objects: dict[str, tuple[str, str, str]] = field(default_factory=dict)

    def size(self) -> float:
        """The larger side of the box around the given points."""
        xs = [float(x) for x, _ in self.points.values()]
        ys = [float(y) for _, y in self.points.values()]
        return max(max(xs) - min(xs), max(ys) - min(ys))

    def off(self, name: str, a: str, b: str) -> float:
        """How far a point lies from the line through two others, positive to the left of a→b."""
        (ax, ay), (bx, by), (x, y) = (self.points[n] for n in (a, b, name))
        turn = (bx - ax) * (y - ay) - (by - ay) * (x - ax)
        return float(turn) / hypot(float(bx - ax), float(by - ay))

    def on_line(self) -> bool:
        """Whether the task's point lies on its line."""
        return abs(self.off(self.point, *self.line)) <= ON_LINE * self.size()


def read_start(task: object, data: object, where: str = "start") -> Start:
    """The start of a task. Raises Fault for one that can't be read, or that leaves nothing to construct."""
    if not isinstance(task, str) or task not in TASKS:
        raise Fault("construction.task_unknown", "task", found=shown(task), known=", ".join(TASKS))
    if not isinstance(data, dict):
        raise Fault("construction.start_wanted", where, found=shown(data))
    points = read_points(data.get("points"), f"{where}.points")
    says = {key: read_names(data.get(key), key, count, points, where) for key, count in SAYS[task].items()}
    start = Start(
        task,
        points,
        angle=says.get("angle", ()),
        ray=says.get("ray", ()),
        line=says.get("line", ()),
        segment=says.get("segment", ()),
        point=says.get("point", ("",))[0],
        objects=given_objects(says),
    )
    check_apart(start, where)
    check_shape(start, where)
    return start


def read_compass(value: object) -> str:
    """Which compass is in hand; the modern one where nothing is said."""
    if value is None:
        return COMPASSES[0]
    if not isinstance(value, str) or value not in COMPASSES:
        raise Fault("construction.compass_unknown", "compass", found=shown(value), known=", ".join(COMPASSES))
    return value


def read_points(data: object, where: str) -> dict[str, Exact]:
    if not isinstance(data, dict) or not data:
        raise Fault("construction.points_wanted", where, found=shown(data))
    if len(data) > MOST_POINTS:
        raise Fault("construction.too_many_points", where, most=MOST_POINTS, count=len(data))
    points = {}
    for name, at in data.items():
        if not isinstance(name, str) or not NAME.fullmatch(name):
            raise Fault("construction.name_wanted", where, found=shown(name))
        points[name] = read_point(at, f"{where}.{name}")
    return points


def read_point(value: object, where: str) -> Exact:
    """A place, [across, up]; each an exact number."""
    if not isinstance(value, (list, tuple)) or len(value) != 2:
        raise Fault("construction.place_wanted", where, found=shown(value))
    return read_number(value[0], f"{where}[0]"), read_number(value[1], f"{where}[1]")


def read_names(value: object, key: str, count: int, points: dict[str, Exact], where: str) -> tuple[str, ...]:
    names = [value] if count == 1 else value
    if not isinstance(names, (list, tuple)) or len(names) != count:
        raise Fault(f"construction.{key}_wanted", f"{where}.{key}", found=shown(value))
    for i, name in enumerate(names):
        if not isinstance(name, str) or name not in points:
            place = f"{where}.{key}" if count == 1 else f"{where}.{key}[{i}]"
            raise Fault("construction.point_unknown", place, found=shown(name), known=", ".join(points))
    if len(set(names)) != count:
        raise Fault("construction.names_repeat", f"{where}.{key}")
    return tuple(names)


def given_objects(says: dict[str, tuple[str, ...]]) -> dict[str, tuple[str, str, str]]:
    """Names of the given lines, rays and segments → (kind, first point, second point)."""
    found: dict[str, tuple[str, str, str]] = {}
    if "angle" in says:
        p, v, q = says["angle"]
        found[v + p], found[v + q] = ("ray", v, p), ("ray", v, q)
    if "ray" in says:
        w, s = says["ray"]
        found[w + s] = ("ray", w, s)
    for kind in ("line", "segment"):
        if kind in says:
            a, b = says[kind]
            found[a + b], found[b + a] = (kind, a, b), (kind, a, b)
    for key in ("ray", "line", "segment"):
        if key in says:
            found.setdefault(key, (key, *says[key]))  # type: ignore[arg-type]
    return found


def check_apart(start: Start, where: str) -> None:
    size = start.size()
    names = list(start.points)
    for i, b in enumerate(names):
        for a in names[:i]:
            (ax, ay), (bx, by) = start.points[a], start.points[b]
            if hypot(float(ax - bx), float(ay - by)) <= ONE_PLACE * size:
                raise Fault("construction.points_coincide", f"{where}.points.{b}", a=a, b=b)


def check_shape(start: Start, where: str) -> None:
    if start.angle:
        measure = opening_of(start)
        if measure < LEAST_DEGREES or measure > 180 - LEAST_DEGREES:
            name = "".join(start.angle)
            near = "0" if measure < 90 else "180"
            raise Fault("construction.angle_flat", f"{where}.angle", angle=name, near=near)
    if start.task == "parallel through a point":
        away = abs(start.off(start.point, *start.line))
        if away <= 1e-3 * start.size():
            line = "".join(start.line)
            raise Fault("construction.point_on_line", f"{where}.point", point=start.point, line=line)


def opening_of(start: Start) -> float:
    """The given angle in degrees, 0 to 180."""
    (px, py), (vx, vy), (qx, qy) = (start.points[name] for name in start.angle)
    ux, uy, wx, wy = (float(d) for d in (px - vx, py - vy, qx - vx, qy - vy))
    return abs(degrees(atan2(ux * wy - uy * wx, ux * wx + uy * wy)))


def start_to_json(start: Start) -> dict[str, object]:
    """The contract's form of a start."""
    data: dict[str, object] = {"points": {n: [show_number(c) for c in at] for n, at in start.points.items()}}
    for key in ("angle", "ray", "line", "segment"):
        if getattr(start, key):
            data[key] = list(getattr(start, key))
    if start.point:
        data["point"] = start.point
    return data
