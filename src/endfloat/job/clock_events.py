"""What a person does to a clock of the build: start it by hand, say how warm it is, end one that no step carries."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class ClockStarted:
    """A clock began by hand, or the temperature of a running one was told; `temperature` as typed, blank for none.

    `clock` is the name it has in the description.
    """

    key: str
    clock: str
    temperature: str
    by: str
    at: str


@dataclass(frozen=True, slots=True)
class ClockEnded:
    """A clock that was started by hand no longer counts: the bead was wiped off, or it was started in error."""

    key: str
    clock: str
    reason: str
    by: str
    at: str


ClockEvent = ClockStarted | ClockEnded
