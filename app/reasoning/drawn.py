"""What holds in a figure exactly as it is drawn: for answers that are figures."""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from math import lcm

from app.figure.model import Figure
from app.reasoning.frame import Frame, frame_of
from app.reasoning.linear import Flat
from app.reasoning.terms import Fact, Statement

__all__ = ["failing_as_drawn", "holds_as_drawn"]


def holds_as_drawn(fig: Figure, given: Sequence[Statement], claim: Statement) -> bool:
    """Whether the claim is true as drawn, with unknowns as the givens fix them (a claim about a loose one is not)."""
    frame = frame_of(fig)
    flat, column = _unknowns([*given, claim])
    for statement in given:
        _add(frame, flat, column, statement.fact)
    return _true(frame, claim.fact, flat, column)


def failing_as_drawn(fig: Figure, given: Sequence[Statement]) -> list[int]:
    """Places of the givens that are not true as drawn; of equations with unknowns, those that clash with
    earlier ones.
    """
    frame = frame_of(fig)
    flat, column = _unknowns(given)
    failing = []
    for place, statement in enumerate(given):
        before = flat.copy()
        if not _add(frame, flat, column, statement.fact):
            flat = before
            failing.append(place)
    return failing


def _unknowns(statements: Sequence[Statement]) -> tuple[Flat, dict[str, int]]:
    names = dict.fromkeys(x for s in statements for x in s.unknowns)
    return Flat(len(names)), {x: i for i, x in enumerate(names)}


def _row(frame: Frame, fact: Fact, column: dict[str, int]) -> list[int]:
    """The equation over unknowns that is left when every measure has its drawn value."""
    total = Fraction(fact[2])
    cells = [0] * (len(column) + 1)
    for atom, k in fact[1]:
        if atom in column:
            cells[column[atom]] += k
        else:
            total += k * frame.measure(atom, frame.directions)
    factor = lcm(total.denominator)
    return [*(cell * factor for cell in cells[:-1]), int(total * factor)]


def _add(frame: Frame, flat: Flat, column: dict[str, int], fact: Fact) -> bool:
    if fact[0] != "equation":
        return _true(frame, fact, flat, column)
    flat.add(_row(frame, fact, column))
    return not flat.empty


def _true(frame: Frame, fact: Fact, flat: Flat, column: dict[str, int]) -> bool:
    if fact[0] == "equation":
        return not any(flat.reduce(_row(frame, fact, column))[0])
    if fact[0] == "drawn":
        return bool(frame.pair(fact[2], fact[3]).pair == fact[1])
    if fact[0] == "bisects":
        parts = frame.bisecting(fact[1], fact[2])
        return parts is not None and len({frame.measure(p, frame.directions) for p in parts}) == 1
    difference = (frame.directions[frame.index[fact[1]]] - frame.directions[frame.index[fact[2]]]) % 180
    if fact[0] == "perpendicular":
        return bool(difference == 90)
    return bool((difference == 0) == (fact[0] == "parallel"))
