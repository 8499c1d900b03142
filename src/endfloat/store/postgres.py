"""The jobs of several benches in one PostgreSQL database: a chain for each job, and its files."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from sqlalchemy import Column, Connection, ForeignKey, LargeBinary, MetaData, Table, Text, exists, select, text
from sqlalchemy.dialects.postgresql import insert

from endfloat.job.events import Event
from endfloat.job.wire import Entry
from endfloat.store.postgres_server import PostgresServer
from endfloat.store.rows import append_rows, entries_table, read_rows

SCHEMA = "endfloat"
METADATA = MetaData(schema=SCHEMA)
JOBS = Table("jobs", METADATA, Column("job", Text, primary_key=True))


def of_job() -> Column[str]:
    """The column that tells whose row it is."""
    return Column("job", Text, ForeignKey(JOBS.c.job), primary_key=True)


ENTRIES = entries_table(METADATA, of_job())
FILES = Table(
    "files",
    METADATA,
    of_job(),
    Column("name", Text, primary_key=True),
    Column("content", LargeBinary, nullable=False),
)
REFUSAL = "BEGIN RAISE EXCEPTION 'the record only grows' USING ERRCODE = 'integrity_constraint_violation'; END"
FUNCTION = f"CREATE FUNCTION {SCHEMA}.refuse() RETURNS trigger LANGUAGE plpgsql AS $${REFUSAL}$$"
# Written as the server writes them back, so that a guard is found whole by comparing.
TRIGGERS = {
    f"entries_refuse_{verb}": f"CREATE TRIGGER entries_refuse_{verb} BEFORE {verb.upper()} ON {SCHEMA}.entries "
    f"FOR EACH STATEMENT EXECUTE FUNCTION {SCHEMA}.refuse()"
    for verb in ("update", "delete", "truncate")
}
# A trigger that is enabled "always" (A) holds for a session that replays a copy, too.
GUARD = text(
    "SELECT pg_get_triggerdef(t.oid), p.prosrc FROM pg_trigger t"
    " JOIN pg_class c ON c.oid = t.tgrelid JOIN pg_namespace n ON n.oid = c.relnamespace"
    " JOIN pg_proc p ON p.oid = t.tgfoid"
    f" WHERE n.nspname = '{SCHEMA}' AND c.relname = 'entries' AND t.tgenabled = 'A'"
)
TABLES = text(f"SELECT tablename FROM pg_tables WHERE schemaname = '{SCHEMA}'")
# Any number that the database uses for nothing else: it makes benches that start at once take turns.
TURN = text("SELECT pg_advisory_xact_lock(1701209716)")


@contextmanager
def open_jobs(address: str) -> Iterator[PostgresJobs]:
    """The jobs of a database, for as long as they are needed."""
    jobs = PostgresJobs(PostgresServer(address))
    try:
        yield jobs
    finally:
        jobs.close()


class PostgresJobs:
    """The jobs of a database by key; `close` gives the connections back."""

    def __init__(self, server: PostgresServer) -> None:
        self._server = server
        try:
            server.check()
            with server.transaction() as connection:
                whole = _is_whole(server, connection)
            if not whole:
                with server.transaction() as connection:
                    _make(server, connection)
        except BaseException:
            server.close()
            raise

    def names(self) -> list[str]:
        """The jobs that are there, by name."""
        begun = select(JOBS.c.job).where(exists().where(ENTRIES.c.job == JOBS.c.job, ENTRIES.c.position == 1))
        with self._server.transaction() as connection:
            return sorted(connection.execute(begun).scalars())

    def store(self, key: str) -> PostgresStore:
        """The record of a job; nothing is made before its first entry."""
        return PostgresStore(self._server, key)

    def photos(self, key: str) -> PostgresPhotos:
        """The photographs of a job, among its files."""
        return PostgresPhotos(self, key)

    def keep(self, key: str, name: str, text: str) -> None:
        """Keep a file of a job beside its record, for a person to go on with."""
        self.keep_bytes(key, name, text.encode())

    def keep_bytes(self, key: str, name: str, content: bytes) -> None:
        """Keep a file of a job as it is."""
        kept = insert(FILES).values(job=key, name=name, content=content)
        kept = kept.on_conflict_do_update(index_elements=[FILES.c.job, FILES.c.name], set_={"content": content})
        with self._server.transaction() as connection:
            if connection.execute(select(JOBS).where(JOBS.c.job == key)).first() is None:
                raise self._server.outside(f"holds no job {key} yet; {name} was not kept.")
            connection.execute(kept)

    def read(self, key: str, name: str) -> bytes | None:
        """A file of a job; None when there is none."""
        wanted = select(FILES.c.content).where(FILES.c.job == key, FILES.c.name == name)
        with self._server.transaction() as connection:
            return connection.execute(wanted).scalar()

    def where(self, key: str) -> str:
        """The job and its database in words."""
        return f"{key} in {self._server.shown}"

    def close(self) -> None:
        """Give the connections back."""
        self._server.close()


class PostgresPhotos:
    """The photographs of one job, kept among its files."""

    def __init__(self, jobs: PostgresJobs, job: str) -> None:
        self._jobs = jobs
        self._job = job

    def keep(self, name: str, content: bytes) -> None:
        """Keep one under its name."""
        self._jobs.keep_bytes(self._job, f"photos/{name}", content)

    def read(self, name: str) -> bytes | None:
        """The one of that name; None when there is none."""
        return self._jobs.read(self._job, f"photos/{name}")


class PostgresStore:
    """One job's record in the database, shared safely between benches."""

    def __init__(self, server: PostgresServer, job: str) -> None:
        self._server = server
        self._job = job

    def append(self, events: list[Event], *, expected: int, at: str) -> list[Entry]:
        """Append all or nothing, on the server's disk when this returns.

        Raises StaleVersion when the record does not hold `expected` entries, OutsideError when the
        server does not answer, or is read-only or full. When it falls silent as it answers, the entry may have been
        written: its key makes sending it again harmless.
        """
        with self._server.transaction() as connection:
            _take_turn(connection, self._job)
            return append_rows(connection, ENTRIES, events, expected=expected, at=at, job=self._job)

    def entries(self) -> list[Entry]:
        """All entries in order."""
        with self._server.transaction() as connection:
            return read_rows(connection, ENTRIES, job=self._job)


def _take_turn(connection: Connection, job: str) -> None:
    """Hold the row of a job, made when it is not there, until the transaction ends."""
    mine = select(JOBS).where(JOBS.c.job == job).with_for_update()
    if connection.execute(mine).first() is None:
        connection.execute(insert(JOBS).values(job=job).on_conflict_do_nothing())
        connection.execute(mine)


def _is_whole(server: PostgresServer, connection: Connection) -> bool:
    """Is the record there with its guard? False where nothing of it is there yet."""
    needed = {table.name for table in METADATA.tables.values()}
    held = needed & set(connection.execute(TABLES).scalars())
    if not held:
        return False
    if held != needed:
        raise server.outside("has lost a part of its record. Take your last copy.")
    guard = {(statement, body) for statement, body in connection.execute(GUARD)}
    if not guard >= {(statement, REFUSAL) for statement in TRIGGERS.values()}:
        raise server.outside("has lost the guard that keeps its record from being changed. Take your last copy.")
    return True


def _make(server: PostgresServer, connection: Connection) -> None:
    """The tables and their guard, by whichever bench comes first."""
    connection.execute(TURN)
    if _is_whole(server, connection):
        return
    connection.execute(text(f"CREATE SCHEMA IF NOT EXISTS {SCHEMA}"))
    METADATA.create_all(connection)
    connection.execute(text(FUNCTION))
    for name, statement in TRIGGERS.items():
        connection.execute(text(statement))
        connection.execute(text(f"ALTER TABLE {SCHEMA}.entries ENABLE ALWAYS TRIGGER {name}"))
