"""Judging a construction beside sympy.geometry doing the same steps exactly.

python -m tests.bench.bench_construction
"""

from __future__ import annotations

from statistics import median
from time import perf_counter

from app.construction.api import check
from tests.construction.make_vectors import CASES, made
from tests.construction.wrong import wrong_ones


def timed(work, times: int) -> float:
    took = []
    for _ in range(times):
        began = perf_counter()
        work()
        took.append((perf_counter() - began) * 1000)
    return median(took)


def sympy_copy() -> bool:
    """Angle BAP copied at P by circles and lines, then an exact parallel test."""
    from sympy import Point
    from sympy.geometry import Circle, Line, Ray

    a, b, p = Point(0, 0), Point(7, 2), Point(3, 5)
    line, t = Line(a, b), Line(a, p)
    first = Circle(a, a.distance(b))
    m = max(first.intersection(t), key=lambda x: float(x.x))
    n = b
    second = Circle(p, a.distance(b))
    d = max(second.intersection(t), key=lambda x: float(x.x))
    e = max(second.intersection(Circle(d, m.distance(n))), key=lambda x: float(x.x))
    del Ray
    return bool(line.is_parallel(Line(p, e)))


def main() -> None:
    check({"task": CASES[0][0], "start": CASES[0][2], "moves": []})  # the 60-digit context is made once
    for case in made():
        body = {key: case[key] for key in ("task", "start", "moves", "result")}
        print(f"{case['task'] + ', ' + case['route']:50} {timed(lambda body=body: check(body), 30):7.2f} ms")
    wrong = [body for _, _, body in wrong_ones(70)]
    took = sorted(timed(lambda body=body: check(body), 1) for body in wrong)
    print(f"{'70 wrong ones: median, slowest':50} {took[35]:7.2f} ms {took[-1]:7.2f} ms")
    print(f"{'sympy.geometry, copy an angle + exact test':50} {timed(sympy_copy, 3):7.2f} ms")


if __name__ == "__main__":
    main()
