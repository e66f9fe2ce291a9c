"""Settings are read once, in one place, and reach the worker process as they were meant."""

from __future__ import annotations

import subprocess
import sys
from dataclasses import fields, replace
from pathlib import Path

import pytest

from app.settings import Settings, Unreadable, read_settings

ROOT = Path(__file__).resolve().parents[2]


def test_a_configuration_goes_before_the_environment_and_that_before_the_defaults() -> None:
    assert read_settings({}, {}) == Settings()
    around = {"EIGHT_ANGLES_STREAMS": "12", "EIGHT_ANGLES_LANGUAGE": "es", "EIGHT_ANGLES_PROXIES": ""}
    assert read_settings({}, around) == replace(Settings(), streams=12, language="es")
    assert read_settings({"STREAMS": 3, "LANGUAGE": None}, around) == replace(Settings(), streams=3, language="es")


@pytest.mark.parametrize(
    ("said", "on"),
    [(True, True), (False, False), ("1", True), ("yes", True), ("0", False), ("false", False), ("", False)],
)
def test_hosted_is_on_or_off(said: object, on: bool) -> None:
    assert read_settings({"HOSTED": said}, {}).hosted is on


def test_names_of_hosts_stand_between_commas() -> None:
    assert read_settings({}, {"EIGHT_ANGLES_HOSTS": " a.example , ,b.example"}).hosts == ("a.example", "b.example")


def test_the_worker_reads_what_the_command_was_given(tmp_path: Path) -> None:
    """Every setting, given another value than its default, comes through the environment as it was."""
    given = Settings(
        data_dir=tmp_path / "data", database_url="sqlite://", packs_dir=tmp_path, hosted=True, proxies=2,
        hosts=("a.example", "b.example"), streams=7, language="es", listens="192.0.2.1 81",
    )  # fmt: skip
    plain = Settings()
    assert all(getattr(given, field.name) != getattr(plain, field.name) for field in fields(Settings))
    assert read_settings({}, given.environment()) == given
    assert read_settings({}, plain.environment()) == plain


@pytest.mark.parametrize("name", ["STREAMS", "PROXIES"])
def test_what_is_no_number_is_said_in_one_sentence(name: str) -> None:
    with pytest.raises(Unreadable, match=f"EIGHT_ANGLES_{name} must be a whole number"):
        read_settings({}, {f"EIGHT_ANGLES_{name}": "many"})
    said = subprocess.run(
        [sys.executable, "-m", "app", "serve"], cwd=ROOT, capture_output=True, text=True, timeout=60,
        env={"EIGHT_ANGLES_" + name: "many", "PATH": ""},
    )  # fmt: skip
    assert said.returncode == 2 and said.stdout == ""
    assert said.stderr.strip() == f"eight-angles serve: EIGHT_ANGLES_{name} must be a whole number; it is “many”."


def test_nothing_else_asks_the_environment() -> None:
    """But for Flask's own switch, which `serve` refuses to others and hands to its worker, the command that sets the settings
    for that worker, and the machine's own name on Windows.
    """
    for path in (ROOT / "app").rglob("*.py"):
        text = path.read_text(encoding="utf-8")
        allowed = {"settings.py": 1, "serve.py": 3, "worker.py": 1, "hosts.py": 1}.get(path.name, 0)
        assert text.count("os.environ") + text.count("getenv") <= allowed, path
