"""The reader's faults are worded once: the page's catalogue says what the server's says."""

from __future__ import annotations

import json
import re
from pathlib import Path

from app.practice.families import FAMILIES, SKILL
from app.words.en.practice import READER, WORDS

SCRIPT = Path(__file__).parent.parent.parent / "static" / "words" / "en" / "practice.js"


def page_words() -> dict[str, str]:
    found = {}
    for name, text in re.findall(r'^  "?([\w-]+)"?: ("(?:[^"\\]|\\.)*"),$', SCRIPT.read_text(encoding="utf-8"), re.M):
        found[name] = json.loads(text)
    return found


def test_the_page_says_what_the_server_says() -> None:
    words = page_words()

    assert {name: words.get(name) for name in READER} == READER


def test_nothing_is_told_by_colour_or_place_alone() -> None:
    """A-03: no "the blue angle", "the top line" without its name."""
    for text in [*WORDS.values(), *page_words().values()]:
        assert not re.search(r"\b(blue|red|green|yellow)\b", text), text


def test_every_family_has_a_title_and_a_skill_that_packs_know() -> None:
    from app.lessons.vocabulary import SKILLS

    for family in FAMILIES:
        assert WORDS[f"family_{family}"] and SKILL[family] in SKILLS
