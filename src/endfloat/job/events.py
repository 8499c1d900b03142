"""What happened, in the past tense. An event holds inputs only; conclusions are judged anew."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class JobOpened:
    """A job began on one engine: the texts of its description, gauges and prices as they stood.

    `slip` holds readings that are on paper and still to be typed, as a readings table; empty when there are none.
    """

    name: str
    engine: str
    gauges: str
    prices: str = ""
    slip: str = ""


@dataclass(frozen=True, slots=True)
class DescriptionRevised:
    """The description, gauges or prices were read again from their files, as they stand from here on."""

    engine: str
    gauges: str
    prices: str
    by: str


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


@dataclass(frozen=True, slots=True)
class PlanAgreed:
    """A person agreed to a plan: what was chosen and how it looked then, so that a later look can differ openly.

    `choice` is decision to option, `cost` in hundredths, `open_verdicts` what was not yet Good, `solver`
    and `status` how it was found, `evidence` the fingerprint of the readings it rests on.
    """

    choice: dict[str, str]
    cost: int
    days: int
    open_verdicts: int
    status: str
    solver: str
    program: str
    evidence: str
    by: str


@dataclass(frozen=True, slots=True)
class PlanWithdrawn:
    """The agreement no longer holds; the earlier entry stays."""

    by: str


Event = JobOpened | DescriptionRevised | ReadingTaken | ReadingWithdrawn | OddReadingKept | PlanAgreed | PlanWithdrawn
EVENTS: dict[str, type[Event]] = {
    kind.__name__: kind
    for kind in (
        JobOpened,
        DescriptionRevised,
        ReadingTaken,
        ReadingWithdrawn,
        OddReadingKept,
        PlanAgreed,
        PlanWithdrawn,
    )
}
