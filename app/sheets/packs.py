"""Sheets from a pack: each of its tasks that can be done on paper, with the key its kind gives."""

from __future__ import annotations

from collections.abc import Callable, Mapping, Sequence
from dataclasses import replace
from typing import Any

from app.classroom.kinds import kind_module
from app.classroom.kinds.solve import item_of
from app.classroom.verdict import Context
from app.figure.faults import Fault
from app.figure.model import figure_from_json
from app.lessons.schema import Pack, Part, Task
from app.practice.chance import mixed
from app.practice.families import LEVELS
from app.practice.forms import in_form
from app.sheets.build import PROOFS, VERSIONS, Sheet, Want, seed_for
from app.sheets.entries import Blank, Entry, Key, figure_svg, from_family, from_item, note_beside, source_of
from app.sheets.paper import THEMES, Theme
from app.sheets.proofs import not_forced_key, proof_entry
from app.sheets.reading import in_its_words
from app.sheets.strips import start_svg, strip_steps
from app.words import in_words, joined
from app.words import tell as say
from app.words.house import House
from app.words.house import house as house_of

__all__ = ["build_pack", "construct_entries", "left_out", "printable", "task_entries", "with_caution"]

Make = Callable[[Mapping[str, object], int, Theme, House], list[Entry]]
# Items of a practice set that are printed, however many the set holds on a Seat.
MOST_PRACTICE = 8


@in_its_words
def build_pack(pack: Pack, want: Want, parts: Sequence[str] = ()) -> Sheet:
    """The pack's tasks as a sheet; of `parts` only, if any are named. Raises Fault, with why, if none prints."""
    theme, house = THEMES[want.theme], house_of(want.house)
    entries: list[Entry] = []
    chosen = [p for p in pack.parts if not parts or p.id in parts]
    for part in chosen:
        for task in part.tasks:
            if want.purpose == "proof" and not _proves(task):
                continue
            made = task_entries(task, task_seed(task, want.seed, want.version), theme, house)
            entries += [replace(entry, part=part.title, fresh=part.purpose == "exit") for entry in made]
    without = left_out(chosen)
    if not entries and want.purpose == "proof":
        raise Fault("sheets.no_proof_tasks", "parts")
    if not entries:
        raise Fault("sheets.no_tasks", "parts", why=" ".join(("", *without)))
    entries = with_caution(entries)
    exits = all(p.purpose == "exit" for p in chosen)
    title = want.title or (chosen[0].title if len(chosen) == 1 else pack.title)
    return Sheet(
        title,
        want.version,
        want.seed,
        want.paper,
        theme,
        house,
        tuple(entries),
        "exit" if exits else want.purpose,
        say("sheets.lead_exit") if exits else "",
        without,
    )


def with_caution(entries: Sequence[Entry]) -> list[Entry]:
    """The same, with what is to be minded of compass points said once, before the first construction."""
    first = next((i for i, entry in enumerate(entries) if entry.space), None)
    said = say("construction.strip_caution")
    return [replace(entry, prompt=said) if i == first else entry for i, entry in enumerate(entries)]


def task_seed(task: Task, seed: int, version: str) -> int:
    """The seed of a task's printed items. It goes by the task and not by its place, so that a part alone and the whole
    pack print the same items; all versions ask the same kind of question.
    """
    place = mixed("task", task.id) % 100_003
    own, family = seed_for(seed, version, place), str(task.data.get("family"))
    if task.kind != "solve" or family not in LEVELS:
        return own
    level = max(1, min(int(task.data.get("level") or 1), LEVELS[family]))
    return in_form(family, level, seed_for(seed, VERSIONS[0], place), own)


def printable(part: Part) -> bool:
    """Whether a sheet can hold anything of it."""
    return any(_prints(task) for task in part.tasks)


def left_out(parts: Sequence[Part]) -> tuple[str, ...]:
    """A sentence for each part, or single task of a part, that a sheet can't hold."""
    found: list[str] = []
    for part in parts:
        if not printable(part):
            found.append(say("sheets.left_out", part=part.title))
            continue
        found += [
            say("sheets.left_out_task", task=task.title, part=part.title) for task in part.tasks if not _prints(task)
        ]
    return tuple(found)


def _prints(task: Task) -> bool:
    return task.kind in _KINDS and (task.kind != "practice" or any(f in LEVELS for f in task.data["families"]))


def _proves(task: Task) -> bool:
    families = task.data.get("families") or [task.data.get("family")]
    return task.kind == "prove" or (task.kind in ("solve", "practice") and all(f in PROOFS for f in families))


def task_entries(task: Task, seed: int, theme: Theme, house: House) -> list[Entry]:
    """What is printed of one task; nothing for one that only makes sense on a screen."""
    make = _KINDS.get(task.kind)
    return make(task.data, seed, theme, house) if make else []


def _key(task: Mapping[str, Any], seed: int, house: House) -> dict[str, Any]:
    found: dict[str, object] = kind_module(str(task["kind"])).key(dict(task), Context(seed, house))
    return found


def _drawn(task: Mapping[str, Any], theme: Theme, hide: Sequence[str] = (), said: Sequence[str] = ()) -> str:
    given = [str(s) for s in task.get("given") or []]
    exact = not task.get("not_to_scale")
    return figure_svg(task["figure"], None, theme, given=given, hide=hide, said=said, not_to_scale=not exact)


def _source(task: Mapping[str, Any]) -> str:
    return source_of(task["figure"], None, task.get("given") or [])


def _given(task: Mapping[str, Any]) -> str:
    given = [str(s) for s in task.get("given") or []]
    return say("sheets.proof_given", given=joined("semicolon", map(in_words, given))) if given else ""


def _solve(task: Mapping[str, object], seed: int, theme: Theme, house: House) -> list[Entry]:
    made = item_of(task, Context(seed, house))
    return [from_item(made, theme, house)]


def _connect(task: Mapping[str, Any], seed: int, theme: Theme, house: House) -> list[Entry]:
    family = str(task.get("family") or "connect")
    return [from_family(family, min(int(task.get("level") or 1), LEVELS[family]), seed, theme, house)]


def _practice(task: Mapping[str, Any], seed: int, theme: Theme, house: House) -> list[Entry]:
    families = [f for f in task["families"] if f in LEVELS]
    count = min(int(task.get("count") or 6), MOST_PRACTICE)
    level = int(task.get("level") or 1)
    return [
        from_family(f, min(level, LEVELS[f]), seed + 10_007 * i, theme, house)
        for i in range(count)
        for f in [families[i % len(families)]]
    ]


def _classify(task: Mapping[str, Any], seed: int, theme: Theme, house: House) -> list[Entry]:
    rows = _key(task, seed, house)["pairs"]
    texts = tuple(str(row["text"]) for row in rows)
    if task.get("find"):
        count = int(task.get("count") or len(rows))
        ask = say("sheets.find_pairs", count=count, pair=house.term(str(task["find"])))
        blanks = tuple(Blank(f"{i + 1}.") for i in range(count))
    else:
        ask = str(task["ask"])
        blanks = tuple(Blank(say("sheets.pair_blank", a=row["angles"][0], b=row["angles"][1])) for row in rows)
    figure = _drawn(task, theme, _PAIR_WORDS, (ask, *texts))
    key = Key(texts[0], texts[1:], quick=_quick_pairs(task, rows, house), points=len(blanks))
    note = note_beside(figure, bool(task.get("not_to_scale")))
    return [Entry("", ask, key, figure=figure, note=note, source=_source(task), blanks=blanks)]


def _quick_pairs(task: Mapping[str, Any], rows: Sequence[Mapping[str, Any]], house: House) -> str:
    """One pair after the other, named; of pairs to be found only which they are."""
    pairs = [say("sheets.two_angles_short", a=row["angles"][0], b=row["angles"][1]) for row in rows]
    if task.get("find"):
        return "; ".join(pairs)
    return "; ".join(f"{two}: {house.term(str(row['pair']))}" for two, row in zip(pairs, rows, strict=True))


_PAIR_WORDS = ("corresponding", "alternate", "consecutive", "vertical", "linear pair")


def _justify(task: Mapping[str, Any], seed: int, theme: Theme, house: House) -> list[Entry]:
    key = _key(task, seed, house)
    others = _other_pairs(key["accepted"][1:], house)
    blanks = (Blank(say("sheets.justify_line")), Blank(say("sheets.justify_or")))
    made = Key(str(key["text"]), (), others, points=3)
    if key["none"]:
        fig = figure_from_json(task["figure"])
        two = [name for name in fig.lines if name != fig.transversal][:2]
        given = [str(s) for s in task.get("given") or []]
        made = not_forced_key(fig, given, " ∥ ".join(two), theme, str(key["text"]))
    else:
        made = replace(made, quick=_quick_argument(key["accepted"][0], house))
    svg = _drawn(task, theme, _PAIR_WORDS, (str(task["ask"]), str(key["text"]), *others))
    note = note_beside(svg, bool(task.get("not_to_scale")))
    return [Entry(_given(task), str(task["ask"]), made, figure=svg, note=note, source=_source(task), blanks=blanks)]


def _quick_argument(one: Mapping[str, Any], house: House) -> str:
    pair = say("sheets.two_angles_short", a=one["angles"][0], b=one["angles"][1])
    return f"{pair}: {' ∥ '.join(one['lines'])}, {house.name(str(one['theorem']))}"


def _other_pairs(accepted: Sequence[Mapping[str, Any]], house: House) -> tuple[str, ...]:
    """Whatever else a Seat would accept, theorem by theorem: with which pairs."""
    pairs: dict[str, list[str]] = {}
    for one in accepted:
        a, b = one["angles"]
        pairs.setdefault(str(one["theorem"]), []).append(say("sheets.two", a=a, b=b))
    return tuple(
        say("sheets.also_pairs", theorem=house.name(theorem), pairs=", ".join(found))
        for theorem, found in pairs.items()
    )


def _prove(task: Mapping[str, Any], seed: int, theme: Theme, house: House) -> list[Entry]:
    bar = [str(b) for b in task.get("bar") or []]
    # What may not be used is told where a reason is to be found.
    finds = str(task.get("support") or "blank") in ("blank", "statements")
    note = say("sheets.barred", theorems=", ".join(house.name(b) for b in bar)) if bar and finds else ""
    given = [str(s) for s in task.get("given") or []]
    return [
        proof_entry(
            task["figure"], given, str(task["goal"]), theme, house, bar=bar,
            support=str(task.get("support") or "blank"),
            note="\n".join(t for t in (f"{task['title']}. {task['ask']}", note) if t),
            not_to_scale=bool(task.get("not_to_scale")), seed=seed, strict=bool(task.get("strict")),
        )
    ]  # fmt: skip


def construct_entries(task: Mapping[str, Any], seed: int, theme: Theme, house: House) -> list[Entry]:
    steps = strip_steps(task)
    said = tuple(f"{s.number}. {s.title}: {s.caption}" for s in steps if s.caption)
    start = _key(task, seed, house)["start"]
    space = start_svg({**task, "start": start}, large=theme.type >= 18)
    quick = say("sheets.construct_quick", count=len(said))
    key = Key(say("sheets.construct_key"), said, steps=steps, quick=quick, points=len(said))
    return [Entry("", str(task["ask"]), key, space=space, source=source_of(None, start))]


_KINDS: Mapping[str, Make] = {
    "solve": _solve,
    "connect": _connect,
    "practice": _practice,
    "classify": _classify,
    "justify": _justify,
    "prove": _prove,
    "construct": construct_entries,
}
