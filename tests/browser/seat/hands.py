"""The three ways to work a task: by mouse, by taps alone (no drag, no keyboard), by the keyboard alone (no pointer).

Each does the same few acts, so that one test can be run with each pair of hands (A-11, A-18).
"""

from __future__ import annotations

import math
import re
from typing import Any

from playwright.sync_api import expect

from tests.browser.conftest import LAPTOP, PACK, PHONE, Lesson
from tests.browser.drawn import drawn

WAYS = ("mouse", "taps", "keys")


def open_task(lesson: Lesson, task: str, size: tuple[int, int] = LAPTOP, pack: str = PACK, **more: Any) -> Any:
    """A task opened alone, in a browser of its own."""
    page = lesson.page(size, **more)
    page.goto(f"/alone/{pack}/#{task}")
    page.locator("#card > *").first.wait_for()
    expect(page.locator("#verdict")).not_to_have_attribute("data-tone", "wait")
    return page


def hands(way: str, lesson: Lesson, task: str) -> Hands:
    if way == "taps":
        return Taps(open_task(lesson, task, PHONE, has_touch=True))
    page = open_task(lesson, task)
    return Mouse(page) if way == "mouse" else Keys(page)


class Hands:
    """What every pair of hands can do."""

    def __init__(self, page: Any) -> None:
        self.page = page

    def press(self, selector: str) -> None:
        raise NotImplementedError

    def choose(self, selector: str, value: str) -> None:
        """Choose an option of a list."""
        raise NotImplementedError

    def angle(self, name: str) -> None:
        raise NotImplementedError

    def turn(self, line: str, to: int) -> None:
        """Turn a line to a direction in degrees."""
        raise NotImplementedError

    def radio(self, name: str) -> None:
        raise NotImplementedError

    # Looking on, not acting.
    def verdict(self) -> str:
        line = self.page.locator("#verdict:not([data-tone=wait]):not([data-tone=plain])")
        line.wait_for()
        return str(line.inner_text())

    def direction(self, line: str) -> float:
        value = self.page.locator(f'[data-line="{line}"][data-part="b"]').get_attribute("aria-valuenow")
        return float(value)

    def off(self, line: str, to: float) -> float:
        """Degrees that a line has yet to turn, the short way round."""
        return (to - self.direction(line) + 90) % 180 - 90

    def middle(self, selector: str) -> tuple[float, float]:
        box = self.page.locator(selector).first.bounding_box()
        return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2

    def crossing(self, line: str) -> tuple[float, float]:
        """Where a line turns about: its one crossing."""
        name = {"m": "A", "n": "B"}[line]
        return self.middle(f'[data-kind=meet][data-name="{name}"] .meet-dot')

    def spot(self, name: str) -> tuple[float, float]:
        """A place well inside an angle: its number."""
        drawn(self.page)
        found = self.page.evaluate(
            """name => { const t = [...document.querySelectorAll('.fig-texts .angle-number, .fig-texts .angle-label')]
              .find((one) => one.getAttribute('data-key') === name || one.textContent === name);
              const box = t.getBoundingClientRect(); return [box.x + box.width / 2, box.y + box.height / 2]; }""",
            name,
        )
        return found[0], found[1]

    def pointing(self, line: str, to: float, far: float = 90) -> tuple[float, float]:
        x, y = self.crossing(line)
        return x + far * math.cos(math.radians(to)), y - far * math.sin(math.radians(to))


class Mouse(Hands):
    def press(self, selector: str) -> None:
        self.page.locator(selector).first.click()

    def choose(self, selector: str, value: str) -> None:
        self.page.locator(selector).select_option(value)

    def angle(self, name: str) -> None:
        self.page.mouse.click(*self.spot(name))

    def turn(self, line: str, to: int) -> None:
        """Drag a grip around the line's crossing, the short way."""
        x, y = self.crossing(line)
        gx, gy = self.middle(f'[data-line="{line}"][data-part="b"]')
        heading = math.degrees(math.atan2(y - gy, gx - x))
        way = (to - heading + 90) % 180 - 90
        self.page.mouse.move(gx, gy)
        self.page.mouse.down()
        for i in range(1, 13):
            self.page.mouse.move(*self.pointing(line, heading + way * i / 12, math.hypot(gx - x, gy - y)))
        self.page.mouse.up()

    def radio(self, name: str) -> None:
        self.page.locator("label", has_text=name).first.click()


class Taps(Hands):
    def tap(self, x: float, y: float) -> None:
        self.page.touchscreen.tap(x, y)

    def show(self, selector: str) -> None:
        self.page.locator(selector).first.evaluate("e => e.scrollIntoView({block: 'center'})")

    def press(self, selector: str) -> None:
        self.show(selector)
        self.tap(*self.middle(selector))

    def choose(self, selector: str, value: str) -> None:
        # A list's options unfold outside the page, so a tap on one can't be played; its choice can.
        self.press(selector)
        self.page.locator(selector).select_option(value)

    def angle(self, name: str) -> None:
        self.show(".figure-svg")
        self.tap(*self.spot(name))
        # Where the tap may mean several angles, the page asks.
        asked = self.page.locator(".figure-which button", has_text=re.compile(rf"^∠{name}$"))
        if asked.count():
            self.tap(*self.middle(f'.figure-which button:text-is("∠{name}")'))

    def turn(self, line: str, to: int) -> None:
        """Tap the grip, then tap where the line should point; the last degrees by the buttons."""
        self.show(".figure-svg")
        self.tap(*self.middle(f'[data-line="{line}"][data-part="b"]'))
        self.page.locator(f'[data-line="{line}"][data-part="b"][data-held]').wait_for()
        self.tap(*self.pointing(line, to))
        for _ in range(12):
            off = self.off(line, to)
            if not off:
                return
            self.press(".strip-step >> nth=1" if off > 0 else ".strip-step >> nth=0")
        raise AssertionError(f"line {line} does not get to {to}")

    def radio(self, name: str) -> None:
        label = self.page.locator("label", has_text=name).first
        label.evaluate("e => e.scrollIntoView({block: 'center'})")
        box = label.bounding_box()
        self.tap(box["x"] + 12, box["y"] + box["height"] / 2)


class Keys(Hands):
    """Tab, arrows, Enter, Space. Focus is moved by keys only, as far as a test has patience for."""

    def reach(self, test: str, backwards: bool = False) -> None:
        """Press Tab until the focus is on what `test` (a selector) matches."""
        for _ in range(90):
            if self.page.evaluate("s => Boolean(document.activeElement?.matches(s))", test):
                return
            self.page.keyboard.press("Shift+Tab" if backwards else "Tab")
        raise AssertionError(f"Tab never comes to {test}")

    def press(self, selector: str) -> None:
        self.reach(selector)
        self.page.keyboard.press("Enter")

    def choose(self, selector: str, value: str) -> None:
        self.reach(selector)
        name = self.page.locator(f'{selector} option[value="{value}"]').inner_text()
        self.page.keyboard.type(name)  # a list goes to the option whose beginning is typed
        assert self.page.locator(selector).input_value() == value

    def angle(self, name: str) -> None:
        self.reach("[data-kind=angle]")
        for _ in range(20):
            if self.page.evaluate("document.activeElement.dataset.name") == name:
                self.page.keyboard.press("Enter")
                return
            self.page.keyboard.press("ArrowRight")
        raise AssertionError(f"arrow keys never come to angle {name}")

    def turn(self, line: str, to: int) -> None:
        self.reach(f'[data-line="{line}"][data-part="b"]')
        while abs(off := self.off(line, to)) >= 10:
            self.page.keyboard.press("PageUp" if off > 0 else "PageDown")
        while off := self.off(line, to):
            self.page.keyboard.press("ArrowUp" if off > 0 else "ArrowDown")

    def radio(self, name: str) -> None:
        """Into the group by Tab, through it by the arrow keys."""
        group = self.page.locator("label", has_text=name).first.locator("input").get_attribute("name")
        self.reach(f'input[name="{group}"]')
        self.page.keyboard.press("Space")
        for _ in range(12):
            if name in self.page.evaluate("document.activeElement.closest('label').innerText"):
                if not self.page.evaluate("document.activeElement.checked"):
                    self.page.keyboard.press("Space")
                return
            self.page.keyboard.press("ArrowDown")
        raise AssertionError(f"arrow keys never come to {name}")
