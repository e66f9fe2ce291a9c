"""Sheets from families and packs, in versions A, B, C: same questions, other numbers, letters and turns."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from app.figure.faults import Fault
from app.practice.chance import mixed
from app.practice.families import FAMILIES, levels, title
from app.practice.forms import in_form
from app.sheets.entries import Entry, from_family
from app.sheets.identity import check_code
from app.sheets.paper import PAPERS, THEMES, Theme
from app.sheets.proofs import write_a_proof
from app.sheets.reading import in_its_words
from app.words import render
from app.words import tell as say
from app.words.house import HOUSES, House
from app.words.house import house as house_of

__all__ = ["MOST", "VERSIONS", "Ask", "Sheet", "Want", "build", "read_want", "seed_for"]

VERSIONS = ("A", "B", "C")
MOST = 60
MOST_SEED = 999_999


@dataclass(frozen=True, slots=True)
class Ask:
    """So many items of a family and level."""

    family: str
    level: int
    count: int


@dataclass(frozen=True, slots=True)
class Want:
    """Everything that decides a sheet; the same want gives the same sheet for ever."""

    asks: tuple[Ask, ...]
    seed: int = 1
    version: str = "A"
    paper: str = "letter"
    theme: str = "standard"
    purpose: str = "exercise"  # exercise, exit, proof
    title: str = ""
    house: str = "us"


@dataclass(frozen=True, slots=True)
class Sheet:
    title: str
    version: str
    seed: int
    paper: str
    theme: Theme
    house: House
    entries: tuple[Entry, ...]
    purpose: str = "exercise"
    lead: str = ""  # a sentence over the questions
    left_out: tuple[str, ...] = ()  # what was asked for but can't be printed, in sentences for the teacher

    @property
    def code(self) -> str:
        """What stands in the foot of sheet and key: it determines the questions."""
        return check_code(self.entries)


def read_want(
    asks: Sequence[str],
    *,
    seed: object = 1,
    version: object = "A",
    paper: object = "",
    theme: object = "standard",
    purpose: object = "exercise",
    title: object = "",
    house: object = "us",
    alone: bool = True,
) -> Want:
    """A want from words: each ask is "family:level:count" (level and count may be left out).

    No paper named is the usual one of the house. `alone`: the asks are the whole sheet; beside the tasks of a pack
    there may be none. Raises Fault where something is unknown or too much.
    """
    found = tuple(_ask(text) for text in asks if text.strip())
    total = sum(a.count for a in found)
    if not (1 if alone else 0) <= total <= MOST:
        raise Fault("sheets.count", "items", most=MOST)
    number = _whole(seed, "seed", 0, MOST_SEED)
    paper = paper or ("a4" if house == "uk" else "letter")  # what lies in the printers of those who speak so
    for name, value, known in (
        ("version", version, VERSIONS),
        ("paper", paper, PAPERS),
        ("theme", theme, THEMES),
        ("purpose", purpose, ("exercise", "exit", "proof")),
        ("house", house, HOUSES),
    ):
        if value not in known:
            raise Fault("sheets.unknown", name, name=name, found=str(value)[:24], known=", ".join(known))
    for ask in found:
        if purpose == "proof" and ask.family not in PROOFS:
            raise Fault("sheets.no_proof", "purpose", family=_name(ask.family), known=", ".join(map(_name, PROOFS)))
    return Want(found, number, str(version), str(paper), str(theme), str(purpose), str(title)[:80], str(house))


def _ask(text: str) -> Ask:
    parts = [p.strip() for p in text.strip().split(":")]
    if len(parts) > 3 or parts[0] not in (*FAMILIES, WRITE):
        raise Fault("sheets.ask", "items", found=text[:40], known=", ".join((*FAMILIES, WRITE)))
    highest = 3 if parts[0] == WRITE else levels(parts[0])
    level = _whole(parts[1] if len(parts) > 1 and parts[1] else 1, "level", 1, highest)
    count = _whole(parts[2] if len(parts) > 2 and parts[2] else 6, "count", 1, MOST)
    return Ask(parts[0], level, count)


def _whole(value: object, name: str, low: int, high: int) -> int:
    text = str(value).strip()
    if not (text.isascii() and text.isdigit() and len(text) <= 7 and low <= int(text) <= high):
        raise Fault("sheets.whole", name, name=name, low=low, high=high)
    return int(text)


# Not a family of exercises, but a sheet can ask for whole proofs to be written.
WRITE = "write-a-proof"
# What a proof sheet may hold.
PROOFS = (WRITE, "missing-reason", "put-in-order", "find-the-mistake")


def seed_for(seed: int, version: str, place: int) -> int:
    """The item's own seed: another for each version and place, never the same twice on a sheet."""
    return mixed("sheet", seed, version) % 1_000_000_007 + place


@in_its_words
def build(want: Want) -> Sheet:
    """The sheet, ready to be printed."""
    theme, house = THEMES[want.theme], house_of(want.house)
    entries: list[Entry] = []
    for ask in want.asks:
        for _ in range(ask.count):
            seed = seed_for(want.seed, want.version, len(entries))
            if ask.family == WRITE:
                entries.append(write_a_proof(ask.level, seed, theme, house))
            else:
                # The kind of question comes from the seed alone; numbers, letters and turns from the version too (I-6).
                seed = in_form(ask.family, ask.level, seed_for(want.seed, VERSIONS[0], len(entries)), seed)
                entries.append(from_family(ask.family, ask.level, seed, theme, house))
    return Sheet(
        want.title or _title(want),
        want.version,
        want.seed,
        want.paper,
        theme,
        house,
        tuple(entries),
        want.purpose,
        say("sheets.lead_exit") if want.purpose == "exit" else "",
    )


def _title(want: Want) -> str:
    if want.purpose == "exit":
        return say("sheets.title_exit")
    if want.purpose == "proof" or all(a.family == WRITE for a in want.asks):
        return say("sheets.title_proof")
    names = dict.fromkeys(_name(a.family) for a in want.asks)
    return say("sheets.title_mixed") if len(names) > 2 else " · ".join(names)


def _name(family: str) -> str:
    return say("sheets.family_write-a-proof") if family == WRITE else render(title(family))
