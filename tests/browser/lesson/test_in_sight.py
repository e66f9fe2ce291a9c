"""Nothing that a task needs is hidden without a cue, at 1366×633, 1280×585 and 390×844 (F3-01).

In every run one task of each sort of each pack and each family of exercises, in four states; with `--full` all of them. The
measure is `tests/in_sight.py`, which says what counts as a cue; `python -m tests.in_sight` prints the whole table.
"""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import Lesson, start
from tests.in_sight import LOOK, PHONE, SIZES, STATES, Looker, Row, folder_of_all, tasks_of
from tests.scale import FULL

pytestmark = pytest.mark.browser
PACKS = ["other-constructions", "proving-lines-parallel", "solve-and-practice", "twelve-proofs", "every-family"]


@pytest.fixture(scope="module")
def shelf_server(tmp_path_factory: pytest.TempPathFactory, chromium: Any) -> Iterator[tuple[Lesson, Path]]:
    folder, packs = folder_of_all(tmp_path_factory.mktemp("packs"))
    assert sorted(packs) == sorted(PACKS)
    made = start(tmp_path_factory.mktemp("data"), chromium, packs=folder)
    yield made, folder
    made.stop()


@pytest.fixture
def shelf(shelf_server: tuple[Lesson, Path], request: pytest.FixtureRequest) -> tuple[Lesson, Path]:
    made, folder = shelf_server
    made.test = request.node.nodeid
    made.contexts.clear()  # each test closes its own
    return made, folder


def chosen(folder: Path, pack: str) -> list[dict[str, Any]]:
    """One task of each sort: kind, and what changes its page."""
    all_ = tasks_of(folder, pack)
    if FULL:
        return all_
    sorts = {
        (task["kind"], task.get("support"), task.get("find"), task.get("transversal"), bool(task.get("question")),
         (task.get("family") or "") if pack == "every-family" else ""): task
        for task in all_
    }  # fmt: skip
    return list(sorts.values())


@pytest.mark.parametrize("pack", PACKS)
def test_nothing_needed_is_hidden_without_a_cue(shelf: tuple[Lesson, Path], pack: str) -> None:
    lesson, folder = shelf
    looker = Looker(lesson, pack, folder)
    rows: list[Row] = [row for task in chosen(folder, pack) for row in looker.rows(task)]
    looker.page.context.close()
    assert {row.size for row in rows} == set(SIZES) and {row.state for row in rows} == set(STATES)
    assert all(row.found for row in rows)
    lost = [f"{row.task}, {row.state}, {row.size}: {', '.join(row.lost)}" for row in rows if row.lost]
    assert not lost, "\n".join(lost)


def test_the_measure_sees_what_is_covered_and_what_is_cut_off(shelf: tuple[Lesson, Path]) -> None:
    lesson, folder = shelf
    looker = Looker(lesson, "proving-lines-parallel", folder)
    task = next(task for task in tasks_of(folder, "proving-lines-parallel") if task["id"] == "names-at-one-crossing")
    looker._open(task)
    page = looker.page
    assert "lost" not in {where for _, where in page.evaluate(LOOK, False)}
    page.evaluate("document.body.insertAdjacentHTML('beforeend', '<div id=cover></div>')")
    page.evaluate(
        "Object.assign(document.getElementById('cover').style, {position: 'fixed', inset: '50% 0 0 0', zIndex: 99})"
    )
    assert ["main button", "lost"] in page.evaluate(LOOK, False)
    page.evaluate("document.getElementById('cover').remove(); document.getElementById('more').hidden = true")
    page.evaluate(
        "document.querySelector('.seat-read').style.maxHeight = '5rem'; document.getElementById('more').style.display = 'none'"
    )
    assert "lost" in {where for _, where in page.evaluate(LOOK, False)}
    page.context.close()


@pytest.mark.parametrize("language", ["en", "es"])
@pytest.mark.parametrize("touch", [True, False], ids=["touch", "mouse"])
def test_on_a_phone_every_name_of_a_pair_stands_above_the_foot(
    shelf: tuple[Lesson, Path], touch: bool, language: str
) -> None:
    """Names below the fold are names that nobody chooses: all of them are on the first page, before anything is pressed."""
    lesson, folder = shelf
    looker = Looker(lesson, "proving-lines-parallel", folder, size=PHONE, language=language, has_touch=touch)
    seen = {}
    room: list[float] = []
    for task in tasks_of(folder, "proving-lines-parallel", language):
        if task["kind"] == "classify" and not task["find"] and not task["transversal"]:
            looker._open(task)
            expect(looker.page.locator("#card .pair-names label").first).to_be_visible()
            # The foot lies over what is below it: its top is the end of what can be seen.
            seen[task["id"]] = looker.page.evaluate(
                """() => { const top = document.querySelector('.seat-foot').getBoundingClientRect().top;
                  return [...document.querySelectorAll('#card .pair-names label')].filter(e => e.getBoundingClientRect().bottom > top + 1).map(e => e.textContent); }"""
            )
            # A pair stands inside its box, not on its edge.
            room += looker.page.locator("#card .pair").evaluate_all(
                """all => all.map(e => { const words = document.createRange(), b = e.getBoundingClientRect(); words.selectNodeContents(e);
                  const w = words.getBoundingClientRect(); return Math.min(w.left - b.left, b.right - w.right); })"""
            )
    looker.page.context.close()
    assert len(seen) >= 3 and not any(seen.values()), seen
    assert room and min(room) >= 3.5, room


@pytest.mark.parametrize("language", ["en", "es"])
def test_on_a_phone_an_arrow_says_that_more_lies_under_the_foot_and_brings_it(
    shelf: tuple[Lesson, Path], language: str
) -> None:
    """A foot that ends where a row ends looks like the end of the task: the choices of an exercise would be looked for in vain."""
    lesson, folder = shelf
    looker = Looker(lesson, "every-family", folder, size=PHONE, language=language, has_touch=True, is_mobile=True)
    page, cue = looker.page, looker.page.locator("#more")
    looker._open(
        next(task for task in tasks_of(folder, "every-family", language) if task["id"] == "find-the-mistake-1")
    )
    page.set_viewport_size({"width": PHONE[0], "height": PHONE[1]})
    choices = page.locator("#card .choices label")
    box, foot = "e => e.getBoundingClientRect()", page.locator(".seat-foot")
    assert choices.last.evaluate(f"e => ({box})(e).bottom") > foot.evaluate(f"e => ({box})(e).top")
    expect(cue).to_be_in_viewport(ratio=1)
    assert foot.locator("#more").count() == 1, "in the foot, over no field"
    size = cue.bounding_box()
    assert size["width"] >= 43.5 and size["height"] >= 43.5, size
    left = "() => document.querySelector('.seat-read').getBoundingClientRect().bottom - document.querySelector('.seat-foot').getBoundingClientRect().top"
    for _ in range(6):
        if (before := page.evaluate(left)) < 12:
            break
        cue.tap()
        page.wait_for_function(f"before => ({left})() < before - 5", arg=before)
    expect(cue).to_be_hidden()
    assert choices.last.evaluate(f"e => ({box})(e).bottom") <= foot.evaluate(f"e => ({box})(e).top") + 1
    page.evaluate("scrollTo(0, 0)")
    expect(cue).to_be_visible()
    page.context.close()


def test_the_cue_lies_over_no_field(shelf: tuple[Lesson, Path]) -> None:
    """In Spanish, on a small laptop, after a wrong answer: the sentence with gaps is longer than its place."""
    lesson, folder = shelf
    looker = Looker(lesson, "other-constructions", folder, language="es")
    task = next(task for task in tasks_of(folder, "other-constructions", "es") if task["id"] == "why-alternate")
    rows = [row for row in looker.rows(task) if row.state == "wrong"]
    assert any("field" in row.by_cue for row in rows) and not any(row.lost for row in rows), rows
    looker.page.set_viewport_size({"width": SIZES["small laptop"][0], "height": SIZES["small laptop"][1]})
    looker._open(task)
    looker._hand_in("wrong")
    cue = looker.page.locator("#more")
    expect(cue).to_be_visible()
    over = "(cue, e) => { const [a, b] = [cue.getBoundingClientRect(), e.getBoundingClientRect()]; return a.top < b.bottom - 1; }"
    assert not looker.page.evaluate(
        f"() => ({over})(document.getElementById('more'), document.querySelector('.seat-read'))"
    )
    left = "() => { const read = document.querySelector('.seat-read'); return read.scrollHeight - read.scrollTop - read.clientHeight; }"
    while (before := looker.page.evaluate(left)) >= 12:
        cue.click()
        looker.page.wait_for_function(f"before => ({left})() < before", arg=before)
    expect(cue).to_be_hidden()
    looker.page.context.close()
