"""The trade's own way through each task: moves, grouped in named steps.

Sources: Euclid I.23 and I.31 by way of I.27 (copy an angle; parallel), I.9, I.10, I.11, I.12; the rhombus
way and the order of the steps: common practice, no source.
"""

from __future__ import annotations

from collections.abc import Callable
from fractions import Fraction
from math import cos, pi, sin

from app.construction.bench import (
    Bench,
    Recipe,
    beside,
    bisect_angle_marks,
    cross_at,
    line_name,
    perpendicular_marks,
    rhombus_marks,
    toward,
    transversal_foot,
)
from app.construction.recipes_own import own_recipe
from app.construction.start import Start

__all__ = ["recipe"]


def recipe(start: Start, route: str = "any", *, opening: Fraction = Fraction(1, 2), compass: str = "modern") -> Recipe:
    """The moves that do the task. `opening` sets the free compass opening as a part of the lengths at hand
    (any in (0, 1) works: that is the point).
    """
    bench = Bench(start)
    part = float(opening)
    if compass == "collapsing":
        return own_recipe(start, route, part)
    routes = {"rhombus": rhombus, "alternate interior": alternate}
    ways: dict[str, Callable[[Bench, float], str]] = {
        "copy an angle": copy_angle,
        "copy a segment": copy_segment,
        "bisect an angle": bisect_angle,
        "bisect a segment": bisect_segment,
        "perpendicular through a point": perpendicular,
        "parallel through a point": routes.get(route, corresponding),
    }
    result = ways[start.task](bench, part)
    return Recipe(start, tuple(bench.moves), result, tuple(bench.steps))


def copy_angle(bench: Bench, part: float) -> str:
    p, v, q = bench.start.angle
    w, s = bench.start.ray
    far = part * min(bench.far(v, p), bench.far(v, q))
    b = bench.place(v + p, toward(bench.at(v), bench.at(p), far))
    first = bench.arc(v, (v, b))
    c = bench.meet(first, v + q, toward(bench.at(v), bench.at(q), far))
    bench.step("copy_arc", v=v, m=b, n=c)
    second = bench.arc(w, (v, b))
    d = bench.meet(second, w + s, toward(bench.at(w), bench.at(s), far))
    bench.step("copy_same_arc", v=v, w=w, d=d)
    third = bench.arc(d, (b, c))
    # The side that keeps the given angle's turn; the other would do as well.
    (vx, vy), (px, py), (qx, qy) = bench.at(v), bench.at(p), bench.at(q)
    left = (px - vx) * (qy - vy) - (py - vy) * (qx - vx) > 0
    e = bench.meet(second, third, beside(bench.at(w), bench.at(d), left), "EFGH")
    bench.step("copy_span", m=b, n=c, d=d, e=e)
    ray = bench.straight("ray", "r", w, e)
    bench.step("copy_side", w=w, e=e)
    return ray


def copy_segment(bench: Bench, part: float) -> str:
    """Along the given segment's own direction, or turned by up to a half turn: any direction is right."""
    a, b = bench.start.segment
    p = bench.start.point
    arc = bench.arc(p, (a, b))
    bench.step("segment_arc", a=a, b=b, p=p)
    at_p, at_a, at_b = bench.at(p), bench.at(a), bench.at(b)
    c, s = cos(pi * part / 4), sin(pi * part / 4)
    dx, dy = at_b[0] - at_a[0], at_b[1] - at_a[1]
    e = bench.place(arc, (at_p[0] + c * dx - s * dy, at_p[1] + s * dx + c * dy), "CDEF")
    answer = bench.straight("segment", "k", p, e)
    bench.step("segment_side", p=p, e=e, a=a, b=b)
    return answer


def corresponding(bench: Bench, part: float) -> str:
    return parallel(bench, part, other_way=False)


def alternate(bench: Bench, part: float) -> str:
    return parallel(bench, part, other_way=True)


def parallel(bench: Bench, part: float, *, other_way: bool) -> str:
    """Copy the angle at Q to P; `other_way` reverses both its direction and its side, which makes it
    alternate.
    """
    p = bench.start.point
    q, t = transversal_foot(bench)
    bench.step("parallel_transversal", p=p, q=q)
    far = part * bench.far(p, q) * 0.8
    at_p, at_q = bench.at(p), bench.at(q)
    a, b = (bench.at(name) for name in bench.start.line)
    m = bench.place(t, toward(at_q, at_p, far), "MBCD")
    first = bench.arc(q, (q, m))
    n = bench.meet(first, line_name(bench), (at_q[0] + b[0] - a[0], at_q[1] + b[1] - a[1]), "NCDE")
    bench.step("parallel_arc", q=q, m=m, n=n)
    second = bench.arc(p, (q, m))
    beyond = toward(at_p, at_q, far if other_way else -far)
    d = bench.meet(second, t, beyond, "CDEF")
    bench.step("parallel_same_arc", p=p, q=q, d=d)
    third = bench.arc(d, (m, n))
    left = cross_at(bench, q, m, n) > 0
    e = bench.meet(second, third, beside(at_p, bench.at(d), left), "DEFG")
    bench.step("parallel_span", m=m, n=n, d=d, e=e)
    line = bench.straight("line", "r", p, e)
    bench.step("parallel_line", p=p, e=e)
    return line


def rhombus(bench: Bench, part: float) -> str:
    p, q, n, spot = rhombus_marks(bench, part)
    bench.step("rhombus_arc", p=p, q=q, n=n)
    second = bench.arc(p, (q, p))
    third = bench.arc(n, (q, p))
    e = bench.meet(second, third, spot, "DEFG")
    bench.step("rhombus_from_point", p=p, q=q, n=n, e=e)
    line = bench.straight("line", "r", p, e)
    bench.step("parallel_line", p=p, e=e)
    return line


def bisect_angle(bench: Bench, part: float) -> str:
    v, b, c, spot = bisect_angle_marks(bench, part)
    bench.step("bisect_arc", v=v, m=b, n=c)
    # Twice the chord's half is always enough to meet, and it stays so for every angle.
    second = bench.arc(b, (b, c))
    third = bench.arc(c, (b, c))
    d = bench.meet(second, third, spot, "DEFG")
    bench.step("bisect_from_both", m=b, n=c, d=d)
    ray = bench.straight("ray", "r", v, d)
    bench.step("bisect_ray", v=v, d=d)
    return ray


def bisect_segment(bench: Bench, part: float) -> str:
    a, b = bench.start.segment
    segment = a + b
    at_a, at_b = bench.at(a), bench.at(b)
    far = (0.55 + 0.45 * part) * bench.far(a, b)
    c = bench.place(segment, toward(at_a, at_b, far), "CDEF")
    first = bench.arc(a, (a, c))
    second = bench.arc(b, (a, c))
    bench.step("halve_arcs", a=a, b=b, c=c)
    up = beside(at_a, at_b, True)
    down = beside(at_a, at_b, False)
    d = bench.meet(first, second, up, "DEFG")
    e = bench.meet(first, second, down, "EFGH")
    bench.step("halve_crossings", a=a, b=b, d=d, e=e)
    line = bench.straight("line", "r", d, e)
    bench.meet(segment, line, ((at_a[0] + at_b[0]) / 2, (at_a[1] + at_b[1]) / 2), "M")
    bench.step("halve_line", d=d, e=e, m=bench.moves[-1].name)
    return line


def perpendicular(bench: Bench, part: float) -> str:
    p, c, d, spot = perpendicular_marks(bench, part)
    bench.step("perpendicular_arc", p=p, c=c, d=d)
    second = bench.arc(c, (c, d))
    third = bench.arc(d, (c, d))
    e = bench.meet(second, third, spot, "EFGH")
    bench.step("perpendicular_from_both", c=c, d=d, e=e)
    answer = bench.straight("line", "r", p, e)
    bench.step("perpendicular_line", p=p, e=e)
    return answer
