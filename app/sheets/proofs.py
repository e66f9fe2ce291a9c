"""Proofs to be written on paper: Given and Prove, the figure, ruled rows; the key with other routes."""

from __future__ import annotations

import re
from collections.abc import Mapping, Sequence
from dataclasses import replace
from typing import Any

from app.figure.model import Figure, figure_from_json, figure_to_json
from app.figure.numbers import show_number
from app.practice.chance import Chance, mixed
from app.practice.families.proofs import propose
from app.practice.items import LETTER
from app.reasoning.follows import follows
from app.reasoning.frame import Frame, frame_of
from app.reasoning.graph import Proof
from app.reasoning.judge import Known, reasons_for
from app.reasoning.prover import prove
from app.sheets.entries import Blank, Entry, Key, Step, figure_svg, note_beside, orders, places, source_of
from app.sheets.paper import Theme
from app.words import in_words, joined, render
from app.words import tell as say
from app.words.house import House

__all__ = ["not_forced_key", "proof_entry", "write_a_proof"]

MOST_ORDERS = 3  # beside the one printed
# Rows to write on: the number of rows doesn't tell the length of the proof.
BLANK = (5, 7, 9, 12, 16, 20, 30, 60)


def write_a_proof(level: int, seed: int, theme: Theme, house: House) -> Entry:
    """A proof of the practice patterns, to be written whole."""
    found = propose(Chance(mixed("write", seed, level)), seed, level)
    return proof_entry(
        found.drawn.json, list(found.given), found.goal, theme, house, mark=f"write-a-proof {level} · {seed}"
    )


def proof_entry(
    figure: Mapping[str, object], given: Sequence[str], goal: str, theme: Theme, house: House, *, mark: str = "",
    bar: Sequence[str] = (), support: str = "blank", note: str = "", not_to_scale: bool = True, seed: int = 1,
    strict: bool = False,
) -> Entry:  # fmt: skip
    """Given, Prove and ruled rows, as much of them filled in as `support` says.

    The key is the shortest proof, with other routes beside it; `strict` keeps ≅ and = apart in them, as the class does.
    """
    fig = figure_from_json(dict(figure))
    found = prove(fig, list(given), goal, k=3, bar=list(bar), strict=strict)
    proofs = [p.to_json() for p in found]
    routes = [tuple(_row(i, row) for i, row in enumerate(p, 1)) for p in proofs]
    if routes:
        key = Key(say("sheets.proof_rows", count=len(routes[0])), routes[0], routes=tuple(routes[1:]),
                  quick="; ".join(str(row["name"]) for row in proofs[0]), points=len(routes[0]))  # fmt: skip
        if support == "reasons":
            # The rows stand on the page: what else is right is another reason for one of them, not another proof.
            key = replace(key, also=_other_reasons(found[0], frame_of(fig), given, bar, strict, house), routes=())
        elif support == "worked":
            key = replace(key, quick=say("sheets.nothing_to_mark"), points=0, routes=())
        elif support == "order":
            key = _order_key(proofs[0], routes[0], seed)
    else:
        key = not_forced_key(fig, given, goal, theme, say("sheets.proof_not_forced"))
    svg = figure_svg(figure, None, theme, given=given, hide=("parallel",), not_to_scale=not_to_scale,
                     said=(goal, note, *key.working))  # fmt: skip
    said = [*([note] if note else []), say("sheets.proof_given", given=joined("semicolon", map(in_words, given)))]
    return Entry(
        prompt="\n".join((*said, "")), ask=say("sheets.proof_prove", goal=in_words(goal)), key=key, figure=svg,
        note=note_beside(svg, not_to_scale), source=source_of(figure, None, given),
        rows=_printed(proofs[0] if proofs else [], support, seed), mark=mark,
        ordering=support == "order" and bool(proofs),
        blanks=() if routes else (Blank(say("sheets.or_figure")), Blank("")),
    )  # fmt: skip


def not_forced_key(fig: Figure, given: Sequence[str], claim: str, theme: Theme, answer: str) -> Key:
    """What is said of a claim that isn't forced: a figure in which all that is given holds, and the claim fails."""
    found = follows(fig, list(given), claim).counterexample
    if found is None or found.figure is None:
        return Key(answer, points=2)
    # The measures that show it: of the angles that the givens speak of, else of the first two.
    spoken = [name for name in fig.angles if any(re.search(rf"∠{re.escape(name)}(?!\w)", text) for text in given)]
    shown = {name: found.measures[name] for name in spoken or list(fig.angles)[:2] if name in found.measures}
    drawn = figure_to_json(found.figure)
    marks = {"angles": {name: {"label": f"{show_number(value)}°"} for name, value in shown.items()}}
    svg = figure_svg(drawn, marks, theme, not_to_scale=False)
    measures = ", ".join(f"m∠{name} = {show_number(value)}°" for name, value in shown.items())
    said = say("sheets.counterexample", measures=measures, claim=claim)
    return Key(answer, (said,), steps=(Step(0, say("sheets.counterexample_name"), "", svg),), points=2)


def _printed(
    proof: Sequence[Mapping[str, object]], support: str, seed: int
) -> tuple[tuple[str, str | None, str | None], ...]:
    """The rows on the page: worked, without reasons, without statements, out of order, or empty."""
    rows = [(str(i), str(row["statement"]), str(row["name"])) for i, row in enumerate(proof, 1)]
    if support == "worked":
        return tuple(rows)
    if support == "reasons":
        return tuple((n, s, None) for n, s, _ in rows)
    if support == "statements":
        return tuple((n, None, r) for n, _, r in rows)
    if support == "order" and rows:
        return tuple((LETTER[place], rows[i][1], rows[i][2]) for place, i in enumerate(_dealt(len(rows), seed)))
    return tuple((str(i + 1), None, None) for i in range(next(n for n in BLANK if n > len(rows))))


def _dealt(count: int, seed: int) -> list[int]:
    """The rows, from 0, in the order in which they stand on the page."""
    return Chance(mixed("printed", seed)).shuffled(range(count))


def _order_key(proof: Sequence[Mapping[str, Any]], said: Sequence[str], seed: int) -> Key:
    """The letters of the page in a right order, the rows they stand for, and other orders that are right."""
    letter = {i: LETTER[place] for place, i in enumerate(_dealt(len(proof), seed))}
    right = [letter[i] for i in range(len(proof))]
    needs = {letter[i]: tuple(letter[n - 1] for n in row["from"]) for i, row in enumerate(proof)}
    others = tuple(places(o) for o in orders(needs, right[-1]) if o != right)[:MOST_ORDERS]
    working = (say("sheets.in_order", letters=" ".join(right)), *said, say("practice.order_others"))
    return Key(places(right), working, others, points=len(right))


def _other_reasons(
    proof: Proof, frame: Frame, given: Sequence[str], bar: Sequence[str], strict: bool, house: House
) -> tuple[str, ...]:
    """For each row the other reasons that give it from the rows above, as the judge on a Seat takes them."""
    known = Known(frame, (), strict)
    read = [frame.read(text) for text in given]
    found: list[str] = []
    for n, row in enumerate(proof.rows, 1):
        for reason in reasons_for(known, row.statement, read, bar):
            if reason != row.reason:
                label = say("practice.reason_label", n=n)
                found.append(say("sheets.also_in_row", label=label, reason=house.name(reason)))
        known.add(n, row.statement)
    return tuple(found)


def _row(number: int, row: Mapping[str, Any]) -> str:
    uses = f" ({', '.join(str(u) for u in row['from'])})" if row["from"] else ""
    return f"{number}. {render(in_words(str(row['statement'])))}: {row['name']}{uses}"
