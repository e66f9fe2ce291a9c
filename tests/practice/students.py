"""Simulated students, one for each known mistake: little programs that answer from what the page shows.

They read the public part of an item and go wrong in one way only. Numbers come from z3's and the coordinates'
view of the figure (oracle.py) and from sympy; none of the program's own traps, solver or pair names is used.
A student returns None where the mistake can't show in an item.
"""

from __future__ import annotations

import random
import re
from collections.abc import Callable
from fractions import Fraction
from typing import Any

import sympy

from tests.practice.oracle import classify

NAMED = ("corresponding", "alternate interior", "alternate exterior", "consecutive interior", "consecutive exterior")
Answer = dict[str, Any]
Student = Callable[[dict[str, Any], random.Random], Answer | None]
SAME, SUM = "congruent", "supplementary"
X, Y = sympy.symbols("x y")


def field(shown: dict[str, Any], name: str) -> dict[str, Any] | None:
    return next((f for f in shown["fields"] if f["name"] == name), None)


def values(shown: dict[str, Any], name: str) -> list[str]:
    found = field(shown, name)
    return [c["value"] for c in found["choices"]] if found else []


def by_text(shown: dict[str, Any], name: str, words: str) -> str | None:
    found = field(shown, name)
    return next((c["value"] for c in (found or {}).get("choices", []) if words in c["text"]), None)


def asked(shown: dict[str, Any]) -> tuple[str, str]:
    """The two angles that the question names."""
    a, b = re.findall(r"∠(\d+)", shown["ask"])[:2]
    return a, b


def measures(shown: dict[str, Any]) -> dict[str, Any]:
    """Angle → its measure, from the givens, as sympy has it."""
    found = {}
    for text in shown["given"]:
        if m := re.fullmatch(r"m∠(\d+) = (.+)", text):
            body = re.sub(r"(\d)\s*([a-z(])", r"\1*\2", m[2].replace("²", "**2"))
            found[m[1]] = sympy.sympify(body)
    return found


def two(shown: dict[str, Any]) -> tuple[str, str, Any, Any, str, str]:
    """The two angles at different vertices that make a pair, their measures, the pair, what it calls for.

    With three angles two of them do; the student takes the pair whose theorem is on the page.
    """
    at = measures(shown)
    offered = " ".join(values(shown, "theorem"))
    for a in at:
        for b in at:
            pair = classify(shown["figure"], a, b)[0]
            if a < b and pair in NAMED and pair.replace(" ", "-") in offered:
                return a, b, at[a], at[b], pair, SUM if "consecutive" in pair else SAME
    raise AssertionError("no pair in the figure")


def number(value: Any) -> str:
    return str(Fraction(int(value.p), int(value.q)))


def solve_x(shown: dict[str, Any], equation: Any) -> Answer | None:
    """The student's equation, solved rightly, and what was asked filled in."""
    found = sympy.solve(equation, X)
    if len(found) != 1 or not found[0].is_rational:
        return None
    return filled(shown, found[0])


def filled(shown: dict[str, Any], x: Any) -> Answer:
    name = next(f["name"] for f in shown["fields"] if not f.get("optional"))
    if name == "x":
        return {"x": number(x)}
    target = re.search(r"∠(\d+)", next(f["label"] for f in shown["fields"] if f["name"] == name))
    return {name: number(measures(shown)[target[1]].subs(X, x))}  # type: ignore[index]


def relation_student(made: str, taken: str) -> Student:
    """Takes the two angles as `taken` where they are `made`."""

    def student(shown: dict[str, Any], rng: random.Random) -> Answer | None:
        if shown["family"] in ("make-parallel", "parallel-so"):
            if shown["level"] == 5:
                return None
            a, b, p, q, _, needed = two(shown)
            if needed != made:
                return None
            equation = p + q - 180 if taken == SUM else p - q
            if shown["level"] == 4:
                third = next(v for n, v in measures(shown).items() if n not in (a, b))
                at_third = (
                    p
                    if classify(shown["figure"], a, next(n for n in measures(shown) if n not in (a, b)))[0]
                    == "linear pair"
                    else q
                )
                found = sympy.solve([equation, third + at_third - 180], [X, Y], dict=True)
                return {"x": number(found[0][X]), "y": number(found[0][Y])} if found else None
            return solve_x(shown, equation)
        if without_parallel(shown, rng) is not None:
            return None  # an angle at all would be another mistake: nothing says that the lines are parallel
        size, target = known_angle(shown)
        return {"angle": str(180 - size if taken == SUM else size)} if target == made else None

    return student


def known_angle(shown: dict[str, Any]) -> tuple[int, str]:
    """The given measure, and whether the angle asked equals it or is its supplement (by adding turns, not theorems)."""
    at, size = next((m[1], int(m[2])) for t in shown["given"] if (m := re.fullmatch(r"m∠(\d+) = (\d+)", t)))
    q = re.search(r"m∠(\d+)", shown["fields"][0]["label"])[1]  # type: ignore[index]
    lines = {n: Fraction(str(line["direction"])) for n, line in shown["figure"]["lines"].items()}

    def drawn(name: str) -> Fraction:
        angle = shown["figure"]["angles"][name]
        head = [lines[angle[k][:-1]] + (0 if angle[k][-1] == "+" else 180) for k in ("from", "to")]
        return (head[1] - head[0]) % 360

    return size, SAME if (drawn(at) < 90) == (drawn(q) < 90) else SUM


def ninety(shown: dict[str, Any], rng: random.Random) -> Answer | None:
    if shown["family"] == "find-the-angle":
        size, target = known_angle(shown)
        return {"angle": str(90 - size)} if target == SUM and size < 90 else None
    if shown["level"] > 3:
        return None
    _, _, p, q, _, needed = two(shown)
    return solve_x(shown, p + q - 90) if needed == SUM else None


def sign_kept(shown: dict[str, Any], rng: random.Random) -> Answer | None:
    if shown["level"] > 3:
        return None
    _, _, p, q, _, needed = two(shown)
    (a, c), (b, d) = ((sympy.expand(e).coeff(X, 1), sympy.expand(e).coeff(X, 0)) for e in (p, q))
    if needed == SAME:
        return filled(shown, sympy.Rational(c + d, abs(a - b)))
    return filled(shown, sympy.Rational(180 + c + d, a + b))


def first_term_only(shown: dict[str, Any], rng: random.Random) -> Answer | None:
    if shown["level"] != 3:
        return None
    a, b, p, q, _, needed = two(shown)
    texts = {n: next(t for t in shown["given"] if t.startswith(f"m∠{n} ")).split("= ")[1] for n in (a, b)}
    wrong = {}
    for n in (a, b):
        m = re.fullmatch(r"(\d+)\((.+)\)", texts[n])
        inside = sympy.sympify(m[2].replace("²", "**2")) if m else None
        wrong[n] = int(m[1]) * X + inside.coeff(X, 0) if m else {a: p, b: q}[n]
    equation = wrong[a] - wrong[b] if needed == SAME else wrong[a] + wrong[b] - 180
    found = sympy.solve(equation, X)
    return filled(shown, found[0]) if found else None


def right_x(shown: dict[str, Any]) -> list[Any]:
    _, _, p, q, _, needed = two(shown)
    return sympy.solve(p - q if needed == SAME else p + q - 180, X)


def unknown_for_angle(shown: dict[str, Any], rng: random.Random) -> Answer | None:
    return {"angle": number(right_x(shown)[0])} if shown["level"] == 3 else None


def angle_for_unknown(shown: dict[str, Any], rng: random.Random) -> Answer | None:
    """Gives the measure of an angle of the pair, the one that depends on x."""
    if shown["level"] in (3, 4):
        return None
    a, b, p, q, _, _ = two(shown)
    x = max(right_x(shown))
    # The last angle that was worked out: of two that both hold x, the second of the pair as the item has it.
    sizes = {number(e.subs(X, x)) for e in (p, q) if e.has(X)}
    return {"x": rng.choice(sorted(sizes))}


def impossible_root(shown: dict[str, Any], rng: random.Random) -> Answer | None:
    return {"x": number(min(right_x(shown)))} if shown["level"] == 5 else None


def swapped(shown: dict[str, Any], rng: random.Random) -> Answer | None:
    if shown["level"] != 4:
        return None
    a, b, p, q, _, needed = two(shown)
    other = next(n for n in measures(shown) if n not in (a, b))
    beside = p if classify(shown["figure"], a, other)[0] == "linear pair" else q
    found = sympy.solve(
        [p - q if needed == SAME else p + q - 180, measures(shown)[other] + beside - 180], [X, Y], dict=True
    )
    return {"x": number(found[0][Y]), "y": number(found[0][X])}


def without_parallel(shown: dict[str, Any], rng: random.Random) -> Answer | None:
    """Uses the theorem of the pair although the lines are not given parallel."""
    at = re.search(r"m∠(\d+) = (\d+)", shown["given"][-1])
    q = re.search(r"m∠(\d+)", shown["fields"][0]["label"])[1]  # type: ignore[index]
    pair, _, lines = classify(shown["figure"], at[1], q)  # type: ignore[index]
    told = {frozenset(t.split(" ∥ ")) for t in shown["given"] if "∥" in t}
    if frozenset(lines) in told or pair == "none" or "none" not in shown["fields"][0]:
        return None
    return {"angle": str(180 - int(at[2]) if "consecutive" in pair else int(at[2]))}  # type: ignore[index]


def without_parallel_either(shown: dict[str, Any], rng: random.Random) -> Answer | None:
    """The same, and takes the pair for one of the other kind."""
    found = without_parallel(shown, rng)
    return found and {"angle": str(180 - int(found["angle"]))}


def pair_student(change: Callable[[str], str | None]) -> Student:
    def student(shown: dict[str, Any], rng: random.Random) -> Answer | None:
        pair = classify(shown["figure"], *asked(shown))[0]
        wrong = change(pair)
        return {"pair": wrong} if wrong else None

    return student


def other_side(pair: str) -> str | None:
    if pair == "corresponding":
        return "consecutive interior"
    swap = {"alternate": "consecutive", "consecutive": "alternate"}
    word = pair.split()[0]
    return pair.replace(word, swap[word]) if word in swap else None


def inside_out(pair: str) -> str | None:
    swap = {"interior": "exterior", "exterior": "interior"}
    word = pair.split()[-1]
    return pair.replace(word, swap[word]) if word in swap else None


def mixed_words(pair: str) -> str | None:
    if pair == "corresponding":
        return "alternate interior"
    return "corresponding" if pair.split()[0] in ("alternate", "consecutive") else None


def one_meet(pair: str) -> str | None:
    return {"vertical": "linear pair", "linear pair": "vertical"}.get(pair)


def transversal_student(lines_only: bool) -> Student:
    def student(shown: dict[str, Any], rng: random.Random) -> Answer | None:
        a, b = asked(shown)
        _, cut, lines = classify(shown["figure"], a, b)
        order = list(shown["figure"]["lines"])
        on_a = {shown["figure"]["angles"][a][k][:-1] for k in ("from", "to")}
        first = next(line for line in lines if line in on_a)
        if lines_only:
            return {"transversal": cut, "lines": ",".join(sorted((cut, first), key=order.index))}  # type: ignore[type-var]
        second = next(line for line in lines if line != first)
        return {"transversal": first, "lines": ",".join(sorted((str(cut), second), key=order.index))}

    return student


def enough_pair(shown: dict[str, Any]) -> tuple[str, str, str | None, set[str]]:
    a, b = re.findall(r"∠(\d+)", " ".join(shown["given"]))[:2]
    pair, cut, lines = classify(shown["figure"], a, b)
    return pair, a, cut, lines


def holds(shown: dict[str, Any], pair: str) -> bool:
    """Whether what is given is what the pair calls for."""
    text = shown["given"]
    if "≅" in text[0]:
        return "consecutive" not in pair
    if "+" in text[0]:
        return "consecutive" in pair
    one, other = (int(t.split("= ")[1]) for t in text)
    return one + other == 180 if "consecutive" in pair else one == other


def lines_of(shown: dict[str, Any], lines: set[str]) -> str:
    order = list(shown["figure"]["lines"])
    return ",".join(sorted(lines, key=order.index))


def converse(pair: str) -> str:
    return pair.replace(" ", "-") + "-angles-converse"


def relation_taken(made: str) -> Student:
    """Thinks that the given relation of a pair is the one that is needed."""

    def student(shown: dict[str, Any], rng: random.Random) -> Answer | None:
        pair, _, _, lines = enough_pair(shown)
        if pair not in NAMED or holds(shown, pair) or len(shown["given"]) == 2 and not _other_relation(shown, pair):
            return None
        if (SUM if "consecutive" in pair else SAME) != made:
            return None
        return {"lines": lines_of(shown, lines), "theorem": converse(pair)}

    return student


def _other_relation(shown: dict[str, Any], pair: str) -> bool:
    one, other = (int(t.split("= ")[1]) for t in shown["given"])
    return one == other if "consecutive" in pair else one + other == 180


def looks_parallel(shown: dict[str, Any], rng: random.Random) -> Answer | None:
    pair, _, _, lines = enough_pair(shown)
    if pair not in NAMED or len(shown["given"]) != 2 or holds(shown, pair) or _other_relation(shown, pair):
        return None
    return {"lines": lines_of(shown, lines), "theorem": converse(pair)}


def looks_not(shown: dict[str, Any], rng: random.Random) -> Answer | None:
    pair, _, _, _ = enough_pair(shown)
    return {"lines": "none", "theorem": "none"} if pair in NAMED and holds(shown, pair) else None


def other_converse(shown: dict[str, Any], rng: random.Random) -> Answer | None:
    """Mixes up alternate and consecutive, and takes the converse of the wrong name."""
    pair, _, _, lines = enough_pair(shown)
    if pair not in NAMED or not holds(shown, pair):
        return None
    swap = {"alternate": "consecutive", "consecutive": "alternate"}
    word = pair.split()[0]
    taken = pair.replace(word, swap[word]) if word in swap else "alternate interior"
    return {"lines": lines_of(shown, lines), "theorem": converse(taken)}


def forward_enough(shown: dict[str, Any], rng: random.Random) -> Answer | None:
    pair, _, _, lines = enough_pair(shown)
    if pair not in NAMED or not holds(shown, pair):
        return None
    theorem = converse(pair).removesuffix("-converse")
    return {"lines": lines_of(shown, lines), "theorem": theorem} if theorem in values(shown, "theorem") else None


def at_one_meet(shown: dict[str, Any], rng: random.Random) -> Answer | None:
    pair, _, _, _ = enough_pair(shown)
    if pair not in ("vertical", "linear pair"):
        return None
    two_lines = next(v for v in values(shown, "lines") if v != "none")
    return {"lines": two_lines, "theorem": "corresponding-angles-converse"}


def cut_among_lines(shown: dict[str, Any], rng: random.Random) -> Answer | None:
    pair, a, cut, lines = enough_pair(shown)
    if shown["level"] != 3 or pair not in NAMED or not holds(shown, pair):
        return None
    on_a = {shown["figure"]["angles"][a][k][:-1] for k in ("from", "to")}
    first = next(line for line in lines if line in on_a)
    return {"lines": lines_of(shown, {str(cut), first}), "theorem": converse(pair)}


def reason_field(shown: dict[str, Any]) -> str:
    return shown["fields"][-1]["name"]


def row_of(shown: dict[str, Any], name: str) -> dict[str, Any]:
    return next(r for r in shown["rows"] if r["label"] == name.removeprefix("row"))


def wrong_way(to_converse: bool) -> Student:
    """Takes the theorem for its converse, or the other way; in a proof the pair is read off the rows before."""

    def student(shown: dict[str, Any], rng: random.Random) -> Answer | None:
        if shown["family"] in ("make-parallel", "parallel-so"):
            making = shown["family"] == "make-parallel"
            if making == to_converse:
                return None
            pair = two(shown)[4]
            theorem = converse(pair) if to_converse else converse(pair).removesuffix("-converse")
            return {"theorem": theorem, "right": True}
        for f in shown["fields"]:
            ends_parallel = "∥" in row_of(shown, f["name"])["statement"]
            if ends_parallel == to_converse:
                continue
            theorem = right_theorem(shown, f, ends_parallel)
            if theorem is None:
                continue
            wrong = theorem.removesuffix("-converse") if ends_parallel else theorem + "-converse"
            return {f["name"]: wrong, "right": True} if wrong in values(shown, f["name"]) else None
        return None

    return student


def right_theorem(shown: dict[str, Any], f: dict[str, Any], ends_parallel: bool) -> str | None:
    """The theorem of the pair that the row speaks of, by coordinates."""
    row = row_of(shown, f["name"])
    offered = values(shown, f["name"])
    texts = [row["statement"]] if not ends_parallel else [r["statement"] for r in shown["rows"]]
    for text in texts:
        found = re.findall(r"∠(\d+)", text)
        if len(found) != 2:
            continue
        pair, _, lines = classify(shown["figure"], *found)
        said = "supplementary" if "consecutive" in pair else "≅"
        fits = said in text or (said == "supplementary" and "180" in text)
        if pair in NAMED and fits and (not ends_parallel or set(row["statement"].split(" ∥ ")) == lines):
            theorem = converse(pair) if ends_parallel else converse(pair).removesuffix("-converse")
            if theorem in offered:
                return theorem
    return None


def says_given(goal: bool) -> Student:
    def student(shown: dict[str, Any], rng: random.Random) -> Answer | None:
        for f in shown["fields"]:
            row = row_of(shown, f["name"])
            is_goal = shown["prompt"].endswith(f"Prove: {row['statement']}.")
            if is_goal == goal and "given" in values(shown, f["name"]):
                return {f["name"]: "given", "right": True}
        return None

    return student


def goal_first(shown: dict[str, Any], rng: random.Random) -> Answer | None:
    goal = next(r["label"] for r in shown["rows"] if shown["prompt"].endswith(f"Prove: {r['statement']}."))
    rest = [r["label"] for r in shown["rows"] if r["label"] != goal]
    rng.shuffle(rest)
    return {"order": [goal, *rest]}


def blames_last(shown: dict[str, Any], rng: random.Random) -> Answer | None:
    return {"row": str(len(shown["rows"]))}


def forms(shown: dict[str, Any]) -> dict[str, str]:
    """form → the letter of its sentence, built from the words of the statement."""
    body = shown["prompt"].split(": ", 1)[1]
    h, c = body.removeprefix("If ").removesuffix(".").split(", then ")
    found: dict[str, str] = {}
    rest = {}
    for choice in shown["fields"][0]["choices"]:
        first, last = choice["text"].removeprefix("If ").removesuffix(".").split(", then ")
        rest[choice["value"]] = (first, last)
        if (first, last) == (c, h):
            found["converse"] = choice["value"]
        elif first == h:
            found["half-then"] = choice["value"]
        elif last == c:
            found["half-if"] = choice["value"]
    not_c = rest[found["half-then"]][1]
    for letter, (first, _) in rest.items():
        if letter not in found.values():
            found["contrapositive" if first == not_c else "inverse"] = letter
    return found


def form_student(wanted: str, taken: str) -> Student:
    def student(shown: dict[str, Any], rng: random.Random) -> Answer | None:
        if shown["level"] != 1 or wanted not in shown["ask"].split():
            return None
        return {"form": forms(shown)[taken]}

    return student


def built(shown: dict[str, Any]) -> tuple[dict[str, str], dict[str, str]]:
    """The statement's "if" part and "then" part among the tiles, by the words of the prompt."""
    body = shown["prompt"].split(": ", 1)[1]
    one, other = field(shown, "sentence")["tiles"]["clauses"]  # type: ignore[index]
    return (one, other) if body.startswith(f"If {one['said']}, then") else (other, one)


def writer(wanted: str, first: str, last: str, joint: str = "If {}, then {}.") -> Student:
    """Writes the parts so: "h" the "if" part, "c" the "then" part, with "-" denied; where `wanted` is asked for."""

    def student(shown: dict[str, Any], rng: random.Random) -> Answer | None:
        if f"Write the {wanted} of it" not in shown["ask"]:
            return None
        h, c = built(shown)
        words = [(h if part[-1] == "h" else c)["denied" if part[0] == "-" else "said"] for part in (first, last)]
        return {"sentence": joint.format(*words)}

    return student


def neither(shown: dict[str, Any], rng: random.Random) -> Answer | None:
    """Denies "both" by denying each."""
    form = re.search(r"Write the (\w+) of it", shown["ask"])[1]  # type: ignore[index]
    if form not in ("inverse", "contrapositive"):
        return None
    said = []
    for part in built(shown)[:: 1 if form == "inverse" else -1]:
        found = re.fullmatch(r"(m∠\d) = (\d+)° and (m∠\d) = (\d+)°|(\w) ⊥ (\w) and (\w) ⊥ (\w)", part["said"])
        if found and found[1]:
            said.append(f"{found[1]} ≠ {found[2]}° and {found[3]} ≠ {found[4]}°")
        elif found:
            said.append(
                f"{found[5]} is not perpendicular to {found[6]} and {found[7]} is not perpendicular to {found[8]}"
            )
        else:
            said.append(part["denied"])
    plain = [part["denied"] for part in built(shown)[:: 1 if form == "inverse" else -1]]
    return {"sentence": "If {}, then {}.".format(*said)} if said != plain else None


# What connect's students think; `truth` is worked out by the test with z3 and handed in.
def judged(statement: bool, converse_: bool, why: str) -> Callable[[dict[str, Any], dict[str, bool]], Answer]:
    def student(shown: dict[str, Any], truth: dict[str, bool]) -> Answer:
        return {"statement": str(statement).lower(), "converse": str(converse_).lower(), "why": why}

    return student


SOLVING = [(f, n) for f in ("make-parallel", "parallel-so") for n in range(1, 6)]
ANGLE = [("find-the-angle", n) for n in (1, 2, 3)]
ENOUGH = [("is-it-enough", n) for n in (1, 2, 3)]
REASONS = [("missing-reason", n) for n in (1, 2, 3)]
NAMES = [("name-the-pair", n) for n in (1, 2, 3)]
CUTS = [("which-transversal", n) for n in (1, 2, 3)]
WRITE = [("connect", 1)]
OWN_WORDS = [("connect", 5)]

# The order of the table is the order in which a test takes them.
STUDENTS: list[tuple[str, Student, list[tuple[str, int]]]] = [
    ("equal-for-supplementary", relation_student(SUM, SAME), SOLVING + ANGLE),
    ("supplementary-for-equal", relation_student(SAME, SUM), SOLVING + ANGLE),
    ("equal-for-supplementary", relation_taken(SUM), ENOUGH),
    ("supplementary-for-equal", relation_taken(SAME), ENOUGH),
    ("ninety-for-180", ninety, SOLVING + ANGLE[:2]),
    ("sign-kept", sign_kept, SOLVING),
    ("first-term-only", first_term_only, SOLVING),
    ("unknown-for-angle", unknown_for_angle, SOLVING),
    ("angle-for-unknown", angle_for_unknown, SOLVING),
    ("impossible-root", impossible_root, SOLVING),
    ("unknowns-swapped", swapped, SOLVING),
    ("equal-without-parallel", without_parallel, ANGLE),
    ("equal-without-parallel", without_parallel_either, ANGLE),
    ("pair-side", pair_student(other_side), NAMES),
    ("pair-inside", pair_student(inside_out), NAMES),
    ("pair-corresponding", pair_student(mixed_words), NAMES),
    ("one-meet-mixed", pair_student(one_meet), NAMES),
    ("wrong-transversal", transversal_student(False), CUTS),
    ("wrong-lines", transversal_student(True), CUTS),
    ("wrong-lines", cut_among_lines, ENOUGH),
    ("looks-parallel", looks_parallel, ENOUGH),
    ("looks-not-parallel", looks_not, ENOUGH),
    ("one-meet-evidence", at_one_meet, ENOUGH),
    ("theorem-of-other-pair", other_converse, ENOUGH),
    ("original-for-converse", forward_enough, ENOUGH),
    ("original-for-converse", wrong_way(False), SOLVING + REASONS),
    ("converse-for-original", wrong_way(True), SOLVING + REASONS),
    ("given-for-derived", says_given(False), REASONS),
    ("goal-as-given", says_given(True), REASONS),
    ("theorem-first", goal_first, [("put-in-order", n) for n in (1, 2, 3)]),
    ("last-row-blamed", blames_last, [("find-the-mistake", n) for n in (1, 2, 3)]),
    ("inverse-for-converse", form_student("converse", "inverse"), WRITE),
    ("contrapositive-for-converse", form_student("converse", "contrapositive"), WRITE),
    ("converse-for-inverse", form_student("inverse", "converse"), WRITE),
    ("half-negated", form_student("inverse", "half-then"), WRITE),
    ("converse-for-contrapositive", form_student("contrapositive", "converse"), WRITE),
    ("inverse-for-contrapositive", form_student("contrapositive", "inverse"), WRITE),
    ("inverse-for-converse", writer("converse", "-h", "-c"), OWN_WORDS),
    ("contrapositive-for-converse", writer("converse", "-c", "-h"), OWN_WORDS),
    ("converse-for-inverse", writer("inverse", "c", "h"), OWN_WORDS),
    ("half-negated", writer("inverse", "-h", "c"), OWN_WORDS),
    ("half-negated", writer("contrapositive", "c", "-h"), OWN_WORDS),
    ("converse-for-contrapositive", writer("contrapositive", "c", "h"), OWN_WORDS),
    ("inverse-for-contrapositive", writer("contrapositive", "-h", "-c"), OWN_WORDS),
    ("one-way-for-both", writer("biconditional", "h", "c"), OWN_WORDS),
    ("one-way-for-both", writer("biconditional", "c", "h"), OWN_WORDS),
    ("not-both-for-neither", neither, OWN_WORDS),
]
