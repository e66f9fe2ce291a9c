"""Is it enough? A relation between two angles is given: which lines are parallel, and by which converse?

Levels: 1 congruent or supplementary in words, 2 by measures, 3 two lines and two cuts, so that it may be
either two, or none. The drawing never decides: it looks parallel where nothing is forced, and a few
degrees off where it is.
"""

from __future__ import annotations

from fractions import Fraction
from itertools import combinations
from typing import Any

from app.figure.pairs import Pair, name_angles, name_pair, relation_for
from app.practice.certify import NotCertified, forced, verdict
from app.practice.chance import Chance, mixed
from app.practice.drawing import Drawn, draw_lines, draw_network, mark, sectors, turn_of, with_angles
from app.practice.families.common import (
    CROSS,
    PAIR_OF,
    check_traps,
    converse_of,
    original_of,
    theorem_choices,
)
from app.practice.families.transversals import unordered
from app.practice.items import NONE, Choice, Field, Item
from app.words import say, term
from app.words import theorem as theorem_of
from app.words.house import House

__all__ = ["make"]

_MEET_PAIRS = (("1", "4"), ("2", "3"), ("5", "8"), ("6", "7"), ("1", "2"), ("3", "4"), ("5", "6"), ("6", "8"))


def make(family: str, seed: int, level: int, house: House) -> Item:
    chance = Chance(mixed(family, seed, level))
    while True:
        made = (_network if level == 3 else _two_lines)(family, seed, level, house, chance)
        if made is not None:
            return made


def _said(relation: str, a: str, b: str) -> str:
    return f"∠{a} ≅ ∠{b}" if relation == "congruent" else f"m∠{a} + m∠{b} = 180"


def _two_lines(family: str, seed: int, level: int, house: House, chance: Chance) -> Item | None:
    plan = chance.pick(
        ["enough", "enough", "enough", "wrong", "meet"] if level == 1 else ["enough", "enough", "near", "wrong"]
    )
    size = chance.pick([n for n in range(32, 149) if abs(n - 90) > 8])
    if plan == "meet":
        a, b = chance.pick(_MEET_PAIRS)
    else:
        a, b = chance.pick(CROSS[chance.pick(PAIR_OF)])
    if chance.maybe(1, 2):
        a, b = b, a
    off = Fraction(chance.pick([-5, -4, 4, 5])) if plan == "enough" else Fraction(0)
    reach = 12 if level == 1 else 40
    drawn = draw_lines(
        chance,
        turn_of(seed, level, least=-reach, most=reach),
        number=a,
        angle=Fraction(size),
        off=off,
        numbers=sorted((a, b)),
    )
    pair = name_pair(drawn.fig, a, b)
    right = relation_for(pair.pair)
    relation = right or ("congruent" if pair.pair == "vertical" else "supplementary")
    if plan == "wrong":
        relation = "supplementary" if relation == "congruent" else "congruent"
    if level == 1:
        given: tuple[str, ...] = (_said(relation, a, b),)
    else:
        partner = size if relation == "congruent" else 180 - size
        if plan == "near":
            partner += chance.pick([-4, -3, -2, 2, 3, 4])
        given = tuple(f"m∠{n} = {v}" for n, v in sorted(((a, size), (b, partner))))
    return _item(family, seed, level, house, chance, drawn, given, a, b, pair, [drawn.lines], plan)


def _network(family: str, seed: int, level: int, house: House, chance: Chance) -> Item | None:
    lean = chance.pick([*range(52, 78), *range(103, 128)])
    drawn = draw_network(
        chance,
        turn_of(seed, level, least=-60, most=60),
        off=(0, chance.pick([-4, 0, 4])),
        leans=(lean, lean + chance.pick([-4, 0, 4])),
    )
    found = sectors(drawn)
    a, b = chance.shuffled(found)[:2]
    if a.at == b.at:
        return None
    names = ["1", "2"] if found.index(a) < found.index(b) else ["2", "1"]
    drawn = with_angles(drawn, dict(sorted(zip(names, (a, b), strict=True))))
    pair = name_angles(drawn.fig, drawn.fig.angles["1"], drawn.fig.angles["2"])
    plan = chance.pick(["enough", "enough", "enough", "wrong"])
    relation = pair.relation or "congruent"
    if pair.pair == NONE:
        # Across the diagonal nothing is forced; along one cut it would be by two steps.
        if pair.transversal is not None or not chance.maybe(1, 3):
            return None
        plan = "diagonal"
    elif plan == "wrong":
        relation = "supplementary" if relation == "congruent" else "congruent"
    given = (_said(relation, "1", "2"),)
    return _item(
        family,
        seed,
        level,
        house,
        chance,
        drawn,
        given,
        "1",
        "2",
        pair,
        [drawn.lines, drawn.transversals],
        plan,
    )


def _item(
    family: str,
    seed: int,
    level: int,
    house: House,
    chance: Chance,
    drawn: Drawn,
    given: tuple[str, ...],
    a: str,
    b: str,
    pair: Pair,
    candidates: list[tuple[str, ...]],
    plan: str,
) -> Item | None:
    order = list(drawn.fig.lines)
    proved = [names for names in candidates if verdict(drawn.fig, given, " ∥ ".join(names)) == "follows"]
    if (plan == "enough") != (len(proved) == 1):
        raise NotCertified(f"{plan}: {list(given)} proves {proved}")
    if proved:
        forced(drawn.fig, given, [" ∥ ".join(proved[0])])
        theorem, lines = converse_of(pair.pair), unordered(proved[0], order)
    else:
        theorem, lines = NONE, NONE
    key = {"lines": (lines,), "theorem": (theorem,)}
    two = [unordered(names, order) for names in candidates]
    if level == 3:
        two = [",".join(p) for p in combinations(order, 2)]
    options = [Choice(t, " ∥ ".join(t.split(","))) for t in two]
    options.append(Choice(NONE, say("practice.enough_none")))
    speaks = unordered(pair.lines, order) if pair.lines else two[0]
    traps: dict[str, dict[str, str]] = {}
    if proved:
        traps["looks-not-parallel"] = {"lines": NONE, "theorem": NONE}
        traps["original-for-converse"] = {"lines": lines, "theorem": original_of(pair.pair)}
        other = {
            "alternate": "consecutive",
            "consecutive": "alternate",
            "corresponding": "alternate interior",
        }
        word = pair.pair.split()[0]
        taken = pair.pair.replace(word, other[word])
        traps["theorem-of-other-pair"] = {"lines": lines, "theorem": converse_of(taken)}
        if level == 3 and pair.transversal and pair.lines:
            wrong = unordered((pair.transversal, pair.lines[0]), order)
            traps["wrong-lines"] = {"lines": wrong, "theorem": theorem}
    elif plan == "wrong":
        name = "supplementary-for-equal" if pair.relation == "congruent" else "equal-for-supplementary"
        traps[name] = {"lines": speaks, "theorem": converse_of(pair.pair)}
    elif plan == "near":
        traps["looks-parallel"] = {"lines": speaks, "theorem": converse_of(pair.pair)}
    elif plan == "meet":
        traps["one-meet-evidence"] = {"lines": speaks, "theorem": converse_of("corresponding")}
    elif plan == "diagonal":
        traps["wrong-transversal"] = {"lines": two[0], "theorem": converse_of("alternate interior")}
    cut = drawn.transversals[0]
    theorems = [*map(converse_of, PAIR_OF)]
    if proved:
        theorems.insert(chance.below(6), original_of(pair.pair))
    else:
        theorems.insert(chance.below(6), original_of(chance.pick(PAIR_OF)))
    fields = {
        "a": a,
        "b": b,
        "pair": term(pair.pair),
        "cut": pair.transversal or cut,
        "given": given[0],
        "need": term(pair.relation or "congruent"),
        "lines": " ∥ ".join(lines.split(",")),
        "theorem": theorem_of(theorem) if proved else "",
    }
    return Item(
        family=family,
        seed=seed,
        level=level,
        skill="is-it-enough",
        prompt=say(
            "practice.enough_prompt_3" if level == 3 else "practice.enough_prompt",
            lines=say("practice.and", first=drawn.lines[0], last=drawn.lines[1]),
            cuts=say("practice.and", first=cut, last=drawn.transversals[-1]) if level == 3 else cut,
        ),
        ask=say(
            "practice.enough_ask",
            given=say("practice.and_given", first=given[0], last=given[-1]) if len(given) > 1 else given[0],
        ),
        fields=(
            Field("lines", "choice", say("practice.enough_lines"), tuple(options)),
            Field(
                "theorem",
                "choice",
                say("practice.enough_theorem"),
                theorem_choices(theorems, house),
                needless=("lines", NONE),
            ),
        ),
        figure=drawn.json,
        marks=_marks(given, a, b),
        given=given,
        key=key,
        working=(say(f"practice.enough_why_{plan}", **fields),),
        hints=(
            say("practice.enough_hint_1", **fields),
            say(f"practice.enough_hint_2_{_place(plan)}", **fields),
            say(f"practice.enough_hint_3_{plan}", **fields),
        ),
        traps=check_traps(traps, key) or {},
        facts={"plan": plan, "pair": pair.pair, "a": a, "b": b},
    )


def _marks(given: tuple[str, ...], a: str, b: str) -> dict[str, Any] | None:
    """Arcs where the two are given congruent, measures where those are given."""
    if "≅" in given[0]:
        return mark(arcs={a: 1, b: 1})
    if len(given) > 1:
        return mark({text.split(" = ")[0][2:]: f"{text.split(' = ')[1]}°" for text in given})
    return None


def _place(plan: str) -> str:
    return plan if plan in ("meet", "diagonal") else "cross"
