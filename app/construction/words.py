"""A construction in words: each move one sentence, each object one name that a reader can follow."""

from __future__ import annotations

from typing import TypedDict

from app.construction.bench import Recipe
from app.construction.moves import Move, Program
from app.words import Message, Text, say

__all__ = ["Caption", "captions", "object_words", "sentence", "sentences"]


def object_words(program: Program, name: str) -> Text:
    """What a reader calls an object: "ray VP", "line t", "the arc about V"."""
    arc = next((move for move in program.moves if move.name == name and move.op == "arc"), None)
    if arc is None:
        kind = program.kind(name) or "line"
        given = program.start.objects.get(name)
        drawn = any(move.name == name for move in program.moves)
        letters = "".join(given[1:]) if given and not drawn else name
        return name if kind == "point" else say(f"construction.{kind}", name=letters)
    about = [move for move in program.moves if move.op == "arc" and move.center == arc.center]
    if len(about) == 1:
        return say("construction.arc", center=arc.center)
    a, b = arc.opening or ("", "")
    return say("construction.arc_opening", center=arc.center, a=a, b=b)


def sentence(program: Program, index: int) -> Message:
    """One move as a sentence. An opening that is carried from the arc before is said to be kept."""
    move = program.moves[index]
    if move.op == "arc":
        return arc_sentence(program, index, move)
    key = f"construction.move_{move.op}"
    if move.op == "meet":
        one, two = (object_words(program, name) for name in move.of)
        return say(key, name=move.name, one=one, two=two)
    if move.op == "on":
        return say(key, name=move.name, of=object_words(program, move.of[0]))
    a, b = move.through or ("", "")
    return say(key, name=move.name, a=a, b=b)


def arc_sentence(program: Program, index: int, move: Move) -> Message:
    a, b = move.opening or ("", "")
    before = [m for m in program.moves[:index] if m.op == "arc"]
    # The same two points the other way round is a compass opened anew, as one that collapses has to be.
    if before and before[-1].opening == (a, b):
        return say("construction.move_arc_kept", center=move.center, a=a, b=b)
    if move.center in (a, b):
        other = b if move.center == a else a
        return say("construction.move_arc_there", center=move.center, b=other)
    return say("construction.move_arc", center=move.center, a=a, b=b)


def sentences(program: Program) -> list[Message]:
    """Every move in words, in order."""
    return [sentence(program, i) for i in range(len(program.moves))]


class Caption(TypedDict):
    """A named step of a recipe; `upto` is how many moves are done after it."""

    name: Message
    caption: Message
    upto: int


def captions(recipe: Recipe) -> list[Caption]:
    """The named steps of a recipe."""
    return [
        {
            "name": say(f"construction.title_{step.key}"),
            "caption": say(f"construction.step_{step.key}", **step.names),
            "upto": step.upto,
        }
        for step in recipe.steps
    ]
