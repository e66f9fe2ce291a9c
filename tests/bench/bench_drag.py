"""How long a frame of a drag takes in the browser, and what the first page of a lesson weighs.

    python -m tests.bench.bench_drag [--rates 1,4,6] [--seconds 4]

Starts the server, opens an explore task alone, turns and slides its lines by real pointer events, one a frame, and reads script,
style, layout and paint times of every frame from Chromium's own trace. The wanted figures (F-3): script and layout together at
p95 within 10 ms at 6 times slower than this machine, and a first load of at most 100 KB compressed.

The yardstick is a page with one line of ink that follows the pointer, and nothing else, under the same hand: what a drag costs
in this browser on this machine at this moment before any of our own work. A machine busy with other things slows both.
"""

from __future__ import annotations

import argparse
import json
import math
import shutil
import statistics
import tempfile
import time
from collections.abc import Iterator
from pathlib import Path
from typing import Any
from urllib.parse import urlsplit

from playwright.sync_api import sync_playwright

from tests.browser.conftest import LAPTOP, PACK, start

TASK = "make-them-equal"
# The browser makes the hand's moves itself.
BROWSER = ["--no-sandbox", "--enable-gpu-benchmarking"]
# What the main thread does for a frame, by the trace's names. Children lie inside parents, so only outermost ones are added up.
SCRIPT = {"FunctionCall", "FireAnimationFrame", "EventDispatch", "TimerFire", "RunMicrotasks"}
LAYOUT = {"Layout", "UpdateLayoutTree"}
PAINT = {"PrePaint", "Layerize", "Paint"}


MOVES = (("n", "b", "n turned"), ("t", "b", "t turned"), ("t", "ring", "t slid"), ("yard", "b", "yardstick"))


def percentile(values: list[float], share: float) -> float:
    ordered = sorted(values)
    return ordered[min(len(ordered) - 1, math.ceil(share * len(ordered)) - 1)] if ordered else math.nan


def outermost(events: list[dict[str, Any]], names: set[str]) -> Iterator[tuple[float, float]]:
    """(start, duration) in ms of the events with these names that lie in no other of them."""
    end = -math.inf
    for event in sorted((e for e in events if e["name"] in names), key=lambda e: (e["ts"], -e["dur"])):
        if event["ts"] >= end:
            end = event["ts"] + event["dur"]
            # Thread time: what other programs take from the processor in between is not the page's.
            yield event["ts"] / 1000, event.get("tdur", event["dur"]) / 1000


def frames(trace: list[dict[str, Any]]) -> tuple[list[float], list[float], list[float]]:
    """Script and layout, layout alone, and all three with paint, of what follows each move that the page hears of, in ms.

    A browser tells of moves once a frame. All work of the page's own thread from one move to the next counts to the first.
    """
    whole = [e for e in trace if e.get("ph") == "X" and "dur" in e]
    moves = [e for e in whole if e["name"] == "EventDispatch" and e["args"]["data"]["type"] == "pointermove"]
    threads = [(e["pid"], e["tid"]) for e in moves]
    main = max(set(threads), key=threads.count)
    mine = [e for e in whole if (e["pid"], e["tid"]) == main]
    cuts = [e["ts"] / 1000 - 0.2 for e in sorted(moves, key=lambda e: e["ts"])] + [math.inf]
    script, layout, paint = ([0.0] * (len(cuts) - 1) for _ in range(3))
    for names, into in ((SCRIPT, script), (LAYOUT, layout), (PAINT, paint)):
        frame = 0
        for at, took in outermost(mine, names):
            while at >= cuts[frame + 1]:
                frame += 1
            into[frame] += took
    work = [a + b for a, b in zip(script, layout, strict=True)]
    return work, layout, [a + b for a, b in zip(work, paint, strict=True)]


def beside(trace: list[dict[str, Any]]) -> list[float]:
    """What a worker took for each frame that it drew, in ms; a throttled page does not slow its workers."""
    moves = {(e["pid"], e["tid"]) for e in trace if e["name"] == "EventDispatch"}
    drawn = [e for e in trace if e["name"] == "FireAnimationFrame" and "dur" in e and (e["pid"], e["tid"]) not in moves]
    return [e.get("tdur", e["dur"]) / 1000 for e in drawn]


def traced(cdp: Any, act: Any) -> list[dict[str, Any]]:
    """The trace events while `act` runs."""
    events: list[dict[str, Any]] = []
    done: list[bool] = []
    cdp.on("Tracing.dataCollected", lambda told: events.extend(told["value"]))
    cdp.on("Tracing.tracingComplete", lambda _: done.append(True))
    cdp.send("Tracing.start", {"categories": "devtools.timeline,blink.user_timing", "transferMode": "ReportEvents"})
    act()
    cdp.send("Tracing.end")
    until = time.monotonic() + 30
    while not done and time.monotonic() < until:
        act_wait(cdp)
    return events


def act_wait(cdp: Any) -> None:
    cdp.send("Runtime.evaluate", {"expression": "1"})
    time.sleep(0.05)


def drag(page: Any, cdp: Any, line: str, part: str, seconds: float) -> None:
    """Hold a handle and move it to and fro."""
    # The browser's own input, one move a frame, made inside the browser: a driver that sends each move from outside needs a
    # processor of its own, and takes it from the page it measures.
    box = page.locator(f'[data-line="{line}"][data-part="{part}"]').bounding_box()
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    places = []
    for i in range(int(seconds * 60)):
        wave = math.sin(2.2 * i / 60)
        places.append((x + (35 if part == "ring" else 8) * wave, y + 70 * wave))
    hand(page, (x, y), places)


def hand(page: Any, start: tuple[float, float], places: list[tuple[float, float]]) -> None:
    """Press at `start` and go from place to place, one a frame."""
    acts = [{"name": "pointerDown", "x": start[0], "y": start[1], "button": 0}]
    acts += [{"name": "pointerMove", "x": x, "y": y} for x, y in places] + [{"name": "pointerUp", "button": 0}]
    page.evaluate(
        """acts => { window.handDone = false;
          chrome.gpuBenchmarking.pointerActionSequence([{source: "mouse", actions: acts}], () => { window.handDone = true; }); }""",
        acts,
    )
    time.sleep(len(places) / 60)
    while not page.evaluate("window.handDone"):
        time.sleep(0.25)


# One line that follows the pointer, once a frame: the least that a drag can be.
YARDSTICK = """
<svg width="900" height="430"><line stroke="black" stroke-width="2"/><circle data-line="yard" data-part="b" cx="400" cy="200" r="22"/></svg>
<script type="module">
  const [svg, line] = [document.querySelector("svg"), document.querySelector("line")];
  let at = null;
  svg.addEventListener("pointerdown", (event) => svg.setPointerCapture(event.pointerId));
  svg.addEventListener("pointermove", (event) => {
    if (!at) requestAnimationFrame(() => { line.setAttribute("x2", at[0]); line.setAttribute("y2", at[1]); at = null; });
    at = [event.clientX, event.clientY];
  });
</script>"""


def show(page: Any, base: str, line: str) -> None:
    if line == "yard":
        page.goto("about:blank")
        page.set_content(YARDSTICK)
    else:
        page.goto(f"{base}/alone/{PACK}/#{TASK}")
        page.reload()
    page.locator("[data-part]").first.wait_for()
    page.wait_for_timeout(600)


def weigh(page: Any, base: str) -> dict[str, Any]:
    """Load the page afresh; compressed bytes of everything that it asks for, by kind."""
    cdp = page.context.new_cdp_session(page)
    cdp.send("Network.enable")
    kinds: dict[str, str] = {}
    bytes_by: dict[str, float] = {}
    hosts: set[str] = set()

    def asked(told: dict[str, Any]) -> None:
        kinds[told["requestId"]] = told.get("type", "Other")
        hosts.add(urlsplit(told["request"]["url"]).netloc)

    def loaded(told: dict[str, Any]) -> None:
        kind = kinds.get(told["requestId"], "Other")
        bytes_by[kind] = bytes_by.get(kind, 0) + told["encodedDataLength"]

    cdp.on("Network.requestWillBeSent", asked)
    cdp.on("Network.loadingFinished", loaded)
    page.goto(f"{base}/alone/{PACK}/#{TASK}")
    page.locator(".handle").first.wait_for()
    page.wait_for_timeout(800)
    return {"by": dict(bytes_by), "total": sum(bytes_by.values()), "requests": len(kinds), "hosts": sorted(hosts)}


def main() -> None:
    parser = argparse.ArgumentParser(description=__doc__, formatter_class=argparse.RawDescriptionHelpFormatter)
    parser.add_argument("--rates", default="1,4,6")
    parser.add_argument("--seconds", type=float, default=4)
    parser.add_argument("--json", action="store_true")
    options = parser.parse_args()
    rows = []
    with tempfile.TemporaryDirectory() as folder, sync_playwright() as playwright:
        found = shutil.which("chromium-headless-shell") or shutil.which("chromium")
        browser = playwright.chromium.launch(executable_path=found, args=BROWSER)
        lesson = start(Path(folder), browser)
        try:
            page = browser.new_page(viewport={"width": LAPTOP[0], "height": LAPTOP[1]})
            weight = weigh(page, lesson.base)
            nodes = page.evaluate("document.querySelectorAll('.figure-svg *').length")
            cdp = page.context.new_cdp_session(page)
            for rate in [float(r) for r in options.rates.split(",")]:
                cdp.send("Emulation.setCPUThrottlingRate", {"rate": rate})
                for line, part, moved in MOVES:
                    show(page, lesson.base, line)
                    events = traced(cdp, lambda line=line, part=part: drag(page, cdp, line, part, options.seconds))
                    work, layout, painted = frames(events)
                    worker = beside(events)
                    rows.append({
                        "rate": rate, "moved": moved, "frames": len(work), "p50": statistics.median(work), "p95": percentile(work, 0.95),
                        "layout": percentile(layout, 0.95), "paint": percentile(painted, 0.95),
                        "beside": percentile(worker, 0.95) if worker else 0.0,
                    })  # fmt: skip
        finally:
            lesson.stop()
            browser.close()
    if options.json:
        print(json.dumps({"rows": rows, "weight": weight, "nodes": nodes}))
        return
    print(
        f"first load of a task: {weight['total'] / 1024:.1f} KB in {weight['requests']} requests, hosts {weight['hosts']}"
    )
    print("  " + ", ".join(f"{kind} {size / 1024:.1f} KB" for kind, size in sorted(weight["by"].items())))
    print(f"SVG elements in the figure: {nodes}")
    print("throttle  moved      frames   p50 ms   p95 ms   p95 of style, layout   p95 with paint   worker p95")
    for row in rows:
        print(
            f"{row['rate']:6.0f}x   {row['moved']:<9} {row['frames']:6d} {row['p50']:8.2f} {row['p95']:8.2f} {row['layout']:18.2f}"
            f" {row['paint']:18.2f} {row['beside']:12.2f}"
        )


if __name__ == "__main__":
    main()
