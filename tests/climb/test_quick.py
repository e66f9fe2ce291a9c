"""The climb in short, by counted steps, so that it says the same on every machine; seconds are `python -m tests.climb`'s."""

from __future__ import annotations

import random

import pytest

from app.figure.faults import Fault
from app.reasoning import api
from app.reasoning.budget import CHECK, CONFLICT, DECISION, OTHERS, PROOF, spending
from tests.climb.bodies import Body, changed, question
from tests.scale import trials

# What reading and the linear decisions around a search take besides.
AROUND = 150_000
MOST = {
    "follows": DECISION + CONFLICT + PROOF + AROUND,
    "check": CHECK + AROUND,
    "prove": DECISION + PROOF + OTHERS + AROUND,
}


def steps(name: str, body: Body) -> int:
    with spending(10**9) as budget:
        try:
            getattr(api, name)(body)
        except Fault:
            return -1
    return budget.used


@pytest.mark.parametrize("name", MOST)
def test_no_body_within_the_limits_takes_more_steps_than_its_budget(name: str) -> None:
    rng = random.Random(f"quick {name}")
    best, most, asked = question(rng), -1, 0
    for _ in range(trials(quick=14, full=400)):
        body = changed(rng, best) if most > 0 and rng.random() < 0.6 else question(rng)
        took = steps(name, body)
        assert took <= MOST[name], body
        asked += took >= 0
        if took >= most:
            best, most = body, took
    assert asked >= 5 and most > 1000
    # Counted, so the same again.
    assert steps(name, best) == most
