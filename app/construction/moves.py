"""The moves of a construction, read and checked: each names one new object made of earlier ones.

    point                a free point, placed by eye anywhere
    on                   a point placed by eye on an object
    line, ray, segment   through two points
    arc                  about a center, its opening carried from two points
    meet                 where two objects cross, the crossing nearest to `near`

An arc is a whole circle to the judge; its `sweep` (start and extent in degrees) is only how much was drawn.
"""

from __future__ import annotations

from dataclasses import dataclass, replace
from fractions import Fraction

from app.construction.start import NAME, Exact, Start, read_compass, read_point
from app.figure.faults import Fault, shown
from app.figure.numbers import read_number, show_number

__all__ = ["MOST_MOVES", "OPS", "Move", "Program", "moves_to_json", "read_program"]

OPS = ("point", "on", "line", "ray", "segment", "arc", "meet")
STRAIGHT = ("line", "ray", "segment")
MOST_MOVES = 80


@dataclass(frozen=True)
class Move:
    """One move; the fields that its op does not use stay empty."""

    op: str
    name: str
    at: Exact | None = None
    of: tuple[str, ...] = ()
    near: Exact | None = None
    through: tuple[str, str] | None = None
    center: str = ""
    opening: tuple[str, str] | None = None
    sweep: tuple[Fraction, Fraction] | None = None

    def uses(self) -> tuple[str, ...]:
        """The names that this move rests on."""
        centers = (self.center,) if self.center else ()
        return (*self.of, *(self.through or ()), *centers, *(self.opening or ()))

    def by_eye(self) -> bool:
        return self.op in ("point", "on")

    def makes_point(self) -> bool:
        return self.op in ("point", "on", "meet")


@dataclass(frozen=True)
class Program:
    """A start and the moves made from it. `result` names the object that answers; "" leaves it open.

    `compass` is "modern", or "collapsing" where no opening may be carried from one place to another.
    """

    start: Start
    moves: tuple[Move, ...]
    result: str = ""
    compass: str = "modern"

    def kind(self, name: str) -> str | None:
        """What a name stands for: "point", "line", "ray", "segment", "arc"; None for no name of it."""
        for move in self.moves:
            if move.name == name:
                return "point" if move.makes_point() else move.op
        if name in self.start.points:
            return "point"
        given = self.start.objects.get(name)
        return given[0] if given else None

    def carried(self) -> int | None:
        """The first arc swung with an opening taken elsewhere than at its center; None with a compass that may."""
        if self.compass == "modern":
            return None
        arcs = ((i, move) for i, move in enumerate(self.moves) if move.op == "arc")
        return next((i for i, move in arcs if move.center not in (move.opening or ())), None)

    def with_move(self, i: int, **changes: object) -> Program:
        """The same program with one move changed."""
        changed = replace(self.moves[i], **changes)  # type: ignore[arg-type]
        return replace(self, moves=(*self.moves[:i], changed, *self.moves[i + 1 :]))


def read_program(start: Start, moves: object, result: object = None, compass: object = None) -> Program:
    """The moves and the result. Raises Fault at the first that can't be read, such as "moves[3].opening"."""
    if not isinstance(moves, (list, tuple)):
        raise Fault("construction.moves_wanted", "moves", found=shown(moves))
    if len(moves) > MOST_MOVES:
        raise Fault("construction.too_many_moves", "moves", most=MOST_MOVES, count=len(moves))
    known: dict[str, str] = dict.fromkeys(start.points, "point")
    given = {name: kind for name, (kind, _, _) in start.objects.items()}
    done: list[Move] = []
    for i, data in enumerate(moves):
        move = read_move(data, {**given, **known}, known, f"moves[{i}]")
        known[move.name] = "point" if move.makes_point() else move.op
        done.append(move)
    return Program(start, tuple(done), read_result(result, {**given, **known}, start.task), read_compass(compass))


def read_result(value: object, known: dict[str, str], task: str) -> str:
    if value is None or value == "":
        return ""
    if not isinstance(value, str) or value not in known:
        raise Fault("construction.result_unknown", "result", found=shown(value))
    wanted = {"bisect a segment": (*STRAIGHT, "point"), "copy a segment": ("segment",)}.get(task, STRAIGHT)
    if known[value] not in wanted:
        codes = {"bisect a segment": "result_line_or_point", "copy a segment": "result_segment"}
        code = f"construction.{codes.get(task, 'result_line')}{'_arc' if known[value] == 'arc' else ''}"
        raise Fault(code, "result", found=value, kind=known[value])
    return value


def read_move(data: object, known: dict[str, str], taken: dict[str, str], where: str) -> Move:
    if not isinstance(data, dict):
        raise Fault("construction.move_wanted", where, found=shown(data))
    op, name = data.get("op"), data.get("name")
    if not isinstance(op, str) or op not in OPS:
        raise Fault("construction.op_unknown", f"{where}.op", found=shown(op), known=", ".join(OPS))
    if not isinstance(name, str) or not NAME.fullmatch(name):
        raise Fault("construction.name_wanted", f"{where}.name", found=shown(name))
    if name in taken:
        raise Fault("construction.name_taken", f"{where}.name", name=name)
    if op == "point":
        return Move(op, name, at=read_point(data.get("at"), f"{where}.at"))
    if op == "on":
        one = data.get("of")
        one = one[0] if isinstance(one, (list, tuple)) and len(one) == 1 else one
        of = read_object(one, known, f"{where}.of")
        return Move(op, name, of=(of,), near=read_point(data.get("near"), f"{where}.near"))
    if op == "meet":
        return read_meet(name, data, known, where)
    if op == "arc":
        return read_arc(name, data, known, where)
    return Move(op, name, through=read_two_points(data.get("through"), known, f"{where}.through"))


def read_meet(name: str, data: dict[str, object], known: dict[str, str], where: str) -> Move:
    of = data.get("of")
    if not isinstance(of, (list, tuple)) or len(of) != 2:
        raise Fault("construction.meet_wanted", f"{where}.of", found=shown(of))
    pair = tuple(read_object(value, known, f"{where}.of[{i}]") for i, value in enumerate(of))
    if pair[0] == pair[1]:
        raise Fault("construction.meet_itself", f"{where}.of")
    near = None
    if data.get("near") is not None:
        near = read_point(data["near"], f"{where}.near")
    elif "arc" in (known[pair[0]], known[pair[1]]):
        raise Fault("construction.near_wanted", f"{where}.near")
    return Move("meet", name, of=pair, near=near)


def read_arc(name: str, data: dict[str, object], known: dict[str, str], where: str) -> Move:
    center = read_point_name(data.get("center"), known, f"{where}.center")
    opening = read_two_points(data.get("opening"), known, f"{where}.opening", "construction.opening_zero")
    sweep = data.get("sweep")
    if sweep is None:
        return Move("arc", name, center=center, opening=opening)
    if not isinstance(sweep, (list, tuple)) or len(sweep) != 2:
        raise Fault("construction.sweep_wanted", f"{where}.sweep", found=shown(sweep))
    at, extent = (read_number(v, f"{where}.sweep[{i}]", largest=Fraction(360)) for i, v in enumerate(sweep))
    return Move("arc", name, center=center, opening=opening, sweep=(at, extent))


def read_two_points(
    value: object, known: dict[str, str], where: str, same: str = "construction.through_one"
) -> tuple[str, str]:
    if not isinstance(value, (list, tuple)) or len(value) != 2:
        raise Fault("construction.two_points_wanted", where, found=shown(value))
    a, b = (read_point_name(name, known, f"{where}[{i}]") for i, name in enumerate(value))
    if a == b:
        raise Fault(same, where, point=a)
    return a, b


def read_point_name(value: object, known: dict[str, str], where: str) -> str:
    if not isinstance(value, str) or known.get(value) != "point":
        points = ", ".join(name for name, kind in known.items() if kind == "point")
        raise Fault("construction.point_unknown", where, found=shown(value), known=points)
    return value


def read_object(value: object, known: dict[str, str], where: str) -> str:
    if not isinstance(value, str) or known.get(value, "point") == "point":
        things = ", ".join(name for name, kind in known.items() if kind != "point") or "–"
        raise Fault("construction.object_unknown", where, found=shown(value), known=things)
    return value


def moves_to_json(moves: tuple[Move, ...]) -> list[dict[str, object]]:
    """The contract's form of the moves."""
    return [_move_to_json(move) for move in moves]


def _move_to_json(move: Move) -> dict[str, object]:
    data: dict[str, object] = {"op": move.op, "name": move.name}
    if move.at is not None:
        data["at"] = [show_number(c) for c in move.at]
    if move.of:
        data["of"] = move.of[0] if move.op == "on" else list(move.of)
    if move.near is not None:
        data["near"] = [show_number(c) for c in move.near]
    if move.through:
        data["through"] = list(move.through)
    if move.center:
        data["center"] = move.center
    if move.opening:
        data["opening"] = list(move.opening)
    if move.sweep:
        data["sweep"] = [show_number(c) for c in move.sweep]
    return data
