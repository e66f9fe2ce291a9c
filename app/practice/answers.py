"""What a student types as an answer, read by our own small reader; never by Python or an algebra system.

An expression is kept as a polynomial and as a *tree*, as it was written, for naming the slip between two
lines of working. A *line* is one or more equations.

    line       = equations { "or" equations }
    equations  = equation { ("," | ";" | "and") equation }
    equation   = sum "=" sum { "=" sum }
    sum        = ["+" | "-"] product { ("+" | "-") ["-"] product }
    product    = power { ("*" | "/") ["-"] power | power that starts with a letter or "(" }
    power      = atom { "²" | "^" 0..2 } [ "°" ]
    atom       = number | letter | "(" sum ")"

A number may have a decimal point or comma; "degrees", "deg" and "grados" stand for °; a capital alone is its small
letter. In a line of working an angle may stand for its measure (∠2, m∠2, <2), and a remark in brackets may follow:
3x + 5 = 80 (cons. int.).

`static/practice/answers.js` reads the same grammar; `tests/vectors/answers.json` holds both to it.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction

from app.figure.faults import Fault
from app.practice.polynomials import Monomial, Poly, add, multiply, scale
from app.practice.tokens import DEGREE, LENGTH, fault, tokens

__all__ = [
    "Equation",
    "Expression",
    "Line",
    "Tree",
    "read_expression",
    "read_line",
    "read_measure",
    "read_value",
]

DEPTH = 8  # brackets inside brackets
LETTERS = 3  # different letters in one line


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
            raise fault("not_a_number", where, 0)
        return poly.get((), Fraction(0))
    if len(line.cases) == 1 and len(line.cases[0]) == 1:
        equation = line.cases[0][0]
        for name, value in ((equation.left, equation.right), (equation.right, equation.left)):
            if name.tree.op == "letter" and not set(value.terms) - {()}:
                return value.terms.get((), Fraction(0))
    raise fault("not_a_number", where, 0)


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
        raise fault("equals_here", where, 0)
    return found


def read_line(text: object, where: str = "working") -> Line:
    """One line of working. Raises Fault, also when there is no equals sign."""
    found = _Reader(text, where, line=True).anything()
    if isinstance(found, Expression):
        raise fault("no_equals", where, 0)
    return found


class _Reader:
    """Recursive descent over the tokens; one method a rule of the grammar."""

    def __init__(self, text: object, where: str, *, line: bool = False) -> None:
        self.where = where
        self.tokens = tokens(text, where, line=line)
        self.end = len(text) if isinstance(text, str) else 0
        self.at = 0
        self.depth = 0
        letters = sorted({word for kind, word, _ in self.tokens if kind == "letter"})
        if len(letters) > LETTERS:
            raise fault("letters", where, 0, most=LETTERS)
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
        return fault(code, self.where, self.place(), **fields)

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
                    raise fault("divide", self.where, place)
                tree, poly = Tree("div", (tree, second)), scale(poly, 1 / divisor)
            else:
                tree, poly = Tree("mul", (tree, second)), multiply(poly, by)
                if any(len(m) > DEGREE for m in poly):
                    raise fault("degree", self.where, place, most=DEGREE)
        return tree, poly

    def power(self) -> tuple[Tree, Poly]:
        tree, poly = self.atom()
        while self.kind() in {"²", "^"}:
            place = self.place()
            exponent = 2
            if self.take()[0] == "^":
                if self.kind() != "number" or self.tokens[self.at][1] not in {"0", "1", "2"}:
                    raise fault("exponent", self.where, place, most=DEGREE)
                exponent = int(self.take()[1])
            if self.kind() in {"²", "^"}:
                raise self.fault("exponent", most=DEGREE)
            tree = Tree("power", (tree,), Fraction(exponent))
            base, poly = poly, {(): Fraction(1)}
            for _ in range(exponent):
                poly = multiply(poly, base)
            if any(len(m) > DEGREE for m in poly):
                raise fault("degree", self.where, place, most=DEGREE)
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
                raise fault("deep", self.where, place, most=DEPTH)
            inside = self.sum()
            if self.kind() != ")":
                if self.kind() and self.kind() != "=":
                    raise self.stray()
                raise fault("open", self.where, place)
            self.take()
            self.depth -= 1
            return inside
        raise self.fault("expected", sign=self.tokens[self.at][1])
