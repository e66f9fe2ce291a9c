"""The first load of a Seat on a slow line: how many requests, how many KB, and after how long its task can be worked at.

150 ms round trip, 1.6 Mbit/s, processor slowed four times (the browser's own emulation), nothing in its cache: a Chromebook's first
minute in a lesson. `python -m tests.bench load` prints the middle one of five; beside it one small page of one request.
"""

from __future__ import annotations

import statistics
import sys
import tempfile
import time
from pathlib import Path
from typing import Any

from playwright.sync_api import sync_playwright

from tests.browser.conftest import LAPTOP, PACK, Lesson, browser_path, start

ROUNDS = 5
LINE = {"offline": False, "latency": 150, "downloadThroughput": 1.6e6 / 8, "uploadThroughput": 0.75e6 / 8}
SLOWED = 4
TASKS = ["names-at-one-crossing", "make-them-equal", "copy-an-angle", "neighbors"]


def load(lesson: Lesson, path: str, ready: str) -> tuple[float, int, float]:
    """(seconds until `ready` is there, requests, KB over the line)."""
    context = lesson.context(LAPTOP)
    page = context.new_page()
    line = context.new_cdp_session(page)
    line.send("Network.enable")
    line.send("Network.emulateNetworkConditions", LINE)
    line.send("Emulation.setCPUThrottlingRate", {"rate": SLOWED})
    asked: list[Any] = []
    size = [0.0]
    line.on("Network.requestWillBeSent", lambda told: asked.append(told["request"]["url"]))
    line.on("Network.loadingFinished", lambda told: size.__setitem__(0, size[0] + told["encodedDataLength"]))
    began = time.perf_counter()
    page.goto(path, wait_until="commit")
    page.wait_for_selector(ready)
    took = time.perf_counter() - began
    if "-v" in sys.argv:
        print(*asked, sep="\n")
    count = len(asked)
    context.close()
    lesson.contexts.clear()
    return took, count, size[0] / 1024


def main() -> int:
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as play:
        browser = play.chromium.launch(executable_path=browser_path(), args=["--no-sandbox"])
        lesson = start(Path(folder), browser)
        try:
            for title, path, ready in (
                ("a page of one request", "/static/door/mark.svg", "svg"),
                ("the front door", "/", "main form"),
                *((f"a Seat at {task}", f"/alone/{PACK}/#{task}", "#card > *") for task in TASKS),
            ):
                runs = [load(lesson, path, ready) for _ in range(ROUNDS)]
                took = statistics.median(run[0] for run in runs)
                print(f"{title:32} {took:6.2f} s  {runs[-1][1]:3} requests  {runs[-1][2]:7.1f} KB")
        finally:
            lesson.stop()
    return 0


if __name__ == "__main__":
    raise SystemExit(main())
