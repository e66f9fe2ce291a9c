"""Statements as marks on a figure: arcs for congruent angles, arrows for parallels, squares for right angles."""

from __future__ import annotations

from collections.abc import Sequence

from app.figure.marks import MarkJson, MarksJson, RightJson
from app.figure.model import Figure
from app.reasoning.frame import frame_of
from app.reasoning.terms import ANGLE, Statement, _show_expression, show_number

__all__ = ["marks_of"]


def marks_of(fig: Figure, statements: Sequence[Statement], tone: str = "given") -> MarksJson:
    """Marks JSON for the statements that have a mark; each set of congruent angles and of parallels gets a count."""
    angles: dict[str, MarkJson] = {}
    lines: dict[str, MarkJson] = {}
    right: list[RightJson] = []
    arcs = arrows = 0
    for statement in statements:
        if statement.kind == "congruent":
            names = [a.removeprefix(ANGLE) for a in statement.names if a.removeprefix(ANGLE) in fig.angles]
            known = next((angles[n]["arcs"] for n in names if "arcs" in angles.get(n, {})), None)
            if known is None:
                arcs += 1
            for name in names:
                angles.setdefault(name, {"tone": tone})["arcs"] = known or arcs
        elif statement.kind == "parallel":
            known = next((lines[n]["arrows"] for n in statement.names if n in lines), None)
            if known is None:
                arrows += 1
            for name in statement.names:
                lines.setdefault(name, {"arrows": known or arrows, "tone": tone})
        elif statement.kind == "perpendicular":
            corner = next(
                (
                    (angle.at, name)
                    for name, angle in fig.angles.items()
                    if {angle.start.line, angle.end.line} == set(statement.names)
                ),
                None,
            )
            if corner is not None:
                right.append({"at": corner[0], "angle": corner[1], "tone": tone})
        elif statement.kind == "right":
            name = statement.names[0].removeprefix(ANGLE)
            if name in fig.angles:
                right.append({"at": fig.angles[name].at, "angle": name, "tone": tone})
        elif statement.kind == "bisects":
            parts = frame_of(fig).bisecting(*statement.names)
            halves = [p.removeprefix(ANGLE) for p in parts or ()]
            if halves and all(h in fig.angles for h in halves):
                arcs += 1
                for half in halves:
                    angles.setdefault(half, {"tone": tone})["arcs"] = arcs
        elif statement.kind == "equation":
            _label(fig, statement, angles, tone)
    return {"angles": angles, "lines": lines, "right": right}


def _label(fig: Figure, statement: Statement, angles: dict[str, MarkJson], tone: str) -> None:
    """m∠1 = 65 or m∠1 = 3x + 10 is written at the angle."""
    left, right = statement.sides
    atom = left.atom()
    if atom is None or not atom.startswith(ANGLE) or any(a.startswith(ANGLE) for a, _ in right.terms):
        return
    name = atom.removeprefix(ANGLE)
    if name not in fig.angles:
        return
    if right.terms:
        text = f"({_show_expression(right)})°"
    else:
        text = f"{show_number(right.constant)}°"
    angles.setdefault(name, {"arcs": 1, "tone": tone})["label"] = text
