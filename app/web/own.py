"""A teacher's own example: read, checked, and made a task of the period."""

from __future__ import annotations

from app.figure.faults import Fault
from app.figure.model import Figure
from app.figure.read import figure_from_json
from app.reasoning.follows import follows
from app.reasoning.statements import read_statement
from app.reasoning.terms import Statement, show
from app.web.bodies import Own
from app.web.errors import Refused
from app.words import tell as say


def read_words(body: Own) -> tuple[list[str], str]:
    """(given, goal) of {figure, given, goal} as the trade writes them: `<3 = <6` was typed, ∠3 ≅ ∠6 is shown."""
    figure = figure_from_json(body.figure)
    written = [show(_read_at(text, figure, f"given.{n}")) for n, text in enumerate(body.given)]
    return written, show(_read_at(body.goal, figure, "goal"))


def read_own(body: Own) -> dict[str, object]:
    """A proof task from {figure, given, goal, title?}; Fault or Refused names what can't be used.

    Whether the goal follows is asked here: where it doesn't, the right answer is a counterexample.
    """
    given, goal = read_words(body)
    figure = figure_from_json(body.figure)
    outcome = follows(figure, given, goal)
    if outcome.verdict == "undecided":
        raise Refused(422, "web.own_undecided", "goal")
    if outcome.by is not None:
        raise Refused(422, "web.own_coordinates", "goal")
    if outcome.verdict in ("givens conflict", "cannot be"):
        raise Refused(422, "web.own_conflict" if outcome.verdict == "givens conflict" else "web.own_cannot", "goal")
    title = body.title
    return {
        "kind": "prove",
        "title": title[:80] if isinstance(title, str) and title.strip() else say("web.own_title"),
        "ask": say("web.own_ask", goal=goal),
        "figure": body.figure,
        "given": given,
        "goal": goal,
        "support": "blank",
        "judge": "row",
        "strict": False,
        "profile": "postulate",
        "proof": None,
        "possible": outcome.verdict == "follows",
        "without": [],
        "skills": [],
        "standards": [],
        "minutes": 0,
    }


def _read_at(text: str, figure: Figure, where: str) -> Statement:
    try:
        return read_statement(text, figure)
    except Fault as fault:
        raise Fault(fault.code, where, **fault.fields) from None
