"""The Seat in a class: following, frozen, together, leaving; and the same page in Firefox."""

from __future__ import annotations

import json
import re
from typing import Any

import pytest
from playwright.sync_api import expect

from app.figure.model import figure_from_json
from app.figure.pairs import name_angles
from tests.browser.conftest import LAPTOP, PACK, PHONE, ZOOMED, Lesson
from tests.browser.seat.hands import Mouse

pytestmark = pytest.mark.browser

FIGURE = {
    "lines": {"m": {"direction": 20, "through": [0, 2]}, "n": {"direction": 20, "through": [0, -2]}, "t": {"direction": 70, "through": [0, 0]}},
    "meets": {"A": ["m", "t"], "B": ["n", "t"]}, "transversal": "t", "number": "standard",
}  # fmt: skip


def test_a_class_follows_the_teachers_figure_and_comes_back_to_its_own(lesson: Lesson) -> None:
    teacher = lesson.teacher()
    period = lesson.period(teacher)
    seat = lesson.seat(period.code, LAPTOP)
    seat.locator("#card > *").first.wait_for()
    lesson.call(
        teacher,
        "POST",
        f"{period.path}stage",
        {
            "stage": {"kind": "figure", "figure": FIGURE, "marks": {}, "measures": True, "caption": "Watch t."},
            "to": ["board", "seats"],
        },
    )
    lesson.call(teacher, "POST", f"{period.path}follow", {"on": True})
    seat.locator("#stage .figure-svg").wait_for()
    expect(seat.locator("#banner")).to_contain_text("teacher")
    assert not seat.locator("#paper").is_visible()
    box = seat.locator("#stage .figure-svg").bounding_box()
    assert box["height"] > 300, "the stage fills the page"
    lesson.check(seat, "following")
    lesson.fits(seat, "following")
    lesson.call(teacher, "POST", f"{period.path}follow", {"on": False})
    seat.locator("#paper").wait_for()
    lesson.call(teacher, "POST", f"{period.path}freeze", {"on": True})
    expect(seat.locator("#banner")).to_contain_text("Pencils down")
    expect(seat.locator(".hand-in .action")).to_be_disabled()
    lesson.check(seat, "frozen")
    lesson.call(teacher, "POST", f"{period.path}freeze", {"on": False})
    expect(seat.locator(".hand-in .action")).to_be_enabled()


def test_what_the_teacher_says_is_in_sight_wherever_a_phone_is_scrolled(lesson: Lesson) -> None:
    teacher = lesson.teacher()
    period = lesson.period(teacher)
    seat = lesson.seat(period.code, PHONE)
    seat.locator("#card > *").first.wait_for()
    seat.evaluate("document.documentElement.scrollTo(0, document.documentElement.scrollHeight)")
    lesson.call(teacher, "POST", f"{period.path}freeze", {"on": True})
    expect(seat.locator("#banner")).to_contain_text("Pencils down")
    seat.evaluate("document.documentElement.scrollTo(0, document.documentElement.scrollHeight)")
    expect(seat.locator("#banner")).to_be_in_viewport(ratio=1)
    box = seat.locator("#banner").bounding_box()
    top = seat.evaluate(
        "([x, y]) => document.elementFromPoint(x, y).closest('#banner') !== null",
        [box["x"] + box["width"] / 2, box["y"] + box["height"] / 2],
    )
    assert top, "nothing lies over it"


def test_the_browsers_back_goes_to_the_task_before(lesson: Lesson) -> None:
    """On a phone it is the nearest way back; it leaves the lesson only from the first task."""
    teacher = lesson.teacher()
    seat = lesson.seat(lesson.period(teacher).code, PHONE)
    title = seat.locator("#title")
    seat.locator("#card > *").first.wait_for()
    titles = [title.inner_text()]
    for _ in range(2):
        seat.locator("#next").click()
        expect(title).not_to_have_text(titles[-1])
        titles.append(title.inner_text())
    for before in reversed(titles[:-1]):
        seat.go_back()
        expect(title).to_have_text(before)
    assert "/seat/" in seat.url
    seat.go_forward()
    expect(title).to_have_text(titles[1])


def test_ears_notice_what_the_teacher_turns_and_the_moment_of_parallels(lesson: Lesson) -> None:
    """With the Board on every Seat, each step is heard at a Seat as what changed; the description has the measures. On the Board nothing speaks by itself."""
    teacher = lesson.teacher()
    period = lesson.period(teacher)
    seat, board = lesson.seat(period.code), lesson.board(teacher, period)
    lesson.call(teacher, "POST", f"{period.path}follow", {"on": True})

    def turn(direction: int) -> None:
        figure = {"lines": {"m": {"direction": 20, "through": [0, 2]}, "n": {"direction": direction, "through": [0, -2]}, "t": {"direction": 80, "through": [0, 0]}},
                  "transversal": "t", "number": "standard"}  # fmt: skip
        lesson.call(
            teacher,
            "POST",
            f"{period.path}stage",
            {"stage": {"kind": "figure", "figure": figure, "marks": {}, "measures": False}, "to": ["board", "seats"]},
        )

    turn(10)
    described = seat.locator("#stage .figure-words")
    # Upper right at B, between n at 10 degrees and t at 80.
    expect(described.locator("li", has_text="Angle 6 is")).to_contain_text(": 70 degrees.")
    told = seat.locator("#stage .figure [role=status]")
    expect(told).to_have_text("")
    turn(12)
    expect(told).to_have_text(
        "Line n: 12 degrees. Angle 5: 112 degrees, Angle 6: 68 degrees, Angle 7: 68 degrees and Angle 8: 112 degrees."
    )
    turn(20)
    expect(told).to_contain_text("Lines m and n now have the same direction: parallel as drawn, not proved.")
    turn(24)
    expect(told).to_contain_text("Lines m and n no longer have the same direction. Line n: 24 degrees.")
    expect(described.locator("li", has_text="Angle 6 is")).to_contain_text(": 56 degrees.")
    board.locator("#stage .figure-words li").first.wait_for(state="attached")
    assert board.locator("#stage .figure [role=status]").count() == 0
    live = "e => e.closest('[aria-live], [role=status], [role=alert], [role=log]')?.getAttribute('aria-live')"
    for page in (seat, board):
        assert page.locator("#stage .figure-words").evaluate(live) == "off", (
            "the whole drawing isn't read again at each step"
        )


def test_the_class_is_taken_to_one_task_together(lesson: Lesson) -> None:
    teacher = lesson.teacher()
    period = lesson.period(teacher)
    seat = lesson.seat(period.code, PHONE)
    seat.locator("#card > *").first.wait_for()
    lesson.call(teacher, "POST", f"{period.path}step", {"task": "pairs-turned"})
    expect(seat.locator("#title")).to_have_text("Two posts and a rail")
    expect(seat.locator("#next")).to_be_disabled()
    lesson.call(teacher, "POST", f"{period.path}step", {"task": None})
    expect(seat.locator("#next")).to_be_enabled()


def test_who_types_hears_which_task_the_class_is_taken_to(lesson: Lesson) -> None:
    """Where from and where to is said, and the keys go on nowhere: not into a field of the other task."""
    teacher = lesson.teacher()
    period = lesson.period(teacher)
    seat = lesson.seat(period.code)
    seat.goto(f"{seat.url.split('#')[0]}#neighbors")
    line = seat.get_by_label("Line 1 of your work")
    line.click()
    seat.keyboard.type("3x + 6")
    left = seat.locator("#title").inner_text()
    lesson.call(teacher, "POST", f"{period.path}step", {"task": "pairs-turned"})
    expect(seat.locator("#title")).to_have_text("Two posts and a rail")
    expect(seat.locator("#banner")).to_contain_text("“Two posts and a rail.”")
    expect(seat.locator("#banner")).to_contain_text(f"“{left}” is kept")
    expect(seat.locator("#title")).to_be_focused()
    seat.keyboard.type("0 = 60")
    lesson.call(teacher, "POST", f"{period.path}step", {"task": None})
    expect(seat.locator("#banner")).to_be_hidden()
    seat.goto(f"{seat.url.split('#')[0]}#neighbors")
    expect(seat.get_by_label("Line 1 of your work")).to_have_value("3x + 6")


@pytest.mark.parametrize("right", [True, False])
def test_a_closed_exit_ticket_says_so_and_asks_for_nothing(lesson: Lesson, right: bool) -> None:
    teacher = lesson.teacher()
    period = lesson.period(teacher)
    seat = lesson.seat(period.code)
    seat.goto(f"{seat.url.split('#')[0]}#exit-name")
    seat.locator("form.exercise .blank").first.wait_for()
    fetched = "async () => (await fetch(document.getElementById('main').dataset.base + '/task/exit-name')).text()"
    task = json.loads(seat.evaluate(fetched))["task"]
    figure, text = figure_from_json(task["item"]["figure"]), task["item"]["ask"]
    pair = name_angles(figure, *(figure.angles[name] for name in re.findall(r"∠(\w+)", text)[:2]))
    field = task["item"]["fields"][0]
    value = next(c["value"] for c in field["choices"] if (c["value"] == pair.pair) == right)
    seat.locator(f'.blank input[value="{value}"]').check()
    seat.get_by_role("button", name="Hand in", exact=True).click()
    seat.locator("#confirm").get_by_role("button", name="Hand it in", exact=True).click()
    told = seat.locator("#verdict")
    expect(told).to_contain_text("anded in")
    assert "Not yet" not in told.inner_text() and "?" not in told.inner_text()
    assert ("right as it stands" in told.inner_text()) != right
    expect(seat.get_by_role("button", name="Hand in", exact=True)).to_be_hidden()
    assert "not yet" not in seat.locator("#card").inner_text().lower()
    assert seat.locator("#card button:visible").count() == 0
    expect(seat.locator(".seat-onward")).to_be_visible()
    lesson.check(seat, "a closed exit ticket")
    seat.reload()
    expect(told).to_contain_text("Handed in")
    expect(seat.get_by_role("button", name="Hand in", exact=True)).to_be_hidden()


def test_leaving_wipes_what_the_browser_kept(lesson: Lesson) -> None:
    teacher = lesson.teacher()
    period = lesson.period(teacher)
    seat = lesson.seat(period.code, LAPTOP)
    seat.locator("#card > *").first.wait_for()
    seat.on("dialog", lambda dialog: dialog.accept())
    seat.locator("#who").click()
    lesson.check(seat, "the way out")
    expect(seat.locator("#return-link")).to_have_value(re.compile("/seat/return/"))
    seat.locator("#leave button").click()
    seat.wait_for_url(f"{lesson.base}/")
    assert seat.evaluate("localStorage.length + sessionStorage.length") == 0


def test_help_stands_in_the_same_place_and_escape_folds_it(lesson: Lesson) -> None:
    page = lesson.page(ZOOMED)
    page.goto(f"/alone/{PACK}/#make-them-equal")
    page.locator(".handle").first.wait_for()
    page.locator(".seat-menu summary").first.click()
    expect(page.locator("#help")).to_contain_text("grip")
    page.keyboard.press("Escape")
    expect(page.locator("#help")).to_be_hidden()
    assert page.evaluate("document.activeElement.tagName") == "SUMMARY"


def test_marks_differ_without_colour(lesson: Lesson) -> None:
    """A-05: what fails is dashed, what is only drawn is thin: told apart in greyscale and in forced colours."""
    page = lesson.page(LAPTOP, forced_colors="active")
    page.goto(f"/alone/{PACK}/#enough-alternate")
    page.locator(".figure-svg").wait_for()
    for blank, value in {
        "a": "4",
        "b": "5",
        "pair": "corresponding",
        "transversal": "t",
        "relation": "congruent",
        "l": "m",
        "m": "n",
        "theorem": "corresponding-angles-converse",
    }.items():
        page.locator(f"[data-blank={blank}]").select_option(value)
    page.locator(".hand-in .action").click()
    page.locator("#verdict[data-tone=mend]").wait_for()
    arcs = page.locator('.angle[data-name="4"] .arcs')
    assert arcs.evaluate("e => getComputedStyle(e).strokeDasharray") != "none"
    stroke, paper = page.evaluate(
        "[getComputedStyle(document.querySelector('.line-ink')).stroke, getComputedStyle(document.documentElement).backgroundColor]"
    )
    assert stroke != paper


def test_no_text_is_cut_off_with_wide_spacing(lesson: Lesson) -> None:
    """A-09 (WCAG 2.2 SC 1.4.12)."""
    page = lesson.page(LAPTOP)
    page.goto(f"/alone/{PACK}/#pairs-in-the-gable")
    page.locator(".pair-names").wait_for()
    page.evaluate("""() => { const sheet = new CSSStyleSheet();
      sheet.replaceSync('* { line-height: 1.5 !important; letter-spacing: 0.12em !important; word-spacing: 0.16em !important; } p { margin-bottom: 2em !important; }');
      document.adoptedStyleSheets = [sheet]; }""")
    lesson.fits(page, "wide spacing")
    cut = page.evaluate("""() => [...document.querySelectorAll('.seat-card label, .seat-card button, .seat-card p, .seat-card h1')]
      .filter((e) => e.scrollWidth > e.clientWidth + 2 && getComputedStyle(e).overflow !== 'visible').map((e) => e.textContent)""")
    assert cut == []


def test_firefox_works_a_task_of_each_kind(lesson: Lesson, firefox: Any) -> None:
    context = lesson.context(LAPTOP, firefox)
    page = context.new_page()
    page.goto(f"/alone/{PACK}/#make-them-equal")
    page.locator(".handle").first.wait_for()
    hand = Mouse(page)
    hand.turn("n", 16)
    expect(page.locator(".reach-mark")).to_have_attribute("data-holds", "true")
    hand.angle("2")
    hand.angle("6")
    expect(page.locator(".pair-line")).to_contain_text("corresponding angles, on transversal t")
    hand.radio("parallel, as drawn")
    page.locator(".hand-in .action").click()
    page.locator("#verdict[data-tone=good]").wait_for()
    page.goto(f"/alone/{PACK}/#enough-alternate")
    page.locator("[data-blank=a]").wait_for()
    hand.angle("4")
    hand.angle("5")
    for blank, value in {
        "pair": "alternate interior",
        "transversal": "t",
        "relation": "congruent",
        "l": "m",
        "m": "n",
        "theorem": "alternate-interior-angles-converse",
    }.items():
        page.locator(f"[data-blank={blank}]").select_option(value)
    page.locator(".hand-in .action").click()
    page.locator("#verdict[data-tone=good]").wait_for()
    lesson.fits(page, "Firefox")


@pytest.mark.parametrize(("task", "noted"), [("opposite-angle", 0), ("solve-one-side", 1)])
def test_only_a_drawing_that_isn_t_to_scale_says_so(lesson: Lesson, task: str, noted: int) -> None:
    page = lesson.page(LAPTOP)
    page.goto(f"/alone/proving-lines-parallel/#{task}")
    page.locator("#card > *").first.wait_for()
    page.locator("#paper .figure-svg").wait_for()
    assert page.locator(".figure-scale").count() == noted
