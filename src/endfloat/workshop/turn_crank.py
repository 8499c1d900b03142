"""The gate before a turn, tick by tick, and the turn; sending each twice is harmless."""

from __future__ import annotations

from endfloat.job.events import Event
from endfloat.job.state import State
from endfloat.job.timing_events import GateTicked, TurnMade
from endfloat.problems import Problem
from endfloat.workshop.ports import Clock, Store
from endfloat.workshop.record import write
from endfloat.workshop.timing_deeds import recorded


def tick_gate(
    store: Store, clock: Clock, *, key: str, condition: str, ago: str, temperature: str, by: str
) -> Problem | None:
    """Record that one condition was seen to hold, or when a wait began and how warm it is."""

    def decide(state: State) -> list[Event] | Problem:
        if recorded(state, key):
            return []
        return [GateTicked(key, condition, ago.strip(), temperature.strip(), by.strip(), clock())]

    return write(store, clock, decide)


def turn_crank(store: Store, clock: Clock, *, key: str, turns: int, by: str) -> Problem | None:
    """Record that the crank was turned by hand, the running way, without a hard stop."""

    def decide(state: State) -> list[Event] | Problem:
        return [] if recorded(state, key) else [TurnMade(key, turns, by.strip(), clock())]

    return write(store, clock, decide)
