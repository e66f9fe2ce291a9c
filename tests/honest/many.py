"""Many questions, in this process or in several."""

from __future__ import annotations

import multiprocessing
from collections.abc import Callable

from tests.honest.asking import Tally

Ask = Callable[[int, Tally], None]
SHARE = 2000  # questions that a process is given at a time


def stretch(ask: Ask, first: int, wanted: int, step: int = 1) -> Tally:
    """At least `wanted` questions, from seeds first, first + step, and so on."""
    tally, seed = Tally(), first
    while tally.total < wanted:
        try:
            ask(seed, tally)
        except Exception as stopped:
            raise RuntimeError(f"{ask.__name__} {seed}") from stopped
        seed += step
    return tally


def many(ask: Ask, seed: int, wanted: int, jobs: int) -> Tally:
    """No seed is asked twice: each share steps over those of the others."""
    if jobs == 1:
        return stretch(ask, seed, wanted)
    shares = max(jobs, -(-wanted // SHARE))
    whole = Tally()
    with multiprocessing.get_context("spawn").Pool(jobs) as pool:
        todo = [pool.apply_async(stretch, (ask, seed + i, -(-wanted // shares), shares)) for i in range(shares)]
        for part in todo:
            whole.add(part.get())
    return whole
