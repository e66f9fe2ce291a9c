"""How many places a class has, as its teacher says; periods of before have as many as a large class."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "v0003"
down_revision = "v0002"
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.add_column("period", sa.Column("places", sa.Integer(), nullable=False, server_default="40"))


def downgrade() -> None:
    op.drop_column("period", "places")
