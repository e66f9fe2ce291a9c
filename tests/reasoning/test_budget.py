"""Every question ends within its budget of steps, the same on every machine; seconds are `python -m tests.climb`'s."""

from __future__ import annotations

import pytest

from app.figure.model import figure_from_json
from app.reasoning import api
from app.reasoning.budget import CHECK, CONFLICT, DECISION, OTHERS, PROOF, Budget, Spent, current, spend, spending
from app.reasoning.follows import follows
from app.reasoning.frame import frame_of
from app.reasoning.prover import prove
from app.reasoning.search import search
from tests.reading import in_english
from tests.reasoning.samples import EIGHT, figure

api = in_english(api)

# What one answer may cost in all: the question itself, a proof, and others beside it.
MOST = DECISION + CONFLICT + PROOF + OTHERS


def lattice(rows: int, columns: int, each: int = 3) -> dict:
    """`rows` near-parallel lines crossed by `columns` others, with `each` angles at every meet."""
    body: dict = {"lines": {}, "meets": {}, "angles": {}}
    for i in range(rows):
        body["lines"]["abcdef"[i]] = {"direction": 2 + i, "through": [0, 3 * i]}
    for j in range(columns):
        body["lines"]["uvwxyz"[j]] = {"direction": 70 + 3 * j, "through": [4 * j, 0]}
    for i in range(rows):
        for j in range(columns):
            meet, l, t = f"{'ABCDEF'[i]}{j + 1}", "abcdef"[i], "uvwxyz"[j]
            body["meets"][meet] = [l, t]
            for start, end in ((f"{l}+", f"{t}+"), (f"{t}+", f"{l}-"), (f"{l}-", f"{t}-"))[:each]:
                body["angles"][str(len(body["angles"]) + 1)] = {"at": meet, "from": start, "to": end}
    return body


def chain(names: str) -> list[str]:
    return [f"{l} ∥ {m}" for l, m in zip(names, names[1:], strict=False)]


# The bodies that took 6 to 190 seconds: six lines parallel to six others with 108 angles, and the same by angles.
HEAVY = {
    "parallels": {"figure": lattice(6, 6), "given": chain("abcdef") + chain("uvwxyz"), "goal": "∠1 ≅ ∠106"},
    "angles": {"figure": lattice(6, 6), "given": [f"∠{1 + 3 * i} ≅ ∠{4 + 3 * i}" for i in range(35)], "goal": "a ∥ f"},
    "sums": {
        "figure": lattice(6, 6),
        "given": [f"m∠{1 + 3 * i} + m∠{5 + 3 * i} = 180" for i in range(35)],
        "goal": "a ∥ f",
    },
}


@pytest.mark.parametrize("name", HEAVY)
@pytest.mark.parametrize("ask", ["follows", "prove"])
def test_no_question_spends_more_than_its_budget(name: str, ask: str) -> None:
    body = {**HEAVY[name], "claim": HEAVY[name]["goal"], "k": 5}
    with spending(10**9) as budget:
        answer = getattr(api, ask)(body)
    assert answer["verdict"] == "follows"
    assert 10_000 < budget.used <= MOST
    if not (answer.get("proof") or answer.get("rows")):
        assert answer["note"] == "It follows, but no proof was found within the limit."


def test_the_count_is_the_same_each_time() -> None:
    fig = figure_from_json(HEAVY["parallels"]["figure"])
    counts = set()
    for _ in range(2):
        frame = frame_of(fig)
        given = [frame.read(one) for one in HEAVY["parallels"]["given"][:4]]
        with spending(10**9) as budget:
            search(frame, given, frame.read("∠1 ≅ ∠19"))
        counts.add(budget.used)
    assert len(counts) == 1 and counts.pop() > 1000


def test_a_search_that_is_spent_says_so_and_not_that_there_is_none() -> None:
    fig = figure("eight")
    with spending(200):
        found = prove(fig, ["∠3 ≅ ∠6"], "l ∥ m")
    assert not found and found.spent
    found = prove(fig, ["∠3 ≅ ∠6"], "l ∥ m")
    assert found and not found.spent


def test_rows_that_the_budget_does_not_reach_are_left_unjudged() -> None:
    """Sixty rows of sums, each of them a combination that substitution would have to find among all the rest."""
    fig = lattice(6, 6)
    rows = [
        {"statement": f"m∠{1 + i} + m∠{40 + i} = m∠{2 + i} + m∠{41 + i} + {i}", "reason": "substitution"}
        for i in range(60)
    ]
    with spending(10**9) as budget:
        answer = api.check({"figure": fig, "given": [], "goal": "a ∥ f", "rows": rows})
    assert budget.used <= CHECK + 100_000
    assert answer["complete"] is False
    left = [row for row in answer["rows"] if row.get("undecided")]
    assert all(row["verdict"] == "unreadable" for row in left)


def test_a_budget_inside_another_takes_from_it() -> None:
    with spending(100) as outer:
        with pytest.raises(Spent), spending(1000) as inner:
            assert inner.most == 100
            spend(101)
        assert outer.left == 0 and current() is outer
    spend(10**9)  # without a budget in force nothing is counted


def test_counting() -> None:
    budget = Budget(3)
    budget.spend(2)
    assert (budget.used, budget.left) == (2, 1)
    with pytest.raises(Spent):
        budget.spend(2)


def test_what_is_left_open_is_undecided_and_never_dressed_up() -> None:
    """With next to no budget, a question that the directions leave open is undecided; what they settle stays settled."""
    fig = figure("eight")
    with spending(1):
        assert follows(fig, [], "l ∥ m").verdict == "undecided"
        assert follows(fig, ["∠3 ≅ ∠6"], "l ∥ m").verdict == "follows"
    outcome = follows(fig, [], "l ∥ m")
    assert outcome.verdict == "not forced" and outcome.counterexample is not None
    assert outcome.counterexample.figure is not None


def test_what_follows_without_a_proof_says_so() -> None:
    """All ways to the goal barred: it follows still, and the answer says why there are no rows."""
    bar = [
        f"{pair}-angles-converse"
        for pair in (
            "corresponding",
            "alternate-interior",
            "alternate-exterior",
            "consecutive-interior",
            "consecutive-exterior",
        )
    ]
    answer = api.prove({"figure": EIGHT, "given": ["∠3 ≅ ∠6"], "goal": "l ∥ m", "bar": bar})
    assert (answer["verdict"], answer["rows"]) == ("follows", None)
    assert answer["note"] == "It follows, but not by these theorems as far as they were put together."
    assert "note" not in api.prove({"figure": EIGHT, "given": ["∠3 ≅ ∠6"], "goal": "l ∥ m"})
