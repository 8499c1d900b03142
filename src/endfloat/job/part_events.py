"""Events of parts that come in, and of those that go back."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class PartArrived:
    """Parts of one sort were counted in; `count` as typed, `looked` the looks ticked, in words."""

    key: str
    part: str
    count: str
    by: str
    at: str
    looked: tuple[str, ...] = ()

    def __post_init__(self) -> None:
        # JSON knows lists only; a record read back equals the one written.
        object.__setattr__(self, "looked", tuple(self.looked))


@dataclass(frozen=True, slots=True)
class PartSentBack:
    """Parts that had come in are not here after all: wrong, damaged, miscounted; `count` as typed."""

    key: str
    part: str
    count: str
    reason: str
    by: str
    at: str
