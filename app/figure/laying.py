"""The best layout of a figure on a page: its place on the page and its type are varied until every text has room."""

from __future__ import annotations

from dataclasses import replace

from app.figure.labels import Labels, Worse
from app.figure.layout import Layout
from app.figure.look import Look
from app.figure.marks import Marks
from app.figure.parts import Figure
from app.figure.room import Effort
from app.figure.views import Views

__all__ = ["lay_out"]

SHRINK = (1.0, 0.8, 0.64)
# In one try: ten times what a figure of two lines needs; and in all tries. An answer comes in bounded time
# whatever is asked.
MOST_PLACES = 12_000
MOST_IN_ALL = 32_000


def lay_out(
    fig: Figure, marks: Marks, size: tuple[float, float], look: Look, *, note: str = "", letters: bool = True
) -> Layout:
    """The layout of a figure on a page of that size in pixels.

    `note` is a line of small text for the lower left corner; `letters` asks for the meets' names. Where
    labels find no room at their angles, the figure is first drawn a little smaller or to one side, then type and
    marks are made smaller, step by step; only then does a leader cross a line, and only then is any left out.
    """

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
