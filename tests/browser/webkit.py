"""The third engine, the one of tablets: WebKit by WebDriver, with the verbs that the walks of the lesson use.

The driver of the two other engines has no way into a WebKit that Debian ships, so this speaks the W3C's WebDriver protocol
(through selenium) behind the same few names: `page.locator(…).click()`, `page.mouse`, `page.keyboard`. A locator is a list
of steps that is looked up anew by each act, in the page, in one call. `seen` is the `expect` of these locators.
"""

from __future__ import annotations

import glob
import os
import re
import shutil
import subprocess
import time
import warnings
from collections.abc import Callable, Iterator
from contextlib import contextmanager, suppress
from typing import Any

from tests.need import need
from tests.ports import free_port

PATIENCE = 20.0  # seconds until something that is waited for is given up: a busy machine, a software renderer
EVERY = 0.05

# Look a locator's steps up. Each step narrows or leads on from the elements found so far, in the order of the document.
FIND = r"""
const [steps] = arguments;
const flat = text => (text ?? '').replace(/\s+/g, ' ').trim();
const pattern = p => p.re ? new RegExp(p.re, p.flags) : null;
const says = (text, p) => p.re ? pattern(p).test(text) : p.exact ? flat(text) === flat(p.text)
  : flat(text).toLowerCase().includes(flat(p.text).toLowerCase());
const roles = {button: 'button,summary,[role=button],input[type=submit]', link: 'a[href],[role=link]', heading: 'h1,h2,h3,h4',
  radio: 'input[type=radio]', checkbox: 'input[type=checkbox]', textbox: 'input[type=text],textarea', switch: '[role=switch]',
  status: '[role=status],output', slider: 'input[type=range],[role=slider]', option: 'option,[role=option]'};
const named = e => e.getAttribute('aria-labelledby')
  ? e.getAttribute('aria-labelledby').split(/\s+/).map(id => document.getElementById(id)?.textContent ?? '').join(' ')
  : e.getAttribute('aria-label') ?? [...(e.labels ?? [])].map(l => l.textContent).join(' ') ?? '';
const nameOf = e => flat(named(e)) || flat(e.innerText ?? e.textContent);
const shown = e => e.checkVisibility ? e.checkVisibility({visibilityProperty: true}) && e.getClientRects().length > 0
  : !!e.getClientRects().length && getComputedStyle(e).visibility !== 'hidden';
let found = [document];
const once = list => [...new Set(list)];
for (const step of steps) {
  if (step.css) found = once(found.flatMap(e => [...e.querySelectorAll(step.css)]));
  else if (step.xpath) found = once(found.flatMap(e => {
    const all = document.evaluate(step.xpath, e, null, XPathResult.ORDERED_NODE_SNAPSHOT_TYPE, null);
    return Array.from({length: all.snapshotLength}, (_, i) => all.snapshotItem(i));
  }));
  else if (step.role) found = once(found.flatMap(e => [...e.querySelectorAll(roles[step.role])]))
    .filter(e => shown(e) && (!step.name || says(nameOf(e), step.name)));
  else if (step.text) found = once(found.flatMap(e => [...e.querySelectorAll('*')]))
    .filter(e => says(e.textContent, step.text) && ![...e.children].some(c => says(c.textContent, step.text)));
  else if (step.has_text) found = found.filter(e => says(e.textContent, step.has_text));
  else if (step.visible) found = found.filter(shown);
  else if ('nth' in step) found = found.slice(step.nth < 0 ? found.length + step.nth : step.nth).slice(0, 1);
  if (!found.length) break;
}
"""
SHOWN = "return found.length > 0 && shown(found[0]);"
# The middle of what can be seen of an element, after it was brought into view, and whether a pointer would hit it there.
PLACE = """
if (!found.length) return null;
const one = found[0], label = one.labels?.[0];
const inside = () => {
  const b = one.getBoundingClientRect();
  return b.top >= 0 && b.left >= 0 && b.bottom <= innerHeight && b.right <= innerWidth;
};
const place = () => {
  const b = one.getBoundingClientRect();
  const x = (Math.max(0, b.left) + Math.min(innerWidth, b.right)) / 2, y = (Math.max(0, b.top) + Math.min(innerHeight, b.bottom)) / 2;
  const hit = document.elementFromPoint(x, y);
  return {x, y, free: shown(one) && !one.disabled && !!hit && (one.contains(hit) || !!label?.contains(hit))};
};
// An option of a list that scrolls may lie in the window and yet be cut off by its list.
for (const block of ['nearest', 'center']) {
  if (inside() && place().free) break;
  one.scrollIntoView({block, inline: 'nearest', behavior: 'instant'});
}
return place();
"""
FRAMES = "const done = arguments[0]; setTimeout(done, 1000); requestAnimationFrame(() => requestAnimationFrame(done));"

# Names of keys as the walks say them → the code points of the WebDriver standard (§17.4.2, Keyboard actions).
KEYS = {
    "Shift": "\ue008", "Control": "\ue009", "Alt": "\ue00a", "Enter": "\ue007", "Tab": "\ue004", "Escape": "\ue00c",
    "Space": " ", "Backspace": "\ue003", "Delete": "\ue017", "Home": "\ue011", "End": "\ue010", "PageUp": "\ue00e",
    "PageDown": "\ue00f", "ArrowLeft": "\ue012", "ArrowUp": "\ue013", "ArrowRight": "\ue014", "ArrowDown": "\ue015",
}  # fmt: skip


def _pattern(value: Any, exact: bool = False) -> dict[str, Any]:
    if isinstance(value, re.Pattern):
        return {"re": value.pattern, "flags": "i" if value.flags & re.IGNORECASE else ""}
    return {"text": value, "exact": exact}


def _steps(selector: str) -> list[dict[str, Any]]:
    return (
        [{"xpath": selector.removeprefix("xpath=")}] if selector.startswith(("xpath=", "..")) else [{"css": selector}]
    )


class Finder:
    """What a page and a locator have in common: both lead on to locators."""

    def __init__(self, page: WebKitPage | None, steps: list[dict[str, Any]]) -> None:
        self._page, self._steps = page, steps

    @property
    def page(self) -> WebKitPage:
        assert self._page
        return self._page

    def locator(self, selector: str, *, has_text: Any = None) -> WebKitLocator:
        more = [] if has_text is None else [{"has_text": _pattern(has_text)}]
        return WebKitLocator(self.page, self._steps + _steps(selector) + more)

    def get_by_role(self, role: str, *, name: Any = None, exact: bool = False) -> WebKitLocator:
        step = {"role": role, "name": None if name is None else _pattern(name, exact)}
        return WebKitLocator(self.page, [*self._steps, step])

    def get_by_text(self, text: Any, *, exact: bool = False) -> WebKitLocator:
        return WebKitLocator(self.page, [*self._steps, {"text": _pattern(text, exact)}])


class WebKitLocator(Finder):
    """Elements that are looked up anew by each act."""

    def _then(self, **step: Any) -> WebKitLocator:
        return WebKitLocator(self.page, [*self._steps, step])

    @property
    def first(self) -> WebKitLocator:
        return self.nth(0)

    @property
    def last(self) -> WebKitLocator:
        return self.nth(-1)

    def nth(self, n: int) -> WebKitLocator:
        return self._then(nth=n)

    def filter(self, *, has_text: Any = None, visible: bool = False) -> WebKitLocator:
        return self._then(visible=True) if visible else self._then(has_text=_pattern(has_text))

    # ── looking ──
    def look(self, script: str, *args: Any) -> Any:
        """The answer of a script that has `found`, the elements as they are now."""
        return self.page.driver.execute_script(FIND + script, self._steps, *args)

    def count(self) -> int:
        return int(self.look("return found.length;"))

    def all(self) -> list[WebKitLocator]:
        return [self.nth(i) for i in range(self.count())]

    def _there(self) -> WebKitLocator:
        self.page.until(lambda: self.count() > 0, f"{self} is not there")
        return self

    def evaluate(self, script: str, arg: Any = None) -> Any:
        return self._there().look(f"return ({script})(found[0], arguments[1]);", arg)

    def evaluate_all(self, script: str) -> Any:
        return self.look(f"return ({script})(found);")

    def get_attribute(self, name: str) -> str | None:
        return self._there().look("return found[0].getAttribute(arguments[1]);", name)  # type: ignore[no-any-return]

    def inner_text(self) -> str:
        return str(self._there().look("return found[0].innerText ?? found[0].textContent;"))

    def all_inner_texts(self) -> list[str]:
        return list(self.look("return found.map(e => e.innerText ?? e.textContent);"))

    def input_value(self) -> str:
        return str(self._there().look("return found[0].value;"))

    def is_visible(self) -> bool:
        return bool(self.look(SHOWN))

    def is_checked(self) -> bool:
        return bool(self._there().look("return found[0].checked;"))

    def is_enabled(self) -> bool:
        return bool(self._there().look("return !found[0].disabled;"))

    def bounding_box(self) -> dict[str, float]:
        box: dict[str, float] = self._there().look(
            "const b = found[0].getBoundingClientRect(); return {x: b.x, y: b.y, width: b.width, height: b.height};"
        )
        return box

    # ── acting ──
    def scroll_into_view_if_needed(self) -> None:
        self._there().look(PLACE)

    def wait_for(self, *, state: str = "visible") -> None:
        test = {
            "visible": self.is_visible,
            "attached": lambda: self.count() > 0,
            "hidden": lambda: not self.is_visible(),
        }[state]
        self.page.until(test, f"{self} is not {state}")

    def click(self) -> None:
        """Bring it into view, wait until a pointer would hit it, press and let go in its middle."""
        self.page.until(lambda: (self.look(PLACE) or {}).get("free"), f"{self} can't be clicked")
        at = self.look(PLACE)
        self.page.mouse.click(at["x"], at["y"])

    def press(self, key: str) -> None:
        self._there().look("found[0].focus();")
        self.page.keyboard.press(key)

    def select_option(self, value: str) -> None:
        """The pop-up of a native list is the browser's: the driver chooses in it, as in the other engines."""
        self._there()
        index = self.look("return [...found[0].options].findIndex(o => o.value === arguments[1]);", value)
        assert index >= 0, f"{self} has no {value!r}"
        select = self.look("return found[0];")
        from selenium.webdriver.support.select import Select

        Select(select).select_by_value(value)
        self.page.drawn()

    def __str__(self) -> str:
        return " › ".join(str(next(iter(step.values()))) for step in self._steps)


class Mouse:
    def __init__(self, page: WebKitPage) -> None:
        self.page = page
        self.at = (0.0, 0.0)

    def _act(self, *acts: dict[str, Any]) -> None:
        self.page.actions(
            [{"type": "pointer", "id": "mouse", "parameters": {"pointerType": "mouse"}, "actions": list(acts)}]
        )

    def move(self, x: float, y: float) -> None:
        self._act({"type": "pointerMove", "duration": 0, "x": round(x), "y": round(y), "origin": "viewport"})

    def down(self) -> None:
        self._act({"type": "pointerDown", "button": 0})

    def up(self) -> None:
        self._act({"type": "pointerUp", "button": 0})
        self.page.drawn()

    def click(self, x: float, y: float) -> None:
        self.move(x, y)
        self._act({"type": "pointerDown", "button": 0})
        self.up()


class Keyboard:
    def __init__(self, page: WebKitPage) -> None:
        self.page = page

    def press(self, keys: str) -> None:
        """`Shift+Tab`, `Control+a`, `Enter`, a letter."""
        codes = [KEYS.get(key, key) for key in (keys.split("+") if len(keys) > 1 else [keys])]
        down = [{"type": "keyDown", "value": code} for code in codes]
        up = [{"type": "keyUp", "value": code} for code in reversed(codes)]
        self.page.actions([{"type": "key", "id": "keys", "actions": down + up}])
        self.page.drawn()

    def type(self, text: str) -> None:
        acts = [{"type": way, "value": letter} for letter in text for way in ("keyDown", "keyUp")]
        self.page.actions([{"type": "key", "id": "keys", "actions": acts}])
        self.page.drawn()


class WebKitPage(Finder):
    """One window of WebKit."""

    def __init__(self, driver: Any, base: str) -> None:
        super().__init__(None, [])
        self.driver, self.base = driver, base
        self.mouse, self.keyboard = Mouse(self), Keyboard(self)

    @property
    def page(self) -> WebKitPage:
        return self

    @property
    def url(self) -> str:
        return str(self.driver.current_url)

    def goto(self, path: str) -> None:
        self.driver.get(path if "://" in path else self.base + path)

    def reload(self) -> None:
        self.driver.refresh()

    def click(self, selector: str) -> None:
        self.locator(selector).click()

    def fill(self, selector: str, text: str) -> None:
        self.locator(selector).click()
        self.keyboard.press("Control+a")
        self.keyboard.type(text)

    def evaluate(self, script: str, arg: Any = None) -> Any:
        return self.driver.execute_script(
            f"const script = {script}; return typeof script === 'function' ? script(arguments[0]) : script;", arg
        )

    def wait_for_timeout(self, ms: float) -> None:
        time.sleep(ms / 1000)

    def wait_for_url(self, part: str) -> None:
        self.until(lambda: part in self.url, f"the page is at {self.url}, not at {part}")

    def until(self, test: Callable[[], Any], otherwise: str) -> None:
        """Wait until the test holds. An element that the page has just built anew is looked up again."""
        from selenium.common.exceptions import StaleElementReferenceException

        end = time.monotonic() + PATIENCE
        while True:
            with suppress(StaleElementReferenceException):
                if test():
                    return
            if time.monotonic() > end:
                raise AssertionError(otherwise)
            time.sleep(EVERY)

    def actions(self, sources: list[dict[str, Any]]) -> None:
        """The protocol's own actions, as they are: the helper classes of the client add pauses of their own."""
        from selenium.webdriver.common.actions.action_builder import Command

        self.driver.execute(Command.W3C_ACTIONS, {"actions": sources})

    def drawn(self) -> None:
        """As in `drawn.py`: what an act has changed is on the screen before the next look."""
        from selenium.common.exceptions import WebDriverException

        with suppress(WebDriverException):  # the act has led to another page
            self.driver.execute_async_script(FRAMES)


class Seen:
    """`expect` for these locators: each look is repeated until it holds, or for PATIENCE seconds."""

    def __init__(self, thing: WebKitLocator, wanted: bool = True) -> None:
        self.thing, self.wanted = thing, wanted

    def _hold(self, test: Callable[[], Any], what: str) -> None:
        said = "" if self.wanted else "not "
        self.thing.page.until(lambda: bool(test()) is self.wanted, f"{self.thing}: {said}{what} was awaited")

    def to_be_visible(self, **_: Any) -> None:
        self._hold(self.thing.is_visible, "visible")

    def to_be_hidden(self, **_: Any) -> None:
        self._hold(lambda: not self.thing.is_visible(), "hidden")

    def to_be_checked(self, **_: Any) -> None:
        self._hold(self.thing.is_checked, "checked")

    def to_be_enabled(self, **_: Any) -> None:
        self._hold(self.thing.is_enabled, "enabled")

    def to_be_disabled(self, **_: Any) -> None:
        self._hold(lambda: not self.thing.is_enabled(), "disabled")

    def to_be_focused(self, **_: Any) -> None:
        self._hold(lambda: self.thing.look("return found[0] === document.activeElement;"), "focused")

    def to_have_count(self, count: int, **_: Any) -> None:
        self._hold(lambda: self.thing.count() == count, f"a count of {count}")

    def to_have_value(self, value: Any, **_: Any) -> None:
        self._hold(lambda: _says(self.thing.input_value(), value), f"value {value!r}")

    def to_have_text(self, text: Any, **_: Any) -> None:
        if isinstance(text, list):
            return self._hold(
                lambda: [_flat(t) for t in self.thing.all_inner_texts()] == [_flat(t) for t in text], f"{text!r}"
            )
        return self._hold(lambda: self.thing.count() and _says(_flat(self.thing.inner_text()), text), f"text {text!r}")

    def to_contain_text(self, text: str, **_: Any) -> None:
        self._hold(lambda: self.thing.count() and _flat(text) in _flat(self.thing.inner_text()), f"text with {text!r}")

    def to_have_attribute(self, name: str, value: Any, **_: Any) -> None:
        self._hold(lambda: self.thing.count() and _says(self.thing.get_attribute(name), value), f"{name}={value!r}")

    def __getattr__(self, name: str) -> Any:
        if name.startswith("not_"):
            return getattr(Seen(self.thing, not self.wanted), name.removeprefix("not_"))
        raise AttributeError(name)


def _flat(text: str) -> str:
    return " ".join(text.split())


def _says(text: str | None, wanted: Any) -> bool:
    if isinstance(wanted, re.Pattern):
        return bool(wanted.search(text or ""))
    return text is not None and _flat(text) == _flat(wanted)


@contextmanager
def screen() -> Iterator[str]:
    """A screen of memory for a browser that has no headless mode. Yields its DISPLAY."""
    server = need(shutil.which("Xvfb"), "Xvfb, a screen for WebKit")
    read, write = os.pipe()
    process = subprocess.Popen(
        [server, "-displayfd", str(write), "-screen", "0", "1600x1100x24", "-nolisten", "tcp"],
        pass_fds=[write], stderr=subprocess.DEVNULL,
    )  # fmt: skip
    os.close(write)
    with os.fdopen(read) as told:
        display = told.readline().strip()
    try:
        yield f":{display}"
    finally:
        process.terminate()
        process.wait(10)


@contextmanager
def webkit_page(base: str, size: tuple[int, int]) -> Iterator[WebKitPage]:
    """A window of WebKit whose page is of a size, on a screen of its own; no cookies of any other."""
    from selenium import webdriver
    from selenium.webdriver.webkitgtk.service import Service

    driver_path = need(shutil.which("WebKitWebDriver"), "WebKit's WebDriver")
    browsers = sorted(glob.glob("/usr/lib/*/webkit2gtk-4.*/MiniBrowser"))
    with screen() as display:
        # Its sandbox needs rights that a test machine's root user doesn't have; only our own pages are opened.
        env = {
            **os.environ,
            "DISPLAY": display,
            "WEBKIT_DISABLE_SANDBOX_THIS_IS_DANGEROUS": "1",
            "LIBGL_ALWAYS_SOFTWARE": "1",
        }
        options = webdriver.WebKitGTKOptions()
        options.binary_location = need(browsers[-1] if browsers else None, "WebKit's small browser")
        options.add_argument("--automation")
        with warnings.catch_warnings():
            # The client's own start uses a parameter that the client itself calls old.
            warnings.filterwarnings("ignore", category=DeprecationWarning, module=r"selenium\..*")
            driver = webdriver.WebKitGTK(
                options=options, service=Service(executable_path=driver_path, port=free_port(), env=env)
            )
        try:
            driver.set_script_timeout(10)
            driver.get("about:blank")
            inner = driver.execute_script("return [outerWidth - innerWidth, outerHeight - innerHeight];")
            frame = [max(0, int(n)) for n in inner]
            driver.set_window_size(size[0] + frame[0], size[1] + (frame[1] or 38))
            yield WebKitPage(driver, base)
        finally:
            driver.quit()
