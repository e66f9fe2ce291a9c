"""A small pack for the tests of the server: a warm-up, a lesson part, an exit part."""

from __future__ import annotations

from pathlib import Path

HEAD = """
format = 1

[pack]
title = "A small pack"
summary = "Two lines and a transversal, three times over."
minutes = 20

[figures.two]
number = "standard"
transversal = "t"

[figures.two.lines]
l = { direction = 10, through = [0, 3] }
m = { direction = 10, through = [0, -3] }
t = { direction = 65, through = [0, 0] }
"""

PART = """
[[parts]]
id = "{id}"
title = "Part {id}"
minutes = 5
purpose = "{purpose}"
"""

TASK = """
[[parts.tasks]]
id = "{id}"
kind = "explore"
title = "Task {id}"
ask = "Look at the figure."
figure = "two"
movable = ["t"]

[parts.tasks.question]
ask = "Which?"
choices = ["one", "two"]
answer = 1
why = "Because it is so, says key-word-5521."
"""


def write_pack(folder: Path, name: str = "small") -> Path:
    """Write the pack under `folder`; returns `folder`."""
    content = HEAD
    for part, purpose, tasks in (
        ("warm", "warm-up", ["first", "second"]),
        ("main", "lesson", ["third", "fourth"]),
        ("bell", "exit", ["last"]),
    ):
        content += PART.format(id=part, purpose=purpose)
        for task in tasks:
            content += TASK.format(id=task)
    (folder / name).mkdir(parents=True)
    (folder / name / "pack.toml").write_text(content, encoding="utf-8")
    return folder
