"""Name the pair: 1 near the page's own direction, 2 turned any way, 3 in a network of lines."""

from __future__ import annotations

from fractions import Fraction
from itertools import combinations

from app.figure.pairs import name_angles, name_pair
from app.practice.chance import Chance, mixed
from app.practice.drawing import Drawn, draw_lines, draw_network, sectors, turn_of, with_angles
from app.practice.families.common import PAIR_OF, check_traps, pair_choices
from app.practice.items import NONE, Field, Item
from app.words import Text, joined, say, term
from app.words.house import House

__all__ = ["make", "pair_traps"]


def make(family: str, seed: int, level: int, house: House) -> Item:
    chance = Chance(mixed(family, seed, level))
    names: list[tuple[str, str]] = []
    while not names:
        drawn = _network(chance, seed, level) if level == 3 else _two_lines(chance, seed, level)
        wanted = chance.pick((*PAIR_OF, *PAIR_OF, "vertical", "linear pair", *((NONE,) if level > 1 else ())))
        fig = drawn.fig
        names = [(a, b) for a, b in combinations(fig.angles, 2) if _name(drawn, a, b, level) == wanted]
    a, b = chance.pick(names)
    if chance.maybe(1, 2):
        a, b = b, a
    pair = name_pair(fig, a, b)
    options = [*PAIR_OF, "vertical", "linear pair", *((NONE,) if level > 1 else ())]
    where = say("practice.pair_where", cut=pair.transversal) if level == 3 and pair.transversal else ""
    why = say(f"practice.pair_why_{_why(pair.pair)}", a=a, b=b, pair=term(pair.pair), cut=pair.transversal or "–")
    return Item(
        family=family,
        seed=seed,
        level=level,
        skill="name-pairs",
        prompt=say(f"practice.pair_prompt_{level}", lines=_listed(drawn.lines), cuts=_listed(drawn.transversals)),
        ask=say("practice.pair_ask", a=a, b=b),
        fields=(Field("pair", "choice", say("practice.pair_label"), pair_choices(options, house)),),
        figure=drawn.json,
        key={"pair": (pair.pair,)},
        working=(joined("plain", (why, where)),),
        hints=(
            say("practice.pair_hint_1"),
            say("practice.pair_hint_2"),
            say(f"practice.pair_hint_3_{_why(pair.pair)}", a=a, b=b, cut=pair.transversal or "–"),
        ),
        traps=check_traps(pair_traps(pair.pair), {"pair": (pair.pair,)}) or {},
        facts={"a": a, "b": b, "pair": pair.pair},
    )


def pair_traps(pair: str) -> dict[str, dict[str, str]]:
    """What a pair is taken for by those who mix up the sides, inside and outside, or the words."""
    found: dict[str, str] = {}
    for kind, other in (("alternate", "consecutive"), ("consecutive", "alternate")):
        if pair.startswith(kind):
            found["pair-side"] = pair.replace(kind, other)
            found["pair-inside"] = (
                pair.replace("interior", "exterior") if "interior" in pair else pair.replace("exterior", "interior")
            )
            found["pair-corresponding"] = "corresponding"
    if pair == "corresponding":
        found["pair-corresponding"] = "alternate interior"
        found["pair-side"] = "consecutive interior"
    if pair == "vertical":
        found["one-meet-mixed"] = "linear pair"
    if pair == "linear pair":
        found["one-meet-mixed"] = "vertical"
    return {name: {"pair": value} for name, value in found.items()}


def _why(pair: str) -> str:
    return {"vertical": "vertical", "linear pair": "linear", "none": "none"}.get(pair, "cross")


def _listed(names: tuple[str, ...]) -> Text:
    """m, n and p"""
    return names[0] if len(names) == 1 else joined("and", names)


def _name(drawn: Drawn, a: str, b: str, level: int) -> str:
    """The pair's name; "none" only where the two angles lie along one transversal: else it is no question."""
    angles = drawn.fig.angles
    pair = name_angles(drawn.fig, angles[a], angles[b])
    if pair.pair == NONE and (angles[a].at == angles[b].at or pair.transversal is None):
        return "" if level < 3 or angles[a].at == angles[b].at else NONE
    return pair.pair


def _two_lines(chance: Chance, seed: int, level: int) -> Drawn:
    reach = 12 if level == 1 else 85
    off = Fraction(chance.pick([-9, -6, 0, 0, 6, 9]))
    angle = Fraction(chance.pick([*range(42, 80), *range(102, 140)]))
    return draw_lines(chance, turn_of(seed, level, least=-reach, most=reach), number="2", angle=angle, off=off)


def _network(chance: Chance, seed: int, level: int) -> Drawn:
    """Two or three lines and two transversals, with up to eighteen numbered angles."""
    lines = chance.pick([2, 3])
    off = [chance.pick([-8, -5, 0, 5, 8]) for _ in range(lines)]
    drawn = draw_network(chance, turn_of(seed, level, least=-60, most=60), lines=lines, off=off)
    found = sectors(drawn)
    if lines == 3:
        # A dozen numbers are enough to look among: two or so at each of the six meets.
        keep: list[int] = []
        for first in range(0, len(found), 4):
            four = chance.shuffled(list(range(first, first + 4)))
            keep += sorted(four[:3])
        found = [found[i] for i in keep]
    return with_angles(drawn, {str(i + 1): angle for i, angle in enumerate(found)})
