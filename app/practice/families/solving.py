"""Find x: so that two lines are parallel (make-parallel), or because they are (parallel-so).

The equation is the same; what is known and what is wanted are swapped, and with them the theorem that lets
one say so: the converse for make-parallel, the original for parallel-so. Levels: 1 one side, 2 both sides,
3 brackets, with an angle asked, 4 two unknowns, 5 a quadratic with one root to be thrown out.

Values (I-8): the wrong relation never gives the same x.
"""

from __future__ import annotations

from collections.abc import Mapping
from fractions import Fraction
from itertools import combinations

from app.figure.pairs import name_pair
from app.practice.algebra import roots
from app.practice.certify import forced
from app.practice.chance import Chance, mixed
from app.practice.drawing import Drawn, draw_lines, mark, turn_of
from app.practice.families.common import by_field, converse_of, degrees, original_of
from app.practice.families.problems import Measure, Problem, at_x, propose, relation_poly, unknown_free, value_at
from app.practice.families.wrong_roots import traps_of
from app.practice.items import Field, Item
from app.practice.polynomials import Poly, scale, show_poly
from app.reasoning.frame import frame_of
from app.reasoning.judge import Known, reasons_for
from app.reasoning.theorems import TABLE, twin
from app.words import Text, joined, say, term
from app.words import theorem as theorem_of
from app.words.house import House

__all__ = ["make"]


def make(family: str, seed: int, level: int, house: House) -> Item:
    chance = Chance(mixed("solving", family, seed, level))
    while True:
        problem = propose(chance, level)
        if problem is None:
            continue
        made = _item(family, seed, level, house, problem, chance)
        if made is not None:
            return made


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
    traps = traps_of(problem, level, key, angle_value)
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
    at = {"x": problem.x, **({"y": problem.y} if problem.y is not None else {})}
    others = _others(drawn, {name: m.poly for name, m in measures.items()}, at, lines, making)
    wrong_way = original_of(pair) if making else converse_of(pair)
    traps["original-for-converse" if making else "converse-for-original"] = {"theorem": wrong_way}
    want: Text = f"m∠{asked_angle}" if asked_angle else joined("and", ("x", "y")) if problem.y is not None else "x"
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
        also={"theorem": tuple(t for t in others if t != theorem)},
        working=_working(problem, house, pair, theorem, zero, start, asked_angle, angle_value),
        hints=_hints(problem, pair, theorem, making, lines),
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


def _draw(family: str, seed: int, level: int, problem: Problem, chance: Chance) -> Drawn:
    """Lines a few degrees from parallel where that is to be made, exactly parallel where it is given."""
    size = problem.at_p.poly
    values = {"x": problem.x, "y": problem.y or Fraction(0)}
    at_p = value_at(size, values)
    off = Fraction(chance.pick([-4, -3, 3, 4])) if family == "make-parallel" else Fraction(0)
    reach = 12 if level == 1 else 40
    turn = turn_of(seed, level, least=-reach, most=reach)
    wanted = sorted({problem.p, problem.q} | ({problem.third[0]} if problem.third else set()))
    return draw_lines(chance, turn, number=problem.p, angle=at_p, off=off, numbers=wanted)


# Theorems that are no half of an original and its converse.
ONE_WAY = frozenset(name for name in TABLE if twin(name) is None)


def _others(
    drawn: Drawn, measures: Mapping[str, Poly], at: Mapping[str, Fraction], lines: str, making: bool
) -> tuple[str, ...]:
    """Every theorem that does for this figure, asked of the judge of proofs.

    With a third angle there is mostly a second pair: whoever starts from it is as right.
    """
    frame = frame_of(drawn.fig)
    if making:
        values = {name: value_at(poly, at) for name, poly in measures.items()}
        known = Known(frame, ((n, frame.read(f"m∠{a} = {v}")) for n, (a, v) in enumerate(values.items(), 1)))
        return reasons_for(known, frame.read(lines), bar=ONE_WAY)
    known = Known(frame, [(1, frame.read(lines))])
    found: dict[str, None] = {}
    for a, b in combinations(measures, 2):
        if all(unknown_free(measures[name]) for name in (a, b)):
            continue
        for claim in (f"m∠{a} = m∠{b}", f"m∠{a} + m∠{b} = 180"):
            found |= dict.fromkeys(reasons_for(known, frame.read(claim), bar=ONE_WAY))
    return tuple(found)


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
        found = roots(zero.get(("x", "x"), Fraction(0)), zero.get(("x",), Fraction(0)), zero.get((), Fraction(0)))
        assert found == frozenset({problem.x, problem.thrown})
        return
    forced(drawn.fig, [*given, *values], [lines])
    forced(drawn.fig, [*given, lines], values + ([f"m∠{asked} = {angle}"] if asked else []))


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
) -> tuple[Text, ...]:
    lines: list[Text] = [
        say(
            "practice.key_pair",
            p=problem.p,
            q=problem.q,
            pair=term(pair),
            relation=term(problem.relation),
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
        lines.append(joined("or", (f"x = {problem.x}", f"x = {problem.thrown}")))
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
    lines.append(say("practice.key_by", theorem=theorem_of(theorem)))
    return tuple(lines)


def _hints(problem: Problem, pair: str, theorem: str, making: bool, lines: str) -> tuple[Text, Text, Text]:
    what = "make" if making else "so"
    return (
        say("practice.solve_hint_1", p=problem.p, q=problem.q),
        say(
            f"practice.solve_hint_2_{what}",
            p=problem.p,
            q=problem.q,
            pair=term(pair),
            relation=term(problem.relation),
            theorem=theorem_of(theorem),
            lines=lines,
        ),
        say("practice.solve_hint_3", equation=_equation(problem.relation, problem.at_p, problem.at_q)),
    )
