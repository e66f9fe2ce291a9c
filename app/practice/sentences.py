"""A sentence of two clauses, written by a student: "If l ∦ m, then ∠3 and ∠6 are not congruent."

It is read into a short value, such as "if:-c>-h": the connective, then each part, `h` for the statement's hypothesis
and `c` for its conclusion, "+" as it stands, "-" denied, "~" each of its claims denied, "?" a clause that is neither.
"If and only if" is "iff:" with its two parts in the order of the alphabet, since either may come first.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from app.figure.faults import Fault
from app.practice.clause_words import words_of
from app.practice.clauses import BOTH, Atom, Names, Said, read_clause
from app.words import Message, Text, joined, say

__all__ = ["FORMS", "Parts", "explain", "part_text", "read_sentence", "value_of", "written"]

# form → its value
FORMS: Mapping[str, str] = {
    "statement": "if:+h>+c",
    "converse": "if:+c>+h",
    "inverse": "if:-h>-c",
    "contrapositive": "if:-c>-h",
    "biconditional": "iff:+c=+h",
}
_IFF = (("if", "and", "only", "if"), ("iff",), ("exactly", "when"), ("exactly", "if"), ("just", "when"))


@dataclass(frozen=True, slots=True)
class Parts:
    """What the two clauses of the statement claim, and the names that its figure has."""

    h: tuple[Atom, ...]
    c: tuple[Atom, ...]
    names: Names


def value_of(connective: str, first: str, last: str) -> str:
    return f"iff:{'='.join(sorted((first, last)))}" if connective == "iff" else f"if:{first}>{last}"


def written(connective: str, first: Text, last: Text) -> Message:
    """The sentence of two clauses."""
    return say(f"connect.{connective}_sentence", first=first, last=last)


def read_sentence(text: object, parts: Parts, where: str) -> str:
    """The value of a sentence. Raises Fault for one that can't be read, with the part and the word."""
    words = words_of(text, where)
    if not words:
        raise Fault("connect.empty", where)
    fault: Fault | None = None
    for connective, first, last in _splits(words, where):
        try:
            read = [
                _which(read_clause(part, parts.names, where, say(f"connect.part_{name}")), parts)
                for part, name in zip((first, last), _PART_NAMES[connective], strict=True)
            ]
        except Fault as found:
            fault = fault or found
            continue
        return value_of(connective, *read)
    raise fault or Fault("connect.no_if", where)


_PART_NAMES = {"if": ("if", "then"), "iff": ("first", "second")}


def _splits(words: list[str], where: str) -> Iterator[tuple[str, list[str], list[str]]]:
    """(connective, first part, second part), the likeliest first; "Q if P" is turned round."""
    for phrase in _IFF:
        n = len(phrase)
        for i in range(len(words) - n + 1):
            if tuple(words[i : i + n]) == phrase:
                yield "iff", words[:i], words[i + n :]
                return
    if words.count("if") + words.count("then") > 2 or words.count("if") > 1:
        raise Fault("connect.one_sentence", where)
    if words[0] in ("if", "when", "whenever"):
        if "then" in words:
            i = words.index("then")
            yield "if", _trimmed(words[1:i]), words[i + 1 :]
            return
        commas = [i for i, word in enumerate(words) if word == ","]
        if not commas:
            raise Fault("connect.no_then", where)
        for i in commas:
            yield "if", words[1:i], words[i + 1 :]
        return
    for phrase, turned in (
        (("only", "if"), False),
        (("implies", "that"), False),
        (("implies",), False),
        (("if",), True),
        (("whenever",), True),
        (("when",), True),
    ):
        n = len(phrase)
        for i in range(1, len(words) - n + 1):
            if tuple(words[i : i + n]) == phrase:
                first, last = _trimmed(words[:i]), words[i + n :]
                yield ("if", last, first) if turned else ("if", first, last)
                return


def _trimmed(words: list[str]) -> list[str]:
    return words[:-1] if words and words[-1] == "," else words


def _which(said: Said, parts: Parts) -> str:
    """ "+h", "-c", "~h", "?h", or "?" for a clause of another statement."""
    for name, known in (("h", parts.h), ("c", parts.c)):
        if _same(said.atoms, known):
            return said.sign + name
    return "?"


def _same(said: tuple[Atom, ...], known: tuple[Atom, ...]) -> bool:
    if len(said) == 1 and said[0].noun == BOTH:
        return len(known) > 1 and all(k.kind == said[0].kind and said[0].names < k.names for k in known)
    left = list(known)
    for atom in said:
        one = next((k for k in left if atom.fits(k)), None)
        if one is None:
            return False
        left.remove(one)
    return not left


def _split_value(value: str) -> tuple[str, str, str]:
    connective, _, rest = value.partition(":")
    first, _, last = rest.partition("=" if connective == "iff" else ">")
    return connective, first, last


def explain(value: str, wanted: str) -> Message:
    """What was done, and what the form that is asked for does: never bare right or wrong."""
    connective, first, last = _split_value(value)
    form = say(f"practice.form_{wanted}")
    rule = say(f"practice.connect_why_{wanted}")
    if "?" in (first, last):
        names = [
            say(f"connect.part_{n}") for n, v in zip(_PART_NAMES[connective], (first, last), strict=True) if v == "?"
        ]
        return say("connect.foreign", part=joined("and", names))
    if first[1:] == last[1:]:
        return say("connect.twice", form=form, rule=rule)
    if "?" in first + last or "~" in first + last:
        return say("connect.denied_each")
    if (connective == "iff") != (wanted == "biconditional"):
        return say("connect.iff_for_if" if connective == "iff" else "connect.if_for_iff", form=form, rule=rule)
    if connective == "iff":
        return say("connect.iff_denied", rule=rule)
    swapped = first[1:] == "c"
    denied = {"++": "none", "--": "both", "-+": "if", "+-": "then"}[first[0] + last[0]]
    own = next((f for f, v in FORMS.items() if v == value), None)
    did = say(f"connect.did_{'swapped' if swapped else 'kept'}_{denied}")
    return (
        say("connect.is_form", did=did, own=say(f"practice.form_{own}"), rule=rule)
        if own
        else say("connect.is_none", did=did, rule=rule)
    )


def part_text(value: str, wanted: str) -> Message:
    """Which part of the sentence is as it should be: for the line below the blank."""
    connective, *got = _split_value(value)
    right, *need = _split_value(FORMS[wanted])
    if connective != right:
        return say("connect.part_connective")
    names = _PART_NAMES[connective]
    told = [
        say(
            "connect.part_ok"
            if one == other
            else "connect.part_place"
            if one[1:] != other[1:]
            else "connect.part_sign",
            part=say(f"connect.part_{name}"),
        )
        for name, one, other in zip(names, got, need, strict=True)
    ]
    return joined("sentences", told)
