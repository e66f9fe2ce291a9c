"""Least squares for a few unknowns, in floats: damped steps until the rows are as small as they get.

A *row* is a value and its slopes, (r, ((column, dr/dx), …)); the sum of r² is what is made small. Everything here
only proposes: whoever asks checks what came out, exactly.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from operator import mul

from app.reasoning.budget import spend

__all__ = ["Row", "settle"]

Row = tuple[float, Sequence[tuple[int, float]]]
TINY = 1e-28


def settle(
    x: list[float],
    rows: Callable[[Sequence[float]], list[Row]],
    rounds: int,
    free: Sequence[int],
) -> tuple[list[float], float]:
    """The place reached from x, and the sum of squares there; only the columns in `free` are moved."""
    now = rows(x)
    cost = sum(r * r for r, _ in now)
    damp, slow = 1e-3, 0
    place = {column: i for i, column in enumerate(free)}
    n = len(free)
    for _ in range(rounds):
        if cost < TINY or not n:
            break
        spend(20 + 4 * len(now) + n * n * n // 10 + n * n)
        matrix = [[0.0] * n for _ in range(n)]
        right = [0.0] * n
        for r, slopes in now:
            mine = [(place[c], k) for c, k in slopes if c in place]
            for i, k in mine:
                right[i] -= k * r
                line = matrix[i]
                for j, q in mine:
                    line[j] += k * q
        better = False
        for _ in range(6):
            step = _solve(matrix, right, damp)
            if step is None:
                damp = max(damp * 10, 1e-9)
                continue
            there = list(x)
            for column, move in zip(free, step, strict=True):
                there[column] += move
            spend(10 + 2 * len(now))
            tried = rows(there)
            value = sum(r * r for r, _ in tried)
            if value < cost:
                slow = slow + 1 if value > 0.98 * cost else 0
                x, now, cost, better = there, tried, value, True
                damp = max(damp * 0.2, 1e-12)
                break
            damp *= 8
        if not better or slow > 4:
            break
    return x, cost


def _solve(matrix: Sequence[Sequence[float]], right: Sequence[float], damp: float) -> list[float] | None:
    """The solution of (matrix + damping) · step = right by Cholesky's way; None where it has none."""
    n = len(right)
    low: list[list[float]] = []
    level = damp * (1e-6 + sum(matrix[i][i] for i in range(n)) / n)
    for i in range(n):
        row: list[float] = []
        for j in range(i):
            other = low[j]
            row.append((matrix[i][j] - sum(map(mul, row, other))) / other[j])
        rest = matrix[i][i] + level + damp * matrix[i][i] - sum(v * v for v in row)
        if rest <= 1e-300:
            return None
        row.append(rest**0.5)
        low.append(row)
    half: list[float] = []
    for i in range(n):
        half.append((right[i] - sum(map(mul, low[i], half))) / low[i][i])
    step = [0.0] * n
    for i in reversed(range(n)):
        step[i] = (half[i] - sum(low[j][i] * step[j] for j in range(i + 1, n))) / low[i][i]
    return step
