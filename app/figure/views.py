"""Which part of the plane a page shows: the usual one, or one nearby in which every text has room at its angle."""

from __future__ import annotations

from itertools import combinations

from app.figure.cells import Side, room_in, sides_of
from app.figure.layout import Layout
from app.figure.look import Look, text_box
from app.figure.marks import Marks
from app.figure.parts import Figure
from app.figure.plane import Point, crossing
from app.figure.view import View, view_of

__all__ = ["Views"]

# How much larger than usual, and how far off the middle in parts of the shorter side; the least change first.
CHANGES = sorted(
    (
        (spread, (across / 12, down / 12))
        for spread in (1.0, 0.86, 0.74, 0.64, 1.15)
        for across in range(-3, 4)
        for down in range(-3, 4)
    ),
    key=lambda change: abs(change[0] - 1) * 1.2 + abs(change[1][0]) + abs(change[1][1]),
)
# So many squares of the type's size are plenty for the middle of a text to be in.
PLENTY = 3.0
MOST_WANTS = 12
MOST = 8  # views that are laid out in full, besides the usual one


class Views:
    """The views to try, one by one. All of them show the same lines, and the same crossings."""

    def __init__(self, fig: Figure, marks: Marks, size: tuple[float, float]) -> None:
        self.fig, self.marks, self.size = fig, marks, size
        self.left: list[View] | None = None
        self.tired = False
        self.sides: dict[str, tuple[Side, ...]] = {}
        lines = list(fig.lines.values())
        found = [crossing(a.direction, a.through, b.direction, b.through) for a, b in combinations(lines, 2)]
        self.crossings = [at for at in found if at is not None]

    def begin(self, look: Look) -> None:
        """Start over with type of that size."""
        self.look = look
        self.pad = max(0.2 * min(self.size), min(0.34 * min(self.size), 4.2 * look.number))
        self.usual = view_of(self.fig, self.size, self.pad)
        self.left = [] if self.tired else None
        self.started = False

    def next(self, best: Layout | None) -> View | None:
        """The next view, or None where there is nothing more to try or to better."""
        if not self.started:
            self.started = True
            return self.usual
        if best is None or best.cost < (0, 1, 0):
            return None
        if self.left is None:
            self.left = self.choose(best)
        return self.left.pop(0) if self.left else None

    def stop(self) -> None:
        """From here on the usual view alone."""
        self.left, self.tired = [], True

    def choose(self, best: Layout) -> list[View]:
        """Views in which more texts than in the usual one find room in their own parts of the page."""
        short = {*best.crossing, *(of for role, of in best.missing if role in ("number", "label", "arc"))}
        wants = self.wants(short)
        shown = [self.usual.shows(at, self.look.arrow) for at in self.crossings]
        scored: list[tuple[float, int, View]] = []
        for i, (spread, shift) in enumerate(CHANGES):
            view = view_of(self.fig, self.size, self.pad, spread, shift)
            if self.same(view, shown):
                lacks = sum(self.lack(view, *want) for want in wants)
                scored.append((round(lacks, 1) + 0.01 * i, i, view))
        scored.sort(key=lambda one: one[:2])
        return [view for _, i, view in scored[: MOST + 1] if i][:MOST]

    def wants(self, short: set[str]) -> list[tuple[tuple[Side, ...], tuple[Point, ...]]]:
        """For each angle that has a label, or was short of room: its part of the page, and the boxes of which
        one must fit in there. A number and a label stand one over the other, or side by side.
        """
        found: list[tuple[tuple[Side, ...], tuple[Point, ...]]] = []
        look = self.look
        for name, angle in self.fig.angles.items():
            mark = self.marks.angles.get(name)
            number = text_box(name, look.number)
            if mark is not None and mark.label:
                label = text_box(mark.label, look.label)
                stacked = max(number[0], label[0]), number[1] + label[1] + look.gap / 2
                beside = number[0] + label[0] + 0.4 * look.label, max(number[1], label[1])
                boxes: tuple[Point, ...] = (stacked, beside)
            elif name in short:
                boxes = (number,)
            else:
                continue
            if name not in self.sides:
                self.sides[name] = sides_of(self.fig, angle)
            found.append((self.sides[name], boxes))
        return found[:MOST_WANTS]

    def lack(self, view: View, sides: tuple[Side, ...], boxes: tuple[Point, ...]) -> float:
        """How much of what is plenty of room is lacking: none 0, all 1."""
        most = max(area(room_in(self.fig, sides, view, box, self.look.gap, 2)) for box in boxes)
        return 1 - min(1.0, most / (PLENTY * self.look.label**2)) + (most == 0)

    def same(self, view: View, shown: list[bool]) -> bool:
        """Whether it shows those crossings, each with some room around it, and no other."""
        edge = 2 * self.look.arrow
        return all(view.shows(at, edge if on else 0) == on for at, on in zip(self.crossings, shown, strict=True))


def area(corners: list[Point]) -> float:
    """Of a polygon."""
    edges = zip(corners, [*corners[1:], *corners[:1]], strict=True)
    return abs(sum(a[0] * b[1] - b[0] * a[1] for a, b in edges)) / 2
