"""Every exception of the program. Wrong user data is a Problem (problems.py), never one of these.

EndfloatError
    OutOfRange      a formula was asked outside the range it holds for
    OutsideError    disk, database or network failed; the cause is chained
    RecordError     a job record cannot be trusted or understood
        DamagedRecord   the chain of fingerprints is broken
        UnknownEvent    a newer program wrote it
        StaleVersion    someone else wrote first
    OrderWithheld   the search for a build order and its checker differ: a fault of the program
"""

from __future__ import annotations

from typing import Any


class EndfloatError(Exception):
    """Root of all; never raised itself."""


class OutOfRange(EndfloatError):
    """An argument lies outside the range a formula holds for.

    `value` is the (first) bad one and `expected` the bounds, both in SI with `unit`; `source` is a key of
    formulas/sources.py; `bad` is the mask of the bad elements of an array.
    """

    def __init__(
        self, *, name: str, value: object, expected: str, unit: str = "1", source: str = "definition", bad: Any = None
    ) -> None:
        named = "" if unit in ("1", "word") else f" {unit}"
        super().__init__(f"{name} is {value}{named}; the formula holds for {expected}{named}.")
        self.name = name
        self.value = value
        self.expected = expected
        self.unit = unit
        self.source = source
        self.bad = bad


class OutsideError(EndfloatError):
    """The outside world failed: a file cannot be read, a disk is full."""


class RecordError(EndfloatError):
    """A job record cannot be trusted or understood."""


class DamagedRecord(RecordError):
    """The chain of fingerprints breaks at a position."""

    def __init__(self, *, position: int) -> None:
        super().__init__(
            f"The record is damaged at entry {position}: it is not as it was written. Take your last copy."
        )
        self.position = position


class UnknownEvent(RecordError):
    """An entry was written by a newer program."""

    def __init__(self, *, name: str, version: object) -> None:
        super().__init__(
            f"The record holds {name} version {version}, which this program does not know. Use a newer one."
        )
        self.name = name
        self.version = version


class StaleVersion(RecordError):
    """Someone else appended between load and append."""

    def __init__(self, *, expected: int, found: int) -> None:
        super().__init__(f"The record has {found} entries; {expected} were expected. Load it again.")
        self.expected = expected
        self.found = found


class OrderWithheld(EndfloatError):
    """A build order was found that the checker does not pass; it is not released."""

    def __init__(self, *, objections: list[str]) -> None:
        super().__init__(
            "A build order was found and is withheld: the check does not pass it. This is a fault of the program. "
            + " ".join(objections)
        )
