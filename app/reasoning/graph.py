"""A proof as one graph, shown as two columns, as a flow, or as a paragraph."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass

from app.reasoning.terms import Statement, said, show
from app.words import Message, Text, joined, say, theorem

__all__ = ["Proof", "Row", "flow", "listed", "paragraph"]


@dataclass(frozen=True)
class Row:
    """A statement, the reason (a theorem id), and the numbers (from 1) of the rows it uses."""

    statement: Statement
    reason: str
    uses: tuple[int, ...] = ()


@dataclass(frozen=True)
class Proof:
    """Rows in an order that respects use: givens first, the goal last."""

    rows: tuple[Row, ...]

    def to_json(self) -> list[dict[str, object]]:
        """Rows as the contract writes them, with the reason's house name beside its id."""
        return [
            {
                "statement": show(row.statement),
                "reason": row.reason,
                "name": theorem(row.reason),
                "from": list(row.uses),
            }
            for row in self.rows
        ]


def listed(numbers: Sequence[int]) -> Message:
    """Row numbers in prose: "row 2", "rows 1 and 3", "rows 1, 2 and 4"."""
    if len(numbers) == 1:
        return say("reasoning.rows_one", n=numbers[0])
    return say("reasoning.rows_many", all=joined("comma", map(str, numbers[:-1])), last=numbers[-1])


def flow(rows: Sequence[tuple[str, Text, Sequence[int]]]) -> list[dict[str, object]]:
    """(statement, reason, uses) rows as boxes: each with its level (givens 0, else one more than the deepest row
    it uses) and the arrows into it. The same graph, drawn.
    """
    levels: list[int] = []
    boxes: list[dict[str, object]] = []
    for number, (statement, reason, uses) in enumerate(rows, 1):
        before = [levels[n - 1] for n in uses if 0 < n < number]
        levels.append(max(before, default=-1) + 1)
        boxes.append(
            {
                "row": number,
                "statement": statement,
                "reason": reason,
                "level": levels[-1],
                "from": [n for n in uses if 0 < n < number],
            }
        )
    return boxes


def paragraph(proof: Proof, wanting: Collection[int] = ()) -> Message:
    """The proof in sentences, one a row, each saying what it rests on; rows of `wanting` are said to be unproved."""
    sentences = []
    last = len(proof.rows)
    for number, row in enumerate(proof.rows, 1):
        text = said(row.statement)
        name = theorem(row.reason)
        fields: dict[str, Text]
        if number in wanting:
            key, fields = "prose_wanting", {"reason": name}
        elif row.reason == "given":
            key, fields = "prose_given", {}
        elif not row.uses:
            key, fields = "prose_drawn", {"reason": name}
        elif number == last:
            key, fields = "prose_last", {"reason": name, "why": _because(proof, row)}
        elif row.uses == (number - 1,):
            key, fields = "prose_next", {"reason": name}
        else:
            key, fields = "prose_since", {"reason": name, "why": _because(proof, row)}
        sentences.append(say("reasoning." + key, statement=text, **fields))
    return joined("sentences", sentences)


def _because(proof: Proof, row: Row) -> Text:
    return joined("and", (said(proof.rows[n - 1].statement) for n in row.uses))
