"""A record in one SQLite file: on disk before `append` returns, and append-only by triggers."""

from __future__ import annotations

from pathlib import Path

from sqlalchemy import Column, Connection, Integer, MetaData, Table, Text, create_engine, event, insert, select, text
from sqlalchemy.exc import DatabaseError
from sqlalchemy.pool import NullPool

from endfloat.errors import OutsideError, StaleVersion
from endfloat.job.events import Event
from endfloat.job.wire import Entry, next_entry

ENTRIES = Table(
    "entries",
    MetaData(),
    Column("position", Integer, primary_key=True),
    Column("at", Text, nullable=False),
    Column("body", Text, nullable=False),
    Column("fingerprint", Text, nullable=False),
)
TRIGGERS = {
    f"entries_refuse_{verb}": f"CREATE TRIGGER entries_refuse_{verb} BEFORE {verb.upper()} ON entries "
    "BEGIN SELECT RAISE(ABORT, 'the record only grows'); END"
    for verb in ("update", "delete")
}


class SqliteStore:
    """One job's record in one file, shared safely between processes.

    `read_only` opens it without a right to write; `most_pages` bounds its size, as a full disk would.
    """

    def __init__(self, path: Path, *, read_only: bool = False, most_pages: int | None = None) -> None:
        self._path = path
        self._engine = create_engine(
            f"sqlite:///{path}", poolclass=NullPool, connect_args={"timeout": 2, "isolation_level": None}
        )

        @event.listens_for(self._engine, "connect")
        def durable(connection, _record) -> None:  # type: ignore[no-untyped-def]
            connection.execute("PRAGMA synchronous=FULL")
            if read_only:
                connection.execute("PRAGMA query_only=ON")
            if most_pages is not None:
                connection.execute(f"PRAGMA max_page_count={most_pages}")

        try:
            self._prepare()
        except DatabaseError as error:
            raise self._outside(error) from error

    def _prepare(self) -> None:
        with self._engine.connect() as connection:
            held = {
                row[0]
                for row in connection.execute(text("SELECT name FROM sqlite_master WHERE type IN ('table','trigger')"))
            }
            if "entries" not in held:
                connection.execute(text("PRAGMA journal_mode=WAL"))
                connection.execute(text("BEGIN IMMEDIATE"))
                ENTRIES.create(connection, checkfirst=True)
                for name, statement in TRIGGERS.items():
                    connection.execute(text(statement.replace(f"TRIGGER {name}", f"TRIGGER IF NOT EXISTS {name}")))
                connection.execute(text("COMMIT"))
            elif not held >= set(TRIGGERS):
                raise OutsideError(
                    f"{self._path} has lost the guard that keeps its record from being changed. Take your last copy."
                )

    def append(self, events: list[Event], *, expected: int, at: str) -> list[Entry]:
        """Append all or nothing, on disk when this returns.

        Raises StaleVersion when the record does not hold `expected` entries, OutsideError when the
        file is locked, read-only, full or damaged.
        """
        try:
            with self._engine.connect() as connection:
                # Leaving the block without a commit closes the connection, which rolls back; a full disk
                # has done so already.
                connection.execute(text("BEGIN IMMEDIATE"))
                fresh = _append(connection, events, expected, at)
                connection.execute(text("COMMIT"))
                return fresh
        except DatabaseError as error:
            raise self._outside(error) from error

    def entries(self) -> list[Entry]:
        """All entries in order."""
        try:
            with self._engine.connect() as connection:
                return [Entry(*row) for row in connection.execute(select(ENTRIES).order_by(ENTRIES.c.position))]
        except DatabaseError as error:
            raise self._outside(error) from error

    def _outside(self, error: DatabaseError) -> OutsideError:
        words = str(error.orig)
        causes = {
            "locked": "is in use by another program. Close that, then try again",
            "readonly": "may only be read. Allow writing to it, then try again",
            "read-only": "may only be read. Allow writing to it, then try again",
            "unable to open": "cannot be opened. Check that its folder exists and may be written",
            "full": "cannot grow: the disk is full. Make room, then try again",
            "malformed": "is damaged. Take your last copy",
            "not a database": "is not a job of this program, or is damaged. Take your last copy",
        }
        cause = next((sentence for sign, sentence in causes.items() if sign in words), f"failed ({words})")
        return OutsideError(f"{self._path} {cause}. Nothing that was saved is lost.")


def _append(connection: Connection, events: list[Event], expected: int, at: str) -> list[Entry]:
    row = connection.execute(select(ENTRIES).order_by(ENTRIES.c.position.desc()).limit(1)).first()
    last = Entry(*row) if row else None
    found = last.position if last else 0
    if found != expected:
        raise StaleVersion(expected=expected, found=found)
    fresh: list[Entry] = []
    for each in events:
        last = next_entry(last, at, each)
        fresh.append(last)
        values = {"position": last.position, "at": last.at, "body": last.body, "fingerprint": last.fingerprint}
        connection.execute(insert(ENTRIES).values(values))
    return fresh
