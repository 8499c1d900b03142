"""Start a clock by hand or tell its temperature; end one that no step carries; and what runs now."""

from __future__ import annotations

from endfloat.job.clock_events import ClockEnded, ClockEvent, ClockStarted
from endfloat.job.clocks import Timer, timers
from endfloat.job.description import engine_of
from endfloat.job.events import Event
from endfloat.job.state import State
from endfloat.problems import Problem
from endfloat.workshop.ports import Clock, Store
from endfloat.workshop.record import write


def running(state: State, now: str) -> list[Timer]:
    """Every clock that runs or is still waited for, the one that ends first in front."""
    if state.opened is None or not state.building:
        return []
    return timers(engine_of(state.opened.engine), state.building, now)


def start_clock(store: Store, clock: Clock, *, key: str, name: str, temperature: str, by: str) -> Problem | None:
    """Record that a clock began now, or how warm it is; sending it twice is harmless."""

    def decide(state: State) -> list[Event] | Problem:
        if _known(state, key):
            return []
        return [ClockStarted(key, name, temperature.strip(), by.strip(), clock())]

    return write(store, clock, decide)


def end_clock(store: Store, clock: Clock, *, key: str, name: str, reason: str, by: str) -> Problem | None:
    """Record that a clock started by hand no longer counts; sending it twice is harmless."""

    def decide(state: State) -> list[Event] | Problem:
        if _known(state, key):
            return []
        return [ClockEnded(key, name, reason.strip(), by.strip(), clock())]

    return write(store, clock, decide)


def _known(state: State, key: str) -> bool:
    return any(isinstance(each, ClockEvent) and each.key == key for each in state.building)
