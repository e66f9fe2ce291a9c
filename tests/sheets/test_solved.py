"""Every printed question is solved from the printed page alone, over twenty seeds, and the printed key says the same."""

from __future__ import annotations

import re
from collections.abc import Iterator
from dataclasses import dataclass
from html import unescape
from pathlib import Path

import pytest
from sympy import Rational, Symbol

from app.lessons.load import load_pack
from app.practice.families import LEVELS
from app.sheets.build import Sheet, build, read_want
from app.sheets.html import Frame, sheet_html
from app.sheets.keys import key_html
from app.sheets.packs import build_pack
from tests.scale import trials
from tests.sheets.solver import (
    EQUAL,
    REASONS,
    Drawing,
    X,
    crossing_pairs,
    row_follows,
    solve_unknowns,
    theorem,
    words,
)

PACKS = Path(__file__).parents[2] / "lesson_packs"
SEEDS = range(1, 1 + trials(quick=20, full=60))


@dataclass
class Printed:
    """One question as it stands on the page, and what the key says."""

    text: str
    drawing: Drawing
    rows: list[tuple[str, str, str]]
    choices: list[list[str]]
    answer: str
    also: list[str]
    working: list[str]


def printed(sheet: Sheet) -> Iterator[Printed]:
    page, key = sheet_html(sheet, Frame()), key_html(sheet, Frame())
    questions = re.findall(
        r'<li class="question.*?(?=<li class="question|<h2 class="part"|</ol></div>|</ol><footer|$)', page, re.S
    )
    answers = re.findall(r'<li class="answer">(.*?)(?=<li class="answer">|<footer)', key, re.S)
    assert len(questions) == len(answers) == len(sheet.entries)
    for question, answer in zip(questions, answers, strict=True):
        svg = re.search(r"<svg.*?</svg>", question, re.S)[0]
        rows = [
            tuple(words(cell) for cell in re.findall(r"<t[hd](?! class=\"box\")[^>]*>(.*?)</t[hd]>", row, re.S))
            for row in re.findall(r"<tr[^>]*>(.*?)</tr>", question.partition("<tbody>")[2], re.S)
        ]
        also = re.search(r'class="also">Also right: (.*?)</p>', answer, re.S)
        yield Printed(
            words(re.search(r'<div class="q-words">(.*?)(?:<div class="room|<div class="fills)', question, re.S)[1]),
            Drawing.read(svg),
            rows,
            [
                [words(c) for c in re.findall(r"<li>(.*?)</li>", ticks, re.S)]
                for ticks in re.findall(r'<ul class="ticks[^>]*>(.*?)</ul>', question, re.S)
            ],
            words(re.search(r'class="answer-line">(.*?)</p>', answer, re.S)[1]),
            [words(part) for part in unescape(also[1]).split("; ")] if also else [],
            [
                words(line)
                for line in re.findall(
                    r"<li>(.*?)</li>", answer.partition('class="working"')[2].partition("</ol>")[0], re.S
                )
            ],
        )


def family(name: str, level: int) -> Iterator[Printed]:
    for seed in SEEDS:
        yield from printed(build(read_want([f"{name}:{level}:1"], seed=seed)))


def each(name: str) -> pytest.MarkDecorator:
    return pytest.mark.parametrize("level", range(1, LEVELS[name] + 1))


@each("name-the-pair")
def test_pairs_named(level: int) -> None:
    for one in family("name-the-pair", level):
        a, b = re.search(r"are ∠(\w+) and ∠(\w+)\?", one.text).groups()
        assert one.answer == one.drawing.pair(a, b)[0], one.text


@each("which-transversal")
def test_transversals(level: int) -> None:
    for one in family("which-transversal", level):
        a, b = re.search(r"For ∠(\w+) and ∠(\w+):", one.text).groups()
        _, t, others = one.drawing.pair(a, b)
        found = re.fullmatch(r"The transversal: (\w), (\w) and (\w)", one.answer)
        assert found and found[1] == t and {found[2], found[3]} == others, one.text


def known_parallels(one: Printed) -> list[tuple[str, str]]:
    return re.findall(r"(\w) ∥ (\w)", one.text)


@each("find-the-angle")
def test_angles_found(level: int) -> None:
    for one in family("find-the-angle", level):
        measures(one, re.search(r"[Ff]ind m∠(\w+)", one.text)[1])


def measures(one: Printed, asked: str) -> None:
    """The measure asked for, if what is known forces one; else it can't be told."""
    given = [one.drawing.measure(name) - value for name, value in one.drawing.measures.items()]
    given += [one.drawing.parallel(a, b) for a, b in known_parallels(one)]
    given += [z for text in re.findall(r"(m∠\w+ = \d+)°", one.text) for z in one.drawing.zero(text)]
    found = re.fullmatch(r"m∠\w+ = (\d+)°", one.answer)
    if found:
        assert one.drawing.forces(given, [one.drawing.measure(asked) - int(found[1])]), one.text
    else:
        assert "can't be told" in one.answer
        assert not any(one.drawing.forces(given, [one.drawing.measure(asked) - n]) for n in range(1, 180)), one.text


def test_angles_of_settings() -> None:
    for one in family("real-settings", 1):
        measures(one, re.search(r"find m∠(\w+)", one.text)[1])


@pytest.mark.parametrize(("name", "level"), [*(("is-it-enough", n) for n in (1, 2, 3)), ("real-settings", 3)])
def test_enough_or_not(name: str, level: int) -> None:
    for one in family(name, level):
        if name == "real-settings":
            said = re.findall(r"m∠\w+ = \d+", one.text)
        else:
            said = re.search(r"Given (.*?)\. Which", one.text)[1].split(" and m∠")
            said = [said[0], *(f"m∠{rest}" for rest in said[1:])]
        given = [z for text in said for z in one.drawing.zero(text)]
        lines = [choice.split(" ∥ ") for choice in one.choices[0] if "∥" in choice]
        forced = [two for two in lines if one.drawing.forces(given, [one.drawing.parallel(*two)])]
        if not forced:
            assert one.answer == "not enough: nothing must be parallel", one.text
            continue
        (two,) = forced
        names = re.findall(r"∠(\w+)", " ".join(said))
        right = {theorem(pair, converse=True) for pair in crossing_pairs(one.drawing, names, set(two))}
        assert one.answer.partition(", by the ")[0] == " ∥ ".join(two)
        assert one.answer.partition(", by the ")[2] in right, one.text


@pytest.mark.parametrize(
    ("name", "level"), [*((n, k) for n in ("make-parallel", "parallel-so") for k in range(1, 6)), ("real-settings", 2)]
)
def test_unknowns(name: str, level: int) -> None:
    """The equation is set up from the drawing and solved; each named pair among the measured angles gives a right theorem."""
    for one in family(name, level):
        making = name != "parallel-so"
        pair = re.search(r"so that (\w) ∥ (\w)" if making else r"Lines (\w) and (\w) are parallel", one.text).groups()
        found = solve_unknowns(one.drawing, pair)
        assert len(found) == 1, (one.text, found)
        asked = re.findall(r"(?:^|, )([xy]|m∠\w+) = (-?[\d/]+)", one.answer)
        assert asked
        for what, number in asked:
            got = found[0][Symbol(what)] if what in "xy" else one.drawing.measures[what[2:]].subs(found[0])
            assert got == Rational(number), (one.text, one.answer)
        right = {
            theorem(p, converse=making) for p in crossing_pairs(one.drawing, list(one.drawing.measures), set(pair))
        }
        told = {one.answer.partition("by the ")[2], *(text for text in one.also if text in REASONS)}
        assert told == right, (one.text, told, right)
        assert X in {s for e in one.drawing.measures.values() for s in e.free_symbols}


def givens(one: Printed) -> list[str]:
    return re.search(r"Given: (.*?)\. Prove", one.text)[1].split(", ")


@each("missing-reason")
def test_reasons_missing(level: int) -> None:
    for one in family("missing-reason", level):
        said = {int(n): reason for n, reason in re.findall(r"Reason of row (\d+): ([^,]+)", one.answer)}
        if not said:
            said = {next(int(n) for n, _, reason in one.rows if not reason): one.answer}
        for n, (_, claim, reason) in enumerate(one.rows, 1):
            above = [row[1] for row in one.rows[: n - 1]]
            assert row_follows(one.drawing, givens(one), above, claim, reason or said[n]), (one.text, n)
            if not reason:
                fits = {r for r in REASONS if row_follows(one.drawing, givens(one), above, claim, r)}
                told = {said[n]} | {t.rpartition(": ")[2] for t in one.also if f"row {n}:" in t or len(said) == 1}
                # Substitution is a chain's other name where equals are put for equals; the key may leave it out.
                assert fits - told <= {"Substitution Property"} and told & REASONS <= fits, (one.text, n, fits, told)


@each("find-the-mistake")
def test_mistakes_found(level: int) -> None:
    for one in family("find-the-mistake", level):
        wrong = [
            n
            for n, (_, claim, reason) in enumerate(one.rows, 1)
            if not row_follows(one.drawing, givens(one), [row[1] for row in one.rows[: n - 1]], claim, reason)
        ]
        assert one.answer.startswith(f"row {wrong[0]},") and len(wrong) == 1, (one.text, one.rows, wrong, one.answer)


@each("put-in-order")
def test_orders(level: int) -> None:
    for one in family("put-in-order", level):
        rows = {label: (claim, reason) for label, claim, reason in one.rows}
        for boxes in (one.answer, *(text for text in one.also if "·" in text)):
            place = {label: int(n) for label, n in re.findall(r"(\w) (\d+)", boxes)}
            assert sorted(place.values()) == list(range(1, len(rows) + 1))
            order = sorted(place, key=place.__getitem__)
            for n, label in enumerate(order):
                assert row_follows(one.drawing, givens(one), [rows[x][0] for x in order[:n]], *rows[label]), (
                    one.text,
                    order,
                    label,
                )
            assert rows[order[-1]][0] == re.search(r"Prove: (.*?)\. ", f"{one.text} ")[1]


@pytest.mark.parametrize("level", [1, 2, 3])
def test_proofs_written(level: int) -> None:
    """Each row of the printed proof stands by its reason, and the last is what was to be proved."""
    for one in family("write-a-proof", level):
        given = re.search(r"Given: (.*?)(?: Not drawn to scale\.)? Prove:", one.text)[1].split("; ")
        goal = one.text.partition("Prove: ")[2]
        above: list[str] = []
        for line in one.working:
            _, claim, reason = re.fullmatch(r"(\d+)\. (.*?): ([^:(]+?)(?: \([\d, ]+\))?", line).groups()
            assert row_follows(one.drawing, given, above, claim, reason), (one.text, line)
            above.append(claim)
        assert above[-1] == goal


PARTS = re.compile(r"If (.*?), then (.*?)\.")


def kind_of(half: str, first: str, last: str) -> str:
    """+P, -P, +Q or -Q: which part of the statement half a sentence says, or denies."""
    if half in (first, last):
        return "+P" if half == first else "+Q"

    def tokens(text: str) -> set[str]:
        text = text.replace("∦", "∥").replace("⊥", " perpendicular ").replace("≅", " congruent ")
        return set(re.findall(r"∠\w+|\b[a-z]\b|\d+°|∥|\b[a-z]{5,}\b", text)) - {"a", "angles", "other"}

    one, two = (len(tokens(half) & tokens(part)) / len(tokens(part) | tokens(half)) for part in (first, last))
    assert one != two, (half, first, last)
    return "-P" if one > two else "-Q"


RELATIVES = {"converse": ("+Q", "+P"), "inverse": ("-P", "-Q"), "contrapositive": ("-Q", "-P")}


def test_relatives_of_a_sentence() -> None:
    for one in family("connect", 1):
        first, last = PARTS.search(one.text).groups()
        wanted = RELATIVES[re.search(r"is the (\w+) of it", one.text)[1]]
        fits = [c for c in one.choices[0] if tuple(kind_of(h, first, last) for h in PARTS.search(c).groups()) == wanted]
        assert fits == [one.answer], (one.text, one.choices, one.answer)


def test_relatives_written() -> None:
    for one in family("connect", 5):
        first, last = PARTS.search(one.text).groups()
        wanted = re.search(r"Write the (\w+) of it", one.text)[1]
        if wanted == "biconditional":
            assert set(one.answer.rstrip(".").casefold().split(" if and only if ")) == {
                first.casefold(),
                last.casefold(),
            }, one.text
        else:
            halves = PARTS.search(one.answer).groups()
            assert tuple(kind_of(h, first, last) for h in halves) == RELATIVES[wanted], (one.text, one.answer)


def truths(one: Printed) -> tuple[bool, bool]:
    """Whether the statement, and whether its converse, holds in every figure that is drawn alike."""
    first, last = (one.drawing.zero(part) for part in PARTS.search(one.text).groups())
    return one.drawing.forces(first, last), one.drawing.forces(last, first)


def test_truth_of_a_statement_and_its_converse() -> None:
    seen = set()
    for one in family("connect", 2):
        try:
            statement, converse = truths(one)
        except (ValueError, KeyError):
            continue  # a statement of another kind than equations of measures and directions
        found = re.fullmatch(r"The statement: (.*?), Its converse: (.*?), About the converse: (.*)", one.answer)
        assert found, one.answer
        assert found[1] == ("always true" if statement else "not always true"), one.text
        assert found[2] == ("always true" if converse else "not always true"), one.text
        assert found[3].startswith("a proof shows it" if converse else "one figure shows"), one.text
        seen.add((statement, converse))
    assert len(seen) >= 2


def test_if_and_only_if() -> None:
    seen = 0
    for one in family("connect", 4):
        try:
            statement, converse = truths(one)
        except (ValueError, KeyError):
            continue
        assert (
            statement and ("yes:" if converse else "no:") in one.answer and one.answer.endswith("the contrapositive")
        ), one.text
        seen += 1
    assert seen > 10


@pytest.mark.parametrize("level", [3, 6])
def test_counterexamples(level: int) -> None:
    """In the printed figure of the key the "if" part holds and the "then" part fails; in no other choice do they."""
    seen = 0
    for one in family("connect", level):
        first, last = PARTS.search(one.text).groups()
        choices = one.choices[0] if level == 3 else [one.answer]
        fits = []
        for choice in choices:
            facts = dict(re.findall(r"m∠(\w+) = (\d+)°", choice))
            held = [holds(part, facts, choice) for part in (first, last)]
            if None in held:
                break
            fits += [choice] if held == [True, False] else []
        else:
            assert fits == [one.answer], (one.text, choices, one.answer)
            seen += 1
    assert seen >= 5


def holds(part: str, facts: dict[str, str], shown: str) -> bool | None:
    """Whether a clause holds where these measures were taken; None where they don't tell."""
    results: list[bool] = []
    if found := re.fullmatch(r"(\w) ∥ (\w)", part):
        if not re.search(rf"{found[1]} [∥∦] {found[2]}", shown):
            return None
        return f"{found[1]} ∥ {found[2]}" in shown
    if found := re.fullmatch(r"∠(\w+) ≅ ∠(\w+)", part):
        return facts[found[1]] == facts[found[2]] if {found[1], found[2]} <= set(facts) else None
    if found := re.fullmatch(r"∠(\w+) and ∠(\w+) are supplementary", part):
        return int(facts[found[1]]) + int(facts[found[2]]) == 180 if {found[1], found[2]} <= set(facts) else None
    for text in part.split(" and "):
        found = re.fullmatch(r"m∠(\w+) = (\d+)°", text)
        if not found or found[1] not in facts:
            return None
        results.append(facts[found[1]] == found[2])
    return all(results)


def test_pairs_and_arguments_of_the_core_lesson() -> None:
    """Pairs to be named or found, and "is it enough?", solved from the page of the pack."""
    sheet = build_pack(
        load_pack(PACKS / "proving-lines-parallel"), read_want([], alone=False), ["name-the-pairs", "justify"]
    )
    named = enough = 0
    for one in printed(sheet):
        for a, b, said in re.findall(
            r"∠(\w+) and ∠(\w+) (?:share|are both).*?: (.*?)\.(?: |$)", " ".join([one.answer, *one.working])
        ):
            name = one.drawing.pair(a, b)[0]
            assert said == name or (said == "a linear pair" and name == said), (a, b, said, name)
            named += 1
        if one.text.startswith("Given:"):
            said = re.match(r"Given: (.*?)\. [A-Z]", one.text)[1].split("; ")
            given = [z for text in said for z in one.drawing.zero(text)]
            forced = [
                two for two in combinations_of(one.drawing) if one.drawing.forces(given, [one.drawing.parallel(*two)])
            ]
            told = re.search(r"so (\w) ∥ (\w)", one.answer)
            assert [frozenset(told.groups())] == [frozenset(two) for two in forced] if told else not forced, one.text
            if told:
                a, b = re.match(r"∠(\w+) (?:≅|and) ∠(\w+)", one.answer).groups()
                name = one.drawing.pair(a, b)[0]
                assert theorem(name, converse=True) in one.answer
                relation = one.drawing.zero(
                    f"∠{a} ≅ ∠{b}" if name.startswith(EQUAL) else f"∠{a} and ∠{b} are supplementary"
                )
                assert one.drawing.forces(given, relation)
            enough += 1
    assert named >= 17 and enough == 4


def combinations_of(drawing: Drawing) -> list[tuple[str, str]]:
    names = list(drawing.lines)
    return [(a, b) for i, a in enumerate(names) for b in names[i + 1 :]]
