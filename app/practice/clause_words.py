"""The words of clauses about angles and lines: what may be written, and what each phrase claims."""

from __future__ import annotations

import re
import unicodedata
from collections.abc import Mapping
from functools import cache

from app.figure.faults import Fault, shown
from app.practice.spanish_words import in_reader_words
from app.words.house import HOUSES, PAIR_TERMS

__all__ = ["DENIALS", "FILLS", "SUMS", "VERBS", "phrases", "words_of"]

MOST = 240  # characters
MOST_WORDS = 70

_WORD = re.compile(r"\d+(?:\.\d+)?|[^\W\d_]+|\S")
_SPELT = (
    ("’", "'"),
    ("can't", "can not"),
    ("cannot", "can not"),
    ("n't", " not"),
    ("||", "∥"),
    ("//", "∥"),
    ("!=", "≠"),
    ("=/=", "≠"),
    ("~=", "≅"),
    ("∡", "∠"),
    ("<", "∠"),
    ("⟂", "⊥"),
    ("-", " "),
    ("°", " "),
    ("·", " "),
)
# Single signs that a text may hold beside words and numbers.
_SIGNS = frozenset("∠≅≇=≠∥∦⊥+,.;:()?!“”\"'")


def words_of(text: object, where: str) -> list[str]:
    """The words and signs of a text, in small letters. Raises Fault for what is no text or too long."""
    if not isinstance(text, str):
        raise Fault("connect.not_text", where)
    if len(text) > MOST:
        raise Fault("connect.too_long", where, most=MOST)
    plain = unicodedata.normalize("NFC", text).casefold()
    for sign, other in _SPELT:
        plain = plain.replace(sign, other)
    words = _WORD.findall(plain)
    if len(words) > MOST_WORDS:
        raise Fault("connect.too_long", where, most=MOST)
    for word in words:
        if not (word[0].isalnum() or word in _SIGNS):
            raise Fault("connect.sign", where, sign=shown(word))
    return in_reader_words([word for word in words if word not in "()?!“”\"'.:;"])


# After the verb, or instead of it: what is claimed. The longest that fits is taken.
CLAIMS: Mapping[str, tuple[str, ...]] = {
    "congruent": (
        "≅",
        "congruent",
        "congruent angles",
        "equal",
        "equal angles",
        "equal in measure",
        "equal in size",
        "equal measures",
        "equal measure",
        "the same measure",
        "the same size",
        "of equal measure",
        "of equal size",
    ),
    "not congruent": ("≇", "unequal", "different", "different measures", "different measure", "of different measure"),
    "supplementary": ("supplementary", "supplementary angles", "supplements", "supplement"),
    "complementary": ("complementary", "complementary angles", "complements", "complement"),
    "parallel": ("∥", "parallel", "parallel lines", "parallels"),
    "not parallel": ("∦", "meet", "intersect", "cross", "nonparallel"),
    "perpendicular": ("⊥", "perpendicular", "perpendicular lines"),
    "right": ("right angles", "right", "both right angles"),
}
VERBS = frozenset("is are be form forms make makes do does have has can being stay remain".split())  # noqa: SIM905
FILLS = frozenset(  # words that may stand before a name, and say nothing
    "the these those two both all its their of pair pairs each a an then that to with other up measure measures".split()  # noqa: SIM905
)
SUMS = frozenset(("add", "adds", "sum"))
DENIALS = (
    ("it", "is", "not", "so", "that"),
    ("it", "is", "not", "true", "that"),
    ("it", "is", "not", "the", "case", "that"),
    ("it", "is", "false", "that"),
    ("it", "is", "not", "so"),
    ("not", "both"),
    ("it", "does", "not", "hold", "that"),
)


@cache
def phrases() -> tuple[tuple[tuple[str, ...], str], ...]:
    """Every phrase for a claim, and every house's words for a pair, the longest first."""
    found: dict[tuple[str, ...], str] = {}
    for kind, texts in CLAIMS.items():
        found.update({tuple(text.split()): kind for text in texts})
    for pair in PAIR_TERMS:
        for text in (pair, *(house.term(pair) for house in HOUSES.values())):
            words = tuple(words_of(text, "")) if text else ()
            words = words[1:] if words[0] == "a" else words
            found[words] = pair
            bare = tuple(w for w in words if w not in ("angles", "ángulos"))
            if len(bare) > 1 or pair in ("corresponding", "vertical"):
                found[bare] = pair
                found[(*bare, "angles")] = pair
    return tuple(sorted(found.items(), key=lambda one: -len(one[0])))
