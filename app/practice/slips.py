"""Which slip turns one line of working into the next: a guess that explains, never a judgement.

Only one-equation lines are looked at. Each slip is a test on the two equations (L = R, then L' = R'); the
first that fits is named. Evidence: common practice, no source (lists of algebra slips in every staff room).
"""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, field
from fractions import Fraction

from app.practice.answers import Equation, Line, Tree
from app.practice.polynomials import Poly, add, multiply, scale, show_poly

__all__ = ["Slip", "name_slip"]


@dataclass(frozen=True, slots=True)
class Slip:
    name: str
    fields: dict[str, object] = field(default_factory=dict)


def name_slip(before: Line, after: Line) -> Slip | None:
    """The slip between two lines, or None when no known one fits."""
    if any(len(line.cases) != 1 or len(line.cases[0]) != 1 for line in (before, after)):
        return None
    old, new = before.cases[0][0], after.cases[0][0]
    for test in (_brackets, _unlike, _sign, _one_side, _divided_wrong):
        found = test(old, new)
        if found is not None:
            return found
    return None


def _minus(p: Poly, q: Poly) -> Poly:
    return add(p, scale(q, Fraction(-1)))


def _same(old: Poly, new: Poly) -> bool:
    """Zero sets alike because one is a multiple of the other."""
    if not old or not new:
        return old == new
    key = next(iter(old))
    return bool(new.get(key)) and scale(old, new[key] / old[key]) == new


def _misread(tree: Tree, how: str) -> Poly:
    """The polynomial that comes out when one rule is applied wrongly throughout."""
    if tree.op == "num":
        return {(): tree.value} if tree.value else {}
    if tree.op == "letter":
        return {(tree.letter,): Fraction(1)}
    parts = [_misread(part, how) for part in tree.parts]
    if tree.op == "add":
        total: Poly = {}
        for part in parts:
            total = add(total, part)
        return total
    if tree.op == "neg":
        inner = tree.parts[0]
        if how == "minus" and inner.op == "add":
            return add(parts[0], scale(_misread(inner.parts[0], how), Fraction(-2)))
        if how == "minus" and inner.op == "mul" and inner.parts[1].op == "add":
            return _first_only(inner, [_misread(p, how) for p in inner.parts], how, Fraction(-1))
        return scale(parts[0], Fraction(-1))
    if tree.op == "div":
        value = parts[1].get((), Fraction(0))
        return scale(parts[0], 1 / value) if value else {}
    if tree.op == "power":
        inner = tree.parts[0]
        if how == "square" and tree.value == 2 and inner.op == "add":
            total = {}
            for term in inner.parts:
                one = _misread(term, how)
                total = add(total, multiply(one, one))
            return total
        total = {(): Fraction(1)}
        for _ in range(int(tree.value)):
            total = multiply(total, parts[0])
        return total
    if how == "first" and tree.parts[1].op == "add":
        return _first_only(tree, parts, how, Fraction(1))
    return multiply(parts[0], parts[1])


def _first_only(tree: Tree, parts: list[Poly], how: str, sign: Fraction) -> Poly:
    """k(a + b) read as ka + b (first), or -k(a + b) as -ka + kb (minus)."""
    inner = tree.parts[1]
    head = _misread(inner.parts[0], how)
    tail = _minus(parts[1], head)
    if how == "first":
        return add(multiply(parts[0], head), tail)
    return add(scale(multiply(parts[0], head), sign), multiply(parts[0], tail))


def _wholly(equation: Equation, how: str) -> Poly:
    return _minus(_misread(equation.left.tree, how), _misread(equation.right.tree, how))


def _brackets(old: Equation, new: Equation) -> Slip | None:
    """3(x + 4) became 3x + 4; -(x + 4) became -x + 4; (x + 4)² became x² + 16."""
    now = _minus(new.left.terms, new.right.terms)
    right = _wholly(old, "right")
    for how in ("first", "minus", "square"):
        wrong = _wholly(old, how)
        if wrong != right and _same(wrong, now):
            return Slip(f"bracket_{how}")
    return None


def _unlike(old: Equation, new: Equation) -> Slip | None:
    """3x + 10 became 13x."""
    for was, now, other, other_now in (
        (old.left, new.left, old.right, new.right),
        (old.right, new.right, old.left, new.left),
    ):
        p, q = was.terms, now.terms
        letters = [m for m in p if len(m) == 1]
        if len(letters) != 1 or not p.get(()) or len(p) != 2:
            continue
        lumped: Poly = {letters[0]: p[letters[0]] + p[()]}
        if q == lumped and other.terms == other_now.terms:
            return Slip("unlike", {"sum": show_poly(p), "lump": show_poly(lumped), "letter": letters[0][0]})
    return None


def _moves(old: Equation, new: Equation) -> tuple[Poly, Poly]:
    return _minus(new.left.terms, old.left.terms), _minus(new.right.terms, old.right.terms)


def _sign(old: Equation, new: Equation) -> Slip | None:
    """A term crossed over with its sign kept: 10 taken from the left, 10 added on the right."""
    left, right = _moves(old, new)
    if left and scale(left, Fraction(-1)) == right:
        size = left if next(iter(left.values())) > 0 else right
        given, taken = ("left", "right") if size is left else ("right", "left")
        return Slip("sign", {"term": show_poly(size), "from_side": taken, "to_side": given})
    return None


def _one_side(old: Equation, new: Equation) -> Slip | None:
    """One side changed, the other left as it was."""
    left, right = _moves(old, new)
    if bool(left) == bool(right):
        return None
    side = "left" if left else "right"
    was, now = (old.left, new.left) if left else (old.right, new.right)
    factor = _factor(was.terms, now.terms)
    if factor is not None:
        return Slip("one_side_times", {"side": side, "factor": factor})
    change = left or right
    if set(change) == {()}:
        k = change[()]
        return Slip("one_side_added" if k > 0 else "one_side_taken", {"side": side, "amount": abs(k)})
    return Slip("one_side", {"side": side, "was": show_poly(was.terms), "now": show_poly(now.terms)})


def _factor(p: Poly, q: Poly) -> Fraction | None:
    """k with q = kp, if there is one and p is more than a number."""
    if not p or not q or set(p) == {()}:
        return None
    key = next(iter(p))
    k = q.get(key, Fraction(0)) / p[key]
    return k if k and scale(p, k) == q else None


def _divided_wrong(old: Equation, new: Equation) -> Slip | None:
    """One side was divided; the other had the number taken away (3x = 60, then x = 57) or was multiplied."""
    for a, b, c, d in _sides(old, new):
        k = _factor(a, b)
        if k is None or k == 1 or set(c) - {()} or set(d) - {()}:
            continue
        have, got = c.get((), Fraction(0)), d.get((), Fraction(0))
        if have - 1 / k == got:
            return Slip("divide_subtract", {"number": 1 / k, "value": have})
        if have * k == -got and got:
            return Slip("divide_sign", {"number": 1 / k})
        if have / k == got:
            return Slip("divide_multiply", {"number": 1 / k, "value": have})
    return None


def _sides(old: Equation, new: Equation) -> Iterator[tuple[Poly, Poly, Poly, Poly]]:
    yield old.left.terms, new.left.terms, old.right.terms, new.right.terms
    yield old.right.terms, new.right.terms, old.left.terms, new.left.terms
