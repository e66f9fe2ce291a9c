"""Stage documents: what the Desk may publish to the Board and to the Seats.

The server checks the outer shape (a known kind, a bounded size, a figure that is one); what is inside is
drawn by the module of that kind in the browser, as text and attributes only.
"""

from __future__ import annotations

import json

from app.figure.faults import Fault
from app.figure.read import figure_from_json

KINDS = ("figure", "task", "tally", "reply", "blank", "proof", "construction")
PLACES = ("board", "seats")
MOST = 32_768  # characters of JSON: it is sent to everybody, several times a second


def read_stage(data: object) -> dict[str, object] | None:
    """The document, or None for "nothing". Raises Fault with the place of what is wrong."""
    if data is None:
        return None
    if not isinstance(data, dict):
        raise Fault("classroom.stage_object", "stage")
    if data.get("kind") not in KINDS:
        raise Fault("classroom.stage_kind", "stage.kind", kinds=", ".join(KINDS))
    if len(json.dumps(data)) > MOST:
        raise Fault("classroom.stage_big", "stage")
    if data["kind"] == "figure":
        _check_figure(data.get("figure"))
    under = data.get("under")
    if under is not None and isinstance(under, dict) and under.get("under") is not None:
        raise Fault("classroom.stage_kind", "stage.under.under", kinds=", ".join(KINDS))
    return data


def _check_figure(figure: object) -> None:
    figure_from_json(figure)


def read_places(data: object) -> list[str]:
    """Where it is shown: any of "board", "seats"."""
    if not isinstance(data, list) or any(place not in PLACES for place in data):
        raise Fault("classroom.stage_to", "to", places=", ".join(PLACES))
    return [place for place in PLACES if place in data]


def shows_answer(stage: object) -> bool:
    """Whether a student's own answer is on this stage, or lies under the blank paper that covers it."""
    if not isinstance(stage, dict):
        return False
    if stage.get("kind") == "blank":
        return shows_answer(stage.get("under"))
    # A demonstration has named steps; a construction put up for discussion is somebody's moves.
    return stage.get("kind") == "reply" or (stage.get("kind") == "construction" and not stage.get("steps"))
