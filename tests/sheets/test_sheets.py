"""Sheets: versions, keys, what is on a page, what the command writes."""

from __future__ import annotations

import argparse
import re
from html.parser import HTMLParser
from pathlib import Path

import pytest

from app.figure.faults import Fault
from app.figure.model import figure_from_json
from app.lessons.load import load_pack
from app.practice.families import FAMILIES, LEVELS, item
from app.practice.forms import form_of
from app.practice.judging import judge
from app.reasoning.check import check
from app.reasoning.prover import prove
from app.reasoning.theorems import TABLE
from app.sheets.build import VERSIONS, Want, build, read_want, seed_for
from app.sheets.cli import add_arguments, run
from app.sheets.html import Frame, sheet_html
from app.sheets.keys import key_html
from app.sheets.packs import build_pack
from app.sheets.pages import into_pages
from app.sheets.paper import PAPERS, THEMES
from app.sheets.proofs import proof_entry
from app.words.house import house
from tests.reasoning.samples import grid
from tests.scale import trials
from tests.web.running import ROOT

ALL = [f"{family}:{level}:1" for family in FAMILIES for level in range(1, LEVELS[family] + 1)] + [
    f"write-a-proof:{level}:1" for level in (1, 2, 3)
]
VOID = {"meta", "link", "br", "input", "img", "hr"}


class Text(HTMLParser):
    """The words of a document, and whether its tags close in order (outside SVG)."""

    def __init__(self) -> None:
        super().__init__()
        self.open: list[str] = []
        self.words: list[str] = []
        self.bad: list[str] = []

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        if tag not in VOID:
            self.open.append(tag)

    def handle_startendtag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        pass

    def handle_endtag(self, tag: str) -> None:
        if not self.open or self.open.pop() != tag:
            self.bad.append(tag)

    def handle_data(self, data: str) -> None:
        if "style" not in self.open:
            self.words.append(data)


def read(html: str) -> str:
    parser = Text()
    parser.feed(html)
    assert not parser.bad and not parser.open
    return " ".join(" ".join(parser.words).split())


@pytest.mark.parametrize("theme", THEMES)
def test_every_kind_of_question_prints_and_has_a_key(theme: str) -> None:
    sheet = build(read_want(ALL, theme=theme, seed=3))
    shown, key = read(sheet_html(sheet, Frame())), read(key_html(sheet, Frame()))

    assert len(sheet.entries) == len(ALL)
    for entry in sheet.entries:
        assert entry.figure.startswith("<svg") and entry.key.answer and entry.key.working
        assert entry.key.answer.replace(" - ", " − ") in key
    assert "Key" not in shown and "Name" in shown and "Date" in shown and "Period" in shown
    assert "{" not in shown + key


@pytest.mark.parametrize("family", FAMILIES)
def test_the_sheet_tells_nothing_of_the_key(family: str) -> None:
    """T-10: a key is a document of its own."""
    sheet = build(read_want([f"{family}:{LEVELS[family]}:3"], seed=8))
    shown = read(sheet_html(sheet, Frame()))

    for entry in sheet.entries:
        for line in entry.key.working[1:]:
            assert (
                line.replace(" - ", " − ") not in shown
                or line in entry.ask
                or line in str(entry.blanks)
                or len(line) < 12
            )


def test_versions_ask_the_same_with_other_numbers() -> None:
    """I-6."""
    sheets = {v: build(read_want(["make-parallel:2:4", "is-it-enough:3:3"], seed=11, version=v)) for v in VERSIONS}

    kinds = {v: [e.mark.split(" · ")[0] for e in s.entries] for v, s in sheets.items()}
    assert kinds["A"] == kinds["B"] == kinds["C"]
    texts = [e.figure for s in sheets.values() for e in s.entries]
    assert len(set(texts)) == len(texts)
    again = build(read_want(["make-parallel:2:4", "is-it-enough:3:3"], seed=11, version="B"))
    assert sheet_html(again, Frame()) == sheet_html(sheets["B"], Frame())


def test_keys_of_versions_a_and_b_are_right_for_a_thousand_seeds() -> None:
    """section 6, 12: the printed key is judged like a student's answer; the items' own tests ask z3 and sympy."""
    for seed in range(trials(quick=60, full=1_000)):
        for version in ("A", "B"):
            for family, level in (("make-parallel", 1 + seed % 5), ("parallel-so", 1 + seed % 5)):
                printed = build(
                    Want((read_want([f"{family}:{level}:1"]).asks[0],), seed=seed, version=version)
                ).entries[0]
                one = item(*_code(printed.mark))
                values = re.findall(r"(?:x|y|m∠\d+) = (-?[\d/]+)", printed.key.answer)
                names = [f.name for f in one.fields if f.kind == "number"]
                assert judge(one, dict(zip(names, values, strict=True))).right


def test_seeds_of_a_sheet_never_meet() -> None:
    seen = {seed_for(seed, version, place) for seed in range(300) for version in VERSIONS for place in range(60)}

    assert len(seen) == 300 * 3 * 60


@pytest.mark.parametrize(
    ("asks", "options", "where"),
    [
        (["nothing:1:2"], {}, "items"),
        ([], {}, "items"),
        (["make-parallel:1:0"], {}, "count"),
        (["make-parallel:9:1"], {}, "level"),
        (["make-parallel:x:1"], {}, "level"),
        (["make-parallel:1:61"], {}, "count"),
        (["make-parallel:1:40"] * 2, {}, "items"),
        (["make-parallel"], {"seed": "x"}, "seed"),
        (["make-parallel"], {"seed": -1}, "seed"),
        (["make-parallel"], {"seed": "9" * 40}, "seed"),
        (["make-parallel"], {"version": "D"}, "version"),
        (["make-parallel"], {"paper": "legal"}, "paper"),
        (["make-parallel"], {"theme": "pink"}, "theme"),
        (["make-parallel"], {"house": "x"}, "house"),
        (["a:b:c:d"], {}, "items"),
        (["make-parallel:٣:1"], {}, "level"),
        (["<script>"], {}, "items"),
    ],
)
def test_wants_that_make_no_sense_are_refused(asks: list[str], options: dict[str, object], where: str) -> None:
    with pytest.raises(Fault) as fault:
        read_want(asks, **options)
    assert fault.value.where == where and fault.value.sentence().endswith(".")


def test_a_title_is_only_text() -> None:
    sheet = build(read_want(["make-parallel:1:1"], title='<script>alert("x")</script> & more'))

    for html in (sheet_html(sheet, Frame()), key_html(sheet, Frame())):
        assert "<script>" not in html and "&lt;script&gt;" in html


def test_pages_hold_every_question_once_in_order() -> None:
    for theme in THEMES.values():
        sheet = build(read_want(ALL, theme=theme.name, seed=5))
        places = [place for page in into_pages(sheet.entries, theme) for place in page]
        numbers = [i for i, _ in places]
        assert numbers == sorted(numbers) and set(numbers) == set(range(len(ALL)))
        for i in set(numbers):
            found = [part for n, part in places if n == i]
            assert found in (
                ["all"],
                ["tabled"],
                ["left"],
                ["right"],
                ["stacked"],
                ["figure", "words"],
                ["figure", "words", "rows"],
                ["words", "drawn"],
                ["top", "rows"],
            )


@pytest.mark.parametrize("house", ["uk", "es", "us-same-side"])
def test_houses_change_the_words_of_the_sheet(house: str) -> None:
    sheet = build(read_want(["missing-reason:1:2"], house=house, seed=2))
    key = read(key_html(sheet, Frame()))

    wanted = {"uk": "so parallel", "es": "Recíproco", "us-same-side": "Converse of the"}[house]
    assert wanted in key
    shown = sheet_html(sheet, Frame())
    assert ("Class" in read(shown)) == (house == "uk")
    assert f'lang="{sheet.house.lang}"' in shown


def test_accepted_alternatives_are_told() -> None:
    """I-6, Q-4: other right orders, other names, other routes of a proof."""
    sheet = build(
        read_want(["put-in-order:3:4", "is-it-enough:1:6", "write-a-proof:1:3", "find-the-angle:1:1"], seed=4)
    )
    also = [" ".join(e.key.also) for e in sheet.entries]

    assert any(re.search(r"A \d · B \d · C \d · D \d · E \d", text) for text in also[:4])
    assert any("conv" in text.lower() for text in also[4:10])
    assert any(route[0].startswith("1. ") for entry in sheet.entries[10:13] for route in entry.key.routes)
    # What can't be told has no degree sign to leave out.
    told = [e.key for e in build(read_want(["find-the-angle:3:12"], seed=7)).entries]
    assert {bool(k.also) for k in told if "can't be told" in k.answer} == {False}
    assert {bool(k.also) for k in told if "can't be told" not in k.answer} == {True}


def arguments(*words: str) -> argparse.Namespace:
    parser = argparse.ArgumentParser()
    add_arguments(parser)
    return parser.parse_args(list(words))


def test_the_command_writes_documents_that_stand_alone(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert (
        run(
            arguments(
                "make-parallel:2:3",
                "connect:1:1",
                "--versions",
                "AB",
                "--seed",
                "9",
                "--paper",
                "a4",
                "--out",
                str(tmp_path),
            )
        )
        == 0
    )

    names = sorted(p.name for p in tmp_path.iterdir())
    codes = [build(read_want(["make-parallel:2:3", "connect:1:1"], seed=9, version=v)).code for v in "AB"]
    assert names == sorted(
        f"exercise-{v}-9-{code}-a4{end}.html" for v, code in zip("AB", codes, strict=True) for end in ("", "-key")
    )
    for path in tmp_path.iterdir():
        html = path.read_text(encoding="utf-8")
        assert "<style>" in html and "size: 210mm 297mm" in html
        assert not re.search(r"""(src|href)=["'](?!#)""", html) and "<script" not in html
    assert capsys.readouterr().out.count("wrote") == 4


@pytest.mark.parametrize(
    "words",
    [
        ["nothing:1:1"],
        ["make-parallel:1:1", "--versions", "AX"],
        ["--pack", "no-such-folder"],
        ["make-parallel:1:1", "--seed", "many"],
    ],
)
def test_the_command_says_what_is_wrong(words: list[str], tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    assert run(arguments(*words, "--out", str(tmp_path))) == 1
    said = capsys.readouterr().err
    assert said.strip().endswith(".") and "Traceback" not in said


def test_the_command_names_what_it_leaves_out(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    folder = str(Path(__file__).parents[2] / "lesson_packs" / "proving-lines-parallel")
    assert run(arguments("--pack", folder, "--part", "by-eye", "--part", "warm-up", "--out", str(tmp_path))) == 0
    said = capsys.readouterr().err
    assert said == "“By eye” is done on the screen; nothing of it can be printed, so it is left out.\n"

    assert run(arguments("--pack", folder, "--part", "by-eye", "--out", str(tmp_path))) == 1
    assert "“By eye” is done on the screen" in capsys.readouterr().err


@pytest.mark.parametrize(
    "pack", sorted(p.parent.name for p in Path(__file__).parents[2].glob("lesson_packs/*/pack.toml"))
)
def test_every_pack_prints(pack: str, tmp_path: Path) -> None:
    folder = Path(__file__).parents[2] / "lesson_packs" / pack
    assert run(arguments("--pack", str(folder), "--out", str(tmp_path))) == 0

    key, shown = (
        read(p.read_text(encoding="utf-8")) for p in sorted(tmp_path.iterdir(), key=lambda p: "-key" not in p.name)
    )
    assert "page 1 of" in shown and "Key:" in key


def test_a_pack_is_printed_in_the_language_of_its_house(tmp_path: Path) -> None:
    """Titles and questions of the pack too, not only what the program says around them."""
    folder = Path(__file__).parents[2] / "lesson_packs" / "proving-lines-parallel"
    assert run(arguments("--pack", str(folder), "--part", "exit-ticket", "--house", "es", "--out", str(tmp_path))) == 0
    pages = [read(page.read_text(encoding="utf-8")) for page in tmp_path.iterdir()]
    assert len(pages) == 2
    for page in pages:
        assert "Boleto de salida" in page and "Proving" not in page and "Exit ticket" not in page


def test_papers_are_as_the_standards_say() -> None:
    """ISO 216 A4 and ANSI/ASME Y14.1 A (US Letter), in millimetres."""
    assert PAPERS == {"letter": (215.9, 279.4), "a4": (210.0, 297.0)}


@pytest.mark.parametrize("strict", [False, True])
def test_the_key_of_a_proof_is_written_as_the_class_writes_it(strict: bool) -> None:
    """Where a class keeps ≅ and = apart, so does the key on paper, and the strict judge takes it."""
    given, goal = ["m∠1 = m∠5"], "l ∥ m"
    theme = next(iter(THEMES.values()))
    entry = proof_entry(grid(2, 1), given, goal, theme, house(), strict=strict)
    said = " ".join(entry.key.working)
    assert ("Definition of congruent angles" in said) == strict, said
    assert len(entry.key.working) == len(prove(figure_from_json(grid(2, 1)), given, goal, strict=strict)[0].rows)


def test_a_key_names_every_reason_that_is_right_in_a_row_without_one() -> None:
    """Nothing is offered on paper, so a rival of the printed reason must be in the teacher's hand."""
    sheet = build(read_want(["missing-reason:1:12", "missing-reason:3:12"], seed=4))
    told = 0
    for n, entry in enumerate(sheet.entries):
        one = item("missing-reason", seed_for(4, "A", n), 1 if n < 12 else 3)
        for f in one.fields:
            for reason in one.also[f.name]:
                name = house().name(reason)
                assert (name if n < 12 else f"{f.label}: {name}") in entry.key.also
                told += 1
    assert told


def test_a_proof_printed_without_reasons_has_the_rivals_in_its_key() -> None:
    theme = next(iter(THEMES.values()))
    given, goal = ["l ∥ m", "m ∥ n"], "l ∥ n"
    entry = proof_entry(grid(3, 1), given, goal, theme, house(), support="reasons")
    statements = [str(row[1]) for row in entry.rows]
    best = prove(figure_from_json(grid(3, 1)), given, goal)[0]
    fitting = {
        f"Reason of row {n}: {house().name(reason)}"
        for n, row in enumerate(best.rows, 1)
        for reason in TABLE
        if reason != row.reason
        and check(
            figure_from_json(grid(3, 1)),
            given,
            goal,
            [
                *({"statement": s, "reason": r.reason} for s, r in zip(statements[: n - 1], best.rows, strict=False)),
                {"statement": statements[n - 1], "reason": reason},
            ],
        )
        .rows[n - 1]
        .verdict
        == "follows"
    }
    assert set(entry.key.also) == fitting and fitting


def test_the_key_of_rows_to_be_put_in_order_names_the_letters_of_the_page() -> None:
    theme = next(iter(THEMES.values()))
    given, goal = ["∠2 and ∠5 are supplementary"], "l ∥ m"
    for seed in range(12):
        entry = proof_entry(grid(2, 1), given, goal, theme, house(), support="order", seed=seed)
        page = {str(letter): str(statement) for letter, statement, _ in entry.rows}
        reasons = {str(letter): house().accepts(str(reason)) for letter, _, reason in entry.rows}
        for said in (entry.key.answer, *entry.key.also):
            # What stands in the boxes, row by row down the page.
            boxes = dict(box.split(" ") for box in said.split(" · "))
            assert list(boxes) == sorted(boxes) and sorted(boxes.values()) == [str(n + 1) for n in range(len(boxes))]
            order = sorted(boxes, key=lambda row: int(boxes[row]))
            assert sorted(order) == sorted(page) and page[order[-1]] == goal
            assert check(
                figure_from_json(grid(2, 1)), given, goal, [{"statement": page[x], "reason": reasons[x]} for x in order]
            ).complete, (seed, said)
        assert len(entry.key.also) == len(set(entry.key.also) - {entry.key.answer})


@pytest.mark.parametrize("name", ["proving-lines-parallel", "solve-and-practice"])
@pytest.mark.parametrize("seed", range(1, trials(quick=5, full=60)))
def test_the_versions_of_an_exit_ticket_ask_the_same_kinds_of_question(name: str, seed: int) -> None:
    """Same skill and difficulty, other numbers, letters and orientation (I-6)."""
    pack = load_pack(ROOT / "lesson_packs" / name)
    found = []
    for version in VERSIONS:
        want = Want((), seed, version, "letter", "standard", "exit", "", "us")
        sheet = build_pack(pack, want, [part.id for part in pack.parts if part.purpose == "exit"])
        found.append([item(*_code(entry.mark)) for entry in sheet.entries])
    assert len({tuple(form_of(one) for one in made) for made in found}) == 1
    for same in zip(*found, strict=True):
        assert len({repr((one.figure, one.given, one.rows)) for one in same}) == len(VERSIONS)


def _code(mark: str) -> tuple[str, int, int]:
    family, level, seed = mark.replace(" · ", " ").split()
    return family, int(seed), int(level)


def test_a_part_alone_prints_the_items_of_the_whole_pack() -> None:
    """One footer, one sheet: a teacher who marks the ticket with the key of the whole pack marks it right."""
    pack = load_pack(ROOT / "lesson_packs" / "proving-lines-parallel")
    want = Want((), 1, "B", "letter", "standard", "exercise", "", "us")
    whole = [entry.mark for entry in build_pack(pack, want).entries if entry.mark]
    alone = [entry.mark for entry in build_pack(pack, want, ["exit-ticket"]).entries if entry.mark]
    assert len(alone) == 4 and whole[-4:] == alone
    assert len(set(whole)) == len(whole), "no item twice on one sheet"
