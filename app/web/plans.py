"""Packs as plans: what a period works through, in the teacher's order (see `app.classroom.lesson`)."""

from __future__ import annotations

import json
import re
import time
from pathlib import Path
from typing import TYPE_CHECKING, Any

from app.classroom.lesson import Plan, arrange, with_own
from app.store import periods
from app.web.server import Server
from app.words import say
from app.words.house import house as house_of

if TYPE_CHECKING:
    from app.lessons.load import Found
    from app.lessons.schema import Pack

LOOK_AGAIN = 1.0  # seconds until a pack's files are looked at again: a changed pack shows soon, not at once
NAME = re.compile(r"[a-z0-9]+(-[a-z0-9]+)*\Z")


class Shelf:
    """The folder of packs. A name that could leave the folder is no name."""

    def __init__(self, folder: Path) -> None:
        self.folder = folder
        self._looked: dict[tuple[str, str], tuple[float, Pack | None]] = {}

    def found(self) -> list[Found]:
        """Every pack of the folder, those with faults too."""
        from app.lessons.load import find_packs

        return find_packs(self.folder) if self.folder.is_dir() else []

    def pack(self, name: str, house: str = "us") -> Pack | None:
        """A sound pack by its folder's name, its theorem names in the house's words; None if there is
        none.
        """
        at, found = self._looked.get((name, house), (0.0, None))
        if time.monotonic() - at > LOOK_AGAIN or at == 0.0:
            found = self._load(name, house)
            if found is None:
                self._looked.pop((name, house), None)  # names that aren't there are anybody's: not remembered
            else:
                self._looked[name, house] = (time.monotonic(), found)
        return found

    def _load(self, name: str, house: str) -> Pack | None:
        from app.lessons.faults import PackFaults
        from app.lessons.load import load_pack

        if not NAME.match(name) or len(name) > 80 or not (self.folder / name / "pack.toml").is_file():
            return None
        try:
            return load_pack(self.folder / name, house=house, language=house_of(house).lang.split("-")[0])
        except PackFaults:
            return None


def plan_of(pack: Pack) -> Plan:
    """A pack as a plan."""
    return {
        "name": pack.name,
        "title": pack.title,
        "parts": [
            {
                "id": part.id,
                "title": part.title,
                "minutes": part.minutes,
                "optional": part.optional,
                "purpose": part.purpose,
                "hidden": False,
                "tasks": [task.data for task in part.tasks],
            }
            for part in pack.parts
        ],
    }


def plan_of_period(server: Server, period: dict[str, Any]) -> Plan:
    """The plan of a period; an empty one when its pack has gone from the folder."""
    pack = server.shelf.pack(period["pack"], period["house"])
    plan = plan_of(pack) if pack else {"name": period["pack"], "title": period["pack"], "parts": []}
    plan = arrange(plan, json.loads(period["arrangement"] or "{}"))
    own = server.store.read(lambda c: periods.own(c, period["id"]))
    return with_own(plan, own, say("web.own_part"))
