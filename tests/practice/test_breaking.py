"""Counterexamples that students make: judged as an evaluator of our own judges them, from coordinates and degrees."""

from __future__ import annotations

import copy
import itertools
import json
import random
import re
from collections import Counter
from fractions import Fraction
from typing import Any

import pytest

from app.classroom.kinds import connect
from app.classroom.verdict import Context
from app.figure.faults import Fault
from app.practice.families import item
from app.practice.items import Item
from app.practice.judging import judge, key_shown
from app.words.house import house
from tests.practice.oracle import Oracle, classify
from tests.practice.test_families import parts
from tests.reading import in_english
from tests.scale import trials

connect = in_english(connect)

item = in_english(item)
judge = in_english(judge)

SEEDS = trials(quick=60, full=1_000)
Figure = dict[str, Any]


def plain(value: Any) -> Any:
    return json.loads(json.dumps(value))


def heading(figure: Figure, ray: str) -> Fraction:
    return Fraction(str(figure["lines"][ray[:-1]]["direction"])) + (0 if ray[-1] == "+" else 180)


def measure(figure: Figure, name: str) -> Fraction:
    """Degrees counterclockwise from the first side to the second."""
    angle = figure["angles"][name]
    return (heading(figure, angle["to"]) - heading(figure, angle["from"])) % 360


def turn(figure: Figure, one: str, other: str) -> Fraction:
    return (Fraction(str(figure["lines"][one]["direction"])) - Fraction(str(figure["lines"][other]["direction"]))) % 180


def true(figure: Figure, said: str, chosen: tuple[str, ...]) -> bool:
    """A clause as it is printed, in the figure as drawn."""
    names = re.findall(r"∠(\d+)", said) or list(chosen)
    if found := re.fullmatch(r"(\w) ∥ (\w)", said):
        return turn(figure, *found.groups()) == 0
    if found := re.fullmatch(r"(\w) ⊥ (\w) and (\w) ⊥ (\w)", said):
        a, b, c, d = found.groups()
        return turn(figure, a, b) == turn(figure, c, d) == 90
    at = [measure(figure, name) for name in names]
    if found := re.fullmatch(r"m∠\d = (\d+)° and m∠\d = (\d+)°", said):
        return at == [int(found[1]), int(found[2])]
    tests = {"differ by 2° or less": abs(at[0] - at[1]) <= 2, "both acute": max(at) < 90, "is obtuse": max(at) > 90, "complementary": sum(at) == 90,
             "supplementary": sum(at) == 180, "≅": at[0] == at[1], "congruent": at[0] == at[1]}  # fmt: skip
    for words, value in tests.items():
        if words in said:
            return value
    pair = classify(figure, *chosen)[0]
    return pair in said and pair != "none"


def statement(one: Item) -> tuple[str, str]:
    return parts(one.prompt.split(": ", 1)[1])


def chosen_of(answer: dict[str, Any]) -> tuple[str, ...]:
    return tuple(answer.get("angles") or ())


def test_the_key_breaks_the_statement_and_the_drawing_does_not() -> None:
    for seed in range(SEEDS):
        one = item("connect", seed * 11 + 3, 6)
        h, c = statement(one)
        answer = plain(key_shown(one))
        chosen = chosen_of(answer)
        assert true(answer["figure"], h, chosen) and not true(answer["figure"], c, chosen), (seed, h, c)
        assert judge(one, answer).right
        drawn = plain(one.figure)
        for pick in itertools.combinations(drawn["angles"], 2) if chosen else [()]:
            assert not (true(drawn, h, pick) and not true(drawn, c, pick)), (seed, h, c)


def turned(figure: Figure, line: str, to: int) -> Figure:
    """A line turned about its own crossing; past 180 its rays change names."""
    new = copy.deepcopy(figure)
    new["lines"][line]["direction"] = to % 180
    if to % 360 >= 180:
        for angle in new["angles"].values():
            for side in ("from", "to"):
                if angle[side][:-1] == line:
                    angle[side] = line + ("-" if angle[side][-1] == "+" else "+")
    meet = next(m for m in new["meets"].values() if line in m["lines"])
    new["lines"][line]["through"] = meet["at"]
    return new


def some_figure(one: Item, rng: random.Random) -> Figure:
    """The item's figure with its lines somewhere else in reach."""
    figure = plain(one.figure)
    field = one.public()["fields"][0]
    cut = figure["transversal"]
    across = Fraction(str(figure["lines"][cut]["direction"]))
    for line in field["movable"]:
        away = int((across - Fraction(str(figure["lines"][line]["direction"]))) % 180)
        by = rng.choice([0, *range(-40, 41)])
        if 15 <= away - by <= 165:
            figure = turned(figure, line, int(figure["lines"][line]["direction"]) + by)
    return figure


CASE = {
    (True, True): "example-for-counterexample",
    (False, True): "counterexample-to-converse",
    (False, False): "neither-for-counterexample",
}


def test_any_figure_is_judged_as_its_degrees_say() -> None:
    """Which of the two conditions holds, by our own evaluator; the mistake and the parts say the same."""
    rng = random.Random(4)
    seen: Counter[str | None] = Counter()
    for seed in range(SEEDS):
        one = item("connect", seed * 5 + 2, 6)
        h, c = statement(one)
        for _ in range(6):
            answer: dict[str, Any] = {"figure": some_figure(one, rng)}
            if len(one.fields) > 1:
                answer["angles"] = rng.sample(list(answer["figure"]["angles"]), 2)
            case = tuple(true(answer["figure"], part, chosen_of(answer)) for part in (h, c))
            found = judge(one, plain(answer))
            assert found.right == (case == (True, False)), (seed, h, c, case, found.note)
            assert [p["ok"] for p in found.parts] == [case[0], not case[1]]
            assert found.misconception == (None if found.right else CASE[case])  # type: ignore[index]
            assert ("does not hold here" in found.note) == (not case[0]) and ("holds here too" in found.note) == case[1]
            seen[found.misconception] += 1
    assert len(seen) == 4, seen


def test_the_reasoner_is_not_alone_in_finding_them_open() -> None:
    """z3: the statement is not forced, where both its parts are statements."""
    counted = 0
    for seed in range(trials(quick=30, full=1_000)):
        one = item("connect", seed * 3 + 1, 6)
        h, c = statement(one)
        texts = [part.replace("°", "").split(" and ") if "=" in part or "⊥" in part else [part] for part in (h, c)]
        if not all(
            re.fullmatch(r"\w ∥ \w|\w ⊥ \w|∠\d ≅ ∠\d|m∠\d = \d+|∠\d and ∠\d are supplementary", s)
            for t in texts
            for s in t
        ):
            continue
        counted += 1
        oracle = Oracle(plain(one.figure))
        assert oracle.possible(texts[0]) and not all(oracle.entails(texts[0], s) for s in texts[1])
    assert counted >= 10


def spoilt() -> list[Any]:
    one = item("connect", 3, 6)
    figure = plain(one.figure)
    lines = list(figure["lines"])
    other = copy.deepcopy(figure)
    other["lines"]["zz"] = other["lines"].pop(lines[0])
    cut = turned(figure, figure["transversal"], 60)
    flipped = copy.deepcopy(figure)
    angle = next(iter(flipped["angles"].values()))
    angle["from"], angle["to"] = angle["to"], angle["from"][:-1] + ("-" if angle["from"][-1] == "+" else "+")
    return [None, "", 7, [], {}, {"figure": None}, {"figure": 3}, {"figure": {}}, {"figure": other}, {"figure": cut}, {"figure": flipped},
            {"figure": figure, "more": 1}, {"figure": {**figure, "lines": {}}}, {"figure": "x" * 10_000}]  # fmt: skip


@pytest.mark.parametrize("answer", spoilt(), ids=lambda a: json.dumps(a)[:30])
def test_what_is_no_figure_of_the_item_is_refused(answer: Any) -> None:
    with pytest.raises(Fault) as fault:
        judge(item("connect", 3, 6), answer)
    assert fault.value.where.startswith("answer") and fault.value.sentence().endswith(".")


@pytest.mark.parametrize(
    "angles", [None, [], ["1"], ["1", "1"], ["1", "99"], [1, 2], "12", ["1", "2", "3"], {"1": "2"}]
)
def test_two_angles_must_be_chosen(angles: Any) -> None:
    one = next(i for i in (item("connect", seed, 6) for seed in range(40)) if len(i.fields) > 1)
    with pytest.raises(Fault) as fault:
        judge(one, {"angles": angles})
    assert fault.value.where.startswith("answer")


def test_as_a_task_on_a_seat() -> None:
    """What a Seat gets holds no key; the key is accepted; the two conditions are told apart."""
    task = {"id": "c", "kind": "connect", "title": "Break it", "ask": "", "level": 6}
    for seed in range(20):
        ctx = Context(seed=seed, house=house(), history=[])
        shown = json.dumps(connect.public(task, ctx), ensure_ascii=False)
        assert '"example"' not in shown and '"breaks"' not in shown and '"key"' not in shown
        verdict = connect.judge(task, {"answer": plain(connect.key(task, ctx)["key"])}, ctx)
        assert verdict.ok and "fails here, as it should" in verdict.text
        wrong = connect.judge(
            task,
            {"answer": {"figure": plain(item("connect", seed, 6).figure), "angles": ["1", "4"]}}
            if len(item("connect", seed, 6).fields) > 1
            else {"answer": {"figure": plain(item("connect", seed, 6).figure)}},
            ctx,
        )
        assert not wrong.ok and wrong.misconception and [p["field"] for p in wrong.parts] == ["if", "then"]
