"""Sentences that students write: read in every wording that we could think of, and named when they are another form."""

from __future__ import annotations

import itertools
import json
import random
import re
from fractions import Fraction
from typing import Any

import pytest
import sympy

from app.figure.faults import Fault
from app.practice.clauses import Atom, Names
from app.practice.families import item
from app.practice.judging import judge, key_shown
from app.practice.sentences import FORMS, Parts, explain, read_sentence
from tests.practice.oracle import Oracle
from tests.practice.test_families import clause, parts
from tests.reading import in_english
from tests.scale import trials

item = in_english(item)
judge = in_english(judge)
explain = in_english(explain)

SEEDS = trials(quick=40, full=1_000)
ALTERNATE = Parts(
    (Atom("congruent", frozenset("36"), "angles", "alternate interior"),),
    (Atom("parallel", frozenset("lm"), "lines"),),
    Names(frozenset("36"), frozenset("lmt")),
)
INSIDE = Parts(
    (Atom("supplementary", frozenset("35"), "angles", "consecutive interior"),),
    (Atom("parallel", frozenset("am"), "lines"),),
    Names(frozenset("35"), frozenset("amt")),
)
SQUARE = Parts(
    tuple(Atom("perpendicular", frozenset({"t", x}), "lines") for x in "am"),
    (Atom("parallel", frozenset("am"), "lines"),),
    Names(frozenset("15"), frozenset("amt")),
)
SIZES = Parts(
    tuple(Atom("measure", frozenset(x), "angles", "", Fraction(65)) for x in "15"),
    (Atom("parallel", frozenset("am"), "lines"),),
    Names(frozenset("15"), frozenset("amt")),
)
TWO = Parts(
    (Atom("vertical", noun="angles"),), (Atom("congruent", noun="angles"),), Names(frozenset("14"), frozenset("lmt"))
)

# (parts) → clause → wordings. In a sentence each of the first can stand with each of the second.
SAYS: dict[str, tuple[Parts, dict[str, list[str]]]] = {
    "alternate": (ALTERNATE, {
        "+h": ["∠3 ≅ ∠6", "<3 = <6", "m∠3 = m∠6", "∠6 is congruent to ∠3", "angles 3 and 6 are congruent", "angle 3 is equal to angle 6",
               "alternate interior angles are congruent", "a pair of alternate interior angles is congruent", "the angles are equal",
               "∠3 and ∠6 have the same measure", "the measures of ∠3 and ∠6 are equal", "alternate angles are equal"],
        "-h": ["∠3 ≇ ∠6", "m<3 != m<6", "∠3 and ∠6 are not congruent", "angle 3 isn't congruent to angle 6", "∠3 is not ≅ to ∠6",
               "the alternate interior angles aren't congruent", "it is not true that ∠3 ≅ ∠6", "∠3 and ∠6 have different measures"],
        "+c": ["l ∥ m", "m || l", "l is parallel to m", "lines l and m are parallel", "the lines are parallel", "line m is parallel to line l",
               "the two lines are parallel"],
        "-c": ["l ∦ m", "l is not parallel to m", "the lines aren't parallel", "lines m and l are not parallel", "the lines meet",
               "it is not the case that l ∥ m", "l and m do not stay parallel"],
    }),
    "inside": (INSIDE, {
        "+h": ["∠3 and ∠5 are supplementary", "m∠3 + m∠5 = 180°", "∠5 is a supplement of ∠3", "the sum of ∠3 and ∠5 is 180 degrees",
               "same-side interior angles are supplementary", "co-interior angles add up to 180°", "consecutive interior angles are supplementary"],
        "-h": ["∠3 and ∠5 are not supplementary", "m∠3 + m∠5 ≠ 180", "consecutive interior angles don't add to 180"],
        "+c": ["a ∥ m", "a and m are parallel"], "-c": ["a ∦ m", "a is not parallel to m", "a and m meet"],
    }),
    "square": (SQUARE, {
        "+h": ["t ⊥ a and t ⊥ m", "t is perpendicular to a and m", "t is perpendicular to both lines", "t ⊥ a, t ⊥ m"],
        "-h": ["t is not perpendicular to both a and m", "it is not so that both t ⊥ a and t ⊥ m", "t is not perpendicular to a or t is not perpendicular to m"],
        "~h": ["t is not perpendicular to a and t is not perpendicular to m"],
        "+c": ["a ∥ m"], "-c": ["a ∦ m"],
    }),
    "sizes": (SIZES, {
        "+h": ["m∠1 = 65° and m∠5 = 65°", "∠1 and ∠5 are both 65", "angles 1 and 5 measure 65 degrees", "m∠5 = 65, m∠1 = 65"],
        "-h": ["it is not so that both m∠1 = 65° and m∠5 = 65°", "m∠1 ≠ 65 or m∠5 ≠ 65", "not both m∠1 = 65 and m∠5 = 65"],
        "~h": ["m∠1 ≠ 65 and m∠5 ≠ 65", "m∠1 is not 65 and m∠5 is not 65"],
        "?": ["m∠1 = 60 and m∠5 = 65", "m∠1 = 65"],
        "+c": ["a ∥ m"], "-c": ["a ∦ m"],
    }),
    "two": (TWO, {
        "+h": ["two angles are vertical angles", "they are vertical", "two angles form a pair of vertical angles", "the angles are vertically opposite angles"],
        "-h": ["two angles are not vertical angles", "they aren't vertical"],
        "+c": ["two angles are congruent", "they are congruent angles", "they are equal"], "-c": ["they are not congruent", "two angles are not equal"],
        "?": ["two angles are supplementary", "they form a linear pair", "they are not both right angles"],
    }),
}  # fmt: skip
# How a sentence may be put: pattern, and whether its first clause is the "if" part.
PUT = [
    ("If {0}, then {1}.", False),
    ("if {0} then {1}", False),
    ("If {0}, {1}", False),
    ("{1} if {0}", False),
    ("{0} only if {1}.", False),
    ("{0} implies {1}", False),
    ("When {0}, {1}.", False),
    ("{0} if and only if {1}.", True),
    ("{0} iff {1}", True),
    ("{1} exactly when {0}", True),
]


@pytest.mark.parametrize("name", SAYS)
def test_every_wording_in_every_place(name: str) -> None:
    known, says = SAYS[name]
    for (a, firsts), (b, lasts) in itertools.product(says.items(), says.items()):
        for first, last in itertools.product(firsts, lasts):
            for pattern, both in PUT:
                if "," in first + last and pattern in ("If {0}, {1}", "When {0}, {1}."):
                    continue  # a comma of its own: where the "then" part begins can't be seen
                want = f"iff:{'='.join(sorted((a, b)))}" if both else f"if:{a}>{b}"
                assert read_sentence(pattern.format(first, last), known, "x") == want, (pattern, first, last)


@pytest.mark.parametrize(
    ("text", "code"),
    [
        ("", "empty"),
        ("   ", "empty"),
        ("l ∥ m", "no_if"),
        ("If bananas, then l ∥ m.", "unread"),
        ("If l ∥ m then", "unfinished"),
        ("if then", "unfinished"),
        ("If ∠3 ≅ ∠7, then l ∥ m.", "no_angle"),
        ("If ∠3 ≅ ∠6 l ∥ m", "no_then"),
        ("If ∠3 ≅ ∠6, then l ∥ m and if l ∥ m then ∠3 ≅ ∠6.", "one_sentence"),
        ("If ∠3 ≅ ∠6, then l ∥ m" + "!" * 300, "too_long"),
        ("if " * 60, "one_sentence"),
        ("a " * 100, "too_long"),
        ("{l}", "sign"),
        ("l∥m\x00", "sign"),
        ("If l ∥ m, then ∠3 ≅", "unfinished"),
        ("If l, then m", "unfinished"),
        ("If m∠3 + m∠6 = 100, then l ∥ m", "unread"),
        ("__import__('os')", "sign"),
    ],
)
def test_what_can_not_be_read_says_where(text: str, code: str) -> None:
    with pytest.raises(Fault) as fault:
        read_sentence(text, ALTERNATE, "answer.sentence")
    assert fault.value.code == f"connect.{code}" and fault.value.where == "answer.sentence"
    said = fault.value.sentence()
    assert said.endswith((".", "?")) and "{" not in said.replace("“{", "")


@pytest.mark.parametrize("thing", [None, 3, True, [], {}, {"if": "x"}, b"if", object()])
def test_things_that_are_no_sentence(thing: object) -> None:
    with pytest.raises(Fault):
        read_sentence(thing, ALTERNATE, "x")


KNOWN = """
if then and or not only iff the both are is ∠3 ∠6 3 6 l m t ∥ ∦ ⊥ ≅ ≠ = + 180 , . ° m∠3 angles lines they congruent parallel supplementary
perpendicular to of a pair linear vertical alternate interior it so that true false have same measure sum add 90 x é right when implies each other
degrees n't 0.5 all ** {} ∠∠"""


def test_no_text_does_anything_but_be_read_or_refused() -> None:
    """T-04: 1e5 texts, half of them words that the reader knows in any order, half a good sentence with words changed."""
    rng = random.Random(9)
    says, known_words = list(SAYS.values()), KNOWN.split()
    read = 0
    for n in range(trials(quick=10_000, full=100_000)):
        known, clauses = says[n % len(says)]
        if n % 2:
            words = [rng.choice(known_words) for _ in range(rng.randint(0, 24))]
        else:
            first, last = (rng.choice(rng.choice(list(clauses.values()))) for _ in range(2))
            words = rng.choice(PUT)[0].format(first, last).split()
            for _ in range(rng.randint(1, 3)):
                at = rng.randrange(len(words))
                words[at : at + rng.randint(0, 1)] = [rng.choice(known_words)] * rng.randint(0, 1)
        try:
            value = read_sentence(" ".join(words), known, "x")
        except Fault as fault:
            assert fault.sentence()
        else:
            read += 1
            assert re.fullmatch(r"if:([-+~?][hc]|\?)>([-+~?][hc]|\?)|iff:([-+~?][hc]|\?)=([-+~?][hc]|\?)", value), (
                words,
                value,
            )
    assert read > 500


def formula(text: str, names: dict[str, Any]) -> Any:
    """A printed sentence as a formula of logic, by its clauses as they are printed."""
    body = text.removesuffix(".")
    low = {k[:1].casefold() + k[1:] if re.match(r"[^\W\d_]{2}", k) else k: v for k, v in names.items()}
    if " if and only if " in body:
        first, last = body.split(" if and only if ")
        first = first[:1].casefold() + first[1:] if re.match(r"[^\W\d_]{2}", first) else first
        return sympy.Equivalent(low[first], low[last])
    first, last = body.removeprefix("If ").split(", then ")
    return sympy.Implies(low[first], low[last])


def clauses_of(one: Any) -> dict[str, Any]:
    """Each clause of an item's tiles as a proposition, or its denial."""
    found: dict[str, Any] = {}
    for tile, p in zip(one.public()["fields"][0]["tiles"]["clauses"], sympy.symbols("p q"), strict=True):
        for words in (tile, tile.get("later", tile)):
            found[words["said"]], found[words["denied"]] = p, sympy.Not(p)
    return found


def test_the_key_is_the_form_that_is_asked_for() -> None:
    """By logic, from the printed words alone: the statement from the prompt, the form from the question."""
    met = set()
    for seed in range(SEEDS):
        one = item("connect", seed * 7 + 1, 5)
        names = clauses_of(one)
        statement = formula(re.split(r"(?<=\.) The statement is true", one.prompt.split(": ", 1)[1])[0], names)
        h, c = statement.args
        form = re.search(r"Write the (\w+) of it", one.ask)[1]  # type: ignore[index]
        met.add(form)
        want = {
            "converse": sympy.Implies(c, h),
            "inverse": sympy.Implies(~h, ~c),
            "contrapositive": sympy.Implies(~c, ~h),
            "biconditional": sympy.Equivalent(h, c),
        }[form]
        assert formula(key_shown(one)["sentence"], names) == want, (seed, key_shown(one))
        if form == "biconditional" and "∠" in one.prompt:
            oracle = Oracle(json.loads(json.dumps(one.figure)))
            one_way, other = (clause(part) for part in parts(one.prompt.split(": ", 1)[1].split(". The")[0]))
            assert all(oracle.entails(one_way, s) for s in other) and all(oracle.entails(other, s) for s in one_way)
    assert met == {"converse", "inverse", "contrapositive", "biconditional"}


def test_every_sentence_that_the_tiles_can_build_is_read_and_judged_by_logic() -> None:
    """Right exactly when it is the form asked for; a biconditional may begin with either part."""
    for seed in range(trials(quick=15, full=300)):
        one = item("connect", seed * 13 + 2, 5)
        names = clauses_of(one)
        tiles = one.public()["fields"][0]["tiles"]
        want = formula(key_shown(one)["sentence"], names)
        for joint, first, last in itertools.product(tiles["joints"], tiles["clauses"], tiles["clauses"]):
            for a, b in itertools.product(("said", "denied"), repeat=2):
                text = joint["sentence"].replace("{first}", first[a]).replace("{last}", (last.get("later") or last)[b])
                text = text[:1].upper() + text[1:] if re.match(r"[^\W\d_]{2}", text) else text
                found = judge(one, text)
                same = formula(text, names) == want and str(formula(text, names)) == str(want)
                assert found.right == same, (seed, text, found.note)
                assert found.note and (found.right or len(found.parts[0]["text"]) > 8)


def test_what_was_done_is_named() -> None:
    assert "That is the converse" in explain(FORMS["converse"], "contrapositive") and "denied neither" in explain(
        FORMS["converse"], "contrapositive"
    )
    assert "That is the inverse" in explain(FORMS["inverse"], "contrapositive")
    assert "neither the statement nor any of its other forms" in explain("if:-c>+h", "contrapositive")
    assert "one way" in explain("iff:+c=+h", "converse") and "one way" in explain(FORMS["converse"], "biconditional")
    assert "“then” part is no part" in explain("if:+c>?", "converse") and "one part" in explain("if:+c>-c", "converse")
