"""Find x: so that two lines are parallel (make-parallel), or because they are (parallel-so).

The equation is the same; what is known and what is wanted are swapped, and with them the theorem that lets
one say so: the converse for make-parallel, the original for parallel-so. Levels: 1 one side, 2 both sides,
3 brackets, with an angle asked, 4 two unknowns, 5 a quadratic with one root to be thrown out.

Letters: p, q are the two angles, A and B their measures, relation what they must be to each other.
Values (I-8): whole x, angles from 20° to 160°, and the wrong relation never gives the same x.
"""

from __future__ import annotations

from dataclasses import dataclass
from fractions import Fraction

from app.figure.pairs import name_pair, relation_for
from app.practice.answers import Poly, add, multiply, scale, show_poly
from app.practice.certify import forced
from app.practice.chance import Chance, mixed
from app.practice.drawing import Drawn, draw_lines, mark, turn_of
from app.practice.families.common import (
    CROSS,
    PAIR_OF,
    by_field,
    check_traps,
    converse_of,
    degrees,
    original_of,
)
from app.practice.items import Field, Item
from app.practice.working import solve_quadratic
from app.words import say
from app.words.house import House

__all__ = ["make"]

LOW, HIGH = 20, 160
X: Poly = {("x",): Fraction(1)}


@dataclass(frozen=True, slots=True)
class Measure:
    """The measure of one angle: as written on the figure, and as a polynomial."""

    text: str
    poly: Poly

    @property
    def shown(self) -> str:
        text = self.text.replace("-", "−")
        return f"({text})°" if len(self.poly) > 1 and not text.endswith(")") else f"{text}°"


@dataclass(frozen=True, slots=True)
class Problem:
    p: str
    q: str
    relation: str
    at_p: Measure
    at_q: Measure
    x: Fraction
    y: Fraction | None = None
    third: tuple[str, Measure] | None = None  # another angle at p's meet, for two unknowns
    thrown: Fraction | None = None  # the root that no angle can have


def const(n: Fraction | int) -> Poly:
    return {(): Fraction(n)} if n else {}


def linear(a: int, b: int) -> Poly:
    return add({("x",): Fraction(a)}, const(b))


def plain(poly: Poly) -> Measure:
    return Measure(show_poly(poly), poly)


def relation_poly(relation: str, first: Poly, second: Poly, total: int = 180) -> Poly:
    """Zero exactly when the two measures are as `relation` says."""
    if relation == "congruent":
        return add(first, scale(second, Fraction(-1)))
    return add(add(first, second), const(-total))


def root_of(poly: Poly) -> Fraction | None:
    """The one solution of a linear polynomial in x."""
    a = poly.get(("x",), Fraction(0))
    return -poly.get((), Fraction(0)) / a if a else None


def make(family: str, seed: int, level: int, house: House) -> Item:
    chance = Chance(mixed("solving", family, seed, level))
    while True:
        problem = _propose(chance, level)
        if problem is None:
            continue
        made = _item(family, seed, level, house, problem, chance)
        if made is not None:
            return made


def _propose(chance: Chance, level: int) -> Problem | None:
    pair = chance.pick(PAIR_OF)
    p, q = chance.pick(CROSS[pair])
    if chance.maybe(1, 2):
        p, q = q, p
    relation = relation_for(pair) or "congruent"
    size = chance.between(LOW + 5, HIGH - 5)
    if size == 90:
        return None
    a, b = Fraction(size), Fraction(size if relation == "congruent" else 180 - size)
    if not LOW <= b <= HIGH:
        return None
    return _LEVELS[level - 1](chance, p, q, relation, a, b)


def _one_side(chance: Chance, p: str, q: str, relation: str, a: Fraction, b: Fraction) -> Problem | None:
    x = chance.between(4, 40)
    k = chance.between(2, 6)
    rest = int(b) - k * x
    if not rest or abs(rest) > 60:
        return None
    return Problem(p, q, relation, plain(const(a)), plain(linear(k, rest)), Fraction(x))


def _both_sides(chance: Chance, p: str, q: str, relation: str, a: Fraction, b: Fraction) -> Problem | None:
    x = chance.between(4, 30)
    k, j = chance.between(2, 8), chance.between(1, 8)
    rest_p, rest_q = int(a) - k * x, int(b) - j * x
    if k == j or not rest_p or not rest_q or max(abs(rest_p), abs(rest_q)) > 80:
        return None
    return Problem(p, q, relation, plain(linear(k, rest_p)), plain(linear(j, rest_q)), Fraction(x))


def _brackets(chance: Chance, p: str, q: str, relation: str, a: Fraction, b: Fraction) -> Problem | None:
    x = chance.between(4, 30)
    k, j = chance.between(2, 5), chance.between(1, 6)
    if int(a) % k:
        return None
    inside, rest = int(a) // k - x, int(b) - j * x
    if not inside or not rest or k == j or max(abs(inside), abs(rest)) > 60:
        return None
    first = Measure(f"{k}({show_poly(linear(1, inside))})", scale(linear(1, inside), Fraction(k)))
    return Problem(p, q, relation, first, plain(linear(j, rest)), Fraction(x))


def _two_unknowns(chance: Chance, p: str, q: str, relation: str, a: Fraction, b: Fraction) -> Problem | None:
    """p = ax + by and its neighbour at the same meet = cx + dy; q is a number."""
    x, y = chance.between(5, 30), chance.between(5, 30)
    k, j = chance.between(1, 4), chance.between(1, 4)
    m, n = chance.between(1, 5), chance.between(-3, 4)
    neighbour = 180 - a
    rest_p, rest_n = int(a) - k * x - j * y, int(neighbour) - m * x - n * y
    if k * n == j * m or not n or x == y or max(abs(rest_p), abs(rest_n)) > 60:
        return None
    first = add({("x",): Fraction(k), ("y",): Fraction(j)}, const(rest_p))
    third = add({("x",): Fraction(m), ("y",): Fraction(n)}, const(rest_n))
    meet = {"1": "2", "2": "4", "4": "3", "3": "1", "5": "6", "6": "8", "8": "7", "7": "5"}
    return Problem(
        p, q, relation, plain(first), plain(const(b)), Fraction(x), Fraction(y), third=(meet[p], plain(third))
    )


def _quadratic(chance: Chance, p: str, q: str, relation: str, a: Fraction, b: Fraction) -> Problem | None:
    """q = dx + e; p differs from what it must be by (x - r)(x - s), and dx + e is no angle at s."""
    r, s = chance.between(4, 14), -chance.between(2, 20)
    d = chance.between(2, 9)
    e = int(b) - d * r
    if d * s + e > 0 or not e or abs(e) > 60:
        return None
    second = linear(d, e)
    factors = multiply(linear(1, -r), linear(1, -s))
    wanted = second if relation == "congruent" else add(const(180), scale(second, Fraction(-1)))
    first = add(factors, wanted)
    if max(abs(first.get(("x",), Fraction(0))), abs(first.get((), Fraction(0)))) > 200 or ("x",) not in first:
        return None
    return Problem(p, q, relation, plain(first), plain(second), Fraction(r), thrown=Fraction(s))


_LEVELS = (_one_side, _both_sides, _brackets, _two_unknowns, _quadratic)


def _item(family: str, seed: int, level: int, house: House, problem: Problem, chance: Chance) -> Item | None:
    zero = relation_poly(problem.relation, problem.at_p.poly, problem.at_q.poly)
    start: tuple[Poly, ...] = (zero,)
    if problem.third is not None:
        start += (relation_poly("supplementary", problem.at_p.poly, problem.third[1].poly),)
    asked_angle = problem.q if level == 3 else None
    key: dict[str, tuple[str, ...]] = {"x": (str(problem.x),)}
    if problem.y is not None:
        key["y"] = (str(problem.y),)
    angle_value = at_x(problem.at_q.poly, problem.x)
    if asked_angle:
        key = {"angle": (str(angle_value),)}
    drawn = _draw(family, seed, level, problem, chance)
    pair = name_pair(drawn.fig, problem.p, problem.q).pair
    making = family == "make-parallel"
    theorem = converse_of(pair) if making else original_of(pair)
    traps = _traps(problem, level, key, angle_value)
    if traps is None:
        return None
    first, second = drawn.lines
    lines = f"{first} ∥ {second}"
    measures = {problem.p: problem.at_p, problem.q: problem.at_q}
    if problem.third is not None:
        measures[problem.third[0]] = problem.third[1]
    measures = dict(sorted(measures.items()))
    given = [f"m∠{name} = {m.text}" for name, m in measures.items()]
    _certify(drawn, problem, given, lines, asked_angle, angle_value)
    if not making:
        given.insert(0, lines)
    fields: list[Field] = []
    if asked_angle:
        fields.append(Field("angle", "number", f"m∠{asked_angle}", unit="°"))
    else:
        fields.append(Field("x", "number", "x"))
        if problem.y is not None:
            fields.append(Field("y", "number", "y"))
    reason, options = by_field(pair, making, house, chance)
    fields.append(reason)
    key["theorem"] = (theorem,)
    wrong_way = original_of(pair) if making else converse_of(pair)
    traps["original-for-converse" if making else "converse-for-original"] = {"theorem": wrong_way}
    want = f"m∠{asked_angle}" if asked_angle else "x and y" if problem.y is not None else "x"
    what = "make" if making else "so"
    return Item(
        family=family,
        seed=seed,
        level=level,
        skill="solve-for-x" if making else "solve-from-parallel",
        prompt=say(
            f"practice.solve_prompt_{what}",
            lines=lines,
            first=first,
            second=second,
            cut=drawn.transversals[0],
        ),
        ask=say(f"practice.solve_ask_{what}", want=want, lines=lines),
        fields=tuple(fields),
        figure=drawn.json,
        marks=mark({n: m.shown for n, m in measures.items()}, arrows=None if making else {first: 1, second: 1}),
        given=tuple(given),
        key=key,
        working=_working(problem, house, pair, theorem, zero, start, asked_angle, angle_value),
        hints=_hints(problem, house, pair, theorem, making, lines),
        traps=traps,
        start=start,
        measures={n: m.poly for n, m in measures.items()},
        facts={
            "pair": pair,
            "relation": problem.relation,
            "p": problem.p,
            "q": problem.q,
            "x": str(problem.x),
            "angle": str(angle_value),
            "thrown": str(problem.thrown) if problem.thrown is not None else "",
        },
    )


def at_x(poly: Poly, x: Fraction) -> Fraction:
    return sum((k * x ** len(m) for m, k in poly.items()), Fraction(0))


def _draw(family: str, seed: int, level: int, problem: Problem, chance: Chance) -> Drawn:
    """Lines a few degrees from parallel where that is to be made, exactly parallel where it is given."""
    size = problem.at_p.poly
    values = {"x": problem.x, "y": problem.y or Fraction(0)}
    at_p = Fraction(0)
    for monomial, k in size.items():
        for letter in monomial:
            k *= values[letter]
        at_p += k
    off = Fraction(chance.pick([-4, -3, 3, 4])) if family == "make-parallel" else Fraction(0)
    reach = 12 if level == 1 else 40
    turn = turn_of(seed, level, least=-reach, most=reach)
    wanted = sorted({problem.p, problem.q} | ({problem.third[0]} if problem.third else set()))
    return draw_lines(chance, turn, number=problem.p, angle=at_p, off=off, numbers=wanted)


def _certify(drawn: Drawn, problem: Problem, given: list[str], lines: str, asked: str | None, angle: Fraction) -> None:
    """Both ways: with this x the lines are parallel, and if they are, x is this and nothing else."""
    values = [f"x = {problem.x}"] + ([f"y = {problem.y}"] if problem.y is not None else [])
    if problem.thrown is not None:
        # The reasoner's equations are linear: each root is put in, and the measures that come out are judged.
        numbers = [
            f"m∠{name} = {at_x(m.poly, problem.x)}"
            for name, m in ((problem.p, problem.at_p), (problem.q, problem.at_q))
        ]
        forced(drawn.fig, numbers, [lines])
        assert not 0 < at_x(problem.at_q.poly, problem.thrown) < 180
        zero = relation_poly(problem.relation, problem.at_p.poly, problem.at_q.poly)
        roots = solve_quadratic(
            zero.get(("x", "x"), Fraction(0)), zero.get(("x",), Fraction(0)), zero.get((), Fraction(0))
        )
        assert roots == frozenset({problem.x, problem.thrown})
        return
    forced(drawn.fig, [*given, *values], [lines])
    forced(drawn.fig, [*given, lines], values + ([f"m∠{asked} = {angle}"] if asked else []))


def _traps(
    problem: Problem, level: int, key: dict[str, tuple[str, ...]], angle: Fraction
) -> dict[str, dict[str, str]] | None:
    """The answers of the known mistakes; None when one would give the right answer, or two the same."""
    p, q = problem.at_p.poly, problem.at_q.poly
    field = "angle" if "angle" in key else "x"
    found: dict[str, Fraction] = {}

    def put(name: str, x: Fraction | None) -> None:
        if x is not None:
            found[name] = at_x(q, x) if field == "angle" else x

    swapped = "supplementary" if problem.relation == "congruent" else "congruent"
    name = "supplementary-for-equal" if problem.relation == "congruent" else "equal-for-supplementary"
    if level in (1, 2, 3):
        root = root_of(relation_poly(swapped, p, q))
        if root is None:
            return None
        put(name, root)
        if problem.relation == "supplementary":
            put("ninety-for-180", root_of(relation_poly("supplementary", p, q, total=90)))
        put("sign-kept", _sign_kept(problem.relation, p, q))
        if level == 3:
            head = problem.at_p.text.split("(")
            k = int(head[0])
            inside = p.get((), Fraction(0)) / k
            put("first-term-only", root_of(relation_poly(problem.relation, linear(k, int(inside)), q)))
            found["unknown-for-angle"] = problem.x
    if level == 5 and problem.thrown is not None:
        found["impossible-root"] = problem.thrown
    if level == 4 and problem.y is not None:
        traps = {"unknowns-swapped": {"x": str(problem.y), "y": str(problem.x)}}
        other = _other_pair(problem, swapped)
        if other is None or other == (problem.x, problem.y):
            return None
        traps[name] = {"x": str(other[0]), "y": str(other[1])}
        return check_traps(traps, key)
    texts = {m: {field: str(v)} for m, v in found.items()}
    if level in (1, 2, 5):
        sizes = dict.fromkeys(str(at_x(poly, problem.x)) for poly in (p, q) if set(poly) - {()})
        texts["angle-for-unknown"] = {field: "|".join(sizes)}
    return check_traps(texts, key)


def _sign_kept(relation: str, p: Poly, q: Poly) -> Fraction | None:
    """x when the constant is carried over to the other side with its sign kept."""
    a, b = p.get(("x",), Fraction(0)), q.get(("x",), Fraction(0))
    c, d = p.get((), Fraction(0)), q.get((), Fraction(0))
    if relation == "congruent":
        k, right = abs(a - b), d + c  # ax + c = bx + d read as (a - b)x = d + c
    else:
        k, right = a + b, 180 + c + d  # ax + c + bx + d = 180 read as (a + b)x = 180 + c + d
    return right / k if k else None


def _other_pair(problem: Problem, relation: str) -> tuple[Fraction, Fraction] | None:
    assert problem.third is not None
    one = relation_poly(relation, problem.at_p.poly, problem.at_q.poly)
    two = relation_poly("supplementary", problem.at_p.poly, problem.third[1].poly)
    (a, b, e), (c, d, f) = (
        (r.get(("x",), Fraction(0)), r.get(("y",), Fraction(0)), -r.get((), Fraction(0))) for r in (one, two)
    )
    det = a * d - b * c
    return ((e * d - b * f) / det, (a * f - e * c) / det) if det else None


def _equation(relation: str, p: Measure, q: Measure) -> str:
    if relation == "congruent":
        return f"{p.text} = {q.text}"
    return " + ".join(f"({m.text})" if len(m.poly) > 1 and "(" not in m.text else m.text for m in (p, q)) + " = 180"


def _working(
    problem: Problem,
    house: House,
    pair: str,
    theorem: str,
    zero: Poly,
    start: tuple[Poly, ...],
    asked: str | None,
    angle: Fraction,
) -> tuple[str, ...]:
    lines = [
        say(
            "practice.key_pair",
            p=problem.p,
            q=problem.q,
            pair=house.term(pair),
            relation=house.term(problem.relation),
        ),
        _equation(problem.relation, problem.at_p, problem.at_q),
    ]
    if problem.third is not None:
        lines.append(_equation("supplementary", problem.at_p, problem.third[1]))
        lines.append(f"x = {problem.x}, y = {problem.y}")
    elif problem.thrown is not None:
        if zero.get(("x", "x"), Fraction(0)) < 0:
            zero = scale(zero, Fraction(-1))
        lines.append(f"{show_poly(zero)} = 0")
        lines.append(f"x = {problem.x} or x = {problem.thrown}")
        lines.append(
            say(
                "practice.key_thrown",
                x=problem.thrown,
                q=problem.q,
                value=degrees(at_x(problem.at_q.poly, problem.thrown)),
            )
        )
        lines.append(f"x = {problem.x}")
    else:
        a, c = zero.get(("x",), Fraction(0)), zero.get((), Fraction(0))
        if a < 0:
            a, c = -a, -c
        if a != 1:
            lines.append(f"{show_poly({('x',): a})} = {-c}")
        lines.append(f"x = {problem.x}")
    if asked:
        lines.append(f"m∠{asked} = {angle}°")
    lines.append(say("practice.key_by", theorem=house.name(theorem)))
    return tuple(lines)


def _hints(problem: Problem, house: House, pair: str, theorem: str, making: bool, lines: str) -> tuple[str, str, str]:
    what = "make" if making else "so"
    return (
        say("practice.solve_hint_1", p=problem.p, q=problem.q),
        say(
            f"practice.solve_hint_2_{what}",
            p=problem.p,
            q=problem.q,
            pair=house.term(pair),
            relation=house.term(problem.relation),
            theorem=house.name(theorem),
            lines=lines,
        ),
        say("practice.solve_hint_3", equation=_equation(problem.relation, problem.at_p, problem.at_q)),
    )
