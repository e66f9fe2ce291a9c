"""Constructions on paper: can they be done there, with a school compass, inside the box that is printed?

The places are read off the printed picture, in millimeters; the constructions are done here, after Euclid I.2, I.9 to I.12,
I.23 and I.31, and the rhombus, with every opening that a school compass can be set to.
"""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from app.lessons.load import load_pack
from app.practice.making import MAKING, making_set
from app.sheets.build import VERSIONS, read_want
from app.sheets.packs import build_pack
from app.sheets.sets import set_for
from app.sheets.strips import start_svg
from tests.scale import trials

PACKS = sorted(p.parent for p in (Path(__file__).parents[2] / "lesson_packs").glob("*/pack.toml"))
OPENINGS = range(30, 121, 2)
MARGIN, BAR = 3.0, 6.0  # to the frame; the bar stands at the foot
Place = np.ndarray[Any, np.dtype[np.float64]]


def tasks() -> Iterator[tuple[str, dict[str, Any]]]:
    for folder in PACKS:
        yield from ((task.id, dict(task.data)) for task in load_pack(folder).tasks() if task.kind == "construct")
    for mistake in MAKING:
        for seed in range(trials(quick=4, full=40)):
            yield from ((f"{one['id']} {seed}{v}", one) for v in VERSIONS for one in making_set(mistake, seed, v))


def printed(svg: str) -> tuple[dict[str, Place], float, float]:
    """The points by their letters, and the size of the box."""
    places = [np.array([float(x), float(y)]) for x, y in re.findall(r'<circle cx="([-\d.]+)" cy="([-\d.]+)"', svg)]
    letters = re.findall(r'font-style="italic" text-anchor="middle">([^<]+)<', svg)
    wide, high = re.search(r'width="([\d.]+)mm" height="([\d.]+)mm"', svg).groups()
    return dict(zip(letters, places, strict=True)), float(wide), float(high)


def unit(a: Place, b: Place) -> Place:
    return (b - a) / np.linalg.norm(b - a)


def square(u: Place) -> Place:
    return np.array([-u[1], u[0]])


def crossings(a: Place, b: Place, r: float, s: float) -> list[Place]:
    """Where two circles cross."""
    d = float(np.linalg.norm(b - a))
    along = (d * d + r * r - s * s) / (2 * d)
    if r * r <= along * along:
        return []
    return [a + along * unit(a, b) + side * np.sqrt(r * r - along * along) * square(unit(a, b)) for side in (1, -1)]


Way = tuple[list[float], list[Place]]  # openings, places


def ways(task: dict[str, Any], at: dict[str, Place]) -> Iterator[Way]:
    """Every way of doing it that is tried: which openings, which places come about."""
    start, kind = task["start"], task["construction"]
    ends = [at[name] for name in start.get("line") or start.get("segment") or start.get("ray") or ()]
    if kind == "bisect a segment":
        a, b = ends
        for r in [np.linalg.norm(b - a)] if task.get("compass") == "collapsing" else OPENINGS:
            if crossings(a, b, r, r):
                yield [r], crossings(a, b, r, r)
    elif kind == "bisect an angle":
        p, v, q = (at[name] for name in start["angle"])
        for r in OPENINGS:
            m, n = v + r * unit(v, p), v + r * unit(v, q)
            for s in OPENINGS:
                yield from ([[r, s], [m, n, e]] for e in crossings(m, n, s, s) if np.linalg.norm(e - v) > r)
    elif kind == "perpendicular through a point":
        (a, b), p = ends, at[start["point"]]
        u = unit(a, b)
        foot = a + np.dot(p - a, u) * u
        off = float(np.linalg.norm(p - foot))
        for r in OPENINGS:
            if r > off + 5:
                half = np.sqrt(r * r - off * off)
                c, d = foot - half * u, foot + half * u
                for s in OPENINGS:
                    for e in crossings(c, d, s, s):
                        if off < 1 or np.dot(e - foot, p - foot) < 0:
                            yield [r, s], [c, d, e]
    elif kind == "copy an angle":
        p, v, q = (at[name] for name in start["angle"])
        w, s = ends
        for r in OPENINGS:
            m, n, d = v + r * unit(v, p), v + r * unit(v, q), w + r * unit(w, s)
            chord = float(np.linalg.norm(m - n))
            yield from ([[r, chord], [m, n, d, e]] for e in crossings(w, d, r, chord))
    elif kind == "copy a segment":
        (a, b), p = ends, at[start["point"]]
        for near, far in ((a, b), (b, a)):
            side, length = float(np.linalg.norm(near - p)), float(np.linalg.norm(far - near))
            for d in crossings(near, p, side, side):
                g, k = near + length * unit(d, near), p + length * unit(d, p)
                yield [side, length, side + length], [d, g, k]
    elif kind == "parallel through a point":
        (a, b), p = ends, at[start["point"]]
        u = unit(a, b)
        for r in OPENINGS:
            if task.get("route") == "rhombus":
                foot = a + np.dot(p - a, u) * u
                off = float(np.linalg.norm(p - foot))
                if r > off:
                    for side in (1, -1):
                        n = foot + side * np.sqrt(r * r - off * off) * u
                        yield from ([[r], [n, n + way * r * u, p + way * r * u]] for way in (1, -1))
                continue
            for far in np.linspace(0, np.linalg.norm(b - a), 25):
                q = a + far * u
                t = unit(q, p)
                for way in (u, -u):
                    chord = float(np.linalg.norm(r * t - r * way))
                    if task.get("route") == "alternate interior":
                        yield [r, chord], [q, q + r * t, q + r * way, p - r * t, p - r * way]
                    else:
                        yield [r, chord], [q, q + r * t, q + r * way, p + r * t, p + r * way]
    else:
        raise AssertionError(kind)


def test_every_construction_fits_its_box_with_a_school_compass() -> None:
    kinds = set()
    for name, task in tasks():
        at, wide, high = printed(start_svg(task))
        assert set(at) == set(task["start"]["points"])
        for x, y in at.values():
            assert MARGIN < x < wide - MARGIN and 2 * MARGIN < y < high - BAR - MARGIN, (name, x, y)
        apart = [np.linalg.norm(p - q) for a, p in at.items() for b, q in at.items() if a < b]
        assert min(apart) >= 20, (name, min(apart))
        good = [
            openings
            for openings, places in ways(task, at)
            if all(30 <= r <= 120 for r in openings)
            and all(MARGIN < x < wide - MARGIN and MARGIN < y < high - BAR for x, y in places)
        ]
        assert good, (name, task["construction"], task.get("route"), wide, high)
        kinds.add((task["construction"], task.get("compass", "modern")))
    assert len({kind for kind, _ in kinds}) == 6


def test_a_box_too_low_is_seen() -> None:
    """The check can fail: the same starts in the boxes of before, 90 by 42 mm, held not all constructions."""
    failing = 0
    for _, task in tasks():
        at = {n: np.array([float(x), -float(y)]) for n, (x, y) in task["start"]["points"].items()}
        span = max(np.ptp([p[0] for p in at.values()]) / 90, np.ptp([p[1] for p in at.values()]) / 42, 1e-6)
        middle = [(max(p[i] for p in at.values()) + min(p[i] for p in at.values())) / 2 for i in (0, 1)]
        at = {n: (p - middle) / span + np.array([75.0, 37.0]) for n, p in at.items()}
        failing += not any(
            all(30 <= r <= 120 for r in openings) and all(MARGIN < x < 147 and MARGIN < y < 80 for x, y in places)
            for openings, places in ways(task, at)
        )
    assert failing


@pytest.mark.parametrize("pack", PACKS, ids=lambda p: p.name)
def test_compass_points_are_minded_once(pack: Path) -> None:
    sheet = build_pack(load_pack(pack), read_want([], alone=False))
    said = [i for i, e in enumerate(sheet.entries) if "Compass points are sharp" in e.prompt]
    assert said == [i for i, e in enumerate(sheet.entries) if e.space][:1]
    for mistake in MAKING:
        assert [("sharp" in e.prompt) for e in set_for(mistake).entries] == [True, False, False]
