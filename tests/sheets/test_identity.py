"""One foot, one set of questions: a teacher can't mark a sheet with the key of another."""

from __future__ import annotations

import argparse
import re
from pathlib import Path

import pytest

from app.figure.faults import Fault
from app.lessons.load import load_pack
from app.practice.families import FAMILIES, LEVELS
from app.sheets.build import VERSIONS, Sheet, build, read_want
from app.sheets.cli import add_arguments, run
from app.sheets.html import Frame, sheet_html
from app.sheets.keys import key_html
from app.sheets.packs import build_pack
from app.sheets.paper import PAPERS, THEMES

PACKS = Path(__file__).parents[2] / "lesson_packs"
FOOT = re.compile(r'<footer class="page-foot">.*?</footer>', re.S)
CODE = re.compile(r"sheet ([A-Z0-9]{2}-[A-Z0-9]{3}) · version ([ABC]) · seed (\d+)")


def foot_of(html: str) -> str:
    """What the foot says beside the number of the page; the same on every page."""
    found = {CODE.search(foot)[0] for foot in FOOT.findall(html)}
    assert len(found) == 1 and FOOT.findall(html)
    return found.pop()


def questions_of(html: str) -> str:
    """All that is printed between head and foot: words, figures, blanks."""
    body = "".join(re.findall(r'<div class="page-body">(.*?)</div><footer', html, re.S))
    assert body
    return body


def wants() -> list[Sheet]:
    """Sheets that were once alike at their foot: a pack, its parts, families, counts, versions, houses."""
    pack = load_pack(PACKS / "proving-lines-parallel")
    found = []
    for version in VERSIONS:
        for seed in (1, 2):
            found += [
                build_pack(pack, read_want([], seed=seed, version=version, alone=False), parts)
                for parts in ([], ["exit-ticket"], ["warm-up"], ["solve", "exit-ticket"])
            ]
            found += [
                build(read_want(asks, seed=seed, version=version))
                for asks in (
                    ["make-parallel:1:2"],
                    ["make-parallel:2:2"],
                    ["make-parallel:1:3"],
                    ["make-parallel:1:1", "name-the-pair:1:1"],
                    ["name-the-pair:1:1", "make-parallel:1:1"],
                    ["write-a-proof:1:1"],
                    ["put-in-order:1:2"],
                )
            ]
    found.append(build(read_want(["make-parallel:1:2"], house="uk")))
    found.append(build(read_want(["make-parallel:1:2"], purpose="exit")))
    return found


def test_the_foot_determines_the_questions() -> None:
    """Both ways: one foot has one set of questions, and other questions have another foot."""
    by_foot: dict[str, set[str]] = {}
    by_code: dict[str, set[str]] = {}
    for sheet in wants():
        html = sheet_html(sheet, Frame())
        by_foot.setdefault(foot_of(html), set()).add(questions_of(html))
        by_code.setdefault(CODE.search(html)[1], set()).add(questions_of(html))
    assert {len(found) for found in by_foot.values()} == {1}
    assert {len(found) for found in by_code.values()} == {1}
    assert len({next(iter(found)) for found in by_code.values()}) == len(by_code)
    assert len(by_code) > 40


@pytest.mark.parametrize("family", FAMILIES)
def test_sheet_and_key_have_one_foot_on_every_paper_and_for_everyone(family: str) -> None:
    """Large print is marked with the key that everyone's sheets are marked with."""
    feet = set()
    for paper in PAPERS:
        for theme in THEMES:
            sheet = build(
                read_want([f"{family}:{LEVELS[family]}:2"], paper=paper, theme=theme, seed=7, title=f"{paper} {theme}")
            )
            feet |= {foot_of(sheet_html(sheet, Frame())), foot_of(key_html(sheet, Frame()))}
    assert len(feet) == 1


def test_a_code_has_no_letter_that_is_mistaken_and_spells_nothing() -> None:
    codes = [sheet.code.replace("-", "") for sheet in wants()]
    assert not set("".join(codes)) & set("01OILAEUY")


def arguments(*words: str) -> argparse.Namespace:
    parser = argparse.ArgumentParser()
    add_arguments(parser)
    return parser.parse_args(list(words))


def test_no_run_of_the_command_overwrites_another(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    runs = [
        ["make-parallel:1:2"],
        ["make-parallel:2:2"],
        ["make-parallel:1:2", "--paper", "a4"],
        ["make-parallel:1:2", "--theme", "large"],
        ["make-parallel:1:2", "--house", "uk"],
        ["name-the-pair:1:2"],
        ["make-parallel:1:2", "--purpose", "exit"],
    ]
    for n, words in enumerate(runs, 1):
        assert run(arguments(*words, "--versions", "AB", "--out", str(tmp_path))) == 0
        assert len(list(tmp_path.iterdir())) == 4 * n
    before = {p: p.read_bytes() for p in tmp_path.iterdir()}

    # The same once more is no loss; the same name for other contents is refused, and nothing is written.
    assert run(arguments("make-parallel:1:2", "--versions", "AB", "--out", str(tmp_path))) == 0
    assert run(arguments("make-parallel:1:2", "--versions", "ABC", "--title", "Other", "--out", str(tmp_path))) == 1
    assert "is there already" in capsys.readouterr().err
    assert {p: p.read_bytes() for p in tmp_path.iterdir()} == before
    assert (
        run(arguments("make-parallel:1:2", "--versions", "A", "--title", "Other", "--replace", "--out", str(tmp_path)))
        == 0
    )
    assert sum(p.read_bytes() != before[p] for p in tmp_path.iterdir()) == 2


def test_a_proof_sheet_holds_proofs() -> None:
    """The purpose is more than a title: what asks for no proof is refused, and of a pack only the proofs are printed."""
    with pytest.raises(Fault) as fault:
        read_want(["write-a-proof:1:1", "make-parallel:1:2"], purpose="proof")
    assert fault.value.where == "purpose" and "asks for no proof" in fault.value.sentence()
    assert len(build(read_want(["write-a-proof:1:1", "put-in-order:1:2"], purpose="proof")).entries) == 3

    pack = load_pack(PACKS / "proving-lines-parallel")
    sheet = build_pack(pack, read_want([], purpose="proof", alone=False))
    assert len(sheet.entries) >= 6 and all(entry.rows for entry in sheet.entries)
    assert {task.title for task in pack.tasks() if task.kind == "prove"} <= {
        e.prompt.split(". ")[0] for e in sheet.entries
    }
    with pytest.raises(Fault, match="is a proof"):
        build_pack(pack, read_want([], purpose="proof", alone=False), ["warm-up"])
