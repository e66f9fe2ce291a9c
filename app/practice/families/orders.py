"""Put the proof in order. Levels: 1 four rows, 2 four or five with a third line or two cuts, 3 six or seven.

Any order is right in which the proof checker lets each row stand after those above it, and the goal comes last: a row
may follow from other rows than those that the printed order rests it on.
"""

from __future__ import annotations

from app.practice.chance import Chance, mixed
from app.practice.families.common import check_traps
from app.practice.families.proofs import propose
from app.practice.items import LETTER, Field, Item
from app.words import in_words, joined, say
from app.words import theorem as theorem_of
from app.words.house import House

__all__ = ["make"]


def make(family: str, seed: int, level: int, house: House) -> Item:
    chance = Chance(mixed(family, seed, level))
    proof = propose(chance, seed, level)
    count = len(proof.rows)
    order = list(range(count))
    while order == list(range(count)):
        order = chance.shuffled(range(count))
    label = {row: LETTER[place] for place, row in enumerate(order)}
    needs = {label[i]: tuple(label[u] for u in r.uses) for i, r in enumerate(proof.rows)}
    right = [label[i] for i in range(count)]
    goal = label[count - 1]
    traps = {"theorem-first": {"order": f"^{goal}"}}
    return Item(
        family=family,
        seed=seed,
        level=level,
        skill="prove-parallel",
        prompt=say(
            "practice.proof_prompt", given=joined("comma", map(in_words, proof.given)), goal=in_words(proof.goal)
        ),
        ask=say("practice.order_ask"),
        fields=(Field("order", "order", say("practice.order_label")),),
        figure=proof.drawn.json,
        given=proof.given,
        rows=tuple(
            {
                "label": label[i],
                "statement": proof.rows[i].statement,
                "reason": theorem_of(proof.rows[i].reason),
            }
            for i in order
        ),
        key={"order": (",".join(right),)},
        traps=check_traps(traps, {}) or {},
        working=(say("practice.order_why", order=" ".join(right)), say("practice.order_others")),
        hints=(
            say("practice.order_hint_1"),
            say("practice.order_hint_2"),
            say("practice.order_hint_3", goal=goal),
        ),
        facts={
            "needs": needs,
            "goal": goal,
            "rows": {label[i]: (row.statement, row.reason) for i, row in enumerate(proof.rows)},
        },
    )
