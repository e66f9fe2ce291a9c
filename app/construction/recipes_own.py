"""The way through each task with a compass that collapses when it is lifted: circles by a center and a point on them.

Source: Euclid I.1 and I.2 (a length moved without carrying it), I.9 to I.12, I.23 and I.31. Two circles through each
other's centers have one opening for nothing, so that is where a second equal arc comes from.
"""

from __future__ import annotations

from collections.abc import Callable
from math import hypot

from app.construction.arithmetic import P
from app.construction.bench import (
    Bench,
    Recipe,
    beside,
    bisect_angle_marks,
    cross_at,
    line_name,
    perpendicular_marks,
    rhombus_marks,
    transversal_foot,
)
from app.construction.plane import Circle
from app.construction.start import Start

__all__ = ["own_recipe"]

SAME = 1e-9
Way = Callable[[Bench, float], str]


def own_recipe(start: Start, route: str, part: float) -> Recipe:
    """The moves that do the task with a collapsing compass; `part` as in recipe()."""
    bench = Bench(start)
    by_route: dict[str, Way] = {"corresponding": corresponding, "alternate interior": alternate}
    ways: dict[str, Way] = {
        "copy an angle": copy_angle,
        "copy a segment": copy_segment,
        "bisect an angle": bisect_angle,
        "bisect a segment": bisect_segment,
        "perpendicular through a point": perpendicular,
        "parallel through a point": by_route.get(route, rhombus),
    }
    result = ways[start.task](bench, part)
    return Recipe(start, tuple(bench.moves), result, tuple(bench.steps), "collapsing")


def circle(bench: Bench, center: str, through: str) -> str:
    """The circle about a point through another; the one that is there already, where it is."""
    drawing = bench.drawing()
    (cx, cy), (px, py) = drawing.point(center), drawing.point(through)
    s = (px - cx) ** 2 + (py - cy) ** 2
    for name, thing in drawing.values.items():
        if isinstance(thing, Circle) and abs(thing.s - s) < SAME * s and square_far(thing.c, (cx, cy)) < SAME**2 * s:
            return name
    return bench.arc(center, (center, through))


def square_far(p: P, q: P) -> float:
    return float((p[0] - q[0]) ** 2 + (p[1] - q[1]) ** 2)


def ahead(a: P, b: P, far: float) -> P:
    """The point `far` beyond b, coming from a."""
    long = hypot(b[0] - a[0], b[1] - a[1])
    return b[0] + (b[0] - a[0]) * far / long, b[1] + (b[1] - a[1]) * far / long


def carry(bench: Bench, to: str, a: str, b: str) -> tuple[str, str]:
    """Euclid I.2: the length ab brought to `to`. The end of it, H, and the tip of the triangle that carried it.

    The triangle stands on the end of the span that is farther away: the other one may be the very point.
    """
    x, y = (a, b) if bench.far(to, a) >= bench.far(to, b) else (b, a)
    first, second = circle(bench, to, x), circle(bench, x, to)
    at_to, at_x = bench.at(to), bench.at(x)
    # Of both tips the one away from the rest of the figure.
    tips = [beside(at_x, at_to, left) for left in (True, False)]
    others = [bench.at(name) for name in bench.start.points]
    middle = sum(p[0] for p in others) / len(others), sum(p[1] for p in others) / len(others)
    away = max(tips, key=lambda tip: square_far(tip, middle))
    f = bench.meet(first, second, away, "FGHJ")
    bench.step("own_triangle", d=to, x=x, f=f)
    one = bench.straight("ray", "s", f, x)
    two = bench.straight("ray", "u", f, to)
    third = circle(bench, x, y)
    g = bench.meet(third, one, ahead(bench.at(f), at_x, bench.far(x, y)), "GHJK")
    bench.step("own_length", x=x, y=y, g=g, f=f, d=to)
    large = circle(bench, f, g)
    h = bench.meet(large, two, ahead(bench.at(f), at_to, bench.far(x, y)), "HJKL")
    bench.step("own_carried", f=f, g=g, h=h, d=to, x=x, y=y)
    return h, f


def copy_segment(bench: Bench, part: float) -> str:
    a, b = bench.start.segment
    p = bench.start.point
    h, _ = carry(bench, p, a, b)
    answer = bench.straight("segment", "k", p, h)
    bench.step("own_segment_side", p=p, h=h, a=a, b=b)
    return answer


def copy_angle(bench: Bench, part: float) -> str:
    p, v, q = bench.start.angle
    w, s = bench.start.ray
    first = circle(bench, v, w)
    far = bench.far(v, w)
    at_v = bench.at(v)
    b, c = (
        bench.meet(first, v + end, toward_far(at_v, bench.at(end), far), letters)
        for end, letters in ((p, "BCDE"), (q, "CDEF"))
    )
    bench.step("own_copy_arc", v=v, w=w, m=b, n=c)
    second = circle(bench, w, v)
    d = bench.meet(second, w + s, toward_far(bench.at(w), bench.at(s), far), "DEFG")
    bench.step("own_copy_same_arc", v=v, w=w, d=d)
    h, _ = carry(bench, d, b, c)
    third = circle(bench, d, h)
    e = bench.meet(second, third, beside(bench.at(w), bench.at(d), cross_at(bench, v, p, q) > 0), "EFGH")
    bench.step("own_span", d=d, h=h, m=b, n=c, e=e)
    ray = bench.straight("ray", "r", w, e)
    bench.step("copy_side", w=w, e=e)
    return ray


def toward_far(a: P, b: P, far: float) -> P:
    long = hypot(b[0] - a[0], b[1] - a[1])
    return a[0] + (b[0] - a[0]) * far / long, a[1] + (b[1] - a[1]) * far / long


def corresponding(bench: Bench, part: float) -> str:
    return parallel(bench, other_way=False)


def alternate(bench: Bench, part: float) -> str:
    return parallel(bench, other_way=True)


def parallel(bench: Bench, *, other_way: bool) -> str:
    """The angle at Q copied to P, both arcs with the opening from P to Q; as parallel() of the modern compass."""
    p = bench.start.point
    q, t = transversal_foot(bench)
    bench.step("parallel_transversal", p=p, q=q)
    at_p, at_q = bench.at(p), bench.at(q)
    far = bench.far(p, q)
    a, b = (bench.at(name) for name in bench.start.line)
    first = circle(bench, q, p)
    n = bench.meet(first, line_name(bench), (at_q[0] + (b[0] - a[0]), at_q[1] + (b[1] - a[1])), "NCDE")
    bench.step("own_parallel_arc", p=p, q=q, n=n)
    second = circle(bench, p, q)
    d = q if other_way else bench.meet(second, t, ahead(at_q, at_p, far), "CDEF")
    bench.step("own_parallel_same_arc", p=p, q=q, d=d)
    h, _ = carry(bench, d, p, n)
    third = circle(bench, d, h)
    e = bench.meet(second, third, beside(at_p, bench.at(d), cross_at(bench, q, p, n) > 0), "DEFG")
    bench.step("own_span", m=p, n=n, d=d, h=h, e=e)
    line = bench.straight("line", "r", p, e)
    bench.step("parallel_line", p=p, e=e)
    return line


def rhombus(bench: Bench, part: float) -> str:
    p, q, n, spot = rhombus_marks(bench, part)
    bench.step("rhombus_arc", p=p, q=q, n=n)
    e = bench.meet(circle(bench, p, q), circle(bench, n, q), spot, "DEFG")
    bench.step("own_rhombus_from_point", p=p, q=q, n=n, e=e)
    line = bench.straight("line", "r", p, e)
    bench.step("parallel_line", p=p, e=e)
    return line


def bisect_angle(bench: Bench, part: float) -> str:
    v, b, c, spot = bisect_angle_marks(bench, part)
    bench.step("bisect_arc", v=v, m=b, n=c)
    d = bench.meet(circle(bench, b, c), circle(bench, c, b), spot, "DEFG")
    bench.step("own_from_both", m=b, n=c, e=d)
    ray = bench.straight("ray", "r", v, d)
    bench.step("bisect_ray", v=v, d=d)
    return ray


def bisect_segment(bench: Bench, part: float) -> str:
    a, b = bench.start.segment
    at_a, at_b = bench.at(a), bench.at(b)
    first, second = circle(bench, a, b), circle(bench, b, a)
    bench.step("own_halve_arcs", a=a, b=b)
    d = bench.meet(first, second, beside(at_a, at_b, True), "DEFG")
    e = bench.meet(first, second, beside(at_a, at_b, False), "EFGH")
    bench.step("halve_crossings", a=a, b=b, d=d, e=e)
    line = bench.straight("line", "r", d, e)
    m = bench.meet(a + b, line, ((at_a[0] + at_b[0]) / 2, (at_a[1] + at_b[1]) / 2), "M")
    bench.step("halve_line", d=d, e=e, m=m)
    return line


def perpendicular(bench: Bench, part: float) -> str:
    p, c, d, spot = perpendicular_marks(bench, part)
    bench.step("perpendicular_arc", p=p, c=c, d=d)
    e = bench.meet(circle(bench, c, d), circle(bench, d, c), spot, "EFGH")
    bench.step("own_from_both", m=c, n=d, e=e)
    answer = bench.straight("line", "r", p, e)
    bench.step("perpendicular_line", p=p, e=e)
    return answer
