"""What the directions of the lines alone settle: the flat of what the givens force, and the claim tried on it.

Statements are linear in the lines' directions and the unknowns (for x², see `squares`), so what the givens force is
decided on the flat of their solutions: the claim holds on all of it, on none of it, or on a part. The strict bounds
(0 < angle < 180, in the drawn turning order) cut an open piece out of the flat, so they can empty it but not bend it.

Letters: a *branch* is one choice of the multiples of 180 that the givens' parallels and perpendiculars stand
for; nearly always there is one.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from functools import cached_property
from itertools import product
from operator import mul

from app.figure.faults import Fault
from app.reasoning.frame import Frame, frame_of
from app.reasoning.linear import Flat, Row, roomiest
from app.reasoning.squares import rooted, with_roots
from app.reasoning.terms import Fact, Statement

__all__ = ["CANNOT_BE", "CONFLICT", "FOLLOWS", "NOT_FORCED", "Directions", "Off", "decide", "possible", "widened"]

FOLLOWS, NOT_FORCED, CANNOT_BE, CONFLICT = "follows", "not forced", "cannot be", "givens conflict"
MOST_BRANCHES = 64


def widened(frame: Frame, statements: Sequence[Statement]) -> Frame:
    """The frame in which every crossing that a statement names an angle at counts as drawn."""
    if len(frame.meets) == len(frame.fig.meets):
        return frame
    spoken = {frame.angles[a].at for s in statements for a in s.angles if a in frame.angles}
    missing = spoken.difference(frame.meets)
    if not missing:
        return frame
    wide = frame_of(frame.fig, frozenset(missing))
    for atom, angle in frame.angles.items():
        wide._enter(atom, angle)
    return wide


def decide(frame: Frame, given: Sequence[Fact], claim: Fact) -> str:
    """What the directions alone say, on facts: "not forced" means no more than that they leave the claim open."""
    return Directions(frame, given, claim).linear


def possible(frame: Frame, given: Sequence[Fact], order: bool = False) -> bool:
    """Whether the directions leave a figure with the drawn turning at its meets in which all givens hold; with `order`,
    also one whose parallels keep the order along the lines.
    """
    return bool(Directions(frame, given, None, order).branches)


class Off:
    """A row that must not be 0, nor a multiple of `turn` off `rest` (turn 0: just not `rest`)."""

    def __init__(self, row: Row, turn: int, rest: int) -> None:
        self.row, self.turn, self.rest = row, turn, rest

    def value(self, point: Sequence[Fraction]) -> Fraction:
        """The row's value at a point."""
        return sum((k * v for k, v in zip(self.row, point, strict=False) if k), Fraction(self.row[-1]))

    def distance(self, value: Fraction) -> Fraction:
        value -= self.rest
        return abs(value - self.turn * round(value / self.turn)) if self.turn else abs(value)


Bounds = Sequence[tuple[int, int, int]]  # (j, i, c): d_j - d_i + c > 0


class Directions:
    """One question: the branches of the givens that have a figure, and the claim tried on each."""

    def __init__(self, frame: Frame, given: Sequence[Fact], claim: Fact | None, order: bool = False) -> None:
        """`order`: whether givens that the order along the lines rules out count as conflicting."""
        self.order = order
        self.frame, self.given, self.claim = frame, given, claim
        lines = len(frame.lines)
        unknowns: dict[str, int] = {}
        forms = frame._forms
        for fact in given if claim is None else (*given, claim):
            if fact[0] == "equation":
                for atom, _ in fact[1]:
                    if atom not in forms and atom not in unknowns:
                        for one in with_roots(atom):
                            unknowns.setdefault(one, lines + len(unknowns))
        self.unknowns = unknowns
        # The frame that knows which multiple of 180 a parallel means: with loose parts tied by the givens.
        self.tied = frame
        self.width = lines + len(unknowns)
        self.unequal: list[Row] = []
        self.branches: list[Flat] = []
        self._collect(given)

    def _collect(self, given: Sequence[Fact]) -> None:
        frame, width, unknowns, first = self.frame, self.width, self.unknowns, len(self.frame.lines)
        flat = Flat(width)
        several: list[tuple[Fact, list[int]]] = []
        turned: list[Fact] = []
        for fact in given:
            kind = fact[0]
            if kind == "equation" or kind == "bisects":
                flat.add(frame.row(fact, unknowns, width), first)
            elif kind == "parallel" or kind == "perpendicular":
                turned.append(fact)
            elif kind == "not parallel":
                self.unequal.append(frame.row(fact, unknowns, width))
            elif not self.as_drawn(fact):
                return
        if turned:
            for fact, steps in self._steps(turned):
                if not steps:
                    return
                if len(steps) == 1:
                    flat.add(frame.row(fact, unknowns, width, steps[0]), first)
                else:
                    several.append((fact, steps))
        if flat.empty:
            return
        if not several:
            self._branch(flat)
            return
        for choice in _choices([steps for _, steps in several]):
            branch = flat.copy()
            for (fact, _), step in zip(several, choice, strict=True):
                branch.add(frame.row(fact, unknowns, width, step), first)
            if not branch.empty:
                self._branch(branch)

    def _branch(self, flat: Flat) -> None:
        """Take up a flat, or its parts by the roots of squared unknowns, where it has a figure."""
        if self.has_figure(flat):
            for part in rooted(flat, self.unknowns, len(self.frame.lines)):
                if (part is flat or self.has_figure(part)) and not (self.order and self.out_of_order(part)):
                    self.branches.append(part)

    def _steps(self, turned: Sequence[Fact]) -> Iterator[tuple[Fact, list[int]]]:
        """For each parallel or perpendicular, the differences of direction it may mean. A given that joins loose
        parts of the figure takes one of them for good, and ties the parts.
        """
        frame = self.frame
        loose = [] if frame.whole else [f for f in turned if not frame.tied(f[1], f[2])]
        if loose:
            frame = self.tied = Frame(frame.fig, frozenset(frame.meets))
            for fact in loose:
                l, m = fact[1], fact[2]
                if not frame.tied(l, m):
                    step = frame.steps(l, m, 0 if fact[0] == "parallel" else 90)[0]
                    frame.tie(l, m, step)
        for fact in turned:
            yield fact, frame.steps(fact[1], fact[2], 0 if fact[0] == "parallel" else 90)

    def spoken(self) -> tuple[str, ...]:
        """The figure's angles, and those that the givens and the claim speak of besides."""
        found = dict.fromkeys(self.frame.named)
        for fact in self.given if self.claim is None else (*self.given, self.claim):
            named = [a for a, _ in fact[1]] if fact[0] == "equation" else fact[2:]
            found.update(dict.fromkeys(a for a in named if a in self.frame.angles))
        return tuple(found)

    def as_drawn(self, fact: Fact) -> bool:
        return bool(self.frame.pair(fact[2], fact[3]).pair == fact[1])

    # The order along lines.

    def out_of_order(self, flat: Flat) -> bool:
        """Whether lines that cross between two others would have to turn the other way there, or lines that the flat
        makes parallel to lie on both sides of each other.
        """
        frame = self.frame
        if frame.between and not self.has_room(flat, (*frame.bounds, *frame.between_bounds)):
            return True
        return any(
            self.turned(flat, i, j) == one and self.turned(flat, i, k) == other for i, j, k, one, other in frame.rings
        )

    def turned(self, flat: Flat, i: int, j: int) -> int | None:
        """1 where the flat makes two lines parallel with + directions that agree, -1 where they are opposite."""
        row = [0] * (self.width + 1)
        row[i], row[j] = 1, -1
        reduced, scale = flat.reduce(row)
        value = reduced.pop()
        if any(reduced) or value % (180 * scale):
            return None
        return 1 if value % (360 * scale) == 0 else -1

    # Bounds.

    def has_figure(self, flat: Flat) -> bool:
        """Whether the flat has a point inside all strict bounds and off what is said to be unequal."""
        for row in self.unequal:
            value = self.constant(flat, row)
            if value is not None and value % 180 == 0:
                return False
        return self.has_room(flat, self.frame.bounds)

    def has_room(self, flat: Flat, bounds: Bounds) -> bool:
        """Whether the flat has a point inside the strict bounds."""
        if self.near_drawn(flat, bounds):
            return True
        room, _ = roomiest(self.within(flat, bounds), len(flat.free()), 1)
        return room > 0

    def near_drawn(self, flat: Flat, bounds: Bounds) -> bool:
        """Whether the flat's point over the drawn directions lies inside the bounds: nearly always it does."""
        frame = self.frame
        lines, scale = len(frame.lines), frame.scale
        values = frame.drawn[:]
        for column, row, pivot in reversed(flat.basis):
            if column < lines:
                # The row ends in its constant, which `values` has no place for: map stops before it.
                total = row[-1] * scale + sum(map(mul, row, values)) - pivot * values[column]
                if pivot != 1:
                    if total % pivot:
                        scale *= pivot
                        values = [value * pivot for value in values]
                        values[column] = -total
                        continue
                    total //= pivot
                values[column] = -total
        return all(values[j] - values[i] + constant * scale > 0 for j, i, constant in bounds)

    def bounds(self, flat: Flat) -> list[tuple[list[Fraction], Fraction, int]]:
        return self.within(flat, self.frame.bounds)

    def within(self, flat: Flat, bounds: Bounds) -> list[tuple[list[Fraction], Fraction, int]]:
        """The strict bounds in the flat's free columns, measured from the drawn directions."""
        free = flat.free()
        found = []
        for j, i, constant in bounds:
            row = [0] * (self.width + 1)
            row[j], row[i], row[-1] = 1, -1, constant
            found.append(self.from_drawn(flat, row, free))
        return found

    def from_drawn(self, flat: Flat, row: Row, free: Sequence[int]) -> tuple[list[Fraction], Fraction, int]:
        reduced, scale = flat.reduce(row)
        directions = self.frame.directions
        here = Fraction(reduced[-1])
        for column in free:
            if reduced[column] and column < len(directions):
                here += reduced[column] * directions[column]
        return [Fraction(reduced[column]) for column in free], here, scale

    def constant(self, flat: Flat, row: Row) -> Fraction | None:
        """The value of a row on the flat, or None where it varies."""
        reduced, scale = flat.reduce(row)
        if any(reduced[:-1]):
            return None
        return Fraction(reduced[-1], scale)

    # The claim.

    @cached_property
    def linear(self) -> str:
        if not self.branches:
            return CONFLICT
        claim = self.claim
        assert claim is not None
        if claim[0] == "drawn":
            return FOLLOWS if self.as_drawn(claim) else CANNOT_BE
        answers = set()
        for flat in self.branches:
            answers.add(self.on_branch(flat, claim))
            if len(answers) > 1 or NOT_FORCED in answers:
                return NOT_FORCED
        return answers.pop()

    def on_branch(self, flat: Flat, claim: Fact) -> str:
        kind = claim[0]
        settled = self.constant_claim(flat, claim)
        if settled is not None:
            return settled
        reached = any(True for _ in self.reaching(flat, claim))
        if kind == "not parallel":
            return NOT_FORCED if reached else FOLLOWS
        return NOT_FORCED if reached else CANNOT_BE

    def constant_claim(self, flat: Flat, claim: Fact) -> str | None:
        """Follows or cannot be, where the claim is the same all over the flat; None where it varies."""
        kind = claim[0]
        row = self.frame.row(claim, self.unknowns, self.width)
        reduced, scale = flat.reduce(row)
        if any(reduced[:-1]):
            return None
        if kind in ("equation", "bisects"):
            return CANNOT_BE if reduced[-1] else FOLLOWS
        value = Fraction(reduced[-1], scale)
        holds = (value - (90 if kind == "perpendicular" else 0)) % 180 == 0
        if kind == "not parallel":
            holds = not holds
        return FOLLOWS if holds else CANNOT_BE

    def forces(self, claim: Fact) -> bool:
        """Whether directions force a claim about lines, asked beside the question's own; False where givens clash."""
        return bool(self.branches) and all(self.constant_claim(flat, claim) == FOLLOWS for flat in self.branches)

    def reaching(self, flat: Flat, claim: Fact) -> Iterator[Flat]:
        """The parts of the flat on which the claim (for "not parallel": its opposite) holds, that have a figure."""
        kind = claim[0]
        if kind in ("equation", "bisects"):
            steps = [0]
        else:
            steps = self.tied.steps(claim[1], claim[2], 90 if kind == "perpendicular" else 0)
        for step in steps:
            part = flat.copy()
            part.add(self.frame.row(claim, self.unknowns, self.width, step), len(self.frame.lines))
            if not part.empty and self.has_figure(part):
                yield part

    def failing(self) -> Iterator[Flat]:
        """The flats on which the claim fails somewhere, as far as directions tell."""
        claim = self.claim
        assert claim is not None
        for flat in self.branches:
            if self.on_branch(flat, claim) == FOLLOWS:
                # Another branch is where it fails.
                continue
            if claim[0] == "not parallel":
                yield from self.reaching(flat, claim)
            else:
                yield flat

    def away(self, flat: Flat) -> list[Off]:
        """What a counterexample on the flat keeps off: the claim, and what is given as unequal."""
        claim = self.claim
        assert claim is not None
        found = [Off(row, 180, 0) for row in self.unequal]
        if claim[0] != "not parallel":
            turn = 180 if claim[0] in ("parallel", "perpendicular") else 0
            row = self.frame.row(claim, self.unknowns, self.width)
            found.insert(0, Off(row, turn, 90 if claim[0] == "perpendicular" else 0))
        return [one for one in found if self.constant(flat, one.row) is None]


def _choices(steps: Sequence[Sequence[int]]) -> Iterator[tuple[int, ...]]:
    count = 1
    for one in steps:
        count *= len(one)
    if count > MOST_BRANCHES:
        raise Fault("reasoning.many_branches", "given", most=MOST_BRANCHES)
    return product(*steps)
