"""An answer to an item: read into values, compared with the key, and a known mistake named."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction
from itertools import product
from typing import Any

from app.figure.faults import Fault, shown
from app.figure.model import figure_from_json
from app.figure.numbers import show_number
from app.practice.answers import read_measure
from app.practice.breaking import read_reply, seen
from app.practice.items import LETTER, NONE, Field, Item
from app.practice.misconceptions import MISCONCEPTIONS, note, recognise
from app.practice.sentences import explain, part_text, read_sentence, value_of, written
from app.reasoning.check import check
from app.words import LANGUAGES, Reader, Text, joined, render, say
from app.words.house import House
from app.words.house import house as house_of

__all__ = ["Judged", "judge", "key_shown", "order_holds", "read_answer"]

MOST_TEXT = 200


@dataclass(frozen=True, slots=True)
class Judged:
    right: bool
    note: Text
    misconception: str | None = None
    parts: tuple[dict[str, Any], ...] = ()
    follow: tuple[str, int] | None = None
    score: Fraction = field(default_factory=Fraction)


def judge(item: Item, answer: object, house: House | None = None) -> Judged:
    """What is said of an answer. Raises Fault when it can't be read, or a field is missing."""
    if "breaks" in item.facts:
        return _judge_figure(item, answer)
    values = read_answer(item, answer, house or house_of())
    parts = []
    good = 0
    for f in item.fields:
        if f.name not in values:
            continue
        ok = _matches(item, f, values[f.name])
        good += ok
        parts.append({"field": f.name, "ok": ok, "text": _part_text(item, f, values[f.name], ok)})
    right = all(p["ok"] for p in parts)
    score = Fraction(good, len(parts))
    if right:
        # Where one step leads to the next, the first alone would not say why; and a converse that is printed
        # without a word on its truth would seem to be claimed.
        whole = item.facts.get("steps") or item.family == "connect"
        why = joined("sentences", item.working) if whole else item.working[0]
        return Judged(True, say("practice.right", why=why), parts=tuple(parts), score=score)
    known = recognise(item, values)
    follow = MISCONCEPTIONS[known].follow if known is not None else None
    if item.fields[0].kind == "sentence":
        # What was done to which part says more than the mistake's own note.
        text = explain(values["sentence"], item.facts["wanted"])
        return Judged(False, text, known, tuple(parts), follow, score)
    if known is not None:
        return Judged(False, note(known), known, tuple(parts), follow, score)
    wrong = next(p["field"] for p in parts if not p["ok"])
    label = next(f.label for f in item.fields if f.name == wrong)
    code = "wrong_part" if len(parts) > 1 else "wrong"
    return Judged(False, say(f"practice.{code}", label=label, hint=item.hints[0]), parts=tuple(parts), score=score)


_CASES = {
    "yes-yes": "example-for-counterexample",
    "no-yes": "counterexample-to-converse",
    "no-no": "neither-for-counterexample",
}


def _judge_figure(item: Item, answer: object) -> Judged:
    """A counterexample that was made: which of the two conditions holds in it, and what is seen there."""
    breaks = item.facts["breaks"]
    found = read_reply(breaks, item.figure or {}, answer, "answer")
    told = [
        say(
            "connect.if_holds" if found.hypothesis else "connect.if_fails",
            seen=seen(found.fig, breaks.hypothesis, found.angles),
        ),
        say(
            "connect.then_holds" if found.conclusion else "connect.then_fails",
            seen=seen(found.fig, breaks.conclusion, found.angles),
        ),
    ]
    oks = [found.hypothesis, not found.conclusion]
    parts = tuple({"field": f, "ok": ok, "text": text} for f, ok, text in zip(("if", "then"), oks, told, strict=True))
    if all(oks):
        return Judged(True, say("connect.counter_right", first=told[0], last=told[1]), parts=parts, score=Fraction(1))
    known = _CASES[found.case]
    text = say("connect.counter_wrong", first=told[0], last=told[1])
    return Judged(False, text, known, parts, MISCONCEPTIONS[known].follow, Fraction(sum(oks), 2))


def _part_text(item: Item, f: Field, value: str, ok: bool) -> Text:
    if f.kind == "sentence" and not ok:
        return part_text(value, item.facts["wanted"])
    return say("practice.part_right" if ok else "practice.part_wrong")


def read_answer(item: Item, answer: object, house: House) -> dict[str, str]:
    """Field name → value. The bare answer stands for the one field that must be filled.

    Raises Fault: unknown field, missing field, a choice that isn't offered, a number that can't be read.
    """
    required = [f for f in item.fields if not f.optional]
    if not isinstance(answer, Mapping):
        if len(required) != 1:
            raise Fault("practice.answer_fields", "answer", fields=_names(required))
        answer = {required[0].name: answer}
    known = {f.name: f for f in item.fields}
    for name in answer:
        if name not in known:
            raise Fault(
                "practice.answer_unknown",
                f"answer.{shown(name)}",
                field=shown(name),
                fields=_names(item.fields),
            )
    values: dict[str, str] = {}
    for f in item.fields:
        given = answer.get(f.name)
        if f.needless and values.get(f.needless[0]) == f.needless[1]:
            values[f.name] = NONE
        elif given is None or given == "":
            if not f.optional:
                raise Fault("practice.answer_missing", f"answer.{f.name}", label=f.label)
        else:
            values[f.name] = _read(item, f, given, house)
    return values


def _names(fields: object) -> str:
    return ", ".join(f.name for f in fields)  # type: ignore[attr-defined]


def _read(item: Item, f: Field, given: object, house: House) -> str:
    where = f"answer.{f.name}"
    if f.kind == "number":
        if f.none and isinstance(given, str) and given.strip().casefold() in {NONE, *_said(f.none, house)}:
            return NONE
        try:
            return str(read_measure(given, f.label if isinstance(f.label, str) else "", where))
        except Fault as fault:  # named as the page names the field
            raise Fault("practice.in_field", where, label=f.label, text=fault.message) from fault
    if f.kind == "order":
        return ",".join(_order(item, given, where))
    if f.kind == "sentence":
        return _from_tiles(item, given, house) or read_sentence(given, item.facts["parts"], where)
    return _choice(f, given, house, where, item.also.get(f.name, ()))


def _choice(f: Field, given: object, house: House, where: str, also: Sequence[str] = ()) -> str:
    if isinstance(given, int) and not isinstance(given, bool) and 0 <= given < len(f.choices):
        return f.choices[given].value
    if isinstance(given, str) and len(given) <= MOST_TEXT:
        text = given.strip().casefold()
        for i, c in enumerate(f.choices):
            if text in {c.value.casefold(), *_said(c.text, house)} or (f.sealed and given.strip() == LETTER[i]):
                return c.value
        # A theorem that isn't offered but is right all the same can be written.
        theorem = text if text in also else house.accepts(given)
        if theorem in {*(c.value for c in f.choices), *also}:
            return str(theorem)
    raise Fault(
        "practice.answer_choice",
        where,
        label=f.label,
        found=shown(given),
        choices=joined("semicolon", (c.text for c in f.choices)),
    )


def _from_tiles(item: Item, given: object, house: House) -> str | None:
    """The value of a sentence that is put together from the page's own parts, in whatever language the page has."""
    if not isinstance(given, str) or len(given) > MOST_TEXT or "clauses" not in item.facts:
        return None
    wanted = " ".join(given.casefold().split())
    parts = [(sign, name, clause) for name, clause in item.facts["clauses"].items() for sign in "+-"]
    for connective, (one, h, first), (two, c, last) in product(("if", "iff"), parts, parts):
        text = written(connective, first.text(one == "-", False), last.text(two == "-", True))
        if wanted in _said(text, house):
            return value_of(connective, one + h, two + c)
    return None


def _said(text: Text, house: House) -> set[str]:
    """A text as a page may have shown it, in any language, for comparing with what was sent."""
    return {render(text, Reader(language, house.key)).casefold() for language in LANGUAGES}


def _order(item: Item, given: object, where: str) -> list[str]:
    labels = [str(row["label"]) for row in item.rows]
    if not isinstance(given, (list, tuple)) or sorted(map(str, given)) != sorted(labels):
        raise Fault("practice.answer_order", where, labels=", ".join(labels))
    return [str(label) for label in given]


def _matches(item: Item, f: Field, value: str) -> bool:
    accepted = (*item.key.get(f.name, ()), *item.also.get(f.name, ()))
    if f.kind == "order":
        return order_holds(item, value.split(","))
    if f.kind == "number" and value != NONE:
        return any(k != NONE and Fraction(k) == Fraction(value) for k in accepted)
    return value in accepted


def order_holds(item: Item, labels: list[str]) -> bool:
    """The goal last, and each row follows by its reason from those above it: the one judge of proofs says so."""
    if labels[-1] != item.facts["goal"] or item.figure is None:
        return False
    rows = [dict(zip(("statement", "reason"), item.facts["rows"][label], strict=True)) for label in labels]
    said = check(figure_from_json(dict(item.figure)), list(item.given), rows[-1]["statement"], rows)
    return all(row.verdict == "follows" for row in said.rows)


def key_shown(item: Item) -> dict[str, Any]:
    """The key as a person or a script reads it: numbers as numbers, choices by their value."""
    if "breaks" in item.facts:
        return {f.name: item.facts["example"][f.name] for f in item.fields}
    found: dict[str, Any] = {}
    for f in item.fields:
        first = item.key[f.name][0]
        if f.kind == "number" and first != NONE:
            found[f.name] = show_number(Fraction(first))
        elif f.kind == "order":
            found[f.name] = first.split(",")
        elif f.kind == "sentence":
            found[f.name] = item.facts["sentence"]
        else:
            found[f.name] = first
    return found
