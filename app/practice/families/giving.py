"""Give a counterexample: turn the lines of a figure, or also choose two of its angles, so that a statement breaks."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from fractions import Fraction
from itertools import combinations

from app.figure.model import Figure, figure_from_json, figure_to_json
from app.figure.pairs import name_pair, relation_for
from app.practice.breaking import Breaks, Claim, Seen, case_of, seen
from app.practice.certify import NotCertified, verdict
from app.practice.chance import Chance
from app.practice.drawing import Drawn, Turn, draw_lines, turn_of
from app.practice.families.common import CROSS, PAIR_OF
from app.practice.families.proofs import LINEAR, VERTICAL
from app.practice.items import Field, Item
from app.words import say
from app.words.house import House

__all__ = ["LEVEL", "give"]

LEVEL = 6


@dataclass(frozen=True, slots=True)
class _Made:
    drawn: Drawn
    breaks: Breaks
    forced: tuple[tuple[str, ...], str] | None  # (givens, claim) that the reasoner must find open


def give(chance: Chance, seed: int, house: House) -> Item | None:
    made = chance.pick(
        (_relation, _relation, _measures, _square, _one_meet, _near, _acute, _obtuse, _choose, _choose, _choose)
    )(chance, seed, house)
    drawn, breaks = made.drawn, made.breaks
    if any(case_of(breaks, drawn.fig, angles).case == "yes-no" for angles in _choices(made)):
        return None  # as it is drawn it must not be one already
    found = _example(chance, made)
    if found is None:
        return None
    _certify(made, found)
    said = say("practice.if_then", first=breaks.hypothesis.said, last=breaks.conclusion.said)
    fields = [
        Field(
            "figure",
            "figure",
            say("connect.figure_label"),
            optional=breaks.choose,
            more={"movable": list(breaks.movable), "entry": [] if breaks.choose else list(drawn.fig.angles)},
        )
    ]
    if breaks.choose:
        fields.append(Field("angles", "angles", say("connect.angles_label"), more={"angles": list(drawn.fig.angles)}))
    shown = dict.fromkeys(
        seen(found.fig, claim, found.angles, house) for claim in (breaks.hypothesis, breaks.conclusion)
    )
    example = say("connect.example", shown="; ".join(shown))
    return Item(
        family="connect",
        seed=seed,
        level=LEVEL,
        skill="direction",
        prompt=say("practice.counter_prompt", sentence=said),
        ask=say("connect.ask_choose" if breaks.choose else "connect.ask_turn"),
        fields=tuple(fields),
        figure=drawn.json,
        key={"figure": ("yes-no",), **({"angles": ("yes-no",)} if breaks.choose else {})},
        working=(
            say("practice.counter_why", hypothesis=breaks.hypothesis.said, conclusion=breaks.conclusion.said),
            example,
        ),
        hints=(
            say("practice.counter_hint_1"),
            say("connect.hint_2", hypothesis=breaks.hypothesis.said),
            say("connect.hint_3", conclusion=breaks.conclusion.said),
        ),
        facts={
            "breaks": breaks,
            "example": {"figure": figure_to_json(found.fig), "angles": list(found.angles)},
            "said": example,
        },
    )


def _choices(made: _Made) -> Iterator[tuple[str, ...]]:
    if made.breaks.choose:
        yield from combinations(made.drawn.fig.angles, 2)
    else:
        yield ()


def _draw(chance: Chance, seed: int, numbers: str, *, off: int | None = None) -> Drawn:
    """Two lines and a transversal in whole degrees, which is what turning a line by steps can reach."""
    turn = turn_of(seed, LEVEL, least=-30, most=30)
    whole = turn.tilt.__floor__()
    turn = Turn(Fraction(whole), 2 * turn.spread + (turn.tilt != whole))
    size = chance.pick([n for n in range(45, 136) if abs(n - 90) > 6])
    turned = off if off is not None else chance.pick([-9, -7, -6, 6, 7, 9])
    return draw_lines(
        chance, turn, number=numbers[0], angle=Fraction(size), off=Fraction(turned), numbers=sorted(numbers)
    )


def _pair(chance: Chance) -> tuple[str, str, str, str]:
    pair = chance.pick(PAIR_OF)
    a, b = chance.pick(CROSS[pair])
    return a, b, pair, str(relation_for(pair))


def _parallel(drawn: Drawn) -> Claim:
    return Claim("parallel", " ∥ ".join(drawn.lines), drawn.lines)


def _related(relation: str, a: str, b: str) -> Claim:
    said = f"∠{a} ≅ ∠{b}" if relation == "congruent" else say("practice.supplementary", a=a, b=b)
    return Claim(relation, said, (a, b))


def _statements(claim: Claim) -> tuple[str, ...]:
    """The claim in the reasoner's notation."""
    if claim.kind == "supplementary":
        return (f"m∠{claim.names[0]} + m∠{claim.names[1]} = 180",)
    if claim.kind == "measures":
        return tuple(f"m∠{n} = {v}" for n, v in zip(claim.names, claim.values, strict=True))
    if claim.kind == "perpendicular":
        return tuple(f"{claim.names[0]} ⊥ {line}" for line in claim.names[1:])
    return (claim.said,)


def _made(drawn: Drawn, one: Claim, other: Claim) -> _Made:
    return _Made(drawn, Breaks(one, other, drawn.lines, False), (_statements(one), _statements(other)[0]))


def _relation(chance: Chance, seed: int, house: House) -> _Made:
    """The relation that the pair does not have with parallel lines, either way round."""
    a, b, _, relation = _pair(chance)
    back = chance.maybe(1, 2)
    drawn = _draw(chance, seed, a + b)
    wrong = _related("supplementary" if relation == "congruent" else "congruent", a, b)
    one, other = (_parallel(drawn), wrong) if back else (wrong, _parallel(drawn))
    return _made(drawn, one, other)


def _measures(chance: Chance, seed: int, house: House) -> _Made:
    a, b, _, relation = _pair(chance)
    drawn = _draw(chance, seed, a + b)
    size = chance.pick([n for n in range(40, 141) if abs(n - 90) > 5])
    other = size if relation == "congruent" else 180 - size
    said = say("practice.both_measures", a=a, b=b, at_a=size, at_b=other)
    return _made(drawn, _parallel(drawn), Claim("measures", said, (a, b), (Fraction(size), Fraction(other))))


def _square(chance: Chance, seed: int, house: House) -> _Made:
    a, b, _, _ = _pair(chance)
    drawn = _draw(chance, seed, a + b)
    names = (drawn.transversals[0], *drawn.lines)
    said = say("practice.both_perpendicular", cut=names[0], first=names[1], second=names[2])
    return _made(drawn, _parallel(drawn), Claim("perpendicular", said, names))


def _one_meet(chance: Chance, seed: int, house: House) -> _Made:
    """What holds at any crossing says nothing of the other line."""
    a = chance.pick("12345678")
    across = chance.maybe(1, 2)
    b = VERTICAL[a] if across else chance.pick(LINEAR[a])
    drawn = _draw(chance, seed, a + b, off=0)
    return _made(drawn, _related("congruent" if across else "supplementary", *sorted((a, b))), _parallel(drawn))


def _near(chance: Chance, seed: int, house: House) -> _Made:
    """Nearly equal is not equal: what looks parallel need not be."""
    a, b = chance.pick(CROSS[chance.pick([p for p in PAIR_OF if relation_for(p) == "congruent"])])
    drawn = _draw(chance, seed, a + b)
    return _loose(drawn, Claim("near", say("connect.near", a=a, b=b), (a, b)), _parallel(drawn))


def _acute(chance: Chance, seed: int, house: House) -> _Made:
    a, b, _, _ = _pair(chance)
    drawn = _draw(chance, seed, a + b)
    other = chance.pick(
        [
            _parallel(drawn),
            _related("congruent", a, b),
            Claim("complementary", say("connect.complementary", a=a, b=b), (a, b)),
        ]
    )
    return _loose(drawn, Claim("acute", say("connect.acute", a=a, b=b), (a, b)), other)


def _obtuse(chance: Chance, seed: int, house: House) -> _Made:
    a, b, _, _ = _pair(chance)
    drawn = _draw(chance, seed, a + b)
    one = _related("supplementary", a, b)
    obtuse = Claim("obtuse", say("connect.obtuse", a=a, b=b), (a, b))
    return _loose(drawn, one, obtuse) if chance.maybe(1, 2) else _loose(drawn, obtuse, one)


def _loose(drawn: Drawn, one: Claim, other: Claim) -> _Made:
    return _Made(drawn, Breaks(one, other, drawn.lines, False), None)


def _choose(chance: Chance, seed: int, house: House) -> _Made:
    """ "If two angles are congruent, then they are vertical angles": two of the eight angles are chosen too."""
    pair = chance.pick((*PAIR_OF, "vertical", "linear pair"))
    relation = (
        "supplementary" if pair == "linear pair" else "congruent" if pair == "vertical" else str(relation_for(pair))
    )
    named = pair not in ("vertical", "linear pair") and chance.maybe(1, 2)
    word = {"linear pair": "linear"}.get(pair, pair.replace(" ", "_"))
    one = Claim(relation, say(f"connect.two_{relation}"))
    other = Claim(
        pair,
        say(f"connect.they_{word}")
        if word in ("linear", "vertical")
        else say("connect.they_pair", pair=house.term(pair)),
    )
    if named:
        # Such angles are congruent, or supplementary, only where the lines are parallel: so parallel they are drawn.
        one, other = (
            Claim(pair, say("connect.two_pair", pair=house.term(pair))),
            Claim(relation, say(f"connect.they_{relation}")),
        )
    drawn = _draw(chance, seed, "12345678", off=0 if named else None)
    return _Made(drawn, Breaks(one, other, drawn.lines, True), None)


def _turned(drawn: Drawn, first: int, second: int) -> Figure:
    """The figure with its two lines turned by so many degrees, each about its own crossing."""
    lines = dict(drawn.fig.lines)
    for name, by in zip(drawn.lines, (first, second), strict=True):
        lines[name] = replace(lines[name], direction=lines[name].direction + by)
    return replace(drawn.fig, lines=lines)


def _settled(fig: Figure) -> Figure:
    """The same with its directions from 0 to 180, and its rays named to suit."""
    lines = {name: replace(line, direction=line.direction % 360) for name, line in fig.lines.items()}
    return figure_from_json(figure_to_json(replace(fig, lines=lines)))


# How far from flat a crossing has to stay, to be read: a little more than the page's own limit.
_FLAT = 20


def _example(chance: Chance, made: _Made) -> Seen | None:
    """A counterexample that turning reaches: the nearest one, by how far the lines turn."""
    drawn, breaks = made.drawn, made.breaks
    cut = drawn.fig.lines[drawn.transversals[0]].direction
    room = []
    for name in drawn.lines:
        at = (cut - drawn.fig.lines[name].direction) % 180
        room.append((int(at) - 180 + _FLAT, int(at) - _FLAT))
    for by in _ways(drawn, breaks, room):
        fig = _turned(drawn, *by)
        for angles in _choices(made):
            if case_of(breaks, fig, angles).case == "yes-no":
                found = case_of(breaks, _settled(fig), angles)
                if found.case == "yes-no":
                    return found
    return None


def _ways(drawn: Drawn, breaks: Breaks, room: list[tuple[int, int]]) -> list[tuple[int, int]]:
    """Turns of the two lines to be tried: those that make a claim true, the smallest first."""
    (low, high), (low_2, high_2) = room
    first, second = (drawn.fig.lines[name].direction for name in drawn.lines)
    cut = drawn.fig.lines[drawn.transversals[0]].direction
    off = int(second - first)
    square = [int((cut - d) % 180) - 90 for d in (first, second)]
    ways = [(0, 0), (7, 0), (-7, 0), (0, 11), (off, 0), (0, -off), (square[0], square[1])]
    ways += [
        (square[0], 0),
        (0, square[1]),
        (off + 1, 0),
        (0, 1 - off),
        (off + 8, 8),
        (off - 8, -8),
        (0, 12),
        (12, 0),
        (0, -12),
    ]
    # One line makes up for the other's angle: 2·cut is where a direction meets its mirror image.
    mirror = int((2 * cut - first - second) % 180)
    ways += [
        (0, mirror),
        (0, mirror - 180),
        (mirror, 0),
        (mirror - 180, 0),
        (8, mirror - 8),
        (8, mirror - 188),
        (-8, mirror + 8),
    ]
    ways += [(square[0] + a, square[1] + b) for a in (-30, -50, 30, 50) for b in (-25, -45, 25, 45)]
    return [(a, b) for a, b in ways if low <= a <= high and low_2 <= b <= high_2]


def _certify(made: _Made, found: Seen) -> None:
    """The reasoner's word: the statement is not forced, and the measures of the example can be so."""
    if made.forced is not None:
        givens, claim = made.forced
        if (said := verdict(made.drawn.fig, givens, claim)) != "not forced":
            raise NotCertified(f"{givens} and {claim}: {said}")
    angles = found.angles or tuple(found.fig.angles)
    numbers = [f"m∠{name} = {found.fig.measure(name)}" for name in angles]
    a, b = angles
    relation = "congruent" if found.fig.measure(a) == found.fig.measure(b) else "other"
    wanted = "follows" if relation == "congruent" else "cannot be"
    if (said := verdict(made.drawn.fig, numbers, f"∠{a} ≅ ∠{b}")) != wanted:
        raise NotCertified(f"{numbers}: {said}, not {wanted}")
    if found.angles and name_pair(found.fig, a, b).pair != name_pair(made.drawn.fig, a, b).pair:
        raise NotCertified(f"∠{a} and ∠{b} are another pair once turned")
