"""The standards that the shipped packs touch: code → content in our own words.

Codes follow the Common Core State Standards for Mathematics (2010); the wording is ours, and a school
compares it with the published standard. States rename the codes, so a pack may add its own under
`[standards]`.
"""

from __future__ import annotations

import re

__all__ = ["STANDARDS", "canonical"]

STANDARDS: dict[str, str] = {
    "4.G.A.1": "Draw and recognize points, lines, segments, rays, angles, perpendicular and parallel lines.",
    "4.MD.C.7": "Angle measure is additive; find unknown angles in a diagram.",
    "7.G.B.5": "Use supplementary, complementary, vertical and adjacent angles to find an unknown angle.",
    "8.G.A.1.c": "Rigid motions take parallel lines to parallel lines.",
    "8.G.A.5": "Argue informally about angle sums and the angles where a transversal crosses parallel lines.",
    "HSA-CED.A.1": "Create equations in one variable and use them to solve problems.",
    "HSA-REI.B.3": "Solve linear equations in one variable.",
    "HSA-REI.B.4": "Solve quadratic equations in one variable.",
    "HSG-CO.A.1": "Know exact definitions of angle, perpendicular line, parallel line and segment.",
    "HSG-CO.C.9": "Prove theorems about lines and angles.",
    "HSG-CO.C.10": "Prove theorems about triangles.",
    "HSG-CO.C.11": "Prove theorems about parallelograms.",
    "HSG-CO.D.12": "Make formal constructions with several tools and methods, and say why they work.",
    "HSG-CO.D.13": "Construct an equilateral triangle, a square and a regular hexagon in a circle.",
    "HSG-GPE.B.5": "Prove the slope criteria for parallel and perpendicular lines and use them.",
    "HSG-MG.A.1": "Describe objects by geometric shapes and their properties.",
    "MP1": "Make sense of problems and keep at them.",
    "MP3": "Build sound arguments and examine the arguments of others.",
    "MP5": "Choose and use tools with a purpose.",
    "MP6": "Attend to precision.",
    "MP7": "Look for structure and use it.",
}



def _bare(code: str) -> tuple[str, ...]:
    """A code without the marks that books write differently: `G.CO.9`, `HSG-CO.C.9` → (g, co, 9)."""
    text = re.sub(r"(?i)ccss|math|content|practice", ".", code)
    parts = [part.lower() for part in re.split(r"[^A-Za-z0-9]+", text) if part]
    if parts and re.fullmatch(r"hs[a-z]", parts[0]):
        parts[0] = parts[0][2:]
    if len(parts) == 4 and re.fullmatch(r"[a-d]", parts[2]):
        parts.pop(2)  # the cluster letter is often left out
    return tuple(parts)


def canonical(code: str) -> str | None:
    """The code as this table writes it, or None: `G-CO.9` and `CCSS.HSG.CO.C.9` are both `HSG-CO.C.9`."""
    if code in STANDARDS:
        return code
    wanted = _bare(code)
    return next((known for known in STANDARDS if _bare(known) == wanted), None)
