"""Each language says all that English says, with the same fields, and leaves nothing in English."""

from __future__ import annotations

import re
from importlib import import_module
from itertools import chain
from pkgutil import iter_modules
from string import Formatter

import pytest

import app.words.en
from app.words import LANGUAGES, catalogue

AREAS = sorted(module.name for module in iter_modules(app.words.en.__path__))
OTHERS = sorted(set(LANGUAGES) - {"en"})

# Common English words that are no Spanish ones (so "no", "son", "sin", "as", "a", "me", "ten", "once", "sea", "come",
# "he", "use", "rectangular", "par" and their like are left out).
ENGLISH = frozenset(
    """the of and to is it in you that was for on are with his they at be this have from or had by not but what all were
    we when your can said there an each which she do how their if will up other about out many then them these so some
    her would make like him into has look two more write go see number could people my than first been who its now find
    long down day did get made may part over new sound take only little work know place year live back give most very
    after things our just name good sentence man think say great where help through much before line right too means old
    any same tell boy follow came want show also around form three small set put end does another well large must big
    even such because turn here why ask went men read need land different home us move try kind hand picture again
    change off play spell air away house point page letter mother answer found study still learn should world
    angle angles lines parallel statement reason row rows given proof prove theorem converse hint step check choose
    figure board seat desk pack task period sheet key code open close next undo measure measures compass arc circle
    nothing none yes wrong correct save saved remove print student teacher class question answers both meet cross
    left high low below above inside outside side sides pair pairs draw drawn straightedge opening swing""".split()  # noqa: SIM905
)
# Words of the program's own formats and commands, which no language translates, and names.
OWN = re.compile(
    r"`[^`]*`|\"[^\"]*\"|“(?:rows|statement|reason|from|figure|given|eight-angles teacher)”|Eight Angles|"
    r"\bexpect = |eight-angles(?: sheet)?|make-parallel|pack\.toml|\{\{.*?\}\}|\{[^{}|]*\}|postulate o theorem|true o false|"
    r"id, hidden|\bname-pairs-1|--[a-z]+|\bop\b|possible = false|not_to_scale"
)


def fields_of(text: str) -> set[str]:
    return {name for _, name, _, _ in Formatter().parse(text) if name is not None}


def own_words(area: str, language: str) -> dict[str, str]:
    """What the language itself says, without the English that would stand in."""
    words: dict[str, str] = import_module(f"app.words.{language}.{area}").WORDS
    return words


def english_in(text: str) -> list[str]:
    words = re.findall(r"[^\W\d_]+", OWN.sub(" ", text).casefold())
    return [word for word in words if word in ENGLISH]


EVERY = list(chain.from_iterable(((language, area) for area in AREAS) for language in OTHERS))


@pytest.mark.parametrize(("language", "area"), EVERY)
def test_a_language_has_every_sentence_with_its_fields(language: str, area: str) -> None:
    english, other = catalogue(area), own_words(area, language)

    assert set(other) == set(english)
    assert {key: fields_of(text) for key, text in other.items()} == {
        key: fields_of(text) for key, text in english.items()
    }
    assert [key for key, text in other.items() if not text.strip() and english[key].strip()] == []


@pytest.mark.parametrize(("language", "area"), EVERY)
def test_no_english_is_left(language: str, area: str) -> None:
    found = {key: words for key, text in own_words(area, language).items() if (words := english_in(text))}

    assert found == {}


def test_the_list_of_english_words_finds_english() -> None:
    """The check above would pass on anything if its list found nothing: it finds most of the English catalogues."""
    sentences = [text for area in AREAS for text in catalogue(area).values() if len(text.split()) > 5]

    assert len(sentences) > 500
    assert sum(bool(english_in(text)) for text in sentences) > 0.97 * len(sentences)


@pytest.mark.parametrize("area", AREAS)
def test_spanish_questions_and_exclamations_are_opened_and_closed(area: str) -> None:
    wrong = [
        key
        for key, text in own_words(area, "es").items()
        if text.count("¿") != text.count("?") or text.count("¡") != text.count("!") or re.search(r"\s[?!]|[¿¡]\s", text)
    ]

    assert wrong == []


@pytest.mark.parametrize("area", AREAS)
def test_a_choice_of_number_has_two_words(area: str) -> None:
    """`{n:fila|filas}` has one word for one and one for more, and both stand in each language that has the sentence."""
    for language in LANGUAGES:
        for key, text in own_words(area, language).items():
            for _, name, spec, _ in Formatter().parse(text):
                if spec and "|" in spec:
                    one, many = spec.split("|")
                    assert name and one and many and one != many, f"{language} {area}.{key}"


@pytest.mark.parametrize("area", AREAS)
def test_spanish_quotes_and_brackets_are_closed(area: str) -> None:
    pairs = (("“", "”"), ("(", ")"), ("«", "»"))
    words = own_words(area, "es")
    english = catalogue(area)
    wrong = [
        key
        for key, text in words.items()
        for a, b in pairs
        if text.count(a) != text.count(b) and english[key].count(a) == english[key].count(b)
    ]

    assert wrong == []
