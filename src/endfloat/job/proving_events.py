"""Events of proving: primed, ready by two people, fired, logged, stopped, run in, looked at again."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class PrimingDone:
    """A step of priming is done; `showed` is what its gauge showed, as typed, and `second` who looked too."""

    key: str
    step: str
    showed: str
    by: str
    at: str
    looked: tuple[str, ...] = ()
    second: str = ""

    def __post_init__(self) -> None:
        # JSON knows lists only; a record read back equals the one written.
        object.__setattr__(self, "looked", tuple(self.looked))


@dataclass(frozen=True, slots=True)
class ReadyTicked:
    """A person looked at one thing that must be true before the first fire; `role` is first or second."""

    item: str
    role: str
    by: str
    at: str


@dataclass(frozen=True, slots=True)
class ReadyUnticked:
    """A correction: that thing is not so, or no longer."""

    item: str
    role: str
    by: str
    at: str


@dataclass(frozen=True, slots=True)
class FirstFired:
    """The engine fired for the first time, with both lists complete; `second` stood at the stop."""

    by: str
    second: str
    at: str


@dataclass(frozen=True, slots=True)
class FiredAgain:
    """The engine was started again; after a stop at once the lists were complete again."""

    by: str
    second: str
    at: str


@dataclass(frozen=True, slots=True)
class GaugeLogged:
    """What a gauge showed while the engine ran, as typed with its unit, or a word such as a noise."""

    key: str
    gauge: str
    text: str
    by: str
    at: str


@dataclass(frozen=True, slots=True)
class EngineStopped:
    """The engine was stopped; when it was not `planned`, both lists open again. `reason` may be blank in a hurry."""

    reason: str
    planned: bool
    by: str
    at: str


@dataclass(frozen=True, slots=True)
class RunInLogged:
    """A piece of a stage of the run-in was run: how long as typed, and how it went in words."""

    key: str
    stage: str
    lasted: str
    words: str
    by: str
    at: str


@dataclass(frozen=True, slots=True)
class RecheckDone:
    """Something was looked at again after a stage of the run-in; `found` in words, `right` when nothing is left."""

    key: str
    item: str
    found: str
    right: bool
    by: str
    at: str


@dataclass(frozen=True, slots=True)
class ReadAgain:
    """A characteristic was read again after the run, to be put beside what was found when the engine came."""

    key: str
    compared: str
    place: str
    station: str
    axis: str
    text: str
    gauge: str
    by: str
    at: str


@dataclass(frozen=True, slots=True)
class ProvingWithdrawn:
    """A correction: the entry of proving with this key no longer counts; it stays in the record."""

    key: str
    reason: str
    by: str
    at: str


ProvingEvent = (
    PrimingDone
    | ReadyTicked
    | ReadyUnticked
    | FirstFired
    | FiredAgain
    | GaugeLogged
    | EngineStopped
    | RunInLogged
    | RecheckDone
    | ReadAgain
    | ProvingWithdrawn
)
Keyed = PrimingDone | GaugeLogged | RunInLogged | RecheckDone | ReadAgain
