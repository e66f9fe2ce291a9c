"""Writes the cases that the twins share, tests/vectors/<name>.json, anew: `python -m tests.twins`. Read the difference first."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from tests.twins import claims, moved, reach, told

VECTORS = Path(__file__).resolve().parent.parent / "vectors"
MADE = {"figure_words": told, "reach": reach, "claims": claims, "moved": moved}


def text(cases: list[dict[str, Any]]) -> str:
    """One case a line, so that a change shows which."""
    return "[\n" + ",\n".join(json.dumps(one, ensure_ascii=False) for one in cases) + "\n]\n"


if __name__ == "__main__":
    for name, of in MADE.items():
        (VECTORS / f"{name}.json").write_text(text(of.cases()), encoding="utf-8")
