"""Every question has a budget of steps: counted, never timed, so that it ends in the same place on every machine.

A step is about a microsecond's work on the machine that the limits were set on; whoever loops spends what a turn of
the loop costs. Spending more than there is raises `Spent`, and whoever opened the budget says so in plain words:
"undecided", or "no proof found within the limit".

The budget in force is found by whoever spends, however deep: a judge that is asked for one row has none of its own.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from contextvars import ContextVar

__all__ = ["CHECK", "CONFLICT", "DECISION", "OTHERS", "PROOF", "Budget", "Spent", "current", "spend", "spending"]

PROOF = 800_000  # one search for a proof, both of its looks
OTHERS = 1_000_000  # other proofs beside the first, all together
DECISION = 900_000  # what one question may cost that the linear answer leaves open
CONFLICT = 200_000  # the smallest set of givens that clash
CHECK = 420_000  # all the rows of one proof handed in
BOUNDLESS = 10**15


class Spent(Exception):
    """The budget is used up."""


class Budget:
    """`most` steps; `used` counts those that were asked for."""

    __slots__ = ("most", "used")

    def __init__(self, most: int) -> None:
        self.most = most
        self.used = 0

    def spend(self, steps: int = 1) -> None:
        """Take steps; raises Spent when there are not as many left."""
        self.used += steps
        if self.used > self.most:
            raise Spent

    @property
    def left(self) -> int:
        return max(0, self.most - self.used)


_now: ContextVar[Budget | None] = ContextVar("budget", default=None)


def current() -> Budget:
    """The budget in force; without one, a boundless one."""
    return _now.get() or Budget(BOUNDLESS)


def spend(steps: int = 1) -> None:
    """Take steps from the budget in force, if there is one."""
    budget = _now.get()
    if budget is not None:
        budget.spend(steps)


@contextmanager
def spending(most: int) -> Iterator[Budget]:
    """A budget for the work inside, no larger than what is left of the one in force, which pays for it."""
    outer = _now.get()
    budget = Budget(most if outer is None else min(most, outer.left))
    token = _now.set(budget)
    try:
        yield budget
    finally:
        _now.reset(token)
        if outer is not None:
            outer.used += min(budget.used, budget.most)
