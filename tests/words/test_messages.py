"""Messages: said the same in every language and house, kept as data, never finished below the pages."""

from __future__ import annotations

import ast
import json
import pickle
import re
from collections.abc import Iterator
from dataclasses import fields as fields_of
from dataclasses import is_dataclass
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from app.classroom.kinds import kind_module
from app.classroom.verdict import Context
from app.figure.faults import Fault
from app.lessons.load import load_pack
from app.practice.families import FAMILIES, LEVELS, item
from app.practice.judging import judge, key_shown
from app.reasoning.theorems import TABLE
from app.words import LANGUAGES, Message, Reader, joined, pack, reading, render, say, short, tell, term, theorem, unpack
from app.words.house import HOUSES, PAIR_TERMS, house
from app.words.rendering import has
from tests.web.running import ROOT
from tests.words.pseudo import CODE, spoken, unmarked

PACKS = ("proving-lines-parallel", "other-constructions", "solve-and-practice", "twelve-proofs")
SEEDS = 3  # of each family and level, from 1; the walk is the same in every run
READERS = [Reader(language, house) for language in LANGUAGES for house in HOUSES]
# Below the pages, who may make a sentence, and why.
MAY_SAY = {
    "figure/faults.py": "a fault is told to whoever catches it",
    "figure/words.py": "the length of a title, and the words that a task hides, go by the English",
    "figure/picture.py": "a picture is shown as it leaves",
    "construction/picture.py": "a picture is shown as it leaves",
    "construction/strip.py": "a printed strip",
    "practice/judging.py": "what was sent is compared with what a page may have shown",
    "practice/families/writing.py": "the sentence that is the key must be read back",
    "lessons/cli.py": "a command",
    "lessons/faults.py": "a fault is told to whoever catches it",
}
BELOW = ("figure", "reasoning", "construction", "practice", "lessons", "classroom", "store")


def test_a_message_is_a_value_and_nobody_takes_it_apart() -> None:
    one, same = (
        say("reasoning.note_follows", reason=theorem("linear-pair"), rows=joined("and", ["1", "2"])) for _ in "ab"
    )

    assert one == same
    assert hash(one) == hash(same)
    assert {one: 1}[same] == 1
    assert one != say("reasoning.note_given")
    assert pickle.loads(pickle.dumps(one)) == one
    with pytest.raises(AttributeError):
        one.code = "reasoning.note_given"
    for surgery in (
        lambda: one + "x",
        lambda: one[:1],
        lambda: "x" in one,
        lambda: "".join([one]),
        lambda: one.upper(),
    ):  # type: ignore[operator, index, list-item, attr-defined]
        with pytest.raises((TypeError, AttributeError)):
            surgery()


@pytest.mark.parametrize(
    ("key", "spoken"),
    [
        # ("uk" names are sentences: as a noun they stand quoted, with no article)
        ("us", "It follows by Alternate Interior Angles Converse."),
        ("uk", "It follows by “alternate angles are equal, so parallel”."),
    ],
)
def test_a_name_has_the_form_that_its_sentence_needs(key: str, spoken: str) -> None:
    note = say("reasoning.note_other", why="", other=theorem("alternate-interior-angles-converse"))
    assert render(note, Reader("en", key)).endswith(spoken)


def test_the_uk_names_stand_right_in_sentences() -> None:
    """F2-13: "so m ∥ n by the Alternate angles are equal, so parallel"."""
    uk = Reader("en", "uk")
    so = say(
        "angles.key",
        relation="∠3 ≅ ∠6",
        name=term("alternate interior"),
        t="t",
        l="l",
        m="m",
        theorem=theorem("alternate-interior-angles-converse"),
    )
    assert render(so, uk) == (
        "∠3 ≅ ∠6, alternate angles on transversal t, so l ∥ m by “alternate angles are equal, so parallel”."
    )
    starts = say("angles.original", named=theorem("vertical-angles"), l="l", m="m")
    assert render(starts, uk).startswith("“Vertically opposite angles are equal” starts from parallel lines")
    assert render(starts, Reader("en", "us")).startswith("The Vertical Angles Theorem starts from parallel lines")
    for house_key in HOUSES:
        for name in TABLE:
            for area, key in (("angles", "right_given"), ("practice", "key_by"), ("angles", "theorem_other")):
                given = dict.fromkeys(("lie", "relation", "l", "m", "spoken"), "x")
                text = render(
                    say(f"{area}.{key}", theorem=theorem(name), named=theorem(name), **given), Reader("en", house_key)
                )
                assert not re.search(r"\b[Tt]he (the|“|Given\b)", text), text


def test_a_list_is_said_as_the_language_says_it() -> None:
    parts = ["∠1", "∠2", "∠3"]
    assert [render(joined(how, parts), Reader(tongue)) for how in ("and", "or") for tongue in ("en", "es")] == [
        "∠1, ∠2 and ∠3",
        "∠1, ∠2 y ∠3",
        "∠1, ∠2 or ∠3",
        "∠1, ∠2 o ∠3",
    ]


def test_messages_are_kept_as_data_and_sentences_stay_sentences() -> None:
    one = say("prove.row_fails", row=2, note=joined("sentences", [say("reasoning.note_given"), say("prove.read")]))
    verdict = {
        "text": one,
        "parts": [{"text": one, "ok": False}],
        "old": "Row 2: Given.",
        "half": Fraction(1, 2),
        "n": 3,
    }
    kept = json.loads(json.dumps(pack(verdict)))

    assert kept["text"]["$say"] == 1
    assert unpack(kept) == {**verdict, "half": "1/2"}


@pytest.mark.parametrize(
    "forged",
    [
        {"$say": 1, "code": "web.status_400", "fields": {}},
        {"$say": 1, "code": "no.such", "fields": {}},
        {"$say": 1, "code": 5, "fields": []},
    ],
)
def test_nobody_else_puts_messages_into_what_is_kept(forged: dict[str, Any]) -> None:
    assert not list(messages(unpack(json.loads(json.dumps(pack({"echo": forged}))))))


def test_words_that_are_gone_are_said_to_be_gone() -> None:
    for code, given in (("reasoning.note_of_another_year", {}), ("prove.row_fails", {"row": 1}), ("no_area.x", {})):
        kept = {"$say": 1, "code": code, "fields": given}
        assert render(unpack(kept), Reader()) == tell("web.words_gone")


# Every message of the packs' tasks and of the exercises.


def messages(value: Any) -> Iterator[Message]:
    if isinstance(value, Message):
        yield value
        for inner in value.fields.values():
            yield from messages(inner)
    elif isinstance(value, dict):
        for one in value.values():
            yield from messages(one)
    elif isinstance(value, (list, tuple)):
        for one in value:
            yield from messages(one)
    elif is_dataclass(value) and not isinstance(value, type):
        for one in fields_of(value):
            yield from messages(getattr(value, one.name))


def tried(make: Any) -> Any:
    """What it answers; of a fault, its message."""
    try:
        return make()
    except Fault as fault:
        return fault.message


def replies_to(task: dict[str, Any], key: dict[str, Any]) -> Iterator[dict[str, Any]]:
    """Right ones, wrong ones and none: enough of each kind to hear what it has to say."""
    yield {}
    yield {"none": True}
    yield {"not_forced": True}
    yield {"read": True}
    if "rows" in key and key["rows"]:
        rows = [{name: row[name] for name in ("statement", "reason", "from")} for row in key["rows"]]
        yield {"rows": rows}
        yield {"rows": rows[::-1]}
        yield {"rows": [{**row, "reason": "vertical-angles", "from": None} for row in rows]}
        yield {"rows": [{**row, "statement": row["statement"].replace("∥", "∦")} for row in rows]}
        for n in range(len(rows)):
            yield {"rows": rows[:n] + rows[n + 1 :]}
    for one in key.get("accepted", []):
        yield {name: one[name] for name in ("angles", "pair", "transversal", "relation", "lines", "theorem")}
        for wrong in ("corresponding-angles", "alternate-interior-angles-converse", "looks", "vertical-angles"):
            yield {
                **{name: one[name] for name in ("angles", "pair", "transversal", "relation", "lines")},
                "theorem": wrong,
            }
    if task["kind"] == "classify" and task.get("pairs"):
        for name in PAIR_TERMS:
            yield {"names": {",".join(pair): name for pair in task["pairs"]}}
    if task["kind"] == "construct":
        moves = key.get("moves") or []
        for n in range(len(moves) + 1):
            yield {"moves": moves[:n], "result": key.get("result")}
    if "key" in key:
        yield {"answer": key["key"]}
        yield {"answer": dict.fromkeys(key["key"], "1") if isinstance(key["key"], dict) else "1"}


def walk() -> dict[Message, None]:
    found: dict[Message, None] = {}

    def heard(value: Any) -> Any:
        found.update(dict.fromkeys(messages(value)))
        return value

    ctx = Context(7, house())
    for name in PACKS:
        for task in load_pack(ROOT / "lesson_packs" / name).tasks():
            module, data = kind_module(task.kind), dict(task.data)
            heard(module.public(data, ctx))
            key = heard(tried(lambda: module.key(data, ctx)))  # noqa: B023
            for reply in replies_to(data, key if isinstance(key, dict) else {}):
                heard(tried(lambda: module.judge(data, reply, ctx)))  # noqa: B023
            for level in (1, 2, 3, "point", "principle", "show"):
                if hasattr(module, "ask"):
                    heard(tried(lambda: module.ask(data, "hint", {"level": level, "rows": []}, ctx)))  # noqa: B023
    for family in FAMILIES:
        for level in range(1, LEVELS[family] + 1):
            for seed in range(1, SEEDS + 1):
                made = heard(item(family, seed, level))
                heard(tried(lambda: judge(made, key_shown(made))))  # noqa: B023
                for wrong in made.traps.values():
                    answer = {
                        **{n: v[0] for n, v in made.key.items()},
                        **{n: v.split("|")[0] for n, v in wrong.items()},
                    }
                    heard(tried(lambda: judge(made, answer)))  # noqa: B023
    for row in TABLE.values():
        heard(row.card())
    return found


@pytest.fixture(scope="module")
def said() -> dict[Message, None]:
    """What the walk hears, with every attempt to make a sentence on the way caught."""
    made: list[str] = []

    def caught(self: Message) -> str:
        made.append(repr(self))
        return "?"

    patch = pytest.MonkeyPatch()
    patch.setattr(Message, "__str__", caught)
    try:
        found = walk()
    finally:
        patch.undo()
    assert made == []
    return found


def test_the_walk_hears_much(said: dict[Message, None]) -> None:
    codes = {message.code for message in said}
    areas = {
        area: sum(code.startswith(area + ".") for code in codes)
        for area in ("reasoning", "prove", "angles", "construction", "practice", "connect", "figure", "house", "join")
    }
    assert len(codes) > 400, areas
    assert all(areas.values()), areas


@pytest.mark.parametrize("who", READERS, ids=lambda one: f"{one.language}-{one.house}")
def test_every_message_is_said_to_every_reader(said: dict[Message, None], who: Reader) -> None:
    for message in said:
        text = render(message, who)
        # `{first}` and `{last}` are the places in a page's own pattern of a sentence.
        assert not re.search(r"[{}]", text.replace("{first}", "").replace("{last}", "")), (message, text)
        assert "say(" not in text, (message, text)


def test_no_message_says_a_word_that_no_catalogue_has(said: dict[Message, None]) -> None:
    """In a language of other letters (`pseudo`), whatever was put into a message as finished English is seen."""
    plain: dict[str, tuple[str, list[str]]] = {}
    with spoken():
        who = Reader(CODE, CODE)
        for message in said:
            text = render(message, who).replace("{first}", "").replace("{last}", "")
            if words := unmarked(text):
                plain.setdefault(message.code, (text, words))
    assert plain == {}


def test_every_message_can_be_kept(said: dict[Message, None]) -> None:
    for message in said:
        again = unpack(json.loads(json.dumps(pack(message))))
        assert again.code == message.code
        assert render(again, Reader()) == render(message, Reader())  # numbers that are fractions come back as text


def test_every_code_in_the_sources_is_in_the_catalogues() -> None:
    """`say("area.key")` is said late, so a slip of the pen is looked for here."""
    unknown = []
    for path in sorted((ROOT / "app").rglob("*.py")):
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            if (
                not isinstance(node, ast.Call)
                or getattr(node.func, "id", "") not in ("say", "tell", "Fault")
                or not node.args
            ):
                continue
            code = node.args[0]
            if isinstance(code, ast.Constant) and not has(str(code.value)):
                unknown.append(f"{path.name}:{node.lineno} {code.value}")
    assert unknown == []


def test_below_the_pages_nothing_makes_a_sentence() -> None:
    found = set()
    for folder in BELOW:
        for path in sorted((ROOT / "app" / folder).rglob("*.py")):
            tree = ast.parse(path.read_text(encoding="utf-8"))
            names = {
                one.name
                for node in ast.walk(tree)
                if isinstance(node, ast.ImportFrom) and node.module and node.module.startswith("app.words")
                for one in node.names
            }
            if names & {"tell", "render", "plain", "speak", "reading"}:
                found.add(Path(path).relative_to(ROOT / "app").as_posix())
    assert found == set(MAY_SAY)


def test_whoever_reads_is_whoever_reads_now() -> None:
    one = say("reasoning.note_given")
    with reading(Reader("es", "es")):
        assert str(one) == render(one, Reader("es", "es")) != render(one, Reader())
        assert f"{short('given')}" == HOUSES["es"].short("given")
    assert str(one) == "Given."
