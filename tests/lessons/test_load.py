"""Packs from folders: houses, languages, the cache, the shelf, and the command."""

from __future__ import annotations

import argparse
import os
import textwrap
from pathlib import Path

import pytest

from app.lessons import cli
from app.lessons.faults import PackFaults
from app.lessons.load import find_packs, load_pack
from app.lessons.locate import Lines
from app.lessons.schema import LIMITS
from app.lessons.standards import STANDARDS, canonical
from app.lessons.text import fill, pieces, plain, text_fault

PACK = textwrap.dedent("""\
    format = 1
    [pack]
    title = "About {consecutive interior}"
    summary = "S"
    minutes = 10
    standards = ["G-CO.9"]
    [[parts]]
    id = "one"
    title = "One"
    minutes = 5
    [parts.notes]
    say = "Use the {consecutive-interior-angles-converse}."
    [[parts.notes.wrong_turns]]
    seen = "Calls them {corresponding}."
    respond = "Look again."
    [[parts.tasks]]
    id = "look"
    kind = "explore"
    title = "Look"
    ask = "Find the {consecutive interior}."
    notes = "Only for the teacher."
    movable = ["m"]
    [parts.tasks.question]
    ask = "What happened?"
    choices = ["this", "that"]
    answer = 0
    why = "Because."
    [parts.tasks.figure]
    number = "standard"
    transversal = "t"
    [parts.tasks.figure.lines]
    m = { direction = 40, through = [0, 2] }
    n = { direction = 10, through = [0, -2] }
    t = { direction = 80, through = [0, 0] }
""")

SPANISH = textwrap.dedent("""\
    format = 1
    [pack]
    title = "Sobre {consecutive interior}"
    [parts.one]
    title = "Uno"
    [tasks.look]
    ask = "Busca los {consecutive interior}."
    choices = ["esto", "aquello"]
""")


@pytest.fixture
def folder(tmp_path: Path) -> Path:
    pack = tmp_path / "shelf" / "about-pairs"
    pack.mkdir(parents=True)
    (pack / "pack.toml").write_text(PACK, encoding="utf-8")
    (pack / "text.es.toml").write_text(SPANISH, encoding="utf-8")
    return pack


def test_the_names_are_the_house_s(folder: Path) -> None:
    """Changing the set of names changes text with no change of the pack."""
    assert load_pack(folder).tasks()[0].ask == "Find the consecutive interior angles."
    assert load_pack(folder, house="us-same-side").tasks()[0].ask == "Find the same-side interior angles."
    assert load_pack(folder, house="uk").title == "About co-interior angles"
    notes = load_pack(folder, house="us-same-side").parts[0].notes
    assert notes is not None
    assert notes.say == "Use the Converse of the Same-Side Interior Angles Theorem."


def test_another_language_stands_beside_the_pack(folder: Path) -> None:
    pack = load_pack(folder, house="es", language="es")

    assert pack.languages == ["en", "es"]
    assert pack.language == "es"
    assert pack.title == "Sobre ángulos conjugados internos"
    assert pack.parts[0].title == "Uno"
    task = pack.tasks()[0]
    assert task.ask == "Busca los ángulos conjugados internos."
    assert task.data["question"]["choices"] == ["esto", "aquello"]
    assert task.data["question"]["why"] == "Because."  # not translated yet: the pack's own words stay
    assert load_pack(folder, language="fr").language == "en"


def test_data_is_what_the_kinds_get(folder: Path) -> None:
    data = load_pack(folder).tasks()[0].data

    assert "notes" not in data
    assert data["id"] == "look"
    assert data["movable"] == ["m"]
    assert data["measures"] == "toggle"
    # Numbered once, here: eight angles at two meets, and no meet where m and n cross far off the page.
    assert sorted(data["figure"]["angles"]) == [str(n) for n in range(1, 9)]
    assert len(data["figure"]["meets"]) == 2


def test_reading_again_costs_nothing_until_the_file_changes(folder: Path) -> None:
    first = load_pack(folder)
    assert load_pack(folder) is first

    file = folder / "pack.toml"
    file.write_text(PACK.replace('title = "Look"', 'title = "Look!"'), encoding="utf-8")
    os.utime(file, ns=(1, 1))

    assert load_pack(folder).tasks()[0].title == "Look!"
    assert load_pack(folder).digest != first.digest


def test_a_shelf_with_a_broken_pack_still_opens(folder: Path) -> None:
    broken = folder.parent / "broken"
    broken.mkdir()
    (broken / "pack.toml").write_text("format = 1\n", encoding="utf-8")
    (folder.parent / "not-a-pack").mkdir()

    found = find_packs(folder.parent)

    assert [one.name for one in found] == ["about-pairs", "broken"]
    assert found[0].pack is not None
    assert found[1].pack is None
    assert {fault.where for fault in found[1].faults} == {"pack", "parts"}


@pytest.mark.parametrize(
    ("content", "expected"),
    [
        (None, "no such file"),
        (b'format = 1\ntitle = "\xff"\n', "bytes that aren't UTF-8, from byte 20 on"),
        (b"#" * (LIMITS["file"] + 1), f"a file of at most {LIMITS['file']} bytes"),
    ],
    ids=["missing", "not UTF-8", "too big"],
)
def test_files_that_can_t_be_read(tmp_path: Path, content: bytes | None, expected: str) -> None:
    if content is not None:
        (tmp_path / "pack.toml").write_bytes(content)

    with pytest.raises(PackFaults, match=expected):
        load_pack(tmp_path)


def run(*words: str) -> int:
    parser = argparse.ArgumentParser()
    cli.add_arguments(parser)
    return cli.run(parser.parse_args(words))


def test_the_command_says_what_is_in_a_pack(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run("check", str(folder)) == 0
    assert capsys.readouterr().out == (
        "about-pairs: in order. About consecutive interior angles: 1 parts, 1 tasks, 5 minutes. Standards: HSG-CO.C.9.\n"
    )


def test_the_command_tells_every_fault_of_every_pack(folder: Path, capsys: pytest.CaptureFixture[str]) -> None:
    other = folder.parent / "other"
    other.mkdir()
    (other / "pack.toml").write_text(PACK.replace("minutes = 5", "minutes = 50").replace("movable", "moveable"))

    assert run("check", str(folder.parent)) == 1

    out = capsys.readouterr().out
    assert "about-pairs: in order." in out
    assert "other: 2 to mend" in out
    assert "Did you mean “movable”?" in out
    assert "parts that fit the 10 minutes of the pack" in out


def test_the_command_on_an_empty_folder(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run("check", str(tmp_path)) == 1
    assert "a pack is a folder with a file pack.toml" in capsys.readouterr().out


def test_lines_of_keys() -> None:
    lines = Lines(
        textwrap.dedent('''\
        format = 1
        # parts = 2
        [pack]
        title = "x"
        notes = """
        title = "not a key"
        [not.a.table]
        """
        [[parts]]
        id = "a"
        [[parts.tasks]]
        id = "b"
        start = { point = "P", line = ["A", "B"] }
        [[parts]]
        [[parts.tasks]]
        "odd key".x = 3
    ''')
    )

    assert lines.find(("pack", "title")) == 4
    assert lines.find(("parts", 0, "id")) == 10
    assert lines.find(("parts", 0, "tasks", 0, "start", "line")) == 13
    assert lines.find(("parts", 1, "tasks", 0, "odd key", "x")) == 16
    assert lines.find(("parts", 1, "tasks", 0, "missing")) == 15
    assert lines.find(("nowhere",)) is None


@pytest.mark.parametrize(
    ("code", "known"),
    # The forms met in practice, from the project's own table of standards.
    [
        ("G.CO.C.9", "HSG-CO.C.9"),
        ("G-CO.9", "HSG-CO.C.9"),
        ("HSG.CO.C.9", "HSG-CO.C.9"),
        ("CCSS.MATH.CONTENT.HSG.CO.C.9", "HSG-CO.C.9"),
        ("Math.Practice.MP3", "MP3"),
        ("8.G.A.5", "8.G.A.5"),
        ("8.G.5", "8.G.A.5"),
        ("G.CO.99", None),
        ("nonsense", None),
        ("", None),
    ],
)
def test_standards_in_other_spellings(code: str, known: str | None) -> None:
    assert canonical(code) == known


def test_no_two_standards_are_one_in_another_spelling() -> None:
    for code in STANDARDS:
        assert canonical(code) == code
        assert canonical(code.lower()) == code


def test_text_is_words_and_emphasis_and_nothing_else() -> None:
    assert pieces("One *two* three.\n\nFour <b>five</b>.") == [
        [("One ", False), ("two", True), (" three.", False)],
        [("Four <b>five</b>.", False)],
    ]
    assert plain("One *two*\n three") == "One two three"
    assert fill(
        "{Corresponding}, {linear pair}",
        {"Corresponding": "corresponding angles", "linear pair": "a linear pair"}.__getitem__,
    ) == ("Corresponding angles, a linear pair")
    assert text_fault("m∠1 < 90 & ∠2 ≅ ∠3") is None
    assert text_fault("a * b") == "star"
    assert text_fault("\u200bhidden") == "control"
    assert text_fault("{open") == "brace"
