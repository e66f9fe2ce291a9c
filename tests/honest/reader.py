"""Is the figure of a `not forced` one in which everything given holds and the claim fails? Read from its JSON alone."""

from __future__ import annotations

from dataclasses import dataclass, field
from fractions import Fraction
from itertools import combinations
from math import cos, radians, sin

from tests.honest.plane import GIVEN_TOLERANCE, Facts, Figure, Place, World, crossing, oriented_like
from tests.honest.statements import NOT_PARALLEL, PARALLEL, PERPENDICULAR, Statement, off, text, unknowns_of

# Where the claim is about parallel or perpendicular lines it has to fail so visibly, if the givens let it.
VISIBLE = 5


@dataclass
class Reading:
    problems: list[str] = field(default_factory=list)
    apart: float = 0.0
    fails: float = 0.0
    facts: Facts | None = None
    world: World | None = None

    @property
    def faint(self) -> bool:
        return self.apart < VISIBLE


def read(drawn: Figure, given: list[Statement], claim: Statement, example: object) -> Reading:
    """What is wrong with `counterexample`, as sentences; nothing where it does what it promises."""
    reading = Reading()
    say = reading.problems.append
    if not isinstance(example, dict) or not isinstance(example.get("figure"), dict):
        say("no figure")
        return reading
    figure = example["figure"]
    if set(figure["lines"]) != set(drawn.lines):
        say(f"other lines: {sorted(figure['lines'])}")
        return reading
    world: World = {}
    through: dict[str, Place] = {}
    for name, line in figure["lines"].items():
        world[name] = Fraction(str(line["direction"]))
        through[name] = (float(Fraction(str(line["through"][0]))), float(Fraction(str(line["through"][1]))))
        told = Fraction(str(example["lines"][name]))
        if abs((told - world[name] + 90) % 180 - 90) > GIVEN_TOLERANCE:
            say(f"lines says {told} for {name}, its figure {world[name]}")
    for meet, lines in drawn.meets.items():
        body = figure["meets"].get(meet)
        named = body["lines"] if isinstance(body, dict) else body
        if named is None or set(named) != set(lines):
            say(f"{meet} is named {named}, drawn {lines}")
            return reading

    oriented = oriented_like(drawn, world, through)
    if oriented is None:
        say("the drawn order is not kept")
        return reading
    from tests.honest.plane import facts

    seen = reading.facts = facts(oriented, through, drawn.meets)
    reading.world = oriented
    if not seen.same_as(drawn.facts):
        say("the drawn order is not kept")
    if seen.gap <= GIVEN_TOLERANCE * seen.size:
        say("two named points fall together")
    _points(drawn, oriented, through, figure, seen, say)

    for name, body in figure.get("angles", {}).items():
        if name in drawn.angles:
            start, end = _ray(body["from"]), _ray(body["to"])
            wide = (_heading(world, end) - _heading(world, start)) % 360
            if abs(wide - drawn.measure(name, oriented)) > GIVEN_TOLERANCE:
                say(f"∠{name} is another sector in the figure")
    for name, told in example.get("measures", {}).items():
        measured = drawn.measure(name, oriented)
        if abs(Fraction(str(told)) - measured) > GIVEN_TOLERANCE:
            say(f"measures says {told} for ∠{name}, the figure {float(measured)}")
    values = {name: Fraction(str(value)) for name, value in example.get("unknowns", {}).items()}
    for statement in [*given, claim]:
        missing = unknowns_of(statement) - set(values)
        if missing:
            say(f"no value for {sorted(missing)}")
            return reading
    for statement in given:
        fails = float(off(drawn, oriented, values, statement))
        if fails > GIVEN_TOLERANCE:
            say(f"the given {text(statement)} is off by {fails:.3g}")
    reading.apart = float(off(drawn, oriented, values, claim))
    reading.fails = reading.apart
    if reading.apart <= 1e-6:
        say(f"the claim holds in it (off by {reading.apart:.3g})")
    if claim[0] not in (PARALLEL, PERPENDICULAR):
        # Only of lines does the contract say how far.
        reading.apart = max(reading.apart, VISIBLE) if claim[0] == NOT_PARALLEL or reading.apart > 1e-6 else 0
    return reading


def _points(drawn: Figure, world: World, through: dict[str, Place], figure: dict, seen: Facts, say) -> None:
    """Every named point is one point: whichever two of its lines are taken, the others pass through their crossing."""
    turned = {name: radians(float(direction)) for name, direction in world.items()}
    for meet, lines in drawn.meets.items():
        body = figure["meets"][meet]
        if isinstance(body, dict) and "at" in body:
            x, y = (float(Fraction(str(v))) for v in body["at"])
            if abs(x - seen.places[meet][0]) + abs(y - seen.places[meet][1]) > 1e-3 * seen.size:
                say(f"{meet} is said to lie at {x}, {y}, its lines cross at {seen.places[meet]}")
        if len(lines) < 3:
            continue
        worst = 0.0
        for a, b in combinations(lines, 2):
            x, y = crossing((turned[a], through[a]), (turned[b], through[b]))
            for c in lines:
                px, py = through[c]
                worst = max(worst, abs(cos(turned[c]) * (y - py) - sin(turned[c]) * (x - px)))
        if worst > GIVEN_TOLERANCE * seen.size:
            say(f"the lines of {meet} miss each other by {worst:.3g}")


def _ray(name: str) -> tuple[str, str]:
    return name[:-1], name[-1]


def _heading(world: World, ray: tuple[str, str]) -> Fraction:
    return Fraction(world[ray[0]]) + (0 if ray[1] == "+" else 180)
