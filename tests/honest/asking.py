"""One question put to the program, and its answer held against every oracle that can speak to it."""

from __future__ import annotations

import random
import time
from collections import Counter
from dataclasses import dataclass, field

from app.reasoning import api
from tests.honest.linear import CANNOT, CONFLICT, FOLLOWS, OPEN, Linear
from tests.honest.nonlinear import PROVED, REFUTED, Nonlinear
from tests.honest.planar import realize
from tests.honest.plane import Figure
from tests.honest.reader import read
from tests.honest.scenes import Scene, grid_scene, linear_scene, random_statement, true_statements
from tests.honest.statements import LINEAR, PARALLEL, Statement, text

UNDECIDED = "undecided"
# How much of what linear arithmetic has already proved is tried to be refuted all the same.
DOUBT = 0.02
CROWDED = 0.01
VERDICTS = (FOLLOWS, OPEN, CANNOT, CONFLICT, UNDECIDED)


@dataclass
class Wrong:
    where: str
    why: str
    body: dict
    answer: dict


@dataclass
class Tally:
    """Counts by verdict and by what confirmed it; every wrong verdict in full."""

    counts: Counter[tuple[str, str]] = field(default_factory=Counter)
    wrong: list[Wrong] = field(default_factory=list)
    notes: Counter[str] = field(default_factory=Counter)
    open: list[tuple[str, dict]] = field(default_factory=list)
    slowest: tuple[float, dict] = (0.0, {})
    spent: float = 0.0

    @property
    def total(self) -> int:
        return sum(self.counts.values())

    def share(self, verdict: str) -> float:
        return sum(n for (one, _), n in self.counts.items() if one == verdict) / max(self.total, 1)

    def add(self, other: Tally) -> None:
        self.counts += other.counts
        self.notes += other.notes
        self.wrong += other.wrong
        self.open += other.open
        self.spent += other.spent
        self.slowest = max(self.slowest, other.slowest, key=lambda pair: pair[0])


class Asker:
    """All questions about one figure."""

    def __init__(
        self,
        figure: Figure,
        tally: Tally,
        where: str,
        *,
        nonlinear: int = 400,
        starts: int = 4,
        doubt: float = 1.0,
    ) -> None:
        self.figure, self.tally, self.where = figure, tally, where
        self.body = figure.to_json()
        self.linear = Linear(figure)
        self.timeout, self.starts, self.doubt = nonlinear, starts, doubt
        # The same set of givens conflicts for every claim: one look or two at it will do.
        self.look = 0.3
        self._nonlinear: Nonlinear | None = None

    def given(self, given: list[Statement], scene: Scene | None, rng: random.Random) -> None:
        """Open a set of givens; `scene` where it is a figure in which they all hold."""
        self.statements, self.scene = given, scene
        self.texts = [text(one, rng) for one in given]
        self.can = self.linear.given(given)
        self.real: bool | None = True if scene else None if self.can else False
        if scene and not self.can:
            raise AssertionError(f"our own oracles disagree: {self.where} {self.texts}")

    def close(self) -> None:
        self.linear.close()

    def ask(self, claim: Statement, rng: random.Random) -> str:
        body = {"figure": self.body, "given": self.texts, "claim": text(claim, rng)}
        began = time.process_time()
        answer = api.follows(body)
        took = time.process_time() - began
        self.tally.spent += took
        if took > self.tally.slowest[0]:
            self.tally.slowest = (took, body)
        verdict = str(answer["verdict"])
        self._wrong = False

        def wrong(why: str) -> None:
            self._wrong = True
            self.tally.wrong.append(Wrong(self.where, why, body, answer))

        by = self._judge(verdict, claim, body, answer, wrong, rng)
        self.tally.counts[verdict, "WRONG" if self._wrong else by] += 1
        return verdict

    def _judge(self, verdict: str, claim: Statement, body: dict, answer: dict, wrong, rng: random.Random) -> str:
        truth = self.linear.verdict(claim) if self.can else CONFLICT
        holds = None
        if self.scene is not None:
            holds = self.scene.true(claim)
            if truth == (CANNOT if holds else FOLLOWS):
                raise AssertionError(f"our own oracles disagree: {self.where} {self.texts} {body['claim']}")
        if verdict not in VERDICTS:
            wrong(f"no verdict of the contract: {verdict}")
            return ""
        if verdict == UNDECIDED:
            self.tally.open.append((self.where, body))
            if truth != OPEN:
                wrong(f"undecided, but linear arithmetic says: {truth}")
            return "left open; " + self._left(claim)
        if verdict == CONFLICT:
            return self._conflict(truth, answer, wrong, rng)
        if truth == CONFLICT:
            wrong("the givens conflict, z3 says")
            return ""
        if verdict == OPEN:
            return self._open(truth, claim, answer, wrong)
        by = self._certain(verdict, truth, holds, claim, wrong, rng)
        if verdict == FOLLOWS:
            self._rows(body, answer, wrong)
        return by

    # not forced

    def _open(self, truth: str, claim: Statement, answer: dict, wrong) -> str:
        if truth != OPEN:
            wrong(f"not forced, but linear arithmetic says: {truth}")
            return ""
        reading = read(self.figure, self.statements, claim, answer.get("counterexample"))
        if reading.problems:
            wrong("not forced, and its figure: " + "; ".join(reading.problems))
            return ""
        if reading.facts is not None and reading.facts.gap < CROWDED * reading.facts.size:
            self.tally.notes["figure with two named points closer than a hundredth of its size"] += 1
        if claim[0] == LINEAR and reading.fails < 2:
            self.tally.notes["figure in which measures fail by less than 2"] += 1
        if reading.faint:
            if not self.linear.possible(self.linear.visible(claim, 8)):
                self.tally.notes["figure off by less than 5°, as the givens want"] += 1
            elif realize(self.figure, self.statements, claim, starts=8, visible=8.0) is not None:
                wrong(f"its figure is only {reading.apart:.2f}° off the claim, and 8° is possible")
            else:
                self.tally.notes["figure off by less than 5°, none found that is farther"] += 1
        return "its figure, checked"

    # givens conflict

    def _conflict(self, truth: str, answer: dict, wrong, rng: random.Random) -> str:
        told = answer.get("conflict")
        if not isinstance(told, list) or (self.statements and not told and truth == CONFLICT and not self._empty()):
            wrong("a conflict without its givens")
        elif told and rng.random() < self.look:
            self._smallest(told, wrong)
        if truth == CONFLICT:
            return "z3, linear"
        if self.scene is not None:
            wrong("there is a figure with all givens, and the drawn order: conflict is untrue")
            return ""
        if self._realized():
            wrong("a figure with all givens, and the drawn order, was found")
            return ""
        return self._by(self._prove(None), wrong) or "by order or concurrency; no figure found"

    def _smallest(self, told: list[str], wrong) -> None:
        """The set that is named can't hold together, and does with any one left out."""
        by_name = dict(zip(self._shown(), self.statements, strict=True))
        if not set(told) <= set(by_name) or len(set(told)) < len(told):
            wrong(f"its conflict names {told}, of {list(by_name)}")
            return
        named = [by_name[one] for one in told]
        if not Linear(self.figure).conflict(named):
            if realize(self.figure, named, starts=10 * self.starts) is not None:
                wrong(f"a figure has all that its conflict names: {told}")
            return
        for one in named:
            rest = [other for other in named if other is not one]
            if Linear(self.figure).conflict(rest):
                wrong(f"its conflict {told} is not a smallest one")
                return

    def _shown(self) -> list[str]:
        """Each given as the program writes it."""
        shown = []
        for one in self.texts:
            answer = api.follows({"figure": self.body, "given": [one], "claim": one})
            rows = answer.get("proof") or []
            shown.append(
                str(rows[0]["statement"]) if isinstance(rows, list) and rows else " ".join(answer.get("conflict") or [])
            )
        return shown

    def _empty(self) -> bool:
        """The figure alone can't be, whatever is given."""
        return Linear(self.figure).conflict([])

    def _realized(self) -> bool:
        if self.real is None:
            self.real = realize(self.figure, self.statements, starts=10 * self.starts) is not None
        return self.real

    # follows, cannot be

    def _certain(
        self, verdict: str, truth: str, holds: bool | None, claim: Statement, wrong, rng: random.Random
    ) -> str:
        if holds is not None and holds != (verdict == FOLLOWS):
            wrong(f"{verdict}, but in a figure with all givens the claim is {'true' if holds else 'false'}")
            return ""
        if not self._realized():
            # No figure was found with these givens: then nothing says that they hold together.
            if self._prove(None) == PROVED:
                wrong(f"{verdict}, but the givens conflict (by order or concurrency), z3 says")
                return ""
            self.tally.notes[f"{verdict}, and no figure found with these givens"] += 1
        if truth not in (OPEN, verdict):
            wrong(f"{verdict}, but linear arithmetic says: {truth}")
            return ""
        certain = truth == verdict
        if not certain or rng.random() < self.doubt:
            holding, failing = (self.statements, claim) if verdict == FOLLOWS else ([*self.statements, claim], None)
            if realize(self.figure, holding, failing, starts=2 * self.starts, seed=rng.randrange(10**6)) is not None:
                wrong(f"{verdict}, but a figure with all givens was found that says otherwise")
                return ""
            self.tally.notes[f"{verdict}, and no figure found that says otherwise"] += 1
        if certain:
            return "z3, linear"
        more = () if verdict == FOLLOWS else (claim,)
        return (
            self._by(self._prove(claim if verdict == FOLLOWS else None, *more), wrong) or "no figure against it found"
        )

    def _prove(self, claim: Statement | None, *more: Statement) -> str:
        if not self.timeout:
            return "not asked"
        if self._nonlinear is None:
            self._nonlinear = Nonlinear(self.figure, self.timeout)
        answer = self._nonlinear.prove([*self.statements, *more], claim)
        self.tally.notes[f"z3, nonlinear: {answer}"] += 1
        return answer

    def _by(self, answer: str, wrong) -> str | None:
        if answer == REFUTED:
            wrong("z3 has a figure in coordinates against it")
        return "z3, nonlinear" if answer == PROVED else None

    def _left(self, claim: Statement) -> str:
        """What is true of a question that the program left open."""
        fails = realize(self.figure, self.statements, claim, starts=2 * self.starts) is not None
        holds = realize(self.figure, [*self.statements, claim], starts=2 * self.starts) is not None
        if fails:
            return "it isn't forced" if holds else "it fails wherever the givens hold"
        if holds:
            return "proved by z3" if self._prove(claim) == PROVED else "no figure against it"
        return "the givens conflict, by z3" if self._prove(None) == PROVED else "no figure with the givens"

    def _rows(self, body: dict, answer: dict, wrong) -> None:
        rows = answer.get("proof")
        if rows is None:
            self.tally.notes["follows without rows, by " + str(answer.get("by") or "nothing named")] += 1
            if not answer.get("by"):
                self.tally.open.append((f"{self.where}: no rows", body))
            return
        checked = api.check(
            {
                "figure": body["figure"],
                "given": body["given"],
                "goal": body["claim"],
                "rows": rows,
            }
        )
        bad = [row for row in checked["rows"] if row["verdict"] != "follows"]
        if bad or not checked["complete"]:
            wrong(f"its own proof doesn't pass the check: {bad or 'not complete'}")


# Many questions.


def some_linear(seed: int, tally: Tally, *, sets: int = 3, claims: int = 6) -> None:
    """Questions on a figure without concurrency."""
    rng = random.Random(f"linear {seed}")
    scene = linear_scene(rng)
    if scene is None:
        return
    _questions(rng, scene, Asker(scene.figure, tally, f"linear {seed}", doubt=DOUBT), sets, claims)


def some_triples(seed: int, tally: Tally, *, sets: int = 2, claims: int = 3, nonlinear: int = 400) -> None:
    """Questions on a figure with a point of three lines or more."""
    rng = random.Random(f"triples {seed}")
    scene = grid_scene(rng)
    if scene is None:
        return
    asker = Asker(scene.figure, tally, f"triples {seed}", nonlinear=nonlinear)
    _questions(rng, scene, asker, sets, claims)


def _questions(rng: random.Random, scene: Scene, asker: Asker, sets: int, claims: int) -> None:
    pool = true_statements(scene)
    for _ in range(sets):
        true = rng.random() < (0.5 if scene.crossed else 0.9)
        given: list[Statement] = []
        if not true and rng.random() < 0.5:
            # Lines said to be parallel at random: their crossings may be drawn in an order that can't be.
            names: list[str] | tuple[str, ...] = scene.crossed or list(scene.figure.lines)
            given = [(PARALLEL, *rng.sample(names, 2)) for _ in range(rng.choice((1, 2)))]
        for _ in range(rng.choice((0, 1, 1, 2, 2, 3, 4) if scene.exact else (1, 2, 2, 3, 3))):
            one = random_statement(rng, scene, pool, true=true or rng.random() < 0.6)
            if one not in given:
                given.append(one)
        world = scene if all(scene.true(one) for one in given) else None
        asker.given(given, world, rng)
        try:
            for _ in range(claims):
                asker.ask(random_statement(rng, scene, pool, true=rng.random() < (0.75 if scene.exact else 0.85)), rng)
        finally:
            asker.close()
