"""Points, straight objects and circles, and where two of them cross; for numbers of either kind.

Letters: p, q, x, y are points (pairs); a straight object runs through p and q, and `at(t)` is p + t (q - p);
a circle has a center c and the square s of its radius, so that carrying an opening takes no root.
"""

from __future__ import annotations

from dataclasses import dataclass

from app.construction.arithmetic import Arithmetic, N, P

__all__ = ["Circle", "Straight", "Thing", "cross", "crossings", "dot", "foot", "minus", "square"]


def minus(p: P, q: P) -> P:
    return p[0] - q[0], p[1] - q[1]


def dot(u: P, v: P) -> N:
    return u[0] * v[0] + u[1] * v[1]


def cross(u: P, v: P) -> N:
    """Positive where v lies counterclockwise of u."""
    return u[0] * v[1] - u[1] * v[0]


def square(u: P) -> N:
    return dot(u, u)


@dataclass(frozen=True, slots=True)
class Straight:
    """A line, ray (from p) or segment through p and q."""

    kind: str
    p: P
    q: P

    @property
    def way(self) -> P:
        return minus(self.q, self.p)

    def at(self, t: N) -> P:
        way = self.way
        return self.p[0] + t * way[0], self.p[1] + t * way[1]

    def along(self, x: P) -> N:
        """The t of the point of the line nearest to x."""
        return dot(minus(x, self.p), self.way) / square(self.way)

    def reaches(self, t: N, slack: N) -> bool:
        """Whether at(t) lies on the object itself, not only on the line that carries it."""
        if self.kind == "line":
            return True
        return bool(t >= -slack and (self.kind == "ray" or t <= 1 + slack))


@dataclass(frozen=True, slots=True)
class Circle:
    c: P
    s: N


Thing = Straight | Circle


def crossings(a: Thing, b: Thing, use: Arithmetic) -> list[P] | None:
    """Where a and b cross, straight objects taken as whole lines: none, one or two points; None where a and b
    are one and the same.

    The order is what keeps a choice the same choice while the figure moves: for a straight object and a
    circle the order along the straight object; for two circles first the one left of the way from a's center
    to b's.
    """
    if isinstance(a, Straight):
        return _lines(a, b, use) if isinstance(b, Straight) else _line_circle(a, b, use)
    if isinstance(b, Straight):
        return _line_circle(b, a, use)
    return _circles(a, b, use)


def _lines(a: Straight, b: Straight, use: Arithmetic) -> list[P] | None:
    u, v, between = a.way, b.way, minus(b.p, a.p)
    turn = cross(u, v)
    if abs(turn) <= use.tiny * use.root(square(u) * square(v)):
        off = cross(between, u)
        return None if abs(off) <= use.tiny * (square(u) + square(between)) else []
    return [a.at(cross(between, v) / turn)]


def _line_circle(a: Straight, b: Circle, use: Arithmetic) -> list[P]:
    long = square(a.way)
    middle = a.along(b.c)
    away = square(minus(b.c, a.at(middle)))
    under = (b.s - away) / long
    size = (b.s + away) / long
    if under < -use.tiny * size:
        return []
    if under <= use.tiny * size:
        return [a.at(middle)]
    half = use.root(under)
    return [a.at(middle - half), a.at(middle + half)]


def _circles(a: Circle, b: Circle, use: Arithmetic) -> list[P] | None:
    way = minus(b.c, a.c)
    far = square(way)
    if far <= use.tiny * use.tiny * (a.s + b.s):
        return None if abs(a.s - b.s) <= use.tiny * (a.s + b.s) else []
    along = (far + a.s - b.s) / (2 * far)
    up = a.s / far - along * along
    size = a.s / far + along * along
    if up < -use.tiny * size:
        return []
    x, y = a.c[0] + along * way[0], a.c[1] + along * way[1]
    if up <= use.tiny * size:
        return [(x, y)]
    rise = use.root(up)
    return [(x - rise * way[1], y + rise * way[0]), (x + rise * way[1], y - rise * way[0])]


def foot(of: Thing, x: P, use: Arithmetic) -> P | None:
    """The point of the object nearest to x; None for the center of a circle, which is as near to all."""
    if isinstance(of, Straight):
        t = of.along(x)
        if of.kind != "line" and t < 0:
            t = 0 * t
        if of.kind == "segment" and t > 1:
            t = 0 * t + 1
        return of.at(t)
    out = minus(x, of.c)
    size = square(out)
    if size <= use.tiny * use.tiny * of.s:
        return None
    k = use.root(of.s / size)
    return of.c[0] + k * out[0], of.c[1] + k * out[1]
