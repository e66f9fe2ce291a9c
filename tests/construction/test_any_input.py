"""Whatever is sent, the answer is a verdict or a Fault with a sentence; never another error, and in bounded time."""

from __future__ import annotations

from random import Random
from typing import Any

from app.construction.api import check
from app.figure.faults import Fault
from tests.construction.starts import TASKS, random_start
from tests.reading import in_english
from tests.scale import trials

check = in_english(check)

JUNK: list[Any] = [
    None,
    True,
    0,
    -1,
    1e308,
    float("inf"),
    "",
    "P",
    "VP",
    "1/0",
    "9" * 50,
    [],
    {},
    [[]],
    [0, 0],
    ["P", "V"],
    {"x": 1},
    "\ud800",
    "∠",
]


def spoilt(value: Any, rng: Random) -> Any:
    """The value with one leaf or branch replaced by junk."""
    if rng.random() < 0.15 or not isinstance(value, (dict, list)) or not value:
        return rng.choice(JUNK)
    if isinstance(value, dict):
        key = rng.choice(list(value))
        return {**value, key: spoilt(value[key], rng)}
    i = rng.randrange(len(value))
    return [*value[:i], spoilt(value[i], rng), *value[i + 1 :]]


def random_program(rng: Random) -> dict[str, Any]:
    """Moves that can be read, about places on a coarse grid: many coincide, touch, miss, or run parallel."""
    task = rng.choice((*TASKS, "copy a segment"))
    start = random_start(task, rng)
    points = list(start["points"])
    if rng.random() < 0.5:
        start["points"] = {name: [rng.randint(-3, 3), rng.randint(-3, 3)] for name in points}
    things: list[str] = []
    if "angle" in start:
        p, v, q = start["angle"]
        things += [v + p, v + q]
    for key in ("ray", "line", "segment"):
        if key in start:
            things.append("".join(start[key]))
    moves: list[dict[str, Any]] = []
    for i in range(rng.randint(0, 14)):
        op = rng.choice(("point", "on", "line", "ray", "segment", "arc", "arc", "meet", "meet"))
        near = [rng.randint(-6, 6) / rng.choice((1, 2)), rng.randint(-6, 6) / 2]
        move: dict[str, Any] = {"op": op, "name": f"X{i}"}
        if op == "point":
            move["at"] = near
        elif op == "on":
            move |= {"of": rng.choice(things), "near": near}
        elif op == "meet":
            if len(things) < 2:
                continue
            move |= {"of": rng.sample(things, 2), "near": near}
        elif op == "arc":
            move |= {"center": rng.choice(points), "opening": rng.sample(points, 2)}
        else:
            move["through"] = rng.sample(points, 2)
        moves.append(move)
        (points if op in ("point", "on", "meet") else things).append(move["name"])
    wanted = ("segment",) if task == "copy a segment" else ("line", "ray", "segment")
    lines = [move["name"] for move in moves if move["op"] in wanted]
    result = rng.choice(lines) if lines and rng.random() < 0.7 else None
    compass = rng.choice(("modern", "collapsing"))
    return {"task": task, "start": start, "moves": moves, "result": result, "compass": compass}


def test_coarse_random_constructions_are_judged() -> None:
    verdicts = set()
    for i in range(trials(quick=400, full=8000)):
        body = random_program(Random(f"coarse {i}"))
        try:
            found = check(body)
        except Fault as fault:
            assert fault.where.startswith("start") and fault.sentence()
            continue
        verdicts.add(found["reason"])
        assert found["text"] and len(found["moves"]) == len(body["moves"])
        assert all(move["words"].endswith(".") for move in found["moves"])
    assert {"step missing", "cannot be done", "constructed"} <= verdicts or len(verdicts) >= 4


def test_spoilt_bodies_are_refused_in_words() -> None:
    for i in range(trials(quick=600, full=20000)):
        rng = Random(f"spoilt {i}")
        body = spoilt(random_program(rng), rng)
        try:
            check(body)
        except Fault as fault:
            assert fault.sentence() and isinstance(fault.where, str)
