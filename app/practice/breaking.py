"""A counterexample that a student gives: a figure in which the “if” part holds and the “then” part fails.

Both are looked up in the figure as it is drawn, exactly: directions are whole degrees, so equal angles are equal.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from itertools import combinations
from typing import Any

from app.figure.faults import Fault, shown
from app.figure.model import Figure, figure_from_json
from app.figure.moved import moved_figure
from app.figure.numbers import decimal_text
from app.figure.pairs import name_pair
from app.words import Text, say, term

__all__ = ["Breaks", "Claim", "Seen", "case_of", "holds", "read_reply", "seen"]

NEAR = 2  # degrees


@dataclass(frozen=True, slots=True)
class Claim:
    """`kind` of `names`: angles, or lines; without names it speaks of the two angles that are chosen."""

    kind: str
    said: Text
    names: tuple[str, ...] = ()
    values: tuple[Fraction, ...] = ()


@dataclass(frozen=True, slots=True)
class Breaks:
    """What is to be broken. `movable`: the lines that may be turned; `choose`: two angles are chosen too."""

    hypothesis: Claim
    conclusion: Claim
    movable: tuple[str, ...]
    choose: bool


@dataclass(frozen=True, slots=True)
class Seen:
    """A figure and the angles chosen in it, and whether each part holds there."""

    fig: Figure
    angles: tuple[str, ...]
    hypothesis: bool
    conclusion: bool

    @property
    def case(self) -> str:
        """ "yes-no" is a counterexample."""
        return "-".join("yes" if part else "no" for part in (self.hypothesis, self.conclusion))


def holds(fig: Figure, claim: Claim, angles: Sequence[str]) -> bool:
    """Whether the claim holds in the figure as drawn."""
    if claim.kind == "parallel":
        return fig.parallel_as_drawn(*claim.names)
    if claim.kind == "perpendicular":
        cut, *lines = claim.names
        return all((fig.lines[cut].direction - fig.lines[line].direction) % 180 == 90 for line in lines)
    names = claim.names or tuple(angles)
    sizes = [fig.measure(name) for name in names]
    one, two = sizes
    tests = {
        "congruent": one == two,
        "supplementary": one + two == 180,
        "complementary": one + two == 90,
        "measures": tuple(sizes) == claim.values,
        "near": abs(one - two) <= NEAR,
        "acute": one < 90 and two < 90,
        "obtuse": one > 90 or two > 90,
        "right": one == two == 90,
    }
    if claim.kind in tests:
        return tests[claim.kind]
    return name_pair(fig, *names).pair == claim.kind


def seen(fig: Figure, claim: Claim, angles: Sequence[str]) -> Text:
    """What the figure shows of a claim: "m∠3 = 60° and m∠5 = 118°", "m ∦ n"."""
    if claim.kind == "parallel":
        first, second = claim.names
        return f"{first} {'∥' if holds(fig, claim, angles) else '∦'} {second}"
    if claim.kind == "perpendicular":
        cut, *lines = claim.names
        turns = [(fig.lines[cut].direction - fig.lines[line].direction) % 180 for line in lines]
        return say(
            "connect.at_angles",
            cut=cut,
            first=lines[0],
            second=lines[1],
            **{k: decimal_text(min(t, 180 - t)) for k, t in zip(("one", "two"), turns, strict=True)},
        )
    a, b = claim.names or tuple(angles)
    if claim.kind in _MEASURED:
        return say("connect.measures", a=a, b=b, one=decimal_text(fig.measure(a)), two=decimal_text(fig.measure(b)))
    return say("connect.lie", a=a, b=b, pair=term(name_pair(fig, a, b).pair))


_MEASURED = frozenset({"congruent", "supplementary", "complementary", "measures", "near", "acute", "obtuse", "right"})


def case_of(breaks: Breaks, fig: Figure, angles: Sequence[str]) -> Seen:
    return Seen(fig, tuple(angles), holds(fig, breaks.hypothesis, angles), holds(fig, breaks.conclusion, angles))


def read_reply(breaks: Breaks, own: Mapping[str, Any], answer: object, where: str) -> Seen:
    """{figure?, angles?} as what is seen in it. Raises Fault for another figure, or no two angles of it."""
    if not isinstance(answer, Mapping):
        raise Fault("connect.figure_wanted", where)
    if "lines" in answer:  # the bare figure
        answer = {"figure": answer}
    for name in answer:
        if name not in ("figure", "angles"):
            raise Fault("practice.answer_unknown", f"{where}.{shown(name)}", field=shown(name), fields="figure, angles")
    born = figure_from_json(dict(own))
    figure = answer.get("figure")
    if figure is None and not breaks.choose:
        raise Fault("connect.figure_wanted", f"{where}.figure")
    fig = born if figure is None else moved_figure(born, figure, breaks.movable, f"{where}.figure")
    for a, b in combinations(born.angles, 2):
        if name_pair(fig, a, b).pair != name_pair(born, a, b).pair:
            raise Fault("angles.other_figure", f"{where}.figure.angles.{a}")
    return case_of(breaks, fig, _chosen(fig, answer.get("angles"), f"{where}.angles") if breaks.choose else ())


def _chosen(fig: Figure, angles: object, where: str) -> tuple[str, str]:
    if not isinstance(angles, (list, tuple)) or len(angles) != 2:
        raise Fault("connect.angles_wanted", where)
    for name in angles:
        if not isinstance(name, str) or name not in fig.angles:
            raise Fault("figure.angle_unknown", where, angle=shown(name), known=", ".join(fig.angles))
    if angles[0] == angles[1]:
        raise Fault("connect.angles_wanted", where)
    return angles[0], angles[1]
