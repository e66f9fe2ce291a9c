"""The first tables: teachers, periods, seats, sessions, work, replies, standing."""

from __future__ import annotations

import sqlalchemy as sa
from alembic import op

revision = "v0001"
down_revision = None
branch_labels = None
depends_on = None


def upgrade() -> None:
    op.create_table(
        "invite",
        sa.Column("token_hash", sa.String(length=64), nullable=False),
        sa.Column("name", sa.String(length=40), nullable=False),
        sa.Column("made", sa.BigInteger(), nullable=False),
        sa.Column("ends", sa.BigInteger(), nullable=False),
        sa.PrimaryKeyConstraint("token_hash", name=op.f("pk_invite")),
    )
    op.create_table(
        "teacher",
        sa.Column("id", sa.String(length=32), nullable=False),
        sa.Column("name", sa.String(length=40), nullable=False),
        sa.Column("passphrase", sa.String(length=200), nullable=False),
        sa.Column("made", sa.BigInteger(), nullable=False),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_teacher")),
        sa.UniqueConstraint("name", name=op.f("uq_teacher_name")),
    )
    op.create_table(
        "arrangement",
        sa.Column("teacher_id", sa.String(length=32), nullable=False),
        sa.Column("pack", sa.String(length=80), nullable=False),
        sa.Column("parts", sa.Text(), nullable=False),
        sa.ForeignKeyConstraint(
            ["teacher_id"], ["teacher.id"], name=op.f("fk_arrangement_teacher_id"), ondelete="CASCADE"
        ),
        sa.PrimaryKeyConstraint("teacher_id", "pack", name=op.f("pk_arrangement")),
    )
    op.create_table(
        "period",
        sa.Column("id", sa.String(length=32), nullable=False),
        sa.Column("teacher_id", sa.String(length=32), nullable=False),
        sa.Column("title", sa.String(length=80), nullable=False),
        sa.Column("pack", sa.String(length=80), nullable=False),
        sa.Column("house", sa.String(length=20), server_default="us", nullable=False),
        sa.Column("profile", sa.String(length=20), server_default="postulate", nullable=False),
        sa.Column("made", sa.BigInteger(), nullable=False),
        sa.Column("ended", sa.BigInteger(), nullable=True),
        sa.Column("code", sa.String(length=6), nullable=True),
        sa.Column("code_ends", sa.BigInteger(), nullable=True),
        sa.Column("arrangement", sa.Text(), server_default="{}", nullable=False),
        sa.Column("follow", sa.Boolean(), server_default="0", nullable=False),
        sa.Column("frozen", sa.Boolean(), server_default="0", nullable=False),
        sa.Column("step", sa.String(length=60), nullable=True),
        sa.Column("tally", sa.String(length=60), nullable=True),
        sa.Column("stage", sa.Text(), nullable=True),
        sa.Column("stage_to", sa.String(length=20), server_default="", nullable=False),
        sa.Column("board_nonce", sa.String(length=32), nullable=False),
        sa.ForeignKeyConstraint(["teacher_id"], ["teacher.id"], name=op.f("fk_period_teacher_id"), ondelete="CASCADE"),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_period")),
        sa.UniqueConstraint("code", name=op.f("uq_period_code")),
    )
    op.create_index(op.f("ix_period_teacher_id"), "period", ["teacher_id"], unique=False)
    op.create_table(
        "own_task",
        sa.Column("period_id", sa.String(length=32), nullable=False),
        sa.Column("id", sa.String(length=60), nullable=False),
        sa.Column("task", sa.Text(), nullable=False),
        sa.Column("made", sa.BigInteger(), nullable=False),
        sa.ForeignKeyConstraint(["period_id"], ["period.id"], name=op.f("fk_own_task_period_id"), ondelete="CASCADE"),
        sa.PrimaryKeyConstraint("period_id", "id", name=op.f("pk_own_task")),
    )
    op.create_table(
        "seat",
        sa.Column("id", sa.String(length=32), nullable=False),
        sa.Column("period_id", sa.String(length=32), nullable=True),
        sa.Column("pack", sa.String(length=80), nullable=True),
        sa.Column("kind", sa.String(length=8), nullable=False),
        sa.Column("name", sa.String(length=40), nullable=False),
        sa.Column("folded", sa.String(length=60), nullable=False),
        sa.Column("alias", sa.String(length=40), nullable=False),
        sa.Column("approved", sa.Boolean(), nullable=False),
        sa.Column("hidden", sa.Boolean(), server_default="0", nullable=False),
        sa.Column("released", sa.Boolean(), server_default="0", nullable=False),
        sa.Column("removed", sa.Boolean(), server_default="0", nullable=False),
        sa.Column("here", sa.String(length=60), nullable=True),
        sa.Column("return_nonce", sa.String(length=32), nullable=False),
        sa.Column("made", sa.BigInteger(), nullable=False),
        sa.Column("seen", sa.BigInteger(), nullable=False),
        sa.ForeignKeyConstraint(["period_id"], ["period.id"], name=op.f("fk_seat_period_id"), ondelete="CASCADE"),
        sa.PrimaryKeyConstraint("id", name=op.f("pk_seat")),
        sa.UniqueConstraint("period_id", "folded", name="uq_seat_period_folded"),
    )
    op.create_index(op.f("ix_seat_period_id"), "seat", ["period_id"], unique=False)
    op.create_table(
        "real_name",
        sa.Column("seat_id", sa.String(length=32), nullable=False),
        sa.Column("name", sa.String(length=80), nullable=False),
        sa.ForeignKeyConstraint(["seat_id"], ["seat.id"], name=op.f("fk_real_name_seat_id"), ondelete="CASCADE"),
        sa.PrimaryKeyConstraint("seat_id", name=op.f("pk_real_name")),
    )
    op.create_table(
        "reply",
        sa.Column("seat_id", sa.String(length=32), nullable=False),
        sa.Column("id", sa.String(length=64), nullable=False),
        sa.Column("task", sa.String(length=60), nullable=False),
        sa.Column("attempt", sa.Integer(), nullable=False),
        sa.Column("seed", sa.BigInteger(), nullable=False),
        sa.Column("payload", sa.Text(), nullable=False),
        sa.Column("verdict", sa.Text(), nullable=False),
        sa.Column("at", sa.BigInteger(), nullable=False),
        sa.ForeignKeyConstraint(["seat_id"], ["seat.id"], name=op.f("fk_reply_seat_id"), ondelete="CASCADE"),
        sa.PrimaryKeyConstraint("seat_id", "id", name=op.f("pk_reply")),
    )
    op.create_index("ix_reply_at", "reply", ["at"], unique=False)
    op.create_index("ix_reply_seat_task", "reply", ["seat_id", "task"], unique=False)
    op.create_table(
        "session",
        sa.Column("token_hash", sa.String(length=64), nullable=False),
        sa.Column("kind", sa.String(length=8), nullable=False),
        sa.Column("teacher_id", sa.String(length=32), nullable=True),
        sa.Column("seat_id", sa.String(length=32), nullable=True),
        sa.Column("made", sa.BigInteger(), nullable=False),
        sa.Column("seen", sa.BigInteger(), nullable=False),
        sa.Column("ends", sa.BigInteger(), nullable=False),
        sa.ForeignKeyConstraint(["seat_id"], ["seat.id"], name=op.f("fk_session_seat_id"), ondelete="CASCADE"),
        sa.ForeignKeyConstraint(["teacher_id"], ["teacher.id"], name=op.f("fk_session_teacher_id"), ondelete="CASCADE"),
        sa.PrimaryKeyConstraint("token_hash", name=op.f("pk_session")),
    )
    op.create_index(op.f("ix_session_ends"), "session", ["ends"], unique=False)
    op.create_index(op.f("ix_session_seat_id"), "session", ["seat_id"], unique=False)
    op.create_index(op.f("ix_session_teacher_id"), "session", ["teacher_id"], unique=False)
    op.create_table(
        "standing",
        sa.Column("seat_id", sa.String(length=32), nullable=False),
        sa.Column("task", sa.String(length=60), nullable=False),
        sa.Column("replies", sa.Integer(), nullable=False),
        sa.Column("refused", sa.Integer(), nullable=False),
        sa.Column("done", sa.Boolean(), nullable=False),
        sa.Column("ok", sa.Boolean(), nullable=False),
        sa.Column("code", sa.String(length=60), nullable=False),
        sa.Column("text", sa.Text(), nullable=False),
        sa.Column("score", sa.Float(), nullable=False),
        sa.Column("status", sa.String(length=20), server_default="submitted", nullable=False),
        sa.Column("reopened", sa.Boolean(), server_default="0", nullable=False),
        sa.Column("late", sa.Boolean(), server_default="0", nullable=False),
        sa.Column("missing", sa.Boolean(), server_default="0", nullable=False),
        sa.Column("incomplete", sa.Boolean(), server_default="0", nullable=False),
        sa.Column("at", sa.BigInteger(), nullable=False),
        sa.ForeignKeyConstraint(["seat_id"], ["seat.id"], name=op.f("fk_standing_seat_id"), ondelete="CASCADE"),
        sa.PrimaryKeyConstraint("seat_id", "task", name=op.f("pk_standing")),
    )
    op.create_table(
        "work",
        sa.Column("seat_id", sa.String(length=32), nullable=False),
        sa.Column("task", sa.String(length=60), nullable=False),
        sa.Column("n", sa.BigInteger(), nullable=False),
        sa.Column("work", sa.Text(), nullable=False),
        sa.Column("figure", sa.Text(), nullable=True),
        sa.Column("at", sa.BigInteger(), nullable=False),
        sa.ForeignKeyConstraint(["seat_id"], ["seat.id"], name=op.f("fk_work_seat_id"), ondelete="CASCADE"),
        sa.PrimaryKeyConstraint("seat_id", "task", name=op.f("pk_work")),
    )


def downgrade() -> None:
    op.drop_table("work")
    op.drop_table("standing")
    op.drop_index(op.f("ix_session_teacher_id"), table_name="session")
    op.drop_index(op.f("ix_session_seat_id"), table_name="session")
    op.drop_index(op.f("ix_session_ends"), table_name="session")
    op.drop_table("session")
    op.drop_index("ix_reply_seat_task", table_name="reply")
    op.drop_index("ix_reply_at", table_name="reply")
    op.drop_table("reply")
    op.drop_table("real_name")
    op.drop_index(op.f("ix_seat_period_id"), table_name="seat")
    op.drop_table("seat")
    op.drop_table("own_task")
    op.drop_index(op.f("ix_period_teacher_id"), table_name="period")
    op.drop_table("period")
    op.drop_table("arrangement")
    op.drop_table("teacher")
    op.drop_table("invite")
