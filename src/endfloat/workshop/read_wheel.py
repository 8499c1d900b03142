"""The wheel read at one point of a cam, a reading withdrawn, a drive opened; sending each twice is harmless."""

from __future__ import annotations

from collections.abc import Sequence

from endfloat.job.events import Event
from endfloat.job.state import State
from endfloat.job.timing_events import DriveOpened, WheelRead, WheelReadingWithdrawn
from endfloat.problems import Problem
from endfloat.workshop.ports import Clock, Store
from endfloat.workshop.pull_bolt import gauges_of
from endfloat.workshop.record import write
from endfloat.workshop.timing_deeds import recorded, wheel_refused


def read_wheel(
    store: Store,
    clock: Clock,
    *,
    key: str,
    cam: str,
    point: str,
    text: str,
    gauge: str,
    turned: bool,
    other_turn: bool,
    by: str,
) -> Problem | None:
    """Record what the wheel reads; a Problem writes nothing."""

    def decide(state: State) -> list[Event] | Problem:
        if recorded(state, key):
            return []
        wrong = wheel_refused(gauges_of(state), gauge)
        return wrong or [WheelRead(key, cam, point, text.strip(), gauge, turned, other_turn, by.strip(), clock())]

    return write(store, clock, decide)


def withdraw_wheel_reading(
    store: Store, clock: Clock, *, key: str, reading: str, reason: str, by: str
) -> Problem | None:
    """Record that a reading no longer counts, with a reason."""

    def decide(state: State) -> list[Event] | Problem:
        if recorded(state, key):
            return []
        return [WheelReadingWithdrawn(key, reading, reason.strip(), by.strip(), clock())]

    return write(store, clock, decide)


def open_drive(store: Store, clock: Clock, *, key: str, cams: Sequence[str], reason: str, by: str) -> Problem | None:
    """Record that the drive of these cams was opened; their readings, the ticks and the turns no longer count."""

    def decide(state: State) -> list[Event] | Problem:
        return [] if recorded(state, key) else [DriveOpened(key, tuple(cams), reason.strip(), by.strip(), clock())]

    return write(store, clock, decide)
