"""Labels of a layout: numbers and measures in their sectors, names at the ends of lines, letters at meets."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from itertools import chain
from math import atan2, degrees, hypot

from app.figure.cells import places_in, room_in, sides_of
from app.figure.layout import Label, Layout
from app.figure.look import Look, text_box
from app.figure.marks import Mark, Marks
from app.figure.parts import Angle, Figure
from app.figure.plane import Point
from app.figure.room import Box, Effort
from app.figure.strokes import Strokes, side_of
from app.figure.view import View

__all__ = ["Labels", "Worse"]

# Where to look, in parts of the type size, the best first. In a sector: how far beyond the nearest place, and
# which share of the turn; round a meet and round a leader's tip: how far, and which way in degrees.
IN_SECTOR = sorted(
    ((0.15 * i, share) for i in range(34) for share in (0.5, 0.4, 0.6, 0.3, 0.7, 0.22, 0.78)),
    key=lambda place: (0.95 + place[0]) * (1 + 1.1 * abs(place[1] - 0.5)),
)
ROUND_MEET = sorted(
    ((0.75 + 0.2 * ring, turn) for ring in range(16) for turn in range(0, 360, 15)),
    key=lambda place: place[0] + 0.5 * abs((place[1] - 60 + 180) % 360 - 180) / 180,
)
# Where in its sector the tip of a leader may be: how far from the meet in parts of the arcs' size, and which
# share of the turn.
TIPS = [(distance, share) for share in (0.5, 0.3, 0.7) for distance in (1.9, 1.2, 2.8, 4.0, 5.5)]
# Round a tip where no place is free in the angle's own part of the page: along the middle of the sector first.
ROUND_TIP = sorted(
    ((1.0 * ring, turn) for ring in range(2, 26) for turn in range(0, 360, 24)),
    key=lambda place: place[0] * (1 + 0.35 * min(place[1], 360 - place[1]) / 180),
)
# Places looked at in the angle's own part, for one tip.
MOST_IN_CELL = 240
# How steep a short leader must be, down for across: a short level one between two texts is a minus.
STEEP = 0.45
# How far a label keeps from a number in its own row, in parts of its size: "6 29°" is not 629°.
IN_ROW = 0.75


class Worse(Exception):
    """A layout that has become no better than one there is."""


class Labels(Strokes):
    """The strokes, then each label in the first free place of its own list."""

    near: dict[str, tuple[float, float]]

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
        bound: tuple[int, int, int] | None = None,
    ) -> None:
        """`bound` is the cost of a layout there is: one that comes to cost as much is given up (`Worse`)."""
        super().__init__(fig, marks, size, look, note, letters, effort, view)
        self.bound = bound
        self.texts: list[Box] = []  # numbers and labels

    def layout(self) -> Layout:
        """Everything in its place, as far as there is room."""
        self.near = {}
        self.draw_lines()
        self.draw_marks()
        self.draw_arrows()
        self.draw_ticks()
        angles = [angle for angle in self.fig.angles.values() if angle.at in self.meets]
        # The thinnest first: they have the fewest places to choose from.
        angles.sort(key=lambda angle: self.measure(angle))
        self.write_in_sectors([(angle, "number", angle.name, self.look.number, "plain") for angle in angles])
        self.keep_rows_apart()
        marked = [(angle, self.marks.angles.get(angle.name, Mark())) for angle in angles]
        size = self.look.label
        self.write_in_sectors([(a, "label", mark.label, size, mark.tone) for a, mark in marked if mark.label])
        if self.note:
            self.write_note()
        for name in self.ends:
            self.line_name(name)
        if self.letters:
            for name in self.meets:
                self.meet_letter(name)
        self.give_up_where_worse()
        return self.found

    def put(self, label: Label) -> None:
        self.found.labels.append(label)
        self.room.add_box(label.box)
        if label.role in ("number", "label"):
            self.texts.append(label.box)
        if label.leader is not None:
            self.room.add_stroke(label.leader)

    def keep_rows_apart(self) -> None:
        """From here on the texts there are want more room to their left and right."""
        more = IN_ROW * self.look.label
        for box in self.texts:
            self.room.add_box(Box(box.x, box.y, box.half_width + more, box.half_height), air=True)

    def give_up_where_worse(self) -> None:
        if self.bound is not None and self.found.cost >= self.bound:
            raise Worse

    def write_note(self) -> None:
        size = 0.85 * self.look.letter
        half = text_box(self.note, size)
        places = [
            (half[0] + 8, self.room.height - half[1] - 6),
            (self.room.width - half[0] - 8, self.room.height - half[1] - 6),
            (half[0] + 8, half[1] + 6),
            (self.room.width - half[0] - 8, half[1] + 6),
        ]
        across, down = self.room.width / 20, self.room.height / 30
        places += [(across * i, down * j) for j in range(29, 0, -1) for i in range(1, 20)]
        self.settle("note", "", self.note, size, half, places)

    def settle(
        self,
        role: str,
        of: str,
        text: str,
        size: float,
        half: Point,
        places: Iterable[Point],
        wanted: Callable[[Point], bool] | None = None,
    ) -> bool:
        """Put the label in the first free place that is wanted; whether there was one."""
        at = self.room.first_free(places, half, wanted)
        if at is not None:
            self.put(Label(role, of, text, Box(*at, *half), size))
        return at is not None

    def write_in_sectors(self, wanted: Sequence[tuple[Angle, str, str, float, str]]) -> None:
        """Texts in their sectors near their meets; then those that found no room there, with leaders."""
        waiting = []
        for angle, role, text, size, tone in wanted:
            half = text_box(text, size)
            if self.lone(angle):
                at = self.room.first_free(chain(self.in_sector(angle, size), self.in_cell(angle, half, size)), half)
            else:
                places = self.in_sector(angle, size)
                at = self.room.first_free(places, half, lambda at, meet=angle.at: self.belongs(at, meet))  # type: ignore[misc]
            if at is not None:
                self.put(Label(role, angle.name, text, Box(*at, *half), size, tone))
            else:
                waiting.append((angle, role, text, size, tone))
        for angle, role, text, size, tone in waiting:
            half = text_box(text, size)
            led = self.led_label(angle, half, size)
            if led is not None:
                self.put(Label(role, angle.name, text, Box(*led[0], *half), size, tone, (led[1], led[2])))
            else:
                self.found.missing.append((role, angle.name))
            self.give_up_where_worse()

    def in_sector(self, angle: Angle, size: float) -> Iterator[Point]:
        """Places in the sector, from the meet outward, the middle of the sector first."""
        at, start, sweep = self.sector(angle)
        outer = max((arc.radii[-1] for arc in self.found.arcs if arc.angle == angle.name), default=0.0)
        nearest = max(0.95 * size, outer)
        for step, share in IN_SECTOR:
            yield self.toward(at, start + share * sweep, nearest + step * size)

    def lone(self, angle: Angle) -> bool:
        """Whether the angle's part of the page has no other corner that is seen, and no line parts the angle: what
        stands in there can be no other angle's.
        """
        at, start, sweep = self.sector(angle)
        for line in self.fig.meets[angle.at].lines:
            for turn in (0, 180):
                if 0 < (float(self.fig.lines[line].direction) + turn - start) % 360 < sweep - 1e-9:
                    return False
        sides = [(self.ends[name], side) for name, side in sides_of(self.fig, angle) if name in self.ends]
        return not any(
            all(side * side_of(other, *ends) <= 1 for ends, side in sides)
            for name, other in self.meets.items()
            if name != angle.at
        )

    def in_cell(self, angle: Angle, half: Point, size: float) -> list[Point]:
        """Places in the angle's own part of the page, the nearest to its meet first."""
        sides = [side for side in sides_of(self.fig, angle) if side[0] in self.ends]
        corners = room_in(self.fig, sides, self.view, half, self.room.gap, self.room.margin)
        x, y = self.meets[angle.at]
        places = places_in(corners, 0.45 * size, MOST_IN_CELL) if corners else []
        return sorted(places, key=lambda at: hypot(at[0] - x, at[1] - y))

    def belongs(self, place: Point, meet: str, share: float = 0.72) -> bool:
        """Whether a reader takes what stands there for the meet's: nearest to it, and no line between."""
        at = self.meets[meet]
        own = hypot(place[0] - at[0], place[1] - at[1])
        next_meet, next_line = self.nearest(meet)
        if own * (1 + share) > share * next_meet:
            for name, (x, y) in self.meets.items():
                if name != meet and own > share * hypot(place[0] - x, place[1] - y):
                    return False
        if own < next_line:
            return True
        through = self.fig.meets[meet].lines
        return all(
            side_of(place, *ends) * side_of(at, *ends) > 0
            for name, ends in self.ends.items()
            if name not in through and abs(side_of(at, *ends)) > self.look.dot
        )

    def nearest(self, meet: str) -> tuple[float, float]:
        """How far the nearest other meet is, and the nearest line that doesn't pass through this one."""
        if meet not in self.near:
            x, y = self.meets[meet]
            meets = [hypot(x - a, y - b) for name, (a, b) in self.meets.items() if name != meet]
            through = self.fig.meets[meet].lines
            lines = [abs(side_of((x, y), *ends)) for name, ends in self.ends.items() if name not in through]
            beside = [far for far in lines if far > self.look.dot]
            self.near[meet] = min(meets, default=1e9), min(beside, default=1e9)
        return self.near[meet]

    def led_label(self, angle: Angle, half: Point, size: float) -> tuple[Point, Point, Point] | None:
        """A place for an angle's label, and the two ends of its leader: by the label, and in the sector.

        In the angle's own part of the page if it has room there: then the leader crosses no line.
        """
        at, start, sweep = self.sector(angle)
        limit = 1e9 if self.lone(angle) else 0.8 * self.reach(angle)
        tips = [
            (self.toward(at, start + share * sweep, min(far * self.look.arc, limit)), share)
            for far, share in TIPS
            if far * self.look.arc <= limit or far == TIPS[0][0]
        ]
        tips = [(tip, share) for tip, share in tips if self.room.inside(*tip, (self.look.arrow, self.look.arrow))]
        good = [(tip, share) for tip, share in tips if self.tip_free(tip, size)]
        for tip, share in good:
            sides = [side for side in sides_of(self.fig, angle, share) if side[0] in self.ends]
            corners = room_in(self.fig, sides, self.view, half, self.room.gap, self.room.margin)
            if corners:
                places = places_in(corners, 0.45 * size, MOST_IN_CELL)
                places.sort(key=lambda at, tip=tip: hypot(at[0] - tip[0], at[1] - tip[1]))  # type: ignore[misc]
                led = self.led(tip, places, half, size)
                if led is not None:
                    return led
        # What can't be had without crossing a line, or near a text, is still better than no label.
        for tip, share in [*good, *tips]:
            heading = start + share * sweep
            places = [self.toward(tip, heading + turn, far * size) for far, turn in ROUND_TIP]
            led = self.led(tip, places, half, size)
            if led is not None:
                self.found.crossing.append(angle.name)
                return led
        return None

    def tip_free(self, tip: Point, size: float) -> bool:
        """Whether a tip there touches no text and no other leader."""
        return (
            self.apart(tip) >= 0.45 * size
            and self.room.clear([(tip, (tip[0] + 0.01, tip[1]))], self.room.index(self.room.marks_but(tip)))[0]
        )

    def apart(self, at: Point) -> float:
        """How far a place is from the nearest number or label."""
        return min(
            (
                hypot(
                    max(0.0, abs(at[0] - box.x) - box.half_width),
                    max(0.0, abs(at[1] - box.y) - box.half_height),
                )
                for box in self.texts
            ),
            default=1e9,
        )

    def led(self, tip: Point, places: Sequence[Point], half: Point, size: float) -> tuple[Point, Point, Point] | None:
        """The first free place whose leader to the tip is seen to be one, and crosses no mark."""
        marks = self.room.index(self.room.marks_but(tip))
        places = [spot for spot in places if self.room.inside(*spot, half)]
        for first in range(0, len(places), 60):
            spots = places[first : first + 60]
            if not self.room.effort.spend(len(spots)):
                break
            free = zip(spots, self.room.free(spots, half), strict=True)
            leaders = [(spot, edge_toward(spot, half, tip, self.look.gap / 2)) for spot, ok in free if ok]
            leaders = [(spot, edge) for spot, edge in leaders if self.plainly_leads(edge, tip, size)]
            clear = self.room.clear([(edge, tip) for _, edge in leaders], marks)
            for (spot, edge), ok in zip(leaders, clear, strict=True):
                if ok:
                    return spot, edge, tip
        return None

    def plainly_leads(self, start: Point, tip: Point, size: float) -> bool:
        """Whether a stroke from a text to a tip is seen to lead there: steep and not too short; or long, if level,
        and by no other text, as a minus or a bar would be.
        """
        across, down = abs(tip[0] - start[0]), abs(tip[1] - start[1])
        if down >= STEEP * across:
            return hypot(across, down) >= 0.8 * size
        if across < 2 * size:
            return False
        steps = int(across / (0.6 * size)) + 1
        return all(
            self.apart((tip[0] + k / steps * (start[0] - tip[0]), tip[1] + k / steps * (start[1] - tip[1])))
            >= 1.2 * size
            for k in range(steps + 1)
        )

    def line_name(self, name: str) -> None:
        """At one end of its line, beside it, nearer to it than to any other line."""
        start, end = self.ends[name]
        size = self.look.name
        half = text_box(name, size)
        length = hypot(end[0] - start[0], end[1] - start[1])
        ux, uy = (end[0] - start[0]) / length, (end[1] - start[1]) / length
        off = abs(uy) * half[0] + abs(ux) * half[1] + self.room.gap + 1
        # The right end of a flat line, the top end of a steep one.
        flip = abs(ux) > 0.7 and ux < 0
        places: list[tuple[float, Point]] = []
        for i in range(int(length / 5)):
            inward = 0.55 * size + 5 * i
            for at_plus in (True, False):
                along = length - inward if at_plus != flip else inward
                for side in (1, -1):
                    cost = inward + (0 if at_plus else 3.2 * size) + (0 if side == 1 else 2)
                    nx, ny = side * uy, side * -ux
                    if ny > 0.2:
                        cost += 3  # above the line rather than below it
                    x, y = start[0] + along * ux, start[1] + along * uy
                    places.append((cost, (x + off * nx, y + off * ny)))
        places.sort(key=lambda one: one[0])
        others = [ends for other, ends in self.ends.items() if other != name]

        def plain(spot: Point) -> bool:
            own = abs(side_of(spot, start, end)) + 2
            return all(abs(side_of(spot, *ends)) > own for ends in others)

        spots = [spot for _, spot in places]
        if not any(self.settle("name", name, name, size, half, spots, wanted) for wanted in (plain, None)):
            self.found.missing.append(("name", name))

    def meet_letter(self, name: str) -> None:
        """Near its meet, where there is room; the upper right first."""
        at, size = self.meets[name], self.look.letter
        half = text_box(name, size)
        # A letter close to a number would read as one word with it.
        room = half[0] + 0.4 * size, half[1]
        spots = (self.toward(at, turn, distance * size) for distance, turn in ROUND_MEET)

        def wanted(spot: Point) -> bool:
            return self.belongs(spot, name) and not self.in_arc(spot, name, room)

        if self.settle("letter", name, name, size, room, spots, wanted):
            return
        around = [self.toward(at, 60 + turn, far * size) for far, turn in ROUND_TIP]
        around = [spot for spot in around if not self.in_arc(spot, name, room)]
        led = self.led(at, around, room, size)
        if led is None:
            self.found.missing.append(("letter", name))
        else:
            self.put(Label("letter", name, name, Box(*led[0], *room), size, leader=(led[1], led[2])))

    def in_arc(self, spot: Point, meet: str, half: Point) -> bool:
        """Whether a letter there lies within the arcs or the square of an angle: it would be read as its name."""
        x, y = self.meets[meet]
        far, turn = hypot(spot[0] - x, spot[1] - y), degrees(atan2(y - spot[1], spot[0] - x))
        marks = [(arc.angle, arc.radii[-1]) for arc in self.found.arcs]
        marks += [
            (square.angle, hypot(square.corners[1][0] - x, square.corners[1][1] - y)) for square in self.found.squares
        ]
        for name, reach in marks:
            angle = self.fig.angles[name]
            start, sweep = float(self.fig.heading(angle.start)), float(self.measure(angle))
            if angle.at == meet and (turn - start) % 360 < sweep and far < reach + max(half):
                return True
        return False


def edge_toward(spot: Point, half: Point, tip: Point, gap: float) -> Point:
    """Where a leader leaves a label's room on its way to the tip."""
    dx, dy = tip[0] - spot[0], tip[1] - spot[1]
    share = min((half[0] + gap) / abs(dx) if dx else 1e9, (half[1] + gap) / abs(dy) if dy else 1e9, 1)
    return spot[0] + share * dx, spot[1] + share * dy
