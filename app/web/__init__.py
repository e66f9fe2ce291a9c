"""Pages, JSON, streams, sign-in: the only layer that knows Flask."""

from __future__ import annotations

from pathlib import Path
from typing import Any

from flask import Flask, render_template

ROOT = Path(__file__).resolve().parents[2]


def build(config: dict[str, Any]) -> Flask:
    """Make the application from its settings."""
    app = Flask("app", static_folder=str(ROOT / "static"), template_folder=str(ROOT / "templates"))
    app.config.from_mapping(config)

    @app.get("/")
    def front() -> str:
        from app.words import say

        return render_template("door/front.html", token="", say=say, lang="en")

    return app
