"""Lines of working: what follows is let through, what does not is named, with the quadratic formula as the second opinion."""

from __future__ import annotations

import random
from fractions import Fraction
from math import isqrt

import pytest
import z3

from app.figure.faults import Fault
from app.practice.algebra import Span, roots
from app.practice.answers import read_expression, read_line
from app.practice.polynomials import Poly, add, scale
from app.practice.working import check_working, solutions
from app.words import tell as say
from tests.scale import trials


def zero(left: str, right: str) -> dict[tuple[str, ...], Fraction]:
    return add(read_expression(left).terms, scale(read_expression(right).terms, Fraction(-1)))


def codes(*lines: str, start: tuple[str, str] | None = None, **more: object) -> list[str]:
    polys = [zero(*start)] if start else []
    return [row.code for row in check_working(list(lines), start=polys, **more).rows]  # type: ignore[arg-type]


@pytest.mark.parametrize(
    "lines",
    [
        ["3x + 10 = 70", "3x = 60", "x = 20"],
        ["3x + 10 = 70", "3x + 10 - 10 = 70 - 10", "3x = 60", "x = 60/3", "x = 20"],
        ["2(x + 15) = 5x - 30", "2x + 30 = 5x - 30", "60 = 3x", "20 = x", "x = 20"],
        ["(3x + 10)° + (2x + 20)° = 180°", "5x + 30 = 180", "x + 6 = 36", "x = 30"],
        ["x/2 + 10 = 40", "x + 20 = 80", "x = 60"],
        ["x² - 5x + 6 = 0", "(x - 2)(x - 3) = 0", "x - 2 = 0 or x - 3 = 0", "x = 2 or x = 3"],
        ["x² = 49", "x = 7 or x = -7"],
        ["x² - 2x - 7 = 0", "2x² - 4x - 14 = 0", "x² - 2x + 1 = 8"],
        ["180 - 65 = 115", "3x + 10 = 115", "3x = 105", "x = 35", "3(35) + 10 = 115"],
        ["x = 60/3 = 20", "x = 20"],
    ],
)
def test_good_working_is_let_through(lines: list[str]) -> None:
    found = check_working(lines)

    assert found.first_wrong is None and all(row.ok for row in found.rows), [row.code for row in found.rows]


# The slip, the line it leaves, and the code that must name it.
SLIPS = [
    (["3x + 10 = 70", "3x = 80"], "slip_sign"),
    (["3x + 10 = x + 50", "4x + 10 = 50"], "slip_sign"),
    (["5x - 20 = 60", "5x = 40"], "slip_sign"),
    (["3x + 10 = 70", "3x = 70"], "slip_one_side_taken"),
    (["3x - 10 = 70", "3x = 70"], "slip_one_side_added"),
    (["3x = 60", "x = 60"], "slip_one_side_times"),
    (["3x + 10 = 2x + 40", "x + 10 = 2x + 40"], "slip_one_side"),
    (["3x = 60", "x = 57"], "slip_divide_subtract"),
    (["3x = 60", "x = 180"], "slip_divide_multiply"),
    (["-3x = 60", "x = 20"], "slip_divide_sign"),
    (["3(x + 10) = 90", "3x + 10 = 90"], "slip_bracket_first"),
    (["3(x + 10) = 90", "3x = 80"], "slip_bracket_first"),
    (["180 - (3x + 10) = 80", "180 - 3x + 10 = 80"], "slip_bracket_minus"),
    (["180 - 2(x + 10) = 80", "180 - 2x + 20 = 80"], "slip_bracket_minus"),
    (["(x + 3)² = 100", "x² + 9 = 100"], "slip_bracket_square"),
    (["3x + 10 = 65", "13x = 65"], "slip_unlike"),
    (["65 = 3x + 10", "65 = 13x"], "slip_unlike"),
    (["x² = 5x", "x = 5"], "line_lost"),
    (["x² = 49", "x = 7"], "line_lost"),
    (["3x = 60", "x = 30"], "line_evidence"),
    (["x = 20", "20 = 30"], "line_false"),
    (["x² = 3", "2x² = 5"], "line_other"),
]


@pytest.mark.parametrize(("lines", "code"), SLIPS, ids=lambda v: v if isinstance(v, str) else " → ".join(v))
def test_the_first_line_that_does_not_follow_is_named(lines: list[str], code: str) -> None:
    found = check_working(lines)

    assert found.first_wrong == len(lines) - 1
    row = found.rows[-1]
    assert row.code == code
    sentence = say(f"practice.{row.code}", **{"side": "left side", **row.fields})
    assert sentence.endswith((".", "²")) and "{" not in sentence


def test_one_slip_is_named_once() -> None:
    found = check_working(["3x + 10 = 70", "3x = 80", "x = 80/3"])

    assert found.first_wrong == 1 and [row.ok for row in found.rows] == [True, False, True]


def test_the_set_up_is_compared_with_the_figure() -> None:
    assert codes("3x + 10 + 2x + 20 = 180", "x = 30", start=("5x + 30", "180")) == ["line_setup", "line_same"]
    assert codes("3x + 10 = 2x + 20", start=("5x + 30", "180")) == ["line_not_figure"]
    assert codes("180 - 30 = 150", "5x = 150", start=("5x + 30", "180")) == ["line_true", "line_setup"]


def test_a_root_that_no_angle_can_have_may_be_left_out_and_no_other() -> None:
    def positive(values: dict[str, Fraction]) -> bool:
        return values["x"] > 0

    lines = ["(x - 7)(x + 3) = 0", "x = 7"]
    assert codes(*lines, allowed=positive) == ["line_first", "line_dropped"]
    assert codes(*lines) == ["line_first", "line_lost"]
    assert codes("(x - 7)(x + 3) = 0", "x = -3", allowed=positive) == ["line_first", "line_lost"]


def test_two_unknowns_follow_from_the_figure_together() -> None:
    start = [zero("2x + y", "100"), zero("x + y", "70")]
    good = check_working(["2x + y = 100", "x + y = 70", "x = 30", "y = 40"], start=start)
    assert good.first_wrong is None and good.values == {"x": 30, "y": 40}
    assert (
        check_working(["2x + y = 100 and x + y = 70", "y = 100 - 2x", "x + 100 - 2x = 70"], start=start).first_wrong
        is None
    )
    assert check_working(["x + y = 70", "x = 20"], start=start).first_wrong == 1


@pytest.mark.parametrize(
    ("lines", "at", "code"),
    [
        (["3x + 10"], 0, "no_equals"),
        (["x = 3", "y ="], 1, "unfinished"),
        (["x = 3", "abc"], 1, "word"),
        (["x = 1", "x² + y = 3"], 1, "linear_only"),
        (["x = 1", "∠7 = 3"], 1, "line_angle"),
    ],
)
def test_a_line_that_cannot_be_read_is_said_and_not_judged(lines: list[str], at: int, code: str) -> None:
    found = check_working(lines)
    assert (found.rows[at].ok, found.rows[at].code) == (None, code)
    assert found.first_wrong is None
    assert all(row.ok for i, row in enumerate(found.rows) if i != at)


def test_a_line_that_cannot_be_read_hides_no_wrong_one() -> None:
    found = check_working(["3x = 60", "scrap", "x = 21"], start=[zero("3x", "60")])
    assert [row.ok for row in found.rows] == [True, None, False] and found.first_wrong == 2


def test_too_many_lines_are_a_fault() -> None:
    with pytest.raises(Fault) as fault:
        check_working(["x = 1"] * 21)
    assert fault.value.where == "working" and fault.value.sentence().endswith(".")


# A pair of consecutive interior angles: m∠2 = 3x + 6 and m∠5 = 4x - 8 sum to 180, so x = 26, m∠2 = 84, m∠5 = 96.
ANGLES = {"2": read_expression("3x + 6").terms, "5": read_expression("4x - 8").terms}
PAIR = ("3x + 6 + 4x - 8", "180")


@pytest.mark.parametrize(
    "lines",
    [
        ["∠2+∠5=180", "7x - 2 = 180", "7x = 182", "X = 26"],
        ["m∠2 + m∠5 = 180 (cons. int.)", "x = 26", "m∠2 = 84", "m∠5 = 96"],
        ["m<2 = 180 - m<5 (Consecutive Interior Angles)", "m∠2 = 3x + 6", "x = 26"],
        ["angle 2 = 84"],
        ["2x + 5x - 2 = 180 (combine like terms)", "7X = 182", "x = 182/7"],
    ],
)
def test_lines_as_students_write_them_are_let_through(lines: list[str]) -> None:
    found = check_working(lines, start=[zero(*PAIR)], angles=ANGLES)
    assert found.first_wrong is None and all(row.ok for row in found.rows), [row.code for row in found.rows]


@pytest.mark.parametrize(
    ("line", "code"),
    [
        ("m∠2 = m∠5", "line_not_figure"),
        ("∠2 + ∠5 = 90", "line_not_figure"),
        ("m∠2 = 78", "line_not_figure"),
        ("X = 27 (cons. int.)", "line_not_figure"),
        ("m∠2 = 84 or m∠2 = 80", "line_not_figure"),
    ],
)
def test_what_they_write_wrong_is_still_wrong(line: str, code: str) -> None:
    found = check_working([line], start=[zero(*PAIR)], angles=ANGLES)
    assert found.first_wrong == 0 and found.rows[0].code == code


def test_values_of_the_last_good_line() -> None:
    assert check_working(["3x = 60", "x = 20"]).values == {"x": 20}
    assert check_working(["3x = 60", "x = 21"]).values == {}


@pytest.mark.parametrize("seed", range(trials(quick=300, full=5_000)))
def test_solution_sets_are_those_of_the_quadratic_formula(seed: int) -> None:
    """Source: the formula with the discriminant, as in any algebra book; the roots are sympy's."""
    rng = random.Random(seed)
    for _ in range(20):
        a, b, c = (Fraction(rng.randint(-6, 6), rng.choice([1, 1, 2, 3])) for _ in range(3))
        if rng.random() < 0.5:
            # With rational roots.
            p, q = (Fraction(rng.randint(-9, 9), rng.choice([1, 2, 5])) for _ in range(2))
            b, c = -a * (p + q), a * p * q
        assert roots(a, b, c) == by_formula(a, b, c), (a, b, c)


def by_formula(a: Fraction, b: Fraction, c: Fraction) -> object:
    if not a:
        return frozenset({-c / b}) if b else frozenset() if c else None
    under = b * b - 4 * a * c
    top, bottom = isqrt(abs(under.numerator)), isqrt(under.denominator)
    if under < 0:
        return frozenset()
    if top * top != under.numerator or bottom * bottom != under.denominator:
        return frozenset({(b / a, c / a)})
    root = Fraction(top, bottom)
    return frozenset({(-b + root) / (2 * a), (-b - root) / (2 * a)})


def test_the_largest_numbers_that_a_line_can_hold() -> None:
    """64 characters, 30 numbers and signs, 6 digits in a number: sympy is asked nothing larger (T-06)."""
    product = "(" + ")(".join(["999983x"] + ["999979"] * 5) + ")"
    line = f"x·{product} = 999961"
    assert len(line) <= 64
    found = solutions(read_line(line))
    n = Fraction(999983) * Fraction(999979) ** 5
    assert found == by_formula(n, Fraction(0), Fraction(-999961)) == frozenset({(Fraction(0), Fraction(-999961) / n)})


@pytest.mark.parametrize("seed", range(trials(quick=40, full=1_000)))
def test_what_equations_say_together(seed: int) -> None:
    """z3 decides by another method whether an equation follows from others; nobody's names reach sympy."""
    rng = random.Random(seed)
    names = ["∠2", "x", "__import__"][: rng.randint(2, 3)]
    columns = [*((name,) for name in names), ()]

    def any_of(some: list[Poly]) -> Poly:
        total: Poly = {}
        for p in some:
            total = add(total, scale(p, Fraction(rng.randint(-3, 3), rng.randint(1, 3))))
        return total

    def random_poly() -> Poly:
        return {m: Fraction(k) for m in columns if (k := rng.randint(-4, 4))}

    said = [random_poly() for _ in range(rng.randint(1, 3))]
    claim = any_of(said) if rng.random() < 0.5 else random_poly()
    span = Span(columns)
    leads = [span.put(p) for p in said]
    assert {str(one) for one in span.ring.symbols} == {f"u{i}" for i in range(len(columns))}

    unknowns = {(name,): z3.Real(f"n{i}") for i, name in enumerate(names)}

    def as_z3(p: Poly) -> z3.ArithRef:
        return z3.Sum(*(z3.RealVal(str(k)) * unknowns.get(m, z3.RealVal(1)) for m, k in p.items()), z3.RealVal(0))

    solver = z3.Solver()
    solver.add(*(as_z3(p) == 0 for p in said))
    assert (solver.check() == z3.unsat) == (() in leads)
    if () not in leads:
        solver.add(as_z3(claim) != 0)
        assert (solver.check() == z3.unsat) == span.has(claim)
        assert span.has(claim) == (not span.rest(claim))


@pytest.mark.parametrize("seed", range(trials(quick=200, full=2_000)))
def test_sound_steps_are_never_called_wrong(seed: int) -> None:
    """Random true moves on a random equation: the checker must let every line through."""
    rng = random.Random(seed)
    x0 = rng.randint(1, 40)
    a, b = rng.randint(2, 9), rng.randint(-30, 30)
    lines = [f"{a}x + {b} = {a * x0 + b}".replace("+ -", "- ")]
    left, right = [a, b], a * x0 + b
    for _ in range(rng.randint(1, 4)):
        k, move = rng.randint(1, 9), rng.choice("+-*")
        if move == "*":
            left, right = [v * k for v in left], right * k
            lines.append(f"{k}({lines[-1].split('=')[0].strip()}) = {right}")
        else:
            d = k if move == "+" else -k
            left, right = [left[0], left[1] + d], right + d
            lines.append(f"{left[0]}x + {left[1]} = {right}".replace("+ -", "- "))
    lines.append(f"x = {x0}")

    assert all(row.ok for row in check_working([line for line in lines if len(line) <= 64]).rows)
    assert solutions(read_line(lines[0])) == frozenset({Fraction(x0)})
