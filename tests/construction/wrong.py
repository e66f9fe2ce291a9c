"""Wrong constructions, each with the reason it must be refused for: a right one with one thing spoilt."""

from __future__ import annotations

from collections.abc import Iterator
from fractions import Fraction
from math import hypot
from random import Random
from typing import Any

from app.construction.arithmetic import FLOATS
from app.construction.bench import Recipe
from app.construction.moves import moves_to_json
from app.construction.plane import Circle
from app.construction.recipes import recipe
from app.construction.replay import replay
from app.construction.start import read_start
from tests.construction.starts import TASKS, random_start

Wrong = tuple[str, str, dict[str, Any]]


def wrong_ones(count: int) -> Iterator[Wrong]:
    """`count` of (what was spoilt, the reason wanted, a body for the calculator)."""
    rng = Random("wrong constructions")
    spoilers = [
        eyeballed_point,
        eyeballed_on_arc,
        eyeballed_line,
        wrong_side,
        changed_opening,
        changed_span,
        wrong_crossing,
    ]
    made = 0
    while made < count:
        spoil = spoilers[made % len(spoilers)]
        found = spoil(rng)
        if found is not None:
            yield (spoil.__name__, *found)
            made += 1


def fresh(rng: Random, task: str | None = None) -> tuple[Recipe, dict[str, Any]]:
    task = task or rng.choice(TASKS)
    data = random_start(task, rng, on_line=rng.random() < 0.3)
    if task == "parallel through a point":
        data = random_start(task, rng)
    start = read_start(task, data)
    route = rng.choice(("corresponding", "alternate interior", "rhombus")) if task.startswith("par") else "any"
    made = recipe(start, route, opening=Fraction(rng.randint(150, 850), 1000))
    return made, {"task": task, "start": data, "moves": moves_to_json(made.moves), "result": made.result}


def floats(made: Recipe) -> Any:
    return replay(made.program(), FLOATS)


def a_little(rng: Random, most: float) -> float:
    return rng.uniform(0.2, 1) * most * rng.choice((-1, 1))


def last_arc_crossing(body: dict[str, Any]) -> int:
    arcs = {m["name"] for m in body["moves"] if m["op"] == "arc"}
    return max(i for i, m in enumerate(body["moves"]) if m["op"] == "meet" and set(m["of"]) <= arcs)


def eyeballed_point(rng: Random) -> tuple[str, dict[str, Any]]:
    """The last crossing of two arcs put where it seems to be, at most about a degree off."""
    made, body = fresh(rng)
    i = last_arc_crossing(body)
    drawing = floats(made)
    x, y = drawing.point(body["moves"][i]["name"])
    arc = drawing.thing(body["moves"][i]["of"][0])
    assert isinstance(arc, Circle)
    far = 0.02 * arc.s**0.5
    body["moves"][i] = {
        "op": "point",
        "name": body["moves"][i]["name"],
        "at": [round(x + a_little(rng, far), 7), round(y + a_little(rng, far), 7)],
    }
    return "by eye", body


def eyeballed_on_arc(rng: Random) -> tuple[str, dict[str, Any]]:
    """The same, but put on one of the two arcs, where it seems to cross the other."""
    made, body = fresh(rng)
    i = last_arc_crossing(body)
    drawing = floats(made)
    x, y = drawing.point(body["moves"][i]["name"])
    name = body["moves"][i]["of"][rng.randint(0, 1)]
    arc = drawing.thing(name)
    assert isinstance(arc, Circle)
    far = 0.02 * arc.s**0.5
    body["moves"][i] = {
        "op": "on",
        "name": body["moves"][i]["name"],
        "of": name,
        "near": [round(x + a_little(rng, far), 7), round(y + a_little(rng, far), 7)],
    }
    return "by eye", body


def eyeballed_line(rng: Random) -> tuple[str, dict[str, Any]] | None:
    """No compass at all: a line that looks right, through a free point."""
    made, body = fresh(rng)
    if made.start.task == "bisect a segment":
        return None
    drawing = floats(made)
    line = drawing.thing(made.result)
    x, y = line.at(1.0) if isinstance(line, type(line)) else (0, 0)
    px, py = line.p
    far = 0.03 * hypot(x - px, y - py)
    through = made.moves[-1].through
    assert through is not None
    body["moves"] = [
        {"op": "point", "name": "Z", "at": [round(x + a_little(rng, far), 7), round(y + a_little(rng, far), 7)]},
        {"op": made.moves[-1].op, "name": "r", "through": [through[0], "Z"]},
    ]
    body["result"] = "r"
    return "by eye", body


def wrong_side(rng: Random) -> tuple[str, dict[str, Any]] | None:
    """Euclid I.23 gives two rays, and I.31 needs one of them: the other crossing of the arcs."""
    data = random_start("parallel through a point", rng)
    start = read_start("parallel through a point", data)
    made = recipe(
        start, rng.choice(("corresponding", "alternate interior")), opening=Fraction(rng.randint(150, 850), 1000)
    )
    body = {"task": start.task, "start": data, "moves": moves_to_json(made.moves), "result": made.result}
    return "wrong side", flip(made, body, last_arc_crossing(body))


def flip(made: Recipe, body: dict[str, Any], i: int) -> dict[str, Any]:
    """The body with the i-th move, a crossing, near the other of its two crossings."""
    from app.construction.plane import crossings

    drawing = floats(made)
    move = body["moves"][i]
    x, y = drawing.point(move["name"])
    both = crossings(*(drawing.thing(name) for name in move["of"]), FLOATS)
    assert both is not None and len(both) == 2, "the recipe's arcs cross twice"
    there = max(both, key=lambda at: hypot(at[0] - x, at[1] - y))
    move["near"] = [round(c, 7) for c in there]
    return body


def changed_opening(rng: Random) -> tuple[str, dict[str, Any]] | None:
    """The second of two arcs that must be alike swung with another opening, by a few percent or by a lot."""
    made, body = fresh(rng)
    drawing = floats(made)
    arcs = [i for i, m in enumerate(body["moves"]) if m["op"] == "arc"]
    later = next(
        (
            i
            for n, i in enumerate(arcs[1:], 1)
            if any(body["moves"][i]["opening"] == body["moves"][j]["opening"] for j in arcs[:n])
        ),
        None,
    )
    if later is None:
        return None
    move = body["moves"][later]
    center = drawing.point(move["center"])
    arc = drawing.thing(move["name"])
    assert isinstance(arc, Circle)
    k = rng.uniform(1.04, 1.2) * arc.s**0.5
    turn = rng.uniform(0.6, 0.8)
    free = {
        "op": "point",
        "name": "Z",
        "at": [round(center[0] + k * turn, 7), round(center[1] + k * (1 - turn**2) ** 0.5, 7)],
    }
    move["opening"] = [move["center"], "Z"]
    body["moves"].insert(later, free)
    return "opening changed", body


def changed_span(rng: Random) -> tuple[str, dict[str, Any]]:
    """The third arc of a copied angle swung with the opening of the first two: the span was not carried."""
    made, body = fresh(rng, "copy an angle")
    body["moves"][5]["opening"] = body["moves"][1]["opening"]
    return "opening changed", body


def wrong_crossing(rng: Random) -> tuple[str, dict[str, Any]]:
    """The mark on the far side: the second side of the angle drawn as a whole line, and crossed behind the vertex."""
    made, body = fresh(rng, rng.choice(("copy an angle", "bisect an angle")))
    body["moves"].insert(0, {"op": "line", "name": "k", "through": ["V", "Q"]})
    i = next(i for i, m in enumerate(body["moves"]) if m["op"] == "meet")
    v, mark = made.start.points["V"], floats(made).point(body["moves"][i]["name"])
    body["moves"][i]["of"] = [body["moves"][i]["of"][0], "k"]
    body["moves"][i]["near"] = [round(2 * float(v[0]) - mark[0], 7), round(2 * float(v[1]) - mark[1], 7)]
    return "wrong crossing", body
