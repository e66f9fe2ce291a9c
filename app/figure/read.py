"""From the contract's figure JSON to a Figure, and back; anything unusable is a Fault with its place.

Two accuracies, both parts of the figure's size: a meet's coordinates need agree with its lines only as well
as a hand draws (DRAWN); two crossings nearer than any drawing shows (ONE_PLACE) are one place.
"""

from __future__ import annotations

import json
import re
from collections.abc import Iterator
from fractions import Fraction
from functools import lru_cache
from itertools import combinations
from math import hypot

from app.figure.faults import Fault, shown
from app.figure.numbers import read_number, show_number
from app.figure.parts import Angle, Figure, Line, Meet, Ray
from app.figure.plane import Point, extent, nearest_to_all, span
from app.figure.ruled import Ruled
from app.figure.sectors import standard_angles

__all__ = ["MOST_ANGLES", "MOST_LINES", "MOST_MEETS", "figure_from_json", "figure_to_json"]

MOST_LINES, MOST_MEETS, MOST_ANGLES = 12, 66, 120
DRAWN, ONE_PLACE = 1e-3, 1e-6
LONGEST_SHARED, MOST_SHARED = 4096, 1024
FULL_TURN = Fraction(360)
POINT_SHOWS = 10.0  # plane units that a picture shows round a figure of one point

LINE_NAME = re.compile(r"[^\W\d_][A-Za-z0-9'′]{0,7}")
ANGLE_NAME = re.compile(r"[^\W_][A-Za-z0-9'′]{0,7}")
RAY = re.compile(r"(.{1,8})([+\-−])")

Flipped = frozenset[str]


def figure_from_json(data: object, where: str = "figure") -> Figure:
    """The figure of a contract JSON value. Raises Fault, its place under `where`, for anything unusable.

    A class works on few figures: those of moderate size are read once and shared, so treat them as read-only.
    """
    try:
        # Keys stay in their order: it is the order of the figure's lines, meets and angles.
        text = json.dumps(data)
    except (TypeError, ValueError, RecursionError):
        return read_figure(data, where)
    if len(text) > LONGEST_SHARED:
        return read_figure(data, where)
    sent = Sent(text)
    sent.data = data
    return read_sent(sent, where)


class Sent(str):
    """A figure as text, to be known again by, and the value that it is the text of."""

    data: object


@lru_cache(maxsize=MOST_SHARED)
def read_sent(sent: Sent, where: str) -> Figure:
    data, sent.data = sent.data, None
    return read_figure(data, where)


def read_figure(data: object, where: str) -> Figure:
    body = mapping(data, where, "figure.figure_wanted")
    lines, flipped, ruled = read_lines(body.get("lines"), f"{where}.lines")
    frame = read_frame(body.get("frame"), f"{where}.frame")
    transversal = read_transversal(body.get("transversal"), lines, f"{where}.transversal")
    if body.get("meets") is None:
        crossings = crossings_of(ruled)
        meets = letter_all(lines, crossings, size_of(frame, ruled, [at for _, at in crossings]))
        lettered = frozenset(meets)
    else:
        meets = read_meets(body["meets"], lines, ruled, frame, f"{where}.meets")
        lettered = read_lettered(body.get("lettered"), meets, f"{where}.lettered")
    fig = Figure(lines, meets, {}, transversal, frame, lettered)
    fig.__dict__["ruled"] = ruled  # the cached property, already known
    if body.get("angles") or (body.get("angles") is not None and body.get("number") is None):
        fig.angles.update(read_angles(body["angles"], fig, flipped, f"{where}.angles"))
        return fig
    if body.get("number") is None:
        return fig
    if body["number"] != "standard":
        raise Fault("figure.number_kind", f"{where}.number", found=shown(body["number"]))
    if transversal is None:
        raise Fault("figure.number_needs_transversal", f"{where}.transversal")
    if len(lines) != 3:
        raise Fault("figure.number_needs_three", f"{where}.number", count=len(lines))
    fig.angles.update(standard_angles(fig, transversal, where))
    return fig


def figure_to_json(fig: Figure) -> dict[str, object]:
    """The contract JSON of a figure, with every meet's coordinates; reading it gives the figure back."""
    data: dict[str, object] = {
        "lines": {
            line.name: {
                "direction": show_number(line.direction),
                "through": [show_number(c) for c in line.through],
            }
            for line in fig.lines.values()
        },
        "meets": {
            meet.name: {"lines": list(meet.lines), "at": [round(c, 9) for c in meet.at]} for meet in fig.meets.values()
        },
        "angles": {
            angle.name: {"at": angle.at, "from": str(angle.start), "to": str(angle.end)}
            for angle in fig.angles.values()
        },
    }
    if fig.transversal is not None:
        data["transversal"] = fig.transversal
    if fig.lettered:
        data["lettered"] = [name for name in fig.meets if name in fig.lettered]
    if fig.frame is not None:
        data["frame"] = [show_number(edge) for edge in fig.frame]
    return data


def mapping(data: object, where: str, code: str) -> dict[str, object]:
    if not isinstance(data, dict):
        raise Fault(code, where, found=shown(data))
    return data


def entries(data: object, where: str, what: str, pattern: re.Pattern[str], most: int) -> Iterator[tuple[str, object]]:
    """The named things of one part of the figure, their names and their number checked."""
    body = mapping(data, where, f"figure.{what}_wanted")
    if len(body) > most:
        raise Fault(f"figure.too_many_{what}", where, most=most, count=len(body))
    for name, value in body.items():
        if not isinstance(name, str) or not pattern.fullmatch(name):
            raise Fault(f"figure.{what}_name", where, found=shown(name))
        yield name, value


def read_lines(data: object, where: str) -> tuple[dict[str, Line], Flipped, Ruled]:
    """The lines, and those whose direction was given from 180 up: their + and - are the other way round."""
    lines: dict[str, Line] = {}
    flipped: set[str] = set()
    for name, value in entries(data, where, "lines", LINE_NAME, MOST_LINES):
        place = f"{where}.{name}"
        body = mapping(value, place, "figure.line_wanted")
        for key in ("direction", "through"):
            if key not in body:
                raise Fault("figure.line_lacks", place, key=key)
        given = read_number(body["direction"], f"{place}.direction", largest=FULL_TURN)
        turn, below = given.numerator, given.denominator
        if not 0 <= turn < 180 * below:
            turn %= 360 * below
            if turn >= 180 * below:
                flipped.add(name)
            given = Fraction(turn % (180 * below), below)
        lines[name] = Line(name, given, read_place(body["through"], f"{place}.through"))
    if not lines:
        raise Fault("figure.no_lines", where)
    ruled = Ruled(lines.values())
    for a, b in combinations(lines, 2):
        # Exactly one line under two names: the distance is compared with the places' own size.
        if ruled.turn[a] != ruled.turn[b]:
            continue
        (_, _, *here), (_, _, *there) = ruled.place[a], ruled.place[b]
        size = 1 + max(map(abs, (*here, *there)))
        if abs(ruled.off(a, (there[0], there[1]))) <= 1e-12 * size:
            raise Fault("figure.one_line_twice", f"{where}.{b}", a=a, b=b)
    return lines, frozenset(flipped), ruled


def read_place(value: object, where: str) -> tuple[Fraction, Fraction]:
    if not isinstance(value, (list, tuple)) or len(value) != 2:
        raise Fault("figure.place_wanted", where, found=shown(value))
    return read_number(value[0], f"{where}.0"), read_number(value[1], f"{where}.1")


def read_frame(value: object, where: str) -> tuple[Fraction, Fraction, Fraction, Fraction] | None:
    if value is None:
        return None
    if not isinstance(value, (list, tuple)) or len(value) != 4:
        raise Fault("figure.frame_wanted", where, found=shown(value))
    left, bottom, right, top = (read_number(edge, f"{where}.{i}") for i, edge in enumerate(value))
    if right - left < Fraction(1, 1000) or top - bottom < Fraction(1, 1000):
        raise Fault("figure.frame_empty", where)
    return left, bottom, right, top


def read_transversal(value: object, lines: dict[str, Line], where: str) -> str | None:
    if value is None:
        return None
    if not isinstance(value, str) or value not in lines:
        raise Fault("figure.line_unknown", where, line=shown(value), known=", ".join(lines))
    return value


def size_of(frame: tuple[Fraction, ...] | None, ruled: Ruled, meets: list[Point]) -> float:
    """The size that accuracies are parts of: the frame's larger side, or twice the spread of what is drawn.

    The points that lines go through count as drawn where they are not far outside the meets; they are all
    there is to go by where the lines have one meet.
    """
    if frame is not None:
        return float(max(frame[2] - frame[0], frame[3] - frame[1]))
    through = [(x, y) for _, _, x, y in ruled.place.values()]
    inner, outer = span(meets), span([*meets, *through])
    if inner <= 1e-9 * outer:
        # Points that agree to drawing accuracy are one point, and the picture of one point has a size of its own.
        return 2 * outer if outer > DRAWN * POINT_SHOWS else POINT_SHOWS
    return 2 * max(inner, min(outer, 4 * inner))


def crossings_of(ruled: Ruled) -> list[tuple[tuple[str, str], Point]]:
    """Where each two lines cross that are not parallel as drawn."""
    found = []
    for a, b in combinations(ruled.turn, 2):
        at = ruled.crossing(a, b)
        if at is not None:
            found.append(((a, b), at))
    return found


def apart(a: Point, b: Point) -> float:
    return hypot(a[0] - b[0], a[1] - b[1])


def one_place(a: Point, b: Point, size: float) -> bool:
    """Whether two crossings are one place: nearer than any drawing shows, or than floats can tell."""
    floats = 1e-12 * max(1.0, *map(abs, (*a, *b)))
    return apart(a, b) <= max(ONE_PLACE * size, floats)


def letter_all(lines: dict[str, Line], crossings: list[tuple[tuple[str, str], Point]], size: float) -> dict[str, Meet]:
    """Every crossing with a letter, from the top down, then from the left; one place is one meet."""
    places: list[tuple[Point, set[str]]] = []
    for pair, at in crossings:
        near = next((names for place, names in places if one_place(place, at, size)), None)
        if near is None:
            places.append((at, set(pair)))
        else:
            near.update(pair)
    letters = iter(letters_besides(set(lines)))
    meets = {}
    for at, names in top_down(places, size):
        letter = next(letters)
        meets[letter] = Meet(letter, tuple(name for name in lines if name in names), at)
    return meets


def top_down(places: list[tuple[Point, set[str]]], size: float) -> list[tuple[Point, set[str]]]:
    """Sorted by height, and from the left among those at one height as far as floats can tell."""
    rows: list[list[tuple[Point, set[str]]]] = []
    for place in sorted(places, key=lambda place: -place[0][1]):
        if rows and rows[-1][-1][0][1] - place[0][1] <= 1e-9 * size:
            rows[-1].append(place)
        else:
            rows.append([place])
    return [place for row in rows for place in sorted(row, key=lambda place: place[0][0])]


def letters_besides(taken: set[str]) -> Iterator[str]:
    """A to Z, then A1 to Z1, and so on, without the names already in use."""
    for tail in ("", "1", "2", "3"):
        for letter in "ABCDEFGHIJKLMNOPQRSTUVWXYZ":
            if letter + tail not in taken:
                yield letter + tail


def read_meets(
    data: object,
    lines: dict[str, Line],
    ruled: Ruled,
    frame: tuple[Fraction, ...] | None,
    where: str,
) -> dict[str, Meet]:
    named: dict[str, tuple[tuple[str, ...], Point | None]] = {}
    for name, value in entries(data, where, "meets", LINE_NAME, MOST_MEETS):
        named[name] = read_meet(value, lines, f"{where}.{name}")
    best = {name: place_of(names, lines, ruled) for name, (names, _) in named.items()}
    size = size_of(frame, ruled, list(best.values()))
    # Whoever gives coordinates has a drawing in which every named meet is seen, the far ones too.
    widest = max(size, 2 * extent(list(best.values()))) if frame is None else size
    meets = {
        name: Meet(name, names, place_meet(best[name], name, names, given, ruled, size, widest, f"{where}.{name}"))
        for name, (names, given) in named.items()
    }
    for a, b in combinations(meets.values(), 2):
        both = [line for line in a.lines if line in b.lines]
        if len(both) > 1:
            raise Fault("figure.meets_twice", f"{where}.{b.name}", a=a.name, b=b.name, l=both[0], m=both[1])
        if one_place(a.at, b.at, size):
            raise Fault("figure.meets_coincide", f"{where}.{b.name}", a=a.name, b=b.name)
    return meets


def place_of(names: tuple[str, ...], lines: dict[str, Line], ruled: Ruled) -> Point:
    """Where lines that aren't parallel meet, or come nearest to meeting."""
    at = ruled.crossing(*names) if len(names) == 2 else None
    return at or nearest_to_all([(lines[line].direction, lines[line].through) for line in names])


def read_lettered(value: object, meets: dict[str, Meet], where: str) -> frozenset[str]:
    """The meets that an earlier reading lettered: a figure that was written out says which they are."""
    if value is None:
        return frozenset()
    if not isinstance(value, (list, tuple)):
        raise Fault("figure.lettered_wanted", where, found=shown(value))
    for name in value:
        if not isinstance(name, str) or name not in meets:
            raise Fault("figure.meet_unknown", where, meet=shown(name), known=", ".join(meets) or "–")
    return frozenset(value)


def read_meet(value: object, lines: dict[str, Line], where: str) -> tuple[tuple[str, ...], Point | None]:
    """A meet's lines, and the coordinates it gives, if it gives any."""
    given = None
    if isinstance(value, dict):
        if value.get("at") is not None:
            x, y = read_place(value["at"], f"{where}.at")
            given = float(x), float(y)
        value, where = value.get("lines"), f"{where}.lines"
    if not isinstance(value, (list, tuple)) or not 2 <= len(value) <= MOST_LINES:
        raise Fault("figure.meet_wanted", where, found=shown(value))
    for line in value:
        if not isinstance(line, str) or line not in lines:
            raise Fault("figure.line_unknown", where, line=shown(line), known=", ".join(lines))
    if len(set(value)) != len(value):
        raise Fault("figure.meet_repeats", where)
    for a, b in combinations(value, 2):
        if lines[a].direction == lines[b].direction:
            raise Fault("figure.meet_of_parallels", where, a=a, b=b)
    return tuple(value), given


def place_meet(
    best: Point,
    name: str,
    names: tuple[str, ...],
    given: Point | None,
    ruled: Ruled,
    size: float,
    widest: float,
    where: str,
) -> Point:
    """Where a meet is: where its lines say, as far as they agree with each other and with what is given."""
    at = best if given is None or apart(best, given) <= DRAWN * widest else given
    if at is best and len(names) == 2:
        return at
    for line in names:
        away = abs(ruled.off(line, at))
        # A crossing of lines a hair from parallel is far away, and floats place it less well there.
        if away > DRAWN * size + 1e-9 * apart(at, best):
            code = "figure.meet_off_line" if given is not None else "figure.not_concurrent"
            raise Fault(code, where, meet=name, line=line, lines=", ".join(names))
    return at


def read_angles(data: object, fig: Figure, flipped: Flipped, where: str) -> dict[str, Angle]:
    angles: dict[str, Angle] = {}
    for name, value in entries(data, where, "angles", ANGLE_NAME, MOST_ANGLES):
        place = f"{where}.{name}"
        body = mapping(value, place, "figure.angle_wanted")
        for key in ("at", "from", "to"):
            if key not in body:
                raise Fault("figure.angle_lacks", place, key=key)
        at = body["at"]
        if not isinstance(at, str) or at not in fig.meets:
            known = ", ".join(fig.meets) or "–"
            raise Fault("figure.meet_unknown", f"{place}.at", meet=shown(at), known=known)
        start = read_ray(body["from"], fig, fig.meets[at], flipped, f"{place}.from")
        end = read_ray(body["to"], fig, fig.meets[at], flipped, f"{place}.to")
        if start.line == end.line:
            raise Fault("figure.angle_one_line", place, line=start.line)
        if fig.turn(start, end) > fig.ruled.half:
            raise Fault("figure.angle_long_way", place, start=shown(body["from"]), end=shown(body["to"]))
        angles[name] = Angle(name, at, start, end)
    return angles


def read_ray(value: object, fig: Figure, meet: Meet, flipped: Flipped, where: str) -> Ray:
    found = RAY.fullmatch(value) if isinstance(value, str) else None
    if found is None:
        raise Fault("figure.ray_wanted", where, found=shown(value))
    if found[1] not in fig.lines:
        raise Fault("figure.line_unknown", where, line=shown(found[1]), known=", ".join(fig.lines))
    if found[1] not in meet.lines:
        raise Fault("figure.ray_off_meet", where, line=found[1], meet=meet.name)
    ray = Ray(found[1], "+" if found[2] == "+" else "-")
    return ray.back() if ray.line in flipped else ray
