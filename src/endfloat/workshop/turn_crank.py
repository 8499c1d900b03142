"""The gate before a turn, tick by tick, and the turn; sending each twice is harmless."""

from __future__ import annotations

from endfloat.job.events import Event
from endfloat.job.state import State
from endfloat.job.timing_events import GateTicked, TurnMade
from endfloat.problems import Problem
from endfloat.workshop.ports import Clock, Store
from endfloat.workshop.record import write
from endfloat.workshop.timing_deeds import recorded
from endfloat.workshop.timing_view import timing_view
from endfloat.workshop.view import view


def tick_gate(store: Store, clock: Clock, *, key: str, condition: str, by: str) -> Problem | None:
    """Record that one condition was seen to hold."""

    def decide(state: State) -> list[Event] | Problem:
        if recorded(state, key):
            return []
        return [GateTicked(key, condition, by.strip(), clock())]

    return write(store, clock, decide)


def turn_crank(store: Store, clock: Clock, *, key: str, turns: int, by: str) -> Problem | None:
    """Record that the crank was turned by hand, the running way, without a hard stop."""

    def decide(state: State) -> list[Event] | Problem:
        if recorded(state, key):
            return []
        seen, now = view(state), clock()
        told = timing_view(seen, now)
        if told is not None and told.out and not told.turned:
            title = told.timing.cams[told.out[0]].title
            remedy = "Open the drive and put it right: a valve may meet a piston."
            return Problem("cam_out", title, "a cam that reads out", "every cam read within its limits", remedy)
        return [TurnMade(key, turns, by.strip(), now)]

    return write(store, clock, decide)
