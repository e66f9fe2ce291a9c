"""A teacher's own find-x: a figure, givens, and what is wanted. The answer is worked out here and certified.

Every given is linear in the directions of the lines and the unknowns (and their squares). Directions are
eliminated first; what is left speaks of the unknowns alone. Letters: d is a direction, x an unknown.
"""

from __future__ import annotations

from collections.abc import Sequence
from fractions import Fraction
from typing import Any

from app.figure.faults import Fault
from app.figure.model import Figure, figure_from_json, figure_to_json, measure_form
from app.figure.pairs import TRANSVERSAL_PAIRS, name_angles
from app.practice.algebra import Span, roots
from app.practice.certify import verdict
from app.practice.drawing import mark
from app.practice.families.common import converse_of, original_of
from app.practice.items import Field, Item
from app.practice.own_working import own_working
from app.practice.polynomials import Poly, add, scale, show_poly
from app.practice.working import value_at
from app.reasoning.frame import Frame, frame_of
from app.reasoning.statements import Expression, Statement
from app.reasoning.terms import ANGLE, SQUARE
from app.words import Message, say, term
from app.words import theorem as theorem_of
from app.words.house import House

__all__ = ["own_item"]

DIRECTION = "→"  # before a line's name: its direction as a letter of a polynomial


def own_item(figure: object, given: Sequence[str], want: str, house: House, make: str | None = None) -> Item:
    """The item of a figure and its givens; `want` is an unknown ("x") or a measure ("m∠3").

    `make` is a statement ("m ∥ n") that isn't given and is to be made true: x is such that it holds, and with
    that x it must follow from the givens (the converse), or the exercise would claim what nobody can prove.

    Raises Fault where the givens don't settle it, can't hold together, or can't be read.
    """
    fig = figure_from_json(figure)
    frame = frame_of(fig)
    statements = [_read(frame, text, f"given.{i}") for i, text in enumerate(given)]
    made_true = [_read(frame, make, "make")] if make else []
    target = _wanted(fig, frame, want)
    start, directions = _equations(fig, frame, [*statements, *made_true], target)
    held = [*given, make] if make else given
    unknowns = sorted({m[0] for p in (*start, target) for m in p if m and not m[0].startswith(DIRECTION)})
    values = _solve(fig, start, held, unknowns)
    answer = _value(target, directions, values)
    if answer is None:
        raise Fault("practice.own_open", "want", want=want)
    known = [f"{x} = {_text(v)}" for x, v in values.items()]
    numbers = [*_put_in(frame, [*statements, *made_true], values), *known]
    if verdict(fig, numbers, f"{want} = {_text(answer)}") != "follows":
        raise Fault("practice.own_conflict", "given")
    if make and verdict(fig, [*_put_in(frame, statements, values), *known], make) != "follows":
        raise Fault("practice.own_not_made", "make", make=make, values=", ".join(known) or _text(answer))
    measures = _measures(frame, statements)
    pairs = _pairs(fig, frame, measures)
    return Item(
        family="own",
        seed=0,
        level=1,
        skill="solve-for-x",
        prompt=say("practice.own_given", given=", ".join(given).replace("-", "−")),
        ask=say("practice.solve_ask_make", want=want, lines=make) if make else say("practice.own_ask", want=want),
        fields=(Field("x", "number", want, unit="°" if want.startswith("m") else ""),),
        figure=figure_to_json(fig),
        marks=_marks(statements, measures),
        given=tuple(given),
        key={"x": (str(answer),)},
        working=own_working(fig, numbers, measures, start, values, want, answer),
        hints=(say("practice.own_hint_1"), *_hints(pairs, bool(make))),
        start=tuple(start),
        measures=measures,
    )


def _read(frame: Frame, text: str, where: str) -> Statement:
    try:
        return frame.read(text)
    except Fault as fault:
        fault.where = where
        raise


def _text(value: Fraction) -> str:
    return str(value)


def _poly(fig: Figure, frame: Frame, expression: Expression) -> Poly:
    total: Poly = {(): expression.constant} if expression.constant else {}
    for atom, k in expression.terms:
        if atom.startswith(ANGLE):
            to, start, constant = measure_form(fig, frame.angles[atom])
            part: Poly = add({(DIRECTION + to,): Fraction(1)}, {(DIRECTION + start,): Fraction(-1)})
            part = add(part, {(): Fraction(constant)} if constant else {})
        elif atom.endswith(SQUARE):
            part = {(atom[0], atom[0]): Fraction(1)}
        else:
            part = {(atom,): Fraction(1)}
        total = add(total, scale(part, k))
    return total


def _equations(fig: Figure, frame: Frame, statements: Sequence[Statement], target: Poly) -> tuple[list[Poly], Span]:
    """(polynomials in unknowns alone, what gives directions): all are zero by the givens."""
    zeros: list[Poly] = []
    for s in statements:
        if s.kind in ("parallel", "perpendicular"):
            a, b = (fig.lines[name].direction for name in s.names)
            turn = Fraction(90 if s.kind == "perpendicular" else 0)
            # Which multiple of 180 (or which side of 90) is meant is read off the drawn order.
            nearest = min((k * 180 + turn for k in range(-2, 3)), key=lambda off: abs(a - b - off))
            zeros.append(
                add(
                    {(DIRECTION + s.names[0],): Fraction(1), (DIRECTION + s.names[1],): Fraction(-1)},
                    {(): -nearest} if nearest else {},
                )
            )
        elif s.kind not in ("not parallel", "bisects", "vertical", "linear pair"):
            left, right = s.sides
            zeros.append(add(_poly(fig, frame, left), scale(_poly(fig, frame, right), Fraction(-1))))
    columns = sorted({m for p in (*zeros, target) for m in p})
    turned = [m for m in columns if m and m[0].startswith(DIRECTION)]
    directions = Span((*turned, *(m for m in columns if m not in turned)))
    free: list[Poly] = []
    for p in zeros:
        p = directions.rest(p)
        if any(m in p for m in turned):
            directions.put(p)
        elif p:
            free.append(p)
    return free, directions


def _solve(fig: Figure, start: list[Poly], given: Sequence[str], unknowns: list[str]) -> dict[str, Fraction]:
    """The values that the equations fix; for a quadratic, the one root that leaves a figure."""
    square = next((p for p in start if any(len(m) == 2 for m in p)), None)
    if square is not None:
        if len(unknowns) != 1:
            raise Fault("practice.own_square", "given")
        x = unknowns[0]
        zero = Fraction(0)
        found = roots(square.get((x, x), zero), square.get((x,), zero), square.get((), zero))
        good = [r for r in found or () if isinstance(r, Fraction) and _possible(fig, given, x, r)]
        if len(good) != 1:
            raise Fault("practice.own_roots", "given", count=len(good), letter=x)
        return {x: good[0]}
    span = Span((*sorted({m for p in start for m in p if m}), ()))
    leads = [lead for lead in map(span.put, start) if lead is not None]
    if () in leads:
        raise Fault("practice.own_conflict", "given")
    left = {lead[0]: span.rest({lead: Fraction(1)}) for lead in leads}
    return {x: rest.get((), Fraction(0)) for x, rest in left.items() if set(rest) <= {()}}


def _possible(fig: Figure, given: Sequence[str], x: str, root: Fraction) -> bool:
    """Whether a figure with the drawn order has the givens with this root put in."""
    frame = frame_of(fig)
    numbers = _put_in(frame, [frame.read(text) for text in given], {x: root})
    return not numbers or verdict(fig, numbers, numbers[0]) == "follows"


def _put_in(frame: Frame, statements: Sequence[Statement], values: dict[str, Fraction]) -> list[str]:
    """The givens as linear statements: the squares worked out."""
    texts: list[str] = []
    for s in statements:
        if not any(a.endswith(SQUARE) for a in s.atoms):
            texts.append(s.text)
            continue
        sides = []
        for side in s.sides:
            total = side.constant
            words: list[str] = []
            for atom, k in side.terms:
                if atom.startswith(ANGLE):
                    words.append(f"{k}m{atom}" if k != 1 else f"m{atom}")
                else:
                    total += k * values[atom[0]] ** (2 if atom.endswith(SQUARE) else 1)
            sides.append(" + ".join([*words, str(total)]).replace("+ -", "- "))
        texts.append(" = ".join(sides))
    return texts


def _wanted(fig: Figure, frame: Frame, want: str) -> Poly:
    statement = _read(frame, f"{want} = 0", "want")
    return _poly(fig, frame, statement.sides[0])


def _value(target: Poly, directions: Span, values: dict[str, Fraction]) -> Fraction | None:
    left = directions.rest(target)
    letters = {letter for m in left for letter in m}
    return value_at(left, values) if letters <= set(values) else None


def _measures(frame: Frame, statements: Sequence[Statement]) -> dict[str, Poly]:
    """Angle → its measure in the unknowns, for givens of the form m∠3 = 3x + 10."""
    found: dict[str, Poly] = {}
    for s in statements:
        if s.kind in ("parallel", "perpendicular", "not parallel", "bisects"):
            continue
        left, right = s.sides
        atom = left.atom()
        if atom and atom.startswith(ANGLE) and not any(a.startswith(ANGLE) for a, _ in right.terms):
            poly: Poly = {(): right.constant} if right.constant else {}
            for a, k in right.terms:
                poly = add(poly, {((a[0], a[0]) if a.endswith(SQUARE) else (a,)): k})
            found[atom[1:]] = poly
    return found


def _marks(statements: Sequence[Statement], measures: dict[str, Poly]) -> dict[str, Any]:
    labels = {}
    for name, poly in measures.items():
        text = show_poly(poly).replace("-", "−")
        labels[name] = f"({text})°" if len(poly) > 1 else f"{text}°"
    arrows: dict[str, int] = {}
    for s in statements:
        if s.kind == "parallel":
            count = next((arrows[n] for n in s.names if n in arrows), len(set(arrows.values())) + 1)
            arrows.update(dict.fromkeys(s.names, count))
    return mark(labels, arrows=arrows)


def _pairs(fig: Figure, frame: Frame, measures: dict[str, Poly]) -> list[tuple[str, str, str]]:
    names = [n for n in measures if n in fig.angles]
    found = []
    for i, a in enumerate(names):
        for b in names[i + 1 :]:
            pair = name_angles(fig, frame.angles[ANGLE + a], frame.angles[ANGLE + b])
            if pair.pair in TRANSVERSAL_PAIRS:
                found.append((a, b, pair.pair))
    return found


def _hints(pairs: list[tuple[str, str, str]], making: bool) -> tuple[Message, Message]:
    if not pairs:
        return say("practice.own_hint_2"), say("practice.own_hint_3")
    a, b, pair = pairs[0]
    return (
        say("practice.own_pair", a=a, b=b, pair=term(pair)),
        say("practice.own_hint_3_make", theorem=theorem_of(converse_of(pair)))
        if making
        else say("practice.own_hint_3_so", theorem=theorem_of(original_of(pair))),
    )
