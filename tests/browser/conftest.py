"""Real browsers against a running server.

`lesson` is one server with a folder of its own for all tests of a module; each test opens its own periods. Every page
that a test opens is watched: an uncaught script error, a broken content policy, a request to another host or a 5xx
answer fails the test (PD-6, V-06).
"""

from __future__ import annotations

import os
import re
import shutil
import signal
import subprocess
import sys
import time
from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any
from urllib.parse import urlencode, urlsplit
from urllib.request import HTTPCookieProcessor, Request, build_opener, urlopen

import pytest
from axe_playwright_python.base import AXE_SCRIPT
from playwright.sync_api import expect

from tests.browser.drawn import pages_are_drawn, scriptless
from tests.browser.serving import BROWSER, SECRET
from tests.need import need
from tests.ports import free_port

ROOT = Path(__file__).resolve().parent.parent.parent
PASSPHRASE = "a calm rhombus at noon"
PACK = "proving-lines-parallel"
# The accessibility rules asked for: WCAG 2.2 AA and the checker's own good practice.
RULES = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"]

# How long is waited for what must come: a school laptop that is busy with other tests. Nothing is slower for it that comes.
PATIENCE = 30_000
expect.set_options(timeout=PATIENCE)

LAPTOP = (1366, 633)
ZOOMED = (683, 316)
PHONE = (390, 844)
PROJECTOR = (1280, 720)


@pytest.fixture(scope="session", autouse=True)
def _drawn_after_each_act() -> Iterator[None]:
    with pytest.MonkeyPatch.context() as patch:
        pages_are_drawn(patch)
        yield


def browser_path() -> str:
    return str(need(shutil.which("chromium-headless-shell") or shutil.which("chromium"), "Chromium"))


@pytest.fixture(scope="session")
def chromium(playwright: Any) -> Iterator[Any]:
    browser = playwright.chromium.launch(executable_path=browser_path(), args=["--no-sandbox"])
    yield browser
    browser.close()


@pytest.fixture(scope="session")
def firefox(playwright: Any) -> Iterator[Any]:
    found = need(shutil.which("firefox-esr") or shutil.which("firefox"), "Firefox")
    # A browser as Debian ships it: without this channel a build made for the driver is waited for.
    browser = playwright.firefox.launch(executable_path=found, channel="moz-firefox")
    yield browser
    browser.close()


@dataclass
class Period:
    """A period with an open door."""

    id: str
    code: str
    board: str

    @property
    def path(self) -> str:
        return f"/desk/period/{self.id}/"


@dataclass
class Lesson:
    """A running server and the ways into it."""

    base: str
    setup: str  # the set-up link printed at the start
    browser: Any
    data: Path
    process: subprocess.Popen[str]
    contexts: list[Any] = field(default_factory=list)
    faults: list[str] = field(default_factory=list)
    ready: bool = False
    checking: bool = False
    test: str = ""  # its name, from which follows what the server draws for its browsers

    def context(self, size: tuple[int, int] = LAPTOP, browser: Any = None, **more: Any) -> Any:
        """A browser of its own: no cookies of any other. Closed after the test."""
        made = (browser or self.browser).new_context(
            viewport={"width": size[0], "height": size[1]}, base_url=self.base, **more,
            extra_http_headers={BROWSER: f"{self.test} {len(self.contexts)}"},
        )  # fmt: skip
        made.set_default_timeout(PATIENCE)
        if more.get("java_script_enabled") is False:
            scriptless.add(made)
        self.contexts.append(made)
        made.on("page", self._watch)
        return made

    def page(self, size: tuple[int, int] = LAPTOP, **more: Any) -> Any:
        return self.context(size, **more).new_page()

    def _watch(self, page: Any) -> None:
        host = urlsplit(self.base).netloc
        page.on("pageerror", lambda error: self._error(str(error)))
        page.on("console", lambda message: self._console(message.type, message.text))
        page.on("request", lambda r: self._request(r.url, host))
        page.on("response", lambda r: r.status >= 500 and self.faults.append(f"{r.status} {r.url}"))

    def _error(self, text: str) -> None:
        # Firefox tells so of a font that it was still fetching when the page was closed (NS_BINDING_ABORTED).
        if "status=2152398850" not in text:
            self.faults.append(f"script: {text}")

    def _console(self, kind: str, text: str) -> None:
        if self.checking and "inline style" in text:
            return  # the checker's own probe of the page, not ours
        if "Content Security Policy" in text or "no words for" in text or "no catalogue" in text:
            self.faults.append(f"{kind}: {text}")

    def _request(self, url: str, host: str) -> None:
        at = urlsplit(url)
        if at.scheme in ("http", "https", "ws", "wss") and at.netloc != host:
            self.faults.append(f"another host: {url}")

    def teacher(self, size: tuple[int, int] = LAPTOP, **more: Any) -> Any:
        """A page signed in at the Desk (where nobody has set the Desk up, the first one does, on the page that asks)."""
        page = self.page(size, **more)
        if self.ready:
            self._send(page, "/desk/signin", "/desk/signin", passphrase=PASSPHRASE)
            page.goto("/desk/")
            return page
        page.goto(self.setup)
        self.ready = True  # the link is good for one use, whatever becomes of this page
        sign_in(page)
        return page

    def call(self, page: Any, method: str, path: str, body: Any = None) -> Any:
        """Ask the server as this page's script would; the JSON answer. Fails on a refusal."""
        token = page.locator('meta[name="token"]').get_attribute("content")
        answer = page.request.fetch(
            self.base + path, method=method, data=None if method == "GET" else (body or {}),
            headers={"X-Seat-Token": token, "Content-Type": "application/json"},
        )  # fmt: skip
        assert answer.ok, f"{method} {path}: {answer.status} {answer.text()[:300]}"
        return answer.json() if answer.body() else None

    def period(self, teacher: Any, pack: str = PACK, title: str = "Third hour") -> Period:
        """A new period with its door open; the teacher's page is left on it."""
        made = self.call(teacher, "POST", "/desk/period", {"pack": pack, "title": title})["id"]
        code = self.call(teacher, "POST", f"/desk/period/{made}/door", {"open": True})["code"]
        board = self.call(teacher, "GET", f"/desk/period/{made}/state")["period"]["board"]
        teacher.goto(f"/desk/period/{made}/")
        teacher.locator("#code", has_text=f"{code[:3]} {code[3:]}").wait_for()
        return Period(made, code, urlsplit(board).path)

    def seat(self, code: str, size: tuple[int, int] = PHONE, *, typed: str = "", number: int = 0, **more: Any) -> Any:
        """A student's page, come in by what the front door's forms send; under an offered name unless told otherwise."""
        page = self.page(size, **more)
        if "browser" in more:
            come_in(page, code, typed=typed, number=number)
            return page
        self._send(page, "/", "/enter", code=code)
        names = page.request.get("/enter/name").text()
        chosen = (
            {"typed": typed}
            if typed
            else {"number": str(number)}
            if number
            else {"word": re.findall(r'name="word" value="([^"]+)"', names)[0]}
        )
        self._send(page, "/enter/name", "/enter/name", **chosen)
        page.goto("/seat/")
        return page

    def _send(self, page: Any, form: str, to: str, **fields: str) -> None:
        """What the form on a page of the program sends; it must lead on to another page."""
        token = page_token(page.request.get(form).text())
        answer = page.request.post(to, form={"token": token, **fields}, max_redirects=0)
        assert answer.status == 303, f"{to}: {answer.status}"

    def board(self, teacher: Any, period: Period) -> Any:
        """The Board, opened in the teacher's own browser."""
        page = teacher.context.new_page()
        page.set_viewport_size({"width": PROJECTOR[0], "height": PROJECTOR[1]})
        page.goto(period.board)
        page.locator("#stage[data-kind]").wait_for(state="attached")
        return page

    def check(self, page: Any, name: str = "") -> None:
        """No violation of the accessibility rules in the state that the page is in now."""
        # What is still coming in is not there yet: half seen, its contrast would count.
        page.evaluate("""() => Promise.all(document.getAnimations()
            .filter(one => Number.isFinite(one.effect.getComputedTiming().endTime)).map(one => one.finished.catch(() => null)))""")
        # What lies half under a bar that stays at the foot of the window is no smaller for that: it can be scrolled.
        page.evaluate("document.querySelector('.seat-foot')?.style.setProperty('position', 'static')")
        self.checking = True
        try:
            if not page.evaluate("() => Boolean(globalThis.axe)"):
                page.evaluate(AXE_SCRIPT)  # half a megabyte: once for a document
            # What passes isn't gathered, only what fails: it is most of the checker's work.
            found = page.evaluate("async options => (await axe.run(options)).violations",
                                  {"runOnly": {"type": "tag", "values": RULES}, "resultTypes": ["violations"]})  # fmt: skip
            page.evaluate("1")  # what the checker made the console say has arrived by now
        finally:
            self.checking = False
            page.evaluate("document.querySelector('.seat-foot')?.style.removeProperty('position')")
        told = [f"{name}: {v['id']}: {n['html'][:160]}" for v in found for n in v["nodes"][:3]]
        assert not told, "\n".join(told)

    def fits(self, page: Any, name: str = "") -> None:
        """The page does not scroll sideways (A-07)."""
        wide, seen = page.evaluate("[document.documentElement.scrollWidth, document.documentElement.clientWidth]")
        assert wide <= seen, f"{name}: {wide} px wide in {seen}"

    def stop(self) -> None:
        self.process.send_signal(signal.SIGINT)
        try:
            self.process.wait(15)
        except subprocess.TimeoutExpired:
            self.process.kill()
            self.process.wait(5)


def sign_in(page: Any) -> None:
    """By the form that stands on the page."""
    page.fill("#passphrase", PASSPHRASE)
    page.click("main button[type=submit]")
    page.wait_for_url("**/desk/")


def come_in(page: Any, code: str, *, typed: str = "", number: int = 0) -> None:
    """By the front door, as a student does."""
    page.goto("/")
    page.fill("#code", code)
    page.click("main button[type=submit]")
    page.wait_for_url("**/enter/name")
    if typed:
        page.fill("#typed", typed)
        page.locator("form:has(#typed) button").click()
    elif number:
        page.fill("#number", str(number))
        page.locator("form:has(#number) button").click()
    else:
        page.locator(".door-offer").first.click()
    page.wait_for_url("**/seat/**")


def page_token(page: str) -> str:
    found = re.search(r'<meta name="token" content="([^"]+)"', page)
    assert found, page[:400]
    return found[1]


def saved(page: Any) -> None:
    """Wait until the page says that the work in progress has been saved."""
    expect(page.locator("#kept")).to_have_text("Saved")


def set_up(base: str, link: str) -> None:
    """Use the set-up link, as the page that it opens would."""
    asks = build_opener(HTTPCookieProcessor())
    asks.addheaders = [(BROWSER, "set-up")]
    token = page_token(asks.open(base + link).read().decode())
    asks.open(
        Request(base + link, urlencode({"token": token, "passphrase": PASSPHRASE, "again": PASSPHRASE}).encode())
    ).close()


def start(
    data: Path,
    browser: Any,
    packs: Path | None = None,
    *,
    ready: bool = True,
    settings: Mapping[str, str] | None = None,
) -> Lesson:
    """The server as a teacher starts it, on a free port, set up if `ready`; waits for its first answer."""
    port = free_port()
    secret = data / "secret"
    secret.write_bytes(SECRET)
    secret.chmod(0o600)
    more = ["--packs", str(packs)] if packs else []
    told = data / "told.txt"
    with told.open("w", encoding="utf-8") as out:
        process = subprocess.Popen(
            [sys.executable, "-m", "tests.browser.serving", "serve", "--host", "127.0.0.1", "--port", str(port), "--data", str(data), *more],
            cwd=ROOT, stdout=out, stderr=subprocess.STDOUT, text=True,
            env={**os.environ, "PYTHONUNBUFFERED": "1", **(settings or {})},
        )  # fmt: skip
    base = f"http://127.0.0.1:{port}"
    for _ in range(300):
        link = re.search(r"/desk/setup/\S+", told.read_text(encoding="utf-8"))
        try:
            with urlopen(base + "/", timeout=2):
                if link:
                    if ready:
                        set_up(base, link.group(0))
                    return Lesson(base, link.group(0), browser, data, process, ready=ready)
        except OSError:
            pass
        if process.poll() is not None:
            break
        time.sleep(0.1)
    process.kill()
    raise AssertionError("the server did not start:\n" + told.read_text(encoding="utf-8"))


@pytest.fixture(scope="module")
def lesson_server(tmp_path_factory: pytest.TempPathFactory, chromium: Any) -> Iterator[Lesson]:
    made = start(tmp_path_factory.mktemp("lesson"), chromium)
    yield made
    made.stop()


@pytest.fixture
def lesson(lesson_server: Lesson, request: pytest.FixtureRequest) -> Iterator[Lesson]:
    lesson_server.faults.clear()
    lesson_server.test = request.node.nodeid
    yield lesson_server
    for context in lesson_server.contexts:
        context.close()
    lesson_server.contexts.clear()
    assert not lesson_server.faults, lesson_server.faults
