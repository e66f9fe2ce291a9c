"""Where the ink goes: lines clipped, arcs and squares inside their sectors, every label in free room.

Pixels, y down. Strokes come first (lines, arcs, squares, ticks), then labels, each in the first free place of
its own list; so nothing is ever placed over something else, however the figure lies. A number whose sector is
too thin to hold it stands in free room with a leader to its sector. The same figure gives the same layout.
"""

from __future__ import annotations

from dataclasses import dataclass, field

from app.figure.look import Look
from app.figure.plane import Point
from app.figure.room import Box
from app.figure.view import View

__all__ = ["Arc", "Label", "Layout", "Square", "Stroke", "Tick"]


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
