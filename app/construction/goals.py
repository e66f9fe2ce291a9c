"""What each task asks of its answer, as numbers that are 0 when it holds; and how far off a drawing is.

Sources of the conditions: Euclid I.23 (copy an angle), I.31 (parallel), I.9 (bisect an angle), I.10 (bisect a
segment), I.11 and I.12 (perpendicular at and from a point), I.2 (copy a segment). Either side is accepted for a
copied angle, every direction for a copied segment.
"""

from __future__ import annotations

from math import acos, asin, degrees

from app.construction.arithmetic import N, P
from app.construction.plane import Straight, cross, dot, minus, square
from app.construction.replay import Drawing
from app.construction.start import Start

__all__ = ["anchor", "copied_length", "degrees_off", "halving", "passes", "residuals", "where_they_meet", "ways"]


def residuals(start: Start, drawing: Drawing, result: str) -> list[N]:
    """Numbers without unit, all 0 exactly when the answer is right; first whether it lies where it must."""
    if start.task == "bisect a segment":
        return [halving(start, drawing, result)]
    if start.task == "copy a segment":
        return copied_length(start, drawing, result)
    line = straight(drawing, result)
    return [passes(start, drawing, line), aim(start, drawing, line)]


def straight(drawing: Drawing, result: str) -> Straight:
    thing = drawing.thing(result)
    assert isinstance(thing, Straight)
    return thing


def anchor(start: Start) -> str:
    """The point that the answer must go through; "" where there is none."""
    if start.task == "copy an angle":
        return start.ray[0]
    if start.task == "bisect an angle":
        return start.angle[1]
    return start.point


def passes(start: Start, drawing: Drawing, line: Straight) -> N:
    """How far the answer misses its point, in parts of the figure."""
    use, at = drawing.use, drawing.point(anchor(start))
    off = cross(line.way, minus(at, line.p))
    return abs(off) / use.root(square(line.way) * spread(start, drawing))


def spread(start: Start, drawing: Drawing) -> N:
    """The square of the largest distance from the first given point to another."""
    first, *rest = (drawing.point(name) for name in start.points)
    return max(square(minus(at, first)) for at in rest)


def unit(u: P, drawing: Drawing) -> P:
    long = drawing.use.root(square(u))
    return u[0] / long, u[1] / long


def ways(start: Start, drawing: Drawing, line: Straight) -> list[P]:
    """The directions in which the answer leaves its point: both for a line, one for a ray that begins
    there.
    """
    way = unit(line.way, drawing)
    at = drawing.point(anchor(start))
    begins = square(minus(line.p, at)) <= drawing.use.tiny * square(line.way)
    if line.kind == "ray" and begins:
        return [way]
    if line.kind == "segment":
        ends = square(minus(line.q, at)) <= drawing.use.tiny * square(line.way)
        if begins or ends:
            return [way if begins else (-way[0], -way[1])]
    return [way, (-way[0], -way[1])]


def aim(start: Start, drawing: Drawing, line: Straight) -> N:
    """How far the answer's direction misses, as a sine or a difference of cosines."""
    if start.task in ("parallel through a point", "perpendicular through a point"):
        a, b = (drawing.point(name) for name in start.line)
        way, base = unit(line.way, drawing), unit(minus(b, a), drawing)
        return abs(cross(way, base) if start.task.startswith("parallel") else dot(way, base))
    p, v, q = (drawing.point(name) for name in start.angle)
    one, two = unit(minus(p, v), drawing), unit(minus(q, v), drawing)
    if start.task == "copy an angle":
        w, s = (drawing.point(name) for name in start.ray)
        base = unit(minus(s, w), drawing)
        return min(abs(dot(way, base) - dot(one, two)) for way in ways(start, drawing, line))
    middle = unit((one[0] + two[0], one[1] + two[1]), drawing)
    # 1 - cos is flat at 0, so the sine is measured, and 2 stands for the way that runs backwards.
    return min(
        abs(cross(way, middle)) if dot(way, middle) > 0 else 0 * way[0] + 2 for way in ways(start, drawing, line)
    )


def halving(start: Start, drawing: Drawing, result: str) -> N:
    """How far a point is from the middle of the segment, or a line from passing through it, in its
    lengths.
    """
    a, b = (drawing.point(name) for name in start.segment)
    middle = (a[0] + b[0]) / 2, (a[1] + b[1]) / 2
    long = square(minus(b, a))
    value = drawing.values[result]
    if isinstance(value, tuple):
        return drawing.use.root(square(minus(value, middle)) / long)
    line = straight(drawing, result)
    if abs(cross(unit(line.way, drawing), unit(minus(b, a), drawing))) <= drawing.use.tiny:
        return 0 * long + 1  # the line of the segment itself halves nothing
    return abs(cross(line.way, minus(middle, line.p))) / drawing.use.root(square(line.way) * long)


def copied_length(start: Start, drawing: Drawing, result: str) -> list[N]:
    """How far the nearer end of the answer is from the point, and how much its length misses, in given lengths."""
    a, b = (drawing.point(name) for name in start.segment)
    at, long = drawing.point(start.point), square(minus(b, a))
    line = straight(drawing, result)
    if line.kind != "segment":
        return [0 * long + 1]
    away = min(square(minus(end, at)) for end in (line.p, line.q))
    return [drawing.use.root(away / long), abs(drawing.use.root(square(line.way) / long) - 1)]


def degrees_off(start: Start, drawing: Drawing, result: str) -> float | None:
    """By how many degrees the answer misses as drawn; None where it is a point, or a length.

    For a line that should halve a segment: from the perpendicular bisector, or seen from the segment's end.
    """
    value = drawing.values[result]
    if isinstance(value, tuple) or start.task == "copy a segment":
        return None
    line = straight(drawing, result)
    if start.task == "bisect a segment":
        a, b = (drawing.point(name) for name in start.segment)
        return leaning(abs(dot(unit(line.way, drawing), unit(minus(b, a), drawing))))
    if start.task != "copy an angle":
        miss = aim(start, drawing, line)
        return turned_back(start, drawing, line) if miss > 1.5 else leaning(miss)
    p, v, q = (drawing.point(name) for name in start.angle)
    w, s = (drawing.point(name) for name in start.ray)
    wanted = between(unit(minus(p, v), drawing), unit(minus(q, v), drawing))
    base = unit(minus(s, w), drawing)
    return min(abs(between(way, base) - wanted) for way in ways(start, drawing, line))


def leaning(sine: N) -> float:
    return degrees(asin(min(1.0, float(sine))))


def between(u: P, v: P) -> float:
    """Degrees between two unit directions, 0 to 180."""
    c, s = float(dot(u, v)), float(cross(u, v))
    return (
        degrees(acos(max(-1.0, min(1.0, c)))) if abs(s) > 0.1 else (leaning(abs(s)) if c > 0 else 180 - leaning(abs(s)))
    )


def turned_back(start: Start, drawing: Drawing, line: Straight) -> float:
    """For a bisector that leaves the vertex the wrong way: more than 90 degrees."""
    p, v, q = (drawing.point(name) for name in start.angle)
    one, two = unit(minus(p, v), drawing), unit(minus(q, v), drawing)
    middle = unit((one[0] + two[0], one[1] + two[1]), drawing)
    return min(between(way, middle) for way in ways(start, drawing, line))


def where_they_meet(start: Start, drawing: Drawing, line: Straight) -> P | None:
    """Where a line that should be parallel meets the given line; None where it doesn't."""
    a, b = (drawing.point(name) for name in start.line)
    base = minus(b, a)
    turn = cross(line.way, base)
    if abs(turn) <= drawing.use.tiny * drawing.use.root(square(line.way) * square(base)):
        return None
    return line.at(cross(minus(a, line.p), base) / turn)
