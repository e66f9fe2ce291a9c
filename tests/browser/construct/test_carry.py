"""A parallel that the student constructed is explored, justified and proved in the tasks that come after it."""

from __future__ import annotations

from math import atan2, degrees
from typing import Any

import pytest

from tests.browser.conftest import PACK, saved
from tests.browser.construct.paper import Paper
from tests.browser.construct.test_paper import put_work
from tests.browser.prove.test_prove import choose

pytestmark = pytest.mark.browser

OWN = "Use my own construction"


def constructed(lesson: Any, size: tuple[int, int] = (1366, 633), **more: Any) -> tuple[Paper, float, float]:
    """A student who has just constructed a parallel; the directions of the line and of the transversal on the paper."""
    paper = Paper(lesson, "parallel-through-p", size, **more)
    key = lesson.call(paper.page, "POST", f"/alone/{PACK}/task/parallel-through-p/ask/demonstration")
    put_work(paper, "parallel-through-p", key["moves"])
    a, b, p, q = (paper.at(name) for name in "ABPQ")
    assert paper.check().startswith("Constructed")
    return paper, direction(a, b), direction(p, q)


def direction(a: tuple[float, float], b: tuple[float, float]) -> float:
    return degrees(atan2(a[1] - b[1], b[0] - a[0])) % 180


def drawn(page: Any, line: str) -> float:
    """The direction of a line of the figure, as it stands on the screen."""
    ends = page.locator(f'#paper .figure-svg .line[data-name="{line}"] .line-ink').first.evaluate(
        "e => ['x1', 'y1', 'x2', 'y2'].map(n => Number(e.getAttribute(n)))"
    )
    return direction((ends[0], ends[1]), (ends[2], ends[3]))


def go_to(page: Any, task: str) -> None:
    page.evaluate("task => { location.hash = task; }", task)
    page.locator("#paper .figure-svg").first.wait_for()
    page.get_by_role("button", name=OWN).wait_for()


def near(one: float, two: float, most: float) -> bool:
    return abs((one - two + 90) % 180 - 90) <= most


def test_into_an_explore_task(lesson: Any) -> None:
    """Every line of it can be turned there, in whole degrees, and it answers the question."""
    paper, base, way = constructed(lesson)
    page = paper.page
    go_to(page, "make-them-equal")
    assert not near(drawn(page, "m"), drawn(page, "n"), 1)
    page.get_by_role("button", name=OWN).click()
    assert near(drawn(page, "m"), drawn(page, "n"), 0.01)
    assert near(drawn(page, "m"), base, 0.6) and near(drawn(page, "t"), way, 0.6)
    assert page.locator('.reach-mark[data-holds="true"]').count() == 1
    lesson.check(page, "own construction explored")
    # It is the student's to move: turned away by a degree it no longer holds, and turned back it does again.
    grip = page.locator('#paper .handle[data-line="n"][data-part="b"]')
    grip.focus()
    page.keyboard.press("ArrowUp")
    page.locator('.reach-mark[data-holds="false"]').wait_for()
    page.keyboard.press("ArrowDown")
    page.locator('.reach-mark[data-holds="true"]').wait_for()
    page.get_by_label("parallel, as drawn").check()
    page.get_by_role("button", name="Check my answer").click()
    page.locator('#verdict[data-tone="good"]').wait_for()
    saved(page)
    page.reload()
    page.locator('.reach-mark[data-holds="true"]').wait_for()
    assert near(drawn(page, "m"), base, 0.6)


def test_into_a_justify_task(lesson: Any) -> None:
    """Its congruent angles are the very givens of the task, by taps on the student's own figure."""
    paper, base, way = constructed(lesson, (390, 844), has_touch=True, is_mobile=True)
    page = paper.page
    go_to(page, "chain-corresponding")
    page.get_by_role("button", name=OWN).tap()
    assert (
        near(drawn(page, "m"), base, 0.01) and near(drawn(page, "n"), base, 0.01) and near(drawn(page, "t"), way, 0.05)
    )
    lesson.fits(page, "own construction justified")
    for name in ("2", "6"):
        page.evaluate("scrollTo(0, 0)")
        box = page.locator(f'#paper .figure-svg text:text-is("{name}")').first.bounding_box()
        page.touchscreen.tap(box["x"] + box["width"] / 2, box["y"] + box["height"] / 2)
    assert [page.locator(f'[data-blank="{blank}"]').input_value() for blank in "ab"] == ["2", "6"]
    answer = {
        "pair": "corresponding",
        "transversal": "t",
        "relation": "congruent",
        "l": "m",
        "m": "n",
        "theorem": "corresponding-angles-converse",
    }
    for blank, value in answer.items():
        page.locator(f'[data-blank="{blank}"]').select_option(value)
    page.get_by_role("button", name="Check my reason").tap()
    page.locator('#verdict[data-tone="good"]').wait_for()
    lesson.check(page, "own construction justified")


def test_into_a_prove_task(lesson: Any) -> None:
    """Another pair is given there: the figure comes, the marks of the construction do not; what is proved is the same."""
    paper, base, way = constructed(lesson)
    page = paper.page
    go_to(page, "chain-alternate-exterior")
    page.locator(".prove-book").wait_for()
    before = page.locator("#paper .figure-svg .arcs, #paper .figure-svg [class*=arc]").count()
    page.get_by_role("button", name=OWN).click()
    assert (
        near(drawn(page, "m"), base, 0.01) and near(drawn(page, "n"), base, 0.01) and near(drawn(page, "t"), way, 0.05)
    )
    assert page.locator("#paper .figure-svg .arcs, #paper .figure-svg [class*=arc]").count() == before
    rows = page.locator(".prove-book tbody")
    reasons = {
        "∠8 ≅ ∠5": "Vertical",
        "∠1 ≅ ∠4": "Vertical",
        "∠1 ≅ ∠5": "Transitive",
        "∠4 ≅ ∠8": "Transitive",
        "m ∥ n": "Corresponding Angles Converse",
    }
    for n in range(2, rows.count() + 1):
        choose(page, n, reasons[rows.nth(n - 1).locator(".statement-fixed").inner_text()])
    page.get_by_role("button", name="Hand in the proof").click()
    page.locator("#verdict").get_by_text("Proved").wait_for()
    lesson.check(page, "own construction proved")


def test_where_it_does_not_fit_it_is_not_offered(lesson: Any) -> None:
    """What is given there does not hold in the student's figure: ∠3 and ∠5 are not congruent in it."""
    page = constructed(lesson)[0].page
    page.evaluate("location.hash = 'enough-same-side'")
    page.locator('[data-blank="a"]').wait_for()
    assert page.get_by_role("button", name=OWN).count() == 0
