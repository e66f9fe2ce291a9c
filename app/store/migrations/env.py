"""How a migration is run: on the connection that the program hands over."""

from __future__ import annotations

from alembic import context

from app.store.tables import metadata

context.configure(connection=context.config.attributes["connection"], target_metadata=metadata, render_as_batch=True)
with context.begin_transaction():
    context.run_migrations()
