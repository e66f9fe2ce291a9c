"""What a pack claims is checked: each false claim is told, and the same task set right passes.

The geometry of each case is worked out by hand in its line; the reasoner is tested elsewhere against
other oracles.
"""

from __future__ import annotations

import pytest

import app.reasoning.follows as decider
from app.lessons.faults import PackFaults
from app.lessons.load import read_pack
from tests.reasoning.test_threes import CORNERS

# m and n are drawn 4 degrees apart, crossed by t: m∠2 = 66, m∠6 = 62 as drawn.
FRAME = """
format = 1
[pack]
title = "T"
summary = "S"
minutes = 9
[figures.f]
number = "standard"
transversal = "t"
meets = {{ A = ["m", "t"], B = ["n", "t"] }}
[figures.f.lines]
m = {{ direction = 10, through = [0, 2] }}
n = {{ direction = 14, through = [0, -2] }}
t = {{ direction = 76, through = [0, 0] }}
[[parts]]
id = "p"
title = "P"
minutes = 9
[[parts.tasks]]
id = "one"
title = "One"
ask = "Do it."
{task}
"""

CASES = {
    # code: (a task with the fault, what the author reads, the same task mended)
    "already": (
        'kind = "explore"\nfigure = "f"\nmovable = ["m"]\nreach = ["∠1 ≅ ∠4"]',
        "“∠1 ≅ ∠4” is true of the figure as drawn",
        ("∠1 ≅ ∠4", "∠2 ≅ ∠6"),
    ),
    "stuck": (
        'kind = "explore"\nfigure = "f"\nmovable = ["m"]\nreach = ["t ⊥ n"]',
        "something that can be reached by moving m",
        ('movable = ["m"]', 'movable = ["n"]'),
    ),
    "reach": (
        'kind = "explore"\nfigure = "f"\nmovable = ["m"]\nreach = ["m∠1 = x"]',
        "a statement that turning lines can make true",
        ("m∠1 = x", "m∠1 = 120"),
    ),
    "too-few": (
        'kind = "classify"\nfigure = "f"\nfind = "alternate interior"\ncount = 3',
        "at least 3 such pairs in the figure",
        ("count = 3", "count = 2"),
    ),
    "no-parallel": (
        'kind = "justify"\nfigure = "f"\ngiven = ["∠3 ≅ ∠5"]\nlines = ["m", "n"]',
        'givens that make m ∥ n parallel by one theorem (else: expect = "not enough")',
        ("∠3 ≅ ∠5", "∠3 ≅ ∠6"),
    ),
    "parallel-follows": (
        'kind = "justify"\nfigure = "f"\ngiven = ["∠1 ≅ ∠8"]\nexpect = "not enough"',
        "m ∥ n, which follows from them",
        ("∠1 ≅ ∠8", "∠1 ≅ ∠4"),
    ),
    "conflict": (
        'kind = "justify"\nfigure = "f"\ngiven = ["m∠1 = 70", "∠1 ≅ ∠5", "m∠2 = 100"]',
        "m∠1 = 70; m∠2 = 100, which can't hold together",
        ("m∠2 = 100", "m∠2 = 110"),
    ),
    "not-forced": (
        'kind = "prove"\nfigure = "f"\ngiven = ["∠3 ≅ ∠5"]\ngoal = "m ∥ n"',
        "“m ∥ n”, which is not forced: all givens hold with m = ",
        ("∠3 ≅ ∠5", "∠3 ≅ ∠6"),
    ),
    "cannot-be": (
        'kind = "prove"\nfigure = "f"\ngiven = ["m∠3 = 60", "m∠6 = 61"]\ngoal = "m ∥ n"',
        "whose opposite follows from them",
        ("m∠6 = 61", "m∠6 = 60"),
    ),
    "forced": (
        'kind = "prove"\nfigure = "f"\ngiven = ["∠3 ≅ ∠6"]\ngoal = "m ∥ n"\npossible = false',
        "a goal that the givens leave open, since possible = false",
        ("∠3 ≅ ∠6", "∠3 ≅ ∠5"),
    ),
    "shown": (
        'kind = "prove"\nfigure = "f"\ngiven = ["m∠3 = 66"]\ngoal = "m ∥ n"\npossible = false',
        "a figure that doesn't show the answer",
        ("m∠3 = 66", "m∠3 = 70"),
    ),
    "goal-given": (
        'kind = "prove"\nfigure = "f"\ngiven = ["n ∥ m"]\ngoal = "m ∥ n"',
        "a goal that is not one of the givens",
        ('"n ∥ m"', '"∠2 ≅ ∠6"'),
    ),
    "no-proof": (
        'kind = "prove"\nfigure = "f"\ngiven = ["∠2 ≅ ∠6"]\ngoal = "m ∥ n"\nbar = ["corresponding-angles-converse", '
        '"alternate-interior-angles-converse", "alternate-exterior-angles-converse", '
        '"consecutive-interior-angles-converse", "consecutive-exterior-angles-converse"]',
        "a proof by the table's theorems (without: corresponding-angles-converse, ",
        ('"corresponding-angles-converse", ', ""),
    ),
    "proof-row": (
        'kind = "prove"\nfigure = "f"\ngiven = ["∠2 ≅ ∠6"]\ngoal = "m ∥ n"\nproof = [\n'
        '{{ statement = "∠2 ≅ ∠6", reason = "given" }},\n{{ statement = "m ∥ n", reason = "corresponding-angles" }}]',
        "row 2: wrong way round",
        ('"corresponding-angles"', '"corresponding-angles-converse"'),
    ),
    "proof-open": (
        'kind = "prove"\nfigure = "f"\ngiven = ["∠2 ≅ ∠6"]\ngoal = "m ∥ n"\nproof = [\n'
        '{{ statement = "∠2 ≅ ∠6", reason = "given" }}]',
        "one that does not reach “m ∥ n”",
        ('"given" }}]', '"given" }},\n{{ statement = "m ∥ n", reason = "corresponding-angles-converse" }}]'),
    ),
    "start": (
        'kind = "construct"\nconstruction = "bisect a segment"\nstart = {{ segment = ["A", "B"], '
        "points = {{ A = [0, 0], B = [0, 0] }} }}",
        "a start that the construction can be made from",
        ("B = [0, 0]", "B = [3, 1]"),
    ),
    "scale": (
        'kind = "solve"\nfigure = "f"\ngiven = ["m∠3 = 83"]\nwant = "m∠2"\nnot_to_scale = false',
        "a figure in which all that is given measures so, or not_to_scale = true",
        ("not_to_scale = false", "not_to_scale = true"),
    ),
    "not-one": (
        'kind = "solve"\nfigure = "f"\ngiven = ["m∠3 = 2x + 10", "m∠5 = 3x"]\nwant = "x"',
        "exactly one value for x",
        ('"m∠5 = 3x"]', '"m∠5 = 3x", "m ∥ n"]'),
    ),
}


def pack(task: str) -> str:
    return FRAME.replace("{task}", task).replace("{{", "{").replace("}}", "}")


@pytest.mark.parametrize("code", CASES)
def test_a_false_claim_is_told(code: str) -> None:
    task, expected, _ = CASES[code]

    with pytest.raises(PackFaults) as caught:
        read_pack("p", pack(task), deep=True)

    assert [fault.code for fault in caught.value.faults] == [code]
    assert expected in caught.value.faults[0].block()


@pytest.mark.parametrize("code", CASES)
def test_the_mended_task_passes(code: str) -> None:
    task, _, (old, new) = CASES[code]
    assert old in task

    assert read_pack("p", pack(task.replace(old, new)), deep=True).tasks()[0].id == "one"


SCALE = (
    'kind = "solve"\nfigure = "f"\ngiven = ["m∠3 = 66", "m∠5 = 2x"]\nwant = "x"\nmake = "m ∥ n"\nnot_to_scale = false'
)


def test_a_drawing_said_to_be_to_scale_is_measured() -> None:
    """m∠3 = 76 − 10 = 66 and m∠5 = 180 − (76 − 14) = 118 as drawn, so x = 59 there, but m ∥ n needs 66 + 2x = 180. With n drawn at
    10 degrees, m∠5 = 114 and x = 57: all is so.
    """
    with pytest.raises(PackFaults) as caught:
        read_pack("p", pack(SCALE), deep=True)
    fault = caught.value.faults[0]
    assert (fault.code, fault.where, fault.task) == ("scale", "not_to_scale", "one") and "m ∥ n" in fault.block()
    even = pack(SCALE).replace("direction = 14", "direction = 10")
    assert read_pack("p", even, deep=True).tasks()[0].id == "one"
    with pytest.raises(PackFaults) as caught:
        read_pack("p", even.replace("m∠3 = 66", "m∠3 = 67"), deep=True)
    assert "scale" in [fault.code for fault in caught.value.faults]


def test_a_drawing_of_which_nothing_is_said_may_be_off() -> None:
    """An exercise of a pack's own is drawn as it comes, and says so on the page, unless it is said to be to scale."""
    read_pack("p", pack(SCALE.replace("\nnot_to_scale = false", "")), deep=True)


OWN = 'kind = "solve"\nfigure = "f"\ngiven = ["m∠3 = 2x + 10", "m∠5 = 3x"]\nwant = "x"\nmake = "m ∥ n"'


def test_what_x_is_to_make_true_settles_it() -> None:
    read_pack("p", pack(OWN), deep=True)


@pytest.mark.parametrize(
    ("task", "code", "where"),
    [
        (
            OWN.replace('"m∠5 = 3x"', '"m∠2 = 4x"'),
            "not-one",
            "make",
        ),  # settled by one crossing, which says nothing of n
        (OWN.replace("m ∥ n", "m ∥ q"), "statement", "make"),
        ('kind = "solve"\nfamily = "make-parallel"\nmake = "m ∥ n"', "family-or-own", "make"),
    ],
)
def test_what_x_can_not_make_true_is_told_at_its_key(task: str, code: str, where: str) -> None:
    with pytest.raises(PackFaults) as caught:
        read_pack("p", pack(task), deep=True)

    assert [(fault.code, fault.where) for fault in caught.value.faults] == [(code, where)]


OPEN = 'kind = "prove"\nfigure = "f"\ngiven = []\ngoal = "m ∥ n"\npossible = false'
NOT_ENOUGH = 'kind = "justify"\nfigure = "f"\ngiven = ["∠1 ≅ ∠4"]\nlines = ["m", "n"]\nexpect = "not enough"'


@pytest.mark.parametrize("task", [OPEN, OPEN.replace("possible = false", "possible = true"), NOT_ENOUGH])
def test_a_goal_that_is_left_open_is_refused_with_that_word(task: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """With next to no budget nothing that directions leave open is decided; the same task passes, or fails otherwise, with one."""
    monkeypatch.setattr(decider, "DECISION", 1)
    with pytest.raises(PackFaults) as caught:
        read_pack("p", pack(task), deep=True)

    assert [fault.code for fault in caught.value.faults] == ["undecided"]
    assert "undecided" in caught.value.faults[0].block()


def test_a_goal_that_only_coordinates_show_has_no_proof_for_a_class() -> None:
    """A diagonal of a parallelogram that bisects a corner: a rhombus, but not by the table's theorems."""
    lines = "\n".join(
        f'{name} = {{{{ direction = "{line["direction"]}", through = [{", ".join(line["through"])}] }}}}'
        for name, line in CORNERS["lines"].items()
    )
    meets = ", ".join(f"{name} = {names}".replace("'", '"') for name, names in CORNERS["meets"].items())
    text = pack('kind = "prove"\nfigure = "g"\ngiven = ["l ∥ m", "p ∥ q", "∠DAC ≅ ∠CAB"]\ngoal = "d ⊥ e"')
    text = text.replace(
        "[[parts]]",
        f"[figures.g]\nmeets = {{ {meets} }}\n[figures.g.lines]\n{lines}\n[[parts]]".replace("{{", "{").replace(
            "}}", "}"
        ),
        1,
    )
    with pytest.raises(PackFaults) as caught:
        read_pack("p", text, deep=True)

    assert [fault.code for fault in caught.value.faults] == ["by-coordinates"]
