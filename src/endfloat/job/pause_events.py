"""Work stopped and taken up again, and what was found lost then."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class WorkStopped:
    """A person stopped. What stood then is kept as it was told on the tag, so that a later look can differ openly.

    `loose` is what is not finished, `leave` what must not be touched or turned, `running` the clocks, and `first` what
    is to be done first when work goes on.
    """

    key: str
    why: str
    loose: tuple[str, ...]
    leave: tuple[str, ...]
    running: tuple[str, ...]
    first: tuple[str, ...]
    by: str
    at: str

    def __post_init__(self) -> None:
        # JSON knows lists only; a record read back equals the one written.
        for field in ("loose", "leave", "running", "first"):
            object.__setattr__(self, field, tuple(getattr(self, field)))


@dataclass(frozen=True, slots=True)
class WorkTakenUp:
    """A person looked at the last steps before going on: `still_so` are those that are, `reopened` those that are not.

    `kept` are the conditions found still true, in the words of the description.
    """

    key: str
    still_so: tuple[str, ...]
    reopened: tuple[str, ...]
    kept: tuple[str, ...]
    by: str
    at: str

    def __post_init__(self) -> None:
        # JSON knows lists only; a record read back equals the one written.
        for field in ("still_so", "reopened", "kept"):
            object.__setattr__(self, field, tuple(getattr(self, field)))


@dataclass(frozen=True, slots=True)
class ConditionLost:
    """A person found that what must be kept true no longer is: the crank was turned, a chain has dropped."""

    key: str
    condition: str
    by: str
    at: str


PauseEvent = WorkStopped | WorkTakenUp | ConditionLost
