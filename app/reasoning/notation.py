"""Reading a statement as the trade writes it, or as a plain keyboard can.

A small tokenizer and recursive descent; nothing a student types is ever evaluated. Every refusal names the
place (counted in characters from 0), what was expected there and what was found.

    statement := lines relation | angles relation | line "bisects" angle | sum = sum
    sum       := ["-"] product (("+" | "-") product)*
    product   := factor (["*"] factor | "/" factor)*
    factor    := number | unknown ["²"] | "(" sum ")" | ["m"] angle
"""

from __future__ import annotations

import re
from fractions import Fraction
from typing import NamedTuple, Protocol

from app.figure.faults import Fault, shown
from app.figure.model import Angle, Figure
from app.reasoning.terms import ANGLE, SQUARE, Expression, Statement
from app.words import say

__all__ = ["LONGEST", "read"]

ONE = Fraction(1)
LONGEST = 200
DIGITS = 6
DEEPEST = 8
MOST_UNKNOWNS = 3

TOKEN = re.compile(
    r"\s*(?:"
    r"(?P<not_parallel>∦|(?:is\s+|are\s+)?not\s*(?:\|\||∥|//|parallel(?:\s+to)?\b)|!\s*\|\|"
    r"|no\s+(?:es|son)\s+paralel[ao]s?\b(?:\s+a(?=\s+\S))?)"
    r"|(?P<parallel>∥|\|\||//|(?:is\s+|are\s+)?parallel(?:\s+to)?\b|(?:es\s+|son\s+)?paralel[ao]s?\b(?:\s+a(?=\s+\S))?)"
    r"|(?P<perpendicular>⊥|_\|_|(?:es\s+|son\s+)perpendicular(?:es)?\b(?:\s+a(?=\s+\S))?|perpendiculares\b"
    r"|(?:is\s+)?perp(?:endicular)?(?:\s+to)?\b)"
    r"|(?P<congruent>≅|~=|=~|(?:is\s+)?congruent\s+to\b|(?:es\s+)?congruente\s+(?:con|a)\b)"
    r"|(?P<angle>∠|<|angles?\b|[áÁaA]ngulos?\b)"
    r"|(?P<number>\d+(?:\.\d+)?|\.\d+)"
    r"|(?P<degree>°|degrees?\b|deg\b|grados?\b)"
    r"|(?P<square>²|\^\s*2(?!\d))"
    r"|(?P<word>[^\W\d_][^\W_'′²]*['′]?)"
    r"|(?P<mark>[=+\-−–*·×/(),.])"
    r")",
)
LINES = re.compile(r"\s*(?:lines?\s+|(?:(?:la|las)\s+)?rectas?\s+)?")
ARTICLES = ("la", "las", "el", "los")
NAME = re.compile(r"\s*([^\W_][^\W_'′]*['′]?)")
PLAIN = {"−": "-", "–": "-", "·": "*", "×": "*"}


class Token(NamedTuple):
    kind: str
    text: str
    at: int


def _fault(code: str, at: int, **fields: object) -> Fault:
    return Fault("reasoning." + code, f"character {at}", at=at, place=at + 1, **fields)


class Named(Protocol):
    """A figure that can tell what a name stands for (a frame): all that reading asks of it."""

    @property
    def fig(self) -> Figure: ...

    def atom(self, angle: Angle) -> str: ...

    def by_meets(self, p: str, vertex: str, q: str) -> str | None: ...

    def bisecting(self, line: str, atom: str) -> tuple[str, str] | None: ...


class _Reader:
    def __init__(self, text: str, frame: Named) -> None:
        if not isinstance(text, str):
            raise Fault("reasoning.text_wanted", "statement", found=shown(text))
        if len(text) > LONGEST:
            raise _fault("too_long", LONGEST, most=LONGEST)
        self.text = text
        self.frame = frame
        self.fig = frame.fig
        self.at = 0
        self.depth = 0
        self.seen: dict[int, Token] = {}
        if not text.strip():
            raise _fault("empty", 0)

    # Looking ahead and moving on.

    def peek(self) -> Token:
        token = self.seen.get(self.at)
        if token is None:
            token = self.seen[self.at] = self._look()
        return token

    def _look(self) -> Token:
        found = TOKEN.match(self.text, self.at)
        if found is None:
            rest = self.text[self.at :]
            start = self.at + len(rest) - len(rest.lstrip())
            if start >= len(self.text):
                return Token("end", "", len(self.text))
            return Token("strange", self.text[start], start)
        kind = str(found.lastgroup)
        start = found.start(kind)
        text = found.group(kind)
        return Token(kind, PLAIN.get(text, text), start)

    def take(self) -> Token:
        token = self.peek()
        if token.kind != "end":
            self.at = token.at + len(token.text)
            if token.kind == "strange":
                raise _fault("strange", token.at, found=shown(token.text))
        return token

    def skip(self, *words: str) -> bool:
        """Step over the next token if it is one of the words (or a mark)."""
        token = self.peek()
        if token.kind in ("word", "mark") and token.text.casefold() in words:
            self.take()
            return True
        return False

    def skip_degrees(self) -> None:
        if self.peek().kind == "degree":
            self.take()

    def expected(self, key: str) -> Fault:
        token = self.peek()
        what = say(f"reasoning.{key}")
        if token.kind == "strange":
            return _fault("strange", token.at, found=shown(token.text))
        if token.kind == "end":
            return _fault("expected_end", token.at, expected=what)
        return _fault("expected", token.at, expected=what, found=shown(token.text))

    def end(self) -> None:
        self.skip(".")
        if self.peek().kind != "end":
            raise self.expected("want_end")

    # Names.

    def line(self) -> str:
        """A line by its name, or by two meets on it."""
        while self.skip("line", "lines", "recta", "rectas") or self.article():
            pass
        found = NAME.match(self.text, self.at)
        if found is None:
            raise self.expected("want_line")
        name = found.group(1)
        line = self.line_named(name)
        if line is None:
            raise _fault("no_such_line", found.start(1), name=shown(name), known=", ".join(self.fig.lines))
        self.at = found.end()
        return line

    def line_named(self, name: str) -> str | None:
        if name in self.fig.lines:
            return name
        for cut in range(1, len(name)):
            p, q = name[:cut], name[cut:]
            if p in self.fig.meets and q in self.fig.meets and p != q:
                return self.fig.line_through(p, q)
        return None

    def starts_with_line(self) -> bool:
        """Whether a line and then a word of lines stand here, and not an unknown in an equation."""
        found = LINES.match(self.text, self.at)
        place = found.end() if found else self.at
        name = NAME.match(self.text, place)
        if name is None:
            return False
        after = TOKEN.match(self.text, name.end())
        kind = after.lastgroup if after else None
        word = after.group("word") if after and kind == "word" else ""
        if kind in ("parallel", "not_parallel", "perpendicular") or word in ("bisects", "and", "biseca"):
            return True
        if word in ("y", "es") and self.line_named(name.group(1)) is not None:
            return True
        return place > self.at and bool(self.text[self.at : place].strip())

    def angle(self) -> str:
        """An angle after its mark: its number, or three meets."""
        found = NAME.match(self.text, self.at)
        if found is None:
            raise self.expected("want_angle_name")
        name, at = found.group(1), found.start(1)
        atom = self.angle_named(name, at)
        self.at = found.end()
        return atom

    def angle_named(self, name: str, at: int) -> str:
        if name in self.fig.angles:
            return self.frame.atom(self.fig.angles[name])
        for i in range(1, len(name) - 1):
            for j in range(i + 1, len(name)):
                p, v, q = name[:i], name[i:j], name[j:]
                if p in self.fig.meets and v in self.fig.meets and q in self.fig.meets:
                    atom = self.frame.by_meets(p, v, q)
                    if atom is None:
                        raise _fault("no_angle_there", at, name=shown(name))
                    return atom
        known = ", ".join(self.fig.angles) or "–"
        if name in self.fig.meets:
            raise _fault("one_letter", at, name=name)
        raise _fault("no_such_angle", at, name=shown(name), known=known)

    # Statements.

    def article(self) -> bool:
        """Step over a Spanish article, unless a line of the figure is called so."""
        token = self.peek()
        return token.text not in self.fig.lines and self.skip(*ARTICLES)

    def statement(self) -> Statement:
        if self.starts_with_line():
            return self.of_lines()
        if self.article() and self.starts_with_line():
            return self.of_lines()
        token = self.peek()
        if token.kind == "angle":
            start = self.at
            self.take()
            a = self.angle()
            found = self.of_angles(a, token)
            if found is not None:
                return found
            self.at = start
        return self.of_measures()

    def of_lines(self) -> Statement:
        at = self.peek().at
        l = self.line()
        if self.skip("bisects", "biseca") or (self.skip("es") and self.bisector()):
            self.article()
            if self.peek().kind == "angle":
                self.take()
            place = self.peek().at
            a = self.angle()
            if self.frame.bisecting(l, a) is None:
                raise _fault("not_inside", place, line=l, angle=a)
            return Statement("bisects", (l, a))
        if self.skip("and", "y"):
            m = self.line()
            self.skip("are")
            token = self.take()
        else:
            token = self.take()
            m = self.line() if token.kind in ("parallel", "not_parallel", "perpendicular") else ""
        kinds = {"parallel": "parallel", "not_parallel": "not parallel", "perpendicular": "perpendicular"}
        if token.kind not in kinds:
            self.at = token.at
            raise self.expected("want_relation")
        if l == m:
            raise _fault("same_line", at, line=l)
        return Statement(kinds[token.kind], (l, m))

    def bisector(self) -> bool:
        """ "(es) la bisectriz de(l) …", as "bisects" is said in Spanish."""
        self.article()
        if not self.skip("bisectriz"):
            raise self.expected("want_relation")
        self.skip("de", "del")
        return True

    def of_angles(self, a: str, first: Token) -> Statement | None:
        """∠a with a relation in words or ≅ or = after it; None where an equation of measures begins."""
        token = self.peek()
        if token.kind == "congruent":
            self.take()
            return Statement("congruent", (a, self.marked_angle()))
        if token.kind == "mark" and token.text == "=":
            start = self.at
            self.take()
            if self.peek().kind == "angle":
                b = self.marked_angle()
                self.skip(".")
                if self.peek().kind == "end":
                    return Statement("congruent", (a, b), loose=True)
            self.at = start
            return None
        if self.skip("and", ",", "y"):
            self.article()
            b = self.marked_angle(optional=True)
            return Statement(*self.relation(a, b))
        if token.kind == "word" and token.text.casefold() in ("is", "es", "supplementary", "complementary"):
            self.skip("is", "es")
            self.skip("a", "an", "the", "un")
            if self.peek().kind == "angle":  # "es un ángulo recto"
                self.take()
            if self.skip("right", "recto"):
                if self.peek().kind == "angle":
                    self.take()
                return Statement("right", (a,))
            for kind, spanish in (("supplementary", "suplementario"), ("complementary", "complementario")):
                if self.skip(kind, kind.replace("ary", ""), spanish):
                    self.skip("to", "with", "of", "de", "del", "con", "a")
                    return Statement(kind, (a, self.marked_angle()))
            raise self.expected("want_one_angle")
        return None

    def marked_angle(self, optional: bool = False) -> str:
        """An angle with its mark; an m before it is let pass."""
        start = self.at
        if self.skip("m") and self.peek().kind != "angle":
            self.at = start
        if self.peek().kind == "angle":
            self.take()
        elif not optional:
            raise self.expected("want_angle")
        return self.angle()

    def relation(self, a: str, b: str) -> tuple[str, tuple[str, str]]:
        self.skip("are", "form", "make", "son", "forman")
        self.skip("a", "an", "the", "un")
        if self.peek().kind == "angle":  # "son ángulos suplementarios"
            self.take()
        names = a, b
        if self.skip("supplementary", "supplements", "suplementarios"):
            return "supplementary", names
        if self.skip("complementary", "complements", "complementarios"):
            return "complementary", names
        if self.skip("congruent", "equal", "congruentes", "iguales"):
            return "congruent", names
        if self.skip("par"):
            if not self.skip("lineal"):
                raise self.expected("want_two_angles")
            return "linear pair", names
        if self.skip("opuestos"):
            for word in (("por",), ("el",), ("vértice", "vertice")):
                self.skip(*word)
            return "vertical", names
        if self.skip("linear"):
            self.skip("pair", "pairs")
            return "linear pair", names
        if self.skip("vertical", "vertically"):
            self.skip("opposite")
            if self.peek().kind == "angle":
                self.take()
            return "vertical", names
        raise self.expected("want_two_angles")

    def of_measures(self) -> Statement:
        left = self.sum()
        token = self.peek()
        if not (token.kind == "congruent" or (token.kind == "mark" and token.text == "=")):
            raise self.expected("want_equals")
        self.take()
        right = self.sum()
        unknowns = {a.rstrip(SQUARE) for side in (left, right) for a, _ in side.terms if not a.startswith(ANGLE)}
        if len(unknowns) > MOST_UNKNOWNS:
            raise _fault("many_unknowns", token.at, most=MOST_UNKNOWNS)
        squares = any(a.endswith(SQUARE) for side in (left, right) for a, _ in side.terms)
        if squares and len(unknowns) > 1:
            raise _fault("square_alone", token.at)
        return Statement("equation", (), left, right)

    # Expressions.

    def sum(self) -> Expression:
        self.depth += 1
        if self.depth > DEEPEST:
            raise _fault("deep", self.at, most=DEEPEST)
        sign = -1 if self.skip("-") else 1
        total = self.product().times(sign)
        while True:
            if self.skip("+"):
                total = total.plus(self.product())
            elif self.skip("-"):
                total = total.plus(self.product(), -1)
            else:
                self.depth -= 1
                return total

    def product(self) -> Expression:
        total = self.factor()
        while True:
            token = self.peek()
            if token.kind == "mark" and token.text == "*":
                self.take()
                total = self.multiply(total, self.factor(), token.at)
            elif token.kind == "mark" and token.text == "/":
                self.take()
                place = self.peek().at
                divisor = self.factor()
                if divisor.terms:
                    raise _fault("divide_by_unknown", place)
                if divisor.constant == 0:
                    raise _fault("divide_by_zero", place)
                total = total.times(1 / divisor.constant)
            elif token.kind in ("word", "angle") or (token.kind == "mark" and token.text == "("):
                total = self.multiply(total, self.factor(), token.at)
            elif token.kind == "degree":
                self.take()
            else:
                return total

    def multiply(self, a: Expression, b: Expression, at: int) -> Expression:
        if not a.terms:
            return b.times(a.constant)
        if not b.terms:
            return a.times(b.constant)
        # The one product of unknowns allowed is a square: (x + 2)(x - 3).
        terms: dict[str, Fraction] = {}
        for first, k in a.terms:
            for second, n in b.terms:
                if first != second or first.startswith(ANGLE) or first.endswith(SQUARE):
                    raise _fault("product", at)
                terms[first + SQUARE] = terms.get(first + SQUARE, Fraction(0)) + k * n
        return (
            Expression.of(terms)
            .plus(Expression(a.terms).times(b.constant))
            .plus(Expression(b.terms).times(a.constant))
            .plus(Expression((), a.constant * b.constant))
        )

    def factor(self) -> Expression:
        token = self.peek()
        if token.kind == "number":
            self.take()
            if sum(c.isdigit() for c in token.text) > DIGITS or not token.text.isascii():
                raise _fault("digits", token.at, most=DIGITS)
            self.skip_degrees()
            whole, _, tail = token.text.partition(".")
            return Expression((), Fraction(int(whole + tail), 10 ** len(tail)))
        if token.kind == "mark" and token.text == "(":
            self.take()
            inner = self.sum()
            if not self.skip(")"):
                raise self.expected("want_bracket")
            self.skip_degrees()
            return inner
        if token.kind == "mark" and token.text == "-":
            raise _fault("two_signs", token.at)
        if token.kind == "angle":
            self.take()
            return Expression(((self.angle(), ONE),))
        if token.kind == "word":
            return self.unknown(token)
        raise self.expected("want_factor")

    def unknown(self, token: Token) -> Expression:
        text = token.text
        after = TOKEN.match(self.text, token.at + 1)
        if text.startswith("m") and after and after.lastgroup == "angle":
            # m∠1, m<1, m angle 1
            self.at = after.end()
            return Expression(((self.angle(), ONE),))
        if text.casefold() in ("measure", "medida"):
            self.take()
            self.skip("of", "de", "del")
            self.article()
            return Expression(((self.marked_angle(), ONE),))
        if len(text) != 1 or not text.isascii() or not text.islower():
            raise _fault("unknown_name", token.at, name=shown(text))
        self.take()
        if self.peek().kind == "square":
            self.take()
            return Expression(((text + SQUARE, ONE),))
        self.skip_degrees()
        return Expression(((text, ONE),))


def read(text: str, frame: Named) -> Statement:
    """The statement `text` makes about the frame's figure. Raises Fault, its place in characters from 0."""
    reader = _Reader(text, frame)
    found = reader.statement()
    reader.end()
    return Statement(found.kind, found.names, found.left, found.right, found.loose, text)
