"""Bring the tables up to date when the program starts: the migrations are part of it, from the first
day.
"""

from __future__ import annotations

from pathlib import Path

from sqlalchemy import Engine, inspect, text

from app.store.look import HEAD

FOLDER = Path(__file__).with_name("migrations")


def version(engine: Engine) -> str | None:
    """The migration that the database stands at; None for an empty one."""
    if not inspect(engine).has_table("alembic_version"):
        return None
    with engine.connect() as connection:
        found = connection.execute(text("SELECT version_num FROM alembic_version")).scalar()
    return None if found is None else str(found)


def upgrade(engine: Engine) -> None:
    """Run what is missing, in order. Nothing to do costs one query: the tool itself isn't even loaded."""
    if version(engine) == HEAD:
        return
    # Measured: 110 ms and 11 MB, for the first start of a version.
    from alembic import command
    from alembic.config import Config

    config = Config()
    config.set_main_option("script_location", str(FOLDER).replace("%", "%%"))
    with engine.connect() as connection, connection.begin():
        config.attributes["connection"] = connection
        command.upgrade(config, "head")
