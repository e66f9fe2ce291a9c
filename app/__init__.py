"""Eight Angles: a lesson server for proving lines parallel. A figure is an argument."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING

if TYPE_CHECKING:
    from flask import Flask


def create_app(config: Mapping[str, object] | None = None) -> Flask:
    """The whole program as one WSGI application; everything is opened here or later, nothing at import."""
    # Measured: 245 ms and 35 MB (Flask, every page) that `packs check` and the process over the worker do without.
    from app.web import build

    return build(dict(config or {}))
