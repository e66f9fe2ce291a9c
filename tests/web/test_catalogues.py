"""A page's head fetches the words that its script is going to ask for, in the page's language: no round trip more."""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from app.web.static import WORDS

ROOT = Path(__file__).resolve().parents[2]
PAGES = sorted(path for path in (ROOT / "templates").rglob("*.html") if "{% set script =" in path.read_text())


def script_of(page: Path) -> Path:
    found = re.search(r"\{% set script = '([^']+)' %\}", page.read_text())
    assert found, page
    return ROOT / "static" / found[1]


@pytest.mark.parametrize("page", PAGES, ids=lambda page: page.stem)
def test_a_page_names_the_words_that_its_script_loads_first(page: Path) -> None:
    wanted = re.findall(r"^await load\(([^)]*)\)", script_of(page).read_text(), re.M)
    named = re.search(r"\{% set words = '(\w+)' %\}", page.read_text())

    assert (WORDS[named[1]].split("+") if named else []) == re.findall(r'"(\w+)"', " ".join(wanted))


def test_there_are_pages_with_words() -> None:
    assert sum("{% set words =" in page.read_text() for page in PAGES) >= 5
