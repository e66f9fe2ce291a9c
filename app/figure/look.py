"""How a printed or pictured figure looks: one Look a theme, and how much room its letters take.

Lengths are pixels at 96 to the inch (1 px = 0.75 pt) for a picture whose shorter side is `base`, and grow and
shrink with it; without a base they are lengths on paper. Colours are the pencil case of the pages: ink for
what is given, the blue end for what follows, the red end for what fails. Dashes and weights say the same
without colour.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

__all__ = ["LOOKS", "Look", "text_box", "text_width"]

SERIF = (
    "'Eight Angles Signs', 'Iowan Old Style', 'Palatino Linotype', Palatino, 'Book Antiqua', Georgia, "
    "'DejaVu Serif', serif"
)
SANS = "'Eight Angles Signs', 'Segoe UI', Roboto, 'Noto Sans', 'Helvetica Neue', Arial, 'DejaVu Sans', sans-serif"


@dataclass(frozen=True)
class Look:
    """One theme. `gap` is the least room between a label and any other ink."""

    base: float | None = 360
    shrinks: bool = True
    number: float = 16
    name: float = 19
    letter: float = 15
    label: float = 15
    line: float = 2.25
    thin: float = 1.25
    arc: float = 22
    arc_step: float = 5
    gap: float = 3.5
    dot: float = 2.6
    arrow: float = 9
    ground: str | None = "#fbf8f0"
    square: str | None = "#e5dece"
    ink: str = "#1c1a17"
    graphite: str = "#615c54"
    follows: str = "#1f4b99"
    fails: str = "#b02a1f"
    transversal_dash: str | None = None

    def tone(self, tone: str) -> str:
        return {"follows": self.follows, "fails": self.fails}.get(tone, self.ink)


BLACK = "#000000"
PAPER = Look()
BOARD = replace(PAPER, base=720, number=30, name=34, letter=28, label=28, line=4, thin=2.5, dot=5, arrow=18)
# 1.5 px lines are over 0.75 pt, 15 px type is 11.25 pt: no thinner and no smaller on paper.
PRINT = replace(PAPER, base=None, number=15, name=17, letter=15, label=15, line=1.5, thin=1.2)
PRINT = replace(PRINT, ground=None, square=None, ink=BLACK, graphite=BLACK, follows=BLACK, fails=BLACK)
# Large print: nothing under 14 pt (18.7 px), which is also the small note's size. It never shrinks.
LARGE = replace(PRINT, number=20, name=23, letter=22.2, label=19, line=2, thin=1.5, arc=26, dot=3.2, arrow=11)
# For swell paper and embossers: heavy lines of two styles, no fill, large type, marks 6 mm (23 px) apart.
TACTILE = replace(PRINT, number=29, name=29, letter=29, label=29, line=4, thin=3, arc=46, arc_step=23, gap=23)

LOOKS: dict[str, Look] = {
    "paper": PAPER,
    "board": replace(
        BOARD, arc=42, arc_step=10, gap=7, ground="#fffdf8", square="#ebe5d8", ink="#0d0c0a", graphite="#47423b"
    ),
    "print": PRINT,
    "large": replace(LARGE, shrinks=False),
    "tactile": replace(TACTILE, dot=6, arrow=23, transversal_dash="16 10", shrinks=False),
}

# Widths in parts of the type size, the widest of the fonts named above, so that room is never too small.
NARROW = dict.fromkeys("iljIft.,:;'′|!()[] ", 0.4) | dict.fromkeys("r-°s/", 0.52)
WIDE = dict.fromkeys("mwMW", 1.02) | dict.fromkeys("+=∠≅∥GOQDNHUKBRX%", 0.88)


def text_width(text: str, size: float) -> float:
    """Room for a line of text, in the unit of its size."""
    return size * sum(NARROW.get(c) or WIDE.get(c) or (0.8 if c.isupper() else 0.66) for c in text)


def text_box(text: str, size: float) -> tuple[float, float]:
    """Half the width and height of a line of text: from the tops of the capitals to the descenders."""
    tall = 0.78 if not set(text) & set("gjpqy,;()[]") else 0.98
    return text_width(text, size) / 2, tall * size / 2
