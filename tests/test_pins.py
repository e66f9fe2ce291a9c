"""What is installed: every pinned package has the hashes of its files, and nothing that is needed goes without a pin."""

from __future__ import annotations

import re
import tomllib
from importlib.metadata import requires
from pathlib import Path

from packaging.requirements import Requirement
from packaging.utils import canonicalize_name

ROOT = Path(__file__).resolve().parents[1]
PINNED, HASHED = ROOT / "requirements.txt", ROOT / "requirements-hashed.txt"
AGAIN = (
    "make requirements-hashed.txt again: uv pip compile requirements.txt --universal --python-version 3.11 "
    "--generate-hashes --no-header --no-annotate -o requirements-hashed.txt"
)


def entries(path: Path) -> dict[str, tuple[str, list[str]]]:
    """Name → (version, hashes). Each is one logical line, as pip reads it."""
    found = {}
    for line in path.read_text(encoding="utf-8").replace("\\\n", " ").splitlines():
        if not line.strip() or line.lstrip().startswith("#"):
            continue
        words, *hashes = line.split("--hash=")
        one = Requirement(words.strip())
        [specifier] = one.specifier
        assert specifier.operator == "==", line
        found[canonicalize_name(one.name)] = (specifier.version, [h.strip() for h in hashes])
    return found


def test_every_pin_has_its_hashes_and_the_same_version() -> None:
    pinned, hashed = entries(PINNED), entries(HASHED)
    assert {n: v for n, (v, _) in pinned.items()} == {n: v for n, (v, _) in hashed.items()}, AGAIN
    for name, (_, hashes) in hashed.items():
        assert hashes, f"{name} has no hash; {AGAIN}"
        assert len(set(hashes)) == len(hashes)
        assert all(re.fullmatch(r"sha256:[0-9a-f]{64}", h) for h in hashes), name


def test_nothing_that_is_needed_goes_without_a_hash() -> None:
    """pip refuses the whole file if a package needs one that it doesn't name. What each needs is its own word."""
    hashed = entries(HASHED)
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    left, seen = [Requirement(one) for one in project["dependencies"]], set()
    assert left, "pyproject.toml names what the program needs"
    while left:
        one = left.pop()
        name = canonicalize_name(one.name)
        assert name in hashed, f"{name} is needed and has no hash; pin it, then {AGAIN}"
        assert one.specifier.contains(hashed[name][0], prereleases=True), str(one)
        if name in seen:
            continue
        seen.add(name)
        for needed in map(Requirement, requires(name) or []):
            on = [{"sys_platform": system, "extra": ""} for system in ("linux", "darwin", "win32")]
            if needed.marker is None or any(needed.marker.evaluate(dict(where)) for where in on):
                left.append(needed)


def test_pip_would_check_them_and_the_one_line_of_the_readme_stays_without() -> None:
    """pip takes no folder in the mode that checks hashes, so the one line can't have them; a stricter one has."""
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    assert "-r requirements.txt -e ." in readme
    assert "--require-hashes -r requirements-hashed.txt" in readme
    assert "--hash" not in PINNED.read_text(encoding="utf-8")
