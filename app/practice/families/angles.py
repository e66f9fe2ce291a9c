"""Find the angle when lines are parallel.

Levels: 1 one named pair, 2 any two of the eight angles, 3 a network in which only some lines are given
parallel, so that sometimes the angle can't be told. A third angle is numbered there, which may help or not.
"""

from __future__ import annotations

import itertools
from collections.abc import Iterable, Sequence
from fractions import Fraction
from typing import Any

from app.figure.model import Angle
from app.figure.pairs import name_angles, relation_for
from app.practice.certify import forced, free, verdict
from app.practice.chance import Chance, mixed
from app.practice.drawing import Drawn, draw_lines, draw_network, mark, sectors, turn_of, with_angles
from app.practice.families.common import CROSS, PAIR_OF, check_traps, original_of
from app.practice.items import NONE, Field, Item
from app.words import Text, say, term
from app.words import theorem as theorem_of
from app.words.house import House

__all__ = ["make"]


def make(family: str, seed: int, level: int, house: House) -> Item:
    chance = Chance(mixed(family, seed, level))
    size = chance.pick([n for n in range(25, 156) if abs(n - 90) > 6])
    if level < 3:
        return _two_lines(family, seed, level, house, chance, size)
    return _network(family, seed, level, house, chance, size)


def _two_lines(family: str, seed: int, level: int, house: House, chance: Chance, size: int) -> Item:
    if level == 1:
        p, q = chance.pick(CROSS[chance.pick(PAIR_OF)])
    else:
        p = chance.pick("12345678")
        q = chance.pick([n for n in "12345678" if n != p])
    if chance.maybe(1, 2):
        p, q = q, p
    reach = 12 if level == 1 else 60
    drawn = draw_lines(
        chance,
        turn_of(seed, level, least=-reach, most=reach),
        number=p,
        angle=Fraction(size),
        # With all eight the key can name each step, and none of them is given away.
        numbers=sorted((p, q)) if level == 1 else "12345678",
    )
    first, second = drawn.lines
    given = (f"{first} ∥ {second}", f"m∠{p} = {size}")
    value = size if verdict(drawn.fig, given, f"m∠{q} = {size}") == "follows" else 180 - size
    forced(drawn.fig, given, [f"m∠{q} = {value}"])
    return _item(family, seed, level, house, drawn, given, p, q, size, str(value), {first: 1, second: 1})


def _network(family: str, seed: int, level: int, house: House, chance: Chance, size: int) -> Item:
    """Two lines and two cuts that all but make a parallelogram; one or both pairs are given parallel."""
    lean = size if size < 90 else 180 - size
    lean = max(lean, 40)
    other = chance.pick([-5, -3, 0, 3, 5])
    while True:
        drawn = draw_network(
            chance,
            turn_of(seed, level, least=-60, most=60),
            off=(0, chance.pick([-4, 0, 4])),
            leans=(lean, lean + other),
        )
        found = chance.shuffled(sectors(drawn))
        a = found[0]
        b = next(s for s in found if s.at != a.at)
        fig = drawn.fig
        p, q = "1", "2"
        alone = drawn
        drawn = with_angles(drawn, {p: a, q: b})
        fig = drawn.fig
        lines, cuts = " ∥ ".join(drawn.lines), " ∥ ".join(drawn.transversals)
        parallels = chance.pick([[lines], [cuts], [lines, cuts]])
        acute = fig.measure(p) < 90
        shown = size if (size < 90) == acute else 180 - size
        given = (*parallels, f"m∠{p} = {shown}")
        values = [v for v in (shown, 180 - shown) if verdict(fig, given, f"m∠{q} = {v}") == "follows"]
        pair = name_angles(fig, fig.angles[p], fig.angles[q])
        if values and len(parallels) == 2 and pair.relation:
            continue  # one pair of parallels would do: the two-step ones are the question here
        if not values:
            if not pair.relation:
                continue
            free(fig, given, f"m∠{q} = {shown}")
            free(fig, given, f"m∠{q} = {180 - shown}")
        third = next(s for s in found if s.at not in (a.at, b.at))
        if values and not _links(alone, parallels, a, b):
            third = _between(alone, parallels, a, b, found)
        drawn = with_angles(alone, {p: a, q: b, "3": third})
        break
    arrows = {}
    for count, names in ((1, drawn.lines), (2, drawn.transversals)):
        if " ∥ ".join(names) in parallels:
            arrows.update(dict.fromkeys(names, count))
    value = str(values[0]) if values else NONE
    return _item(family, seed, level, house, drawn, given, p, q, shown, value, arrows)


def _item(
    family: str,
    seed: int,
    level: int,
    house: House,
    drawn: Drawn,
    given: tuple[str, ...],
    p: str,
    q: str,
    size: int,
    value: str,
    arrows: dict[str, int],
) -> Item:
    pair = name_angles(drawn.fig, drawn.fig.angles[p], drawn.fig.angles[q])
    key = {"angle": (value,)}
    traps = {}
    if value == NONE:
        # Whichever way the two are taken to go together: that they do is the mistake.
        traps["equal-without-parallel"] = {"angle": f"{size}|{180 - size}"}
    elif value == str(size):
        traps["supplementary-for-equal"] = {"angle": str(180 - size)}
    else:
        traps["equal-for-supplementary"] = {"angle": str(size)}
        if 90 - size > 0:
            traps["ninety-for-180"] = {"angle": str(90 - size)}
    parallels = [text for text in given if "∥" in text]
    steps: tuple[str, ...] = () if value == NONE else (p, q)
    if steps and not _links(drawn, parallels, drawn.fig.angles[p], drawn.fig.angles[q]):
        others = [one for name, one in drawn.fig.angles.items() if name not in (p, q)]
        middle = _between(drawn, parallels, drawn.fig.angles[p], drawn.fig.angles[q], others)
        steps = (p, middle.name, q)
    note = "none" if value == NONE else "steps" if len(steps) > 2 else pair.pair.split()[0]
    note = "pair" if pair.pair in PAIR_OF and note not in ("none", "steps") else note
    fields: dict[str, Any] = {
        "p": p,
        "q": q,
        "pair": term(pair.pair),
        "value": value,
        "size": size,
        "lines": say("practice.and", first=pair.lines[0], last=pair.lines[1]) if pair.lines else "",
        "theorem": theorem_of(original_of(pair.pair)) if pair.pair in PAIR_OF else "",
    }
    return Item(
        family=family,
        seed=seed,
        level=level,
        skill="solve-from-parallel",
        prompt=say("practice.angle_prompt", given=", ".join(given[:-1])),
        ask=say("practice.angle_ask_3" if level == 3 else "practice.angle_ask", q=q),
        fields=(Field("angle", "number", f"m∠{q}", unit="°", none=say("practice.angle_none") if level == 3 else ""),),
        figure=drawn.json,
        marks=mark({p: f"{size}°"}, arrows=arrows),
        given=given,
        key=key,
        working=_working(drawn, given, steps, size) or (say("practice.angle_why_none", **fields),),
        hints=(
            say("practice.angle_hint_1", **fields),
            say(f"practice.angle_hint_2_{note}", **fields),
            say(f"practice.angle_hint_3_{note}", **fields),
        ),
        traps=check_traps(traps, key) or {},
        facts={"pair": pair.pair, "p": p, "q": q, "steps": steps},
    )


# From one angle to the next, the link that a class would try first: along the parallels, then at the vertex.
_LINKS = (*PAIR_OF, "linear pair", "vertical")


def _links(drawn: Drawn, parallels: Iterable[str], a: Angle, b: Angle) -> str:
    """The pair by which b's measure follows from a's in one step, or "" where there is none."""
    pair = name_angles(drawn.fig, a, b)
    if pair.pair in ("vertical", "linear pair"):
        return pair.pair
    given = pair.lines and any(f"{x} ∥ {y}" in parallels for x, y in (pair.lines, pair.lines[::-1]))
    return pair.pair if pair.pair in PAIR_OF and given else ""


def _between(drawn: Drawn, parallels: Iterable[str], a: Angle, b: Angle, among: Iterable[Angle]) -> Angle:
    """An angle that joins a and b in two steps; the first steps are those that a class would try first."""
    found: list[tuple[int, int, int, Angle]] = []
    for one in among:
        steps = _links(drawn, parallels, a, one), _links(drawn, parallels, one, b)
        if all(steps):
            found.append((_LINKS.index(steps[0]), _LINKS.index(steps[1]), len(found), one))
    return min(found, key=lambda each: each[:3])[3]


def _working(drawn: Drawn, given: Sequence[str], names: Sequence[str], size: int) -> tuple[Text, ...]:
    """Step by step along the names: which pair, which lines are parallel, which theorem, and the measure."""
    said: list[Text] = []
    for p, q in itertools.pairwise(names):
        pair = name_angles(drawn.fig, drawn.fig.angles[p], drawn.fig.angles[q])
        value = size if pair.pair == "vertical" or relation_for(pair.pair) == "congruent" else 180 - size
        # The key may only say what the reasoner finds.
        forced(drawn.fig, given, [f"m∠{q} = {value}"])
        kind = "pair" if pair.pair in PAIR_OF else pair.pair.split()[0]
        theorem = {"vertical": "vertical-angles", "linear": "linear-pair"}.get(kind) or original_of(pair.pair)
        said.append(
            say(
                f"practice.angle_why_{kind}",
                p=p,
                q=q,
                pair=term(pair.pair),
                lines=say("practice.and", first=pair.lines[0], last=pair.lines[1]) if pair.lines else "",
                theorem=theorem_of(theorem),
                size=size,
                value=value,
            )
        )
        size = value
    return tuple(said)
