"""Chance from a seed, the same for ever: SplitMix64 (Steele, Lea, Flood 2014), all integer arithmetic.

Python's own generator may change its methods between versions; an exercise printed last year must not.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import TypeVar

__all__ = ["Chance", "mixed"]

T = TypeVar("T")
_MASK = (1 << 64) - 1


class Chance:
    def __init__(self, seed: int) -> None:
        self.state = seed & _MASK

    def bits(self) -> int:
        """The next 64 bits."""
        self.state = (self.state + 0x9E3779B97F4A7C15) & _MASK
        z = self.state
        z = ((z ^ (z >> 30)) * 0xBF58476D1CE4E5B9) & _MASK
        z = ((z ^ (z >> 27)) * 0x94D049BB133111EB) & _MASK
        return z ^ (z >> 31)

    def below(self, n: int) -> int:
        """0 … n-1, each alike (values that would favour the low ones are thrown away)."""
        if n < 1:
            raise ValueError("below needs a positive count")
        limit = (1 << 64) - (1 << 64) % n
        while True:
            z = self.bits()
            if z < limit:
                return z % n

    def between(self, low: int, high: int) -> int:
        """low … high, both included."""
        return low + self.below(high - low + 1)

    def pick(self, things: Sequence[T]) -> T:
        return things[self.below(len(things))]

    def shuffled(self, things: Sequence[T]) -> list[T]:
        """A new list in a random order (Fisher and Yates)."""
        out = list(things)
        for i in range(len(out) - 1, 0, -1):
            j = self.below(i + 1)
            out[i], out[j] = out[j], out[i]
        return out

    def maybe(self, times: int, of: int) -> bool:
        return self.below(of) < times


def mixed(*parts: object) -> int:
    """One 64-bit seed from several whole numbers and words (FNV-1a over their spelling)."""
    h = 0xCBF29CE484222325
    for byte in "\x1f".join(str(p) for p in parts).encode():
        h = ((h ^ byte) * 0x100000001B3) & _MASK
    return h
