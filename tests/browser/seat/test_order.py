"""Tab goes as the eye goes: from left to right and from top to bottom, in every kind, state and size (WCAG 2.2 SC 2.4.3)."""

from __future__ import annotations

from typing import Any

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import PACK, Lesson
from tests.browser.seat.hands import open_task
from tests.in_sight import ROOT, SIZES, Looker, tasks_of, works

pytestmark = pytest.mark.browser
TASKS = [
    "names-at-one-crossing", "make-them-equal", "enough-alternate", "chain-alternate-exterior", "neighbors", "copy-an-angle",
    "relatives-of-a-sentence", "mixed",
]  # fmt: skip
# What has the focus: in which part of the page, its name, its box as it lies in that part, scrolled to its beginning.
AT = r"""() => {
  const e = document.activeElement;
  if (!e || e === document.body) return null;
  const part = e.closest('.seat-head, .seat-banner, .seat-paper, .seat-read, .seat-foot, .seat-steps');
  if (!part) return ['', e.className, 0, 0, 0, 0];
  const ground = part.getBoundingClientRect(), b = (e.labels?.[0] ?? e).getBoundingClientRect();
  // A list that scrolls inside the part shows what has the focus where the list is.
  const [x, y] = [b.left - ground.left, b.top - ground.top + part.scrollTop];
  const drawing = e.closest('svg') ? 'drawing' : '';
  return [part.className, drawing || (e.getAttribute('aria-label') || e.textContent || e.id || e.className).trim().slice(0, 40), x, y, b.width, b.height];
}"""
# The parts of the page in the order in which they are read: two that stand side by side from the left, else from the top.
PARTS = """() => [...document.querySelectorAll('.seat-head, .seat-paper, .seat-read, .seat-foot, .seat-steps')]
  .filter(e => e.getClientRects().length).map(e => [e.className, e.getBoundingClientRect()]).map(([name, b]) => [name, b.left + scrollX, b.top + scrollY, b.width, b.height])"""
Box = list[Any]


def before(a: Box, b: Box) -> bool:
    """Whether the eye comes to b before it comes to a: b lies above a, or on its line and to the left of it."""
    _, _, ax, ay, aw, ah = a
    _, _, bx, by, bw, bh = b
    shared = min(ay + ah, by + bh) - max(ay, by)
    if shared > 0.4 * min(ah, bh):
        return bool(bx + bw <= ax + 2)
    return bool(by + bh <= ay + 2)


def stops(page: Any) -> list[Box]:
    """Every stop of Tab from the top of the page to its end."""
    page.evaluate("() => { document.activeElement?.blur(); getSelection().removeAllRanges(); scrollTo(0, 0); }")
    page.locator(".skip").evaluate("e => e.focus()")
    found: list[Box] = []
    for _ in range(150):
        page.keyboard.press("Tab")
        at = page.evaluate(AT)
        if at is None or at[0] == "":
            return found
        found.append(at)
    raise AssertionError("Tab doesn't come to the end of the page")


def wrong_ways(page: Any, where: str) -> list[str]:
    found = stops(page)
    assert len(found) >= 7, (where, found)
    bad = []
    for one, other in zip(found, found[1:], strict=False):
        if one[0] == other[0] and "drawing" not in (one[1], other[1]) and before(one, other):
            bad.append(f"{where}: “{one[1]}” before “{other[1]}”, which stands before it")
    parts = [part for i, part in enumerate(found) if i == 0 or part[0] != found[i - 1][0]]
    names = [part[0] for part in parts]
    if len(set(names)) != len(names):
        bad.append(f"{where}: Tab leaves a part of the page and comes back to it: {names}")
    places = {name: [name, name, *box] for name, *box in page.evaluate(PARTS)}
    bad += [
        f"{where}: {a} before {b}"
        for a, b in zip(names, names[1:], strict=False)
        if a in places and b in places and before(places[a], places[b])
    ]
    return bad


@pytest.mark.parametrize("task_id", TASKS)
def test_tab_goes_as_the_eye_goes(lesson: Lesson, task_id: str) -> None:
    looker = Looker(lesson, PACK, ROOT / "lesson_packs")
    page = looker.page
    task = next(one for one in tasks_of(ROOT / "lesson_packs", PACK) if one["id"] == task_id)
    kept = works(task, looker.ctx(task))
    bad = []
    for n, state in enumerate(("start", "wrong", "right")):
        if state != "start":
            if kept.get(state) is None:
                continue
            lesson.call(page, "PUT", f"/alone/{PACK}/work/{task_id}", {"n": 10_000_000 * (n + 1), "work": kept[state]})
        looker._open(task)
        if state != "start":
            looker._hand_in(state)
        for name, (width, height) in SIZES.items():
            page.set_viewport_size({"width": width, "height": height})
            expect(page.locator("#title")).to_have_text(task["title"])
            bad += wrong_ways(page, f"{state}, {name}")
    assert not bad, "\n".join(bad)


def test_what_lies_under_an_unfolded_page_can_t_be_pressed_or_reached(lesson: Lesson) -> None:
    """Help lies over the card: a press there folds it and does no more, and so does Tab on its way."""
    page = open_task(lesson, "names-at-one-crossing")
    word = page.locator(".seat-menu > summary").first
    word.click()
    page_of_help = page.locator(".seat-menu-page").first
    expect(page.locator("#card")).to_have_attribute("inert", "")
    expect(page.locator(".seat-steps")).not_to_have_attribute("inert", "")  # it doesn't lie over the path
    radio = page.locator("#card .pair-names label").last
    box, over = radio.bounding_box(), page_of_help.bounding_box()
    page.mouse.click(box["x"] + 8, max(box["y"] + box["height"] / 2, over["y"] + over["height"] + 4))
    expect(page_of_help).to_be_hidden()
    expect(page.locator("#card input:checked")).to_have_count(0)
    expect(page.locator("#card")).not_to_have_attribute("inert", "")
    # By keys: from the last thing of the last menu on to what follows in the page, which is there again.
    last = page.locator(".seat-menu > summary").last
    last.focus()
    page.keyboard.press("Enter")
    expect(page.locator("#leave button")).to_be_visible()
    for _ in range(4):
        page.keyboard.press("Tab")
        if not page.evaluate("Boolean(document.activeElement.closest('.seat-menu'))"):
            break
    assert page.evaluate("Boolean(document.activeElement.closest('.seat-paper, .seat-read'))"), page.evaluate(
        "document.activeElement.outerHTML"
    )
    expect(page.locator("#leave button")).to_be_hidden()
    expect(page.locator("[inert]")).to_have_count(0)
    # And Escape gives the focus back to its word.
    word.focus()
    page.keyboard.press("Enter")
    expect(page_of_help).to_be_visible()
    page.keyboard.press("Escape")
    expect(page_of_help).to_be_hidden()
    expect(word).to_be_focused()


@pytest.mark.parametrize(
    ("task_id", "asked"),
    [
        ("names-at-one-crossing", ["What ∠1 and ∠4 are called"]),
        ("pairs-in-the-gable", ["Transversal of ", "What ∠"]),
        ("make-them-equal", ["At the moment when"]),
        ("relatives-of-a-sentence", [""]),  # an item with numbers and words of its own: what it asks stands on the page
        ("mixed", [""]),
    ],
)
def test_a_group_of_choices_carries_its_question(lesson: Lesson, task_id: str, asked: list[str]) -> None:
    """In the accessibility tree, as a reader of it hears when a choice gets the focus (WCAG 2.2 SC 1.3.1)."""
    page = open_task(lesson, task_id)
    groups = page.locator("#card").get_by_role("group").filter(has=page.get_by_role("radio"))
    expect(groups).to_have_count(len(asked))
    named = page.locator("#card").aria_snapshot()
    for words in asked:
        words = words or page.locator("form > .exercise-ask").inner_text()
        assert any("group" in line and words in line for line in named.splitlines()), (words, named)


def test_every_task_and_every_error_has_a_title_of_its_own(lesson: Lesson) -> None:
    page = open_task(lesson, "names-at-one-crossing")
    titles = set()
    tasks = [task["title"] for task in tasks_of(ROOT / "lesson_packs", PACK)]
    for title in tasks[:6]:
        page.locator(f'.path-task[title="{title}"]').click()
        expect(page.locator("#title")).to_have_text(title)
        assert title in page.title()
        titles.add(page.title())
    assert len(titles) == 6
    page.goto("/no-such-page")
    assert "404" in page.title()
