"""Keys can be marked from: a quick page with all versions side by side, then why, what else, the common mistake, points."""

from __future__ import annotations

import re
from html import unescape
from pathlib import Path

import pytest

from app.lessons.load import load_pack
from app.practice.families import FAMILIES, LEVELS, item
from app.practice.items import NONE
from app.practice.judging import judge
from app.sheets.build import VERSIONS, Sheet, build, read_want
from app.sheets.html import Frame
from app.sheets.keys import key_html
from app.sheets.packs import build_pack
from app.sheets.paper import THEMES
from tests.reading import in_english

item = in_english(item)

ROOT = Path(__file__).parents[2]
EVERY = [f"{family}:{level}:1" for family in FAMILIES for level in range(1, LEVELS[family] + 1)]


def core(version: str = "A", theme: str = "standard", house: str = "us") -> Sheet:
    pack = load_pack(ROOT / "lesson_packs" / "proving-lines-parallel", house=house)
    return build_pack(pack, read_want([], version=version, theme=theme, house=house, alone=False))


def text(html: str) -> str:
    return unescape(re.sub(r"<[^>]+>", "", html)).replace("\xa0", " ").replace(" − ", " - ")


def quick_rows(html: str) -> list[list[str]]:
    """Number, what stands in the columns (once, if it stands across them), points."""
    rows = re.findall(r'<tr class="quick">(.*?)</tr>', html, re.S)
    return [[text(cell) for cell in re.findall(r"<t[hd][^>]*>(.*?)</t[hd]>", row, re.S)] for row in rows]


@pytest.mark.parametrize("house", ["us", "uk"])
def test_the_quick_key_has_a_line_for_each_question_and_a_column_for_each_version(house: str) -> None:
    made = [core(version, house=house) for version in VERSIONS]
    html = key_html(made[1], Frame(), made)
    rows = quick_rows(html)
    assert [row[0] for row in rows] == [str(n) for n in range(1, len(made[0].entries) + 1)]
    for row, *entries in zip(rows, *(sheet.entries for sheet in made), strict=True):
        glances = [entry.key.glance.replace(" − ", " - ") for entry in entries]
        assert row[1:-1] == (glances[:1] if len(set(glances)) == 1 else glances)
        assert int(row[-1]) == entries[0].key.points
    for sheet in made:
        assert f"{sheet.version} · {sheet.code}" in text(re.search(r"<thead>.*?</thead>", html, re.S)[0])
    # First the quick key, then the answers in full.
    assert html.index('class="quick-key"') < html.index('class="answer"')
    # Seconds a line: a glance is short.
    glances = [entry.key.glance for entry in build(read_want(EVERY, house=house)).entries]
    assert sorted(map(len, glances))[len(glances) // 2] <= 45


def test_a_key_is_the_same_for_large_print_and_not_longer() -> None:
    plain, large = key_html(core(), Frame()), key_html(core(theme="large"), Frame())
    assert large.count('class="page"') == plain.count('class="page"') <= 9
    assert text(large) == text(plain)


def test_each_answer_has_its_points_and_their_sum_is_told() -> None:
    sheet = core()
    html = key_html(sheet, Frame())
    told = [int(n) for n in re.findall(r'q-mark">(\d+) points?', html)]
    assert told == [entry.key.points for entry in sheet.entries]
    assert f"{sum(told)} points in all" in html
    assert all(entry.key.points for entry in sheet.entries if "worked" not in entry.key.glance)


def test_a_mistake_told_in_a_key_is_one() -> None:
    """The common mistake beside an answer is an answer that the judge takes for wrong, and knows by its name."""
    told = 0
    for seed in range(6):
        for entry in build(read_want(EVERY, seed=seed)).entries:
            if not entry.key.mistake:
                continue
            family, level, own = entry.mark.replace(" · ", " ").split()
            one = item(family, int(own), int(level))
            shown = entry.key.mistake.partition(". “")[0]
            for f in one.fields:
                value = next((c.value for c in f.choices if c.text == shown), None)
                if value is None and f.kind == "number" and shown.startswith(f"{f.label} = "):
                    value = shown.partition(" = ")[2].rstrip("°")
                if value is not None and value not in one.key[f.name]:
                    right = {
                        name: values[0] for name, values in one.key.items() if values[0] != NONE or name != "theorem"
                    }
                    if f.name == "lines" and "theorem" not in right:
                        right["theorem"] = next(c.value for g in one.fields if g.name == "theorem" for c in g.choices)
                    answer = right | {f.name: value}
                    assert not judge(one, answer).right, (entry.mark, shown)
                    told += 1
                    break
            else:
                raise AssertionError(f"{entry.mark}: {shown} is no answer to it")
    assert told > 60


# Which angles of the standard numbering add to 180 degrees where lines are parallel, and which are equal (any textbook).
SUM = {frozenset("35"), frozenset("46"), frozenset("17"), frozenset("28")}
EQUAL = {frozenset(p) for p in ("15", "26", "37", "48", "36", "45", "18", "27")}


def test_where_it_is_not_enough_a_counterexample_is_drawn_and_measured() -> None:
    """In it what is given holds, and the two lines are not parallel: read off the measures that are printed."""
    none = [entry for entry in core().entries if entry.key.answer.startswith("What is given is not enough")]
    assert len(none) == 2
    for entry in none:
        (said,), (step,) = entry.key.working, entry.key.steps
        measures = dict(re.findall(r"m∠(\d) = (\d+)°", said))
        a, b = re.search(r"Given: ∠(\d) ≅ ∠(\d)", entry.prompt).groups()
        assert measures[a] == measures[b] and all(f">{value}°<" in step.svg for value in measures.values())
        two = frozenset((a, b))
        if two in SUM:
            assert int(measures[a]) + int(measures[b]) != 180
        else:
            # They share a vertex: the figure itself must show other angles at the other line.
            assert two not in EQUAL
            assert "Counterexample" in said
    undone = [
        entry
        for entry in build_pack(load_pack(ROOT / "lesson_packs" / "twelve-proofs"), read_want([], alone=False)).entries
        if entry.key.answer.startswith("It does not follow")
    ]
    assert len(undone) == 2 and all(entry.key.steps and entry.blanks for entry in undone)


@pytest.mark.parametrize("theme", THEMES)
def test_other_proofs_are_set_row_by_row(theme: str) -> None:
    sheet = build_pack(load_pack(ROOT / "lesson_packs" / "twelve-proofs"), read_want([], theme=theme, alone=False))
    html = key_html(sheet, Frame())
    routes = [route for entry in sheet.entries for route in entry.key.routes]
    assert len(routes) > 5 and " / " not in html
    assert html.count('class="route-name"') == len(routes)
    assert len(re.findall(r'class="route-name">[^<]*</p><ol class="working"><li>1\. ', html)) == len(routes)


def test_codes_of_items_stand_in_the_key_and_not_under_the_question() -> None:
    """The family in the code would give away what kind of question it is."""
    from app.sheets.html import sheet_html

    sheet = build(read_want(EVERY, seed=2, title="Mixed"))
    shown, key = text(sheet_html(sheet, Frame())), text(key_html(sheet, Frame()))
    for entry in sheet.entries:
        assert entry.mark and entry.mark in key
        assert entry.mark not in shown and entry.mark.split()[0] not in shown
