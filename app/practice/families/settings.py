"""Parallels around us. Levels: 1 an angle from lines known to be parallel, 2 the x that makes them so,
3 measured angles: are they parallel, and by which theorem?

The numbers come from the families of the same question; only the setting is told here. Seeds are shifted, so
that a setting never repeats the bare item of the same seed.
"""

from __future__ import annotations

from dataclasses import replace

from app.practice.chance import Chance, mixed
from app.practice.families import angles, enough, solving
from app.practice.items import Item
from app.words import Text, joined, say
from app.words.house import House

__all__ = ["SETTINGS", "make"]

SETTINGS = ("stripes", "shelves", "rails", "rafters", "weaving", "map", "fence", "stairs", "rows", "kite")
_SHIFT = 20_011
_LIKE = {1: ("find-the-angle", 2), 2: ("make-parallel", 2), 3: ("is-it-enough", 2)}


def make(family: str, seed: int, level: int, house: House) -> Item:
    chance = Chance(mixed(family, seed, level))
    like, like_level = _LIKE[level]
    bare = {1: angles, 2: solving, 3: enough}[level].make(like, seed + _SHIFT, like_level, house)
    setting = chance.pick(SETTINGS)
    assert bare.figure is not None
    lines = list(bare.figure["lines"])
    cut = str(bare.figure["transversal"])
    first, second = (name for name in lines if name != cut)
    names = {"first": first, "second": second, "cut": cut}
    wanted = next(f for f in bare.fields if not f.optional)
    made: Item = replace(
        bare,
        family=family,
        seed=seed,
        level=level,
        skill={1: "solve-from-parallel", 2: "solve-for-x", 3: "choose-converse"}[level],
        prompt=joined(
            "sentences",
            (say(f"practice.setting_{setting}", **names), say(f"practice.setting_known_{level}", **names)),
        ),
        ask=say(f"practice.setting_ask_{level}", label=wanted.label, given=_measured(bare), **names),
    )
    return made


def _measured(item: Item) -> Text:
    """m∠1 = 51° and m∠5 = 51°, as someone on the spot would have measured them."""
    said = [f"{text}°" for text in item.given if text.startswith("m∠")]
    return say("practice.and", first=said[0], last=said[-1]) if len(said) > 1 else said[0]
