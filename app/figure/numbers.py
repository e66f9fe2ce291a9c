"""Numbers at the edge: JSON numbers, decimals and "37/2" come in as exact fractions, and go out so."""

from __future__ import annotations

import math
import re
from decimal import Decimal
from fractions import Fraction
from functools import lru_cache

from app.figure.faults import Fault, shown

__all__ = ["LARGEST", "decimal_text", "degrees_text", "read_number", "show_number"]

LARGEST = Fraction(1_000_000)
MOST_DECIMALS = 60
LONGEST_TEXT = 40
WHOLE_OR_DECIMAL = re.compile(r"[+-]?(\d+(\.\d*)?|\.\d+)", re.ASCII)
RATIO = re.compile(r"([+-]?\d{1,15})/(\d{1,15})", re.ASCII)


def read_number(value: object, where: str, *, largest: Fraction = LARGEST) -> Fraction:
    """An exact number from a JSON number or a string such as "65", "-1.5" or "37/2".

    A float counts as the decimal it prints as: 0.1 is 1/10. Raises Fault for anything else, for more
    digits than a figure needs, and for a size above `largest`.
    """
    if type(value) is int and -360 <= value <= 360 and largest.numerator >= 360 * largest.denominator:
        return whole(value)
    number = exact(value, where)
    if abs(number.numerator) * largest.denominator > largest.numerator * number.denominator:
        raise Fault("figure.number_large", where, largest=int(largest))
    return number


@lru_cache(maxsize=2048)
def whole(value: int) -> Fraction:
    """Most numbers of a figure are small and whole: each is made once."""
    return Fraction(value)


def exact(value: object, where: str) -> Fraction:
    if isinstance(value, bool):
        raise Fault("figure.number_wanted", where, found=shown(value))
    if isinstance(value, int):
        if value.bit_length() > 80:
            raise Fault("figure.number_large", where, largest=int(LARGEST))
        return Fraction(value)
    if isinstance(value, Fraction):
        return value
    if isinstance(value, float):
        return exact_float(value, where)
    if isinstance(value, str):
        return exact_text(value.strip().replace("\N{MINUS SIGN}", "-"), where)
    raise Fault("figure.number_wanted", where, found=shown(value))


def exact_float(value: float, where: str) -> Fraction:
    if not math.isfinite(value):
        raise Fault("figure.number_finite", where)
    if abs(value) > 1e24:
        raise Fault("figure.number_large", where, largest=int(LARGEST))
    text = repr(value)
    if "e" not in text:  # at most as many digits as a float has
        head, _, tail = text.partition(".")
        return Fraction(int(head + tail), 10 ** len(tail))
    decimal = Decimal(text)
    if -int(decimal.as_tuple().exponent) > MOST_DECIMALS:
        raise Fault("figure.number_digits", where)
    return Fraction(decimal)


def exact_text(text: str, where: str) -> Fraction:
    if len(text) > LONGEST_TEXT:
        raise Fault("figure.number_digits", where)
    if WHOLE_OR_DECIMAL.fullmatch(text):
        return Fraction(Decimal(text))
    ratio = RATIO.fullmatch(text)
    if ratio is None:
        raise Fault("figure.number_wanted", where, found=shown(text))
    if int(ratio[2]) == 0:
        raise Fault("figure.number_over_zero", where)
    return Fraction(int(ratio[1]), int(ratio[2]))


def show_number(number: Fraction) -> int | str:
    """A whole number as an int, anything else as a fraction string: the form of every answer."""
    return number.numerator if number.denominator == 1 else f"{number.numerator}/{number.denominator}"


def decimal_text(number: Fraction, places: int = 1) -> str:
    """The number as a reader of a figure expects it: "65", "18.5"; rounded only where it must be."""
    if number.denominator == 1:
        return str(number.numerator)
    scaled = round(number * 10**places)
    sign, scaled = ("-" if scaled < 0 else ""), abs(scaled)
    whole, rest = divmod(scaled, 10**places)
    decimals = f"{rest:0{places}d}".rstrip("0")
    return sign + (f"{whole}.{decimals}" if decimals else str(whole))


def degrees_text(number: Fraction) -> str:
    """A measure as it is written on a figure: "65°"."""
    return f"{decimal_text(number)}°"
