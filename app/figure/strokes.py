"""Strokes of a layout: lines clipped to the page, arcs and squares in their sectors, arrow marks, ticks."""

from __future__ import annotations

from fractions import Fraction
from math import cos, hypot, radians, sin

import shapely

from app.figure.layout import Arc, Layout, Square, Stroke, Tick
from app.figure.look import Look
from app.figure.marks import Mark, Marks
from app.figure.parts import Angle, Figure, Ray
from app.figure.plane import Point
from app.figure.room import Effort, Room
from app.figure.view import View, clipped

__all__ = ["Strokes", "side_of"]

SEEN = 5.0  # pixels: no arc is smaller


class Strokes:
    """One try at one size of type."""

    def __init__(
        self,
        fig: Figure,
        marks: Marks,
        size: tuple[float, float],
        look: Look,
        note: str,
        letters: bool,
        effort: Effort,
        view: View,
    ) -> None:
        self.fig, self.marks, self.look = fig, marks, look
        self.note, self.letters = note, letters
        width, height = size
        self.view = view
        self.room = Room(width, height, look.gap, effort)
        self.found = Layout(width, height, self.view, look)
        self.meets = {
            name: self.view.page(meet.at) for name, meet in fig.meets.items() if self.view.shows(meet.at, look.arrow)
        }
        self.ends: dict[str, tuple[Point, Point]] = {}
        self.reaches: dict[tuple[str, Ray, Ray], float] = {}  # what reach found, by sector

    def draw_lines(self) -> None:
        for name in self.fig.lines:
            ends = clipped(self.fig, name, self.view, self.look.arrow)
            if ends is None:
                continue
            self.ends[name] = ends
            self.room.add_stroke(ends, line=True)
        for at in self.meets.values():
            self.found.dots.append(at)
            self.room.add_dot(at, self.look.dot, meet=True)

    def measure(self, angle: Angle) -> Fraction:
        return self.fig.measure_between(angle.start, angle.end)

    def toward(self, at: Point, heading: float, distance: float) -> Point:
        turn = radians(heading)
        return at[0] + distance * cos(turn), at[1] - distance * sin(turn)

    def reach(self, angle: Angle) -> float:
        """How far from its meet an angle's marks may go: short of half way to other meets, and of any line
        that cuts its sector. Asked once the lines are drawn, and remembered.
        """
        sector = angle.at, angle.start, angle.end
        if sector not in self.reaches:
            self.reaches[sector] = self.find_reach(angle)
        return self.reaches[sector]

    def find_reach(self, angle: Angle) -> float:
        here = self.meets[angle.at]
        others = [at for name, at in self.meets.items() if name != angle.at]
        far = [0.46 * hypot(here[0] - x, here[1] - y) for x, y in others]
        through = self.fig.meets[angle.at].lines
        far += [
            self.distance_in(angle, *ends) - self.look.gap
            for name, ends in self.ends.items()
            # A line that passes the meet without being named there is no bound.
            if name not in through and abs(side_of(here, *ends)) > self.look.dot + self.look.gap
        ]
        return min(far, default=1e9)

    def distance_in(self, angle: Angle, start: Point, end: Point) -> float:
        """How far from the meet a line comes within the angle's sector; 1e9 where it stays outside."""
        at, heading, sweep = self.sector(angle)
        far = 2 * (self.room.width + self.room.height)
        turns = [heading + sweep * share for share in (0, 0.25, 0.5, 0.75, 1)]
        wedge = [at, *(self.toward(at, turn, far) for turn in turns)]
        inside = shapely.LineString([start, end]).intersection(shapely.Polygon(wedge))
        return 1e9 if inside.is_empty else float(shapely.distance(inside, shapely.Point(at)))

    def sector(self, angle: Angle) -> tuple[Point, float, float]:
        """Its meet on the page, its start heading and its measure in degrees."""
        return self.meets[angle.at], float(self.fig.heading(angle.start)), float(self.measure(angle))

    def draw_marks(self) -> None:
        """Arcs and squares, each in its sector; those of sectors that overlap one outside the other."""
        wanted = [
            angle
            for angle in self.fig.angles.values()
            if angle.at in self.meets
            and (self.marks.angles.get(angle.name, Mark()).count or angle.name in self.marks.right)
        ]
        wanted.sort(key=self.measure)
        for angle in wanted:
            inside = [arc.radii[-1] for arc in self.found.arcs if self.overlap(arc, angle)]
            inner = max(inside) + 1.6 * self.look.arc_step if inside else 0.0
            if angle.name in self.marks.right:
                self.square(angle, self.marks.right[angle.name])
            else:
                self.arc(angle, self.marks.angles[angle.name], inner)

    def overlap(self, arc: Arc, angle: Angle) -> bool:
        """Whether the angle lies at the arc's meet and their sectors share some of the turn."""
        if self.fig.angles[arc.angle].at != angle.at:
            return False
        start, sweep = float(self.fig.heading(angle.start)), float(self.measure(angle))
        return (start - arc.start) % 360 < arc.sweep or (arc.start - start) % 360 < sweep

    def arc(self, angle: Angle, mark: Mark, inner: float) -> None:
        reach, steps = self.reach(angle), mark.count - 1
        sweep = float(self.measure(angle))
        # A thin sector's arcs stand farther out, where there is some width to see.
        base = max(self.look.arc * (1.45 if sweep < 30 else 1.2 if sweep < 50 else 1), inner)
        step = self.look.arc_step
        if base + steps * step > reach:
            # Too near to something else: drawn closer together, and not at all where they would not be seen.
            base = max(inner, reach * (0.62 if steps else 1))
            step = (reach - base) / max(steps, 1)
            if base > reach or reach < SEEN or (steps and step < 1):
                self.found.missing.append(("arc", angle.name))
                return
        radii = tuple(base + i * step for i in range(mark.count))
        arc = Arc(angle.name, self.meets[angle.at], radii, float(self.fig.heading(angle.start)), sweep, mark.tone)
        self.found.arcs.append(arc)
        for radius in radii:
            self.room.add_stroke(arc_points(arc, radius))

    def square(self, angle: Angle, tone: str) -> None:
        at = self.meets[angle.at]
        side = min(0.62 * self.look.arc, 0.66 * self.reach(angle))
        one = self.toward(at, float(self.fig.heading(angle.start)), side)
        other = self.toward(at, float(self.fig.heading(angle.end)), side)
        corner = one[0] + other[0] - at[0], one[1] + other[1] - at[1]
        self.found.squares.append(Square(angle.name, (one, corner, other), tone))
        self.room.add_stroke([one, corner, other])

    def draw_arrows(self) -> None:
        """Arrow marks on lines, clear of meets and arcs, toward the + end; then the lines themselves."""
        for name, (start, end) in self.ends.items():
            mark = self.marks.lines.get(name, Mark())
            arrows: tuple[Point, ...] = ()
            if mark.count:
                arrows = self.arrows(name, start, end, mark.count)
                for at in arrows:
                    self.room.add_dot(at, 0.75 * self.look.arrow)
            self.found.strokes.append(Stroke(name, start, end, arrows, mark.tone))

    def arrows(self, name: str, start: Point, end: Point, count: int) -> tuple[Point, ...]:
        length = hypot(end[0] - start[0], end[1] - start[1])
        ux, uy = (end[0] - start[0]) / length, (end[1] - start[1]) / length
        step = 0.85 * self.look.arrow
        half = (count - 1) / 2 * step
        own = self.room.lines[list(self.ends).index(name)]
        others = [stroke for stroke in self.room.ink if stroke is not own]
        middle = length / 2
        places = [length * i / 40 for i in range(1, 40)]
        places = [along for along in places if min(along, length - along) - half >= 2.2 * self.look.arrow]
        rooms = [
            min(three)
            for three in zip(
                *(self.distances([(start[0] + a * ux, start[1] + a * uy) for a in shifted], others)
                  for shifted in ([a - half for a in places], places, [a + half for a in places])),
                strict=True,
            )
        ]  # fmt: skip
        # Past the last meet toward the + end is the place of habit; room counts up to what is plenty.
        scores = [
            min(room, 2.2 * self.look.arrow) - 0.02 * abs(along - (middle + 0.27 * length))
            for room, along in zip(rooms, places, strict=True)
        ]
        along = places[scores.index(max(scores))] if scores else middle
        return tuple(
            (start[0] + (along - half + k * step) * ux, start[1] + (along - half + k * step) * uy) for k in range(count)
        )

    def distances(self, spots: list[Point], shapes: list[object]) -> list[float]:
        """How far each spot is from the nearest of the shapes."""
        if not spots or not shapes:
            return [1e9] * len(spots)
        tree = shapely.STRtree(shapes)
        points = shapely.points(spots)
        nearest = tree.nearest(points)
        return [float(d) for d in shapely.distance(points, tree.geometries.take(nearest))]

    def draw_ticks(self) -> None:
        for (a, b), mark in self.marks.segments.items():
            if a not in self.meets or b not in self.meets or not mark.count:
                continue
            (x1, y1), (x2, y2) = self.meets[a], self.meets[b]
            length = hypot(x2 - x1, y2 - y1) or 1
            ux, uy = (x2 - x1) / length, (y2 - y1) / length
            half, step = 0.55 * self.look.arrow, 0.5 * self.look.arrow
            strokes = []
            for k in range(mark.count):
                along = length / 2 + (k - (mark.count - 1) / 2) * step
                x, y = x1 + along * ux, y1 + along * uy
                strokes.append(((x - half * uy, y + half * ux), (x + half * uy, y - half * ux)))
                self.room.add_stroke(strokes[-1])
            self.found.ticks.append(Tick(tuple(strokes), mark.tone))


def side_of(at: Point, start: Point, end: Point) -> float:
    """Signed distance of a point from the line through two others, in pixels."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    return (dx * (at[1] - start[1]) - dy * (at[0] - start[0])) / hypot(dx, dy)


def arc_points(arc: Arc, radius: float) -> list[Point]:
    """An arc as a polyline, fine enough that its chords stay on it."""
    steps = max(6, int(arc.sweep / 4))
    turns = [radians(arc.start + arc.sweep * i / steps) for i in range(steps + 1)]
    return [(arc.centre[0] + radius * cos(turn), arc.centre[1] - radius * sin(turn)) for turn in turns]
