"""What of a pack a period uses: the teacher's order, hidden parts left out, the teacher's own examples
added.

A *plan* is plain data: {"name", "title", "parts": [{"id", "title", "minutes", "optional", "purpose",
"hidden", "tasks": [task, …]}]}, each task the flat dict that the kinds judge. Both packs and periods
become plans, so that Seat, Desk and Board read one shape.
"""

from __future__ import annotations

from typing import Any

Plan = dict[str, Any]
OWN_PART = "own"


def arrange(plan: Plan, arranged: dict[str, Any]) -> Plan:
    """The plan in the teacher's order, with hidden parts marked. Unknown part ids are ignored."""
    order = [str(part) for part in arranged.get("order", [])]
    hidden = set(arranged.get("hidden", []))
    place = {part: n for n, part in enumerate(order)}
    parts = [{**part, "hidden": part["id"] in hidden} for part in plan["parts"]]
    # A part that the arrangement doesn't name (the pack has grown since) keeps its place at the end.
    parts.sort(key=lambda part: place.get(part["id"], len(order)))
    return {**plan, "parts": parts}


def with_own(plan: Plan, own: list[dict[str, Any]], title: str) -> Plan:
    """The plan with a last part that holds the teacher's own examples, if there are any."""
    if not own:
        return plan
    part = {
        "id": OWN_PART,
        "title": title,
        "minutes": 0,
        "optional": True,
        "purpose": "lesson",
        "hidden": False,
        "tasks": own,
    }
    return {**plan, "parts": [*plan["parts"], part]}


def visible(plan: Plan) -> Plan:
    """The plan without its hidden parts: what a Seat may see."""
    return {**plan, "parts": [part for part in plan["parts"] if not part.get("hidden")]}


def tasks(plan: Plan) -> list[dict[str, Any]]:
    """Every task in the plan's order."""
    return [task for part in plan["parts"] for task in part["tasks"]]


def find_task(plan: Plan, task_id: str) -> tuple[dict[str, Any], dict[str, Any]] | None:
    """(part, task) of an id, or None."""
    for part in plan["parts"]:
        for task in part["tasks"]:
            if task["id"] == task_id:
                return part, task
    return None


def stamp(figure: Any) -> dict[str, Any] | None:
    """What a thumbnail needs of a figure: its lines alone. A table of contents is sent often."""
    lines = figure.get("lines") if isinstance(figure, dict) else None
    return {"lines": lines} if lines else None


def outline(plan: Plan, done: set[str]) -> dict[str, Any]:
    """The plan as a Seat's table of contents: titles, kinds, the small figure, what is done. No keys, no
    asks.
    """
    return {
        "name": plan["name"],
        "title": plan["title"],
        "parts": [
            {
                **{key: part[key] for key in ("id", "title", "minutes", "optional", "purpose")},
                "tasks": [
                    {
                        "id": task["id"],
                        "kind": task["kind"],
                        "title": task["title"],
                        "done": task["id"] in done,
                        "figure": stamp(task.get("figure")),
                    }
                    for task in part["tasks"]
                ],
            }
            for part in plan["parts"]
        ],
    }
