"""Writes tests/vectors/construction.json anew: recipes with their words, for the snapshot test and for the page's own
words and replay (`python -m tests.construction.make_vectors`). Read the difference before it is committed.
"""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from app.construction.arithmetic import FLOATS
from app.construction.moves import moves_to_json
from app.construction.plane import Circle
from app.construction.recipes import recipe
from app.construction.replay import replay
from app.construction.start import read_start
from app.construction.words import captions, sentences
from tests.reading import read

FILE = Path(__file__).parent.parent / "vectors" / "construction.json"
LINE = {"points": {"A": [0, 0], "B": [7, 2], "P": [3, 5]}, "line": ["A", "B"], "point": "P"}
CASES: list[tuple[str, str, dict[str, Any]]] = [
    (
        "copy an angle",
        "any",
        {
            "points": {"P": [6, 1], "V": [0, 0], "Q": [4, 4], "W": [9, -2], "S": [15, -3]},
            "angle": ["P", "V", "Q"],
            "ray": ["W", "S"],
        },
    ),
    ("parallel through a point", "corresponding", LINE),
    ("parallel through a point", "alternate interior", LINE),
    ("parallel through a point", "rhombus", LINE),
    ("bisect an angle", "any", {"points": {"P": [6, 1], "V": [0, 0], "Q": [4, 4]}, "angle": ["P", "V", "Q"]}),
    ("bisect a segment", "any", {"points": {"A": [0, 0], "B": [7, 2]}, "segment": ["A", "B"]}),
    ("perpendicular through a point", "any", LINE),
    (
        "perpendicular through a point",
        "any",
        {"points": {"A": [0, 0], "B": [6, 3], "P": [4, 2]}, "line": ["A", "B"], "point": "P"},
    ),
]


# With the compass that collapses when it is lifted.
OWN: list[tuple[str, str, dict[str, Any]]] = [
    *CASES[:1],
    *CASES[2:4],
    *CASES[4:7],
    (
        "copy a segment",
        "any",
        {"points": {"A": [0, 0], "B": [3, 1], "P": [-2, 4]}, "segment": ["A", "B"], "point": "P"},
    ),
]


def made() -> list[dict[str, Any]]:
    found = []
    for task, route, data, compass in [
        *((*case, "modern") for case in [*CASES, OWN[-1]]),
        *((*case, "collapsing") for case in OWN),
    ]:
        start = read_start(task, data)
        done = recipe(start, route, compass=compass)
        drawing = replay(done.program(), FLOATS)
        values: dict[str, Any] = {}
        for name, value in drawing.values.items():
            if isinstance(value, Circle):
                values[name] = {"center": rounded(value.c), "radius": round(value.s**0.5, 9)}
            elif isinstance(value, tuple):
                values[name] = rounded(value)
            else:
                values[name] = {"kind": value.kind, "p": rounded(value.p), "q": rounded(value.q)}
        found.append(
            {
                "task": task,
                "route": route,
                "compass": compass,
                "start": data,
                "moves": moves_to_json(done.moves),
                "result": done.result,
                "words": read(sentences(done.program())),
                "steps": read(captions(done)),
                "values": values,
            }
        )
    return found


def rounded(at: Any) -> list[float]:
    return [round(float(c), 9) for c in at]


if __name__ == "__main__":
    FILE.write_text(json.dumps(made(), ensure_ascii=False, indent=1) + "\n", encoding="utf-8")
