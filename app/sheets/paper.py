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
BOX_WIDE, BOX_HIGH = 168.0, 128.0


@dataclass(frozen=True, slots=True)
class Theme:
    """`picture` is the drawing theme, `figure` the size of a figure, `type` the text size in points.

    `leading` is the height of a line as a part of its size, `row` the height of a proof row to write in.
    """

    name: str
    picture: str
    figure: tuple[float, float]
    type: float
    leading: float
    row: float
    alone: bool = False  # the figure has a page of its own
    under: bool = False  # the words stand under the figure, not beside it


THEMES: dict[str, Theme] = {
    "standard": Theme("standard", "print", (58, 44), 11, 1.38, 9),
    "large": Theme("large", "large", (110, 78), 18, 1.4, 13, under=True),
    "tactile": Theme("tactile", "tactile", (170, 128), 18, 1.38, 13, alone=True),
}
