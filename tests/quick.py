"""How much of the processor something takes, whatever else the machine does."""

from __future__ import annotations

import gc
import time
from collections.abc import Callable


def least_cpu(act: Callable[[], object], times: int = 5) -> float:
    """Seconds of the processor for the cheapest of several runs: others on the machine, and the collector, only ever add."""
    taken = []
    gc.disable()
    try:
        for _ in range(times):
            began = time.process_time()
            act()
            taken.append(time.process_time() - began)
    finally:
        gc.enable()
    return min(taken)
