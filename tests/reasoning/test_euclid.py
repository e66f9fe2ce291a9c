"""Euclid, Elements I.13, I.15, I.27 to I.32, as figures; each derived only from what stands before it.

Sources: Heath's translation (1908); what each proof cites, from the bracketed references of Heath's and Fitzpatrick's
texts (union), here without I.1 to I.12 and the axioms, which the table does not hold.
"""

from __future__ import annotations

import pytest

from app.reasoning.check import check
from app.reasoning.follows import follows
from app.reasoning.prover import prove
from app.reasoning.terms import show
from app.reasoning.theorems import TABLE, allowed_to_derive
from tests.reading import in_english
from tests.reasoning.samples import figure

check = in_english(check)

# proposition → propositions of I.13 to I.32 that its proof cites
CITES = {
    "I.13": [],
    "I.15": ["I.13"],
    "I.16": ["I.15"],
    "I.27": ["I.16"],
    "I.28": ["I.13", "I.15", "I.27"],
    "I.29": ["I.13", "I.15"],
    "I.30": ["I.27", "I.29"],
    "I.31": ["I.23", "I.27"],
    "I.32": ["I.13", "I.29", "I.31"],
    "I.23": [],
}
RESTS_ON_POSTULATE_5 = {"I.29", "I.30", "I.32"}
# reason → Euclid's place (common notions and definitions stand before all)
PLACE = {
    "vertical-angles": "I.15",
    "linear-pair": "I.13",
    "alternate-interior-angles-converse": "I.27",
    "corresponding-angles-converse": "I.28",
    "consecutive-interior-angles-converse": "I.28",
    "corresponding-angles": "I.29",
    "alternate-interior-angles": "I.29",
    "consecutive-interior-angles": "I.29",
    "parallel-to-same-line": "I.30",
    "triangle-sum": "I.32",
    "exterior-angle": "I.32",
}
NEUTRAL = {
    "given",
    "substitution",
    "transitive",
    "algebra",
    "addition",
    "subtraction",
    "congruent-supplements",
    "symmetric",
    "definition-of-congruent",
    "definition-of-supplementary",
    "angle-addition",
    "reflexive",
}

# (proposition, figure, givens, goal, the theorem it is)
PROPOSITIONS = [
    ("I.13", "eight", [], "m∠1 + m∠2 = 180", "linear-pair"),
    ("I.15", "eight", [], "∠1 ≅ ∠4", "vertical-angles"),
    ("I.27", "eight", ["∠3 ≅ ∠6"], "l ∥ m", "alternate-interior-angles-converse"),
    ("I.28", "eight", ["∠1 ≅ ∠5"], "l ∥ m", "corresponding-angles-converse"),
    ("I.28", "eight", ["m∠3 + m∠5 = 180"], "l ∥ m", "consecutive-interior-angles-converse"),
    ("I.29", "eight", ["l ∥ m"], "∠3 ≅ ∠6", "alternate-interior-angles"),
    ("I.29", "eight", ["l ∥ m"], "∠1 ≅ ∠5", "corresponding-angles"),
    ("I.29", "eight", ["l ∥ m"], "m∠3 + m∠5 = 180", "consecutive-interior-angles"),
    ("I.30", "ladder", ["l ∥ m", "m ∥ n"], "l ∥ n", "parallel-to-same-line"),
    ("I.32", "triangle", [], "m∠4 = m∠1 + m∠3", "exterior-angle"),
    ("I.32", "triangle", [], "m∠1 + m∠2 + m∠3 = 180", "triangle-sum"),
]


def behind(proposition: str) -> set[str]:
    """All propositions that one rests on."""
    found: set[str] = set()
    waiting = list(CITES[proposition])
    while waiting:
        one = waiting.pop()
        if one not in found:
            found.add(one)
            waiting += CITES[one]
    return found


@pytest.mark.parametrize(("proposition", "name", "given", "goal", "theorem"), PROPOSITIONS)
def test_each_proposition_follows_and_is_proved(proposition, name, given, goal, theorem) -> None:
    assert follows(figure(name), given, goal).verdict == "follows"
    proof = prove(figure(name), given, goal)[0]
    assert proof.rows[-1].reason == theorem


@pytest.mark.parametrize(("proposition", "name", "given", "goal", "theorem"), PROPOSITIONS)
def test_each_is_derived_from_what_stands_before_it_in_euclid(proposition, name, given, goal, theorem) -> None:
    """Only reasons whose place in Euclid the proposition rests on; first of its number may use nothing of its number."""
    earlier = behind(proposition)
    allowed = NEUTRAL | {reason for reason, place in PLACE.items() if place in earlier}
    same = {
        "consecutive-interior-angles": {"alternate-interior-angles"},
        "corresponding-angles": {"alternate-interior-angles"},
        "triangle-sum": {"exterior-angle"},
    }
    # Within one proposition Euclid proves a part from the part before it.
    allowed |= same.get(theorem, set())
    bar = set(TABLE) - allowed
    found = prove(figure(name), given, goal, bar=bar)
    if theorem in ("linear-pair", "alternate-interior-angles-converse", "alternate-interior-angles", "exterior-angle"):
        # I.13 rests on I.11, I.27 on the inequality I.16, I.29 on postulate 5, I.32 on a line drawn by I.31.
        assert found == []
        return
    assert found, (proposition, sorted(allowed))
    rows = [{"statement": show(row.statement), "reason": row.reason} for row in found[0].rows]
    assert check(figure(name), given, goal, rows, bar=bar).complete
    assert {PLACE[row.reason] for row in found[0].rows if row.reason in PLACE} <= earlier | {proposition}


def test_lines_are_proved_parallel_without_the_fifth_postulate() -> None:
    """I.27 and I.28 rest neither on I.29 nor on I.30 or I.32; the table's "theorem" profile keeps that order."""
    for proposition in ("I.27", "I.28"):
        assert not behind(proposition) & RESTS_ON_POSTULATE_5
    for reason in (
        "alternate-interior-angles-converse",
        "corresponding-angles-converse",
        "consecutive-interior-angles-converse",
    ):
        waiting, seen = [reason], set()
        while waiting:
            one = waiting.pop()
            seen.add(one)
            waiting += [other for other in TABLE[one].rests_on("theorem") if other not in seen]
        assert not {PLACE[one] for one in seen if one in PLACE} & RESTS_ON_POSTULATE_5


def test_the_tables_order_agrees_with_euclids() -> None:
    """In the "theorem" profile, what a row rests on stands no later in Euclid than the row."""
    for reason, place in PLACE.items():
        for other in TABLE[reason].rests_on("theorem"):
            if other in PLACE and PLACE[other] != place:
                assert PLACE[other] in behind(place), (reason, other)


def test_a_proof_out_of_euclids_order_is_refused() -> None:
    """I.28 from I.29 would be a circle there: the forward theorem may not prove the converse."""
    bar = set(TABLE) - allowed_to_derive("corresponding-angles-converse", "theorem")
    checked = check(
        figure("eight"),
        ["∠1 ≅ ∠5"],
        "l ∥ m",
        [
            {"statement": "∠1 ≅ ∠5", "reason": "given"},
            {"statement": "∠3 ≅ ∠6", "reason": "alternate-interior-angles"},
            {"statement": "l ∥ m", "reason": "alternate-interior-angles-converse"},
        ],
        bar=bar,
    )
    assert checked.rows[1].verdict == "in a circle" and not checked.complete
