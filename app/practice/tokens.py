"""The numbers, letters and signs of an answer, with their places; `answers.py` says what they mean together."""

from __future__ import annotations

import re

from app.figure.faults import Fault

__all__ = ["DEGREE", "DIGITS", "LENGTH", "TOKENS", "fault", "tokens"]

LENGTH = 64  # characters in one answer or line (T-06)
TOKENS = 30  # numbers, letters and signs in it
DIGITS = 6  # digits in one number
DEGREE = 2

_ALPHABET = frozenset("abcdefghijklmnopqrstuvwxyz")
_DIGIT = frozenset("0123456789")
_SPACE = frozenset(" \t\u00a0\u2009\u202f")
# Spellings of one sign: minus and dashes, times, divided by.
_SAME = {"−": "-", "–": "-", "×": "*", "·": "*", "⋅": "*", "÷": "/", "º": "°"}
_DEGREES = frozenset({"deg", "degree", "degrees", "grado", "grados"})
_SIGNS = frozenset("+-*/^=(),;²°")


def fault(code: str, where: str, at: int, **fields: object) -> Fault:
    return Fault(f"practice.{code}", where, at=at, place=at + 1, **fields)


_GAP = r"[ \t\u00a0\u2009\u202f]*"
_ANGLE = re.compile(
    rf"(?:m(?:easure{_GAP}of)?{_GAP})?(?:[∠<]|angle\b){_GAP}([0-9]{{1,3}}|[A-Za-z]{{1,3}})(?![A-Za-z0-9])",
    re.IGNORECASE | re.ASCII,
)
# What is said after an equation: (cons. int.), (Vertical Angles Theorem). Three letters in a row are no letters of
# a problem.
_REMARK = re.compile(rf"{_GAP}\((?=[^()=]*[A-Za-z]{{3}})[^()=0-9]*\){_GAP}\.?{_GAP}\Z", re.ASCII)


def tokens(text: object, where: str, *, line: bool = False) -> list[tuple[str, str, int]]:
    """(kind, spelling, place); kind is number, letter, word or the sign itself.

    In a line of working an angle stands for its measure, a letter "∠2", and a remark may stand in brackets after the
    equation.
    """
    text = _as_text(text, where)
    if len(text) > LENGTH:
        raise fault("too_long", where, LENGTH, most=LENGTH)
    found: list[tuple[str, str, int]] = []
    at = 0
    if line and "=" in text:
        text = _REMARK.sub("", text)
    while at < len(text):
        sign = _SAME.get(text[at], text[at])
        start = at
        if sign in _SPACE:
            at += 1
            continue
        angle = _ANGLE.match(text, at) if line else None
        if angle:
            at = angle.end()
            found.append(("letter", f"∠{angle[1]}", start))
        elif sign in _DIGIT or sign == ".":
            at = _number_end(text, at, where)
            found.append(("number", text[start:at], start))
        elif sign.lower() in _ALPHABET and sign.isascii():
            while at < len(text) and text[at].isascii() and text[at].lower() in _ALPHABET:
                at += 1
            found += _letters(text[start:at], start, where)
        elif sign in _SIGNS:
            at += 1
            found.append((sign, sign, start))
        else:
            raise fault("sign", where, at, sign=sign if sign.isprintable() else "?")
        if len(found) > TOKENS:
            raise fault("too_many", where, start, most=TOKENS)
    return found


def _as_text(text: object, where: str) -> str:
    """A JSON number is read as if it had been typed."""
    if isinstance(text, str):
        return text
    if isinstance(text, bool) or not isinstance(text, (int, float)):
        raise fault("not_text", where, 0)
    if not -(10**DIGITS) < text < 10**DIGITS:  # NaN and the infinities fail this too
        raise fault("long_number", where, 0, most=DIGITS)
    return repr(text)


def _number_end(text: str, at: int, where: str) -> int:
    start, digits, points = at, 0, 0
    while at < len(text) and (text[at] in _DIGIT or text[at] == "." or _decimal_comma(text, at)):
        points += text[at] in ".,"
        digits += text[at] in _DIGIT
        at += 1
    if points > 1 or not digits or text[at - 1] == ".":
        raise fault("number", where, start)
    if digits > DIGITS:
        raise fault("long_number", where, start, most=DIGITS)
    return at


def _decimal_comma(text: str, at: int) -> bool:
    """18,5 is a decimal. Three digits after the comma may be thousands, so 1,000 is asked about instead."""
    if text[at] != "," or at == 0 or text[at - 1] not in _DIGIT:
        return False
    end = at + 1
    while end < len(text) and text[end] in _DIGIT:
        end += 1
    return end - at - 1 not in (0, 3)


def _letters(word: str, start: int, where: str) -> list[tuple[str, str, int]]:
    """A run of letters: the words "or" and "and", or up to two letters multiplied (xy)."""
    if word.lower() in {"or", "and"}:
        return [(word.lower(), word, start)]
    if word.lower() in _DEGREES:
        return [("°", word, start)]
    if len(word) == 1:  # a capital alone is the letter: X = 20
        return [("letter", word.lower(), start)]
    if len(word) > DEGREE or word != word.lower():
        raise fault("word", where, start, word=word[:16])
    return [("letter", letter, start + i) for i, letter in enumerate(word)]
