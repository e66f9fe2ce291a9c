"""A figure as SVG that stands on its own: on a sheet, in an answer of the calculator, in a page.

No style attribute and no script, so that the strictest content policy lets it through: looks are presentation
attributes, and each part carries a class for pages that want to restyle it.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from html import escape
from math import cos, hypot, radians, sin
from zlib import crc32

from app.figure.laying import lay_out
from app.figure.layout import Arc, Label, Layout, Square, Stroke, Tick
from app.figure.look import LOOKS, SANS, SERIF, Look
from app.figure.marks import Marks, read_marks
from app.figure.parts import Figure
from app.figure.plane import Point
from app.figure.words import describe
from app.words import render, tell

__all__ = ["picture"]


def picture(
    fig: Figure,
    marks: Mapping[str, object] | Marks | None = None,
    *,
    size: tuple[float, float] = (480, 360),
    theme: str = "paper",
    not_to_scale: bool = False,
    given: Sequence[str] = (),
    hide: Sequence[str] = (),
    letters: bool = True,
    laid: Layout | None = None,
) -> str:
    """An SVG document of that size in pixels, with its title and description inside; `laid` is its layout, if known.

    `theme` is paper, board, print, large or tactile. `hide` keeps words out of the description (see `describe`).
    """
    found = read_marks(marks, fig)
    if laid is None:
        note = tell("figure.not_to_scale") if not_to_scale else ""
        laid = lay_out(fig, found, size, LOOKS[theme], note=note, letters=letters)
    told = describe(fig, found, given, hide, not_to_scale=not_to_scale)
    body = "".join(drawn(laid, fig))
    # Several pictures may stand on one page: their ids come from what they show.
    key = f"{crc32((render(told['text']) + body).encode()):08x}"
    wide, high = number(laid.width), number(laid.height)
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="figure figure-{theme}" viewBox="0 0 {wide} {high}" '
        f'width="{wide}" height="{high}" role="img" aria-labelledby="t{key}" aria-describedby="d{key}">'
        f'<title id="t{key}">{escape(render(told["title"]))}</title>'
        f'<desc id="d{key}">{escape(" ".join(map(render, told["parts"])))}</desc>{body}</svg>'
    )


def number(value: float) -> str:
    """A coordinate with at most two decimals, without a tail of zeros."""
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


def at(point: Point) -> str:
    return f"{number(point[0])} {number(point[1])}"


def drawn(laid: Layout, fig: Figure) -> list[str]:
    """The parts from the ground up: paper, arcs, lines, dots, labels."""
    look = laid.look
    parts = [ground(laid)]
    parts += [arc(one, look) for one in laid.arcs]
    parts += [square(one, look) for one in laid.squares]
    parts += [line(one, look, dashed=one.name == fig.transversal) for one in laid.strokes]
    parts += [ticks(one, look) for one in laid.ticks]
    parts += [
        f'<circle class="meet" cx="{number(x)}" cy="{number(y)}" r="{number(look.dot)}" fill="{look.ink}"/>'
        for x, y in laid.dots
    ]
    parts += [leader(one, look) for one in laid.labels if one.leader is not None]
    parts += [label(one, look) for one in laid.labels]
    return parts


def ground(laid: Layout) -> str:
    look, wide, high = laid.look, number(laid.width), number(laid.height)
    parts = ""
    if look.ground is not None:
        parts += f'<rect class="ground" width="{wide}" height="{high}" fill="{look.ground}"/>'
    if look.square is not None:
        # 5 mm squares, from the middle of the page.
        step = 96 / 25.4 * 5
        across = ruled(laid.width, step, "M{} 0V" + high)
        down = ruled(laid.height, step, "M0 {}H" + wide)
        parts += f'<path class="squares" d="{across}{down}" stroke="{look.square}" fill="none"/>'
    return parts


def ruled(length: float, step: float, path: str) -> str:
    first = (length / 2) % step
    return "".join(path.format(number(first + i * step)) for i in range(int((length - first) / step) + 1))


def arc(one: Arc, look: Look) -> str:
    """Arcs of one angle. A tone shows without colour too: what follows is heavier, what fails is dashed."""
    steps = []
    for radius in one.radii:
        ends = [
            (one.centre[0] + radius * cos(radians(turn)), one.centre[1] - radius * sin(radians(turn)))
            for turn in (one.start, one.start + one.sweep)
        ]
        r = number(radius)
        steps.append(f"M{at(ends[0])}A{r} {r} 0 0 0 {at(ends[1])}")
    return stroked("".join(steps), f"arc {one.tone}", one.tone, look)


def stroked(path: str, kind: str, tone: str, look: Look) -> str:
    width = look.thin * (1.8 if tone == "follows" else 1.25)
    dash = f' stroke-dasharray="{number(2.6 * width)} {number(1.8 * width)}"' if tone == "fails" else ""
    return (
        f'<path class="{kind}" d="{path}" fill="none" stroke="{look.tone(tone)}" stroke-width="{number(width)}"{dash}/>'
    )


def square(one: Square, look: Look) -> str:
    path = "M" + "L".join(at(corner) for corner in one.corners)
    return stroked(path, f"square {one.tone}", one.tone, look)


def line(one: Stroke, look: Look, *, dashed: bool) -> str:
    """A line with a head at each end, since it goes on; its arrow marks are open, the heads are filled."""
    length = hypot(one.end[0] - one.start[0], one.end[1] - one.start[1])
    ux, uy = (one.end[0] - one.start[0]) / length, (one.end[1] - one.start[1]) / length
    back = 0.55 * look.arrow
    inner = [
        (one.start[0] + back * ux, one.start[1] + back * uy),
        (one.end[0] - back * ux, one.end[1] - back * uy),
    ]
    dash = f' stroke-dasharray="{look.transversal_dash}"' if dashed and look.transversal_dash else ""
    heads = head(one.start, -ux, -uy, look) + head(one.end, ux, uy, look)
    parts = (
        f'<path class="line" d="M{at(inner[0])}L{at(inner[1])}" stroke="{look.ink}" '
        f'stroke-width="{number(look.line)}"{dash}/><path class="head" d="{heads}" fill="{look.ink}"/>'
    )
    if one.arrows:
        marks = "".join(chevron(place, ux, uy, look) for place in one.arrows)
        parts += (
            f'<path class="arrow {one.tone}" d="{marks}" fill="none" stroke="{look.tone(one.tone)}" '
            f'stroke-width="{number(1.25 * look.line)}" stroke-linejoin="miter"/>'
        )
    return f'<g data-line="{escape(one.name)}">{parts}</g>'


def head(tip: Point, ux: float, uy: float, look: Look) -> str:
    long, wide = 0.9 * look.arrow, 0.34 * look.arrow
    base = tip[0] - long * ux, tip[1] - long * uy
    notch = tip[0] - 0.68 * long * ux, tip[1] - 0.68 * long * uy
    left = base[0] - wide * uy, base[1] + wide * ux
    right = base[0] + wide * uy, base[1] - wide * ux
    return f"M{at(tip)}L{at(left)}L{at(notch)}L{at(right)}Z"


def chevron(tip: Point, ux: float, uy: float, look: Look) -> str:
    """An open arrow mark whose middle is the given point."""
    long, wide = 0.38 * look.arrow, 0.52 * look.arrow
    front = tip[0] + long * ux, tip[1] + long * uy
    base = tip[0] - long * ux, tip[1] - long * uy
    left = base[0] - wide * uy, base[1] + wide * ux
    right = base[0] + wide * uy, base[1] - wide * ux
    return f"M{at(left)}L{at(front)}L{at(right)}"


def ticks(one: Tick, look: Look) -> str:
    return stroked("".join(f"M{at(a)}L{at(b)}" for a, b in one.strokes), f"tick {one.tone}", one.tone, look)


def leader(one: Label, look: Look) -> str:
    assert one.leader is not None
    start, tip = one.leader
    return (
        f'<path class="leader" d="M{at(start)}L{at(tip)}" stroke="{look.graphite}" '
        f'stroke-width="{number(0.75 * look.thin)}"/><circle class="leader" cx="{number(tip[0])}" '
        f'cy="{number(tip[1])}" r="{number(1.35 * look.thin)}" fill="{look.graphite}"/>'
    )


def label(one: Label, look: Look) -> str:
    """A text in the middle of its room, with a halo of the ground."""
    serif = one.role in ("name", "letter", "label", "note")
    slant = ' font-style="italic"' if one.role in ("name", "letter", "note") else ""
    family = SERIF if serif else SANS
    fill = look.graphite if one.role in ("letter", "note") else look.tone(one.tone)
    # Capitals and digits reach about 0.72 of the size above the base line.
    drop = 0.36 * one.size if one.box.half_height < 0.45 * one.size else 0.25 * one.size
    return (
        f'<text class="{one.role}" x="{number(one.box.x)}" y="{number(one.box.y + drop)}" '
        f'font-family="{escape(family)}" font-size="{number(one.size)}"{slant} text-anchor="middle" '
        f'fill="{fill}" stroke="{look.ground or "#ffffff"}" stroke-width="{number(0.18 * one.size)}" '
        f'stroke-linejoin="round" '
        f'paint-order="stroke">{escape(one.text)}</text>'
    )
