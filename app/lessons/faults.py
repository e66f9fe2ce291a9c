"""What is wrong with a pack: each fault says where, what was expected, what was found, what to try.

A fault is data (a code, and fields that are text or messages); its sentences are made last, for whoever asks.
All faults of a pack are collected before any is shown, so that a teacher mends a pack once.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from difflib import get_close_matches

from app.words import Text, render, say, tell

__all__ = ["PackFault", "PackFaults", "near", "shown"]

LONGEST_SHOWN = 60


@dataclass(frozen=True)
class PackFault:
    """One fault. `where` is a key path inside the task (or part, or pack); `task` and `part` are ids."""

    code: str
    file: str
    where: str = ""
    task: Text | None = None
    part: str | None = None
    line: int | None = None
    fields: Mapping[str, Text] = field(default_factory=dict)
    near: tuple[str, ...] = ()

    @property
    def expected(self) -> str:
        return tell(f"lessons.{self.code}.expected", **self.fields)

    @property
    def found(self) -> str:
        return tell(f"lessons.{self.code}.found", **self.fields)

    @property
    def place(self) -> str:
        """`pack.toml, line 41, task "name-1", key figure.lines.m`."""
        parts = [self.file]
        if self.line is not None:
            parts.append(tell("lessons.place.line", line=self.line))
        if self.task is not None:
            parts.append(tell("lessons.place.task", task=self.task))
        elif self.part is not None:
            parts.append(tell("lessons.place.part", part=self.part))
        if self.where:
            parts.append(tell("lessons.place.key", key=self.where))
        return ", ".join(parts)

    @property
    def hint(self) -> str:
        if not self.near:
            return ""
        return tell("lessons.near", near=" / ".join(f"“{word}”" for word in self.near))

    def sentence(self) -> str:
        """The whole fault in one line, for a log or a notice."""
        text = tell("lessons.sentence", place=self.place, expected=self.expected, found=self.found)
        return f"{text} {self.hint}".rstrip()

    def block(self) -> str:
        """The whole fault as a few lines, for the terminal."""
        rows = [self.place, tell("lessons.block.expected", text=self.expected)]
        rows.append(tell("lessons.block.found", text=self.found))
        if self.hint:
            rows.append(tell("lessons.block.hint", text=self.hint))
        return "\n".join(rows)

    def as_dict(self) -> dict[str, object]:
        return {
            "code": self.code,
            "file": self.file,
            "line": self.line,
            "part": self.part,
            "task": None if self.task is None else render(self.task),
            "where": self.where,
            "expected": self.expected,
            "found": self.found,
            "near": list(self.near),
            "sentence": self.sentence(),
        }


class PackFaults(Exception):
    """A pack that can't be used, with every fault it has, in the order of the file."""

    def __init__(self, pack: str, faults: Iterable[PackFault]) -> None:
        self.pack = pack
        self.faults = list(faults)
        super().__init__("\n".join(fault.sentence() for fault in self.faults))


def near(word: object, allowed: Iterable[str]) -> tuple[str, ...]:
    """Up to two allowed words that `word` may have been meant to be."""
    if not isinstance(word, str):
        return ()
    by_lower = {name.lower(): name for name in allowed}
    found = get_close_matches(word.lower().strip(), list(by_lower), n=2, cutoff=0.6)
    return tuple(by_lower[name] for name in found)


def shown(value: object) -> Text:
    """A value as an author would recognise it, cut where it is long."""
    if isinstance(value, dict):
        return say("lessons.value.table", keys=_cut(", ".join(map(str, value)) or "–"))
    if isinstance(value, list):
        return say("lessons.value.list", count=len(value))
    if isinstance(value, bool):
        text = "true" if value else "false"
    elif isinstance(value, str):
        text = f"“{value}”"
    else:
        text = str(value)
    return _cut(text)


def _cut(text: str) -> str:
    text = " ".join(text.split())
    return text if len(text) <= LONGEST_SHOWN else text[: LONGEST_SHOWN - 1] + "…"
