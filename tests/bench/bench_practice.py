"""How fast exercises are made and certified, and how fast a sheet with its key: `python -m tests.bench.bench_practice`.

The reach asked for: any item in 10 ms (median), a sheet of 30 items with its key in a second. Processor time
is counted, so that a busy machine measures the same.
"""

from __future__ import annotations

import contextlib
import time
from statistics import median

from app.figure.faults import Fault
from app.practice.families import FAMILIES, LEVELS, _made, item
from app.practice.judging import judge, key_shown
from app.practice.sentences import read_sentence
from app.sheets.build import build, read_want
from app.sheets.html import Frame, sheet_html
from app.sheets.keys import key_html

ITEMS = 60


def family_times(family: str, level: int) -> list[float]:
    """Milliseconds an item, made and certified afresh."""
    _made.cache_clear()
    times = []
    for seed in range(ITEMS):
        start = time.process_time()
        item(family, seed * 977, level)
        times.append((time.process_time() - start) * 1000)
    return times


def sentence_time() -> float:
    """Milliseconds that the reader of sentences takes for the worst of some texts made to be slow (T-06: under 50)."""
    parts = item("connect", 0, 5).facts["parts"]
    worst = 0.0
    for text in (
        "if " * 60,
        "not " * 59 + "if",
        "∠" * 240,
        "if then and or " * 14,
        "it is not so that " * 12,
        "a and " * 39,
        "x" * 10**6,
        ", " * 69,
    ):
        start = time.process_time()
        with contextlib.suppress(Fault):
            read_sentence(text, parts, "answer")
        worst = max(worst, time.process_time() - start)
    return worst * 1000


def sheet_time() -> float:
    """Seconds for 30 items of all kinds with the key, as HTML."""
    _made.cache_clear()
    asks = [f"{family}:{LEVELS[family]}:{3 if i < 8 else 2}" for i, family in enumerate(FAMILIES)]
    start = time.process_time()
    sheet = build(read_want(asks, seed=5))
    sheet_html(sheet, Frame())
    key_html(sheet, Frame())
    assert len(sheet.entries) == 30
    return time.process_time() - start


def main() -> None:
    item("name-the-pair", 1, 1)
    print(f"{'family':<18} level  median ms  p95 ms  items/s")
    for family in FAMILIES:
        for level in range(1, LEVELS[family] + 1):
            times = sorted(family_times(family, level))
            mid = median(times)
            print(f"{family:<18} {level:>5} {mid:>10.2f} {times[int(len(times) * 0.95)]:>7.2f} {1000 / mid:>8.0f}")
    print(f"slowest hostile sentence: {sentence_time():.2f} ms")
    one = item("make-parallel", 1, 2)
    start = time.process_time()
    for _ in range(1000):
        judge(one, key_shown(one))
    print(f"judging an answer: {(time.process_time() - start):.3f} ms")
    sheet_time()
    print(f"sheet of 30 with key: {sheet_time():.2f} s")


if __name__ == "__main__":
    main()
