"""Strips and small promises of sheets: what is to be constructed is said, and nothing is used before it is there."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from app.construction.recipes import recipe
from app.construction.start import read_compass, read_start
from app.construction.words import captions
from app.lessons.load import load_pack
from app.sheets.build import build, read_want
from app.sheets.html import Frame, sheet_html
from app.sheets.strips import strip_html
from app.words.house import house

PACKS = sorted(p.parent for p in (Path(__file__).parents[2] / "lesson_packs").glob("*/pack.toml"))
TASKS = [task for folder in PACKS for task in load_pack(folder).tasks() if task.kind == "construct"]


@pytest.mark.parametrize("task", TASKS, ids=lambda task: task.id)
def test_a_strip_says_what_to_construct_and_has_a_line_for_the_name(task) -> None:  # type: ignore[no-untyped-def]
    html = strip_html(task.data, task.title, "letter", Frame())
    pages = re.findall(r'<section class="page strip-page">.*?</section>', html, re.S)
    assert len(pages) >= 2
    for page in pages:
        head = re.search(r"<header.*?</header>", page, re.S)[0]
        assert task.data["ask"].split(".")[0] in head
    # The page that is worked on and handed in.
    assert "Name" in pages[-1] and "Period" in pages[-1]
    assert "Class" in strip_html(task.data, task.title, "a4", Frame(), house("uk"))


@pytest.mark.parametrize("compass", ["modern", "collapsing"])
@pytest.mark.parametrize("route", ["any", "corresponding", "alternate interior", "rhombus"])
def test_a_compass_point_is_put_where_a_point_is(route: str, compass: str) -> None:
    """In each step the compass point goes to a point that is given, was made before, or is marked in the same words."""
    seen = 0
    for task in TASKS:
        made = recipe(read_start(task.data["construction"], task.data["start"]), route, compass=read_compass(compass))
        there, done = set(made.start.points), 0
        for step, said in zip(made.steps, captions(made), strict=True):
            words = str(said["caption"])
            for found in re.finditer(r"[Cc]ompass point on ([A-Z]\d?)|then on ([A-Z]\d?)|opened to ([A-Z]\d?)", words):
                point = next(filter(None, found.groups()))
                marked = re.search(rf"([Mm]ark|at|any point) (\w+ )*{point}\b", words[: found.start()])
                assert point in there or marked, (step.key, point, words)
                seen += 1
            there |= {move.name for move in made.moves[done : step.upto]}
            done = step.upto
    assert seen > 20


def test_the_paper_is_the_usual_one_of_the_house() -> None:
    assert read_want(["make-parallel"]).paper == "letter" and read_want(["make-parallel"], house="uk").paper == "a4"
    assert read_want(["make-parallel"], house="uk", paper="letter").paper == "letter"


def test_a_transversal_is_written_and_not_picked_from_pairs_of_any_lines() -> None:
    for entry in build(
        read_want(["which-transversal:1:3", "which-transversal:2:3", "which-transversal:3:6"], seed=5)
    ).entries:
        assert [blank.choices for blank in entry.blanks] == [(), ()] and "transversal" in entry.blanks[0].label


def test_boxes_and_key_go_down_the_page_alike() -> None:
    sheet = build(read_want(["put-in-order:2:4"], seed=6))
    rows = re.findall(
        r'<td class="box"><span></span></td><th scope="row" class="n">(\w)</th>', sheet_html(sheet, Frame())
    )
    for entry in sheet.entries:
        letters = re.findall(r"(\w) \d+", entry.key.answer)
        assert letters == [row[0] for row in entry.rows] == rows[: len(letters)]
        rows = rows[len(letters) :]


def test_every_level_says_what_it_is() -> None:
    """On the form, in both languages: a number alone says nothing."""
    from app.practice.families import LEVELS
    from app.words import catalogue

    for language in ("en", "es"):
        words = catalogue("sheets", language)
        told = {
            (family, n): words[f"level_{family}_{n}"]
            for family, most in {**LEVELS, "write-a-proof": 3}.items()
            for n in range(1, most + 1)
        }
        for family in LEVELS:
            own = [text for (name, _), text in told.items() if name == family]
            assert len(set(own)) == len(own) and all(len(text) < 50 for text in own)
    form = (Path(__file__).parents[2] / "templates" / "sheets" / "form.html").read_text(encoding="utf-8")
    assert "sheets.level_" in form
