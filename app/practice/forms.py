"""Equal forms: items of one family that ask the same kind of question with other numbers, letters and turns.

The *form* of an item is what a teacher would compare before calling two tickets equal: is the reason asked for a
converse, an original or another reason; do the two angles add or are they equal; is what is given enough, and if not,
why not; do the two angles stand at one vertex or at two. It names no angle, no line and no number, and not which pair
it is, so that a neighbor's answer is no answer.
"""

from __future__ import annotations

from functools import lru_cache

from app.figure.pairs import relation_for
from app.practice.chance import mixed
from app.practice.families import item
from app.practice.families.common import PAIR_OF
from app.practice.items import NONE, Item
from app.reasoning.theorems import TABLE, twin

__all__ = ["form_of", "in_form"]

MOST_TRIES = 400  # the rarest form is one item in some twenty


def form_of(made: Item) -> tuple[str, ...]:
    """The item's form, as words to be compared: ("pair: two vertices",)."""
    found = [f"{name.rstrip('0123456789')}: {_sort(values[0])}" for name, values in made.key.items()]
    plan, pair = made.facts.get("plan"), str(made.facts.get("pair", ""))
    if plan is not None:
        found.append(f"plan: {plan}")
    if "theorem" in made.key and made.key["theorem"] != (NONE,):
        found.append(f"relation: {made.facts.get('relation') or relation_for(pair)}")
    return tuple(found)


def _sort(value: str) -> str:
    """What sort of answer it is, without saying which."""
    if value == NONE:
        return "none"
    if value in PAIR_OF:
        return "two vertices"
    if value in ("vertical", "linear pair"):
        return "one vertex"
    if value.endswith("-converse"):
        return "converse"
    return "original" if value in TABLE and twin(value) else "reason" if value in TABLE else "other"


@lru_cache(maxsize=8192)
def in_form(family: str, level: int, form: int, own: int) -> int:
    """The seed of an item with the form that the seed `form` has, and numbers that come from the seed `own`.

    Both seeds are whole numbers from 0 to 2**31 − 1; so is the answer, the same for the same two for ever. `own` itself
    where it has that form already. Raises Fault for a family or level that isn't one.
    """
    wanted = form_of(item(family, form, level))
    seed = own
    for n in range(1, MOST_TRIES):
        if form_of(item(family, seed, level)) == wanted:
            return seed
        seed = mixed("form", own, n) % 2**31
    return form
