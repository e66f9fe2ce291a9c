"""The JavaScript unit tests, `tests/static/*.test.js`, run by Node's own test runner; and what holds the scripts' checkers."""

from __future__ import annotations

import json
import re
import shutil
import subprocess
from pathlib import Path

import pytest

from tests import scripts
from tests.need import need

ROOT = Path(__file__).resolve().parent.parent
HOME = ROOT / "tests" / "static"
FILES = sorted(HOME.glob("*.test.js"))
# How many scripts have no strict types yet. It goes down as they get them, and never up.
MOST_LOOSE = 105


@pytest.mark.parametrize("file", FILES, ids=lambda f: f.name)
def test_javascript(file: Path) -> None:
    node = need(shutil.which("node"), "Node.js (20.19 or later)")
    run = subprocess.run([node, "--test", str(file)], cwd=ROOT, capture_output=True, text=True, timeout=300)

    assert run.returncode == 0, run.stdout[-6000:] + run.stderr[-2000:]
    assert "# pass 0" not in run.stdout, "the file holds no test"


def test_there_are_javascript_tests() -> None:
    assert FILES


def test_the_checkers_have_fixed_versions_and_hashes_and_no_address() -> None:
    """What is installed is what was looked at, from whatever registry this machine uses."""
    text = (HOME / "package-lock.json").read_text(encoding="utf-8")
    packages = json.loads(text)["packages"]
    wanted = json.loads((HOME / "package.json").read_text(encoding="utf-8"))["devDependencies"]
    assert packages[""]["devDependencies"] == wanted
    for name, version in wanted.items():
        assert re.fullmatch(r"\d+\.\d+\.\d+", version), name
        assert packages[f"node_modules/{name}"]["version"] == version, "npm install, in tests/static"
    for name, about in packages.items():
        assert name == "" or about["integrity"].startswith("sha512-"), name
        assert "resolved" not in about, f"{name}: tests/static/.npmrc leaves addresses out"


def test_the_list_of_loose_scripts_only_gets_shorter() -> None:
    loose = scripts.loose()
    assert len(loose) <= MOST_LOOSE, "a new script has strict types from its first day"
    assert loose == sorted(set(loose))
    assert [name for name in loose if not (ROOT / name).is_file()] == [], (
        "gone, or moved: write its types when it moves"
    )


def test_a_script_leaves_the_list_when_it_has_its_types() -> None:
    need(scripts.installed() or None, "what checks the scripts (python3 tests/scripts.py)")
    found = scripts.typed()
    assert [name for name in scripts.loose() if name not in found] == []


def test_the_checkers_find_a_fault(tmp_path: Path) -> None:
    """A fault of type and one that only strict types see, in a page that is otherwise like ours."""
    need(scripts.installed() or None, "what checks the scripts (python3 tests/scripts.py)")
    options = {"extends": str(HOME / "tsconfig.json"), "include": ["*.js"]}
    (tmp_path / "tsconfig.json").write_text(json.dumps(options), encoding="utf-8")
    (tmp_path / "page.js").write_text('export const n = Math.abs("x");\nexport const f = (y) => y;\n', encoding="utf-8")
    run = scripts.tool("tsc", "--project", str(tmp_path), "--pretty", "false")
    assert "page.js(1,27): error TS2345" in run.stdout
    assert "page.js(2,19): error TS7006" in run.stdout
    run = scripts.tool("tsc", "--project", str(tmp_path), "--pretty", "false", "--strict", "false")
    assert "TS2345" in run.stdout and "TS7006" not in run.stdout
