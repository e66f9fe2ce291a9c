"""The design tokens keep their contrast: WCAG 2.2 SC 1.4.3 (text, 4.5:1) and 1.4.11 (marks, 3:1), A-06, A-08.

Relative luminance and contrast ratio are computed as WCAG 2.2 defines them.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from app.figure.look import LOOKS, SANS, SERIF

TOKENS = (Path(__file__).resolve().parent.parent / "static" / "css" / "tokens.css").read_text(encoding="utf-8")
TEXT = ["ink", "graphite", "accent", "pencil"]
MARKS = [*TEXT, "edge", "focus", "wood", "trace", "hue-1", "hue-2", "hue-3", "hue-4"]
GROUNDS = ["paper", "paper-deep"]
# Soft fills lie under text of these colours only.
TINTS = [("ink", "accent-soft"), ("accent", "accent-soft"), ("ink", "pencil-soft"), ("pencil", "pencil-soft")]


def theme(name: str | None) -> dict[str, str]:
    """The hex tokens of `:root`, overlaid with a theme's own."""
    plain = dict(re.findall(r"--([\w-]+):\s*(#[0-9a-f]{6})", TOKENS.split("[data-theme")[0]))
    if name:
        block = re.search(rf'\[data-theme="{name}"\]\s*{{([^}}]*)}}', TOKENS)
        assert block
        plain |= dict(re.findall(r"--([\w-]+):\s*(#[0-9a-f]{6})", block[1]))
    return plain


def luminance(colour: str) -> float:
    channels = [int(colour[i : i + 2], 16) / 255 for i in (1, 3, 5)]
    r, g, b = (c / 12.92 if c <= 0.04045 else ((c + 0.055) / 1.055) ** 2.4 for c in channels)
    return 0.2126 * r + 0.7152 * g + 0.0722 * b


def contrast(one: str, other: str) -> float:
    light, dark = sorted((luminance(one), luminance(other)), reverse=True)
    return (light + 0.05) / (dark + 0.05)


def test_contrast_is_computed_as_the_standard_says() -> None:
    assert contrast("#000000", "#ffffff") == pytest.approx(21)
    assert contrast("#767676", "#ffffff") == pytest.approx(4.54, abs=0.01)  # the well-known least grey on white


@pytest.mark.parametrize("name", [None, "board", "night"])
def test_text_and_marks_stand_out(name: str | None) -> None:
    colours = theme(name)
    for ground in GROUNDS:
        for text in TEXT:
            assert contrast(colours[text], colours[ground]) >= 4.5, (name, text, ground)
        for mark in MARKS:
            assert contrast(colours[mark], colours[ground]) >= 3, (name, mark, ground)
    for text, tint in TINTS:
        assert contrast(colours[text], colours[tint]) >= 4.5, (name, text, tint)


def test_the_path_that_joins_two_angles_is_drawn_in_its_token_alone() -> None:
    """A share of it would have less contrast than the token, which is held above (WCAG 2.2 SC 1.4.11)."""
    css = (Path(__file__).resolve().parent.parent / "static" / "css" / "figure.css").read_text(encoding="utf-8")
    rules = re.findall(r"\.trace\s*{([^}]*)}", css)
    assert any("stroke: var(--trace)" in rule for rule in rules)
    assert not any("opacity" in rule for rule in rules)


@pytest.mark.parametrize(("look", "name"), [("paper", None), ("board", "board")])
def test_pictures_are_drawn_in_the_same_ink_as_the_pages(look: str, name: str | None) -> None:
    """F4-06: one table of weights, colors and faces for Seat, Board, paper and SVG (`static/css/tokens.css`, `app/figure/look.py`)."""
    drawn, page = LOOKS[look], theme(name)
    for mine, token in (
        ("ground", "paper"),
        ("square", "square"),
        ("ink", "ink"),
        ("graphite", "graphite"),
        ("follows", "accent"),
        ("fails", "pencil"),
    ):
        assert getattr(drawn, mine) == page[token], (look, mine)
    block = TOKENS.split("[data-theme")[0] if name is None else TOKENS.split(f'[data-theme="{name}"]')[1].split("}")[0]
    weights = dict(re.findall(r"--(line|line-thin): ([\d.]+)px", block))
    assert (drawn.line, drawn.thin) == (float(weights["line"]), float(weights["line-thin"]))


def test_pictures_and_pages_ask_for_the_same_faces() -> None:
    sheet = (Path(__file__).resolve().parent.parent / "static" / "css" / "sheet.css").read_text(encoding="utf-8")
    for token, written in (("serif", SERIF), ("sans", SANS)):
        faces = re.search(rf"--{token}: ([^;]+);", TOKENS)
        assert faces
        wanted = [face.strip(" '\"") for face in faces[1].split(",")]
        assert [face.strip(" '\"") for face in written.split(",")] == wanted
        assert faces[1] in sheet, token
