"""What a judge is told and what it answers.

A *reply* is what a student hands in for a task; a *verdict* is what the program says of it. Every kind of
task has a module in `app.classroom.kinds` that turns one into the other. A reply that can't be judged at
all (a field missing, a statement that isn't in the notation) raises `app.figure.faults.Fault` instead: the
student hears where and why, and nothing counts as handed in.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field
from typing import Any, NotRequired, TypedDict

from app.words import Text
from app.words.house import House


class Part(TypedDict):
    """A part of a reply that is judged apart. `ok` None: it couldn't be read, and stands in the way of nothing."""

    field: str
    ok: bool | None
    text: Text
    verdict: NotRequired[str]


@dataclass(frozen=True)
class Context:
    """What a kind may know beside the task and the reply.

    `seed` is the same for one seat and one task for ever, and differs between seats: versions come from it.
    `profile` is "postulate" or "theorem" (whether the corresponding angles converse is assumed or proved).
    `history` holds the earlier replies of this seat to this task, oldest first: {"reply": …, "verdict": …}.
    """

    seed: int
    house: House
    profile: str = "postulate"
    history: list[dict[str, Any]] = field(default_factory=list)


@dataclass(frozen=True)
class Verdict:
    """What the program says of one reply.

    `ok`: the reply is right as it stands. `done`: the task is finished (a practice set may need more).
    `code`: a short word for tables and tests, such as "wrong way round"; `text`: the one sentence for the
    verdict line, which names the condition that held or failed. `parts`: for each part judged
    apart. `score`: 0 to 1, with partial credit. `skills`: skill id → shown or not in this
    reply. `figure`, `marks`: the figure that shows why (a counterexample, or the student's own with what
    follows marked on it).
    """

    ok: bool
    done: bool
    code: str
    text: Text
    parts: list[Part] = field(default_factory=list)
    score: float = 0.0
    skills: dict[str, bool] = field(default_factory=dict)
    misconception: str | None = None
    figure: Mapping[str, object] | None = None
    marks: Mapping[str, object] | None = None
    more: Mapping[str, object] = field(default_factory=dict)

    def as_json(self) -> dict[str, object]:
        """The verdict as JSON data, but for its messages: they stay messages until it is kept or shown."""
        return {
            "ok": self.ok,
            "done": self.done,
            "code": self.code,
            "text": self.text,
            "parts": self.parts,
            "score": self.score,
            "skills": self.skills,
            "misconception": self.misconception,
            "figure": self.figure,
            "marks": self.marks,
            "more": self.more,
        }
