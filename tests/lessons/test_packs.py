"""The shipped packs: each is checked to the bottom, and holds what a lesson needs."""

from __future__ import annotations

from fractions import Fraction
from pathlib import Path

import pytest

from app.figure.model import figure_from_json
from app.figure.pairs import name_pair
from app.lessons.kinds import MODELS
from app.lessons.load import check_pack, find_packs, load_pack
from app.lessons.schema import Pack
from app.lessons.vocabulary import SKILLS
from app.practice.own import own_item
from app.practice.working import value_at
from app.words.house import HOUSES, house

PACKS = Path(__file__).resolve().parents[2] / "lesson_packs"
NAMES = sorted(path.parent.name for path in PACKS.glob("*/pack.toml"))


def pack(name: str) -> Pack:
    return load_pack(PACKS / name)


@pytest.mark.parametrize("name", NAMES)
def test_every_claim_of_the_pack_is_so(name: str) -> None:
    assert check_pack(PACKS / name).name == name


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("house", HOUSES)
def test_the_pack_reads_in_every_house(name: str, house: str) -> None:
    said = load_pack(PACKS / name, house=house).model_dump_json()

    assert "{corresponding" not in said
    assert "{alternate" not in said


def words_of(lesson: Pack) -> list[str]:
    """Every text of a pack that somebody reads, without its statements, names and ids."""
    head = [
        lesson.title,
        lesson.summary,
        lesson.scenario,
        lesson.notes,
        *lesson.aims,
        *lesson.before,
        *lesson.vocabulary,
    ]
    notes = [part.notes.model_dump_json() for part in lesson.parts if part.notes]
    tasks = [
        text for task in lesson.tasks() for text in (task.title, task.ask, task.notes, str(task.data.get("question")))
    ]
    return [*head, *notes, *(part.title for part in lesson.parts), *tasks]


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize(
    ("house_name", "never"), [("us-same-side", "consecutive"), ("uk", "alternate interior"), ("uk", "vertical angles")]
)
def test_no_book_s_own_name_is_written_out(name: str, house_name: str, never: str) -> None:
    """Names stand in braces, so that another book's words take their place."""
    for text in words_of(load_pack(PACKS / name, house=house_name)):
        assert never not in text.lower(), text


def test_the_shelf_is_in_teaching_order() -> None:
    assert [found.name for found in find_packs(PACKS)] == [
        "proving-lines-parallel",
        "twelve-proofs",
        "other-constructions",
        "solve-and-practice",
    ]


@pytest.mark.parametrize("name", NAMES)
def test_the_pack_is_ready_to_teach(name: str) -> None:
    """Parts with minutes, notes for each; every task says what it trains and its standard."""
    lesson = pack(name)

    assert lesson.aims and lesson.scenario and lesson.notes and lesson.standards and lesson.materials
    for part in lesson.parts:
        assert part.notes is not None and part.notes.say and part.notes.look_for, part.id
        assert part.minutes > 0
    for task in lesson.tasks():
        assert task.skills and set(task.skills) <= set(SKILLS), task.id
        assert task.standards, task.id


@pytest.mark.parametrize("name", NAMES)
def test_materials_with_a_compass_carry_the_caution(name: str) -> None:
    lesson = pack(name)
    if any(task.kind == "construct" for task in lesson.tasks()):
        assert "sharp point" in " ".join(lesson.materials)


def test_the_core_lesson_is_whole() -> None:
    lesson = pack("proving-lines-parallel")
    kinds = {task.kind for task in lesson.tasks()}
    required = [part for part in lesson.parts if not part.optional]

    assert kinds == set(MODELS)
    assert sum(part.minutes for part in required) <= lesson.minutes == 50
    assert required[0].purpose == "warm-up" and 5 <= required[0].minutes <= 7
    assert sum(not task.optional for task in required[0].tasks) == 3
    exit_ticket = required[-1]
    assert exit_ticket.purpose == "exit" and 2 <= exit_ticket.minutes <= 5
    assert 3 <= len(exit_ticket.tasks) <= 5
    # New numbers for each student: every item comes from a family.
    assert all(task.data["family"] for task in exit_ticket.tasks)


def test_the_chain_fades() -> None:
    """From a worked example to a blank page, one converse after the other, all from the corresponding one."""
    chain = next(part for part in pack("proving-lines-parallel").parts if part.id == "chain")

    link, *proofs = chain.tasks
    assert link.kind == "justify" and link.data["given"] == ["∠2 ≅ ∠6"]
    assert [task.data["support"] for task in proofs] == ["worked", "reasons", "order", "blank"]
    for task in proofs:
        assert "corresponding-angles-converse" not in task.data["bar"]
        assert len(task.data["bar"]) == 4
    pairs = []
    for task in chain.tasks:
        text = task.data["given"][0]
        a, b = [word.strip("∠,") for word in text.split() if word.startswith("∠")]
        pairs.append(name_pair(figure_from_json(task.data["figure"]), a, b).pair)
    assert pairs == [
        "corresponding",
        "alternate interior",
        "alternate exterior",
        "consecutive interior",
        "consecutive exterior",
    ]


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("language", ["en", "es"])
def test_no_question_is_asked_that_has_no_place_for_its_answer(name: str, language: str) -> None:
    """A proof that is read, and a figure that is turned without a question of its own, have nothing to answer with (F2-12)."""
    for task in load_pack(PACKS / name, language=language).tasks():
        reads = task.kind == "prove" and task.data["support"] == "worked"
        turns = task.kind == "explore" and not task.data["question"]
        draws = task.kind == "construct"
        assert not ((reads or turns or draws) and "?" in task.ask), (task.id, task.ask)


def test_at_least_twelve_proofs_from_short_to_long() -> None:
    tasks = [task for task in pack("twelve-proofs").tasks() if task.kind == "prove"]

    assert sum(task.data["possible"] for task in tasks) >= 12
    assert sum(not task.data["possible"] for task in tasks) >= 1
    assert any("parallel-to-same-line" in task.data["bar"] for task in tasks)
    assert any(len(task.data["figure"]["lines"]) >= 4 for task in tasks)


def test_titles_do_not_tell_which_goals_no_proof_can_reach() -> None:
    """No numbering that counts the proofs only: the one left out would be the one that can't be proved."""
    titles = [task.title for task in pack("twelve-proofs").tasks()]

    assert not any(title[:1].isdigit() for title in titles)


def test_every_support_form_is_met_in_the_shipped_packs() -> None:
    """Worked, reasons missing, statements missing, rows to put in order, blank: the help that fades."""
    met = {task.data["support"] for name in NAMES for task in pack(name).tasks() if task.kind == "prove"}

    assert met == {"worked", "reasons", "statements", "order", "blank"}


def test_the_other_constructions_are_all_there() -> None:
    tasks = [task.data for task in pack("other-constructions").tasks() if task.kind == "construct"]

    assert {task["construction"] for task in tasks} == {
        "bisect a segment",
        "bisect an angle",
        "perpendicular through a point",
        "parallel through a point",
        "copy a segment",
    }
    assert {task["route"] for task in tasks} >= {"rhombus", "alternate interior"}
    assert {task["construction"] for task in tasks if task["compass"] == "collapsing"} == {
        "bisect a segment",
        "copy a segment",
    }


@pytest.mark.parametrize("name", NAMES)
def test_lines_are_not_always_level(name: str) -> None:
    """Misconception 10, prototype orientation: at most a few figures have a level line."""
    figures = [task.data["figure"] for task in pack(name).tasks() if task.data.get("figure")]
    level = sum(any(line["direction"] == 0 for line in figure["lines"].values()) for figure in figures)

    assert level * 5 <= len(figures)


@pytest.mark.parametrize("name", NAMES)
def test_proofs_are_not_given_away_by_their_figure(name: str) -> None:
    """The names in a pack never say which crossing far away would deny the parallels to be proved."""
    for task in pack(name).tasks():
        if task.kind == "prove" and "∥" in task.data["goal"]:
            a, b = task.data["goal"].split(" ∥ ")
            assert not any({a, b} <= set(meet["lines"]) for meet in task.data["figure"]["meets"].values()), task.id


def test_the_right_answer_has_no_favorite_place() -> None:
    places = [
        task.data["question"]["answer"] for task in pack("proving-lines-parallel").tasks() if task.data.get("question")
    ]

    assert len(set(places)) >= 3


def test_the_core_pack_is_whole_in_spanish() -> None:
    """Every text that a student reads; the teacher's notes stay in English."""
    english = pack("proving-lines-parallel")
    spanish = load_pack(PACKS / "proving-lines-parallel", house="es", language="es")

    assert spanish.language == "es"
    for one, other in zip(english.tasks(), spanish.tasks(), strict=True):
        assert one.ask != other.ask and one.title != other.title, one.id
        if one.data.get("question"):
            asked, said = one.data["question"], other.data["question"]
            assert asked["answer"] == said["answer"] and len(asked["choices"]) == len(said["choices"])
            assert asked["why"] != said["why"]
    for part, other_part in zip(english.parts, spanish.parts, strict=True):
        assert part.title != other_part.title


@pytest.mark.parametrize("name", NAMES)
def test_own_equations_are_clean(name: str) -> None:
    """Whole answers, angles from 20 to 160 degrees, and another answer under the wrong relation."""
    for task in pack(name).tasks():
        if task.kind != "solve" or not task.data["want"]:
            continue
        made = own_item(task.data["figure"], task.data["given"], task.data["want"], house(), task.data["make"])
        x = next((letter for poly in made.measures.values() for m in poly for letter in m), None)
        assert Fraction(made.key["x"][0]).denominator == 1, task.id
        if x is None:
            continue
        solved = own_item(task.data["figure"], task.data["given"], x, house(), task.data["make"])
        at = {x: Fraction(solved.key["x"][0])}
        sizes = [value_at(poly, at) for poly in made.measures.values()]
        assert at[x].denominator == 1 and all(20 <= size <= 160 for size in sizes), task.id
        # Two expressions: equal and supplementary must not give the same x, that is, they aren't both right angles.
        assert set(sizes) != {Fraction(90)}, task.id
