"""A record in one SQLite file: on disk before `append` returns, and append-only by triggers."""

from __future__ import annotations

import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from sqlalchemy import Connection, MetaData, create_engine, event, text
from sqlalchemy.exc import DatabaseError, OperationalError
from sqlalchemy.pool import NullPool

from endfloat.errors import OutsideError
from endfloat.job.events import Event
from endfloat.job.wire import Entry, continued
from endfloat.store.rows import append_rows, entries_table, read_rows

# Seconds to wait for another program that is writing.
PATIENCE = 2
ENTRIES = entries_table(MetaData())
TRIGGERS = {
    f"entries_refuse_{verb}": f"CREATE TRIGGER entries_refuse_{verb} BEFORE {verb.upper()} ON entries "
    "BEGIN SELECT RAISE(ABORT, 'the record only grows'); END"
    for verb in ("update", "delete")
}


class SqliteStore:
    """One job's record in one file, shared safely between processes; the file is made with the first entry.

    `read_only` opens it without a right to write; `most_pages` bounds its size, as a full disk would.
    """

    def __init__(self, path: Path, *, read_only: bool = False, most_pages: int | None = None) -> None:
        self._path = path
        self._engine = create_engine(
            f"sqlite:///{path}", poolclass=NullPool, connect_args={"timeout": PATIENCE, "isolation_level": None}
        )

        @event.listens_for(self._engine, "connect")
        def durable(connection, _record) -> None:  # type: ignore[no-untyped-def]
            connection.execute("PRAGMA synchronous=FULL")
            if read_only:
                connection.execute("PRAGMA query_only=ON")
            if most_pages is not None:
                connection.execute(f"PRAGMA max_page_count={most_pages}")

        self._whole = False
        self._is_whole()

    def _prepare(self) -> None:
        """Make the table and its guard, or find them whole."""
        with self._connection() as connection:
            held = {
                row[0]
                for row in connection.execute(text("SELECT name FROM sqlite_master WHERE type IN ('table','trigger')"))
            }
            if "entries" not in held:
                _log_ahead(connection)
                connection.execute(text("BEGIN IMMEDIATE"))
                ENTRIES.create(connection, checkfirst=True)
                for name, statement in TRIGGERS.items():
                    connection.execute(text(statement.replace(f"TRIGGER {name}", f"TRIGGER IF NOT EXISTS {name}")))
                connection.execute(text("COMMIT"))
            elif not held >= set(TRIGGERS):
                raise OutsideError(
                    f"{self._path} has lost the guard that keeps its record from being changed. Take your last copy."
                )
        self._whole = True

    def append(self, events: list[Event], *, expected: int, at: str) -> list[Entry]:
        """Append all or nothing, on disk when this returns.

        Raises StaleVersion when the record does not hold `expected` entries, OutsideError when the
        file is locked, read-only, full or damaged.
        """
        if not self._is_whole():
            continued(None, events, expected=expected, at=at)
            self._make_folder()
            self._prepare()
        with self._connection() as connection:
            # Leaving the block without a commit closes the connection, which rolls back; a full disk
            # has done so already.
            connection.execute(text("BEGIN IMMEDIATE"))
            fresh = append_rows(connection, ENTRIES, events, expected=expected, at=at)
            connection.execute(text("COMMIT"))
            return fresh

    def entries(self) -> list[Entry]:
        """All entries in order."""
        if not self._is_whole():
            return []
        with self._connection() as connection:
            return read_rows(connection, ENTRIES)

    def _is_whole(self) -> bool:
        """Is the file there, with all that belongs to it? Looked at until it is."""
        try:
            made = self._whole or self._path.exists()
        except OSError as error:
            raise OutsideError(f"Cannot open {self._path}: {error.strerror}.") from error
        if made and not self._whole:
            self._prepare()
        return made

    def _make_folder(self) -> None:
        try:
            self._path.parent.mkdir(parents=True, exist_ok=True)
        except OSError as error:
            raise OutsideError(f"Cannot make the folder {self._path.parent}: {error.strerror}.") from error

    @contextmanager
    def _connection(self) -> Iterator[Connection]:
        """A connection; what fails on it is told in a sentence."""
        try:
            with self._engine.connect() as connection:
                yield connection
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


def _log_ahead(connection: Connection) -> None:
    """Switch to the write-ahead log, which SQLite refuses at once where another bench is just doing the same."""
    until = time.monotonic() + PATIENCE
    while True:
        try:
            connection.execute(text("PRAGMA journal_mode=WAL"))
        except OperationalError as error:
            if "locked" not in str(error.orig) or time.monotonic() > until:
                raise
            time.sleep(0.01)
        else:
            return
