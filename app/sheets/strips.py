"""Constructions on paper: the start drawn to scale with a check bar, and the steps as a strip of small figures."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from html import escape
from math import hypot
from typing import Any

from app.construction.strip import Strip, strip
from app.sheets.bench import EDGE, FOOT, Bench, bench_for
from app.sheets.entries import Step
from app.sheets.frame import Frame, document, who_line
from app.words import tell as say
from app.words.house import House
from app.words.house import house as house_of

__all__ = ["panel_html", "start_svg", "strip_html", "strip_steps"]

# Panels on one page: two side by side, three rows with their captions if that holds all, else two.
ALL, ON_A_PAGE = 6, 4
# The narrower paper for both, so that Letter and A4 print the same.
PAPER = "a4"

# The bar that tells whether a sheet was printed at full size, in mm (I-7).
BAR = 50.0
Point = tuple[float, float]


def made_of(task: Mapping[str, object]) -> Strip:
    route = str(task.get("route") or "any")
    return strip(task["construction"], task["start"], PAPER, route=route, compass=task.get("compass"))


def strip_steps(task: Mapping[str, object]) -> tuple[Step, ...]:
    """The steps of a construct task in pictures of one scale, the given first. Raises Fault for a bad start."""
    made = made_of(task)
    return tuple(Step(p.number, p.title, p.caption, p.svg) for p in made.panels)


def strip_html(task: Mapping[str, object], title: str, paper: str, frame: Frame, house: House | None = None) -> str:
    """A construction for paper: its steps two side by side, then a page with only what is given.

    Everything is at full size: an opening measured in one picture fits the next, and the bar says whether the
    printer kept it.
    """
    made = made_of(task)
    panels = [panel_html(Step(p.number, p.title, p.caption, p.svg)) for p in made.panels]
    many = ALL if len(panels) <= ALL else ON_A_PAGE
    pages = ["".join(panels[i : i + many]) for i in range(0, len(panels), many)]
    check = f'<p class="check">{made.bar} <span>{escape(made.check)} {escape(made.caution)}</span></p>'
    bodies = [f'<ol class="panels">{page}</ol>{check}' for page in pages]
    bodies.append(f'<p class="blank-words">{escape(made.blank_words)}</p><div class="blank">{made.blank}</div>{check}')
    asked = f'<p class="lead strip-ask">{escape(str(task.get("ask") or ""))}</p>' if task.get("ask") else ""
    head = f"<h1>{escape(title or made.title)}</h1>{asked}"
    # The last page is the one that is worked on and handed in.
    name = who_line(house or house_of())
    heads = [head] * (len(bodies) - 1) + [name + head]
    body = "".join(
        f'<section class="page strip-page"><header class="page-head">{heads[n]}</header>{inside}'
        f'<footer class="page-foot"><span>{escape(say("sheets.page", n=n + 1, of=len(bodies)))}</span></footer>'
        "</section>"
        for n, inside in enumerate(bodies)
    )
    lang = (house or house_of()).lang
    return document(title or made.title, body, frame, classes=f"sheet theme-standard paper-{paper}", lang=lang)


def panel_html(step: Step) -> str:
    number = f"{step.number}. " if step.number else ""
    caption = f"<p>{escape(step.caption)}</p>" if step.caption else ""
    return f'<li class="panel">{step.svg}<p class="panel-title">{escape(number + step.title)}</p>{caption}</li>'


def start_svg(task: Mapping[str, Any], *, large: bool = False) -> str:
    """What a construction starts from, in millimeters, with room for all of it around and the check bar below."""
    start, bench = task["start"], bench_for(task)
    wide, high = bench.wide, bench.high
    points = {name: (float(_number(at[0])), float(_number(at[1]))) for name, at in start["points"].items()}
    page = {name: bench.at(at) for name, at in points.items()}
    parts = [_stroke(page[a], page[b], kind, bench) for kind, a, b in _strokes(start)]
    for name, (x, y) in page.items():
        dx, dy = _away(name, start, page)
        parts.append(f'<circle cx="{x:.2f}" cy="{y:.2f}" r="0.8"/>')
        parts.append(
            f'<text x="{x + 4 * dx:.2f}" y="{y + 4 * dy + 1.6:.2f}" font-size="5" font-style="italic" '
            f'text-anchor="middle">{escape(name)}</text>'
        )
    y = high - 4
    left = wide - BAR - 4
    ends = "".join(f'<path d="M{x:.2f} {y - 1.5:.2f}v3" stroke-width="0.4"/>' for x in (left, left + BAR))
    parts.append(f'<path d="M{left:.2f} {y:.2f}h{BAR:.0f}" stroke-width="0.4" class="check-bar"/>{ends}')
    parts.append(
        f'<text x="{left - 2:.2f}" y="{y + 1.2:.2f}" font-size="{5 if large else 3.9}" text-anchor="end">'
        f"{escape(say('sheets.check_bar'))}</text>"
    )
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" class="start" viewBox="0 0 {wide:g} {high:g}" '
        f'width="{wide:g}mm" height="{high:g}mm" role="img" aria-label="{escape(_words(start))}" '
        f'fill="black" stroke="none"><g stroke="black" fill="black">{"".join(p for p in parts if "<text" not in p)}</g>'
        f"{''.join(p for p in parts if '<text' in p)}</svg>"
    )


def _away(name: str, start: Mapping[str, object], at: Mapping[str, Point]) -> Point:
    """The way from a point to its letter: away from the lines that leave it."""
    x, y = at[name]
    ways: list[Point] = []
    for kind, a, b in _strokes(start):
        if name not in (a, b):
            continue
        other = at[b if name == a else a]
        long = hypot(other[0] - x, other[1] - y) or 1.0
        way = ((other[0] - x) / long, (other[1] - y) / long)
        ways.append(way)
        if kind == "line" or (kind == "ray" and name == b):
            ways.append((-way[0], -way[1]))
    if not ways:
        return (0.7, -0.7)
    sx, sy = -sum(w[0] for w in ways), -sum(w[1] for w in ways)
    long = hypot(sx, sy)
    if long < 0.3:
        # The line goes through: square to it, upwards.
        sx, sy = ways[0][1], -ways[0][0]
        if sy > 0:
            sx, sy = -sx, -sy
        long = 1.0
    return (sx / long, sy / long)


def _number(value: object) -> float:
    top, _, under = str(value).partition("/")
    return float(top) / float(under or 1)


def _strokes(start: Mapping[str, Any]) -> list[tuple[str, str, str]]:
    """(line, ray or segment, from, to)"""
    found: list[tuple[str, str, str]] = []
    if start.get("angle"):
        p, v, q = start["angle"]
        found += [("ray", v, p), ("ray", v, q)]
    for kind in ("ray", "line", "segment"):
        ends: Sequence[str] | None = start.get(kind)
        if ends:
            found.append((kind, ends[0], ends[1]))
    return found


def _stroke(a: Point, b: Point, kind: str, bench: Bench) -> str:
    """A segment ends at its points; a ray and a line go on, so that a wide arc still meets them."""
    long = hypot(b[0] - a[0], b[1] - a[1]) or 1.0
    ux, uy = (b[0] - a[0]) / long, (b[1] - a[1]) / long
    before = _reach(a, (-ux, -uy), bench) if kind == "line" else 0.0
    after = 0.0 if kind == "segment" else _reach(b, (ux, uy), bench)
    x, y = a[0] - before * ux, a[1] - before * uy
    return (
        f'<path d="M{x:.2f} {y:.2f}L{b[0] + after * ux:.2f} {b[1] + after * uy:.2f}" stroke-width="0.4" fill="none"/>'
    )


ON = 16.0  # how far a line goes on beyond its point where nothing asks for more


def _reach(at: Point, way: Point, bench: Bench) -> float:
    """How far a line goes on from a point in this direction: to the edge's room, no further than it is of use."""
    room = bench.high - FOOT
    sides = [
        ((EDGE if step < 0 else side - EDGE) - here) / step
        for here, step, side in ((at[0], way[0], bench.wide), (at[1], way[1], room))
        if abs(step) > 1e-6
    ]
    return max(0.0, min(*sides, ON * 2.5)) if len(sides) > 1 else max(0.0, min(sides[0], ON * 2.5))


def _words(start: Mapping[str, object]) -> str:
    words = [f"{kind} {a}{b}" for kind, a, b in _strokes(start)]
    if start.get("point"):
        words.append(f"point {start['point']}")
    return ", ".join(words)
