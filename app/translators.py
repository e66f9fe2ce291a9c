"""The catalogues in the translators' own format (gettext, .po) and back: `eight-angles words`.

    eight-angles words export es es.po    every sentence of the server and of the pages, with what the language says now
    eight-angles words import es es.po    the translated sentences, into the language's catalogues

A sentence that stands in several places with one translation is one entry; its places are in the comments above it. A
language that isn't here yet is exported with nothing said, and imported into a folder of its own, in English where the
translator has left it open. Whatever is marked as unsure ("fuzzy") is left as it was.
"""

from __future__ import annotations

import argparse
import ast
import json
import re
import sys
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

from babel import Locale, UnknownLocaleError
from babel.messages.catalog import Catalog
from babel.messages.pofile import read_po, write_po

from app.settings import ROOT

__all__ = ["Refused", "add_arguments", "exported", "imported", "run"]

# side → its folder of languages and what its files end with
SIDES = {"server": (Path("app/words"), ".py"), "page": (Path("static/words"), ".js")}
_TEXT = r"""(?:"(?:[^"\\\n]|\\.)*"|'(?:[^'\\\n]|\\.)*')"""
_TEXTS = rf"{_TEXT}(?:\s*{_TEXT})*"
_ENTRY = re.compile(
    rf"""^[ ]+(?:"(?P<quoted>[^"\n]+)"|(?P<bare>\w+))\s*:\s*(?P<text>{_TEXTS}|\(\s*{_TEXTS}\s*\))(?=\s*,)""",
    re.M,
)
_FIELD = re.compile(r"\{(\w+)")


class Refused(Exception):
    """What of a file can't be taken, each in a line."""


@dataclass(frozen=True)
class Place:
    """Where a sentence stands: "server/web.status_404"."""

    side: str
    area: str
    key: str

    def __str__(self) -> str:
        return f"{self.side}/{self.area}.{self.key}"


def _files(root: Path, language: str) -> Iterator[tuple[str, Path]]:
    for side, (folder, ending) in SIDES.items():
        for path in sorted((root / folder / language).glob(f"*{ending}")):
            if path.stem != "__init__":
                yield side, path


def _entries(text: str) -> Iterator[tuple[str, str, re.Match[str]]]:
    """(key, sentence, where it stands) of a catalogue's source."""
    for found in _ENTRY.finditer(text):
        yield found["quoted"] or found["bare"], str(ast.literal_eval(f"({found['text']})")), found


def _sentences(root: Path, language: str) -> dict[Place, str]:
    return {
        Place(side, path.stem, key): sentence
        for side, path in _files(root, language)
        for key, sentence, _ in _entries(path.read_text(encoding="utf-8"))
    }


def exported(language: str, root: Path = ROOT) -> Catalog:
    """Every sentence: the English as what is asked, the language's own as the answer."""
    try:
        locale: Locale | None = Locale.parse(language, sep="-")
    except (UnknownLocaleError, ValueError):
        locale = None
    catalog = Catalog(locale=locale, project="Eight Angles", charset="utf-8", fuzzy=False)
    said = _sentences(root, language)
    places: dict[tuple[str, str], list[Place]] = {}
    for place, english in _sentences(root, "en").items():
        if english:
            places.setdefault((english, said.get(place, "")), []).append(place)
    for (english, own), where in places.items():
        catalog.add(english, own, context=str(where[0]), auto_comments=[str(place) for place in where])
    return catalog


def imported(language: str, catalog: Catalog, root: Path = ROOT) -> list[Path]:
    """Write what is translated into the language's catalogues; the files that changed. Raises Refused, writing none."""
    english = {str(place): text for place, text in _sentences(root, "en").items()}
    told: dict[str, str] = {}
    wrong: list[str] = []
    for message in catalog:
        if not message.id or not message.string or message.fuzzy:
            continue
        own = str(message.string)
        for code in message.auto_comments or [message.context or ""]:
            fields = set(_FIELD.findall(english.get(code, "")))
            if code not in english:
                wrong.append(f"{code}: no sentence stands there")
            elif set(_FIELD.findall(own)) != fields:
                wrong.append(f"{code}: its fields are {', '.join(sorted(fields)) or 'none'}: {own}")
            else:
                told[code] = own
    if wrong:
        raise Refused("\n".join(wrong))
    changed = []
    for side, path in _files(root, "en"):
        target = root / SIDES[side][0] / language / path.name
        there = target.read_text(encoding="utf-8") if target.exists() else None
        text = _with(there if there is not None else path.read_text(encoding="utf-8"), f"{side}/{path.stem}", told)
        if text != there:
            target.parent.mkdir(parents=True, exist_ok=True)
            if side == "server" and not (target.parent / "__init__.py").exists():
                (target.parent / "__init__.py").touch()
            target.write_text(text, encoding="utf-8")
            changed.append(target)
    return changed


def _with(text: str, area: str, told: dict[str, str]) -> str:
    """A catalogue's source with these sentences in their places; what says the same already stays letter for letter."""
    done, at = [], 0
    for key, sentence, found in _entries(text):
        own = told.get(f"{area}.{key}", sentence)
        if own != sentence:
            done += [text[at : found.start("text")], json.dumps(own, ensure_ascii=False)]
            at = found.end("text")
    return "".join((*done, text[at:]))


def add_arguments(command: argparse.ArgumentParser) -> None:
    command.add_argument("what", choices=["export", "import"])
    command.add_argument("language", help="its short name: es")
    command.add_argument("file", type=Path, help="the .po file")


def run(args: argparse.Namespace) -> int:
    if not re.fullmatch(r"[a-z]{2,3}", args.language) or args.language == "en":
        print("eight-angles words: a language is two or three small letters, and not en", file=sys.stderr)
        return 2
    try:
        if args.what == "export":
            with args.file.open("wb") as out:
                write_po(out, exported(args.language), width=0, omit_header=False)
            return 0
        with args.file.open("rb") as source:
            changed = imported(args.language, read_po(source, abort_invalid=True))
    except (OSError, ValueError, Refused) as fault:
        print(f"eight-angles words: {fault}", file=sys.stderr)
        return 1
    for path in changed:
        print(path.relative_to(ROOT))
    return 0
