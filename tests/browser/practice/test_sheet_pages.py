"""The Desk's sheets in a real browser: choosing, showing, keys, saving a figure; for the teacher only."""

from __future__ import annotations

import io

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import LAPTOP, PHONE, Lesson

pytestmark = pytest.mark.browser
PACK = "proving-lines-parallel"


def test_a_sheet_from_families_and_its_key(lesson: Lesson) -> None:
    page = lesson.teacher()
    page.goto("/desk/sheets/")
    lesson.check(page, "the form")
    page.locator('[name="n-is-it-enough"]').fill("2")
    page.locator("#title").fill("Tuesday <b>")
    page.get_by_role("button", name="Show the sheet").click()
    page.locator(".question").first.wait_for()

    assert page.locator(".question").count() == 6
    assert page.locator("h1").inner_text() == "Tuesday <b>"
    assert page.locator(".answer").count() == 0
    lesson.check(page, "a sheet")
    page.get_by_role("link", name="Key", exact=True).click()
    expect(page.locator(".answer")).to_have_count(6)
    lesson.check(page, "a key")
    page.get_by_role("link", name="Sheet", exact=True).click()
    page.get_by_role("link", name="Version B").click()
    expect(page.locator(".version").first).to_contain_text("Version B")


def test_a_sheet_from_a_pack_and_its_strips(lesson: Lesson) -> None:
    page = lesson.teacher()
    page.goto(f"/desk/sheets/{PACK}")
    boxes = page.locator("[name=part]")
    for n in range(1, boxes.count()):
        boxes.nth(n).uncheck()
    page.get_by_role("button", name="Show the sheet").click()
    page.locator(".question").first.wait_for()
    page.goto(f"/desk/sheets/{PACK}")
    page.locator('a[href*="/sheets/strip/"]').first.click()
    page.locator(".panel").nth(2).wait_for()
    lesson.check(page, "a strip")


def test_what_cannot_be_printed_is_said_to_the_teacher(lesson: Lesson) -> None:
    """By name, on the form and over the sheet; never on the paper."""
    page = lesson.teacher()
    said = "“Explore: when do they become parallel?” is done on the screen; nothing of it can be printed, so it is left out."
    page.goto(f"/desk/sheets/{PACK}")
    assert page.get_by_text(said).is_visible() and page.locator('[name=part][value="explore"]').count() == 0
    assert page.locator("[name=part]:checked").count() == page.locator("[name=part]").count() > 5
    lesson.check(page, "the form of a pack")

    page.goto(f"/desk/sheets/page?pack={PACK}&part=explore&part=warm-up")
    assert page.locator(".question").count() > 0
    assert page.get_by_text(said).is_visible()
    page.emulate_media(media="print")
    assert page.get_by_text(said).is_hidden() and "Explore" not in page.locator("main").inner_text()
    page.emulate_media(media="screen")
    lesson.check(page, "a sheet without a part")

    answer = page.goto(f"/desk/sheets/page?pack={PACK}&part=explore")
    assert answer.status == 422
    assert said in page.get_by_role("alert").inner_text() and page.locator("[name=part]").count() > 5
    lesson.check(page, "the form after a choice that does not print")


@pytest.mark.parametrize("kind", ["svg", "png"])
def test_a_figure_is_saved_for_slides(lesson: Lesson, kind: str) -> None:
    page = lesson.teacher()
    page.goto("/desk/sheets/page?n-make-parallel=2")
    page.select_option("#figure", "2")
    with page.expect_download() as saved:
        page.get_by_role("button", name=f"Save as {kind.upper()}").click()
    path = saved.value.path()
    assert saved.value.suggested_filename == f"figure-2.{kind}"
    if kind == "svg":
        text = path.read_text(encoding="utf-8")
        assert text.startswith("<svg") and "script" not in text and "<title" in text
    else:
        from PIL import Image

        picture = Image.open(io.BytesIO(path.read_bytes()))
        assert picture.width == 1600 and len(picture.convert("L").getcolors(256) or []) > 2


def test_the_ready_set_for_a_mistake(lesson: Lesson) -> None:
    page = lesson.teacher()
    page.goto("/desk/sheets/set/equal-for-supplementary")

    assert page.locator(".question").count() == 5
    assert "180°" in page.locator(".bar-lead").inner_text()


def test_only_the_teacher_prints(lesson: Lesson) -> None:
    """V-13, T-10."""
    lesson.teacher()
    page = lesson.page()
    for path in (
        "/desk/sheets/",
        f"/desk/sheets/{PACK}",
        "/desk/sheets/page?n-make-parallel=1&key=1",
        "/desk/sheets/set/pair-side",
        f"/desk/sheets/strip/{PACK}/copy-the-angle",
    ):
        page.goto(path)
        assert page.url.endswith("/desk/signin") and page.locator(".answer").count() == 0


@pytest.mark.parametrize(
    "query",
    [
        "",
        "n-make-parallel=x",
        "n-make-parallel=61",
        "n-make-parallel=1&level-make-parallel=9",
        "n-make-parallel=1&paper=foolscap",
        "n-make-parallel=1&seed=%3Cscript%3E",
        "pack=none",
        "n-make-parallel=-1",
    ],
)
def test_choices_that_make_no_sense_get_a_sentence(lesson: Lesson, query: str) -> None:
    page = lesson.teacher()
    answer = page.goto(f"/desk/sheets/page?{query}")

    assert answer.status in (404, 422)
    assert page.locator("h1").inner_text().endswith(".")


@pytest.mark.parametrize("size", [LAPTOP, PHONE, (320, 256)])
def test_the_form_and_the_sheet_fit(lesson: Lesson, size: tuple[int, int]) -> None:
    page = lesson.teacher(size)
    for path in ("/desk/sheets/", f"/desk/sheets/{PACK}", "/desk/sheets/page?n-make-parallel=2&n-put-in-order=1"):
        page.goto(path)
        lesson.fits(page, f"{path} at {size}")
