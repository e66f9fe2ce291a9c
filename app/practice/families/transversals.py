"""Which line is the transversal, and which two lines does the pair speak of?

Levels: 1 three lines that all cross (any of them may be the transversal), 2 two lines and two transversals,
3 three lines and two transversals.
"""

from __future__ import annotations

from collections.abc import Iterable
from fractions import Fraction
from itertools import combinations

from app.figure.model import figure_from_json
from app.figure.pairs import TRANSVERSAL_PAIRS, name_angles
from app.figure.plane import unit
from app.practice.chance import Chance, mixed
from app.practice.drawing import Drawn, draw_network, framed, letters_for, sectors, turn_of, with_angles
from app.practice.families.common import check_traps
from app.practice.items import Choice, Field, Item
from app.words import say, term
from app.words.house import House

__all__ = ["lines_choice", "make", "unordered"]


def unordered(two: Iterable[str], order: Iterable[str]) -> str:
    """ "m,n": two lines as one value, in the figure's order."""
    place = list(order)
    return ",".join(sorted(two, key=place.index))


def lines_choice(pair: str) -> Choice:
    a, b = pair.split(",")
    return Choice(pair, say("practice.and", first=a, last=b))


def make(family: str, seed: int, level: int, house: House) -> Item:
    chance = Chance(mixed(family, seed, level))
    drawn = _triangle(chance, seed, level) if level == 1 else _network(chance, seed, level)
    fig = drawn.fig
    pairs = [
        (a, b)
        for a, b in combinations(fig.angles, 2)
        if name_angles(fig, fig.angles[a], fig.angles[b]).pair in TRANSVERSAL_PAIRS
    ]
    a, b = chance.pick(pairs)
    pair = name_angles(fig, fig.angles[a], fig.angles[b])
    assert pair.transversal and pair.lines
    order = list(fig.lines)
    two = unordered(pair.lines, order)
    options = [",".join(p) for p in combinations(order, 2)]
    if len(options) > 6:
        others = chance.shuffled([o for o in options if o != two])
        needed = [unordered((pair.transversal, line), order) for line in pair.lines]
        options = [o for o in options if o == two or o in needed or o in others[:3]]
    key = {"transversal": (pair.transversal,), "lines": (two,)}
    traps = {
        "wrong-transversal": {
            "transversal": pair.lines[0],
            "lines": unordered((pair.transversal, pair.lines[1]), order),
        },
        "wrong-lines": {
            "transversal": pair.transversal,
            "lines": unordered((pair.transversal, pair.lines[0]), order),
        },
    }
    at_a, at_b = fig.angles[a], fig.angles[b]
    return Item(
        family=family,
        seed=seed,
        level=level,
        skill="find-transversal",
        prompt=say("practice.cut_prompt", lines=", ".join(order)),
        ask=say("practice.cut_ask", a=a, b=b),
        fields=(
            Field("transversal", "choice", say("practice.cut_label"), tuple(Choice(n, n) for n in order)),
            Field("lines", "choice", say("practice.cut_lines_label"), tuple(lines_choice(o) for o in options)),
        ),
        figure=drawn.json,
        key=key,
        working=(
            say("practice.cut_why", a=a, b=b, cut=pair.transversal, first=pair.lines[0], second=pair.lines[1]),
            say("practice.cut_pair", pair=term(pair.pair)),
        ),
        hints=(
            say("practice.cut_hint_1", a=a, b=b),
            say(
                "practice.cut_hint_2",
                a=a,
                b=b,
                a_lines=say("practice.and", first=at_a.lines()[0], last=at_a.lines()[1]),
                b_lines=say("practice.and", first=at_b.lines()[0], last=at_b.lines()[1]),
            ),
            say("practice.cut_hint_3", cut=pair.transversal),
        ),
        traps=check_traps(traps, key) or {},
        facts={"a": a, "b": b, "pair": pair.pair},
    )


def _triangle(chance: Chance, seed: int, level: int) -> Drawn:
    """Three lines that make a triangle; two angles at each corner have a number."""
    turn = turn_of(seed, level, least=-80, most=80)
    names, cuts = letters_for(chance, 2, 1)
    first, second = chance.between(48, 72), chance.between(108, 132)
    size = Fraction(1700 + turn.spread, 1000)
    body = {
        names[0]: {"direction": str(turn.tilt % 360), "through": ["0", "0"]},
        names[1]: {"direction": str((turn.tilt + first) % 360), "through": _at(turn.tilt, -size)},
        cuts[0]: {"direction": str((turn.tilt + second) % 360), "through": _at(turn.tilt, size)},
    }
    meets = {"A": [names[0], names[1]], "B": [names[0], cuts[0]], "C": [names[1], cuts[0]]}
    fig = framed(figure_from_json({"lines": body, "meets": meets, "angles": {}}))
    drawn = Drawn(fig, names, cuts)
    found = sectors(drawn)
    keep = [i for start in range(0, len(found), 4) for i in sorted(chance.shuffled(range(start, start + 4))[:2])]
    return with_angles(drawn, {str(n + 1): found[i] for n, i in enumerate(keep)})


def _at(tilt: Fraction, away: Fraction) -> list[str]:
    ux, uy = unit(tilt % 360)
    return [str(Fraction(round(c * 1000), 1000) * away) for c in (ux, uy)]


def _network(chance: Chance, seed: int, level: int) -> Drawn:
    lines = level
    off = [chance.pick([-8, -5, 5, 8]) for _ in range(lines)]
    drawn = draw_network(chance, turn_of(seed, level, least=-80, most=80), lines=lines, off=off)
    found = sectors(drawn)
    each = 3 if lines == 2 else 2
    keep = [i for start in range(0, len(found), 4) for i in sorted(chance.shuffled(range(start, start + 4))[:each])]
    return with_angles(drawn, {str(n + 1): found[i] for n, i in enumerate(keep)})
