"""The attacks in short. Nothing is lost or doubled, what must be refused is refused, what must be served is served; how
quick the class was served meanwhile, `python -m tests.attack` says (times have no place in a suite that shares its machine).
"""

from __future__ import annotations

from pathlib import Path

import pytest

from tests.attack.__main__ import CLOCK, run
from tests.attack.attacks import ATTACKS

# Rows that aren't mended yet; drop a row here when it is.
OPEN: frozenset[str] = frozenset()


def _attack(name: str) -> object:
    marks = [pytest.mark.xfail(reason=f"{name} is not mended yet", strict=False)] if name in OPEN else []
    return pytest.param(name, marks=marks)


@pytest.mark.parametrize("name", [_attack(name) for name in sorted([*ATTACKS, CLOCK])])
def test_an_attack_gets_nothing_and_costs_the_class_nothing(name: str, tmp_path: Path) -> None:
    outcome = run(name, tmp_path, full=False, calm=0.5)
    assert outcome.broken == [], outcome.notes
    if outcome.felt is not None:
        assert outcome.felt.acknowledged
