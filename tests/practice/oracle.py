"""A second opinion on figures, written apart from app/: directions as real unknowns, decided by z3.

The measure of an angle from ray a to ray b is read off the figure's own JSON; each crossing keeps its drawn
turning order. Nothing here uses the program's reasoner, pairs or solver.
"""

from __future__ import annotations

import math
import re
from fractions import Fraction
from typing import Any

import z3

SUPER = {"²": "^2"}


def number(value: Any) -> Fraction:
    return Fraction(str(value))


class Oracle:
    """The drawn order of a figure as constraints, statements as equations."""

    def __init__(self, figure: dict[str, Any]) -> None:
        self.figure = figure
        self.drawn = {name: number(line["direction"]) for name, line in figure["lines"].items()}
        self.d = {name: z3.Real(f"d_{name}") for name in self.drawn}
        self.x: dict[str, Any] = {}
        self.bounds: list[Any] = []
        for meet in figure["meets"].values():
            lines = sorted(meet["lines"] if isinstance(meet, dict) else meet, key=self.drawn.__getitem__)
            turning = [*lines, lines[0]]
            for i, (one, other) in enumerate(zip(turning, turning[1:], strict=False)):
                wrap = 180 if i == len(lines) - 1 else 0
                gap = self.d[other] - self.d[one] + wrap
                self.bounds += [gap > 0, gap < 180]

    def heading(self, ray: str) -> tuple[Any, Fraction]:
        turn = 0 if ray[-1] == "+" else 180
        return self.d[ray[:-1]] + turn, self.drawn[ray[:-1]] + turn

    def measure(self, name: str) -> Any:
        angle = self.figure["angles"][name]
        (start, start_drawn), (end, end_drawn) = self.heading(angle["from"]), self.heading(angle["to"])
        turns = -math.floor((end_drawn - start_drawn) / 360)
        return end - start + 360 * turns

    def unknown(self, letter: str) -> Any:
        return self.x.setdefault(letter, z3.Real(letter))

    def statement(self, text: str) -> Any:
        """The statement as a formula. Only the notation that exercises print is known here."""
        text = text.replace("−", "-")
        if found := re.fullmatch(r"(\w+) ([∥∦⊥]) (\w+)", text):
            a, sign, b = found.groups()
            turn = 90 if sign == "⊥" else 0
            off = min(
                (k * 180 + turn * s for k in (-2, -1, 0, 1, 2) for s in (1, -1)),
                key=lambda off: abs(self.drawn[a] - self.drawn[b] - off),
            )
            equal = self.d[a] - self.d[b] == off
            return z3.Not(equal) if sign == "∦" else equal
        if found := re.fullmatch(r"∠(\w+) ≅ ∠(\w+)", text):
            return self.measure(found[1]) == self.measure(found[2])
        if found := re.fullmatch(r"∠(\w+) and ∠(\w+) are supplementary", text):
            return self.measure(found[1]) + self.measure(found[2]) == 180
        left, right = text.split("=")
        return self.expression(left) == self.expression(right)

    def expression(self, text: str) -> Any:
        """A sum of products as Python would read it, with every name looked up here and nothing else in reach."""
        text = text.replace("²", "**2").replace("°", "")
        text = re.sub(r"m?∠(\w+)", r"M('\1')", text)
        text = re.sub(r"(?<=\d)\s*(?=[a-zM(])", "*", text)
        text = re.sub(r"(?<=\))\s*(?=[a-z(])", "*", text)
        text = re.sub(r"\b([a-z])\b(?!')", lambda m: f"X('{m[1]}')", text)
        # Test input only: these texts come from our own exercises.
        return eval(text, {"__builtins__": {}}, {"M": self.measure, "X": self.unknown})  # noqa: S307

    def entails(self, given: list[str], claim: str) -> bool:
        solver = z3.Solver()
        solver.add(*self.bounds, *[self.statement(s) for s in given], z3.Not(self.statement(claim)))
        return bool(solver.check() == z3.unsat)

    def possible(self, given: list[str]) -> bool:
        solver = z3.Solver()
        solver.add(*self.bounds, *[self.statement(s) for s in given])
        return bool(solver.check() == z3.sat)


def classify(figure: dict[str, Any], a: str, b: str) -> tuple[str, str | None, set[str]]:
    """(pair, transversal, the two lines) from coordinates alone: dot and cross products, no program code."""
    lines = {name: number(line["direction"]) for name, line in figure["lines"].items()}

    def ray(text: str) -> tuple[float, float]:
        at = math.radians(float(lines[text[:-1]]) + (0 if text[-1] == "+" else 180))
        return math.cos(at), math.sin(at)

    one, other = figure["angles"][a], figure["angles"][b]
    at_a, at_b = (figure["meets"][angle["at"]]["at"] for angle in (one, other))
    sides_a, sides_b = ({angle["from"], angle["to"]} for angle in (one, other))
    if one["at"] == other["at"]:
        flip = {s[:-1] + ("-" if s[-1] == "+" else "+") for s in sides_a}
        if flip == sides_b:
            return "vertical", None, set()
        return ("linear pair" if len(sides_a & sides_b) == 1 else "none"), None, set()
    shared = {s[:-1] for s in sides_a} & {s[:-1] for s in sides_b}
    along = (at_b[0] - at_a[0], at_b[1] - at_a[1])
    size = math.hypot(*along)
    for line in shared:
        ux, uy = ray(line + "+")
        if abs(ux * along[1] - uy * along[0]) / size > 1e-6:
            continue
        off = [next(s for s in sides if s[:-1] != line) for sides in (sides_a, sides_b)]
        on = [next(s for s in sides if s[:-1] == line) for sides in (sides_a, sides_b)]
        inside = [
            sum(r * d for r, d in zip(ray(on[0]), along, strict=True)) > 0,
            sum(r * d for r, d in zip(ray(on[1]), along, strict=True)) < 0,
        ]
        left = [along[0] * ray(s)[1] - along[1] * ray(s)[0] > 0 for s in off]
        same = left[0] == left[1]
        if inside[0] != inside[1]:
            return ("corresponding" if same else "none"), line, {s[:-1] for s in off}
        kind = "interior" if inside[0] else "exterior"
        return f"{'consecutive' if same else 'alternate'} {kind}", line, {s[:-1] for s in off}
    return "none", None, set()
