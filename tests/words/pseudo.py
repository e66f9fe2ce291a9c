"""A made-up language that the tests add as a translator would add one: its catalogues, its house, and a line in each table.

`marked` makes a sentence of it from an English one: every letter is a letter that English doesn't have, and every word is
two fifths longer. A word that some page says without asking a catalogue is thus seen by its plain letters, and a place that
has room only for the English is seen by what it cuts off. The packs' words are the Spanish ones, marked: they are longer by
themselves. What stands in braces is left alone, but for the two words of a choice of number.
"""

from __future__ import annotations

import json
import re
import shutil
import sys
from collections.abc import Iterator
from contextlib import contextmanager
from importlib import import_module
from pathlib import Path
from pkgutil import iter_modules
from types import ModuleType

import app.words.en
from app.words import LANGUAGES, catalogue, rendering
from app.words.house import HOUSES, House
from app.words.rendering import OWN_HOUSE

__all__ = [
    "CODE",
    "LONGER",
    "catalogues",
    "marked",
    "pack_in",
    "register",
    "spoken",
    "unmarked",
    "write_packs",
    "write_static",
]

CODE = "zz"  # belongs to no language
LONGER = 1.4
ROOT = Path(__file__).resolve().parents[2]
# The letters of the made-up language, each the capital or the small letter of its pair.
LETTERS = dict(zip("abcdefghijklmnopqrstuvwxyz", "àƀçďéƒğĥîĵķļṁñöṗɋřšţûṽŵẋýž", strict=True))
LETTERS |= {small.upper(): other.upper() for small, other in LETTERS.items()}
_BRACES = re.compile(r"(\{[^{}]*\})")
_WORD = re.compile(r"[A-Za-zÀ-ÿ]+")
_TEXT = re.compile(r'("(?:[^"\\]|\\.)*")(\s*:)?')  # a text in quotes, and whether it is a key
_PLAIN = re.compile(r"[a-z]{2,}|[A-Z][a-z]+")


def _word(word: str, longer: float) -> str:
    """Its letters changed, and the first vowel (or letter) said again until the word is long enough."""
    at = next((i for i, letter in enumerate(word) if letter.lower() in "aeiou"), 0)
    more = round(len(word) * longer) - len(word)
    if len(word) < 2 or word.isupper():
        return word  # the name of a line, "x", "a"; points and signs, "AB", "CSV"
    said = word[: at + 1] + word[at].lower() * max(0, more) + word[at + 1 :]
    return "".join(LETTERS.get(letter, letter) for letter in said)


def marked(text: str, longer: float = LONGER) -> str:
    """The text in the made-up language; its fields stay as they are."""

    def piece(part: str) -> str:
        if not part.startswith("{"):
            return _WORD.sub(lambda found: _word(found[0], longer), part)
        name, colon, asked = part[1:-1].partition(":")
        return (
            "{"
            + name
            + colon
            + ("|".join(marked(one, longer) for one in asked.split("|")) if "|" in asked else asked)
            + "}"
        )

    return "".join(piece(part) for part in _BRACES.split(text))


def unmarked(text: str) -> list[str]:
    """The words of a text that no catalogue of the made-up language has said."""
    return [word for word in re.findall(r"[^\W\d_]+", text) if _PLAIN.fullmatch(word)]


def catalogues() -> dict[str, dict[str, str]]:
    """area → its sentences."""
    return {
        one.name: {key: marked(text) for key, text in import_module(f"app.words.en.{one.name}").WORDS.items()}
        for one in iter_modules(app.words.en.__path__)
    }


def _house() -> House:
    us = HOUSES["us"]
    return House(
        CODE,
        marked("Pseudo"),
        CODE,
        {key: marked(name) for key, name in us.names.items()},
        {key: marked(name) for key, name in us.shorts.items()},
        {key: marked(name) for key, name in us.terms.items()},
    )


def register() -> None:
    """The folder of catalogues and the lines in the tables, in this process."""
    package = ModuleType(f"app.words.{CODE}")
    package.__path__ = []
    sys.modules[package.__name__] = package
    for area, words in catalogues().items():
        module = ModuleType(f"{package.__name__}.{area}")
        module.WORDS = words  # type: ignore[attr-defined]
        sys.modules[module.__name__] = module
    LANGUAGES[CODE] = marked("Pseudo")
    HOUSES[CODE] = _house()
    OWN_HOUSE[CODE] = CODE


@contextmanager
def spoken() -> Iterator[None]:
    """The made-up language is one of ours until the end of the block."""
    before = set(sys.modules)
    register()
    try:
        yield
    finally:
        for name in set(sys.modules) - before:
            if name.startswith(f"app.words.{CODE}"):
                del sys.modules[name]
        del LANGUAGES[CODE], HOUSES[CODE], OWN_HOUSE[CODE]
        for kept in (catalogue, rendering._pieces, rendering._names, rendering._named):
            kept.cache_clear()


def _relettered(text: str, longer: float) -> str:
    """A file of quoted texts, each of them marked."""
    return _TEXT.sub(
        lambda found: found[0] if found[2] else json.dumps(marked(json.loads(found[1]), longer), ensure_ascii=False),
        text,
    )


def write_static(at: Path) -> Path:
    """A copy of `static/` with the catalogues of the made-up language beside the others."""
    shutil.copytree(ROOT / "static", at)
    folder = at / "words" / CODE
    folder.mkdir()
    for path in sorted((at / "words" / "en").glob("*.js")):
        folder.joinpath(path.name).write_text(_relettered(path.read_text(encoding="utf-8"), LONGER), encoding="utf-8")
    return at


def pack_in(text: str) -> str:
    """A pack's file of Spanish words as one of the made-up language."""
    whole = re.sub(r'"""(.*?)"""', lambda found: f'"""{marked(found[1], 1)}"""', text, flags=re.S)
    lines, inside = [], False
    for line in whole.splitlines():
        was = inside
        inside ^= line.count('"""') % 2 == 1
        lines.append(line if was or inside or '"""' in line or line.startswith(("#", "[")) else _relettered(line, 1))
    return "\n".join(lines) + "\n"


def write_packs(at: Path) -> Path:
    """A copy of the packs that has their words in the made-up language too."""
    shutil.copytree(ROOT / "lesson_packs", at)
    for path in at.glob("*/text.es.toml"):
        path.with_name(f"text.{CODE}.toml").write_text(pack_in(path.read_text(encoding="utf-8")), encoding="utf-8")
    return at
