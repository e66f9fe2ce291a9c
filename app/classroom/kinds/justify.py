"""Justify: two angles, their name, the relation, the converse, the two lines. Which part fails, and why?

Each part of the reply is judged on its own; the first one that fails, in the order in which the argument is
built, is what the verdict line speaks of.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from itertools import combinations

from app.classroom.kinds.argument import CONVERSES, LOOKS, ORIGINALS, RELATIONS, Argument, read
from app.classroom.kinds.failing import failures, relation_words
from app.classroom.kinds.on_figure import angle, common, lie, pair_word
from app.classroom.verdict import Context, Part, Verdict
from app.figure.faults import Fault
from app.figure.model import Figure, figure_to_json
from app.figure.pairs import TRANSVERSAL_PAIRS, name_pair
from app.lessons.tasks import Justify, Source, task_as
from app.reasoning.follows import follows
from app.words import say, term, theorem

__all__ = ["ASKS", "ask", "judge", "key", "public"]

ASKS = frozenset({"hint"})

# Beside the five theorems and their converses, what looks like a reason.
OTHERS = ("vertical-angles", "linear-pair")
HIDDEN = ("parallel", *TRANSVERSAL_PAIRS)
# The order in which the argument is built; the first part that fails is spoken of.
FIELDS = ("angles", "transversal", "pair", "lines", "relation", "theorem", "given")


def public(task: Justify | Source, ctx: Context) -> dict[str, object]:
    """The task with its choices; neither the answer nor whether there is one."""
    task = task_as(Justify, task)
    fig = task.figure
    theorems = [*ORIGINALS.values(), *CONVERSES.values(), *OTHERS]
    return {
        **common(task, HIDDEN),
        "lines": list(task.lines) if task.lines else None,
        "choices": {
            "pairs": [{"id": pair, "name": pair_word(pair)} for pair in TRANSVERSAL_PAIRS],
            "relations": [{"id": relation, "name": term(relation)} for relation in RELATIONS],
            "transversals": list(fig.lines),
            "lines": list(fig.lines),
            "theorems": [
                *({"id": one, "name": theorem(one)} for one in theorems),
                {"id": LOOKS, "name": say("angles.looks_choice")},
            ],
        },
    }


def judge(task: Justify | Source, reply: Mapping[str, object], ctx: Context) -> Verdict:
    """What holds and what fails in an argument for two parallel lines, or in "this is not enough"."""
    task = task_as(Justify, task)
    if reply.get("none") is True:
        return judge_none(task, ctx)
    argument = read(task, reply, ctx)
    failing = {fail.field: fail for fail in failures(argument, ctx)}
    judged = judged_fields(argument, set(failing))
    parts: list[Part] = [
        {"field": name, "ok": name not in failing, "text": failing[name].text if name in failing else ""}
        for name in judged
    ]
    skills = skills_shown(set(judged), set(failing))
    if not failing:
        return accepted(argument, ctx, parts, skills)
    first = next(failing[name] for name in FIELDS if name in failing)
    if argument.theorem == LOOKS:
        first = failing["theorem"]
    backwards = any(fail.misconception == "original-for-converse" for fail in failing.values())
    held = 0 if "angles" in failing else sum(name not in failing for name in judged)
    if not any(answers(task, ctx)):
        # Lines were called parallel that nothing makes so: a well-built argument for it is worth nothing.
        held, skills = 0, {**{name: ok for name, ok in skills.items() if not ok}, "is-it-enough": False}
    return Verdict(
        ok=False,
        done=False,
        code=first.code,
        text=first.text,
        parts=parts,
        score=round(held / len(FIELDS), 2),
        skills=skills | ({"direction": False} if backwards else {}),
        misconception=first.misconception,
        figure=first.figure,
        marks={"angles": {name: {"arcs": 1, "tone": "fails"} for name in (argument.a, argument.b)}},
    )


def judged_fields(argument: Argument, failing: set[str]) -> list[str]:
    """The parts that could be judged: where the angles are no pair, none of what is said of the pair can."""
    if "angles" in failing:
        return [name for name in FIELDS if name in failing]
    helps = argument.relation == argument.actual.relation
    return [name for name in FIELDS if name != "given" or helps]


def skills_shown(judged: set[str], failing: set[str]) -> dict[str, bool]:
    rests_on = {
        "find-transversal": {"angles", "transversal", "lines"},
        "name-pairs": {"angles", "pair"},
        "choose-converse": {"angles", "relation", "theorem"},
        "is-it-enough": {"given"},
    }
    return {skill: not fields & failing for skill, fields in rests_on.items() if fields & judged}


def accepted(argument: Argument, ctx: Context, parts: list[Part], skills: dict[str, bool]) -> Verdict:
    a, b, pair = argument.a, argument.b, argument.actual
    assert pair.lines is not None
    l, m = pair.lines
    text = say(
        "angles.right_given" if argument.direct else "angles.right_follows",
        lie=lie(a, b, pair),
        relation=relation_words(a, b, argument.relation),
        l=l,
        m=m,
        theorem=theorem(argument.theorem),
    )
    second = 1 if argument.relation == "congruent" else 2
    return Verdict(
        ok=True,
        done=True,
        code="follows",
        text=text,
        parts=parts,
        score=1.0,
        skills={**skills, "direction": True},
        marks={
            "angles": {a: {"arcs": 1, "tone": "given"}, b: {"arcs": second, "tone": "given"}},
            "lines": {line: {"arrows": 1, "tone": "follows"} for line in (l, m)},
        },
    )


def judge_none(task: Justify, ctx: Context) -> Verdict:
    """The student says that what is given makes no two lines in question parallel."""
    fig, given, wanted = task.figure, task.given, task.lines
    for l, m in [wanted] if wanted else list(combinations(fig.lines, 2)):
        outcome = follows(fig, given, f"{l} ∥ {m}")
        if outcome.verdict == "givens conflict":
            return Verdict(False, False, "givens conflict", say("angles.conflict"))
        if outcome.verdict == "follows":
            key = "none_wrong" if wanted else "none_wrong_any"
            return Verdict(
                ok=False,
                done=False,
                code="enough",
                text=say(f"angles.{key}", l=l, m=m),
                parts=[{"field": "none", "ok": False, "text": say(f"angles.{key}", l=l, m=m)}],
                skills={"is-it-enough": False},
                misconception="enough-taken-for-not",
            )
    other = None if wanted is None else other_figure(fig, given, wanted)
    l, m = wanted or ("", "")
    key = "none_right_any" if wanted is None else "none_right" if other is None else "none_right_shown"
    text = say(f"angles.{key}", l=l, m=m)
    return Verdict(
        ok=True,
        done=True,
        code="not enough",
        text=text,
        parts=[{"field": "none", "ok": True, "text": text}],
        score=1.0,
        skills={"is-it-enough": True},
        figure=other,
    )


def other_figure(fig: Figure, given: tuple[str, ...], lines: tuple[str, str]) -> dict[str, object] | None:
    """A figure with all that is given in which the two lines aren't parallel, where one was found."""
    found = follows(fig, given, f"{lines[0]} ∥ {lines[1]}").counterexample
    return figure_to_json(found.figure) if found is not None and found.figure is not None else None


def answers(task: Justify, ctx: Context) -> Iterator[Argument]:
    """Every complete argument that the task accepts, those whose relation is given as it stands first."""
    fig, given, wanted = task.figure, task.given, task.lines
    found = []
    for a, b in combinations(fig.angles, 2):
        pair = name_pair(fig, a, b)
        if pair.relation is None or pair.lines is None or pair.transversal is None:
            continue
        if wanted is not None and set(wanted) != set(pair.lines):
            continue
        theorem = CONVERSES[pair.pair]
        argument = Argument(fig, given, wanted, a, b, pair.pair, pair.transversal, pair.relation, pair.lines, theorem)
        if argument.verdict(given) == "follows":
            found.append(argument)
    yield from sorted(found, key=lambda argument: not argument.direct)


def key(task: Justify | Source, ctx: Context) -> dict[str, object]:
    """Every argument that is accepted, the most direct one first; or that none is."""
    task = task_as(Justify, task)
    found = [
        {
            "angles": [one.a, one.b],
            "pair": one.pair,
            "transversal": one.transversal,
            "relation": one.relation,
            "lines": list(one.lines),
            "theorem": one.theorem,
            "text": say(
                "angles.key",
                relation=relation_words(one.a, one.b, one.relation),
                name=pair_word(one.pair),
                t=one.transversal,
                l=one.lines[0],
                m=one.lines[1],
                theorem=theorem(one.theorem),
            ),
        }
        for one in answers(task, ctx)
    ]
    text = found[0]["text"] if found else say("angles.key_none")
    return {"none": not found, "accepted": found, "text": text}


def ask(task: Justify | Source, what: str, body: Mapping[str, object], ctx: Context) -> Mapping[str, object]:
    """Hints, three levels: where to look, which principle, the first step shown."""
    task = task_as(Justify, task)
    level = body.get("level")
    if not isinstance(level, int) or isinstance(level, bool) or not 1 <= level <= 3:
        raise Fault("angles.hint_wanted", "level")
    first = next(answers(task, ctx), None)
    if first is None:
        return {"level": level, "text": say(f"angles.hint_none_{level}")}
    fields = {"a": angle(first.a), "b": angle(first.b), "t": first.transversal}
    hint: dict[str, object] = {"level": level, "text": say(f"angles.hint_{level}", **fields)}
    if level == 3:
        hint["marks"] = {"angles": {name: {"arcs": 1, "tone": "given"} for name in (first.a, first.b)}}
    return hint
