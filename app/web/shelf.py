"""The folder of packs, and the copies that periods work through, read once and held ready."""

from __future__ import annotations

import hashlib
import json
import re
import time
from collections.abc import Callable
from pathlib import Path

from app.lessons.faults import PackFaults
from app.lessons.load import Found, find_packs, load_pack, read_copy, texts_of
from app.lessons.schema import Pack
from app.words import reader
from app.words.house import house as house_of

LOOK_AGAIN = 1.0  # seconds until a pack's files are looked at again: a changed pack shows soon, not at once
MOST_COPIES = 64  # copies held ready
NAME = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*\Z")


class Shelf:
    """The folder of packs. A name that could leave the folder is no name."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self._copies: dict[tuple[str, str], Pack | None] = {}
        self._looked: dict[tuple[str, str], tuple[float, Pack | None]] = {}

    def found(self) -> list[Found]:
        """Every pack of the folder in the reader's words, those with faults too."""
        own = reader().names
        language = own.lang.split("-")[0]
        return find_packs(self.folder, house=own.key, language=language) if self.folder.is_dir() else []

    def pack(self, name: str, house: str | None = None) -> Pack | None:
        """A sound pack by its folder's name, in the words of a house, else of the reader's; None if there is none."""
        house = house or reader().names.key
        at, found = self._looked.get((name, house), (0.0, None))
        if time.monotonic() - at > LOOK_AGAIN or at == 0.0:
            found = self._load(name, house)
            if found is None:
                self._looked.pop((name, house), None)  # names that aren't there are anybody's: not remembered
            else:
                self._looked[name, house] = (time.monotonic(), found)
        return found

    def copy(self, name: str) -> tuple[str, str] | None:
        """(digest, texts as JSON) of a sound pack, for a period that is opened on it; None if there is none."""
        if not NAME.match(name) or len(name) > 80:
            return None
        try:
            texts = texts_of(self.folder / name)
            read_copy(name, texts)
        except PackFaults:
            return None
        kept = json.dumps(texts, sort_keys=True)
        return hashlib.sha256(kept.encode()).hexdigest(), kept

    def copied(self, name: str, digest: str, house: str, texts: Callable[[], str | None]) -> Pack | None:
        """The pack in a copy; `texts` fetches it where it is not at hand."""
        key = (digest, house)
        if key not in self._copies:
            found = texts()
            if len(self._copies) >= MOST_COPIES:
                self._copies.clear()
            try:
                said = {"house": house, "language": house_of(house).lang.split("-")[0]}
                self._copies[key] = read_copy(name, json.loads(found), **said) if found else None
            except PackFaults:
                self._copies[key] = None  # a newer program may ask more of a pack than the one that kept it
        return self._copies.get(key)

    def _load(self, name: str, house: str) -> Pack | None:
        if not NAME.match(name) or len(name) > 80 or not (self.folder / name / "pack.toml").is_file():
            return None
        try:
            return load_pack(self.folder / name, house=house, language=house_of(house).lang.split("-")[0])
        except PackFaults:
            return None
