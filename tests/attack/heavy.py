"""The heaviest questions that the documented limits let in."""

from __future__ import annotations

NAMES = "abcdefghjklm"


def question(n: int) -> tuple[str, dict]:
    """The n-th heavy question, none like another: an answer that is kept would cost nothing."""
    return (
        ("prove", grid(turn=n)),
        ("follows", grid(turn=n)),
        ("prove", many_parallels(turn=n)),
        ("prove", grid(4, 5, turn=n)),
        ("follows", cyclic(turn=n)),
    )[n % 5]


def many_parallels(lines: int = 12, k: int = 5, turn: int = 0) -> dict:
    """Twelve lines, each parallel to the next; the first and the last are to be proved so."""
    names = NAMES[:lines]
    figure = {
        "lines": {name: {"direction": f"{10 + turn / 100}", "through": [0, 2 * i]} for i, name in enumerate(names)},
        "meets": {},
        "angles": {},
    }
    given = [f"{names[i]} ∥ {names[j]}" for i in range(lines) for j in range(i + 1, min(lines, i + 4))]
    return {"figure": figure, "given": given[:38], "goal": f"{names[0]} ∥ {names[-1]}", "k": k}


def grid(across: int = 6, down: int = 6, angles: int = 3, k: int = 5, turn: int = 0) -> dict:
    """Six lines by six, with three angles at each crossing."""
    lines = {f"l{i}": {"direction": f"{3 + turn / 100}", "through": [0, 4 * i]} for i in range(across)}
    lines |= {f"t{j}": {"direction": 70, "through": [4 * j, 0]} for j in range(down)}
    meets: dict[str, list[str]] = {}
    marked: dict[str, dict[str, str]] = {}
    for i in range(across):
        for j in range(down):
            at = f"P{i}{j}"
            meets[at] = [f"l{i}", f"t{j}"]
            for rays in ((f"l{i}+", f"t{j}+"), (f"t{j}+", f"l{i}-"), (f"l{i}-", f"t{j}-"))[:angles]:
                marked[str(len(marked) + 1)] = {"at": at, "from": rays[0], "to": rays[1]}
    given = [f"l{i} ∥ l{i + 1}" for i in range(across - 1)] + [f"t{j} ∥ t{j + 1}" for j in range(down - 1)]
    figure = {"lines": lines, "meets": meets, "angles": marked}
    return {"figure": figure, "given": given, "goal": f"∠1 ≅ ∠{len(marked)}", "claim": f"∠1 ≅ ∠{len(marked)}", "k": k}


def cyclic(extra: int = 2, turn: int = 0) -> dict:
    """A quadrilateral in a circle with its diagonals: true, and by coordinates only; some lines more."""
    from math import atan2, degrees

    points = {"A": (turn / 1000, 0.0), "B": (6.1, 0.4), "C": (7.9, 4.6), "D": (2.2, 4.9)}
    ends = {"l": "AB", "m": "DC", "p": "AD", "q": "BC", "d": "AC", "e": "BD"}
    lines = {}
    for name, (a, b) in ends.items():
        (ax, ay), (bx, by) = points[a], points[b]
        lines[name] = {"direction": f"{degrees(atan2(by - ay, bx - ax)) % 180:.9f}", "through": [ax, ay]}
    meets = {p: [name for name, two in ends.items() if p in two] for p in points} | {"E": ["d", "e"]}
    for i in range(extra):
        lines[f"n{i}"] = {"direction": 40 + 17 * i, "through": list(points["ABCD"[i % 4]])}
        meets["ABCD"[i % 4]].append(f"n{i}")
    return {
        "figure": {"lines": lines, "meets": meets, "angles": {}},
        "given": ["∠DAC ≅ ∠DBC"],
        "claim": "∠ABD ≅ ∠ACD",
        "goal": "∠ABD ≅ ∠ACD",
        "k": 5,
    }
