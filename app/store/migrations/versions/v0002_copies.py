"""Copies of packs: what a period works through stays as it was when the period was opened."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "v0002"
down_revision = "v0001"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "pack_copy",
        sa.Column("digest", sa.String(length=64), nullable=False),
        sa.Column("texts", sa.Text(), nullable=False),
        sa.PrimaryKeyConstraint("digest", name=op.f("pk_pack_copy")),
    )
    # Periods of before have none: they go by the folder as they did, until their door is next opened.
    op.add_column("period", sa.Column("pack_copy", sa.String(length=64), nullable=True))


def downgrade() -> None:
    op.drop_column("period", "pack_copy")
    op.drop_table("pack_copy")
