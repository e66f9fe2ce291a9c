"""`eight-angles sheet ITEMS…`: sheets and keys as HTML files that stand alone and print from any browser."""

from __future__ import annotations

import argparse
import base64
import sys
from dataclasses import replace
from pathlib import Path

from app.figure.faults import Fault
from app.lessons.faults import PackFaults
from app.lessons.load import load_pack
from app.lessons.schema import Pack
from app.sheets.build import VERSIONS, Sheet, Want, build, read_want
from app.sheets.html import Frame, sheet_html
from app.sheets.keys import key_html
from app.sheets.packs import build_pack
from app.sheets.paper import PAPERS, THEMES
from app.sheets.strips import strip_html
from app.words import tell as say
from app.words.house import HOUSES
from app.words.house import house as house_of

__all__ = ["add_arguments", "run"]

STYLES = Path(__file__).resolve().parent.parent.parent / "static" / "css"


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """What to print, for whom, on which paper, in which versions, and where to."""
    parser.description = say("sheets.cli_about")
    parser.add_argument("items", nargs="*", metavar="FAMILY:LEVEL:COUNT", help=say("sheets.cli_items"))
    parser.add_argument("--pack", type=Path, help=say("sheets.cli_pack"))
    parser.add_argument("--part", action="append", default=[], help=say("sheets.cli_part"))
    parser.add_argument("--seed", default="1", help=say("sheets.cli_seed"))
    parser.add_argument("--versions", default="A", help=say("sheets.cli_versions"))
    parser.add_argument("--paper", choices=list(PAPERS), default="")
    parser.add_argument("--theme", choices=list(THEMES), default="standard")
    parser.add_argument("--purpose", choices=["exercise", "exit", "proof"], default="exercise")
    parser.add_argument("--title", default="")
    parser.add_argument("--house", choices=list(HOUSES), default="us")
    parser.add_argument("--strips", action="store_true", help=say("sheets.cli_strips"))
    parser.add_argument("--replace", action="store_true", help=say("sheets.cli_replace"))
    parser.add_argument("--out", type=Path, default=Path("."), help=say("sheets.cli_out"))


def run(args: argparse.Namespace) -> int:
    """Write one sheet and one key a version; 0, or 1 with the reason on the error stream."""
    try:
        sheets = [_sheet(args, version) for version in args.versions.upper() if version.strip(", ")]
        files = {name: text for sheet in sheets for name, text in _documents(sheet, sheets, args.pack).items()}
        if args.strips and args.pack is not None:
            files |= _strips(args)
        _save(args.out, files, replace_them=args.replace)
        for sentence in sheets[-1].left_out if sheets else ():
            print(sentence, file=sys.stderr)
    except Fault as fault:
        print(say("sheets.cli_bad", where=fault.where, message=fault.sentence()), file=sys.stderr)
        return 1
    return 0


def _sheet(args: argparse.Namespace, version: str) -> Sheet:
    if version not in VERSIONS:
        raise Fault("sheets.unknown", "versions", name="version", found=version, known=", ".join(VERSIONS))
    asks = args.items or (["make-parallel:1:6"] if args.pack is None else [])
    if args.pack is None:
        return build(_want(args, asks, version))
    try:
        pack = _pack(args)
    except (PackFaults, OSError):
        raise Fault("sheets.no_pack", "pack", name=args.pack) from None
    sheet = build_pack(pack, _want(args, [], version, alone=False), args.part)
    if asks:
        sheet = replace(sheet, entries=sheet.entries + build(_want(args, asks, version)).entries)
    return sheet


def _pack(args: argparse.Namespace) -> Pack:
    """The pack in the names of its house, and in that one's language where the pack is told in it."""
    return load_pack(args.pack, house=args.house, language=house_of(args.house).lang.split("-")[0])


def _want(args: argparse.Namespace, asks: list[str], version: str, *, alone: bool = True) -> Want:
    return read_want(
        asks,
        seed=args.seed,
        version=version,
        paper=args.paper,
        theme=args.theme,
        purpose=args.purpose,
        title=args.title,
        house=args.house,
        alone=alone,
    )


def _style(paper: str) -> str:
    """The style of a sheet that is one file: with its face in it."""
    style = "".join((STYLES / name).read_text(encoding="utf-8") for name in ("sheet.css", f"sheet-{paper}.css"))
    face = base64.b64encode((STYLES.parent / "fonts" / "signs.woff2").read_bytes()).decode()
    return style.replace("../fonts/signs.woff2", f"data:font/woff2;base64,{face}")


def _documents(sheet: Sheet, versions: list[Sheet], pack: Path | None) -> dict[str, str]:
    """Sheet and key by the names of their files. Whatever changes what is printed is in the name."""
    frame = Frame(style=_style(sheet.paper))
    usual = {"letter", "standard", "us"}
    more = [part for part in (sheet.paper, sheet.theme.name, sheet.house.key) if part not in usual]
    stem = "-".join([pack.name if pack else sheet.purpose, sheet.version, str(sheet.seed), sheet.code, *more])
    return {f"{stem}.html": sheet_html(sheet, frame), f"{stem}-key.html": key_html(sheet, frame, versions)}


def _strips(args: argparse.Namespace) -> dict[str, str]:
    paper = _want(args, [], "A", alone=False).paper
    frame = Frame(style=_style(paper))
    more = "" if paper == "letter" else f"-{paper}"
    house = house_of(args.house)
    return {
        f"strip-{task.id}{more}.html": strip_html(task.data, task.title, paper, frame, house)
        for task in _pack(args).tasks()
        if task.kind == "construct"
    }


def _save(folder: Path, files: dict[str, str], *, replace_them: bool) -> None:
    """Write all of them or none: Raises Fault where a file with other contents is there already."""
    for name, text in files.items():
        path = folder / name
        if not replace_them and path.exists() and path.read_bytes() != text.encode("utf-8"):
            raise Fault("sheets.there", "out", path=path)
    folder.mkdir(parents=True, exist_ok=True)
    for name, text in files.items():
        (folder / name).write_bytes(text.encode("utf-8"))
        print(say("sheets.cli_wrote", path=folder / name))
