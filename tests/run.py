"""Set up what the tests need and run all of them: `python3 tests/run.py`.

Standard library only, since nothing is installed yet when it starts. It makes the virtual
environment `.venv` if there is none, installs the project with its test tools, installs browsers
from the system's packages when they are missing and it may (root on Debian), says what to install
when it may not, and then runs ruff, mypy, the checks of the scripts (scripts.py) and pytest. Words after
the command go to pytest.

    python3 tests/run.py                 everything
    python3 tests/run.py --full          the long random trials in full (an hour rather than minutes)
    python3 tests/run.py tests/figure    one folder
"""

from __future__ import annotations

import os
import shutil
import subprocess
import sys
import venv
from pathlib import Path

import scripts  # beside this file

ROOT = Path(__file__).resolve().parent.parent
VENV = ROOT / ".venv"
BIN = VENV / ("Scripts" if os.name == "nt" else "bin")
PYTHON = BIN / ("python.exe" if os.name == "nt" else "python")

# program looked for → Debian packages that bring it
SYSTEM = {
    ("chromium-headless-shell", "chromium"): ["chromium-headless-shell", "fonts-dejavu-core"],
    ("firefox-esr", "firefox"): ["firefox-esr"],
    ("WebKitWebDriver",): ["webkit2gtk-driver"],
    ("Xvfb",): ["xvfb"],  # WebKit's small browser wants a screen
    ("node",): ["nodejs"],
    ("npm",): ["npm"],  # some packages of Node.js bring it along
    ("initdb", *(str(path) for path in Path("/usr/lib/postgresql").glob("*/bin/initdb"))): ["postgresql"],
}


def say(text: str) -> None:
    print(f"· {text}", flush=True)


def run(*words: str | Path, **options: object) -> int:
    return subprocess.run([str(w) for w in words], cwd=ROOT, **options).returncode  # type: ignore[call-overload]


def make_environment() -> None:
    if not PYTHON.exists():
        say("making the virtual environment .venv")
        try:
            venv.create(VENV, with_pip=True)
        except (subprocess.CalledProcessError, OSError):
            shutil.rmtree(VENV, ignore_errors=True)
            if not may_install():
                sys.exit("Python's venv module is incomplete here. On Debian: apt-get install python3-venv")
            run("apt-get", "update", "-q")
            run("apt-get", "install", "-y", "-q", "--no-install-recommends", "python3-venv")
            venv.create(VENV, with_pip=True)
    say("installing the project and its test tools")
    words = [
        PYTHON,
        "-m",
        "pip",
        "install",
        "-q",
        "--disable-pip-version-check",
        "-r",
        "requirements.txt",
        "-r",
        "tests/requirements.txt",
        "-e",
        ".",
    ]
    if run(*words) != 0:
        sys.exit("The packages could not be installed; the lines above say why.")


def may_install() -> bool:
    return os.name == "posix" and hasattr(os, "geteuid") and os.geteuid() == 0 and bool(shutil.which("apt-get"))


def install_browsers() -> None:
    missing = {names: packages for names, packages in SYSTEM.items() if not any(shutil.which(n) for n in names)}
    if not missing:
        return
    packages = sorted({p for group in missing.values() for p in group})
    if not may_install():
        say("not found: " + ", ".join(names[0] for names in missing))
        say("the tests that need them will say so; on Debian: apt-get install " + " ".join(packages))
        return
    say("installing " + " ".join(packages))
    environment = {**os.environ, "DEBIAN_FRONTEND": "noninteractive"}
    if run("apt-get", "update", "-q", env=environment) != 0:
        say("the package lists could not be refreshed; trying with those at hand")
    if run("apt-get", "install", "-y", "-q", "--no-install-recommends", *packages, env=environment) != 0:
        sys.exit("The browsers could not be installed; the lines above say why.")


def check_scripts() -> bool:
    """The types and the linter of static/. Without their packages the rest is still worth a run, but not on a machine that decides."""
    trouble = scripts.install()
    if trouble:
        say(trouble)
        return not os.environ.get("CI")
    return scripts.check()


def workers() -> int:
    """Two for each core, since a test and its browser wait for each other; as many as there is memory for."""
    cores = os.cpu_count() or 1
    try:
        memory = os.sysconf("SC_PAGE_SIZE") * os.sysconf("SC_PHYS_PAGES")
    except (AttributeError, ValueError, OSError):
        memory = 4 << 30
    return max(2, min(2 * cores, memory // (1 << 30), 12))


def main(words: list[str]) -> int:
    environment = {**os.environ, "PYTHONHASHSEED": "0"}
    if "--full" in words:
        words = [w for w in words if w != "--full"]
        environment["EIGHT_ANGLES_FULL"] = "1"
    if os.environ.get("CI"):
        # A machine that checks submissions must not pass by skipping its browsers.
        environment["EIGHT_ANGLES_NO_SKIP"] = "1"
    make_environment()
    install_browsers()
    if not words:
        for tool in (["ruff", "check", "."], ["ruff", "format", "--check", "."], ["mypy"]):
            say(" ".join(tool))
            if run(PYTHON, "-m", *tool, env=environment) != 0:
                return 1
        if not check_scripts():
            return 1
        # A file keeps its worker, for its server; the files come in the order of tests/order.py, the longest first.
        words = ["-n", str(workers()), "--dist", "loadfile", "--no-loadscope-reorder"]
        # A browser on a busy machine may be late: only what failed by waiting is tried again, and the report says so.
        words += ["--reruns", "2", "--only-rerun", "Timeout", "--only-rerun", "timed out"]
        words += ["--only-rerun", "with timeout [0-9]+ms"]  # what expect() says when what it waits for hasn't come
    say("pytest " + " ".join(words))
    return run(PYTHON, "-m", "pytest", *words, env=environment)


if __name__ == "__main__":
    raise SystemExit(main(sys.argv[1:]))
