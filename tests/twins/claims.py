"""What a construction's answer comes to: `app/construction/goals.py` and `static/construct/claim.js`.

Expected by how much each answer misses, from the definitions (Euclid I.2, I.9, I.10, I.11, I.12, I.23, I.31) with complex numbers:
neither program is asked. A miss is in degrees, of a length in parts of it.
"""

from __future__ import annotations

from cmath import phase, rect
from fractions import Fraction
from math import degrees, radians
from random import Random
from typing import Any

from tests.construction.starts import random_start

TASKS = [
    "copy an angle",
    "copy a segment",
    "parallel through a point",
    "bisect an angle",
    "bisect a segment",
    "perpendicular through a point",
]
EACH = 25


def cases() -> list[dict[str, Any]]:
    rng = Random(20261128)
    return [one_case(task, rng, right=i % 3 == 0) for task in TASKS for i in range(EACH)]


def one_case(task: str, rng: Random, *, right: bool) -> dict[str, Any]:
    start = random_start(task, rng)
    at = {name: complex(*(float(Fraction(c)) for c in place)) for name, place in start["points"].items()}
    answer, off = ANSWERS[task](start, at, rng, 0.0 if right else rng.choice([-1, 1]) * 10 ** rng.uniform(-3, 1.3))
    return {
        "task": task,
        "start": start,
        "points": {name: pair(z) for name, z in at.items()},
        "answer": answer,
        "off": round(off, 9),
    }


def pair(z: complex) -> list[float]:
    # To a billionth: the last digits of a sine are the machine's own.
    return [round(z.real, 9) + 0.0, round(z.imag, 9) + 0.0]


def turned(z: complex, by: float) -> complex:
    """Turned counterclockwise by so many degrees."""
    return z * rect(1, radians(by))


def angle(u: complex, v: complex) -> float:
    """Degrees between two directions, 0 to 180."""
    return abs(degrees(phase(v / u)))


def drawn(rng: Random, p: complex, way: complex, kinds: tuple[str, ...] = ("line", "ray", "segment")) -> dict[str, Any]:
    """A line, ray or segment from p; a line may be given by two points anywhere on it."""
    kind = rng.choice(kinds)
    begin = p - way * rng.uniform(0.2, 2) if kind == "line" and rng.random() < 0.5 else p
    return {"kind": kind, "p": pair(begin), "q": pair(p + way * rng.uniform(0.5, 2))}


def copied(start: Any, at: Any, rng: Random, wrong: float) -> tuple[Any, float]:
    p, v, q, w, s = (at[name] for name in (*start["angle"], *start["ray"]))
    size = angle(p - v, q - v)
    way = turned(s - w, rng.choice([1, -1]) * size + wrong)
    answer = drawn(rng, w, way)
    ways = [way, -way] if answer["kind"] == "line" else [way]
    return answer, min(abs(angle(one, s - w) - size) for one in ways)


def carried(start: Any, at: Any, rng: Random, wrong: float) -> tuple[Any, float]:
    a, b = (at[name] for name in start["segment"])
    p = at[start["point"]]
    way = turned(b - a, rng.uniform(0, 360)) * (1 + wrong / 30)
    return {"kind": "segment", "p": pair(p), "q": pair(p + way)}, abs(abs(way) / abs(b - a) - 1)


def parallel(start: Any, at: Any, rng: Random, wrong: float) -> tuple[Any, float]:
    a, b = (at[name] for name in start["line"])
    way = turned(b - a, rng.choice([0, 180]) + wrong)
    return drawn(rng, at[start["point"]], way), min(angle(way, b - a), angle(way, a - b))


def halved(start: Any, at: Any, rng: Random, wrong: float) -> tuple[Any, float]:
    p, v, q = (at[name] for name in start["angle"])
    way = turned((p - v) / abs(p - v) + (q - v) / abs(q - v), wrong)
    return drawn(rng, v, way), abs(angle(way, p - v) - angle(way, q - v))


def parted(start: Any, at: Any, rng: Random, wrong: float) -> tuple[Any, float]:
    a, b = (at[name] for name in start["segment"])
    part = 0.5 + wrong / 50
    middle = a + part * (b - a)
    off = abs(2 * part - 1)
    if rng.random() < 0.5:
        return pair(middle), off
    return drawn(rng, middle, turned(b - a, rng.uniform(20, 160)), ("line",)), off


def square(start: Any, at: Any, rng: Random, wrong: float) -> tuple[Any, float]:
    a, b = (at[name] for name in start["line"])
    way = turned(b - a, rng.choice([90, -90]) + wrong)
    return drawn(rng, at[start["point"]], way), 90 - min(angle(way, b - a), angle(way, a - b))


ANSWERS = dict(zip(TASKS, [copied, carried, parallel, halved, parted, square], strict=True))
