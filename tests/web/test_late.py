"""Pages that are loaded late have the addresses of their own module, and the start doesn't load what they lean on."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

from flask import Flask

from app.web import late
from app.web.sheets import sheets
from tests.web.conftest import Room

HEAVY = {"pydantic", "sympy", "shapely", "mpmath", "app.sheets", "app.lessons.load", "alembic", "zxcvbn"}


def rules(app: Flask) -> set[tuple[str, str, tuple[str, ...]]]:
    return {
        (rule.rule, rule.endpoint, tuple(sorted(rule.methods or ())))
        for rule in app.url_map.iter_rules()
        if rule.endpoint != "static"
    }


def test_the_late_addresses_are_the_modules_own() -> None:
    own, announced = Flask("own"), Flask("announced")
    own.register_blueprint(sheets)
    announced.register_blueprint(late.sheets())
    assert rules(own) == rules(announced)


def test_late_pages_answer(room: Room) -> None:
    page = room.teacher.page("/desk/sheets/")
    assert page.status_code == 200
    assert b"<form" in page.data
    assert room.teacher.page("/desk/sheets/page?n-make-parallel=nine").status_code == 422
    assert room.browser().page("/desk/sheets/").status_code in (302, 303, 401)


def test_the_start_loads_only_what_the_first_page_needs(tmp_path: Path) -> None:
    told = "import sys; from app import create_app; create_app({'DATA_DIR': sys.argv[1]}); print(*sys.modules)"
    loaded = subprocess.run(
        [sys.executable, "-c", told, str(tmp_path)],
        capture_output=True,
        text=True,
        check=True,
        cwd=Path(__file__).parents[2],
    ).stdout.split()
    assert "app.web.door" in loaded
    assert not HEAVY & set(loaded)
