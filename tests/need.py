"""Skip with a loud reason when an outside program is missing, and fail instead where skipping would hide it."""

from __future__ import annotations

import os
from typing import TypeVar

import pytest

T = TypeVar("T")


def need(found: T | None, what: str) -> T:
    """`found`, or skip the test because `what` is not on this machine (fail where skips are forbidden)."""
    if found is None:
        message = f"{what} is not installed; python3 tests/run.py says how"
        if os.environ.get("EIGHT_ANGLES_NO_SKIP"):
            pytest.fail(message)
        pytest.skip(message)
    return found
