"""Every task of every shipped pack is done right once, through the judge that students meet, and accepted;
and no task tells a Seat its key.

The right replies come from the core (pair names, the prover, the recipes, turning a line), not from what a
kind's module says is right, wherever the core can give one.
"""

from __future__ import annotations

import json
from fractions import Fraction
from pathlib import Path
from typing import Any

import pytest

from app.classroom.kinds import kind_module
from app.classroom.verdict import Context, Verdict
from app.construction.moves import moves_to_json
from app.construction.recipes import recipe
from app.construction.start import read_start
from app.figure.model import figure_from_json, figure_to_json
from app.figure.pairs import name_pair
from app.lessons.load import load_pack
from app.reasoning.drawn import holds_as_drawn
from app.reasoning.follows import follows
from app.reasoning.prover import prove
from app.reasoning.statements import read_statement
from app.words.house import HOUSES, house
from app.words.message import plain
from app.words.rendering import render

PACKS = Path(__file__).resolve().parents[2] / "lesson_packs"
TASKS = [
    pytest.param(task, id=f"{folder.parent.name}/{task.id}")
    for folder in sorted(PACKS.glob("*/pack.toml"))
    for task in load_pack(folder.parent).tasks()
]
SEEDS = (7, 20251125)


def context(seed: int = 7, history: list[dict[str, Any]] | None = None, words: str = "us") -> Context:
    return Context(seed=seed, house=house(words), profile="postulate", history=history or [])


def explore(task: dict[str, Any], ctx: Context) -> dict[str, Any]:
    """Turn one movable line by whole degrees until everything to be reached is so."""
    reply: dict[str, Any] = {"figure": task["figure"]}
    if task["question"]:
        reply["answer"] = task["question"]["answer"]
    if not task["reach"]:
        return reply
    for line in task["movable"]:
        for turn in range(-30, 31):
            figure = json.loads(json.dumps(task["figure"]))
            figure["lines"][line]["direction"] = (
                figure["lines"][line]["direction"] + turn
            ) % 360  # past flat, + and - stay where they were
            for meet in figure["meets"].values():
                meet.pop("at", None)
            fig = figure_from_json(figure)
            if all(holds_as_drawn(fig, [], read_statement(text, fig)) for text in task["reach"]):
                return {**reply, "figure": figure_to_json(fig)}
    raise AssertionError(f"{task['reach']} can't be reached within 30 degrees")


def classify(task: dict[str, Any], ctx: Context) -> dict[str, Any]:
    fig = figure_from_json(task["figure"])
    if task["find"]:
        names = list(fig.angles)
        pairs = [
            [a, b] for i, a in enumerate(names) for b in names[i + 1 :] if name_pair(fig, a, b).pair == task["find"]
        ]
        return {"found": pairs[: task["count"]]}
    named = {f"{a},{b}": name_pair(fig, a, b) for a, b in task["pairs"]}
    return {
        "names": {key: pair.pair for key, pair in named.items()},
        "transversals": {key: pair.transversal for key, pair in named.items()},
    }


def justify(task: dict[str, Any], ctx: Context) -> dict[str, Any]:
    if task["expect"] == "not enough":
        return {"none": True}
    fig = figure_from_json(task["figure"])
    names = list(fig.angles)
    for a in names:
        for b in names:
            pair = name_pair(fig, a, b)
            if a == b or pair.relation is None or pair.lines is None:
                continue
            if task["lines"] and set(task["lines"]) != set(pair.lines):
                continue
            claim = f"∠{a} ≅ ∠{b}" if pair.relation == "congruent" else f"∠{a} and ∠{b} are supplementary"
            if follows(fig, task["given"], claim).verdict == "follows":
                return {
                    "angles": [a, b],
                    "pair": pair.pair,
                    "transversal": pair.transversal,
                    "relation": pair.relation,
                    "lines": list(pair.lines),
                    "theorem": f"{pair.pair.replace(' ', '-')}-angles-converse",
                }
    raise AssertionError("no pair of angles proves lines parallel")


def proof(task: dict[str, Any], ctx: Context) -> dict[str, Any]:
    fig = figure_from_json(task["figure"])
    if task["support"] == "worked":
        return {"read": True}
    if not task["possible"]:
        other = follows(fig, task["given"], task["goal"]).counterexample
        assert other is not None and other.figure is not None
        return {"not_forced": True, "figure": figure_to_json(other.figure)}
    if task["proof"]:
        return {"rows": task["proof"]}
    return {"rows": prove(fig, task["given"], task["goal"], bar=task["bar"])[0].to_json()}


def construct(task: dict[str, Any], ctx: Context) -> dict[str, Any]:
    # Another opening than the demonstration's: any opening works.
    made = recipe(
        read_start(task["construction"], task["start"]), task["route"], opening=Fraction(2, 5), compass=task["compass"]
    )
    return {"moves": moves_to_json(made.moves), "result": made.result}


def item(task: dict[str, Any], ctx: Context) -> dict[str, Any]:
    key = kind_module(task["kind"]).key(task, ctx)["key"]
    return {"answer": key}


REPLIES = {
    "explore": explore,
    "classify": classify,
    "justify": justify,
    "prove": proof,
    "construct": construct,
    "solve": item,
    "connect": item,
    "practice": item,
}


def judged(task: dict[str, Any], reply: dict[str, Any], ctx: Context) -> Verdict:
    # As it arrives: plain JSON.
    verdict: Verdict = kind_module(task["kind"]).judge(task, json.loads(json.dumps(reply, default=plain)), ctx)
    return verdict


@pytest.mark.parametrize("seed", SEEDS)
@pytest.mark.parametrize("task", TASKS)
def test_the_right_reply_is_accepted(task: Any, seed: int) -> None:
    history: list[dict[str, Any]] = []
    for _ in range(task.data.get("count") or 1 if task.kind == "practice" else 1):
        ctx = context(seed, history)
        reply = REPLIES[task.kind](task.data, ctx)
        verdict = judged(task.data, reply, ctx)
        assert verdict.ok, verdict.text
        assert render(verdict.text).strip()
        history.append({"reply": reply, "verdict": verdict.as_json()})
    assert verdict.done
    assert verdict.score == 1.0


@pytest.mark.parametrize("task", TASKS)
def test_the_seat_is_shown_the_task_and_not_its_key(task: Any) -> None:
    """Field by field, in every house."""
    for words in HOUSES:
        shown = kind_module(task.kind).public(task.data, context(words=words))

        text = json.dumps(shown, ensure_ascii=False, default=plain)  # as `dump` of the web says messages
        assert shown["id"] == task.id and shown["title"] and shown["ask"]
        assert not {"expect", "possible", "proof", "notes"} & set(shown)
        if task.data.get("question"):
            assert task.data["question"]["why"] not in text
            assert "answer" not in shown["question"]


@pytest.mark.parametrize("task", [p for p in TASKS if p.values[0].kind in ("justify", "prove")])
def test_the_opposite_answer_is_refused_with_a_reason(task: Any) -> None:
    """“Not enough” where it is enough; a row that isn't forced where it isn't."""
    data = task.data
    if task.kind == "prove" and data["support"] == "worked":
        return
    if task.kind == "justify":
        reply = (
            {"none": True}
            if data["expect"] == "parallel"
            else {
                "angles": ["3", "6"],
                "pair": "alternate interior",
                "transversal": "t",
                "relation": "congruent",
                "lines": ["m", "n"],
                "theorem": "alternate-interior-angles-converse",
            }
        )
    elif data["possible"]:
        reply = {"not_forced": True, "figure": data["figure"]}
    else:
        given = [{"statement": text, "reason": "given"} for text in data["given"]]
        reply = {"rows": [*given, {"statement": data["goal"], "reason": "corresponding-angles-converse"}]}

    verdict = judged(data, reply, context())

    assert not verdict.ok
    assert len(render(verdict.text).split()) >= 5
