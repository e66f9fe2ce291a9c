"""Equal forms: everybody's ticket asks the same kinds of question, with other numbers, letters and pairs.

Chi-square values: NIST/SEMATECH e-Handbook of Statistical Methods, table 1.3.6.7.4 (upper tail, 0.001), from memory:
16.266 for 3, 18.467 for 4 degrees of freedom.
"""

from __future__ import annotations

from collections import Counter

import pytest

from app.lessons.load import load_pack
from app.lessons.tasks import Items, Task
from app.practice.families import LEVELS, item
from app.practice.forms import form_of, in_form
from app.web.secret import Secret
from app.web.tickets import seed_for
from tests.scale import trials
from tests.web.running import ROOT

TICKETS = {
    pack: [
        task.made
        for part in load_pack(ROOT / "lesson_packs" / pack).parts
        if part.purpose == "exit"
        for task in part.tasks
    ]
    for pack in ("proving-lines-parallel", "solve-and-practice")
}
SEATS = trials(quick=12, full=36)
TAIL = {3: 16.266, 4: 18.467}


def level_of(task: Task) -> tuple[str, int]:
    assert isinstance(task, Items) and task.family
    return task.family, min(task.level, LEVELS[task.family])


@pytest.mark.parametrize("pack", TICKETS)
def test_every_seat_of_a_period_has_a_ticket_of_one_form(pack: str) -> None:
    """The count of converses, originals and "not enough" items is the same for everybody, whatever the period's seed."""
    for n in range(trials(quick=30, full=1_000)):
        secret = Secret(f"secret {n}".encode() * 4)
        for task in TICKETS[pack]:
            family, level = level_of(task)
            made = [
                item(family, seed_for(secret, "exit", f"period {n}", f"seat {s}", task), level) for s in range(SEATS)
            ]
            assert len({form_of(one) for one in made}) == 1, (n, task.id)
            # The same question for everybody would be a gift to the neighbor.
            assert len({repr((one.figure, one.given, one.rows)) for one in made}) >= SEATS * 3 // 4, (n, task.id)


def test_within_a_form_every_pair_comes_as_often_as_any_other() -> None:
    """Looking for a seed of the right form must not favor some pairs: chi-square over 1,000 seats."""
    form = next(seed for seed in range(99) if form_of(item("name-the-pair", seed, 2)) == ("pair: two vertices",))
    found = Counter(
        item("name-the-pair", in_form("name-the-pair", 2, form, seat), 2).facts["pair"] for seat in range(1_000)
    )
    assert len(found) == 5
    assert sum((count - 200) ** 2 / 200 for count in found.values()) < TAIL[4], found


def test_the_forms_of_periods_come_as_often_as_the_items_themselves() -> None:
    """Which form a period has is left to chance: over 1,000 periods as often as among items with no form asked for."""
    plain = Counter(form_of(item("is-it-enough", seed, 1)) for seed in range(1_000))
    drawn = Counter(form_of(item("is-it-enough", in_form("is-it-enough", 1, 5_000 + n, n), 1)) for n in range(1_000))
    assert len(plain) == 4 and set(drawn) == set(plain)
    # Two samples of one size (Numerical Recipes, 14.3, from memory): the sum of (a − b)² / (a + b).
    assert sum((plain[f] - drawn[f]) ** 2 / (plain[f] + drawn[f]) for f in plain) < TAIL[3], (plain, drawn)


@pytest.mark.parametrize("family", LEVELS)
def test_a_form_is_found_for_every_family_and_level_and_names_no_answer(family: str) -> None:
    for level in range(1, LEVELS[family] + 1):
        for form in range(12):
            wanted = form_of(item(family, form, level))
            assert form_of(item(family, in_form(family, level, form, 10_000 + form), level)) == wanted
            told = " ".join(wanted)
            assert not any(value in told for value in ("alternate", "consecutive", "corresponding", "∥", "∠"))


def test_a_seed_of_the_right_form_stays_as_it_is() -> None:
    assert in_form("make-parallel", 2, 7, 7) == 7


def test_only_a_ticket_has_a_form() -> None:
    secret, task = Secret(b"s" * 32), TICKETS["proving-lines-parallel"][0]
    assert seed_for(secret, "lesson", "p", "seat", task) == secret.seed("seed", "seat", task.id)
    assert seed_for(secret, "exit", "", "seat", task) == secret.seed("seed", "seat", task.id)
