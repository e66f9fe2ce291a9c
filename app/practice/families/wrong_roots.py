"""What the known mistakes make of a problem with an unknown."""

from __future__ import annotations

from fractions import Fraction

from app.practice.families.common import check_traps
from app.practice.families.problems import Problem, at_x, linear, relation_poly, root_of
from app.practice.polynomials import Poly

__all__ = ["traps_of"]


def traps_of(
    problem: Problem, level: int, key: dict[str, tuple[str, ...]], angle: Fraction
) -> dict[str, dict[str, str]] | None:
    """The answers of the known mistakes; None when one would give the right answer, or two the same."""
    p, q = problem.at_p.poly, problem.at_q.poly
    field = "angle" if "angle" in key else "x"
    found: dict[str, Fraction] = {}

    def put(name: str, x: Fraction | None) -> None:
        if x is not None:
            found[name] = at_x(q, x) if field == "angle" else x

    swapped = "supplementary" if problem.relation == "congruent" else "congruent"
    name = "supplementary-for-equal" if problem.relation == "congruent" else "equal-for-supplementary"
    if level in (1, 2, 3):
        root = root_of(relation_poly(swapped, p, q))
        if root is None:
            return None
        put(name, root)
        if problem.relation == "supplementary":
            put("ninety-for-180", root_of(relation_poly("supplementary", p, q, total=90)))
        put("sign-kept", _sign_kept(problem.relation, p, q))
        if level == 3:
            head = problem.at_p.text.split("(")
            k = int(head[0])
            inside = p.get((), Fraction(0)) / k
            put("first-term-only", root_of(relation_poly(problem.relation, linear(k, int(inside)), q)))
            found["unknown-for-angle"] = problem.x
    if level == 5 and problem.thrown is not None:
        found["impossible-root"] = problem.thrown
    if level == 4 and problem.y is not None:
        traps = {"unknowns-swapped": {"x": str(problem.y), "y": str(problem.x)}}
        other = _other_pair(problem, swapped)
        if other is None or other == (problem.x, problem.y):
            return None
        traps[name] = {"x": str(other[0]), "y": str(other[1])}
        return check_traps(traps, key)
    texts = {m: {field: str(v)} for m, v in found.items()}
    if level in (1, 2, 5):
        sizes = dict.fromkeys(str(at_x(poly, problem.x)) for poly in (p, q) if set(poly) - {()})
        texts["angle-for-unknown"] = {field: "|".join(sizes)}
    return check_traps(texts, key)


def _sign_kept(relation: str, p: Poly, q: Poly) -> Fraction | None:
    """x when the constant is carried over to the other side with its sign kept."""
    a, b = p.get(("x",), Fraction(0)), q.get(("x",), Fraction(0))
    c, d = p.get((), Fraction(0)), q.get((), Fraction(0))
    if relation == "congruent":
        k, right = abs(a - b), d + c  # ax + c = bx + d read as (a - b)x = d + c
    else:
        k, right = a + b, 180 + c + d  # ax + c + bx + d = 180 read as (a + b)x = 180 + c + d
    return right / k if k else None


def _other_pair(problem: Problem, relation: str) -> tuple[Fraction, Fraction] | None:
    assert problem.third is not None
    one = relation_poly(relation, problem.at_p.poly, problem.at_q.poly)
    two = relation_poly("supplementary", problem.at_p.poly, problem.third[1].poly)
    (a, b, e), (c, d, f) = (
        (r.get(("x",), Fraction(0)), r.get(("y",), Fraction(0)), -r.get((), Fraction(0))) for r in (one, two)
    )
    det = a * d - b * c
    return ((e * d - b * f) / det, (a * f - e * c) / det) if det else None
