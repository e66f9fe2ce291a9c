"""What an exercise item is: a public part that a student sees, and a key that stays on the server.

An item asks for one or more *fields*. A field is filled by a choice, a number, a list in order; an answer
is a dict from field name to what was filled in, or the bare value when only one field must be filled.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from fractions import Fraction
from typing import Any, Literal

from app.practice.polynomials import Poly
from app.words import Text

__all__ = ["LETTER", "NONE", "Choice", "Field", "Item"]

LETTER = "ABCDEFGHIJKLMNOPQRSTUVWXYZ"

# The value of "it can't be told" and of "none of these", in every field that offers it.
NONE = "none"


@dataclass(frozen=True, slots=True)
class Choice:
    value: str  # what is compared: a theorem id, a pair name, a line
    text: Text  # what is shown


@dataclass(frozen=True, slots=True)
class Field:
    name: str
    kind: Literal["choice", "number", "order", "sentence", "figure", "angles"]
    label: Text
    choices: tuple[Choice, ...] = ()
    unit: str = ""
    none: Text = ""  # a number field's "it can't be told" in words; empty when it isn't offered
    optional: bool = False  # judged when filled in, not missed when left out
    needless: tuple[str, str] | None = None  # (field, value): not asked once that field has that value
    sealed: bool = False  # the choices' values would tell the key: a Seat sees letters instead
    more: Mapping[str, Any] = field(default_factory=dict)  # what else a Seat needs: tiles, lines that move

    def public(self) -> dict[str, object]:
        shown: dict[str, object] = {"name": self.name, "kind": self.kind, "label": self.label}
        if self.choices:
            shown["choices"] = [
                {"value": LETTER[i] if self.sealed else c.value, "text": c.text} for i, c in enumerate(self.choices)
            ]
        if self.unit:
            shown["unit"] = self.unit
        if self.none:
            shown["none"] = self.none
        if self.optional:
            shown["optional"] = True
        if self.needless:
            shown["needless"] = {"field": self.needless[0], "value": self.needless[1]}
        return {**shown, **self.more}


@dataclass(frozen=True, slots=True)
class Item:
    """One exercise. Everything from `key` on is never sent before the answer is in (T-10)."""

    family: str
    seed: int
    level: int
    skill: str
    prompt: Text
    ask: Text
    fields: tuple[Field, ...]
    figure: Mapping[str, object] | None = None  # contract figure
    marks: Mapping[str, object] | None = None
    given: tuple[str, ...] = ()
    rows: tuple[Mapping[str, object], ...] = ()  # a proof shown: {label, statement, reason}
    key: Mapping[str, tuple[str, ...]] = field(default_factory=dict)  # accepted; the first is printed
    also: Mapping[str, tuple[str, ...]] = field(default_factory=dict)  # right too, though no choice offers it
    working: tuple[Text, ...] = ()  # the key's lines of working, in words and equations
    hints: tuple[Text, Text, Text] = ("", "", "")
    traps: Mapping[str, Mapping[str, str]] = field(default_factory=dict)  # misconception → wrong answer
    start: tuple[Poly, ...] = ()  # polynomials that are zero by the figure (for working)
    measures: Mapping[str, Poly] = field(default_factory=dict)  # angle → its measure as a polynomial
    facts: Mapping[str, Any] = field(default_factory=dict)  # what the family wants to remember

    @property
    def to_scale(self) -> bool:
        """Whether its drawing is exact: one that lines are turned in, or one whose pack says so."""
        return "breaks" in self.facts or self.facts.get("to_scale") is True

    def public(self) -> dict[str, object]:
        """What a Seat may see: no key, no seed, no traps."""
        shown: dict[str, object] = {
            "family": self.family,
            "level": self.level,
            "skill": self.skill,
            "prompt": self.prompt,
            "figure": self.figure,
            "marks": self.marks,
            "given": list(self.given),
            "ask": self.ask,
            "fields": [f.public() for f in self.fields],
        }
        if self.rows:
            shown["rows"] = [dict(row) for row in self.rows]
        required = [f for f in self.fields if not f.optional]
        if len(required) == 1 and required[0].choices and required[0].kind == "choice":
            shown["choices"] = [c.text for c in required[0].choices]
        if self.start:
            shown["working"] = True
        return shown

    def allowed(self, values: Mapping[str, Fraction]) -> bool:
        """Whether the unknowns' values leave every angle between 0 and 180 degrees."""
        for poly in self.measures.values():
            total = Fraction(0)
            for monomial, k in poly.items():
                for letter in monomial:
                    if letter not in values:
                        break
                    k *= values[letter]
                else:
                    total += k
                    continue
                break
            else:
                if not 0 < total < 180:
                    return False
        return True
