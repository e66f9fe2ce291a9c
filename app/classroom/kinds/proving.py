"""What a judged proof shows of its writer: skills, and the misconception behind a refused row."""

from __future__ import annotations

from app.reasoning.check import Checked, CheckedRow
from app.reasoning.terms import Fact
from app.reasoning.theorems import TABLE

__all__ = ["misconception_of", "skills_of"]


def skills_of(checked: Checked, support: str, goal: str) -> dict[str, bool]:
    """Skill → shown or not in this proof. A skill that no row needed is left out."""
    skills: dict[str, bool] = {}

    def mark(skill: str, right: bool) -> None:
        skills[skill] = skills.get(skill, True) and right

    for row in checked.rows:
        if row.reason is None or row.reason == "given":
            continue
        right = row.verdict == "follows"
        theorem = TABLE[row.reason]
        if row.reason in ("vertical-angles", "linear-pair"):
            mark(row.reason, right)
        if theorem.direction is not None:
            mark("direction", row.verdict != "wrong way round" and not _starts_from_goal(row))
        if theorem.direction == "converse":
            mark("choose-converse", right)
    if support in ("reasons", "order", "statements"):
        skills["read-a-proof"] = checked.complete
    elif goal == "parallel":
        skills["prove-parallel"] = checked.complete
    return skills


def _starts_from_goal(row: CheckedRow) -> bool:
    return row.verdict == "in a circle" and row.reason is not None and TABLE[row.reason].direction == "original"


def misconception_of(row: CheckedRow, missing: tuple[Fact, ...]) -> str | None:
    """The known mistake that a refused row shows, if it is one."""
    if row.reason is None or row.statement is None:
        return None
    theorem = TABLE[row.reason]
    if row.verdict == "wrong way round" or _starts_from_goal(row):
        return "original-for-converse" if theorem.direction == "original" else "converse-for-original"
    if row.reason == "given":
        return "goal-as-given" if row.verdict == "in a circle" else "given-for-derived"
    if row.verdict == "other reason" and theorem.direction is not None:
        return "theorem-of-other-pair"
    if theorem.direction == "original" and missing and all(fact[0] == "parallel" for fact in missing):
        return "equal-without-parallel"
    if theorem.direction == "converse" and theorem.needs == ("supplementary",) and row.verdict == "not forced":
        return "equal-for-supplementary"
    if theorem.direction == "converse" and row.verdict == "not forced" and row.statement.kind == "parallel":
        return "wrong-lines"
    return None
