"""`follows` against z3, an independent solver: random figures, givens and claims, both directions, no disagreement.

Every counterexample is verified by itself: its directions keep the drawn turning at each meet, all givens hold in
exact fractions and the claim fails; where it comes with a figure, the same is measured there in floats.
"""

from __future__ import annotations

import random
from fractions import Fraction
from math import atan2, degrees

import pytest

from app.figure.model import Figure, figure_from_json
from app.reasoning.follows import Outcome, conflicting, follows
from tests.reasoning.worlds import Oracle, as_json, bounds, form, random_query, text
from tests.scale import trials

CHUNKS = 10


def queries(chunk: int, count: int):
    """`count` usable queries of a chunk: (seed, raw figure, figure, givens, claim)."""
    found, seed = 0, chunk * 1_000_000
    while found < count:
        seed += 1
        query = random_query(random.Random(seed))
        if query is None:
            continue
        found += 1
        yield seed, query[0], figure_from_json(as_json(query[0])), query[1], query[2]


@pytest.mark.parametrize("chunk", range(CHUNKS))
def test_no_verdict_differs_from_z3(chunk: int) -> None:
    seen, left = set(), 0
    for seed, raw, fig, given, claim in queries(chunk, trials(quick=3000, full=100_000) // CHUNKS):
        # z3 is asked of directions alone; what the order along the lines says besides is asked in tests/honest.
        outcome = follows(fig, [text(one) for one in given], text(claim), order=False)
        want = Oracle(raw).verdict(given, claim)

        seen.add(want)
        if outcome.verdict == "undecided":
            # Where the order leaves no figure, none is shown.
            assert want == "not forced", (seed, [text(one) for one in given], text(claim))
            left += 1
            continue
        assert outcome.verdict == want, (seed, [text(one) for one in given], text(claim))
        if want == "not forced":
            check_counterexample(seed, raw, outcome, given, claim)
        elif want == "givens conflict":
            check_conflict(seed, raw, fig, outcome, given)
    assert seen == {"follows", "not forced", "cannot be", "givens conflict"}
    assert left <= trials(quick=3000, full=100_000) // CHUNKS // 100


def test_loose_parts_are_parallel_at_any_multiple_of_half_turns() -> None:
    """n and l touch nowhere: four half turns apart is parallel too, for z3 as for us."""
    raw = {
        "lines": {
            "l": {"direction": "305/2", "through": [0, 5]},
            "m": {"direction": "125/2", "through": [6, 6]},
            "n": {"direction": "140", "through": [-3, 2]},
        },
        "meets": {"C": ["m", "n"]},
        "angles": {"1": {"at": "C", "from": "n-", "to": "m+"}},
    }
    given, claim = [("not parallel", "n", "l"), ("perpendicular", "m", "l")], ("linear", ((1, "1"),), Fraction(90))
    assert follows(figure_from_json(raw), [text(one) for one in given], text(claim)).verdict == "cannot be"
    assert Oracle(raw).verdict(given, claim) == "cannot be"
    assert Oracle(raw).verdict(given[1:], claim) == "not forced"


def test_a_counterexample_is_taken_where_the_claim_fails() -> None:
    """m ⊥ n stands for two turns here; one of them forces the claim, so the other figure must show the other."""
    raw = {
        "lines": {
            "l": {"direction": 2, "through": [5, 5]},
            "m": {"direction": 70, "through": [5, -5]},
            "n": {"direction": 5, "through": [5, 5]},
        },
        "meets": {"A": ["l", "m"], "B": ["l", "n"]},
        "angles": {"2": {"at": "A", "from": "l-", "to": "m-"}, "4": {"at": "B", "from": "n-", "to": "l+"}},
    }
    given, claim = [("perpendicular", "m", "n")], ("linear", ((1, "2"), (1, "4")), Fraction(90))
    outcome = follows(figure_from_json(as_json(raw)), [text(one) for one in given], text(claim))
    assert outcome.verdict == Oracle(raw).verdict(given, claim) == "not forced"
    check_counterexample(0, raw, outcome, given, claim)


def check_counterexample(seed: int, raw: dict, outcome: Outcome, given: list, claim: tuple) -> None:
    example = outcome.counterexample
    assert example is not None, seed
    d = example.directions
    for m, l, constant in bounds(raw):
        assert 0 < d[m] - d[l] + constant < 180, seed
    for name, value in example.measures.items():
        to, start, constant = form(raw, name)
        assert value == d[to] - d[start] + constant, seed
    assert all(holds(raw, d, example.unknowns, one) for one in given), seed
    assert not holds(raw, d, example.unknowns, claim), seed
    assert example.figure is not None, seed
    measured = {name: measured_in(example.figure, name) for name in raw["angles"]}
    for name, value in measured.items():
        assert abs(value - float(example.measures[name])) < 1e-6, (seed, name)
    for line, _ in raw["lines"].items():
        order, drawn = list(example.figure.order(line)), list(outcome.fig.order(line))
        assert order in (drawn, drawn[::-1]), (seed, line)


def holds(raw: dict, d: dict[str, Fraction], unknowns: dict[str, Fraction], statement: tuple) -> bool:
    if statement[0] in ("parallel", "not parallel", "perpendicular"):
        turn = (d[statement[1]] - d[statement[2]]) % 180
        return {"parallel": turn == 0, "not parallel": turn != 0, "perpendicular": turn == 90}[statement[0]]
    total = Fraction(0)
    for k, name in statement[1]:
        if name.isdigit():
            to, start, constant = form(raw, name)
            total += k * (d[to] - d[start] + constant)
        else:
            total += k * unknowns.get(name, Fraction(0))
    return total == statement[2]


def measured_in(fig: Figure, name: str) -> float:
    """The angle measured with floats from places on its two sides, as a protractor would."""
    angle = fig.angles[name]

    def heading(ray) -> float:
        line = fig.lines[ray.line]
        turned = float(line.direction) + (0 if ray.sign == "+" else 180)
        from math import cos, radians, sin

        x, y = cos(radians(turned)), sin(radians(turned))
        return degrees(atan2(y, x))

    return (heading(angle.end) - heading(angle.start)) % 360


def check_conflict(seed: int, raw: dict, fig: Figure, outcome: Outcome, given: list) -> None:
    """The set conflicts, and no smaller set of the givens does (z3 tries them all)."""
    from itertools import combinations

    import z3

    oracle = Oracle(raw)
    places = outcome.conflict
    solver = oracle.bounded()

    def clash(chosen: tuple[int, ...]) -> bool:
        solver.push()
        solver.add(*(oracle.formula(given[i]) for i in chosen))
        answer = solver.check() == z3.unsat
        solver.pop()
        return answer

    assert places and clash(places), seed
    for smaller in combinations(range(len(given)), len(places) - 1):
        assert not clash(smaller), (seed, smaller)


def test_lines_near_flat_are_settled_by_the_drawing() -> None:
    """1 degree and 179 degrees: nearly parallel, and which way they run matters for the constant only."""
    for low, high in ((1, 179), (Fraction(1, 2), Fraction(359, 2)), (0, 179), (2, 178)):
        fig = figure_from_json(
            {
                "lines": {
                    "l": {"direction": str(low), "through": [0, 3]},
                    "m": {"direction": str(high), "through": [0, -3]},
                    "t": {"direction": 90, "through": [0, 0]},
                },
                "meets": {"A": ["l", "t"], "B": ["m", "t"]},
                "transversal": "t",
                "number": "standard",
            }
        )
        assert follows(fig, ["∠1 ≅ ∠5"], "l ∥ m").verdict == "follows"
        assert follows(fig, ["l ∥ m"], "∠3 ≅ ∠6").verdict == "follows"
        assert follows(fig, ["m∠3 + m∠5 = 180"], "l || m").verdict == "follows"
        assert follows(fig, ["m∠1 = 90", "m∠5 = 91"], "l ∥ m").verdict == "cannot be"
        other = follows(fig, ["∠3 ≅ ∠5"], "l ∥ m")
        assert other.verdict == "not forced" and other.counterexample.measures["3"] != 90


def test_crossings_settle_that_two_transversals_disagree() -> None:
    """s runs between l and m, t across both: then l and m can't be parallel in this order, whatever is given."""
    raw = {
        "lines": {
            "l": {"direction": 1, "through": [0, 2]},
            "m": {"direction": 179, "through": [0, -2]},
            "t": {"direction": 90, "through": [-10, 0]},
            "s": {"direction": "0", "through": [0, 1]},
        },
        "meets": {"A": ["l", "t"], "B": ["m", "t"], "C": ["l", "s"], "D": ["m", "s"]},
        "angles": {},
    }
    fig = figure_from_json(raw)
    assert Oracle(raw).verdict([], ("parallel", "l", "m")) == "cannot be"
    assert follows(fig, [], "l ∥ m").verdict == "cannot be"
    assert follows(fig, [], "l ∦ m").verdict == "follows"
    assert follows(fig, ["l ∥ m"], "t ⊥ l").conflict == (0,)


def test_far_crossings_lettered_by_us_are_no_drawn_fact() -> None:
    """Nearly parallel lines cross far off; with meets left out that crossing gets a letter, and means nothing."""
    fig = (
        figure_from_json(
            {
                "lines": {
                    "l": {"direction": 10, "through": [0, 3]},
                    "m": {"direction": 13, "through": [0, -3]},
                    "t": {"direction": 65, "through": [0, 0]},
                },
                "transversal": "t",
                "number": "standard",
            }
        )
        if _numbers_with_three_meets()
        else None
    )
    if fig is not None:
        assert follows(fig, ["∠1 ≅ ∠5"], "l ∥ m").verdict == "follows"
    lettered = figure_from_json(
        {
            "lines": {
                "l": {"direction": 10, "through": [0, 3]},
                "m": {"direction": 13, "through": [0, -3]},
                "t": {"direction": 65, "through": [0, 0]},
            },
        }
    )
    near = sorted(lettered.meets.values(), key=lambda meet: abs(meet.at[0]) + abs(meet.at[1]))[:2]
    p, q = (meet.name for meet in near)
    far = next(name for name in lettered.meets if name not in (p, q))
    # Both lines parallel: nothing is said against it until a statement names an angle at the far crossing.
    assert follows(lettered, ["l ∥ m"], "t ⊥ l").verdict == "not forced"
    assert follows(lettered, ["l ∥ m"], f"m∠{p}{far}{q} = 3").verdict == "givens conflict"


def _numbers_with_three_meets() -> bool:
    from app.figure.faults import Fault

    try:
        figure_from_json(
            {
                "lines": {
                    "l": {"direction": 10, "through": [0, 3]},
                    "m": {"direction": 13, "through": [0, -3]},
                    "t": {"direction": 65, "through": [0, 0]},
                },
                "transversal": "t",
                "number": "standard",
            }
        )
    except Fault:
        return False
    return True


def test_counterexamples_fail_by_degrees_not_by_hairs() -> None:
    fig = figure_from_json(
        {
            "lines": {
                "l": {"direction": 10, "through": [0, 3]},
                "m": {"direction": "10", "through": [0, -3]},
                "t": {"direction": 65, "through": [0, 0]},
            },
            "meets": {"A": ["l", "t"], "B": ["m", "t"]},
            "transversal": "t",
            "number": "standard",
        }
    )
    for given, claim in (([], "l ∥ m"), (["∠3 ≅ ∠5"], "l ∥ m"), (["m∠1 + m∠4 = 200"], "l ∥ m")):
        example = follows(fig, given, claim).counterexample
        assert example is not None and example.figure is not None
        assert abs((example.directions["l"] - example.directions["m"] + 90) % 180 - 90) >= 8
        assert all(6 <= value <= 174 for value in example.measures.values())


def test_conflict_of_givens_is_smallest() -> None:
    fig = figure_from_json(
        {
            "lines": {"l": {"direction": 0, "through": [0, 0]}, "t": {"direction": 60, "through": [0, 0]}},
            "angles": {"1": {"at": "A", "from": "l+", "to": "t+"}, "2": {"at": "A", "from": "t+", "to": "l-"}},
        }
    )
    outcome = follows(fig, ["x = 20", "m∠1 = 3x", "m∠2 = 110", "m∠1 = 70", "m∠1 = 80"], "x = 1")
    assert outcome.verdict == "givens conflict" and outcome.conflict == (3, 4)
    assert conflicting(fig, follows(fig, ["x = 20"], "x = 20").given) == ()
