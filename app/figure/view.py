"""From the plane to the page: which part of the plane is shown, and the figure's lines clipped to it."""

from __future__ import annotations

from dataclasses import dataclass
from math import hypot

import shapely

from app.figure.parts import Figure
from app.figure.plane import Point, unit, without_far

__all__ = ["View", "clipped", "view_of"]


@dataclass(frozen=True)
class View:
    """page x = (plane x - left) · scale, page y = (top - plane y) · scale; pixels, y down."""

    left: float
    top: float
    scale: float
    width: float
    height: float

    def page(self, at: Point) -> Point:
        return (at[0] - self.left) * self.scale, (self.top - at[1]) * self.scale

    def shows(self, at: Point, margin: float = 0) -> bool:
        x, y = self.page(at)
        return margin <= x <= self.width - margin and margin <= y <= self.height - margin


def view_of(
    fig: Figure,
    size: tuple[float, float],
    pad: float,
    spread: float = 1.0,
    shift: tuple[float, float] = (0.0, 0.0),
) -> View:
    """The figure's own frame fitted into the page; else its meets with `pad` pixels around them.

    `spread` times as large as that, and `shift` off the middle, right and down, in parts of the shorter side.
    """
    width, height = size
    if fig.frame is not None:
        left, bottom, right, top = map(float, fig.frame)
        scale = min(width / (right - left), height / (top - bottom))
    else:
        left, bottom, right, top = around(fig)
        wide, high = right - left, top - bottom
        sides = ((width, wide), (height, high))
        fits = [(side - 2 * pad) / extent for side, extent in sides if extent > 1e-9]
        scale = min(fits) if fits else min(width, height) / 10
    scale *= spread
    x = (left + right) / 2 - shift[0] * min(size) / scale
    y = (bottom + top) / 2 + shift[1] * min(size) / scale
    return View(x - width / 2 / scale, y + height / 2 / scale, scale, width, height)


def around(fig: Figure) -> tuple[float, float, float, float]:
    """The box round the meets (those with angles, if any have), else round the lines' own points."""
    at_angles = {angle.at for angle in fig.angles.values()}
    meets = [meet.at for meet in fig.meets.values() if not at_angles or meet.name in at_angles]
    own = [(float(line.through[0]), float(line.through[1])) for line in fig.lines.values()]
    points = without_far(meets) or own
    xs, ys = [x for x, _ in points], [y for _, y in points]
    return min(xs), min(ys), max(xs), max(ys)


def clipped(fig: Figure, line: str, view: View, margin: float) -> tuple[Point, Point] | None:
    """The ends of a line on the page, - end first, a margin from the edge; None where it is off the page."""
    of = fig.lines[line]
    ux, uy = unit(of.direction)
    # From the line's point nearest to the middle of the page, so that a far `through` loses no accuracy.
    middle = (view.left + view.width / 2 / view.scale, view.top - view.height / 2 / view.scale)
    dx, dy = middle[0] - float(of.through[0]), middle[1] - float(of.through[1])
    along = dx * ux + dy * uy
    foot = float(of.through[0]) + along * ux, float(of.through[1]) + along * uy
    x, y = view.page(foot)
    reach = 2 * hypot(view.width, view.height)
    if hypot(x - view.width / 2, y - view.height / 2) > reach:
        return None
    long = shapely.LineString([(x - reach * ux, y + reach * uy), (x + reach * ux, y - reach * uy)])
    seen = long.intersection(shapely.box(margin, margin, view.width - margin, view.height - margin))
    if seen.is_empty or seen.length < 4 * margin:
        return None
    start, end = seen.coords[0], seen.coords[-1]
    if (end[0] - start[0]) * ux - (end[1] - start[1]) * uy < 0:
        start, end = end, start
    return (start[0], start[1]), (end[0], end[1])
