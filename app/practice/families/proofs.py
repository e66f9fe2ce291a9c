"""Short proofs that lines are parallel, from a few patterns, each row certified by the proof checker.

Letters: a, b, c are angles; two of them are a pair of the two lines, the third leads from the givens to it.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from app.figure.model import Angle
from app.figure.pairs import name_angles, name_pair, relation_for
from app.practice.certify import NotCertified
from app.practice.chance import Chance
from app.practice.drawing import Drawn, draw_lines, draw_network, sectors, turn_of, with_angles
from app.practice.families.common import CROSS, PAIR_OF, converse_of, original_of
from app.reasoning.check import check
from app.reasoning.frame import frame_of
from app.reasoning.judge import Known
from app.reasoning.judge import reasons_for as fitting

__all__ = ["Proof", "Row", "propose", "reasons_for", "verdicts"]

VERTICAL = {"1": "4", "4": "1", "2": "3", "3": "2", "5": "8", "8": "5", "6": "7", "7": "6"}
LINEAR = {"1": "23", "2": "14", "3": "14", "4": "23", "5": "67", "6": "58", "7": "58", "8": "67"}


@dataclass(frozen=True, slots=True)
class Row:
    statement: str
    reason: str
    uses: tuple[int, ...] = ()  # indices of earlier rows, from 0


@dataclass(frozen=True, slots=True)
class Proof:
    drawn: Drawn
    given: tuple[str, ...]
    goal: str
    rows: tuple[Row, ...]


def verdicts(proof: Proof, rows: Sequence[Row] | None = None) -> list[str]:
    """What the checker says of each row."""
    said = check(
        proof.drawn.fig,
        list(proof.given),
        proof.goal,
        [{"statement": r.statement, "reason": r.reason} for r in rows or proof.rows],
    )
    return [row.verdict for row in said.rows]


def reasons_for(proof: Proof, i: int) -> tuple[str, ...]:
    """Every reason that gives row i from the rows above it, the proof's own first.

    A row whose reason is lost cites no rows, so whichever rows above it a reason starts from, it is right.
    """
    frame = frame_of(proof.drawn.fig)
    known = Known(frame, ((n, frame.read(r.statement)) for n, r in enumerate(proof.rows[:i], 1)))
    claim, given = frame.read(proof.rows[i].statement), [frame.read(text) for text in proof.given]
    own = proof.rows[i].reason
    return (own, *(r for r in fitting(known, claim, given) if r != own))


def propose(chance: Chance, seed: int, level: int) -> Proof:
    """A proof for the level: 1 two lines in four rows, 2 with a third line or two cuts, 3 six rows or so."""
    pattern = chance.pick(
        {
            1: [_vertical, _supplements, _sum],
            2: [_grid, _third_line, _supplements],
            3: [_long, _grid_vertical],
        }[level]
    )
    proof = pattern(chance, seed, level)
    found = verdicts(proof)
    if set(found) != {"follows"}:
        raise NotCertified(f"{[(r.statement, r.reason) for r in proof.rows]}: {found}")
    return proof


def _two(chance: Chance, seed: int, level: int, numbers: str, lines: int = 2) -> Drawn:
    reach = 12 if level == 1 else 40
    size = Fraction(chance.pick([n for n in range(42, 139) if abs(n - 90) > 10]))
    turn = turn_of(seed, level, least=-reach, most=reach)
    off = Fraction(chance.pick([-3, 0, 3]))
    return draw_lines(chance, turn, number="2", angle=size, off=off, numbers=sorted(set(numbers)))


def _congruent_pair(chance: Chance) -> tuple[str, str]:
    pair = chance.pick([p for p in PAIR_OF if relation_for(p) == "congruent"])
    a, c = chance.pick(CROSS[pair])
    return (a, c) if chance.maybe(1, 2) else (c, a)


_Said = tuple[str, str]  # statement, reason


def _through(
    chance: Chance, seed: int, level: int, abc: tuple[str, str, str], given: str, step: _Said, last: _Said
) -> Proof:
    """Four rows over three angles: the given of a and b, a step from the figure, what follows of a and c, the goal.

    `last` is a relation of a and c, which the reason of the goal starts from.
    """
    drawn = _two(chance, seed, level, "".join(abc))
    goal = " ∥ ".join(drawn.lines)
    statement, reason, converse = *last, converse_of(name_pair(drawn.fig, abc[0], abc[2]).pair)
    rows = (Row(given, "given"), Row(*step), Row(statement, reason, (0, 1)), Row(goal, converse, (2,)))
    return Proof(drawn, (given,), goal, rows)


def _vertical(chance: Chance, seed: int, level: int) -> Proof:
    a, c = _congruent_pair(chance)
    b = VERTICAL[c]
    return _through(
        chance, seed, level, (a, b, c), f"∠{a} ≅ ∠{b}",
        (f"∠{b} ≅ ∠{c}", "vertical-angles"), (f"∠{a} ≅ ∠{c}", "transitive"),
    )  # fmt: skip


def _supplements(chance: Chance, seed: int, level: int) -> Proof:
    a, c = _congruent_pair(chance)
    b = chance.pick(LINEAR[c])
    return _through(
        chance, seed, level, (a, b, c), f"∠{a} and ∠{b} are supplementary",
        (f"∠{b} and ∠{c} are supplementary", "linear-pair"), (f"∠{a} ≅ ∠{c}", "congruent-supplements"),
    )  # fmt: skip


def _sum(chance: Chance, seed: int, level: int) -> Proof:
    pair = chance.pick([p for p in PAIR_OF if relation_for(p) == "supplementary"])
    a, c = chance.pick(CROSS[pair])
    b = chance.pick(LINEAR[c])
    return _through(
        chance, seed, level, (a, b, c), f"∠{a} ≅ ∠{b}",
        (f"m∠{b} + m∠{c} = 180", "linear-pair"), (f"m∠{a} + m∠{c} = 180", "substitution"),
    )  # fmt: skip


def _on_grid(chance: Chance, seed: int, level: int) -> tuple[Drawn, list[Angle], str, str]:
    """Two lines and two cuts with three angles: 1 at a corner, 2 next along a cut, 3 next along the line.

    1 and 2 are a congruent pair of the lines; 2 and 3 one of the cuts.
    """
    lean = chance.pick([*range(52, 78), *range(103, 128)])
    off = (0, chance.pick([-3, 0, 3]))
    leans = (lean, lean + chance.pick([-3, 0, 3]))
    drawn = draw_network(chance, turn_of(seed, level, least=-50, most=50), off=off, leans=leans)
    found = sectors(drawn)
    while True:
        two = chance.pick(found)
        ones = [s for s in found if name_angles(drawn.fig, s, two).relation == "congruent"]
        one = chance.pick([s for s in ones if _lines(drawn, s, two) == set(drawn.lines)])
        three = chance.pick([s for s in ones if _lines(drawn, s, two) == set(drawn.transversals)])
        first = name_angles(drawn.fig, one, two).pair
        return drawn, [one, two, three], first, name_angles(drawn.fig, two, three).pair


def _lines(drawn: Drawn, a: Angle, b: Angle) -> set[str]:
    return set(name_angles(drawn.fig, a, b).lines or ())


def _numbered(drawn: Drawn, angles: Sequence[Angle]) -> tuple[Drawn, list[str]]:
    """The figure with these angles, numbered as they lie on the page; and their numbers."""
    place = {(s.at, s.start, s.end): i for i, s in enumerate(sectors(drawn))}
    order = sorted(angles, key=lambda s: place[(s.at, s.start, s.end)])
    named = {str(i + 1): s for i, s in enumerate(order)}
    return with_angles(drawn, named), [str(order.index(s) + 1) for s in angles]


def _grid(chance: Chance, seed: int, level: int) -> Proof:
    bare, angles, first, second = _on_grid(chance, seed, level)
    drawn, (a, b, c) = _numbered(bare, angles)
    lines, goal = " ∥ ".join(drawn.lines), " ∥ ".join(drawn.transversals)
    given = (lines, f"∠{a} ≅ ∠{c}")
    return Proof(
        drawn,
        given,
        goal,
        (
            Row(lines, "given"),
            Row(given[1], "given"),
            Row(f"∠{a} ≅ ∠{b}", original_of(first), (0,)),
            Row(f"∠{b} ≅ ∠{c}", "transitive", (1, 2)),
            Row(goal, converse_of(second), (3,)),
        ),
    )


def _grid_vertical(chance: Chance, seed: int, level: int) -> Proof:
    bare, angles, first, second = _on_grid(chance, seed, level)
    three = angles[2]
    opposite = next(
        s for s in sectors(bare) if s.at == three.at and {s.start, s.end} == {three.start.back(), three.end.back()}
    )
    drawn, (a, b, c, d) = _numbered(bare, [*angles, opposite])
    lines, goal = " ∥ ".join(drawn.lines), " ∥ ".join(drawn.transversals)
    given = (lines, f"∠{a} ≅ ∠{d}")
    return Proof(
        drawn,
        given,
        goal,
        (
            Row(lines, "given"),
            Row(given[1], "given"),
            Row(f"∠{a} ≅ ∠{b}", original_of(first), (0,)),
            Row(f"∠{d} ≅ ∠{c}", "vertical-angles"),
            Row(f"∠{a} ≅ ∠{c}", "transitive", (1, 3)),
            Row(f"∠{b} ≅ ∠{c}", "transitive", (2, 4)),
            Row(goal, converse_of(second), (5,)),
        ),
    )


def _three(chance: Chance, seed: int, level: int, with_vertical: bool) -> tuple[Drawn, list[str], str]:
    """Three lines and one cut; the angles are at the first two lines."""
    lean = chance.pick([*range(50, 80), *range(101, 131)])
    off = (0, chance.pick([-3, 0, 3]), chance.pick([-3, 0, 3]))
    drawn = draw_network(chance, turn_of(seed, level, least=-50, most=50), lines=3, cuts=1, off=off, leans=(lean,))
    found = sectors(drawn)
    top, middle, _ = drawn.lines
    at = {line: [s for s in found if line in s.lines()] for line in (top, middle)}
    c = chance.pick(at[middle])
    a = chance.pick([s for s in at[top] if name_angles(drawn.fig, s, c).relation == "congruent"])
    pair = name_angles(drawn.fig, a, c).pair
    angles = [a, c]
    if with_vertical:
        angles.append(next(s for s in at[middle] if {s.start, s.end} == {c.start.back(), c.end.back()}))
    drawn, names = _numbered(drawn, angles)
    return drawn, names, pair


def _third_line(chance: Chance, seed: int, level: int) -> Proof:
    drawn, (a, c), pair = _three(chance, seed, level, with_vertical=False)
    top, middle, low = drawn.lines
    given = (f"∠{a} ≅ ∠{c}", f"{middle} ∥ {low}")
    goal = f"{top} ∥ {low}"
    return Proof(
        drawn,
        given,
        goal,
        (
            Row(given[0], "given"),
            Row(f"{top} ∥ {middle}", converse_of(pair), (0,)),
            Row(given[1], "given"),
            Row(goal, "parallel-to-same-line", (1, 2)),
        ),
    )


def _long(chance: Chance, seed: int, level: int) -> Proof:
    drawn, (a, c, b), pair = _three(chance, seed, level, with_vertical=True)
    top, middle, low = drawn.lines
    given = (f"∠{a} ≅ ∠{b}", f"{middle} ∥ {low}")
    goal = f"{top} ∥ {low}"
    return Proof(
        drawn,
        given,
        goal,
        (
            Row(given[0], "given"),
            Row(f"∠{b} ≅ ∠{c}", "vertical-angles"),
            Row(f"∠{a} ≅ ∠{c}", "transitive", (0, 1)),
            Row(f"{top} ∥ {middle}", converse_of(pair), (2,)),
            Row(given[1], "given"),
            Row(goal, "parallel-to-same-line", (3, 4)),
        ),
    )
