"""`python -m tests.pictures` makes the pictures of README.md from the running program: `static/pictures/*.png`; with names, only those.

Each is a page as somebody at work sees it, 1000 CSS pixels wide, in few colors so that all of them stay under 400 KB together.
"""

from __future__ import annotations

import io
import sys
import tempfile
from collections.abc import Callable
from contextlib import contextmanager
from pathlib import Path
from typing import Any

from PIL import Image
from playwright.sync_api import sync_playwright

from tests.browser.conftest import PACK, ROOT, Lesson, browser_path, start
from tests.browser.construct.paper import Paper, part

FOLDER = ROOT / "static" / "pictures"
SIZE = (1000, 600)
MOST = 400_000  # bytes, all together


def seat(lesson: Lesson) -> Any:
    """A line held in the middle of a turn, with the two angles in question marked."""
    page = lesson.page(SIZE)
    page.goto(f"/alone/{PACK}/#make-them-equal")
    grip = page.locator('[data-line="n"][data-part="b"]')
    grip.wait_for()
    box = grip.bounding_box()
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    page.mouse.move(x, y + 20, steps=4)
    return page


def proof(lesson: Lesson) -> Any:
    """A row that isn't forced, and beside it the figure in which it fails."""
    page = lesson.page((1000, 660))
    page.goto("/alone/twelve-proofs#leaning")
    page.locator(".prove-book").wait_for()
    page.get_by_label("Row 2, statement", exact=True).and_(page.locator("input")).fill("m ∥ n")
    reason = page.get_by_label("Row 2, reason", exact=True).and_(page.locator("input"))
    reason.click()
    reason.fill("Consecutive Interior Angles Converse")
    page.locator("[role=option]:visible").first.click()
    page.get_by_role("button", name="Check my rows").click()
    page.get_by_role("button", name="Show the other figure").click()
    page.locator(".prove-other .figure-svg").wait_for()
    return page


def compass(lesson: Lesson) -> Any:
    """The second arc of a copied angle, while it is swung."""
    paper = Paper(lesson, "copy-an-angle")
    page, v, p = paper.page, paper.at("V"), paper.at("P")
    page.mouse.move(*v)
    page.mouse.down()
    page.mouse.move(*part(v, p, 0.4))
    page.mouse.move(*part(v, p, 0.6), steps=4)
    return page


def board(lesson: Lesson) -> Any:
    teacher, period = room(lesson)
    teacher.locator(".plan-task", has_text="The drain and the stall lines").click()
    teacher.locator(".plan-verbs:visible button").first.click()
    teacher.locator(".plan-where", has_text="on the Board").wait_for()
    page = lesson.page((1280, 720))
    page.goto(period.board)
    page.locator("#stage svg").first.wait_for()
    return page


def desk(lesson: Lesson) -> Any:
    teacher, _ = room(lesson)
    teacher.locator(".place").nth(6).wait_for()
    return teacher


def sheet(lesson: Lesson) -> Any:
    page = lesson.teacher((1000, 760))
    page.goto("/desk/sheets/page?n-make-parallel=2&n-find-the-angle=2&seed=11")
    page.locator(".page").first.wait_for()
    return page


def room(lesson: Lesson) -> tuple[Any, Any]:
    teacher = lesson.teacher((1200, 680))
    period = lesson.period(teacher)
    for n in range(7):
        student = lesson.seat(period.code)
        student.goto(f"/seat/#{('make-them-equal', 'name-the-pairs', 'warm-up')[n % 3]}")
        student.locator("#card > *").first.wait_for()
    teacher.goto(period.path)
    teacher.locator(".plan-task").first.wait_for()
    return teacher, period


PICTURES: dict[str, Callable[[Lesson], Any]] = {
    "seat": seat, "proof": proof, "compass": compass, "board": board, "desk": desk, "sheet": sheet,
}  # fmt: skip


@contextmanager
def running() -> Any:
    with sync_playwright() as driver, tempfile.TemporaryDirectory() as data:
        browser = driver.chromium.launch(executable_path=browser_path(), args=["--no-sandbox"])
        lesson = start(Path(data), browser)
        try:
            yield lesson
        finally:
            for context in lesson.contexts:
                context.close()
            lesson.stop()
            browser.close()


def main(*wanted: str) -> None:
    FOLDER.mkdir(exist_ok=True)
    with running() as lesson:
        for name in wanted or PICTURES:
            look = PICTURES[name]
            lesson.test = f"picture {name}"
            page = look(lesson)
            page.wait_for_timeout(1500)  # whatever moves has come to rest
            shot = Image.open(io.BytesIO(page.screenshot())).convert("RGB")
            small = shot.resize((1000, round(shot.height * 1000 / shot.width)), Image.Resampling.LANCZOS)
            small.quantize(56, method=Image.Quantize.MAXCOVERAGE, dither=Image.Dither.NONE).save(
                FOLDER / f"{name}.png", optimize=True
            )
            print(f"{name}: {(FOLDER / f'{name}.png').stat().st_size} bytes", flush=True)


if __name__ == "__main__":
    main(*sys.argv[1:])
