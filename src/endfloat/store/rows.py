"""A job's entries as rows of a table: the one rule of every database that keeps them."""

from __future__ import annotations

from dataclasses import asdict
from typing import Any

from sqlalchemy import Column, ColumnElement, Connection, Integer, MetaData, Select, Table, Text, insert, select

from endfloat.job.events import Event
from endfloat.job.wire import Entry, continued


def entries_table(metadata: MetaData, *of: Column[Any]) -> Table:
    """The table of entries; `of` are columns that tell whose entry it is, where one table holds several jobs."""
    return Table(
        "entries",
        metadata,
        *of,
        Column("position", Integer, primary_key=True),
        Column("at", Text, nullable=False),
        Column("body", Text, nullable=False),
        Column("fingerprint", Text, nullable=False),
    )


def read_rows(connection: Connection, entries: Table, **of: str) -> list[Entry]:
    """All entries of a job in order."""
    return [Entry(*row) for row in connection.execute(_rows(entries, of).order_by(entries.c.position))]


def append_rows(
    connection: Connection, entries: Table, events: list[Event], *, expected: int, at: str, **of: str
) -> list[Entry]:
    """Append events to the entries of a job, in a transaction that keeps its other writers out.

    Raises StaleVersion when the job does not hold `expected` entries.
    """
    row = connection.execute(_rows(entries, of).order_by(entries.c.position.desc()).limit(1)).first()
    fresh = continued(Entry(*row) if row else None, events, expected=expected, at=at)
    if fresh:
        connection.execute(insert(entries), [{**of, **asdict(entry)} for entry in fresh])
    return fresh


def _rows(entries: Table, of: dict[str, str]) -> Select[Any]:
    mine: list[ColumnElement[bool]] = [entries.c[name] == value for name, value in of.items()]
    return select(*(entries.c[name] for name in Entry.__slots__)).where(*mine)
