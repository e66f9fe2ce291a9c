"""The tables. Times are whole milliseconds since 1970 (UTC); JSON is kept as text; ids are ours and random.

A real name, where a teacher wants one, lives in its own table and never beside the work (PD-2). Only
hashes of session tokens are kept: the tokens of return and Board links are derived from the server's
secret and a nonce, so the file alone opens nothing.
"""

from __future__ import annotations

from sqlalchemy import (
    BigInteger,
    Boolean,
    Column,
    Float,
    ForeignKey,
    Index,
    Integer,
    MetaData,
    String,
    Table,
    Text,
    UniqueConstraint,
)

metadata = MetaData(
    naming_convention={
        "ix": "ix_%(table_name)s_%(column_0_name)s",
        "uq": "uq_%(table_name)s_%(column_0_name)s",
        "fk": "fk_%(table_name)s_%(column_0_name)s",
        "pk": "pk_%(table_name)s",
    }
)


def _id(name: str = "id") -> Column[str]:
    return Column(name, String(32), primary_key=True)


def _of(table: str, *, nullable: bool = True) -> Column[str]:
    return Column(
        f"{table}_id",
        String(32),
        ForeignKey(f"{table}.id", ondelete="CASCADE"),
        nullable=nullable,
        index=True,
    )


teacher = Table(
    "teacher",
    metadata,
    _id(),
    Column("name", String(40), nullable=False, unique=True),
    Column("passphrase", String(200), nullable=False),  # argon2id
    Column("made", BigInteger, nullable=False),
)

# A set-up link, good once: it makes a teacher or gives an existing one a new passphrase.
invite = Table(
    "invite",
    metadata,
    Column("token_hash", String(64), primary_key=True),
    Column("name", String(40), nullable=False),
    Column("made", BigInteger, nullable=False),
    Column("ends", BigInteger, nullable=False),
)

period = Table(
    "period",
    metadata,
    _id(),
    _of("teacher", nullable=False),
    Column("title", String(80), nullable=False),
    Column("pack", String(80), nullable=False),
    Column("house", String(20), nullable=False, server_default="us"),
    Column("profile", String(20), nullable=False, server_default="postulate"),
    Column("made", BigInteger, nullable=False),
    Column("ended", BigInteger),
    Column("code", String(6), unique=True),  # null while the door is closed
    Column("code_ends", BigInteger),
    Column("arrangement", Text, nullable=False, server_default="{}"),
    Column("follow", Boolean, nullable=False, server_default="0"),
    Column("frozen", Boolean, nullable=False, server_default="0"),
    Column("step", String(60)),
    Column("tally", String(60)),
    Column("stage", Text),
    Column("stage_to", String(20), nullable=False, server_default=""),
    Column("board_nonce", String(32), nullable=False),
    Column("places", Integer, nullable=False, server_default="40"),  # the most seats that the class may take
    Column("pack_copy", String(64)),  # the copy that it works through; null: the pack as it is in the folder
)

# The texts of packs as periods were opened on them, each kept once: {file name: text} as JSON.
pack_copy = Table(
    "pack_copy",
    metadata,
    Column("digest", String(64), primary_key=True),
    Column("texts", Text, nullable=False),
)

seat = Table(
    "seat",
    metadata,
    _id(),
    _of("period"),  # null: somebody who works alone
    Column("pack", String(80)),
    Column("kind", String(8), nullable=False),  # number, word, typed, alone
    Column("name", String(40), nullable=False),
    Column("folded", String(60), nullable=False),  # the name as compared with others
    Column("alias", String(40), nullable=False),  # shown instead until a typed name is approved
    Column("approved", Boolean, nullable=False),
    Column("hidden", Boolean, nullable=False, server_default="0"),
    Column("released", Boolean, nullable=False, server_default="0"),
    Column("removed", Boolean, nullable=False, server_default="0"),
    Column("here", String(60)),
    Column("return_nonce", String(32), nullable=False),
    Column("made", BigInteger, nullable=False),
    Column("seen", BigInteger, nullable=False),
    UniqueConstraint("period_id", "folded", name="uq_seat_period_folded"),
)

real_name = Table(
    "real_name",
    metadata,
    Column("seat_id", String(32), ForeignKey("seat.id", ondelete="CASCADE"), primary_key=True),
    Column("name", String(80), nullable=False),
)

session = Table(
    "session",
    metadata,
    Column("token_hash", String(64), primary_key=True),
    Column("kind", String(8), nullable=False),  # desk, seat
    _of("teacher"),
    _of("seat"),
    Column("made", BigInteger, nullable=False),
    Column("seen", BigInteger, nullable=False),
    Column("ends", BigInteger, nullable=False, index=True),
)

# The figure and half-done work of a seat on a task; the newest `n` wins.
work = Table(
    "work",
    metadata,
    Column("seat_id", String(32), ForeignKey("seat.id", ondelete="CASCADE"), primary_key=True),
    Column("task", String(60), primary_key=True),
    Column("n", BigInteger, nullable=False),
    Column("work", Text, nullable=False),
    Column("figure", Text),
    Column("at", BigInteger, nullable=False),
)

reply = Table(
    "reply",
    metadata,
    Column("seat_id", String(32), ForeignKey("seat.id", ondelete="CASCADE"), primary_key=True),
    Column("id", String(64), primary_key=True),  # made by the Seat: sent again, it is still one reply
    Column("task", String(60), nullable=False),
    Column("attempt", Integer, nullable=False),
    Column("seed", BigInteger, nullable=False),
    Column("payload", Text, nullable=False),
    Column("verdict", Text, nullable=False),
    Column("at", BigInteger, nullable=False),
    Index("ix_reply_seat_task", "seat_id", "task"),
    Index("ix_reply_at", "at"),
)

# How a seat stands on a task: kept in step with `reply`, in the same transaction. The columns of a result
# as the open gradebook formats want it (status, late, missing, incomplete) are here from the first day.
standing = Table(
    "standing",
    metadata,
    Column("seat_id", String(32), ForeignKey("seat.id", ondelete="CASCADE"), primary_key=True),
    Column("task", String(60), primary_key=True),
    Column("replies", Integer, nullable=False),
    Column("refused", Integer, nullable=False),  # replies since the last right one
    Column("done", Boolean, nullable=False),
    Column("ok", Boolean, nullable=False),
    Column("code", String(60), nullable=False),
    Column("text", Text, nullable=False),
    Column("score", Float, nullable=False),
    Column("status", String(20), nullable=False, server_default="submitted"),
    Column("reopened", Boolean, nullable=False, server_default="0"),
    Column("late", Boolean, nullable=False, server_default="0"),
    Column("missing", Boolean, nullable=False, server_default="0"),
    Column("incomplete", Boolean, nullable=False, server_default="0"),
    Column("at", BigInteger, nullable=False),
)

# A teacher's own example, added to one period.
own_task = Table(
    "own_task",
    metadata,
    Column("period_id", String(32), ForeignKey("period.id", ondelete="CASCADE"), primary_key=True),
    Column("id", String(60), primary_key=True),
    Column("task", Text, nullable=False),
    Column("made", BigInteger, nullable=False),
)

# How a teacher has arranged a pack: order of the parts, and which are hidden.
arrangement = Table(
    "arrangement",
    metadata,
    Column("teacher_id", String(32), ForeignKey("teacher.id", ondelete="CASCADE"), primary_key=True),
    Column("pack", String(80), primary_key=True),
    Column("parts", Text, nullable=False),
)
