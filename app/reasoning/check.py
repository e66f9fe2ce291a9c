"""A whole proof checked: each row on its own, by its reason and the rows before it; eight verdicts.

The judge says whether a row follows. Where it doesn't, this module finds out which of the seven other things is
the matter and says which condition failed. Rows that say what is given must stand as rows: a step taken out of a
proof fails at a definite place.
"""

from __future__ import annotations

from collections.abc import Collection, Sequence
from dataclasses import dataclass, field, replace
from functools import cached_property, lru_cache

from app.figure.faults import Fault
from app.figure.model import Figure
from app.reasoning.budget import CHECK, Spent, spending
from app.reasoning.counter import Counterexample
from app.reasoning.directions import possible, widened
from app.reasoning.follows import conflicting, follows
from app.reasoning.frame import Frame, frame_of
from app.reasoning.graph import Row, listed
from app.reasoning.judge import Judged, Known, judge
from app.reasoning.notes import why
from app.reasoning.strict import steps_to
from app.reasoning.terms import Fact, Statement, said, show
from app.reasoning.theorems import TABLE, twin
from app.words import Message, Text, joined, say, theorem
from app.words.house import House, house

__all__ = ["VERDICTS", "Checked", "CheckedRow", "check"]

FOLLOWS, OTHER, STEP, WRONG_WAY = "follows", "other reason", "needs a step", "wrong way round"
CIRCLE, NOT_FORCED, CANNOT_BE, UNREADABLE = "in a circle", "not forced", "cannot be", "unreadable"
VERDICTS = (FOLLOWS, OTHER, STEP, WRONG_WAY, CIRCLE, NOT_FORCED, CANNOT_BE, UNREADABLE)
# Reasons that say an earlier fact again: with them, the goal itself may be what a row rests on.
RESTATING = {"restated", "sum", "equal measures"}


@dataclass
class CheckedRow:
    """One row's verdict. `uses` are the rows it rests on (found, where none were cited); `missing` the facts that would
    have to stand before it; `loop` the rows of a circle; `other` the reason that does give it; `empty` where nothing at
    all is written; `undecided` where it can't be told whether it is so, or the budget ended before it was judged.
    """

    verdict: str
    note: Text = ""
    uses: tuple[int, ...] = ()
    other: str | None = None
    missing: tuple[Fact, ...] = ()
    loop: tuple[int, ...] = ()
    statement: Statement | None = None
    reason: str | None = None
    at: int | None = None
    empty: bool = False
    undecided: bool = False
    counterexample: Counterexample | None = field(default=None, repr=False)

    def to_json(self) -> dict[str, object]:
        body: dict[str, object] = {"verdict": self.verdict, "note": self.note, "from": list(self.uses)}
        if self.statement is not None:
            body["statement"] = show(self.statement)
        if self.reason is not None:
            body["reason"] = self.reason
        if self.other is not None:
            body["other"] = self.other
        if self.loop:
            body["loop"] = list(self.loop)
        if self.at is not None:
            body["at"] = self.at
        if self.undecided:
            body["undecided"] = True
        if self.counterexample is not None:
            body["counterexample"] = self.counterexample.to_json()
        return body


@dataclass
class Checked:
    """`complete`: the goal stands in a row, and it and every row it rests on follow. `sound`: no row is false or
    unreadable, and no blank is empty; `faulty` are the numbers of those that are. `idle` are the rows that neither
    follow nor are false: true of the givens, but not shown.
    """

    rows: list[CheckedRow]
    complete: bool
    goal_row: int | None = None
    faulty: tuple[int, ...] = ()

    @property
    def sound(self) -> bool:
        return not self.faulty

    @property
    def idle(self) -> tuple[int, ...]:
        return tuple(
            n for n, row in enumerate(self.rows, 1) if row.verdict != FOLLOWS and not row.empty and n not in self.faulty
        )

    def to_json(self) -> dict[str, object]:
        return {
            "rows": [row.to_json() for row in self.rows],
            "complete": self.complete,
            "sound": self.sound,
            "goal_row": self.goal_row,
        }


def check(
    fig: Figure,
    given: Sequence[Statement | str],
    goal: Statement | str,
    rows: Sequence[dict[str, object]],
    *,
    strict: bool = False,
    bar: Collection[str] = (),
    words: House | None = None,
) -> Checked:
    """Judge every row of a proof.

    `rows` are {"statement": text, "reason": id or house words, "from": [row numbers]?}. `bar` are theorems that may not
    be used (they are what is being derived). Raises Fault for givens or a goal that can't be read.
    """
    return _Checker(fig, given, goal, rows, strict, frozenset(bar), words or house()).run()


@dataclass
class _Read:
    number: int
    statement: Statement | None
    reason: str | None
    cited: tuple[int, ...] | None
    fault: CheckedRow | None = None


@lru_cache(4096)
def note_of(reason: str, used: tuple[int, ...]) -> Message:
    """What is said of a row that its reason gives from these rows. Messages never change: a class's are few."""
    if reason == "given":
        return say("reasoning.note_given")
    if used:
        return say("reasoning.note_follows", reason=theorem(reason), rows=listed(used))
    return say("reasoning.note_drawn", reason=theorem(reason))


class _Checker:
    def __init__(
        self,
        fig: Figure,
        given: Sequence[Statement | str],
        goal: Statement | str,
        rows: Sequence[dict[str, object]],
        strict: bool,
        bar: frozenset[str],
        words: House,
    ) -> None:
        self.fig, self.strict, self.bar, self.words = fig, strict, bar, words
        self.frame: Frame = frame_of(fig)
        self.given = [self.frame.read(one) if isinstance(one, str) else one for one in given]
        self.goal = self.frame.read(goal) if isinstance(goal, str) else goal
        self.rows = [self.read(i, row) for i, row in enumerate(rows, 1)]
        statements = [row.statement for row in self.rows if row.statement is not None]
        self.frame = widened(self.frame, [*self.given, self.goal, *statements])

    def read(self, number: int, row: dict[str, object]) -> _Read:
        cited = row.get("from")
        numbers = tuple(n for n in cited if isinstance(n, int)) if isinstance(cited, (list, tuple)) else None
        try:
            statement = self.frame.read(str(row.get("statement") or ""))
        except Fault as fault:
            at = fault.fields.get("at")
            broken = CheckedRow(UNREADABLE, fault.message, at=at if isinstance(at, int) else None)
            broken.empty = not any(str(row.get(what) or "").strip() for what in ("statement", "reason"))
            return _Read(number, None, None, numbers, broken)
        text = row.get("reason")
        if not isinstance(text, str) or not text.strip():
            return _Read(
                number,
                statement,
                None,
                numbers,
                CheckedRow(UNREADABLE, say("reasoning.reason_wanted"), statement=statement),
            )
        reason = text if text in TABLE else self.words.accepts(text)
        if reason is None:
            return _Read(
                number,
                statement,
                None,
                numbers,
                CheckedRow(UNREADABLE, say("reasoning.reason_unknown", reason=text[:40]), statement=statement),
            )
        return _Read(number, statement, reason, numbers or None)

    # First pass: the judge, row by row.

    def run(self) -> Checked:
        with spending(CHECK):
            return self.judge_all()

    def judge_all(self) -> Checked:
        known = Known(self.frame, (), self.strict)
        sound = Known(self.frame, (), self.strict)
        first: dict[int, Judged] = {}
        for row in self.rows:
            if row.statement is None:
                continue
            if row.reason is not None and not self.bars(row.reason, row.statement):
                try:
                    verdict = first[row.number] = self.judged(known, sound, row)
                except Spent:
                    row.fault = self.unjudged(row)
                    continue
                if verdict.ok and sound.rows.keys() >= set(verdict.used):
                    sound.add(row.number, row.statement)
            known.add(row.number, row.statement)
        self.first = first
        self.sound = frozenset(sound.rows)
        done = []
        for row in self.rows:
            found = first.get(row.number)
            if row.fault is not None:
                done.append(row.fault)
            elif found is not None and found.ok:
                done.append(self.accepted(row, found))
            else:
                try:
                    done.append(self.refused(row, found or Judged(False), done))
                except Spent:
                    done.append(self.unjudged(row))
        goal = self.goal_row(done)
        faulty = tuple(n for n, row in enumerate(done, 1) if self.faulty(row))
        return Checked(done, goal is not None and self.complete(goal, done), goal, faulty)

    def faulty(self, row: CheckedRow) -> bool:
        """Whether a row is false or can't be read. A true statement with a reason that doesn't give it is neither."""
        if row.verdict == UNREADABLE:
            return not row.empty
        if row.verdict == WRONG_WAY and self.sound.issuperset(row.uses):
            return False  # the other of the two theorems gives it from rows that are proved: it is true
        if row.verdict in (WRONG_WAY, CIRCLE) and row.statement is not None:
            try:
                return follows(self.fig, self.given, row.statement).verdict in (NOT_FORCED, CANNOT_BE)
            except Spent:
                return False  # nothing was shown either way
            except Fault:
                return True
        return row.verdict in (CANNOT_BE, NOT_FORCED)

    def unjudged(self, row: _Read) -> CheckedRow:
        """A row for which the budget was not enough."""
        return CheckedRow(
            UNREADABLE, say("reasoning.note_limit"), statement=row.statement, reason=row.reason, undecided=True
        )

    def judged(self, known: Known, sound: Known, row: _Read) -> Judged:
        """Cited rows first, then the rows that are proved, then all: a wrong row never stands in the way of its mended
        twin below it.
        """
        assert row.statement is not None and row.reason is not None
        tries = [sound] if len(sound.rows) == len(known.rows) else [sound, known]
        if row.cited:
            tries = [self.narrow(one, row.cited) for one in tries] + tries
        found = Judged(False)
        for one in tries:
            found = judge(one, row.statement, row.reason, self.given)
            if found.ok:
                break
        return found

    def bars(self, reason: str, statement: Statement) -> bool:
        """Whether the task bars this reason. A theorem that is barred isn't to be had under another name either."""
        said_otherwise = statement.kind == "parallel" and reason in ("transitive", "substitution")
        return reason in self.bar or (said_otherwise and "parallel-to-same-line" in self.bar)

    def narrow(self, known: Known, cited: Collection[int]) -> Known:
        return Known(self.frame, ((n, known.rows[n]) for n in cited if n in known.rows), self.strict)

    def accepted(self, row: _Read, found: Judged) -> CheckedRow:
        assert row.reason is not None
        note = note_of(row.reason, found.used)
        return CheckedRow(FOLLOWS, note, found.used, statement=row.statement, reason=row.reason)

    # Second pass: what is the matter with a row that the judge refused.

    def before(self, number: int, sound: bool = False) -> Known:
        return Known(
            self.frame,
            (
                (r.number, r.statement)
                for r in self.rows
                if r.number < number and r.statement is not None and (not sound or r.number in self.sound)
            ),
            self.strict,
        )

    def refused(self, row: _Read, found: Judged, done: Sequence[CheckedRow]) -> CheckedRow:
        assert row.statement is not None and row.reason is not None
        base = CheckedRow(STEP, statement=row.statement, reason=row.reason, missing=found.missing or ())
        known = self.before(row.number)
        if self.bars(row.reason, row.statement):
            return self.barred(base, row, known, done)
        if self.strict and row.statement.loose:
            base.verdict, base.note = UNREADABLE, say("reasoning.note_strict", statement=said(row.statement))
            return base
        # Each question in the order of how much it says to the student.
        for ask in (self.in_between, self.other_way, self.by_other, self.in_circle):
            answer = ask(base, row, known)
            if answer is not None:
                return answer
        return self.decided(base, row, done)

    def barred(self, base: CheckedRow, row: _Read, known: Known, done: Sequence[CheckedRow]) -> CheckedRow:
        assert row.reason is not None
        circle = self.in_circle(base, row, known)
        if circle is not None:
            return circle
        answer = self.decided(base, row, done)
        if answer.verdict == STEP:
            answer.note = say("reasoning.note_barred", reason=theorem(row.reason))
        return answer

    def in_between(self, base: CheckedRow, row: _Read, known: Known) -> CheckedRow | None:
        """In a strict class: whether it would follow but for ≅ and =, and the row that comes first."""
        assert row.statement is not None and row.reason is not None
        if not self.strict:
            return None
        found = judge(Known(self.frame, known.rows.items()), row.statement, row.reason, self.given)
        if not found.ok:
            return None
        step, *rest = steps_to(known, Row(row.statement, row.reason), found.used, self.given)
        if not rest:
            return None
        base.verdict, base.missing = STEP, (step.statement.fact,)
        base.note = say("reasoning.note_between", statement=said(step.statement), reason=theorem(step.reason))
        return base

    def other_way(self, base: CheckedRow, row: _Read, known: Known) -> CheckedRow | None:
        assert row.statement is not None and row.reason is not None
        other = twin(row.reason)
        if other is None or self.bars(other, row.statement):
            return None
        found = self.judged(known, self.before(row.number, sound=True), replace(row, reason=other, cited=None))
        if not found.ok:
            return None
        base.verdict, base.other, base.uses = WRONG_WAY, other, found.used
        key = "note_needs_converse" if TABLE[row.reason].direction == "original" else "note_needs_original"
        base.note = say(f"reasoning.{key}", reason=theorem(row.reason), other=theorem(other))
        return base

    def by_other(self, base: CheckedRow, row: _Read, known: Known) -> CheckedRow | None:
        assert row.statement is not None and row.reason is not None
        sound = self.before(row.number, sound=True)
        # To say a wrong row again makes it no better, and no row is told to rest on a goal not yet proved.
        idle = row.statement.fact, self.goal.fact
        all_rows = Known(
            self.frame, ((n, s) for n, s in known.rows.items() if n in self.sound or s.fact not in idle), self.strict
        )
        for rows in [sound] if len(sound.rows) == len(all_rows.rows) else [sound, all_rows]:
            for other in TABLE:
                if other == row.reason or self.bars(other, row.statement):
                    continue
                found = judge(rows, row.statement, other, self.given)
                if found.ok:
                    base.verdict, base.other, base.uses = OTHER, other, found.used
                    base.note = say(
                        "reasoning.note_other",
                        why=why(known, row.statement, row.reason, base.missing),
                        other=theorem(other),
                    )
                    return base
        return None

    def in_circle(self, base: CheckedRow, row: _Read, known: Known) -> CheckedRow | None:
        """Whether the row would follow from the goal, or from later rows that rest on it."""
        assert row.statement is not None and row.reason is not None
        n = row.number
        is_goal = row.statement.fact == self.goal.fact
        if row.reason == "given":
            if not is_goal:
                return None
            return self.circle(base, (), say("reasoning.note_goal_given", goal=said(self.goal)))
        if not is_goal or TABLE[row.reason].rule in RESTATING:
            with_goal = self.before(n)
            with_goal.add(0, self.goal)
            found = judge(with_goal, row.statement, row.reason, self.given)
            if found.ok and 0 in found.used:
                loop = tuple(sorted({n, *(g for g in self.rows_saying(self.goal.fact) if n in self.rests(g))}))
                key = "note_circle_starts" if TABLE[row.reason].rule == "original" else "note_circle_goal"
                return self.circle(
                    base, loop, say("reasoning." + key, reason=theorem(row.reason), goal=said(self.goal))
                )
        if row.cited is not None and n in row.cited:
            return self.circle(base, (n,), say("reasoning.note_circle_self", row=n))
        # Rows further down, without those that say the same as this one.
        all_rows = ((r.number, r.statement) for r in self.rows if r.statement is not None)
        others = Known(self.frame, ((m, s) for m, s in all_rows if s.fact != row.statement.fact), self.strict)
        found = judge(others, row.statement, row.reason, self.given, row.cited)
        ahead = [m for m in found.used if m > n]
        if found.ok and ahead:
            turning = [m for m in ahead if n in self.rests(m)]
            if turning:
                loop = tuple(sorted({n, *turning}))
                return self.circle(base, loop, say("reasoning.note_circle_rows", rows=listed(loop)))
            base.verdict, base.note = STEP, say("reasoning.note_order", rows=listed(ahead))
            return base
        return None

    def circle(self, base: CheckedRow, loop: tuple[int, ...], note: Message) -> CheckedRow:
        base.verdict, base.loop, base.note = CIRCLE, loop, note
        return base

    def rows_saying(self, fact: Fact) -> list[int]:
        return [r.number for r in self.rows if r.statement is not None and r.statement.fact == fact]

    def rests(self, number: int) -> set[int]:
        """All rows that a row rests on, by what the judge found and by what is cited."""
        found: set[int] = set()
        waiting = [number]
        while waiting:
            n = waiting.pop()
            judged = self.first.get(n)
            uses = set(judged.used) if judged is not None and judged.ok else set()
            cited = next((r.cited for r in self.rows if r.number == n), None)
            if not uses:
                uses.update(cited or ())
            for m in uses - found:
                found.add(m)
                waiting.append(m)
        return found

    def decided(self, base: CheckedRow, row: _Read, done: Sequence[CheckedRow]) -> CheckedRow:
        """True of what stands, or not forced by it, or impossible beside it."""
        assert row.statement is not None and row.reason is not None
        before = [
            r.statement
            for r, d in zip(self.rows, done, strict=False)
            if r.statement is not None
            and d.verdict not in (CANNOT_BE, UNREADABLE)
            and (r.number in self.sound or r.statement.fact != row.statement.fact)
        ]
        base_facts = [*self.given, *before]
        try:
            if before and not possible(self.frame, [s.fact for s in base_facts]):
                base_facts = list(self.given)
            outcome = follows(self.fig, base_facts, row.statement, order=False)
        except Fault as fault:
            # A square that nothing fixes: the row is no worse than one that can't be read.
            base.verdict, base.note = UNREADABLE, fault.message
            return base
        reason = why(self.before(row.number), row.statement, row.reason, base.missing)
        if outcome.verdict == "follows":
            key = "note_step" if outcome.by is None else "note_coordinates"
            base.verdict, base.note = STEP, say("reasoning." + key, why=reason)
        elif outcome.verdict == "undecided":
            # No verdict on its truth is to be had, so it is no better than a row that can't be read.
            base.verdict, base.undecided = UNREADABLE, True
            base.note = say("reasoning.note_undecided", why=reason, statement=said(row.statement))
        elif outcome.verdict == "not forced":
            base.verdict, base.counterexample = NOT_FORCED, outcome.counterexample
            base.note = say("reasoning.note_not_forced", why=reason, statement=said(row.statement))
        else:
            base.verdict = CANNOT_BE
            against = self.against(row)
            base.note = say("reasoning.note_cannot_be", rows=against) if against else say("reasoning.note_cannot_drawn")
        return base

    def against(self, row: _Read) -> Message | None:
        """The fewest rows before, or givens, that the row contradicts, in words."""
        assert row.statement is not None
        rows = [(listed((r.number,)), r.statement) for r in self.rows if r.statement and r.number < row.number]
        told = {s.fact for _, s in rows}
        rows += [(say("reasoning.the_given", statement=said(g)), g) for g in self.given if g.fact not in told]
        places = conflicting(self.fig, [*(s for _, s in rows), row.statement])
        against = [rows[i][0] for i in places if i < len(rows)]
        return joined("comma", against) if against else None

    # The whole.

    def goal_row(self, done: Sequence[CheckedRow]) -> int | None:
        for row, result in zip(self.rows, done, strict=True):
            if row.statement is None or not row.statement.same_as(self.goal) or result.verdict != FOLLOWS:
                continue
            if self.strict and (row.statement.kind == "congruent") != (self.goal.kind == "congruent"):
                continue
            if self.complete(row.number, done):
                return row.number
        return None

    def complete(self, goal: int, done: Sequence[CheckedRow]) -> bool:
        waiting, seen = [goal], {goal}
        while waiting:
            row = done[waiting.pop() - 1]
            if row.verdict != FOLLOWS:
                return False
            for n in row.uses:
                if n not in seen:
                    seen.add(n)
                    waiting.append(n)
        return True

    @cached_property
    def numbers(self) -> tuple[int, ...]:
        return tuple(row.number for row in self.rows)
