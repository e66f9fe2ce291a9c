"""Statements of our own making: how each is written for the program, and when it is true.

("par", l, m) · ("npar", l, m) · ("perp", l, m) · ("bis", t, angle) · ("lin", ((k, quantity), ...), total), where a quantity is an
angle by number, an angle by three meets in capitals, or an unknown in a small letter.
"""

from __future__ import annotations

import random
from fractions import Fraction

from tests.honest.plane import Figure, Number, World, heading

Statement = tuple
LINEAR, PARALLEL, NOT_PARALLEL, PERPENDICULAR, BISECTS = "lin", "par", "npar", "perp", "bis"


def congruent(a: str, b: str) -> Statement:
    return LINEAR, ((1, a), (-1, b)), 0


def total(a: str, b: str, value: Number) -> Statement:
    return LINEAR, ((1, a), (1, b)), value


def value(a: str, degrees: Number) -> Statement:
    return LINEAR, ((1, a),), degrees


def is_angle(quantity: str) -> bool:
    return not (len(quantity) == 1 and quantity.islower())


def unknowns_of(statement: Statement) -> set[str]:
    return {name for _, name in statement[1] if not is_angle(name)} if statement[0] == LINEAR else set()


def halves(figure: Figure, line: str, angle: str) -> tuple[tuple[str, str], tuple[str, str], tuple[str, str]] | None:
    """(from, ray of the line inside, to) where the line runs through the angle as drawn."""
    at, start, end = figure.sector(angle)
    if line not in figure.meets[at] or line in (start[0], end[0]):
        return None
    wide = (heading(figure.world, end) - heading(figure.world, start)) % 360
    for sign in "+-":
        if 0 < (heading(figure.world, (line, sign)) - heading(figure.world, start)) % 360 < wide:
            return start, (line, sign), end
    return None


def off(figure: Figure, world: World, unknowns: dict[str, Number], statement: Statement) -> Number:
    """By how much a statement fails in a world: 0 where it holds, degrees where it is about lines."""
    kind = statement[0]
    if kind in (PARALLEL, NOT_PARALLEL, PERPENDICULAR):
        turn = 90 if kind == PERPENDICULAR else 0
        apart = abs((world[statement[1]] - world[statement[2]] - turn + 90) % 180 - 90)
        return apart if kind != NOT_PARALLEL else (0 if apart > 1e-6 else 1)
    if kind == BISECTS:
        start, ray, end = halves(figure, statement[1], statement[2])
        first = (heading(world, ray) - heading(world, start)) % 360
        second = (heading(world, end) - heading(world, ray)) % 360
        return abs(first - second)
    left: Number = 0
    for k, name in statement[1]:
        left += k * (figure.measure(name, world) if is_angle(name) else unknowns[name])
    return abs(left - statement[2])


def text(statement: Statement, rng: random.Random | None = None) -> str:
    """As the contract writes it; with `rng`, in one of the spellings that it allows."""
    pick = rng.choice if rng else (lambda options: options[0])
    kind = statement[0]
    if kind == PARALLEL:
        return pick(("{} ∥ {}", "{} || {}")).format(*statement[1:])
    if kind == NOT_PARALLEL:
        return "{} ∦ {}".format(*statement[1:])
    if kind == PERPENDICULAR:
        return pick(("{} ⊥ {}", "{} perp {}")).format(*statement[1:])
    if kind == BISECTS:
        return "{} bisects ∠{}".format(*statement[1:])
    terms, sum_ = statement[1:]
    factors, names = [k for k, _ in terms], [name for _, name in terms]
    if all(map(is_angle, names)):
        if factors == [1, -1] and sum_ == 0:
            return pick(("∠{} ≅ ∠{}", "m∠{} = m∠{}", "angle {} = angle {}")).format(*names)
        if factors == [1, 1] and sum_ in (90, 180):
            word = "supplementary" if sum_ == 180 else "complementary"
            return pick(("m∠{} + m∠{} = " + str(sum_), "∠{} and ∠{} are " + word)).format(*names)
        if factors == [1] and sum_ == 90:
            return pick(("m∠{} = 90", "∠{} is a right angle")).format(*names)
    if len(terms) > 1 and is_angle(names[0]) and factors[0] == 1 and not is_angle(names[1]) and len(terms) == 2:
        k, c = -factors[1], sum_
        return f"m∠{names[0]} = {_signed(k, first=True)}{names[1]}" + (f" {_tail(c)}" if c else "")
    left = " + ".join(f"({_plain(k)}){'m∠' if is_angle(name) else ''}{name}" for k, name in terms)
    return f"{left} = {_plain(sum_) if sum_ >= 0 else f'-({_plain(-sum_)})'}"


def _plain(number: Number) -> str:
    exact = Fraction(number)
    return str(exact.numerator) if exact.denominator == 1 else f"{exact.numerator}/{exact.denominator}"


def _signed(k: Number, *, first: bool) -> str:
    if k == 1:
        return ""
    if k == -1:
        return "-"
    plain = _plain(abs(k))
    return ("-" if k < 0 else "") + (f"({plain})" if "/" in plain else plain)


def _tail(c: Number) -> str:
    return f"{'+' if c > 0 else '-'} {_plain(abs(c))}"
