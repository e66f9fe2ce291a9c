"""One numbered question on a sheet, whatever it came from: what is printed, and what the key says.

Millimetres throughout. A figure is drawn for the size it is printed at, so that its letters come out as
large as the theme wants them.
"""

from __future__ import annotations

import json
import re
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from fractions import Fraction
from html import escape

from app.figure.laying import lay_out
from app.figure.layout import Layout
from app.figure.look import LOOKS
from app.figure.marks import read_marks
from app.figure.model import Figure, figure_from_json
from app.figure.numbers import show_number
from app.figure.picture import picture
from app.practice.families import item
from app.practice.items import NONE, Field, Item
from app.practice.judging import key_shown
from app.practice.misconceptions import note
from app.reasoning.theorems import TABLE
from app.sheets.paper import Theme
from app.words import render
from app.words import tell as say
from app.words.house import House

__all__ = [
    "Blank",
    "Entry",
    "Key",
    "Step",
    "figure_size",
    "figure_svg",
    "from_family",
    "from_item",
    "note_beside",
    "orders",
    "places",
    "source_of",
    "speaks_of_points",
]


def source_of(drawn: Mapping[str, object] | None, marks: Mapping[str, object] | None = None, *more: object) -> str:
    """What is drawn, as text: the same for the same figure however large it is printed."""
    return json.dumps([drawn, marks, *more], sort_keys=True, default=str)


@dataclass(frozen=True, slots=True)
class Blank:
    """Something to fill in: a ruled line with a label, or choices to tick."""

    label: str
    choices: tuple[str, ...] = ()
    unit: str = ""

    @property
    def brief(self) -> bool:
        """Whether a number is to be written, so that a short rule does."""
        return self.label.endswith("=") and len(self.label) < 12

    @property
    def middling(self) -> bool:
        """Whether it may stand beside a brief one: a word or two before its rule."""
        return not self.choices and not self.brief and 0 < len(self.label) < 16


@dataclass(frozen=True, slots=True)
class Step:
    """One step of a construction in a picture; number 0 is what is given."""

    number: int
    title: str
    caption: str
    svg: str


@dataclass(frozen=True, slots=True)
class Key:
    """`answer` in one line, `working` line by line: why it is so, `also`: what else earns the mark."""

    answer: str
    working: tuple[str, ...] = ()
    also: tuple[str, ...] = ()
    steps: tuple[Step, ...] = ()  # a construction, step by step; or a counterexample
    quick: str = ""  # what is marked by, where the answer is longer than a glance
    routes: tuple[tuple[str, ...], ...] = ()  # other proofs, row by row
    mistake: str = ""  # the common one: what it leads to, and what to say
    points: int = 1

    @property
    def glance(self) -> str:
        return self.quick or self.answer


@dataclass(frozen=True, slots=True)
class Entry:
    """`rows` are ruled proof rows (number or letter, statement, reason), None for an empty cell; `room` is
    the height in mm left for working.
    """

    prompt: str
    ask: str
    key: Key
    figure: str = ""
    blanks: tuple[Blank, ...] = ()
    rows: tuple[tuple[str, str | None, str | None], ...] = ()
    room: int = 0
    mark: str = ""  # where it comes from, printed in the key: "make-parallel 2 · 4711"
    part: str = ""  # the part of a pack that it belongs to
    fresh: bool = False  # whether its part begins on a page of its own
    note: str = ""  # what the figure had no room to say
    space: str = ""  # a drawing to scale to construct in
    ordering: bool = False  # rows are to be put in order: a box before each
    source: str = ""  # what is drawn, as text: the same whatever size it is printed at


def figure_svg(
    figure: Mapping[str, object] | None,
    marks: Mapping[str, object] | None,
    theme: Theme,
    *,
    given: Sequence[str] = (),
    hide: Sequence[str] = (),
    said: Sequence[str] = (),
    not_to_scale: bool = True,
) -> str:
    """The figure at the theme's size. Its points have letters if what is `said` on sheet or key speaks of them."""
    if figure is None:
        return ""
    fig = figure_from_json(dict(figure))
    letters = speaks_of_points(fig, (*given, *said))
    laid = _laid(fig, marks, theme, not_to_scale, letters)
    svg = picture(
        fig, marks, theme=theme.picture, not_to_scale=not_to_scale, given=given, hide=hide, letters=letters, laid=laid
    )
    # A copier loses what is thinner than 0.75 pt (I-4).
    return re.sub(r'stroke-width="0?\.\d+"', 'stroke-width="1"', svg)


def note_beside(svg: str, not_to_scale: bool) -> str:
    """That the figure is not drawn to scale, where the drawing had no room to say so itself."""
    note = say("figure.not_to_scale")
    return note if svg and not_to_scale and not re.search(rf">{re.escape(escape(note))}</text>", svg) else ""


# A capital on its own is an article or the first word of a sentence as often as a point.
_POINTS = re.compile(r"(?<![^\W\d_])([A-Z]['′]?){2,4}(?![^\W\d_])|(?<=[\w,;] )[A-Z]['′]?(?![^\W\d_])")
_POINT = re.compile(r"[A-Z]['′]?")


def speaks_of_points(fig: Figure, said: Sequence[str]) -> bool:
    """Whether a text names a point of the figure: ∠AVB, triangle PQR, AB, "both at A"."""
    return any(
        all(point in fig.meets for point in _POINT.findall(found[0]))
        for text in said
        for found in _POINTS.finditer(text)
    )


# A figure too crowded for its type is drawn larger: a little beside words, up to the width under a number above them.
LARGER, BESIDE = (1.0, 1.2, 1.45), (1.0, 1.14, 1.3, 1.5)


def _laid(fig: Figure, marks: Mapping[str, object] | None, theme: Theme, not_to_scale: bool, letters: bool) -> Layout:
    """The figure at the least size (px at 96 to the inch) in which its labels find room best, in the theme's type."""
    wide, high = (side * 96 / 25.4 for side in theme.figure)
    note = say("figure.not_to_scale") if not_to_scale else ""
    look = LOOKS[theme.picture]
    found: list[tuple[tuple[int, ...], int, Layout]] = []
    for n, by in enumerate((1.0,) if theme.alone else LARGER if theme.under else BESIDE):
        laid = lay_out(fig, read_marks(marks, fig), (wide * by, high * by), look, note=note, letters=letters)
        cost = (*(laid.cost if letters else laid.cost[:2]), round(100 - 100 * laid.look.number / look.number))
        found.append((cost, n, laid))
        # Much more room is for what would be left out, not for a nicer place.
        if not any(cost) or (by >= BESIDE[1] and not theme.under and not min(found)[0][0]):
            break
    return min(found)[2]


def figure_size(entry: Entry, theme: Theme) -> tuple[float, float]:
    """How wide and how tall its figure is printed, in mm."""
    found = re.search(r' width="([\d.]+)" height="([\d.]+)"', entry.figure)
    if theme.alone or not found:
        return theme.figure
    return float(found[1]) * 25.4 / 96, float(found[2]) * 25.4 / 96


def from_family(family: str, level: int, seed: int, theme: Theme, house: House) -> Entry:
    return from_item(item(family, seed, level, house.key), theme, house)


# With the line for the answer below it, 4 cm to work in (I-4).
ROOM = 33
_GIVEAWAY = ("corresponding", "alternate", "consecutive")


def from_item(made: Item, theme: Theme, house: House) -> Entry:
    """An exercise as it is printed."""
    order = made.fields[0].kind == "order"
    draws = "breaks" in made.facts
    key = _key(made, house)
    rows: tuple[tuple[str, str | None, str | None], ...] = tuple(
        (str(r["label"]), str(r["statement"]), str(r["reason"]) or None) for r in made.rows
    )
    lost = any(r[2] is None for r in rows)
    asked = [f for f in made.fields if not (lost and f.name.startswith("row"))]
    figure = figure_svg(
        made.figure, made.marks, theme, given=made.given, hide=_GIVEAWAY, not_to_scale=not made.to_scale,
        said=(render(made.prompt), render(made.ask), *(str(r["statement"]) for r in made.rows), *key.working),
    )  # fmt: skip
    return Entry(
        prompt=render(made.prompt),
        ask=say("sheets.draw_choose" if len(made.fields) > 1 else "sheets.draw_turn") if draws else render(made.ask),
        key=key,
        figure=figure,
        note=note_beside(figure, not made.to_scale),
        source=source_of(made.figure, made.marks, made.given),
        # A lost reason is written into its row; an order into the boxes.
        blanks=() if order else tuple(b for f in asked for b in _blanks(f, made)),
        rows=rows,
        room=ROOM if made.start or draws else 6 if not rows and not order else 0,
        mark="" if made.family == "own" else f"{made.family} {made.level} · {made.seed}",
        ordering=order,
    )


def _blanks(f: Field, made: Item) -> tuple[Blank, ...]:
    """What is ruled for a field: a sentence has two lines, a figure the measures that tell how it was turned."""
    if f.kind == "sentence":
        return (Blank(say("sheets.sentence")), Blank(""))
    if f.kind == "figure":
        return tuple(Blank(f"m∠{name} =", unit="°") for name in f.more["entry"])
    if f.kind == "angles":
        return (Blank(say("sheets.two_angles")), Blank(say("sheets.their_measures")))
    return (_blank(f, made),)


def _blank(f: Field, made: Item) -> Blank:
    """A ruled line where the student can write the word, choices where only they make the question."""
    if f.kind == "number":
        label = say("sheets.or_none", label=f.label, none=f.none) if f.none else f.label
        return Blank(f"{label} =", unit=f.unit)
    if f.name == "transversal" or (f.name == "lines" and made.family == "which-transversal"):
        return Blank(f"{f.label}:")
    if f.name in ("theorem", "pair"):
        return Blank(say("sheets.theorem") if f.name == "theorem" else f"{f.label}:")
    return Blank(render(f.label), tuple(render(c.text) for c in f.choices))


def _key(made: Item, house: House) -> Key:
    if "breaks" in made.facts:
        return Key(render(made.facts["said"]), (render(made.working[0]),), (say("sheets.any_figure"),), points=2)
    shown = key_shown(made)
    said: list[str] = []
    glance: list[str] = []  # the same in the fewest words
    many = len([f for f in made.fields if not f.optional]) > 1
    for f in made.fields:
        value = shown[f.name]
        text = next((c.text for c in f.choices if c.value == value), None)
        if f.needless and shown.get(f.needless[0]) == f.needless[1]:
            continue
        before = len(said)
        short = house.short(str(value)) if str(value) in TABLE else ""
        if f.name == "theorem" and text is not None:
            said.append(say("sheets.by", theorem=text))
        elif text is not None:
            said.append(f"{f.label}: {text}" if many and f.name != "lines" else render(text))
        elif isinstance(value, list):
            said.append(places(value))
        elif f.kind == "sentence":
            said.append(render(value))
        else:
            said.append(render(f.none) if value == "none" else f"{f.label} = {value}{f.unit}")
        glance += [short or render(text or said[-1])] if len(said) > before else []
    answer = ", ".join(said)
    # The last lines of the working would only say the answer or the theorem again.
    again = {answer, *said, *(f"{one}°" for one in said)}
    again |= {say("practice.key_by", theorem=c.text) for f in made.fields for c in f.choices}
    points = max(1, len(said)) + (1 if made.start else 0)
    working = tuple(line for line in map(render, made.working) if line not in again)
    return Key(answer, working, _also(made, house), quick="; ".join(glance), mistake=_mistake(made), points=points)


def _mistake(made: Item) -> str:
    """The first of the item's known mistakes that shows in one field: what a student writes, and what to say of it."""
    for known, wrong in made.traps.items():
        first = next(iter(wrong.items()), None)
        if first is None:
            continue
        f = next((f for f in made.fields if f.name == first[0]), None)
        if f is None:
            continue
        values = [v for v in first[1].split("|") if v not in made.key.get(f.name, ())]
        if not values and len(wrong) > 1:
            # The mistake shows in a later field: its reason is the wrong one.
            name, value = list(wrong.items())[-1]
            f = next((one for one in made.fields if one.name == name), f)
            values = [value] if value not in made.key.get(name, ()) else []
        if not values:
            continue
        shown = next((c.text for c in f.choices if c.value == values[0]), "")
        if not shown and f.kind == "number" and values[0] != NONE:
            shown = f"{f.label} = {show_number(Fraction(values[0]))}{f.unit}"
        if shown:
            return say("sheets.mistake_shown", shown=shown, note=note(known))
    return ""


def _also(made: Item, house: House) -> tuple[str, ...]:
    """What else is right: other orders of the rows, other names of the theorem."""
    found: list[str] = []
    for f in made.fields:
        first = made.key[f.name][0]
        # Other reasons come before other names of the one printed: those a teacher can see for herself.
        reasons = [house.name(reason) for reason in made.also.get(f.name, ())]
        found += [say("sheets.also_in_row", label=f.label, reason=r) if len(made.also) > 1 else r for r in reasons]
        if f.kind == "sentence":
            found.append(say("sheets.other_words"))
        elif f.kind == "order":
            others = [o for o in orders(made.facts["needs"], made.facts["goal"]) if ",".join(o) != first]
            found += [places(o) for o in others[:3]]
        elif first.endswith(("-angles", "-converse")):
            short = house.short(first)
            if short != house.name(first):
                found.append(short)
            found += list(house.also.get(first, ()))[:1]
        elif f.kind == "number" and f.unit and first != NONE:
            found.append(say("sheets.without_unit", value=first))
    return tuple(dict.fromkeys(found))


def places(order: Sequence[str]) -> str:
    """An order as it stands in the boxes of the page, row by row: "A 2 · B 1 · C 3"."""
    return " · ".join(f"{letter} {order.index(letter) + 1}" for letter in sorted(order))


def orders(needs: Mapping[str, tuple[str, ...]], goal: str) -> list[list[str]]:
    """Right orders of the rows, the first few of them: each row after those that it rests on; all by their letters."""
    found: list[list[str]] = []

    def grow(done: list[str], left: list[str]) -> None:
        if len(found) >= 8:
            return
        if not left:
            if done[-1] == goal:
                found.append(done)
            return
        for label in left:
            if all(p in done for p in needs[label]):
                grow([*done, label], [x for x in left if x != label])

    grow([], sorted(needs))
    return found
