"""Packs from their folders: `load_pack` for one, `find_packs` for a shelf of them.

A pack is a folder with `pack.toml` and, for other languages, `text.<language>.toml`. Reading is cached by
the files' stamps, so that asking for a pack at each request costs two looks at the disk.
"""

from __future__ import annotations

import hashlib
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from app.words import Text, say

from .build import build
from .deep import judge_deep
from .faults import PackFault, PackFaults
from .read import read_text, read_translation
from .schema import LIMITS, Pack, Translation
from .sense import judge_sense

__all__ = ["Found", "check_pack", "find_packs", "load_pack", "read_copy", "read_pack", "texts_of"]

PACK = "pack.toml"


@dataclass(frozen=True)
class Found:
    """A folder that is, or was meant to be, a pack."""

    name: str
    path: Path
    pack: Pack | None
    faults: list[PackFault]


def load_pack(path: str | Path, *, house: str = "us", language: str | None = None) -> Pack:
    """The pack in the folder `path`, its theorem names in the words of `house`.

    `language` is one of `Pack.languages`; another one, or None, gives the pack as it was written.
    Raises PackFaults with every fault.
    """
    folder = Path(path)
    return _cached(folder.resolve(), _stamp(folder), house, language, False)


def check_pack(path: str | Path) -> Pack:
    """Like `load_pack`, and every goal, given and start is also asked of the reasoner and the replay."""
    folder = Path(path)
    return _cached(folder.resolve(), _stamp(folder), "us", None, True)


def find_packs(folder: str | Path, *, house: str = "us", language: str | None = None) -> list[Found]:
    """Every pack under `folder` (or `folder` itself, if it is one), in the order that the packs ask for."""
    root = Path(folder)
    paths = [root] if (root / PACK).is_file() else sorted(p.parent for p in root.glob(f"*/{PACK}"))
    found = []
    for path in paths:
        try:
            found.append(Found(path.name, path, load_pack(path, house=house, language=language), []))
        except PackFaults as error:
            found.append(Found(path.name, path, None, error.faults))
    return sorted(found, key=lambda f: (f.pack.order if f.pack else 1000, f.name))


def read_pack(
    name: str,
    text: str,
    translations: dict[str, str] | None = None,
    *,
    house: str = "us",
    language: str | None = None,
    deep: bool = False,
) -> Pack:
    """A pack from text that is in hand, such as one a teacher has just uploaded.

    `translations` is language → the text of its file. Raises PackFaults with every fault.
    """
    draft = read_text(text, PACK)
    sense = judge_sense(draft)
    faults = [*draft.faults, *sense.faults]
    words: dict[str, Translation] = {}
    for code, content in (translations or {}).items():
        shape, found = read_translation(content, f"text.{code}.toml", draft)
        faults += found
        if shape is not None:
            words[code] = shape
    if deep and draft.shape is not None:
        faults += judge_deep(draft, sense)
    if faults or draft.shape is None:
        raise PackFaults(name, sorted(faults, key=lambda f: (f.file != PACK, f.file, f.line or 0)))
    digest = hashlib.sha256(text.encode()).hexdigest()[:16]
    return build(name, draft, sense, words, house=house, language=language, digest=digest)


def texts_of(path: str | Path) -> dict[str, str]:
    """The texts of a pack's files by name, to keep a copy of; PackFaults where they can't be read."""
    folder = Path(path)
    return _texts(folder, _stamp(folder))


def read_copy(name: str, texts: dict[str, str], *, house: str = "us", language: str | None = None) -> Pack:
    """The pack in a copy that `texts_of` made."""
    others = {file.split(".")[1]: text for file, text in texts.items() if file != PACK}
    return read_pack(name, texts.get(PACK, ""), others, house=house, language=language)


Stamp = tuple[tuple[str, int, int], ...]


@lru_cache(maxsize=128)
def _cached(folder: Path, stamp: Stamp, house: str, language: str | None, deep: bool) -> Pack:
    texts = _texts(folder, stamp)
    others = {name.split(".")[1]: text for name, text in texts.items() if name != PACK}
    return read_pack(folder.name, texts[PACK], others, house=house, language=language, deep=deep)


def _texts(folder: Path, stamp: Stamp) -> dict[str, str]:
    if not stamp or stamp[0][0] != PACK:
        raise PackFaults(folder.name, [_unreadable(PACK, say("lessons.unreadable.none"))])
    texts: dict[str, str] = {}
    faults = []
    for name, size, _ in stamp:
        if size > LIMITS["file"]:
            fields = {"most": str(LIMITS["file"]), "size": str(size)}
            faults.append(PackFault("too-big", name, fields=fields))
            continue
        try:
            texts[name] = (folder / name).read_text(encoding="utf-8")
        except UnicodeDecodeError as error:
            faults.append(_unreadable(name, say("lessons.unreadable.bytes", at=error.start)))
        except OSError as error:
            faults.append(_unreadable(name, error.strerror or type(error).__name__))
    if faults:
        raise PackFaults(folder.name, faults)
    return texts


def _stamp(folder: Path) -> Stamp:
    """Name, size and time of each file of the pack; pack.toml first."""
    files = [p for p in (folder / PACK, *sorted(folder.glob("text.*.toml"))) if p.is_file()]
    return tuple((p.name, p.stat().st_size, p.stat().st_mtime_ns) for p in files)


def _unreadable(name: str, problem: Text) -> PackFault:
    return PackFault("unreadable", name, fields={"problem": problem})
