"""`eight-angles packs check FOLDER…`: what is wrong with a pack, or what is in it."""

from __future__ import annotations

import argparse
from pathlib import Path

from app.words import tell as say

from .faults import PackFaults
from .load import PACK, check_pack
from .schema import Pack

__all__ = ["add_arguments", "run"]


def add_arguments(parser: argparse.ArgumentParser) -> None:
    """`packs check FOLDER [FOLDER …]`."""
    commands = parser.add_subparsers(dest="packs_command", required=True, metavar="check")
    short = say("lessons.check.short")
    check = commands.add_parser("check", help=short, description=short)
    check.add_argument("folder", nargs="+", type=Path, help=say("lessons.check.help"))


def run(args: argparse.Namespace) -> int:
    """0 when every pack named is in order, else 1; each fault is printed where it was found."""
    bad = 0
    for folder in args.folder:
        packs = [folder] if (folder / PACK).exists() else sorted(p.parent for p in folder.glob(f"*/{PACK}"))
        if not packs:
            print(say("lessons.check.none", folder=folder))
            bad += 1
        for path in packs:
            bad += not _check(path)
    return 1 if bad else 0


def _check(path: Path) -> bool:
    try:
        print(_summary(check_pack(path)))
    except PackFaults as error:
        print(say("lessons.check.bad", name=path.name, count=len(error.faults)))
        for fault in error.faults:
            print(fault.block())
        return False
    return True


def _summary(pack: Pack) -> str:
    extra = sum(part.minutes for part in pack.parts if part.optional)
    return say(
        "lessons.check.good",
        name=pack.name,
        title=pack.title,
        parts=len(pack.parts),
        tasks=len(pack.tasks()),
        minutes=sum(part.minutes for part in pack.parts if not part.optional),
        optional=say("lessons.check.optional", minutes=extra) if extra else "",
        standards=", ".join(pack.standards) or "–",
    )
