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
