"""Sentences that are written and statements that are broken, in a real browser: by mouse, by taps and by keys."""

from __future__ import annotations

import itertools
import re
from typing import Any

import pytest

from tests.browser.conftest import LAPTOP, PHONE, ZOOMED, Lesson, saved
from tests.browser.seat.hands import WAYS, Hands, Keys, Mouse, Taps, open_task
from tests.practice.test_breaking import measure, true, turned
from tests.practice.test_families import parts

pytestmark = pytest.mark.browser
PACK = "solve-and-practice"
WRITE, BREAK = "turn-a-sentence", "break-a-sentence"


def at(way: str, lesson: Lesson, task: str) -> Hands:
    """The hands at a task of this pack."""
    kind = {"mouse": Mouse, "taps": Taps, "keys": Keys}[way]
    return kind(
        open_task(
            lesson, task, PHONE if way == "taps" else LAPTOP, PACK, **({"has_touch": True} if way == "taps" else {})
        )
    )


def item_of(page: Any, task: str) -> dict[str, Any]:
    """The item as the page got it."""
    page.locator("form.exercise").wait_for()
    found: dict[str, Any] = page.request.get(f"/alone/{PACK}/task/{task}").json()["task"]["item"]
    return found


def wanted(item: dict[str, Any]) -> tuple[str, list[int], bool]:
    """(the form asked for, the places of the two tiles in it, whether both are denied), from the printed words."""
    form = re.search(r"Write the (\w+) of it", item["ask"])[1]  # type: ignore[index]
    said = [tile["said"] for tile in item["fields"][0]["tiles"]["clauses"]]
    first = said.index(next(s for s in said if item["prompt"].split(": ", 1)[1].startswith(f"If {s}, then")))
    order = [first, 1 - first]
    return form, order[::-1] if form in ("converse", "contrapositive") else order, form in ("inverse", "contrapositive")


def build(hand: Hands, order: list[int], denied: bool) -> None:
    for place, tile in enumerate(order):
        hand.press(f".tiles .tile.statement:nth-child({tile + 1})")
        if denied:
            hand.press(f'.place-not[data-not="{place}"]')


@pytest.mark.parametrize("way", WAYS)
def test_a_sentence_is_built_from_its_parts(lesson: Lesson, way: str) -> None:
    hand = at(way, lesson, WRITE)
    form, order, denied = wanted(item_of(hand.page, WRITE))
    if form == "biconditional":
        hand.press(".tile-joint:nth-child(2)")
    build(hand, order, denied)
    line = hand.page.locator(".sentence-line")
    assert ("if and only if" if form == "biconditional" else "If ") in line.input_value()
    hand.press("#hand button[type=submit]")

    assert hand.verdict().startswith("Yes")
    lesson.check(hand.page, "a sentence built")
    lesson.fits(hand.page, "a sentence built")


def test_the_wrong_form_is_named_and_the_sentence_can_be_mended(lesson: Lesson) -> None:
    hand = at("mouse", lesson, WRITE)
    form, order, denied = wanted(item_of(hand.page, WRITE))
    if form == "biconditional":
        build(hand, order, False)
    else:
        build(hand, order, not denied)
    hand.press("#hand button[type=submit]")

    said = hand.verdict()
    assert "goes one way" in said if form == "biconditional" else ("That is the" in said and "You " in said)
    told = hand.page.locator('.sentence .blank-told[data-ok="false"]')
    told.wait_for()
    note = told.inner_text()
    assert note.startswith("✗") and ("part" in note or "joint" in note)
    lesson.check(hand.page, "another form")
    # Taken out and put in anew: both places are free again, and the tray says when they are not.
    hand.press(".tiles .tile.statement:nth-child(1)")
    assert "Both places are taken" in hand.page.locator("#verdict").inner_text()
    hand.press(".place-out")
    assert hand.page.locator(".place-empty").count() == 1


OWN = {"∠(\\d+) ≅ ∠(\\d+)": "angle \\1 is congruent to angle \\2", "(\\w) ∥ (\\w)": "lines \\2 and \\1 are parallel", "(\\w) ∦ (\\w)": "\\1 isn't parallel to \\2",
       "are not": "aren't"}  # fmt: skip


def test_a_sentence_is_typed_in_words_of_ones_own(lesson: Lesson) -> None:
    """Other words and signs than the tiles': the reader takes them; what it can't read it names, and nothing is handed in."""
    hand = at("keys", lesson, WRITE)
    page = hand.page
    item = item_of(page, WRITE)
    form, order, denied = wanted(item)
    tiles = item["fields"][0]["tiles"]["clauses"]
    words = [tiles[i]["denied" if denied else "said"] for i in order]
    for pattern, own in OWN.items():
        words = [re.sub(pattern, own, word) for word in words]
    line = page.locator(".sentence-line")
    hand.reach(".sentence-line")  # type: ignore[attr-defined]
    page.keyboard.type("If bananas, then nothing")
    page.keyboard.press("Enter")
    page.locator("#verdict[data-tone=mend]").wait_for()
    assert "can't be read from “bananas" in page.locator("#verdict").inner_text()
    line.fill("")
    page.keyboard.type(f"{words[0]} iff {words[1]}" if form == "biconditional" else f"if {words[0]} then {words[1]}")
    page.keyboard.press("Enter")
    page.locator("#verdict[data-tone=good]").wait_for()
    replies = page.request.get(f"/alone/{PACK}/task/{WRITE}").json()["replies"]
    assert replies == 1


def test_a_typed_sentence_of_the_tiles_lights_them_and_survives_a_reload(lesson: Lesson) -> None:
    hand = at("mouse", lesson, WRITE)
    page = hand.page
    tiles = item_of(page, WRITE)["fields"][0]["tiles"]["clauses"]
    page.locator(".sentence-line").fill(f"If {tiles[0]['denied']}, then {(tiles[1].get('later') or tiles[1])['said']}.")
    assert page.locator('.place-not[aria-pressed="true"]').count() == 1 and page.locator(".place-empty").count() == 0
    saved(page)
    page.reload()
    page.locator(".place-not").first.wait_for()
    assert tiles[0]["denied"] in page.locator(".sentence-line").input_value()


def sort_of(item: dict[str, Any]) -> str:
    return "choose" if len(item["fields"]) > 1 else "turn"


def caught(direction: int, other: int) -> bool:
    """Whether a drag to `direction` ends at that of the other line instead (`CATCH.most` of static/figure/hand.js), with a degree to spare."""
    return 0 < abs((direction - other + 90) % 180 - 90) <= 4


def breaking(item: dict[str, Any]) -> tuple[dict[str, int], tuple[str, ...], dict[str, Any]] | None:
    """The nearest counterexample that a hand can turn to, by our own evaluator: directions of the lines, the angles, the figure."""
    h, c = parts(item["prompt"].split(": ", 1)[1])
    figure = item["figure"]
    lines = item["fields"][0]["movable"]
    cut = int(figure["lines"][figure["transversal"]]["direction"])
    now = [int(figure["lines"][line]["direction"]) for line in lines]
    picks = list(itertools.combinations(figure["angles"], 2)) if sort_of(item) == "choose" else [()]
    # Each line turned by itself, once; a figure is put together of the two.
    alone = [
        {by: turned(figure, line, at_ + by) for by in range(-80, 81)} for line, at_ in zip(lines, now, strict=True)
    ]
    for one, two in sorted(itertools.product(range(-80, 81), repeat=2), key=lambda by: abs(by[0]) + abs(by[1])):
        if 0 < abs(one) < 5 or 0 < abs(two) < 5:
            continue  # too little for a drag
        if caught(now[0] + one, now[1]) or caught(now[0] + one, now[1] + two):
            continue  # a hand that comes so near to another line's direction is given that direction
        if not all(22 <= (cut - at_) % 180 - by <= 158 for at_, by in zip(now, (one, two), strict=True)):
            continue
        first, second = alone[0][one], alone[1][two]
        sides = {
            name: (first if lines[0] in angle["from"] + angle["to"] else second)["angles"][name]
            for name, angle in figure["angles"].items()
        }
        made = {**figure, "lines": {**first["lines"], lines[1]: second["lines"][lines[1]]}, "angles": sides}
        for pick in picks:
            if true(made, h, pick) and not true(made, c, pick):
                return (
                    {line: (at_ + by) % 180 for line, at_, by in zip(lines, now, (one, two), strict=True) if by},
                    pick,
                    made,
                )
    return None  # a line stands a degree or two from the only ones: for the number field, not for a drag


def found(way: str, lesson: Lesson, sort: str) -> tuple[Hands, dict[str, Any], Any]:
    """A seat whose item is of that sort, and the figure that breaks it: each has numbers of its own."""
    for _ in range(60):  # one in a few is of either sort
        hand = at(way, lesson, BREAK)
        item = item_of(hand.page, BREAK)
        if sort_of(item) == sort and (way_out := breaking(item)):
            return hand, item, way_out
        hand.page.close()
    raise AssertionError(f"no {sort}")


@pytest.mark.parametrize("sort", ["turn", "choose"])
@pytest.mark.parametrize("way", WAYS)
def test_a_statement_is_broken_by_a_figure(lesson: Lesson, way: str, sort: str) -> None:
    hand, item, (to, pick, made) = found(way, lesson, sort)
    page = hand.page
    meets = {
        line: name
        for name, meet in made["meets"].items()
        for line in meet["lines"]
        if line in item["fields"][0]["movable"]
    }
    hand.crossing = lambda line: hand.middle(f'[data-kind=meet][data-name="{meets[line]}"] .meet-dot')  # type: ignore[method-assign]
    sides = {ray[:-1] for angle in made["angles"].values() for ray in (angle["from"], angle["to"])}
    if way == "keys" and sort == "turn":
        # The measures typed: each turns the line at its side. A line with no measure is turned in the figure.
        for line in to.keys() - sides:
            hand.turn(line, to[line])
        for _ in made["angles"]:
            hand.reach('input[id^="measure-"]:not([data-done])')  # type: ignore[attr-defined]
            label = page.evaluate("document.activeElement.labels[0].textContent")
            name = re.search(r"\d+", label)[0]  # type: ignore[index]
            page.keyboard.press("Control+A")
            page.keyboard.type(str(int(measure(made, name))))
            page.keyboard.press("Enter")
            page.evaluate("document.activeElement.dataset.done = '1'")
    else:
        for line, direction in to.items():
            hand.turn(line, direction)
    for i, name in enumerate(pick):
        if way == "keys":
            hand.choose(f'.breaking select[aria-label="{("First", "Second")[i]} angle"]', name)
        else:
            hand.angle(name)
    hand.press("#hand button[type=submit]")

    assert hand.verdict().startswith("Yes, one such figure is enough"), (
        item["prompt"],
        page.locator("#verdict").inner_text(),
    )
    lesson.check(page, f"a statement broken, {sort}")
    lesson.fits(page, f"a statement broken, {sort}")


def test_a_figure_that_does_not_break_it_is_told_by_its_conditions(lesson: Lesson) -> None:
    hand, *_ = found("mouse", lesson, "turn")
    hand.press("#hand button[type=submit]")

    said = hand.verdict()
    assert "does not hold here" in said or "holds here too" in said
    field = hand.page.locator(".breaking .blank-number").first
    field.fill("200")
    field.press("Enter")
    assert "14° to 166°" in hand.page.locator(".breaking .blank-told").first.inner_text()
    before = int(field.input_value())
    hand.page.get_by_role("button", name=re.compile("one more")).first.click()
    assert int(field.input_value()) == before + 1


@pytest.mark.parametrize("size", [LAPTOP, PHONE, ZOOMED, (320, 256)])
def test_no_sideways_scrolling_and_no_violation(lesson: Lesson, size: tuple[int, int]) -> None:
    for task in (WRITE, BREAK):
        page = open_task(lesson, task, size, PACK)
        item_of(page, task)
        if task == WRITE:
            for _ in range(2):
                page.locator(".tile.statement").last.click()
        lesson.fits(page, f"{task} at {size}")
        lesson.check(page, f"{task} at {size}")


def test_the_statement_is_darker_than_the_instruction(lesson: Lesson) -> None:
    """What is read first is what is worked on: no text of the card is darker or larger than the statement but the title."""
    page = lesson.page(LAPTOP)
    page.goto("/alone/proving-lines-parallel#relatives-of-a-sentence")
    page.locator(".exercise-prompt").wait_for()
    looks = {
        name: page.locator(name).evaluate(
            "e => { const s = getComputedStyle(e); return [s.color.match(/[0-9.]+/g).slice(0, 3).reduce((a, b) => a + +b, 0), parseFloat(s.fontSize)] }"
        )
        for name in (".exercise-prompt", ".exercise-ask", "#ask")
    }
    assert looks[".exercise-prompt"][0] <= looks[".exercise-ask"][0] < looks["#ask"][0]
    assert looks[".exercise-prompt"][1] >= looks[".exercise-ask"][1] >= looks["#ask"][1]
    lesson.check(page, "the statement first")


def test_the_words_on_scale_cover_no_text_of_the_figure(lesson: Lesson) -> None:
    """Each seat has numbers and a figure of its own; labels are long, and a phone's paper is small."""
    for _ in range(6):
        page = open_task(lesson, "two-unknowns", PHONE, PACK)
        page.locator(".figure-scale").first.wait_for()
        over = page.evaluate("""() => { const a = document.querySelector('.figure-scale').getBoundingClientRect();
          return [...document.querySelectorAll('.figure-sheet .fig-texts text')].filter((one) => { const b = one.getBoundingClientRect();
            return b.left < a.right && a.left < b.right && b.top < a.bottom && a.top < b.bottom; }).map((one) => one.textContent); }""")
        assert over == [], over
        page.close()
