"""The shipped packs are whole in Spanish: no text is left out, and no English stands in what a Spanish class sees."""

from __future__ import annotations

import tomllib
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from app.lessons.load import load_pack
from tests.words.test_languages import english_in

PACKS = sorted(path.parent for path in (Path(__file__).resolve().parents[2] / "lesson_packs").glob("*/pack.toml"))
OF_PACK = ("title", "summary", "aims", "vocabulary", "materials", "before", "scenario", "notes")
OF_NOTES = ("say", "look_for", "support", "stretch", "wrong_turns")


def needed(pack: dict[str, Any]) -> Iterator[tuple[str, ...]]:
    """Where the pack has words, by their place in a translation."""
    yield from (("pack", key) for key in OF_PACK if pack["pack"].get(key))
    for part in pack["parts"]:
        yield "parts", part["id"], "title"
        yield from (("parts", part["id"], "notes", key) for key in OF_NOTES if part.get("notes", {}).get(key))
        for task in part["tasks"]:
            yield from (("tasks", task["id"], key) for key in ("title", "ask", "notes") if task.get(key))
            question = task.get("question", {})
            yield from (
                ("tasks", task["id"], word)
                for word, key in (("question", "ask"), ("choices", "choices"), ("why", "why"))
                if question.get(key)
            )


def found(tables: Any, place: tuple[str, ...]) -> Any:
    for key in place:
        tables = tables.get(key) if isinstance(tables, dict) else None
    return tables


@pytest.mark.parametrize("folder", PACKS, ids=lambda folder: folder.name)
def test_every_text_of_a_pack_has_its_spanish(folder: Path) -> None:
    pack = tomllib.loads((folder / "pack.toml").read_text("utf-8"))
    spanish = tomllib.loads((folder / "text.es.toml").read_text("utf-8"))
    places = list(needed(pack))

    assert len(places) > 40
    assert [place for place in places if not found(spanish, place)] == []
    # A list has as many entries as the one that it stands for.
    for place in places:
        english = {
            **{
                f"tasks.{task['id']}.choices": task["question"]["choices"]
                for part in pack["parts"]
                for task in part["tasks"]
                if "choices" in task.get("question", {})
            }
        }.get(".".join(place))
        if english:
            assert len(found(spanish, place)) == len(english), place


def texts(value: Any) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, dict):
        for inner in value.values():
            yield from texts(inner)
    elif isinstance(value, list):
        for inner in value:
            yield from texts(inner)


@pytest.mark.parametrize("folder", PACKS, ids=lambda folder: folder.name)
@pytest.mark.parametrize("house", ["es", "es-same-side", "es-collateral"])
def test_a_spanish_class_gets_the_pack_without_english(folder: Path, house: str) -> None:
    pack = load_pack(folder, house=house, language="es")
    said = [
        pack.title,
        pack.summary,
        *pack.aims,
        *pack.vocabulary,
        *pack.materials,
        *pack.before,
        pack.scenario,
        pack.notes,
    ]
    for part in pack.parts:
        said += [part.title, *texts(part.notes.model_dump() if part.notes else {})]
        for task in part.tasks:
            said += [task.title, task.ask, task.notes, *texts(task.data.get("question") or {})]

    assert [(text, words) for text in said if (words := english_in(text or ""))] == []


def test_names_in_braces_stand_small_inside_a_sentence() -> None:
    pack = load_pack(PACKS[1], house="es", language="es")
    assert (
        pack.aims[2]
        == "Demostrar los otros recíprocos a partir del recíproco del postulado de los ángulos correspondientes."
    )
    chain = {task.id: task for part in pack.parts for task in part.tasks}
    assert chain["chain-alternate-interior"].title == "Ángulos alternos internos: sigue la demostración"
