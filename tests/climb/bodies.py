"""Bodies at the limits, and small changes of them: the calculator's own questions, nothing that it would refuse."""

from __future__ import annotations

import random
from collections.abc import Callable
from copy import deepcopy
from fractions import Fraction
from itertools import combinations
from math import atan2, degrees
from typing import Any

from app.figure.model import MOST_ANGLES, MOST_LINES, figure_from_json
from app.reasoning.api import MOST_GIVEN, MOST_PROOFS, MOST_ROWS
from app.reasoning.theorems import REASONS

Body = dict[str, Any]
NAMES = "abcdefghjkmn"


def lattice(rng: random.Random) -> Body:
    """Lines of two near-parallel kinds, each of one crossing each of the other."""
    rows = rng.randint(2, MOST_LINES - 2)
    body: Body = {"lines": {}, "meets": {}, "angles": {}}
    for i, name in enumerate(NAMES):
        first = i < rows
        body["lines"][name] = {
            "direction": (2 if first else 70) + rng.randint(0, 8) + i / 8,
            "through": [0 if first else 5 * (i - rows), 4 * i if first else 0],
        }
    return named(rng, body)


def arrangement(rng: random.Random) -> Body:
    """Lines at random, every crossing named."""
    body: Body = {"lines": {}, "meets": {}, "angles": {}}
    for name in NAMES[: rng.randint(4, MOST_LINES)]:
        body["lines"][name] = {
            "direction": rng.randint(0, 1799) / 10,
            "through": [rng.randint(-90, 90) / 10, rng.randint(-90, 90) / 10],
        }
    return named(rng, body)


def joins(rng: random.Random) -> Body:
    """Some points and lines that join two each: many lines in one point."""
    points = [(rng.randint(-900, 900) / 100, rng.randint(-900, 900) / 100) for _ in range(rng.randint(4, 7))]
    pairs = list(combinations(range(len(points)), 2))
    rng.shuffle(pairs)
    body: Body = {"lines": {}, "meets": {}, "angles": {}}
    on: dict[int, list[str]] = {}
    for name, (i, j) in zip(NAMES, pairs[: rng.randint(6, MOST_LINES)], strict=False):
        (x, y), (u, v) = points[i], points[j]
        body["lines"][name] = {"direction": str(round(degrees(atan2(v - y, u - x)) % 180, 9)), "through": [x, y]}
        on.setdefault(i, []).append(name)
        on.setdefault(j, []).append(name)
    for i, names in on.items():
        if len(names) > 1:
            body["meets"]["PQRSTUV"[i]] = names
    return angled(rng, body)


def named(rng: random.Random, body: Body) -> Body:
    """Its crossings named as the program letters them, some left out, and angles there."""
    drawn = figure_from_json({"lines": body["lines"]})
    kept = rng.choice([1.0, 1.0, 0.7])
    body["meets"] = {name: list(meet.lines) for name, meet in drawn.meets.items() if rng.random() < kept}
    return angled(rng, body)


def angled(rng: random.Random, body: Body) -> Body:
    drawn = figure_from_json({**body, "angles": {}})
    sectors = []
    for meet in drawn.meets.values():
        for l, m in combinations(meet.lines, 2):
            for start, end in ((f"{l}+", f"{m}+"), (f"{m}+", f"{l}-"), (f"{l}-", f"{m}-"), (f"{m}-", f"{l}+")):
                sectors.append({"at": meet.name, "from": start, "to": end})
    rng.shuffle(sectors)
    most = rng.choice([MOST_ANGLES, MOST_ANGLES, 60, 20, 0])
    for sector in sectors:
        if len(body["angles"]) >= most:
            break
        turned = dict(sector)
        a, b = (body["lines"][turned[k][:-1]]["direction"] for k in ("from", "to"))
        opened = (
            Fraction(str(b))
            - Fraction(str(a))
            + (180 if turned["to"][-1] == "-" else 0)
            - (180 if turned["from"][-1] == "-" else 0)
        )
        if opened % 360 > 180:
            turned["from"], turned["to"] = turned["to"], turned["from"]
        body["angles"][str(len(body["angles"]) + 1)] = turned
    return body


def statement(rng: random.Random, figure: Body) -> str:
    lines, angles = list(figure["lines"]), list(figure["angles"])
    kind = rng.choice(
        ["parallel", "parallel", "perpendicular", "apart", "same", "same", "sum", "value", "unknown", "long", "triple"]
    )
    if len(angles) < 6 or kind in ("parallel", "perpendicular", "apart"):
        l, m = rng.sample(lines, 2)
        return f"{l} {'∥' if kind == 'parallel' else '⊥' if kind == 'perpendicular' else rng.choice('∥∦⊥')} {m}"
    a, b, c, d = rng.sample(angles, 4)
    return {
        "same": f"∠{a} ≅ ∠{b}",
        "sum": f"m∠{a} + m∠{b} = 180",
        "value": f"m∠{a} = {rng.randint(20, 160)}",
        "unknown": f"m∠{a} = {rng.randint(1, 5)}x + {rng.randint(0, 40)}",
        "long": f"m∠{a} + m∠{b} = m∠{c} + m∠{d} + {rng.randint(0, 9)}",
        "triple": f"m∠{a} = m∠{b} + m∠{c}",
    }[kind]


def question(rng: random.Random) -> Body:
    figure = rng.choice([lattice, arrangement, joins])(rng)
    kind = rng.choice(["mixed", "parallel", "same", "sum"])
    count = rng.choice([0, 3, 8, 20, MOST_GIVEN])
    body = {"figure": figure, "k": MOST_PROOFS, "given": [], "rows": [], "strict": False}
    for _ in range(count):
        body["given"].append(one_of(rng, figure, kind))
    body["claim"] = body["goal"] = statement(rng, figure)
    for _ in range(rng.choice([1, 10, MOST_ROWS])):
        body["rows"].append({"statement": statement(rng, figure), "reason": rng.choice(REASONS)})
    return body


def one_of(rng: random.Random, figure: Body, kind: str) -> str:
    lines, angles = list(figure["lines"]), list(figure["angles"])
    if kind == "parallel":
        at = rng.randrange(len(lines) - 1)
        return f"{lines[at]} ∥ {lines[at + 1]}"
    if kind in ("same", "sum") and len(angles) > 8:
        at = rng.randrange(len(angles) - 4)
        a, b = angles[at], angles[at + rng.choice([1, 2, 4])]
        return f"∠{a} ≅ ∠{b}" if kind == "same" else f"m∠{a} + m∠{b} = 180"
    return statement(rng, figure)


def changed(rng: random.Random, body: Body) -> Body:
    """One small change."""
    new = deepcopy(body)
    what = rng.choice(["given", "given", "drop", "claim", "row", "rows", "strict", "same given", "figure"])
    figure = new["figure"]
    if what == "given" and len(new["given"]) < MOST_GIVEN:
        new["given"].insert(
            rng.randint(0, len(new["given"])), one_of(rng, figure, rng.choice(["mixed", "parallel", "same", "sum"]))
        )
    elif what == "drop" and new["given"]:
        new["given"].pop(rng.randrange(len(new["given"])))
    elif what == "same given" and new["given"]:
        new["given"][rng.randrange(len(new["given"]))] = statement(rng, figure)
    elif what == "claim":
        new["claim"] = new["goal"] = statement(rng, figure)
    elif what == "row" and new["rows"]:
        reason = rng.choice([*REASONS, "substitution", "addition", "algebra", "transitive"])
        new["rows"][rng.randrange(len(new["rows"]))] = {"statement": statement(rng, figure), "reason": reason}
    elif what == "rows" and len(new["rows"]) < MOST_ROWS:
        new["rows"] += [{"statement": statement(rng, figure), "reason": rng.choice(REASONS)} for _ in range(5)][
            : MOST_ROWS - len(new["rows"])
        ]
    elif what == "strict":
        new["strict"] = not new["strict"]
    elif what == "figure" and figure["angles"]:
        figure["angles"].pop(rng.choice(list(figure["angles"])))
    return new


Ask = Callable[[Body], object]
