"""A proof in the two forms that are written, and a goal that no proof can reach, by each hand (the other forms are in the core pack)."""

from __future__ import annotations

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest

from app.lessons.load import load_pack
from tests.browser.conftest import Lesson, start
from tests.browser.lesson.walk import enter

pytestmark = pytest.mark.browser

# A pack of our own for this test: the same goal with blanks of two kinds, and one that is not forced.
PACK = """
format = 1
[pack]
title = "Forms of a proof"
summary = "The same proof with other blanks."
minutes = 10
aims = ["Write a proof."]
[figures.floor]
number = "standard"
transversal = "t"
meets = { A = ["m", "t"], B = ["n", "t"] }
[figures.floor.lines]
m = { direction = 10, through = [0, 2] }
n = { direction = 10, through = [0, -2] }
t = { direction = 70, through = [0, 0] }
[figures.leaning]
number = "standard"
transversal = "t"
meets = { A = ["m", "t"], B = ["n", "t"] }
[figures.leaning.lines]
m = { direction = 16, through = [-0.7, 1.9] }
n = { direction = 19, through = [0.7, -1.9] }
t = { direction = 110, through = [0, 0] }
[[parts]]
id = "forms"
title = "Forms"
minutes = 10
[[parts.tasks]]
id = "statements"
kind = "prove"
title = "The reasons are there"
ask = "Write the statements."
minutes = 3
figure = "floor"
given = ["∠3 and ∠5 are supplementary"]
goal = "m ∥ n"
support = "statements"
bar = ["consecutive-interior-angles-converse"]
[[parts.tasks]]
id = "blank"
kind = "prove"
title = "A bare page"
ask = "Prove it."
minutes = 4
figure = "floor"
given = ["∠1 ≅ ∠8"]
goal = "m ∥ n"
support = "blank"
bar = ["alternate-exterior-angles-converse"]
[[parts.tasks]]
id = "not-forced"
kind = "prove"
title = "Can it be proved?"
ask = "Prove it, or show that it isn't forced."
minutes = 3
figure = "leaning"
given = ["∠3 ≅ ∠5"]
goal = "m ∥ n"
support = "blank"
possible = false
"""


@pytest.fixture(scope="module")
def packs(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("packs")
    (folder / "forms").mkdir()
    (folder / "forms" / "pack.toml").write_text(PACK, encoding="utf-8")
    return folder


@pytest.fixture(scope="module")
def lesson_server(tmp_path_factory: pytest.TempPathFactory, chromium: Any, packs: Path) -> Iterator[Lesson]:
    with pytest.MonkeyPatch.context() as patch:
        patch.setenv("EIGHT_ANGLES_PACKS_DIR", str(packs))
        made = start(tmp_path_factory.mktemp("lesson"), chromium)
    yield made
    made.stop()


@pytest.mark.parametrize("name", ["mouse", "taps", "keys"])
def test_written_proofs_and_a_goal_that_is_not_forced(lesson: Lesson, packs: Path, name: str) -> None:
    teacher = lesson.teacher()
    period = lesson.period(teacher, "forms")
    student = enter(lesson, period, teacher, name, 11)
    tasks = [task.data for task in load_pack(packs / "forms").parts[0].tasks]
    student.go(tasks[0])
    for task in tasks:
        student.next_to(task)
        student.do(task)
    state = lesson.call(teacher, "GET", f"{period.path}state")
    assert [task["done"] for part in state["parts"] for task in part["tasks"]] == [1, 1, 1]
