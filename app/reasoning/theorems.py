"""The one table of theorems: what each needs, what it gives, when it does not apply, an example, a misuse.

The student's menu, the cards, the printed sheets, the judge, the search and the tests all read these rows. The five
pair theorems and their converses are the same rows with two columns swapped:

    corresponding-angles            needs parallel      gives congruent
    corresponding-angles-converse   needs congruent     gives parallel

`rule` names the judge's test for the row. `status` and `rests` depend on the axiom profile: in "postulate" the
Corresponding Angles Converse is assumed; in "theorem" it is derived, in Euclid's order (I.27 before I.28).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field

from app.words import Message, say, short, term
from app.words import theorem as named

__all__ = ["PROFILES", "REASONS", "TABLE", "Case", "Theorem", "allowed_to_derive", "theorem", "twin"]

PROFILES = ("postulate", "theorem")


@dataclass(frozen=True)
class Case:
    """A row tried in a figure: `known` rows stand before it; for a misuse, it must be refused."""

    figure: str
    known: tuple[str, ...]
    claim: str

    def to_json(self) -> dict[str, object]:
        return {"known": list(self.known), "claim": self.claim, "figure": FIGURES[self.figure]}


@dataclass(frozen=True)
class Theorem:
    """One row. `pair` is the pair of angles it speaks of, `needs` and `gives` what it starts from and arrives at."""

    id: str
    rule: str
    group: str
    needs: tuple[str, ...]
    gives: str
    example: Case
    misuse: Case
    pair: str | None = None
    euclid: str | None = None
    status: str = "theorem"
    rests: Mapping[str, tuple[str, ...]] = field(default_factory=dict)

    @property
    def direction(self) -> str | None:
        """original (from parallel lines), converse (to parallel lines), or None."""
        if self.pair is None or self.rule not in ("original", "converse"):
            return None
        return self.rule

    def status_in(self, profile: str) -> str:
        """postulate, theorem, definition or property, in the axiom profile."""
        if self.id == "corresponding-angles-converse" and profile == "postulate":
            return "postulate"
        if self.id == "corresponding-angles":
            return "postulate" if profile == "postulate" else "theorem"
        return self.status

    def rests_on(self, profile: str) -> tuple[str, ...]:
        return tuple(self.rests.get(profile, self.rests.get("", ())))

    def card(self, profile: str = "postulate") -> dict[str, object]:
        """The row as data for a page: names, what it needs and gives, when it does not apply, example, misuse."""
        other = twin(self.id)
        return {
            "id": self.id,
            "name": named(self.id),
            "short": short(self.id),
            "group": self.group,
            "pair": self.pair,
            "direction": self.direction,
            "needs": list(self.needs),
            "gives": self.gives,
            "says": self.sentence(),
            "unless": say(f"reasoning.unless_{self.rule}"),
            "status": self.status_in(profile),
            "rests_on": list(self.rests_on(profile)),
            "converse": other,
            "example": self.example.to_json(),
            "misuse": self.misuse.to_json(),
        }

    def sentence(self) -> Message:
        """The theorem in one sentence."""
        if self.pair is not None and self.rule in ("original", "converse"):
            relation = self.gives if self.rule == "original" else self.needs[0]
            return say(f"reasoning.says_{self.rule}", pair=term(self.pair), relation=term(relation))
        return say("reasoning.says_" + self.id.replace("-", "_"))


_EIGHT = {
    "lines": {
        "l": {"direction": 12, "through": [0, 2]},
        "m": {"direction": 6, "through": [0, -2]},
        "t": {"direction": 64, "through": [0, 0]},
    },
    "meets": {"A": ["l", "t"], "B": ["m", "t"]},
    "transversal": "t",
    "number": "standard",
}
_CROSS = {
    "lines": {
        "l": {"direction": 0, "through": [0, 0]},
        "t": {"direction": 90, "through": [0, 0]},
        "r": {"direction": 40, "through": [0, 0]},
    },
    "meets": {"A": ["l", "t", "r"]},
    "angles": {
        "1": {"at": "A", "from": "l+", "to": "r+"},
        "2": {"at": "A", "from": "r+", "to": "t+"},
        "3": {"at": "A", "from": "t+", "to": "l-"},
        "4": {"at": "A", "from": "l+", "to": "t+"},
        "5": {"at": "A", "from": "l-", "to": "r-"},
        "6": {"at": "A", "from": "r-", "to": "t-"},
    },
}
_THREE = {
    "lines": {
        "l": {"direction": 8, "through": [0, 4]},
        "m": {"direction": 5, "through": [0, 0]},
        "n": {"direction": 3, "through": [0, -4]},
        "t": {"direction": 88, "through": [0, 0]},
    },
    "meets": {"A": ["l", "t"], "B": ["m", "t"], "C": ["n", "t"]},
    "angles": {
        "1": {"at": "A", "from": "l+", "to": "t+"},
        "2": {"at": "B", "from": "m+", "to": "t+"},
        "3": {"at": "C", "from": "n+", "to": "t+"},
    },
}
_TRIANGLE = {
    "lines": {
        "l": {"direction": 0, "through": [0, 0]},
        "m": {"direction": 60, "through": [0, 0]},
        "n": {"direction": 130, "through": [6, 0]},
    },
    "meets": {"A": ["l", "m"], "B": ["l", "n"], "C": ["m", "n"]},
    "angles": {
        "1": {"at": "A", "from": "l+", "to": "m+"},
        "2": {"at": "B", "from": "n+", "to": "l-"},
        "3": {"at": "C", "from": "m-", "to": "n-"},
        "4": {"at": "B", "from": "l+", "to": "n+"},
        "5": {"at": "A", "from": "l-", "to": "m-"},
    },
}
_QUADRILATERAL = {
    "lines": {
        "l": {"direction": 4, "through": [0, 2]},
        "m": {"direction": 176, "through": [0, -2]},
        "p": {"direction": 66, "through": [-4, 0]},
        "q": {"direction": 80, "through": [4, 0]},
    },
    "meets": {"A": ["l", "p"], "B": ["l", "q"], "C": ["m", "q"], "D": ["m", "p"]},
    "angles": {
        "1": {"at": "A", "from": "p-", "to": "l+"},
        "2": {"at": "B", "from": "l-", "to": "q-"},
        "3": {"at": "C", "from": "q+", "to": "m+"},
        "4": {"at": "D", "from": "m-", "to": "p+"},
        "5": {"at": "B", "from": "q-", "to": "l+"},
    },
}
FIGURES: dict[str, dict[str, object]] = {
    "eight": _EIGHT,
    "cross": _CROSS,
    "three": _THREE,
    "triangle": _TRIANGLE,
    "quadrilateral": _QUADRILATERAL,
}

# pair, relation, example angles, and two that are another pair
_PAIRS = (
    ("corresponding", "congruent", "1", "5", "I.28", "I.29"),
    ("alternate interior", "congruent", "3", "6", "I.27", "I.29"),
    ("alternate exterior", "congruent", "1", "8", None, None),
    ("consecutive interior", "supplementary", "3", "5", "I.28", "I.29"),
    ("consecutive exterior", "supplementary", "1", "7", None, None),
)

_POSTULATE_RESTS = {
    "alternate-interior-angles": ("corresponding-angles", "vertical-angles", "transitive"),
    "alternate-exterior-angles": ("corresponding-angles", "vertical-angles", "transitive"),
    "consecutive-interior-angles": ("corresponding-angles", "linear-pair", "substitution"),
    "consecutive-exterior-angles": ("corresponding-angles", "linear-pair", "substitution"),
    "alternate-interior-angles-converse": ("corresponding-angles-converse", "vertical-angles", "transitive"),
    "alternate-exterior-angles-converse": ("corresponding-angles-converse", "vertical-angles", "transitive"),
    "consecutive-interior-angles-converse": ("corresponding-angles-converse", "linear-pair", "congruent-supplements"),
    "consecutive-exterior-angles-converse": ("corresponding-angles-converse", "linear-pair", "congruent-supplements"),
}
_THEOREM_RESTS = {
    "corresponding-angles": ("alternate-interior-angles", "vertical-angles", "transitive"),
    "alternate-exterior-angles": ("alternate-interior-angles", "vertical-angles", "transitive"),
    "consecutive-interior-angles": ("alternate-interior-angles", "linear-pair", "substitution"),
    "consecutive-exterior-angles": ("corresponding-angles", "linear-pair", "substitution"),
    "corresponding-angles-converse": ("alternate-interior-angles-converse", "vertical-angles", "transitive"),
    "alternate-exterior-angles-converse": ("alternate-interior-angles-converse", "vertical-angles", "transitive"),
    "consecutive-interior-angles-converse": (
        "alternate-interior-angles-converse",
        "linear-pair",
        "congruent-supplements",
    ),
    "consecutive-exterior-angles-converse": ("corresponding-angles-converse", "linear-pair", "congruent-supplements"),
}


def _pair_rows() -> list[Theorem]:
    rows = []
    for converse in (False, True):
        for pair, relation, a, b, towards, away in _PAIRS:
            name = pair.replace(" ", "-") + "-angles" + ("-converse" if converse else "")
            said = f"∠{a} ≅ ∠{b}" if relation == "congruent" else f"∠{a} and ∠{b} are supplementary"
            opposite = f"∠{a} and ∠{b} are supplementary" if relation == "congruent" else f"∠{a} ≅ ∠{b}"
            rows.append(
                Theorem(
                    id=name,
                    rule="converse" if converse else "original",
                    group="pairs",
                    pair=pair,
                    # The two columns, swapped:
                    needs=(relation,) if converse else ("parallel",),
                    gives="parallel" if converse else relation,
                    example=Case("eight", (said,), "l ∥ m") if converse else Case("eight", ("l ∥ m",), said),
                    misuse=Case("eight", (opposite,), "l ∥ m") if converse else Case("eight", (), said),
                    euclid=towards if converse else away,
                    rests={
                        "postulate": _POSTULATE_RESTS.get(name, ()),
                        "theorem": _THEOREM_RESTS.get(name, ()),
                    },
                )
            )
    return rows


def _row(
    name: str,
    rule: str,
    group: str,
    needs: tuple[str, ...],
    gives: str,
    example: Case,
    misuse: Case,
    status: str = "theorem",
    euclid: str | None = None,
    pair: str | None = None,
    rests: tuple[str, ...] = (),
    in_theorem: tuple[str, ...] | None = None,
) -> Theorem:
    """`in_theorem`: what the row rests on in the profile "theorem", where that is something else."""
    profiles = {"": rests} if in_theorem is None else {"": rests, "theorem": in_theorem}
    return Theorem(name, rule, group, needs, gives, example, misuse, pair, euclid, status, profiles)


_CIRCULAR = Case("eight", (), "∠1 ≅ ∠5")

TABLE: dict[str, Theorem] = {
    row.id: row
    for row in [
        _row(
            "given",
            "given",
            "start",
            (),
            "what is given",
            Case("eight", ("l ∥ m",), "l ∥ m"),
            Case("eight", (), "l ∥ m"),
            "given",
        ),
        _row(
            "vertical-angles",
            "vertical",
            "crossing",
            ("vertical",),
            "congruent",
            Case("eight", (), "∠1 ≅ ∠4"),
            Case("eight", (), "∠1 ≅ ∠2"),
            euclid="I.15",
            pair="vertical",
            rests=("linear-pair", "congruent-supplements"),
        ),
        _row(
            "linear-pair",
            "linear",
            "crossing",
            ("linear pair",),
            "supplementary",
            Case("eight", (), "∠1 and ∠2 are supplementary"),
            Case("eight", (), "∠1 and ∠4 are supplementary"),
            "postulate",
            "I.13",
            "linear pair",
        ),
        *_pair_rows(),
        _row(
            "parallel-to-same-line",
            "same parallel",
            "lines",
            ("parallel", "parallel"),
            "parallel",
            Case("three", ("l ∥ m", "m ∥ n"), "l ∥ n"),
            Case("three", ("l ∥ m",), "l ∥ n"),
            euclid="I.30",
            rests=("corresponding-angles", "corresponding-angles-converse", "transitive"),
            in_theorem=(
                "alternate-interior-angles",
                "alternate-interior-angles-converse",
                "vertical-angles",
                "transitive",
            ),
        ),
        _row(
            "perpendicular-to-same-line",
            "same perpendicular",
            "lines",
            ("perpendicular", "perpendicular"),
            "parallel",
            Case("three", ("t ⊥ l", "t ⊥ m"), "l ∥ m"),
            Case("three", ("t ⊥ l",), "l ∥ m"),
            rests=("definition-of-perpendicular", "right-angles-congruent", "corresponding-angles-converse"),
        ),
        _row(
            "perpendicular-transversal",
            "perpendicular transversal",
            "lines",
            ("parallel", "perpendicular"),
            "perpendicular",
            Case("three", ("l ∥ m", "t ⊥ l"), "t ⊥ m"),
            Case("three", ("t ⊥ l",), "t ⊥ m"),
            rests=("definition-of-perpendicular", "corresponding-angles", "substitution"),
        ),
        _row(
            "definition-of-supplementary",
            "sum",
            "definitions",
            ("sum 180",),
            "supplementary",
            Case("eight", ("m∠3 + m∠5 = 180",), "∠3 and ∠5 are supplementary"),
            Case("eight", ("∠3 ≅ ∠5",), "∠3 and ∠5 are supplementary"),
            "definition",
        ),
        _row(
            "definition-of-complementary",
            "sum",
            "definitions",
            ("sum 90",),
            "complementary",
            Case("cross", ("m∠1 + m∠2 = 90",), "∠1 and ∠2 are complementary"),
            Case("cross", (), "∠1 and ∠2 are complementary"),
            "definition",
        ),
        _row(
            "definition-of-congruent",
            "equal measures",
            "definitions",
            ("equal measures",),
            "congruent",
            Case("eight", ("m∠1 = 65", "m∠5 = 65"), "∠1 ≅ ∠5"),
            Case("eight", ("m∠1 = 65",), "∠1 ≅ ∠5"),
            "definition",
        ),
        _row(
            "definition-of-perpendicular",
            "right angle",
            "definitions",
            ("perpendicular",),
            "right angle",
            Case("cross", ("l ⊥ t",), "m∠4 = 90"),
            Case("cross", (), "m∠4 = 90"),
            "definition",
        ),
        _row(
            "definition-of-parallel",
            "meeting",
            "definitions",
            ("meeting",),
            "not parallel",
            Case("triangle", (), "l ∦ m"),
            Case("eight", (), "l ∦ m"),
            "definition",
            "Def23",
        ),
        _row(
            "definition-of-bisector",
            "bisector",
            "definitions",
            ("bisects",),
            "congruent",
            Case("cross", ("r bisects ∠4",), "∠1 ≅ ∠2"),
            Case("cross", (), "∠1 ≅ ∠2"),
            "definition",
        ),
        _row(
            "congruent-supplements",
            "supplements",
            "angles",
            ("supplementary", "supplementary"),
            "congruent",
            Case("eight", ("∠1 and ∠2 are supplementary", "∠2 and ∠5 are supplementary"), "∠1 ≅ ∠5"),
            Case("eight", ("∠1 and ∠2 are supplementary",), "∠1 ≅ ∠5"),
            rests=("subtraction",),
        ),
        _row(
            "congruent-complements",
            "supplements",
            "angles",
            ("complementary", "complementary"),
            "congruent",
            Case("cross", ("∠1 and ∠2 are complementary", "∠2 and ∠5 are complementary"), "∠1 ≅ ∠5"),
            Case("cross", ("∠1 and ∠2 are supplementary", "∠2 and ∠5 are supplementary"), "∠1 ≅ ∠5"),
            rests=("subtraction",),
        ),
        _row(
            "right-angles-congruent",
            "right angles",
            "angles",
            ("right angle", "right angle"),
            "congruent",
            Case("cross", ("∠3 is a right angle", "∠4 is a right angle"), "∠3 ≅ ∠4"),
            Case("cross", ("∠4 is a right angle",), "∠3 ≅ ∠4"),
            "theorem",
            "Post4",
        ),
        _row(
            "angle-addition",
            "parts",
            "crossing",
            ("adjacent parts",),
            "the whole",
            Case("cross", (), "m∠4 = m∠1 + m∠2"),
            Case("cross", (), "m∠1 = m∠4 + m∠2"),
            "postulate",
        ),
        _row(
            "triangle-sum",
            "triangle",
            "triangle",
            ("triangle",),
            "sum 180",
            Case("triangle", (), "m∠1 + m∠2 + m∠3 = 180"),
            Case("triangle", (), "m∠1 + m∠4 + m∠3 = 180"),
            euclid="I.32",
            rests=("alternate-interior-angles", "angle-addition", "substitution"),
        ),
        _row(
            "exterior-angle",
            "exterior",
            "triangle",
            ("triangle",),
            "sum of remote angles",
            Case("triangle", (), "m∠4 = m∠1 + m∠3"),
            Case("triangle", (), "m∠4 = m∠1 + m∠2"),
            euclid="I.32",
            rests=("triangle-sum", "linear-pair", "substitution"),
        ),
        _row(
            "quadrilateral-sum",
            "quadrilateral",
            "triangle",
            ("quadrilateral",),
            "sum 360",
            Case("quadrilateral", (), "m∠1 + m∠2 + m∠3 + m∠4 = 360"),
            Case("quadrilateral", (), "m∠1 + m∠5 + m∠3 + m∠4 = 360"),
            rests=("triangle-sum", "angle-addition", "addition"),
        ),
        _row("reflexive", "reflexive", "equality", (), "itself", Case("eight", (), "∠1 ≅ ∠1"), _CIRCULAR, "property"),
        _row(
            "symmetric",
            "restated",
            "equality",
            ("the same, turned round",),
            "the same",
            Case("eight", ("∠1 ≅ ∠5",), "∠5 ≅ ∠1"),
            Case("eight", ("∠1 ≅ ∠4",), "∠5 ≅ ∠1"),
            "property",
        ),
        _row(
            "transitive",
            "chain",
            "equality",
            ("equal", "equal"),
            "equal",
            Case("eight", ("∠1 ≅ ∠4", "∠4 ≅ ∠5"), "∠1 ≅ ∠5"),
            Case("eight", ("∠1 and ∠2 are supplementary", "∠2 and ∠5 are supplementary"), "∠1 ≅ ∠5"),
            "property",
            "CN1",
        ),
        _row(
            "substitution",
            "replaced",
            "equality",
            ("equal", "equation"),
            "equation",
            Case("eight", ("m∠1 + m∠2 = 180", "m∠1 = m∠5"), "m∠5 + m∠2 = 180"),
            Case("eight", ("m∠1 + m∠2 = 180",), "m∠5 + m∠2 = 180"),
            "property",
        ),
        _row(
            "addition",
            "added",
            "equality",
            ("equation", "equation"),
            "equation",
            Case("eight", ("m∠1 = m∠5", "m∠2 = m∠6"), "m∠1 + m∠2 = m∠5 + m∠6"),
            Case("eight", ("m∠1 = m∠5",), "m∠1 + m∠2 = m∠5 + m∠6"),
            "property",
            "CN2",
        ),
        _row(
            "subtraction",
            "added",
            "equality",
            ("equation", "equation"),
            "equation",
            Case("eight", ("m∠1 + m∠2 = m∠5 + m∠2",), "m∠1 = m∠5"),
            Case("eight", ("m∠1 + m∠2 = m∠5 + m∠6",), "m∠1 = m∠5"),
            "property",
            "CN3",
        ),
        _row(
            "algebra",
            "algebra",
            "equality",
            ("equation",),
            "equation",
            Case("eight", ("3x + 10 = 55",), "x = 15"),
            Case("eight", ("m∠1 = 65",), "m∠5 = 65"),
            "property",
        ),
    ]
}

REASONS: tuple[str, ...] = tuple(TABLE)


def theorem(name: str) -> Theorem:
    """The row of a reason id; an unknown id is a KeyError."""
    return TABLE[name]


def twin(name: str) -> str | None:
    """The converse of an original, the original of a converse, None for the rest."""
    row = TABLE[name]
    if row.direction is None:
        return None
    return name.removesuffix("-converse") if row.direction == "converse" else name + "-converse"


def allowed_to_derive(name: str, profile: str = "postulate") -> frozenset[str]:
    """The reasons that do not themselves rest on theorem `name` in the profile: those a proof of it may use."""

    def rests(row: str, seen: frozenset[str]) -> bool:
        return row == name or any(on not in seen and rests(on, seen | {on}) for on in TABLE[row].rests_on(profile))

    return frozenset(row for row in TABLE if not rests(row, frozenset({row})))
