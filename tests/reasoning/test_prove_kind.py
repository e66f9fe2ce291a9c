"""The prove task: what a Seat may see, verdicts of proofs and of figures, partial credit, hints, views, the key."""

from __future__ import annotations

import json
from fractions import Fraction
from typing import Any

import pytest

from app.classroom.kinds.prove import ask, judge, key, public
from app.classroom.verdict import Context
from app.figure.faults import Fault
from app.figure.model import figure_from_json, figure_to_json
from app.practice.misconceptions import MISCONCEPTIONS
from app.reasoning.follows import follows
from app.reasoning.theorems import FIGURES
from app.words.house import house
from tests.reading import in_english
from tests.reasoning.test_threes import CORNERS

ask = in_english(ask)
judge = in_english(judge)
key = in_english(key)
public = in_english(public)

BAR = [
    "alternate-interior-angles-converse",
    "alternate-exterior-angles-converse",
    "consecutive-interior-angles-converse",
    "consecutive-exterior-angles-converse",
]
RIGHT = [
    {"statement": "∠3 ≅ ∠6", "reason": "given"},
    {"statement": "∠2 ≅ ∠3", "reason": "vertical-angles"},
    {"statement": "∠2 ≅ ∠6", "reason": "transitive"},
    {"statement": "l ∥ m", "reason": "corresponding-angles-converse"},
]


def task(**more: Any) -> dict[str, Any]:
    return {
        "id": "p1",
        "kind": "prove",
        "title": "Alternate",
        "ask": "Prove it.",
        "figure": FIGURES["eight"],
        "given": ["∠3 ≅ ∠6"],
        "goal": "l ∥ m",
        "support": "blank",
        "judge": "asked",
        "strict": False,
        "profile": None,
        "proof": None,
        "possible": True,
        "bar": BAR,
        **more,
    }


def ctx(seed: int = 1, words: str = "us") -> Context:
    return Context(seed, house(words))


LOOSE = {"given": ["∠3 ≅ ∠5"], "possible": False, "bar": []}


def figure_with(l: int, m: int, t: int) -> dict[str, Any]:
    body = figure_to_json(figure_from_json(FIGURES["eight"]))
    for name, direction in (("l", l), ("m", m), ("t", t)):
        body["lines"][name]["direction"] = direction
    for meet in body["meets"].values():
        del meet["at"]
    return body


def test_a_right_proof_is_done_with_skills_and_marks() -> None:
    told = judge(task(), {"rows": RIGHT}, ctx())

    assert told.ok and told.done and told.score == 1.0
    assert told.text.startswith("Proved: l ∥ m")
    assert told.skills["prove-parallel"] and told.skills["choose-converse"] and told.skills["vertical-angles"]
    assert told.marks["lines"] and told.misconception is None
    json.dumps(told.as_json())


@pytest.mark.parametrize(
    ("rows", "code", "misconception"),
    [
        ([RIGHT[0], {"statement": "l ∥ m", "reason": "given"}], "in a circle", "goal-as-given"),
        (
            [RIGHT[0], {"statement": "∠1 ≅ ∠5", "reason": "corresponding-angles"}],
            "in a circle",
            "original-for-converse",
        ),
        (
            [*RIGHT[:3], {"statement": "l ∥ m", "reason": "corresponding-angles"}],
            "wrong way round",
            "original-for-converse",
        ),
        ([RIGHT[0], {"statement": "l ∥ m", "reason": "Corresponding Angles Converse"}], "needs a step", None),
        ([RIGHT[0], {"statement": "∠2 ≅ ∠1", "reason": "vertical-angles"}], "not forced", None),
        ([{"statement": "∠3 ≅", "reason": "given"}], "unreadable", None),
        ([RIGHT[0], {"statement": "∠1 ≅ ∠2", "reason": "given"}], "not forced", "given-for-derived"),
    ],
)
def test_a_wrong_row_is_what_the_verdict_speaks_of(rows: list, code: str, misconception: str | None) -> None:
    told = judge(task(), {"rows": rows}, ctx())

    assert (told.ok, told.done, told.code) == (False, False, code)
    assert told.text.startswith("Row ") and told.score < 1
    assert told.misconception == misconception
    assert misconception is None or misconception in MISCONCEPTIONS
    assert [part["field"] for part in told.parts] == [f"rows.{i}" for i in range(len(rows))]
    if code == "not forced":
        assert figure_from_json(told.figure).angles


def test_partial_credit_grows_with_the_rows_that_follow() -> None:
    scores = [judge(task(), {"rows": RIGHT[:n]}, ctx()).score for n in range(5)]
    assert scores == sorted(scores) and scores[1] == 0.0 < scores[2] < scores[3] < 1.0 == scores[4]


def test_unusable_replies_are_faults() -> None:
    for reply in (
        {},
        {"rows": "x"},
        {"rows": [1]},
        {"rows": [{"statement": "l ∥ m", "reason": "given", "from": "1"}]},
        {"rows": [{}] * 100},
    ):
        with pytest.raises(Fault):
            judge(task(), reply, ctx())


def test_not_forced_wants_a_figure_in_which_the_givens_hold_and_the_goal_fails() -> None:
    loose = task(**LOOSE)
    assert judge(loose, {"not_forced": True}, ctx()).code == "figure wanted"
    # ∠3 ≅ ∠5 needs t to lean equally to both lines.
    assert judge(loose, {"not_forced": True, "figure": figure_with(20, 6, 64)}, ctx()).code == "given fails"
    # Turned past each other, the lines make other angles than the task's: that is no figure of this task.
    with pytest.raises(Fault):
        judge(loose, {"not_forced": True, "figure": figure_with(14, 160, 87)}, ctx())
    right = judge(loose, {"not_forced": True, "figure": figure_with(10, 30, 110)}, ctx())
    assert (right.ok, right.done, right.code) == (True, True, "not forced"), right.text
    square = judge(loose, {"not_forced": True, "figure": figure_with(20, 20, 110)}, ctx())
    assert square.code == "goal holds"
    forced = judge(task(), {"not_forced": True, "figure": figure_with(10, 30, 110)}, ctx())
    assert not forced.ok and forced.misconception == "enough-taken-for-not"


def test_not_forced_with_unknowns_lets_the_unknown_be_what_it_must() -> None:
    loose = task(given=["m∠1 = 3x", "m∠5 = 2x + 40"], bar=[], possible=False)
    good = figure_with(10, 20, 100)  # m∠1 = 90, so x = 30; m∠5 = 100 = 2·30 + 40
    assert judge(loose, {"not_forced": True, "figure": good}, ctx()).ok
    assert judge(loose, {"not_forced": True, "figure": figure_with(10, 25, 100)}, ctx()).code == "given fails"


@pytest.mark.parametrize("support", ["reasons", "statements", "order", "blank", "worked"])
def test_what_is_blank_is_never_sent(support: str) -> None:
    """T-10: the key stays on the server."""
    seen = public(task(support=support), ctx())
    text = json.dumps(seen["rows"], ensure_ascii=False)
    if support == "reasons":
        assert all(row["reason"] in (None, "given") for row in seen["rows"]) and "vertical-angles" not in text
    if support == "statements":
        assert "∠2 ≅ ∠3" not in text and [row["reason"] for row in seen["rows"]][-1] == "corresponding-angles-converse"
    if support == "blank":
        assert [row["statement"] for row in seen["rows"]] == ["∠3 ≅ ∠6"]
    if support == "order":
        assert all(row["from"] is None for row in seen["rows"])
        assert [row["statement"] for row in seen["rows"]] != [row["statement"] for row in RIGHT]
    assert "possible" not in seen and "proof" not in seen
    assert not {reason["id"] for reason in seen["reasons"]} & set(BAR)


def test_rows_to_order_differ_between_seats_and_stay_for_one() -> None:
    deals = {tuple(row["statement"] for row in public(task(support="order"), ctx(seed))["rows"]) for seed in range(12)}
    assert len(deals) > 3
    assert public(task(support="order"), ctx(5)) == public(task(support="order"), ctx(5))


def test_an_ordered_proof_is_right_in_any_order_that_respects_use() -> None:
    swapped = [RIGHT[1], RIGHT[0], RIGHT[2], RIGHT[3]]
    assert judge(task(support="order"), {"rows": swapped}, ctx()).ok
    assert not judge(task(support="order"), {"rows": [RIGHT[2], *RIGHT[:2], RIGHT[3]]}, ctx()).ok


def test_a_worked_example_is_read() -> None:
    with pytest.raises(Fault):
        judge(task(support="worked"), {}, ctx())
    assert judge(task(support="worked"), {"read": True}, ctx()).done


def test_asking_judges_without_counting_and_not_where_the_pack_says_at_the_end() -> None:
    told = ask(task(), "check", {"rows": RIGHT[:2]}, ctx())
    assert [row["verdict"] for row in told["rows"]] == ["follows", "follows"] and not told["complete"]
    with pytest.raises(Fault):
        ask(task(judge="end"), "check", {"rows": RIGHT}, ctx())
    with pytest.raises(Fault):
        ask(task(judge="end"), "views", {"rows": RIGHT}, ctx())


@pytest.mark.parametrize("support", ["blank", "reasons", "statements", "order", "worked"])
@pytest.mark.parametrize("level", ["point", "principle", "show"])
def test_hints_at_every_level_for_every_support(support: str, level: str) -> None:
    shown = public(task(support=support), ctx())["rows"]
    rows = [{"statement": row["statement"] or "", "reason": row["reason"] or ""} for row in shown]
    told = ask(task(support=support), "hint", {"rows": rows, "level": level}, ctx())
    assert told["text"] and "{" not in told["text"]
    if level == "point" and support != "statements":
        assert "vertical" not in told["text"].casefold()


def test_hints_lead_from_an_empty_page_to_the_whole_proof() -> None:
    rows: list[dict[str, Any]] = []
    for _ in range(8):
        told = ask(task(), "hint", {"rows": rows, "level": "show"}, ctx())
        if "row" not in told:
            break
        rows.append(told["row"])
    assert judge(task(), {"rows": rows}, ctx()).ok


def test_hints_follow_the_students_own_way() -> None:
    """Euclid I.28's other half: by ∠6 and ∠7 instead of ∠2 and ∠3."""
    rows = [RIGHT[0], {"statement": "∠6 ≅ ∠7", "reason": "vertical-angles"}]
    told = ask(task(), "hint", {"rows": rows, "level": "show"}, ctx())
    assert told["row"]["statement"] == "∠3 ≅ ∠7" and told["row"]["from"] == [1, 2]


def test_a_hint_where_nothing_is_forced_says_so() -> None:
    assert "not forced" in ask(task(**LOOSE), "hint", {"rows": [], "level": "show"}, ctx())["text"]


@pytest.mark.parametrize("support", ["statements", "order"])
def test_where_reasons_are_printed_no_note_asks_for_another(support: str) -> None:
    """Every true row under every reason: in a blank proof some are told another reason, here none is."""
    elsewhere = 0
    for reason in ("vertical-angles", "transitive", "corresponding-angles-converse", "corresponding-angles"):
        for statement in ("∠2 ≅ ∠3", "∠2 ≅ ∠6", "l ∥ m"):
            rows = [*RIGHT[:3], {"statement": statement, "reason": reason}]
            free = ask(task(), "check", {"rows": rows}, ctx())["rows"][3]
            told = ask(task(support=support), "check", {"rows": rows}, ctx())["rows"][3]
            assert told["verdict"] not in ("other reason", "wrong way round") and "other" not in told
            assert "follows by" not in told["note"] and ("other" not in free or told["note"] != free["note"])
            assert (told["verdict"] == "follows") == (free["verdict"] == "follows")
            elsewhere += free["verdict"] in ("other reason", "wrong way round")
    assert elsewhere > 3


def test_hints_where_nothing_is_forced_go_in_three_steps() -> None:
    """Three hints and three texts; only the last says that it isn't forced."""
    rows = [{"statement": "∠3 ≅ ∠5", "reason": "given"}]
    texts = [
        ask(task(**LOOSE), "hint", {"rows": rows, "level": level}, ctx())["text"]
        for level in ("point", "principle", "show")
    ]
    assert len(set(texts)) == 3
    assert ["not forced" in text for text in texts] == [False, False, True]


def test_views_are_the_same_graph() -> None:
    told = ask(task(), "views", {"rows": RIGHT}, ctx())
    assert [(box["level"], box["from"]) for box in told["flow"]] == [(0, []), (0, []), (1, [1, 2]), (2, [3])]
    assert told["paragraph"].count(".") >= 4 and "it follows that l ∥ m" in told["paragraph"]


def test_drawn_says_what_holds() -> None:
    told = ask(task(**LOOSE), "drawn", {"figure": figure_with(10, 30, 110)}, ctx())
    assert told == {"given": [True], "goal": False}


def test_the_key_is_a_proof_that_its_own_judge_accepts_in_every_house() -> None:
    for words in ("us", "us-same-side", "uk", "es"):
        found = key(task(), ctx(words=words))
        rows = [{"statement": row["statement"], "reason": row["name"], "from": row["from"]} for row in found["rows"]]
        assert judge(task(), {"rows": rows}, ctx(words=words)).ok
        assert len(found["others"]) >= 2
    assert key(task(**LOOSE), ctx())["counterexample"]["figure"]


def test_a_packs_own_proof_is_the_key() -> None:
    own = [
        *RIGHT[:1],
        {"statement": "∠6 ≅ ∠7", "reason": "Vertical Angles Theorem"},
        {"statement": "∠3 ≅ ∠7", "reason": "transitive"},
        {"statement": "l ∥ m", "reason": "corresponding-angles-converse"},
    ]
    found = key(task(proof=own), ctx())
    assert [row["statement"] for row in found["rows"]][1] == "∠6 ≅ ∠7" and found["rows"][3]["from"] == [3]


def test_shipped_packs_proof_tasks_are_solved_by_their_own_keys() -> None:
    from pathlib import Path

    from app.lessons.load import load_pack

    seen = 0
    for folder in sorted((Path(__file__).parents[2] / "lesson_packs").iterdir()):
        if not (folder / "pack.toml").exists():
            continue
        for part in load_pack(folder).parts:
            for one in part.tasks:
                if one.kind != "prove":
                    continue
                seen += 1
                data = one.data
                public(data, ctx())
                found = key(data, ctx())
                if data["possible"]:
                    reply = {"read": True} if data["support"] == "worked" else {"rows": found["rows"]}
                    assert judge(data, reply, ctx()).done, one.id
                else:
                    other = found["counterexample"]["figure"]
                    told = judge(data, {"not_forced": True, "figure": other}, ctx())
                    assert told.done, (one.id, told.text)
                    # As drawn there is still something to do.
                    drawn = judge(data, {"not_forced": True, "figure": public(data, ctx())["figure"]}, ctx())
                    assert not drawn.ok, one.id
    assert seen >= 15


def test_a_row_left_empty_on_the_way_is_no_mistake() -> None:
    gap = {"statement": " ", "reason": ""}
    wrong = {"statement": "l ∥ m", "reason": "vertical-angles"}

    assert judge(task(), {"rows": [RIGHT[0], gap, *RIGHT[1:]]}, ctx()).ok
    told = judge(task(), {"rows": [RIGHT[0], gap, wrong]}, ctx())
    assert not told.ok and told.code != "unreadable" and "Row 3" in told.text
    assert told.score == judge(task(), {"rows": [RIGHT[0], wrong]}, ctx()).score
    half = judge(task(), {"rows": [RIGHT[0], {"statement": "", "reason": "transitive"}]}, ctx())
    assert half.code == "unreadable" and "Row 2" in half.text
    assert "Nothing" not in judge(task(), {"rows": [RIGHT[0], gap]}, ctx()).text


def test_a_paragraph_does_not_say_that_a_wrong_row_follows() -> None:
    rows = [RIGHT[0], {"statement": "l ∥ m", "reason": "corresponding-angles"}]
    told = ask(task(), "views", {"rows": rows}, ctx())["paragraph"]
    assert "That l ∥ m is not shown yet (Corresponding Angles Postulate)." in told and "From the figure" not in told


# A false row, a row that can't be read, or an empty blank beside a whole proof (F12-01). Each stands somewhere in it.
FAULTY = [
    {"statement": "∠1 ≅ ∠2", "reason": "vertical-angles"},  # a linear pair: not forced
    {"statement": "∠3 ≅ ∠4", "reason": "vertical-angles"},
    {"statement": "m∠1 = 80", "reason": "given"},  # not given
    {"statement": "∠1 ≅ ∠3", "reason": "linear-pair"},
    {"statement": "m∠1 + m∠4 = 90", "reason": "linear-pair"},
    {"statement": "∠5 and ∠8 are supplementary", "reason": "linear-pair"},
    {"statement": "l ⊥ t", "reason": "definition-of-perpendicular"},
    {"statement": "m∠2 = 90", "reason": "linear-pair"},
    {"statement": "l ∦ m", "reason": "corresponding-angles"},  # contradicts the goal
    {"statement": "∠3 and ∠6 are supplementary", "reason": "consecutive-interior-angles"},
    {"statement": "the lines look parallel", "reason": "given"},  # not in the notation
    {"statement": "∠2 ≅ ∠3", "reason": "because it is so"},  # no reason that any table has
    {"statement": "∠2 ≅ ∠3", "reason": ""},  # a reason is missing
    {"statement": "", "reason": "vertical-angles"},  # a statement is missing
]


@pytest.mark.parametrize("row", FAULTY, ids=lambda row: f"{row['statement']}, {row['reason']}")
@pytest.mark.parametrize("place", [1, 3, 4])
def test_a_false_or_unfinished_row_keeps_a_proof_from_being_proved(row: dict[str, str], place: int) -> None:
    rows = [*RIGHT[:place], row, *RIGHT[place:]]
    told = judge(task(bar=[]), {"rows": rows}, ctx())

    assert not told.ok and not told.done and told.score < 1
    assert not told.text.startswith("Proved") and f"row {place + 1}" in told.text
    assert [part["ok"] for part in told.parts].count(False) == 1
    # What is marked on the figure in the ink of what follows is what follows.
    wrong = judge(task(bar=[]), {"rows": RIGHT}, ctx())
    assert told.marks == wrong.marks


# True of the givens, but not by that reason, and nothing rests on it: marked beside it, and no obstacle.
IDLE = [
    {"statement": "∠5 ≅ ∠8", "reason": "linear-pair"},
    {"statement": "∠1 ≅ ∠4", "reason": "corresponding-angles"},
    {"statement": "∠1 ≅ ∠8", "reason": "vertical-angles"},
    {"statement": "∠4 ≅ ∠5", "reason": "linear-pair"},
]


@pytest.mark.parametrize("row", IDLE, ids=lambda row: row["statement"])
def test_a_true_row_that_nothing_shows_or_needs_is_marked_beside_it(row: dict[str, str]) -> None:
    told = judge(task(bar=[]), {"rows": [*RIGHT, row]}, ctx())

    assert told.ok and told.done and told.score == 1.0
    assert told.text.startswith("Proved") and told.text.endswith("Not shown, and not needed: row 5.")
    assert not told.parts[-1]["ok"] and told.parts[-1]["text"]


def test_rows_that_are_left_empty_on_the_way_are_no_mistake() -> None:
    rows = [*RIGHT[:2], {"statement": "", "reason": ""}, *RIGHT[2:], {"statement": " ", "reason": ""}]
    assert judge(task(), {"rows": rows}, ctx()).text.startswith("Proved")


SQUARES = {
    "figure": FIGURES["eight"], "given": ["t ⊥ l", "t ⊥ m"], "goal": "l ∥ m", "support": "statements", "bar": ["perpendicular-to-same-line"],
}  # fmt: skip


def test_right_angles_are_not_called_80_degrees_beside_a_proof() -> None:
    """Two claims that contradict the givens, and blanks that are empty, both once beside "Proved"."""
    begin = [
        {"statement": "t ⊥ l", "reason": "given"}, {"statement": "t ⊥ m", "reason": "given"},
        {"statement": "m∠1 = 90", "reason": "definition-of-perpendicular"}, {"statement": "m∠5 = 90", "reason": "definition-of-perpendicular"},
        {"statement": "∠1 ≅ ∠5", "reason": "transitive"}, {"statement": "l ∥ m", "reason": "corresponding-angles-converse"},
    ]  # fmt: skip
    assert judge(task(**SQUARES), {"rows": begin}, ctx()).text.startswith("Proved")
    for said in ("m∠{n} = 80", ""):
        rows = [dict(row) for row in begin]
        rows[2:2] = [{"statement": said.format(n=n), "reason": "definition-of-perpendicular"} for n in (1, 5)]
        told = judge(task(**SQUARES), {"rows": rows}, ctx())
        assert not told.ok and told.text.startswith("The goal is proved, but row 3")
        assert "80" not in json.dumps(told.marks)


@pytest.mark.parametrize("reason", ["transitive", "substitution", "parallel-to-same-line", "algebra", "symmetric"])
def test_a_barred_theorem_is_not_to_be_had_under_another_name(reason: str) -> None:
    from app.lessons.load import load_pack
    from tests.web.running import ROOT

    threads = next(
        one.data
        for part in load_pack(ROOT / "lesson_packs" / "twelve-proofs").parts
        for one in part.tasks
        if one.id == "transitive-parallels"
    )
    given = [{"statement": said, "reason": "given"} for said in threads["given"]]
    told = judge(threads, {"rows": [*given, {"statement": threads["goal"], "reason": reason}]}, ctx())

    assert not told.ok and not told.text.startswith("Proved")
    # The way round it that the task asks for is still there.
    assert judge(threads, {"rows": key(threads, ctx())["rows"]}, ctx()).ok


def test_a_figure_shows_nothing_where_lines_meet_no_better_than_a_hand_draws() -> None:
    """A parallelogram is no rhombus. In the student's figure d must really go through A and C: a fiftieth of a degree
    beside it would show as much for a theorem.
    """
    loose = task(figure=CORNERS, given=["l ∥ m", "p ∥ q"], goal="d ⊥ e", possible=False, bar=[])
    found = follows(figure_from_json(CORNERS), loose["given"], loose["goal"]).counterexample
    assert found is not None and found.figure is not None
    real = figure_to_json(found.figure)
    assert judge(loose, {"not_forced": True, "figure": real}, ctx()).code == "not forced"
    drawn = {
        **real,
        "lines": {**real["lines"], "d": dict(real["lines"]["d"])},
        "meets": {name: meet["lines"] for name, meet in real["meets"].items()},
    }
    drawn["lines"]["d"]["direction"] = str(Fraction(str(real["lines"]["d"]["direction"])) + Fraction(1, 50))
    refused = judge(loose, {"not_forced": True, "figure": drawn}, ctx())
    assert refused.code == "not one point" and not refused.ok
    assert "don't meet in one point at" in refused.text


def test_what_coordinates_show_is_not_shown_open_by_any_figure() -> None:
    rhombus = task(figure=CORNERS, given=["l ∥ m", "p ∥ q", "∠DAC ≅ ∠CAB"], goal="d ⊥ e", possible=False, bar=[])
    assert judge(rhombus, {"not_forced": True, "figure": CORNERS}, ctx()).code == "follows"
