"""What tasks on a figure share: reading their figure, the words of pairs, the choices, how a pair lies.

Letters: a and b are the two angles of a pair, t its transversal, l and m the two lines it speaks of.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from functools import cache

from app.figure.faults import Fault, shown
from app.figure.model import Figure, figure_to_json
from app.figure.moved import moved_figure
from app.figure.pairs import ALL_PAIRS, TRANSVERSAL_PAIRS, Pair
from app.figure.words import describe
from app.lessons.tasks import Drawn
from app.words import Message, Text, say, term
from app.words.house import HOUSES

__all__ = [
    "angle",
    "common",
    "converse_of",
    "lie",
    "needs",
    "original_of",
    "pair_from",
    "pair_word",
    "sides",
    "student_figure",
    "two_angles",
]

NAMEABLE = tuple(pair for pair in ALL_PAIRS if pair != "same")


def common(task: Drawn, hide: Iterable[str]) -> dict[str, object]:
    """The fields of every task on a figure that a Seat may see, with the figure in words."""
    given = list(task.given)
    return {
        **task.shown(),
        "figure": figure_to_json(task.figure),
        "given": given,
        "not_to_scale": task.not_to_scale,
        "words": describe(task.figure, None, given, hide, not_to_scale=task.not_to_scale),
    }


def student_figure(task: Drawn, reply: Mapping[str, object], movable: Iterable[str]) -> Figure:
    """The figure as the student left it: the task's own, with movable lines moved. Another one is a Fault."""
    if reply.get("figure") is None:
        return task.figure
    return moved_figure(task.figure, reply["figure"], movable, "reply.figure")


def two_angles(value: object, fig: Figure, where: str) -> tuple[str, str]:
    """Two different angles of the figure. Raises Fault for anything else."""
    if not isinstance(value, (list, tuple)) or len(value) != 2:
        raise Fault("angles.two_wanted", where)
    for name in value:
        if not isinstance(name, str) or name not in fig.angles:
            raise Fault("angles.angle_unknown", where, angle=shown(name), known=", ".join(fig.angles))
    if value[0] == value[1]:
        raise Fault("angles.two_different", where)
    return value[0], value[1]


def angle(name: str) -> str:
    return f"∠{name}"


def pair_word(pair: str) -> Message:
    """The house's word for a pair: "alternate interior angles"."""
    return term(pair)


@cache
def pair_words() -> dict[str, str]:
    """Every house's words for the pairs, each with what it means."""
    found = {pair: pair for pair in NAMEABLE}
    for known in HOUSES.values():
        for pair in NAMEABLE:
            word = known.term(pair).casefold()
            found[word] = pair
            found[word.removesuffix(" angles").removeprefix("a ")] = pair
    return found


def pair_from(value: object, where: str) -> str:
    """The pair that a contract name or any house's word means. Raises Fault for one that means none."""
    if isinstance(value, str) and len(value) <= 60:
        found = pair_words().get(" ".join(value.casefold().split()))
        if found is not None:
            return found
    raise Fault("angles.pair_unknown", where, found=shown(value))


def original_of(pair: str) -> str | None:
    """The theorem that starts from parallel lines: "alternate-interior-angles"; None for other pairs."""
    return f"{pair.replace(' ', '-')}-angles" if pair in TRANSVERSAL_PAIRS else None


def converse_of(pair: str) -> str | None:
    """The theorem that ends in parallel lines."""
    original = original_of(pair)
    return None if original is None else f"{original}-converse"


def position(pair: Pair) -> dict[str, Message]:
    """How the two angles lie to their transversal, in words."""
    assert pair.inside is not None
    inside = ("lie_both_outside", "lie_one_each", "lie_both_inside")[sum(pair.inside)]
    side = "lie_same_side" if pair.same_side else "lie_opposite_sides"
    return {"inside": say(f"angles.{inside}"), "side": say(f"angles.{side}")}


def lie(a: str, b: str, pair: Pair, *, named: bool = True) -> Message:
    """One sentence: which transversal, inside or outside, which sides and, if `named`, the pair's name."""
    fields: dict[str, Text] = {"a": angle(a), "b": angle(b), "t": str(pair.transversal), **position(pair)}
    if named:
        return say("angles.lie_named", **fields, name=pair_word(pair.pair))
    return say("angles.lie", **fields)


def needs(pair: str) -> Message:
    """Where the angles of a pair of that name must lie."""
    return say(f"angles.needs_{pair.replace(' ', '_')}")


def sides(fig: Figure, name: str) -> Message:
    """The two lines that an angle's sides lie on."""
    one, other = fig.angles[name].lines()
    return say("angles.sides", l=one, m=other)
