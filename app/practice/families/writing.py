"""Write a relative of a statement as a sentence: its converse, inverse, contrapositive or biconditional."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import replace
from fractions import Fraction

from app.practice.certify import NotCertified
from app.practice.chance import Chance
from app.practice.clauses import Atom, Names
from app.practice.drawing import Drawn, draw_lines, turn_of
from app.practice.families.common import check_traps
from app.practice.families.conditionals import Clause, Conditional, propose
from app.practice.items import Field, Item
from app.practice.sentences import FORMS, Parts, read_sentence, value_of, written
from app.words import ENGLISH, Message, joined, render, say, term
from app.words.house import House

__all__ = ["LEVEL", "write"]

LEVEL = 5
_KINDS = ("relation", "relation", "words", "words", "two", "measures", "perpendicular")
# mistake → the form that is written, by the form that is asked for
_TAKEN = {
    "converse": {"inverse-for-converse": "inverse", "contrapositive-for-converse": "contrapositive"},
    "inverse": {"converse-for-inverse": "converse"},
    "contrapositive": {"converse-for-contrapositive": "converse", "inverse-for-contrapositive": "inverse"},
    "biconditional": {"one-way-for-both": "statement"},
}


def write(chance: Chance, seed: int, house: House) -> Item | None:
    kind = chance.pick(_KINDS)
    found = (
        _two_angles(chance, seed)
        if kind == "two"
        else propose(chance, seed, LEVEL, ("relation" if kind == "words" else kind,))
    )
    if kind == "words":
        found = _in_words(found, house)
    both = kind in ("relation", "words")
    wanted = chance.pick(
        ["converse", "inverse", "contrapositive", "contrapositive", *(["biconditional"] * 2 if both else [])]
    )
    if wanted == "biconditional" and not all(found.truth.values()):
        raise NotCertified(f"{found.sentence('statement')!r}: both ways should be true")
    sentences = {form: _sentence(found, form) for form in FORMS}
    parts = Parts(found.hypothesis.atoms, found.conclusion.atoms, _names(found))
    for form, sentence in sentences.items():
        if (read := read_sentence(render(sentence, ENGLISH), parts, "sentence")) != FORMS[form]:
            raise NotCertified(f"{sentence!r}: read as {read}, not {FORMS[form]}")
    key = {"sentence": (FORMS[wanted],)}
    prompt = say("practice.connect_prompt", sentence=sentences["statement"])
    if wanted == "biconditional":
        prompt = joined("sentences", (prompt, say("connect.both_true", sentence=sentences["converse"])))
    form_wanted = say(f"practice.form_{wanted}")
    return Item(
        family="connect",
        seed=seed,
        level=LEVEL,
        skill="biconditional" if wanted == "biconditional" else "direction",
        prompt=prompt,
        ask=say("connect.write_ask", form=form_wanted),
        fields=(Field("sentence", "sentence", say("connect.write_label"), more={"tiles": _tiles(chance, found)}),),
        figure=found.drawn.json,
        key=key,
        traps=check_traps(_traps(found, wanted), key) or {},
        working=(say(f"practice.connect_why_{wanted}"), sentences[wanted]),
        hints=(
            say("practice.connect_hint_1"),
            say(f"practice.connect_why_{wanted}"),
            say(
                f"practice.connect_hint_3_{wanted}", hypothesis=found.hypothesis.said, conclusion=found.conclusion.said
            ),
        ),
        facts={
            "parts": parts,
            "clauses": {"h": found.hypothesis, "c": found.conclusion},
            "wanted": wanted,
            "sentence": sentences[wanted],
            "pair": found.pair,
        },
    )


def _sentence(found: Conditional, form: str) -> Message:
    h, c = found.hypothesis, found.conclusion
    return (
        written("iff", h.text(False, False), c.text(False, True)) if form == "biconditional" else found.sentence(form)
    )


def _names(found: Conditional) -> Names:
    return Names(frozenset(found.fig.angles), frozenset(found.fig.lines))


def _traps(found: Conditional, wanted: str) -> dict[str, dict[str, str]]:
    traps = {mistake: FORMS[form] for mistake, form in _TAKEN[wanted].items()}
    swapped = {"inverse": ("h", "c"), "contrapositive": ("c", "h")}.get(wanted)
    if swapped:
        first, last = swapped
        traps["half-negated"] = "|".join(
            (value_of("if", "-" + first, "+" + last), value_of("if", "+" + first, "-" + last))
        )
        each = [p for p, clause in (("h", found.hypothesis), ("c", found.conclusion)) if len(clause.atoms) > 1]
        if each:
            traps["not-both-for-neither"] = value_of("if", *(("~" if p in each else "-") + p for p in swapped))
    if wanted == "biconditional":
        traps["one-way-for-both"] += "|" + FORMS["converse"]
    return {mistake: {"sentence": value} for mistake, value in traps.items()}


def _tiles(chance: Chance, found: Conditional) -> dict[str, object]:
    """The two clauses in any order, so that their places tell nothing, and the joints."""
    clauses = chance.shuffled([found.hypothesis, found.conclusion])
    return {
        "clauses": [
            {
                "said": c.said,
                "denied": c.not_said,
                **({"later": {"said": c.later[0], "denied": c.later[1]}} if c.later else {}),
            }
            for c in clauses
        ],
        "joints": [
            {
                "text": say(f"connect.tile_{joint}"),
                "sentence": say(f"connect.{joint}_sentence", first="{first}", last="{last}"),
            }
            for joint in ("if", "iff")
        ],
    }


def _in_words(found: Conditional, house: House) -> Conditional:
    """The same conditional with the pair by its name and "the lines"."""
    pair = term(found.pair)
    relation = next(a.kind for c in (found.hypothesis, found.conclusion) for a in c.atoms if a.kind != "parallel")

    def worded(clause: Clause) -> Clause:
        if clause.atoms[0].kind == "parallel":
            return replace(clause, said=say("connect.lines_parallel"), not_said=say("connect.lines_not_parallel"))
        return replace(
            clause,
            said=say(f"connect.pair_{relation}", pair=pair),
            not_said=say(f"connect.pair_not_{relation}", pair=pair),
        )

    return replace(found, hypothesis=worded(found.hypothesis), conclusion=worded(found.conclusion))


# Facts about two angles: the claims, and the angles of the standard numbering that show them.
_FACTS = (
    ("vertical", "congruent", "14"),
    ("linear", "supplementary", "12"),
    ("right", "congruent", "15"),
    ("right", "supplementary", "35"),
)
_CLAIM = {"linear": "linear pair"}


def _two_angles(chance: Chance, seed: int) -> Conditional:
    """ "If two angles are vertical angles, then they are congruent": the figure shows two such angles."""
    first, last, numbers = chance.pick(_FACTS)
    size = Fraction(90) if first == "right" else Fraction(chance.pick([n for n in range(40, 141) if abs(n - 90) > 12]))
    drawn: Drawn = draw_lines(
        chance,
        turn_of(seed, LEVEL, least=-30, most=30),
        number=numbers[0],
        angle=size,
        off=Fraction(0) if first == "right" else Fraction(chance.pick([-4, 4])),
        numbers=tuple(numbers),
    )
    return Conditional(drawn, _claim(first), _claim(last), *numbers)


def _claim(word: str) -> Clause:
    never: Callable[[int, int], bool] = lambda one, two: False  # noqa: E731
    said, later = ((say(f"connect.{who}_{word}"), say(f"connect.{who}_not_{word}")) for who in ("two", "they"))
    return Clause((), *said, never, (Atom(_CLAIM.get(word, word), noun="angles"),), later)
