"""The Board: it shows what the Desk sends, soon, without names, large enough, and takes a clicker."""

from __future__ import annotations

import re
import time
from typing import Any
from urllib.parse import urlsplit

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import PATIENCE, PROJECTOR, Lesson, Period
from tests.browser.drawn import drawn as drawn_on

pytestmark = pytest.mark.browser

PROOFS = "twelve-proofs"


def _open_task(teacher: Any, title: str) -> None:
    line = teacher.locator(".plan-task", has_text=title).first
    if line.get_attribute("aria-expanded") != "true":
        line.click()


def _verb(teacher: Any, name: str) -> Any:
    return teacher.locator(".plan-verbs:not([hidden])").get_by_role("button", name=name)


def _live(lesson: Lesson) -> tuple[Any, Period, Any]:
    """(Desk with its figure live, period, Board)."""
    teacher = lesson.teacher()
    period = lesson.period(teacher)
    board = lesson.board(teacher, period)
    _verb(teacher, "Move its figure live").click()
    expect(board.locator("#stage")).to_have_attribute("data-kind", "figure")
    board.locator("#stage svg").wait_for()
    return teacher, period, board


def test_the_figure_moved_at_the_desk_moves_on_the_board(lesson: Lesson) -> None:
    """Thirty quick presses: the last one arrives, exactly, and no echo of an earlier one moves the Desk's figure back."""
    teacher, period, board = _live(lesson)

    def directions() -> dict[str, float]:
        stage = lesson.call(teacher, "GET", f"/desk/period/{period.id}/state")["stage"]
        return {name: float(line["direction"]) for name, line in stage["figure"]["lines"].items()}

    before, drawn = directions(), board.locator("#stage svg").evaluate("e => e.innerHTML")
    slider = teacher.locator("#sheet-board [role=slider]").first
    slider.focus()
    start = float(slider.get_attribute("aria-valuenow"))
    for _ in range(30):
        teacher.keyboard.press("ArrowUp")
    deadline = time.monotonic() + PATIENCE / 1000
    while sum(abs(directions()[name] - before[name]) for name in before) != 30:
        assert time.monotonic() < deadline, (before, directions())
        time.sleep(0.05)
    teacher.wait_for_timeout(600)
    assert abs(float(slider.get_attribute("aria-valuenow")) - start) in (30, 150)
    assert board.locator("#stage svg").evaluate("e => e.innerHTML") != drawn


def test_the_mirror_is_quick_enough(lesson: Lesson) -> None:
    """F-8: a teacher's move is seen within 300 ms (median of eight here, on one machine).

    On a busy machine, within six times the least that it takes there: a question answered, two frames drawn.
    """
    teacher, period, board = _live(lesson)
    stage = lesson.call(teacher, "GET", f"/desk/period/{period.id}/state")["stage"]
    board.evaluate("""() => {
        window.seen = null;
        const told = () => { window.seen = document.querySelector('.stage-caption').textContent; window.at = Date.now(); };
        new MutationObserver(told).observe(document.querySelector('.stage-caption'), {childList: true, characterData: true, subtree: true});
    }""")
    waits, least = [], []
    for n in range(8):
        began = time.time() * 1000
        lesson.call(teacher, "GET", f"/desk/period/{period.id}/state")
        drawn_on(board)
        least.append(time.time() * 1000 - began)
        began = time.time() * 1000
        lesson.call(
            teacher,
            "POST",
            f"/desk/period/{period.id}/stage",
            {"stage": {**stage, "caption": f"n{n}"}, "to": ["board"]},
        )
        board.wait_for_function(f"() => window.seen === 'n{n}'")
        waits.append(board.evaluate("window.at") - began)
    assert sorted(waits)[4] < max(300, 6 * sorted(least)[4]), (waits, least)


def test_seats_follow_only_when_asked(lesson: Lesson) -> None:
    teacher = lesson.teacher()
    period = lesson.period(teacher)
    seat = lesson.seat(period.code)
    _verb(teacher, "Put on the Board").click()
    expect(teacher.locator(".plan-where", has_text="on the Board")).to_have_count(1)
    state = lesson.call(seat, "GET", "/seat/state")
    assert state["stage"] is None and state["follow"] is False
    teacher.locator("#seats-follow").check()
    seat.wait_for_function(
        "async () => { const s = await (await fetch('/seat/state')).json(); return s.follow && s.stage?.kind === 'task' }"
    )
    teacher.locator("#seats-follow").uncheck()
    seat.wait_for_function(
        "async () => { const s = await (await fetch('/seat/state')).json(); return !s.follow && !s.stage }"
    )


def test_a_task_on_the_board_carries_no_key(lesson: Lesson) -> None:
    """T-10: what the Board and the Seats are sent holds what a Seat may see, nothing more."""
    teacher = lesson.teacher()
    period = lesson.period(teacher)
    board = lesson.board(teacher, period)
    keep = {
        "id",
        "kind",
        "title",
        "ask",
        "figure",
        "given",
        "goal",
        "marks",
        "words",
        "not_to_scale",
        "construction",
        "start",
    }
    for title in ("Two braces", "From the ladder", "The drain and the stall lines", "Carry an angle", "All mixed"):
        _open_task(teacher, title)
        _verb(teacher, "Put on the Board").click()
        expect(board.locator(".stage-title")).to_have_text(title)
        stage = lesson.call(board, "GET", f"{period.board.rstrip('/')}/state")["stage"]
        assert set(stage["task"]) <= keep and "moves" not in str(stage)
    lesson.check(board, "task")


def test_the_board_reads_from_the_back_of_the_room(lesson: Lesson) -> None:
    """J-4: lines 4 px, text 28 px at 1280 × 720."""
    teacher, _, board = _live(lesson)
    assert board.evaluate("[innerWidth, innerHeight]") == list(PROJECTOR)
    sizes = board.evaluate("""() => ({
        line: Math.max(...[...document.querySelectorAll('#stage svg *')].map((e) => parseFloat(getComputedStyle(e).strokeWidth) || 0)),
        code: parseFloat(getComputedStyle(document.getElementById('code')).fontSize),
        stage: parseFloat(getComputedStyle(document.getElementById('stage')).fontSize),
    })""")
    assert sizes["line"] >= 4 and sizes["code"] >= 28 and sizes["stage"] >= 28, sizes
    lesson.check(board, "figure")
    board.keyboard.press("Tab")
    lesson.check(board, "controls called")
    board.get_by_role("button", name="High contrast").click()
    expect(board.locator("html")).to_have_attribute("data-theme", "night")
    lesson.check(board, "high contrast")
    board.reload()
    expect(board.locator("html")).to_have_attribute("data-theme", "night")


def test_bare_board_shows_the_code_and_nothing_else(lesson: Lesson) -> None:
    teacher = lesson.teacher()
    period = lesson.period(teacher)
    board = lesson.board(teacher, period)
    expect(board.locator("#code")).to_have_text(f"{period.code[:3]} {period.code[3:]}")
    assert board.locator(".board-controls").evaluate("e => getComputedStyle(e).opacity") == "0"
    lesson.check(board, "bare")
    teacher.get_by_role("button", name="Close the door").click()
    expect(board.locator("#corner")).to_be_hidden()


def test_a_pointer_that_lies_still_calls_no_controls(lesson: Lesson) -> None:
    """A browser tells of a move too when what is drawn changes under it; a step of the teacher's is no call."""
    teacher = lesson.teacher()
    board = lesson.board(teacher, lesson.period(teacher))
    shown = board.locator(".board-controls")
    told = """([x, y]) => document.body.dispatchEvent(new PointerEvent("pointermove", {screenX: x, screenY: y, bubbles: true}))"""
    for _ in range(3):
        board.evaluate(told, [300, 200])
    assert shown.evaluate("e => getComputedStyle(e).opacity") == "0"
    board.evaluate(told, [301, 200])
    assert shown.evaluate("e => getComputedStyle(e).opacity") == "1"


def test_a_revoked_board_goes_blank(lesson: Lesson) -> None:
    """T-12."""
    teacher = lesson.teacher()
    period = lesson.period(teacher)
    board = lesson.board(teacher, period)
    teacher.get_by_role("button", name="More", exact=True).click()
    teacher.get_by_role("button", name="New Board address").click()
    told = board.locator("#ended p")
    expect(told.first).to_have_text("This board is closed. Open another from the Desk.")
    expect(told.last).to_have_text("")
    assert board.locator("#corner").is_hidden()


def test_the_tally_counts_and_names_nobody(lesson: Lesson) -> None:
    """PD-7: counts, not names."""
    teacher = lesson.teacher()
    period = lesson.period(teacher)
    board = lesson.board(teacher, period)
    seats = [lesson.seat(period.code, typed=name) for name in ("Zorblax", "Quibble", "Xanthic")]
    task = lesson.call(teacher, "GET", f"/desk/period/{period.id}/state")["parts"][0]["tasks"][0]
    shown = lesson.call(seats[0], "GET", f"/seat/task/{task['id']}")["task"]
    assert shown["kind"] == "classify"
    for n, seat in enumerate(seats):
        names = {",".join(pair): "vertical" if n else "corresponding" for pair in shown["pairs"]}
        lesson.call(
            seat, "POST", "/seat/reply", {"id": f"reply-tally-{n}", "task": task["id"], "reply": {"names": names}}
        )
    for name in ("Zorblax", "Quibble", "Xanthic"):
        teacher.locator(".nods li", has_text=name).get_by_role("button", name="Approve").click()
        expect(teacher.locator(".nods li", has_text=name)).to_have_count(0)
    _open_task(teacher, task["title"])
    teacher.get_by_role("tab", name="Answers").click()
    expect(teacher.locator(".answers tbody tr")).to_have_count(2)
    lesson.check(teacher, "answers")
    teacher.get_by_role("button", name="Put the tally on the Board").click()
    # Both said one word for all of the three pairs: each pair has the same two counts.
    expect(board.locator(".tally tr")).to_have_count(2 * len(shown["pairs"]))
    expect(board.locator(".tally-count")).to_have_text(["2", "1"] * len(shown["pairs"]))
    assert board.locator(".tally-count").evaluate_all(IN_VIEW)
    expect(board.locator(".stage-ask")).to_have_text("3 of 3 have answered")
    assert not re.search("Zorblax|Quibble|Xanthic", board.content())
    lesson.check(board, "tally")
    teacher.get_by_role("tab", name="Answers").click()
    teacher.get_by_role("button", name="Discuss, unnamed").first.click()
    expect(board.locator("#stage")).to_have_attribute("data-kind", "reply")
    assert not re.search("Zorblax|Quibble|Xanthic", board.content())
    lesson.check(board, "reply")


def test_a_clicker_steps_a_proof_on_the_board(lesson: Lesson) -> None:
    """J-4: forward, back and blank by a clicker's keys, on the Board itself."""
    teacher = lesson.teacher()
    packs = [row.get_attribute("href") for row in teacher.locator(".desk-pack h3 a").all()]
    name = next(p.split("/")[3] for p in packs if "proofs" in p or "twelve" in p)
    period = lesson.period(teacher, pack=name)
    board = lesson.board(teacher, period)
    _verb(teacher, "Show the proof").click()
    expect(board.locator("#stage")).to_have_attribute("data-kind", "proof")

    def shown() -> int:
        return int(lesson.call(board, "GET", f"{period.board.rstrip('/')}/state")["stage"].get("shown", -1))

    board.bring_to_front()
    for key, want in (("PageDown", 1), ("PageDown", 2), ("PageUp", 1)):
        board.keyboard.press(key)
        deadline = time.monotonic() + PATIENCE / 1000
        while shown() != want:
            assert time.monotonic() < deadline, (key, shown())
            time.sleep(0.05)
    board.keyboard.press(".")
    expect(board.locator("#stage")).to_have_attribute("data-kind", "blank")
    lesson.check(board, "blank")
    board.keyboard.press("b")
    expect(board.locator("#stage")).to_have_attribute("data-kind", "proof")
    deadline = time.monotonic() + PATIENCE / 1000  # the Board shows it at once, and tells the server meanwhile
    while shown() != 1:
        assert time.monotonic() < deadline, shown()
        time.sleep(0.05)
    lesson.check(board, "proof")
    teacher.get_by_role("tab", name="On the Board").click()
    expect(teacher.locator(".stage-where")).to_contain_text("1 of")
    teacher.get_by_role("button", name="Forward", exact=True).click()
    expect(teacher.locator(".stage-where")).to_contain_text("2 of")


def test_a_proof_over_a_figure_numbered_the_standard_way(lesson: Lesson) -> None:
    """The contract's short form of a figure, with no angle written out: the Board draws it, and goes on to what comes next."""
    teacher = lesson.teacher()
    period = lesson.period(teacher)
    board = lesson.board(teacher, period)
    figure = {
        "lines": {
            "m": {"direction": 10, "through": [0, 2]},
            "n": {"direction": 10, "through": [0, -2]},
            "t": {"direction": 70, "through": [0, 0]},
        },
        "meets": {"A": ["m", "t"], "B": ["n", "t"]},
        "number": "standard",
        "transversal": "t",
    }
    rows = [
        {"statement": "∠2 ≅ ∠6", "reason": "given"},
        {"statement": "m ∥ n", "reason": "corresponding-angles-converse"},
    ]
    stage = {
        "kind": "proof",
        "figure": figure,
        "given": ["∠2 ≅ ∠6"],
        "goal": "m ∥ n",
        "rows": rows,
        "shown": 2,
        "reasons": True,
    }
    lesson.call(teacher, "POST", f"{period.path}stage", {"stage": stage, "to": ["board"]})
    expect(board.locator(".stage-book tbody tr")).to_have_count(2)
    expect(board.locator("#stage .line[data-tone='follows']")).to_have_count(2)
    _open_task(teacher, "Alternate interior angles: follow it")
    _verb(teacher, "Show the proof").click()
    expect(board.locator(".stage-book tbody tr")).to_have_count(0)


def test_a_board_opened_by_somebody_else_only_looks(lesson: Lesson) -> None:
    teacher = lesson.teacher()
    period = lesson.period(teacher)
    other = lesson.page(PROJECTOR)
    other.goto(period.board)
    other.locator("#stage[data-kind]").wait_for(state="attached")
    assert other.locator("#main").get_attribute("data-desk") is None
    assert other.get_by_role("button", name="Forward").count() == 0
    other.keyboard.press("b")
    assert lesson.call(teacher, "GET", f"/desk/period/{period.id}/state")["stage"] is None


def test_a_construction_task_on_the_board_shows_what_is_given(lesson: Lesson) -> None:
    """Before anything is demonstrated: the points and lines that it starts from, and nothing of the key."""
    teacher = lesson.teacher()
    period = lesson.period(teacher)
    board = lesson.board(teacher, period)
    teacher.locator(".plan-task", has_text="Carry an angle").click()
    teacher.get_by_role("button", name="Put on the Board").click()
    expect(board.locator(".stage-title")).to_have_text("Carry an angle")
    for name in "VPQWS":
        expect(board.locator(".construct-svg text", has_text=name)).to_have_count(1)
    expect(board.locator(".c-arc")).to_have_count(0)
    expect(board.locator(".c-caption")).to_have_count(0)
    lesson.check(board, "a construction task on the Board")
    teacher.locator(".plan-task", has_text="The mason's line").click()
    teacher.get_by_role("button", name="Put on the Board").click()
    expect(board.locator(".stage-title")).to_have_text("The mason's line")
    expect(board.locator(".construct-svg")).to_have_count(1)


IN_VIEW = """all => all.filter(e => e.getClientRects().length).every(e => { const b = e.getBoundingClientRect();
    return b.left >= -1 && b.top >= -1 && b.right <= innerWidth + 1 && b.bottom <= innerHeight + 1; })"""


@pytest.mark.parametrize("size", [PROJECTOR, (1024, 768), (683, 384)], ids=str)
def test_the_board_opens_as_a_door_plate_and_gives_way(lesson: Lesson, size: tuple[int, int]) -> None:
    """How to come in, in three steps, large enough for the last row; then the code stands outside the figure's frame."""
    teacher = lesson.teacher()
    period = lesson.period(teacher)
    board = lesson.board(teacher, period)
    board.set_viewport_size({"width": size[0], "height": size[1]})
    plate = board.locator("#plate")
    expect(plate).to_be_visible()
    expect(board.locator("#plate-address")).to_have_text(lesson.base.split("://")[1])
    expect(board.locator("#plate-code")).to_have_text(f"{period.code[:3]} {period.code[3:]}")
    expect(board.locator("#plate-qr")).to_be_visible()
    assert board.locator("#plate-qr").evaluate("e => e.decode().then(() => e.naturalWidth > 100)")
    assert board.locator("#plate li, #plate strong, #plate img, #plate svg").evaluate_all(IN_VIEW)
    # A letter of a code that is read from eight meters is at least 1/200 of that high: here against the page's height.
    tall = board.locator("#plate-code").evaluate("e => parseFloat(getComputedStyle(e).fontSize) / innerHeight")
    assert tall > 0.1
    expect(board.locator("#corner")).to_be_hidden()
    lesson.check(board, "door plate")
    _verb(teacher, "Move its figure live").click()
    board.locator("#stage svg").first.wait_for()
    expect(plate).to_be_hidden()
    expect(board.locator("#corner")).to_be_visible()
    corner, sheet = board.locator("#corner").bounding_box(), board.locator("#stage .stage-paper").bounding_box()
    assert corner["y"] + corner["height"] <= sheet["y"] + 1, "the code lies over nothing that is drawn"
    assert abs(sheet["y"] + sheet["height"] - size[1]) < 2


def test_the_plate_is_gone_when_the_door_is_closed(lesson: Lesson) -> None:
    teacher = lesson.teacher()
    period = lesson.period(teacher)
    board = lesson.board(teacher, period)
    expect(board.locator("#plate")).to_be_visible()
    lesson.call(teacher, "POST", f"{period.path}door", {"open": False})
    expect(board.locator("#plate")).to_be_hidden()
    answer = board.request.get(f"{lesson.base}{period.board.rstrip('/')}/qr.svg")
    assert answer.status == 404
    # The room says which of the two it is.
    expect(teacher.locator(".room-empty").first).to_have_text("Nobody is here yet. Open the door and show the code.")


def test_letters_can_be_switched_off_and_a_clicker_goes_on(lesson: Lesson) -> None:
    """WCAG 2.2 SC 2.1.4: keys that are letters or signs can be turned off; those of a page turn need not."""
    teacher, period, board = _live(lesson)
    board.mouse.move(200, 200)
    board.get_by_role("button", name="Letter keys").click()
    board.mouse.click(640, 60)
    board.keyboard.press("b")
    board.keyboard.press(".")
    board.wait_for_timeout(400)
    expect(board.locator("#stage")).to_have_attribute("data-kind", "figure")
    board.reload()
    board.locator("#stage svg").first.wait_for()
    board.keyboard.press("b")
    board.wait_for_timeout(400)
    expect(board.locator("#stage")).to_have_attribute("data-kind", "figure")
    board.mouse.move(220, 220)
    board.get_by_role("button", name="Letter keys").click()
    board.mouse.click(640, 60)
    board.keyboard.press("b")
    expect(board.locator("#stage")).to_have_attribute("data-kind", "blank")


def test_quick_steps_end_where_the_desk_is_and_the_words_never_run_ahead(lesson: Lesson) -> None:
    teacher = lesson.teacher()
    period = lesson.period(teacher, "other-constructions")
    board = lesson.board(teacher, period)
    _open_task(teacher, "The middle of the rail")
    _verb(teacher, "Show the construction").click()
    expect(board.locator("#stage")).to_have_attribute("data-kind", "construction")
    board.evaluate("""() => { window.ahead = [];
        const told = () => {
            const step = document.querySelector('.c-caption-words')?.textContent ?? '';
            const drawn = document.querySelectorAll('#stage .c-arc:not(.c-wet), #stage .c-line, #stage .c-dot').length;
            window.ahead.push([step, drawn]);
        };
        new MutationObserver(told).observe(document.getElementById('stage'), {childList: true, characterData: true, subtree: true}); }""")
    forward = teacher.get_by_role("button", name="Forward", exact=True)
    while forward.is_enabled():
        forward.click()
        teacher.wait_for_timeout(60)
    state = lesson.call(teacher, "GET", f"{period.path}state")["stage"]
    last = len(state["steps"])
    expect(board.locator(".c-caption-name")).to_have_text(re.compile(f"^{last}\\."))
    expect(board.locator(".c-caption-words")).to_have_text(state["steps"][-1]["caption"])
    seen = board.evaluate("window.ahead")
    whole = seen[-1][1]
    final = state["steps"][-1]["caption"]
    assert all(words != final or drawn == whole for words, drawn in seen), "the last caption came with the last stroke"
    assert len({words for words, _ in seen}) > 2


def test_the_controls_are_one_stop_and_arrows_go_along_them(lesson: Lesson) -> None:
    """A toolbar of the pattern for one (WAI-ARIA Authoring Practices, Toolbar): the arrows that move in it don't turn a page."""
    teacher = lesson.teacher()
    period = lesson.period(teacher)
    board = lesson.board(teacher, period)
    controls = board.locator(".board-controls button")
    board.keyboard.press("Tab")
    expect(controls.first).to_be_focused()
    sent: list[str] = []
    board.on("request", lambda request: request.method == "POST" and sent.append(request.url))
    board.keyboard.press("ArrowRight")
    expect(controls.nth(1)).to_be_focused()
    board.keyboard.press("End")
    expect(controls.last).to_be_focused()
    board.keyboard.press("ArrowRight")
    expect(controls.first).to_be_focused()
    board.keyboard.press("ArrowLeft")
    expect(controls.last).to_be_focused()
    assert not sent, sent
    board.keyboard.press("Tab")
    assert not board.evaluate("Boolean(document.activeElement.closest('.board-controls'))")
    board.keyboard.press("Shift+Tab")
    expect(controls.last).to_be_focused()


def test_an_ended_board_says_so_to_the_last_row(lesson: Lesson) -> None:
    teacher = lesson.teacher()
    period = lesson.period(teacher)
    board = lesson.board(teacher, period)
    lesson.call(teacher, "POST", f"{period.path}end")
    told = board.locator("#ended p").first
    expect(told).to_have_text("This period has ended.")
    box = told.bounding_box()
    assert abs(box["x"] + box["width"] / 2 - PROJECTOR[0] / 2) < 2 and 0.2 < box["y"] / PROJECTOR[1] < 0.6
    assert float(told.evaluate("e => parseFloat(getComputedStyle(e).fontSize)")) >= PROJECTOR[1] / 12
    expect(board.locator("#stage")).to_have_text("")
    expect(board.locator("#corner")).to_be_hidden()
    lesson.check(board, "ended")


@pytest.mark.parametrize("task", ["exit-reason", "relatives-of-a-sentence"])
def test_an_answer_is_discussed_under_the_question_that_it_answers(lesson: Lesson, task: str) -> None:
    """Each Seat has other numbers and letters: those of the Desk's own question would make another answer of it."""
    teacher = lesson.teacher()
    period = lesson.period(teacher)
    board = lesson.board(teacher, period)
    answered = []
    for n in range(3):
        seat = lesson.seat(period.code)
        item = lesson.call(seat, "GET", f"/seat/task/{task}")["task"]["item"]
        field, choice = item["fields"][0], item["fields"][0]["choices"][n]
        reply = {"answer": {field["name"]: choice["value"]}}
        lesson.call(seat, "POST", "/seat/reply", {"id": f"reply-{task}-{n}", "task": task, "reply": reply})
        answered.append((item, choice["text"]))
    assert len({item["prompt"] + item["ask"] for item, _ in answered}) > 1
    desk = lesson.call(teacher, "GET", f"{period.path}task/{task}")["task"]
    _open_task(teacher, desk["title"])
    teacher.get_by_role("tab", name="Answers").click()
    rows = teacher.locator(".answers tbody tr")
    expect(rows.first).to_be_visible()
    for item, chosen in answered:
        row = rows.filter(has_text=item["prompt"]).filter(has_text=chosen).first
        expect(row.locator(".answer-asked")).to_contain_text(item["ask"])
        row.get_by_role("button", name="Discuss, unnamed").click()
        expect(board.locator(".stage-label")).to_have_text("One answer")
        expect(board.locator(".stage-reply")).to_have_text(chosen)
        expect(board.locator(".stage-ask")).to_contain_text(item["prompt"].replace(" ∥ ", " ∥ "))
        expect(board.locator(".stage-ask")).to_contain_text(item["ask"])
        assert lesson.call(board, "GET", f"{period.board.rstrip('/')}/state")["stage"]["figure"] == item["figure"]
        statements = [row["statement"] for row in item.get("rows", [])]
        expect(board.locator(".book tbody tr")).to_have_count(len(statements))
        drawn_on(board)
        assert board.locator(".stage-words, .stage-words *").evaluate_all(IN_VIEW)
        lesson.check(board, "discussed")
        teacher.get_by_role("tab", name="Answers").click()


@pytest.mark.parametrize("size", [PROJECTOR, (683, 384), (1920, 1080)], ids=str)
def test_a_question_about_a_printed_proof_is_put_up_with_it(lesson: Lesson, size: tuple[int, int]) -> None:
    """All in sight, and the figure's numbers grow with the screen as the words beside it do."""
    teacher = lesson.teacher()
    period = lesson.period(teacher)
    board = lesson.board(teacher, period)
    board.set_viewport_size({"width": size[0], "height": size[1]})
    _open_task(teacher, "3 · Give the reason")
    _verb(teacher, "Put on the Board").click()
    expect(board.locator(".stage-ask")).to_contain_text("Which reason belongs in row")
    expect(board.locator(".book tbody tr")).to_have_count(4)
    expect(board.locator(".book")).to_contain_text("reason?")
    number = board.locator("#stage svg text", has_text=re.compile(r"^\d$")).first
    number.wait_for()
    drawn_on(board)
    assert board.locator(".stage-words, .stage-words *, #stage svg text").evaluate_all(IN_VIEW)
    assert board.locator(".stage-words").evaluate("e => e.scrollHeight <= e.clientHeight + 1")
    drawn, words = (
        float(one.evaluate("e => parseFloat(getComputedStyle(e).fontSize)"))
        for one in (number, board.locator("#stage"))
    )
    assert 0.97 < drawn / words < 1.05, (drawn, words)
    lesson.check(board, "a printed proof")


@pytest.mark.parametrize("size", [PROJECTOR, (683, 384)], ids=str)
@pytest.mark.parametrize("locale", ["en-US", "es-MX"])
def test_a_whole_proof_is_in_sight_beside_its_figure(lesson: Lesson, size: tuple[int, int], locale: str) -> None:
    """F11-08: the longest proof of the packs, in a window as small as a page at twice its size: nothing ends below the edge."""
    teacher = lesson.teacher(locale=locale)
    teacher.locator(f'form:has(input[value="{PROOFS}"]) button').click()
    teacher.wait_for_url("**/desk/period/**")
    teacher.locator("#door").click()
    state = lesson.call(teacher, "GET", f"{urlsplit(teacher.url).path}state")
    period = Period(state["period"]["id"], state["period"]["code"], urlsplit(state["period"]["board"]).path)
    board = lesson.board(teacher, period)
    board.set_viewport_size({"width": size[0], "height": size[1]})
    task = next(task for part in state["parts"] for task in part["tasks"] if task["id"] == "with-x")
    _open_task(teacher, task["title"])
    teacher.locator(".plan-verbs:not([hidden]) button").nth(1).click()
    for shown in range(7):
        expect(board.locator(".stage-book tbody tr")).to_have_count(shown)
        teacher.locator(".stage-bar button.action").click()
    expect(board.locator(".stage-book tbody tr")).to_have_count(7)
    drawn_on(board)
    assert board.locator(".stage-given, .stage-book thead *, .stage-book tbody *, #stage svg text").evaluate_all(
        IN_VIEW
    )
    assert board.locator(".stage-proof-side").evaluate("e => e.scrollHeight <= e.clientHeight + 1")
    sizes = board.evaluate(
        "[...document.querySelectorAll('.stage-book :is(td, th)')].map(e => parseFloat(getComputedStyle(e).fontSize))"
    )
    assert max(sizes) <= 1.3 * min(sizes), "the heads of the columns are no larger than what they head"


@pytest.mark.parametrize("size", [PROJECTOR, (683, 384)], ids=str)
def test_the_longest_tally_and_reply_of_a_class_of_thirty_are_whole(lesson: Lesson, size: tuple[int, int]) -> None:
    """F1-05: five pairs with their transversals, answered in all ways: nothing below the edge, no count beside the next column's words."""
    teacher = lesson.teacher()
    period = lesson.period(teacher)
    board = lesson.board(teacher, period)
    board.set_viewport_size({"width": size[0], "height": size[1]})
    names = [
        "corresponding angles (s)",
        "consecutive interior angles (n)",
        "alternate exterior angles (m)",
        "other answers",
    ]
    pairs = ["∠4, ∠9", "∠4, ∠7", "∠6, ∠14", "∠11, ∠14", "∠2, ∠7"]
    rows = [{"label": name, "count": count} for name, count in zip(names, (3, 3, 2, 22), strict=True)]
    tally = {"kind": "tally", "title": "The gable end", "parts": [{"head": pair, "rows": rows} for pair in pairs],
             "replied": 30, "total": 30}  # fmt: skip
    lesson.call(teacher, "POST", f"{period.path}stage", {"stage": tally, "to": ["board"]})
    expect(board.locator(".tally")).to_have_count(5)
    drawn_on(board)
    assert board.locator(".stage-ask, .tally *").evaluate_all(IN_VIEW)
    apart = """all => all.every((one) => all.every((other) => {
      const [a, b] = [one.getBoundingClientRect(), other.getBoundingClientRect()];
      return one === other || a.bottom <= b.top + 1 || b.bottom <= a.top + 1 || a.right + 12 <= b.left || b.right + 12 <= a.left; }))"""
    assert board.locator(".tally").evaluate_all(apart), "a count stands beside the words of the next column"
    answers = [f"{pair}: {name}" for pair, name in zip(pairs, [*names[:3], *names[:2]], strict=True)]
    ask = "Four lines, and each pair has its own transversal. Name the transversal, then the pair."
    reply = {"kind": "reply", "ask": ask, "lines": answers, "figure": tally_figure()}
    lesson.call(teacher, "POST", f"{period.path}stage", {"stage": reply, "to": ["board"]})
    expect(board.locator(".stage-reply li")).to_have_count(5)
    drawn_on(board)
    assert board.locator(".stage-words *").evaluate_all(IN_VIEW)


def tally_figure() -> dict[str, Any]:
    lines = {"m": {"direction": 10, "through": [0, 2]}, "n": {"direction": 4, "through": [0, -2]}, "t": {"direction": 70, "through": [0, 0]}}  # fmt: skip
    return {"lines": lines, "number": "standard", "transversal": "t"}
