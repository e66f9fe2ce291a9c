"""Names for seats: a noun of geometry and a number ("Rhombus 7"), a seat number, or a typed name that waits for
approval.

Nouns are the default: nothing personal, nothing rude, easy to read on a far wall (PD-1, T-02). Such a name is kept as
the noun's key and the number ("rhombus:7"; a colon can't be typed), and shown in the reader's language.
"""

from __future__ import annotations

import random
import re
import unicodedata
from functools import cache

from app.figure.faults import Fault
from app.words import LANGUAGES, Text, catalogue, say

LONGEST = 24
MOST_SEATS = 99

# Keys of the catalogue ("classroom.seat_rhombus"). None is a given name in a language spoken here, and none a word
# that a class could turn against somebody.
NOUNS = (
    "apex", "arc", "bisector", "chord", "circle", "compass", "cone", "cube", "cylinder", "decagon",
    "diagonal", "diameter", "ellipse", "heptagon", "hexagon", "kite", "median", "midpoint", "octagon",
    "parabola", "pentagon", "plane", "polygon", "prism", "pyramid", "quadrant", "radius", "rectangle",
    "rhombus", "secant", "sector", "segment", "sphere", "spiral", "square", "tangent", "transversal",
    "trapezoid", "triangle", "vertex",
)  # fmt: skip
MOST_OF_A_NOUN = 9  # one digit, to be read on a far wall
_OFFERED = re.compile(r"([a-z]+):([1-9])")


def seat_name(name: str) -> Text:
    """The name as its reader's language says it; a typed one, a number, or one of an earlier state as it stands."""
    found = _OFFERED.fullmatch(name)
    if found is None or found[1] not in NOUNS:
        return name
    return say(f"classroom.seat_{found[1]}", n=found[2])


def fold(name: str) -> str:
    """The name as compared with others: case, marks, blanks and the language don't make a different person."""
    flat = unicodedata.normalize("NFKD", name).casefold()
    flat = " ".join("".join(c for c in flat if not unicodedata.combining(c)).split())
    return _looks().get(flat, flat)


@cache
def _looks() -> dict[str, str]:
    """A typed "rombo 7" → "rhombus:7": each offered name as it is shown in any language, flattened → as it is kept."""
    found: dict[str, str] = {}
    for language in LANGUAGES:
        words = catalogue("classroom", language)
        for noun in NOUNS:
            for n in range(1, MOST_OF_A_NOUN + 1):
                flat = unicodedata.normalize("NFKD", words[f"seat_{noun}"].format(n=n)).casefold()
                found["".join(c for c in flat if not unicodedata.combining(c))] = f"{noun}:{n}"
    return found


def offers(seed: int, taken: set[str], count: int = 3) -> list[str]:
    """`count` free names as they are kept, no two with the same noun; the same for the same seed."""
    chance = random.Random(seed)
    found: list[str] = []
    used: set[str] = set()
    for _ in range(400):
        noun, n = chance.choice(NOUNS), chance.randint(1, MOST_OF_A_NOUN)
        name = f"{noun}:{n}"
        if name not in taken and noun not in used:
            found.append(name)
            used.add(noun)
        if len(found) == count:
            break
    return found


def read_word(text: str) -> str:
    """A name as offered, as it is kept; Fault for anything else."""
    found = _OFFERED.fullmatch(text)
    if found is not None and found[1] in NOUNS:
        return text
    raise Fault("classroom.name_not_offered", "word")


def read_number(text: str) -> str:
    """A seat number 1 to 99 in its plain form; Fault for anything else."""
    digits = text.strip()
    if digits.isascii() and digits.isdigit() and len(digits) <= 3 and 1 <= int(digits) <= MOST_SEATS:
        return str(int(digits))
    raise Fault("classroom.number_range", "number", most=MOST_SEATS)


def read_typed(text: str) -> str:
    """A name as a student may type it: 1 to 24 letters, digits, blanks, hyphens, apostrophes.

    Compatibility forms are folded first (NFKC), one combining mark a letter is the most, and nothing that
    changes the direction or hides (T-02). Fault says which rule was broken.
    """
    name = unicodedata.normalize("NFKC", text).strip(" ")
    if not name:
        raise Fault("classroom.name_empty", "typed")
    if len(name) > LONGEST:
        raise Fault("classroom.name_long", "typed", most=LONGEST)
    _read_letters(name)
    if not any(unicodedata.category(c)[0] == "L" or c.isdecimal() for c in name):
        raise Fault("classroom.name_letters", "typed")
    if "  " in name:
        raise Fault("classroom.name_blanks", "typed")
    return name


def _read_letters(name: str) -> None:
    """Each mark must sit on a letter: one accent (an accented letter has its own), or two vowel signs.

    Scripts such as Devanagari write up to two vowel signs on a letter (combining class 0); only the marks
    that pile up on each other (any other class) are held to one.
    """
    accents, signs = 1, 2  # nothing to sit on yet
    for c in name:
        category = unicodedata.category(c)
        if category in ("Mn", "Mc"):
            piles = unicodedata.combining(c) != 0
            accents, signs = accents + piles, signs + (not piles)
            if accents > 1 or signs > 2 or _hidden_mark(c):
                raise Fault("classroom.name_marks", "typed")
        elif category in ("Lu", "Ll", "Lt", "Lo") and not _blank_letter(c):
            accents, signs = int(_accented(c)), 0
        elif category == "Nd" or c in " -'\u2019":
            accents, signs = 1, 2
        else:
            raise Fault("classroom.name_symbol", "typed")


def _accented(c: str) -> bool:
    return any(unicodedata.combining(part) for part in unicodedata.normalize("NFD", c))


def _hidden_mark(c: str) -> bool:
    """Marks by category that show as nothing: the joiner and the variation selectors."""
    return c in "\u034f\u180b\u180c\u180d\u180f" or "\ufe00" <= c <= "\ufe0f" or "\U000e0100" <= c <= "\U000e01ef"


def _blank_letter(c: str) -> bool:
    """Letters by category that show as nothing (Hangul fillers) or stand for a ligated sentence."""
    return c in "\u115f\u1160\u3164\uffa0" or "ARABIC LIGATURE" in unicodedata.name(c, "")
