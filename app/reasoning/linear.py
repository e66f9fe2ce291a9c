"""Exact linear algebra over whole numbers: which equations follow from others, and where strict bounds leave room.

A *row* is a list of ints, one a column and the constant last; it stands for Σ row[i]·v[i] + row[-1] = 0
(or ≥ 0, for a bound). Rows may be scaled by any positive whole number, so fractions never appear
while eliminating. A *flat* is the set of all v that satisfy some rows.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from math import gcd, lcm
from operator import add, sub

from app.reasoning.budget import spend

__all__ = ["Flat", "Row", "roomiest"]

Row = list[int]


class Flat:
    """The solutions of the rows added so far, kept in echelon form.

    `basis` holds (column, row, pivot): the pivot is row[column] > 0, and each row is zero in the columns of
    the rows before it. `empty` turns true when the rows contradict each other.
    """

    __slots__ = ("basis", "empty", "width")

    def __init__(self, width: int) -> None:
        self.width = width
        self.basis: list[tuple[int, Row, int]] = []
        self.empty = False

    def copy(self) -> Flat:
        """An independent flat with the same rows."""
        other = Flat(self.width)
        other.basis = list(self.basis)
        other.empty = self.empty
        return other

    def reduce(self, row: Row) -> tuple[Row, int]:
        """`row` in the free columns only, and the positive whole number it was multiplied by."""
        scale = 1
        for column, pivot_row, pivot in self.basis:
            k = row[column]
            if k:
                # Nearly all coefficients are 1 and -1, since measures are differences of directions.
                if pivot != 1:
                    row = [a * pivot - k * b for a, b in zip(row, pivot_row, strict=True)]
                    scale *= pivot
                elif k == 1:
                    row = list(map(sub, row, pivot_row))
                elif k == -1:
                    row = list(map(add, row, pivot_row))
                else:
                    row = [a - k * b for a, b in zip(row, pivot_row, strict=True)]
        return row, scale

    def add(self, row: Row, first: int = 0) -> bool:
        """Add one equation; False if it said nothing new. Columns from `first` on are tried as pivots
        before the others (unknowns first, so that what remains free are directions).
        """
        row, _ = self.reduce(row)
        width = self.width
        best = _pivot(row, first, width) if first < width else -1
        if best < 0:
            best = _pivot(row, 0, first)
        if best < 0:
            if row[width]:
                self.empty = True
                return True
            return False
        k = row[best]
        if k < 0:
            row = [-a for a in row]
            k = -k
        if k != 1:
            common = gcd(*row)
            if common > 1:
                row = [a // common for a in row]
                k //= common
        self.basis.append((best, row, k))
        return True

    def free(self) -> list[int]:
        """The columns no row fixes, in order."""
        fixed = {column for column, _, _ in self.basis}
        return [column for column in range(self.width) if column not in fixed]

    def point(self, values: Sequence[Fraction | int]) -> list[Fraction]:
        """The point of the flat whose free columns have the given values (the others are overwritten)."""
        v: list[Fraction] = [Fraction(value) for value in values]
        for column, row, pivot in reversed(self.basis):
            total = Fraction(row[-1])
            for i, k in enumerate(row[:-1]):
                if k and i != column:
                    total += k * v[i]
            v[column] = -total / pivot
        return v


def roomiest(
    bounds: Sequence[tuple[Sequence[Fraction | int], Fraction | int, int]],
    width: int,
    cap: Fraction | int,
) -> tuple[Fraction, list[Fraction]]:
    """The largest s ≤ cap, and a point u, with a·u + b ≥ w·s for every bound (a, b, w), w > 0.

    Exact simplex in whole numbers (each tableau shares one denominator), started at u = 0; the rule of
    the smallest index keeps it from going round in circles.
    """
    cap = Fraction(cap)
    if not bounds:
        return cap, [Fraction(0)] * width
    start = min(Fraction(b) / w for _, b, w in bounds)
    if start >= cap:
        return cap, [Fraction(0)] * width
    spend(len(bounds) * (width + 2) * 3)
    # Columns: u_0 … u_{n-1}, one shared negative part, then s' = s - start; all ≥ 0. Row i: -a·u + w·s' ≤ b - w·start.
    table: list[list[int]] = []
    for a, b, w in bounds:
        cells = [-Fraction(x) for x in a]
        cells.append(sum((Fraction(x) for x in a), Fraction(0)))
        cells.append(Fraction(w))
        cells.append(Fraction(b) - w * start)
        table.append(_whole(cells))
    table.append(_whole([*([Fraction(0)] * (width + 1)), Fraction(1), cap - start]))
    return _simplex(table, width, start)


def _pivot(row: Row, start: int, stop: int) -> int:
    """A column from start to stop that is not zero in the row, one with 1 or -1 if there is one; else -1."""
    found = -1
    for column in range(start, stop):
        k = row[column]
        if k:
            if k == 1 or k == -1:
                return column
            if found < 0:
                found = column
    return found


def _whole(cells: Sequence[Fraction]) -> list[int]:
    common = lcm(*(cell.denominator for cell in cells))
    return [int(cell * common) for cell in cells]


def _simplex(table: list[list[int]], width: int, start: Fraction) -> tuple[Fraction, list[Fraction]]:
    columns = width + 2  # u, the shared negative part, s'
    rows = table
    count = len(rows)
    # Of the whole tableau only the columns outside the basis are kept; `beside` says which quantity each stands for.
    beside = list(range(columns))
    basis = list(range(columns, columns + count))
    goal = [0] * (columns + 1)
    goal[columns - 1] = -1  # maximise s'
    denominator = 1
    while True:
        entering = min((j for j in range(columns) if goal[j] < 0), key=beside.__getitem__, default=-1)
        if entering < 0:
            break
        leaving = -1
        for i in range(count):
            k = rows[i][entering]
            if k > 0:
                if leaving < 0:
                    leaving = i
                    continue
                mine, best = rows[i][columns] * rows[leaving][entering], rows[leaving][columns] * k
                if mine < best or (mine == best and basis[i] < basis[leaving]):
                    leaving = i
        # s' is bounded by the cap, so a column that raises it always meets a bound.
        assert leaving >= 0
        spend(count * (columns + 4) // 4)
        pivot_row = rows[leaving]
        pivot = pivot_row[entering]
        for i, row in enumerate([*rows, goal]):
            if i != leaving:
                k = row[entering]
                if k:
                    made = [(a * pivot - k * b) // denominator for a, b in zip(row, pivot_row, strict=True)]
                elif pivot == denominator:
                    continue
                else:
                    made = [a * pivot // denominator for a in row]
                made[entering] = -k
                if i < count:
                    rows[i] = made
                else:
                    goal = made
        pivot_row[entering] = denominator
        denominator = pivot
        basis[leaving], beside[entering] = beside[entering], basis[leaving]
    values = [Fraction(0)] * (columns + count)
    for i, column in enumerate(basis):
        values[column] = Fraction(rows[i][columns], denominator)
    shared = values[width]
    return start + values[columns - 1], [values[j] - shared for j in range(width)]
