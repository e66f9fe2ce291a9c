"""What a Spanish-speaking student writes is read as the same sentence in English would be."""

from __future__ import annotations

import itertools
from typing import Any

import pytest

from app.figure.faults import Fault
from app.practice.families import item
from app.practice.judging import judge
from app.practice.sentences import FORMS, Parts, read_sentence
from app.words import render, speak
from tests.practice.test_sentences import ALTERNATE, INSIDE, SIZES, SQUARE, TWO

SAYS: dict[str, tuple[Parts, dict[str, list[str]]]] = {
    "alternate": (ALTERNATE, {
        "+h": ["∠3 ≅ ∠6", "∠3 y ∠6 son congruentes", "los ángulos 3 y 6 son iguales", "el ángulo 3 es congruente con el ángulo 6",
               "los ángulos alternos internos son congruentes", "∠3 y ∠6 miden lo mismo", "alternos internos son congruentes"],
        "-h": ["∠3 y ∠6 no son congruentes", "los ángulos alternos internos no son congruentes", "no es cierto que ∠3 ≅ ∠6"],
        "+c": ["l ∥ m", "l es paralela a m", "las rectas l y m son paralelas", "las rectas son paralelas"],
        "-c": ["l ∦ m", "l no es paralela a m", "las rectas no son paralelas", "las rectas se cortan"],
    }),
    "inside": (INSIDE, {
        "+h": ["∠3 y ∠5 son suplementarios", "los ángulos conjugados internos son suplementarios", "la suma de ∠3 y ∠5 es 180 grados",
               "los ángulos internos del mismo lado son suplementarios", "los ángulos colaterales internos suman 180",
               "los ángulos consecutivos internos son suplementarios"],
        "-h": ["∠3 y ∠5 no son suplementarios"],
        "+c": ["a ∥ m", "a y m son paralelas", "m y a son paralelas", "a es paralela a m"], "-c": ["a no es paralela a m"],
    }),
    "square": (SQUARE, {
        "+h": ["t ⊥ a y t ⊥ m", "t es perpendicular a a y a m"],
        "-h": ["t no es perpendicular a la vez a a y a m"],
        "+c": ["a ∥ m"], "-c": ["a ∦ m"],
    }),
    "sizes": (SIZES, {
        "+h": ["m∠1 = 65° y m∠5 = 65°"],
        "-h": ["no se cumplen a la vez m∠1 = 65° y m∠5 = 65°"],
        "+c": ["a ∥ m"], "-c": ["a ∦ m"],
    }),
    "two": (TWO, {
        "+h": ["dos ángulos son opuestos por el vértice", "los dos ángulos son opuestos por el vértice"],
        "-h": ["dos ángulos no son opuestos por el vértice"],
        "+c": ["son congruentes", "dos ángulos son congruentes", "ellos son iguales"], "-c": ["no son congruentes"],
        "?": ["son suplementarios", "forman un par lineal", "no son ambos rectos"],
    }),
}  # fmt: skip
PUT = [
    ("Si {0}, entonces {1}.", "if"),
    ("si {0} entonces {1}", "if"),
    ("Si {0}, {1}.", "if"),
    ("{0} si y solo si {1}.", "iff"),
]


def cases() -> list[Any]:
    return [
        pytest.param(parts, pattern.format(one, other), joint, a, b, id=pattern.format(one, other))
        for parts, said in SAYS.values()
        for (a, ones), (b, others) in itertools.permutations(
            [(sign, texts) for sign, texts in said.items() if sign != "?"], 2
        )
        if {a[1:], b[1:]} == {"h", "c"}
        for one, other in zip(ones, itertools.cycle(others), strict=False)
        for pattern, joint in PUT
    ]


@pytest.mark.parametrize(("parts", "text", "joint", "first", "last"), cases())
def test_a_spanish_sentence_is_read(parts: Parts, text: str, joint: str, first: str, last: str) -> None:
    wanted = f"if:{first}>{last}" if joint == "if" else f"iff:{'='.join(sorted((first, last)))}"
    assert read_sentence(text, parts, "sentence") == wanted


@pytest.mark.parametrize(
    "text",
    [
        "",
        "son paralelas",
        "Si ∠3 ≅ ∠6",
        "Si ∠3 ≅ ∠6, entonces son azules",
        "Si ∠9 y ∠6 son congruentes, entonces l ∥ m",
    ],
)
def test_what_is_no_such_sentence_is_refused(text: str) -> None:
    with pytest.raises(Fault):
        read_sentence(text, ALTERNATE, "sentence")


def test_a_line_called_like_a_spanish_word_keeps_its_name_in_english() -> None:
    assert (
        read_sentence("If ∠3 and ∠5 are supplementary, then a is parallel to m", INSIDE, "sentence")
        == FORMS["statement"]
    )


@pytest.mark.parametrize("house", ["es", "es-same-side", "es-collateral"])
def test_the_spanish_key_of_every_item_is_right_and_its_statement_is_read(house: str) -> None:
    with speak("es"):
        for seed in range(24):
            made = item("connect", seed, 5, house)
            assert judge(made, {"sentence": render(made.working[-1])}).right, (house, seed)
