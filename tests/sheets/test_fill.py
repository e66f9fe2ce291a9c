"""Pages are filled by what questions take as they print: reckoned heights are held to those that a browser measures."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from app.lessons.load import load_pack
from app.practice.families import FAMILIES, LEVELS
from app.sheets.build import VERSIONS, Sheet, build, read_want
from app.sheets.html import Frame, sheet_html
from app.sheets.keys import key_html
from app.sheets.measure import lines, width
from app.sheets.packs import build_pack
from app.sheets.pages import height_of, into_pages, room, sheets_of_paper
from app.sheets.paper import THEMES
from app.words import reading, tell
from app.words.house import house
from tests.need import need

ROOT = Path(__file__).parents[2]
CSS = ROOT / "static" / "css"
FRAME = Frame(style="".join((CSS / name).read_text(encoding="utf-8") for name in ("sheet.css", "sheet-letter.css")))
EVERY = [f"{family}:{level}:1" for family in FAMILIES for level in range(1, LEVELS[family] + 1)]
MM = 25.4 / 96
pytestmark = pytest.mark.browser


@pytest.fixture(scope="module")
def page(playwright: Any) -> Iterator[Any]:
    found = need(shutil.which("chromium-headless-shell") or shutil.which("chromium"), "Chromium")
    browser = playwright.chromium.launch(executable_path=found, args=["--no-sandbox"])
    page = browser.new_page()
    page.emulate_media(media="print")
    yield page
    browser.close()


def core(theme: str = "standard", seed: int = 1, version: str = "A", name: str = "proving-lines-parallel") -> Sheet:
    pack = load_pack(ROOT / "lesson_packs" / name)
    return build_pack(pack, read_want([], theme=theme, seed=seed, version=version, alone=False))


def sheets(theme: str) -> list[Sheet]:
    return [
        core(theme),
        core(theme, name="twelve-proofs"),
        build(read_want([*EVERY, "write-a-proof:1:1", "write-a-proof:3:1"], theme=theme, seed=38)),
    ]


QUESTIONS = "[...document.querySelectorAll('.question')].map((e) => e.getBoundingClientRect().height)"
BODIES = """[...document.querySelectorAll('.page-body')].map((e) => {
  const box = e.getBoundingClientRect();
  return [box.height, e.lastElementChild.getBoundingClientRect().bottom - box.top];
})"""


@pytest.mark.parametrize("theme", THEMES)
def test_heights_are_those_that_are_printed(page: Any, theme: str) -> None:
    """Never less by more than a hair, or a page would overflow; not much more, or paper would be wasted."""
    for sheet in sheets(theme):
        lead = tell("sheets.lead_tactile") if sheet.theme.alone else sheet.lead
        page.set_content(sheet_html(sheet, FRAME))
        places = [
            place for one in into_pages(sheet.entries, sheet.theme, title=sheet.title, lead=lead) for place in one
        ]
        measured = [high * MM for high in page.evaluate(QUESTIONS)]
        assert len(measured) == len(places)
        for (i, part), real in zip(places, measured, strict=True):
            reckoned = height_of(sheet.entries[i], sheet.theme, part)
            # A narrow table is set by the browser's own rules: it may come out lower.
            most = {"standard": 2.5, "large": 13, "tactile": 13}[theme] + (12 if sheet.entries[i].rows else 0)
            assert real - 0.8 <= reckoned <= real + most, (i + 1, part, real, reckoned)
        rooms = [high * MM for high, _ in page.evaluate(BODIES)]
        assert room(sheet.theme, True, sheet.title, lead) - 0.6 <= rooms[0]
        assert all(room(sheet.theme, False) <= one for one in rooms[1:])


def test_pages_are_filled(page: Any) -> None:
    """Measured on the printed page: how much of what lies between head and foot is used, the last page left out."""
    for seed in (1, 2, 3):
        page.set_content(sheet_html(core(seed=seed), FRAME))
        bodies = page.evaluate(BODIES)[:-1]
        assert sum(used for _, used in bodies) / sum(high for high, _ in bodies) >= 0.8
        assert min(used / high for high, used in bodies) >= 0.55


def test_a_class_set_of_the_core_lesson(page: Any) -> None:
    """36 students, three versions, keys, printed on both sides: it was 8.6 sheets of paper a student."""
    made = [core(version=version) for version in VERSIONS]
    used = 0
    for sheet in made:
        page.set_content(sheet_html(sheet, FRAME))
        used += 12 * sheets_of_paper(page.locator(".page").count())
        page.set_content(key_html(sheet, FRAME, made))
        used += sheets_of_paper(page.locator(".page").count())
    assert used / 36 <= 7.5, used / 36


def test_widths_are_no_less_than_printed(page: Any) -> None:
    """Every character that sheets use, in both weights, against the browser's own measure of the widest face."""
    page.set_content("<p>x</p>")
    chars = "".join(chr(c) for c in range(33, 127)) + "°·–—“”’≅∥∦∠⊥−×²áéíóúñÁÉÍÓÚÑ¿¡ü′…"
    for bold, weight in ((False, ""), (True, "bold ")):
        real = page.evaluate(
            """([chars, weight]) => {
          const ink = document.createElement('canvas').getContext('2d');
          ink.font = `${weight}1000px "DejaVu Serif"`;
          return [...chars].map((c) => ink.measureText(c).width / 1000);
        }""",
            [chars, weight],
        )
        for char, wide in zip(chars, real, strict=True):
            found = width(char, 72 / 25.4, bold=bold)
            assert wide - 0.011 <= found <= wide + 0.035, (char, bold, wide, found)
    assert (
        lines("on m ∥ n", 14, 11) == 2 and lines("one two", 100, 11) == 1
    )  # what holds together is not parted at its blanks


@pytest.mark.parametrize("theme", THEMES)
def test_no_formula_is_parted(page: Any, theme: str) -> None:
    """r ∥ s stands on one line: its three signs have one baseline."""
    page.set_content(sheet_html(core(theme), FRAME))
    parted = page.evaluate("""(() => {
      const found = [];
      const walk = document.createTreeWalker(document.querySelector('main'), NodeFilter.SHOW_TEXT);
      while (walk.nextNode()) {
        const node = walk.currentNode;
        if (!node.parentElement.closest('.q-words')) continue;
        for (const match of node.data.matchAll(/\\S+\\s[∥≅⊥∦=]\\s\\S+/g)) {
          const range = document.createRange();
          range.setStart(node, match.index);
          range.setEnd(node, match.index + match[0].length);
          if (new Set([...range.getClientRects()].map((r) => Math.round(r.top))).size > 1) found.push(match[0]);
        }
      }
      return found;
    })()""")
    assert parted == []


@pytest.mark.parametrize("theme", THEMES)
def test_every_page_has_a_line_for_the_name_and_parts_have_headings(page: Any, theme: str) -> None:
    sheet = core(theme)
    page.set_content(sheet_html(sheet, FRAME))
    heads = page.locator(".page > header").all_inner_texts()
    assert len(heads) > 5 and all("Name" in head for head in heads)
    assert page.locator("h2.part").all_inner_texts() == list(dict.fromkeys(entry.part for entry in sheet.entries))
    # Who finds the way by headings finds every question, under its part.
    levels = page.evaluate(
        "[...document.querySelectorAll('main h1, main h2, main h3')].map((e) => [e.tagName, e.textContent])"
    )
    numbers = [text for tag, text in levels if tag == "H3"]
    assert levels[0][0] == "H1" and sorted({int(n) for n in numbers}) == list(range(1, len(sheet.entries) + 1))


@pytest.mark.parametrize("theme", ["standard", "large"])
def test_rows_stay_with_their_figure(page: Any, theme: str) -> None:
    for sheet in (core(theme), core(theme, name="twelve-proofs")):
        page.set_content(sheet_html(sheet, FRAME))
        apart = page.evaluate("""[...document.querySelectorAll('.rows')].filter((rows) =>
          !rows.closest('.question').querySelector('.q-figure svg')).length""")
        # Twelve rows of large print fill a page by themselves.
        long = sum(len(entry.rows) >= 12 for entry in sheet.entries)
        assert apart == (long if theme == "large" else 0)


def test_there_is_a_place_for_every_answer(page: Any) -> None:
    """A rule, a box, an empty cell or a drawing to work in, for each question but the worked proofs."""
    for sheet in sheets("standard"):
        page.set_content(sheet_html(sheet, FRAME))
        lacking = page.evaluate("""[...document.querySelectorAll('.question')].filter((q) =>
          !q.querySelector('.fill-rule, .tick, .box, .space') && ![...q.querySelectorAll('td')].some((td) => !td.textContent)
        ).map((q) => Number(q.querySelector('.q-number').textContent))""")
        assert lacking == [i for i, e in enumerate(sheet.entries, 1) if e.key.points == 0]


def test_a_given_stands_on_a_line_of_its_own_and_rows_don_t_tell_the_length() -> None:
    proofs = [e for e in core(name="twelve-proofs").entries if all(row[1] is None for row in e.rows)]
    assert len(proofs) > 10
    for entry in proofs:
        assert entry.prompt.split("\n")[-2].startswith("Given: ")
    lengths: dict[int, set[int]] = {}
    for entry in proofs:
        lengths.setdefault(len(entry.rows), set()).add(entry.key.points if entry.key.working else 0)
    assert any(len(found) > 1 for found in lengths.values())


def test_what_is_not_to_scale_says_so() -> None:
    """In the drawing, or beside it where the drawing had no room."""
    from app.words import reader_of

    for name in ("us", "es"):
        with reading(reader_of(name)):
            note = tell("figure.not_to_scale")
        sheet = build(read_want([ask for ask in EVERY if "connect:5" not in ask or name == "us"], seed=4, house=name))
        told = 0
        for entry in sheet.entries:
            drawn = f">{note}</text>" in entry.figure
            if "connect" in entry.mark and entry.key.answer.startswith(("For", "Por")):
                continue  # drawn to scale, to be turned
            assert drawn != bool(entry.note), entry.mark
            assert entry.note in ("", note)
            told += bool(entry.note)
        assert told, house(name).title
