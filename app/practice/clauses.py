"""One part of a sentence about angles and lines, read into what it claims: "∠3 ≅ ∠6", "the lines are not parallel".

A reader of our own: a list of words that is walked once, with limits; nothing is evaluated, and the first word that
has no meaning here is named in the Fault.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from app.figure.faults import Fault, shown
from app.practice.clause_words import DENIALS, FILLS, SUMS, VERBS, phrases
from app.words import Text
from app.words.house import PAIR_TERMS

__all__ = ["BOTH", "Atom", "Names", "Said", "read_clause"]

BOTH = "both lines"  # the noun of "perpendicular to both lines"


@dataclass(frozen=True, slots=True)
class Atom:
    """One claim. `names` are angles or lines; without names it speaks of `noun`, or of the angles of a `pair`."""

    kind: str
    names: frozenset[str] = frozenset()
    noun: str = ""
    pair: str = ""
    value: Fraction | None = None

    def fits(self, known: Atom) -> bool:
        """Whether a student who says this means `known`, which is fully said."""
        if (self.kind, self.value) != (known.kind, known.value):
            return False
        if self.names:
            return self.names == known.names
        return self.noun in ("", known.noun) and self.pair in ("", known.pair)


@dataclass(frozen=True, slots=True)
class Said:
    """Claims that are made together: "+" all hold, "-" they don't all hold, "~" each is denied, "?" some other mix."""

    atoms: tuple[Atom, ...]
    sign: str


@dataclass(frozen=True, slots=True)
class Names:
    """The names that a figure has, in small letters."""

    angles: frozenset[str]
    lines: frozenset[str]


def read_clause(words: Sequence[str], names: Names, where: str, part: Text) -> Said:
    """What the words claim. Raises Fault with the word that stops the reading; `part` is named in it."""
    return _Reader(words, names, where, part).clause()


class _Reader:
    def __init__(self, words: Sequence[str], names: Names, where: str, part: Text) -> None:
        self.words, self.names, self.where, self.part = list(words), names, where, part
        self.at = 0

    def fault(self) -> Fault:
        rest = " ".join(self.words[self.at :])
        if not rest:
            return Fault("connect.unfinished", self.where, part=self.part)
        return Fault("connect.unread", self.where, part=self.part, rest=shown(rest))

    def peek(self, ahead: int = 0) -> str:
        at = self.at + ahead
        return self.words[at] if at < len(self.words) else ""

    def take(self, *words: str) -> bool:
        """Whether these come next; then they are behind us."""
        if tuple(self.words[self.at : self.at + len(words)]) != words:
            return False
        self.at += len(words)
        return True

    def clause(self) -> Said:
        whole = any(self.take(*words) for words in DENIALS)
        self.take("both")
        found = [self.claim()]
        joins = set()
        while self.peek() in ("and", "or", ","):
            comma = self.take(",")
            joins.add("or" if self.peek() == "or" else "and")
            if not (self.take("and") or self.take("or") or comma):
                break
            found.append(self.claim())
        if self.at < len(self.words):
            raise self.fault()
        atoms = tuple(atom for atoms, _ in found for atom in atoms)
        return Said(atoms, _sign(whole, [denied for _, denied in found], "or" in joins))

    def claim(self) -> tuple[tuple[Atom, ...], bool]:
        """One subject and what is said of it; whether it is denied."""
        denied = False
        while self.take("not"):
            denied = not denied
        start = self.at
        subject = self.things()
        total = self.take("+") or "sum" in self.words[start : self.at]
        if self.peek(-1) == "+":
            subject = self.joined(subject, self.things())
        while True:
            if self.take("not"):
                denied = not denied
            elif self.peek() not in VERBS and self.phrase(move=False):
                break
            elif self.peek() in VERBS | FILLS | SUMS:
                total |= self.peek() in SUMS
                self.at += 1
            else:
                break
        # "=" is congruence before an angle, a measure before a number.
        equals = self.take("=") or self.take("equals") or self.take("equal", "to")
        if self.take("≠"):
            equals, denied = True, not denied
        if self.peek()[:1].isdigit() and (self.peek() not in self.names.angles or total):
            value = Fraction(self.words[self.at])
            self.at += 1
            self.take("degrees")
            return self.measured(subject, total, value), denied
        if equals:
            kind = "congruent"
        else:
            kind = self.phrase()
            if not kind:
                raise self.fault()
        denied ^= kind.startswith("not ")
        kind = kind.removeprefix("not ")
        while self.peek() in ("to", "with", "of", "both", "the", "each", "other"):
            self.at += 1
        objects = self.things() if self.thing_next() else None
        if objects is None and len(subject.names) == 1:
            raise self.fault()  # one angle alone is congruent to nothing
        return self.atoms(kind, subject, objects), denied

    def atoms(self, kind: str, subject: Atom, objects: Atom | None) -> tuple[Atom, ...]:
        if kind == "perpendicular" and objects is not None and len(objects.names) != 1:
            if not objects.names:
                return (Atom(kind, subject.names, BOTH),)
            return tuple(Atom(kind, subject.names | {one}, "lines") for one in sorted(objects.names))
        whole = subject if objects is None else self.joined(subject, objects)
        return (Atom(kind, whole.names, whole.noun, whole.pair),)

    def measured(self, subject: Atom, total: bool, value: Fraction) -> tuple[Atom, ...]:
        if total:
            kind = {180: "supplementary", 90: "complementary"}.get(value)  # type: ignore[call-overload]
            if kind is None:
                raise Fault("connect.unread", self.where, part=self.part, rest=str(value))
            return (Atom(kind, subject.names, subject.noun, subject.pair),)
        return tuple(Atom("measure", frozenset({name}), "angles", "", value) for name in sorted(subject.names))

    def joined(self, one: Atom, other: Atom) -> Atom:
        return Atom("", one.names | other.names, one.noun or other.noun, one.pair or other.pair)

    def phrase(self, *, move: bool = True) -> str:
        """The claim that comes next, or ""."""
        for words, kind in phrases():
            if tuple(self.words[self.at : self.at + len(words)]) == words:
                self.at += len(words) if move else 0
                return kind
        return ""

    def thing_next(self) -> bool:
        word, after = self.peek(), self.peek(1)
        if word == "∠" or word in self.names.lines or word in ("line", "lines", "angle", "m"):
            return word != "m" or "m" in self.names.lines or after == "∠"
        return False

    def things(self) -> Atom:
        """Angles or lines by name, or all that are meant: "the lines", "they", "alternate interior angles"."""
        while self.peek() in FILLS | SUMS and self.peek() not in self.names.lines:
            self.at += 1
        pair = ""
        for words, kind in phrases():
            if kind in PAIR_TERMS and tuple(self.words[self.at : self.at + len(words)]) == words:
                self.at += len(words)
                pair = kind
                break
        noun = "angles" if pair else ""
        found: set[str] = set()
        while True:
            name, is_angle = self.name()
            if not name:
                break
            found.add(name)
            noun = "angles" if is_angle else "lines"
            if not (self.peek() in ("and", ",") and self.more(is_angle)):
                break
            self.at += 1
        if not found and not pair:
            if self.take("they") or self.take("it"):
                return Atom("", noun="")
            for word, noun_ in (("lines", "lines"), ("angles", "angles"), ("line", "lines"), ("angle", "angles")):
                if self.take(word):
                    return Atom("", noun=noun_)
            raise self.fault()
        return Atom("", frozenset(found), noun, pair)

    def more(self, is_angle: bool) -> bool:
        """Whether the list of names goes on, or a claim of its own begins: "t ⊥ m and t ⊥ n"."""
        start = self.at
        self.at += 1
        name, other = self.name()
        after = self.peek()
        self.at = start
        relation = after in ("≅", "≇", "=", "≠", "∥", "∦", "⊥") or after == "+"
        alone = after == "is" and "sum" not in self.words[: self.at]
        return bool(name) and other == is_angle and not relation and not alone

    def name(self) -> tuple[str, bool]:
        """A name that comes next, and whether it is an angle's; "" where none comes."""
        start = self.at
        self.take("both")
        if self.peek() == "m" and self.peek(1) in ("∠", "angle"):
            self.at += 1
        sign = (
            self.take("∠")
            or self.take("angle")
            or (self.peek() == "angles" and self.peek(1) in self.names.angles and self.take("angles"))
        )
        if self.peek() in self.names.angles and (sign or self.peek(-1) in ("and", ",")):
            self.at += 1
            return self.words[self.at - 1], True
        if sign and self.peek().isalnum() and len(self.peek()) < 3:
            raise Fault("connect.no_angle", self.where, part=self.part, angle=shown(self.peek()))
        _ = self.take("line") or (self.peek(1) in self.names.lines and self.take("lines"))
        if self.peek() in self.names.lines and not sign:
            self.at += 1
            return self.words[self.at - 1], False
        self.at = start
        return "", False


def _sign(whole: bool, denied: list[bool], either: bool) -> str:
    """How claims stand together, from what was denied and whether they are joined by "or"."""
    if len(denied) == 1:
        return "-" if whole != denied[0] else "+"
    if not any(denied):
        return ("-" if whole else "+") if not either else ("~" if whole else "?")
    if all(denied) and not whole:
        return "-" if either else "~"
    return "?"
