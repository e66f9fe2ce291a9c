"""F4-01: a button has the shape of a button, a link that of a link, a tab that of a tab, on every page.

Computed styles of all that can be pressed are looked at, not class names. The shapes are those that `static/css/base.css` declares:
*filled* (ink turned round, no border), *outlined* (a border all round), *tab* (stands on a rule, `role=tab`), *row* (a ruled row of a
list, a place of the room, a table's heading that sorts: nothing of its own at rest). WCAG 2.2 SC 1.4.11: what shows that it is a
control has 3:1 (held for `--edge` and `--ink` by tests/test_tokens.py).
"""

from __future__ import annotations

from collections import Counter
from typing import Any

import pytest

from tests.browser.conftest import LAPTOP, PACK, PHONE, Lesson

SHAPES = """() => [...document.querySelectorAll('button, a, [role=tab], summary')].filter((e) => e.checkVisibility({visibilityProperty: true})
    && e.getClientRects().length && !e.classList.contains('skip')).map((e) => {
  const s = getComputedStyle(e), sides = ['Top', 'Right', 'Bottom', 'Left'];
  const drawn = sides.map((k) => s[`border${k}Style`] !== 'none' && parseFloat(s[`border${k}Width`]) > 0);
  const seen = sides.map((k, i) => drawn[i] && !/, 0\\)$|transparent/.test(s[`border${k}Color`]));
  const line = s.textDecorationLine.includes('underline');
  const filled = !/, 0\\)$|transparent/.test(s.backgroundColor) && s.backgroundColor !== getComputedStyle(document.body).backgroundColor;
  const rows = '.plan-task, .path-task, .place, .c-step, .sort, .from-pick';
  const tag = e.getAttribute('role') === 'tab' ? 'tab' : e.matches(rows) ? 'row' : e.tagName.toLowerCase();
  return {tag, name: `${e.tagName}.${e.className}: ${e.textContent.trim().slice(0, 30)}`, count: seen.filter(Boolean).length, filled, line,
    round: s.borderTopLeftRadius, bar: Boolean(e.closest('nav, header'))};
})"""


def faults(page: Any) -> tuple[list[str], Counter[str]]:
    found, seen = [], Counter[str]()
    for one in page.evaluate(SHAPES):
        seen[one["tag"]] += 1
        shaped = (
            (one["count"] == 4 or (one["filled"] and one["count"] == 0)) and not one["line"] and one["round"] == "3px"
        )
        good = {
            "button": shaped,
            "a": one["line"] or one["bar"] or shaped,
            "tab": one["count"] in (0, 1) and not one["line"],
            "row": not one["line"],
            "summary": one["count"] in (0, 4) and not one["line"],
        }[one["tag"]]
        if not good:
            found.append(one["name"])
    return found, seen


@pytest.mark.parametrize("size", [LAPTOP, PHONE])
def test_the_pages_before_a_seat(lesson: Lesson, size: tuple[int, int]) -> None:
    period = lesson.period(lesson.teacher())
    page = lesson.page(size)
    for path in ("/", "/alone", f"/enter/{period.code}"):
        page.goto(path)
        assert faults(page)[0] == []
    page.locator("form button").first.click()
    page.locator(".door-offer").first.wait_for()
    bad, seen = faults(page)
    assert bad == [] and seen["button"] >= 5


@pytest.mark.parametrize("task", [
    "names-at-one-crossing", "make-them-equal", "chain-corresponding", "chain-alternate-interior", "copy-an-angle", "enough-alternate",
    "relatives-of-a-sentence", "write-a-relative", "solve-together",
])  # fmt: skip
def test_a_seat(lesson: Lesson, task: str) -> None:
    page = lesson.page(LAPTOP)
    page.goto(f"/alone/{PACK}/#{task}")
    page.locator("#card > *").first.wait_for()
    bad, seen = faults(page)
    assert bad == [] and seen["button"] >= 1


def test_the_desk(lesson: Lesson) -> None:
    teacher = lesson.teacher()
    period = lesson.period(teacher)
    for path in (
        "/desk/",
        f"/desk/pack/{PACK}/",
        "/desk/records",
        "/desk/sheets/",
        "/desk/sheets/page?n-make-parallel=2",
    ):
        teacher.goto(path)
        assert faults(teacher)[0] == [], path
    teacher.goto(period.path)
    teacher.locator(".plan-task").first.click()
    teacher.locator(".plan-verbs button").first.wait_for()
    teacher.locator("#more").click()
    for tab in teacher.locator("[role=tab]").all():
        tab.click()
        bad, seen = faults(teacher)
        assert bad == [] and seen["tab"] == 4 and seen["row"] > 20


def test_the_plan_is_in_sight(lesson: Lesson) -> None:
    """F4-01: 4 of 37 tasks were, at 1366×768."""
    teacher = lesson.teacher((1366, 768))
    period = lesson.period(teacher)
    teacher.goto(period.path)
    teacher.locator(".plan-task").first.wait_for()
    inside = teacher.evaluate("""() => { const room = document.querySelector('.period-plan').getBoundingClientRect();
      return [...document.querySelectorAll('.plan-task')].filter((b) => { const r = b.getBoundingClientRect();
        return r.bottom <= Math.min(room.bottom, innerHeight) && r.height >= 23.5; }).length; }""")
    assert inside >= 14, "with the first task open"
