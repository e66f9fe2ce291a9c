"""Does it follow? An exact decision, with the reason either way, or the plain word that it was left open.

Statements are linear in the lines' directions and the unknowns (for x², see `squares`), so what the givens force is
decided on the flat of their solutions: the claim holds on all of it, on none of it, or a point of it off the claim is
a figure in which the givens hold and the claim fails. The strict bounds (0 < angle < 180, in the drawn turning
order) cut an open piece out of the flat, so they can empty it but not bend it.

Where three or more lines meet, and along lines, a figure must keep more than its directions: a claim that they leave
open is "not forced" only with a real figure (`counter`, `real`), may be settled by `coordinates`, else is undecided.

Letters: a *branch* is one choice of the multiples of 180 that the givens' parallels and perpendiculars stand
for; nearly always there is one.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Sequence
from contextlib import suppress
from dataclasses import dataclass, field
from fractions import Fraction
from functools import cached_property
from itertools import combinations, product
from operator import mul
from typing import TYPE_CHECKING

from app.figure.faults import Fault
from app.figure.model import Figure
from app.reasoning.budget import CONFLICT as CONFLICT_STEPS
from app.reasoning.budget import DECISION, Spent, spend, spending
from app.reasoning.counter import SEEN, Counterexample, as_drawn, counterexample, solved
from app.reasoning.frame import Frame, frame_of
from app.reasoning.linear import Flat, Row, roomiest
from app.reasoning.real import Off
from app.reasoning.squares import rooted, with_roots
from app.reasoning.terms import Fact, Statement

if TYPE_CHECKING:
    from app.reasoning.graph import Proof
    from app.reasoning.prover import Proofs

__all__ = ["Outcome", "conflicting", "decide", "follows", "possible", "value_of", "widened"]

FOLLOWS, NOT_FORCED, CANNOT_BE, CONFLICT = "follows", "not forced", "cannot be", "givens conflict"
UNDECIDED = "undecided"
# Starts from which a real figure is looked for: a few before coordinates are tried, the rest after.
SOON, LATER = range(8), range(8, 28)
TIMES = (1, 2)
CLASHING = 12  # steps: one set of givens tried, for each of them
MOST_BRANCHES = 64


@dataclass
class Outcome:
    """The answer, and on demand what shows it.

    `verdict`: follows, not forced, cannot be, givens conflict, undecided. `conflict`: places in `given` of a smallest
    set of givens that can't hold together (only for givens conflict). `by`: "coordinates" where it follows, but the
    directions alone don't say so.
    """

    fig: Figure
    given: tuple[Statement, ...]
    claim: Statement
    _decision: Decision = field(repr=False)

    @property
    def verdict(self) -> str:
        return self._decision.answer[0]

    @property
    def by(self) -> str | None:
        return self._decision.answer[1]

    @property
    def counterexample(self) -> Counterexample | None:
        """For not forced: a figure with the drawn order in which the givens hold and the claim visibly fails."""
        return self._decision.answer[2]

    @cached_property
    def conflict(self) -> tuple[int, ...]:
        if self.verdict != CONFLICT:
            return ()
        return conflicting(self.fig, self.given)

    @property
    def proof(self) -> Proof | None:
        """For follows: a shortest proof in named steps, if the theorems of the table reach it."""
        return self.proofs[0] if self.proofs else None

    @cached_property
    def proofs(self) -> Proofs:
        """For follows: the one proof looked for, or none."""
        from app.reasoning.prover import Proofs, prove

        if self.verdict != FOLLOWS or self.by is not None:
            return Proofs()
        return prove(self.fig, self.given, self.claim)


def follows(
    fig: Figure, given: Sequence[Statement | str], claim: Statement | str, *, order: bool = True,
) -> Outcome:
    """Decide whether the givens force the claim in every figure with the drawn order.

    `order`: whether givens are said to conflict where only the order along the lines rules them out (a row is never
    refused for that).

    Raises Fault for a text that is no statement (its place under "given.0", …, "claim"), and for a squared unknown that
    nothing fixes or whose value is no fraction.
    """
    frame = frame_of(fig)
    statements = tuple(
        _read(frame, one, f"given.{i}") if isinstance(one, str) else one for i, one in enumerate(given)
    )
    wanted = _read(frame, claim, "claim") if isinstance(claim, str) else claim
    frame = widened(frame, (*statements, wanted))
    decision = Decision(frame, [s.fact for s in statements], wanted.fact, order)
    decision.linear  # noqa: B018 - what can't be decided at all is refused here and not when the verdict is read
    return Outcome(fig, statements, wanted, decision)


def _read(frame: Frame, text: str, where: str) -> Statement:
    try:
        return frame.read(text)
    except Fault as fault:
        raise Fault(fault.code, f"{where}, {fault.where}", **fault.fields) from None


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
    return Decision(frame, given, claim).linear


def possible(frame: Frame, given: Sequence[Fact], order: bool = False) -> bool:
    """Whether the directions leave a figure with the drawn turning at its meets in which all givens hold; with `order`,
    also one whose parallels keep the order along the lines.
    """
    return bool(Decision(frame, given, None, order).branches)


class Decision:
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
        """Whether lines that the flat makes parallel would have to lie on both sides of each other."""
        frame = self.frame
        for i, j in frame.odd:
            if self.turned(flat, i, j) is not None:
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
        if self.near_drawn(flat):
            return True
        room, _ = roomiest(self.bounds(flat), len(flat.free()), 1)
        return room > 0

    def near_drawn(self, flat: Flat) -> bool:
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
        return all(values[j] - values[i] + constant * scale > 0 for j, i, constant in frame.bounds)

    def bounds(self, flat: Flat) -> list[tuple[list[Fraction], Fraction, int]]:
        """The strict bounds in the flat's free columns, measured from the drawn directions."""
        free = flat.free()
        found = []
        for j, i, constant in self.frame.bounds:
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
    def answer(self) -> tuple[str, str | None, Counterexample | None]:
        """(verdict, by, counterexample): what directions leave open is not forced only with a real figure."""
        if self.linear != NOT_FORCED:
            return self.linear, None, None
        try:
            with spending(DECISION):
                return self.beyond()
        except Spent:
            return UNDECIDED, None, None

    def beyond(self) -> tuple[str, str | None, Counterexample | None]:
        """The answer where directions leave the claim open."""
        found: Shown | None = None
        with suppress(Spent), spending(DECISION // 3):
            found = self.shown(lambda part, away: counterexample(self, part, away))
        if found is None:
            found = self.shown(lambda part, away: as_drawn(self, part, away))
        if found is None or (found[1] < SEEN and self.frame.threes):
            found = farther(found, self.shown(lambda part, away: solved(self, part, away, SOON)))
        if found is None and self.frame.threes:
            exact = self.by_coordinates()
            if exact is not None:
                return exact, "coordinates" if exact == FOLLOWS else None, None
        if found is None:
            found = self.shown(lambda part, away: solved(self, part, away, LATER))
        if found is None:
            return UNDECIDED, None, None
        never = False
        if self.frame.threes:
            with suppress(Spent):
                never = self.never_holds()
        return (CANNOT_BE, None, None) if never else (NOT_FORCED, None, found[0])

    def never_holds(self) -> bool:
        """Whether coordinates show that the claim holds in no figure, though directions alone would let it."""
        claim = self.claim
        assert claim is not None
        parts = []
        for flat in self.branches:
            if claim[0] == "not parallel" or self.on_branch(flat, claim) == FOLLOWS:
                return False
            parts += list(self.reaching(flat, claim))
        for part in parts:
            if solved(self, part, [one for one in self.away(part) if one.row in self.unequal], SOON[:4]) is not None:
                return False
        from app.reasoning.coordinates import shown_by_coordinates

        return all(shown_by_coordinates(self, part, None) for part in parts)

    def by_coordinates(self) -> str | None:
        """What is exactly so where lines meet in threes, if that was shown."""

        if not all(any(self.shown_on(part, times) for times in TIMES) for part in self.failing()):
            return None
        return CONFLICT if self.impossible() else FOLLOWS

    def shown_on(self, flat: Flat, times: int) -> bool:
        """Whether coordinates show the claim on a flat; `times` the claim is shown first, where only the turning at the
        meets tells which part of a half turn it is (45 degrees and not 135).
        """
        from app.reasoning.coordinates import shown_by_coordinates

        claim = self.claim
        assert claim is not None
        if claim[0] == "not parallel":
            return times == 1 and shown_by_coordinates(self, flat, None)
        row = self.frame.row(claim, self.unknowns, self.width)
        turn = 180 if claim[0] in ("parallel", "perpendicular") else 0
        rest = 90 if claim[0] == "perpendicular" else 0
        wanted = [times * k for k in row[:-1]], times * (row[-1] - rest)
        return self.one_value(flat, row, rest, turn, 180 // times) and shown_by_coordinates(
            self, flat, ([*wanted[0], wanted[1]], 0))

    def impossible(self) -> bool:
        """Whether coordinates show that the givens have no figure with the lines meeting as named."""
        from app.reasoning.coordinates import shown_by_coordinates

        return bool(self.frame.threes) and all(shown_by_coordinates(self, flat, None) for flat in self.branches)

    def one_value(self, flat: Flat, row: Row, rest: int, turn: int, step: int) -> bool:
        """Whether, of the values rest + k·step, a quantity can come on the flat only to those that the claim means."""
        if turn == step:
            return True
        reach = (1 + sum(map(abs, row[:-1])) // 2) * 180 // step
        for k in range(-reach, reach + 1):
            if k and not (turn and k * step % turn == 0):
                part = flat.copy()
                part.add([*row[:-1], row[-1] - rest - k * step], len(self.frame.lines))
                if not part.empty and self.has_figure(part):
                    return False
        return True

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

    def shown(self, look: Callable[[Flat, Sequence[Off]], Shown | None]) -> Shown | None:
        """A figure in which the claim fails, and how far off it is: the first that shows it plainly."""
        best: Shown | None = None
        for part in self.failing():
            best = farther(best, look(part, self.away(part)))
            if best is not None and best[1] >= SEEN:
                break
        return best

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


Shown = tuple[Counterexample, Fraction]


def farther(one: Shown | None, other: Shown | None) -> Shown | None:
    """Of two counterexamples the one that is farther off."""
    if one is None or other is None:
        return one or other
    return one if one[1] >= other[1] else other


def _choices(steps: Sequence[Sequence[int]]) -> Iterator[tuple[int, ...]]:
    count = 1
    for one in steps:
        count *= len(one)
    if count > MOST_BRANCHES:
        raise Fault("reasoning.many_branches", "given", most=MOST_BRANCHES)
    return product(*steps)


def value_of(fig: Figure, given: Sequence[Statement | str], what: str) -> Fraction | None:
    """The one value that the givens force for an unknown ("x") or a measure ("m∠3"), or None where they force none.

    Raises Fault for what can't be read.
    """
    frame = frame_of(fig)
    statements = [_read(frame, one, f"given.{i}") if isinstance(one, str) else one for i, one in enumerate(given)]
    asked = _read(frame, f"{what} = 0", "what")
    decision = Decision(widened(frame, (*statements, asked)), [s.fact for s in statements], asked.fact)
    row = decision.frame.row(asked.fact, decision.unknowns, decision.width)
    # The fact is k · what = 0 with k = 1 or -1 of one atom; its row's value on the flat is the value asked for.
    values = {decision.constant(flat, row) for flat in decision.branches}
    return values.pop() if len(values) == 1 else None


def conflicting(fig: Figure, given: Sequence[Statement]) -> tuple[int, ...]:
    """Places of a smallest set of givens that can't hold together; () where all can.

    First a set is thinned until none can be left out; then smaller ones are looked for, size by size, while
    there are few enough to try them all.
    """
    frame = widened(frame_of(fig), given)
    facts = [s.fact for s in given]

    def clash(places: Sequence[int]) -> bool:
        spend(CLASHING * (1 + len(places)))
        try:
            decision = Decision(frame, [facts[i] for i in places], None, order=True)
            return decision.impossible() if exact else not decision.branches
        except Fault:
            # Fewer givens may leave a squared unknown free: not known to clash.
            return False

    kept, exact = list(range(len(facts))), False
    if not clash(kept):
        # Directions alone don't clash: it is the points in which lines meet.
        exact = True
    with suppress(Spent), spending(CONFLICT_STEPS):
        if exact and not clash(kept):
            return ()
        for place in list(kept):
            fewer = [i for i in kept if i != place]
            if clash(fewer):
                kept = fewer
        for size in range(1, len(kept)):
            for places in combinations(range(len(facts)), size):
                if clash(places):
                    return places
    return tuple(kept)
