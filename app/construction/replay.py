"""Doing the moves: as drawn, and again with everything that was free moved a little.

Where two objects cross twice, the drawing picks one crossing (the one nearest to `near`), and the pick is
kept as a rule that does not depend on nearness: first or second along the line, left or right of the way
between the centers, or "the one that is (not) the point K" where K is known to lie on both. A construction
is then the same construction wherever its free points go.
"""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction

from app.construction.arithmetic import Arithmetic, N, P
from app.construction.moves import Move, Program
from app.construction.plane import Circle, Straight, Thing, crossings, foot, minus, square
from app.figure.faults import Fault

__all__ = ["Drawing", "Nudge", "Pick", "Value", "replay"]

Value = P | Straight | Circle


@dataclass(frozen=True)
class Pick:
    """Which crossing: the `index`th of crossings(); or, with `known`, the crossing at that point or the
    other one.
    """

    index: int = 0
    known: str = ""
    other: bool = False


@dataclass
class Nudge:
    """How free points move: `points` adds (x, y) to given and free ones; `along` a bit to those placed on
    objects.

    On a straight object the bit is a length; on a circle it is about that length too, as a rotation.
    """

    points: dict[str, P] = field(default_factory=dict)
    along: dict[str, N] = field(default_factory=dict)


@dataclass
class Drawing:
    """All objects by name, the picks made, and the moves that could not be done (index → Fault)."""

    use: Arithmetic
    values: dict[str, Value] = field(default_factory=dict)
    picks: dict[str, Pick] = field(default_factory=dict)
    failed: dict[int, Fault] = field(default_factory=dict)

    def point(self, name: str) -> P:
        value = self.values[name]
        assert isinstance(value, tuple)
        return value

    def thing(self, name: str) -> Thing:
        value = self.values[name]
        assert not isinstance(value, tuple)
        return value


def replay(
    program: Program, use: Arithmetic, *, nudge: Nudge | None = None, picks: dict[str, Pick] | None = None
) -> Drawing:
    """Do the moves. With `picks` (from the drawing as drawn) crossings are chosen by rule, else by nearness.

    A move that can't be done, and every move that rests on it, is in `failed`; the rest is done.
    """
    drawing = Drawing(use, picks=dict(picks or {}))
    nudge = nudge or Nudge()
    for name, at in program.start.points.items():
        drawing.values[name] = shifted(exact(at, use), nudge.points.get(name))
    for name, (kind, a, b) in program.start.objects.items():
        drawing.values.setdefault(name, Straight(kind, drawing.point(a), drawing.point(b)))
    lost: set[str] = set()
    # A move may take the name of a given object, which then is hidden from the moves after it.
    for i, move in enumerate(program.moves):
        missing = next((name for name in move.uses() if name in lost), None)
        try:
            if missing is not None:
                raise Fault("construction.rests_on", f"moves[{i}]", name=move.name, missing=missing)
            drawing.values[move.name] = do(move, program, drawing, nudge, f"moves[{i}]")
            lost.discard(move.name)
        except Fault as fault:
            drawing.failed[i] = fault
            drawing.values.pop(move.name, None)
            lost.add(move.name)
    return drawing


def exact(at: tuple[Fraction, Fraction], use: Arithmetic) -> P:
    return use.number(at[0]), use.number(at[1])


def shifted(at: P, by: P | None) -> P:
    return at if by is None else (at[0] + by[0], at[1] + by[1])


def do(move: Move, program: Program, drawing: Drawing, nudge: Nudge, where: str) -> Value:
    use = drawing.use
    if move.op == "point":
        assert move.at is not None
        return shifted(exact(move.at, use), nudge.points.get(move.name))
    if move.op == "on":
        return place_on(move, drawing, nudge.along.get(move.name), where)
    if move.op == "meet":
        return meet(move, program, drawing, where)
    if move.op == "arc":
        assert move.opening is not None
        a, b = (drawing.point(name) for name in move.opening)
        opening = square(minus(a, b))
        if opening <= zero(drawing, a):
            raise Fault("construction.opening_none", where, a=move.opening[0], b=move.opening[1])
        return Circle(drawing.point(move.center), opening)
    assert move.through is not None
    p, q = (drawing.point(name) for name in move.through)
    if square(minus(p, q)) <= zero(drawing, p):
        one, two = move.through
        raise Fault("construction.through_same_place", where, a=one, b=two, op=move.op)
    return Straight(move.op, p, q)


def zero(drawing: Drawing, at: P) -> N:
    """The square of a length that is no length, beside numbers of this size."""
    return (drawing.use.tiny**2) * (1 + square(at))


def place_on(move: Move, drawing: Drawing, slide: N | None, where: str) -> P:
    assert move.near is not None
    of, near = drawing.thing(move.of[0]), exact(move.near, drawing.use)
    at = foot(of, near, drawing.use)
    if at is None:
        raise Fault("construction.on_center", where, name=move.name, of=move.of[0])
    if slide is None:
        return at
    if isinstance(of, Straight):
        # The point keeps its part of the length between the object's two points, and slides by a part of it.
        long = square(of.way)
        return of.at(of.along(at) + slide / drawing.use.root(long))
    # Turned by an angle whose half has the tangent u: an exact rotation without sine or cosine.
    u = slide / (2 * drawing.use.root(of.s))
    c, s = (1 - u * u) / (1 + u * u), 2 * u / (1 + u * u)
    out = minus(at, of.c)
    return of.c[0] + c * out[0] - s * out[1], of.c[1] + s * out[0] + c * out[1]


def meet(move: Move, program: Program, drawing: Drawing, where: str) -> P:
    a, b = (drawing.thing(name) for name in move.of)
    found = crossings(a, b, drawing.use)
    names = {"a": move.of[0], "b": move.of[1]}
    if found is None:
        raise Fault("construction.meet_same", where, **names)
    if not found:
        raise Fault(f"construction.{miss(a, b)}", where, **names)
    pick = drawing.picks.get(move.name)
    if pick is not None:
        return picked(pick, found, drawing)
    reached = [i for i, at in enumerate(found) if reach(a, at, drawing) and reach(b, at, drawing)]
    if not reached:
        raise Fault("construction.meet_beyond", where, **names)
    near = exact(move.near, drawing.use) if move.near is not None else found[reached[0]]
    index = min(reached, key=lambda i: square(minus(found[i], near)))
    drawing.picks[move.name] = rule(move, index, found, program, drawing)
    return found[index]


def miss(a: Thing, b: Thing) -> str:
    """Which plain sentence says why the two don't cross."""
    if isinstance(a, Circle) and isinstance(b, Circle):
        return "arcs_apart" if square(minus(a.c, b.c)) > max(a.s, b.s) else "arcs_inside"
    return "lines_apart" if isinstance(a, Straight) and isinstance(b, Straight) else "arc_short"


def reach(of: Thing, at: P, drawing: Drawing) -> bool:
    return isinstance(of, Circle) or of.reaches(of.along(at), drawing.use.number(Fraction(1, 10**9)))


def picked(pick: Pick, found: list[P], drawing: Drawing) -> P:
    if pick.known:
        known = drawing.point(pick.known)
        order = sorted(found, key=lambda at: square(minus(at, known)))
        return order[-1] if pick.other else order[0]
    return found[min(pick.index, len(found) - 1)]


def rule(move: Move, index: int, found: list[P], program: Program, drawing: Drawing) -> Pick:
    """The pick as a rule: by a point known to lie on both objects if there is one, else by order."""
    if len(found) == 1:
        return Pick(0)
    for name, value in drawing.values.items():
        if isinstance(value, tuple) and all(lies_on(name, of, program) for of in move.of):
            gaps = [square(minus(at, value)) for at in found]
            there = 0 if gaps[0] < gaps[1] else 1
            return Pick(index, name, index != there)
    return Pick(index)


def lies_on(point: str, of: str, program: Program) -> bool:
    """Whether the point lies on the object by the way either was made (not as drawn only)."""
    for move in program.moves:
        if move.name == point and of in move.of:
            return True
        if move.name == of:
            if move.op == "arc":
                assert move.opening is not None
                return move.center in move.opening and point in move.opening and point != move.center
            return point in (move.through or ())
    given = program.start.objects.get(of)
    return given is not None and point in given[1:]
