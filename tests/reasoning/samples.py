"""Figures that many tests share, as contract JSON."""

from __future__ import annotations

from app.figure.model import Figure, figure_from_json
from app.reasoning.theorems import FIGURES

EIGHT, CROSS, THREE, TRIANGLE = (FIGURES[name] for name in ("eight", "cross", "three", "triangle"))


# Two transversals, four lines: ∠1 to ∠8 on t, ∠9 to ∠16 on s, in the standard order at each meet.
def grid(lines: int = 2, transversals: int = 2) -> dict:
    """`lines` near-parallel lines l, m, n and `transversals` t, s; four angles at each meet, counterclockwise."""
    body: dict = {"lines": {}, "meets": {}, "angles": {}}
    for i in range(lines):
        body["lines"]["lmn"[i]] = {"direction": 4 + 2 * i, "through": [0, 6 - 5 * i]}
    for j in range(transversals):
        body["lines"]["ts"[j]] = {"direction": 60 + 25 * j, "through": [7 * j - 3, 0]}
    for j in range(transversals):
        for i in range(lines):
            meet = "ABCDEF"[len(body["meets"])]
            l, t = "lmn"[i], "ts"[j]
            body["meets"][meet] = [l, t]
            for start, end in ((f"{l}+", f"{t}+"), (f"{t}+", f"{l}-"), (f"{l}-", f"{t}-"), (f"{t}-", f"{l}+")):
                body["angles"][str(len(body["angles"]) + 1)] = {"at": meet, "from": start, "to": end}
    return body


def figure(name: str) -> Figure:
    """A shared figure by name: eight, cross, three, triangle, grid (l, m by t, s), ladder (l, m, n by t)."""
    return figure_from_json(grid() if name == "grid" else grid(3, 1) if name == "ladder" else FIGURES[name])
