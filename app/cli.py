"""The command `eight-angles`: serve, teacher, packs, sheet, words, erase."""

from __future__ import annotations

import argparse
import os
import sys
from collections.abc import Sequence
from importlib import import_module

from app.serve import serve, trouble
from app.settings import Unreadable, read_settings


def parser() -> argparse.ArgumentParser:
    """Every subcommand; those of other parts are asked of them."""
    top = argparse.ArgumentParser(prog="eight-angles", description="A lesson server for proving lines parallel.")
    commands = top.add_subparsers(dest="command", required=True, metavar="COMMAND")

    server = commands.add_parser("serve", help="start the lesson server and print its addresses")
    server.add_argument("--host", default="0.0.0.0", help="address to listen on (default: the whole local network)")
    server.add_argument("--port", type=int, default=8000)
    _data_options(server)
    server.add_argument("--packs", metavar="DIR", help="folder of the lesson packs")
    server.add_argument("--hosted", action="store_true", help="behind TLS: Secure cookies, HSTS")
    server.add_argument("--proxies", type=int, metavar="N", help="proxies in front that add X-Forwarded-For")
    server.add_argument("--hosts", metavar="NAMES", help="names that it is reached by, beside its addresses (a,b)")
    server.add_argument("--streams", type=int, metavar="N", help="most live pages at once; others poll")
    server.add_argument("--debug", action="store_true", help="errors in full, scripts one by one; on this machine only")

    teacher = commands.add_parser("teacher", help="print a new set-up link (a new teacher, or a forgotten passphrase)")
    teacher.add_argument("name", nargs="?", default="teacher")
    teacher.add_argument("--at", metavar="URL", default="http://localhost:8000", help="where the server is reached")
    _data_options(teacher)

    erase = commands.add_parser("erase", help="erase every class on this machine, with a count")
    erase.add_argument("--yes", action="store_true", help="don't ask")
    _data_options(erase)

    for name, (_, help_) in BORROWED.items():
        commands.add_parser(name, help=help_, add_help=False)
    return top


def _data_options(command: argparse.ArgumentParser) -> None:
    command.add_argument("--data", metavar="DIR", help="folder of the database and the secret")
    command.add_argument("--database", metavar="URL", help="database (default: SQLite in the data folder)")


# Subcommands whose options belong to another part, loaded only when they are called.
BORROWED = {
    "packs": ("app.lessons.cli", "check lesson packs"),
    "sheet": ("app.sheets.cli", "print exercises, keys and construction strips"),
    "words": ("app.translators", "hand the sentences to translators, and take them back (needs Babel)"),
}


def main(arguments: Sequence[str] | None = None) -> int:
    """Run one command; the exit status."""
    given = list(sys.argv[1:] if arguments is None else arguments)
    if given and given[0] in BORROWED:
        return _run_borrowed(given[0], BORROWED[given[0]][0], given[1:])
    args = parser().parse_args(given)
    try:
        settings = read_settings(_options(args))
    except Unreadable as fault:
        print(f"eight-angles {args.command}: {fault}", file=sys.stderr)
        return 2
    if args.command == "serve":
        return serve(settings, args.host, args.port, debug=args.debug)
    said = trouble(settings)
    if said is not None:
        print(f"eight-angles {args.command}: {said}", file=sys.stderr)
        return 1
    # Measured: 250 ms and 35 MB, most of the program, for nothing in `serve`, `packs` and `--help`.
    from app import upkeep

    if args.command == "teacher":
        return upkeep.teacher(args.name, args.at, settings)
    return upkeep.erase(args.yes, settings)


def _options(args: argparse.Namespace) -> dict[str, object]:
    """What was said on the command line, by the settings' names."""
    said = {
        "DATABASE_URL": getattr(args, "database", None),
        "HOSTED": getattr(args, "hosted", False) or None,
        "PROXIES": getattr(args, "proxies", None),
        "HOSTS": getattr(args, "hosts", None),
        "STREAMS": getattr(args, "streams", None),
    }
    for name, folder in (("DATA_DIR", getattr(args, "data", None)), ("PACKS_DIR", getattr(args, "packs", None))):
        said[name] = None if folder is None else os.path.abspath(folder)
    return said


def _run_borrowed(name: str, module: str, rest: list[str]) -> int:
    try:
        part = import_module(module)
    except ModuleNotFoundError as missing:
        if missing.name not in (module, "babel"):
            raise
        said = "not in this version" if missing.name == module else "install Babel first: pip install babel"
        print(f"eight-angles {name}: {said}", file=sys.stderr)
        return 2
    command = argparse.ArgumentParser(prog=f"eight-angles {name}")
    part.add_arguments(command)
    return int(part.run(command.parse_args(rest)))
