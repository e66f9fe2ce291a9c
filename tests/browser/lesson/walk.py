"""One student going through tasks by the page's own controls, and the right answers by the judge's own key."""

from __future__ import annotations

import re
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from app.classroom.kinds import kind_module
from app.classroom.kinds.explore import as_drawn
from app.classroom.kinds.solve import item_of
from app.classroom.verdict import Context
from app.figure.model import Figure, figure_from_json, figure_to_json
from app.lessons.load import load_pack
from app.lessons.tasks import read_task
from app.practice.items import LETTER
from app.web.secret import Secret, load_secret
from app.web.tickets import seed_for
from app.words.house import house
from app.words.rendering import reader_of, render
from tests.browser.conftest import LAPTOP, PACK, PHONE, ROOT, Lesson, Period
from tests.browser.lesson.hands import Hand, Keys, Mouse, Place, Taps, Touch
from tests.browser.see import expect

Task = dict[str, Any]
HANDS: dict[str, type[Hand]] = {"mouse": Mouse, "taps": Taps, "touch": Touch, "keys": Keys}
# Lines of working as a student writes them, where one task is done with them.
WORKING = {"neighbors": ["4x + 17 + 5x - 8 = 180", "9x + 9 = 180", "9x = 171", "x = 19"]}


def parts_of(pack: str = PACK, optional: bool = False) -> dict[str, list[Task]]:
    """The pack's parts by id, each with its tasks; optional ones only if asked for."""
    return {
        part.id: [task.data for task in part.tasks if optional or not task.optional]
        for part in load_pack(ROOT / "lesson_packs" / pack).parts if optional or not part.optional
    }  # fmt: skip


def said_in(language: str) -> dict[str, set[str]]:
    """English words of the pages' scripts → what stands for them in another language."""

    def words(of: str, area: str) -> dict[str, str]:
        text = (ROOT / "static" / "words" / of / area).read_text(encoding="utf-8")
        return {key: text for key, _, text in re.findall(r"^\s*(\w+):\s*(['\"])(.*)\2,$", text, re.MULTILINE)}

    found: dict[str, set[str]] = {}
    for path in (ROOT / "static" / "words" / "en").glob("*.js"):
        there = words(language, path.name)
        for key, text in words("en", path.name).items():
            found.setdefault(text, set()).add(there[key])
    return found


@dataclass
class Student:
    """A seat, the hand at it, and what its right answers are."""

    lesson: Lesson
    page: Any
    hand: Hand
    sid: str
    folder: Path
    house: str = "us"
    period: str = ""  # its id; a ticket has one form for the whole period

    def key(self, task: Task) -> dict[str, Any]:
        found: dict[str, Any] = kind_module(task["kind"]).key(task, self.context(task))
        return found

    def context(self, task: Task) -> Context:
        """As the server makes it for this seat: its own numbers."""
        seed = seed_for(
            Secret(load_secret(self.folder)),
            "exit" if task["id"].startswith("exit-") else "lesson",
            self.period,
            self.sid,
            read_task(task),
        )
        return Context(seed=seed, house=house(self.house), profile=str(task.get("profile") or "postulate"), history=[])

    # ── from task to task ──
    def go(self, task: Task) -> None:
        """Choose the task in the row at the foot of the page."""
        self.hand.press(self.page.locator(f'.path-task[title="{task["title"]}"]'))
        self.opened(task)

    def opened(self, task: Task) -> None:
        expect(self.page.locator("#title")).to_have_text(task["title"])
        expect(self.page.locator("#card > *").first).to_be_visible()
        # A task that was open already has its title from before; it is there once it no longer says that it is being opened.
        expect(self.page.locator("#verdict")).not_to_have_attribute("data-tone", "wait")

    def next_to(self, task: Task) -> None:
        """The button "next", past tasks that are left out."""
        for _ in range(6):
            if self.page.locator("#title").inner_text() == task["title"]:
                return self.opened(task)
            before = self.page.locator("#title").inner_text()
            self.hand.press(self.page.locator("#next"))
            expect(self.page.locator("#title")).not_to_have_text(before)
        raise AssertionError(f"“{task['title']}” isn't reached by the button “next”")

    def solved(self, task: Task) -> None:
        """A good verdict in words, and the tick in the path."""
        line = self.page.locator("#verdict")
        expect(line).to_have_attribute("data-tone", re.compile("good|mend"))
        assert line.get_attribute("data-tone") == "good", f"{task['id']}: {line.inner_text()}"
        assert len(line.inner_text()) > 8
        expect(self.page.locator('.path-task[aria-current="step"] .path-tick')).to_have_text("✓")

    def do(self, task: Task) -> None:
        """The whole task, right, to its verdict."""
        getattr(self, task["kind"])(task)
        if task["id"].startswith("exit-"):
            self.confirm(task)
        self.solved(task)

    def button(self, name: str) -> Any:
        """A button of the card by its English name, in the language that the house's class reads."""
        language = house(self.house).lang[:2]
        names = {name} if language == "en" else said_in(language)[name]
        found = self.page.locator("#card-side").get_by_role("button", name=name, exact=True)
        return (
            found
            if names == {name}
            else self.page.locator("#card-side").get_by_role(
                "button", name=re.compile("^(" + "|".join(map(re.escape, sorted(names))) + ")$")
            )
        )

    # ── by kind ──
    def classify(self, task: Task) -> None:
        key = self.key(task)["pairs"]
        if task["find"]:
            for row in key[: task["count"]]:
                for name in row["angles"]:
                    self.hand.pick("angle", name)
        for i, row in enumerate([] if task["find"] else key):
            if len(task["pairs"]) > 1:
                self.hand.press(self.page.locator("#card .pair").nth(i))
            if task["transversal"]:
                line = row["transversal"] or ""
                self.hand.check(self.page.locator(f'#card .choices-row input[value="{line}"]'))
            self.hand.check(self.page.locator(f'#card .pair-names input[value="{row["pair"]}"]'))
        self.hand.press(self.button("Check"))

    def explore(self, task: Task) -> None:
        if task["reach"]:
            line, to, about = reaching(task)
            self.hand.turn(line, to, about)
            expect(self.page.locator('.reach-mark[data-holds="true"]')).to_have_count(len(task["reach"]))
        if task.get("question"):
            self.hand.check(self.page.locator("#card .choices input").nth(task["question"]["answer"]))
        self.hand.press(self.button("Check my answer" if task.get("question") else "Check my figure"))

    def justify(self, task: Task) -> None:
        key = self.key(task)
        if key["none"]:
            return self.hand.press(self.button("Not enough information"))
        right = key["accepted"][0]
        for name in right["angles"]:
            self.hand.pick("angle", name)
        blanks = {"a": right["angles"][0], "b": right["angles"][1]}
        for blank, value in blanks.items():
            expect(self.page.locator(f'[data-blank="{blank}"]')).to_have_value(value)
        rest = {
            "pair": right["pair"], "transversal": right["transversal"], "relation": right["relation"],
            "l": right["lines"][0], "m": right["lines"][1], "theorem": right["theorem"],
        }  # fmt: skip
        for blank, value in rest.items():
            self.hand.choose(self.page.locator(f'[data-blank="{blank}"]'), value)
        return self.hand.press(self.button("Check my reason"))

    def solve(self, task: Task) -> None:
        made = item_of(task, self.context(task))
        key = self.key(task)["key"]
        for n, line in enumerate(WORKING.get(task["id"], []), 1):
            if n > self.page.locator(".working-input").count():
                self.hand.press(self.button("Add a line"))
            self.hand.write(self.page.locator(".working-input").nth(n - 1), line)
        for i, field in enumerate(made.fields):
            blank = self.page.locator("#card .blank").nth(i)
            if not blank.is_visible():
                continue
            if field.kind == "choice":
                at = [choice.value for choice in field.choices].index(key[field.name])
                if blank.locator("select").count():  # long lists are folded
                    self.hand.choose(blank.locator("select"), LETTER[at] if field.sealed else key[field.name])
                else:
                    self.hand.check(blank.locator("input[type=radio]").nth(at))
            elif key[field.name] == "none":
                self.hand.check(blank.locator("input[type=checkbox]"))
            else:
                self.hand.write(blank.locator(".blank-number"), str(key[field.name]))
        self.hand.press(self.button("Hand in"))

    def connect(self, task: Task) -> None:
        made = item_of({**task, "family": "connect"}, self.context(task))
        kinds = [field.kind for field in made.fields]
        if kinds[0] == "sentence":
            self.hand.write(self.page.locator("#card .sentence-line"), self.key(task)["key"]["sentence"])
        elif kinds[0] == "figure":
            return self.break_it(task, made.fields[0].more["movable"])
        else:
            return self.solve({**task, "family": "connect"})
        return self.hand.press(self.button("Hand in"))

    def break_it(self, task: Task, movable: list[str]) -> None:
        """Turn the lines as the key has them; choose the two angles where they are asked for."""
        key = self.key(task)["key"]
        made = figure_from_json(key["figure"])
        for line in movable:
            about = next(meet.name for meet in made.meets.values() if line in meet.lines)
            self.hand.turn(line, int(made.lines[line].direction), about)
        for i, name in enumerate(key.get("angles") or []):
            self.hand.choose(self.page.locator("#card .breaking select").nth(i), name)
        self.hand.press(self.button("Hand in"))

    def prove(self, task: Task) -> None:
        rows = self.key(task)["rows"]
        if rows is None:
            return self.turn_aside(task)
        return getattr(self, f"prove_{task['support']}")(rows)

    def turn_aside(self, task: Task) -> None:
        """No proof can reach the goal: turn a line until the givens hold and the goal fails, and hand that figure in."""
        self.hand.press(self.button("It doesn't have to be true"))
        lines = list(figure_from_json(task["figure"]).lines)
        self.hand.turn(*reaching({**task, "movable": lines, "reach": task["given"]}))
        expect(self.page.locator('.turn-list [data-good="false"]')).to_have_count(0)
        self.hand.press(self.button("Hand in this figure"))

    def prove_worked(self, rows: list[Task]) -> None:
        for _ in rows[1:]:
            self.hand.press(self.button("Next row"))
        self.hand.press(self.button("I have read it"))

    def prove_reasons(self, rows: list[Task]) -> None:
        for n, row in enumerate(rows, 1):
            field = self.page.locator(f'.reason-field[aria-label^="Row {n},"]')
            if field.count():
                self.hand.reason(field, {"id": row["reason"], "name": render(row["name"], reader_of(self.house))})
        self.hand.press(self.button("Hand in the proof"))

    def prove_order(self, rows: list[Task]) -> None:
        texts = self.page.locator(".prove-book .statement-fixed")
        for to, row in enumerate(rows):
            while (at := texts.all_inner_texts().index(row["statement"])) > to:
                self.hand.press(self.page.get_by_role("button", name=f"Move row {at + 1} up", exact=True))
                expect(texts.nth(at - 1)).to_have_text(row["statement"])
        self.hand.press(self.button("Hand in the proof"))

    def prove_statements(self, rows: list[Task]) -> None:
        for n, row in enumerate(rows, 1):
            field = self.page.locator(f'.statement-field[aria-label^="Row {n},"]')
            if field.count():
                self.state(field, row["statement"])
        self.hand.press(self.button("Hand in the proof"))

    def prove_blank(self, rows: list[Task]) -> None:
        for n, row in enumerate(rows, 1):
            if row["reason"] == "given":
                continue
            field = self.page.locator(f'.statement-field[aria-label^="Row {n},"]')
            if not field.count():
                self.hand.press(self.button("Next row"))
            self.state(field, row["statement"])
            self.hand.reason(
                self.page.locator(f'.reason-field[aria-label^="Row {n},"]'),
                {"id": row["reason"], "name": render(row["name"], reader_of(self.house))},
            )
        self.hand.press(self.button("Hand in the proof"))

    def state(self, field: Any, statement: str) -> None:
        """Write a statement: mouse and finger touch the figure where that says it all, the keyboard types plain signs."""
        names = statement.replace("≅", " ").replace("∥", " ").replace("∠", " ").split()
        kind = "angle" if "≅" in statement else "line" if "∥" in statement else None
        if kind is None or isinstance(self.hand, Keys):
            plain = statement.replace("∠", "<").replace("≅", "~=").replace("∥", "||")
            return self.hand.write(field, plain)
        self.hand.press(field)
        for name in names:
            self.hand.pick(kind, name)
        return expect(field).to_have_value(statement)

    def construct(self, task: Task) -> None:
        if task["construction"] == "copy an angle":
            self.copy_angle()
        else:
            self.parallel()
        self.hand.press(self.button("Check my construction"))

    def act(self, words: str) -> None:
        self.hand.press(self.page.get_by_role("button", name=words, exact=True))

    def crossing(self, *words: str, near: Place | None = None) -> None:
        """Mark the crossing whose name has all these words."""
        self.hand.take("Pencil")
        labels = self.page.locator(".c-spot").evaluate_all("all => all.map(one => one.getAttribute('aria-label'))")
        crossings = {label.split(", the ")[0] for label in labels if label.startswith("Crossing")}
        found = [label for label in crossings if all(word in label for word in words)]
        assert len(found) == 1, (words, labels)
        self.hand.spot(found[0], near)

    def arc(self, *, whole: bool = False) -> None:
        if whole:
            return self.act("All the way round")
        self.act("Swing an arc")
        return self.act("Longer arc")

    def copy_angle(self) -> None:
        """Euclid I.23, with one opening for the first two arcs."""
        hand = self.hand
        hand.take("Compass")
        hand.spot("Point V")
        hand.mark("ray VP", "V", "P", 0.5)
        self.arc()
        self.crossing("ray VQ", "about V")
        hand.take("Compass")
        hand.spot("Point W")
        self.arc()
        self.crossing("ray WS", "about W")
        hand.take("Compass")
        self.act("New opening")
        for name in "BCD":
            hand.spot(f"Point {name}")
        self.arc(whole=True)
        up, w = hand.point("D"), hand.point("W")
        self.crossing("about W", "about D", near=(w[0], min(up[1], w[1]) - 400))
        hand.take("Straightedge")
        hand.spot("Point W")
        hand.spot("Point E")

    def parallel(self) -> None:
        """Euclid I.31 by corresponding angles: a transversal through P, the angle at Q copied at P."""
        hand = self.hand
        hand.take("Pencil")
        hand.mark("line AB", "A", "B", 0.3)
        hand.take("Straightedge")
        hand.spot("Point C")
        hand.spot("Point P")
        hand.take("Compass")
        hand.spot("Point C")
        hand.mark("line r", "C", "P", 0.3)
        self.arc(whole=True)
        b, p, c = hand.point("B"), hand.point("P"), hand.point("C")
        self.crossing("line AB", "about C", near=b)
        hand.take("Compass")
        hand.spot("Point P")
        self.arc(whole=True)
        beyond = (2 * p[0] - c[0], 2 * p[1] - c[1])
        self.crossing("line r", "about P", near=beyond)
        hand.take("Compass")
        self.act("New opening")
        for name in "DEF":
            hand.spot(f"Point {name}")
        self.arc(whole=True)
        e = hand.point("E")
        self.crossing("about P", "about F", near=(p[0] + e[0] - c[0], p[1] + e[1] - c[1]))
        hand.take("Straightedge")
        hand.spot("Point P")
        hand.spot("Point G")

    # ── the exit ticket ──
    def confirm(self, task: Task) -> None:
        """Nothing is handed in before it was looked over and confirmed (WCAG 2.2 SC 3.3.4)."""
        box = self.page.locator("#confirm")
        expect(box).to_be_visible()
        expect(self.page.locator('.path-task[aria-current="step"] .path-tick')).to_have_text("")
        self.hand.press(box.get_by_role("button", name="Hand it in", exact=True))
        expect(box).to_be_hidden()


def reaching(task: Task) -> tuple[str, int, str]:
    """(line, direction, crossing to turn about): the least turn of one line with one crossing that does what the task wants."""
    plain = figure_to_json(figure_from_json(task["figure"]))
    found: list[tuple[int, str, int, str]] = []
    for line in task["movable"]:
        meets = [name for name, meet in plain["meets"].items() if line in meet["lines"]]
        now = round(float(plain["lines"][line]["direction"]))
        for off in range(-30, 31) if len(meets) == 1 else ():
            turned = turned_line(plain, line, now + off)
            if all(as_drawn(turned, text).holds for text in task["reach"]):
                found.append((abs(off), line, (now + off) % 180, meets[0]))
    assert found, task["id"]
    return min(found)[1:]


def turned_line(plain: dict[str, Any], line: str, direction: int) -> Figure:
    """The figure with one line turned. Past a half turn its + ray runs the other way, and the angles keep their place."""
    other = str.maketrans("+-", "-+") if not 0 <= direction < 180 else {}
    angles = {
        name: {
            "at": a["at"],
            **{side: a[side].translate(other) if a[side][:-1] == line else a[side] for side in ("from", "to")},
        }
        for name, a in plain["angles"].items()
    }
    lines = {**plain["lines"], line: {**plain["lines"][line], "direction": direction % 180}}
    meets = {name: meet["lines"] for name, meet in plain["meets"].items()}
    return figure_from_json({"lines": lines, "meets": meets, "angles": angles})


def enter(lesson: Lesson, period: Period, teacher: Any, name: str, number: int, **more: Any) -> Student:
    """A student who comes in by the code; a finger on a phone, mouse and keys on a small laptop."""
    fingers = name in ("taps", "touch")
    touch = {"has_touch": True, "is_mobile": True} if fingers else {}
    page = lesson.seat(period.code, PHONE if fingers else LAPTOP, number=number, **touch, **more)
    page.locator(".path-task").first.wait_for()
    sid = seat_of(lesson, teacher, period, number)
    return Student(lesson, page, HANDS[name](page), sid, lesson.data, period=period.id)


def at_the_door(lesson: Lesson, period: Period, teacher: Any, name: str, number: int, **more: Any) -> Student:
    """The same, with the code and the number written at the front door by the hand itself."""
    fingers = name in ("taps", "touch")
    touch = {"has_touch": True, "is_mobile": True} if fingers else {}
    page = lesson.page(PHONE if fingers else LAPTOP, **touch, **more)
    hand = HANDS[name](page)
    page.goto("/")
    for field, value in (("#code", period.code), ("#number", str(number))):
        hand.write(page.locator(field), value)
        hand.press(page.locator(f".door-line:has({field}) button"))
    page.locator(".path-task").first.wait_for()
    return Student(lesson, page, hand, seat_of(lesson, teacher, period, number), lesson.data, period=period.id)


def seat_of(lesson: Lesson, teacher: Any, period: Period, number: int) -> str:
    """The seat's id, as the Desk has it."""
    seats = lesson.call(teacher, "GET", f"{period.path}state")["seats"]
    return next(str(seat["sid"]) for seat in seats if seat["number"] == number)


def whole_part(lesson: Lesson, name: str, part: str) -> None:
    """One hand does every task of one part of the core pack; the Desk has them all.

    On the way each page is looked at by the accessibility checker, as it opens and after the verdict.
    """
    tasks = parts_of()[part]
    teacher = lesson.teacher()
    period = lesson.period(teacher)
    student = at_the_door(lesson, period, teacher, name, 7)
    student.go(tasks[0])
    for task in tasks:
        student.next_to(task)
        lesson.check(student.page, f"{task['id']} at the start, {name}")
        student.do(task)
        student.page.evaluate("scrollTo(0, 0)")  # what lies half under the paper on a phone is not smaller for that
        lesson.check(student.page, f"{task['id']} after the verdict, {name}")
        lesson.fits(student.page, f"{task['id']}, {name}")
    state = lesson.call(teacher, "GET", f"{period.path}state")
    done = {task["id"]: task["done"] for one in state["parts"] for task in one["tasks"]}
    assert {task["id"]: done[task["id"]] for task in tasks} == {task["id"]: 1 for task in tasks}
    seat = next(seat for seat in state["seats"] if seat["sid"] == student.sid)
    assert seat["done"] == len(tasks)


def whole_lesson(student: Student, teacher: Any, period: Period) -> None:
    """Every task of the core pack by one hand in one sitting, the exit ticket last; the Desk has them all."""
    parts = parts_of()
    for tasks in parts.values():
        student.go(tasks[0])  # optional parts lie between
        for task in tasks:
            student.next_to(task)
            student.do(task)
    state = student.lesson.call(teacher, "GET", f"{period.path}state")
    done = {task["id"] for part in state["parts"] for task in part["tasks"] if task["done"] == 1}
    assert done == {task["id"] for tasks in parts.values() for task in tasks}
