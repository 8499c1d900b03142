"""A hash-chained append straight on the standard library's sqlite3, at the same durability."""

import hashlib
import sqlite3
from pathlib import Path


class RawStore:
    """One table, write-ahead log, synchronous=FULL; a transaction an entry."""

    def __init__(self, path: Path) -> None:
        self._connection = sqlite3.connect(path, isolation_level=None)
        self._connection.execute("PRAGMA journal_mode=WAL")
        self._connection.execute("PRAGMA synchronous=FULL")
        self._connection.execute("CREATE TABLE entries (position INTEGER PRIMARY KEY, body TEXT, fingerprint TEXT)")
        self._last = "0" * 64

    def append(self, body: str) -> None:
        """Append one entry, on disk when this returns."""
        self._last = hashlib.sha256(f"{self._last}\n{body}".encode()).hexdigest()
        self._connection.execute("BEGIN IMMEDIATE")
        self._connection.execute("INSERT INTO entries (body, fingerprint) VALUES (?, ?)", (body, self._last))
        self._connection.execute("COMMIT")

    def close(self) -> None:
        """Close the file."""
        self._connection.close()
