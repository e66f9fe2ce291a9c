"""The keys of the exercises on proofs, held against a small judge of our own.

It knows each theorem as a textbook states it (Wentworth 1899, §§ 98 to 113) and reads pairs off coordinates;
nothing of the program's checker, theorem table or pair names is used.
"""

from __future__ import annotations

import json
import random
import re
from collections.abc import Sequence
from typing import Any

import pytest

from app.figure.model import figure_from_json
from app.practice.families import item
from app.practice.items import Item
from app.practice.judging import judge
from app.reasoning.check import check
from app.reasoning.theorems import TABLE
from app.words.house import HOUSES
from tests.practice.oracle import classify
from tests.reading import in_english
from tests.scale import trials

item = in_english(item)
judge = in_english(judge)

SEEDS = trials(quick=12, full=1_000)
SPREAD = [(i * 7_919) % 100_003 for i in range(SEEDS)]
ID = {name: theorem for theorem, name in HOUSES["us"].names.items()}
Row = tuple[str, str]  # statement, reason
Fact = tuple[str, frozenset[str]]


def fact(statement: str) -> Fact:
    names = re.findall(r"∠(\w+)", statement)
    if "∥" in statement:
        return "parallel", frozenset(statement.split(" ∥ "))
    return ("congruent" if "≅" in statement else "sum"), frozenset(names)


def follows(figure: dict[str, Any], given: Sequence[str], before: Sequence[str], row: Row) -> bool:
    """Whether the reason gives the statement from the rows before and the drawn figure."""
    statement, reason = row
    known = [fact(s) for s in before]
    kind, names = said = fact(statement)
    if reason == "given":
        return statement in given
    if reason in ("vertical-angles", "linear-pair"):
        wanted = ("vertical", "congruent") if reason == "vertical-angles" else ("linear pair", "sum")
        return kind == wanted[1] and classify(figure, *sorted(names))[0] == wanted[0]
    if reason in ("transitive", "congruent-supplements", "substitution", "parallel-to-same-line"):
        need = {
            "transitive": ("congruent", "congruent", "congruent"),
            "congruent-supplements": ("sum", "sum", "congruent"),
            "substitution": ("congruent", "sum", "sum"),
            "parallel-to-same-line": ("parallel", "parallel", "parallel"),
        }[reason]
        pairs = [(one, other) for one in known for other in known if one != other]
        return kind == need[2] and any(
            (a[0], b[0]) == need[:2] and len(a[1] & b[1]) == 1 and a[1] ^ b[1] == said[1] for a, b in pairs
        )
    pair = reason.removesuffix("-converse").removesuffix("-angles").replace("-", " ")
    relation = "sum" if "consecutive" in pair else "congruent"
    between = [
        (k, n) for k, n in ([said] if not reason.endswith("converse") else known) if k == relation and len(n) == 2
    ]
    for _, two in between:
        found, _, lines = classify(figure, *sorted(two))
        if found == pair and (
            ("parallel", frozenset(lines)) in known if not reason.endswith("converse") else said == ("parallel", lines)
        ):
            return True
    return False


def made(family: str, level: int) -> list[tuple[Item, dict[str, Any], list[Row]]]:
    found = []
    for seed in SPREAD:
        one = item(family, seed, level)
        rows = [(r["statement"], ID.get(r["reason"], "")) for r in one.rows]
        found.append((one, json.loads(json.dumps(one.figure)), rows))
    return found


def before(rows: Sequence[Row], i: int) -> list[str]:
    return [statement for statement, _ in rows[:i]]


@pytest.mark.parametrize("level", [1, 2, 3])
def test_the_missing_reason_is_the_only_one_offered_that_fits(level: int) -> None:
    for one, figure, rows in made("missing-reason", level):
        for f in one.fields:
            i = int(f.name.removeprefix("row")) - 1
            fits = [c.value for c in f.choices if follows(figure, one.given, before(rows, i), (rows[i][0], c.value))]
            assert fits == [one.key[f.name][0]], (one.seed, rows, fits)
        for i, row in enumerate(rows):
            assert not row[1] or follows(figure, one.given, before(rows, i), row), (one.seed, row)


def refused(one: Item, rows: Sequence[Row]) -> list[int]:
    """The rows, from 0, that the program's own checker doesn't take."""
    said = check(
        figure_from_json(dict(one.figure or {})),
        list(one.given),
        one.prompt.split("Prove: ")[1].removesuffix("."),
        [{"statement": s, "reason": r} for s, r in rows],
    )
    return [i for i, row in enumerate(said.rows) if row.verdict != "follows"]


@pytest.mark.parametrize("level", [1, 2, 3])
def test_every_reason_that_the_checker_takes_for_a_row_is_right(level: int) -> None:
    """A blank row on paper cites nothing, so a theorem that starts from any row above it earns the mark."""
    rivals = 0
    for one, _, rows in made("missing-reason", level):
        whole = [(s, r or one.key[f"row{i + 1}"][0]) for i, (s, r) in enumerate(rows)]
        for f in one.fields:
            i = int(f.name.removeprefix("row")) - 1
            taken = {r for r in TABLE if i not in refused(one, [*whole[:i], (whole[i][0], r)])}
            also = one.also[f.name]
            assert {*one.key[f.name], *also} == taken, (one.seed, rows)
            assert not set(also) & {c.value for c in f.choices}, "one choice fits"
            rivals += len(also)
            for reason in also:
                for said in (reason, HOUSES["us"].name(reason), HOUSES["us"].short(reason)):
                    answer = {**{name: key[0] for name, key in one.key.items()}, f.name: said}
                    assert judge(one, answer).right, (one.seed, said)
    assert rivals, "no item had two right reasons: this test shows nothing"


@pytest.mark.parametrize("level", [1, 2, 3])
def test_the_checker_refuses_the_row_with_the_mistake_and_no_other(level: int) -> None:
    for one, _, rows in made("find-the-mistake", level):
        assert [str(i + 1) for i in refused(one, rows)] == list(one.key["row"]), (one.seed, rows)


@pytest.mark.parametrize("level", [1, 2, 3])
def test_the_row_with_the_mistake_is_the_only_one_that_fails(level: int) -> None:
    for one, figure, rows in made("find-the-mistake", level):
        wrong = [str(i + 1) for i, row in enumerate(rows) if not follows(figure, one.given, before(rows, i), row)]
        assert wrong == [one.key["row"][0]], (one.seed, rows, wrong)


@pytest.mark.parametrize("level", [1, 2, 3])
def test_exactly_the_orders_that_hold_are_right(level: int) -> None:
    rng = random.Random(level)
    for one, figure, rows in made("put-in-order", level):
        by_label = {r["label"]: row for r, row in zip(one.rows, rows, strict=True)}
        key = one.key["order"][0].split(",")
        goal = by_label[one.facts["goal"]][0]
        assert one.prompt.endswith(f"Prove: {goal}.")
        for order in [key, *(rng.sample(key, len(key)) for _ in range(6))]:
            ordered = [by_label[label] for label in order]
            holds = ordered[-1][0] == goal and all(
                follows(figure, one.given, before(ordered, i), row) for i, row in enumerate(ordered)
            )
            assert judge(one, list(order)).right == holds, (one.seed, order)
