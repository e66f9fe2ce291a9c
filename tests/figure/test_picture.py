"""The picture: SVG that stands alone, says what it shows, and asks for nothing that a strict page forbids."""

from __future__ import annotations

import shutil
import time
from itertools import combinations
from xml.etree import ElementTree

import pytest

from app.figure.api import pairs, read, words
from app.figure.api import picture as picture_of
from app.figure.faults import Fault
from app.figure.model import all_sectors, figure_from_json
from app.figure.picture import picture
from tests.figure.samples import samples, standard
from tests.need import need
from tests.reading import in_english

words = in_english(words)

SVG = "{http://www.w3.org/2000/svg}"
MARKS = {
    "angles": {"3": {"arcs": 1, "tone": "given"}, "6": {"arcs": 2, "tone": "follows"}, "1": {"arcs": 1, "tone": "fails", "label": "3x < 5"}},
    "lines": {"l": {"arrows": 1}, "m": {"arrows": 2, "tone": "follows"}},
    "right": [{"at": "A", "angle": "2"}],
    "segments": {"A B": {"ticks": 2}},
}  # fmt: skip


def drawn(data=None, marks=None, **how):
    return ElementTree.fromstring(picture(figure_from_json(data or standard(0, 8, 65)), marks, **how))


@pytest.mark.parametrize("theme", ["paper", "board", "print", "tactile"])
def test_the_picture_is_well_formed_and_named(theme) -> None:
    root = drawn(marks=MARKS, theme=theme, not_to_scale=True, size=(760, 600) if theme == "tactile" else (480, 360))

    title, desc = root.find(f"{SVG}title"), root.find(f"{SVG}desc")
    assert root.get("role") == "img"
    assert (
        title is not None
        and title.text == "Two lines l and m cut by line t."
        and root.get("aria-labelledby") == title.get("id")
    )
    assert desc is not None and "Not drawn to scale." in desc.text and root.get("aria-describedby") == desc.get("id")
    texts = [text.text for text in root.iter(f"{SVG}text")]
    assert {"1", "2", "l", "m", "t", "A", "B", "3x < 5", "Not drawn to scale."} <= set(texts)


def test_no_style_attribute_no_script_nothing_loaded() -> None:
    for sample in samples(41, 5):
        text = picture(figure_from_json(sample.figure), None)
        assert " style=" not in text and "<style" not in text and "<script" not in text
        assert "href" not in text and "url(" not in text and text.count("http") == 1  # the namespace
        assert " on" not in "".join(text.split(">")[:1])


def test_tones_differ_without_colour() -> None:
    """WCAG 2.2, 1.4.1: what is given, follows or fails differs by weight and dashes too."""
    root = drawn(marks=MARKS)
    looks = {
        path.get("class"): (path.get("stroke-width"), path.get("stroke-dasharray") is not None)
        for path in root.iter(f"{SVG}path")
        if (path.get("class") or "").startswith("arc")
    }

    assert len(set(looks.values())) == 3 and looks["arc fails"][1]


def test_counts_of_marks_are_drawn() -> None:
    paths = {path.get("class"): path.get("d") for path in drawn(marks=MARKS).iter(f"{SVG}path")}

    assert paths["arc follows"].count("A") == 2 and paths["arc given"].count("A") == 1
    assert paths["arrow follows"].count("M") == 2 and paths["arrow plain"].count("M") == 1
    assert paths["tick plain"].count("M") == 2
    assert "square plain" in paths


def test_no_arrow_mark_unless_asked_for() -> None:
    """Lines that are parallel as drawn carry no arrows: a mark is a statement, a drawing is none."""
    assert not [path for path in drawn(standard(0, 0, 65)).iter(f"{SVG}path") if "arrow" in (path.get("class") or "")]


def test_hidden_words_stay_out_of_the_description() -> None:
    text = picture(
        figure_from_json(standard(0, 0, 65)), {"lines": {"l": {"arrows": 1}, "m": {"arrows": 1}}}, hide=["parallel"]
    )

    assert "parallel" not in text and "Arrow marks on l and m." in text


def test_pictures_on_one_page_have_ids_of_their_own() -> None:
    ids = [drawn(standard(0, 8, t)).get("aria-labelledby") for t in range(20, 160, 10)]

    assert len(set(ids)) == len(ids)


def test_the_same_picture_every_time() -> None:
    assert picture(figure_from_json(standard(3, 8, 65)), MARKS) == picture(figure_from_json(standard(3, 8, 65)), MARKS)


def largest_figure():
    """As many lines, meets and angles as a figure may have, every angle marked and labelled."""
    lines = {
        f"a{i}": {"direction": 15 * i + i * i % 7, "through": [(i * 17) % 53 - 26, (i * 29) % 47 - 23]}
        for i in range(12)
    }
    fig = figure_from_json({"lines": lines})
    angles = {}
    for meet in fig.meets:
        for sector in all_sectors(fig, meet):
            if len(angles) < 120:
                angles[str(len(angles) + 1)] = {"at": meet, "from": str(sector.start), "to": str(sector.end)}
    return {"lines": lines, "angles": angles}, {"angles": {name: {"arcs": 2, "label": "3x + 10"} for name in angles}}


def test_the_largest_figure_is_drawn_in_bounded_time() -> None:
    data, marks = largest_figure()
    assert len(figure_from_json(data).meets) == 66 and len(data["angles"]) == 120
    start = time.process_time()

    picture(figure_from_json(data), marks)

    assert time.process_time() - start < 8, "a few seconds of work, however busy the machine"


def test_the_calculators_three_answers() -> None:
    body = {"figure": standard(10, 20, 65)}

    assert pairs({**body, "angles": ["1", "5"]}) == {
        "pair": "corresponding", "transversal": "t", "lines": ["l", "m"], "relation": "congruent",
    }  # fmt: skip
    assert words(body)["text"].startswith("Two lines l and m cut by line t.\n- ")
    assert picture_of({**body, "marks": MARKS, "size": [300, 200], "theme": "print"}).startswith("<svg ")


@pytest.mark.parametrize(
    "body",
    [
        {}, {"figure": 3}, {"figure": standard(1, 2, 65), "size": [10, 10]}, {"figure": standard(1, 2, 65), "size": "big"},
        {"figure": standard(1, 2, 65), "size": [True, 100]}, {"figure": standard(1, 2, 65), "theme": "neon"},
        {"figure": standard(1, 2, 65), "theme": []}, {"figure": standard(1, 2, 65), "marks": {"angles": []}},
    ],
)  # fmt: skip
def test_what_cannot_be_drawn_is_a_fault(body) -> None:
    with pytest.raises(Fault) as caught:
        picture_of(body)
    assert caught.value.sentence() and caught.value.where


@pytest.mark.parametrize("angles", [None, [], ["1"], ["1", 5], ["1", "5", "6"], "15", {"1": 1}, ["1", "77"]])
def test_pairs_wants_two_angles(angles) -> None:
    with pytest.raises(Fault):
        pairs({"figure": standard(1, 2, 65), "angles": angles})


@pytest.mark.browser
def test_letters_keep_within_their_room_in_a_real_browser(playwright) -> None:
    """Chromium's own text boxes: no text is wider than the room the layout gave it, and none meet."""
    shell = need(shutil.which("chromium-headless-shell") or shutil.which("chromium"), "chromium-headless-shell")
    figures = [standard(0, 8, t) for t in (20, 65, 100, 160)] + [s.figure for s in samples(43, 4, 4)]
    browser = playwright.chromium.launch(executable_path=shell, args=["--no-sandbox"])
    page = browser.new_page()
    for data in figures:
        marks = MARKS if "t" in data["lines"] and "3" in data.get("angles", {"3": 0}) and data in figures[:4] else None
        page.set_content(picture(figure_from_json(data), marks))
        boxes = page.evaluate(
            "[...document.querySelectorAll('text')].map(t => { const b = t.getBBox(); return [t.textContent, b.x, b.width,"
            " +t.getAttribute('y'), +t.getAttribute('font-size')] })"
        )
        assert len(boxes) > 8
        for (a, x, wide, y, size), (b, x2, wide2, y2, size2) in combinations(boxes, 2):
            # Digits and capitals stand on the base line and reach 0.74 of the size.
            over = x < x2 + wide2 and x2 < x + wide and y - 0.74 * size < y2 and y2 - 0.74 * size2 < y
            assert not over, (a, b, data)
    browser.close()


def test_a_figure_read_is_written_out_whole() -> None:
    short = {"lines": standard(0, 8, 65)["lines"], "number": "standard", "transversal": "t"}
    whole = read({"figure": short})["figure"]

    assert list(whole["angles"]) == list("12345678")
    assert all(meet["lines"] and len(meet["at"]) == 2 for meet in whole["meets"].values())
    assert pairs({"figure": whole, "angles": ["3", "6"]}) == pairs({"figure": short, "angles": ["3", "6"]})
    with pytest.raises(Fault, match="nothing"):
        read({"figure": ""})
