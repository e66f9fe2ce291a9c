"""Four pairs of hands with the same verbs: a mouse, a finger that only taps, fingers that also drag, a keyboard.

Each does what its user could do and nothing else: the mouse drags, the finger taps and never drags (WCAG 2.2 SC 2.5.7),
the keyboard presses keys and never clicks (SC 2.1.1). Scripts only look; they neither focus, click nor set anything.
The one exception: the pop-up of a native list belongs to the browser, where no script can reach it, so that mouse and
finger choose in it through the driver.
"""

from __future__ import annotations

from math import atan2, cos, hypot, pi, sin
from typing import Any

from tests.browser.drawn import drawn
from tests.browser.see import expect
from tests.browser.touch import Finger

Place = tuple[float, float]

MOST_TABS = 160  # from anywhere in the page to anywhere else
# A place inside a sector, far from its sides: the middle of those of its places that a pointer would hit.
MIDDLE = """part => {
  const hit = part.querySelector('.hit');
  const box = hit.getBBox(), toPage = hit.getScreenCTM();
  let [x, y, n] = [0, 0, 0];
  for (let i = 1; i < 24; i += 1) for (let j = 1; j < 24; j += 1) {
    const p = new DOMPoint(box.x + box.width * i / 24, box.y + box.height * j / 24);
    if (hit.isPointInFill(p)) [x, y, n] = [x + p.x, y + p.y, n + 1];
  }
  const at = new DOMPoint(x / n, y / n).matrixTransform(toPage);
  return [at.x, at.y];
}"""
# A place on a line with nothing else near: half way from its longer free end to the nearest crossing.
ALONG = """part => {
  const ink = part.querySelector('.line-ink'), toPage = ink.getScreenCTM();
  const a = new DOMPoint(+ink.getAttribute('x1'), +ink.getAttribute('y1')).matrixTransform(toPage);
  const b = new DOMPoint(+ink.getAttribute('x2'), +ink.getAttribute('y2')).matrixTransform(toPage);
  const meets = [...part.ownerSVGElement.querySelectorAll('.meet')].map(m => m.getScreenCTM());
  let best = null, room = -1;
  for (let k = 1; k < 40; k += 1) {
    const p = {x: a.x + (b.x - a.x) * k / 40, y: a.y + (b.y - a.y) * k / 40};
    const free = Math.min(Math.hypot(p.x - a.x, p.y - a.y), Math.hypot(p.x - b.x, p.y - b.y),
      ...meets.map(m => Math.hypot(p.x - m.e, p.y - m.f)));
    if (free > room) [best, room] = [p, free];
  }
  return [best.x, best.y];
}"""


# Scroll a thing into the middle of the window if a finger at its middle would not meet it, as a reader does.
REACHED = """thing => {
  const meets = () => {
    const b = thing.getBoundingClientRect(), x = b.x + b.width / 2, y = b.y + b.height / 2;
    const hit = document.elementFromPoint(x, y);
    return hit && (thing.contains(hit) || hit.contains(thing) || thing.labels?.[0]?.contains(hit));
  };
  if (!meets()) thing.scrollIntoView({block: 'center', behavior: 'instant'});
}"""


# Whether a finger at a place meets the thing.
UNDER = """(thing, [x, y]) => {
  const hit = document.elementFromPoint(x, y);
  return Boolean(hit && (thing.contains(hit) || hit.contains(thing) || thing.labels?.[0]?.contains(hit)));
}"""


class Hand:
    """What mouse and finger share: they go to places. The keyboard has ways of its own."""

    name = ""

    def __init__(self, page: Any) -> None:
        self.page = page

    # ── to be given by each hand ──
    def hit(self, place: Place) -> None:
        """A click or a tap at a place of the window."""
        raise NotImplementedError

    def press(self, thing: Any) -> None:
        """A button or the label of a radio."""
        raise NotImplementedError

    # ── what follows from them ──
    def check(self, radio: Any) -> None:
        """Choose a radio or tick a box by its label."""
        self.press(radio.locator("xpath=ancestor::label"))
        expect(radio).to_be_checked()

    def choose(self, select: Any, value: str) -> None:
        select.scroll_into_view_if_needed()
        select.select_option(value)
        expect(select).to_have_value(value)

    def write(self, field: Any, text: str) -> None:
        self.press(field)
        self.type(text)
        expect(field).to_have_value(text)

    def type(self, text: str) -> None:
        self.page.keyboard.press("Control+a")
        self.page.keyboard.type(text)

    def pick(self, kind: str, name: str) -> None:
        """An angle or a line in the figure."""
        self.hit(
            self._place(
                f'#paper .figure-svg [data-kind="{kind}"][data-name="{name}"]', MIDDLE if kind == "angle" else ALONG
            )
        )

    def _place(self, selector: str, script: str) -> Place:
        part = self.page.locator(selector).first
        self.page.locator("#paper .figure-svg").first.scroll_into_view_if_needed()
        x, y = part.evaluate(script)
        return x, y

    def reason(self, field: Any, reason: dict[str, str]) -> None:
        """Choose a reason {id, name} in a field that offers its list."""
        self.press(field)
        self.press(field.locator("xpath=..").locator(f'[data-id="{reason["id"]}"]'))
        expect(field).to_have_value(reason["name"])

    # ── the figure's lines ──
    def direction(self, line: str) -> int:
        return round(float(self._grip(line).get_attribute("aria-valuenow")))

    def _grip(self, line: str) -> Any:
        return self.page.locator(f'#paper .handle[data-line="{line}"][data-part="b"]')

    def _pivot(self, meet: str) -> Place:
        return self._middle(self.page.locator(f'#paper .figure-svg .meet[data-name="{meet}"] .meet-dot'))

    def _middle(self, thing: Any) -> Place:
        box = thing.bounding_box()
        return box["x"] + box["width"] / 2, box["y"] + box["height"] / 2

    def turn(self, line: str, to: int, about: str) -> None:
        """Turn a line to a direction, about its crossing."""
        raise NotImplementedError

    # ── the paper of a construction ──
    def spot(self, label: str, near: Place | None = None) -> None:
        """A point or crossing by its name; of several of one name, the one nearest to a place."""
        place = self._middle(self._spot(label, near))
        met = self.page.evaluate("([x, y]) => Boolean(document.elementFromPoint(x, y)?.closest('.c-sheet'))", place)
        assert met, f"{label} at {place} is not on the paper in the window"
        self.hit(place)

    def _spot(self, label: str, near: Place | None) -> Any:
        # Where the same two things cross twice, their name goes on to say which crossing it is.
        same = "^=" if label.startswith("Crossing") else "="
        found = self.page.locator(f'.c-spot[aria-label{same}"{label}"]')
        found.first.wait_for(state="attached")
        if near is None:
            assert found.count() == 1, (label, found.count())
            return found.first
        places = [self._middle(one) for one in found.all()]
        far = [hypot(x - near[0], y - near[1]) for x, y in places]
        return found.nth(far.index(min(far)))

    def point(self, name: str) -> Place:
        return self._middle(self.page.locator(f'.c-spot[aria-label="Point {name}"]'))

    def mark(self, thing: str, a: str, b: str, part: float) -> None:
        """A place on a thing, a part of the way from point a to point b, with the instrument in hand."""
        (ax, ay), (bx, by) = self.point(a), self.point(b)
        self.hit((ax + (bx - ax) * part, ay + (by - ay) * part))

    def take(self, instrument: str) -> None:
        self.press(self.page.locator(".c-instrument", has_text=instrument))


class Mouse(Hand):
    """Presses, clicks and drags."""

    name = "mouse"

    def hit(self, place: Place) -> None:
        self.page.mouse.click(*place)

    def press(self, thing: Any) -> None:
        thing.click()

    def turn(self, line: str, to: int, about: str) -> None:
        for _ in range(4):
            off = (to - self.direction(line) + 90) % 180 - 90
            if off == 0:
                return
            center, start = self._pivot(about), self._middle(self._grip(line))
            r = hypot(start[0] - center[0], start[1] - center[1])
            first = atan2(center[1] - start[1], start[0] - center[0])
            steps = max(6, abs(off))
            self.page.mouse.move(*start)
            self.page.mouse.down()
            for i in range(1, steps + 1):
                a = first + off * pi / 180 * i / steps
                self.page.mouse.move(center[0] + r * cos(a), center[1] - r * sin(a))
                self.page.wait_for_timeout(8)
            self.page.mouse.up()
        raise AssertionError(f"line {line} stands at {self.direction(line)}, not {to}")


class Taps(Hand):
    """Single taps of one finger. Needs a context that has touch."""

    name = "taps"

    def hit(self, place: Place) -> None:
        self.page.touchscreen.tap(*place)

    def press(self, thing: Any) -> None:
        thing.tap()

    def turn(self, line: str, to: int, about: str) -> None:
        """Tap the grip, tap where it should point; the last degree by the buttons with − and +."""
        self.page.locator("#paper .figure-svg").first.scroll_into_view_if_needed()
        self.hit(self._middle(self._grip(line)))
        expect(self._grip(line)).to_have_attribute("data-held", "")
        center, grip = self._pivot(about), self._middle(self._grip(line))
        r = hypot(grip[0] - center[0], grip[1] - center[1]) * 0.8
        a = to * pi / 180
        ways = [(center[0] + s * r * cos(a), center[1] - s * r * sin(a)) for s in (1, -1)]
        self.hit(min(ways, key=lambda p: hypot(p[0] - grip[0], p[1] - grip[1])))
        expect(self._grip(line)).not_to_have_attribute("data-held", "")
        for _ in range(12):
            now = self.direction(line)
            off = (to - now + 90) % 180 - 90
            if off == 0:
                return
            self.press(self.page.locator("#paper .figure-strip .strip-step").nth(1 if off > 0 else 0))
            expect(self._grip(line)).not_to_have_attribute("aria-valuenow", str(now))
        raise AssertionError(f"line {line} stands at {self.direction(line)}, not {to}")


class Touch(Taps):
    """Real fingers through the browser's own touch input: they tap, and they drag where a student would drag."""

    name = "touch"

    def __init__(self, page: Any) -> None:
        super().__init__(page)
        self.finger = Finger(page)

    def hit(self, place: Place) -> None:
        self.finger.tap(place)

    def press(self, thing: Any) -> None:
        expect(thing).to_be_visible()
        expect(thing).to_be_enabled()
        for _ in range(60):  # until it lies still under the place that is meant: the page may just be making room
            thing.evaluate(REACHED)
            place = self._middle(thing)
            drawn(self.page)
            if self._middle(thing) == place and thing.evaluate(UNDER, list(place)):
                break
        self.finger.tap(place)

    def turn(self, line: str, to: int, about: str) -> None:
        self.page.locator("#paper .figure-svg").first.evaluate(REACHED)
        for _ in range(5):
            off = (to - self.direction(line) + 90) % 180 - 90
            if off == 0:
                return
            self.finger.swing(self._pivot(about), self._middle(self._grip(line)), off, max(6, abs(off)))
        raise AssertionError(f"line {line} stands at {self.direction(line)}, not {to}")


# Whether Tab is at the thing: at the very element, at its group where arrows go on from one to the next (radios, the
# angles of a figure, the points of a construction, the symbols).
AT = """(thing) => {
  const e = document.activeElement;
  if (!e || e === document.body) return 'on';
  const group = x => x.closest('[role=toolbar], .seat-path') ?? x.closest('.fig-angles, .fig-lines, .fig-meets') ?? (x.classList.contains('c-spot') || x.dataset.kind ? x.parentNode : null);
  if (e === thing || (e.type === 'radio' && thing.type === 'radio' && e.name === thing.name)) return 'here';
  if (group(thing) && group(e) === group(thing)) return 'here';
  return e.compareDocumentPosition(thing) & Node.DOCUMENT_POSITION_FOLLOWING ? 'on' : 'back';
}"""


class Keys(Hand):
    """A keyboard alone: Tab and Shift+Tab, arrows, Enter, Space, letters."""

    name = "keys"

    def hit(self, place: Place) -> None:
        raise AssertionError("a keyboard has no places")

    def reach(self, thing: Any) -> None:
        """Go with Tab until the thing, or the group that it belongs to, has the focus."""
        for _ in range(MOST_TABS):
            way = thing.evaluate(AT)  # looked up anew each time: the card may just have been built again
            if way == "here":
                return
            self.page.keyboard.press("Tab" if way == "on" else "Shift+Tab")
        raise AssertionError(f"Tab does not reach {thing}")

    def _is(self, thing: Any) -> bool:
        return bool(thing.evaluate("thing => document.activeElement === thing"))

    def press(self, thing: Any) -> None:
        self.reach(thing)
        if not self._is(thing):
            if thing.evaluate("thing => Boolean(thing.closest('.seat-path'))"):
                self.page.keyboard.press("Home")  # the row of tasks doesn't begin anew at its end
            self._along(thing, "ArrowRight")
        self.page.keyboard.press("Enter")

    def _along(self, thing: Any, key: str, most: int = 40) -> None:
        for _ in range(most):
            if self._is(thing):
                return
            self.page.keyboard.press(key)
        raise AssertionError(f"{key} does not reach {thing}")

    def check(self, radio: Any) -> None:
        self.reach(radio)
        if radio.get_attribute("type") == "radio":
            self._along(radio, "ArrowDown")
        if not radio.is_checked():
            self.page.keyboard.press("Space")
        expect(radio).to_be_checked()

    def choose(self, select: Any, value: str) -> None:
        self.reach(select)
        self.page.keyboard.press("Home")
        for _ in range(40):
            if select.input_value() == value:
                return
            self.page.keyboard.press("ArrowDown")
        raise AssertionError(f"{value!r} can't be chosen by arrows; it says {select.input_value()!r}")

    def write(self, field: Any, text: str) -> None:
        self.reach(field)
        self.type(text)
        expect(field).to_have_value(text)

    def pick(self, kind: str, name: str) -> None:
        thing = self.page.locator(f'#paper .figure-svg [data-kind="{kind}"][data-name="{name}"]').first
        self.reach(thing)
        self._along(thing, "ArrowRight")
        self.page.keyboard.press("Enter")

    def reason(self, field: Any, reason: dict[str, str]) -> None:
        """Type the name, go down to it in the list, take it."""
        self.reach(field)
        self.type(reason["name"])
        wanted = field.locator("xpath=..").locator(f'[data-id="{reason["id"]}"]')
        for _ in range(20):
            self.page.keyboard.press("ArrowDown")
            if wanted.get_attribute("aria-selected") == "true":
                break
        self.page.keyboard.press("Enter")
        expect(field).to_have_value(reason["name"])

    def turn(self, line: str, to: int, about: str) -> None:
        self.reach(self._grip(line))
        off = (to - self.direction(line) + 90) % 180 - 90
        for key, times in (
            ("PageUp" if off > 0 else "PageDown", abs(off) // 10),
            ("ArrowUp" if off > 0 else "ArrowDown", abs(off) % 10),
        ):
            for _ in range(times):
                self.page.keyboard.press(key)
        expect(self._grip(line)).to_have_attribute("aria-valuenow", str(to % 180))

    def spot(self, label: str, near: Place | None = None) -> None:
        wanted = self._spot(label, near)
        self.reach(wanted)
        self._walk(wanted)
        self.page.keyboard.press("Enter")

    def _walk(self, wanted: Any) -> None:
        """Arrows toward the spot, as one who sees it would press them; around a corner where the straight way is shut."""
        seen: dict[str, int] = {}
        for _ in range(80):
            if self._is(wanted):
                return
            here, there = self._middle(self.page.locator(".c-spot:focus")), self._middle(wanted)
            dx, dy = there[0] - here[0], there[1] - here[1]
            side, up = ("ArrowRight" if dx > 0 else "ArrowLeft"), ("ArrowDown" if dy > 0 else "ArrowUp")
            ways = [side, up] if abs(dx) >= abs(dy) else [up, side]
            ways += [key for key in ("ArrowLeft", "ArrowUp", "ArrowRight", "ArrowDown") if key not in ways]
            place = f"{here[0]:.0f} {here[1]:.0f}"
            turn = seen.get(place, 0)
            seen[place] = turn + 1
            self.page.keyboard.press(ways[turn % 4])
        raise AssertionError(f"the arrows do not reach {wanted.get_attribute('aria-label')}")

    def mark(self, thing: str, a: str, b: str, part: float) -> None:
        """The folded slip "by numbers": the thing from its list, the place along it by a slider of a hundred steps."""
        page = self.page
        slip = page.locator(".c-place")
        if slip.get_attribute("open") is None:
            self.press(slip.locator("summary"))
        where = slip.locator("#c-where")
        self.reach(where)
        value = where.locator("option", has_text=thing).first.get_attribute("value")
        self.choose(where, value)
        along = slip.locator("#c-along")
        self.reach(along)
        # The slider goes over what is seen of a thing: a line half its length beyond both points, a ray half beyond its second.
        steps = round(100 * ((part + 0.5) / 2 if thing.startswith("line") else (part - 0.02) / 1.48))
        page.keyboard.press("Home")
        for key, times in (("PageUp", steps // 10), ("ArrowRight", steps % 10)):
            for _ in range(times):
                page.keyboard.press(key)
        expect(along).to_have_value(str(steps))
        self.press(slip.get_by_role("button", name="Use this place"))

    def take(self, instrument: str) -> None:
        self.press(self.page.locator(".c-instrument", has_text=instrument))
