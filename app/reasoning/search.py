"""Forward search, cheapest facts first: the cost of a fact is the number of rows that a proof of it needs, shared rows
counted once. Everything found is only a proposal: the judge decides (and tests ask it each time).

Letters: a, b, c are angle atoms; l, m, n lines; a *part* is a proof in the making, fact → (reason, premises).
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from fractions import Fraction
from heapq import heappop, heappush
from itertools import combinations, permutations, product

from app.figure.model import all_sectors
from app.reasoning.budget import current
from app.reasoning.directions import Directions
from app.reasoning.equations import within
from app.reasoning.facts import congruent, not_parallel, parallel, sum_is, value_is
from app.reasoning.firing import Firing, sum_of
from app.reasoning.frame import Frame
from app.reasoning.judge import Known, judge
from app.reasoning.notes import statement_of
from app.reasoning.terms import ANGLE, Expression, Fact, Statement, equation

__all__ = ["Ban", "Part", "WEIGHT", "search"]

Step = tuple[str, tuple[Fact, ...]]
Part = dict[Fact, Step]
Ban = tuple[Fact, str, tuple[Fact, ...]]

# Among proofs of one length, the plainer reasons first.
WEIGHT = {
    "given": 0,
    "vertical-angles": 1,
    "linear-pair": 1,
    "definition-of-congruent": 2,
    "definition-of-perpendicular": 2,
    "definition-of-supplementary": 2,
    "transitive": 2,
    "parallel-to-same-line": 1,
    "perpendicular-to-same-line": 1,
    "perpendicular-transversal": 1,
    "definition-of-parallel": 1,
    "congruent-supplements": 2,
    "congruent-complements": 2,
    "substitution": 4,
    "algebra": 5,
    "corresponding-angles": 2,
    "corresponding-angles-converse": 2,
    "right-angles-congruent": 1,
}
MOST_POPS = 20000
SAME_COST = 2  # proofs of one fact kept, if they cost the same
MOST_ANGLES = 60
# What a turn of the heavier loops costs, in steps.
DECIDING, PAIRING, JUDGING = 20, 10, 150


def search(
    frame: Frame,
    given: Sequence[Statement],
    goal: Statement,
    bar: frozenset[str] = frozenset(),
    *,
    ban: frozenset[Ban] = frozenset(),
    known: Sequence[Statement] = (),
) -> Part | None:
    """The cheapest proof of the goal as a part, or None. Rows in `known` stand already and cost nothing.

    The figure's named angles are tried first, then all that three letters can name. Raises Spent where the budget
    in force ends first.
    """
    found = _Search(frame, given, goal, bar, ban, known).run()
    if found is None and goal.kind != "not parallel":
        also = [a for a in _every_angle(frame) if a not in frame.named]
        if also:
            found = _Search(frame, given, goal, bar, ban, known, also).run()
    return found


def _every_angle(frame: Frame) -> list[str]:
    """All sectors between neighbouring rays, and the corners of triangles, where letters on both sides name them."""
    found: dict[str, None] = {}
    for meet in frame.meets:
        for sector in all_sectors(frame.fig, meet):
            found[frame.atom(sector)] = None
    for p, v, q in permutations(frame.meets, 3):
        if p < q and (atom := frame.by_meets(p, v, q)) is not None:
            found[atom] = None
    return [a for a in found if ":" not in a][:MOST_ANGLES]


class _Search(Firing):
    def __init__(
        self,
        frame: Frame,
        given: Sequence[Statement],
        goal: Statement,
        bar: frozenset[str],
        ban: frozenset[Ban],
        known: Sequence[Statement],
        also: Sequence[str] = (),
    ) -> None:
        super().__init__()
        self.budget = current()
        self.frame, self.goal, self.bar, self.ban = frame, goal.fact, bar, ban
        self.facts = [s.fact for s in given]
        self.said = {s.fact: s for s in reversed(given)}
        spoken = dict.fromkeys(frame.named)
        for statement in (*given, goal, *known):
            spoken.update(dict.fromkeys(statement.angles))
        spoken.update(dict.fromkeys(also))
        self.angles = list(spoken)
        self.heap: list[tuple[int, int, int, Fact, str, tuple[Fact, ...], Part]] = []
        self.count = 0
        self.done: dict[Fact, list[Part]] = {}
        # The rows of each proof kept, as a set of bits, one a fact: many are joined and counted, few are made.
        self.rows: dict[Fact, list[int]] = {}
        self.bit: dict[Fact, int] = {}
        self.waiting: dict[Fact, int] = {}
        self.across: dict[Fact, list[tuple[str, str, str]]] = {}
        self.anchors: set[str] = set()
        self.start(known)
        self.anchor((*self.facts, *(s.fact for s in known)))

    def anchor(self, facts: Sequence[Fact]) -> None:
        """The angles worth chaining to. A chain of equals can be built from either of its ends, so only chains from
        the goal's angles are needed, from those of the givens' equations, and from one side of each pair that
        may show two lines parallel which are not so already.
        """
        for fact in (*facts, self.goal):
            if fact[0] == "equation":
                self.anchors.update(a for a, _ in fact[1] if a.startswith(ANGLE))
        self.budget.spend(DECIDING * (1 + len(facts)))
        decision = Directions(self.frame, facts, None) if self.across else None
        for lines, pairs in self.across.items():
            self.budget.spend(DECIDING)
            if lines not in facts and decision is not None and decision.forces(lines):
                self.anchors.update(a for a, _, _ in pairs)
        if self.goal[0] in ("bisects", "perpendicular"):
            self.anchors.update(self.angles)

    # The start: what stands, what is given, what is drawn.

    def start(self, known: Sequence[Statement]) -> None:
        for statement in known:
            self.push(statement.fact, "given", (), free=True)
        for fact in self.facts:
            self.push(fact, "given", ())
        frame = self.frame
        for a, b in combinations(self.angles, 2):
            self.budget.spend(PAIRING)
            pair = frame.pair(a, b)
            if pair.pair == "vertical":
                self.push(congruent(a, b), "vertical-angles", ())
            elif pair.pair == "linear pair":
                self.push(sum_is(a, b, 180), "linear-pair", ())
            elif pair.lines is not None and pair.relation is not None and pair.lines[0] != pair.lines[1]:
                self.across.setdefault(parallel(*pair.lines), []).append((a, b, pair.pair))
        if self.goal[0] == "drawn":
            self.push(self.goal, "vertical-angles" if self.goal[1] == "vertical" else "linear-pair", ())
        if self.goal[0] == "not parallel":
            for l, m in combinations(frame.lines, 2):
                if {l, m} & set(self.goal[1:]) and frame.crossing(l, m):
                    self.push(not_parallel(l, m), "definition-of-parallel", ())
        if self.goal == ("equation", (), 0):
            self.push(self.goal, "reflexive", ())
        for fact, reason in self.drawn_sums():
            self.push(fact, reason, ())

    def drawn_sums(self) -> Iterator[tuple[Fact, str]]:
        """Angle addition at the meets, and the triangles: three angles of which the figure says a sum."""
        frame = self.frame
        known = Known(frame)
        by_meet: dict[str, list[str]] = {}
        for a in self.angles:
            by_meet.setdefault(frame.angles[a].at, []).append(a)
        for atoms in by_meet.values():
            self.budget.spend(len(atoms) ** 3)
            for a, b in combinations(atoms, 2):
                one, other = frame.angles[a], frame.angles[b]
                for first, second in ((one, other), (other, one)):
                    if first.end == second.start:
                        for c in atoms:
                            whole = frame.angles[c]
                            if whole.start == first.start and whole.end == second.end:
                                yield equation(sum_of(c), sum_of(a, b)), "angle-addition"
                yield from self.straight(atoms, a, b)
        corner: dict[frozenset[str], list[str]] = {}
        for a in self.angles:
            angle = frame.angles[a]
            corner.setdefault(frozenset((angle.start.line, angle.end.line)), []).append(a)
        for l, m, n in combinations(frame.lines, 3):
            sides = [corner.get(frozenset(two), []) for two in ((l, m), (m, n), (l, n))]
            for a in sides[0]:
                for b in sides[1]:
                    self.budget.spend(1 + len(sides[2]))
                    for c in sides[2]:
                        if len({frame.angles[x].at for x in (a, b, c)}) == 3:
                            yield from self.triangle(known, a, b, c)

    def straight(self, atoms: Sequence[str], a: str, b: str) -> Iterator[tuple[Fact, str]]:
        """Three neighbouring angles that fill a straight angle."""
        angles = self.frame.angles
        for first, second in ((angles[a], angles[b]), (angles[b], angles[a])):
            if first.end == second.start:
                for c in atoms:
                    if angles[c].start == second.end and angles[c].end == first.start.back():
                        yield equation(sum_of(a, b, c), Expression((), Fraction(180))), "angle-addition"

    def triangle(self, known: Known, a: str, b: str, c: str) -> Iterator[tuple[Fact, str]]:
        self.budget.spend(JUDGING)
        fact = equation(sum_of(a, b, c), Expression((), Fraction(180)))
        if judge(known, statement_of(fact), "triangle-sum").ok:
            yield fact, "triangle-sum"
        for outer, one, other in ((a, b, c), (b, a, c), (c, a, b)):
            fact = equation(sum_of(outer), sum_of(one, other))
            if judge(known, statement_of(fact), "exterior-angle").ok:
                yield fact, "exterior-angle"

    def quadrilaterals(self) -> Iterator[Fact]:
        """The sums of quadrilaterals all of whose corners have an angle to speak of."""
        frame = self.frame
        where = {frozenset(two): name for name in frame.meets for two in combinations(frame.fig.meets[name].lines, 2)}
        known, spoken = Known(frame), set(self.angles)
        for one, *three in combinations(frame.lines, 4):
            for two, across, last in permutations(three):
                if two > last:
                    continue
                sides = (one, two, across, last)
                corners = [where.get(frozenset((sides[i - 1], side))) for i, side in enumerate(sides)]
                self.budget.spend(4)
                if None in corners or len(set(corners)) < 4:
                    continue
                self.budget.spend(JUDGING)
                named = [str(corner) for corner in corners]
                atoms = [frame.by_meets(named[i - 1], corner, named[(i + 1) % 4]) for i, corner in enumerate(named)]
                said = [a for a in atoms if a is not None and a in spoken]
                if len(said) == 4:
                    fact = equation(sum_of(*said), Expression((), Fraction(360)))
                    if judge(known, statement_of(fact), "quadrilateral-sum").ok:
                        yield fact

    # The queue.

    def push(self, fact: Fact, reason: str, premises: tuple[Fact, ...], free: bool = False) -> None:
        # Counted here, looked at in `drain`: nothing is asked for more often.
        self.budget.used += 2
        if fact in self.done or reason in self.bar or (self.ban and (fact, reason, premises) in self.ban):
            return
        if free:
            self.count += 1
            heappush(self.heap, (0, 0, self.count, fact, reason, (), {}))
            self.waiting[fact] = 0
            return
        best = self.waiting.get(fact)
        goal = self.waiting.get(self.goal)
        cost, chosen = self.fewest(premises)
        # Nothing that costs as much as the goal helps to reach it sooner.
        if (best is not None and cost > best) or (goal is not None and cost >= goal and fact != self.goal):
            return
        self.waiting[fact] = cost
        self.budget.used += 3 + cost
        part: Part = {}
        for premise, place in zip(premises, chosen, strict=True):
            part.update(self.done[premise][place])
        weight = WEIGHT.get(reason, 3)
        for step, _ in part.values():
            weight += WEIGHT.get(step, 3)
        self.count += 1
        heappush(self.heap, (cost, weight, self.count, fact, reason, premises, part))

    def fewest(self, premises: tuple[Fact, ...]) -> tuple[int, Sequence[int]]:
        """The rows of a proof from all the premises, this one included; and which of the proofs kept for each share the
        most rows.
        """
        several = [self.rows[premise] for premise in premises]
        bits = 0
        for rows in several:
            if len(rows) > 1:
                break
            bits |= rows[0]
        else:
            return bits.bit_count() + 1, (0,) * len(several)
        least, best = -1, (0,) * len(several)
        self.budget.spend(len(several))
        for chosen in product(*map(range, map(len, several))):
            bits = 0
            for rows, place in zip(several, chosen, strict=True):
                bits |= rows[place]
            size = bits.bit_count()
            if least < 0 or size < least:
                least, best = size, chosen
        return least + 1, best

    def stands(self, fact: Fact) -> bool:
        return fact in self.done

    def run(self) -> Part | None:
        if self.drain():
            return self.done[self.goal][0]
        # Four angles at a time are looked at only where three are not enough.
        for fact in self.quadrilaterals():
            self.push(fact, "quadrilateral-sum", ())
        if self.heap and self.drain():
            return self.done[self.goal][0]
        while self.combine():
            if self.drain():
                return self.done[self.goal][0]
        return None

    def drain(self) -> bool:
        """Settle facts, cheapest first, until the goal is one of them; False when there are no more."""
        for _ in range(MOST_POPS):
            if not self.heap:
                return self.goal in self.done
            self.budget.spend(4)
            cost, _, _, fact, reason, premises, part = heappop(self.heap)
            done = self.done.get(fact)
            mine = part if cost == 0 else {**part, fact: (reason, premises)}
            if done is None:
                self.done[fact] = [mine]
                self.bit[fact] = 1 << len(self.bit)
                self.rows[fact] = [self.bits(mine)]
                if fact == self.goal:
                    return True
                self.fire(fact)
            elif len(done) < SAME_COST and len(mine) == len(done[0]) and mine.keys() != done[0].keys():
                done.append(mine)
                self.rows[fact].append(self.bits(mine))
        return self.goal in self.done

    def bits(self, part: Part) -> int:
        total = 0
        for fact in part:
            total |= self.bit[fact]
        return total

    # Where named steps alone don't reach: combine equations by algebra.

    def combine(self) -> bool:
        """Push facts about lines, or the goal, that the settled equations give together; False if there are none."""
        before = len(self.heap)
        pool = sorted(
            (fact for fact in self.done if fact[0] == "equation"),
            key=lambda fact: len(self.done[fact][0]),
        )
        self.budget.spend(4 * len(pool))
        for target, reason, finish in self.targets():
            premises = _combination(pool, target)
            if premises is None:
                continue
            if target not in self.done:
                if "substitution" not in self.bar and len(premises) > 1 and self.substitutes(premises, target):
                    reason = "substitution"
                self.push(target, reason, tuple(premises))
            if finish is not None and finish[0] not in self.done and target in self.done:
                self.push(finish[0], finish[1], (target,))
            if len(self.heap) > before and target == self.goal:
                break
        return len(self.heap) > before

    def substitutes(self, premises: Sequence[Fact], target: Fact) -> bool:
        """Whether the judge takes it for a substitution however the proof will write the premises: a given stands there
        as it is given (m∠15 - m∠3 = 60) or tidied up, and what is there to be replaced is not the same in both.
        """
        tidied = [statement_of(fact) for fact in premises]
        as_given = [self.said.get(fact, tidy) for fact, tidy in zip(premises, tidied, strict=True)]
        return all(
            judge(Known(self.frame, enumerate(rows)), statement_of(target), "substitution").ok
            for rows in (tidied, as_given)
        )

    def targets(self) -> Iterator[tuple[Fact, str, tuple[Fact, str] | None]]:
        if self.goal[0] == "equation":
            if self.goal not in self.done:
                yield self.goal, "algebra", None
            return
        for lines, pairs in self.across.items():
            if lines not in self.done:
                for a, b, pair in pairs:
                    said = sum_is(a, b, 180) if pair.startswith("consecutive") else congruent(a, b)
                    if said not in self.done:
                        yield said, "algebra", None
        for a in self.angles:
            if value_is(a, 90) not in self.done:
                yield value_is(a, 90), "algebra", None
        if self.goal[0] == "bisects":
            parts = self.frame.bisecting(self.goal[1], self.goal[2])
            if parts is not None and congruent(*parts) not in self.done:
                yield congruent(*parts), "algebra", None


def _combination(pool: Sequence[Fact], target: Fact) -> list[Fact] | None:
    """Few facts of the pool (cheapest first) that together give the target; None where all of them don't."""
    if not within(pool, target):
        return None
    low, high = 0, len(pool)
    while low < high:
        middle = (low + high) // 2
        if within(pool[:middle], target):
            high = middle
        else:
            low = middle + 1
    kept = list(pool[:low])
    for fact in reversed(list(kept)):
        fewer = [one for one in kept if one != fact]
        if within(fewer, target):
            kept = fewer
    return kept
