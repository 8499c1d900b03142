"""A PostgreSQL server as the record needs it: transactions on its disk, and a sentence for what fails."""

from __future__ import annotations

import re
from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

from sqlalchemy import Connection, create_engine, text
from sqlalchemy.exc import DBAPIError

from endfloat.errors import OutsideError

SILENT = "does not answer any more. See that the server runs, then try again"
# The codes of PostgreSQL's manual, appendix A.
CAUSES = {
    "25006": "may only be read. Allow writing to it, then try again",
    "25P03": "did not hear from this bench in time. Try again",
    "42501": "does not let this user do that. Ask whoever keeps it for the right to make and fill tables",
    "53100": "cannot grow: the disk is full. Make room, then try again",
    "55P03": "is in use by another bench. Try again",
    "57014": "did not answer in time. Try again",
    "57P01": SILENT,
    "57P02": SILENT,
}
# A connection that is refused comes without a code, in the server's words only.
SIGNS = {
    r"password authentication failed|no password supplied|role \".*\" does not exist": (
        "refuses this name or password. Correct them, then try again"
    ),
    r"database \".*\" does not exist": "is not there. Make it with `createdb`, then try again",
    r"no pg_hba.conf entry": "does not let this computer in. Ask whoever keeps it to add it to pg_hba.conf",
    r"too many (?:clients|connections)|connection slots": (
        "has no connection left. Close another program, then try again"
    ),
    r"database system is": "is starting or stopping. Wait a moment, then try again",
}
UNREADABLE = (
    "The address of the database cannot be read. Write it as postgresql://NAME@COMPUTER/DATABASE;"
    " in a password, write @ as %40, / as %2F and % as %25."
)
SAFE = text("SELECT current_setting('fsync'), current_setting('server_encoding')")


class PostgresServer:
    """One database by its address; connections are kept and shared by threads.

    A writer waits `locked_ms` for another one of the same job; the server gives a statement up, and a bench that fell
    asleep in a transaction, after `slow_ms`.
    """

    def __init__(self, address: str, *, locked_ms: int = 2_000, slow_ms: int = 10_000) -> None:
        parts = _parts_of(address)
        from psycopg import connect

        name, host = parts.get("dbname", ""), parts.get("host", "")
        self.shown = f"the database {name}".rstrip() + (f" on {host}" if host else "")
        settings = {
            "synchronous_commit": "on",
            "lock_timeout": locked_ms,
            "statement_timeout": slow_ms,
            "idle_in_transaction_session_timeout": slow_ms,
        }
        options = " ".join([parts.get("options", ""), *(f"-c {name}={value}" for name, value in settings.items())])
        # A network that falls silent is noticed within about half a minute; the address may say otherwise.
        patience = {"connect_timeout": 5, "keepalives_idle": 10, "keepalives_interval": 5, "tcp_user_timeout": 20_000}
        words: dict[str, Any] = {**patience, **parts, "options": options, "client_encoding": "UTF8"}
        self._engine = create_engine(
            "postgresql+psycopg://",
            creator=lambda: connect(**words),
            # A snapshot for each statement: the last entry is read as it is once the turn has come.
            isolation_level="READ COMMITTED",
            pool_pre_ping=True,
            max_overflow=-1,
            use_native_hstore=False,
        )

    @contextmanager
    def transaction(self) -> Iterator[Connection]:
        """All or nothing, on the server's disk at the end; what fails is told in a sentence."""
        try:
            with self._engine.begin() as connection:
                yield connection
        except DBAPIError as error:
            raise self.outside(f"{_cause(error)}. Nothing that was saved is lost.") from error

    def check(self) -> None:
        """Raise OutsideError where the server would not keep a record as promised."""
        with self.transaction() as connection:
            fsync, encoding = connection.execute(SAFE).one()
        if fsync != "on":
            raise self.outside(
                f"does not wait for its disk (fsync is {fsync}): what is saved could be lost. Set fsync to on, then"
                " try again."
            )
        if encoding != "UTF8":
            raise self.outside(
                f"cannot hold every sign (it is in {encoding}). Make one with"
                " `createdb --encoding UTF8 --template template0`."
            )

    def outside(self, words: str) -> OutsideError:
        """An error that says of this database what the words say."""
        return OutsideError(f"{self.shown[0].upper()}{self.shown[1:]} {words}")

    def close(self) -> None:
        """Give the connections back."""
        self._engine.dispose()


def _parts_of(address: str) -> dict[str, Any]:
    """What an address says, as PostgreSQL's own library reads it."""
    try:
        from psycopg import Error
        from psycopg.conninfo import conninfo_to_dict
    except ImportError as error:
        raise OutsideError(
            "A database needs its driver, the extra `postgres`. Install it with"
            " `python3 dev setup --postgres`, then run the same line."
        ) from error
    try:
        parts = conninfo_to_dict(address)
    except Error as error:
        raise OutsideError(UNREADABLE) from error
    # An @ here is the end of a password that was not written out; a socket's name may begin with one.
    if "@" in str(parts.get("dbname", "")) or "@" in str(parts.get("host", ""))[1:]:
        raise OutsideError(UNREADABLE)
    return dict(parts)


def _cause(error: DBAPIError) -> str:
    # A line that begins with a tab is a hint of the driver that the sentence gives already.
    words = " ".join(line.strip() for line in str(error.orig).splitlines() if not line.startswith("\t"))
    code = getattr(error.orig, "sqlstate", None)
    if code:
        return CAUSES.get(code, f"failed ({words})")
    if error.connection_invalidated:
        return SILENT
    told = next((sentence for sign, sentence in SIGNS.items() if re.search(sign, words)), None)
    return told or f"cannot be reached ({words}). See that the server runs and its address is right, then try again"
