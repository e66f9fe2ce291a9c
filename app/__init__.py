"""Eight Angles: a lesson server for proving lines parallel. A figure is an argument."""

from __future__ import annotations

from collections.abc import Mapping
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from flask import Flask


def create_app(config: Mapping[str, Any] | None = None) -> Flask:
    """The whole program as one WSGI application; everything is opened here or later, nothing at import."""
    from app.web import build

    return build(dict(config or {}))
