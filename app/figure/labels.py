"""Labels of a layout: numbers and measures in their sectors, names at the ends of lines, letters at meets."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Sequence
from math import hypot

from app.figure.layout import Label, Layout
from app.figure.look import text_width
from app.figure.marks import Mark
from app.figure.parts import Angle
from app.figure.plane import Point
from app.figure.room import Box
from app.figure.strokes import Strokes, side_of

__all__ = ["Labels"]

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
# How far from the meet the tip of a leader may be, in parts of the arcs' size.
TIPS = (1.9, 1.2, 2.8, 4.0)
# Leaders that leave the sector along its middle read best.
ROUND_TIP = sorted(
    ((1.0 * ring, turn) for ring in range(2, 26) for turn in range(0, 360, 24)),
    key=lambda place: place[0] * (1 + 0.35 * min(place[1], 360 - place[1]) / 180),
)


class Labels(Strokes):
    """The strokes, then each label in the first free place of its own list."""

    near: dict[str, tuple[float, float]]

    def layout(self) -> Layout:
        """Everything in its place, as far as there is room."""
        self.near = {}
        self.draw_lines()
        self.draw_marks()
        self.draw_arrows()
        self.draw_ticks()
        if self.note:
            self.write_note()
        angles = [angle for angle in self.fig.angles.values() if angle.at in self.meets]
        # The thinnest first: they have the fewest places to choose from.
        angles.sort(key=lambda angle: self.measure(angle))
        self.write_in_sectors([(angle, "number", angle.name, self.look.number, "plain") for angle in angles])
        marked = [(angle, self.marks.angles.get(angle.name, Mark())) for angle in angles]
        size = self.look.label
        self.write_in_sectors([(a, "label", mark.label, size, mark.tone) for a, mark in marked if mark.label])
        for name in self.ends:
            self.line_name(name)
        if self.letters:
            for name in self.meets:
                self.meet_letter(name)
        return self.found

    def half(self, text: str, size: float) -> Point:
        """Half the width and height of a line of text: from the tops of the capitals to the descenders."""
        tall = 0.78 if not set(text) & set("gjpqy,;()[]") else 0.98
        return text_width(text, size) / 2, tall * size / 2

    def put(self, label: Label) -> None:
        self.found.labels.append(label)
        self.room.add_box(label.box)
        if label.leader is not None:
            self.room.add_stroke(label.leader)

    def write_note(self) -> None:
        size = 0.85 * self.look.letter
        half = self.half(self.note, size)
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
            half = self.half(text, size)
            places = self.places_in(angle, size)
            at = self.room.first_free(places, half, lambda at, meet=angle.at: self.belongs(at, meet))  # type: ignore[misc]
            if at is not None:
                self.put(Label(role, angle.name, text, Box(*at, *half), size, tone))
            else:
                waiting.append((angle, role, text, size, tone))
        for angle, role, text, size, tone in waiting:
            half = self.half(text, size)
            led = self.led_label(angle, half, size)
            if led is not None:
                self.put(Label(role, angle.name, text, Box(*led[0], *half), size, tone, (led[1], led[2])))
            else:
                self.found.missing.append((role, angle.name))

    def places_in(self, angle: Angle, size: float) -> Iterator[Point]:
        """Places in the sector, from the meet outward, the middle of the sector first."""
        at, start, sweep = self.sector(angle)
        outer = max((arc.radii[-1] for arc in self.found.arcs if arc.angle == angle.name), default=0.0)
        nearest = max(0.95 * size, outer)
        for step, share in IN_SECTOR:
            yield self.toward(at, start + share * sweep, nearest + step * size)

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
        """A place for an angle's label, and the two ends of its leader: by the label, and in the sector."""
        at, start, sweep = self.sector(angle)
        middle = start + sweep / 2
        reach = 0.8 * self.reach(angle)
        for distance in TIPS:
            if distance == TIPS[0] or distance * self.look.arc <= reach:
                tip = self.toward(at, middle, min(distance * self.look.arc, reach))
                led = self.led(tip, middle, half, size)
                if led is not None:
                    return led
        return None

    def led(self, tip: Point, middle: float, half: Point, size: float) -> tuple[Point, Point, Point] | None:
        """The nearest free place whose leader to the tip crosses no mark and, if one can be had, no line."""
        marks = self.room.index(self.room.marks_but(tip))
        lines = self.room.index(self.room.lines)
        if not self.room.clear([(tip, (tip[0] + 0.01, tip[1]))], marks)[0]:
            return None
        best = None
        for first in range(0, len(ROUND_TIP), 96):
            # One handful more for a leader that crosses no line, once there is one that does.
            if not self.room.effort.spend(96) or (best is not None and first > 192):
                break
            turns = ROUND_TIP[first : first + 96]
            spots = [self.toward(tip, middle + turn, distance * size) for distance, turn in turns]
            spots = [spot for spot in spots if self.room.inside(*spot, half)]
            free = zip(spots, self.room.free(spots, half), strict=True)
            leaders = [(spot, edge_toward(spot, half, tip, self.look.gap / 2)) for spot, ok in free if ok]
            clear = self.room.clear([(edge, tip) for _, edge in leaders], marks)
            uncrossed = self.room.clear([pulled_in(edge, tip) for _, edge in leaders], lines)
            for (spot, edge), ok, plain in zip(leaders, clear, uncrossed, strict=True):
                if ok and plain:
                    return spot, edge, tip
                if ok and best is None:
                    best = spot, edge, tip
        return best

    def line_name(self, name: str) -> None:
        """At one end of its line, beside it, nearer to it than to any other line."""
        start, end = self.ends[name]
        size = self.look.name
        half = self.half(name, size)
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
        half = self.half(name, size)
        # A letter close to a number would read as one word with it.
        room = half[0] + 0.4 * size, half[1]
        spots = (self.toward(at, turn, distance * size) for distance, turn in ROUND_MEET)
        if self.settle("letter", name, name, size, room, spots, lambda spot: self.belongs(spot, name)):
            return
        led = self.led(at, 60, room, size)
        if led is None:
            self.found.missing.append(("letter", name))
        else:
            self.put(Label("letter", name, name, Box(*led[0], *room), size, leader=(led[1], led[2])))


def edge_toward(spot: Point, half: Point, tip: Point, gap: float) -> Point:
    """Where a leader leaves a label's room on its way to the tip."""
    dx, dy = tip[0] - spot[0], tip[1] - spot[1]
    share = min((half[0] + gap) / abs(dx) if dx else 1e9, (half[1] + gap) / abs(dy) if dy else 1e9, 1)
    return spot[0] + share * dx, spot[1] + share * dy


def pulled_in(start: Point, end: Point) -> tuple[Point, Point]:
    """The leader without its last bit in the sector, which lies close to the sector's own lines."""
    return start, (start[0] + 0.8 * (end[0] - start[0]), start[1] + 0.8 * (end[1] - start[1]))
