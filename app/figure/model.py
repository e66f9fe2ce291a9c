"""The figure, in one place: its parts, reading and writing it, its sectors and numbering."""

from __future__ import annotations

from app.figure.parts import Angle, Figure, Line, Meet, Ray
from app.figure.read import MOST_ANGLES, MOST_LINES, MOST_MEETS, figure_from_json, figure_to_json
from app.figure.sectors import all_sectors, angle_by_meets, measure_form, number_standard, oriented

__all__ = [
    "MOST_ANGLES",
    "MOST_LINES",
    "MOST_MEETS",
    "Angle",
    "Figure",
    "Line",
    "Meet",
    "Ray",
    "all_sectors",
    "angle_by_meets",
    "figure_from_json",
    "figure_to_json",
    "measure_form",
    "number_standard",
    "oriented",
]
