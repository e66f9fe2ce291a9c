"""What a student types as an answer, read by our own small reader; never by Python or an algebra system.

Letters used here: a *polynomial* is a dict from monomial to coefficient, a *monomial* the sorted tuple of
its letters: 3x² + xy - 1/2 is {("x","x"): 3, ("x","y"): 1, (): -1/2}. A *tree* keeps the expression as
written, for naming the slip between two lines of working. A *line* is one or more equations.

    line       = equations { "or" equations }
    equations  = equation { ("," | ";" | "and") equation }
    equation   = sum "=" sum { "=" sum }
    sum        = ["+" | "-"] product { ("+" | "-") ["-"] product }
    product    = power { ("*" | "/") ["-"] power | power that starts with a letter or "(" }
    power      = atom { "²" | "^" 0..2 } [ "°" ]
    atom       = number | letter | "(" sum ")"

A number may have a decimal point or comma; "degrees", "deg" and "grados" stand for °.

`static/practice/answers.js` reads the same grammar; `tests/vectors/answers.json` holds both to it.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction

from app.figure.faults import Fault

__all__ = [
    "DEPTH",
    "DIGITS",
    "LENGTH",
    "LETTERS",
    "TOKENS",
    "Equation",
    "Expression",
    "Line",
    "Poly",
    "Tree",
    "read_expression",
    "read_line",
    "read_measure",
    "read_value",
    "show_poly",
]

LENGTH = 64  # characters in one answer or line (T-06)
TOKENS = 30  # numbers, letters and signs in it
DEPTH = 8  # brackets inside brackets
DIGITS = 6  # digits in one number
DEGREE = 2
LETTERS = 3  # different letters in one line

Monomial = tuple[str, ...]
Poly = dict[Monomial, Fraction]

_ALPHABET = frozenset("abcdefghijklmnopqrstuvwxyz")
_DIGIT = frozenset("0123456789")
_SPACE = frozenset(" \t\u00a0\u2009\u202f")
# Spellings of one sign: minus and dashes, times, divided by.
_SAME = {"−": "-", "–": "-", "×": "*", "·": "*", "⋅": "*", "÷": "/", "º": "°"}
_DEGREES = frozenset({"deg", "degree", "degrees", "grado", "grados"})
_SIGNS = frozenset("+-*/^=(),;²°")


@dataclass(frozen=True, slots=True)
class Tree:
    """An expression as written. `op` is num, letter, add, neg, mul, div, power; `parts` its operands."""

    op: str
    parts: tuple[Tree, ...] = ()
    value: Fraction = Fraction(0)
    letter: str = ""


@dataclass(frozen=True, slots=True)
class Expression:
    tree: Tree
    poly: tuple[tuple[Monomial, Fraction], ...]

    @property
    def terms(self) -> Poly:
        return dict(self.poly)


@dataclass(frozen=True, slots=True)
class Equation:
    left: Expression
    right: Expression


@dataclass(frozen=True, slots=True)
class Line:
    """Alternatives ("or") of equations that hold together ("and")."""

    cases: tuple[tuple[Equation, ...], ...]
    letters: tuple[str, ...]


def read_value(text: object, where: str = "answer") -> Fraction:
    """The number that `text` says: `12`, `-3.5`, `146/3`, `65°`, `x = 12`, `2(30) + 5`.

    Raises Fault when it is no number or not readable; `fields["at"]` is the place, counted from 0.
    """
    line = _Reader(text, where).anything()
    if isinstance(line, Expression):
        poly = line.terms
        if set(poly) - {()}:
            raise _fault("not_a_number", where, 0)
        return poly.get((), Fraction(0))
    if len(line.cases) == 1 and len(line.cases[0]) == 1:
        equation = line.cases[0][0]
        for name, value in ((equation.left, equation.right), (equation.right, equation.left)):
            if name.tree.op == "letter" and not set(value.terms) - {()}:
                return value.terms.get((), Fraction(0))
    raise _fault("not_a_number", where, 0)


def read_measure(text: object, label: str, where: str = "answer") -> Fraction:
    """As read_value, for a field labelled `label` ("m∠2", "x"): the label may be said along, m∠2 = 40°."""
    found = re.fullmatch(r"\s*m\s*∠\s*(\w{1,8})", label)
    if not found or not isinstance(text, str) or len(text) > LENGTH:
        return read_value(text, where)
    angle = rf"\s*(?:m(?:easure)?\s*)?(?:∠|<|angle)\s*{re.escape(found[1])}\s*"
    for pattern in (rf"{angle}=(.*)", rf"(.*)={angle}"):
        said = re.fullmatch(pattern, text, re.IGNORECASE)
        if said:
            return read_value(said[1], where)
    return read_value(text, where)


def read_expression(text: object, where: str = "answer") -> Expression:
    """One expression, no equals sign. Raises Fault."""
    found = _Reader(text, where).anything()
    if isinstance(found, Line):
        raise _fault("equals_here", where, 0)
    return found


def read_line(text: object, where: str = "working") -> Line:
    """One line of working. Raises Fault, also when there is no equals sign."""
    found = _Reader(text, where).anything()
    if isinstance(found, Expression):
        raise _fault("no_equals", where, 0)
    return found


def show_poly(poly: Poly) -> str:
    """The polynomial in one canonical order: higher degree first, then the alphabet; 0 for nothing."""
    words: list[str] = []
    for monomial in sorted((m for m, k in poly.items() if k), key=lambda m: (-len(m), m)):
        k = poly[monomial]
        letters = "".join(monomial[0] + "²" if len(monomial) == 2 and monomial[0] == monomial[1] else "".join(monomial))
        size = str(abs(k))
        if letters and abs(k) == 1:
            size = ""
        elif letters and abs(k).denominator != 1:
            size = f"({size})"
        words.append(
            ("-" if k < 0 else "") + size + letters if not words else (" - " if k < 0 else " + ") + size + letters
        )
    return "".join(words) or "0"


def _fault(code: str, where: str, at: int, **fields: object) -> Fault:
    return Fault(f"practice.{code}", where, at=at, place=at + 1, **fields)


def _tokens(text: object, where: str) -> list[tuple[str, str, int]]:
    """(kind, spelling, place); kind is number, letter, word or the sign itself."""
    text = _as_text(text, where)
    if len(text) > LENGTH:
        raise _fault("too_long", where, LENGTH, most=LENGTH)
    found: list[tuple[str, str, int]] = []
    at = 0
    while at < len(text):
        sign = _SAME.get(text[at], text[at])
        start = at
        if sign in _SPACE:
            at += 1
            continue
        if sign in _DIGIT or sign == ".":
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
            raise _fault("sign", where, at, sign=sign if sign.isprintable() else "?")
        if len(found) > TOKENS:
            raise _fault("too_many", where, start, most=TOKENS)
    return found


def _as_text(text: object, where: str) -> str:
    """A JSON number is read as if it had been typed."""
    if isinstance(text, str):
        return text
    if isinstance(text, bool) or not isinstance(text, (int, float)):
        raise _fault("not_text", where, 0)
    if not -(10**DIGITS) < text < 10**DIGITS:  # NaN and the infinities fail this too
        raise _fault("long_number", where, 0, most=DIGITS)
    return repr(text)


def _number_end(text: str, at: int, where: str) -> int:
    start, digits, points = at, 0, 0
    while at < len(text) and (text[at] in _DIGIT or text[at] == "." or _decimal_comma(text, at)):
        points += text[at] in ".,"
        digits += text[at] in _DIGIT
        at += 1
    if points > 1 or not digits or text[at - 1] == ".":
        raise _fault("number", where, start)
    if digits > DIGITS:
        raise _fault("long_number", where, start, most=DIGITS)
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
    if len(word) > DEGREE or word != word.lower():
        raise _fault("word", where, start, word=word[:16])
    return [("letter", letter, start + i) for i, letter in enumerate(word)]


class _Reader:
    """Recursive descent over the tokens; one method a rule of the grammar."""

    def __init__(self, text: object, where: str) -> None:
        self.where = where
        self.tokens = _tokens(text, where)
        self.end = len(text) if isinstance(text, str) else 0
        self.at = 0
        self.depth = 0
        letters = sorted({word for kind, word, _ in self.tokens if kind == "letter"})
        if len(letters) > LETTERS:
            raise _fault("letters", where, 0, most=LETTERS)
        self.letters = tuple(letters)

    def kind(self) -> str:
        return self.tokens[self.at][0] if self.at < len(self.tokens) else ""

    def place(self) -> int:
        return self.tokens[self.at][2] if self.at < len(self.tokens) else self.end

    def take(self) -> tuple[str, str, int]:
        token = self.tokens[self.at]
        self.at += 1
        return token

    def fault(self, code: str, **fields: object) -> Fault:
        return _fault(code, self.where, self.place(), **fields)

    def anything(self) -> Expression | Line:
        if not self.tokens:
            raise self.fault("empty")
        first = self.expression()
        if not self.kind():
            return first
        if self.kind() != "=":
            raise self.stray()
        cases = [self.equations(first)]
        while self.kind() == "or":
            self.take()
            cases.append(self.equations(self.expression()))
        if self.kind():
            raise self.stray()
        return Line(tuple(cases), self.letters)

    def stray(self) -> Fault:
        kind, word, _ = self.tokens[self.at]
        before = self.tokens[self.at - 1][0] if self.at else ""
        if kind == "number" and before == "number":
            return self.fault("two_numbers")
        if kind == "number" and before in {"letter", ")", "²", "°"}:
            return self.fault("number_after")
        if kind == ")":
            return self.fault("closing")
        return self.fault("stray", sign=word)

    def equations(self, first: Expression) -> tuple[Equation, ...]:
        found = self.chain(first)
        while self.kind() in {",", ";", "and"}:
            self.take()
            found += self.chain(self.expression())
        return tuple(found)

    def chain(self, first: Expression) -> list[Equation]:
        """a = b = c says a = b and b = c."""
        if self.kind() != "=":
            raise self.fault("no_equals")
        found = []
        while self.kind() == "=":
            self.take()
            second = self.expression()
            found.append(Equation(first, second))
            first = second
        return found

    def expression(self) -> Expression:
        tree, poly = self.sum()
        return Expression(tree, tuple(sorted((m, k) for m, k in poly.items() if k)))

    def sum(self) -> tuple[Tree, Poly]:
        negative = False
        if self.kind() in {"+", "-"}:
            negative = self.take()[0] == "-"
        tree, poly = self.product()
        if negative:
            tree, poly = Tree("neg", (tree,)), scale(poly, Fraction(-1))
        parts = [tree]
        while self.kind() in {"+", "-"}:
            minus = (self.take()[0] == "-") != self.minus()
            tree, more = self.product()
            if minus:
                tree, more = Tree("neg", (tree,)), scale(more, Fraction(-1))
            parts.append(tree)
            poly = add(poly, more)
        return (parts[0] if len(parts) == 1 else Tree("add", tuple(parts))), poly

    def minus(self) -> bool:
        """One minus sign right after another sign: 3x + -4, 3 · -4."""
        if self.kind() != "-":
            return False
        self.take()
        return True

    def product(self) -> tuple[Tree, Poly]:
        tree, poly = self.power()
        while self.kind() in {"*", "/", "letter", "("}:
            place = self.place()
            sign = self.take()[0] if self.kind() in {"*", "/"} else "*"
            if self.kind() == "*":
                raise self.fault("double_star")
            if self.at and self.tokens[self.at - 1][0] in {"*", "/"} and self.minus():
                second, by = self.power()
                second, by = Tree("neg", (second,)), scale(by, Fraction(-1))
            else:
                second, by = self.power()
            if sign == "/":
                divisor = by.get((), Fraction(0))
                if set(by) - {()} or not divisor:
                    raise _fault("divide", self.where, place)
                tree, poly = Tree("div", (tree, second)), scale(poly, 1 / divisor)
            else:
                tree, poly = Tree("mul", (tree, second)), multiply(poly, by)
                if any(len(m) > DEGREE for m in poly):
                    raise _fault("degree", self.where, place, most=DEGREE)
        return tree, poly

    def power(self) -> tuple[Tree, Poly]:
        tree, poly = self.atom()
        while self.kind() in {"²", "^"}:
            place = self.place()
            exponent = 2
            if self.take()[0] == "^":
                if self.kind() != "number" or self.tokens[self.at][1] not in {"0", "1", "2"}:
                    raise _fault("exponent", self.where, place, most=DEGREE)
                exponent = int(self.take()[1])
            if self.kind() in {"²", "^"}:
                raise self.fault("exponent", most=DEGREE)
            tree = Tree("power", (tree,), Fraction(exponent))
            base, poly = poly, {(): Fraction(1)}
            for _ in range(exponent):
                poly = multiply(poly, base)
            if any(len(m) > DEGREE for m in poly):
                raise _fault("degree", self.where, place, most=DEGREE)
        if self.kind() == "°":
            self.take()
        return tree, poly

    def atom(self) -> tuple[Tree, Poly]:
        if not self.kind():
            raise self.fault("unfinished")
        kind = self.kind()
        if kind == "number":
            value = Fraction(self.take()[1].replace(",", "."))
            return Tree("num", value=value), {(): value}
        if kind == "letter":
            letter = self.take()[1]
            return Tree("letter", letter=letter), {(letter,): Fraction(1)}
        if kind == "(":
            place = self.place()
            self.take()
            self.depth += 1
            if self.depth > DEPTH:
                raise _fault("deep", self.where, place, most=DEPTH)
            inside = self.sum()
            if self.kind() != ")":
                if self.kind() and self.kind() != "=":
                    raise self.stray()
                raise _fault("open", self.where, place)
            self.take()
            self.depth -= 1
            return inside
        raise self.fault("expected", sign=self.tokens[self.at][1])


def add(p: Poly, q: Poly) -> Poly:
    total = dict(p)
    for monomial, k in q.items():
        total[monomial] = total.get(monomial, Fraction(0)) + k
    return {m: k for m, k in total.items() if k}


def scale(p: Poly, k: Fraction) -> Poly:
    return {m: c * k for m, c in p.items() if c * k}


def multiply(p: Poly, q: Poly) -> Poly:
    total: Poly = {}
    for m, a in p.items():
        for n, b in q.items():
            key = tuple(sorted(m + n))
            total[key] = total.get(key, Fraction(0)) + a * b
    return {m: k for m, k in total.items() if k}
