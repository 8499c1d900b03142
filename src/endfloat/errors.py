"""Every exception of the program. Wrong user data is a Problem (problems.py), never one of these.

EndfloatError
    OutOfRange      a formula was asked outside the range it holds for
    OutsideError    disk, database or network failed; the cause is chained
"""

from __future__ import annotations


class EndfloatError(Exception):
    """Root of all; never raised itself."""


class OutOfRange(EndfloatError):
    """An argument lies outside the range a formula holds for."""

    def __init__(self, *, name: str, value: object, expected: str) -> None:
        super().__init__(f"{name} is {value}; the formula holds for {expected}.")
        self.name = name
        self.value = value
        self.expected = expected


class OutsideError(EndfloatError):
    """The outside world failed: a file cannot be read, a disk is full."""
