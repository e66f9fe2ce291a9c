"""Proofs to be written on paper: Given and Prove, the figure, ruled rows; the key with other routes."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

from app.figure.model import figure_from_json
from app.practice.chance import Chance, mixed
from app.practice.families.proofs import propose
from app.reasoning.prover import prove
from app.sheets.entries import Entry, Key, figure_svg
from app.sheets.paper import Theme
from app.words import say
from app.words.house import House

__all__ = ["proof_entry", "write_a_proof"]

SPARE = 2  # rows more than the shortest proof needs


def write_a_proof(level: int, seed: int, theme: Theme, house: House) -> Entry:
    """A proof of the practice patterns, to be written whole."""
    found = propose(Chance(mixed("write", seed, level)), seed, level)
    return proof_entry(
        found.drawn.json, list(found.given), found.goal, theme, house, mark=f"write-a-proof {level} · {seed}"
    )


def proof_entry(
    figure: Mapping[str, Any],
    given: Sequence[str],
    goal: str,
    theme: Theme,
    house: House,
    *,
    mark: str = "",
    bar: Sequence[str] = (),
    title: str = "",
) -> Entry:
    """Given, Prove and ruled rows. The key is the shortest proof, with other routes beside it."""
    fig = figure_from_json(dict(figure))
    proofs = prove(fig, list(given), goal, k=3, bar=list(bar))
    routes = [[_row(i, row) for i, row in enumerate(p.to_json(house), 1)] for p in proofs]
    count = len(routes[0]) if routes else 6
    rows = tuple((str(i + 1), None, None) for i in range(count + SPARE))
    return Entry(
        prompt=say("sheets.proof_given", given="; ".join(given)),
        ask=say("sheets.proof_prove", goal=goal),
        key=Key(
            say("sheets.proof_rows", count=count) if routes else say("sheets.proof_not_forced"),
            tuple(routes[0]) if routes else (),
            tuple("  /  ".join(r) for r in routes[1:]),
        ),
        figure=figure_svg(figure, None, theme, given=given, hide=("parallel",)),
        rows=rows,
        mark=mark,
    )


def _row(number: int, row: Mapping[str, Any]) -> str:
    uses = f" ({', '.join(str(u) for u in row['from'])})" if row["from"] else ""
    return f"{number}. {row['statement']}: {row['name']}{uses}"
