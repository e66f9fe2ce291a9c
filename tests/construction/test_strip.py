"""The printed strip and the blank sheet: one scale, true in millimeters, every step there, nothing outside its panel."""

from __future__ import annotations

import re
from math import hypot
from xml.etree import ElementTree

import pytest

from app.construction.arithmetic import FLOATS
from app.construction.plane import Circle
from app.construction.recipes import recipe
from app.construction.replay import replay
from app.construction.start import read_start
from app.construction.strip import PAPERS, Strip, strip
from app.figure.faults import Fault
from tests.construction.make_vectors import CASES

SVG = "{http://www.w3.org/2000/svg}"


def made(i: int, paper: str = "letter") -> Strip:
    task, route, data = CASES[i]
    return strip(task, data, paper, route=route)


@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("i", range(len(CASES)))
def test_every_step_has_a_panel_of_one_scale(i: int, paper: str) -> None:
    task, route, data = CASES[i]
    found = made(i, paper)
    steps = recipe(read_start(task, data), route).steps

    assert [panel.number for panel in found.panels] == list(range(len(steps) + 1))
    sizes = {
        re.search(r'width="([\d.]+)mm" height="([\d.]+)mm" viewBox="0 0 ([\d.]+) ([\d.]+)"', p.svg).groups()
        for p in found.panels
    }  # type: ignore[union-attr]
    assert len(sizes) == 1
    w, h, vw, vh = next(iter(sizes))
    assert (w, h) == (vw, vh), "one unit of the picture is one millimeter on paper"
    # The lines round two pictures take half a millimeter each.
    assert 2 * (float(w) + 0.53) + 6 <= PAPERS[paper][0] - 2 * 12.7
    assert all(panel.caption.endswith(".") for panel in found.panels[1:])


@pytest.mark.parametrize("i", range(len(CASES)))
def test_distances_on_paper_are_true(i: int) -> None:
    """Dots and radii measured in the SVG are the construction's lengths times the scale."""
    task, route, data = CASES[i]
    found = made(i)
    program = recipe(read_start(task, data), route).program()
    drawing = replay(program, FLOATS)
    root = ElementTree.fromstring(found.panels[-1].svg)
    dots = [(float(c.get("cx", 0)), float(c.get("cy", 0))) for c in root.iter(f"{SVG}circle")]
    names = [name for name, value in drawing.values.items() if isinstance(value, tuple)]
    assert len(dots) == len(names)
    (ax, ay), (bx, by) = drawing.point(names[0]), drawing.point(names[1])
    on_paper = hypot(dots[0][0] - dots[1][0], dots[0][1] - dots[1][1])
    assert abs(on_paper - hypot(ax - bx, ay - by) * found.scale) < 0.02
    radii = sorted({float(r) for p in root.iter(f"{SVG}path") for r in re.findall(r"A([\d.]+) ", p.get("d", ""))})
    wanted = sorted({round(v.s**0.5 * found.scale, 2) for v in drawing.values.values() if isinstance(v, Circle)})
    assert radii == pytest.approx(wanted, abs=0.011)


@pytest.mark.parametrize("i", range(len(CASES)))
def test_nothing_hangs_out_of_its_panel(i: int) -> None:
    for panel in made(i).panels:
        root = ElementTree.fromstring(panel.svg)
        wide, tall = (float(root.get(key, "0").removesuffix("mm")) for key in ("width", "height"))
        for dot in root.iter(f"{SVG}circle"):
            assert 0 < float(dot.get("cx", -1)) < wide and 0 < float(dot.get("cy", -1)) < tall
        for letter in root.iter(f"{SVG}text"):
            assert 1 < float(letter.get("x", -1)) < wide - 1 and 2 < float(letter.get("y", -1)) < tall
        for stroke in root.iter(f"{SVG}line"):
            assert all(
                -0.01 <= float(stroke.get(k, -1)) <= m + 0.01
                for k, m in (("x1", wide), ("x2", wide), ("y1", tall), ("y2", tall))
            )


def test_the_check_bar_is_five_centimeters() -> None:
    root = ElementTree.fromstring(made(0).bar)
    bar = max(root.iter(f"{SVG}line"), key=lambda x: float(x.get("x2", 0)) - float(x.get("x1", 0)))

    assert root.get("width") == "64mm" and root.get("viewBox") == "0 0 64 6"
    assert float(bar.get("x2", 0)) - float(bar.get("x1", 0)) == 50
    assert [t.text for t in root.iter(f"{SVG}text")] == ["5 cm"]


def test_the_blank_sheet_shows_only_what_is_given() -> None:
    found = made(0)
    root = ElementTree.fromstring(found.blank)

    assert sorted(t.text or "" for t in root.iter(f"{SVG}text")) == ["P", "Q", "S", "V", "W"]
    assert not list(root.iter(f"{SVG}path")) and found.blank_scale > found.scale
    assert "sharp" in found.caution and "100 %" in found.check
    assert ElementTree.fromstring(found.panels[0].svg).findtext(f"{SVG}title") == "Given: angle PVQ, ray WS."


def test_lines_are_thick_enough_for_a_copier() -> None:
    """I-4: 0.75 pt or more (0.26 mm)."""
    for panel in made(1).panels:
        assert all(float(w) >= 0.26 for w in re.findall(r'stroke-width="([\d.]+)"', panel.svg))


def test_an_unknown_paper_is_refused() -> None:
    with pytest.raises(Fault, match="letter, a4"):
        strip(CASES[0][0], CASES[0][2], "legal")
