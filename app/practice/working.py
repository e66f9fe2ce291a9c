"""Lines of working, one under the other: does each say the same as the one before, and if not, why not?

For one unknown a line's *solutions* are a set of roots, exact: a rational number, or the monic quadratic
(p, q) of x² + px + q that has no rational root (its two irrational roots go together). For several
unknowns the equations are linear and a line is judged by the *span* of the equations that the problem gives.

The solution sets decide; the guess at the slip (`slips.py`) only explains.

A line may speak of angles (`m∠2 = 78`, `∠2 + ∠5 = 180`): an angle stands for the measure that the problem gives it.
A line that can't be read, or that speaks of an angle whose measure isn't given, is said to be so and isn't judged;
scratch work is no answer.
"""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction

from app.figure.faults import Fault
from app.practice.algebra import Root, Roots, Span, roots
from app.practice.answers import Equation, Expression, Line, Tree, read_expression, read_line
from app.practice.polynomials import Poly, add, multiply, scale, show_poly
from app.practice.slips import name_slip

__all__ = ["Row", "Working", "check_working", "solutions"]

# More lines than any exercise here needs; a longer paste is refused before it is read.
MOST_LINES = 20


@dataclass(frozen=True, slots=True)
class Row:
    """What is said of one line. `code` is a key of the practice catalogue, `fields` its blanks; `ok` is None where the
    line isn't judged.
    """

    ok: bool | None
    code: str
    fields: dict[str, object] = field(default_factory=dict)
    slip: str | None = None


@dataclass(frozen=True, slots=True)
class Working:
    rows: tuple[Row, ...]
    first_wrong: int | None  # index of the first line that does not follow
    values: dict[str, Fraction]  # what the last line that follows fixes, if it says "x = number"


def difference(equation: Equation) -> Poly:
    """The polynomial that is zero exactly when the equation holds."""
    return add(equation.left.terms, scale(equation.right.terms, Fraction(-1)))


def _roots(p: Poly, x: str) -> Roots:
    """The real roots of a polynomial in one letter."""
    zero = Fraction(0)
    return roots(p.get((x, x), zero), p.get((x,), zero), p.get((), zero))


def solutions(line: Line) -> Roots:
    """The solution set of a line in at most one letter. Raises Fault for two letters."""
    if len(line.letters) > 1:
        raise Fault("practice.one_letter", "working", at=0, place=1, letters=", ".join(line.letters))
    x = line.letters[0] if line.letters else "x"
    union: frozenset[Root] = frozenset()
    for case in line.cases:
        both: Roots = None
        for equation in case:
            both = _common(both, _roots(difference(equation), x))
        if both is None:
            return None
        union |= both
    return union


def check_working(
    lines: Sequence[object],
    *,
    start: Sequence[Poly] = (),
    allowed: Callable[[dict[str, Fraction]], bool] | None = None,
    angles: Mapping[str, Poly] | None = None,
) -> Working:
    """Judge each line against the one before it.

    `start`: polynomials that are zero by the figure; the first line must say the same. `allowed` tells
    whether values make a figure that can be (every angle between 0 and 180), so that a root may be dropped.
    `angles`: the measures that the problem gives, by the angles' names. Raises Fault for too many lines.
    """
    if len(lines) > MOST_LINES:
        raise Fault("practice.many_lines", "working", most=MOST_LINES)
    asked = {letter for p in start for m in p for letter in m}
    measures = {f"∠{name}": read_expression(show_poly(poly)) for name, poly in (angles or {}).items()}
    read = [_read(text, asked, measures) for text in lines]
    letters = asked | {letter for line in read if isinstance(line, Line) for letter in line.letters}
    if len(letters) <= 1:
        return _one_unknown(read, start, allowed or (lambda values: True))
    return _several(read, start)


def _read(text: object, asked: set[str], measures: Mapping[str, Expression]) -> Line | Row:
    """The line with measures for its angles, or why it isn't judged."""
    try:
        line = read_line(text)
    except Fault as fault:
        return Row(None, fault.code.removeprefix("practice."), dict(fault.fields))
    plain = [name for name in line.letters if not name.startswith("∠")]
    if len(asked) == 1 and set(plain) - asked:
        return Row(None, "one_letter", {"letters": ", ".join(plain)})
    spoken = [name for name in line.letters if name.startswith("∠")]
    if not spoken:
        return line
    strange = [name for name in spoken if name not in measures]
    if strange:
        return Row(None, "line_angle", {"angle": strange[0]})
    cases = tuple(
        tuple(Equation(_measured(e.left, measures), _measured(e.right, measures)) for e in case) for case in line.cases
    )
    polys = [side.terms for case in cases for e in case for side in (e.left, e.right)]
    if any(len(m) > 2 for p in polys for m in p):
        return Row(None, "line_product")
    letters = {letter for p in polys for m in p for letter in m}
    return Line(cases, tuple(sorted(letters)))


def _measured(side: Expression, measures: Mapping[str, Expression]) -> Expression:
    total: Poly = {}
    for monomial, k in side.poly:
        part: Poly = {(): k}
        for letter in monomial:
            part = multiply(part, measures[letter].terms if letter in measures else {(letter,): Fraction(1)})
        total = add(total, part)
    return Expression(_grown(side.tree, measures), tuple(sorted((m, k) for m, k in total.items() if k)))


def _grown(tree: Tree, measures: Mapping[str, Expression]) -> Tree:
    if tree.letter in measures:
        return measures[tree.letter].tree
    return Tree(tree.op, tuple(_grown(part, measures) for part in tree.parts), tree.value, tree.letter)


def _one_unknown(
    read: list[Line | Row], start: Sequence[Poly], allowed: Callable[[dict[str, Fraction]], bool]
) -> Working:
    rows: list[Row] = []
    known: Roots = _start_roots(start)
    have = bool(start)
    before: Line | None = None
    wrong: int | None = None
    values: dict[str, Fraction] = {}
    for i, line in enumerate(read):
        if isinstance(line, Row):
            rows.append(line)
            continue
        now = solutions(line)
        # Numbers alone, or an identity such as a given said again: it says nothing of x.
        if not line.letters or now is None:
            row = Row(now is None, "line_true" if now is None else "line_false")
        elif not have:
            row = Row(True, "line_first")
        elif now == known:
            row = Row(True, "line_same" if before else "line_setup")
        else:
            row = _judge_change(before, line, known, now, allowed)
        rows.append(row)
        if not row.ok and wrong is None:
            wrong = i
        if line.letters and now is not None:
            # Go on from what was written, so that one slip is named once.
            known, have, before = now, True, line
            if wrong is None:
                values = _fixed(line)
    return Working(tuple(rows), wrong, values)


def _start_roots(start: Sequence[Poly]) -> Roots:
    both: Roots = None
    for p in start:
        both = _common(both, _roots(p, next((m[0] for m in p if m), "x")))
    return both


def _common(one: Roots, other: Roots) -> Roots:
    """The numbers in both."""
    return other if one is None else one if other is None else one & other


def _judge_change(
    before: Line | None, line: Line, known: Roots, now: Roots, allowed: Callable[[dict[str, Fraction]], bool]
) -> Row:
    x = line.letters[0]
    if before is None:
        return Row(False, "line_not_figure")
    if known is not None and now is not None and now < known:
        lost = sorted(r for r in known - now if isinstance(r, Fraction))
        if len(lost) == len(known - now) and all(not allowed({x: r}) for r in lost):
            return Row(True, "line_dropped", {"letter": x, "value": lost[0]})
        if lost:
            return Row(False, "line_lost", {"letter": x, "value": lost[0]}, "lost_root")
    slip = name_slip(before, line)
    if slip is not None:
        return Row(False, f"slip_{slip.name}", slip.fields, slip.name)
    return _evidence(before, x, known, now)


def _evidence(before: Line, x: str, known: Roots, now: Roots) -> Row:
    """No slip recognised: put a value of the new line into the line above and show what comes out."""
    new = sorted(r for r in (now or frozenset()) - (known or frozenset()) if isinstance(r, Fraction))
    if new and len(before.cases) == 1 and len(before.cases[0]) == 1:
        equation = before.cases[0][0]
        left, right = (value_at(side.terms, {x: new[0]}) for side in (equation.left, equation.right))
        return Row(False, "line_evidence", {"letter": x, "value": new[0], "left": left, "right": right})
    return Row(False, "line_other")


def value_at(p: Poly, values: dict[str, Fraction]) -> Fraction:
    total = Fraction(0)
    for monomial, k in p.items():
        for letter in monomial:
            k *= values[letter]
        total += k
    return total


def _fixed(line: Line) -> dict[str, Fraction]:
    """{"x": 12} where the line is nothing but "x = 12" (and "y = 5")."""
    if len(line.cases) != 1:
        return {}
    found: dict[str, Fraction] = {}
    for equation in line.cases[0]:
        for name, value in ((equation.left, equation.right), (equation.right, equation.left)):
            if name.tree.op == "letter" and not set(value.terms) - {()}:
                found[name.tree.letter] = value.terms.get((), Fraction(0))
    return found


def _several(read: list[Line | Row], start: Sequence[Poly]) -> Working:
    """Several unknowns: each line must follow from the equations known so far (a linear span)."""
    said = [difference(e) for line in read if isinstance(line, Line) for case in line.cases for e in case]
    span = Span((*sorted({m for p in (*start, *said) for m in p if m}), ()))
    for p in start:
        span.put(p)
    rows: list[Row] = []
    wrong: int | None = None
    values: dict[str, Fraction] = {}
    for i, line in enumerate(read):
        if isinstance(line, Row):
            rows.append(line)
            continue
        polys = [difference(e) for e in line.cases[0]]
        if len(line.cases) > 1 or any(len(m) > 1 for p in polys for m in p):
            rows.append(Row(None, "linear_only"))
            continue
        bad = [p for p in polys if not span.has(p)]
        if not bad:
            rows.append(Row(True, "line_follows"))
        elif not start and wrong is None and not any(set(span.rest(p)) == {()} for p in bad):
            rows.append(Row(True, "line_first"))
        else:
            rows.append(Row(False, "line_not_follow", {"equation": show_poly(bad[0]) + " = 0"}))
            wrong = i if wrong is None else wrong
        for p in bad:
            span.put(p)
        if wrong is None:
            values.update(_fixed(line))
    return Working(tuple(rows), wrong, values)
