"""Which condition failed: the sentence that says why a row does not follow by its reason."""

from __future__ import annotations

from fractions import Fraction

from app.reasoning.facts import congruent, sum_is
from app.reasoning.known import Known
from app.reasoning.premises import pairs_on, two_angles
from app.reasoning.terms import ANGLE, Expression, Fact, Statement, said
from app.reasoning.theorems import TABLE, Theorem
from app.words import Message, joined, say, term, theorem

__all__ = ["statement_of", "why"]


def statement_of(fact: Fact) -> Statement:
    """A statement that says the fact, in its plainest kind."""
    kind = fact[0]
    if kind in ("parallel", "not parallel", "perpendicular", "bisects"):
        return Statement(kind, (fact[1], fact[2]))
    if kind == "drawn":
        return Statement(fact[1], (fact[2], fact[3]))
    terms: tuple[tuple[str, int], ...] = fact[1]
    constant = fact[2]
    angles = [a for a, _ in terms if a.startswith(ANGLE)]
    if len(terms) == 2 and len(angles) == 2:
        signs = tuple(k for _, k in terms)
        a, b = sorted(angles, key=lambda atom: (len(atom), atom))
        if signs == (1, -1) and constant == 0:
            return Statement("congruent", (a, b))
        if signs == (1, 1) and constant in (-180, -90):
            kind = "supplementary" if constant == -180 else "complementary"
            return Statement(kind, (a, b))
    return _as_equation(terms, constant)


def measured(fact: Fact) -> Statement:
    """An equation said of measures: m∠1 = m∠5 and not ∠1 ≅ ∠5."""
    return _as_equation(fact[1], fact[2])


def _as_equation(terms: tuple[tuple[str, int], ...], constant: int) -> Statement:
    """Angles on the left where they can be alone there, unknowns and the number on the right."""
    lead = [(a, k) for a, k in terms if a.startswith(ANGLE)] or list(terms)
    left = [(a, k) for a, k in lead if k > 0] or lead
    factor = 1 if left[0][1] > 0 else -1
    divisor = Fraction(factor * left[0][1]) if len(left) == 1 else Fraction(1)
    chosen = {a for a, _ in left}
    left_side = Expression.of({a: Fraction(factor * k) / divisor for a, k in left})
    right_side = Expression.of(
        {a: Fraction(-factor * k) / divisor for a, k in terms if a not in chosen},
        Fraction(-factor * constant) / divisor,
    )
    return Statement("equation", (), left_side, right_side)


def why(known: Known, claim: Statement, reason: str, missing: tuple[Fact, ...]) -> Message:
    """One sentence: the condition of the reason that is not met here."""
    row = TABLE[reason]
    name = theorem(reason)
    found = _particular(known, claim, row, name)
    if found is not None:
        return found
    if missing:
        # A definition of angles starts from their measures.
        plainly = row.rule in ("sum", "equal measures")
        lacking = joined("comma", (said(measured(fact) if plainly else statement_of(fact)) for fact in missing))
        key = "why_lacks_parallel" if all(f[0] == "parallel" for f in missing) else "why_lacks"
        return say("reasoning." + key, reason=name, missing=lacking)
    return say("reasoning.why_not_this", reason=name, says=row.sentence())


def _particular(known: Known, claim: Statement, row: Theorem, name: Message) -> Message | None:
    if row.rule == "given":
        return say("reasoning.why_not_given", statement=said(claim))
    if row.rule in ("original", "vertical", "linear"):
        return _original(known, claim, row, name)
    if row.rule == "converse":
        return _converse(known, claim, row, name)
    if row.rule == "meeting" and claim.kind == "parallel":
        return say("reasoning.why_gives_apart", reason=name)
    if row.rule == "meeting" and claim.kind == "not parallel":
        return say("reasoning.why_no_crossing", l=claim.names[0], m=claim.names[1])
    if row.rule == "chain" and two_angles(claim, 0) and known.sums:
        return say("reasoning.why_chain_sums", reason=name)
    return None


def _original(known: Known, claim: Statement, row: Theorem, name: Message) -> Message | None:
    if claim.kind in ("parallel", "perpendicular"):
        key = "why_gives_angles" if row.rule == "original" else "why_one_crossing"
        return say("reasoning." + key, reason=name)
    for total, relation in ((0, "congruent"), (180, "supplementary")):
        two = two_angles(claim, total)
        if two is None:
            continue
        pair = known.frame.pair(*two)
        fields = {"a": two[0], "b": two[1], "pair": term(pair.pair), "reason": name}
        if pair.pair != row.pair:
            return say("reasoning.why_pair", wanted=term(str(row.pair)), **fields)
        if row.gives != relation:
            return say("reasoning.why_relation", wanted=term(row.gives), found=term(relation), **fields)
    return None


def _converse(known: Known, claim: Statement, row: Theorem, name: Message) -> Message | None:
    if claim.kind != "parallel":
        return say("reasoning.why_gives_parallel", reason=name)
    wanted = row.needs[0]
    # A pair of the right name and lines whose other relation stands: congruent where supplementary is needed.
    for a, b in pairs_on(known, claim.names, row.pair):
        other = sum_is(a, b, 180) if wanted == "congruent" else congruent(a, b)
        if known.has(other) is not None:
            found = "supplementary" if wanted == "congruent" else "congruent"
            return say(
                "reasoning.why_relation",
                a=a,
                b=b,
                pair=term(str(row.pair)),
                reason=name,
                wanted=term(wanted),
                found=term(found),
            )
    for statement in reversed(list(known.rows.values())):
        for total in (0, 180):
            two = two_angles(statement, total)
            if two is None:
                continue
            pair = known.frame.pair(*two)
            fields = {"a": two[0], "b": two[1], "pair": term(pair.pair), "reason": name}
            if pair.pair == row.pair and pair.lines is not None and set(pair.lines) != set(claim.names):
                return say("reasoning.why_lines", l=pair.lines[0], m=pair.lines[1], t=pair.transversal, **fields)
            if pair.lines is not None and set(pair.lines) == set(claim.names) and pair.pair != row.pair:
                return say("reasoning.why_pair", wanted=term(str(row.pair)), **fields)
    return None
