"""Names for seats: a word pair ("Calm Rhombus"), a seat number, or a typed name that waits for approval.

Word pairs are the default: nothing personal, nothing rude, easy to read on a far wall (PD-1,
T-02).
"""

from __future__ import annotations

import random
import unicodedata

from app.figure.faults import Fault

LONGEST = 24
MOST_SEATS = 99

# Quiet, kind, and none of them a word that a class could turn against somebody.
MANNERS = (
    "Able", "Amber", "Bold", "Brave", "Bright", "Brisk", "Calm", "Careful", "Cheerful", "Clear",
    "Clever", "Coral", "Crisp", "Curious", "Daring", "Eager", "Early", "Even", "Fair", "Fern", "Fine",
    "Fleet", "Frank", "Gentle", "Glad", "Golden", "Good", "Green", "Happy", "Hazel", "Honest", "Ivory",
    "Jade", "Jolly", "Keen", "Kind", "Lively", "Lucky", "Merry", "Mild", "Misty", "Neat", "Nimble",
    "Noble", "Patient", "Plain", "Polite", "Proud", "Quick", "Quiet", "Ready", "Rosy", "Royal", "Sandy",
    "Sharp", "Silver", "Smart", "Snowy", "Steady", "Sunny", "Swift", "Tidy", "Trusty", "Warm", "Wise",
    "Witty",
)  # fmt: skip
SHAPES = (
    "Apex", "Arc", "Axis", "Bisector", "Chord", "Circle", "Compass", "Cone", "Cosine", "Cube",
    "Cylinder", "Decagon", "Degree", "Diagonal", "Diameter", "Ellipse", "Helix", "Heptagon", "Hexagon",
    "Kite", "Lemma", "Locus", "Median", "Midpoint", "Octagon", "Parabola", "Pentagon", "Plane",
    "Polygon", "Prism", "Proof", "Pyramid", "Quadrant", "Radius", "Ray", "Rectangle", "Rhombus",
    "Ruler", "Secant", "Sector", "Segment", "Sphere", "Spiral", "Square", "Tangent", "Theorem", "Torus",
    "Transversal", "Trapezoid", "Triangle", "Vector", "Vertex",
)  # fmt: skip


def fold(name: str) -> str:
    """The name as compared with others: case, marks and blanks don't make a different person."""
    flat = unicodedata.normalize("NFKD", name).casefold()
    return " ".join("".join(c for c in flat if not unicodedata.combining(c)).split())


def offers(seed: int, taken: set[str], count: int = 3) -> list[str]:
    """`count` free word pairs, no two with a word in common; the same for the same seed."""
    chance = random.Random(seed)
    found: list[str] = []
    used: set[str] = set()
    for _ in range(400):
        manner, shape = chance.choice(MANNERS), chance.choice(SHAPES)
        name = f"{manner} {shape}"
        if fold(name) not in taken and not {manner, shape} & used:
            found.append(name)
            used |= {manner, shape}
        if len(found) == count:
            break
    return found


def read_word(text: str) -> str:
    """A word pair as offered; Fault for anything else."""
    manner, _, shape = text.partition(" ")
    if manner in MANNERS and shape in SHAPES:
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
    return (
        c in "\u034f\u180b\u180c\u180d\u180f"
        or "\ufe00" <= c <= "\ufe0f"
        or "\U000e0100" <= c <= "\U000e01ef"
    )


def _blank_letter(c: str) -> bool:
    """Letters by category that show as nothing (Hangul fillers) or stand for a ligated sentence."""
    return c in "\u115f\u1160\u3164\uffa0" or "ARABIC LIGATURE" in unicodedata.name(c, "")
