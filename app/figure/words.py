"""A figure in words, from the same model as the drawing: what is drawn, what marks say, what is given.

A short title first, then parts, from the general to the particular. Parts are described, never explained, and
nothing is said to *look* like anything. Words that a task asks for are kept out of its own description.
"""

from __future__ import annotations

from collections.abc import Iterable, Iterator, Mapping, Sequence
from fractions import Fraction
from typing import TypedDict, TypeVar

from app.figure.marks import Mark, Marks, read_marks
from app.figure.parts import Angle, Figure, Ray
from app.figure.speech import spell_angle, spoken
from app.words import ENGLISH, Message, in_words, joined, render, say

__all__ = ["LONGEST_TITLE", "Words", "describe"]

LONGEST_TITLE = 124
K = TypeVar("K")


class Words(TypedDict):
    """A figure in words: a title, its parts, and both as one text with bullets."""

    title: Message
    parts: list[Message]
    text: Message


def describe(
    fig: Figure,
    marks: object = None,
    given: Sequence[str] = (),
    hide: Iterable[str] = (),
    *,
    not_to_scale: bool = False,
) -> Words:
    """{"title", "parts", "text"}: a title under 125 characters, the parts, and both as one text with bullets.

    `hide` holds words that must not be said, such as "parallel" where parallels are what a task asks for:
    marks are then told by their shape, and a part that can't be told without the word is left out.
    """
    found = read_marks(marks, fig)
    hidden = tuple(word.casefold() for word in hide)
    title = title_of(fig)
    parts: list[Message] = [*crossings(fig), *angles(fig, found), *marked(fig, found, "parallel" in hidden)]
    parts += [say("figure.given", statement=heard(str(statement), fig)) for statement in given]
    if not_to_scale:
        parts.append(say("figure.not_to_scale"))
    if hidden:
        parts = [part for part in parts if not any(word in render(part, ENGLISH).casefold() for word in hidden)]
    lines = [one for part in parts for one in ("\n- ", part)]
    return {"title": title, "parts": parts, "text": joined("plain", (title, *lines))}


def heard(statement: str, fig: Figure) -> Message:
    """A statement of the notation for the ear, in the reader's words."""
    told = in_words(statement)
    if isinstance(told, str):
        return spoken(told, fig)
    return Message(told.code, {key: spoken(str(name), fig) for key, name in told.fields.items()})


def cutting(fig: Figure) -> str | None:
    """The transversal of a figure of two lines and a transversal: the line at both of the two meets."""
    if len(fig.lines) != 3:
        return None
    if fig.transversal is not None:
        return fig.transversal if len(fig.order(fig.transversal)) == 2 else None
    through_two = [line for line in fig.lines if len(fig.order(line)) == 2]
    return through_two[0] if len(through_two) == 1 and len(fig.meets) == 2 else None


def title_of(fig: Figure) -> Message:
    title = long_title(fig)
    if len(render(title, ENGLISH)) <= LONGEST_TITLE:
        return title
    return say("figure.title_many", count=say(f"figure.count_{len(fig.lines)}"), meets=len(fig.meets))


def long_title(fig: Figure) -> Message:
    names = list(fig.lines)
    t = cutting(fig)
    if t is not None:
        one, other = (name for name in names if name != t)
        return say("figure.title_cut", l=one, m=other, t=t)
    if len(names) == 1:
        return say("figure.title_one", l=names[0])
    count, lines = say(f"figure.count_{len(names)}"), joined("and", names)
    meets = list(fig.meets)
    if not meets:
        return say("figure.title_apart", count=count, lines=lines)
    if len(names) == 2:
        return say("figure.title_cross", l=names[0], m=names[1], at=meets[0])
    if len(meets) == 1 and len(fig.meets[meets[0]].lines) == len(names):
        return say("figure.title_through", count=count, at=meets[0], lines=lines)
    if len(names) == 3 and len(meets) == 3:
        return say("figure.title_triangle", lines=lines, a=meets[0], b=meets[1], c=meets[2])
    return say("figure.title_network", count=count, lines=lines, meets=len(meets))


def downward(fig: Figure, line: str) -> list[str]:
    """The meets on a line from the top, or from the left where it is flat."""
    order = list(fig.order(line))
    return order if fig.lines[line].direction == 0 else order[::-1]


def crossings(fig: Figure) -> Iterator[Message]:
    """Where lines cross, along as few lines as tell of every meet; the transversal first."""
    told: set[str] = set()
    t = cutting(fig) or fig.transversal
    lines = sorted(fig.lines, key=lambda line: (line != t, -len(fig.order(line))))
    for line in lines:
        here = downward(fig, line)
        if len(here) < 2 or told.issuperset(here):
            continue
        told.update(here)
        spoken_of = [crossing(fig, line, meet) for meet in here]
        yield say("figure.crosses", line=line, crossings=joined("and", spoken_of))
    for meet in fig.meets.values():
        if meet.name not in told and len(fig.meets) > 1:
            yield say("figure.cross_at", lines=joined("and", meet.lines), at=meet.name)


def crossing(fig: Figure, line: str, meet: str) -> Message:
    others = [other for other in fig.meets[meet].lines if other != line]
    return say("figure.crossing", line=joined("and", others), at=meet)


def angles(fig: Figure, marks: Marks) -> Iterator[Message]:
    for angle in fig.angles.values():
        label = marks.angles.get(angle.name, Mark()).label
        if label and label[-1].isdigit():
            label += "°"
        told = say("figure.label", label=spoken(label, fig)) if label else ""
        yield say("figure.angle", name=spell_angle(angle.name, fig), place=place(fig, angle), label=told)


def place(fig: Figure, angle: Angle) -> Message:
    """Where an angle is: inside or outside and on which side of the transversal, else between which rays."""
    t = cutting(fig)
    along = angle.ray_on(t) if t is not None else None
    if t is not None and along is not None:
        other = next(meet for meet in fig.order(t) if meet != angle.at)
        inside = "inside" if along == fig.toward(t, angle.at, other) else "outside"
        side = say(f"figure.{side_of(fig, t, angle)}")
        return say("figure.place_cut", inside=say(f"figure.{inside}"), side=side, t=t, at=angle.at)
    one, other_side = ray(fig, angle, angle.start), ray(fig, angle, angle.end)
    return say("figure.place_sides", at=angle.at, one=one, other=other_side)


def side_of(fig: Figure, t: str, angle: Angle) -> str:
    """Which side of the transversal: left or right of a steep one, above or below a shallow one."""
    direction = fig.lines[t].direction
    left = fig.measure_between(Ray(t, "+"), angle.ray_off(t)) < 180
    if 30 <= direction <= 150:
        return "left" if left else "right"
    return "above" if left == (direction < 90) else "below"


def ray(fig: Figure, angle: Angle, side: Ray) -> Message:
    """A side by the nearest meet that it runs toward, or away from; alone on its line, by where it points."""
    order = fig.order(side.line)
    here = order.index(angle.at)
    ahead = order[here + 1 :] if side.sign == "+" else order[:here][::-1]
    behind = order[:here][::-1] if side.sign == "+" else order[here + 1 :]
    if ahead:
        return say("figure.ray_to", line=side.line, meet=ahead[0])
    if behind:
        return say("figure.ray_from", line=side.line, meet=behind[0])
    quarter = int((fig.heading(side) + Fraction(45)) // 90) % 4
    return say(f"figure.ray_{('east', 'north', 'west', 'south')[quarter]}", line=side.line)


def marked(fig: Figure, marks: Marks, hide_parallel: bool) -> Iterator[Message]:
    """What the marks say."""
    for count, names in by_count(marks.angles):
        said = [spell_angle(name, fig) for name in names]
        key = "figure.arcs_same" if len(names) > 1 else "figure.arcs_one"
        yield say(key, count=say(f"figure.arc_{count}"), names=joined("and", said))
    for name in marks.right:
        yield say("figure.square", name=spell_angle(name, fig))
    for _, ends in by_count(marks.segments):
        key = "figure.ticks_same" if len(ends) > 1 else "figure.ticks_one"
        yield say(key, names=joined("and", (f"{a} {b}" for a, b in ends)))
    arrows = list(by_count(marks.lines))
    for _, lines in arrows:
        told = len(lines) > 1 and not hide_parallel
        yield say("figure.arrows_same" if told else "figure.arrows_only", names=joined("and", lines))
    if not arrows and len(fig.lines) > 2:
        yield say("figure.arrows_none_plain" if hide_parallel else "figure.arrows_none")


def by_count(marks: Mapping[K, Mark]) -> Iterator[tuple[int, list[K]]]:
    """The marked things with one arc, tick or arrow each, then those with two, …"""
    for count in sorted({mark.count for mark in marks.values()} - {0}):
        yield count, [name for name, mark in marks.items() if mark.count == count]
