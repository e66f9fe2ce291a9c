"""The one judge: does this statement follow, in one step, by this reason, from these rows?

It never searches for a proof, guesses or repairs. For a reason, `premises` lists what would do (each list a *way*) and
`equations` tests what has no list; the judge looks whether some way's premises all stand in the rows. Everything else
(search, hints, keys, generators) only proposes rows; tests send all they propose through here.
"""

from __future__ import annotations

from collections.abc import Collection, Iterable, Sequence
from dataclasses import dataclass

from app.reasoning.equations import WHOLE
from app.reasoning.known import Known, form_of
from app.reasoning.premises import WAYS, Way, two_angles
from app.reasoning.terms import Statement
from app.reasoning.theorems import TABLE, Theorem

__all__ = ["Judged", "Known", "judge", "reasons_for"]

# Rules under which a claim may be a multiple of what it comes to.
TIDYING = {"restated", "replaced", "added", "algebra", "chain", "reflexive"}


@dataclass(frozen=True)
class Judged:
    """Whether the row follows; the rows used; and where it does not, the premises the nearest way lacks."""

    ok: bool
    used: tuple[int, ...] = ()
    missing: Way | None = None


def judge(
    known: Known,
    claim: Statement,
    reason: str,
    given: Iterable[Statement] = (),
    cited: Sequence[int] | None = None,
) -> Judged:
    """Judge one row. `given` matters for the reason "given"; `cited` rows are tried before all rows."""
    if cited:
        narrow = Known(known.frame, ((n, known.rows[n]) for n in cited if n in known.rows), known.strict)
        found = _judge(narrow, claim, TABLE[reason], given)
        if found.ok:
            return found
    return _judge(known, claim, TABLE[reason], given)


def reasons_for(
    known: Known,
    claim: Statement,
    given: Sequence[Statement] = (),
    bar: Collection[str] = (),
) -> tuple[str, ...]:
    """Every reason of the table that gives the claim from these rows, in the table's order."""
    return tuple(r for r in TABLE if r not in bar and judge(known, claim, r, given).ok)


def _judge(known: Known, claim: Statement, row: Theorem, given: Iterable[Statement]) -> Judged:
    if known.strict and not _written_strictly(claim, row):
        return Judged(False)
    if row.rule == "given":
        return Judged(any(one.same_as(claim) and (not known.strict or form_of(one) == form_of(claim)) for one in given))
    if not claim.plain and row.rule not in TIDYING:
        # 2m∠1 = 130 where the theorem gives m∠1 = 65: that is one step more.
        return Judged(False)
    whole = WHOLE.get(row.rule)
    if whole is not None:
        used = whole(known, claim, row)
        return Judged(False) if used is None else Judged(True, tuple(sorted(used)))
    form = _premise_form(row) if known.strict else None
    missing: Way | None = None
    for way in WAYS[row.rule](known, claim, row):
        used_rows: set[int] = set()
        lacking = []
        for fact in way:
            rows = known.has(fact, form)
            if rows is None:
                lacking.append(fact)
            else:
                used_rows |= rows
        if not lacking:
            return Judged(True, tuple(sorted(used_rows)))
        if missing is None or len(lacking) < len(missing):
            missing = tuple(lacking)
    return Judged(False, (), missing)


def _written_strictly(claim: Statement, row: Theorem) -> bool:
    """Strict packs want ≅ between angles and = between measures, each where its theorem gives it."""
    if claim.loose:
        return False
    if row.gives == "congruent" and row.rule != "given":
        # A bisector also gives measures, half of the whole: those are no congruence.
        return claim.kind == "congruent" or row.rule == "equal measures" or two_angles(claim, 0) is None
    if row.rule in ("replaced", "added", "algebra", "parts", "triangle", "quadrilateral", "exterior"):
        return claim.kind != "congruent"
    return True


def _premise_form(row: Theorem) -> str | None:
    if row.rule == "converse" and row.needs[0] == "congruent":
        return "congruent"
    return None
