"""The key of a teacher's own find-x, written as a teacher writes it: the pair, its equation, what solves it.

The equations that decide are found by elimination (`own.py`) and no longer look like the figure. Here they are
found again as equations of two measures each; where those don't say as much, the eliminated ones are printed.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from fractions import Fraction
from itertools import combinations
from typing import NamedTuple

from app.figure.model import Figure
from app.figure.pairs import TRANSVERSAL_PAIRS, Pair, name_pair
from app.practice.algebra import Span, roots
from app.practice.certify import verdict
from app.practice.families.common import degrees
from app.practice.polynomials import Poly, add, scale, show_poly
from app.practice.working import value_at
from app.words import Message, Text, joined, say, term

__all__ = ["own_working"]

_AT_ONE_MEET = {"vertical": "congruent", "linear pair": "supplementary"}


class _Found(NamedTuple):
    """Two measured angles, what they are to each other, and the polynomial that is zero by that.

    `steps` are the named pairs that tell it: the two themselves, or each of them with a third angle.
    """

    a: str
    b: str
    relation: str
    steps: tuple[tuple[str, str, Pair], ...]
    zero: Poly


def own_working(
    fig: Figure, given: Sequence[str], measures: Mapping[str, Poly], start: Sequence[Poly],
    values: Mapping[str, Fraction], want: str, answer: Fraction,
) -> tuple[Text, ...]:  # fmt: skip
    """The lines of the key. `given` are all statements that hold, the one to be made true among them."""
    measured = {name: poly for name, poly in measures.items() if name in fig.angles}
    lines: list[Text] = []
    found = _enough(_pairs(fig, given, measured), start)
    for one in found or ():
        lines += [_said(*step) for step in one.steps]
        lines.append(_equation(one.relation, *(show_poly(measured[name]) for name in (one.a, one.b))))
    if found is None:
        lines += [f"{show_poly(_positive(p))} = 0" for p in start]
    lines += _solved(start, values, measured, found is not None)
    return (*lines, *_wanted(fig, given, measured, values, want, answer))


def _relation(pair: Pair) -> str | None:
    return _AT_ONE_MEET.get(pair.pair, pair.relation)


def _pairs(fig: Figure, given: Sequence[str], measured: Mapping[str, Poly]) -> list[_Found]:
    """The pairs of measured angles with a relation, those that are pairs by name first."""
    near, far = [], []
    for a, b in combinations(measured, 2):
        pair = name_pair(fig, a, b)
        relation = _relation(pair)
        if relation is not None:
            near.append(_Found(a, b, relation, ((a, b, pair),), _zero(relation, measured[a], measured[b])))
            continue
        for c in fig.angles:
            one, other = name_pair(fig, a, c), name_pair(fig, c, b)
            both = {_relation(one), _relation(other)}
            if None not in both and _holds(fig, given, a, c, one) and _holds(fig, given, c, b, other):
                # Congruent to a supplement is supplementary; two supplements of one angle are congruent.
                relation = "supplementary" if len(both) == 2 else "congruent"
                steps = (a, c, one), (c, b, other)
                far.append(_Found(a, b, relation, steps, _zero(relation, measured[a], measured[b])))
                break
    return [*near, *far]


def _holds(fig: Figure, given: Sequence[str], a: str, b: str, pair: Pair) -> bool:
    """Whether the relation that goes with the pair's name is forced: it always is at one meet."""
    claim = f"∠{a} ≅ ∠{b}" if _relation(pair) == "congruent" else f"m∠{a} + m∠{b} = 180"
    return pair.pair not in TRANSVERSAL_PAIRS or verdict(fig, list(given), claim) == "follows"


def _zero(relation: str, one: Poly, other: Poly) -> Poly:
    if relation == "congruent":
        return add(one, scale(other, Fraction(-1)))
    return add(add(one, other), {(): Fraction(-180)})


def _enough(pairs: Sequence[_Found], start: Sequence[Poly]) -> list[_Found] | None:
    """Pairs whose equations say just what `start` says, none of them twice; None where there are none such.

    An equation that isn't a sum of multiples of `start` isn't known to hold: its lines may cross.
    """
    columns = sorted({m for p in (*start, *(one.zero for one in pairs)) for m in p}, key=lambda m: (-len(m), m))
    whole, said = Span(columns), Span(columns)
    for p in start:
        whole.put(p)
    if not whole.rows:
        return None
    found = [one for one in pairs if whole.has(one.zero) and said.put(one.zero) is not None]
    return found if len(said.rows) == len(whole.rows) else None


def _said(a: str, b: str, pair: Pair) -> Message:
    fields = {"a": a, "b": b, "pair": term(pair.pair), "relation": term(_relation(pair) or "")}
    if pair.lines is None:
        return say("practice.own_pair_meet", **fields)
    return say("practice.own_pair_cross", **fields, lines=" ∥ ".join(pair.lines))


def _equation(relation: str, one: str, other: str) -> str:
    if relation == "congruent":
        return f"{one} = {other}"
    return f"{one} + ({other}) = 180" if other.startswith("-") else f"{one} + {other} = 180"


def _positive(p: Poly) -> Poly:
    lead = max(p, key=lambda m: (len(m), m))
    first = min((m for m in p if len(m) == len(lead)), default=lead)
    return scale(p, Fraction(-1)) if p[first] < 0 else p


def _solved(
    start: Sequence[Poly], values: Mapping[str, Fraction], measured: Mapping[str, Poly], paired: bool
) -> list[Text]:
    """From the equation to the unknowns."""
    known = ", ".join(f"{x} = {v}" for x, v in values.items())
    if len(start) != 1 or len(values) != 1:
        return [known] if known else []
    (x, value), p = next(iter(values.items())), _positive(start[0])
    zero = Fraction(0)
    a, b, c = p.get((x, x), zero), p.get((x,), zero), p.get((), zero)
    if not a:
        return [*([f"{show_poly({(x,): b})} = {-c}"] if paired and b != 1 else []), known]
    lines: list[Text] = [f"{show_poly(p)} = 0"] if paired else []
    thrown = [r for r in roots(a, b, c) or () if isinstance(r, Fraction) and r != value]
    for root in thrown:
        sizes = {q: value_at(poly, {x: root}) for q, poly in measured.items() if set(poly) <= {(), (x,), (x, x)}}
        bad = next((q for q, size in sizes.items() if not 0 < size < 180), None)
        if bad is not None:
            lines.append(joined("or", (known, f"{x} = {root}")))
            lines.append(say("practice.key_thrown", x=root, q=bad, value=degrees(sizes[bad])))
    return [*lines, known]


def _wanted(
    fig: Figure, given: Sequence[str], measured: Mapping[str, Poly], values: Mapping[str, Fraction], want: str,
    answer: Fraction,
) -> list[Text]:  # fmt: skip
    """The last line, where it isn't the unknown itself: the measure, by its expression or by a pair it is in."""
    if want in values:
        return []
    name = want.removeprefix("m∠")
    if name in measured:
        poly = measured[name]
        return [f"{want} = {show_poly(poly)} = {answer}" if set(poly) - {()} else f"{want} = {answer}"]
    if name in fig.angles:
        for other, poly in measured.items():
            pair = name_pair(fig, other, name)
            relation = _relation(pair)
            if relation is None or not {letter for m in poly for letter in m} <= set(values):
                continue
            size, sums = value_at(poly, dict(values)), relation == "supplementary"
            if answer != (180 - size if sums else size):
                continue
            if not _holds(fig, given, other, name, pair):
                continue
            lines: list[Text] = [_said(other, name, pair), *([f"{size} + {want} = 180"] if sums else [])]
            return [*lines, f"{want} = {answer}"]
    return [f"{want} = {answer}"]
