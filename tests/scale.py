"""How many random trials a test makes: a few thousand in everyday runs, all of them with `--full`."""

from __future__ import annotations

import os

FULL = os.environ.get("EIGHT_ANGLES_FULL") == "1"


def trials(*, quick: int, full: int) -> int:
    """The number of random trials: `quick` in every run, `full` under `python3 tests/run.py --full`."""
    return full if FULL else quick
