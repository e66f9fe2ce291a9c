"""On which line of a TOML file does a key stand? tomllib doesn't say, and a teacher wants to know.

A light scan: it follows table headers, array tables and keys, and steps over multi-line strings. It
is only asked after tomllib has accepted the file, so it needs no errors of its own; where it is not
sure it answers None.
"""

from __future__ import annotations

import re

__all__ = ["Lines"]

_HEADER = re.compile(r"^\s*(\[\[?)\s*([^\[\]]+?)\s*\]\]?\s*(#.*)?$")
_NAME = r"(?:[A-Za-z0-9_-]+|\"[^\"]*\"|'[^']*')"
_KEY = re.compile(rf"^\s*({_NAME}(?:\s*\.\s*{_NAME})*)\s*=")
_PART = re.compile(_NAME)

Path = tuple[str | int, ...]


class Lines:
    """Lines of keys, by path: `("parts", 0, "tasks", 2, "figure")` → 41."""

    def __init__(self, text: str) -> None:
        self._at: dict[Path, int] = {}
        self._counts: dict[Path, int] = {}
        self._scan(text)

    def find(self, path: Path) -> int | None:
        """The line of the key, or of the nearest table around it."""
        while path:
            if path in self._at:
                return self._at[path]
            path = path[:-1]
        return None

    def _scan(self, text: str) -> None:
        base: Path = ()
        inside: str | None = None  # the quotes that end the multi-line string we are in
        for number, line in enumerate(text.splitlines(), start=1):
            if inside:
                if inside in line:
                    inside = None
                continue
            header = _HEADER.match(line)
            if header:
                base = self._table(_keys(header.group(2)), array=header.group(1) == "[[")
                self._at.setdefault(base, number)
                continue
            key = _KEY.match(line)
            if key:
                self._keep(base, _keys(key.group(1)), number)
                for inner in re.finditer(r"[{,]\s*([A-Za-z0-9_-]+)\s*=", line[key.end() :]):
                    self._at.setdefault((*base, *_keys(key.group(1)), inner.group(1)), number)
            inside = _opens(line)

    def _table(self, keys: list[str], *, array: bool) -> Path:
        """The path of a header, with the index of the newest member of each array table on the way."""
        path: Path = ()
        for at, key in enumerate(keys):
            path = (*path, key)
            last = at == len(keys) - 1
            if last and array:
                self._counts[path] = self._counts.get(path, -1) + 1
            if path in self._counts:
                path = (*path, self._counts[path])
        return path

    def _keep(self, base: Path, keys: list[str], number: int) -> None:
        for at in range(1, len(keys) + 1):
            self._at.setdefault((*base, *keys[:at]), number)


def _keys(text: str) -> list[str]:
    return [part.strip("\"'") for part in _PART.findall(text)]


def _opens(line: str) -> str | None:
    """The quotes of a multi-line string that the line opens and does not close."""
    for quotes in ('"""', "'''"):
        if line.count(quotes) % 2 == 1:
            return quotes
    return None
