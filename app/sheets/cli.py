"""`eight-angles sheet ITEMS…`: sheets and keys as HTML files that stand alone and print from any browser."""

from __future__ import annotations

import argparse
import sys
from dataclasses import replace
from pathlib import Path

from app.figure.faults import Fault
from app.sheets.build import VERSIONS, Sheet, Want, build, read_want
from app.sheets.html import Frame, key_html, sheet_html
from app.sheets.paper import PAPERS, THEMES
from app.words import say
from app.words.house import HOUSES

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
    parser.add_argument("--paper", choices=list(PAPERS), default="letter")
    parser.add_argument("--theme", choices=list(THEMES), default="standard")
    parser.add_argument("--purpose", choices=["exercise", "exit", "proof"], default="exercise")
    parser.add_argument("--title", default="")
    parser.add_argument("--house", choices=list(HOUSES), default="us")
    parser.add_argument("--strips", action="store_true", help=say("sheets.cli_strips"))
    parser.add_argument("--out", type=Path, default=Path("."), help=say("sheets.cli_out"))


def run(args: argparse.Namespace) -> int:
    """Write one sheet and one key a version; 0, or 1 with the reason on the error stream."""
    try:
        sheet: Sheet | None = None
        for version in [v for v in args.versions.upper() if v.strip(", ")]:
            sheet = _sheet(args, version)
            _write(args.out, sheet, args.pack)
        for sentence in sheet.left_out if sheet else ():
            print(sentence, file=sys.stderr)
        if args.strips and args.pack is not None:
            _write_strips(args)
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
    from app.lessons.faults import PackFaults
    from app.lessons.load import load_pack
    from app.sheets.packs import build_pack

    try:
        pack = load_pack(args.pack, house=args.house)
    except (PackFaults, OSError):
        raise Fault("sheets.no_pack", "pack", name=args.pack) from None
    sheet = build_pack(pack, _want(args, ["make-parallel:1:1"], version), args.part)
    if asks:
        sheet = replace(sheet, entries=sheet.entries + build(_want(args, asks, version)).entries)
    return sheet


def _want(args: argparse.Namespace, asks: list[str], version: str) -> Want:
    return read_want(
        asks,
        seed=args.seed,
        version=version,
        paper=args.paper,
        theme=args.theme,
        purpose=args.purpose,
        title=args.title,
        house=args.house,
    )


def _style(paper: str) -> str:
    return "".join((STYLES / name).read_text(encoding="utf-8") for name in ("sheet.css", f"sheet-{paper}.css"))


def _write(folder: Path, sheet: Sheet, pack: Path | None) -> None:
    frame = Frame(style=_style(sheet.paper))
    stem = f"{pack.name if pack else sheet.purpose}-{sheet.version}-{sheet.seed}"
    _save(folder / f"{stem}.html", sheet_html(sheet, frame))
    _save(folder / f"{stem}-key.html", key_html(sheet, frame))


def _write_strips(args: argparse.Namespace) -> None:
    from app.lessons.load import load_pack
    from app.sheets.strips import strip_html

    frame = Frame(style=_style(args.paper))
    for task in load_pack(args.pack, house=args.house).tasks():
        if task.kind == "construct":
            _save(args.out / f"strip-{task.id}.html", strip_html(task.data, task.title, args.paper, frame))


def _save(path: Path, text: str) -> None:
    path.parent.mkdir(parents=True, exist_ok=True)
    path.write_text(text, encoding="utf-8")
    print(say("sheets.cli_wrote", path=path))
