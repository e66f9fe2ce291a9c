"""Rows that must be refused, at least two a theorem, each with the verdict it must get.

(figure, rows that stand before, claim, verdict). The rows before are the givens. Figures: see tests/reasoning/samples.py;
"eight" has ∠1 to ∠8 in the standard order on transversal t of l and m; "cross" has three lines through A; "three" has l, m, n
cut by t with corresponding ∠1, ∠2, ∠3; "triangle" has ∠1, ∠2, ∠3 inside and ∠4 (at B), ∠5 (at A) outside; "grid" has l, m
cut by t (∠1 to ∠8) and s (∠9 to ∠16), counterclockwise at each meet from the upper right.
The mistakes are the rows 1 to 13 of the project's list of difficulties; where none is meant, common practice, no source.
"""

from __future__ import annotations

NF, OTHER, STEP, WAY, NO = "not forced", "other reason", "needs a step", "wrong way round", "cannot be"

Case = tuple[str, tuple[str, ...], str, str]

REJECTED: dict[str, list[Case]] = {
    "given": [
        ("eight", (), "l ∥ m", NF),
        ("eight", ("l ∥ m",), "∠1 ≅ ∠5", OTHER),
        ("eight", ("l ∥ m",), "l ∦ m", NO),
        ("eight", ("∠1 ≅ ∠5",), "∠1 ≅ ∠8", STEP),
        ("eight", ("3x + 10 = 55",), "x = 15", OTHER),
        ("eight", ("2m∠1 = 130",), "m∠1 = 65", OTHER),
        ("eight", ("∠3 and ∠5 are supplementary",), "m∠3 = 180 - m∠5", OTHER),
    ],
    "vertical-angles": [
        ("eight", (), "∠1 ≅ ∠2", NF),
        ("eight", ("l ∥ m",), "∠1 ≅ ∠5", OTHER),
        ("eight", (), "∠1 and ∠2 are supplementary", OTHER),
        ("cross", (), "∠1 ≅ ∠2", NF),
    ],
    "linear-pair": [
        ("eight", ("l ∥ m",), "∠3 and ∠5 are supplementary", OTHER),
        ("eight", (), "∠3 and ∠5 are supplementary", NF),
        ("eight", (), "∠1 ≅ ∠4", OTHER),
        ("cross", (), "∠1 and ∠2 are supplementary", NO),
    ],
    "corresponding-angles": [
        ("eight", (), "∠1 ≅ ∠5", NF),
        ("eight", ("∠1 ≅ ∠5",), "l ∥ m", WAY),
        ("eight", ("l ∥ m",), "∠3 ≅ ∠6", OTHER),
        ("eight", ("l ∥ m",), "∠1 and ∠5 are supplementary", NF),
        ("three", ("l ∥ m",), "∠1 ≅ ∠3", NF),
        ("three", ("l ∥ m", "m ∥ n"), "∠1 ≅ ∠3", STEP),
    ],
    "alternate-interior-angles": [
        ("eight", (), "∠3 ≅ ∠6", NF),
        ("eight", ("∠3 ≅ ∠6",), "l ∥ m", WAY),
        ("eight", ("l ∥ m",), "∠1 ≅ ∠5", OTHER),
        ("eight", ("l ∥ m",), "∠3 ≅ ∠5", NF),
    ],
    "alternate-exterior-angles": [
        ("eight", (), "∠1 ≅ ∠8", NF),
        ("eight", ("∠1 ≅ ∠8",), "l ∥ m", WAY),
        ("eight", ("l ∥ m",), "∠3 ≅ ∠6", OTHER),
        ("eight", ("l ∥ m",), "∠1 ≅ ∠7", NF),
    ],
    "consecutive-interior-angles": [
        ("eight", (), "∠3 and ∠5 are supplementary", NF),
        ("eight", ("∠3 and ∠5 are supplementary",), "l ∥ m", WAY),
        ("eight", ("l ∥ m",), "∠3 ≅ ∠5", NF),
        ("eight", ("l ∥ m",), "∠1 and ∠7 are supplementary", OTHER),
        ("eight", ("l ∥ m",), "∠1 and ∠6 are supplementary", STEP),
    ],
    "consecutive-exterior-angles": [
        ("eight", (), "∠1 and ∠7 are supplementary", NF),
        ("eight", ("∠1 and ∠7 are supplementary",), "l ∥ m", WAY),
        ("eight", ("l ∥ m",), "∠1 ≅ ∠7", NF),
        ("eight", ("l ∥ m",), "∠4 and ∠6 are supplementary", OTHER),
    ],
    "corresponding-angles-converse": [
        ("eight", ("l ∥ m",), "∠1 ≅ ∠5", WAY),
        ("eight", ("∠3 ≅ ∠6",), "l ∥ m", OTHER),
        ("eight", (), "l ∥ m", NF),
        ("eight", ("∠1 and ∠5 are supplementary",), "l ∥ m", NF),
        ("grid", ("∠1 ≅ ∠13",), "l ∥ m", NF),
        ("grid", ("∠1 ≅ ∠9",), "l ∥ m", NF),
        ("eight", ("∠1 ≅ ∠6",), "l ∥ m", NF),
    ],
    "alternate-interior-angles-converse": [
        ("eight", ("l ∥ m",), "∠3 ≅ ∠6", WAY),
        ("eight", ("∠1 ≅ ∠5",), "l ∥ m", OTHER),
        ("eight", (), "l ∥ m", NF),
        ("eight", ("∠3 and ∠6 are supplementary",), "l ∥ m", NF),
        ("eight", ("∠2 ≅ ∠6", "∠1 ≅ ∠4"), "l ∥ m", OTHER),
    ],
    "alternate-exterior-angles-converse": [
        ("eight", ("l ∥ m",), "∠1 ≅ ∠8", WAY),
        ("eight", ("∠4 ≅ ∠5",), "l ∥ m", OTHER),
        ("eight", ("∠1 ≅ ∠4",), "l ∥ m", NF),
        ("eight", ("∠1 and ∠8 are supplementary",), "l ∥ m", NF),
    ],
    "consecutive-interior-angles-converse": [
        ("eight", ("l ∥ m",), "∠3 and ∠5 are supplementary", WAY),
        ("eight", ("∠3 ≅ ∠5",), "l ∥ m", NF),
        ("eight", ("∠1 and ∠7 are supplementary",), "l ∥ m", OTHER),
        ("eight", ("∠1 and ∠2 are supplementary",), "l ∥ m", NF),
        ("eight", ("∠1 and ∠6 are supplementary",), "l ∥ m", STEP),
        ("eight", ("m∠3 = 70",), "l ∥ m", NF),
    ],
    "consecutive-exterior-angles-converse": [
        ("eight", ("l ∥ m",), "∠1 and ∠7 are supplementary", WAY),
        ("eight", ("∠1 ≅ ∠7",), "l ∥ m", NF),
        ("eight", ("∠3 and ∠5 are supplementary",), "l ∥ m", OTHER),
    ],
    # Euclid I, definition 23: parallels do not meet, however far they are produced.
    "definition-of-parallel": [
        ("eight", (), "l ∦ m", NF),
        ("eight", (), "l ∥ m", NF),
        ("eight", ("∠1 ≅ ∠5",), "l ∥ m", OTHER),
        ("eight", ("l ∥ m",), "l ∦ m", NO),
        ("eight", ("m∠1 = 60", "m∠5 = 50"), "l ∦ m", OTHER),
        ("triangle", (), "l ∥ m", NO),
        ("triangle", (), "l ⊥ m", NF),
        ("three", ("l ∥ m", "m ∦ n"), "l ∦ n", OTHER),
        ("grid", ("l ∥ m",), "t ∦ s", NF),
        ("grid", ("t ⊥ l", "s ∦ m"), "t ∦ s", NF),
        ("three", ("t ⊥ l", "t ⊥ m"), "l ∥ m", OTHER),
    ],
    "parallel-to-same-line": [
        ("three", ("m ∦ n",), "l ∦ n", NF),
        ("three", ("l ∦ m", "m ∦ n"), "l ∦ n", NF),
        ("three", ("l ∦ m", "m ∦ n"), "l ∥ n", NF),
        ("triangle", (), "l ∦ m", OTHER),
        ("grid", ("l ∥ m",), "s ∦ l", OTHER),
        ("three", ("l ∥ m",), "l ∥ n", NF),
        ("three", ("t ⊥ l", "t ⊥ n"), "l ∥ n", OTHER),
        ("three", ("l ∥ m", "m ∥ n"), "∠1 ≅ ∠3", STEP),
        ("three", ("l ∥ m", "m ∥ n"), "l ∦ n", NO),
    ],
    "perpendicular-to-same-line": [
        ("three", ("t ⊥ l",), "l ∥ m", NF),
        ("three", ("l ∥ m", "m ∥ n"), "l ∥ n", OTHER),
        ("grid", ("t ⊥ l", "s ⊥ m"), "l ∥ m", NF),
        ("three", ("t ⊥ l", "∠2 ≅ ∠3"), "l ∥ m", NF),
    ],
    "perpendicular-transversal": [
        ("three", ("t ⊥ l",), "t ⊥ m", NF),
        ("three", ("l ∥ m",), "t ⊥ m", NF),
        ("three", ("l ∥ m", "m ∥ n", "t ⊥ l"), "t ⊥ n", STEP),
    ],
    "definition-of-supplementary": [
        ("eight", ("∠3 ≅ ∠5",), "∠3 and ∠5 are supplementary", NF),
        ("eight", (), "∠1 and ∠2 are supplementary", OTHER),
        ("eight", ("m∠3 = 100", "m∠5 = 70"), "∠3 and ∠5 are supplementary", NO),
        ("eight", ("m∠3 + m∠5 = 180",), "∠3 ≅ ∠5", NF),
    ],
    "definition-of-complementary": [
        ("cross", (), "∠1 and ∠2 are complementary", NF),
        ("cross", ("m∠1 = 40", "m∠2 = 60"), "∠1 and ∠2 are complementary", NO),
        ("cross", ("l ⊥ t",), "∠1 and ∠2 are complementary", STEP),
    ],
    "definition-of-congruent": [
        ("eight", ("m∠1 = 65",), "∠1 ≅ ∠5", NF),
        ("eight", ("m∠1 = 65", "m∠5 = 66"), "∠1 ≅ ∠5", NO),
        ("eight", (), "∠1 ≅ ∠4", OTHER),
    ],
    "definition-of-perpendicular": [
        ("cross", (), "m∠4 = 90", NF),
        ("cross", ("l ⊥ t",), "m∠1 = 90", NO),
        ("eight", ("l ∥ m",), "t ⊥ l", NF),
        ("cross", ("∠1 and ∠2 are complementary",), "l ⊥ t", STEP),
    ],
    "definition-of-bisector": [
        ("cross", (), "∠1 ≅ ∠2", NF),
        ("cross", ("r bisects ∠4",), "∠1 ≅ ∠5", OTHER),
        ("cross", ("r bisects ∠4", "l ⊥ t"), "m∠1 = 45", STEP),
    ],
    "congruent-supplements": [
        ("eight", ("∠1 and ∠2 are supplementary",), "∠1 ≅ ∠5", NF),
        ("eight", ("∠3 and ∠5 are supplementary",), "∠3 ≅ ∠5", NF),
        ("eight", ("∠1 and ∠2 are supplementary", "∠5 and ∠6 are supplementary"), "∠1 ≅ ∠5", NF),
        ("cross", ("∠1 and ∠2 are complementary", "∠2 and ∠5 are complementary"), "∠1 ≅ ∠5", OTHER),
    ],
    "congruent-complements": [
        ("cross", ("∠1 and ∠2 are complementary",), "∠1 ≅ ∠6", NF),
        ("eight", ("∠1 and ∠2 are supplementary", "∠2 and ∠5 are supplementary"), "∠1 ≅ ∠5", OTHER),
        ("cross", ("∠1 and ∠2 are complementary", "∠5 and ∠6 are complementary"), "∠1 ≅ ∠6", NF),
    ],
    "right-angles-congruent": [
        ("cross", ("∠4 is a right angle",), "∠1 ≅ ∠4", NO),
        ("eight", ("∠1 is a right angle",), "∠1 ≅ ∠5", NF),
        ("eight", ("m∠1 = 80", "m∠5 = 80"), "∠1 ≅ ∠5", OTHER),
        ("eight", ("t ⊥ l",), "∠1 ≅ ∠5", NF),
    ],
    "angle-addition": [
        ("cross", (), "m∠1 = m∠4 + m∠2", NO),
        ("cross", (), "m∠1 + m∠2 = 90", NF),
        ("eight", (), "m∠1 + m∠2 = 180", OTHER),
        ("triangle", (), "m∠4 = m∠1 + m∠3", OTHER),
        ("cross", (), "m∠4 = m∠1 + m∠6", STEP),
        ("cross", (), "m∠1 + m∠6 + m∠3 = 180", STEP),
        ("cross", (), "m∠4 = m∠5 + m∠2", STEP),
    ],
    "triangle-sum": [
        ("triangle", (), "m∠1 + m∠4 + m∠3 = 180", NF),
        ("triangle", (), "m∠4 = m∠1 + m∠3", OTHER),
        ("triangle", ("m∠1 = 50", "m∠2 = 60"), "m∠3 = 70", STEP),
        ("triangle", (), "m∠5 + m∠2 + m∠3 = 180", STEP),
    ],
    "quadrilateral-sum": [
        ("quadrilateral", (), "m∠1 + m∠5 + m∠3 + m∠4 = 360", NF),
        ("quadrilateral", (), "m∠1 + m∠2 + m∠3 = 300", NF),
        ("quadrilateral", ("m∠1 = 90", "m∠2 = 90", "m∠3 = 90"), "m∠4 = 90", STEP),
        ("triangle", (), "m∠1 + m∠2 + m∠3 = 180", OTHER),
        ("quadrilateral", (), "m∠2 + m∠5 = 180", OTHER),
    ],
    "exterior-angle": [
        ("triangle", (), "m∠4 = m∠1 + m∠2", NF),
        ("triangle", (), "m∠2 = m∠1 + m∠3", NF),
        ("triangle", (), "m∠1 + m∠2 + m∠3 = 180", OTHER),
    ],
    "reflexive": [
        ("eight", (), "∠1 ≅ ∠5", NF),
        ("eight", (), "∠1 ≅ ∠4", OTHER),
        ("eight", ("l ∥ m",), "∠1 ≅ ∠5", OTHER),
    ],
    "symmetric": [
        ("eight", ("∠1 ≅ ∠4",), "∠5 ≅ ∠1", NF),
        ("eight", ("∠1 ≅ ∠5", "∠5 ≅ ∠8"), "∠8 ≅ ∠1", OTHER),
        ("eight", ("∠1 and ∠2 are supplementary",), "∠1 ≅ ∠2", NF),
        ("eight", ("3x + 10 = 55",), "x = 15", OTHER),
    ],
    "transitive": [
        ("eight", ("∠1 and ∠2 are supplementary", "∠2 and ∠5 are supplementary"), "∠1 ≅ ∠5", OTHER),
        ("eight", ("∠1 ≅ ∠4",), "∠1 ≅ ∠5", NF),
        ("eight", ("∠1 ≅ ∠4", "∠5 ≅ ∠8"), "∠1 ≅ ∠8", NF),
        ("three", ("l ∥ m",), "l ∥ n", NF),
    ],
    "substitution": [
        ("eight", ("m∠1 + m∠2 = 180",), "m∠5 + m∠2 = 180", NF),
        ("eight", ("m∠1 + m∠2 = 180", "m∠1 = m∠6"), "m∠5 + m∠2 = 180", NF),
        ("eight", ("∠1 and ∠2 are supplementary", "∠2 and ∠5 are supplementary"), "∠1 ≅ ∠5", OTHER),
        ("eight", ("l ∥ m", "m∠1 = 65"), "m∠5 = 65", STEP),
    ],
    "addition": [
        ("eight", ("m∠1 = m∠5",), "m∠1 + m∠2 = m∠5 + m∠8", NF),
        ("eight", ("m∠1 = 65", "m∠3 = 115"), "m∠1 + m∠3 = 170", NO),
        ("eight", ("m∠1 = m∠5", "m∠5 = m∠8"), "m∠1 + m∠2 = m∠8 + m∠6", STEP),
        ("eight", ("3x = 45",), "x = 15", OTHER),
        ("eight", ("m∠1 = m∠5", "m∠2 = m∠6"), "m∠1 - m∠2 = m∠5 - m∠6", OTHER),
    ],
    "subtraction": [
        ("eight", ("m∠1 + m∠2 = m∠5 + m∠6",), "m∠1 = m∠5", NF),
        ("eight", ("m∠1 + m∠5 = 130",), "m∠1 = 65", NF),
        ("cross", ("m∠4 = 90",), "m∠1 = 45", NF),
        ("eight", ("3x = 45",), "x = 15", OTHER),
        ("eight", ("m∠1 = m∠5", "m∠2 = m∠6"), "m∠1 + m∠2 = m∠5 + m∠6", OTHER),
    ],
    "algebra": [
        ("eight", ("m∠1 = 65",), "m∠5 = 65", NF),
        ("eight", ("m∠1 = 65",), "m∠4 = 65", STEP),
        ("eight", ("3x + 10 = 55",), "x = 14", NO),
        ("eight", ("m∠1 = 3x",), "x = 20", NF),
        ("eight", ("∠3 and ∠5 are supplementary",), "l ∥ m", OTHER),
    ],
}

# As many that must be accepted: one a theorem stands in the table itself; these are more, told apart by how they skip or swap.
ACCEPTED: list[tuple[str, str, tuple[str, ...], str]] = [
    ("corresponding-angles-converse", "eight", ("m∠1 = 65", "m∠5 = 65"), "l ∥ m"),
    ("corresponding-angles-converse", "eight", ("∠5 = ∠1",), "m ∥ l"),
    ("consecutive-interior-angles-converse", "eight", ("m∠3 = 100", "m∠5 = 80"), "l ∥ m"),
    ("alternate-interior-angles", "eight", ("m || l",), "m∠6 = m∠3"),
    ("definition-of-perpendicular", "cross", ("m∠4 = 90",), "t ⊥ l"),
    ("perpendicular-to-same-line", "three", ("m∠1 = 90", "t ⊥ n"), "l ∥ n"),
    ("definition-of-parallel", "grid", (), "s ∦ l"),
    ("definition-of-parallel", "grid", ("t ⊥ s",), "t ∦ s"),
    ("parallel-to-same-line", "three", ("l ∥ m", "m ∦ n"), "n ∦ l"),
    ("right-angles-congruent", "cross", ("l ⊥ t",), "∠3 ≅ ∠4"),
    ("transitive", "three", ("l ∥ m", "m ∥ n"), "l ∥ n"),
    ("substitution", "eight", ("m∠1 = 3x + 10", "x = 15"), "m∠1 = 55"),
    (
        "congruent-supplements",
        "eight",
        ("∠1 and ∠2 are supplementary", "∠5 and ∠6 are supplementary", "∠2 ≅ ∠6"),
        "∠1 ≅ ∠5",
    ),
]
