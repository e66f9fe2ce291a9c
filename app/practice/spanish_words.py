"""Spanish words of clauses turned into the words that the reader of clauses knows, phrase by phrase.

"Si los ángulos alternos internos son congruentes, entonces …" becomes "if the alternate interior angles are congruent
then …". A sentence without any Spanish word stays as it is, so that a line called *a* or *y* keeps its name there.
"""

from __future__ import annotations

import unicodedata
from collections.abc import Mapping
from functools import cache

__all__ = ["in_reader_words"]

_PAIRS: Mapping[str, tuple[str, ...]] = {
    "corresponding": ("correspondientes",),
    "alternate interior": ("alternos internos",),
    "alternate exterior": ("alternos externos",),
    "consecutive interior": (
        "conjugados internos",
        "colaterales internos",
        "consecutivos internos",
        "internos del mismo lado",
    ),
    "consecutive exterior": (
        "conjugados externos",
        "colaterales externos",
        "consecutivos externos",
        "externos del mismo lado",
    ),
    "vertical": ("opuestos por el vertice",),
}
# Words that show by themselves that a sentence is Spanish.
_SURE: Mapping[str, str] = {
    "si y solo si": "if and only if",
    "si y solamente si": "if and only if",
    "entonces": "then",
    "no se cumplen a la vez": "not both",
    "no se cumple a la vez": "not both",
    "no es cierto que": "it is not true that",
    "no es verdad que": "it is not true that",
    "es falso que": "it is false that",
    "son": "are",
    "forman": "form",
    "forman un": "form a",
    "par lineal": "linear pair",
    "angulo": "angle",
    "angulos": "angles",
    "recta": "line",
    "rectas": "lines",
    "congruentes": "congruent",
    "iguales": "equal",
    "congruente con": "congruent to",
    "miden lo mismo": "are equal",
    "tienen la misma medida": "are equal",
    "suplementarios": "supplementary",
    "complementarios": "complementary",
    "suplementario de": "supplementary to",
    "complementario de": "complementary to",
    "paralelas": "parallel",
    "paralela a": "parallel to",
    "perpendiculares": "perpendicular",
    "perpendicular a": "perpendicular to",
    "perpendicular a la vez a": "perpendicular to both",
    "perpendicular a las dos rectas": "perpendicular to both lines",
    "se cortan": "meet",
    "rectos": "right",
    "angulos rectos": "right angles",
    "ambos": "both",
    "ambos rectos": "both right angles",
    "suman": "add to",
    "la suma de": "the sum of",
    "grados": "degrees",
    "medida de": "measure of",
    "medidas de": "measures of",
    "ellos": "they",
    "ellas": "they",
}
# Words that say so only in a sentence that is Spanish by another one.
_ALSO: Mapping[str, str] = {
    "si": "if",
    "cuando": "when",
    "solo si": "only if",
    "y": "and",
    "o": "or",
    "no": "not",
    "es": "is",
    "es igual a": "=",
    "es un": "is a",
    "mide": "is",
    "los": "the",
    "las": "the",
    "el": "the",
    "los dos": "both",
    "las dos": "both",
    "los dos angulos": "the two angles",
    "las dos rectas": "the two lines",
    "dos": "two",
    "un": "a",
}


_VERBS = (["es"], ["son"], ["no"])


def _plain(word: str) -> str:
    return "".join(c for c in unicodedata.normalize("NFD", word) if not unicodedata.combining(c))


@cache
def _table() -> dict[str, list[tuple[list[str], list[str], bool]]]:
    """(Spanish, what the reader knows, whether it is Spanish for sure) by the first word, the longest first."""
    rows = [(spanish, known, True) for spanish, known in _SURE.items()]
    rows += [(spanish, known, False) for spanish, known in _ALSO.items()]
    for pair, names in _PAIRS.items():
        for name in names:
            rows += [(name, pair, True), (f"angulos {name}", f"{pair} angles", True)]
    split = [(spanish.split(), known.split(), sure) for spanish, known, sure in rows]
    table: dict[str, list[tuple[list[str], list[str], bool]]] = {}
    for row in sorted(split, key=lambda row: -len(row[0])):
        table.setdefault(row[0][0], []).append(row)
    return table


def in_reader_words(words: list[str]) -> list[str]:
    """The same words, Spanish phrases said as the reader of clauses knows them; unchanged where none is Spanish."""
    plain = [_plain(word) for word in words]
    found: list[str] = []
    sure = plain[:1] == ["si"]
    at = 0
    while at < len(plain):
        after = plain[at + 2 : at + 3]
        if plain[at : at + 2] == ["y", "a"] and "perpendicular" in found and after not in ([], *_VERBS):
            found.append("and")  # "perpendicular a m y a n": the second "a" is no line
            at += 2
            continue
        for spanish, known, certain in _table().get(plain[at], ()):
            if plain[at : at + len(spanish)] == spanish:
                found += known
                sure |= certain
                at += len(spanish)
                break
        else:
            found.append(words[at])
            at += 1
    return _verb_last(found) if sure else words


def _verb_last(words: list[str]) -> list[str]:
    """ "no son congruentes" is "not are congruent" so far; the reader wants its "not" after the verb, and needs a
    subject where Spanish has none: "son congruentes", "they are congruent".
    """
    turned: list[str] = []
    for word in words:
        if word in ("are", "is", "form", "meet", "add") and turned and turned[-1] == "not":
            turned[-1:] = [word, "not"]
        else:
            turned.append(word)
    said: list[str] = []
    for word in turned:
        opens = not said or said[-1] in ("if", "then", ",", "and", "or", "that")
        if opens and word in ("are", "form", "meet", "add"):
            said.append("they")
        said.append(word)
    return said
