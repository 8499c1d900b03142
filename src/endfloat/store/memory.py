"""A record in memory, for tests and trials."""

from __future__ import annotations

from threading import Lock

from endfloat.job.events import Event
from endfloat.job.wire import Entry, continued


class MemoryStore:
    """Keeps entries in a list; gone when the program ends."""

    def __init__(self) -> None:
        self._entries: list[Entry] = []
        self._turn = Lock()

    def append(self, events: list[Event], *, expected: int, at: str) -> list[Entry]:
        """Append all or nothing; StaleVersion when the record does not hold `expected` entries."""
        with self._turn:
            last = self._entries[-1] if self._entries else None
            fresh = continued(last, events, expected=expected, at=at)
            self._entries += fresh
        return fresh

    def entries(self) -> list[Entry]:
        """All entries in order."""
        return list(self._entries)


class MemoryPhotos:
    """Keeps photographs in a map; gone when the program ends."""

    def __init__(self) -> None:
        self._photos: dict[str, bytes] = {}

    @property
    def names(self) -> list[str]:
        """The names of all that are kept."""
        return sorted(self._photos)

    def keep(self, name: str, content: bytes) -> None:
        """Keep one under its name."""
        self._photos[name] = content

    def read(self, name: str) -> bytes | None:
        """The one of that name; None when there is none."""
        return self._photos.get(name)
