"""The Seat and the front door: forced colors, straight lines, the other figure beside a proof, three Tabs to the next task."""

from __future__ import annotations

import io
import re
from typing import Any

import pytest
from PIL import Image, ImageChops
from playwright.sync_api import expect

from tests.browser.conftest import LAPTOP, PACK, Lesson
from tests.in_sight import ROOT, Looker, tasks_of, works

pytestmark = pytest.mark.browser

# What an edge looks like, each side as "width style color": what isn't drawn, or is drawn in the page's own color, is no edge.
EDGES = """e => { const c = getComputedStyle(e), page = getComputedStyle(document.body).backgroundColor;
  const ground = getComputedStyle(document.documentElement).backgroundColor;
  return ['Top', 'Right', 'Bottom', 'Left'].map(s => [c[`border${s}Width`], c[`border${s}Style`], c[`border${s}Color`]])
    .map(([w, s, k]) => parseFloat(w) === 0 || s === 'none' || k === page || k === ground || /rgba.*, 0\\)$/.test(k) ? '' : `${w} ${s} ${k}`).join('|')
    + ' ' + c.backgroundColor + ' ' + c.color; }"""


def opened(lesson: Lesson, task: str, **more: Any) -> Any:
    page = lesson.page(LAPTOP, **more)
    page.goto(f"/alone/{PACK}/#{task}")
    page.locator("#card > *").first.wait_for()
    expect(page.locator("#verdict")).not_to_have_attribute("data-tone", "wait")
    return page


def readable(thing: Any) -> bool:
    """Whether other words would look otherwise: behind a plate of their own color no words can be told from any."""
    pictures = []
    for _ in range(2):
        picture = Image.open(io.BytesIO(thing.screenshot())).convert("L")
        w, h = picture.size
        pictures.append(picture.crop((w // 3, 5, w - w // 3, h - 5)))
        thing.evaluate("e => { e.textContent = [...e.textContent].reverse().join(''); }")  # the second time back again
    off = ImageChops.difference(*pictures).histogram()
    return sum(off[96:]) > 20


def test_the_main_buttons_can_be_read_in_forced_colors(lesson: Lesson) -> None:
    page = lesson.page(LAPTOP, forced_colors="active")
    page.goto("/")
    assert readable(page.locator(".door-form .action"))
    page = opened(lesson, "names-at-one-crossing", forced_colors="active")
    button = page.locator("#hand .action:visible").first
    assert readable(button)
    before = button.evaluate(EDGES)
    button.evaluate("e => e.setAttribute('aria-disabled', 'true')")
    assert button.evaluate(EDGES) != before


def test_what_is_chosen_and_where_one_is_stand_out_in_forced_colors(lesson: Lesson) -> None:
    page = opened(lesson, "names-at-one-crossing", forced_colors="active")
    for here, others in [
        (".path-task[aria-current]", ".path-task:not([aria-current])"),
        (".pair[aria-current]", ".pair:not([aria-current])"),
    ]:
        mine = page.locator(here).first.evaluate(EDGES)
        theirs = page.locator(others).first.evaluate(EDGES)
        assert mine.split("|")[2] != theirs.split("|")[2], (here, mine)
        assert "px" in mine and ("px" not in theirs or "pair" in others), (others, theirs)
    page = opened(lesson, "make-them-equal", forced_colors="active")
    lines = page.locator(".strip-line")
    lines.first.click()
    assert lines.nth(0).evaluate(EDGES) != lines.nth(1).evaluate(EDGES)
    under = [lines.nth(i).evaluate("e => parseFloat(getComputedStyle(e).borderBottomWidth)") for i in (0, 1)]
    assert under[0] >= under[1] + 2, under  # a mark, and not a color alone


def test_a_part_that_is_denied_can_be_read_in_forced_colors(lesson: Lesson) -> None:
    page = opened(lesson, "write-a-relative", forced_colors="active")
    page.locator(".tile:not(.tile-joint)").first.click()
    no = page.locator(".place-not").first
    no.click()
    expect(no).to_have_attribute("aria-pressed", "true")
    page.mouse.move(2, 2)
    colors = no.evaluate("e => { const s = getComputedStyle(e); return [s.color, s.backgroundColor]; }")
    named = page.evaluate("""() => { const e = document.createElement('i'); document.body.append(e);
      e.style.setProperty('forced-color-adjust', 'none'); e.style.color = 'HighlightText'; e.style.backgroundColor = 'Highlight';
      const s = getComputedStyle(e), found = [s.color, s.backgroundColor]; e.remove(); return found; }""")
    assert colors == named, colors


@pytest.mark.parametrize("size", [(1366, 633), (1280, 585)], ids=str)
def test_a_statement_stands_whole_in_its_field(lesson: Lesson, size: tuple[int, int]) -> None:
    page = opened(lesson, "chain-consecutive-exterior")
    page.set_viewport_size({"width": size[0], "height": size[1]})
    field = page.locator(".statement-field").first
    field.fill("∠1 and ∠3 are supplementary")
    field.blur()
    assert field.evaluate("e => e.scrollWidth <= e.clientWidth"), size


def test_the_lines_of_the_front_door_are_straight(lesson: Lesson) -> None:
    page = lesson.page(LAPTOP)
    page.goto("/")
    page.locator(".living-line[d]").first.wait_for(state="attached")
    paths = page.locator(".living path").evaluate_all(
        "all => all.map(e => [e.getAttribute('class'), e.getAttribute('d')])"
    )
    for name, d in paths:
        if "arc" not in name:
            assert re.fullmatch(r"(?:[ML][-\d.]+ [-\d.]+){2,3}", d), (name, d)
    assert (
        sum("living-line" in name for name, _ in paths)
        == 3
        == sum(bool(re.fullmatch(r"M\S+ [-\d.]+L\S+ [-\d.]+", d)) for name, d in paths if "living-line" in name)
    )


def test_help_stays_on_a_page_of_320_pixels(lesson: Lesson) -> None:
    page = opened(lesson, "make-them-equal")
    page.set_viewport_size({"width": 320, "height": 256})
    for menu in page.locator(".seat-menu").all():
        menu.locator("summary").click()
        box = menu.locator(".seat-menu-page").bounding_box()
        assert box["x"] >= 0 and box["x"] + box["width"] <= 320, box
        page.keyboard.press("Escape")
    lesson.fits(page)


@pytest.mark.parametrize("size", [(683, 316), (320, 256)], ids=["200 %", "400 %"])
def test_a_reason_is_to_be_read_whole_when_enlarged(lesson: Lesson, size: tuple[int, int]) -> None:
    """A converse and its original begin alike: what a field cuts off stands below it (WCAG 2.2 SC 1.4.4, 1.4.10)."""
    page = opened(lesson, "chain-alternate-exterior")
    page.set_viewport_size({"width": size[0], "height": size[1]})
    name = "Consecutive Interior Angles Converse"
    field = page.locator(".reason-field").first
    field.fill(name)
    field.press("Enter")
    field.blur()
    cut = field.evaluate("e => e.scrollWidth > e.clientWidth + 1")
    whole = page.locator(".reason-whole").first
    if cut:
        expect(whole).to_have_text(name)
        assert whole.evaluate("e => e.scrollWidth <= e.clientWidth + 1")
    else:
        expect(whole).to_have_text("")
    page.goto("about:blank")
    page.goto(f"/alone/{PACK}/#enough-alternate")
    page.locator("[data-blank=theorem]").wait_for()
    for theorem in (
        "consecutive-interior-angles-converse",
        "alternate-interior-angles",
        "alternate-interior-angles-converse",
    ):
        gap = page.locator("[data-blank=theorem]")
        gap.select_option(theorem)
        assert gap.evaluate("""e => { const c = document.createElement('canvas').getContext('2d'), s = getComputedStyle(e);
          c.font = s.font; return c.measureText(e.selectedOptions[0].textContent).width <= e.clientWidth; }"""), theorem


# One task of each kind, with the words on the button that hands its answer in.
EACH_KIND = {
    "names-at-one-crossing": "Check", "make-them-equal": "Check my answer", "enough-alternate": "Check my reason",
    "chain-alternate-exterior": "Hand in the proof", "neighbors": "Hand in", "your-own-way": "Check my construction",
    "write-a-relative": "Hand in",
}  # fmt: skip


@pytest.mark.parametrize("task_id", EACH_KIND)
def test_from_check_to_the_next_task_in_three_tabs(lesson: Lesson, task_id: str) -> None:
    """With the keys alone: a right answer is handed in, and from where that leaves the focus it is at most three Tabs to the way on."""
    looker = Looker(lesson, PACK, ROOT / "lesson_packs")
    page = looker.page
    task = next(one for one in tasks_of(ROOT / "lesson_packs", PACK) if one["id"] == task_id)
    work = works(task, looker.ctx(task))["right"]
    lesson.call(page, "PUT", f"/alone/{PACK}/work/{task_id}", {"n": 10_000_000, "work": work})
    looker._open(task)
    page.get_by_role("button", name=EACH_KIND[task_id], exact=True).focus()
    page.keyboard.press("Enter")
    expect(page.locator("#verdict")).to_have_attribute("data-tone", "good")
    on = "() => document.activeElement.matches('#next, .seat-onward')"
    for _ in range(3):
        if page.evaluate(on):
            break
        page.keyboard.press("Tab")
    assert page.evaluate(on), page.evaluate("document.activeElement.outerHTML")
    page.keyboard.press("Enter")
    expect(page.locator("#title")).not_to_have_text(task["title"])
    page.context.close()


def test_where_one_is_in_the_path_stays_in_view_when_a_tablet_is_turned(lesson: Lesson) -> None:
    page = opened(lesson, "solve-one-side")
    for width, height in [(1280, 585), (1000, 600), (1180, 720)]:
        page.set_viewport_size({"width": width, "height": height})
        expect(page.locator(".path-task[aria-current]")).to_be_in_viewport(ratio=1)
        page.wait_for_function(
            """() => { const [a, b] = ['.path-task[aria-current]', '.path-parts'].map(css => document.querySelector(css).getBoundingClientRect());
              return a.left >= b.left - 1 && a.right <= b.right + 1; }"""
        )


def test_the_choice_of_a_transversal_is_one_line_in_spanish_too(lesson: Lesson) -> None:
    """Its words are longer there; on a low laptop the last name of a pair would go under the fold."""
    page = opened(lesson, "pairs-in-the-gable", locale="es-MX")
    expect(page.locator("#card .choices-row label").last).to_have_text("ninguna")
    boxes = [one.bounding_box() for one in page.locator("#card .choices-row label").all()]
    assert len({round(box["y"] + box["height"] / 2) for box in boxes}) == 1, boxes
    last, foot = page.locator("#card .pair-names label").last.bounding_box(), page.locator(".seat-foot").bounding_box()
    assert last["y"] + last["height"] <= foot["y"], (last, foot)
