"""What of a pack a period uses: the teacher's order, hidden parts left out, the teacher's own examples
added.

Both packs and periods become plans, so that Seat, Desk and Board read one shape.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace

from app.lessons.tasks import Task

OWN_PART = "own"


@dataclass(frozen=True)
class PlanPart:
    """A part with its tasks; `hidden` by the teacher."""

    id: str
    title: str
    minutes: int
    optional: bool
    purpose: str
    tasks: tuple[Task, ...]
    hidden: bool = False


@dataclass(frozen=True)
class Plan:
    """What a period works through. `name` is its pack's."""

    name: str
    title: str
    parts: tuple[PlanPart, ...] = ()


def arrange(plan: Plan, arranged: Mapping[str, Sequence[str]]) -> Plan:
    """The plan in the teacher's order, with hidden parts marked. Unknown part ids are ignored."""
    order = [str(part) for part in arranged.get("order", [])]
    hidden = set(arranged.get("hidden", []))
    place = {part: n for n, part in enumerate(order)}
    parts = [replace(part, hidden=part.id in hidden) for part in plan.parts]
    # A part that the arrangement doesn't name (the pack has grown since) keeps its place at the end.
    parts.sort(key=lambda part: place.get(part.id, len(order)))
    return replace(plan, parts=tuple(parts))


def with_own(plan: Plan, own: Sequence[Task], title: str) -> Plan:
    """The plan with a last part that holds the teacher's own examples, if there are any."""
    if not own:
        return plan
    return replace(plan, parts=(*plan.parts, PlanPart(OWN_PART, title, 0, True, "lesson", tuple(own))))


def visible(plan: Plan) -> Plan:
    """The plan without its hidden parts: what a Seat may see."""
    return replace(plan, parts=tuple(part for part in plan.parts if not part.hidden))


def tasks(plan: Plan) -> list[Task]:
    """Every task in the plan's order."""
    return [task for part in plan.parts for task in part.tasks]


def find_task(plan: Plan, task_id: str) -> tuple[PlanPart, Task] | None:
    """(part, task) of an id, or None."""
    for part in plan.parts:
        for task in part.tasks:
            if task.id == task_id:
                return part, task
    return None


def stamp(figure: object) -> dict[str, object] | None:
    """What a thumbnail needs of a figure: its lines alone. A table of contents is sent often."""
    lines = figure.get("lines") if isinstance(figure, dict) else None
    return {"lines": lines} if lines else None


def outline(plan: Plan, done: set[str]) -> dict[str, object]:
    """The plan as a Seat's table of contents: titles, kinds, the small figure, what is done. No keys, no
    asks.
    """
    return {
        "name": plan.name,
        "title": plan.title,
        "parts": [
            {
                "id": part.id,
                "title": part.title,
                "minutes": part.minutes,
                "optional": part.optional,
                "purpose": part.purpose,
                "tasks": [
                    {
                        "id": task.id,
                        "kind": task.kind,
                        "title": task.title,
                        "done": task.id in done,
                        "figure": stamp(task.source.get("figure")),
                    }
                    for task in part.tasks
                ],
            }
            for part in plan.parts
        ],
    }
