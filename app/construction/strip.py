"""A construction for paper: the strip of numbered panels, one a step, and a blank sheet with only what is given.

All panels of a strip have one scale, so an opening measured in one fits the next; a 5 cm bar says whether the
printer kept it (I-7). The sheet to work on is larger, as large as the page allows.
"""

from __future__ import annotations

from dataclasses import dataclass

from app.construction.arithmetic import FLOATS
from app.construction.moves import Program
from app.construction.picture import Window, check_bar, extent_of, panel
from app.construction.recipes import recipe
from app.construction.replay import replay
from app.construction.start import read_compass, read_start
from app.construction.words import captions
from app.figure.faults import Fault, shown
from app.words import render
from app.words import tell as say

__all__ = ["PAPERS", "Panel", "Strip", "strip"]

# Width and height in mm; margins of 12.7 mm are kept free by the page.
PAPERS = {"letter": (215.9, 279.4), "a4": (210.0, 297.0)}
MARGIN = 12.7
GAP = 6.0
# What the line round a picture takes on both of its sides, and a hair, so that no right edge is cut.
FRAME = 0.8
EDGE = 5.0
MOST_SCALE = 20.0
# Panels side by side, and how tall their pictures may be where a page holds two or three rows with their captions.
ACROSS = 2
ROWS = {1: 80.0, 2: 80.0, 3: 43.0}
# Lower than this only where a third row needs it.
LOWEST = 66.0


@dataclass(frozen=True)
class Panel:
    """One step: its number (0 for what is given), title, caption and picture."""

    number: int
    title: str
    caption: str
    svg: str


@dataclass(frozen=True)
class Strip:
    """All parts of the two sheets; every `svg` is safe to put into a page as it is."""

    title: str
    paper: str
    panels: tuple[Panel, ...]
    bar: str
    check: str
    blank: str
    blank_words: str
    caution: str
    scale: float
    blank_scale: float


def strip(
    construction: object, start: object, paper: str = "letter", *, route: str = "any", compass: object = None
) -> Strip:
    """The strip and the blank sheet of a task. Raises Fault for an unknown paper or an unusable start.

    `scale` and `blank_scale` are millimeters on paper to a unit of the start.
    """
    if paper not in PAPERS:
        raise Fault("construction.paper_unknown", "paper", found=shown(paper), known=", ".join(PAPERS))
    given = read_start(construction, start)
    made = recipe(given, route, compass=read_compass(compass))
    program = made.program()
    drawing = replay(program, FLOATS)
    wide, tall = PAPERS[paper]
    inner = wide - 2 * MARGIN
    box = extent_of(drawing, program)
    column = (inner - GAP) / ACROSS - FRAME
    window = framed(box, column, panel_height(box, column, len(made.steps) + 1))
    names = captions(made)
    title = say(f"construction.name_{given.task.replace(' ', '_')}")
    about = given_words(program)
    panels = [Panel(0, say("construction.strip_given"), "", panel(window, program, drawing, 0, about=about))]
    done = 0
    for i, step in enumerate(made.steps):
        new = frozenset(move.name for move in made.moves[done : step.upto])
        picture = panel(window, program, drawing, step.upto, new)
        panels.append(Panel(i + 1, render(names[i]["name"]), render(names[i]["caption"]), picture))
        done = step.upto
    blank_window = framed(box, inner - FRAME, min(tall - 2 * MARGIN - 92, 175.0))
    return Strip(
        title=say("construction.strip_title", task=title),
        paper=paper,
        panels=tuple(panels),
        bar=check_bar(say("construction.strip_check"), say("construction.strip_bar")),
        check=say("construction.strip_check"),
        blank=panel(blank_window, Program(given, ()), drawing, 0, about=about),
        blank_words=say("construction.strip_blank"),
        caution=say("construction.strip_caution"),
        scale=window.scale,
        blank_scale=blank_window.scale,
    )


def panel_height(box: tuple[float, float, float, float], wide: float, count: int) -> float:
    """How tall the pictures of a strip are: all on one page if there are no more than six, else four on each."""
    most = ROWS.get(-(-count // ACROSS), ROWS[2])
    left, bottom, right, top = box
    scale = min((wide - 2 * EDGE) / max(right - left, 1e-9), MOST_SCALE)
    return max(min(LOWEST, most), min(most, (top - bottom) * scale + 2 * EDGE))


def framed(box: tuple[float, float, float, float], wide: float, tall: float) -> Window:
    """The window that shows the box with an edge around it, as large as fits but no larger than 2 cm to a unit."""
    left, bottom, right, top = box
    scale = min((wide - 2 * EDGE) / max(right - left, 1e-9), (tall - 2 * EDGE) / max(top - bottom, 1e-9), MOST_SCALE)
    return Window(round(wide, 1), round(tall, 1), scale, (left + right) / 2, (bottom + top) / 2)


def given_words(program: Program) -> str:
    """What is given, for the picture's text."""
    start = program.start
    parts = []
    if start.angle:
        parts.append(say("construction.given_angle", name="".join(start.angle)))
    for key in ("ray", "line", "segment"):
        ends = getattr(start, key)
        if ends:
            parts.append(say(f"construction.{key}", name="".join(ends)))
    if start.point:
        parts.append(say("construction.given_point", name=start.point))
    return say("construction.given_all", parts=", ".join(parts))
