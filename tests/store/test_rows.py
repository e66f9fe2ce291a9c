"""The typed rows are the tables' own columns, with their types: what the database is told is what the pages are told."""

from __future__ import annotations

from typing import get_type_hints

import pytest
from sqlalchemy import Table

from app.store import rows, tables

TABLES = {"teacher": rows.Teacher, "invite": rows.Invite, "period": rows.Period, "seat": rows.Seat, "session": rows.Session,
          "standing": rows.Standing, "work": rows.Work, "reply": rows.Reply}  # fmt: skip
MORE = [(rows.PeriodOfTeacher, rows.Period, {"seats": int}), (rows.Seated, rows.Seat, {"session_hash": str}),
        (rows.DeskSession, rows.Session, {"teacher_id": str, "seat_id": type(None)}),
        (rows.Replied, rows.Reply, {"payload": rows.Kept, "verdict": rows.Kept})]  # fmt: skip


def of_table(table: Table) -> dict[str, object]:
    return {
        column.name: column.type.python_type | None if column.nullable else column.type.python_type
        for column in table.columns
    }


@pytest.mark.parametrize("name", TABLES)
def test_a_row_has_its_tables_columns(name: str) -> None:
    assert get_type_hints(TABLES[name]) == of_table(tables.metadata.tables[name])


@pytest.mark.parametrize(("shape", "base", "more"), MORE, ids=lambda one: getattr(one, "__name__", ""))
def test_a_row_with_more_differs_in_nothing_else(shape: type, base: type, more: dict[str, object]) -> None:
    assert get_type_hints(shape) == get_type_hints(base) | more


def test_part_of_a_row_is_that_part() -> None:
    work = get_type_hints(rows.Work)
    assert get_type_hints(rows.Drawn) == {name: work[name] for name in ("seat_id", "task", "figure", "at")}
