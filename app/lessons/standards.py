"""The standards that the shipped packs touch: code → content in our own words.

Codes follow the Common Core State Standards for Mathematics (2010); the wording is ours, and a school
compares it with the published standard. States rename the codes, so a pack may add its own under
`[standards]`.
"""

from __future__ import annotations

import re

from app.words import catalogue

__all__ = ["STANDARDS", "canonical"]

# code → content in English; `app/words/<language>/standards.py` has it in each language.
STANDARDS: dict[str, str] = catalogue("standards")


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
