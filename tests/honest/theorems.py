"""The theorems of `named.py` as questions."""

from __future__ import annotations

import random

from tests.honest.asking import Asker, Tally, Wrong
from tests.honest.named import NAMED, Named


def ask_one(one: Named, seed: int, tally: Tally, *, nonlinear: int = 400, starts: int = 4) -> str:
    rng = random.Random(f"{one.name} {seed}")
    figure = one.figure(rng)
    asker = Asker(figure, tally, one.name, nonlinear=nonlinear, starts=starts)
    asker.given(list(one.given), None, rng)
    before = len(tally.wrong)
    verdict = asker.ask(one.claim, rng)
    asker.close()
    if verdict != one.truth and len(tally.wrong) == before:
        where = f"{one.name} ({one.source})"
        tally.wrong.append(
            Wrong(
                where,
                f"{verdict}, but it is: {one.truth}",
                {"figure": figure.to_json(), "given": asker.texts, "claim": str(one.claim)},
                {},
            )
        )
    return verdict


def ask_named(seed: int, tally: Tally, rounds: int = 2) -> None:
    for one in NAMED:
        for k in range(rounds):
            ask_one(one, seed + k, tally)
