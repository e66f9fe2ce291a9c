"""The calculator's answers about reasoning: each function takes a request body and gives the answer's.

Raises Fault for a body that can't be used, its place as a dotted path; nothing else.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import TypeVar

from app.figure.faults import Fault, shown
from app.figure.model import Figure, figure_from_json
from app.reasoning.check import check as check_proof
from app.reasoning.follows import Outcome
from app.reasoning.follows import follows as decide_claim
from app.reasoning.graph import flow, paragraph
from app.reasoning.prover import Proofs
from app.reasoning.prover import prove as find_proofs
from app.reasoning.statements import Statement, read_statement
from app.reasoning.terms import show
from app.reasoning.theorems import PROFILES, TABLE
from app.words import say
from app.words.house import HOUSES, House, house

__all__ = ["check", "follows", "prove", "rows_in", "statement_in", "statements_in", "theorems"]

MOST_GIVEN = 40
MOST_ROWS = 60
MOST_PROOFS = 5
T = TypeVar("T")


def follows(body: object) -> dict[str, object]:
    """POST /api/reasoning/follows"""
    fields = _mapping(body)
    fig = figure_from_json(fields.get("figure"))
    given = statements_in(fields.get("given", []), fig)
    claim = statement_in(fields.get("claim"), fig, "claim")
    _words(fields)
    outcome = _placed("claim", lambda: decide_claim(fig, given, claim))
    proofs = outcome.proofs
    answer: dict[str, object] = {
        "verdict": outcome.verdict,
        "counterexample": outcome.counterexample.to_json() if outcome.counterexample is not None else None,
        "proof": proofs[0].to_json() if proofs else None,
        "conflict": [show(given[i]) for i in outcome.conflict],
    }
    _say_why(answer, outcome, proofs.spent)
    return answer


def _say_why(answer: dict[str, object], outcome: Outcome, spent: bool) -> None:
    """What is to be said where the verdict alone would leave one asking."""
    if outcome.by is not None:
        answer["by"], answer["note"] = outcome.by, say("reasoning.by_coordinates")
    elif outcome.verdict == "undecided":
        answer["note"] = say("reasoning.undecided")
    elif spent:
        answer["note"] = say("reasoning.proof_limit")
    elif outcome.verdict == "follows" and not answer.get("proof") and not answer.get("rows"):
        answer["note"] = say("reasoning.proof_none")


def prove(body: object) -> dict[str, object]:
    """POST /api/reasoning/prove"""
    fields = _mapping(body)
    fig = figure_from_json(fields.get("figure"))
    given = statements_in(fields.get("given", []), fig)
    goal = statement_in(fields.get("goal"), fig, "goal")
    profile = fields.get("profile", "postulate")
    if not isinstance(profile, str) or profile not in PROFILES:
        raise Fault("reasoning.profile_unknown", "profile", found=shown(profile))
    _words(fields)
    outcome = _placed("goal", lambda: decide_claim(fig, given, goal))
    count = fields.get("k", 1)
    k = count if isinstance(count, int) and not isinstance(count, bool) and 1 <= count <= MOST_PROOFS else 1
    found = Proofs()
    if outcome.verdict == "follows" and outcome.by is None:
        found = find_proofs(fig, given, goal, profile=profile, k=k, bar=_barred(fields))
    rows = found[0].to_json() if found else None
    answer: dict[str, object] = {"rows": rows, "verdict": outcome.verdict}
    if found:
        answer["flow"] = flow([(show(row.statement), row.reason, row.uses) for row in found[0].rows])
        answer["paragraph"] = paragraph(found[0])
        answer["others"] = [proof.to_json() for proof in found[1:]]
    else:
        answer["counterexample"] = outcome.counterexample.to_json() if outcome.counterexample is not None else None
        _say_why(answer, outcome, found.spent)
    return answer


def check(body: object) -> dict[str, object]:
    """POST /api/reasoning/check"""
    fields = _mapping(body)
    fig = figure_from_json(fields.get("figure"))
    given = statements_in(fields.get("given", []), fig)
    goal = statement_in(fields.get("goal"), fig, "goal")
    rows = rows_in(fields.get("rows", []))
    strict = fields.get("strict") is True
    return _placed(
        "rows", lambda: check_proof(fig, given, goal, rows, strict=strict, bar=_barred(fields), words=_words(fields))
    ).to_json()


def theorems(body: object = None) -> dict[str, object]:
    """GET /api/reasoning/theorems"""
    fields = _mapping(body) if body else {}
    words = _words(fields)
    profile = fields.get("profile", "postulate")
    if not isinstance(profile, str) or profile not in PROFILES:
        raise Fault("reasoning.profile_unknown", "profile", found=shown(profile))
    return {"profile": profile, "house": words.key, "theorems": [row.card(profile) for row in TABLE.values()]}


def statement_in(value: object, fig: Figure, where: str) -> Statement:
    """A statement of a request; its place in faults is `where`, then the character."""
    if not isinstance(value, str):
        raise Fault("reasoning.text_wanted", where, found=shown(value))
    return _placed(where, lambda: read_statement(value, fig))


def statements_in(value: object, fig: Figure, where: str = "given") -> list[Statement]:
    if not isinstance(value, list):
        raise Fault("reasoning.given_wanted", where, found=shown(value))
    if len(value) > MOST_GIVEN:
        raise Fault("reasoning.too_many_given", where, most=MOST_GIVEN, count=len(value))
    return [statement_in(one, fig, f"{where}.{i}") for i, one in enumerate(value)]


def rows_in(value: object, where: str = "rows") -> list[dict[str, object]]:
    """The rows of a proof, their shape checked: what stands in them is the checker's to judge."""
    if not isinstance(value, list):
        raise Fault("reasoning.rows_wanted", where, found=shown(value))
    if len(value) > MOST_ROWS:
        raise Fault("reasoning.too_many_rows", where, most=MOST_ROWS, count=len(value))
    rows: list[dict[str, object]] = []
    for i, row in enumerate(value):
        place = f"{where}.{i}"
        if not isinstance(row, dict):
            raise Fault("reasoning.row_wanted", place, found=shown(row))
        cited = row.get("from")
        if cited is not None and (
            not isinstance(cited, list) or any(not isinstance(n, int) or isinstance(n, bool) for n in cited)
        ):
            raise Fault("reasoning.from_wanted", f"{place}.from", found=shown(cited))
        statement, reason = row.get("statement"), row.get("reason")
        rows.append(
            {
                "statement": statement if isinstance(statement, str) else "",
                "reason": reason if isinstance(reason, str) else "",
                "from": cited,
            }
        )
    return rows


def _mapping(body: object) -> dict[str, object]:
    if not isinstance(body, dict):
        raise Fault("reasoning.body_wanted", "", found=shown(body))
    return body


def _words(fields: dict[str, object]) -> House:
    """The house that the question names; whoever shows the answer says it in its words."""
    name = fields.get("house", "us")
    if not isinstance(name, str) or name not in HOUSES:
        raise Fault("reasoning.house_unknown", "house", found=shown(name), known=", ".join(HOUSES))
    return house(name)


def _barred(fields: dict[str, object]) -> frozenset[str]:
    bar = fields.get("bar")
    return frozenset(name for name in bar if isinstance(name, str)) if isinstance(bar, list) else frozenset()


def _placed(where: str, work: Callable[[], T]) -> T:
    """Run `work`; a fault in it gets the place in the request before its own."""
    try:
        return work()
    except Fault as fault:
        own = fault.where
        place = own if own.startswith((where, "given", "claim", "rows")) else f"{where}, {own}" if own else where
        raise Fault(fault.code, place, **fault.fields) from None
