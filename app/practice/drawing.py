"""Figures for exercises: two lines and a transversal, or a network of lines, at any turn of the page.

A figure is drawn near the truth (an angle of 70° looks like 70°); what is drawn is never given. The *turn* of
a figure comes straight from the seed, so that no two of many thousand seeds draw the same one.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction
from typing import Any

from app.figure.model import Angle, Figure, all_sectors, figure_from_json, figure_to_json
from app.figure.plane import unit
from app.practice.chance import Chance

__all__ = [
    "LETTERS",
    "Drawn",
    "Turn",
    "draw_lines",
    "draw_network",
    "framed",
    "letters_for",
    "mark",
    "sectors",
    "turn_of",
    "with_angles",
]

# Lines that may be parallel, then transversals. No bare l, which reads as 1 (Z-6), and no o.
LETTERS: tuple[tuple[tuple[str, ...], tuple[str, ...]], ...] = (
    (("m", "n", "p", "q"), ("t", "s")),
    (("a", "b", "c", "d"), ("t", "s")),
    (("j", "k", "m", "n"), ("t", "v")),
    (("p", "q", "r", "s"), ("t", "u")),
    (("f", "g", "h", "j"), ("t", "w")),
    (("c", "d", "e", "f"), ("r", "t")),
    (("g", "h", "j", "k"), ("n", "p")),
    (("u", "v", "w", "z"), ("a", "b")),
    (("r", "s", "t", "u"), ("k", "m")),
)
# Seeds apart by less than this never share a turn.
PERIOD = 40_009


@dataclass(frozen=True, slots=True)
class Turn:
    """How the figure lies: `tilt` degrees of the first line, `spread` of the lines in thousandths."""

    tilt: Fraction
    spread: int


@dataclass(frozen=True, slots=True)
class Drawn:
    """A figure with the lines that may be parallel (from the top) and the transversals."""

    fig: Figure
    lines: tuple[str, ...]
    transversals: tuple[str, ...]

    @property
    def json(self) -> dict[str, object]:
        return figure_to_json(self.fig)


def turn_of(seed: int, level: int, *, least: int = -12, most: int = 12) -> Turn:
    """The turn of a seed: the tilt in half degrees from `least` to `most`."""
    tilts = 2 * (most - least) + 1
    n = (seed * 7919 + level * 104_729) % PERIOD
    return Turn(Fraction(least) + Fraction(n % tilts, 2), n // tilts)


def _step(direction: Fraction, length: Fraction) -> tuple[Fraction, Fraction]:
    """A step along a direction, the unit vector rounded to a thousandth."""
    ux, uy = unit(direction % 360)
    return Fraction(round(ux * 1000), 1000) * length, Fraction(round(uy * 1000), 1000) * length


def _line(direction: Fraction, x: Fraction, y: Fraction) -> dict[str, object]:
    # From 180 up the line's rays keep their names: + still runs the way that the direction says.
    return {"direction": str(direction % 360), "through": [str(x), str(y)]}


def framed(fig: Figure) -> Figure:
    """The figure with a frame round all its crossings, also those where no angle is named."""
    edge = Fraction(17, 10)
    xs = [Fraction(round(m.at[0] * 100), 100) for m in fig.meets.values()]
    ys = [Fraction(round(m.at[1] * 100), 100) for m in fig.meets.values()]
    frame = (min(xs) - edge, min(ys) - edge, max(xs) + edge, max(ys) + edge)
    return replace(fig, frame=frame)


def letters_for(chance: Chance, lines: int = 2, cuts: int = 1) -> tuple[tuple[str, ...], tuple[str, ...]]:
    names, across = chance.pick(LETTERS)
    return names[:lines], across[:cuts]


# The eight angles with the lines flat and the transversal running up: meet, start ray, end ray; "a" and "b"
# stand for the upper and the lower line. This is the standard numbering, which turns with the figure.
_EIGHT: Mapping[str, tuple[str, str, str]] = {
    "1": ("A", "t+", "a-"),
    "2": ("A", "a+", "t+"),
    "3": ("A", "a-", "t-"),
    "4": ("A", "t-", "a+"),
    "5": ("B", "t+", "b-"),
    "6": ("B", "b+", "t+"),
    "7": ("B", "b-", "t-"),
    "8": ("B", "t-", "b+"),
}


def draw_lines(
    chance: Chance,
    turn: Turn,
    *,
    number: str,
    angle: Fraction,
    off: Fraction = Fraction(0),
    numbers: Sequence[str] = tuple("12345678"),
    letters: tuple[tuple[str, ...], tuple[str, ...]] | None = None,
) -> Drawn:
    """Two lines and a transversal with the angles `numbers`; angle `number` is drawn about `angle` degrees.

    `off`: how many degrees the second line is turned against the first.
    """
    (first, second), (cut,) = letters or letters_for(chance)
    half = Fraction(3400 + 2 * (turn.spread % 900), 2000)
    across = angle if number in "2367" else 180 - angle
    x, y = _step(turn.tilt + across, half)
    name = {"a": first, "b": second, "t": cut}
    fig = figure_from_json(
        {
            "lines": {
                first: _line(turn.tilt, x, y),
                second: _line(turn.tilt + off, -x, -y),
                cut: _line(turn.tilt + across, Fraction(0), Fraction(0)),
            },
            "meets": {"A": [first, cut], "B": [second, cut]},
            "transversal": cut,
            "angles": {
                n: {"at": at, "from": name[start[0]] + start[1], "to": name[end[0]] + end[1]}
                for n, (at, start, end) in _EIGHT.items()
                if n in numbers
            },
        }
    )
    return Drawn(framed(fig), (first, second), (cut,))


def draw_network(
    chance: Chance,
    turn: Turn,
    *,
    lines: int = 2,
    cuts: int = 2,
    off: Sequence[int] = (0, 0, 0, 0),
    leans: Sequence[int] | None = None,
) -> Drawn:
    """Lines about parallel, cut by transversals that cross each other off the paper. No angles yet.

    `off[i]`: degrees that line i is turned; `leans[j]`: direction of transversal j against the lines, else by
    chance. Meets A, B, … go line by line, along each line.
    """
    names, across = letters_for(chance, lines, cuts)
    gap = Fraction(2200 + turn.spread % 900, 1000)
    nx, ny = _step(turn.tilt + 90, Fraction(1))
    lx, ly = _step(turn.tilt, Fraction(1))
    body: dict[str, object] = {}
    for i, name in enumerate(names):
        away = gap * (Fraction(lines - 1, 2) - i)
        body[name] = _line(turn.tilt + off[i], nx * away, ny * away)
    leans = leans or _leans(chance, cuts)
    for j, name in enumerate(across):
        aside = Fraction(42, 10) * (j - Fraction(cuts - 1, 2))
        body[name] = _line(turn.tilt + leans[j], lx * aside, ly * aside)
    meets = {}
    letters = iter("ABCDEFGHJK")
    for name in names:
        for cut in across:
            meets[next(letters)] = [name, cut]
    return Drawn(framed(figure_from_json({"lines": body, "meets": meets, "angles": {}})), names, across)


def _leans(chance: Chance, cuts: int) -> list[int]:
    """Directions of the transversals against the lines, 20° or more apart."""
    first = chance.between(64, 82)
    if cuts == 1:
        return [first]
    # The left one leans right and the right one left: they cross well above the lines, or below if swapped.
    second = 180 - chance.between(64, 82)
    if abs(first - second) < 20:
        second = first + 24
    return [first, second] if chance.maybe(1, 2) else [second, first]


def with_angles(drawn: Drawn, angles: Mapping[str, Angle]) -> Drawn:
    """The same lines with other angles, named anew."""
    named = {name: angle._replace(name=name) for name, angle in angles.items()}
    return replace(drawn, fig=replace(drawn.fig, angles=named))


def sectors(drawn: Drawn) -> list[Angle]:
    """All sectors of the figure, meet by meet, from the top of the page down."""
    found: list[Angle] = []
    for meet in sorted(drawn.fig.meets.values(), key=lambda m: (-round(m.at[1], 3), m.at[0])):
        found += all_sectors(drawn.fig, meet.name)
    return found


def mark(
    labels: Mapping[str, str] | None = None,
    *,
    arrows: Mapping[str, int] | None = None,
    arcs: Mapping[str, int] | None = None,
) -> dict[str, object]:
    """Marks of what is given: labels at angles, arcs on congruent ones only, arrows on parallel lines."""
    angles: dict[str, Any] = {}
    for name, text in (labels or {}).items():
        angles[name] = {"tone": "given", "label": text}
    for name, count in (arcs or {}).items():
        angles.setdefault(name, {"tone": "given"})["arcs"] = count
    marks: dict[str, object] = {"angles": angles}
    if arrows:
        marks["lines"] = {name: {"arrows": count, "tone": "given"} for name, count in arrows.items()}
    return marks
