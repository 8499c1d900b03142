"""A record in memory, for tests and trials."""

from __future__ import annotations

from endfloat.errors import StaleVersion
from endfloat.job.events import Event
from endfloat.job.wire import Entry, next_entry


class MemoryStore:
    """Keeps entries in a list; gone when the program ends."""

    def __init__(self) -> None:
        self._entries: list[Entry] = []

    def append(self, events: list[Event], *, expected: int, at: str) -> list[Entry]:
        """Append all or nothing; StaleVersion when the record does not hold `expected` entries."""
        if len(self._entries) != expected:
            raise StaleVersion(expected=expected, found=len(self._entries))
        fresh: list[Entry] = []
        for event in events:
            last = fresh[-1] if fresh else (self._entries[-1] if self._entries else None)
            fresh.append(next_entry(last, at, event))
        self._entries += fresh
        return fresh

    def entries(self) -> list[Entry]:
        """All entries in order."""
        return list(self._entries)
