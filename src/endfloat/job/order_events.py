"""Events of the build order beside its steps."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class ConditionRegained:
    """What undoing a step had lost is true again, by the rescue rule of the description."""

    key: str
    condition: str
    by: str
    at: str
