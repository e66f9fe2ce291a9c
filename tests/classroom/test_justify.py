"""Justify: every part that can fail is told apart, and far more is refused than accepted.

The forms of the argument are those of Euclid I.27 and I.28 (equal alternate angles, equal corresponding
angles, interior angles on one side that make two right angles); the exterior ones follow by I.15 and I.13.
"""

from __future__ import annotations

from itertools import combinations
from typing import Any

import pytest

from app.classroom.kinds import kind_module
from app.classroom.verdict import Context
from app.figure.faults import Fault
from app.figure.model import figure_from_json
from app.figure.pairs import ALL_PAIRS, name_pair
from app.words.house import HOUSES, house
from tests.figure.samples import standard
from tests.reading import in_english

kind_module = in_english(kind_module)

justify = kind_module("justify")
CTX = Context(1, house())

# pair → two angles that form it in the standard figure, the relation that helps, the converse
FORMS = {
    "corresponding": ("2", "6", "congruent", "corresponding-angles-converse"),
    "alternate interior": ("3", "6", "congruent", "alternate-interior-angles-converse"),
    "alternate exterior": ("1", "8", "congruent", "alternate-exterior-angles-converse"),
    "consecutive interior": ("3", "5", "supplementary", "consecutive-interior-angles-converse"),
    "consecutive exterior": ("2", "8", "supplementary", "consecutive-exterior-angles-converse"),
}
PAIRS = list(FORMS)


def relation_text(a, b, relation):
    return f"∠{a} ≅ ∠{b}" if relation == "congruent" else f"∠{a} and ∠{b} are supplementary"


def task_for(pair, *, given=None, lines=("l", "m"), figure=None) -> dict[str, Any]:
    a, b, relation, _ = FORMS[pair]
    return {
        "id": "x", "kind": "justify", "title": "x", "ask": "x", "figure": figure or standard(12, 20, 68),
        "given": [relation_text(a, b, relation)] if given is None else given, "lines": list(lines) if lines else None,
        "expect": "parallel",
    }  # fmt: skip


def reply_for(pair, /, **changes) -> dict[str, Any]:
    a, b, relation, theorem = FORMS[pair]
    reply = {
        "angles": [a, b], "pair": pair, "transversal": "t", "relation": relation, "lines": ["l", "m"], "theorem": theorem,
    }  # fmt: skip
    return {**reply, **changes}


def judged(task, reply, ctx=CTX):
    return justify.judge(task, reply, ctx)


@pytest.mark.parametrize("pair", PAIRS)
@pytest.mark.parametrize("turned", [False, True])
def test_accepted(pair, turned) -> None:
    a, b, relation, _ = FORMS[pair]
    changes = {"angles": [b, a], "lines": ["m", "l"]} if turned else {}

    verdict = judged(task_for(pair), reply_for(pair, **changes))

    assert (verdict.ok, verdict.done, verdict.code, verdict.score) == (True, True, "follows", 1.0)
    assert verdict.text.startswith("Right. ∠") and "It is given that" in verdict.text
    assert ("l ∥ m" in verdict.text or "m ∥ l" in verdict.text) and house().name(FORMS[pair][3]) in verdict.text
    assert all(part["ok"] for part in verdict.parts) and verdict.misconception is None
    assert all(verdict.skills.values()) and "is-it-enough" in verdict.skills
    assert set(verdict.marks["lines"]) == {"l", "m"}


def rejections():
    """For each theorem, replies that must be refused, each with the code and the habit it shows."""
    for pair, (a, _, relation, theorem) in FORMS.items():
        other = "supplementary" if relation == "congruent" else "congruent"
        habit = "supplementary-for-equal" if relation == "congruent" else "equal-for-supplementary"
        yield pair, {"relation": other}, f"{other} for {relation}", "relation", habit
        yield (
            pair,
            {"theorem": theorem.removesuffix("-converse")},
            "original for converse",
            "theorem",
            "original-for-converse",
        )
        yield pair, {"theorem": "looks-parallel"}, "looks-parallel", "theorem", "looks-parallel"
        yield pair, {"theorem": "because they look parallel"}, "looks-parallel", "theorem", "looks-parallel"
        yield pair, {"theorem": "vertical-angles"}, "no converse", "theorem", "wrong-theorem"
        yield pair, {"theorem": "definition-of-supplementary"}, "no converse", "theorem", "wrong-theorem"
        yield pair, {"transversal": "l"}, "wrong transversal", "transversal", "wrong-transversal"
        yield pair, {"transversal": "m"}, "wrong transversal", "transversal", "wrong-transversal"
        yield pair, {"lines": ["l", "t"]}, "wrong lines", "lines", "wrong-lines"
        yield pair, {"lines": ["m", "t"]}, "wrong lines", "lines", "wrong-lines"
        for wrong in PAIRS:
            if wrong != pair:
                yield pair, {"pair": wrong}, "wrong pair name", "pair", "wrong-pair-name"
                yield pair, {"theorem": FORMS[wrong][3]}, "another converse", "theorem", "wrong-theorem"
                forward = FORMS[wrong][3].removesuffix("-converse")
                yield (
                    pair,
                    {"theorem": forward},
                    "original of another pair",
                    "theorem",
                    "original-for-converse",
                )
        yield pair, {"angles": [a, "2" if a != "2" else "1"]}, "one meet", "angles", "always-true-pair"
        yield pair, {"angles": ["1", "6"]}, "no named pair", "angles", "wrong-pair-name"
    for pair in PAIRS:
        for given in (
            [],
            ["∠1 ≅ ∠4"],
            ["∠5 ≅ ∠8", "m∠1 = 112"],
            [relation_text(*FORMS[pair][:2], "congruent" if FORMS[pair][2] == "supplementary" else "supplementary")],
        ):
            yield pair, {"given": given}, "not given", "given", "unsupported-relation"
        a, b, relation, _ = FORMS[pair]
        sizes = [f"m∠{a} = 70", f"m∠{b} = {71 if relation == 'congruent' else 111}"]
        yield pair, {"given": sizes}, "cannot be", "given", "unsupported-relation"


REJECTIONS = list(rejections())


@pytest.mark.parametrize("pair, changes, code, field, habit", REJECTIONS)
def test_refused(pair, changes, code, field, habit) -> None:
    given = changes.get("given")
    reply = reply_for(pair, **{k: v for k, v in changes.items() if k != "given"})

    verdict = judged(task_for(pair, given=given), reply)

    assert (verdict.ok, verdict.done, verdict.code, verdict.misconception) == (False, False, code, habit)
    assert [part["field"] for part in verdict.parts if not part["ok"]] == [field]
    failing = next(part for part in verdict.parts if not part["ok"])
    assert failing["text"] == verdict.text and verdict.text.endswith(".")
    assert 0 <= verdict.score < 1
    assert not verdict.text.startswith(("Wrong", "Right", "Incorrect", "Not"))


@pytest.mark.parametrize("pair", PAIRS)
def test_a_well_built_argument_for_what_nothing_makes_so_is_worth_nothing(pair) -> None:
    """Else a gradebook would praise the very mistake that "not enough" asks for."""
    wrong = "congruent" if FORMS[pair][2] == "supplementary" else "supplementary"
    verdict = judged(task_for(pair, given=[relation_text(*FORMS[pair][:2], wrong)]), reply_for(pair))

    assert not verdict.ok and verdict.score == 0
    assert verdict.skills == {"is-it-enough": False}


def test_at_least_twice_as_many_are_refused_as_accepted_for_each_theorem() -> None:
    for pair in PAIRS:
        assert sum(one[0] == pair for one in REJECTIONS) >= 2 * 2


def test_the_verdict_line_names_how_the_pair_lies_and_what_would_help() -> None:
    verdict = judged(task_for("alternate interior"), reply_for("alternate interior", relation="supplementary"))

    assert verdict.text == (
        "∠3 and ∠6 share transversal t, both are inside, on opposite sides: alternate interior angles. "
        "Supplementary does not help here; congruent would."
    )


def test_true_but_not_enough_says_that_it_is_true() -> None:
    """Consecutive interior angles that are given congruent: true, and no help."""
    task = task_for("consecutive interior", given=["∠3 ≅ ∠5"])

    verdict = judged(task, reply_for("consecutive interior", relation="congruent"))

    assert verdict.code == "congruent for supplementary"
    assert "It is true that ∠3 ≅ ∠5, but for this pair congruent does not help; supplementary would." in verdict.text


def test_what_is_not_given_comes_with_a_figure_in_which_it_fails() -> None:
    task = task_for("alternate interior", given=["∠1 ≅ ∠4"])

    verdict = judged(task, reply_for("alternate interior"))

    assert verdict.figure is not None
    other = figure_from_json(verdict.figure)
    assert other.measure("1") == other.measure("4"), "the given holds in it"
    assert other.measure("3") != other.measure("6"), "and the relation fails"
    assert "is in order" in verdict.text and "here is a figure" in verdict.text


def test_several_parts_fail_and_the_first_of_the_argument_is_spoken_of() -> None:
    reply = reply_for(
        "alternate interior", pair="corresponding", relation="supplementary", theorem="corresponding-angles"
    )

    verdict = judged(task_for("alternate interior"), reply)

    assert [part["field"] for part in verdict.parts if not part["ok"]] == ["pair", "relation", "theorem"]
    assert verdict.code == "wrong pair name" and verdict.score == round(3 / 7, 2)
    assert verdict.skills["direction"] is False


def test_looks_parallel_is_spoken_of_before_all_else() -> None:
    verdict = judged(
        task_for("corresponding"),
        reply_for("corresponding", pair="alternate interior", theorem="looks-parallel"),
    )

    assert verdict.misconception == "looks-parallel" and "never that lines are parallel" in verdict.text


def test_a_relation_that_follows_from_another_given_is_accepted_and_told() -> None:
    verdict = judged(task_for("alternate interior", given=["∠1 ≅ ∠8"]), reply_for("alternate interior"))

    assert verdict.ok and "What is given makes ∠3 ≅ ∠6" in verdict.text


def test_measures_make_the_relation() -> None:
    task = task_for("consecutive interior", given=["m∠3 = 71", "m∠5 = 109"])

    assert "It is given that ∠3 and ∠5 are supplementary" in judged(task, reply_for("consecutive interior")).text


# A network: two transversals t and s across l and m; which two lines does a pair speak of?
NETWORK = {
    "lines": {"l": {"direction": 4, "through": [0, 2]}, "m": {"direction": 0, "through": [0, -2]},
              "t": {"direction": 62, "through": [-3, 0]}, "s": {"direction": 60, "through": [3, 0]}},
    "meets": {"A": ["l", "t"], "B": ["m", "t"], "C": ["l", "s"], "D": ["m", "s"]},
    "angles": {
        "1": {"at": "A", "from": "t-", "to": "l+"}, "2": {"at": "B", "from": "t+", "to": "m-"},
        "3": {"at": "B", "from": "m+", "to": "t+"}, "4": {"at": "C", "from": "l-", "to": "s-"},
        "5": {"at": "D", "from": "s+", "to": "m-"}, "6": {"at": "D", "from": "m+", "to": "s+"},
    },
}  # fmt: skip


def network(given, lines=None):
    return {
        "id": "n",
        "kind": "justify",
        "title": "n",
        "ask": "n",
        "figure": NETWORK,
        "given": given,
        "lines": lines,
    }


def network_reply(**changes):
    return {
        "angles": ["3", "6"], "pair": "corresponding", "transversal": "m", "relation": "congruent", "lines": ["t", "s"],
        "theorem": "corresponding-angles-converse", **changes,
    }  # fmt: skip


def test_in_a_network_the_pair_tells_the_lines() -> None:
    assert judged(network(["∠3 ≅ ∠6"]), network_reply()).ok

    wrong = judged(network(["∠3 ≅ ∠6"]), network_reply(lines=["l", "m"]))
    assert wrong.code == "wrong lines" and "The" not in wrong.text[:3]
    assert "m is the transversal of this pair" in wrong.text
    wrong = judged(network(["∠3 ≅ ∠6"]), network_reply(lines=["l", "s"]))
    assert "the other side of ∠3 lies on t, and the other side of ∠6 on s" in wrong.text


def test_in_a_network_a_misread_transversal_is_told_from_the_sides() -> None:
    verdict = judged(network(["∠3 ≅ ∠6"]), network_reply(transversal="t"))

    assert verdict.misconception == "wrong-transversal"
    assert verdict.text.startswith("t is not the transversal of this pair. The sides of ∠3 lie on")
    assert verdict.text.endswith("m carries a side of each.")


def test_angles_of_two_transversals_are_no_pair() -> None:
    verdict = judged(network(["∠1 ≅ ∠5"]), network_reply(angles=["1", "5"]))

    assert (verdict.code, verdict.misconception, verdict.score) == (
        "no shared transversal",
        "wrong-transversal",
        0.0,
    )


def test_a_true_argument_about_other_lines_than_asked() -> None:
    verdict = judged(network(["∠3 ≅ ∠6"], ["l", "m"]), network_reply())

    assert verdict.code == "other lines" and "speak of t and s, but the question is about l and m" in verdict.text


def test_none_is_right_only_when_nothing_is_forced() -> None:
    right = judged(network(["∠1 ≅ ∠5"]), {"none": True})
    assert (right.ok, right.code) == (True, "not enough")

    wrong = judged(network(["∠3 ≅ ∠6"]), {"none": True})
    assert (wrong.ok, wrong.code, wrong.misconception) == (False, "enough", "enough-taken-for-not")
    assert "∠3" not in wrong.text, "the pair is not given away"


@pytest.mark.parametrize("pair", PAIRS)
def test_none_for_each_theorem(pair) -> None:
    a, b, relation, _ = FORMS[pair]
    assert not judged(task_for(pair), {"none": True}).ok
    swapped = relation_text(a, b, "supplementary" if relation == "congruent" else "congruent")

    open_ = judged(task_for(pair, given=[swapped]), {"none": True})

    assert open_.ok and open_.figure is not None
    other = figure_from_json(open_.figure)
    assert not other.parallel_as_drawn("l", "m")
    total = other.measure(a) + other.measure(b)
    assert total == 180 if relation == "congruent" else other.measure(a) == other.measure(b)


def test_parallel_as_drawn_is_never_enough() -> None:
    """The figure is drawn with l and m exactly parallel; nothing is given."""
    for pair in PAIRS:
        task = task_for(pair, given=[], figure=standard(20, 20, 68))
        assert judged(task, reply_for(pair)).code == "not given"
        assert judged(task, {"none": True}).ok


@pytest.mark.parametrize(
    "changes, where",
    [
        ({"angles": None}, "reply.angles"), ({"angles": ["3"]}, "reply.angles"), ({"angles": ["3", "3"]}, "reply.angles"),
        ({"angles": ["3", "99"]}, "reply.angles"), ({"angles": [3, 6]}, "reply.angles"), ({"angles": "36"}, "reply.angles"),
        ({"pair": None}, "reply.pair"), ({"pair": "cousins"}, "reply.pair"), ({"pair": {}}, "reply.pair"),
        ({"transversal": "q"}, "reply.transversal"), ({"transversal": None}, "reply.transversal"),
        ({"relation": "equal-ish"}, "reply.relation"), ({"relation": []}, "reply.relation"),
        ({"lines": ["l"]}, "reply.lines"), ({"lines": ["l", "l"]}, "reply.lines"), ({"lines": ["l", {}]}, "reply.lines"),
        ({"theorem": ""}, "reply.theorem"), ({"theorem": "Pythagoras"}, "reply.theorem"), ({"theorem": 5}, "reply.theorem"),
        ({"theorem": "x" * 500}, "reply.theorem"),
    ],
)  # fmt: skip
def test_a_reply_that_cannot_be_used_is_a_fault_at_its_place(changes, where) -> None:
    with pytest.raises(Fault) as caught:
        judged(task_for("alternate interior"), reply_for("alternate interior", **changes))

    assert caught.value.where == where and caught.value.sentence()


@pytest.mark.parametrize("name", sorted(HOUSES))
def test_words_of_every_house_are_understood(name) -> None:
    words = house(name)
    for pair in PAIRS:
        theorem = FORMS[pair][3]
        reply = reply_for(pair, pair=words.term(pair), theorem=words.name(theorem))
        verdict = judged(task_for(pair), reply, Context(1, words))
        assert verdict.ok, (pair, verdict.text)
        assert words.form(theorem, "the") in verdict.text


def test_the_key_holds_exactly_what_is_accepted() -> None:
    for given in (["∠4 ≅ ∠5"], ["m∠3 = 80", "m∠5 = 100"], ["∠3 ≅ ∠5"], []):
        task = task_for("alternate interior", given=given)
        key = justify.key(task, CTX)
        fig = figure_from_json(task["figure"])
        accepted = {frozenset(one["angles"]) for one in key["accepted"]}
        assert key["none"] == judged(task, {"none": True}).ok
        for a, b in combinations(fig.angles, 2):
            actual = name_pair(fig, a, b)
            if actual.relation is None:
                assert frozenset((a, b)) not in accepted
                continue
            reply = reply_for(actual.pair, angles=[a, b])
            assert judged(task, reply).ok == (frozenset((a, b)) in accepted)
        if accepted:
            assert key["accepted"][0]["angles"] in (["4", "5"], ["3", "5"]), "what is given as it stands comes first"


def test_what_a_seat_may_see_tells_nothing_of_the_answer() -> None:
    """T-10: two tasks that differ only in what answers them look alike."""
    enough, not_enough = task_for("alternate interior"), task_for("alternate interior")
    not_enough["expect"] = "not enough"

    assert justify.public(enough, CTX) == justify.public(not_enough, CTX)
    seen = justify.public(enough, CTX)
    assert "expect" not in seen and "notes" not in seen
    assert not any(pair in seen["words"]["text"] for pair in ALL_PAIRS[:5])
    assert {one["id"] for one in seen["choices"]["theorems"]} >= {
        "looks-parallel",
        *(f[3] for f in FORMS.values()),
    }


@pytest.mark.parametrize("level", [1, 2, 3])
def test_hints_go_from_where_to_look_to_the_first_step(level) -> None:
    hint = justify.ask(task_for("alternate interior"), "hint", {"level": level}, CTX)

    assert ("∠3 and ∠6" in hint["text"]) == (level == 3)
    assert "alternate" not in hint["text"]
    assert justify.ask(task_for("corresponding", given=[]), "hint", {"level": level}, CTX)["text"]


@pytest.mark.parametrize("body", [{}, {"level": 4}, {"level": "1"}, {"level": True}])
def test_a_hint_that_is_none(body) -> None:
    with pytest.raises(Fault):
        justify.ask(task_for("corresponding"), "hint", body, CTX)
