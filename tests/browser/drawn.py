"""After each act of a hand the page is let draw, as an eye would wait for it before the next look.

The page draws what an act has changed with its next frame. A look right after the act could come before that frame on
a busy machine, and a fixed pause is either too short there or too long everywhere else. `pages_are_drawn` therefore
makes each click, tap and key of the driver wait for two frames: one that was asked for by the act, and one that the
drawing itself may have asked for. Moves of a pointer that is down are not waited for: a hand does not wait either.
"""

from __future__ import annotations

from contextlib import suppress
from functools import wraps
from typing import Any
from weakref import WeakSet

from playwright.sync_api import Error, Keyboard, Locator, Mouse, Page, Touchscreen

# A page that is leaving draws no more: no longer than a second for it.
FRAMES = """() => globalThis.__pwClock ? null : new Promise((done) => {
  setTimeout(done, 1000);
  requestAnimationFrame(() => requestAnimationFrame(done));
})"""
# Where a test has put a clock of its own into the page, the page's timers are no measure: its frames are asked for here and looked for from outside.
ASKED = """() => { if (!globalThis.__pwClock) return false;
  globalThis.drawnSince = false;
  requestAnimationFrame(() => requestAnimationFrame(() => (globalThis.drawnSince = true)));
  return true; }"""

ACTS: dict[type, tuple[str, ...]] = {
    Page: ("click", "fill", "press", "check", "uncheck", "select_option", "tap"),
    Locator: ("click", "dblclick", "fill", "press", "check", "uncheck", "select_option", "tap", "press_sequentially",
              "drag_to", "dispatch_event", "focus"),
    Mouse: ("click", "dblclick", "up", "wheel"),
    Keyboard: ("press", "type", "insert_text", "down", "up"),
    Touchscreen: ("tap",),
}  # fmt: skip

# Contexts whose pages run no script: nothing there draws by itself, and no frame would ever be told of.
scriptless: WeakSet[Any] = WeakSet()


def drawn(page: Any) -> None:
    """Wait until the page has drawn what was changed before this call."""
    if page.is_closed() or page.context in scriptless:
        return
    with suppress(Error):  # the act has led to another page, or closed this one
        if page.evaluate(ASKED):
            page.wait_for_function("() => globalThis.drawnSince", polling=20, timeout=1000)
        page.evaluate(FRAMES)


class _Tool:
    """A mouse, keyboard or finger of one page."""

    def __init__(self, page: Any, tool: Any) -> None:
        self._page, self._tool = page, tool

    def __getattr__(self, name: str) -> Any:
        act = getattr(self._tool, name)
        return _then_drawn(act, lambda *_: self._page) if name in ACTS[type(self._tool)] else act


def _then_drawn(act: Any, page: Any) -> Any:
    @wraps(act)
    def then(*args: Any, **more: Any) -> Any:
        result = act(*args, **more)
        drawn(page(*args))
        return result

    return then


def pages_are_drawn(patch: Any) -> None:
    """Make the driver's acts wait; `patch` is a pytest MonkeyPatch, which takes it back."""
    for name in ACTS[Page]:
        patch.setattr(Page, name, _then_drawn(getattr(Page, name), lambda page, *_: page))
    for name in ACTS[Locator]:
        patch.setattr(Locator, name, _then_drawn(getattr(Locator, name), lambda one, *_: one.page))
    for name in ("mouse", "keyboard", "touchscreen"):
        tool = getattr(Page, name).fget
        patch.setattr(Page, name, property(lambda page, tool=tool: _Tool(page, tool(page))))
