"""`python -m tests.draw_signs` draws `static/fonts/signs.woff2`: the signs ∠ ≅ ∥ ∦ ⊥ △ ∼ as the pages and sheets show them.

The outlines are this project's own: strokes of one weight with square ends, in a square of 1000 units, set with the little room
that a textbook leaves at their sides (WIDTHS). They are the same in every browser and on every machine; each machine's own face
would have its own widths, and some a stray blank. Wants fonttools and brotli, which the program itself doesn't: `pip install
fonttools brotli`. Run it again only after a change here, and commit the file.
"""

from __future__ import annotations

from math import hypot
from pathlib import Path
from typing import Any

FILE = Path(__file__).resolve().parent.parent / "static" / "fonts" / "signs.woff2"
WEIGHT = 76  # of a stroke
WIDTHS = {"∠": 720, "≅": 760, "∥": 520, "∦": 600, "⊥": 760, "△": 780, "∼": 760}

Point = tuple[float, float]

# Each sign as strokes through points, from the base line up.
WAVE = [(100, 0), (150, 60), (220, 92), (300, 80), (380, 42), (460, 4), (540, -8), (610, 24), (660, 84)]
STROKES: dict[str, list[list[Point]]] = {
    "∠": [[(560, 660), (90, 31), (640, 31)]],
    "≅": [[(x, y + 490) for x, y in WAVE], [(100, 300), (660, 300)], [(100, 110), (660, 110)]],
    "∥": [[(170, -120), (170, 760)], [(350, -120), (350, 760)]],
    "∦": [[(210, -120), (210, 760)], [(390, -120), (390, 760)], [(60, 170), (540, 470)]],
    "⊥": [[(80, 31), (680, 31)], [(380, 31), (380, 680)]],
    "△": [[(80, 31), (390, 640), (700, 31), (80, 31)]],
    "∼": [[(x, y + 300) for x, y in WAVE]],
}


def ribbon(points: list[Point], half: float = WEIGHT / 2) -> list[list[Point]]:
    """The outlines of a stroke of twice `half`: one of a closed path is a ring, inner side the other way round."""
    closed = points[0] == points[-1]
    corners = points[:-1] if closed else points
    sides: list[list[Point]] = [[], []]
    for i, (x, y) in enumerate(corners):
        before = corners[i - 1] if closed or i else None
        after = corners[(i + 1) % len(corners)] if closed or i + 1 < len(corners) else None
        into = unit(before, (x, y)) if before else unit((x, y), after or (x, y))
        out = unit((x, y), after) if after else into
        # The mitre: both sides' lines meet where the corner's bisector runs.
        nx, ny = -(into[1] + out[1]), into[0] + out[0]
        length = hypot(nx, ny) or 1
        nx, ny = nx / length, ny / length
        far = half / max(0.35, nx * -into[1] + ny * into[0])
        sides[0].append((x + nx * far, y + ny * far))
        sides[1].append((x - nx * far, y - ny * far))
    return [sides[0], sides[1][::-1]] if closed else [sides[0] + sides[1][::-1]]


def unit(a: Point, b: Point) -> Point:
    length = hypot(b[0] - a[0], b[1] - a[1]) or 1
    return (b[0] - a[0]) / length, (b[1] - a[1]) / length


def area(outline: list[Point]) -> float:
    return sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(outline, outline[1:] + outline[:1], strict=True)) / 2


def draw() -> Any:
    from fontTools.fontBuilder import FontBuilder
    from fontTools.pens.ttGlyphPen import TTGlyphPen

    names = {sign: f"u{ord(sign):04X}" for sign in WIDTHS}
    glyphs: dict[str, Any] = {".notdef": TTGlyphPen(None).glyph()}
    for sign, strokes in STROKES.items():
        pen = TTGlyphPen(None)
        for stroke in strokes:
            outlines = ribbon(stroke)
            # Ink runs clockwise, a hole the other way.
            for k, outline in enumerate(sorted(outlines, key=lambda o: -abs(area(o)))):
                ordered = outline if (area(outline) < 0) == (k == 0) else outline[::-1]
                pen.moveTo((round(ordered[0][0]), round(ordered[0][1])))
                for x, y in ordered[1:]:
                    pen.lineTo((round(x), round(y)))
                pen.closePath()
        glyphs[names[sign]] = pen.glyph()
    font = FontBuilder(1000, isTTF=True)
    font.setupGlyphOrder([".notdef", *names.values()])
    font.setupCharacterMap({ord(sign): name for sign, name in names.items()})
    font.setupGlyf(glyphs)
    font.setupHorizontalMetrics(
        {".notdef": (500, 0), **{names[s]: (w, glyphs[names[s]].xMin) for s, w in WIDTHS.items()}}
    )
    font.setupHorizontalHeader(ascent=800, descent=-200)
    font.setupNameTable({"familyName": "Eight Angles Signs", "styleName": "Regular"})
    font.setupOS2(sTypoAscender=800, sTypoDescender=-200, usWinAscent=800, usWinDescent=200)
    font.setupPost(keepGlyphNames=False)
    font.updateHead(created=0, modified=0)
    return font.font


if __name__ == "__main__":
    font = draw()
    font.flavor = "woff2"
    FILE.parent.mkdir(exist_ok=True)
    font.save(FILE)
    print(f"{FILE.name}: {FILE.stat().st_size} bytes")
