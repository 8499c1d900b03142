"""What happened, in the past tense. An event holds inputs only; conclusions are judged anew."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class JobOpened:
    """A job began on one engine; `engine` is the text of its description as it stood."""

    name: str
    engine: str
    gauges: str


@dataclass(frozen=True, slots=True)
class ReadingTaken:
    """A reading as typed, with its unit in the text. `key` is unique to the sending device."""

    key: str
    characteristic: str
    place: str
    station: str
    axis: str
    text: str
    gauge: str
    by: str


@dataclass(frozen=True, slots=True)
class ReadingWithdrawn:
    """A correction: the reading with this key no longer counts; it stays in the record."""

    key: str
    reason: str
    by: str


@dataclass(frozen=True, slots=True)
class OddReadingKept:
    """A person looked again at a reading that looked like a slip, and stands by it."""

    key: str
    by: str


Event = JobOpened | ReadingTaken | ReadingWithdrawn | OddReadingKept
EVENTS: dict[str, type[Event]] = {
    kind.__name__: kind for kind in (JobOpened, ReadingTaken, ReadingWithdrawn, OddReadingKept)
}
