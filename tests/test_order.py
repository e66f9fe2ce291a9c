"""The order in which files are begun names files that there are."""

from __future__ import annotations

from tests.order import LONGEST, ROOT, place


def test_every_file_named_is_there_and_comes_before_the_rest() -> None:
    assert [name for name in LONGEST if not (ROOT / name).is_file()] == []
    assert list(LONGEST.values()) == sorted(LONGEST.values(), reverse=True)
    rest = [path for path in ROOT.rglob("test_*.py") if path.relative_to(ROOT).as_posix() not in LONGEST]
    assert rest and max(place(ROOT / name) for name in LONGEST) < min(map(place, rest))
