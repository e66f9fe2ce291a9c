"""Whatever stands in the file, reading a pack gives a pack or its faults: nothing else comes out."""

from __future__ import annotations

import json
import random
import time
from pathlib import Path

import pytest

from app.lessons.faults import PackFaults
from app.lessons.kinds import MODELS
from app.lessons.load import read_pack
from tests.scale import trials

PACKS = Path(__file__).resolve().parents[2] / "lesson_packs"
TEXTS = [path.read_text(encoding="utf-8") for path in sorted(PACKS.glob("*/pack.toml"))]

VALUES = [
    "-1",
    "0",
    "99999999999999999999999",
    "nan",
    "inf",
    "1e400",
    "true",
    '""',
    '"x"',
    "[]",
    "{}",
    "[[]]",
    "[{ a = 1 }]",
    "1979-05-27T07:32:00Z",
    '"""\n"""',
    '"{corresponding}"',
    '"{"',
    '"*"',
    '"\\u0000"',
    '"∠1 ≅ ∠2"',
    '["m", "n", "t"]',
    '"' + "9" * 300 + '"',
    '{ at = "A", from = "m+", to = "m+" }',
    '"not enough"',
    '["∠1 ≅ ∠99"]',
    '"m ∥ m"',
    "-0.0",
]


def outcome(text: str) -> int:
    """How many faults; 0 for a good pack."""
    try:
        read_pack("p", text, deep=False)
    except PackFaults as error:
        assert error.faults
        for fault in error.faults:
            assert fault.sentence() and fault.block()
        json.dumps([fault.as_dict() for fault in error.faults])
        return len(error.faults)
    return 0


def mutated(text: str, rng: random.Random) -> str:
    lines = text.splitlines()
    for _ in range(rng.choice((1, 1, 2, 5))):
        at = rng.randrange(len(lines))
        kind = rng.randrange(5)
        if kind == 0:
            del lines[at]
        elif kind == 1:
            lines.insert(at, lines[rng.randrange(len(lines))])
        elif kind == 2 and "=" in lines[at]:
            lines[at] = lines[at].split("=")[0] + "= " + rng.choice(VALUES)
        elif kind == 3 and len(lines[at]) > 2:
            cut = rng.randrange(len(lines[at]))
            lines[at] = lines[at][:cut] + rng.choice("ax'\"[]{}=#*∠ ") + lines[at][cut + 1 :]
        else:
            lines[at] = lines[at][::-1]
    return "\n".join(lines)


def test_a_thousand_broken_packs() -> None:
    rng = random.Random(11)
    counts = [outcome(mutated(rng.choice(TEXTS), rng)) for _ in range(trials(quick=200, full=20_000))]

    assert sum(count > 0 for count in counts) > len(counts) // 3


@pytest.mark.parametrize("value", VALUES)
@pytest.mark.parametrize(
    "key", ["figure", "given", "goal", "start", "pairs", "question", "proof", "skills", "level", "kind", "id"]
)
def test_any_value_under_any_key(key: str, value: str) -> None:
    for kind in [kind for kind, model in MODELS.items() if key in model.model_fields]:
        rows = {"id": '"a"', "kind": f'"{kind}"', "title": '"T"', "ask": '"A."', key: value}
        task = "\n".join(f"{name} = {text}" for name, text in rows.items())
        head = 'format = 1\n[pack]\ntitle = "T"\nsummary = "S"\nminutes = 9\n'
        outcome(f'{head}[[parts]]\nid = "p"\ntitle = "P"\nminutes = 9\n[[parts.tasks]]\n{task}\n')


@pytest.mark.parametrize(
    "text",
    [
        "a = " + "[" * 100_000,
        "a = " + "{ b = " * 5_000,
        "format = 1\n" + "[a" + ".a" * 20_000 + "]\n",
        "format = 1\nx = '''\n" + "y\n" * 100_000,
        "format = " + "9" * 10_000,
    ],
    ids=["nested lists", "nested tables", "a long path", "an open text", "a long number"],
)
def test_hostile_files_are_refused_at_once(text: str) -> None:
    start = time.process_time()

    assert outcome(text) > 0

    assert time.process_time() - start < 2
