"""x² in a statement: decided by the roots, against z3's own decision for polynomials (another algorithm altogether)."""

from __future__ import annotations

import random
from fractions import Fraction

import pytest
import z3

from app.figure.faults import Fault
from app.figure.model import figure_from_json
from app.reasoning.check import check
from app.reasoning.follows import follows, value_of
from tests.reading import in_english
from tests.reasoning.samples import figure
from tests.reasoning.test_oracle import holds
from tests.reasoning.worlds import Oracle, as_json, bounds, form, random_figure, random_statement, random_world, text
from tests.scale import trials

check = in_english(check)


class Squares(Oracle):
    """The same figure for z3, with x² as x times x."""

    def solver(self) -> z3.Solver:
        solver = z3.SolverFor("QF_NRA")
        solver.add(*self.bounded().assertions())
        return solver

    def quantity(self, name: str) -> z3.ArithRef:
        return self.x[name[0]] * self.x[name[0]] if name.endswith("²") else super().quantity(name)


def squared(rng: random.Random, raw: dict, world: dict, x: int) -> tuple:
    """k m∠a + b x² + c x = the number that makes it true in the world; sometimes without the angle."""
    angle = rng.choice(list(raw["angles"]))
    to, start, constant = form(raw, angle)
    k, b, c = rng.choice([0, 1, 1, 2]), rng.choice([1, 1, 2, -1]), rng.randint(-9, 9)
    total = k * (world[to] - world[start] + constant) + b * x * x + c * x
    return "linear", tuple(term for term in ((k, angle), (b, "x²"), (c, "x")) if term[0]), Fraction(total)


def test_verdicts_with_squares_are_those_of_z3() -> None:
    rng, seen, refused = (
        random.Random(11),
        dict.fromkeys(("follows", "not forced", "cannot be", "givens conflict"), 0),
        0,
    )
    left = 0
    for _ in range(trials(quick=500, full=10_000)):
        raw = random_figure(rng, 4)
        if len(raw["lines"]) < 2 or len(raw["angles"]) < 2 or (world := random_world(rng, raw)) is None:
            continue
        values = {"x": rng.randint(-6, 12), "y": rng.randint(1, 40)}
        given = [random_statement(rng, raw, world, values) for _ in range(rng.randint(1, 3))]
        given.append(squared(rng, raw, world, values["x"]))
        if rng.random() < 0.2:
            given.append(squared(rng, raw, world, values["x"] + rng.choice([0, 1])))
        claim = rng.choice(
            [
                ("linear", ((1, "x"),), Fraction(values["x"])),
                ("linear", ((1, "x²"),), Fraction(values["x"] ** 2)),
                random_statement(rng, raw, world, values),
                squared(rng, raw, world, values["x"]),
            ]
        )
        fig = figure_from_json(as_json(raw))
        try:
            # z3 is asked of directions alone here, not of the order along the lines.
            outcome = follows(fig, [text(one) for one in given], text(claim), order=False)
        except Fault as fault:
            assert fault.code in ("reasoning.square_free", "reasoning.square_root"), fault.code
            refused += 1
            continue
        oracle = Squares(raw)
        want = oracle.verdict(given, claim, oracle.solver())
        if outcome.verdict == "undecided" and want == "not forced":
            # z3 is asked of directions alone, not of the order along the lines.
            left += 1
            continue
        assert outcome.verdict == want, (given, claim, raw)
        seen[outcome.verdict] += 1
        if outcome.counterexample is not None:
            found = outcome.counterexample
            assert set(found.unknowns) <= {"x", "y"}
            d, unknowns = (
                found.directions,
                {f"{x}²": value * value for x, value in found.unknowns.items()} | found.unknowns,
            )
            assert all(0 < d[m] - d[l] + constant < 180 for m, l, constant in bounds(raw))
            assert all(holds(raw, d, unknowns, one) for one in given) and not holds(raw, d, unknowns, claim)
    assert min(seen.values()) >= 3 and sum(seen.values()) > refused, (seen, refused)
    assert left * 50 <= sum(seen.values())


@pytest.mark.parametrize(
    ("given", "claim", "verdict"),
    [
        # ∠1 and ∠5 are corresponding: x² - 7x + 10 = 0, x is 2 or 5.
        (["l ∥ m", "m∠1 = x² + 10", "m∠5 = 7x"], "x = 5", "not forced"),
        (["l ∥ m", "m∠1 = x² + 10", "m∠5 = 7x", "∠1 ≅ ∠5"], "(x - 2)(x - 5) = 0", "follows"),
        (["l ∥ m", "m∠1 = x² + 10", "m∠5 = 7x"], "x = 3", "cannot be"),
        # x² + 3x = 130: x is 10 or -13, and no angle measures -26.
        (["l ∥ m", "m∠1 = x² + 3x - 30", "m∠5 = 100", "m∠2 = 8x"], "x = 10", "follows"),
        (["m∠1 = x² + 200"], "m∠1 = 200", None),
        (["x² = 2"], "x = 1", None),
        (["x² = 0 - 4"], "x = 2", "givens conflict"),
        (["x² = 9", "m∠1 = 20x"], "m∠1 = 60", "follows"),
        (["x² = 9", "m∠1 = 20x"], "l ∥ m", "not forced"),
        (["x² = 2", "x = 3"], "l ∥ m", "givens conflict"),
        (["x² = 9", "m∠1 = 20x", "m∠4 = y² + 44", "m∠2 = 30y"], "y = 4", "follows"),
        (["4x² = 9", "m∠1 = 20x"], "m∠1 = 30", "follows"),
        ([], "m∠1 = x²", None),
    ],
)
def test_roots_are_the_cases(given: list[str], claim: str, verdict: str | None) -> None:
    """Worked by hand; common practice, no source."""
    if verdict is None:
        with pytest.raises(Fault) as caught:
            follows(figure("eight"), given, claim)
        assert caught.value.code in ("reasoning.square_free", "reasoning.square_root")
        assert "x" in caught.value.sentence() and "{" not in caught.value.sentence()
    else:
        assert follows(figure("eight"), given, claim).verdict == verdict


def test_the_value_of_an_unknown_that_is_squared() -> None:
    assert value_of(figure("eight"), ["l ∥ m", "m∠1 = x² + 3x - 30", "m∠5 = 100", "m∠2 = 8x"], "x") == 10
    assert value_of(figure("eight"), ["x² = 9"], "x") is None
    assert value_of(figure("eight"), ["x² = 9"], "x²") == 9


def test_conflicts_with_squares_name_a_smallest_set() -> None:
    outcome = follows(figure("eight"), ["m∠2 = 50", "x² = 9", "x = 4", "l ∥ m"], "l ∥ m")
    assert outcome.verdict == "givens conflict" and outcome.conflict == (1, 2)


def test_a_row_with_a_free_square_is_that_rows_matter_alone() -> None:
    rows = [{"statement": "m∠1 = x²", "reason": "algebra"}, {"statement": "∠1 ≅ ∠4", "reason": "vertical-angles"}]
    checked = check(figure("eight"), [], "∠1 ≅ ∠4", rows)
    assert [row.verdict for row in checked.rows] == ["unreadable", "follows"] and checked.complete
