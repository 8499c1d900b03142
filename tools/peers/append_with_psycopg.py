"""A hash-chained append straight on psycopg, at the same durability."""

import hashlib

import psycopg


class RawDatabase:
    """One table and one connection of one writer; a transaction an entry, on the server's disk when it ends."""

    def __init__(self, address: str) -> None:
        self._connection = psycopg.connect(address, options="-c synchronous_commit=on")
        self._connection.execute(
            "CREATE TABLE raw (job text, position integer, body text, fingerprint text, PRIMARY KEY (job, position))"
        )
        self._connection.commit()
        self._position, self._last = 0, "0" * 64

    def append(self, body: str) -> None:
        """Append one entry, on the server's disk when this returns."""
        self._position += 1
        self._last = hashlib.sha256(f"{self._last}\n{body}".encode()).hexdigest()
        values = ("job", self._position, body, self._last)
        self._connection.execute("INSERT INTO raw VALUES (%s, %s, %s, %s)", values)
        self._connection.commit()

    def close(self) -> None:
        """Close the connection."""
        self._connection.close()
