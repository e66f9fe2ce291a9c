"""What can be set, in one place: read once, from a configuration, the environment, or the defaults.

Each setting is an environment variable `EIGHT_ANGLES_<NAME>`; options of the command come before it. The command
hands its settings to the worker process by that environment.
"""

from __future__ import annotations

import os
from collections.abc import Callable, Mapping
from dataclasses import dataclass, fields
from pathlib import Path
from typing import Any

__all__ = ["ROOT", "Settings", "Unreadable", "read_settings"]

ROOT = Path(__file__).resolve().parents[1]
PREFIX = "EIGHT_ANGLES_"


class Unreadable(ValueError):
    """A setting that isn't what it must be, in one sentence."""


@dataclass(frozen=True)
class Settings:
    """README.md describes each; `listens` alone is the program's own, from the command to its worker."""

    data_dir: Path = ROOT / "data"  # of the database and the server's secret
    database_url: str = ""  # empty for SQLite in the data folder
    packs_dir: Path = ROOT / "lesson_packs"
    hosted: bool = False  # behind TLS: Secure cookies, HSTS
    proxies: int = 0  # how many proxies in front add X-Forwarded-For
    hosts: tuple[str, ...] = ()  # names that this server answers by, beside its addresses and its own
    streams: int = 440  # most live streams at once; the rest polls
    language: str = ""  # for whoever has chosen none, and whose class has none; empty for the browser's own
    listens: str = "127.0.0.1 8000"  # host and port

    def environment(self) -> dict[str, str]:
        """The variables from which `read_settings` makes these settings again, in another process."""
        said = {field.name: getattr(self, field.name) for field in fields(self)}
        said["hosts"], said["hosted"] = ",".join(self.hosts), "1" if self.hosted else "0"
        return {f"{PREFIX}{name.upper()}": str(value) for name, value in said.items()}


def read_settings(config: Mapping[str, object] | None = None, environment: Mapping[str, str] | None = None) -> Settings:
    """The settings as they are now: from the configuration, else the environment, else the defaults.

    Raises Unreadable.
    """
    around = os.environ if environment is None else environment
    read: dict[str, Any] = {}
    for field in fields(Settings):
        name = field.name.upper()
        value = (config or {}).get(name)
        if value is None:
            value = around.get(PREFIX + name) or None  # an empty variable is none
        if value is not None:
            reader = _READ.get(field.name)
            read[field.name] = reader(name, value) if reader else str(value)
    return Settings(**read)


def _number(name: str, value: object) -> int:
    try:
        return int(str(value))
    except ValueError:
        raise Unreadable(f"{PREFIX}{name} must be a whole number; it is “{str(value)[:40]}”.") from None


def _names(_name: str, value: object) -> tuple[str, ...]:
    return tuple(name.strip() for name in str(value).split(",") if name.strip())


def _yes(_name: str, value: object) -> bool:
    return value is True or (value is not False and str(value) not in ("", "0", "false"))


def _folder(_name: str, value: object) -> Path:
    return Path(str(value))


_READ: dict[str, Callable[[str, object], object]] = {
    "data_dir": _folder,
    "packs_dir": _folder,
    "hosted": _yes,
    "proxies": _number,
    "hosts": _names,
    "streams": _number,
}
