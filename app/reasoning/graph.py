"""A proof as one graph, shown as two columns, as a flow, or as a paragraph."""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass

from app.reasoning.terms import Statement, show
from app.words import tell as say
from app.words.house import House, house

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

    def to_json(self, words: House | None = None) -> list[dict[str, object]]:
        """Rows as the contract writes them, with the reason's house name beside its id."""
        words = words or house()
        return [
            {"statement": show(row.statement, words), "reason": row.reason, "name": words.name(row.reason),
             "from": list(row.uses)}
            for row in self.rows
        ]


def listed(numbers: Sequence[int]) -> str:
    """Row numbers in prose: "row 2", "rows 1 and 3", "rows 1, 2 and 4"."""
    if len(numbers) == 1:
        return say("reasoning.rows_one", n=numbers[0])
    return say("reasoning.rows_many", all=", ".join(map(str, numbers[:-1])), last=numbers[-1])


def flow(rows: Sequence[tuple[str, str, Sequence[int]]]) -> list[dict[str, object]]:
    """(statement, reason, uses) rows as boxes: each with its level (givens 0, else one more than the deepest row
    it uses) and the arrows into it. The same graph, drawn.
    """
    levels: list[int] = []
    boxes: list[dict[str, object]] = []
    for number, (statement, reason, uses) in enumerate(rows, 1):
        before = [levels[n - 1] for n in uses if 0 < n < number]
        levels.append(max(before, default=-1) + 1)
        boxes.append({
            "row": number, "statement": statement, "reason": reason, "level": levels[-1],
            "from": [n for n in uses if 0 < n < number],
        })
    return boxes


def paragraph(proof: Proof, words: House | None = None, wanting: Collection[int] = ()) -> str:
    """The proof in sentences, one a row, each saying what it rests on; rows of `wanting` are said to be unproved."""
    words = words or house()
    sentences = []
    last = len(proof.rows)
    for number, row in enumerate(proof.rows, 1):
        text = show(row.statement, words)
        name = words.name(row.reason)
        if number in wanting:
            key, fields = "prose_wanting", {"reason": name}
        elif row.reason == "given":
            key, fields = "prose_given", {}
        elif not row.uses:
            key, fields = "prose_drawn", {"reason": name}
        elif number == last:
            key, fields = "prose_last", {"reason": name, "why": _because(proof, row, words)}
        elif row.uses == (number - 1,):
            key, fields = "prose_next", {"reason": name}
        else:
            key, fields = "prose_since", {"reason": name, "why": _because(proof, row, words)}
        sentences.append(say("reasoning." + key, statement=text, **fields))
    return " ".join(sentences)


def _because(proof: Proof, row: Row, words: House) -> str:
    said = [show(proof.rows[n - 1].statement, words) for n in row.uses]
    if len(said) == 1:
        return said[0]
    return say("reasoning.prose_and", all=", ".join(said[:-1]), last=said[-1])
