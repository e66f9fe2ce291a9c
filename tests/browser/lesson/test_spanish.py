"""The program in Spanish, as a browser that asks for Spanish gets it: no common English word is seen, read out or printed."""

from __future__ import annotations

import re
from typing import Any

import pytest

from app.classroom.kinds import KINDS
from app.lessons.load import load_pack
from tests.browser.conftest import PACK, ROOT, Lesson
from tests.browser.see import expect
from tests.words.test_languages import ENGLISH

pytestmark = pytest.mark.browser

SPANISH = {"locale": "es-MX"}
# Whatever a page says, seen or for ears alone, in its own language; an element marked as of another language may say what it will.
SAID = """() => {
  const own = (element) => element.closest('[lang]')?.lang === 'es';
  const told = [document.title];
  for (const element of document.querySelectorAll('body *')) {
    if (!own(element) || ['SCRIPT', 'STYLE'].includes(element.tagName)) continue;
    for (const name of ['aria-label', 'aria-description', 'aria-roledescription', 'aria-valuetext', 'title', 'alt', 'placeholder']) {
      if (element.getAttribute(name)) told.push(element.getAttribute(name));
    }
    for (const node of element.childNodes) if (node.nodeType === Node.TEXT_NODE && node.data.trim()) told.push(node.data.trim());
  }
  return told;
}"""


# The program's own name, and the ids by which a key names its items ("make-parallel 2 · 1234").
NAMES = re.compile(r"Eight Angles|\b[a-z]+(?:-[a-z]+)+\b")


def spanish_only(page: Any, where: str) -> None:
    """The page says it is Spanish, says something, and no common English word."""
    expect(page.locator("html")).to_have_attribute("lang", "es")
    told = page.evaluate(SAID)
    assert len(told) > 3, where
    found = {
        text[:120]: words
        for text in told
        if (words := [w for w in re.findall(r"[^\W\d_]+", NAMES.sub("", text).casefold()) if w in ENGLISH])
    }
    assert found == {}, where


def first_of_each_kind() -> list[dict[str, Any]]:
    tasks: dict[str, dict[str, Any]] = {}
    for part in load_pack(ROOT / "lesson_packs" / PACK, house="es", language="es").parts:
        for task in (one.data for one in part.tasks):
            # A worked proof is read and says nothing back.
            if part.purpose != "exit" and task.get("support") != "worked":
                tasks.setdefault(task["kind"], task)
    return list(tasks.values())


def open_task(page: Any, task: dict[str, Any], at: str) -> None:
    page.goto(f"{at}#{task['id']}")
    expect(page.locator("#title")).to_have_text(task["title"])
    expect(page.locator("#card > *").first).to_be_visible()


def test_the_pack_has_a_task_of_each_kind() -> None:
    assert {task["kind"] for task in first_of_each_kind()} == set(KINDS)


def test_the_way_in_and_the_contents_are_spanish_and_can_be_switched(lesson: Lesson) -> None:
    page = lesson.page(**SPANISH)
    page.goto("/")
    spanish_only(page, "front door")
    page.goto("/alone")
    spanish_only(page, "alone")
    page.goto("/nowhere")
    spanish_only(page, "an error")
    page.goto("/alone")
    page.get_by_role("button", name="English").click()
    expect(page.locator("html")).to_have_attribute("lang", "en")
    expect(page.get_by_role("heading", level=1)).to_have_text("Work alone")
    page.get_by_role("button", name="Español").click()
    expect(page.locator("html")).to_have_attribute("lang", "es")


@pytest.mark.parametrize("kind", list(KINDS))
def test_a_task_of_each_kind_is_spanish_before_and_after_a_reply(lesson: Lesson, kind: str) -> None:
    task = next(one for one in first_of_each_kind() if one["kind"] == kind)
    page = lesson.page(**SPANISH)
    open_task(page, task, f"/alone/{PACK}")
    spanish_only(page, f"{kind}, opened")
    # The first button hands in, or says what is still missing: either way something is said.
    page.locator("#hand button, #card .action").first.click()
    expect(page.locator("#verdict")).not_to_be_empty()
    spanish_only(page, f"{kind}, handed in as it is")


def test_words_come_in_one_catalogue_each_and_none_in_english(lesson: Lesson) -> None:
    page = lesson.page(**SPANISH)
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    open_task(page, first_of_each_kind()[0], f"/alone/{PACK}")
    words = [url.split("/words/")[1] for url in asked if "/words/e" in url]

    assert words[0] == "es/seat+live+figure+angles.js"
    assert [one for one in words if one.startswith("en/")] == []
    areas = [area for one in words for area in one.removeprefix("es/").removesuffix(".js").split("+")]
    assert len(areas) == len(set(areas))


def test_a_class_in_spanish(lesson: Lesson) -> None:
    """The Desk, a period opened there, a Seat in an English browser, and the Board."""
    teacher = lesson.teacher(**SPANISH)
    spanish_only(teacher, "Desk")
    teacher.goto(f"/desk/pack/{PACK}/")
    spanish_only(teacher, "pack page")
    teacher.goto("/desk/sheets/")
    spanish_only(teacher, "form for sheets")
    period = lesson.period(teacher, title="Tercera hora")
    # A request of the driver's names no language, so the period's words are chosen as by the form.
    lesson.call(teacher, "POST", f"/desk/period/{period.id}/words", {"house": "es"})
    student = lesson.seat(period.code)  # the class's language, not the browser's
    expect(student.locator("#title")).not_to_be_empty()
    expect(student.locator("#card > *").first).to_be_visible()
    spanish_only(student, "Seat")
    expect(teacher.locator("#plan")).to_contain_text("Dos riostras")
    spanish_only(teacher, "period")
    for sheet in teacher.get_by_role("tab").all():
        sheet.click()
        spanish_only(teacher, "a sheet of the period")
    board = lesson.board(teacher, period)
    spanish_only(board, "Board")
    teacher.goto("/desk/records")
    spanish_only(teacher, "records")


def test_a_printed_sheet_and_its_key_are_spanish(lesson: Lesson) -> None:
    teacher = lesson.teacher(**SPANISH)
    for key in ("", "&key=1"):
        teacher.goto(f"/desk/sheets/page?pack={PACK}&house=es&part=warm-up&part=chain&part=practice{key}")
        expect(teacher.locator(".page").first).to_be_visible()
        spanish_only(teacher, f"sheet{key}")
