"""The mistake is known by its answer: simulated students are recognised, and right answers never called wrong."""

from __future__ import annotations

import json
import random
import re
from collections import Counter
from collections.abc import Callable
from typing import Any

import pytest

from app.practice.families import FAMILIES, LEVELS, item
from app.practice.judging import judge, key_shown
from app.practice.misconceptions import KNOWN, MISCONCEPTIONS, note
from app.practice.reteach import groups
from tests.practice.oracle import Oracle
from tests.practice.students import STUDENTS, Student
from tests.practice.test_families import clause, parts
from tests.reading import in_english
from tests.scale import trials

item = in_english(item)
judge = in_english(judge)
note = in_english(note)
groups = in_english(groups)

SEEDS = trials(quick=8, full=300)


@pytest.mark.parametrize(
    ("mistake", "student", "where"), STUDENTS, ids=[f"{m}-{i}" for i, (m, _, _) in enumerate(STUDENTS)]
)
def test_each_student_is_recognised(mistake: str, student: Student, where: list[tuple[str, int]]) -> None:
    """At least 95 in 100 of the wrong answers, and there are some."""
    rng = random.Random(8)
    seen: Counter[str | None] = Counter()
    for family, level in where:
        before = sum(seen.values())
        for seed in range(SEEDS * 12):
            # Some mistakes show in few of the items; look on until there are enough.
            if sum(seen.values()) - before >= SEEDS:
                break
            one = item(family, seed * 31 + 7, level)
            shown = json.loads(json.dumps(one.public()))
            answer = student(shown, rng)
            if answer is None:
                continue
            if answer.pop("right", False):
                # This student gets all else right.
                answer = {**key_shown(one), **answer}
            found = judge(one, answer)
            # Where the mistake happens to give the right answer, the answer is right.
            if found.right:
                continue
            seen[found.misconception] += 1
    total = sum(seen.values())
    assert total >= 3, "the mistake never shows"
    assert seen[mistake] >= 0.95 * total, seen


def truth(one: Any) -> tuple[bool, bool]:
    oracle = Oracle(json.loads(json.dumps(one.figure)))
    h, c = (clause(part) for part in parts(one.prompt.split(": ", 1)[1]))
    return all(oracle.entails(h, s) for s in c), all(oracle.entails(c, s) for s in h)


def word(value: bool) -> str:
    return str(value).lower()


THINKS: list[tuple[str, int, Callable[[bool, bool], dict[str, str] | None]]] = [
    ("converse-always", 2, lambda s, c: {"statement": word(s), "converse": word(s), "why": "statement"}),
    ("examples-as-proof", 2, lambda s, c: {"statement": word(s), "converse": "true", "why": "examples"}),
    (
        "converse-never",
        2,
        lambda s, c: {"statement": "true", "converse": "false", "why": "counterexample"} if s and c else None,
    ),
    ("iff-one-way", 4, lambda s, c: {"iff": "yes", "same": "contrapositive"} if not c else None),
    ("converse-taken-as-same", 4, lambda s, c: {"iff": "yes" if c else "no", "same": "converse"}),
    ("converse-never", 4, lambda s, c: {"iff": "no", "same": "contrapositive"} if c else None),
]


@pytest.mark.parametrize(("mistake", "level", "think"), THINKS, ids=[f"{m}-{n}" for m, n, _ in THINKS])
def test_students_of_logic_are_recognised(
    mistake: str, level: int, think: Callable[[bool, bool], dict[str, str] | None]
) -> None:
    seen: Counter[str | None] = Counter()
    for seed in range(SEEDS * 3):
        one = item("connect", seed * 17 + 3, level)
        answer = think(*truth(one))
        if answer is not None and not (found := judge(one, answer)).right:
            seen[found.misconception] += 1
    assert seen.total() >= 3 and seen[mistake] >= 0.95 * seen.total(), seen


@pytest.mark.parametrize(
    ("mistake", "case"),
    [
        ("counterexample-to-converse", (False, True)),
        ("example-for-counterexample", (True, True)),
        ("neither-for-counterexample", (False, False)),
    ],
)
def test_students_of_counterexamples_are_recognised(mistake: str, case: tuple[bool, bool]) -> None:
    seen: Counter[str | None] = Counter()
    for seed in range(SEEDS * 2):
        one = item("connect", seed * 13 + 1, 3)
        oracle = Oracle(json.loads(json.dumps(one.figure)))
        h, c = (clause(part) for part in parts(one.prompt.split(": ", 1)[1]))
        shown = one.public()["fields"][0]["choices"]
        for choice in shown:
            figure = [s.replace("°", "") for s in choice["text"].split(", ")]
            if tuple(all(oracle.entails(figure, s) for s in part) for part in (h, c)) == case:
                seen[judge(one, choice["value"]).misconception] += 1
    assert seen.total() >= 3 and seen[mistake] >= 0.95 * seen.total(), seen


def test_every_mistake_has_a_student() -> None:
    met = {m for m, _, _ in STUDENTS} | {m for m, _, _ in THINKS}
    met |= {"counterexample-to-converse", "example-for-counterexample", "neither-for-counterexample"}

    assert met == set(MISCONCEPTIONS)


def test_the_table_is_honest() -> None:
    """At least twenty; research named where research is claimed, practice marked as practice, no rates."""
    assert len(MISCONCEPTIONS) >= 20
    for m in KNOWN.values():
        assert m.grade in ("R", "M", "P")
        assert (m.source == "common practice, no source") == (m.grade == "P")
        assert "%" not in m.source
        family, level = m.follow
        assert 1 <= level <= LEVELS[family]
        said = note(m.id)
        assert said.startswith("“") and said.endswith((".", "°.")) and "wrong" not in said.split("”", 1)[1].lower()


@pytest.mark.parametrize("family", FAMILIES)
def test_a_right_answer_is_never_called_wrong(family: str) -> None:
    """In every spelling that a student may use: fractions, units, x = …, the choice's words, its letter, its place."""
    for level in range(1, LEVELS[family] + 1):
        for seed in range(SEEDS):
            one = item(family, seed * 101 + 5, level)
            for answer in spellings(one):
                found = judge(one, answer)
                assert found.right and found.misconception is None, (seed, answer, found.note)


def spellings(one: Any) -> list[Any]:
    key = key_shown(one)
    texts, places = dict(key), dict(key)
    for f in one.fields:
        value = one.key[f.name][0]
        if f.choices:
            at = next((i for i, c in enumerate(f.choices) if c.value == value), None)
            if at is None:
                continue
            texts[f.name] = f"  {f.choices[at].text.upper()} "
            places[f.name] = at
        elif f.kind == "number" and re.fullmatch(r"-?\d+", value):
            texts[f.name] = f"x = {value}.0"
            places[f.name] = f"{int(value) * 3}/3{f.unit}"
    found = [key, texts, places]
    required = [f for f in one.fields if not f.optional]
    if len(required) == 1 and required[0].kind != "angles":  # angles alone are those of the figure as it is drawn
        found.append(key[required[0].name])
    return found


def test_groups_for_reteaching() -> None:
    """J-10: groups by mistake, largest first, each with its set; nobody in two, nobody without a mistake."""
    mistakes = {
        "Calm Rhombus": ["equal-for-supplementary", "pair-side", "equal-for-supplementary"],
        "Bright Ray": ["equal-for-supplementary"],
        "Quiet Vertex": ["pair-side", "pair-inside"],
        "Swift Arc": [],
        "Still Line": ["not a mistake of ours"],
        "Plain Chord": ["wrong-pair-name"],
    }
    found = groups(mistakes)

    assert [(g.misconception, g.members) for g in found] == [
        ("equal-for-supplementary", ("Calm Rhombus", "Bright Ray")),
        ("pair-inside", ("Quiet Vertex",)),
        ("wrong-pair-name", ("Plain Chord",)),
    ]
    for group in found:
        assert len(group.items) == 5 and len(set(group.items)) == 5
        for family, level, seed in group.items:
            assert item(family, seed, level).figure is not None
    assert groups(mistakes) == found
