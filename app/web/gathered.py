"""The scripts of a page in one file, made when it is asked for: on a slow line each file costs a round trip.

    /static/gathered/seat.js               all modules that every Seat needs
    /static/gathered/seat/tasks/prove.js   those that come with a proof, without the ones above

What is written stays modules that import each other (`static/`), and with `--debug` a page gets these as they are.
Here each becomes a function that runs once and gives back what it exports, in a table that all files of a page
share, so no module exists twice, also where two files that have it come at once:

    import { h as make } from "../ui/elements.js";     const { h: make } = $kept["ui/elements.js"];
    export function draw() {…}                         function draw() {…}   … return { draw };
    import(`./${kind}.js`)                             $bring("stage/stage.js", `./${kind}.js`)

Only the forms that our own scripts use are read (ECMA-262, *Modules*): named imports and exports, no defaults, no
`export let`; a test holds them to these. Catalogues of words are no such modules: they stay files of their own.
"""

from __future__ import annotations

import json
import re
from collections.abc import Callable, Iterable
from functools import lru_cache
from pathlib import Path

# By page: the scripts that it begins with, and the folders of those that it may ask for later.
PAGES: dict[str, tuple[tuple[str, ...], tuple[str, ...]]] = {
    "seat": (("seat/seat.js", "figure/figure.js"), ("tasks", "stage")),
    "board": (("board/board.js", "figure/figure.js"), ("stage",)),
    "period": (("desk/period.js", "figure/figure.js"), ("desk", "stage")),
}
FOLDER = "gathered/"
ENTRY = re.compile(r"[a-z]+/[a-z0-9_]+")

IMPORT = re.compile(r'^import (?:\{([^}]*)\} from )?"(\.{1,2}/[^"]+)";$', re.MULTILINE)
AGAIN = re.compile(r'^export \{([^}]*)\}(?: from "(\.{1,2}/[^"]+)")?;$', re.MULTILINE)
EXPORT = re.compile(r"^export ((?:async )?function\*?|class|const) (\w+)", re.MULTILINE)

HEAD = """\
const $kept = (globalThis.eightAnglesModules ??= {{}});
const $begun = (globalThis.eightAnglesBegun ??= {{}});
const $root = new URL({up}, import.meta.url);
const $bring = async (at, name) => {{
  const url = new URL(name, new URL(at, $root));
  const path = url.pathname.slice($root.pathname.length);
  if (path.startsWith("words/")) return import(url.href);
  if (!$kept[path]) await import(new URL(`{folder}${{path}}${{url.search}}`, $root).href);
  return $kept[path];
}};
"""


def _pairs(names: str) -> list[tuple[str, str]]:
    """`a, b as c` as [("a", "a"), ("b", "c")]."""
    found = [re.split(r"\s+as\s+", one.strip()) for one in names.split(",") if one.strip()]
    return [(one[0], one[-1]) for one in found]


@lru_cache(maxsize=512)
def imports(script: str) -> list[str]:
    """The modules that a script names, as it names them."""
    return [found[1] for found in IMPORT.findall(script)] + [found[1] for found in AGAIN.findall(script) if found[1]]


def resolved(name: str, other: str) -> str:
    """The path in static/ of what `name` calls `other`."""
    parts = name.split("/")[:-1]
    for part in other.split("/"):
        if part == "..":
            parts.pop()
        elif part != ".":
            parts.append(part)
    return "/".join(parts)


def order(entries: Iterable[str], read: Callable[[str], str]) -> list[str]:
    """Every module that these need, each after those that it names. Modules don't name each other in circles."""
    found: list[str] = []

    def visit(name: str) -> None:
        if name not in found:
            for other in imports(read(name)):
                visit(resolved(name, other))
            found.append(name)

    for entry in entries:
        visit(entry)
    return found


def as_function(name: str, script: str) -> str:
    """A module as an entry of the table."""
    given: list[tuple[str, str]] = []

    def brought(names: str | None, other: str) -> str:
        taken = ", ".join(a if a == b else f"{a}: {b}" for a, b in _pairs(names or ""))
        return f"const {{ {taken} }} = $kept[{json.dumps(resolved(name, other))}];" if taken else ""

    def again(found: re.Match[str]) -> str:
        pairs = _pairs(found[1])
        given.extend((b, a) for a, b in pairs)
        return brought(", ".join(a for a, _ in pairs), found[2]) if found[2] else ""

    def export(found: re.Match[str]) -> str:
        given.append((found[2], found[2]))
        return f"{found[1]} {found[2]}"

    body = IMPORT.sub(lambda found: brought(found[1], found[2]), script)
    body = EXPORT.sub(export, AGAIN.sub(again, body))
    here = json.dumps(name)
    body = body.replace("import.meta.url", f"new URL({here}, $root).href")
    body = re.sub(r"\bimport\(", f"$bring({here}, ", body)
    back = ", ".join(a if a == b else f"{a}: {b}" for a, b in given)
    return f"$kept[{here}] ??= await ($begun[{here}] ??= (async () => {{\n{body}\nreturn {{ {back} }};\n}})());\n"


def asked(filename: str) -> tuple[str, str | None] | None:
    """(page, entry or None) of a name such as `gathered/seat/tasks/prove.js`; None if it is no such name."""
    page, _, entry = filename.removeprefix(FOLDER).removesuffix(".js").partition("/")
    if not filename.startswith(FOLDER) or not filename.endswith(".js") or page not in PAGES:
        return None
    if not entry and filename != f"{FOLDER}{page}.js":
        return None
    if entry and (ENTRY.fullmatch(entry) is None or entry.split("/")[0] not in PAGES[page][1]):
        return None
    return page, f"{entry}.js" if entry else None


def names(filename: str, read: Callable[[str], str]) -> list[str]:
    """The modules in such a file, in their order. Raises OSError where the entry isn't there."""
    found = asked(filename)
    if found is None:
        raise FileNotFoundError(filename)
    page, entry = found
    begun = order(PAGES[page][0], read)
    return begun if entry is None else [name for name in order([entry], read) if name not in begun]


def text(filename: str, read: Callable[[str], str]) -> str:
    """The file itself. `read` gives a module's text by its path in static/."""
    found = asked(filename)
    up = "../" * filename.count("/")
    head = HEAD.format(up=json.dumps(up), folder=f"{FOLDER}{found[0] if found else ''}/")
    return head + "".join(as_function(name, read(name)) for name in names(filename, read))


def entries(folder: Path) -> list[str]:
    """The names of all such files."""
    later = [
        (page, one)
        for page, (_, folders) in PAGES.items()
        for each in folders
        for one in sorted((folder / each).glob("*.js"))
    ]
    return [f"{FOLDER}{page}.js" for page in PAGES] + [
        f"{FOLDER}{page}/{one.relative_to(folder).as_posix()}" for page, one in later
    ]
