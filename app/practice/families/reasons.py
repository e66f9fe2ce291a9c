"""The missing reason. Levels: 1 and 2 one row has lost its reason, 3 two rows have.

The choices hold one reason that fits; on paper nothing is offered, so the others that fit are kept beside the key.
"""

from __future__ import annotations

from app.practice.chance import Chance, mixed
from app.practice.families.common import PAIR_OF, check_traps, converse_of, original_of, theorem_choices
from app.practice.families.proofs import Proof, propose, reasons_for
from app.practice.items import Field, Item
from app.reasoning.theorems import twin
from app.words import in_words, joined, say
from app.words import theorem as theorem_of
from app.words.house import House

__all__ = ["make"]


def make(family: str, seed: int, level: int, house: House) -> Item:
    chance = Chance(mixed(family, seed, level))
    proof = propose(chance, seed, level)
    named = [i for i, r in enumerate(proof.rows) if twin(r.reason)]
    others = [i for i, r in enumerate(proof.rows) if r.reason not in ("given", "transitive") and i not in named]
    lost = [chance.pick(named)]
    if level == 2 and others and chance.maybe(1, 3):
        lost = [chance.pick(others)]
    if level == 3:
        rest = [i for i in (*named, *others) if i not in lost]
        lost = sorted([lost[0], chance.pick(rest)])
    fields: list[Field] = []
    key: dict[str, tuple[str, ...]] = {}
    also: dict[str, tuple[str, ...]] = {}
    traps: dict[str, dict[str, str]] = {}
    for i in lost:
        name = f"row{i + 1}"
        fitting = reasons_for(proof, i)
        options = _options(chance, fitting)
        fields.append(Field(name, "choice", say("practice.reason_label", n=i + 1), theorem_choices(options, house)))
        key[name] = fitting[:1]
        also[name] = fitting[1:]
        for mistake, wrong in _wrong(proof, i, options).items():
            traps.setdefault(mistake, {name: wrong})
    target = proof.rows[lost[0]]
    return Item(
        family=family,
        seed=seed,
        level=level,
        skill="read-a-proof",
        prompt=say(
            "practice.proof_prompt", given=joined("comma", map(in_words, proof.given)), goal=in_words(proof.goal)
        ),
        ask=say("practice.reason_ask_two" if level == 3 else "practice.reason_ask", n=lost[0] + 1, m=lost[-1] + 1),
        fields=tuple(fields),
        figure=proof.drawn.json,
        given=proof.given,
        rows=tuple(
            {
                "label": str(i + 1),
                "statement": r.statement,
                "reason": "" if i in lost else theorem_of(r.reason),
            }
            for i, r in enumerate(proof.rows)
        ),
        key=key,
        also=also,
        traps=check_traps(traps, key) or {},
        working=tuple(
            say(
                "practice.reason_why",
                n=i + 1,
                statement=in_words(proof.rows[i].statement),
                reason=theorem_of(proof.rows[i].reason),
            )
            for i in lost
        ),
        hints=(
            say("practice.reason_hint_1", n=lost[0] + 1, statement=in_words(target.statement)),
            say(
                "practice.reason_hint_2_rests" if target.uses else "practice.reason_hint_2_figure",
                rows=", ".join(str(u + 1) for u in target.uses),
                statement=in_words(target.statement),
            ),
            say("practice.reason_hint_3", n=lost[0] + 1, reason=theorem_of(target.reason)),
        ),
        facts={"lost": lost},
    )


def _options(chance: Chance, fitting: tuple[str, ...]) -> list[str]:
    """The reason, its twin, another pair both ways, and plain ones; none but the reason may be right too."""
    right = fitting[0]
    other = chance.pick([p for p in PAIR_OF if p.replace(" ", "-") not in right])
    pool = dict.fromkeys([right, twin(right) or "", original_of(other), converse_of(other), "vertical-angles", "given"])
    return chance.shuffled([right, *(reason for reason in pool if reason and reason not in fitting)])


def _wrong(proof: Proof, i: int, options: list[str]) -> dict[str, str]:
    right = proof.rows[i].reason
    found: dict[str, str] = {}
    other_way = twin(right)
    if other_way in options:
        found["original-for-converse" if right.endswith("converse") else "converse-for-original"] = str(other_way)
    if "given" in options:
        found["goal-as-given" if proof.rows[i].statement == proof.goal else "given-for-derived"] = "given"
    if other_way:
        ending = "-converse" if right.endswith("converse") else "-angles"
        for option in options:
            if option.endswith(ending) and option not in (right, other_way, "vertical-angles"):
                found["theorem-of-other-pair"] = option
    return found
