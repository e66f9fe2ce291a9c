"""An argument that two lines are parallel, read from a reply: angles, name, relation, theorem, lines."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from functools import cached_property

from app.classroom.kinds.on_figure import converse_of, original_of, pair_from, two_angles
from app.classroom.verdict import Context
from app.figure.faults import Fault, shown
from app.figure.model import Figure
from app.figure.pairs import TRANSVERSAL_PAIRS, Pair, name_pair
from app.lessons.tasks import Justify
from app.reasoning.follows import follows
from app.reasoning.statements import read_statement

__all__ = ["CONVERSES", "LOOKS", "ORIGINALS", "RELATIONS", "Argument", "read"]

RELATIONS = ("congruent", "supplementary")
LOOKS = "looks-parallel"
SEEMING = ("look", "appear", "seem", "picture", "eye", "never meet")
# The theorems that start from parallel lines, by pair, and those that end in them.
ORIGINALS = {pair: str(original_of(pair)) for pair in TRANSVERSAL_PAIRS}
CONVERSES = {pair: str(converse_of(pair)) for pair in TRANSVERSAL_PAIRS}


@dataclass(frozen=True)
class Argument:
    """A reply read: every field is a name that the figure or the table has.

    `wanted` are the lines that the task asks about, `given` its givens, `actual` the pair as it is.
    """

    fig: Figure
    given: tuple[str, ...]
    wanted: tuple[str, str] | None
    a: str
    b: str
    pair: str
    transversal: str
    relation: str
    lines: tuple[str, str]
    theorem: str

    @cached_property
    def actual(self) -> Pair:
        return name_pair(self.fig, self.a, self.b)

    @property
    def claim(self) -> str:
        """The relation as a statement that the reasoner reads."""
        if self.relation == "congruent":
            return f"∠{self.a} ≅ ∠{self.b}"
        return f"m∠{self.a} + m∠{self.b} = 180"

    def verdict(self, given: Sequence[str]) -> str:
        """What these givens make of the relation: "follows", "not forced", "cannot be", "givens conflict"."""
        return follows(self.fig, given, self.claim).verdict

    @cached_property
    def direct(self) -> bool:
        """Whether the givens about these two angles alone say the relation."""
        atoms = {f"∠{self.a}", f"∠{self.b}"}
        read = {one: read_statement(one, self.fig) for one in self.given}
        about = [one for one, said in read.items() if said.angles and atoms.issuperset(said.angles)]
        return self.verdict(about) == "follows"


def read(task: Justify, reply: Mapping[str, object], ctx: Context) -> Argument:
    fig = task.figure
    a, b = two_angles(reply.get("angles"), fig, "reply.angles")
    relation = reply.get("relation")
    if not isinstance(relation, str) or relation not in RELATIONS:
        raise Fault("angles.relation_wanted", "reply.relation", found=shown(relation))
    return Argument(
        fig=fig,
        given=task.given,
        wanted=task.lines,
        a=a,
        b=b,
        pair=pair_from(reply.get("pair"), "reply.pair"),
        transversal=read_line(reply.get("transversal"), fig, "reply.transversal"),
        relation=relation,
        lines=read_lines(reply.get("lines"), fig),
        theorem=read_theorem(reply.get("theorem"), ctx),
    )


def read_line(value: object, fig: Figure, where: str) -> str:
    if not isinstance(value, str) or value not in fig.lines:
        raise Fault("angles.line_wanted", where, known=", ".join(fig.lines))
    return value


def read_lines(value: object, fig: Figure) -> tuple[str, str]:
    if not isinstance(value, (list, tuple)) or len(value) != 2:
        raise Fault("angles.two_lines_wanted", "reply.lines")
    one, other = (read_line(line, fig, "reply.lines") for line in value)
    if one == other:
        raise Fault("angles.two_lines_wanted", "reply.lines")
    return one, other


def read_theorem(value: object, ctx: Context) -> str:
    """A theorem id, from an id or any house's words; LOOKS for a reason that is an appearance."""
    if isinstance(value, str) and value.strip() and len(value) <= 120:
        known = ctx.house.accepts(value)
        if value == LOOKS or (known is None and any(word in value.casefold() for word in SEEMING)):
            return LOOKS
        if value in ctx.house.names:
            return value
        if known is not None:
            return known
    raise Fault("angles.theorem_wanted", "reply.theorem", found=shown(value))
