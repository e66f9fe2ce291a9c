"""Proofs that are found: all pass the judge, all are entailed row by row (z3), and none is longer than it need be."""

from __future__ import annotations

import itertools
import random
from pathlib import Path

import pytest

from app.figure.model import Figure, figure_from_json
from app.lessons.load import load_pack
from app.reasoning.check import check
from app.reasoning.follows import follows
from app.reasoning.frame import frame_of
from app.reasoning.graph import Proof
from app.reasoning.hints import hint
from app.reasoning.judge import Known, judge
from app.reasoning.prover import prove
from app.reasoning.terms import show
from app.reasoning.theorems import REASONS
from tests.reading import in_english
from tests.reasoning.samples import figure, grid
from tests.reasoning.test_oracle import queries
from tests.reasoning.worlds import Oracle, text
from tests.reasoning.worlds import crossing as meet
from tests.scale import trials

check = in_english(check)
hint = in_english(hint)

PACKS = Path(__file__).parents[2] / "lesson_packs"


def rows_of(proof: Proof, cited: bool = True) -> list[dict]:
    return [
        {"statement": show(row.statement), "reason": row.reason, **({"from": list(row.uses)} if cited else {})}
        for row in proof.rows
    ]


def well_formed(proof: Proof, given: list[str], goal: str) -> None:
    """Givens first, the goal last, no row unused, each row resting on earlier ones."""
    reasons = [row.reason for row in proof.rows]
    assert reasons == sorted(reasons, key=lambda reason: reason != "given")
    used = {n for row in proof.rows for n in row.uses}
    assert used == set(range(1, len(proof.rows)))
    assert all(n < number for number, row in enumerate(proof.rows, 1) for n in row.uses)


@pytest.mark.parametrize("chunk", range(4))
def test_random_goals_that_follow_are_proved_and_every_row_is_entailed(chunk: int) -> None:
    reached = missed = 0
    for seed, raw, fig, given, claim in queries(100 + chunk, trials(quick=1200, full=20_000) // 4):
        givens, goal = [text(one) for one in given], text(claim)
        # The order along the lines refuses no row, so it is left out of the question here.
        if follows(fig, givens, goal, order=False).verdict != "follows":
            assert prove(fig, givens, goal) == [], seed
            continue
        found = prove(fig, givens, goal)
        if not found:
            # Rows speak of what the figure shows. The order of its crossings alone may keep two lines from being parallel
            # that cross nowhere in it; lines that are drawn parallel may be given as perpendicular. Any other goal must be
            # found once all its crossings and all sectors have names.
            apart = claim[0] == "not parallel" and not crossing(raw, *claim[1:])
            assert apart or drawn_parallel(raw, [*given, claim]) or prove(spelled_out(raw), givens, goal), seed
            missed += 1
            continue
        reached += 1
        firm = prove(fig, givens, goal, strict=True)
        assert check(fig, givens, goal, rows_of(firm[0]), strict=True).complete, (seed, rows_of(firm[0]))
        assert check(fig, givens, goal, rows_of(firm[0], cited=False)).complete, seed
        well_formed(firm[0], givens, goal)
        for cited in (True, False):
            checked = check(fig, givens, goal, rows_of(found[0], cited))
            assert checked.complete, (seed, [(row.verdict, row.note) for row in checked.rows])
        well_formed(found[0], givens, goal)
        wrong_rows_change_nothing(seed, fig, givens, goal, found[0])
        entailed_row_by_row(seed, raw, given, found[0])
    assert reached > 40
    assert missed < reached / 10


def crossing(raw: dict, l: str, m: str) -> bool:
    return any(l in lines and m in lines for lines in raw["meets"].values())


def drawn_parallel(raw: dict, statements: list) -> bool:
    """Whether a statement calls lines perpendicular, or not parallel, that are drawn parallel."""
    return any(
        kind in ("perpendicular", "not parallel") and len({raw["lines"][name]["direction"] for name in rest}) == 1
        for kind, *rest in statements
    )


def spelled_out(raw: dict) -> Figure:
    """The figure with every crossing and every sector named."""
    lines, meets = raw["lines"], {name: list(on) for name, on in raw["meets"].items()}
    at = {name: meet(lines[on[0]], lines[on[1]]) for name, on in meets.items()}
    names = iter("STUVWXYZ")
    for l, m in itertools.combinations(lines, 2):
        place = meet(lines[l], lines[m])
        if place is None or any(l in on and m in on for on in meets.values()):
            continue
        here = next(
            (n for n, p in at.items() if p and max(abs(a - b) for a, b in zip(p, place, strict=True)) < 1e-9), None
        )
        if here is None:
            here = next(names)
            meets[here], at[here] = [], place
        meets[here] = sorted({*meets[here], l, m})
    angles = dict(raw["angles"])
    known = {(a["at"], a["from"], a["to"]) for a in angles.values()}
    heading = {
        name + sign: (line["direction"] + turn) % 360
        for name, line in lines.items()
        for sign, turn in (("+", 0), ("-", 180))
    }
    for name, on in meets.items():
        rays = sorted((line + sign for line in on for sign in "+-"), key=heading.__getitem__)
        for i, ray in enumerate(rays):
            sector = (name, ray, rays[(i + 1) % len(rays)])
            if sector not in known:
                angles[str(50 + len(angles))] = dict(zip(("at", "from", "to"), sector, strict=True))
    return figure_from_json({**raw, "meets": meets, "angles": angles})


def wrong_rows_change_nothing(seed: int, fig: Figure, givens: list[str], goal: str, proof: Proof) -> None:
    """A wrong row, then the same row right: still complete. A wrong row in its place: no better than none there."""
    rng = random.Random(seed)
    plain = rows_of(proof, cited=False)
    at = rng.randrange(len(plain))
    for reason in rng.sample(REASONS, len(REASONS)):
        wrong = {**plain[at], "reason": reason}
        twice = check(fig, givens, goal, [*plain[:at], wrong, *plain[at:]])
        if twice.rows[at].verdict == "follows":
            continue
        assert twice.complete, (seed, at, reason)
        assert all(at + 1 not in row.uses for row in twice.rows[at + 1 :]), (seed, at, reason)
        # Rows that are cited move by one; those that cited the row still cite the right one.
        cited = [{**row, "from": [n + (n > at) for n in row["from"]]} for row in rows_of(proof)]
        assert check(fig, givens, goal, [*cited[:at], wrong, *cited[at:]]).complete, (seed, at, reason)
        instead = check(fig, givens, goal, [*plain[:at], wrong, *plain[at + 1 :]])
        without = check(fig, givens, goal, [*plain[:at], *plain[at + 1 :]])
        assert instead.complete == without.complete, (seed, at, reason)
        return


def entailed_row_by_row(seed: int, raw: dict, given: list, proof: Proof) -> None:
    oracle = Oracle(raw)
    for row in proof.rows:
        statement = as_tuple(row.statement)
        if statement is not None:
            assert oracle.verdict(given, statement) == "follows", (seed, show(row.statement))


def as_tuple(statement) -> tuple | None:
    """A statement as the oracle's tuple; None where an angle has no number (the oracle knows numbered ones)."""
    if statement.kind in ("parallel", "not parallel", "perpendicular"):
        return statement.kind, *statement.names
    fact = statement.fact
    if fact[0] != "equation" or any(not a[1:].isdigit() for a in statement.angles):
        return None
    return "linear", tuple((k, a.removeprefix("∠")) for a, k in fact[1]), -fact[2]


def test_random_rows_that_the_judge_accepts_are_entailed() -> None:
    """Random claims, random reasons, random rows before: whatever the judge lets pass, z3 must force."""
    accepted = 0
    for chunk in range(4):
        for seed, raw, fig, given, claim in queries(200 + chunk, trials(quick=1600, full=40_000) // 4):
            frame = frame_of(fig)
            known = Known(frame, enumerate((frame.read(text(one)) for one in given), 1))
            statement = frame.read(text(claim))
            rng = random.Random(seed)
            for reason in rng.sample(REASONS, 8):
                if reason == "given" or not judge(known, statement, reason).ok:
                    continue
                accepted += 1
                verdict = Oracle(raw).verdict(given, claim)
                assert verdict in ("follows", "givens conflict"), (seed, reason, text(claim))
    assert accepted > 20


@pytest.mark.parametrize(
    ("name", "given", "goal", "rows"),
    [
        ("eight", ["∠1 ≅ ∠5"], "l ∥ m", 2),
        ("eight", ["∠3 and ∠5 are supplementary"], "l ∥ m", 2),
        ("eight", ["∠1 and ∠6 are supplementary"], "l ∥ m", 4),
        ("eight", ["l ∥ m"], "∠1 ≅ ∠8", 2),
        ("eight", ["l ∥ m", "m∠1 = 65"], "m∠5 = 65", 4),
        ("eight", ["m∠1 = 65", "m∠5 = 65"], "l ∥ m", 4),
        ("three", ["l ∥ m", "m ∥ n"], "l ∥ n", 3),
        ("three", ["l ∥ m", "m ∥ n"], "∠1 ≅ ∠3", 4),
        ("three", ["t ⊥ l", "t ⊥ n"], "l ∥ n", 3),
        ("three", ["l ∥ m", "t ⊥ l"], "t ⊥ m", 3),
        ("three", ["∠1 ≅ ∠2", "∠2 ≅ ∠3"], "l ∥ n", 4),
        ("triangle", ["m∠1 = 50", "m∠2 = 60"], "m∠3 = 70", 4),
        ("triangle", ["m∠1 = 50", "m∠3 = 60"], "m∠4 = 110", 4),
        ("cross", ["r bisects ∠4", "l ⊥ t"], "m∠1 = 45", 5),
        ("eight", [], "∠1 ≅ ∠4", 1),
        ("eight", [], "∠1 and ∠2 are a linear pair", 1),
        ("eight", [], "∠3 ≅ ∠3", 1),
    ],
)
def test_lengths_of_shortest_proofs(name: str, given: list[str], goal: str, rows: int) -> None:
    """Counted by hand from the table; common practice, no source."""
    found = prove(figure(name), given, goal)

    assert len(found[0].rows) == rows, rows_of(found[0])
    assert check(figure(name), given, goal, rows_of(found[0])).complete


SMALL = [
    ("eight", ["∠2 ≅ ∠7"], "l ∥ m"),
    ("eight", ["∠1 and ∠6 are supplementary"], "l ∥ m"),
    ("eight", ["l ∥ m", "∠1 ≅ ∠2"], "∠5 ≅ ∠6"),
    ("three", ["l ∥ m", "∠2 ≅ ∠3"], "l ∥ n"),
    ("eight", ["∠1 ≅ ∠7"], "∠1 ≅ ∠6"),
    ("three", ["∠1 ≅ ∠2", "m ∥ n"], "∠1 ≅ ∠3"),
]


@pytest.mark.parametrize(("name", "given", "goal"), SMALL)
def test_no_shorter_proof_exists(name: str, given: list[str], goal: str) -> None:
    """Every set of fewer rows, built up from all statements of the two common kinds, misses the goal."""
    from itertools import combinations

    fig = figure(name)
    frame = frame_of(fig)
    best = prove(fig, given, goal)
    beyond = sum(row.reason != "given" for row in best[0].rows) - 1
    angles, lines = [f"∠{a}" for a in fig.angles], list(fig.lines)
    pool = [frame.read(f"{a} ≅ {b}") for a, b in combinations(angles, 2)]
    pool += [frame.read(f"m{a} + m{b} = 180") for a, b in combinations(angles, 2)]
    pool += [frame.read(f"{l} ∥ {m}") for l, m in combinations(lines, 2)]
    pool = [one for one in pool if follows(fig, given, one).verdict == "follows"]
    reasons = [reason for reason in REASONS if reason not in ("given", "algebra", "reflexive", "symmetric")]
    wanted = frame.read(goal)
    start = tuple(frame.read(one) for one in given)

    def one_step(known: Known, statement) -> bool:
        # The judge lets a longer chain of equals pass as one row; a found proof writes it two by two.
        return any(
            found.ok and (len(found.used) <= 2 or reason == "congruent-supplements")
            for reason in reasons
            for found in (judge(known, statement, reason),)
        )

    def reaches(rows: tuple, depth: int) -> bool:
        known = Known(frame, enumerate(rows, 1))
        if one_step(known, wanted):
            return True
        if depth == 0:
            return False
        said = {row.fact for row in rows}
        return any(one.fact not in said and one_step(known, one) and reaches((*rows, one), depth - 1) for one in pool)

    assert beyond == 0 or not reaches(start, beyond - 1)


@pytest.mark.parametrize("strict", [False, True])
@pytest.mark.parametrize(("given", "goal"), [
    ("m∠5 - m∠1 = 0", "m∠4 = m∠5"), ("∠5 ≅ ∠1", "m∠4 - m∠5 = 0"), ("m∠5 - m∠1 = 0", "m∠4 - m∠5 = 0"), ("0 = m∠1 - m∠5", "∠4 ≅ ∠5"),
])  # fmt: skip
def test_a_difference_that_is_nothing_is_tidied_before_it_is_a_link_of_a_chain(
    given: str, goal: str, strict: bool
) -> None:
    """∠1 and ∠4 are vertical. Euclid's first common notion speaks of things that are equal, not of a difference."""
    fig = figure("eight")
    found = prove(fig, [given], goal, strict=strict)[0]
    assert check(fig, [given], goal, rows_of(found), strict=strict).complete
    assert check(fig, [given], goal, rows_of(found, cited=False), strict=strict).complete
    assert "transitive" in [row.reason for row in found.rows] and len(found.rows) > 3


@pytest.mark.parametrize(("given", "goal"), [
    (["m∠4 - 3y = 0", "m∠1 + m∠4 = 180"], "m∠1 = 90"), (["m∠4 - 2x = 72", "m∠1 + m∠4 = 180", "m∠1 = m∠5"], "m∠1 + m∠5 = 180"),
])  # fmt: skip
def test_a_strict_proof_cites_rows_that_stand_before(given: list[str], goal: str) -> None:
    """A row in between that stands already is not written again; those after it cite it where it stands."""
    fig = figure("eight")
    found = prove(fig, given, goal, strict=True)[0]
    well_formed(found, given, goal)
    assert check(fig, given, goal, rows_of(found), strict=True).complete


def test_alternatives_are_different_and_sorted() -> None:
    fig = figure("eight")
    found = prove(fig, ["∠1 ≅ ∠8"], "l ∥ m", k=3, bar=["alternate-exterior-angles-converse"])

    assert len(found) == 3
    assert len({tuple((show(row.statement), row.reason) for row in proof.rows) for proof in found}) == 3
    assert [len(proof.rows) for proof in found] == sorted(len(proof.rows) for proof in found)
    for proof in found:
        assert check(fig, ["∠1 ≅ ∠8"], "l ∥ m", rows_of(proof)).complete


def test_proofs_are_the_same_every_time() -> None:
    for given, goal in ((["l ∥ m", "t ∥ s"], "∠1 ≅ ∠13"), (["∠1 ≅ ∠9", "l ∥ m"], "t ∥ s")):
        first = prove(figure_from_json(grid()), given, goal, k=2)
        again = prove(figure_from_json(grid()), given, goal, k=2)
        assert [rows_of(p) for p in first] == [rows_of(p) for p in again]


@pytest.mark.parametrize(
    ("name", "given", "goal", "reasons"),
    [
        ("triangle", [], "l ∦ m", ["definition-of-parallel"]),
        ("grid", ["t ⊥ s"], "t ∦ s", ["given", "definition-of-parallel"]),
        ("three", ["l ∥ m", "m ∦ n"], "l ∦ n", ["given", "given", "parallel-to-same-line"]),
        ("three", ["m∠1 = 80", "m∠2 = 85"], "l ∦ m", ["given", "given", "corresponding-angles"]),
        (
            "three",
            ["l ∥ m", "m∠2 = 80", "m∠3 = 85"],
            "l ∦ n",
            ["given", "given", "given", "corresponding-angles", "parallel-to-same-line"],
        ),
    ],
)
def test_lines_that_are_not_parallel(name: str, given: list[str], goal: str, reasons: list[str]) -> None:
    """Euclid I, definition 23, and the contrapositives of I.29 and I.30."""
    found = prove(figure(name), given, goal)

    assert [row.reason for row in found[0].rows] == reasons
    assert check(figure(name), given, goal, rows_of(found[0])).complete


def test_a_crossing_that_the_figure_does_not_show_is_no_reason() -> None:
    """l and m run together off the drawing: lettered on reading, but not shown until an angle there is spoken of."""
    body = {
        "lines": {
            "l": {"direction": 12, "through": [0, 2]},
            "m": {"direction": 6, "through": [0, -2]},
            "t": {"direction": 64, "through": [0, 0]},
        }
    }
    fig = figure_from_json(body)
    row = {"statement": "l ∦ m", "reason": "definition-of-parallel"}
    at = next(name for name, meet in fig.meets.items() if set(meet.lines) == {"l", "m"})
    first, other = (next(n for n, meet in fig.meets.items() if set(meet.lines) == {line, "t"}) for line in "lm")
    assert check(fig, [], "l ∦ m", [row]).rows[0].verdict == follows(fig, [], "l ∦ m").verdict == "not forced"
    given = [f"m∠{first}{at}{other} = 6"]
    assert follows(fig, given, "l ∦ m").verdict == "follows"
    assert check(fig, given, "l ∦ m", [row]).complete
    assert [one.reason for one in prove(fig, given, "l ∦ m")[0].rows] == ["definition-of-parallel"]


@pytest.mark.parametrize("folder", ["proving-lines-parallel", "twelve-proofs"])
def test_found_proofs_of_the_packs_pass_the_strict_judge(folder: str) -> None:
    """Every proof task as if its pack were strict; and each row of every hint on the way."""
    tasks = [t for part in load_pack(PACKS / folder).parts for t in part.tasks if t.kind == "prove"]
    tried = 0
    for task in tasks:
        fig, given, goal = task.made.figure, list(task.data["given"]), task.data["goal"]
        bar = task.data.get("bar") or ()
        for proof in prove(fig, given, goal, k=3, bar=bar, strict=True):
            tried += 1
            assert check(fig, given, goal, rows_of(proof), strict=True, bar=bar).complete, (task.id, rows_of(proof))
            for cut in range(len(proof.rows)):
                row = hint(fig, given, goal, rows_of(proof)[:cut], "show", bar=bar, strict=True).row
                more = {"statement": show(row.statement), "reason": row.reason, "from": list(row.uses)}
                checked = check(fig, given, goal, [*rows_of(proof)[:cut], more], strict=True, bar=bar)
                assert checked.rows[-1].verdict == "follows", (task.id, cut, more, checked.rows[-1].note)
    assert tried >= len(tasks)


def test_barred_theorems_are_not_used() -> None:
    fig = figure("three")
    for bar in (["perpendicular-transversal"], ["perpendicular-transversal", "corresponding-angles"]):
        for proof in prove(fig, ["l ∥ m", "t ⊥ l"], "t ⊥ m", bar=bar):
            assert not {row.reason for row in proof.rows} & set(bar)


# The sum for any convex polygon is I.32's corollary (Heath's note to it): 2n right angles but four.
@pytest.mark.parametrize(
    ("given", "goal", "reasons"),
    [
        (
            ["∠1 ≅ ∠3", "∠2 ≅ ∠4"],
            "l ∥ m",
            ["quadrilateral-sum", "substitution", "consecutive-interior-angles-converse"],
        ),
        (
            ["∠1 ≅ ∠3", "∠2 ≅ ∠4"],
            "p ∥ q",
            ["quadrilateral-sum", "substitution", "consecutive-interior-angles-converse"],
        ),
        (["m∠1 = 105", "m∠2 = 80", "m∠3 = 95"], "m∠4 = 80", ["quadrilateral-sum", "substitution"]),
        ([], "m∠1 + m∠2 + m∠3 + m∠4 = 360", ["quadrilateral-sum"]),
    ],
)
def test_the_angle_sum_of_a_quadrilateral_is_found(given: list[str], goal: str, reasons: list[str]) -> None:
    proof = prove(figure("quadrilateral"), given, goal)[0]
    assert [row.reason for row in proof.rows if row.reason != "given"] == reasons
    checked = check(
        figure("quadrilateral"),
        given,
        goal,
        [{"statement": show(row.statement), "reason": row.reason} for row in proof.rows],
    )
    assert checked.complete


def test_a_corner_that_points_inward_makes_no_sum_of_360() -> None:
    """A dart: the angle that can be named at C is the outer one, so the four add to 360 less twice what C lacks."""
    body = {
        "lines": {
            "a": {"direction": 0, "through": [0, 0]},
            "b": {"direction": 90, "through": [2, 0]},
            "c": {"direction": "165.96", "through": [6, 0]},
            "d": {"direction": "56.31", "through": [0, 0]},
        },
        "meets": {"A": ["a", "d"], "B": ["a", "c"], "C": ["c", "b"], "D": ["b", "d"]},
        "angles": {},
    }
    fig = figure_from_json(body)
    said = "m∠DAB + m∠ABC + m∠BCD + m∠CDA = 360"
    row = check(fig, [], said, [{"statement": said, "reason": "quadrilateral-sum"}]).rows[0]
    assert row.verdict != "follows"
    assert follows(fig, [], said).verdict != "follows"
