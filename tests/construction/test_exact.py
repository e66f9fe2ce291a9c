"""Each recipe proved once and for all: its claim as a polynomial identity, checked by sympy.

The coordinates of every point are unknowns bound by the equations of the compass ("this far from that center"). A claim is
proved when a multiple of it lies in the ideal of those equations, the multiplier being a length that is not 0 (two points of
the construction apart). Euclid: I.9, I.10, I.11 and I.12, I.23, I.31.
"""

from __future__ import annotations

import pytest

sympy = pytest.importorskip("sympy")
from sympy import Rational, expand, groebner, reduced, symbols  # noqa: E402


def square(p, q):
    return (p[0] - q[0]) ** 2 + (p[1] - q[1]) ** 2


def dot(o, p, q):
    return (p[0] - o[0]) * (q[0] - o[0]) + (p[1] - o[1]) * (q[1] - o[1])


def cross(o, p, q):
    return (p[0] - o[0]) * (q[1] - o[1]) - (p[1] - o[1]) * (q[0] - o[0])


def follows(claim, rules, unknowns) -> bool:
    basis = groebner(rules, *unknowns, order="grevlex")
    _, rest = reduced(expand(claim), list(basis.exprs), *unknowns, order="grevlex")
    return rest == 0


def test_equal_spans_make_equal_angles() -> None:
    """I.23 by I.8: VM = VN = WD = WE and MN = DE give equal cosines, so equal angles (law of cosines, expanded)."""
    r, m, n, d, e = symbols("r m n d e")
    x, y, z, w = symbols("x y z w")
    v_m, v_n, w_d, w_e = (m, x), (n, y), (d, z), (e, w)
    origin = (0, 0)
    rules = [square(p, origin) - r**2 for p in (v_m, v_n, w_d, w_e)] + [square(v_m, v_n) - square(w_d, w_e)]

    assert follows(dot(origin, v_m, v_n) - dot(origin, w_d, w_e), rules, (m, n, d, e, x, y, z, w, r))


def test_the_copied_angle_on_the_right_side_makes_the_line_parallel() -> None:
    """I.31: Q at the origin with M on the transversal (the y-axis) and N on the line; P = (0, p), D = (0, p + r).

    E is at distance r from P and MN from D: its height above P equals N's above Q, and its distance from the transversal
    equals N's up to sign. On the same side (the sign +) PE is parallel to QN; on the other it is its mirror image.
    """
    r, p, a, b, s, t = symbols("r p a b s t")
    unknowns = (s, t, a, b, p, r)
    q, m, n, at_p, d, e = (0, 0), (0, r), (a, b), (0, p), (0, p + r), (s, t)
    rules = [square(n, q) - r**2, square(e, at_p) - r**2, square(e, d) - square(n, m)]

    assert follows(r * ((t - p) - b), rules, unknowns)
    # With the height known, what is left is s² = a²: the right side s = a, the wrong one s = -a.
    assert follows(s**2 - a**2, [*rules, (t - p) - b], unknowns)
    assert expand(((t - p) * a - s * b).subs({t: p + b, s: a})) == 0
    assert expand(((t - p) * a - s * b).subs({t: p + b, s: -a})) == 2 * a * b


def test_the_rhombus_way() -> None:
    """QP = QN = PE = NE, E not Q: E is P + N - Q, so PE runs as QN does."""
    a, b, c, d, s, t = symbols("a b c d s t")
    q, p, n, e = (0, 0), (a, b), (c, d), (s, t)
    unknowns = (s, t, a, b, c, d)
    rules = [square(n, q) - square(p, q), square(e, p) - square(p, q), square(e, n) - square(p, q)]
    spread = cross(q, p, n)

    # E lies on both circles about P and N through Q; besides Q itself that leaves one point.
    assert follows(((s - a) * d - (t - b) * c) * (s**2 + t**2) * spread, rules, unknowns)


def test_bisecting_an_angle() -> None:
    """I.9: VM = VN and ME = NE put V and E on the perpendicular bisector of MN, so VE makes equal angles with both."""
    a, b, c, d, s, t = symbols("a b c d s t")
    v, m, n, e = (0, 0), (a, b), (c, d), (s, t)
    rules = [square(m, v) - square(n, v), square(m, e) - square(n, e)]

    # Equal lengths VM, VN: equal cosines mean equal dot products.
    assert follows(dot(v, m, e) - dot(v, n, e), rules, (s, t, a, b, c, d))


def test_bisecting_a_segment() -> None:
    """I.10: two points as far from A as from B; the line through them meets AB at its middle, and at right angles."""
    s, t, u, w, h = symbols("s t u w h")
    a, b, d, e = (-h, 0), (h, 0), (s, t), (u, w)
    rules = [square(d, a) - square(d, b), square(e, a) - square(e, b)]

    assert follows(cross(d, e, (0, 0)) * h**2, rules, (s, t, u, w, h))
    assert follows(((e[0] - d[0]) * (b[0] - a[0])) * h, rules, (s, t, u, w, h))


@pytest.mark.parametrize("height", [0, Rational(7, 3), symbols("k")])
def test_perpendicular_on_and_off_the_line(height: object) -> None:
    """I.11 (height 0) and I.12: PC = PD on the line and EC = ED make PE perpendicular to CD."""
    p, c, d, s, t = symbols("p c d s t")
    at_p, at_c, at_d, e = (p, height), (c, 0), (d, 0), (s, t)
    rules = [square(at_p, at_c) - square(at_p, at_d), square(e, at_c) - square(e, at_d)]
    unknowns = (s, t, p, c, d) + (() if height == 0 or height == Rational(7, 3) else (height,))

    assert follows((e[0] - at_p[0]) * (d - c) * 2, rules, unknowns)


def test_a_length_moved_without_carrying_it() -> None:
    """I.2: F is the tip of a triangle with FX = FD = s along the unit ways u and w; G lies on FX with XG = XY = g, and H on
    FD with FH = FG. Then DH = XY. What a collapsing compass does in the other tasks are the equal openings proved
    above: two circles through each other's centers have one opening, whose length is the same from either end.
    """
    ux, uy, wx, wy, s, g, k, m = symbols("ux uy wx wy s g k m")
    unknowns = (ux, uy, wx, wy, s, g, k, m)
    f, x, d, at_g, h = (0, 0), (s * ux, s * uy), (s * wx, s * wy), (k * ux, k * uy), (m * wx, m * wy)
    rules = [ux**2 + uy**2 - 1, wx**2 + wy**2 - 1, square(at_g, x) - g**2, square(h, f) - square(at_g, f)]
    # FG = FH leaves H on either side of F; beyond D it has the sign of k.
    assert follows(square(d, h) - g**2, [*rules, m - k], unknowns)
    assert not follows(square(d, h) - g**2, [*rules, m + k], unknowns)


def test_a_false_claim_is_not_proved() -> None:
    """The test can fail: without carrying the span nothing is forced."""
    r, m, n, d, e, x, y, z, w = symbols("r m n d e x y z w")
    rules = [p**2 + q**2 - r**2 for p, q in ((m, x), (n, y), (d, z), (e, w))]

    assert not follows(m * n + x * y - d * e - z * w, rules, (m, n, d, e, x, y, z, w, r))
