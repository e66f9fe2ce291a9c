"""Classify: name the pairs that are asked for, or find pairs with a given name.

A wrong name is answered with how the two angles lie and how they would have to lie, not with the right name.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from itertools import combinations

from app.classroom.kinds.on_figure import (
    angle,
    common,
    lie,
    needs,
    pair_from,
    pair_word,
    sides,
    student_figure,
    two_angles,
)
from app.classroom.verdict import Context, Part, Verdict
from app.figure.faults import Fault, shown
from app.figure.model import Figure
from app.figure.pairs import TRANSVERSAL_PAIRS, Pair, name_pair
from app.lessons.tasks import Classify, Source, task_as
from app.words import Message, say

__all__ = ["ASKS", "judge", "key", "public"]

ASKS: frozenset[str] = frozenset()


@dataclass(frozen=True)
class Named:
    """One pair as it was named: its part of the verdict, and whether name and transversal are right."""

    part: Part
    named: bool
    carried: bool = True


CHOICES = (*TRANSVERSAL_PAIRS, "vertical", "linear pair", "none")
HIDDEN = (*TRANSVERSAL_PAIRS, "vertical", "linear pair")
MOST_FOUND = 40


def public(task: Classify | Source, ctx: Context) -> dict[str, object]:
    """The task with its choices. `find` is what is asked for, so it is told; the names of `pairs` are not."""
    task = task_as(Classify, task)
    find = task.find
    return {
        **common(task, HIDDEN),
        "pairs": [list(pair) for pair in task.pairs],
        "find": None if find is None else {"id": find, "name": pair_word(find)},
        "count": task.count or (1 if find else None),
        "transversal": task.transversal,
        "movable": list(task.movable),
        "choices": [{"id": pair, "name": pair_word(pair)} for pair in CHOICES],
        "lines": list(task.figure.lines),
    }


def judge(task: Classify | Source, reply: Mapping[str, object], ctx: Context) -> Verdict:
    """Each pair judged by how it lies in the figure as the student left it."""
    task = task_as(Classify, task)
    fig = student_figure(task, reply, task.movable)
    if task.find:
        return judge_found(task, task.find, fig, reply)
    return judge_names(task, fig, reply)


def judge_names(task: Classify, fig: Figure, reply: Mapping[str, object]) -> Verdict:
    names = read_names(task, reply)
    transversals = read_transversals(task, fig, reply, names)
    judged: list[Named] = []
    habit = None
    for (a, b), named in names.items():
        actual = name_pair(fig, a, b)
        right = named == actual.pair
        text = reading(fig, a, b, actual) if right else misnamed(fig, a, b, actual, named)
        carried = transversals.get((a, b), actual.transversal) == actual.transversal
        if not carried:
            text = miscarried(fig, a, b, transversals[a, b])
        # Choosing the transversal comes before naming, so it is the habit to speak of first.
        habit = habit or (None if carried else "wrong-transversal") or (None if right else "wrong-pair-name")
        judged.append(Named({"field": f"{a},{b}", "ok": right and carried, "text": text}, right, carried))
    parts = [one.part for one in judged]
    held = sum(part["ok"] is True for part in parts)
    return Verdict(
        ok=held == len(parts),
        done=held == len(parts),
        code="named" if held == len(parts) else "misnamed",
        text=summary(parts, held),
        parts=parts,
        score=round(held / len(parts), 2),
        skills=skills(task, judged),
        misconception=habit,
    )


def skills(task: Classify, judged: list[Named]) -> dict[str, bool]:
    shown_ = {"name-pairs": all(one.named for one in judged)}
    if task.transversal:
        shown_["find-transversal"] = all(one.carried for one in judged)
    return shown_


def summary(parts: list[Part], held: int) -> Message:
    if held < len(parts):
        first = next(part["text"] for part in parts if not part["ok"])
        return say("angles.classify_some", right=held, count=len(parts), text=first)
    if len(parts) == 1:
        return say("angles.classify_all_one", text=parts[0]["text"])
    return say("angles.classify_all", count=len(parts))


def read_names(task: Classify, reply: Mapping[str, object]) -> dict[tuple[str, str], str]:
    """The name given to each pair asked for, in the task's order. Raises Fault where one is missing."""
    given = reply.get("names")
    if not isinstance(given, dict) or not given:
        raise Fault("angles.names_wanted", "reply.names")
    wanted = {",".join(pair): pair for pair in task.pairs}
    for name in given:
        if name not in wanted:
            raise Fault("angles.names_extra", "reply.names", found=shown(name))
    found = {}
    for name, pair in wanted.items():
        if name not in given:
            raise Fault("angles.names_missing", f"reply.names.{name}", a=angle(pair[0]), b=angle(pair[1]))
        found[pair] = pair_from(given[name], f"reply.names.{name}")
    return found


def read_transversals(
    task: Classify, fig: Figure, reply: Mapping[str, object], names: Mapping[tuple[str, str], str]
) -> dict[tuple[str, str], str | None]:
    """The transversal named for each pair, where the task asks for it; None says that there is none."""
    if not task.transversal:
        return {}
    given = reply.get("transversals")
    found: dict[tuple[str, str], str | None] = {}
    for a, b in names:
        value = given.get(f"{a},{b}") if isinstance(given, dict) else None
        if value is not None and value != "" and (not isinstance(value, str) or value not in fig.lines):
            raise Fault("angles.line_wanted", f"reply.transversals.{a},{b}", known=", ".join(fig.lines))
        found[a, b] = value or None
    return found


def how(pair: Pair) -> Message:
    return say(f"angles.how_{pair.pair.replace(' ', '_')}")


def reading(fig: Figure, a: str, b: str, actual: Pair) -> Message:
    """How a pair lies and what that is called."""
    name = pair_word(actual.pair)
    if fig.angles[a].at == fig.angles[b].at:
        fields = {"a": angle(a), "b": angle(b), "at": fig.angles[a].at, "name": name}
        return say("angles.classify_one_meet_right", **fields, how=how(actual))
    if actual.transversal is None:
        return say("angles.classify_apart_right", a=angle(a), b=angle(b), name=name)
    return lie(a, b, actual)


def misnamed(fig: Figure, a: str, b: str, actual: Pair, named: str) -> Message:
    """How a pair lies, and how it would have to lie for the name it was given."""
    fields = {"a": angle(a), "b": angle(b), "named": pair_word(named), "need": needs(named)}
    if fig.angles[a].at == fig.angles[b].at:
        return say("angles.classify_one_meet", **fields, at=fig.angles[a].at, how=how(actual))
    if actual.transversal is None:
        return say("angles.classify_apart", **fields)
    return say("angles.classify_wrong", **fields, lie=lie(a, b, actual, named=False))


def miscarried(fig: Figure, a: str, b: str, named: str | None) -> Message:
    """Why a line is not the transversal of a pair."""
    fields = {"a": angle(a), "b": angle(b), "one": sides(fig, a), "other": sides(fig, b)}
    if named is None:
        return say("angles.classify_transversal_missing", **fields)
    return say("angles.classify_transversal", **fields, named=named)


def judge_found(task: Classify, wanted: str, fig: Figure, reply: Mapping[str, object]) -> Verdict:
    """Pairs that the student found for a given name."""
    count = task.count or 1
    found = reply.get("found")
    if not isinstance(found, (list, tuple)) or not found or len(found) > MOST_FOUND:
        raise Fault("angles.found_wanted", "reply.found")
    judged: list[Named] = []
    seen: set[frozenset[str]] = set()
    for i, value in enumerate(found):
        a, b = two_angles(value, fig, f"reply.found.{i}")
        actual, again = name_pair(fig, a, b), frozenset((a, b)) in seen
        seen.add(frozenset((a, b)))
        right = actual.pair == wanted
        if again:
            text = say("angles.find_twice", a=angle(a), b=angle(b))
        else:
            text = reading(fig, a, b, actual) if right else misnamed(fig, a, b, actual, wanted)
        judged.append(Named({"field": f"{a},{b}", "ok": right and not again, "text": text}, right))
    parts, named = [one.part for one in judged], all(one.named for one in judged)
    held = sum(part["ok"] is True for part in parts)
    all_right = held == len(parts)
    return Verdict(
        ok=all_right and held >= count,
        done=all_right and held >= count,
        code="found" if all_right and held >= count else "more wanted" if all_right else "misnamed",
        text=found_summary(parts, held, count, pair_word(wanted)),
        parts=parts,
        score=round(min(held, count) / max(count, len(parts)), 2),
        skills={"name-pairs": named},
        misconception=None if named else "wrong-pair-name",
    )


def found_summary(parts: list[Part], held: int, count: int, name: Message) -> Message:
    if held < len(parts):
        first = next(part["text"] for part in parts if not part["ok"])
        return say("angles.find_more", right=held, count=count, text=first)
    if held < count:
        return say("angles.find_more_only", right=held, count=count)
    return say("angles.find_right", count=held, name=name)


def key(task: Classify | Source, ctx: Context) -> dict[str, object]:
    """The names, with the transversals; or every pair with the name that is looked for."""
    task = task_as(Classify, task)
    fig = task.figure
    if task.find:
        asked = [two for two in combinations(fig.angles, 2) if name_pair(fig, *two).pair == task.find]
    else:
        asked = list(task.pairs)
    rows = []
    for a, b in asked:
        actual = name_pair(fig, a, b)
        rows.append({
            "angles": [a, b],
            "pair": actual.pair,
            "transversal": actual.transversal,
            "text": reading(fig, a, b, actual),
        })  # fmt: skip
    return {"pairs": rows}
