"""A shortest proof in named steps, as a teacher would write it, and others beside it."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterable, Sequence
from contextlib import suppress
from fractions import Fraction

from app.figure.model import Figure
from app.reasoning.budget import OTHERS, PROOF, Spent, spending
from app.reasoning.directions import decide, widened
from app.reasoning.frame import Frame, frame_of
from app.reasoning.graph import Proof, Row
from app.reasoning.notes import statement_of
from app.reasoning.search import WEIGHT, Ban, Part, search
from app.reasoning.strict import written_out
from app.reasoning.terms import ANGLE, Expression, Fact, Statement, equation
from app.reasoning.theorems import PROFILES

__all__ = ["Proofs", "ordered", "prove"]

MOST_TRIES = 24
# Reasons by which a row may be a multiple of what it comes to.
TIDY = {"algebra", "substitution", "addition", "subtraction", "transitive", "reflexive"}


class Proofs(list[Proof]):
    """The proofs found, shortest first; `spent` where the budget ended before the search for the first did."""

    spent = False


def prove(
    fig: Figure,
    given: Sequence[Statement | str],
    goal: Statement | str,
    *,
    profile: str = "postulate",
    k: int = 1,
    bar: Collection[str] = (),
    strict: bool = False,
) -> Proofs:
    """Up to k different proofs, shortest first; none where the goal does not follow, the table does not reach it, or
    the budget ends before.

    `bar` are theorems not to be used; `strict` writes out the rows that keep ≅ and = apart. The profile names
    which rows are postulates; it bars nothing by itself.
    """
    if profile not in PROFILES:
        raise KeyError(profile)
    frame = frame_of(fig)
    statements = [frame.read(one) if isinstance(one, str) else one for one in given]
    wanted = frame.read(goal) if isinstance(goal, str) else goal
    frame = widened(frame, (*statements, wanted))
    if decide(frame, [s.fact for s in statements], wanted.fact) != "follows":
        return Proofs()
    none = Proofs()
    try:
        with spending(PROOF):
            first = search(frame, statements, wanted, frozenset(bar))
    except Spent:
        none.spent = True
        return none
    if first is None:
        return none
    found = {_shape(first): first}
    if k > 1:
        with suppress(Spent), spending(OTHERS):
            _others(frame, statements, wanted, frozenset(bar), found, k + 2)
    proofs = [_written(part, statements, wanted) for part in found.values()]
    if strict:
        proofs = [written_out(frame, proof, statements) for proof in proofs]
    proofs.sort(key=lambda proof: (len(proof.rows), sum(WEIGHT.get(row.reason, 3) for row in proof.rows)))
    return Proofs(proofs[:k])


def _others(
    frame: Frame,
    given: Sequence[Statement],
    goal: Statement,
    bar: frozenset[str],
    found: dict[frozenset[tuple[Fact, str]], Part],
    enough: int,
) -> None:
    """Other proofs put beside the one found: take one step away from it, and look again."""
    waiting: list[tuple[Part, frozenset[Ban]]] = [(part, frozenset()) for part in found.values()]
    tries = MOST_TRIES
    while waiting and len(found) < enough and tries:
        part, ban = waiting.pop(0)
        for fact, (reason, premises) in reversed(list(part.items())):
            if reason == "given" or not tries:
                continue
            tries -= 1
            more = ban | {(fact, reason, premises)}
            other = search(frame, given, goal, bar, ban=more)
            if other is not None:
                waiting.append((other, more))
                found.setdefault(_shape(other), other)


def _shape(part: Part) -> frozenset[tuple[Fact, str]]:
    return frozenset((fact, reason) for fact, (reason, _) in part.items())


# Writing it down.


def natural(fact: Fact) -> tuple[object, ...]:
    """A key that puts ∠9 before ∠13."""
    words = re.findall(r"\d+|[^\W\d_]+", str(fact))
    return tuple((0, int(word), "") if word.isdigit() else (1, 0, word) for word in words)


def ordered(part: Part, given: Iterable[Fact], goal: Fact) -> list[Fact]:
    """The facts of a part that the goal rests on: givens in their order, then the rest, each after what it uses."""
    needed: list[Fact] = []
    seen: set[Fact] = set()

    def visit(fact: Fact) -> None:
        if fact in seen or fact not in part:
            return
        seen.add(fact)
        for premise in sorted(part[fact][1], key=lambda one: (one in part and part[one][0] != "given", natural(one))):
            visit(premise)
        needed.append(fact)

    visit(goal)
    first = [fact for fact in dict.fromkeys(given) if fact in seen and part[fact][0] == "given"]
    return [*first, *(fact for fact in needed if fact not in first)]


def _written(part: Part, given: Sequence[Statement], goal: Statement) -> Proof:
    facts = ordered(part, [s.fact for s in given], goal.fact)
    said = {s.fact: s for s in reversed(given)}
    number: dict[Fact, int] = {}
    rows: list[Row] = []
    shown: dict[Fact, Statement] = {}
    chained = {premise for fact in facts if part[fact][0] == "transitive" for premise in part[fact][1]}
    # Givens first, as they are written; then those of them that algebra has to tidy before they are of use.
    for fact in facts:
        if part[fact][0] == "given":
            rows.append(Row(said[fact], "given"))
            number[fact], shown[fact] = len(rows), said[fact]
    for fact in facts:
        if part[fact][0] != "given" or fact == goal.fact:
            continue
        if not said[fact].plain or (fact in chained and _on_one_side(said[fact])):
            rows.append(Row(statement_of(fact), "algebra", (number[fact],)))
            number[fact], shown[fact] = len(rows), rows[-1].statement
    for fact in facts:
        reason, premises = part[fact]
        if reason == "given":
            continue
        uses = tuple(sorted(number[p] for p in premises if p in number))
        chain = reason == "transitive" and _on_one_side(goal)
        statement = goal if fact == goal.fact and (goal.plain or reason in TIDY) and not chain else None
        put_in = _put_in(fact, premises, shown) if reason == "substitution" else None
        if put_in is not None:
            # Substitution gives 3x + 10 = 5x - 20; that x = 15 is a step of algebra.
            rows.append(Row(put_in, reason, uses))
            tidy = statement or statement_of(fact)
            if tidy.sides != put_in.sides:
                uses, reason, statement = (len(rows),), "algebra", tidy
            else:
                number[fact], shown[fact] = len(rows), put_in
                continue
        statement = statement or statement_of(fact)
        rows.append(Row(statement, reason, uses))
        number[fact], shown[fact] = len(rows), statement
    last = rows[-1]
    if not last.statement.same_as(goal) or (last.reason == "transitive" and _on_one_side(goal)):
        rows.append(Row(goal, "algebra", (number[goal.fact],)))
    elif last.statement.kind != goal.kind or last.statement.text != goal.text:
        rows[-1] = Row(goal, last.reason, last.uses)
    return Proof(tuple(rows))


def _on_one_side(said: Statement) -> bool:
    """m∠6 - m∠2 = 0, where a chain of equals wants m∠6 = m∠2."""
    plain = statement_of(said.fact)
    return plain.kind == "congruent" and {one.key() for one in said.sides} != {one.key() for one in plain.sides}


def _put_in(fact: Fact, premises: tuple[Fact, ...], shown: dict[Fact, Statement]) -> Statement | None:
    """The equation of unknowns as it comes out of a substitution: the first premise with its angles replaced."""
    if fact[0] != "equation" or any(a.startswith(ANGLE) for a, _ in fact[1]):
        return None
    if any(p not in shown for p in premises):
        return None
    if len(premises) == 2:
        # Two expressions for one angle.
        for atom in shown[premises[0]].angles:
            one, other = (_side_off(shown[p], atom) for p in premises)
            if one is not None and other is not None and equation(one, other) == fact:
                return Statement("equation", (), one, other)
    if len(premises) != 3:
        return None
    put: list[Expression] = []
    for side in shown[premises[0]].sides:
        made = Expression((), side.constant)
        for a, k in side.terms:
            value = next((_side_off(shown[p], a) for p in premises[1:] if _side_off(shown[p], a) is not None), None)
            made = made.plus(value if value is not None else Expression(((a, Fraction(1)),)), k)
        put.append(made)
    made_statement = Statement("equation", (), put[0], put[1])
    return made_statement if made_statement.fact == fact else None


def _side_off(statement: Statement, atom: str) -> Expression | None:
    """The other side of m∠a = …"""
    left, right = statement.sides
    if left.atom() == atom:
        return right
    return left if right.atom() == atom else None
