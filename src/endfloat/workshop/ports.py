"""What the workshop needs from outside."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Protocol

from endfloat.job.events import Event
from endfloat.job.wire import Entry


class Store(Protocol):
    """A job's record; StaleVersion when it does not hold `expected` entries."""

    def append(self, events: list[Event], *, expected: int, at: str) -> list[Entry]: ...

    def entries(self) -> list[Entry]: ...


class Clock(Protocol):
    """The time now, UTC, ISO 8601."""

    def __call__(self) -> str: ...


class Papers(Protocol):
    """Makes a PDF of a kind of paper from plain values."""

    def __call__(self, kind: str, values: Mapping[str, object]) -> bytes: ...


class Photos(Protocol):
    """The photographs of a job beside its record, by name; one that is kept is on disk."""

    def keep(self, name: str, content: bytes) -> None: ...

    def read(self, name: str) -> bytes | None: ...


class Jobs(Protocol):
    """The jobs of a bench by key, and the files a person goes on with beside each record."""

    def names(self) -> list[str]: ...

    def store(self, key: str) -> Store: ...

    def photos(self, key: str) -> Photos: ...

    def keep(self, key: str, name: str, text: str) -> None: ...

    def read(self, key: str, name: str) -> bytes | None: ...

    def where(self, key: str) -> str: ...
