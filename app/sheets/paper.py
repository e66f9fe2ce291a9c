"""Papers and themes. All lengths in millimetres, type in points.

Letter and A4 share one type area, the largest that both can hold inside margins of 12.7 mm, so that a sheet
breaks into the same pages on either (I-1).
"""

from __future__ import annotations

from dataclasses import dataclass

__all__ = ["AREA", "BOX_HIGH", "BOX_WIDE", "PAPERS", "THEMES", "Theme"]

PAPERS = {"letter": (215.9, 279.4), "a4": (210.0, 297.0)}
MARGIN = 12.7
# A4 is the narrower, Letter the shorter.
AREA = (PAPERS["a4"][0] - 2 * MARGIN, PAPERS["letter"][1] - 2 * MARGIN)


# A drawing to construct in: the width left beside a number of large print, the height that leaves room for the words.
BOX_WIDE, BOX_HIGH = 170.0, 128.0


@dataclass(frozen=True, slots=True)
class Theme:
    """`picture` is the drawing theme, `figure` the size of a figure, `type` the text size in points.

    Characters that fit, counted with the widest of the fonts asked for: `beside` a figure, over the `wide`
    type area, in a `cell` of a proof. `row` is the height of a proof row to write in.
    `head` is the height of the first page's head.
    """

    name: str
    picture: str
    figure: tuple[float, float]
    type: float
    beside: int
    wide: int
    cell: int
    row: float
    head: float  # of the first page, without a leading sentence
    alone: bool = False  # the figure has a page of its own
    under: bool = False  # the words stand under the figure, not beside it


THEMES: dict[str, Theme] = {
    "standard": Theme("standard", "print", (66, 50), 11, 50, 82, 34, 9, 28),
    "large": Theme("large", "large", (110, 78), 18, 45, 45, 15, 13, 36, under=True),
    "tactile": Theme("tactile", "tactile", (170, 128), 18, 46, 46, 16, 13, 36, alone=True),
}
