"""The checks of the scripts in `static/`: their types (JSDoc, read by TypeScript's checker), ESLint, their layout (prettier).

    python3 tests/scripts.py             install the checkers if they aren't there, and run them
    python3 tests/scripts.py --format    lay the scripts out, and their tests

Standard library only: tests/run.py uses it before anything is installed. The checkers are npm packages with fixed
versions (`tests/static/package-lock.json`, by their hashes and without addresses) in an ignored folder,
`tests/static/node_modules`; the program needs none of them.

Every file is held to the strict types, but those that `tests/static/loose.json` still names: they have to pass the
loose ones. The list only grows shorter (tests/test_javascript.py).
"""

from __future__ import annotations

import hashlib
import json
import re
import shutil
import subprocess
import sys
from pathlib import Path

ROOT = Path(__file__).resolve().parent.parent
HOME = ROOT / "tests" / "static"
MODULES = HOME / "node_modules"
DONE = MODULES / ".installed"  # holds the hash of the lock file that was installed
LOOSE = HOME / "loose.json"

NO_NPM = "npm isn't installed, so the scripts of static/ were not checked; it comes with Node.js."
NO_PACKAGES = "The packages that check the scripts of static/ could not be installed: npm could not reach its registry."


def lock() -> str:
    return hashlib.sha256((HOME / "package-lock.json").read_bytes()).hexdigest()


def installed() -> bool:
    """Whether the checkers of the present lock file are there."""
    return DONE.exists() and DONE.read_text(encoding="utf-8") == lock()


def install() -> str | None:
    """Install what the lock file names, unless it is there already; why it could not be done, else None."""
    if installed():
        return None
    npm = shutil.which("npm")
    if npm is None:
        return NO_NPM
    words = [npm, "ci", "--ignore-scripts", "--silent", "--no-audit", "--no-fund", "--prefer-offline"]
    words += ["--fetch-retries=1", "--fetch-retry-mintimeout=1000", "--fetch-timeout=60000"]
    if subprocess.run(words, cwd=HOME, stdin=subprocess.DEVNULL, stdout=subprocess.DEVNULL).returncode != 0:
        return NO_PACKAGES
    DONE.write_text(lock(), encoding="utf-8")
    return None


def tool(name: str, *words: str) -> subprocess.CompletedProcess[str]:
    """Run an installed checker from the project's folder."""
    package = {"tsc": "typescript"}.get(name, name)
    about = json.loads((MODULES / package / "package.json").read_text(encoding="utf-8"))
    script = about["bin"] if isinstance(about["bin"], str) else about["bin"][name]
    command = [shutil.which("node") or "node", str(MODULES / package / script), *words]
    return subprocess.run(command, cwd=ROOT, capture_output=True, text=True)


def loose() -> list[str]:
    """The files whose types are not strict yet."""
    found: list[str] = json.loads(LOOSE.read_text(encoding="utf-8"))
    return found


def typed(*words: str) -> dict[str, list[str]]:
    """What the types' checker finds: file → findings, each with those lines that belong to it."""
    run = tool("tsc", "--project", "tests/static", "--pretty", "false", *words)
    found: dict[str, list[str]] = {}
    file = ""
    for line in (run.stdout + run.stderr).splitlines():
        at = re.match(r"(\S+?)\(\d+,\d+\): ", line)
        if at:
            file = at[1]
            found.setdefault(file, []).append(line)
        elif file and line.startswith(" "):
            found[file][-1] += "\n" + line
        elif line.strip():
            found.setdefault("", []).append(line)
    return found


def types() -> list[str]:
    """Findings of strict types in all files but the loose ones, and of loose types in those."""
    spared = set(loose())
    strict = [one for file, findings in typed().items() if file not in spared for one in findings]
    # A fault found twice is told once.
    return list(dict.fromkeys(strict + [one for findings in typed("--strict", "false").values() for one in findings]))


def lint() -> list[str]:
    """What ESLint finds, in the scripts and in their tests."""
    run = tool("eslint", "--config", "tests/static/eslint.config.js", "--max-warnings", "0", "static", "tests/static")
    return [] if run.returncode == 0 else [(run.stdout + run.stderr).strip()]


# The catalogues of words are laid out by the translators' command, one message a line.
LAID_OUT = ["static/**/*.js", "tests/static/*.js", "!static/words/*/**"]


def layout(how: str = "--check") -> list[str]:
    """The files that prettier would lay out in another way; with "--write" it does."""
    run = tool("prettier", "--config", "tests/static/.prettierrc.json", how, *LAID_OUT)
    return [] if run.returncode == 0 else [(run.stdout + run.stderr).strip(), "python3 tests/scripts.py --format"]


CHECKS = {"types of static/ (tsc)": types, "eslint": lint, "prettier": layout}


def check() -> bool:
    """Run all checks; what they find is printed."""
    good = True
    for name, find in CHECKS.items():
        print(f"· {name}", flush=True)
        findings = find()
        for one in findings:
            print(one, flush=True)
        good = good and not findings
    return good


def main() -> int:
    trouble = install()
    if trouble:
        print(trouble)
        return 1
    if sys.argv[1:] == ["--format"]:
        layout("--write")
    return 0 if check() else 1


if __name__ == "__main__":
    sys.exit(main())
