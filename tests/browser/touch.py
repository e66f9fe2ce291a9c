"""A real finger: the browser's own touch input through its debugging protocol, with gesture arbitration.

`Input.dispatchTouchEvent` enters where a touch screen's driver does, so the browser decides as on a tablet whether a finger
that moves drags a thing or scrolls the page, and takes the pointer away (`pointercancel`) where it scrolls. Made-up pointer
events in the page would pass through none of that.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import atan2, cos, hypot, pi, sin
from typing import Any

from tests.browser.drawn import drawn

Place = tuple[float, float]
STEP_MS = 12  # between two places: some eighty a second, as a touch screen reports them


class Finger:
    """One hand's fingers on a page whose context has touch. Places are in pixels of the window."""

    def __init__(self, page: Any) -> None:
        self.page = page
        self.client = page.context.new_cdp_session(page)

    def _send(self, kind: str, *places: Place) -> None:
        points = [
            {"x": x, "y": y, "id": i, "radiusX": 8, "radiusY": 8, "force": 0.5} for i, (x, y) in enumerate(places)
        ]
        self.client.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})

    def down(self, *places: Place) -> None:
        self._send("touchStart", *places)

    def move(self, *places: Place) -> None:
        self._send("touchMove", *places)
        self.page.wait_for_timeout(STEP_MS)

    def up(self) -> None:
        self._send("touchEnd")
        drawn(self.page)

    def cancel(self) -> None:
        """The system takes the touch away: a call comes in, a palm is told from a finger."""
        self._send("touchCancel")
        drawn(self.page)

    def tap(self, place: Place) -> None:
        self.down(place)
        self.up()

    def along(self, places: Sequence[Place]) -> None:
        """Down at the first place, through the others, up at the last."""
        self.down(places[0])
        for place in places[1:]:
            self.move(place)
        self.up()

    def drag(self, start: Place, end: Place, steps: int = 12) -> None:
        (x, y), (to_x, to_y) = start, end
        self.along([(x + (to_x - x) * i / steps, y + (to_y - y) * i / steps) for i in range(steps + 1)])

    def swing(self, center: Place, start: Place, degrees: float, steps: int = 24) -> None:
        """Along a circle, counterclockwise as seen for positive degrees."""
        r = hypot(start[0] - center[0], start[1] - center[1])
        a = atan2(center[1] - start[1], start[0] - center[0])
        turns = [a + degrees * pi / 180 * i / steps for i in range(steps + 1)]
        self.along([(center[0] + r * cos(t), center[1] - r * sin(t)) for t in turns])

    def pinch(self, center: Place, gap: float, to: float, steps: int = 6) -> None:
        """Two fingers beside a place, `gap` pixels from it each, moved until they are `to` pixels from it."""
        x, y = center
        gaps = [gap + (to - gap) * i / steps for i in range(steps + 1)]
        self.down((x - gaps[0], y), (x + gaps[0], y))
        for one in gaps[1:]:
            self.move((x - one, y), (x + one, y))
        self.up()

    def drag_two(self, start: Place, end: Place, gap: float = 40, steps: int = 8) -> None:
        """Two fingers side by side that move together."""
        (x, y), (to_x, to_y) = start, end
        for i in range(steps + 1):
            at = (x + (to_x - x) * i / steps, y + (to_y - y) * i / steps)
            (self.down if i == 0 else self.move)((at[0] - gap, at[1]), (at[0] + gap, at[1]))
        self.up()
