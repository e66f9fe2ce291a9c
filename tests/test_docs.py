"""What the program can do is described: README.md and DEVELOPERS.md against the code."""

from __future__ import annotations

import argparse
import ast
import re
from collections.abc import Iterable
from dataclasses import fields
from importlib import import_module
from pathlib import Path
from typing import Any

import pytest
from pydantic import BaseModel

from app.lessons import schema
from app.lessons.kinds import MODELS
from app.lessons.shape import _models
from app.lessons.vocabulary import SKILLS, families
from app.reasoning.theorems import REASONS
from app.settings import Settings
from app.words.house import HOUSES

ROOT = Path(__file__).resolve().parents[1]
README = (ROOT / "README.md").read_text(encoding="utf-8")
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
BOTH = README + DEVELOPERS


def code(text: str) -> set[str]:
    """Everything set as code, and each word in it."""
    found = set(re.findall(r"`([^`\n]+)`", text))
    return found | {word for one in found for word in re.split(r"[\s,=\[\]{}()]+", one)}


def missing(names: Iterable[str], text: str) -> list[str]:
    described = code(text)
    return [name for name in names if name not in described]


def section(title: str) -> str:
    """A section of DEVELOPERS.md, to the next heading of its level."""
    return DEVELOPERS.split(f"\n## {title}\n")[1].split("\n## ")[0]


def test_every_theorem_is_listed() -> None:
    assert missing(REASONS, section("The core")) == []


def test_every_kind_skill_family_and_house_is_described() -> None:
    assert missing([*MODELS, *SKILLS, *families(), *HOUSES], DEVELOPERS) == []


def keys_of(model: type[BaseModel]) -> set[str]:
    """The keys of a model and of those inside it."""
    found = set()
    for name, info in model.model_fields.items():
        found.add(info.alias or name)
        for inner in _models(info.annotation):
            found |= keys_of(inner)
    return found


@pytest.mark.parametrize(
    "model",
    [schema.FileShape, schema.PartShape, schema.FigureTable, schema.Translation, *MODELS.values()],
    ids=lambda model: model.__name__,
)
def test_every_key_of_a_pack_is_described(model: Any) -> None:
    # The outermost keys are headings and table names there: `[figures.<name>]`, `[[parts]]`.
    text = section("Packs").replace(".<name>", "")

    assert missing(keys_of(model), text) == []


def test_the_limits_of_packs_are_the_documented_ones() -> None:
    limits = section("Packs").split("#### Limits")[1].split("####")[0]

    assert [int(n) for n in re.findall(r"\d+", limits)] == [
        schema.LIMITS[name]
        for name in ("file", "line", "parts", "tasks", "title", "ask", "prose", "given", "rows", "choices", "list")
    ]
    assert f"`format = {schema.FORMAT}`" in section("Packs")


def test_every_setting_is_described() -> None:
    settings = [field.name.upper() for field in fields(Settings) if field.name != "listens"]
    assert missing(settings, README.split("## Settings")[1]) == []


# Commands whose options belong to another layer.
BORROWED = {"packs": "lessons", "sheet": "sheets"}


def commands(parser: argparse.ArgumentParser) -> dict[str, argparse.ArgumentParser]:
    action = next(a for a in parser._actions if isinstance(a, argparse._SubParsersAction))
    return dict(action.choices)


def test_every_command_and_option_is_described() -> None:
    from app.cli import parser

    table = README.split("## Commands")[1].split("\n## ")[0]
    for name, command in commands(parser()).items():
        assert f"eight-angles {name}" in table, name
        if name in ("packs", "sheet"):
            command = argparse.ArgumentParser()
            import_module(f"app.{BORROWED[name]}.cli").add_arguments(command)
        options = [o for action in command._actions for o in action.option_strings if o.startswith("--")]
        assert [o for o in options if o != "--help" and o not in BOTH] == [], name


def test_every_command_shown_can_be_given() -> None:
    from app.cli import parser

    shown = re.findall(r"^\.venv/bin/eight-angles (.*)$", README + DEVELOPERS, re.M)
    assert len(shown) >= 4
    for line in shown:
        words = line.split("  ")[0].split()
        if words[0] in BORROWED:
            borrowed = argparse.ArgumentParser()
            import_module(f"app.{BORROWED[words[0]]}.cli").add_arguments(borrowed)
            borrowed.parse_args(words[1:])
        else:
            parser().parse_args(words)


def test_every_address_is_described() -> None:
    from app import create_app

    def bare(rule: str) -> str:
        return re.sub(r"<[^>]*>", "<>", rule)

    described = {bare(one) for text in code(DEVELOPERS) for one in [text]}
    absent = []
    for rule in create_app({"TESTING": True}).url_map.iter_rules():
        alternatives = re.search(r"<any\(([^)]*)\):[^>]*>", rule.rule)
        if alternatives:
            rules = [rule.rule.replace(alternatives[0], one.strip()) for one in alternatives[1].split(",")]
        else:
            rules = [rule.rule]
        absent += [one for one in rules if bare(one) not in described]
    assert absent == []


def test_the_example_for_scripts_runs() -> None:
    example = re.search(r"```python\n(.*?)```", section("Addresses for scripts"), re.DOTALL)
    assert example
    names: dict[str, Any] = {}

    exec(example[1], names)  # noqa: S102 - our own example, word for word

    assert names["client"]


FIGURE = {
    "lines": {
        "m": {"direction": 10, "through": [0, 2]},
        "n": {"direction": 10, "through": [0, -2]},
        "t": {"direction": 70, "through": [0, 0]},
    },
    "number": "standard",
    "transversal": "t",
}
QUESTION = {"figure": FIGURE, "given": ["∠3 ≅ ∠6"], "goal": "m ∥ n", "claim": "m ∥ n"}
CALLS: dict[str, dict[str, Any] | None] = {
    "POST /api/figure/pairs": {"figure": FIGURE, "angles": ["1", "5"]},
    "POST /api/figure/words": {"figure": FIGURE},
    "POST /api/reasoning/follows": QUESTION,
    "POST /api/reasoning/prove": QUESTION,
    "POST /api/reasoning/check": {**QUESTION, "rows": [{"statement": "∠3 ≅ ∠6", "reason": "given"}]},
    "POST /api/construction/check": {
        "task": "bisect a segment",
        "start": {"segment": ["A", "B"], "points": {"A": [0, 0], "B": [4, 1]}},
        "moves": [{"op": "arc", "name": "a", "center": "A", "opening": ["A", "B"]}],
    },
    "GET /api/practice/make-parallel?seed=7&level=2": None,
    "POST /api/practice/make-parallel/check": {"seed": 7, "level": 2, "answer": {"x": 1}},
}


@pytest.mark.parametrize("call", CALLS)
def test_an_address_answers_what_its_row_says(call: str) -> None:
    from app import create_app

    verb, path = call.split()
    described = re.sub(r"/make-parallel", "/<family>", path.split("?")[0])
    row = next(line for line in DEVELOPERS.splitlines() if line.startswith(f"| `{verb} {described}`"))
    promised = row.split("→")[1].strip().strip("|").strip()
    inner = re.sub(r"\[.*?\]", "", promised.split("`{")[1].split("}`")[0])
    keys = {word.strip().rstrip("?") for word in re.split(r"[,:]", inner)} - {"", "…"}

    answer = create_app({"TESTING": True}).test_client().open(path, method=verb, json=CALLS[call])

    assert answer.status_code == 200
    assert keys <= set(answer.get_json()), (keys, answer.get_json())


def test_the_example_of_a_translation_fits_the_core_pack() -> None:
    from app.lessons.load import read_pack

    text = (ROOT / "lesson_packs" / "proving-lines-parallel" / "pack.toml").read_text(encoding="utf-8")
    example = re.findall(r"```toml\n(.*?)```", section("Packs"), re.DOTALL)[-1]

    pack = read_pack("core", text, {"es": example}, house="es", language="es")

    assert pack.title == "Demostrar que dos rectas son paralelas"


def test_links_lead_somewhere() -> None:
    for text in (README, DEVELOPERS):
        for target in re.findall(r"\]\(([^)]+)\)", text):
            file, _, anchor = target.partition("#")
            assert not file or (ROOT / file).is_file(), target
            if not anchor:
                continue
            page = (ROOT / file).read_text(encoding="utf-8") if file else text
            headings = {
                re.sub(r"[^\w\- ]", "", h).strip().lower().replace(" ", "-")
                for h in re.findall(r"^#+ (.*)$", page, re.M)
            }
            assert anchor in headings, target


def test_nothing_of_one_machine_stands_in_the_documents() -> None:
    assert not re.search(r"(?<![\w.>])/(tmp|home|root|work|usr|opt)/", BOTH)


def test_tables_in_docstrings_keep_their_lines() -> None:
    """One address, or one name, a line: a paragraph that was filled anew runs them into each other."""
    for path in sorted((ROOT / "app" / "web").glob("*.py")):
        said = ast.get_docstring(ast.parse(path.read_text(encoding="utf-8"))) or ""
        for line in said.splitlines():
            assert not re.search(r"\S.*\b(GET|POST|PUT|DELETE) +[/{]", line), f"{path.name}: {line}"
    for module, names in (("classroom/kinds/__init__.py", ("public", "judge", "ask", "key")),
                          ("construction/moves.py", ("point", "on", "line", "arc", "meet"))):  # fmt: skip
        said = ast.get_docstring(ast.parse((ROOT / "app" / module).read_text(encoding="utf-8"))) or ""
        for name in names:
            assert re.search(rf"^    {name}\b", said, re.MULTILINE), f"{module}: {name}"
