"""Where the ink goes: lines clipped, arcs and squares inside their sectors, every label in free room.

Pixels, y down. Strokes come first (lines, arcs, squares, ticks), then labels, each in the first free place of
its own list; so nothing is ever placed over something else, however the figure lies. A number whose sector is
too thin to hold it stands in free room with a leader to its sector. The same figure gives the same layout.
"""

from __future__ import annotations

from dataclasses import dataclass, field, replace

from app.figure.look import Look
from app.figure.marks import Marks
from app.figure.parts import Figure
from app.figure.plane import Point
from app.figure.room import Box, Effort
from app.figure.view import View

__all__ = ["Arc", "Label", "Layout", "Square", "Stroke", "Tick", "lay_out"]

SHRINK = (1.0, 0.8, 0.64)
# In one try: ten times what a figure of two lines needs; and in all tries. An answer comes in bounded time
# whatever is asked.
MOST_PLACES = 12_000
MOST_IN_ALL = 32_000


@dataclass(frozen=True)
class Stroke:
    """A line of the figure on the page, from its - end to its + end."""

    name: str
    start: Point
    end: Point
    arrows: tuple[Point, ...] = ()
    tone: str = "plain"


@dataclass(frozen=True)
class Arc:
    """Arcs round a meet, radii from the inside out; headings in degrees, counterclockwise, y up."""

    angle: str
    centre: Point
    radii: tuple[float, ...]
    start: float
    sweep: float
    tone: str


@dataclass(frozen=True)
class Square:
    """The corner mark of a right angle: the three points that are not the meet."""

    angle: str
    corners: tuple[Point, Point, Point]
    tone: str


@dataclass(frozen=True)
class Tick:
    """Ticks across a segment."""

    strokes: tuple[tuple[Point, Point], ...]
    tone: str


@dataclass(frozen=True)
class Label:
    """A text in its room: `role` is number, label, name, letter or note; a leader runs to its sector."""

    role: str
    of: str
    text: str
    box: Box
    size: float
    tone: str = "plain"
    leader: tuple[Point, Point] | None = None


@dataclass
class Layout:
    """All there is to draw. `missing` tells what found no room at any size: the description still has it."""

    width: float
    height: float
    view: View
    look: Look
    strokes: list[Stroke] = field(default_factory=list)
    dots: list[Point] = field(default_factory=list)
    arcs: list[Arc] = field(default_factory=list)
    squares: list[Square] = field(default_factory=list)
    ticks: list[Tick] = field(default_factory=list)
    labels: list[Label] = field(default_factory=list)
    missing: list[tuple[str, str]] = field(default_factory=list)
    crossing: list[str] = field(default_factory=list)  # angles whose leaders cross a line

    @property
    def lacks(self) -> tuple[int, int]:
        """How many numbers and names are missing, and how many letters and arcs."""
        lesser = sum(role in ("letter", "arc") for role, _ in self.missing)
        return len(self.missing) - lesser, lesser

    @property
    def cost(self) -> tuple[int, int, int]:
        """What is wrong with it, the worst first."""
        return self.lacks[0], len(self.crossing), self.lacks[1]


def lay_out(
    fig: Figure, marks: Marks, size: tuple[float, float], look: Look, *, note: str = "", letters: bool = True
) -> Layout:
    """The layout of a figure on a page of that size in pixels.

    `note` is a line of small text for the lower left corner; `letters` asks for the meets' names. Where
    labels find no room at their angles, the figure is first drawn a little smaller or to one side, then type and
    marks are made smaller, step by step; only then does a leader cross a line, and only then is any left out.
    """
    from app.figure.labels import Labels, Worse
    from app.figure.views import Views

    fitted = look if look.base is None else scaled(look, max(0.55, min(1.6, min(size) / look.base)))
    views = Views(fig, marks, size)
    whole = Effort(MOST_IN_ALL)
    best: Layout | None = None
    for shrink in SHRINK if look.shrinks else SHRINK[:1]:
        drawn = scaled(fitted, shrink)
        views.begin(drawn)
        while (view := views.next(best)) is not None:
            effort = Effort(MOST_PLACES)
            try:
                bound = None if best is None else best.cost
                best = Labels(fig, marks, size, drawn, note, letters, effort, view, bound).layout()
            except Worse:
                pass
            if not whole.spend(MOST_PLACES - effort.left):
                views.stop()
        assert best is not None
        # A meet's letter is worth one step; a number or a name, and a line crossed, all of them.
        if best.cost == (0, 0, 0) or (shrink <= 0.8 and best.cost < (0, 1, 0)):
            break
    assert best is not None
    return best


def scaled(look: Look, by: float) -> Look:
    lengths = ("number", "name", "letter", "label", "arc", "arc_step", "gap", "dot", "arrow")
    finer = {key: getattr(look, key) * by for key in lengths}
    return replace(look, **finer, line=look.line * min(1, by**0.5), thin=look.thin * min(1, by**0.5))
