"""Find the mistake in a proof. Levels: 1 a reason of another pair, or the theorem the wrong way round,
2 the same in a proof with more lines, 3 also a row that takes for given what is not, or claims too much.
"""

from __future__ import annotations

from typing import Any

from app.practice.chance import Chance, mixed
from app.practice.families.common import PAIR_OF, check_traps, converse_of, original_of
from app.practice.families.proofs import Proof, Row, propose, verdicts
from app.practice.items import Choice, Field, Item
from app.reasoning.theorems import twin
from app.words import in_words, joined, say
from app.words import theorem as theorem_of
from app.words.house import House

__all__ = ["make"]

_KINDS = {1: ["way", "pair"], 2: ["way", "pair", "pair"], 3: ["way", "pair", "given", "vertical"]}


def make(family: str, seed: int, level: int, house: House) -> Item:
    chance = Chance(mixed(family, seed, level))
    while True:
        proof = propose(chance, seed, level)
        kind = chance.pick(_KINDS[level])
        changed = _spoil(chance, proof, kind)
        if changed is None:
            continue
        i, rows = changed
        said = verdicts(proof, rows)
        if [n for n, v in enumerate(said) if v != "follows"] == [i]:
            break
        # Else the spoilt row follows in some other way, or a later row leans on what was spoilt.
    key = {"row": (str(i + 1),), "why": (kind,)}
    traps = {}
    if i + 1 < len(rows):
        traps["last-row-blamed"] = {"row": str(len(rows))}
    why = chance.shuffled(["way", "pair", "given", "vertical"])
    fields: dict[str, Any] = {
        "n": i + 1,
        "statement": in_words(rows[i].statement),
        "reason": theorem_of(rows[i].reason),
    }
    return Item(
        family=family,
        seed=seed,
        level=level,
        skill="read-a-proof",
        prompt=say(
            "practice.proof_prompt", given=joined("comma", map(in_words, proof.given)), goal=in_words(proof.goal)
        ),
        ask=say("practice.mistake_ask"),
        fields=(
            Field(
                "row",
                "choice",
                say("practice.mistake_row"),
                tuple(Choice(str(n + 1), say("practice.row_n", n=n + 1)) for n in range(len(rows))),
            ),
            Field(
                "why",
                "choice",
                say("practice.mistake_why"),
                tuple(Choice(w, say(f"practice.mistake_kind_{w}")) for w in why),
                optional=True,
            ),
        ),
        figure=proof.drawn.json,
        given=proof.given,
        rows=tuple(
            {"label": str(n + 1), "statement": r.statement, "reason": theorem_of(r.reason)} for n, r in enumerate(rows)
        ),
        key=key,
        traps=check_traps(traps, key) or {},
        working=(
            say(f"practice.mistake_why_{kind}", **fields),
            say(
                "practice.mistake_mend",
                n=i + 1,
                statement=in_words(proof.rows[i].statement),
                reason=theorem_of(proof.rows[i].reason),
            ),
        ),
        hints=(
            say("practice.mistake_hint_1"),
            say("practice.mistake_hint_2"),
            say("practice.mistake_hint_3", first=max(1, i), last=min(len(rows), i + 2)),
        ),
        facts={"kind": kind},
    )


def _spoil(chance: Chance, proof: Proof, kind: str) -> tuple[int, list[Row]] | None:
    """(the row made wrong, all rows), or None where this proof has no place for that mistake."""
    rows = list(proof.rows)
    named = [i for i, r in enumerate(rows) if twin(r.reason)]
    if kind in ("way", "pair"):
        i = chance.pick(named)
        right = rows[i].reason
        if kind == "way":
            reason = str(twin(right))
        else:
            other = chance.pick([p for p in PAIR_OF if p.replace(" ", "-") not in right])
            reason = converse_of(other) if right.endswith("converse") else original_of(other)
        rows[i] = Row(rows[i].statement, reason, rows[i].uses)
        return i, rows
    if kind == "given":
        derived = [
            i
            for i, r in enumerate(rows)
            if r.reason in ("transitive", "congruent-supplements", "substitution")
            or (twin(r.reason) and r.statement != proof.goal)
        ]
        if not derived:
            return None
        i = chance.pick(derived)
        rows[i] = Row(rows[i].statement, "given")
        return i, rows
    vertical = [i for i, r in enumerate(rows) if r.reason == "linear-pair"]
    if not vertical:
        vertical = [i for i, r in enumerate(rows) if r.reason == "vertical-angles"]
        if not vertical:
            return None
        rows[vertical[0]] = Row(rows[vertical[0]].statement, "linear-pair")
        return vertical[0], rows
    rows[vertical[0]] = Row(rows[vertical[0]].statement, "vertical-angles")
    return vertical[0], rows
