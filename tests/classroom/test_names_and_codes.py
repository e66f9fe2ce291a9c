"""Names (T-02, PD-1) and period codes (T-08)."""

from __future__ import annotations

import random

import pytest

from app.classroom import codes, names
from app.figure.faults import Fault
from app.words import LANGUAGES, Reader, catalogue, render
from tests.scale import trials

GOOD = [
    "Ana", "ANA", "José", "Jose\u0301", "Zoë", "Nguyễn", "O'Neill", "O’Neill", "Anne-Marie", "Li 3", "Ли", "李", "まり",
    "Ångström", "אנה", "آنا", "7", "A" * 24, "Ｌｉ", "Jean Luc", "ß", "Đặng", "Иван", "Ελένη", "محمد", "ñ", "हिंदी", "ที่", "한글",
]  # fmt: skip

# Tricks that would hide, impersonate, overflow or disfigure a projected list (T-02; the Unicode
# categories Cf, Cc, Zs, So, Mn, Me and the bidi controls are those of UAX #9 and UAX #31).
HIDDEN = ["\u200b", "\u200c", "\u200d", "\u2060", "\ufeff", "\u00ad", "\u180e", "\u034f", "\u115f", "\u1160", "\u3164", "\uffa0",
          "\u2061", "\u2062", "\u2063", "\u2064", "\u206a", "\u206f", "\U000e0001", "\U000e0061", "\ufe0f", "\ufe00"]  # fmt: skip
BIDI = [
    "\u202a",
    "\u202b",
    "\u202c",
    "\u202d",
    "\u202e",
    "\u2066",
    "\u2067",
    "\u2068",
    "\u2069",
    "\u200e",
    "\u200f",
    "\u061c",
]
CONTROL = [chr(c) for c in [*range(32), 127, *range(128, 160)]]
MARKUP = list('<>&"/\\`{}[]()|=+*^%$#@!?;:,._~') + ["\u2028", "\u2029", "\u00a0x\u2003"]
PICTURES = [
    "😀",
    "🖕",
    "🏳️‍🌈",
    "☺",
    "✔",
    "★",
    "①",
    "\U0001f1fa",
    "卐︎",
    "࿕",
    "\ufdfd",
    "\u0bf5",
    "\ue000",
    "\U000f0000",
    "\uffff",
    "\ufffd",
]
STACKED = [
    "Z\u0301\u0302",
    "a\u0300\u0301\u0302\u0303",
    "\u0301",
    "e\u20dd",
    "x\u0489",
    "o\u0338\u0336",
    "n\u1dd0\u1dd1",
]
WHOLE = [
    "",
    " ",
    "-",
    "'",
    "- -",
    "--",
    "a" * 25,
    "a  b",
    "\t",
    "\n",
    "Ana\n",
    "Ana\tLi",
    "²",
    "Ⅷ‮",
    "½ish/",
    "a\u0300\u0300" * 6,
]


def corpus() -> list[str]:
    tricks = (
        [f"An{c}a" for c in [*HIDDEN, *BIDI, *CONTROL, *MARKUP]]
        + [f"{c}Ana" for c in BIDI]
        + [f"Ana{c}x" for c in HIDDEN]
    )
    return [*tricks, *(f"A {p}" for p in PICTURES), *STACKED, *WHOLE]


@pytest.mark.parametrize("name", GOOD)
def test_names_of_many_scripts_pass(name: str) -> None:
    assert names.read_typed(name)


def test_two_hundred_tricks_are_refused() -> None:
    tricks = corpus()
    assert len(tricks) >= 200
    passed = [ascii(name) for name in tricks if not refused(name)]
    # These pass because folding makes them plain: a no-break space, a circled one, a superscript two.
    assert passed == [ascii("An\u00a0x\u2003a"), ascii("A ①"), ascii("²")]


def refused(name: str) -> bool:
    try:
        names.read_typed(name)
    except Fault as fault:
        assert fault.sentence() and fault.where == "typed"
        return True
    return False


def test_compatibility_forms_become_plain() -> None:
    assert names.read_typed("Ｌｉ") == "Li"
    assert names.read_typed("²") == "2"
    assert names.fold("JOSÉ  luc") == names.fold("jose Luc")


@pytest.mark.parametrize("name", ["rhombus:7", "midpoint:1"])
def test_offered_names_are_taken(name: str) -> None:
    assert names.read_word(name) == name


@pytest.mark.parametrize("name", [
    "Rhombus 7", "rhombus", "rhombus:", "rhombus:0", "rhombus:10", "rhombus:07", "idiot:7", "Rhombus:7", "rhombus:7 ", "7:rhombus",
    "rhombus:٧", "",
])  # fmt: skip
def test_no_other_is(name: str) -> None:
    with pytest.raises(Fault):
        names.read_word(name)


def test_offers_are_free_and_share_no_noun() -> None:
    taken: set[str] = set()
    for seed in range(340):
        offered = names.offers(seed, taken)
        assert len(offered) == 3 == len({name.split(":")[0] for name in offered})
        assert not {names.fold(name) for name in offered} & taken
        assert offered == names.offers(seed, taken)
        taken.add(names.fold(offered[0]))
    assert len(taken) == 340 > 3 * names.MOST_SEATS


def test_an_offered_name_is_shown_in_the_readers_language_and_is_one_name_in_all() -> None:
    """F7: a noun of geometry and a number, kept as key and number."""
    said = {language: render(names.seat_name("rhombus:7"), Reader(language)) for language in LANGUAGES}
    assert said["en"] == "Rhombus 7" and said["es"] == "Rombo 7"
    for noun in names.NOUNS:
        every = [render(names.seat_name(f"{noun}:3"), Reader(language)) for language in LANGUAGES]
        assert all(len(name) <= names.LONGEST and names.read_typed(name) == name for name in every)
        assert {names.fold(name) for name in every} == {f"{noun}:3"}, "typed, it is the same name"


def test_old_names_and_typed_ones_stay_as_they_are() -> None:
    for name in ("Calm Rhombus", "Ana", "12", "Rhombus seven", "nobody:7", ""):
        assert names.seat_name(name) == name


def test_no_noun_is_a_given_name() -> None:
    """F7: many of the words of before were. These are the ones among terms of geometry and plain adjectives, in both languages."""
    told = """amber angel ángel angela axis alba clara coral cosimo eden fern frank grace hazel iris ivory jade line lemma linea
        marco nova olive perla piper plano ray raya recta reina rosy rubí ruby rune sandy sol theorem victor vector vera aura luz mar
        cruz rosa blanca celeste estrella paz gloria norma segundo tercero bruno justo"""
    given = set(told.split()) - {"plano"}
    for language in LANGUAGES:
        words = catalogue("classroom", language)
        shown = [words[f"seat_{noun}"].removesuffix(" {n}") for noun in names.NOUNS]
        assert len(set(shown)) == len(shown) >= 40
        assert not {word for name in shown for word in name.casefold().split()} & given


@pytest.mark.parametrize(("text", "number"), [("1", "1"), ("07", "7"), (" 99 ", "99"), ("12", "12")])
def test_seat_numbers(text: str, number: str) -> None:
    assert names.read_number(text) == number


@pytest.mark.parametrize("text", ["0", "100", "-1", "1.5", "", "one", "٣", "1e1", "²", "9" * 400])
def test_no_other_seat_numbers(text: str) -> None:
    with pytest.raises(Fault):
        names.read_number(text)


def test_codes_hold_enough_and_are_read_kindly() -> None:
    # 20 bits is the floor of ASVS 5.0, 6.5.4 for codes of this kind; T-08 says 29.7.
    assert codes.bits() > 29.7
    chance = random.Random(7)
    for _ in range(trials(quick=500, full=20000)):
        code = codes.code_from(chance.randrange(31**6))
        assert codes.read_code(code) == code
        assert codes.read_code(f" {code[:3].lower()}-{code[3:]} ") == code
    assert len({codes.code_from(n) for n in range(31**2)}) == 31**2


@pytest.mark.parametrize(
    "text",
    [
        "",
        "ABCDE",
        "ABCDEFG",
        "ABC0EF",
        "ABCOEF",
        "ABC1EF",
        "ABCLEF",
        "ABCIEF",
        "ABC_EF",
        "ÄBCDEF",
        "\u0391BCDEF",
    ],
)
def test_what_is_no_code(text: str) -> None:
    assert codes.read_code(text) is None
