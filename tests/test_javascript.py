"""The JavaScript unit tests, `tests/static/*.test.js`, run by Node's own test runner."""

from __future__ import annotations

import shutil
import subprocess
from pathlib import Path

import pytest

from tests.need import need

ROOT = Path(__file__).resolve().parent.parent
FILES = sorted((ROOT / "tests" / "static").glob("*.test.js"))


@pytest.mark.parametrize("file", FILES, ids=lambda f: f.name)
def test_javascript(file: Path) -> None:
    node = need(shutil.which("node"), "Node.js (18 or later)")
    run = subprocess.run([node, "--test", str(file)], cwd=ROOT, capture_output=True, text=True, timeout=300)

    assert run.returncode == 0, run.stdout[-6000:] + run.stderr[-2000:]
    assert "# pass 0" not in run.stdout, "the file holds no test"


def test_there_are_javascript_tests() -> None:
    assert FILES
