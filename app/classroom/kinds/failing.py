"""What fails in an argument that two lines are parallel, part by part, each with its sentence.

Whether what is given makes the relation hold is decided exactly, never read off the drawing.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass

from app.classroom.kinds.argument import CONVERSES, LOOKS, ORIGINALS, Argument
from app.classroom.kinds.on_figure import angle, lie, needs, pair_word, sides
from app.classroom.verdict import Context
from app.figure.model import figure_to_json
from app.figure.numbers import decimal_text
from app.reasoning.follows import follows
from app.words import Text, joined, say, theorem
from app.words import term as word_of

__all__ = ["Failing", "failures", "relation_words"]


@dataclass(frozen=True)
class Failing:
    """One part that fails: its field, a code, the sentence, and the habit that it shows, if it shows one."""

    field: str
    code: str
    text: Text
    misconception: str | None = None
    figure: Mapping[str, object] | None = None


def relation_words(a: str, b: str, relation: str) -> Text:
    """The relation as a student reads it."""
    if relation == "congruent":
        return f"∠{a} ≅ ∠{b}"
    return say("angles.are_supplementary", a=angle(a), b=angle(b), word=word_of(relation))


def failures(argument: Argument, ctx: Context) -> Iterator[Failing]:
    """Every part that fails. Where the angles are no pair at all, nothing else can be judged."""
    if argument.theorem == LOOKS:
        yield Failing("theorem", LOOKS, say("angles.looks"), LOOKS)
    none = no_pair(argument, ctx)
    if none is not None:
        yield none
        return
    yield from wrong_transversal(argument, ctx)
    yield from wrong_name(argument, ctx)
    yield from wrong_lines(argument)
    yield from wrong_relation(argument, ctx)
    if argument.theorem != LOOKS:
        yield from wrong_theorem(argument, ctx)
    if argument.relation == argument.actual.relation:
        yield from not_given(argument, ctx)


def no_pair(argument: Argument, ctx: Context) -> Failing | None:
    """The two angles are not a pair that a theorem about parallel lines speaks of."""
    a, b, pair = argument.a, argument.b, argument.actual
    fields = {"a": angle(a), "b": angle(b)}
    if argument.fig.angles[a].at == argument.fig.angles[b].at:
        at = argument.fig.angles[a].at
        key = {"vertical": "one_meet_vertical", "linear pair": "one_meet_linear"}.get(pair.pair, "one_meet")
        return Failing("angles", "one meet", say(f"angles.{key}", **fields, at=at), "always-true-pair")
    if pair.transversal is None:
        one, other = sides(argument.fig, a), sides(argument.fig, b)
        told = say("angles.no_transversal", **fields, one=one, other=other)
        return Failing("angles", "no shared transversal", told, "wrong-transversal")
    if pair.relation is None:
        told = say("angles.no_name", lie=lie(a, b, pair, named=False))
        return Failing("angles", "no named pair", told, "wrong-pair-name")
    return None


def wrong_transversal(argument: Argument, ctx: Context) -> Iterator[Failing]:
    actual = argument.actual
    if argument.transversal == actual.transversal:
        return
    a, b = argument.a, argument.b
    text = say(
        "angles.transversal",
        a=angle(a),
        b=angle(b),
        named=argument.transversal,
        t=actual.transversal,
        one=sides(argument.fig, a),
        other=sides(argument.fig, b),
    )
    yield Failing("transversal", "wrong transversal", text, "wrong-transversal")


def wrong_name(argument: Argument, ctx: Context) -> Iterator[Failing]:
    actual = argument.actual
    if argument.pair == actual.pair:
        return
    told = lie(argument.a, argument.b, actual)
    text = say("angles.pair", lie=told, named=pair_word(argument.pair), need=needs(argument.pair))
    yield Failing("pair", "wrong pair name", text, "wrong-pair-name")


def wrong_lines(argument: Argument) -> Iterator[Failing]:
    actual = argument.actual
    assert actual.lines is not None
    l, m = actual.lines
    fields = {"a": angle(argument.a), "b": angle(argument.b), "l": l, "m": m, "t": str(actual.transversal)}
    if set(argument.lines) != {l, m}:
        named = dict(zip(("n1", "n2"), argument.lines, strict=True))
        key = "lines_transversal" if actual.transversal in argument.lines else "lines"
        yield Failing("lines", "wrong lines", say(f"angles.{key}", **fields, **named), "wrong-lines")
    elif argument.wanted is not None and set(argument.wanted) != {l, m}:
        w1, w2 = argument.wanted
        text = say("angles.other_lines", **fields, w1=w1, w2=w2)
        yield Failing("lines", "other lines", text, "wrong-lines")


def wrong_relation(argument: Argument, ctx: Context) -> Iterator[Failing]:
    """Congruent where only supplementary helps, or the reverse; and whether the one named is even true."""
    actual = argument.actual
    if argument.relation == actual.relation:
        return
    a, b = argument.a, argument.b
    word, other = word_of(argument.relation), word_of(str(actual.relation))
    told = lie(a, b, actual)
    fields = {"lie": told, "word": word, "other": other}
    key = "relation_true" if argument.verdict(argument.given) == "follows" else "relation"
    code = f"{argument.relation} for {actual.relation}"
    habit = "equal-for-supplementary" if argument.relation == "congruent" else "supplementary-for-equal"
    relation = relation_words(a, b, argument.relation)
    yield Failing("relation", code, say(f"angles.{key}", **fields, relation=relation), habit)


def wrong_theorem(argument: Argument, ctx: Context) -> Iterator[Failing]:
    """The original for its converse; the theorem of another pair; a theorem that doesn't end in parallels."""
    pair, named = argument.actual.pair, argument.theorem
    if named == CONVERSES[pair]:
        return
    l, m = argument.actual.lines or ("", "")
    fields = {"named": theorem(named), "name": pair_word(pair), "l": l, "m": m}
    if named == ORIGINALS[pair]:
        text = say("angles.original", **fields)
        yield Failing("theorem", "original for converse", text, "original-for-converse")
        return
    others = {theorem: other for table in (ORIGINALS, CONVERSES) for other, theorem in table.items()}
    if named not in others:
        yield Failing("theorem", "no converse", say("angles.theorem_none", **fields), "wrong-theorem")
        return
    told = lie(argument.a, argument.b, argument.actual)
    spoken = pair_word(others[named])
    text = say("angles.theorem_other", named=fields["named"], spoken=spoken, lie=told)
    if named in CONVERSES.values():
        yield Failing("theorem", "another converse", text, "wrong-theorem")
    else:
        text = joined("sentences", (text, say("angles.original_too")))
        yield Failing("theorem", "original of another pair", text, "original-for-converse")


def not_given(argument: Argument, ctx: Context) -> Iterator[Failing]:
    """The argument is in order, but what is given doesn't make the two angles so."""
    outcome = follows(argument.fig, argument.given, argument.claim)
    if outcome.verdict == "follows":
        return
    relation = relation_words(argument.a, argument.b, argument.relation)
    l, m = argument.actual.lines or ("", "")
    fields = {"relation": relation, "l": l, "m": m}
    if outcome.verdict == "givens conflict":
        yield Failing("given", "givens conflict", say("angles.conflict"))
        return
    if outcome.verdict == "cannot be":
        yield Failing("given", "cannot be", say("angles.cannot_be", **fields), "unsupported-relation")
        return
    other = outcome.counterexample
    drawn = other.figure if other is not None else None
    if other is None or drawn is None:
        yield Failing("given", "not given", say("angles.not_given", **fields), "unsupported-relation")
        return
    x, y = (decimal_text(other.measures[name]) for name in (argument.a, argument.b))
    text = say("angles.not_given_shown", **fields, a=angle(argument.a), b=angle(argument.b), x=x, y=y)
    yield Failing("given", "not given", text, "unsupported-relation", figure_to_json(drawn))
