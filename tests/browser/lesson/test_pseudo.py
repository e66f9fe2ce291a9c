"""The program in a language that the tests make up from the English (`tests/words/pseudo.py`): every word is two fifths
longer and in other letters. Nothing is cut off at 1366×633 and 390×844, and no word is said that no catalogue has.

In every run the pages, and one task of each kind; with `--full` one of each sort of each pack and each family, with every
button pressed.
"""

from __future__ import annotations

import csv
import io
import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from app.classroom.kinds import KINDS
from tests.browser.conftest import LAPTOP, PACK, PHONE, PROJECTOR, Lesson, start
from tests.browser.pseudo import look, words_in
from tests.browser.see import expect
from tests.browser.serving import PSEUDO
from tests.in_sight import Looker, tasks_of, works, write_families
from tests.scale import FULL
from tests.words.pseudo import CODE, marked, write_packs, write_static

pytestmark = pytest.mark.browser
PACKS = ["other-constructions", "proving-lines-parallel", "solve-and-practice", "twelve-proofs", "every-family"]
Task = dict[str, Any]


@pytest.fixture(scope="module")
def pseudo_server(tmp_path_factory: pytest.TempPathFactory, chromium: Any) -> Iterator[tuple[Lesson, Path]]:
    at = tmp_path_factory.mktemp("pseudo")
    packs = write_packs(at / "packs")
    families = packs / write_families(packs) / "pack.toml"
    families.write_text(
        re.sub(
            r'^(title|summary|ask) = "(.*)"$',
            lambda m: f'{m[1]} = "{marked(m[2])}"',
            families.read_text(encoding="utf-8"),
            flags=re.M,
        ),
        encoding="utf-8",
    )
    settings = {PSEUDO: str(write_static(at / "static")), "EIGHT_ANGLES_LANGUAGE": CODE}
    made = start(tmp_path_factory.mktemp("data"), chromium, packs=packs, settings=settings)
    yield made, packs
    made.stop()


@pytest.fixture
def pseudo(pseudo_server: tuple[Lesson, Path], request: pytest.FixtureRequest) -> Iterator[Lesson]:
    made = pseudo_server[0]
    made.faults.clear()
    made.test = request.node.nodeid
    yield made
    for context in made.contexts:
        context.close()
    made.contexts.clear()
    assert not made.faults, made.faults


@pytest.fixture
def packs(pseudo_server: tuple[Lesson, Path]) -> Path:
    return pseudo_server[1]


def seen(page: Any, where: str, sizes: tuple[tuple[int, int], ...] = (LAPTOP, PHONE)) -> list[str]:
    """The faults of the page at each size; it is left at the first."""
    found = []
    for width, height in (*sizes, sizes[0]):
        page.set_viewport_size({"width": width, "height": height})
        page.evaluate("() => new Promise(done => requestAnimationFrame(() => requestAnimationFrame(done)))")
        if (width, height) != sizes[0] or not found:
            found += look(page, f"{where} at {width}")
    return list(dict.fromkeys(found))


def well(found: list[str]) -> None:
    assert not found, "\n".join(found)


def test_the_doors_and_the_errors(pseudo: Lesson) -> None:
    page, found = pseudo.page(), []
    for path in ("/", "/alone", "/nowhere", f"/alone/{PACK}/"):
        page.goto(path)
        expect(page.locator("html")).to_have_attribute("lang", CODE)
        found += seen(page, path)
    page.goto("/")
    page.fill("#code", "AAA AAA")
    page.click("main button[type=submit]")
    expect(page.locator("[role=alert]").first).to_be_visible()
    well([*found, *seen(page, "a code that no class has")])


def test_a_class(pseudo: Lesson) -> None:
    """The Desk, a period and its sheets, the way in, a Seat, the Board, the records and what is exported of them."""
    teacher = pseudo.teacher()
    found = seen(teacher, "Desk")
    for path in (f"/desk/pack/{PACK}/", "/desk/sheets/", f"/desk/sheets/{PACK}"):
        teacher.goto(path)
        found += seen(teacher, path)
    period = pseudo.period(teacher, title="3 ∥")
    for control in ("#more", "#wall"):
        teacher.locator(control).click()
        found += seen(teacher, f"period, {control}")
        teacher.locator(control).click()
    student = pseudo.seat(period.code, number=7)
    expect(student.locator("#title")).not_to_be_empty()
    expect(student.locator("#card > *").first).to_be_visible()
    found += seen(student, "Seat")
    for menu in student.locator(".seat-menu > summary").all():
        menu.click()
        found += seen(student, "Seat, a menu")
        menu.click()
    board = pseudo.board(teacher, period)
    found += seen(board, "Board", (PROJECTOR,))
    expect(teacher.locator(".place")).to_have_count(1)
    row = teacher.locator(".plan-task").first
    row.click()
    verbs = teacher.locator(".plan-verbs:visible button")
    verbs.first.click()  # onto the Board
    expect(board.locator("#stage[data-kind=task]")).to_be_attached()
    found += seen(board, "Board with a task", (PROJECTOR,))
    for tab in teacher.get_by_role("tab").all():
        tab.click()
        found += seen(teacher, f"period, {tab.get_attribute('id')}")
    for path in ("/desk/records", f"/desk/records/{period.id}"):
        teacher.goto(path)
        found += seen(teacher, path)
    for link in {a.get_attribute("href") for a in teacher.locator("a[href*='.csv']").all()}:
        head = next(csv.reader(io.StringIO(teacher.request.get(link).text().lstrip("\ufeff"))))
        found += [f"{link}: plain {words} in a heading" for words in map(words_in, head) if words]
    well(found)


def test_sheets_and_their_keys(pseudo: Lesson) -> None:
    teacher, found = pseudo.teacher(), []
    for key in ("", "&key=1"):
        teacher.goto(f"/desk/sheets/page?pack={PACK}&house={CODE}&part=warm-up&part=chain&part=practice{key}")
        expect(teacher.locator(".page").first).to_be_visible()
        found += seen(teacher, f"sheet{key}")
    well(found)


class Reader(Looker):
    """Opens a task whatever its title is called."""

    def _open(self, task: Task) -> None:
        self.page.goto("about:blank")
        self.page.goto(f"/alone/{self.pack}/#{task['id']}")
        self.page.locator("#card > *").first.wait_for()
        expect(self.page.locator("#verdict")).not_to_have_attribute("data-tone", "wait")
        self.closed = False

    def states(self, task: Task, states: tuple[str, ...]) -> list[str]:
        """What is wrong in each of these states that the task has."""
        kept, found = works(task, self.ctx(task)), []
        for state in states:
            if state == "right" and self.closed:
                self._somebody_else()
                kept = works(task, self.ctx(task))
            if state != "start":
                if kept.get(state) is None:
                    continue
                self.n += 1_000
                self.lesson.call(
                    self.page, "PUT", f"/alone/{self.pack}/work/{task['id']}", {"n": self.n, "work": kept[state]}
                )
            self._open(task)
            if state != "start":
                self._hand_in(state)
            found += seen(self.page, f"{task['kind']} {task['id']}, {state}")
        return found


def of_each(tasks: list[Task], *names: str) -> list[Task]:
    return list({tuple(str(task.get(name)) for name in names): task for task in reversed(tasks)}.values())


@pytest.mark.parametrize("kind", list(KINDS))
def test_a_task_of_each_kind(pseudo: Lesson, packs: Path, kind: str) -> None:
    pack = next(
        pack for pack in (PACK, "solve-and-practice") if any(task["kind"] == kind for task in tasks_of(packs, pack))
    )
    reader = Reader(pseudo, pack, packs)
    task = next(task for task in tasks_of(packs, pack) if task["kind"] == kind and task.get("support") != "worked")
    found = reader.states(task, ("start", "wrong"))
    for summary in reader.page.locator("#card summary:visible").all():
        summary.click()
    well([*found, *seen(reader.page, f"{kind}, unfolded")])


@pytest.mark.parametrize("pack", PACKS if FULL else PACKS[:1])
def test_every_sort_of_task(pseudo: Lesson, packs: Path, pack: str) -> None:
    reader, found = Reader(pseudo, pack, packs), []
    sort = ("kind", "support", "find", "transversal", "question", "family" if pack == "every-family" else "kind")
    for task in of_each(tasks_of(packs, pack), *sort)[: None if FULL else 1]:
        found += reader.states(task, ("start", "wrong", "right"))
        reader._open(task)
        page = reader.page
        for scope in ("#card button", "#card summary", "#paper button"):
            for n in range(min(14, page.locator(scope).count())):
                control = page.locator(scope).nth(n)
                if control.is_visible() and control.is_enabled():
                    control.click(force=True)
                    found += look(page, f"{task['id']}, {scope} {n}")
    well(list(dict.fromkeys(found)))


def test_the_look_sees_a_plain_word_and_what_is_cut_off(pseudo: Lesson) -> None:
    page = pseudo.page()
    page.goto("/alone")
    assert look(page, "") == []
    page.evaluate("""() => document.querySelector('main').insertAdjacentHTML('beforeend',
        `<p id=a>Plain words</p><p id=b>ţĥîñğš ţĥàţ</p><button id=c>ţĥîñğš ţĥàţ</button><i id=d aria-label="Spoken"></i>
         <select id=e><option>ţĥîñğš ţĥàţ ƒîţ</option></select><p><b id=f>ţĥîñğš</b> <b id=g>ţĥàţ</b></p>`)""")
    page.evaluate("""() => {
        const style = (id, how) => Object.assign(document.getElementById(id).style, how);
        style('b', {overflow: 'hidden', width: '2em', whiteSpace: 'nowrap'});
        style('c', {width: '2em', padding: '0', whiteSpace: 'nowrap'});
        style('e', {width: '3em'});
        style('g', {marginLeft: '-3em'});
    }""")
    told = "\n".join(look(page, ""))
    for fault in ("['Plain', 'words'] in <p#a>", "<p#b> cuts off", "<button#c> is left by", "['Spoken'] in <i#d> aria-label",
                  "<select#e> shows", "over one another: ţĥîñğš | ţĥàţ"):  # fmt: skip
        assert fault in told, told
    page.evaluate("document.body.style.width = '3000px'")
    assert "the page is 3000 px wide" in "\n".join(look(page, ""))
