"""A key lists every reason that is right, and only right ones: the proof checker of the Seats is asked both ways."""

from __future__ import annotations

import re
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest
from sympy import Rational, sympify

from app.classroom.kinds import kind_module
from app.classroom.verdict import Context
from app.figure.model import figure_from_json
from app.figure.pairs import name_pair
from app.lessons.load import load_pack
from app.practice.families import item
from app.practice.items import NONE, Item
from app.practice.judging import judge
from app.reasoning.check import check
from app.reasoning.theorems import TABLE, twin
from app.sheets.build import read_want
from app.sheets.entries import Key, from_item
from app.sheets.packs import build_pack
from app.sheets.paper import THEMES
from app.words.house import house
from tests.reading import in_english
from tests.scale import trials

item = in_english(item)

PACKS = Path(__file__).parents[2] / "lesson_packs"
SEEDS = trials(quick=24, full=400)
US = house()


def follows(figure: Any, given: list[str], claim: str, reason: str) -> bool:
    """Whether the row stands under this reason, right after the givens."""
    rows = [*({"statement": text, "reason": "given"} for text in given), {"statement": claim, "reason": reason}]
    return check(figure_from_json(dict(figure)), given, claim, rows).rows[-1].verdict == "follows"


def told(key: Key) -> set[str]:
    """The theorems of the table that the printed key names, in its answer and beside it."""
    said = [key.answer.rpartition("by the ")[2], *key.also]
    return {t for text in said if (t := US.accepts(text.rpartition(": ")[2])) is not None}


def at(one: Item, values: dict[str, Fraction]) -> dict[str, Fraction]:
    """The printed measures once the unknowns are known: worked out here from the words of the givens."""
    found = {}
    for text in one.given:
        if text.startswith("m∠"):
            name, said = text[2:].split(" = ")
            said = re.sub(r"(\d)(?=[xy(])", r"\1*", said.replace("²", "**2"))
            assert re.fullmatch(r"[\dxy+\-*() ]+", said)
            found[name] = Fraction(str(sympify(said).subs({k: Rational(v) for k, v in values.items()})))
    return found


@pytest.mark.parametrize("family", ["make-parallel", "parallel-so"])
@pytest.mark.parametrize("level", range(1, 6))
def test_theorems_of_equations(family: str, level: int) -> None:
    theme = THEMES["standard"]
    second = 0
    for seed in range(SEEDS):
        one = item(family, seed, level)
        values = {
            name: Fraction(one.facts["x"]) if name == "x" else Fraction(one.key[name][0])
            for name in ("x", "y")
            if name == "x" or name in one.key
        }
        measures = at(one, values)
        fig = figure_from_json(dict(one.figure or {}))
        lines = next(f"{a} ∥ {b}" for a, b in [[x for x in fig.lines if x != fig.transversal]])
        right = set()
        for reason in TABLE:
            if family == "make-parallel":
                good = follows(one.figure, [f"m∠{a} = {v}" for a, v in measures.items()], lines, reason)
            else:
                pairs = [(a, b) for a in measures for b in measures if a < b and name_pair(fig, a, b).transversal]
                good = any(
                    follows(one.figure, [lines], claim, reason)
                    for a, b in pairs
                    for claim in (f"m∠{a} = m∠{b}", f"m∠{a} + m∠{b} = 180")
                )
            right |= {reason} if good and twin(reason) else set()
        assert told(from_item(one, theme, US).key) == right, (family, level, seed)
        for reason in TABLE:
            answer = {**{name: values[0] for name, values in one.key.items()}, "theorem": reason}
            if reason in right or reason in {c.value for f in one.fields for c in f.choices}:
                assert judge(one, answer).right == (reason in right), (family, level, seed, reason)
        second += len(right) > 1
    assert bool(second) == (level == 4)


@pytest.mark.parametrize("level", [1, 2, 3])
def test_theorems_of_is_it_enough(level: int) -> None:
    enough = 0
    for seed in range(SEEDS):
        one = item("is-it-enough", seed, level)
        lines = one.key["lines"][0]
        if lines == NONE:
            continue
        enough += 1
        right = {r for r in TABLE if twin(r) and follows(one.figure, list(one.given), " ∥ ".join(lines.split(",")), r)}
        assert told(from_item(one, THEMES["standard"], US).key) == right == {one.key["theorem"][0]}, (level, seed)
    assert enough


@pytest.mark.parametrize("level", [1, 2, 3])
def test_reasons_of_rows(level: int) -> None:
    """Where nothing is offered: all that the checker takes for the row, with the rows above it as they are printed."""
    for seed in range(SEEDS):
        one = item("missing-reason", seed, level)
        fig = figure_from_json(dict(one.figure or {}))
        reasons = [US.accepts(str(row["reason"])) for row in one.rows]
        key = from_item(one, THEMES["standard"], US).key
        for f in one.fields:
            n = int(f.name.removeprefix("row"))
            rows = [
                {"statement": row["statement"], "reason": reason or one.key[f"row{i}"][0]}
                for i, (row, reason) in enumerate(zip(one.rows[:n], reasons, strict=False), 1)
            ]
            right = {
                reason
                for reason in TABLE
                if check(
                    fig, list(one.given), str(one.rows[-1]["statement"]), [*rows[:-1], {**rows[-1], "reason": reason}]
                )
                .rows[n - 1]
                .verdict
                == "follows"
            }
            printed = [
                text
                for text in (key.answer.replace(", Reason", ";Reason").split(";") + list(key.also))
                if len(one.fields) == 1 or f.label in text
            ]
            assert {US.accepts(text.rpartition(": ")[2]) for text in printed} - {None} == right, (level, seed)


def test_a_chain_of_equal_angles_is_no_sum() -> None:
    """Transitive and substitution, and neither addition, subtraction nor algebra; equal supplements may be subtracted."""
    from tests.reasoning.samples import grid

    def right(given: list[str]) -> set[str]:
        return {r for r in TABLE if follows(grid(2, 1), given, "∠1 ≅ ∠8", r)} - {"alternate-exterior-angles"}

    assert right(["∠1 ≅ ∠4", "∠4 ≅ ∠8"]) == {"transitive", "substitution"}
    assert right(["m∠1 = m∠4", "m∠8 = m∠4"]) == {"transitive", "substitution"}
    sums = right(["m∠1 + m∠2 = 180", "m∠8 + m∠2 = 180"])
    assert {"congruent-supplements", "subtraction"} <= sums and "addition" not in sums


def test_the_key_of_a_justification_has_all_that_a_seat_accepts() -> None:
    pack = load_pack(PACKS / "proving-lines-parallel")
    sheet = build_pack(pack, read_want([], alone=False), ["justify"])
    tasks = [t for part in pack.parts if part.id == "justify" for t in part.tasks]
    seen = 0
    for task, entry in zip(tasks, sheet.entries, strict=True):
        accepted = kind_module("justify").key(dict(task.data), Context(1, US))["accepted"]
        listed = {
            (theorem, frozenset(pair))
            for text in entry.key.also
            for theorem in [US.accepts(text.partition(" (")[0])]
            for pair in re.findall(r"∠(\w+) with ∠(\w+)", text)
        }
        assert listed == {(one["theorem"], frozenset(one["angles"])) for one in accepted[1:]}
        seen += len(listed)
    assert seen > 20
