"""A conditional and its relatives. Levels: 1 choose them, 2 judge statement and converse with the reason,
3 find the counterexample, 4 may it be said with "if and only if"? 5 write a relative as a sentence, 6 give a
counterexample.
"""

from __future__ import annotations

from dataclasses import replace

from app.figure.pairs import relation_for
from app.practice.certify import NotCertified, verdict
from app.practice.chance import Chance, mixed
from app.practice.families.common import check_traps
from app.practice.families.conditionals import FORMS, Conditional, propose
from app.practice.families.giving import give
from app.practice.families.writing import write
from app.practice.items import Choice, Field, Item
from app.words import Message, Text, joined, say
from app.words import theorem as theorem_of
from app.words.house import House

__all__ = ["make"]


def make(family: str, seed: int, level: int, house: House) -> Item:
    chance = Chance(mixed(family, seed, level))
    while True:
        item = (_choose, _judge, _counterexample, _iff, write, give)[level - 1](chance, seed, house)
        if item is not None:
            return item


def _base(found: Conditional, seed: int, level: int, **more: object) -> Item:
    item = Item(
        family="connect",
        seed=seed,
        level=level,
        skill="direction",
        prompt=say("practice.connect_prompt", sentence=found.sentence("statement")),
        ask="",
        fields=(),
        figure=found.drawn.json,
        facts={"pair": found.pair, "truth": found.truth},
    )
    return replace(item, **more)  # type: ignore[arg-type]


def _choose(chance: Chance, seed: int, house: House) -> Item | None:
    found = propose(chance, seed, 1, ("relation", "relation", "wrong", "measures", "perpendicular"))
    wanted = chance.pick(["converse", "converse", "inverse", "contrapositive"])
    shown = chance.shuffled([*[f for f in FORMS if f != "statement"], "half-if", "half-then"])
    choices = tuple(Choice(form, found.sentence(form)) for form in shown)
    traps = {
        "converse": {"inverse-for-converse": "inverse", "contrapositive-for-converse": "contrapositive"},
        "inverse": {"converse-for-inverse": "converse", "half-negated": "half-then"},
        "contrapositive": {
            "converse-for-contrapositive": "converse",
            "inverse-for-contrapositive": "inverse",
        },
    }[wanted]
    key = {"form": (wanted,)}
    return _base(
        found,
        seed,
        1,
        ask=say("practice.connect_ask_write", form=say(f"practice.form_{wanted}")),
        fields=(Field("form", "choice", say(f"practice.form_{wanted}"), choices, sealed=True),),
        key=key,
        traps=check_traps({m: {"form": v} for m, v in traps.items()}, key) or {},
        working=(say(f"practice.connect_why_{wanted}"), found.sentence(wanted)),
        hints=(
            say("practice.connect_hint_1"),
            say(f"practice.connect_why_{wanted}"),
            say(
                f"practice.connect_hint_3_{wanted}",
                hypothesis=found.hypothesis.said,
                conclusion=found.conclusion.said,
            ),
        ),
    )


_TRUE, _FALSE = "true", "false"


def _truths(name: str, label: Text) -> Field:
    return Field(
        name,
        "choice",
        label,
        (Choice(_TRUE, say("practice.true_always")), Choice(_FALSE, say("practice.true_not_always"))),
    )


def _judge(chance: Chance, seed: int, house: House) -> Item | None:
    found = propose(chance, seed, 2, ("relation", "relation", "wrong", "measures", "perpendicular"))
    truth = found.truth
    theorem = found.theorem("converse")
    by = theorem_of(theorem) if theorem else say("practice.why_theorem_plain")
    why = [
        Choice("theorem", say("practice.why_theorem", theorem=by)),
        Choice("counterexample", say("practice.why_counterexample")),
        Choice("statement", say("practice.why_statement")),
        Choice("examples", say("practice.why_examples")),
    ]
    right = {True: _TRUE, False: _FALSE}
    key = {
        "statement": (right[truth["statement"]],),
        "converse": (right[truth["converse"]],),
        "why": ("theorem" if truth["converse"] else "counterexample",),
    }
    traps = {
        "converse-always": {
            "statement": right[truth["statement"]],
            "converse": right[truth["statement"]],
            "why": "statement",
        },
        "examples-as-proof": {"statement": right[truth["statement"]], "converse": _TRUE, "why": "examples"},
    }
    if truth["statement"] and truth["converse"]:
        traps["converse-never"] = {"statement": _TRUE, "converse": _FALSE, "why": "counterexample"}
    which = ("t" if truth["statement"] else "f") + ("t" if truth["converse"] else "f")
    return _base(
        found,
        seed,
        2,
        ask=say("practice.connect_ask_judge"),
        fields=(
            _truths("statement", say("practice.label_statement")),
            _truths("converse", say("practice.label_converse")),
            Field("why", "choice", say("practice.label_why"), tuple(chance.shuffled(why))),
        ),
        key=key,
        traps=check_traps(traps, key) or {},
        working=(
            say("practice.converse_is", sentence=found.sentence("converse")),
            say(f"practice.connect_truth_{which}"),
            *([joined("plain", (by, "."))] if truth["converse"] else []),
        ),
        hints=(
            say("practice.converse_is", sentence=found.sentence("converse")),
            say("practice.judge_hint_2", hypothesis=found.conclusion.said, conclusion=found.hypothesis.said),
            say("practice.judge_hint_3_true" if truth["converse"] else "practice.judge_hint_3_false"),
        ),
    )


def _counterexample(chance: Chance, seed: int, house: House) -> Item | None:
    """A statement or converse that is not always true; up to four figures, one of them a counterexample."""
    found = propose(chance, seed, 3, ("wrong", "measures", "measures", "perpendicular"))
    false = [form for form in ("statement", "converse") if not found.truth[form]]
    if not false:
        return None
    form = chance.pick(false)
    if form == "converse":
        found = replace(found, hypothesis=found.conclusion, conclusion=found.hypothesis)
    a, b = sorted((found.a, found.b))
    cases: dict[str, tuple[int, int]] = {}
    for _ in range(300):
        one = chance.pick([n for n in range(30, 151) if n != 90])
        two = chance.pick([one, 180 - one, chance.between(30, 150)])
        cases.setdefault(_case(found, one, two), (one, two))
        if len(cases) == 4:
            break
    for own in _own_measures(found):
        cases[_case(found, *own)] = own
    for case, (one, two) in cases.items():
        _certify(found, a, b, one, two, case)
    if "yes-no" not in cases or len(cases) < 3:
        return None
    shown = chance.shuffled(sorted(cases))
    choices = tuple(Choice(case, _figure_words(found, a, b, *cases[case])) for case in shown)
    key = {"figure": ("yes-no",)}
    traps = {}
    if "no-yes" in cases:
        traps["counterexample-to-converse"] = {"figure": "no-yes"}
    if "yes-yes" in cases:
        traps["example-for-counterexample"] = {"figure": "yes-yes"}
    if "no-no" in cases:
        traps["neither-for-counterexample"] = {"figure": "no-no"}
    return _base(
        found,
        seed,
        3,
        prompt=say("practice.counter_prompt", sentence=found.sentence("statement")),
        ask=say("practice.counter_ask"),
        key=key,
        traps=check_traps(traps, key) or {},
        fields=(Field("figure", "choice", say("practice.counter_label"), choices, sealed=True),),
        working=(
            say("practice.counter_why", hypothesis=found.hypothesis.said, conclusion=found.conclusion.said),
            _figure_words(found, a, b, *cases["yes-no"]),
        ),
        hints=(
            say("practice.counter_hint_1"),
            say("practice.counter_hint_2", hypothesis=found.hypothesis.said),
            say("practice.counter_hint_3", conclusion=found.conclusion.said),
        ),
    )


def _own_measures(found: Conditional) -> list[tuple[int, int]]:
    """The measures that the clauses themselves name: chance would hardly hit them."""
    own = []
    for clause in (found.hypothesis, found.conclusion):
        if "⊥" in clause.statements[0]:
            own.append((90, 90))
        elif clause.statements[0].startswith("m∠") and "+" not in clause.statements[0]:
            one, two = (int(s.split("= ")[1]) for s in clause.statements)
            own.append((one, two))
    return own


def _case(found: Conditional, one: int, two: int) -> str:
    """ "yes-no": the hypothesis holds in the figure with these measures, and the conclusion does not."""
    return "-".join("yes" if c.holds(one, two) else "no" for c in (found.hypothesis, found.conclusion))


def _certify(found: Conditional, a: str, b: str, one: int, two: int, case: str) -> None:
    """The reasoner's word on the case."""
    numbers = [f"m∠{a} = {one}", f"m∠{b} = {two}"]
    for clause, word in zip((found.hypothesis, found.conclusion), case.split("-"), strict=True):
        said = [verdict(found.fig, numbers, s) for s in clause.statements]
        agree = all(v == "follows" for v in said) if word == "yes" else "cannot be" in said
        if not agree:
            raise NotCertified(f"{numbers} and {clause.statements}: {said}, not {word}")


def _figure_words(found: Conditional, a: str, b: str, one: int, two: int) -> Message:
    relation = relation_for(found.pair)
    parallel = one == two if relation == "congruent" else one + two == 180
    first, second = found.drawn.lines
    return say(
        "practice.figure_with",
        a=a,
        b=b,
        one=one,
        two=two,
        lines=f"{first} ∥ {second}" if parallel else f"{first} ∦ {second}",
    )


def _iff(chance: Chance, seed: int, house: House) -> Item | None:
    found = propose(chance, seed, 4, ("relation", "relation", "measures", "perpendicular"))
    truth = found.truth
    both = truth["statement"] and truth["converse"]
    key = {"iff": ("yes" if both else "no",), "same": ("contrapositive",)}
    if not (truth["statement"] or both):
        # The statement must hold, or "if and only if" is out of the question from the start.
        return None
    traps = {"converse-taken-as-same": {"iff": key["iff"][0], "same": "converse"}}
    if not both:
        traps["iff-one-way"] = {"iff": "yes", "same": "contrapositive"}
    else:
        traps["converse-never"] = {"iff": "no", "same": "contrapositive"}
    return _base(
        found,
        seed,
        4,
        skill="biconditional",
        prompt=say("practice.iff_prompt", sentence=found.sentence("statement")),
        ask=say("practice.iff_ask"),
        fields=(
            Field(
                "iff",
                "choice",
                say("practice.iff_label"),
                (Choice("yes", say("practice.iff_yes")), Choice("no", say("practice.iff_no"))),
            ),
            Field(
                "same",
                "choice",
                say("practice.same_label"),
                tuple(Choice(f, say(f"practice.form_{f}")) for f in chance.shuffled(FORMS[1:])),
            ),
        ),
        key=key,
        traps=check_traps(traps, key) or {},
        working=(
            say("practice.converse_is", sentence=found.sentence("converse")),
            say("practice.iff_why_yes" if both else "practice.iff_why_no"),
            say("practice.same_why"),
        ),
        hints=(
            say("practice.iff_hint_1"),
            say("practice.converse_is", sentence=found.sentence("converse")),
            say("practice.iff_hint_3"),
        ),
    )
