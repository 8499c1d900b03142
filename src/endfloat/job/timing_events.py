"""What happened while the cams were timed: dead centre, the wheel as read, the gate before a turn, and the turn."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class DeadCentreFound:
    """The piston touched the stop on either side: the two wheel readings as typed, and with which wheel."""

    key: str
    before: str
    after: str
    gauge: str
    by: str
    at: str


@dataclass(frozen=True, slots=True)
class DeadCentreLost:
    """The wheel can no longer be trusted: `why` is turned_back, interrupted or wheel_moved."""

    key: str
    why: str
    by: str
    at: str


@dataclass(frozen=True, slots=True)
class WheelRead:
    """The wheel as read at one point of one cam, as typed.

    `point` is opens, closes, rising, falling or centre. `turned` says that it was read after the turns of the re-check,
    `other_turn` that the valve moved one whole turn of the crank away from where the service book has it.
    """

    key: str
    cam: str
    point: str
    text: str
    gauge: str
    turned: bool
    other_turn: bool
    by: str
    at: str


@dataclass(frozen=True, slots=True)
class WheelReadingWithdrawn:
    """A correction: the wheel reading with the key `reading` no longer counts; it stays in the record."""

    key: str
    reading: str
    reason: str
    by: str
    at: str


@dataclass(frozen=True, slots=True)
class DriveOpened:
    """The drive of these cams was opened to put it right: their readings and all ticks and turns no longer count."""

    key: str
    cams: tuple[str, ...]
    reason: str
    by: str
    at: str

    def __post_init__(self) -> None:
        # JSON knows lists only; a record read back equals the one written.
        object.__setattr__(self, "cams", tuple(self.cams))


@dataclass(frozen=True, slots=True)
class GateTicked:
    """A condition was seen to hold before a turn; a wait has no tick, for its clocks tell it."""

    key: str
    condition: str
    by: str
    at: str


@dataclass(frozen=True, slots=True)
class TurnMade:
    """The crank was turned so many full turns by hand, the running way, without a hard stop."""

    key: str
    turns: int
    by: str
    at: str


@dataclass(frozen=True, slots=True)
class CamsConfirmedAgain:
    """Cams were seen at their places right before a step; `entries` is how many entries of the build stood then."""

    key: str
    step: str
    entries: int
    by: str
    at: str


TimingEvent = (
    DeadCentreFound
    | DeadCentreLost
    | WheelRead
    | WheelReadingWithdrawn
    | DriveOpened
    | GateTicked
    | TurnMade
    | CamsConfirmedAgain
)
