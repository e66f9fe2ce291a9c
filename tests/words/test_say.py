"""Sentences are made in the language of whoever is being answered, with what the sentence asks of its fields."""

from __future__ import annotations

from threading import Thread

import pytest

from app.words import language_of, speak, speaking, tell


def test_a_language_holds_inside_its_block_and_in_its_thread_alone() -> None:
    heard: list[str] = []
    with speak("es"):
        thread = Thread(target=lambda: heard.append(speaking()))
        thread.start()
        thread.join()
        assert speaking() == "es"
        with speak("en"):
            assert speaking() == "en"
        assert speaking() == "es"

    assert heard == ["en"]
    assert speaking() == "en"


@pytest.mark.parametrize(("tag", "code"), [("es-MX", "es"), ("ES", "es"), ("en_GB", "en"), ("fr", "en"), ("", "en")])
def test_a_tag_stands_for_a_language_that_is_spoken_here(tag: str, code: str) -> None:
    assert language_of(tag) == code


def test_a_missing_field_is_our_mistake() -> None:
    with pytest.raises(KeyError):
        tell("door.go_on")
    with pytest.raises(KeyError):
        tell("door.no_such_words")


def test_a_sentence_may_ask_something_of_its_fields(monkeypatch: pytest.MonkeyPatch) -> None:
    from app.words import rendering

    book = {"rows": "{n} {n:fila|filas}", "low": "por el {theorem:low}", "cap": "{word:cap} no ayuda.", "plain": "{x}"}
    monkeypatch.setattr(rendering, "catalogue", lambda area, language="en": book)
    rendering._pieces.cache_clear()
    try:
        assert tell("any.rows", n=1) == "1 fila"
        assert tell("any.rows", n=2) == "2 filas"
        assert tell("any.low", theorem="Teorema del ángulo exterior") == "por el teorema del ángulo exterior"
        assert tell("any.low", theorem="∠1 ≅ ∠5") == "por el ∠1 ≅ ∠5"
        assert tell("any.cap", word="congruentes") == "Congruentes no ayuda."
        assert tell("any.plain", x="{y}") == "{y}"
    finally:
        rendering._pieces.cache_clear()
