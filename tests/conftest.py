"""What holds for all tests: the same examples in every run, the longest files first, and every test that was tried again is named at the end."""

from __future__ import annotations

from typing import Any

from hypothesis import settings

from tests.order import place
from tests.scale import FULL

# Hypothesis draws its examples from each test's own text, so that a run says the same as the one before; with --full they
# are drawn anew. No example is too slow: a busy machine is no fault.
settings.register_profile("same", deadline=None, derandomize=True)
settings.register_profile("full", deadline=None, print_blob=True)
settings.load_profile("full" if FULL else "same")


def pytest_collection_modifyitems(items: list[Any]) -> None:
    items.sort(key=lambda item: place(item.path))  # a file's own order stays


def pytest_terminal_summary(terminalreporter: Any) -> None:
    again = terminalreporter.stats.get("rerun", [])
    if again:
        terminalreporter.section("tried again, since a wait ran out")
        for report in again:
            why = [line for line in str(report.longrepr).splitlines() if line.startswith("E ")]
            terminalreporter.line(f"{report.nodeid}: {why[0][2:].strip() if why else ''}")
