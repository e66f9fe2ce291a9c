"""A construction as a printed picture, in millimeters and true to scale.

Arcs are short around their marks, letters stand clear of lines. Pure text out: an SVG whose viewBox is in
millimeters and whose width and height say so, for paper. Black on white; what is new in a panel is heavier, what
was there is gray: nothing hangs on color.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from html import escape
from math import atan2, cos, degrees, hypot, radians, sin

from app.construction.moves import Program
from app.construction.plane import Circle, Straight
from app.construction.replay import Drawing
from app.construction.words import sentence
from app.words import render

__all__ = ["Window", "arcs_of", "check_bar", "extent_of", "panel"]

Mm = tuple[float, float]
TAIL, JOIN = 14.0, 150.0
LETTER = 4.2


@dataclass(frozen=True)
class Window:
    """A piece of paper `wide` × `tall` mm, `scale` mm to a unit, the world point (x, y) in its middle."""

    wide: float
    tall: float
    scale: float
    x: float
    y: float

    def at(self, point: tuple[float, float]) -> Mm:
        return (
            (point[0] - self.x) * self.scale + self.wide / 2,
            self.tall / 2 - (point[1] - self.y) * self.scale,
        )


def xy(point: object) -> tuple[float, float]:
    assert isinstance(point, tuple)
    return float(point[0]), float(point[1])


def marks_on(name: str, program: Program) -> list[str]:
    """The points that lie on an arc by the way either was made."""
    found = []
    for move in program.moves:
        if name in move.of:
            found.append(move.name)
        if move.name == name and move.opening and move.center in move.opening:
            found += [point for point in move.opening if point != move.center]
    return found


def arcs_of(name: str, drawing: Drawing, program: Program) -> list[tuple[float, float]]:
    """The parts of an arc to draw, (from, extent) in degrees: as swung, or a little beyond its marks."""
    move = next(move for move in program.moves if move.name == name)
    if move.sweep:
        return [(float(move.sweep[0]), float(move.sweep[1]))]
    circle = drawing.values[name]
    assert isinstance(circle, Circle)
    c = xy(circle.c)
    turns = sorted(
        degrees(atan2(y - c[1], x - c[0])) % 360
        for x, y in (xy(drawing.values[point]) for point in marks_on(name, program) if point in drawing.values)
    )
    if not turns:
        return [(0.0, 360.0)]
    gaps = [(turns[(i + 1) % len(turns)] - turn) % 360 or 360.0 for i, turn in enumerate(turns)]
    widest = gaps.index(max(gaps))
    parts: list[tuple[float, float]] = []
    begin: float | None = None
    for k in range(1, len(turns) + 1):
        i = (widest + k) % len(turns)
        begin = turns[i] if begin is None else begin
        if k == len(turns) or gaps[i] > JOIN:
            parts.append(((begin - TAIL) % 360, (turns[i] - begin) % 360 + 2 * TAIL))
            begin = None
    return parts


def extent_of(drawing: Drawing, program: Program) -> tuple[float, float, float, float]:
    """Left, bottom, right, top of all points and drawn arcs, in units."""
    spots = [xy(value) for value in drawing.values.values() if isinstance(value, tuple)]
    for name, value in drawing.values.items():
        if isinstance(value, Circle):
            r, c = float(value.s) ** 0.5, xy(value.c)
            for start, turn in arcs_of(name, drawing, program):
                angles = [radians(start + turn * k / 8) for k in range(9)]
                spots += [(c[0] + r * cos(a), c[1] + r * sin(a)) for a in angles]
    xs, ys = [x for x, _ in spots], [y for _, y in spots]
    return min(xs), min(ys), max(xs), max(ys)


def panel(
    window: Window, program: Program, drawing: Drawing, upto: int, new: frozenset[str] = frozenset(), *, about: str = ""
) -> str:
    """The SVG of the first `upto` moves; those named in `new` are drawn heavier. `about` is its text for ears."""
    shown = [move.name for move in program.moves[:upto]]
    names = [*program.start.points, *program.start.objects, *shown]
    strokes = list(straights(window, program, drawing, names, new))
    strokes += arcs(window, program, drawing, shown, new)
    dots, letters = points(window, program, drawing, names)
    text = about or " ".join(render(sentence(program, i)) for i in range(upto)) or "–"
    size = f'width="{window.wide:g}mm" height="{window.tall:g}mm" viewBox="0 0 {window.wide:g} {window.tall:g}"'
    body = "".join((*strokes, *dots, *letters))
    return f'<svg xmlns="http://www.w3.org/2000/svg" role="img" {size}><title>{escape(text)}</title>{body}</svg>'


def line(a: Mm, b: Mm, wide: float, color: str = "#000") -> str:
    return (
        f'<line x1="{a[0]:.2f}" y1="{a[1]:.2f}" x2="{b[0]:.2f}" y2="{b[1]:.2f}" stroke="{color}" '
        f'stroke-width="{wide}"/>'
    )


def straights(
    window: Window, program: Program, drawing: Drawing, names: list[str], new: frozenset[str]
) -> Iterable[str]:
    drawn: set[object] = set()
    for name in names:
        value = drawing.values.get(name)
        if not isinstance(value, Straight) or value in drawn:
            continue
        drawn.add(value)
        ends = clipped(window, value)
        if ends:
            given = name in program.start.objects
            wide = 0.7 if name in new else 0.35
            yield line(*ends, wide, "#000" if given or name in new else "#444")


def clipped(window: Window, value: Straight) -> tuple[Mm, Mm] | None:
    """The part of a line, ray or segment inside the window (Liang and Barsky's parametric clip)."""
    p, q = window.at(xy(value.p)), window.at(xy(value.q))
    low, high = (-1e6, 1e6) if value.kind == "line" else (0.0, 1e6 if value.kind == "ray" else 1.0)
    for k, most in ((0, window.wide), (1, window.tall)):
        step = q[k] - p[k]
        if abs(step) < 1e-12:
            if not 0 <= p[k] <= most:
                return None
            continue
        near, far = sorted(((0 - p[k]) / step, (most - p[k]) / step))
        low, high = max(low, near), min(high, far)
    if low >= high:
        return None
    return tuple((p[0] + t * (q[0] - p[0]), p[1] + t * (q[1] - p[1])) for t in (low, high))  # type: ignore[return-value]


def arcs(window: Window, program: Program, drawing: Drawing, shown: list[str], new: frozenset[str]) -> Iterable[str]:
    for name in shown:
        value = drawing.values.get(name)
        if not isinstance(value, Circle):
            continue
        r = float(value.s) ** 0.5
        c = xy(value.c)
        for start, turn in arcs_of(name, drawing, program):
            # Halves, since one SVG arc can't go all the way round.
            at = [radians(start + turn * k / 2) for k in range(3)]
            a, b, d = (window.at((c[0] + r * cos(t), c[1] + r * sin(t))) for t in at)
            mm = r * window.scale
            path = f"M{a[0]:.2f} {a[1]:.2f}" + "".join(
                f"A{mm:.2f} {mm:.2f} 0 0 0 {e[0]:.2f} {e[1]:.2f}" for e in (b, d)
            )
            heavy = 'stroke="#000" stroke-width="0.5"' if name in new else 'stroke="#444" stroke-width="0.27"'
            yield f'<path d="{path}" fill="none" {heavy}/>'


def points(window: Window, program: Program, drawing: Drawing, names: list[str]) -> tuple[list[str], list[str]]:
    spots = {name: window.at(xy(drawing.values[name])) for name in names if isinstance(drawing.values.get(name), tuple)}
    dots = [f'<circle cx="{x:.2f}" cy="{y:.2f}" r="0.65"/>' for x, y in spots.values()]
    letters = []
    taken: list[Mm] = list(spots.values())
    for name, spot in spots.items():
        x, y = letter_place(window, drawing, names, spot, taken)
        taken.append((x, y))
        letters.append(
            f'<text x="{x:.2f}" y="{y + 0.34 * LETTER:.2f}" font-family="serif" font-style="italic" '
            f'font-size="{LETTER}" text-anchor="middle">{escape(name)}</text>'
        )
    return dots, letters


def letter_place(window: Window, drawing: Drawing, names: list[str], spot: Mm, taken: list[Mm]) -> Mm:
    """Of twelve places around a point the one with most room to lines, arcs, letters and the edge."""
    best, most = spot, -1e9
    for k in range(12):
        a = radians(30 * k + 20)
        place = spot[0] + 3.6 * cos(a), spot[1] - 3.6 * sin(a)
        room = min(
            min((hypot(place[0] - x, place[1] - y) - 1.5 for x, y in taken if (x, y) != spot), default=9.0),
            min((away(window, drawing.values.get(name), place) for name in names), default=9.0),
            place[0] - 1.5,
            window.wide - place[0] - 1.5,
            place[1] - 1.5,
            window.tall - place[1] - 1.5,
        )
        if room > most + 0.05:
            best, most = place, room
    return best


def away(window: Window, value: object, place: Mm) -> float:
    if isinstance(value, Circle):
        c = window.at(xy(value.c))
        radius: float = float(value.s) ** 0.5 * window.scale
        return abs(hypot(place[0] - c[0], place[1] - c[1]) - radius)
    if not isinstance(value, Straight):
        return 9.0
    ends = clipped(window, value)
    if ends is None:
        return 9.0
    (ax, ay), (bx, by) = ends
    long = hypot(bx - ax, by - ay) or 1.0
    t = max(0.0, min(1.0, ((place[0] - ax) * (bx - ax) + (place[1] - ay) * (by - ay)) / long**2))
    return hypot(place[0] - ax - t * (bx - ax), place[1] - ay - t * (by - ay))


def check_bar(words: str, label: str) -> str:
    """A bar 50 mm long between two upright strokes, to hold a ruler to, its length written beside it."""
    body = line((1, 3), (51, 3), 0.4) + line((1, 1), (1, 5), 0.4) + line((51, 1), (51, 5), 0.4)
    body += "".join(line((1 + 10 * k, 2), (1 + 10 * k, 4), 0.25) for k in range(1, 5))
    body += f'<text x="53" y="4.3" font-family="serif" font-size="3.9">{escape(label)}</text>'
    return (
        '<svg xmlns="http://www.w3.org/2000/svg" role="img" width="64mm" height="6mm" viewBox="0 0 64 6">'
        f"<title>{escape(words)}</title>{body}</svg>"
    )
