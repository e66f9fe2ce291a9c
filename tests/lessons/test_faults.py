"""A pack with more than twenty different faults: all are told at once, each with its place and the mend."""

from __future__ import annotations

import textwrap

import pytest

from app.lessons.faults import PackFaults
from app.lessons.load import read_pack
from tests.web.running import ROOT

BAD = textwrap.dedent("""\
    format = 1

    [pack]
    titel = "A pack to mend"
    summary = "Everything here is wrong, each thing in its own way."
    minutes = "fifty"
    standards = ["HSG-CO.C.99"]

    [figures.floor]
    number = "standard"
    transversal = "t"
    [figures.floor.lines]
    m = { direction = 10, through = [0, 2] }
    n = { direction = 10, through = [0, -2] }
    t = { direction = 70, through = [0, 0] }

    [figures.bent.lines]
    m = { direction = "steep", through = [0, 2] }
    n = { direction = 4, through = [0, -2] }

    [[parts]]
    id = "Warm Up"
    title = "First"
    minutes = 5
    purpose = "warmup"
    tasks = [{ id = "lost", kind = "explore", title = "T", ask = "A.", figure = "flor", movable = ["m"], reach = ["m ∥ n"] }]

    [[parts]]
    id = "second"
    title = "Second"
    minutes = 6

    [[parts.tasks]]
    id = "name"
    kind = "clasify"
    title = "What kind is this?"
    ask = "Name it."

    [[parts.tasks]]
    id = "name"
    kind = "classify"
    title = "One name twice"
    ask = "First. Second. Third. Fourth."
    figure = "floor"
    pairs = [["1", "1"], ["2", "9"], ["3"]]

    [[parts.tasks]]
    id = "turn"
    kind = "explore"
    title = "Turn *it"
    ask = "Say what {alternate inside} means."
    figure = "floor"
    movable = ["m", "r"]
    measures = "visible"
    reach = ["∠2 ≅≅ ∠6"]
    skills = ["name-pair"]
    [parts.tasks.question]
    ask = "Well?"
    choices = ["yes", "yes"]
    answer = 2
    why = "Because."

    [[parts.tasks]]
    id = "prove"
    kind = "prove"
    title = "Prove it"
    ask = "Prove it."
    minutes = 9
    figure = "floor"
    given = ["∠2 ≅ ∠6", "∠12 ≅ ∠3"]
    support = "blank"
    strict = "no"
    bar = ["corresponding-angle-converse"]

    [[parts.tasks]]
    id = "carry"
    kind = "construct"
    title = "Carry it"
    ask = "Carry it."
    construction = "copy angle"
    [parts.tasks.start.points]
    V = [0, 0]

    [[parts.tasks]]
    id = "bisect"
    kind = "construct"
    title = "Halve it"
    ask = "Halve it."
    construction = "bisect a segment"
    start = { segment = ["A", "C"], points = { A = [0, 0], B = [2, 1] } }

    [[parts.tasks]]
    id = "solve"
    kind = "solve"
    title = "Solve it"
    ask = "Solve it."
    want = "x"
    level = 0
""")

# Place, what was expected, what was found, what to try: exactly as an author reads them.
TOLD = textwrap.dedent("""\
    pack.toml, line 4, key `pack.titel`
        expected  one of the keys aims, before, grades, language, materials, minutes, notes, order, scenario, standards, summary, title, vocabulary
        found     `titel`
        Did you mean “title”?
    pack.toml, line 6, key `pack.minutes`
        expected  a whole number, without quotes
        found     “fifty”
    pack.toml, line 7, key `pack.standards[1]`
        expected  a standard's code that the program knows, or one written down under [standards]
        found     “HSG-CO.C.99”
        Did you mean “HSG-CO.C.9” / “HSG-CO.C.11”?
    pack.toml, line 18, key `figures.bent.lines.m.direction`
        expected  a figure that can be drawn
        found     this: Here a number is wanted, such as 65, 18.5 or "37/2"; this is steep.
    pack.toml, line 22, part “Warm Up”, key `id`
        expected  small letters and digits, words joined by hyphens, such as `name-pairs-1`
        found     “Warm Up”
    pack.toml, line 25, part “Warm Up”, key `purpose`
        expected  one of: warm-up, lesson, practice, exit
        found     “warmup”
        Did you mean “warm-up”?
    pack.toml, line 26, task “lost”, key `figure`
        expected  the name of a figure under [figures], or a table
        found     “flor”
        Did you mean “floor”?
    pack.toml, line 31, part “second”, key `minutes`
        expected  tasks that fit the 6 minutes of their part, apart from optional ones
        found     19 minutes
    pack.toml, line 35, task “name”, key `kind`
        expected  one of: explore, construct, classify, justify, solve, prove, connect, practice
        found     “clasify”
        Did you mean “classify”?
    pack.toml, line 40, task “name”, key `id`
        expected  an id of its own for each task
        found     “name” for the second time (first on line 34)
    pack.toml, line 43, task “name”, key `ask`
        expected  at most 3 short sentences
        found     4 sentences
    pack.toml, line 45, task “name”, key `pairs[3]`
        expected  at least 2 in the list
        found     1
    pack.toml, line 50, task “turn”, key `title`
        expected  plain words, with `*stars*` around what is to stand out and `{…}` around names only
        found     a star that is not closed on its line
    pack.toml, line 51, task “turn”, key `ask`
        expected  the name of an angle pair or a theorem in braces
        found     “alternate inside”
        Did you mean “alternate interior” / “alternate exterior”?
    pack.toml, line 53, task “turn”, key `movable[2]`
        expected  a line of the figure: m, n, t
        found     “r”
    pack.toml, line 54, task “turn”, key `measures`
        expected  one of: shown, hidden, toggle
        found     “visible”
    pack.toml, line 55, task “turn”, key `reach[1]`
        expected  a statement about the figure
        found     “∠2 ≅≅ ∠6”: Character 5: expected an angle, such as ∠1, found “≅”.
    pack.toml, line 56, task “turn”, key `skills[1]`
        expected  one of the skills: vertical-angles, linear-pair, name-pairs, find-transversal, choose-converse, is-it-enough, direction, biconditional, prove-parallel, read-a-proof, solve-for-x, solve-from-parallel, copy-an-angle, construct-a-parallel, other-constructions
        found     “name-pair”
        Did you mean “name-pairs” / “linear-pair”?
    pack.toml, line 59, task “turn”, key `question.choices[2]`
        expected  answers that differ from one another
        found     “yes” twice
    pack.toml, line 60, task “turn”, key `question.answer`
        expected  the place of the right answer, counted from 0, at most 1
        found     2
    pack.toml, line 63, task “prove”, key `goal`
        expected  a value for `goal`
        found     nothing
    pack.toml, line 70, task “prove”, key `given[2]`
        expected  a statement about the figure
        found     “∠12 ≅ ∠3”: Character 2: there is no angle 12 in this figure; its angles are 1, 2, 3, 4, 5, 6, 7, 8.
    pack.toml, line 72, task “prove”, key `strict`
        expected  true or false, without quotes
        found     “no”
    pack.toml, line 73, task “prove”, key `bar[1]`
        expected  the id of a theorem
        found     “corresponding-angle-converse”
        Did you mean “corresponding-angles-converse” / “corresponding-angles”?
    pack.toml, line 80, task “carry”, key `construction`
        expected  one of: copy an angle, copy a segment, parallel through a point, bisect an angle, bisect a segment, perpendicular through a point
        found     “copy angle”
        Did you mean “copy an angle”?
    pack.toml, line 90, task “bisect”, key `start.segment[2]`
        expected  a point of the start: A, B
        found     “C”
    pack.toml, line 97, task “solve”, key `want`
        expected  either `family`, or `figure`, `given` and `want`
        found     want
    pack.toml, line 98, task “solve”, key `level`
        expected  at least 1
        found     0
""").rstrip()


def told(text: str, **files: str) -> str:
    with pytest.raises(PackFaults) as caught:
        read_pack("bad", text, files)
    return "\n".join(fault.block() for fault in caught.value.faults)


def test_every_fault_is_told_at_once() -> None:
    assert told(BAD) == TOLD


def test_that_pack_has_more_than_twenty_different_faults() -> None:
    with pytest.raises(PackFaults) as caught:
        read_pack("bad", BAD)

    assert len({fault.code for fault in caught.value.faults}) >= 20
    assert len(caught.value.faults) == TOLD.count("    expected  ")


def test_a_fault_is_data_first() -> None:
    with pytest.raises(PackFaults) as caught:
        read_pack("bad", BAD)
    fault = next(f for f in caught.value.faults if f.code == "choice" and f.task == "carry")

    assert fault.where == "construction"
    assert fault.line == 80
    assert fault.near == ("copy an angle",)
    assert fault.as_dict()["sentence"] == fault.sentence()
    assert fault.sentence().startswith(
        "pack.toml, line 80, task “carry”, key `construction`: expected one of: copy an angle, "
    )
    assert fault.sentence().endswith(" found “copy angle”. Did you mean “copy an angle”?")


@pytest.mark.parametrize(
    ("text", "expected"),
    [
        (
            "",
            "pack.toml, key `format`\n    expected  `format = 1` before everything else\n    found     no format number",
        ),
        (
            "format = 2\n[pack]\ntitel = 1\n",
            "pack.toml, line 1, key `format`\n    expected  format 1 or older\n"
            "    found     format 2: this pack was made for a newer Eight Angles",
        ),
        (
            'format = "1"\n',
            "pack.toml, line 1, key `format`\n    expected  a whole number from 1 to 1\n    found     “1”",
        ),
        (
            "format = 1\n[pack\ntitle = 3\n",
            "pack.toml, line 2\n    expected  a file in TOML\n    found     this, at column 6: "
            "Expected ']' at the end of a table declaration",
        ),
    ],
    ids=["no format", "newer", "format as text", "not TOML"],
)
def test_the_format_is_looked_at_first(text: str, expected: str) -> None:
    """A newer format is the only thing told: the other faults may not be faults there."""
    assert told(text) == expected


GOOD = textwrap.dedent("""\
    format = 1
    [pack]
    title = "T"
    summary = "S"
    minutes = 5
    [[parts]]
    id = "one"
    title = "One"
    minutes = 5
    [[parts.tasks]]
    id = "look"
    kind = "explore"
    title = "Look"
    ask = "Turn m."
    movable = ["m"]
    reach = ["m ∥ n"]
    [parts.tasks.figure.lines]
    m = { direction = 40, through = [0, 2] }
    n = { direction = 10, through = [0, -2] }
""")


def test_a_good_pack_is_read() -> None:
    pack = read_pack("good", GOOD)

    assert [task.id for task in pack.tasks()] == ["look"]
    assert pack.tasks()[0].data["figure"]["lines"]["m"] == {"direction": 40, "through": [0, 2]}


@pytest.mark.parametrize(
    ("old", "new", "expected"),
    [
        ("minutes = 5\n[[", "minutes = 4\n[[", "fit the 4 minutes of the pack"),
        (
            'title = "One"',
            'title = "One"\nroom = 12',
            "one of the keys id, minutes, notes, optional, purpose, tasks, title",
        ),
        ('ask = "Turn m."', 'ask = ""', "at least 1 character(s)"),
        ('ask = "Turn m."', f'ask = "{"x" * 500}"', "at most 420 characters"),
        ('ask = "Turn m."', 'ask = "Turn {m."', "a brace that is not closed"),
        ('ask = "Turn m."', 'ask = "Turn \\u202e m."', "a character that can't be seen"),
        ('movable = ["m"]', 'movable = "m"', "a list, in square brackets"),
        ("[0, 2] }", "[0, -2] }\nk = { direction = 10, through = [0, -2] }", "a figure that can be drawn"),
        ("[0, 2] }", "[0, 2], color = 3 }", "one of the keys direction, through"),
        ("direction = 40, ", "directoin = 40, ", "Did you mean “direction”?"),
        ('id = "look"', 'id = "one two"', "small letters and digits"),
        ('reach = ["m ∥ n"]', "", "`reach`, `question` or both"),
        ('summary = "S"', 'summary = "S"\nlanguage = "English"', "a language code such as `en` or `es`"),
    ],
)
def test_one_fault_at_a_time(old: str, new: str, expected: str) -> None:
    assert old in GOOD

    text = told(GOOD.replace(old, new, 1))

    assert expected in text
    assert text.count("    expected  ") == 1, text


def test_words_in_another_language_are_judged_too() -> None:
    text = told(GOOD, es='format = 1\n[tasks.lok]\nask = "Gira m."\n[tasks.look]\naks = "Gira *m."\n')

    assert text == textwrap.dedent("""\
        text.es.toml, line 2, key `tasks.lok`
            expected  the id of a task in the pack
            found     “lok”
            Did you mean “look”?
        text.es.toml, line 5, key `tasks.look.aks`
            expected  one of the keys ask, choices, notes, question, title, why
            found     `aks`
            Did you mean “ask”?
        text.es.toml, line 5, key `tasks.look.aks`
            expected  plain words, with `*stars*` around what is to stand out and `{…}` around names only
            found     a star that is not closed on its line""")


@pytest.mark.parametrize(
    ("old", "new", "count"),
    [
        ("[[parts]]", "[[parts]", 1),  # a bracket is missing
        ('title = "', "title = ", 1),  # a quotation mark is missing
        ('kind = "', 'kinds = "', 1),  # a task's own fault
    ],
)
def test_one_slip_in_the_pack_makes_no_faults_in_its_translations(old: str, new: str, count: int) -> None:
    folder = ROOT / "lesson_packs" / "proving-lines-parallel"
    text = (folder / "pack.toml").read_text(encoding="utf-8")
    spanish = (folder / "text.es.toml").read_text(encoding="utf-8")
    with pytest.raises(PackFaults) as caught:
        read_pack("slip", text.replace(old, new, 1), {"es": spanish})

    assert [fault.file for fault in caught.value.faults] == ["pack.toml"] * count


def test_what_translates_nothing_is_told_beside_another_fault() -> None:
    folder = ROOT / "lesson_packs" / "proving-lines-parallel"
    text = (folder / "pack.toml").read_text(encoding="utf-8").replace('kind = "', 'kinds = "', 1)
    spanish = (folder / "text.es.toml").read_text(encoding="utf-8") + '\n[tasks.nowhere]\ntitle = "Nada"\n'
    with pytest.raises(PackFaults) as caught:
        read_pack("slip", text, {"es": spanish})

    assert [fault.code for fault in caught.value.faults if fault.file == "text.es.toml"] == ["translates-nothing"]
