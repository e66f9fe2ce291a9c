"""Statements that are not always true, each with a figure in which that can be shown by turning two lines."""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from app.figure.pairs import relation_for
from app.practice.breaking import Breaks, Claim
from app.practice.chance import Chance
from app.practice.drawing import Drawn, Turn, draw_lines, turn_of
from app.practice.families.common import CROSS, PAIR_OF
from app.practice.families.proofs import LINEAR, VERTICAL
from app.words import say, term
from app.words.house import House

__all__ = ["LEVEL", "Made", "propose"]

LEVEL = 6


@dataclass(frozen=True, slots=True)
class Made:
    drawn: Drawn
    breaks: Breaks
    forced: tuple[tuple[str, ...], str] | None  # (givens, claim) that the reasoner must find open


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
    assert isinstance(claim.said, str)  # what else is claimed is in the notation
    return (claim.said,)


def _made(drawn: Drawn, one: Claim, other: Claim) -> Made:
    return Made(drawn, Breaks(one, other, drawn.lines, False), (_statements(one), _statements(other)[0]))


def _relation(chance: Chance, seed: int, house: House) -> Made:
    """The relation that the pair does not have with parallel lines, either way round."""
    a, b, _, relation = _pair(chance)
    back = chance.maybe(1, 2)
    drawn = _draw(chance, seed, a + b)
    wrong = _related("supplementary" if relation == "congruent" else "congruent", a, b)
    one, other = (_parallel(drawn), wrong) if back else (wrong, _parallel(drawn))
    return _made(drawn, one, other)


def _measures(chance: Chance, seed: int, house: House) -> Made:
    a, b, _, relation = _pair(chance)
    drawn = _draw(chance, seed, a + b)
    size = chance.pick([n for n in range(40, 141) if abs(n - 90) > 5])
    other = size if relation == "congruent" else 180 - size
    said = say("practice.both_measures", a=a, b=b, at_a=size, at_b=other)
    return _made(drawn, _parallel(drawn), Claim("measures", said, (a, b), (Fraction(size), Fraction(other))))


def _square(chance: Chance, seed: int, house: House) -> Made:
    a, b, _, _ = _pair(chance)
    drawn = _draw(chance, seed, a + b)
    names = (drawn.transversals[0], *drawn.lines)
    said = say("practice.both_perpendicular", cut=names[0], first=names[1], second=names[2])
    return _made(drawn, _parallel(drawn), Claim("perpendicular", said, names))


def _one_meet(chance: Chance, seed: int, house: House) -> Made:
    """What holds at any crossing says nothing of the other line."""
    a = chance.pick("12345678")
    across = chance.maybe(1, 2)
    b = VERTICAL[a] if across else chance.pick(LINEAR[a])
    drawn = _draw(chance, seed, a + b, off=0)
    return _made(drawn, _related("congruent" if across else "supplementary", *sorted((a, b))), _parallel(drawn))


def _near(chance: Chance, seed: int, house: House) -> Made:
    """Nearly equal is not equal: what looks parallel need not be."""
    a, b = chance.pick(CROSS[chance.pick([p for p in PAIR_OF if relation_for(p) == "congruent"])])
    drawn = _draw(chance, seed, a + b)
    return _loose(drawn, Claim("near", say("connect.near", a=a, b=b), (a, b)), _parallel(drawn))


def _acute(chance: Chance, seed: int, house: House) -> Made:
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


def _obtuse(chance: Chance, seed: int, house: House) -> Made:
    a, b, _, _ = _pair(chance)
    drawn = _draw(chance, seed, a + b)
    one = _related("supplementary", a, b)
    obtuse = Claim("obtuse", say("connect.obtuse", a=a, b=b), (a, b))
    return _loose(drawn, one, obtuse) if chance.maybe(1, 2) else _loose(drawn, obtuse, one)


def _loose(drawn: Drawn, one: Claim, other: Claim) -> Made:
    return Made(drawn, Breaks(one, other, drawn.lines, False), None)


def _choose(chance: Chance, seed: int, house: House) -> Made:
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
        say(f"connect.they_{word}") if word in ("linear", "vertical") else say("connect.they_pair", pair=term(pair)),
    )
    if named:
        # Such angles are congruent, or supplementary, only where the lines are parallel: so parallel they are drawn.
        one, other = (
            Claim(pair, say("connect.two_pair", pair=term(pair))),
            Claim(relation, say(f"connect.they_{relation}")),
        )
    drawn = _draw(chance, seed, "12345678", off=0 if named else None)
    return Made(drawn, Breaks(one, other, drawn.lines, True), None)


# More of those that need two angles to be chosen: there are more of them to tell apart.
_KINDS = (_relation, _relation, _measures, _square, _one_meet, _near, _acute, _obtuse, _choose, _choose, _choose)


def propose(chance: Chance, seed: int, house: House) -> Made:
    return chance.pick(_KINDS)(chance, seed, house)
