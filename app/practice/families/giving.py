"""Give a counterexample: turn the lines of a figure, or also choose two of its angles, so that a statement breaks."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace
from itertools import combinations

from app.figure.model import Figure, figure_from_json, figure_to_json
from app.figure.pairs import name_pair
from app.practice.breaking import Breaks, Seen, case_of, seen
from app.practice.certify import NotCertified, verdict
from app.practice.chance import Chance
from app.practice.drawing import Drawn
from app.practice.families.breakable import LEVEL, Made, propose
from app.practice.items import Field, Item
from app.words import joined, say
from app.words.house import House

__all__ = ["LEVEL", "give"]


def give(chance: Chance, seed: int, house: House) -> Item | None:
    made = propose(chance, seed, house)
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
    shown = dict.fromkeys(seen(found.fig, claim, found.angles) for claim in (breaks.hypothesis, breaks.conclusion))
    example = say("connect.example", shown=joined("semicolon", shown))
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


def _choices(made: Made) -> Iterator[tuple[str, ...]]:
    if made.breaks.choose:
        yield from combinations(made.drawn.fig.angles, 2)
    else:
        yield ()


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


def _example(chance: Chance, made: Made) -> Seen | None:
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


def _certify(made: Made, found: Seen) -> None:
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
