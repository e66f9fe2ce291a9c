"""A construction on the page, handled as a hand, a finger or a keyboard would."""

from __future__ import annotations

from math import atan2, cos, hypot, pi, sin
from typing import Any

from tests.browser.drawn import drawn

Place = tuple[float, float]
PACK = "proving-lines-parallel"


class Paper:
    """The construct task of a student working alone."""

    def __init__(
        self, lesson: Any, task: str, size: tuple[int, int] = (1366, 633), pack: str = PACK, **more: Any
    ) -> None:
        self.lesson = lesson
        self.page = lesson.page(size, **more)
        self.page.goto(f"/alone/{pack}#{task}")
        self.page.locator(".c-spot").first.wait_for(state="attached")
        drawn(self.page)

    def spots(self) -> list[str]:
        found: list[str] = self.page.locator(".c-spot").evaluate_all(
            "all => all.map(one => one.getAttribute('aria-label'))"
        )
        return found

    def at(self, name: str, nth: int = 0) -> Place:
        """The middle of a point or crossing, in pixels of the window."""
        label = f"Point {name}" if len(name) < 3 else name
        box = self.page.locator(f'.c-spot[aria-label="{label}"]').nth(nth).bounding_box()
        return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2

    def crossing(self, *words: str) -> str:
        """The one crossing whose name has all these words."""
        found = [spot for spot in self.spots() if spot.startswith("Crossing") and all(word in spot for word in words)]
        assert found, (words, self.spots())
        return found[0]

    def pick(self, instrument: str) -> None:
        self.page.locator(".c-instrument", has_text=instrument).click()

    def press(self, words: str) -> None:
        self.page.get_by_role("button", name=words, exact=True).click()

    def said(self) -> str:
        text: str = self.page.locator("#verdict").inner_text()
        return text

    def steps(self) -> list[str]:
        found: list[str] = self.page.locator(".c-step").all_inner_texts()
        return found

    def check(self) -> str:
        self.press("Check my construction")
        self.page.locator("#verdict:not([data-tone=wait])").wait_for()
        return self.said()


def part(a: Place, b: Place, k: float) -> Place:
    return a[0] + (b[0] - a[0]) * k, a[1] + (b[1] - a[1]) * k


def arc_points(center: Place, through: Place, degrees: float, steps: int = 24) -> list[Place]:
    """Places along a circle on screen, counterclockwise as seen for positive degrees."""
    r = hypot(through[0] - center[0], through[1] - center[1])
    a = atan2(-(through[1] - center[1]), through[0] - center[0])
    turns = [a + degrees * pi / 180 * i / steps for i in range(steps + 1)]
    return [(center[0] + r * cos(t), center[1] - r * sin(t)) for t in turns]
