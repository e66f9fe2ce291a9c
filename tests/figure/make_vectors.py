"""Writes tests/vectors/pairs.json: pair names that Python and JavaScript must both give.

    python -m tests.figure.make_vectors

What is expected comes from the oracle (tests/figure/oracle.py), never from app/figure.
"""

from __future__ import annotations

import json
from itertools import combinations
from pathlib import Path
from typing import Any

from tests.figure.oracle import name
from tests.figure.samples import Sample, samples

PLACE = Path(__file__).resolve().parent.parent / "vectors" / "pairs.json"
SPECIAL_SEEDS = {"two lines": (11, 3, 12), "network": (12, 5, 7), "many lines": (13, 8, 2), "four": (14, 4, 7)}


def vectors() -> dict[str, Any]:
    figures: dict[str, Any] = {}
    cases: list[dict[str, Any]] = []
    for kind, (seed, lines, count) in SPECIAL_SEEDS.items():
        for i, sample in enumerate(samples(seed, count, lines)):
            figures[f"{kind} {i + 1}"] = sample.figure
            cases += cases_of(f"{kind} {i + 1}", sample)
    return {
        "about": "Expected from coordinates by tests/figure/oracle.py; written by tests/figure/make_vectors.py.",
        "figures": figures,
        "cases": cases,
    }


def cases_of(figure: str, sample: Sample) -> list[dict[str, Any]]:
    """Up to two pairs of each name from one figure, so that no name crowds out the others."""
    taken: dict[object, int] = {}
    found = []
    for a, b in combinations(sample.corners, 2):
        expected = name(sample.corners[a], sample.corners[b])
        key = expected["pair"], expected["transversal"] is None
        taken[key] = taken.get(key, 0) + 1
        if taken[key] <= 2:
            found.append({"figure": figure, "a": a, "b": b, "expected": expected})
    return found


def text() -> str:
    data = vectors()
    lines = ["{", f' "about": {json.dumps(data["about"])},', ' "figures": {']
    lines.append(",\n".join(f"  {json.dumps(k)}: {json.dumps(v)}" for k, v in data["figures"].items()))
    lines += [" },", ' "cases": [']
    lines.append(",\n".join("  " + json.dumps(case) for case in data["cases"]))
    return "\n".join([*lines, " ]", "}", ""])


if __name__ == "__main__":
    PLACE.write_text(text(), encoding="utf-8")
