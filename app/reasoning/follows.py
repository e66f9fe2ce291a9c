"""Does it follow? An exact decision, with the reason either way, or the plain word that it was left open.

What the directions of the lines settle (`directions`) stays: the claim holds on all of the flat that the givens leave,
on none of it, or a point of it off the claim is a figure in which the givens hold and the claim fails.

Where three or more lines meet, and along lines, a figure must keep more than its directions: a claim that they leave
open is "not forced" only with a real figure (`counter`, `real`), may be settled by `coordinates`, else is undecided.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from contextlib import suppress
from dataclasses import dataclass, field
from fractions import Fraction
from functools import cached_property
from itertools import combinations

from app.figure.faults import Fault
from app.figure.model import Figure
from app.reasoning.budget import CONFLICT as CONFLICT_STEPS
from app.reasoning.budget import DECISION, Spent, spend, spending
from app.reasoning.coordinates import shown_by_coordinates
from app.reasoning.counter import SEEN, Counterexample, as_drawn, counterexample, solved
from app.reasoning.directions import CANNOT_BE, CONFLICT, FOLLOWS, NOT_FORCED, Directions, Off, widened
from app.reasoning.frame import Frame, frame_of
from app.reasoning.graph import Proof
from app.reasoning.linear import Flat, Row
from app.reasoning.prover import Proofs, prove
from app.reasoning.terms import Statement

__all__ = ["Outcome", "conflicting", "follows", "value_of"]

UNDECIDED = "undecided"
# Starts from which a real figure is looked for: a few before coordinates are tried, the rest after.
SOON, LATER = range(8), range(8, 28)
TIMES = (1, 2)
CLASHING = 12  # steps: one set of givens tried, for each of them


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
        return conflicting(self.fig, self.given, order=self._decision.order)

    @property
    def proof(self) -> Proof | None:
        """For follows: a shortest proof in named steps, if the theorems of the table reach it."""
        return self.proofs[0] if self.proofs else None

    @cached_property
    def proofs(self) -> Proofs:
        """For follows: the one proof looked for, or none."""
        if self.verdict != FOLLOWS or self.by is not None:
            return Proofs()
        return prove(self.fig, self.given, self.claim)


def follows(
    fig: Figure,
    given: Sequence[Statement | str],
    claim: Statement | str,
    *,
    order: bool = True,
) -> Outcome:
    """Decide whether the givens force the claim in every figure with the drawn order.

    `order`: whether givens are said to conflict where only the order along the lines rules them out (a row is never
    refused for that).

    Raises Fault for a text that is no statement (its place under "given.0", …, "claim"), and for a squared unknown that
    nothing fixes or whose value is no fraction.
    """
    frame = frame_of(fig)
    statements = tuple(_read(frame, one, f"given.{i}") if isinstance(one, str) else one for i, one in enumerate(given))
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


class Decision(Directions):
    """The same question with all that lines and meets say besides."""

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
            with suppress(Spent):
                found = farther(found, self.shown(lambda part, away: solved(self, part, away, SOON)))
        if found is None and self.frame.threes:
            exact = self.by_coordinates()
            if exact is not None:
                return exact, "coordinates" if exact == FOLLOWS else None, None
        if found is None or (found[1] < SEEN and self.frame.threes):
            # Nothing is seen to fail yet: from farther starts, within what is left of the budget.
            with suppress(Spent):
                found = farther(found, self.shown(lambda part, away: solved(self, part, away, LATER)))
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
        claim = self.claim
        assert claim is not None
        if claim[0] == "not parallel":
            return times == 1 and shown_by_coordinates(self, flat, None)
        row = self.frame.row(claim, self.unknowns, self.width)
        turn = 180 if claim[0] in ("parallel", "perpendicular") else 0
        rest = 90 if claim[0] == "perpendicular" else 0
        wanted = [times * k for k in row[:-1]], times * (row[-1] - rest)
        return self.one_value(flat, row, rest, turn, 180 // times) and shown_by_coordinates(
            self, flat, ([*wanted[0], wanted[1]], 0)
        )

    def impossible(self) -> bool:
        """Whether coordinates show that the givens have no figure with the lines meeting as named."""
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

    def shown(self, look: Callable[[Flat, Sequence[Off]], Shown | None]) -> Shown | None:
        """A figure in which the claim fails, and how far off it is: the first that shows it plainly."""
        best: Shown | None = None
        for part in self.failing():
            best = farther(best, look(part, self.away(part)))
            if best is not None and best[1] >= SEEN:
                break
        return best


Shown = tuple[Counterexample, Fraction]


def farther(one: Shown | None, other: Shown | None) -> Shown | None:
    """Of two counterexamples the one that is farther off."""
    if one is None or other is None:
        return one or other
    return one if one[1] >= other[1] else other


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


def conflicting(fig: Figure, given: Sequence[Statement], *, order: bool = True) -> tuple[int, ...]:
    """Places of a smallest set of givens that can't hold together; () where all can. `order` as for `follows`.

    First a set is thinned until none can be left out; then smaller ones are looked for, size by size, while
    there are few enough to try them all.
    """
    frame = widened(frame_of(fig), given)
    facts = [s.fact for s in given]

    def clash(places: Sequence[int]) -> bool:
        spend(CLASHING * (1 + len(places)))
        try:
            decision = Decision(frame, [facts[i] for i in places], None, order)
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
