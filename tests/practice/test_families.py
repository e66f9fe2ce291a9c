"""Every exercise has exactly the stated answer, by z3, sympy and coordinates; no two are alike."""

from __future__ import annotations

import hashlib
import itertools
import json
import re
from fractions import Fraction
from pathlib import Path

import pytest
import sympy

from app.figure.faults import Fault
from app.practice.families import FAMILIES, LEVELS, item
from app.practice.items import NONE, Item
from app.practice.judging import judge, key_shown
from app.practice.working import check_working
from app.words.house import HOUSES
from tests.practice.oracle import Oracle, classify
from tests.reading import in_english
from tests.scale import trials

item = in_english(item)
judge = in_english(judge)

SEEDS = trials(quick=12, full=1_000)
EVERY = [(family, level) for family in FAMILIES for level in range(1, LEVELS[family] + 1)]
# Seeds spread out, so that a run of neighbours is not all that is seen.
SPREAD = [(i * 7_919) % 100_003 for i in range(SEEDS)]


def of(*families: str) -> list[tuple[str, int]]:
    return [pair for pair in EVERY if pair[0] in families]


def made(family: str, level: int) -> list[Item]:
    return [item(family, seed, level) for seed in SPREAD]


def figure(one: Item) -> dict[str, object]:
    return json.loads(json.dumps(one.figure))


@pytest.mark.parametrize(("family", "level"), [*of("make-parallel", "parallel-so"), ("real-settings", 2)])
def test_the_unknowns_are_exactly_what_z3_says(family: str, level: int) -> None:
    """I-8 and the contract: whole x, every angle from 20 to 160 degrees, one answer, both ways."""
    for one in made(family, level):
        oracle = Oracle(figure(one))
        given = [s for s in one.given if "∥" not in s]
        lines = [name for name in one.figure["lines"] if name != one.figure["transversal"]]  # type: ignore[index]
        parallel = f"{lines[0]} ∥ {lines[1]}"
        x = Fraction(one.facts["x"])
        values = [f"x = {x}"] + ([f"y = {one.key['y'][0]}"] if "y" in one.key else [])
        assert x.denominator == 1 and x > 0
        assert oracle.possible([*given, *values, parallel])
        for claim in values if "angle" not in one.key else [f"m∠{one.facts['q']} = {one.key['angle'][0]}", *values]:
            assert oracle.entails([*given, parallel], claim), (one.seed, claim)
        if not one.facts["thrown"]:
            assert oracle.entails([*given, *values], parallel)
        for poly in one.measures.values():
            size = sum(
                k * (x if m == ("x",) else x**2 if m == ("x", "x") else Fraction(one.key["y"][0]) if m == ("y",) else 1)
                for m, k in poly.items()
            )
            assert 20 <= size <= 160 and size != 90


@pytest.mark.parametrize(("family", "level"), of("make-parallel", "parallel-so"))
def test_sympy_solves_the_equations_to_the_key(family: str, level: int) -> None:
    x, y = sympy.symbols("x y")
    for one in made(family, level):
        equations = [
            sum(
                sympy.Rational(k.numerator, k.denominator) * sympy.Mul(*[{"x": x, "y": y}[c] for c in m])
                for m, k in poly.items()
            )
            for poly in one.start
        ]
        found = sympy.solve(equations, [x, y] if "y" in one.key else [x], dict=True)
        good = [s for s in found if one.allowed({str(k): Fraction(int(v.p), int(v.q)) for k, v in s.items()})]
        assert len(good) == 1 and str(good[0][x]) == one.facts["x"]
        if one.facts["thrown"]:
            assert len(found) == 2 and {str(s[x]) for s in found} == {one.facts["x"], one.facts["thrown"]}


@pytest.mark.parametrize(("family", "level"), of("make-parallel", "parallel-so"))
def test_the_wrong_relation_never_gives_the_right_answer(family: str, level: int) -> None:
    """I-8: equal and supplementary must differ, or the exercise tells nothing."""
    x = sympy.symbols("x")
    for one in made(family, level):
        if "y" in one.key:
            assert one.traps
            continue
        at = [
            sum(sympy.Rational(k.numerator, k.denominator) * x ** len(m) for m, k in one.measures[n].items())
            for n in (one.facts["p"], one.facts["q"])
        ]
        wrong = at[0] + at[1] - 180 if one.facts["relation"] == "congruent" else at[0] - at[1]
        assert sympy.Rational(one.facts["x"]) not in sympy.solve(wrong, x)


@pytest.mark.parametrize(("family", "level"), [*of("find-the-angle"), ("real-settings", 1)])
def test_the_angle_follows_or_can_not_be_told(family: str, level: int) -> None:
    for one in made(family, level):
        oracle = Oracle(figure(one))
        value, q = one.key["angle"][0], one.facts["q"]
        if value == NONE:
            tried = [f"m∠{q} = {n}" for n in (40, 77, 131)]
            assert all(
                oracle.possible([*one.given, claim]) and not oracle.entails(list(one.given), claim) for claim in tried
            )
        else:
            assert oracle.possible(list(one.given)) and oracle.entails(list(one.given), f"m∠{q} = {value}")


@pytest.mark.parametrize(("family", "level"), [*of("is-it-enough"), ("real-settings", 3)])
def test_enough_is_enough_and_no_more(family: str, level: int) -> None:
    for one in made(family, level):
        oracle = Oracle(figure(one))
        assert oracle.possible(list(one.given))
        right = one.key["lines"][0]
        for a, b in itertools.combinations(one.figure["lines"], 2):  # type: ignore[index]
            if any({a, b} <= set(m["lines"]) for m in one.figure["meets"].values()):  # type: ignore[index]
                continue
            assert oracle.entails(list(one.given), f"{a} ∥ {b}") == (set(right.split(",")) == {a, b}), (one.seed, a, b)
        pair, _, lines = classify(figure(one), one.facts["a"], one.facts["b"])
        if right != NONE:
            assert one.key["theorem"] == (pair.replace(" ", "-") + "-angles-converse",) and lines == set(
                right.split(",")
            )


@pytest.mark.parametrize(("family", "level"), of("name-the-pair"))
def test_pairs_are_named_as_coordinates_say(family: str, level: int) -> None:
    for one in made(family, level):
        assert classify(figure(one), one.facts["a"], one.facts["b"])[0] == one.key["pair"][0]


@pytest.mark.parametrize(("family", "level"), of("which-transversal"))
def test_transversals_are_those_that_coordinates_show(family: str, level: int) -> None:
    for one in made(family, level):
        _, transversal, lines = classify(figure(one), one.facts["a"], one.facts["b"])
        assert one.key["transversal"] == (transversal,) and set(one.key["lines"][0].split(",")) == lines


@pytest.mark.parametrize(("family", "level"), of("missing-reason", "put-in-order", "find-the-mistake"))
def test_every_row_of_a_proof_is_entailed_by_the_givens(family: str, level: int) -> None:
    """A mistake may be a wrong reason for a true row, or a row taken for given: then the row still holds here."""
    for one in made(family, level):
        oracle = Oracle(figure(one))
        assert oracle.possible(list(one.given))
        for row in one.rows:
            assert oracle.entails(list(one.given), row["statement"]), (one.seed, row)


def pq(form: str) -> sympy.logic.boolalg.Boolean:
    p, q = sympy.symbols("p q")
    return {
        "statement": p >> q,
        "converse": q >> p,
        "inverse": ~p >> ~q,
        "contrapositive": ~q >> ~p,
        "half-if": ~p >> q,
        "half-then": p >> ~q,
    }[form]


def test_the_four_forms_are_what_logic_calls_them() -> None:
    """Wentworth 1899 §32 and §33: a converse may be false; the contrapositive stands or falls with the statement."""
    equal = {
        f: sympy.simplify_logic(sympy.Equivalent(pq("statement"), pq(f))) == sympy.true
        for f in ("converse", "inverse", "contrapositive", "half-if", "half-then")
    }
    assert equal == {"converse": False, "inverse": False, "contrapositive": True, "half-if": False, "half-then": False}
    assert sympy.simplify_logic(sympy.Equivalent(pq("converse"), pq("inverse"))) == sympy.true


def parts(sentence: str) -> tuple[str, str]:
    first, last = sentence.removeprefix("If ").removesuffix(".").split(", then ")
    return first, last


def test_the_sentence_chosen_has_the_form_asked_for() -> None:
    """The forms are rebuilt from the words: which part comes first, and which parts are denied."""
    for one in made("connect", 1):
        texts = {c.value: parts(c.text) for c in one.fields[0].choices}
        h, c = parts(one.prompt.split(": ", 1)[1])
        assert texts["converse"] == (c, h)
        not_h, not_c = texts["inverse"]
        assert texts["contrapositive"] == (not_c, not_h) and not_h != h and not_c != c
        assert texts["half-if"] == (not_h, c) and texts["half-then"] == (h, not_c)


def clause(text: str) -> list[str]:
    """A clause as statements that the oracle reads."""
    if "≅" in text or "∥" in text and " and " not in text:
        return [text]
    text = text.replace("°", "")
    return [text] if "supplementary" in text else text.split(" and ")


@pytest.mark.parametrize("level", [2, 4])
def test_truth_of_statement_and_converse_is_z3s(level: int) -> None:
    for one in made("connect", level):
        oracle = Oracle(figure(one))
        h, c = (clause(part) for part in parts(one.prompt.split(": ", 1)[1]))
        statement = all(oracle.entails(h, claim) for claim in c)
        converse = all(oracle.entails(c, claim) for claim in h)
        if level == 2:
            assert [one.key["statement"][0], one.key["converse"][0]] == [str(statement).lower(), str(converse).lower()]
        else:
            assert statement and one.key["iff"] == ("yes" if converse else "no",)


def test_the_counterexample_breaks_the_statement_and_no_other_choice_does() -> None:
    for one in made("connect", 3):
        oracle = Oracle(figure(one))
        h, c = (clause(part) for part in parts(one.prompt.split(": ", 1)[1]))
        for choice in one.fields[0].choices:
            case = [s.replace("°", "") for s in choice.text.split(", ")]
            assert oracle.possible(case)
            holds = oracle.possible([*case, *h]) and all(oracle.entails(case, s) for s in h)
            fails = not all(oracle.entails(case, s) for s in c)
            assert (holds and fails) == (choice.value == "yes-no"), (one.seed, choice)


@pytest.mark.parametrize(("family", "level"), EVERY)
def test_no_two_items_are_alike(family: str, level: int) -> None:
    """1,000 neighbouring seeds, whatever the scale of the run; figures are told apart to the hundredth."""
    count = trials(quick=120, full=1_000)
    seen = {
        json.dumps([i.prompt, i.ask, i.given, i.figure, i.rows], sort_keys=True, ensure_ascii=False, default=str)
        for i in (item(family, seed, level) for seed in range(count))
    }
    assert len(seen) == count


@pytest.mark.parametrize(("family", "level"), EVERY)
def test_the_key_is_right_and_nothing_of_it_is_public(family: str, level: int) -> None:
    """T-10."""
    for one in made(family, level):
        found = judge(one, key_shown(one))
        assert found.right and found.misconception is None and found.score == 1
        public = one.public()
        assert not {"key", "traps", "working", "hints", "facts", "seed", "start", "measures"} & set(public) - {
            "working"
        }
        assert public.get("working") in (None, True)
        for f, shown in zip(one.fields, public["fields"], strict=True):
            assert set(shown) <= {
                "name",
                "kind",
                "label",
                "choices",
                "unit",
                "none",
                "optional",
                "needless",
                "tiles",
                "movable",
                "entry",
                "angles",
            }
            if f.sealed:
                assert [c["value"] for c in shown["choices"]] == list("ABCDEFGH"[: len(f.choices)])


@pytest.mark.parametrize(
    ("family", "level"), [*of("missing-reason", "find-the-mistake"), *[("connect", n) for n in range(1, 5)]]
)
def test_the_right_choice_is_not_always_in_one_place(family: str, level: int) -> None:
    places = set()
    for seed in range(60):
        one = item(family, seed, level)
        f = one.fields[-1]
        places.add(next(i for i, c in enumerate(f.choices) if c.value == one.key[f.name][0]))
    assert len(places) >= min(2, len(f.choices))


@pytest.mark.parametrize(("family", "level"), of("make-parallel", "parallel-so"))
def test_the_printed_working_passes_the_checker(family: str, level: int) -> None:
    for one in made(family, level):
        lines = [line for line in one.working if "=" in line and "∠" not in line and "With" not in line]
        found = check_working(lines, start=one.start, allowed=one.allowed)
        assert found.first_wrong is None, (one.seed, lines, [r.code for r in found.rows])


@pytest.mark.parametrize(
    "said", ["m∠{q} = {v}", "m∠{q}={v}°", "{v} = m∠{q}", "m<{q} = {v}", "{v} degrees", "{v},0", "∠{q} = {v}°"]
)
def test_an_angle_may_be_given_as_the_figure_says_it(said: str) -> None:
    for seed in range(8):
        one = item("find-the-angle", seed, 2)
        assert judge(one, said.format(q=one.facts["q"], v=one.key["angle"][0])).right


@pytest.mark.parametrize(("family", "level"), [*of("find-the-angle"), ("real-settings", 1)])
def test_the_working_names_a_theorem_or_why_there_is_none(family: str, level: int) -> None:
    names = [*HOUSES["us"].names.values(), "can't be told"]
    for one in made(family, level):
        assert any(name in " ".join(one.working) for name in names), one.working
        if one.key["angle"][0] != NONE:
            assert f"= {one.key['angle'][0]}°" in one.working[-1]


STEP = re.compile(
    r"∠(\d) and ∠(\d) are ([a-z ]+?)(?: angles)?(?:, and (\w) and (\w) are parallel)?: by the ([A-Z][A-Za-z ]+), m∠\2 = (?:.* = )?(\d+)°\."
)


@pytest.mark.parametrize(("family", "level"), [*of("find-the-angle"), ("real-settings", 1)])
def test_each_step_of_the_working_is_named_and_true(family: str, level: int) -> None:
    """Names of pairs as coordinates show them, measures as z3 finds them, theorems by the textbook's names."""
    lengths = set()
    for one in made(family, level):
        if one.key["angle"][0] == NONE:
            continue
        steps = [STEP.fullmatch(line) for line in one.working]
        assert all(steps), one.working
        at, oracle = one.facts["p"], Oracle(figure(one))
        for step in steps:
            assert step is not None
            p, q, pair, *lines, theorem, value = step.groups()
            assert p == at and oracle.entails(list(one.given), f"m∠{q} = {value}"), one.working
            if lines[0]:
                named, _, between = classify(figure(one), p, q)
                assert named == pair and between == set(lines)
                assert theorem.lower().startswith(f"{pair} angles") and oracle.entails(
                    list(one.given), " ∥ ".join(lines)
                )
            else:
                assert classify(figure(one), p, q)[0] == pair.removeprefix("a ")
                assert (pair, theorem) in {
                    ("vertical", "Vertical Angles Theorem"),
                    ("a linear pair", "Linear Pair Postulate"),
                }
            at = q
        assert at == one.facts["q"]
        lengths.add(len(steps))
    assert lengths == ({1} if level == 1 and family == "find-the-angle" else {1, 2})


@pytest.mark.parametrize("house", HOUSES)
def test_every_house_words_every_family(house: str) -> None:
    for family, level in EVERY:
        one = item(family, 5, level, house)
        assert judge(one, key_shown(one), HOUSES[house]).right
        assert not any("{" in text for text in (one.prompt, one.ask, *one.working, *one.hints))


@pytest.mark.parametrize(
    ("family", "seed", "level"),
    [
        ("nothing", 1, 1),
        ("make-parallel", -1, 1),
        ("make-parallel", 2**53, 1),
        ("make-parallel", 1, 0),
        ("make-parallel", 1, 6),
        ("make-parallel", True, 1),
        ("make-parallel", 1, True),
        ("make-parallel", "1", 1),
        ("connect", 1, 99),
        ("", 1, 1),
    ],
)
def test_what_is_no_item_is_refused(family: str, seed: object, level: object) -> None:
    with pytest.raises(Fault) as fault:
        item(family, seed, level)  # type: ignore[arg-type]
    assert fault.value.sentence().endswith(".")


@pytest.mark.parametrize(
    "answer",
    [
        None,
        "",
        [],
        {},
        {"y": 3},
        {"x": []},
        {"x": "9**9**9"},
        {"x": "__import__('os')"},
        {"x": "x.__class__"},
        {"x": 1e400},
        {"x": True},
        {"x": {"a": 1}},
        10**400,
        "٣",
        {"x": "1/0"},
        {"theorem": "corresponding-angles-converse"},
        {"x": 3, "theorem": "no such theorem"},
        {"x": 3, "theorem": 99},
        {"x": "a" * 10**6},
        {"x" * 10_000: 1},
    ],
)
def test_hostile_answers_are_refused_with_a_sentence(answer: object) -> None:
    with pytest.raises(Fault) as fault:
        judge(item("make-parallel", 3, 1), answer)
    assert fault.value.where.startswith("answer") and len(fault.value.sentence()) < 700


@pytest.mark.parametrize(
    "answer", [[], ["A"], ["A", "A", "B", "C"], "ABCD", [1, 2, 3, 4], [["A"], "B", "C", "D"], None, 7]
)
def test_an_order_must_name_every_row_once(answer: object) -> None:
    with pytest.raises(Fault):
        judge(item("put-in-order", 3, 1), answer)


@pytest.mark.parametrize(("level", "seeds"), [(1, 12), (2, 12), (3, 3)])
def test_an_order_is_right_where_every_row_follows_from_those_above_it(level: int, seeds: int) -> None:
    """Every order is tried. z3 says whether a row is forced by the rows above it and the drawn figure; what is more,
    no order that respects the printed use is refused.
    """
    more = 0
    for seed in range(seeds):
        one = item("put-in-order", seed, level)
        labels = [row["label"] for row in one.rows]
        needs = one.facts["needs"]
        right = [order for order in itertools.permutations(labels) if judge(one, list(order)).right]
        for order in itertools.permutations(labels):
            place = {label: i for i, label in enumerate(order)}
            kept = order[-1] == one.facts["goal"] and all(place[p] < place[x] for x in labels for p in needs[x])
            assert order in right or not kept, (seed, order)
            more += order in right and not kept
        oracle = Oracle(dict(one.figure or {}))
        said = {row["label"]: row["statement"] for row in one.rows}
        for order in right[:24]:
            assert order[-1] == one.facts["goal"]
            for i, label in enumerate(order):
                above = [said[x] for x in order[:i]]
                assert said[label] in one.given or oracle.entails(above, said[label]), (seed, order, label)
    # In longer proofs a row may rest on others than the printed ones; those orders are as right.
    assert level < 3 or more > 0


GOLDEN = Path(__file__).parent.parent / "vectors" / "items.json"


def fingerprint(family: str, level: int) -> str:
    shown = [[item(family, seed, level).public(), dict(item(family, seed, level).key)] for seed in (1, 2, 3, 4711)]
    return hashlib.sha256(json.dumps(shown, sort_keys=True, ensure_ascii=False, default=str).encode()).hexdigest()[:16]


@pytest.mark.parametrize(("family", "level"), EVERY)
def test_items_stay_the_same_for_ever(family: str, level: int) -> None:
    """A sheet printed last year can be printed again. Change this file only with a note in "what changed"."""
    golden = json.loads(GOLDEN.read_text(encoding="utf-8"))

    assert golden[f"{family} {level}"] == fingerprint(family, level)
