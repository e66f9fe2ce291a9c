"""How fast figures are read, named and laid out, beside sympy.geometry on the same figures in the same run.

    python -m tests.bench.bench_figure

Reading is measured without its memory of figures read before. Ratios travel between machines; milliseconds don't.
"""

from __future__ import annotations

from collections.abc import Callable
from itertools import combinations
from statistics import median
from time import perf_counter
from typing import Any

from app.figure.laying import lay_out
from app.figure.look import LOOKS
from app.figure.marks import read_marks
from app.figure.model import figure_from_json
from app.figure.pairs import name_pair
from app.figure.picture import picture
from app.figure.read import read_figure
from app.figure.words import describe
from tests.figure.samples import samples, standard
from tests.reading import read

MARKS = {"angles": {"3": {"arcs": 1}, "6": {"arcs": 1}}, "lines": {"l": {"arrows": 1}, "m": {"arrows": 1}}}


def timed(work: Callable[[], Any], times: int) -> float:
    """Median seconds of one call."""
    took = []
    for _ in range(times):
        start = perf_counter()
        work()
        took.append(perf_counter() - start)
    return median(took)


def named_by_sympy(lines: dict[str, Any], corners: dict[str, Any]) -> Callable[[], Any]:
    """The crossings, and for each pair whether each side lies on the line of the two vertices, in sympy."""
    import sympy
    from sympy.geometry import Line, Point

    exact = {name: Line(*(Point(*map(sympy.Rational, p)) for p in line)) for name, line in lines.items()}
    places = {
        name: (Point(*map(sympy.Rational, corner.vertex)), [Point(*map(sympy.Rational, p)) for p in corner.arms])
        for name, corner in corners.items()
    }

    def work() -> None:
        for a, b in combinations(exact.values(), 2):
            a.intersection(b)
        for (va, arms_a), (vb, arms_b) in combinations(places.values(), 2):
            if va != vb:
                across = Line(va, vb)
                [across.contains(p) for p in (*arms_a, *arms_b)]

    return work


def main() -> None:
    two = figure_from_json(standard(0, 7, 65))
    body = standard(0, 7, 65)
    marks = read_marks(MARKS, two)
    networks = samples(7, 12, 5)
    sample = samples(8, 1, 3)[0]
    fig = figure_from_json(sample.figure)

    reading = timed(lambda: read_figure(body, "figure"), 300)
    network = median(timed(lambda s=s: read_figure(s.figure, "figure"), 20) for s in networks)
    pairs = list(combinations(fig.angles, 2))
    naming = timed(lambda: [name_pair(fig, a, b) for a, b in pairs], 200) / len(pairs)

    def whole() -> None:
        again = read_figure(sample.figure, "figure")
        for a, b in pairs:
            name_pair(again, a, b)

    ours = timed(whole, 60)
    theirs = timed(named_by_sympy(sample.lines, sample.corners), 3)
    told = timed(lambda: read(describe(two, MARKS)), 200)
    lay_out(two, marks, (480, 360), LOOKS["paper"])  # shapely is imported once, before the clock starts
    laying = [
        timed(lambda t=t: lay_out(figure_from_json(standard(0, 7, t)), marks, (480, 360), LOOKS["paper"]), 3)
        for t in range(10, 171, 10)
    ]
    laid_network = median(timed(lambda s=s: picture(figure_from_json(s.figure)), 1) for s in networks)

    print(f"reading a figure of two lines       {1000 * reading:8.2f} ms")
    print(f"reading a network of five lines     {1000 * network:8.2f} ms")
    print(f"naming a pair                       {1e6 * naming:8.1f} µs   {1 / naming:10.0f} a second")
    print(f"the figure in words                 {1000 * told:8.2f} ms")
    print(f"layout of two lines, eight angles   {1000 * median(laying):8.2f} ms   worst {1000 * max(laying):.1f}")
    print(f"picture of a network of five lines  {1000 * laid_network:8.2f} ms")
    print(f"read and name {len(pairs)} pairs             {1000 * ours:8.2f} ms")
    print(f"  the same by sympy.geometry        {1000 * theirs:8.2f} ms   {theirs / ours:10.0f} times as long")


if __name__ == "__main__":
    main()
