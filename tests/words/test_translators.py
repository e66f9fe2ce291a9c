"""The catalogues as translators have them, and back. Against the standard library's reader of gettext files."""

from __future__ import annotations

import io
import re
import shutil
from collections import Counter
from gettext import GNUTranslations
from pathlib import Path

import pytest
from babel.messages.mofile import write_mo
from babel.messages.pofile import read_po, write_po

from app.cli import main
from app.translators import _ENTRY, Refused, exported, imported
from app.words import catalogue
from tests.web.running import ROOT
from tests.words.test_languages import AREAS, own_words


@pytest.fixture
def root(tmp_path: Path) -> Path:
    for folder in ("app/words", "static/words"):
        shutil.copytree(ROOT / folder, tmp_path / folder, ignore=shutil.ignore_patterns("__pycache__"))
    return tmp_path


def files(root: Path, language: str) -> dict[str, bytes]:
    return {
        str(path.relative_to(root)): path.read_bytes()
        for side in ("app", "static")
        for path in (root / side / "words" / language).iterdir()
        if path.is_file()
    }


def there_and_back(catalog: object) -> object:
    kept = io.BytesIO()
    write_po(kept, catalog, width=0)  # type: ignore[arg-type]
    kept.seek(0)
    return read_po(kept, abort_invalid=True)


def test_every_sentence_is_handed_to_the_translators() -> None:
    kept, catalog = io.BytesIO(), exported("es")
    write_mo(kept, there_and_back(catalog))  # type: ignore[arg-type]
    kept.seek(0)
    read = GNUTranslations(kept)
    entries = [message for message in catalog if message.id]
    for message in entries:
        assert read.pgettext(message.context, message.id) == message.string
    codes = Counter(code for message in entries for code in message.auto_comments)
    assert set(codes.values()) == {1}
    wanted = {f"server/{area}.{key}" for area in AREAS for key, text in catalogue(area).items() if text}
    assert {code for code in codes if code.startswith("server/")} == wanted
    spanish = {code: message.string for message in entries for code in message.auto_comments}
    for area in AREAS:
        for key, text in own_words(area, "es").items():
            if catalogue(area)[key]:
                assert spanish[f"server/{area}.{key}"] == text


@pytest.mark.parametrize("language", ["en", "es"])
def test_no_text_of_a_pages_catalogue_is_left_out(language: str) -> None:
    for path in (ROOT / "static/words" / language).glob("*.js"):
        source = path.read_text(encoding="utf-8")
        rest = re.sub(r"^\s*//.*$", "", _ENTRY.sub("", source), flags=re.M)
        assert not re.search(r"[\"'`]", rest), (path.name, rest)
        assert len(list(_ENTRY.finditer(source))) > 0


def test_what_comes_back_as_it_was_changes_no_letter(root: Path) -> None:
    before = files(root, "es")
    assert imported("es", there_and_back(exported("es", root)), root) == []  # type: ignore[arg-type]
    assert files(root, "es") == before


def test_a_new_sentence_gets_to_every_place_that_it_stands_in(root: Path) -> None:
    catalog = exported("es", root)
    shared = next(m for m in catalog if m.id and {code.split("/")[0] for code in m.auto_comments} == {"server", "page"})
    shared.string = f'«{shared.string}» \\ "así"'
    imported("es", there_and_back(catalog), root)  # type: ignore[arg-type]
    again = {code: message.string for message in exported("es", root) if message.id for code in message.auto_comments}
    assert {again[code] for code in shared.auto_comments} == {shared.string}


def test_a_language_that_is_new_has_a_folder_on_each_side(root: Path) -> None:
    catalog = exported("qaa", root)
    message = catalog.get("This address is too long.", context="server/web.status_414")
    assert message is not None and message.string == ""
    message.string = "ńơ"
    changed = imported("qaa", there_and_back(catalog), root)  # type: ignore[arg-type]
    assert {path.suffix for path in changed} == {".py", ".js"}
    assert 'status_414": "ńơ"' in (root / "app/words/qaa/web.py").read_text(encoding="utf-8")
    assert {name.replace("/qaa/", "/en/") for name in files(root, "qaa")} == set(files(root, "en"))


@pytest.mark.parametrize("forged", ["no field", "{n} {other}"])
def test_a_sentence_with_other_fields_is_refused_and_nothing_is_written(root: Path, forged: str) -> None:
    before, catalog = files(root, "es"), exported("es", root)
    next(m for m in catalog if m.id and "{n}" in m.id).string = forged
    with pytest.raises(Refused, match="its fields are"):
        imported("es", there_and_back(catalog), root)  # type: ignore[arg-type]
    assert files(root, "es") == before


def test_the_command(tmp_path: Path, capsys: pytest.CaptureFixture[str]) -> None:
    at = tmp_path / "es.po"
    assert main(["words", "export", "es", str(at)]) == 0
    assert 'msgid "This address is too long."' in at.read_text(encoding="utf-8")
    assert main(["words", "import", "es", str(at)]) == 0
    assert main(["words", "import", "en", str(at)]) == 2
    assert main(["words", "import", "es", str(tmp_path / "none.po")]) == 1
    assert "eight-angles words:" in capsys.readouterr().err
