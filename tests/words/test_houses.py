"""The Spanish houses: names that can't be taken for the pairs' own, a choice of the pair names, and what is accepted."""

from __future__ import annotations

import pytest

from app.words.house import HOUSES

SPANISH = [key for key, house in HOUSES.items() if house.lang == "es"]
PAIRS = (
    "corresponding",
    "alternate interior",
    "alternate exterior",
    "consecutive interior",
    "consecutive exterior",
    "vertical",
)


def test_classes_may_choose_how_angles_on_one_side_are_called() -> None:
    assert [HOUSES[key].term("consecutive interior") for key in SPANISH] == [
        "ángulos conjugados internos",
        "ángulos internos del mismo lado",
        "ángulos colaterales internos",
    ]


@pytest.mark.parametrize("key", SPANISH)
def test_a_theorem_and_its_pair_have_two_names(key: str) -> None:
    house = HOUSES[key]
    for pair in PAIRS:
        theorem = f"{pair.replace(' ', '-')}-angles"
        term = house.term(pair)
        assert house.name(theorem).casefold() != term
        assert house.name(theorem).endswith(f"de los {term}")
        if pair != "vertical":
            original = house.name(theorem)
            assert house.name(f"{theorem}-converse") == f"Recíproco del {original[0].lower()}{original[1:]}"


@pytest.mark.parametrize("key", SPANISH)
def test_a_name_takes_the_article_of_its_first_word(key: str) -> None:
    house = HOUSES[key]
    assert house.form("alternate-interior-angles", "the") == "el teorema de los ángulos alternos internos"
    assert house.form("definition-of-bisector", "The") == "La definición de bisectriz"
    assert house.form("linear-pair", "of") == "del postulado del par lineal"
    assert house.form("reflexive", "of") == "de la propiedad reflexiva"
    assert house.form("algebra", "the") == "álgebra"
    assert house.form("exterior-angle", "low") == "teorema del ángulo exterior"


@pytest.mark.parametrize("key", [*SPANISH, "us"])
@pytest.mark.parametrize(
    ("written", "meant"),
    [
        ("ángulos internos del mismo lado", "consecutive-interior-angles"),
        ("Recíproco de los ángulos colaterales internos", "consecutive-interior-angles-converse"),
        ("reciproco de los alternos internos", "alternate-interior-angles-converse"),
        (
            "Si los ángulos consecutivos internos son suplementarios, entonces las rectas son paralelas",
            "consecutive-interior-angles-converse",
        ),
        ("opuestos por el vértice", "vertical-angles"),
        ("Dato", "given"),
        ("sustitución", "substitution"),
        ("Todos los ángulos rectos son congruentes", "right-angles-congruent"),
    ],
)
def test_what_a_student_writes_in_spanish_is_understood_in_any_house(key: str, written: str, meant: str) -> None:
    assert HOUSES[key].accepts(written) == meant


@pytest.mark.parametrize("key", SPANISH)
def test_every_name_and_short_name_is_read_back(key: str) -> None:
    house = HOUSES[key]
    for theorem in house.names:
        assert house.accepts(house.name(theorem)) == theorem
        assert house.accepts(house.short(theorem)) == theorem
