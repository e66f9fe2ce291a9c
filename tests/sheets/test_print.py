"""The printed page, as a browser prints it: size, pages, nothing cut, nothing lost, readable in black and white."""

from __future__ import annotations

import shutil
from collections.abc import Iterator
from io import BytesIO
from pathlib import Path
from typing import Any

import pytest

from app.lessons.load import load_pack
from app.practice.families import FAMILIES, LEVELS
from app.sheets.build import build, read_want
from app.sheets.html import Frame, sheet_html
from app.sheets.keys import key_html
from app.sheets.packs import build_pack
from app.sheets.pages import into_pages
from app.sheets.paper import PAPERS, THEMES
from app.sheets.strips import strip_html
from tests.need import need
from tests.scale import trials

CSS = Path(__file__).parents[2] / "static" / "css"
PACKS = Path(__file__).parents[2] / "lesson_packs"
pytestmark = pytest.mark.browser

MIXED = [
    "make-parallel:2:3",
    "is-it-enough:1:2",
    "missing-reason:2:1",
    "put-in-order:3:1",
    "connect:2:1",
    "find-the-mistake:3:1",
    "which-transversal:3:1",
    "name-the-pair:3:1",
    "write-a-proof:3:1",
]


@pytest.fixture(scope="module")
def page(playwright: Any) -> Iterator[Any]:
    found = need(shutil.which("chromium-headless-shell") or shutil.which("chromium"), "Chromium")
    browser = playwright.chromium.launch(executable_path=found, args=["--no-sandbox"])
    yield browser.new_page()
    browser.close()


def frame(paper: str) -> Frame:
    return Frame(
        style="".join((CSS / name).read_text(encoding="utf-8") for name in ("sheet.css", f"sheet-{paper}.css"))
    )


def printed(page: Any, html: str) -> Any:
    from pypdf import PdfReader

    page.set_content(html)
    page.emulate_media(media="print")
    return PdfReader(BytesIO(page.pdf(prefer_css_page_size=True)))


@pytest.mark.parametrize("theme", THEMES)
@pytest.mark.parametrize("paper", PAPERS)
def test_each_page_of_the_pdf(page: Any, paper: str, theme: str) -> None:
    """I-1, I-2: the paper's own size; head, version and "page n of m" in the body of every page."""
    sheet = build(read_want(MIXED, paper=paper, theme=theme, seed=6))
    pages = into_pages(sheet.entries, sheet.theme, title=sheet.title, lead="x" * 70 if sheet.theme.alone else "")
    pdf = printed(page, sheet_html(sheet, frame(paper)))

    assert len(pdf.pages) == len(pages)
    for n, one in enumerate(pdf.pages):
        box = [float(side) * 25.4 / 72 for side in (one.mediabox.width, one.mediabox.height)]
        assert box == pytest.approx(PAPERS[paper], abs=0.6)
        text = " ".join(one.extract_text().split())
        assert f"page {n + 1} of {len(pages)}" in text and "Version A" in text and "seed 6" in text
    first = pdf.pages[0].extract_text()
    assert all(word in first for word in ("Name", "Date", "Period"))
    whole = " ".join(" ".join(p.extract_text().split()) for p in pdf.pages)
    for entry in sheet.entries:
        assert entry.ask.replace(" - ", " − ") in whole


def test_letter_and_a4_break_into_the_same_pages(page: Any) -> None:
    counts = set()
    for paper in PAPERS:
        sheet = build(read_want(MIXED, paper=paper, seed=6))
        pdf = printed(page, sheet_html(sheet, frame(paper)))
        counts.add(tuple(" ".join(p.extract_text().split())[:400] for p in pdf.pages))
    assert len(counts) == 1


OVER = """[...document.querySelectorAll('.page')].flatMap((p, i) => {
  const list = p.querySelector('.page-body'), foot = p.querySelector('.page-foot').getBoundingClientRect();
  const last = list.lastElementChild.getBoundingClientRect();
  const figures = [...p.querySelectorAll('.q-figure svg, .space svg')].map((s) => s.getBoundingClientRect());
  const box = p.getBoundingClientRect();
  const cut = figures.some((f) => f.right > box.right + 1 || f.bottom > foot.top + 1 || f.left < box.left - 1);
  return p.scrollHeight > p.clientHeight + 1 || last.bottom > foot.top + 1 || cut ? [i] : [];
})"""


@pytest.mark.parametrize("theme", THEMES)
def test_no_page_overflows_and_no_figure_is_cut(page: Any, theme: str) -> None:
    """I-4: what the pages were reckoned to hold is measured, over many sheets of every kind of question."""
    every = [f"{family}:{level}:1" for family in FAMILIES for level in range(1, LEVELS[family] + 1)]
    page.emulate_media(media="print")
    for seed in range(trials(quick=2, full=25)):
        sheet = build(read_want([*every, "write-a-proof:1:1", "write-a-proof:3:1"], theme=theme, seed=seed * 37 + 1))
        for html in (sheet_html(sheet, frame("letter")), key_html(sheet, frame("letter"))):
            page.set_content(html)
            assert page.evaluate(OVER) == [], (seed, theme)


# Every item code that touches a rule, or words of its own question other than itself.
CROWDED = """[...document.querySelectorAll('.q-mark')].flatMap((mark) => {
  const own = mark.closest('.question, .answer').getBoundingClientRect(), range = document.createRange();
  const boxOf = (node) => { range.selectNodeContents(node); return [...range.getClientRects()]; };
  const [m] = boxOf(mark);
  if (!m) return [];
  const lines = [own.top, own.bottom, ...[...mark.closest('li').querySelectorAll('td')].map((e) => e.getBoundingClientRect().bottom)];
  const walk = document.createTreeWalker(mark.closest('li'), NodeFilter.SHOW_TEXT);
  let met = lines.some((y) => y > m.top - 2 && y < m.bottom + 2);
  while (walk.nextNode()) {
    if (mark.contains(walk.currentNode)) continue;
    met ||= boxOf(walk.currentNode).some((b) => b.right > m.left - 4 && b.left < m.right && b.bottom > m.top + 1 && b.top < m.bottom - 1);
  }
  return met ? [`${mark.textContent} in ${mark.closest('li').className}`] : [];
})"""


@pytest.mark.parametrize("theme", THEMES)
def test_item_codes_have_room(page: Any, theme: str) -> None:
    """Of every kind of question, on the sheet and in the key: on no rule and on no words."""
    every = [f"{family}:{level}:1" for family in FAMILIES for level in range(1, LEVELS[family] + 1)]
    sheet = build(read_want([*every, "write-a-proof:1:1", "write-a-proof:3:1"], theme=theme, seed=5))
    page.emulate_media(media="print")
    for html in (sheet_html(sheet, frame("letter")), key_html(sheet, frame("letter"))):
        page.set_content(html)
        assert page.evaluate(CROWDED) == []


def test_room_to_work(page: Any) -> None:
    """I-4: 4 cm for a solve-for-x (the line for the answer is part of it), proof rows of 9 mm, text of 11 pt."""
    sheet = build(read_want(["make-parallel:2:1", "write-a-proof:1:1"]))
    page.set_content(sheet_html(sheet, frame("letter")))
    page.emulate_media(media="print")

    mm = 25.4 / 96
    room = page.evaluate(
        "[document.querySelector('.room'), document.querySelector('.fill')].map((e) => e.getBoundingClientRect().height)"
    )
    rows = page.evaluate(
        "[...document.querySelectorAll('.rows tbody tr')].map((e) => e.getBoundingClientRect().height)"
    )
    size = page.evaluate("parseFloat(getComputedStyle(document.querySelector('.ask')).fontSize) * 0.75")
    assert sum(room) * mm >= 39.5
    assert min(rows) * mm >= 9 - 0.2
    assert size >= 11


def test_large_print_is_18_points(page: Any) -> None:
    sheet = build(read_want(["make-parallel:2:1"], theme="large"))
    page.set_content(sheet_html(sheet, frame("letter")))

    assert page.evaluate(
        "parseFloat(getComputedStyle(document.querySelector('.ask')).fontSize) * 0.75"
    ) == pytest.approx(18, abs=0.1)


# The size in points of every text that is seen, those in figures at the size they are printed.
SIZES = """[...document.querySelectorAll('.page *')].filter((e) => !e.closest('title, desc') &&
    [...e.childNodes].some((n) => n.nodeType === 3 && n.data.trim()) && e.getClientRects().length).map((e) => {
  const svg = e.closest('svg');
  const by = svg ? svg.getBoundingClientRect().width / svg.viewBox.baseVal.width : 1;
  return [parseFloat(getComputedStyle(e).fontSize) * by * 0.75, e.classList.contains('tiny'), e.textContent];
})"""


def test_large_print_is_large_in_figures_too(page: Any) -> None:
    """No text under 14 pt, item codes 10 pt, figures about 11 cm wide and none of their labels left out."""
    every = [f"{family}:{level}:1" for family in FAMILIES for level in range(1, LEVELS[family] + 1)]
    sheet = build(read_want([*every, "write-a-proof:2:1"], theme="large", seed=3))
    pack = build_pack(load_pack(PACKS / "proving-lines-parallel"), read_want(["make-parallel:1:1"], theme="large"))
    page.emulate_media(media="print")
    for one in (sheet, pack):
        page.set_content(sheet_html(one, frame("letter")))
        sizes = page.evaluate(SIZES)
        assert [s for s in sizes if s[0] < (9.99 if s[1] else 13.99)] == []
        assert len(sizes) > 100
        wide = page.evaluate(
            "[...document.querySelectorAll('.q-figure svg')].map((e) => e.getBoundingClientRect().width * 25.4 / 96)"
        )
        assert wide and min(wide) >= 109.5 and max(wide) <= 173
        assert page.evaluate(OVER) == []


def test_black_on_white_only(page: Any) -> None:
    """I-4: printed ink is grey or black, and figure lines are 0.75 pt or more."""
    from PIL import Image

    sheet = build(read_want(["parallel-so:2:1", "is-it-enough:1:1", "find-the-angle:3:1"], seed=2))
    page.set_viewport_size({"width": 900, "height": 1200})
    page.set_content(sheet_html(sheet, frame("letter")))
    page.emulate_media(media="print")
    shot = Image.open(BytesIO(page.screenshot(full_page=True))).convert("RGB")
    colours = [c for _, c in shot.getcolors(10**6) or []]
    # Screen text is smoothed grey, or with a hint of colour at its edges; nothing is plainly coloured.
    assert all(max(c) - min(c) < 60 for c in colours)
    widths = page.evaluate(
        "[...document.querySelectorAll('.q-figure svg [stroke-width]')].map((e) => {"
        "const s = e.ownerSVGElement.getBoundingClientRect().width / e.ownerSVGElement.viewBox.baseVal.width;"
        "return parseFloat(e.getAttribute('stroke-width')) * s * 0.75; })"
    )
    assert widths and min(widths) >= 0.74


def test_constructions_are_drawn_to_scale(page: Any) -> None:
    """I-7: the check bar is 5 cm in the PDF's own units when printed at 100 %."""
    pack = load_pack(Path(__file__).parents[2] / "lesson_packs" / "proving-lines-parallel")
    parts = [p.id for p in pack.parts if any(t.kind == "construct" for t in p.tasks)]
    sheet = build_pack(pack, read_want(["make-parallel:1:1"]), parts)
    page.set_content(sheet_html(sheet, frame("letter")))
    page.emulate_media(media="print")

    bars = page.evaluate(
        "[...document.querySelectorAll('.check-bar')].map((e) => e.getBoundingClientRect().width * 25.4 / 96)"
    )
    assert bars and all(bar == pytest.approx(50, abs=0.3) for bar in bars)
    spaces = page.evaluate(
        "[...document.querySelectorAll('.space svg')].map((e) => e.getBoundingClientRect().height * 25.4 / 96)"
    )
    assert spaces and all(space >= 60 for space in spaces)


PX = 96 / 25.4

# Every element of a printed page that reaches beyond it, and words that reach below the foot's upper edge.
OUTSIDE = """[...document.querySelectorAll('.page')].flatMap((p) => {
  const box = p.getBoundingClientRect(), foot = p.querySelector('.page-foot').getBoundingClientRect();
  const check = p.querySelector('.check').getBoundingClientRect();
  const svg = (e) => e.ownerSVGElement;
  return [...p.querySelectorAll('*')].filter((e) => !svg(e)).filter((e) => {
    const b = e.getBoundingClientRect();
    const low = e.closest('.page-foot') ? box.bottom + 0.5 : e.closest('.check') ? foot.top + 0.5 : check.top + 0.5;
    return b.left < box.left - 0.5 || b.right > box.right + 0.5 || b.bottom > low && !e.matches('.panels, .blank') ||
      e.scrollWidth > e.clientWidth + 1 && getComputedStyle(e).display !== 'inline';
  }).map((e) => `${e.tagName} ${e.className.baseVal ?? e.className} ${e.textContent.slice(0, 30)}`);
})"""


def test_strips_of_every_pack_stay_on_the_paper(page: Any) -> None:
    """Both papers, at the width a page has inside its margins: nothing is cut, up to six panels stand on one page."""
    page.emulate_media(media="print")
    seen = 0
    for folder in sorted(p.parent for p in PACKS.glob("*/pack.toml")):
        for task in (t for t in load_pack(folder).tasks() if t.kind == "construct"):
            for paper, (wide, high) in PAPERS.items():
                margins = (31.4, 25.4) if paper == "letter" else (25.4, 43.0)
                page.set_viewport_size(
                    {"width": int((wide - margins[0]) * PX), "height": int((high - margins[1]) * PX)}
                )
                page.set_content(strip_html(task.data, task.title, paper, frame(paper)))
                seen += 1

                assert page.evaluate(OUTSIDE) == [], (task.id, paper)
                assert page.evaluate("document.documentElement.scrollWidth <= window.innerWidth + 1"), (task.id, paper)
                panels, pages = (page.locator(one).count() for one in (".panel", ".page"))
                assert pages == (2 if panels <= 6 else 1 - (-panels // 4)), (task.id, panels, pages)
    assert seen >= 2


@pytest.mark.parametrize("paper", PAPERS)
def test_the_bar_of_a_strip_is_five_centimetres_in_the_pdf(page: Any, paper: str) -> None:
    """I-7: measured on the printed page itself, between the bar's end marks, and its length is written beside it."""
    task = next(t for t in load_pack(PACKS / "proving-lines-parallel").tasks() if t.id == "parallel-through-p")
    for one in printed(page, strip_html(task.data, task.title, paper, frame(paper))).pages:
        uprights = [
            a[0] for a, b in strokes(one) if abs(a[0] - b[0]) < 0.1 and abs(abs(a[1] - b[1]) * 25.4 / 72 - 4) < 0.05
        ]
        assert len(uprights) == 2
        assert (max(uprights) - min(uprights)) * 25.4 / 72 == pytest.approx(50, abs=0.1)
        assert "5 cm" in one.extract_text() and "100 %" in one.extract_text()


def strokes(one: Any) -> list[tuple[tuple[float, float], tuple[float, float]]]:
    """The straight strokes of a page, end to end, in points."""
    found, last = [], (0.0, 0.0)

    def see(name: bytes, args: Any, now: Any, _text: Any) -> None:
        nonlocal last
        if name not in (b"m", b"l"):
            return
        x, y = float(args[0]), float(args[1])
        at = (now[0] * x + now[2] * y + now[4], now[1] * x + now[3] * y + now[5])
        if name == b"l":
            found.append((last, at))
        last = at

    one.extract_text(visitor_operand_before=see)
    return found


def test_a_figure_to_be_touched_stands_alone(page: Any) -> None:
    """D-7: one figure a page, no fill, two line styles."""
    sheet = build(read_want(["parallel-so:2:2", "name-the-pair:1:2"], theme="tactile"))
    page.set_content(sheet_html(sheet, frame("letter")))

    per_page = page.evaluate(
        "[...document.querySelectorAll('.page')].map((p) => p.querySelectorAll('.q-figure').length)"
    )
    assert max(per_page) == 1
    for entry in sheet.entries:
        assert 'class="figure figure-tactile"' in entry.figure and "stroke-dasharray" in entry.figure
